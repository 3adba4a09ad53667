//! Every line of a working by EN 1995-1-1 says what it does: its formula, read as text and worked out with the
//! values that the lines before it give, comes to its value; and no symbol is used before it is told.

use std::collections::BTreeMap;

use shankline::joint::StandardId;
use shankline::standard::by_id;
use shankline::standard::capacity::{Factor, Line};

use crate::ec5_capacity::bare;
use crate::ec5_scene::Scene;

/// Reads a formula as it stands on a wall: a space between two values multiplies, and binds as a stroke does.
struct Reader<'a> {
    rest: &'a str,
    values: &'a BTreeMap<String, f64>,
}

type Read = Result<f64, String>;

impl Reader<'_> {
    fn peek(&mut self) -> Option<char> {
        self.rest = self.rest.trim_start();
        self.rest.chars().next()
    }

    fn take(&mut self, wanted: char) -> Result<(), String> {
        if self.peek() == Some(wanted) {
            self.rest = &self.rest[wanted.len_utf8()..];
            return Ok(());
        }
        Err(format!("no {wanted} before {:?}", self.rest))
    }

    fn sum(&mut self) -> Read {
        let mut value = self.product()?;
        while let Some(sign) = self.peek().filter(|it| "+-".contains(*it)) {
            self.take(sign)?;
            let next = self.product()?;
            value += if sign == '+' { next } else { -next };
        }
        Ok(value)
    }

    fn product(&mut self) -> Read {
        let mut value = self.power()?;
        while let Some(next) = self.peek() {
            if next == '/' {
                self.take('/')?;
                value /= self.power()?;
            } else if next == '(' || next.is_alphanumeric() {
                value *= self.power()?;
            } else {
                break;
            }
        }
        Ok(value)
    }

    fn power(&mut self) -> Read {
        let base = self.value()?;
        if self.peek() == Some('^') {
            self.take('^')?;
            return Ok(base.powf(self.value()?));
        }
        Ok(base)
    }

    fn value(&mut self) -> Read {
        match self.peek() {
            Some('-') => {
                self.take('-')?;
                Ok(-self.value()?)
            }
            Some('(') => {
                self.take('(')?;
                let value = self.sum()?;
                self.take(')')?;
                Ok(value)
            }
            Some(c) if c.is_ascii_digit() => self.number(),
            Some(c) if c.is_alphabetic() => self.named(),
            other => Err(format!("no value at {other:?}")),
        }
    }

    fn number(&mut self) -> Read {
        let is_part = |c: char| c.is_ascii_digit() || c == '.';
        let mut end = self.rest.find(|c| !is_part(c)).unwrap_or(self.rest.len());
        if self.rest[end..].starts_with("e-") {
            end += 2;
            end += self.rest[end..].find(|c| !is_part(c)).unwrap_or(self.rest[end..].len());
        }
        let (number, rest) = self.rest.split_at(end);
        self.rest = rest;
        number.parse().map_err(|_| format!("{number} is no number"))
    }

    fn named(&mut self) -> Read {
        let end =
            self.rest.find(|c: char| !(c.is_alphanumeric() || "_,".contains(c))).unwrap_or(self.rest.len());
        let name = self.rest[..end].trim_end_matches(',');
        self.rest = &self.rest[name.len()..];
        match name {
            "pi" => Ok(std::f64::consts::PI),
            "sqrt" => Ok(self.value()?.sqrt()),
            "sin" | "cos" => {
                self.take('^')?;
                let power = self.number()?;
                let angle = self.value()?.to_radians();
                Ok(if name == "sin" { angle.sin() } else { angle.cos() }.powf(power))
            }
            "min" | "max" => {
                self.take('(')?;
                let mut value = self.sum()?;
                while self.peek() == Some(',') {
                    self.take(',')?;
                    let next = self.sum()?;
                    value = if name == "min" { value.min(next) } else { value.max(next) };
                }
                self.take(')')?;
                Ok(value)
            }
            name => self.values.get(name).copied().ok_or_else(|| format!("{name} is not told")),
        }
    }
}

