//! The choices that are compared: what is added, in which words, and what becomes of it when it is kept.

use crate::findings::carry::vary;
use crate::joint::StandardId;
use crate::stock::{FastenerKind, FastenerSpec};
use crate::trace::{Owner, TOUCH_MM};
use crate::window::look::{Action, Look};
use crate::window::{stock, words};

/// No more choices stand side by side than can be read.
pub(super) const MOST: usize = 5;

/// One choice beside the joint as drawn. It is of the chosen fastener, or of the whole joint where none is chosen.
#[derive(Clone, Debug, PartialEq)]
pub enum Variant {
    /// This one of stock.
    Size(String),
    /// The gap is so wide.
    Gap(f64),
    /// It stands so many degrees off square.
    Angle(f64),
    /// This member is of that.
    Wood(String, String),
    /// By the other standard.
    Standard(StandardId),
    /// As it was typed.
    Typed(String),
}

/// What the pane of choices remembers.
#[derive(Clone, Debug, Default)]
pub(super) struct Choices {
    pub(super) list: Vec<Variant>,
    pub(super) gap: String,
    pub(super) angle: String,
    pub(super) typed: String,
    /// Why what was entered last cannot be taken.
    pub(super) error: Option<String>,
    /// The member whose wood is picked.
    pub(super) piece: Option<String>,
    has_begun: bool,
}

/// What happened among the choices.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// A choice was picked.
    Added(Variant),
    /// A choice is no longer wanted, by its place among them.
    Removed(usize),
    /// A choice is to be built.
    KeepPressed(usize),
    /// The member whose wood is picked.
    PiecePicked(String),
    /// The gap has another text.
    GapTyped(String),
    /// Enter was pressed in it.
    GapEntered,
    /// The angle has another text.
    AngleTyped(String),
    /// Enter was pressed in it.
    AngleEntered,
    /// The words for a change have another text.
    Typed(String),
    /// Enter was pressed in them.
    Entered,
}

impl Variant {
    /// The change in the words of the command line.
    pub(super) fn text(&self, look: &Look<'_>) -> String {
        let id = look.chosen_fastener().and_then(|at| look.joint.fasteners.get(at)).map(|it| it.id.as_str());
        match self {
            Self::Size(name) => format!("{} {name}", id.unwrap_or("all")),
            // A length is told in millimetres, whatever the joint shows.
            Self::Gap(mm) => format!("gap {mm} mm{}", id.map_or_else(String::new, |id| format!(" at {id}"))),
            Self::Angle(deg) => format!("angle {} {deg}", id.unwrap_or_default()),
            Self::Wood(member, name) => format!("material {member} {name}"),
            Self::Standard(it) => format!("standard {}", standard_word(*it)),
            Self::Typed(text) => text.clone(),
        }
    }

    /// The choice for people.
    pub(super) fn name(&self, look: &Look<'_>) -> String {
        match self {
            Self::Size(name) => {
                look.stock.fasteners.get(name).map_or_else(|| name.clone(), |it| it.label.clone())
            }
            Self::Gap(mm) if *mm == 0.0 => "gap closed".to_owned(),
            Self::Gap(mm) => format!("gap {}", words::size(*mm, look.unit())),
            Self::Angle(deg) => format!("{} off square", words::degrees(*deg)),
            Self::Wood(member, name) => {
                let label = look.stock.materials.get(name).map_or(name.as_str(), |it| it.label.as_str());
                format!("{member} of {label}")
            }
            Self::Standard(StandardId::Nds2018) => "by NDS 2018".to_owned(),
            Self::Standard(StandardId::En199511) => "by EN 1995-1-1".to_owned(),
            Self::Typed(text) => text.clone(),
        }
    }
}

fn standard_word(it: StandardId) -> &'static str {
    match it {
        StandardId::Nds2018 => "nds-2018",
        StandardId::En199511 => "en-1995-1-1",
    }
}

