//! Damages joint files in ways that repeat: every change comes from a seed.

use serde_json::Value;

use crate::dice::Dice;

fn pick<'a, T>(dice: &mut Dice, list: &'a [T]) -> &'a T {
    &list[dice.below(list.len())]
}

/// A few letters put in, taken out, doubled or moved, anywhere.
pub(crate) fn letters(text: &str, dice: &mut Dice) -> String {
    const BITS: &[&str] = &[
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\"",
        "\\",
        "-",
        "0",
        "9",
        "e",
        "1e999",
        "NaN",
        "null",
        "true",
        "\u{0}",
        "\u{1F528}",
        "\n",
        " ",
        "\\u0000",
        "\"id\"",
        "\"depth\":[0,1],",
        "-0.0",
        "1e-320",
        "\u{feff}",
    ];
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..=dice.below(4) {
        let at = dice.below(bytes.len().max(1));
        let end = (at + 1 + dice.below(40)).min(bytes.len());
        match dice.below(6) {
            0 => drop(bytes.drain(at..end)),
            1 => {
                let piece = bytes[at..end].to_vec();
                drop(bytes.splice(at..at, piece));
            }
            2 => drop(bytes.splice(at..at, pick(dice, BITS).bytes())),
            3 => drop(bytes.splice(at..end.min(at + 1), pick(dice, BITS).bytes())),
            4 if dice.below(4) == 0 => bytes.truncate(at),
            4 | 5 => bytes[at] = b"0123456789.-"[dice.below(12)],
            _ => unreachable!("below six"),
        }
        if bytes.is_empty() {
            break;
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// One to eight values replaced, dropped, doubled or exchanged for others of the file.
pub(crate) fn values(text: &str, dice: &mut Dice) -> String {
    let mut tree: Value = serde_json::from_str(text).expect("the samples are JSON");
    for _ in 0..=dice.below(8) {
        let mut all = Vec::new();
        gather(&tree, &mut Vec::new(), &mut all);
        let path = pick::<Vec<Step>>(dice, &all).clone();
        let other = at(&mut tree, pick::<Vec<Step>>(dice, &all)).clone();
        change(at(&mut tree, &path), other, dice);
    }
    tree.to_string()
}

/// Numbers alone changed, and mostly a little, so that many joints stay readable but odd.
pub(crate) fn numbers(text: &str, dice: &mut Dice) -> String {
    let mut tree: Value = serde_json::from_str(text).expect("the samples are JSON");
    let mut all = Vec::new();
    gather(&tree, &mut Vec::new(), &mut all);
    all.retain(|it| at(&mut tree, it).is_number() && it.last() != Some(&Step::Key("version".to_owned())));
    for _ in 0..=dice.below(12) {
        let place = at(&mut tree, pick::<Vec<Step>>(dice, &all));
        let old = place.as_f64().expect("it is a number");
        let new = match dice.below(12) {
            0 => -old,
            1 => 0.0,
            2 => old.round(),
            3 => *pick(dice, &[1e6, -1e6, 1e-3, 0.001_000_1, 360.0, 90.0, 1e-300, -0.0, 38.1]),
            4 => old * 1000.0,
            5 => old + 1e-9,
            6 => old * (1.0 + f64::EPSILON),
            _ => old + (dice.below(2001) as f64 - 1000.0) / 20.0,
        };
        *place = Value::from(new);
    }
    tree.to_string()
}

#[derive(Clone, Debug, PartialEq)]
enum Step {
    Key(String),
    Place(usize),
}

fn gather(value: &Value, path: &mut Vec<Step>, all: &mut Vec<Vec<Step>>) {
    all.push(path.clone());
    let children: Vec<(Step, &Value)> = match value {
        Value::Array(list) => list.iter().enumerate().map(|(n, it)| (Step::Place(n), it)).collect(),
        Value::Object(map) => map.iter().map(|(key, it)| (Step::Key(key.clone()), it)).collect(),
        _ => Vec::new(),
    };
    for (step, child) in children {
        path.push(step);
        gather(child, path, all);
        path.pop();
    }
}

fn at<'a>(tree: &'a mut Value, path: &[Step]) -> &'a mut Value {
    let step = |value: &'a mut Value, step: &Step| match step {
        Step::Key(key) => value.get_mut(key),
        Step::Place(place) => value.get_mut(place),
    };
    path.iter().fold(tree, |value, it| step(value, it).expect("the path was gathered from this tree"))
}

fn change(place: &mut Value, other: Value, dice: &mut Dice) {
    const NUMBERS: &[f64] =
        &[0.0, -0.0, 1.0, -1.0, 0.5, 1e-300, 5e-324, 1e6, -1e6, 1e7, 1e300, -1e300, 2e9, 90.0, 359.999, 1e-9];
    match (dice.below(8), place) {
        (0, place) => *place = other,
        (1, place) => *place = Value::Null,
        (2, place) => *place = Value::from(*pick(dice, NUMBERS)),
        (3, Value::Array(list)) if !list.is_empty() => drop(list.remove(dice.below(list.len()))),
        (4 | 5, Value::Array(list)) if !list.is_empty() => {
            let (from, to) = (dice.below(list.len()), dice.below(list.len()));
            let it = list[from].clone();
            list.insert(to, it);
        }
        (6, Value::Array(list)) => list.reverse(),
        (3 | 4, Value::Object(map)) if !map.is_empty() => {
            let key = map.keys().nth(dice.below(map.len())).cloned().expect("there are keys");
            map.remove(&key);
        }
        (5, Value::Object(map)) if !map.is_empty() => {
            let key = map.keys().nth(dice.below(map.len())).cloned().expect("there are keys");
            let value = map.remove(&key).expect("the key is there");
            map.insert(format!("{key}s"), value);
        }
        (6, Value::String(text)) => text.push('\u{1F528}'),
        (7, Value::String(text)) => *text = "<&\"'>]]>\u{1}".to_owned(),
        (_, Value::Number(number)) => {
            let old = number.as_f64().unwrap_or(0.0);
            let by = (dice.below(2001) as f64 - 1000.0) / 10.0;
            if let Some(new) = serde_json::Number::from_f64(old + by) {
                *number = new;
            }
        }
        (_, place) => *place = other,
    }
}
