//! The rules of a joint file, compiled from its own JSON Schema, and a walk that tells every breach.
//!
//! serde stops at the first fault. This walk tells them all and puts a harmless stand-in where
//! something is wrong, so that the rest of the file can still be read and judged. As the rules
//! come from the schema, and the schema from the types, the three cannot disagree.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use super::json::{Entry, Kind, Node};
use super::problems::{Problems, quoted, shown};

/// What may stand at one place of the file.
#[derive(Clone, Debug)]
pub(super) enum Rule {
    Null,
    Bool,
    /// Least, most, and both in words.
    Number(f64, f64, String),
    /// Least and most characters.
    Text(usize, usize),
    Words(Vec<String>),
    /// Each element, least and most of them.
    List(Box<Rule>, usize, usize),
    Object(BTreeMap<String, Field>),
    Choice(Vec<Rule>),
}

/// One key of an object.
#[derive(Clone, Debug)]
pub(super) struct Field {
    rule: Rule,
    needed: bool,
}

impl Rule {
    /// Compiles what schemars writes for our types; anything else allows nothing.
    pub(super) fn compile(schema: &Value, root: &Value) -> Self {
        if let Some(name) = schema["$ref"].as_str() {
            let name = name.trim_start_matches("#/$defs/");
            return Self::compile(&root["$defs"][name], root);
        }
        if let Some(choices) = schema["oneOf"].as_array().or(schema["anyOf"].as_array()) {
            return Self::choice(choices.iter().map(|it| Self::compile(it, root)).collect());
        }
        if let Some(word) = schema["const"].as_str() {
            return Self::Words(vec![word.to_owned()]);
        }
        if let Some(words) = schema["enum"].as_array() {
            let words = words.iter().filter_map(Value::as_str).map(str::to_owned).collect();
            return if schema["type"].is_array() {
                Self::choice(vec![Self::Words(words), Self::Null])
            } else {
                Self::Words(words)
            };
        }
        match schema["type"].as_array() {
            Some(kinds) => Self::choice(kinds.iter().map(|it| Self::of_kind(it, schema, root)).collect()),
            None => Self::of_kind(&schema["type"], schema, root),
        }
    }

    fn of_kind(kind: &Value, schema: &Value, root: &Value) -> Self {
        let count = |key: &str, absent: usize| {
            schema[key].as_u64().and_then(|it| usize::try_from(it).ok()).unwrap_or(absent)
        };
        match kind.as_str() {
            Some("null") => Self::Null,
            Some("boolean") => Self::Bool,
            Some("string") => Self::Text(count("minLength", 0), count("maxLength", usize::MAX)),
            Some("number" | "integer") => Self::Number(
                schema["minimum"].as_f64().unwrap_or(f64::MIN),
                schema["maximum"].as_f64().unwrap_or(f64::MAX),
                schema["description"].as_str().unwrap_or("a number").to_owned(),
            ),
            Some("array") => Self::List(
                Box::new(Self::compile(&schema["items"], root)),
                count("minItems", 0),
                count("maxItems", usize::MAX),
            ),
            Some("object") => {
                let needed = |key: &str| {
                    schema["required"]
                        .as_array()
                        .is_some_and(|it| it.iter().any(|it| it.as_str() == Some(key)))
                };
                let field = |(key, rule): (&String, &Value)| {
                    (key.clone(), Field { rule: Self::compile(rule, root), needed: needed(key) })
                };
                Self::Object(schema["properties"].as_object().into_iter().flatten().map(field).collect())
            }
            _ => Self::Choice(Vec::new()),
        }
    }

    /// Choices within choices are one choice, and so are all fixed words.
    fn choice(rules: Vec<Self>) -> Self {
        let mut flat = Vec::new();
        let mut words = Vec::new();
        for rule in rules {
            if let Self::Choice(inner) = rule {
                flat.extend(inner);
            } else {
                flat.push(rule);
            }
        }
        flat.retain_mut(|it| {
            if let Self::Words(more) = it {
                words.append(more);
                return false;
            }
            true
        });
        if !words.is_empty() {
            flat.insert(0, Self::Words(words));
        }
        if flat.len() == 1 { flat.remove(0) } else { Self::Choice(flat) }
    }

