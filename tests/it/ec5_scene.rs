//! What EN 1995-1-1 is asked in a test, from a line of words: `kind=nail d_mm=4 side=lumber side_rho=350 t1_mm=45`.

use std::collections::BTreeMap;

use shankline::joint::{Conditions, Duration, Finish, Heat, Seat, Service, Treatment};
use shankline::standard::Driven;
use shankline::standard::capacity::{Across, Along, Bearing, Row, Split, Toe};
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material, WoodType};

/// The words of a line.
#[derive(Clone)]
pub(crate) struct Scene {
    words: BTreeMap<String, String>,
}

fn family(word: &str) -> Family {
    Family::ALL.into_iter().find(|it| it.word() == word).unwrap_or_else(|| panic!("no family {word}"))
}

impl Scene {
    pub(crate) fn read(line: &str) -> Self {
        let pair = |it: &str| it.split_once('=').map(|(key, value)| (key.to_owned(), value.to_owned()));
        Self { words: line.split_whitespace().filter_map(pair).collect() }
    }

    /// The same with some words set anew.
    pub(crate) fn with(&self, line: &str) -> Self {
        let mut words = self.words.clone();
        words.extend(Self::read(line).words);
        Self { words }
    }

    fn word(&self, key: &str) -> Option<&str> {
        self.words.get(key).map(String::as_str)
    }

    fn maybe(&self, key: &str) -> Option<f64> {
        self.word(key).map(|it| it.parse().unwrap_or_else(|_| panic!("{key}={it} is no number")))
    }

    pub(crate) fn number(&self, key: &str) -> f64 {
        self.maybe(key).unwrap_or_else(|| panic!("{key} is missing in {:?}", self.words))
    }

    fn yes(&self, key: &str) -> bool {
        self.word(key) == Some("yes")
    }

    fn spec(&self) -> FastenerSpec {
        let kind = self.word("kind").expect("each scene names a kind");
        FastenerSpec {
            id: String::new(),
            label: String::new(),
            kind: FastenerKind::ALL.into_iter().find(|it| it.word() == kind).expect("it is a kind"),
            diameter_mm: self.number("d_mm"),
            root_mm: self.maybe("root_mm"),
            length_mm: 100.0,
            head_mm: self.maybe("head_mm").unwrap_or(0.0),
            head_height_mm: 0.0,
            thread_mm: self.maybe("thread_mm"),
            point_mm: 0.0,
            bending_yield_mpa: None,
            tensile_mpa: self.maybe("fu"),
            nut: None,
            source: String::new(),
        }
    }

    fn material(&self, who: &str) -> Option<Material> {
        let family = family(self.word(who)?);
        let short = who.trim_end_matches("_on");
        let of = |what: &str| self.word(&format!("{short}_{what}"));
        let density = of("rho").or_else(|| if who == "hold" { self.word("rho") } else { None });
        let wood = if of("wood") == Some("hardwood") { WoodType::Hardwood } else { WoodType::Softwood };
        Some(Material {
            id: String::new(),
            label: of("name").unwrap_or(who).to_owned(),
            family,
            wood: (family.is_wood() && family != Family::Panel).then_some(wood),
            specific_gravity: None,
            density_kg_m3: density.map(|it| it.parse().expect("a density is a number")),
            elastic_mpa: None,
            dowel_bearing_mpa: None,
            crushing_mpa: None,
            source: String::new(),
        })
    }

