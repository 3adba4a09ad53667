//! JSON text as a tree that remembers where everything stands. Knows no joint.
//!
//! A reader of its own, and not a general one, because every fault of a joint file is told
//! with its line and column, keys given twice are told, and a number that is none (`NaN`,
//! `1e999`) is told without hiding what else is wrong.

use std::borrow::Cow;

use serde::de::value::{Error, MapAccessDeserializer, MapDeserializer, SeqDeserializer};
use serde::de::{Deserializer, IntoDeserializer, Visitor};

/// How deep lists and objects may stand in each other. A joint file needs nine.
const DEEPEST: usize = 64;

/// How many values a file may hold, so that its tree stays within a few hundred megabytes.
const MOST_VALUES: usize = 4_000_000;

/// A value and where it stands in the text.
#[derive(Clone, Debug)]
pub(super) struct Node<'t> {
    /// Byte offset of its first character.
    pub(super) at: usize,
    /// What it is.
    pub(super) kind: Kind<'t>,
}

/// What a value is.
#[derive(Clone, Debug)]
pub(super) enum Kind<'t> {
    Null,
    Bool(bool),
    /// Not finite where the text says `NaN`, `Infinity` or more than an f64 can hold.
    Number(f64),
    Text(Cow<'t, str>),
    List(Vec<Node<'t>>),
    /// In the order of the text; a key may come twice.
    Object(Vec<Entry<'t>>),
}

/// A key and its value.
#[derive(Clone, Debug)]
pub(super) struct Entry<'t> {
    pub(super) key: Cow<'t, str>,
    /// Byte offset of the key.
    pub(super) at: usize,
    pub(super) value: Node<'t>,
}

/// Why a text is no JSON.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct SyntaxFault {
    /// Byte offset.
    pub(super) at: usize,
    /// Within which part.
    pub(super) part: String,
    pub(super) says: String,
}

impl Kind<'_> {
    /// What it is, in words.
    pub(super) fn words(&self) -> &'static str {
        match self {
            Kind::Null => "null",
            Kind::Bool(_) => "true or false",
            Kind::Number(_) => "a number",
            Kind::Text(_) => "a text",
            Kind::List(_) => "a list",
            Kind::Object(_) => "an object",
        }
    }
}

impl<'t> Node<'t> {
    /// The value of a key; the first where it comes twice.
    pub(super) fn get(&self, key: &str) -> Option<&Node<'t>> {
        match &self.kind {
            Kind::Object(entries) => entries.iter().find(|it| it.key == key).map(|it| &it.value),
            Kind::Null | Kind::Bool(_) | Kind::Number(_) | Kind::Text(_) | Kind::List(_) => None,
        }
    }

    /// An element of a list.
    pub(super) fn element(&self, place: usize) -> Option<&Node<'t>> {
        match &self.kind {
            Kind::List(elements) => elements.get(place),
            Kind::Null | Kind::Bool(_) | Kind::Number(_) | Kind::Text(_) | Kind::Object(_) => None,
        }
    }
}

/// Reads JSON (RFC 8259). A byte order mark at the start is passed over.
pub(super) fn parse(text: &str) -> Result<Node<'_>, SyntaxFault> {
    let mut parser = Parser { text, at: 0, depth: 0, values: 0 };
    if text.starts_with('\u{feff}') {
        parser.at = '\u{feff}'.len_utf8();
    }
    let tree = parser.value()?;
    parser.blanks();
    match parser.peek() {
        None => Ok(tree),
        Some(_) => Err(parser.fault("the end of the file was expected after the closing brace")),
    }
}

struct Parser<'t> {
    text: &'t str,
    at: usize,
    depth: usize,
    values: usize,
}