/// The value of a formula; nothing for one in words.
fn worked_out(formula: &str, values: &BTreeMap<String, f64>) -> Option<Read> {
    if formula.is_empty() || formula.starts_with("the ") || formula.starts_with("by ") {
        return None;
    }
    let mut values = values.clone();
    let mut parts: Vec<&str> = formula.split(", A = ").collect();
    if let Some(terms) = parts.get(1).copied() {
        let (a, rest) = terms.split_once(", B = ").expect("A comes with B");
        let (b, c) = rest.split_once(", C = ").expect("B comes with C");
        for (name, text) in [("A", a), ("B", b), ("C", c)] {
            match read(text, &values) {
                Ok(value) => values.insert(name.to_owned(), value),
                Err(why) => return Some(Err(why)),
            };
        }
        parts.truncate(1);
    }
    let (text, low, high) = if let Some(it) = parts[0].strip_suffix(", at most 1") {
        (it, f64::NEG_INFINITY, 1.0)
    } else if let Some(it) = parts[0].strip_suffix(", from 0 to 1") {
        (it, 0.0, 1.0)
    } else {
        (parts[0], f64::NEG_INFINITY, f64::INFINITY)
    };
    Some(read(text, &values).map(|it| it.clamp(low, high)))
}

fn read(text: &str, values: &BTreeMap<String, f64>) -> Read {
    let mut reader = Reader { rest: text, values };
    let value = reader.sum()?;
    if reader.peek().is_some() { Err(format!("{:?} is left over", reader.rest)) } else { Ok(value) }
}

/// How many lines of a working come out by their own formulas; all of them must.
fn proved(what: &str, working: &[Line]) -> usize {
    let mut values = BTreeMap::new();
    let mut count = 0;
    for line in working {
        values.extend(line.with.iter().map(|(symbol, it)| ((*symbol).to_owned(), bare(*it))));
        let value = bare(line.value);
        if let Some(read) = worked_out(line.formula, &values) {
            let place = format!("{what}: {} = {}", line.symbol, line.formula);
            let got = read.unwrap_or_else(|why| panic!("{place}: {why}"));
            assert!((got - value).abs() <= 1e-9 * value.abs().max(1.0), "{place}: {got} and not {value}");
            count += 1;
        }
        values.insert(line.symbol.to_owned(), value);
    }
    count
}

fn times(reference_n: f64, factors: &[Factor]) -> f64 {
    factors.iter().map(|it| it.value).product::<f64>() * reference_n
}