    /// The body at a place: 1 the side, 2 the main one, 3 the one beyond.
    fn bearing<'a>(&self, material: &'a Material, place: usize) -> Bearing<'a> {
        let maybe = |what: &str, unit: &str| self.maybe(&format!("{what}{place}{unit}"));
        Bearing {
            name: "body",
            material,
            treatment: Treatment::None,
            length_mm: maybe("t", "_mm").expect("each body has a length"),
            point_mm: 0.0,
            thread_mm: maybe("thread", "_mm").unwrap_or(0.0),
            load_to_grain_deg: maybe("a", "").unwrap_or(90.0),
            end_grain: self.yes(&format!("end{place}")),
            drilled_mm: maybe("drill", "_mm"),
            area_mm2: None,
        }
    }

    fn duration(&self) -> Duration {
        match self.word("duration").unwrap_or("two-months") {
            "permanent" => Duration::Permanent,
            "ten-years" => Duration::TenYears,
            "two-months" => Duration::TwoMonths,
            "seven-days" => Duration::SevenDays,
            "ten-minutes" => Duration::TenMinutes,
            "impact" => Duration::Impact,
            other => panic!("no duration {other}"),
        }
    }

    fn conditions(&self) -> Conditions {
        Conditions {
            wet_when_made: self.yes("wet"),
            heat: Heat::Ordinary,
            diaphragm: false,
            gamma_m: self.maybe("gamma"),
        }
    }

    fn driven_of<'a>(&self, spec: &'a FastenerSpec) -> Driven<'a> {
        let service = match self.word("service").unwrap_or("dry") {
            "dry" => Service::Dry,
            "humid" => Service::Humid,
            "wet" => Service::Wet,
            other => panic!("no service {other}"),
        };
        Driven { spec, finish: Finish::Bright, seat: Seat::Flush, service, hole_mm: None }
    }

    /// Asks something of the fastener alone.
    pub(crate) fn driven<T>(&self, ask: impl FnOnce(&Driven<'_>) -> T) -> T {
        let spec = self.spec();
        ask(&self.driven_of(&spec))
    }

    /// Asks what it carries across.
    pub(crate) fn across<T>(&self, ask: impl FnOnce(&Across<'_>) -> T) -> T {
        let spec = self.spec();
        let side = self.material("side").expect("each scene has a side");
        let main = self.material("main").expect("each scene has a main body");
        let beyond = self.material("beyond");
        let (under, nut) = (self.material("head_on"), self.material("nut_on"));
        let main_bearing = self.bearing(&main, 2);
        let along = self.yes("along").then(|| {
            let holding = Bearing { end_grain: false, ..main_bearing };
            Box::new(self.along_of(&spec, holding, (under.as_ref(), nut.as_ref())))
        });
        let row = self.maybe("row_n").map(|it| Row {
            count: format!("{it}").parse().expect("a count"),
            pitch_mm: self.number("row_a1_mm"),
            to_grain_deg: self.number("row_deg"),
        });
        let asked = Across {
            driven: self.driven_of(&spec),
            side: self.bearing(&side, 1),
            main: main_bearing,
            beyond: beyond.as_ref().map(|it| self.bearing(it, 3)),
            gap_mm: [self.maybe("g_mm").unwrap_or(0.0), self.maybe("g2_mm").unwrap_or(0.0)],
            toe: None,
            row,
            rooms: Vec::new(),
            along,
            duration: self.duration(),
            conditions: self.conditions(),
        };
        ask(&asked)
    }

    /// Asks what the main body carries before it splits.
    pub(crate) fn split<T>(&self, ask: impl FnOnce(&Split<'_>) -> T) -> T {
        let (spec, main) = (self.spec(), self.material("main").expect("each scene has a main body"));
        ask(&Split {
            material: &main,
            far_mm: self.number("he_mm"),
            depth_mm: self.number("h_mm"),
            width_mm: self.number("b_mm"),
            service: self.driven_of(&spec).service,
            duration: self.duration(),
            conditions: self.conditions(),
        })
    }

    fn along_of<'a>(
        &self,
        spec: &'a FastenerSpec,
        holding: Bearing<'a>,
        (under, nut): (Option<&'a Material>, Option<&'a Material>),
    ) -> Along<'a> {
        let body = |material, length_mm, drilled_mm| Bearing { material, length_mm, drilled_mm, ..holding };
        let washer = |who: &str| {
            self.maybe(&format!("{who}_washer_mm")).zip(self.maybe(&format!("{who}_washer_in_mm")))
        };
        Along {
            driven: self.driven_of(spec),
            holding,
            under_head: under.map(|it| body(it, self.number("head_t_mm"), self.maybe("head_drill_mm"))),
            head_washer_mm: washer("head"),
            under_nut: nut.map(|it| (body(it, 60.0, None), washer("nut"))),
            axis_to_grain_deg: self.maybe("axis_deg").unwrap_or(90.0),
            toe: self.maybe("toe_start_mm").map(|start_mm| Toe { angle_to_face_deg: 30.0, start_mm }),
            count: self.maybe("count").map_or(1, |it| format!("{it}").parse().expect("a count")),
            duration: self.duration(),
            conditions: self.conditions(),
        }
    }

    /// Asks what it carries along.
    pub(crate) fn along<T>(&self, ask: impl FnOnce(&Along<'_>) -> T) -> T {
        let (spec, hold) = (self.spec(), self.material("hold").expect("each scene has a holding body"));
        let (under, nut) = (self.material("head_on"), self.material("nut_on"));
        let holding = Bearing {
            name: "body",
            material: &hold,
            treatment: Treatment::None,
            length_mm: self.number("bite_mm"),
            point_mm: 0.0,
            thread_mm: self.maybe("thread_in_mm").unwrap_or(0.0),
            load_to_grain_deg: 90.0,
            end_grain: self.yes("end"),
            drilled_mm: None,
            area_mm2: None,
        };
        ask(&self.along_of(&spec, holding, (under.as_ref(), nut.as_ref())))
    }
}
