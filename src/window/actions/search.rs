//! What a search among the actions finds: the actions themselves, the sizes of stock that could be placed or driven,
//! and the settings of the joint and of what is chosen.

use std::cmp::Reverse;
use std::sync::Arc;

use super::{ALL, Entry, other_words};
use crate::joint::edit::Change;
use crate::joint::{Edit, Fastener, Member};
use crate::stock::FastenerKind;
use crate::window::look::{Action, Look};
use crate::window::making::Kind;
use crate::window::selected::{fastener, member};
use crate::window::stock::{HOWS, How, actual, kind_words, nominal, swap, table_of};
use crate::window::top::{SERVICES, STANDARDS, UNITS};
use crate::window::words;

/// Words are taken for the same from this likeness upward, where none is found as it was typed.
const ALIKE: f64 = 0.88;
/// So many of what is not an action are offered at once.
const MOST: usize = 60;

/// Something that a search found.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// What it does.
    pub words: String,
    /// The keys that do it; empty where there are none.
    pub keys: &'static str,
    /// What is asked of the window then.
    pub action: Action,
    /// Other words by which it is found.
    also: String,
}

/// What a search found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// In the order of the list.
    pub offers: Vec<Offer>,
    /// So many more were found than are offered.
    pub more: usize,
}

/// What a search finds: every word of it stands somewhere in the words or keys. With no word these are all actions.
/// Where nothing has the words, it is the actions with words like them: `rectangle` finds what draws a rectangular
/// member.
#[must_use]
pub fn found(search: &str, look: &Look<'_>) -> Found {
    let wanted: Vec<String> = plain(search).split_whitespace().map(str::to_owned).collect();
    let has_all = |it: &Offer, has: fn(&str, &str) -> bool| {
        let all = plain(&format!("{} {} {}", it.words, it.keys, it.also));
        wanted.iter().all(|word| has(&all, word))
    };
    let mut offers: Vec<Offer> = ALL.iter().map(of_entry).filter(|it| has_all(it, as_typed)).collect();
    let mut more = 0;
    if !wanted.is_empty() {
        let mut others = settings(look);
        others.extend(of_chosen(look));
        others.extend(of_stock(look));
        others.extend(of_no_swap(&wanted, look));
        others.retain(|it| has_all(it, as_typed));
        // Of those with all the words the one first that has them as they were typed: 3/8 x 3 1/2, not 3/8 x 1 1/2;
        // then the one in which they stand next to each other: bolt 1/2 x 5, not bolt 1/4 x 1 1/2.
        let parts = apart(&wanted);
        others.sort_by_cached_key(|it| {
            let ((whole, _), (count, between)) = (in_order(&it.words, &wanted), in_order(&it.words, &parts));
            (Reverse(whole), Reverse(count), between)
        });
        more = others.len().saturating_sub(MOST);
        others.truncate(MOST);
        offers.extend(others);
    }
    if offers.is_empty() {
        offers = ALL.iter().map(of_entry).filter(|it| has_all(it, nearly)).collect();
    }
    Found { offers, more }
}

/// Words as they are compared: in small letters, without the marks of inches, the sign of times as a letter.
fn plain(words: &str) -> String {
    words.to_lowercase().replace('\u{d7}', "x").replace('"', "")
}

/// Whether two numbers were typed in one word, as `1/2x3-1/2`, `m12x140` or `2x10`, and which.
fn two_in_one(word: &str) -> Option<(&str, &str)> {
    let is_number = |it: &str| it.starts_with(|it: char| it.is_ascii_digit());
    let (wide, long) = word.split_once('x')?;
    let is_both = is_number(long) && (is_number(wide) || is_number(wide.trim_start_matches('m')));
    is_both.then_some((wide, long))
}

/// Diameter and length that were typed in one as the words that the name of a fastener has: 1/2, x, 3, 1/2.
fn apart(wanted: &[String]) -> Vec<String> {
    let mut all = Vec::new();
    for word in wanted {
        match two_in_one(word) {
            Some((wide, long)) => {
                all.extend([wide.to_owned(), "x".to_owned()]);
                all.extend(long.split('-').map(str::to_owned));
            }
            None => all.push(word.clone()),
        }
    }
    all
}

/// How many of the words stand in these as whole words, one after the other, and how many others stand between them.
fn in_order(words: &str, wanted: &[String]) -> (usize, usize) {
    let bare = plain(words).replace([':', '(', ')', ','], " ");
    let words: Vec<&str> = bare.split_whitespace().collect();
    let (mut count, mut between, mut last) = (0, 0, None);
    for word in wanted {
        let from = last.map_or(0, |it: usize| it + 1);
        if let Some(ahead) = words[from..].iter().position(|it| it == word) {
            between += if last.is_some() { ahead } else { 0 };
            last = Some(from + ahead);
            count += 1;
        }
    }
    (count, between)
}

fn as_typed(all: &str, word: &str) -> bool {
    if two_in_one(word).is_none() {
        return all.contains(word);
    }
    // 2x10 is no part of 1/2x10.
    let begins =
        |at: usize| !all[..at].ends_with(|it: char| it.is_ascii_digit() || matches!(it, '/' | '.' | '-'));
    all.match_indices(word).any(|it| begins(it.0))
}