impl<'t> Parser<'t> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn blanks(&mut self) {
        while let Some(b' ' | b'\t' | b'\n' | b'\r') = self.peek() {
            self.at += 1;
        }
    }

    fn fault(&self, says: &str) -> SyntaxFault {
        let found = match self.text.get(self.at..).and_then(|it| it.chars().next()) {
            Some(it) => format!("{says}; found `{}`", it.escape_debug()),
            None => format!("{says}; the file ends here"),
        };
        SyntaxFault { at: self.at, part: String::new(), says: found }
    }

    fn value(&mut self) -> Result<Node<'t>, SyntaxFault> {
        self.blanks();
        let at = self.at;
        self.values += 1;
        if MOST_VALUES < self.values {
            return Err(self.fault("the file holds more than 4,000,000 values"));
        }
        let kind = match self.peek() {
            Some(b'{') => self.nested(Self::object)?,
            Some(b'[') => self.nested(Self::list)?,
            Some(b'"') => Kind::Text(self.string()?),
            Some(b'-' | b'0'..=b'9') => self.number()?,
            _ => self.word()?,
        };
        Ok(Node { at, kind })
    }

    fn nested(
        &mut self,
        read: fn(&mut Self) -> Result<Kind<'t>, SyntaxFault>,
    ) -> Result<Kind<'t>, SyntaxFault> {
        self.depth += 1;
        if DEEPEST < self.depth {
            return Err(self.fault("lists and objects stand more than 64 deep in each other"));
        }
        let kind = read(self)?;
        self.depth -= 1;
        Ok(kind)
    }

    fn object(&mut self) -> Result<Kind<'t>, SyntaxFault> {
        let mut entries = Vec::new();
        self.at += 1;
        loop {
            self.blanks();
            match self.peek() {
                Some(b'}') if entries.is_empty() => break,
                Some(b'"') => {}
                _ if entries.is_empty() => return Err(self.fault("a key in quotes or `}` was expected")),
                _ => return Err(self.fault("a key in quotes was expected after the comma")),
            }
            let at = self.at;
            let key = self.string()?;
            self.blanks();
            if self.peek() != Some(b':') {
                return Err(self.fault("`:` was expected after the key").within(&format!(".{key}")));
            }
            self.at += 1;
            let value = self.value().map_err(|it| it.within(&format!(".{key}")))?;
            entries.push(Entry { key, at, value });
            self.blanks();
            match self.peek() {
                Some(b',') => self.at += 1,
                Some(b'}') => break,
                _ => return Err(self.fault("`,` or `}` was expected after the value")),
            }
        }
        self.at += 1;
        entries.shrink_to_fit();
        Ok(Kind::Object(entries))
    }

    fn list(&mut self) -> Result<Kind<'t>, SyntaxFault> {
        let mut elements = Vec::new();
        self.at += 1;
        loop {
            self.blanks();
            if self.peek() == Some(b']') && elements.is_empty() {
                break;
            }
            elements.push(self.value().map_err(|it| it.within(&format!("[{}]", elements.len())))?);
            self.blanks();
            match self.peek() {
                Some(b',') => self.at += 1,
                Some(b']') => break,
                _ => return Err(self.fault("`,` or `]` was expected after the value")),
            }
        }
        self.at += 1;
        elements.shrink_to_fit();
        Ok(Kind::List(elements))
    }

    fn string(&mut self) -> Result<Cow<'t, str>, SyntaxFault> {
        let start = self.at;
        let mut escaped = false;
        self.at += 1;
        loop {
            match self.peek() {
                Some(b'"') => break,
                Some(b'\\') => {
                    escaped = true;
                    // What is escaped is judged below; here it must only not end the string.
                    self.at += 2;
                }
                Some(0..=0x1f) => return Err(self.fault("a text may not run over the end of its line")),
                Some(_) => self.at += 1,
                None => {
                    self.at = start;
                    return Err(self.fault("the text that begins here has no closing quote"));
                }
            }
        }
        self.at += 1;
        if !escaped {
            return Ok(Cow::Borrowed(&self.text[start + 1..self.at - 1]));
        }
        // The escapes, with their pairs of surrogates, are read by the general library.
        serde_json::from_str::<String>(&self.text[start..self.at]).map(Cow::Owned).map_err(|_| SyntaxFault {
            at: start,
            part: String::new(),
            says: "a backslash in this text is followed by something that JSON does not know".to_owned(),
        })
    }

    fn digits(&mut self) -> Result<(), SyntaxFault> {
        let start = self.at;
        while let Some(b'0'..=b'9') = self.peek() {
            self.at += 1;
        }
        if start == self.at { Err(self.fault("a digit was expected")) } else { Ok(()) }
    }

    fn number(&mut self) -> Result<Kind<'t>, SyntaxFault> {
        let start = self.at;
        if self.peek() == Some(b'-') {
            self.at += 1;
        }
        if self.text[self.at..].starts_with("Infinity") {
            self.at += "Infinity".len();
            return Ok(Kind::Number(f64::NEG_INFINITY));
        }
        let zero = self.peek() == Some(b'0');
        let first = self.at;
        self.digits()?;
        if zero && 1 < self.at - first {
            self.at = start;
            return Err(self.fault("a number may not begin with a needless zero"));
        }
        if self.peek() == Some(b'.') {
            self.at += 1;
            self.digits()?;
        }
        if let Some(b'e' | b'E') = self.peek() {
            self.at += 1;
            if let Some(b'+' | b'-') = self.peek() {
                self.at += 1;
            }
            self.digits()?;
        }
        // Rust reads every such text, correctly rounded; too large becomes infinite.
        Ok(Kind::Number(self.text[start..self.at].parse().unwrap_or(f64::NAN)))
    }

    fn word(&mut self) -> Result<Kind<'t>, SyntaxFault> {
        let known = [
            ("true", Kind::Bool(true)),
            ("false", Kind::Bool(false)),
            ("null", Kind::Null),
            ("NaN", Kind::Number(f64::NAN)),
            ("Infinity", Kind::Number(f64::INFINITY)),
        ];
        for (word, kind) in known {
            if self.text.as_bytes()[self.at..].starts_with(word.as_bytes()) {
                self.at += word.len();
                return Ok(kind);
            }
        }
        Err(self.fault("a value was expected"))
    }
}