/// Scenes of every kind of fastener, material and equation.
const ACROSS: [&str; 14] = [
    "kind=nail d_mm=4 head_mm=8 side=lumber side_rho=350 main=lumber main_rho=420 t1_mm=45 t2_mm=50 row_n=5 row_a1_mm=34 row_deg=0 along=yes head_on=lumber head_rho=350 head_t_mm=45",
    "kind=nail d_mm=4 thread_mm=40 head_mm=8 side=lumber side_rho=350 main=lumber main_rho=420 t1_mm=45 t2_mm=50 drill1_mm=3 along=yes head_on=lumber head_rho=350 head_t_mm=45",
    "kind=nail d_mm=3 head_mm=7 side=panel side_name=osb main=lumber main_rho=350 t1_mm=12 t2_mm=40 g_mm=6",
    "kind=nail d_mm=3 head_mm=7 side=panel side_name=plywood side_rho=400 main=lumber main_rho=350 t1_mm=12 t2_mm=40 end2=yes",
    "kind=nail d_mm=3 head_mm=7 side=panel side_name=hardboard main=lumber main_rho=350 t1_mm=6 t2_mm=40 wet=yes",
    "kind=nail d_mm=4 side=steel main=lumber main_rho=350 t1_mm=3 t2_mm=50 drill1_mm=4.2 g_mm=2",
    "kind=wood-screw fu=600 d_mm=8 root_mm=5.2 thread_mm=60 side=steel main=lumber main_rho=350 t1_mm=6 t2_mm=60 thread2_mm=60 drill1_mm=8.5 a2=30 along=yes head_on=steel head_t_mm=6 row_n=3 row_a1_mm=60 row_deg=0",
    "kind=wood-screw fu=600 d_mm=5 root_mm=3.25 thread_mm=40 side=lumber side_rho=350 main=lumber main_rho=350 t1_mm=30 t2_mm=40 thread2_mm=40 row_n=3 row_a1_mm=60 row_deg=0",
    "kind=wood-screw fu=600 d_mm=8 root_mm=5.2 thread_mm=40 side=panel side_name=plywood side_rho=600 main=glulam main_rho=385 t1_mm=18 t2_mm=82 thread2_mm=40",
    "kind=bolt d_mm=12 fu=400 root_mm=9.853 side=lumber side_rho=350 main=lumber main_rho=350 beyond=lumber beyond_rho=350 t1_mm=45 t2_mm=70 t3_mm=40 a1=0 a2=45 a3=0 row_n=4 row_a1_mm=84 row_deg=30",
    "kind=bolt d_mm=12 fu=400 root_mm=9.853 side=lumber side_rho=350 main=lumber main_rho=350 t1_mm=60 t2_mm=80 along=yes head_on=lumber head_rho=350 head_t_mm=60 head_washer_mm=44 head_washer_in_mm=13.5 nut_on=steel nut_rho=350",
    "kind=bolt d_mm=12 fu=400 side=steel main=lumber main_rho=350 beyond=steel t1_mm=8 t2_mm=80 t3_mm=8 drill1_mm=13 drill3_mm=13 g_mm=1 g2_mm=3",
    "kind=bolt d_mm=12 fu=400 side=lumber side_rho=350 main=steel beyond=engineered beyond_name=veneer beyond_rho=480 t1_mm=60 t2_mm=8 t3_mm=60 a3=60 g_mm=1 g2_mm=3",
    "kind=bolt d_mm=12 fu=400 side=panel side_name=osb main=lumber main_wood=hardwood main_rho=600 t1_mm=18 t2_mm=80 service=humid gamma=1.25",
];

const ALONG: [&str; 6] = [
    "kind=nail d_mm=3.1 head_mm=6.2 bite_mm=31 hold=lumber rho=350 head_on=lumber head_rho=420 head_t_mm=40 wet=yes toe_start_mm=30",
    "kind=nail d_mm=3.1 head_mm=6.2 thread_mm=40 bite_mm=21 hold=lumber rho=320 head_on=panel head_name=plywood head_rho=420 head_t_mm=40",
    "kind=wood-screw fu=600 d_mm=6 root_mm=3.9 thread_mm=50 thread_in_mm=50 bite_mm=60 hold=glulam rho=385 axis_deg=45 head_on=steel head_t_mm=4 count=6",
    "kind=wood-screw fu=300 d_mm=12 root_mm=7.8 thread_mm=250 thread_in_mm=250 bite_mm=250 hold=lumber rho=350 head_on=steel head_t_mm=4",
    "kind=bolt fu=400 d_mm=12 root_mm=9.853 bite_mm=90 hold=lumber rho=350 head_on=steel head_t_mm=3 nut_on=lumber nut_rho=350 nut_washer_mm=44 nut_washer_in_mm=13.5",
    "kind=bolt d_mm=12 bite_mm=90 hold=lumber rho=350 head_on=lumber head_rho=600 head_wood=hardwood head_t_mm=60 head_washer_mm=44 head_washer_in_mm=13.5 nut_on=glulam nut_rho=385",
];