fn nearly(all: &str, word: &str) -> bool {
    let mut words = all.split(|it: char| !it.is_alphanumeric());
    // Short words are all alike.
    all.contains(word) || (3 < word.len() && words.any(|it| ALIKE < strsim::jaro_winkler(it, word)))
}

fn offer(words: String, action: Action) -> Offer {
    Offer { words, keys: "", action, also: String::new() }
}

fn of_entry(it: &Entry) -> Offer {
    let also = other_words(it.command).to_owned();
    Offer { keys: it.keys, also, ..offer(it.words.to_owned(), Action::Do(it.command)) }
}

/// What the bar at the top sets.
fn settings(look: &Look<'_>) -> Vec<Offer> {
    let joint = look.joint;
    let mut all = Vec::new();
    let mut set = |words: String, name: String, is_so: bool, edit: Edit| {
        let so = Action::Say(format!("{words}: it is so already."));
        all.push(offer(words, if is_so { so } else { Action::Keep(name, edit) }));
    };
    for it in STANDARDS {
        let is_so = joint.standard == it.it;
        set(format!("Standard: {it}"), format!("Check by {it}"), is_so, Edit::Standard(it.it));
    }
    for it in UNITS {
        let is_so = look.unit() == it.it;
        set(format!("Unit of lengths: {it}"), format!("Lengths in {it}"), is_so, Edit::ShowLengthsIn(it.it));
    }
    for it in SERVICES {
        let is_so = joint.service == it.it;
        set(format!("Service condition: {it}"), format!("Service {it}"), is_so, Edit::Service(it.it));
    }
    all
}

/// What can be picked for the chosen members and fasteners.
fn of_chosen(look: &Look<'_>) -> Vec<Offer> {
    let mut all = Vec::new();
    for it in look.stock.materials.values() {
        let name = format!("Material {}", it.label);
        let with = |old: &Member| member::of_material(old, it);
        let offer = offer(format!("Material: {}", it.label), to_members(name, with, look));
        all.push(Offer { also: it.id.clone(), ..offer });
    }
    for it in member::GRAINS {
        let with = |old: &Member| Member { grain: it.it, ..old.clone() };
        all.push(offer(format!("Grain: {it}"), to_members(format!("Grain {it}"), with, look)));
    }
    for it in member::TREATMENTS {
        let with = |old: &Member| Member { treatment: it.it, ..old.clone() };
        all.push(offer(format!("Treatment: {it}"), to_members(format!("Treatment {it}"), with, look)));
    }
    for it in fastener::FINISHES {
        let with = |old: &Fastener| Fastener { finish: it.it, ..old.clone() };
        all.push(offer(format!("Finish: {it}"), to_fasteners(format!("Finish {it}"), with, look)));
    }
    for it in fastener::SEATS {
        let with = |old: &Fastener| Fastener { seat: it.it, ..old.clone() };
        all.push(offer(format!("Head: {it}"), to_fasteners(format!("Head {it}"), with, look)));
    }
    all
}

/// One step for all chosen members.
fn to_members(name: String, with: impl Fn(&Member) -> Member, look: &Look<'_>) -> Action {
    let (places, all) = (look.chosen_group().members, &look.kept.joint.members);
    together(name, (&places, all), with, Edit::Members, "member")
}

/// One step for all chosen fasteners.
fn to_fasteners(name: String, with: impl Fn(&Fastener) -> Fastener, look: &Look<'_>) -> Action {
    let (places, all) = (look.chosen_group().fasteners, &look.kept.joint.fasteners);
    together(name, (&places, all), with, Edit::Fasteners, "fastener")
}

/// One step for those at some places of a list of the joint.
fn together<T>(
    name: String,
    (places, all): (&[usize], &[T]),
    with: impl Fn(&T) -> T,
    edit: impl Fn(Change<T>) -> Edit,
    what: &str,
) -> Action {
    let replaced = |at: &usize| Some(edit(Change::Replace { at: *at, new: Box::new(with(all.get(*at)?)) }));
    let edits: Vec<Edit> = places.iter().filter_map(replaced).collect();
    match edits.len() {
        0 => Action::Say(format!("Choose a {what} first, or several; then search for it again.")),
        1 => Action::Keep(name, Edit::All(edits)),
        count => Action::Keep(format!("{name}, {}", words::count(count, what)), Edit::All(edits)),
    }
}

/// Why nothing can be swapped, where that is searched for.
fn of_no_swap(wanted: &[String], look: &Look<'_>) -> Option<Offer> {
    let is_asked = wanted.iter().any(|it| 2 < it.len() && "swap".starts_with(it.as_str()));
    let is_needed = is_asked && look.chosen_fastener().is_none();
    let says = "Choose a fastener first, or several; then search for the size again.";
    let offer = offer("Swap what is chosen for another size".to_owned(), Action::Say(says.to_owned()));
    is_needed.then(|| Offer { also: wanted.join(" "), ..offer })
}