impl Choices {
    /// Something to look at when the panel is opened first: the next larger size, and the gap closed where there is one.
    pub(super) fn begin(&mut self, look: &Look<'_>) {
        let Some(at) = look.chosen_fastener().filter(|_| !std::mem::replace(&mut self.has_begun, true))
        else {
            return;
        };
        let Some(of) = look.joint.fasteners.get(at) else { return };
        // A longer bolt holds no more than a shorter one that reaches through; a thicker one does.
        let is_bolt = matches!(of.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
        let sizes = |it: &FastenerSpec| {
            if is_bolt { (it.length_mm, it.diameter_mm) } else { (it.diameter_mm, it.length_mm) }
        };
        let (same, more) = sizes(&of.spec);
        let next = stock::same_table(look.stock, &of.spec)
            .into_iter()
            .filter(|it| (sizes(it).0 - same).abs() < 1e-6 && more < sizes(it).1)
            .min_by(|a, b| sizes(a).1.total_cmp(&sizes(b).1));
        self.list.extend(next.map(|it| Variant::Size(it.id.clone())));
        let has_gap = look
            .trace
            .fasteners
            .get(at)
            .is_some_and(|it| it.planes.iter().any(|it| TOUCH_MM < it.gap_mm + it.filling_mm));
        if has_gap {
            self.list.push(Variant::Gap(0.0));
        }
    }

    pub(super) fn update(&mut self, message: Message, look: &Look<'_>) -> Action {
        match message {
            Message::Added(it) => self.add(it, look),
            Message::Removed(at) => {
                if at < self.list.len() {
                    let _ = self.list.remove(at);
                }
            }
            Message::KeepPressed(at) => return self.keep(at, look),
            Message::PiecePicked(id) => self.piece = Some(id),
            Message::GapTyped(text) => (self.gap, self.error) = (text, None),
            Message::AngleTyped(text) => (self.angle, self.error) = (text, None),
            Message::Typed(text) => (self.typed, self.error) = (text, None),
            Message::GapEntered => match words::length(&self.gap, look.unit()) {
                Ok(mm) => {
                    self.gap.clear();
                    self.add(Variant::Gap(mm), look);
                }
                Err(why) => self.error = Some(why),
            },
            Message::AngleEntered => match words::angle(&self.angle) {
                Ok(deg) => {
                    self.angle.clear();
                    self.add(Variant::Angle(deg), look);
                }
                Err(why) => self.error = Some(why),
            },
            Message::Entered => {
                let typed = Variant::Typed(of_chosen(self.typed.trim(), look));
                self.add(typed, look);
                if self.error.is_none() {
                    self.typed.clear();
                }
            }
        }
        Action::Again
    }

    /// Adds a choice that can be made of the joint as drawn; why not is told of any other.
    fn add(&mut self, it: Variant, look: &Look<'_>) {
        self.error = None;
        if self.list.contains(&it) {
            return;
        }
        if MOST <= self.list.len() {
            self.error = Some(format!("{MOST} choices stand beside the joint already; take one away first."));
            return;
        }
        match vary::edits(look.joint, &it.text(look), look.stock) {
            Ok(_) => self.list.push(it),
            Err(why) => self.error = Some(why),
        }
    }

    /// Makes a choice the joint, as one step that can be undone.
    fn keep(&mut self, at: usize, look: &Look<'_>) -> Action {
        let Some(it) = self.list.get(at) else { return Action::None };
        match vary::edits(look.joint, &it.text(look), look.stock) {
            Ok(edit) => {
                let name = format!("Choose {}", it.name(look));
                let _ = self.list.remove(at);
                Action::Keep(name, edit)
            }
            Err(why) => {
                self.error = Some(why);
                Action::Again
            }
        }
    }
}

/// A change in words; an angle that names no fastener is that of the chosen one.
fn of_chosen(typed: &str, look: &Look<'_>) -> String {
    let id = look.chosen_fastener().and_then(|at| look.joint.fasteners.get(at)).map(|it| it.id.as_str());
    let words: Vec<&str> = typed.split_whitespace().collect();
    match (words.as_slice(), id) {
        (["angle", degrees], Some(id)) if degrees.parse::<f64>().is_ok() => format!("angle {id} {degrees}"),
        _ => typed.to_owned(),
    }
}

/// The members that the chosen fastener passes, or all that bear.
pub(super) fn pieces(look: &Look<'_>) -> Vec<String> {
    let members = &look.joint.members;
    let Some(shank) = look.chosen_fastener().and_then(|at| look.trace.fasteners.get(at)) else {
        return members.iter().filter(|it| it.bearing).map(|it| it.id.clone()).collect();
    };
    let mut found: Vec<String> = Vec::new();
    for body in shank.core.iter().filter_map(|it| it.body) {
        if let Some(Owner::Member(at)) = look.trace.bodies.get(body.0).map(|it| it.owner)
            && let Some(member) = members.get(at).filter(|it| it.bearing)
            && !found.contains(&member.id)
        {
            found.push(member.id.clone());
        }
    }
    found
}

/// The standard that is not the joint's.
pub(super) fn other(standard: StandardId) -> StandardId {
    match standard {
        StandardId::Nds2018 => StandardId::En199511,
        StandardId::En199511 => StandardId::Nds2018,
    }
}