#[test]
fn a_working_across_proves_itself() {
    let standard = by_id(StandardId::En199511);
    let mut count = 0;
    for text in ACROSS {
        let asked = Scene::read(text).across(|it| standard.across(it));
        let lateral = asked.unwrap_or_else(|why| panic!("{text}: {}", why.because));
        count += proved(text, &lateral.working);
        let last = lateral.working.last().expect("there is a working");
        assert_eq!((last.symbol, bare(last.value)), ("F_v,Rd", lateral.adjusted_n), "{text}");
        let whole = times(lateral.reference_n, &lateral.factors);
        assert!((whole - lateral.adjusted_n).abs() <= 1e-9 * whole, "{text}: factors give {whole}");
        let least = lateral.modes.iter().map(|it| it.newtons).fold(f64::INFINITY, f64::min);
        assert_eq!(lateral.reference_n, least, "{text}");
        let named = lateral.modes.iter().find(|it| it.name == lateral.mode).expect("the mode is one of them");
        assert_eq!(named.newtons, least, "{text}");
    }
    assert!(150 < count, "only {count} formulas were read");
}

#[test]
fn a_working_along_proves_itself() {
    let standard = by_id(StandardId::En199511);
    let mut count = 0;
    for text in ALONG {
        let asked = Scene::read(text).along(|it| standard.along(it));
        let axial = asked.unwrap_or_else(|why| panic!("{text}: {}", why.because));
        count += proved(text, &axial.working);
        let last = axial.working.last().expect("there is a working");
        assert_eq!((last.symbol, bare(last.value)), ("F_ax,Rd", axial.adjusted_n), "{text}");
        let whole = times(axial.reference_n, &axial.factors);
        assert!((whole - axial.adjusted_n).abs() <= 1e-9 * whole, "{text}: factors give {whole}");
        let withdrawal = axial.modes.iter().find(|it| it.name == "withdrawal").map_or(0.0, |it| it.newtons);
        let by_length = axial.reference_n_per_mm * axial.length_mm;
        assert!((by_length - withdrawal).abs() <= 1e-9 * withdrawal, "{text}: {by_length} of {withdrawal}");
    }
    assert!(30 < count, "only {count} formulas were read");
}

#[test]
fn the_reader_of_formulas_sees_a_false_one() {
    let values = BTreeMap::from([("d".to_owned(), 4.0), ("rho_k,1".to_owned(), 350.0)]);
    let right =
        worked_out("0.082 rho_k,1 d^-0.3", &values).expect("it is a formula").expect("it can be read");
    assert!((right - 18.935).abs() < 0.0005, "{right}");
    assert!(worked_out("0.082 rho_k,2 d^-0.3", &values).expect("it is a formula").is_err());
    assert!(worked_out("min(d, 3", &values).expect("it is a formula").is_err());
}

/// No number that somebody may type breaks it: it answers with a value or with why there is none.
#[test]
fn no_number_breaks_it() {
    let standard = by_id(StandardId::En199511);
    let odd = ["NaN", "-1", "0", "inf", "-inf", "1e300", "1e-300"];
    let mut count = 0;
    for text in ACROSS.iter().chain(&ALONG) {
        let numbers =
            text.split(' ').filter_map(|it| it.split_once('=')).filter(|it| it.1.parse::<f64>().is_ok());
        // A count is whole by its type.
        for (key, _) in numbers.filter(|it| !matches!(it.0, "row_n" | "count")) {
            for value in odd {
                let scene = Scene::read(text).with(&format!("{key}={value}"));
                let adjusted_n = if ACROSS.contains(text) {
                    scene.across(|it| standard.across(it)).map(|it| it.adjusted_n)
                } else {
                    scene.along(|it| standard.along(it)).map(|it| it.adjusted_n)
                };
                count += 1;
                if let Ok(newtons) = adjusted_n {
                    assert!(0.0 <= newtons, "{text} with {key}={value}: {newtons}");
                }
            }
        }
    }
    assert!(500 < count, "only {count} were tried");
}