impl SyntaxFault {
    fn within(mut self, part: &str) -> Self {
        self.part.insert_str(0, part);
        self
    }
}

/// Largest whole number up to which every one is an f64 of its own.
const WHOLE: f64 = 9_007_199_254_740_992.0;

impl<'de> Deserializer<'de> for &'de Node<'_> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match &self.kind {
            Kind::Null => visitor.visit_unit(),
            Kind::Bool(it) => visitor.visit_bool(*it),
            #[expect(clippy::cast_possible_truncation, reason = "a whole number below 2^53 fits an i64")]
            Kind::Number(it)
                if it.fract() == 0.0 && it.abs() < WHOLE && !(*it == 0.0 && it.is_sign_negative()) =>
            {
                visitor.visit_i64(*it as i64)
            }
            Kind::Number(it) => visitor.visit_f64(*it),
            Kind::Text(it) => visitor.visit_str(it),
            Kind::List(it) => visitor.visit_seq(SeqDeserializer::new(it.iter())),
            Kind::Object(it) => {
                visitor.visit_map(MapDeserializer::new(it.iter().map(|it| (it.key.as_ref(), &it.value))))
            }
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match &self.kind {
            Kind::Null => visitor.visit_none(),
            Kind::Bool(_) | Kind::Number(_) | Kind::Text(_) | Kind::List(_) | Kind::Object(_) => {
                visitor.visit_some(self)
            }
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        match &self.kind {
            Kind::Text(it) => visitor.visit_enum(it.as_ref().into_deserializer()),
            Kind::Object(it) => {
                let entries = it.iter().map(|it| (it.key.as_ref(), &it.value));
                visitor.visit_enum(MapAccessDeserializer::new(MapDeserializer::new(entries)))
            }
            Kind::Null | Kind::Bool(_) | Kind::Number(_) | Kind::List(_) => self.deserialize_any(visitor),
        }
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

impl<'de> IntoDeserializer<'de, Error> for &'de Node<'_> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}