    /// Tells every breach in `node` and puts a stand-in there.
    pub(super) fn settle(&self, node: &mut Node<'_>, part: &mut String, problems: &mut Problems) {
        match (self, &mut node.kind) {
            (Self::Null, Kind::Null) | (Self::Bool, Kind::Bool(_)) => {}
            (Self::Number(least, most, words), Kind::Number(value)) => {
                if !(*least <= *value && *value <= *most) {
                    self.refuse(node, part, problems, |found| {
                        format!("{found} is not allowed here: {words}")
                    });
                }
            }
            (Self::Text(least, most), Kind::Text(text)) => {
                let length = text.chars().count();
                if *most < length {
                    let says = format!("this text has {length} characters; at most {most} are allowed");
                    self.refuse(node, part, problems, |_| says);
                } else if length < *least {
                    self.refuse(node, part, problems, |_| "this text may not be empty".to_owned());
                }
            }
            (Self::Words(words), Kind::Text(text)) => {
                if !words.iter().any(|it| it == text) {
                    let meant = problems.meant(text, words.iter().map(String::as_str));
                    let wants = self.wants();
                    self.refuse(node, part, problems, |found| {
                        format!("{found} is not known here; {wants} is{meant}")
                    });
                }
            }
            (Self::List(rule, least, most), Kind::List(_)) => {
                self.settle_list((rule, *least, *most), node, part, problems);
            }
            (Self::Object(fields), Kind::Object(_)) => settle_object(fields, node, part, problems),
            (Self::Choice(rules), _) => self.settle_choice(rules, node, part, problems),
            _ => {
                let wants = self.wants();
                self.refuse(node, part, problems, |found| format!("{found} stands where {wants} is wanted"));
            }
        }
    }

    fn refuse(
        &self,
        node: &mut Node<'_>,
        part: &str,
        problems: &mut Problems,
        says: impl FnOnce(&str) -> String,
    ) {
        problems.at(node.at, part, says(&shown(&node.kind)));
        problems.replaced(part);
        node.kind = self.stand_in();
    }

    fn settle_list(
        &self,
        (rule, least, most): (&Self, usize, usize),
        node: &mut Node<'_>,
        part: &mut String,
        problems: &mut Problems,
    ) {
        let at = node.at;
        let Kind::List(elements) = &mut node.kind else { return };
        let count = elements.len();
        if most < count {
            problems.at(at, part, format!("this list has {count} entries; at most {most} are allowed"));
            problems.replaced(part);
            elements.truncate(most);
        } else if count < least {
            let wanted = if least == most { String::new() } else { "at least ".to_owned() };
            problems.at(at, part, format!("this list needs {wanted}{least} entries and has {count}"));
            problems.replaced(part);
            elements.resize_with(least, || Node { at, kind: rule.stand_in() });
        }
        let end = part.len();
        for (place, element) in elements.iter_mut().enumerate() {
            // Most elements of a large file are sound: their part is spelled only once per element.
            use std::fmt::Write as _;
            let _ = write!(part, "[{place}]");
            rule.settle(element, part, problems);
            part.truncate(end);
        }
    }

    fn settle_choice(&self, rules: &[Self], node: &mut Node<'_>, part: &mut String, problems: &mut Problems) {
        let keys: Vec<&str> = match &node.kind {
            Kind::Object(entries) => entries.iter().map(|it| it.key.as_ref()).collect(),
            Kind::Null | Kind::Bool(_) | Kind::Number(_) | Kind::Text(_) | Kind::List(_) => Vec::new(),
        };
        let objects: Vec<&BTreeMap<String, Field>> = rules
            .iter()
            .filter_map(|it| if let Self::Object(fields) = it { Some(fields) } else { None })
            .collect();
        let chosen = match &node.kind {
            Kind::Null => rules.iter().find(|it| matches!(it, Self::Null)),
            Kind::Bool(_) => rules.iter().find(|it| matches!(it, Self::Bool)),
            Kind::Number(_) => rules.iter().find(|it| matches!(it, Self::Number(..))),
            Kind::List(_) => rules.iter().find(|it| matches!(it, Self::List(..))),
            Kind::Text(text) => rules
                .iter()
                .find(|it| matches!(it, Self::Words(words) if words.iter().any(|it| it == text)))
                .or(rules.iter().find(|it| matches!(it, Self::Text(..))))
                .or(rules.iter().find(|it| matches!(it, Self::Words(_)) && objects.is_empty())),
            Kind::Object(_) if objects.len() == 1 => rules.iter().find(|it| matches!(it, Self::Object(_))),
            Kind::Object(_) => rules.iter().find(
                |it| matches!(it, Self::Object(fields) if keys.iter().any(|it| fields.contains_key(*it))),
            ),
        };
        if let Some(rule) = chosen {
            return rule.settle(node, part, problems);
        }
        let words =
            rules.iter().flat_map(|it| if let Self::Words(words) = it { words.as_slice() } else { &[] });
        let (found, meant) = match (&node.kind, keys.first()) {
            (Kind::Object(_), Some(key)) => {
                let known = objects.iter().flat_map(|it| it.keys()).map(String::as_str);
                (format!("the key {}", quoted(key)), problems.meant(key, known))
            }
            (Kind::Text(text), _) => (shown(&node.kind), problems.meant(text, words.map(String::as_str))),
            (other, _) => (shown(other), String::new()),
        };
        let wants = self.wants();
        self.refuse(node, part, problems, |_| format!("{found} stands where {wants} is wanted{meant}"));
    }