/// Diameter and length of a name in one word, as they are often typed: `1/2x3-1/2` of `bolt 1/2" x 3 1/2"`.
fn in_one(label: &str) -> String {
    let close = plain(label).replace(" x ", "x");
    let mut dashed = String::with_capacity(close.len());
    for word in close.split(' ') {
        // A whole number before its fraction.
        let is_fraction = word.starts_with("1/") || word.starts_with("3/");
        if !dashed.is_empty() {
            let is_after_a_number = dashed.ends_with(|it: char| it.is_ascii_digit());
            dashed.push(if is_fraction && is_after_a_number { '-' } else { ' ' });
        }
        dashed.push_str(word);
    }
    format!("{close} {dashed}")
}

/// What can be placed, and what can be driven or taken in place of what is chosen.
fn of_stock(look: &Look<'_>) -> Vec<Offer> {
    let mut all = Vec::new();
    for size in &look.stock.sections {
        let action = Action::Make(Some(Kind::Stock(Arc::new(size.clone()))));
        let words = format!("Place {} ({})", nominal(size), actual(size, look));
        all.push(Offer { also: format!("member size {}", table_of(size)), ..offer(words, action) });
    }
    for spec in look.stock.fasteners_by_size() {
        let also = format!("fastener size {} {} {}", kind_words(spec.kind), spec.id, in_one(&spec.label));
        let mut add = |words: String, action: Action| {
            all.push(Offer { also: also.clone(), ..offer(words, action) });
        };
        if let Some(action) = swap(spec, false, look) {
            add(format!("Swap what is chosen for: {}", spec.label), action);
        }
        let slopes = matches!(spec.kind, FastenerKind::Nail | FastenerKind::WoodScrew);
        for how in HOWS.iter().filter(|it| it.it != How::Toe || slopes) {
            add(format!("{how}: {}", spec.label), how.it.drives(spec.clone()));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Subject;
    use crate::joint::{StandardId, file};
    use crate::stock::Stock;
    use crate::unit::LengthUnit;
    use crate::window::look::Command;
    use crate::window::{App, Message, stock};

    fn app() -> App {
        let stock = Arc::new(Stock::built_in());
        let joint = include_str!("../../../sample-projects/heron-lane-ledger.joint.json");
        App::new(stock.clone(), file::read(joint, &stock).unwrap(), None)
    }

    fn first(search: &str, app: &App) -> Offer {
        found(search, &app.look())
            .offers
            .into_iter()
            .next()
            .unwrap_or_else(|| panic!("{search} finds nothing"))
    }

    #[test]
    fn a_search_finds_by_words_and_by_keys_in_any_order() {
        let app = app();
        let command = |search| {
            let Action::Do(command) = first(search, &app).action else { panic!("{search} is no action") };
            command
        };
        assert_eq!(found("", &app.look()).offers.len(), ALL.len());
        assert_eq!(command("size true"), Command::TrueSize);
        assert_eq!(command("ctrl+z"), Command::Undo);
        // Not quite as it is called, or not quite as it is written.
        assert_eq!(first("rectangle", &app).words, "Draw a rectangular member");
        assert_eq!(first("draw rectangle", &app).words, "Draw a rectangular member");
        assert_eq!(command("mirorr top"), Command::MirrorUpsideDown);
        assert!(found("sausages", &app.look()).offers.is_empty());
    }

    #[test]
    fn a_search_finds_stock_and_settings() {
        let mut app = app();
        let kept = |search, app: &App| {
            let Action::Keep(_, edit) = first(search, app).action else { panic!("{search} changes nothing") };
            edit
        };
        assert_eq!(kept("standard en", &app), Edit::Standard(StandardId::En199511));
        assert_eq!(kept("unit mm", &app), Edit::ShowLengthsIn(LengthUnit::Millimetre));
        assert!(
            matches!(first("2x10", &app).action, Action::Make(Some(Kind::Stock(it))) if it.nominal == "2x10")
        );
        let toe = first("toe 16d", &app);
        assert!(
            matches!(&toe.action, Action::Make(Some(Kind::Toe(it))) if it.kind == FastenerKind::Nail),
            "{toe:?}"
        );
        assert_eq!(first("drive one lag 3/8 x 3 1/2", &app).words, "Drive one: lag screw 3/8\" x 3 1/2\"");
        assert!(matches!(first("drive one lag", &app).action, Action::Drive(Some(_))));
        assert!(0 < found("drive", &app.look()).more, "not all sizes at once");
        // Of nothing that is chosen nothing is changed, and it is said why.
        assert!(matches!(first("material osb", &app).action, Action::Say(_)));
        drop(app.update(Message::Stock(stock::Message::ThingPressed(Subject::Member("rim".into())))));
        let Edit::All(edits) = kept("material osb", &app) else { panic!("one step for all that is chosen") };
        let [Edit::Members(Change::Replace { new, .. })] = &edits[..] else { panic!("{edits:?}") };
        assert!(new.id == "rim" && new.material.id == "panel/osb", "{new:?}");
    }
}