    /// What is wanted, in words.
    fn wants(&self) -> String {
        match self {
            Self::Null => "null".to_owned(),
            Self::Bool => "true or false".to_owned(),
            Self::Number(_, _, words) => words.clone(),
            Self::Text(..) => "a text".to_owned(),
            Self::Words(words) => {
                let words: Vec<String> = words.iter().map(|it| format!("\"{it}\"")).collect();
                if words.len() == 1 { words[0].clone() } else { format!("one of {}", words.join(", ")) }
            }
            Self::List(rule, least, most) if least == most => format!("a list of {least} ({})", rule.wants()),
            Self::List(..) => "a list".to_owned(),
            Self::Object(fields) if fields.len() == 1 => {
                fields.keys().map(|it| format!("an object {{ \"{it}\": ... }}")).collect()
            }
            Self::Object(_) => "an object".to_owned(),
            Self::Choice(rules) => {
                let tag = |it: &Self| {
                    let Self::Object(fields) = it else { return None };
                    if fields.len() == 1 { fields.keys().next().cloned() } else { None }
                };
                let tags: Vec<String> = rules.iter().filter_map(tag).map(|it| format!("\"{it}\"")).collect();
                let many = 1 < tags.len();
                let by_tag = |it: &Self| many && tag(it).is_some();
                let plain = rules.iter().filter(|it| !matches!(it, Self::Null)).filter(|it| !by_tag(it));
                let mut wants: Vec<String> = plain.map(Self::wants).collect();
                if many {
                    wants.push(format!("an object with one of the keys {}", tags.join(", ")));
                }
                wants.join(" or ")
            }
        }
    }

    /// Something harmless of the right kind.
    fn stand_in(&self) -> Kind<'static> {
        match self {
            Self::Null => Kind::Null,
            Self::Bool => Kind::Bool(false),
            Self::Number(least, most, _) => Kind::Number(1.0_f64.clamp(*least, *most)),
            Self::Text(least, _) => Kind::Text(Cow::Owned("?".repeat(*least))),
            Self::Words(words) => Kind::Text(Cow::Owned(words.first().cloned().unwrap_or_default())),
            Self::List(rule, least, _) => {
                Kind::List((0..*least).map(|_| Node { at: 0, kind: rule.stand_in() }).collect())
            }
            Self::Object(fields) => {
                let needed = fields.iter().filter(|it| it.1.needed);
                let entry = |(key, field): (&String, &Field)| Entry {
                    key: Cow::Owned(key.clone()),
                    at: 0,
                    value: Node { at: 0, kind: field.rule.stand_in() },
                };
                Kind::Object(needed.map(entry).collect())
            }
            Self::Choice(rules) => rules
                .iter()
                .find(|it| matches!(it, Self::Null))
                .or(rules.first())
                .map_or(Kind::Null, Self::stand_in),
        }
    }
}

fn settle_object(
    fields: &BTreeMap<String, Field>,
    node: &mut Node<'_>,
    part: &mut String,
    problems: &mut Problems,
) {
    let at = node.at;
    let Kind::Object(entries) = &mut node.kind else { return };
    let end = part.len();
    let mut seen = BTreeSet::new();
    // Keys that a misspelt one was meant to be: they are not missing too.
    let mut meant = BTreeSet::new();
    entries.retain_mut(|entry| {
        let dot = if end == 0 { "" } else { "." };
        part.push_str(dot);
        let Some((key, field)) = fields.get_key_value(entry.key.as_ref()) else {
            part.extend(entry.key.chars().take(80).flat_map(char::escape_debug));
            let near = problems.nearest(&entry.key, fields.keys().map(String::as_str));
            let hint = near.map_or_else(String::new, |it| format!("; did you mean `{it}`?"));
            meant.extend(near);
            let known = fields.keys().map(String::as_str).collect::<Vec<_>>().join(", ");
            let says = format!("{} is no key here{hint} (keys: {known})", quoted(&entry.key));
            problems.at(entry.at, part, says);
            part.truncate(end);
            return false;
        };
        part.push_str(key);
        let first = seen.insert(key.as_str());
        if first {
            field.rule.settle(&mut entry.value, part, problems);
        } else {
            problems.at(entry.at, part, format!("the key `{key}` is given twice"));
        }
        part.truncate(end);
        first
    });
    let mut missing = Vec::new();
    for (key, field) in fields.iter().filter(|it| it.1.needed && !seen.contains(it.0.as_str())) {
        if !meant.contains(key.as_str()) {
            missing.push(format!("`{key}`"));
        }
        problems.replaced(&if end == 0 { key.clone() } else { format!("{part}.{key}") });
        let value = Node { at, kind: field.rule.stand_in() };
        entries.push(Entry { key: Cow::Owned(key.clone()), at, value });
    }
    match missing.as_slice() {
        [] => {}
        [one] => problems.at(at, part, format!("the key {one} is missing here")),
        many => problems.at(at, part, format!("the keys {} are missing here", many.join(", "))),
    }
}
