//! Which key asks for what. Keys that a focused field has taken never come here.

use iced::keyboard::key::{Key, Named};
use iced::keyboard::{Event, Modifiers};

use super::look::{Command, Shown};
use crate::joint::Look as From;

/// What a pressed key asks for; `None` for keys that mean nothing by themselves.
#[must_use]
pub fn command(event: &Event) -> Option<Command> {
    let Event::KeyPressed { key, modified_key, physical_key, modifiers, .. } = event else { return None };
    let (held, shift) = (modifiers.command(), modifiers.shift());
    match key.as_ref() {
        Key::Named(named) => by_name(named, *modifiers),
        Key::Character(_) => {
            let letter = key.to_latin(*physical_key)?;
            if held {
                return with_ctrl(letter, shift);
            }
            let typed = match modified_key.as_ref() {
                Key::Character(text) => text.chars().next().unwrap_or(letter),
                Key::Named(_) | Key::Unidentified => letter,
            };
            (!modifiers.alt()).then(|| alone(typed)).flatten()
        }
        Key::Unidentified => None,
    }
}

fn with_ctrl(letter: char, shift: bool) -> Option<Command> {
    Some(match (letter.to_ascii_lowercase(), shift) {
        ('n', false) => Command::New,
        ('o', false) => Command::Open,
        ('s', false) => Command::Save,
        ('s', true) => Command::SaveAs,
        ('e', false) => Command::Export,
        ('p', false) => Command::Sheet,
        ('w' | 'q', false) => Command::Close,
        ('z', false) => Command::Undo,
        ('z', true) | ('y', false) => Command::Redo,
        ('h', false) => Command::Steps,
        ('r', false) => Command::Recent,
        ('d', false) => Command::Duplicate,
        ('c', false) => Command::Copy,
        ('x', false) => Command::Cut,
        ('v', false) => Command::Paste,
        ('a', false) => Command::ChooseAll,
        ('a', true) => Command::Escape,
        ('+' | '=', _) => Command::ZoomIn,
        ('-' | '_', _) => Command::ZoomOut,
        ('0' | '1', _) => Command::TrueSize,
        ('/' | '?', _) => Command::Keys,
        _ => return None,
    })
}

fn alone(letter: char) -> Option<Command> {
    Some(match letter {
        'f' | 'F' => Command::Fit,
        '+' | '=' => Command::ZoomIn,
        '-' => Command::ZoomOut,
        'r' | 'R' => Command::ApplyRemedy,
        'w' | 'W' => Command::ShowWorking,
        'c' | 'C' => Command::TurnCarries,
        ']' => Command::NextSize(true),
        '[' => Command::NextSize(false),
        '.' | '>' => Command::TurnBy(-1),
        ',' | '<' => Command::TurnBy(1),
        'm' | 'M' => Command::Mirror,
        'a' | 'A' => Command::Arrange,
        'g' | 'G' => Command::Again,
        'z' | 'Z' => Command::FitChosen,
        '1' => Command::View(Shown::One(From::Front)),
        '2' => Command::View(Shown::One(From::Side)),
        '3' => Command::View(Shown::One(From::Top)),
        '4' => Command::View(Shown::All),
        '{' => Command::Order(false),
        '}' => Command::Order(true),
        'x' | 'X' => Command::Plane,
        's' | 'S' => Command::SnapStep,
        'b' | 'B' => Command::Starters,
        '/' => Command::Actions,
        '?' => Command::Keys,
        _ => return None,
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "some three hundred keys mean nothing here")]
fn by_name(named: Named, modifiers: Modifiers) -> Option<Command> {
    let (ctrl, shift) = (modifiers.command(), modifiers.shift());
    let far = if shift { 10 } else { 1 };
    Some(match named {
        Named::Tab if shift => Command::PreviousFinding,
        Named::Tab => Command::NextFinding,
        Named::PageDown => Command::NextThing,
        Named::PageUp => Command::PreviousThing,
        Named::Home => Command::Fit,
        Named::Escape => Command::Escape,
        Named::Enter => Command::Confirm,
        Named::F2 => Command::EditNumbers,
        Named::F1 => Command::Keys,
        Named::F6 => Command::Controls,
        Named::F3 => Command::Working,
        Named::F4 => Command::Compare,
        Named::Delete | Named::Backspace => Command::Delete,
        Named::Insert if ctrl => Command::Copy,
        Named::Insert if shift => Command::Paste,
        Named::ArrowLeft => Command::Nudge(-far, 0),
        Named::ArrowRight => Command::Nudge(far, 0),
        Named::ArrowUp => Command::Nudge(0, far),
        Named::ArrowDown => Command::Nudge(0, -far),
        _ => return None,
    })
}

/// The keys as they are listed for the user: what, and by which keys.
pub const LIST: [(&str, &str); 42] = [
    ("New, open, save, save as", "Ctrl+N, Ctrl+O, Ctrl+S, Ctrl+Shift+S"),
    ("Begin with a ready joint", "B"),
    ("Recent files", "Ctrl+R"),
    ("Search every action", "/"),
    ("The keyboard into the controls", "F6; then Tab, Enter; Esc goes back"),
    ("In a list to pick from: before, after, ends", "Up, Down, Home, End; Enter opens it"),
    ("The sheet as it will be printed; export it", "Ctrl+P; Ctrl+E"),
    ("Undo, redo", "Ctrl+Z, Ctrl+Shift+Z or Ctrl+Y"),
    ("The list of steps", "Ctrl+H"),
    ("Copy, cut, paste, duplicate", "Ctrl+C, Ctrl+X, Ctrl+V, Ctrl+D"),
    ("Choose several", "Shift and press, or draw a box"),
    ("Choose all", "Ctrl+A"),
    ("Mirror left to right", "M"),
    ("Arrange: copies in rows, line up, spread, turn", "A"),
    ("Draw behind, before all others", "{ and }"),
    ("Take away what is chosen", "Delete or Backspace"),
    ("Next, previous finding", "Tab, Shift+Tab"),
    ("Next, previous thing of the joint", "Page Down, Page Up"),
    ("Do what the chosen finding advises", "R"),
    ("Show how a finding came about", "W"),
    ("What it carries, or its numbers", "C"),
    ("Working of what it carries, choices side by side", "F3, F4"),
    ("Edit the numbers of what is chosen", "F2, or Enter; then Tab, Enter"),
    ("Nudge by the snap, by ten snaps", "Arrows, Shift+arrows"),
    ("Turn by one degree", "Comma, full stop; with Shift by 15"),
    ("Shorter, longer of the same kind", "[ and ]"),
    ("Make another of what was made last", "G"),
    ("While placing: turn it; hold it elsewhere, a dimension level", "Comma and full stop; C"),
    ("While dragging: a number fixes the length", "Digits; Tab for the direction; Enter"),
    ("While dragging: keep an axis, 15-degree steps", "Shift"),
    ("While dragging: no snap", "Ctrl"),
    ("While driving or placing: a number says where", "Digits; Tab for the next; Enter"),
    ("The next step of the snap", "S"),
    ("Cut the view by a plane, or see it whole", "X"),
    ("Pan", "Middle drag, or Space and drag"),
    ("Zoom", "Wheel, Ctrl++ and Ctrl+-"),
    ("Front, side, top, all three", "1, 2, 3, 4"),
    ("What is chosen as large as it goes", "Z"),
    ("Show all, true size", "F or Home, Ctrl+0"),
    ("One level back", "Esc"),
    ("Close the window", "Ctrl+W or Ctrl+Q"),
    ("This list", "F1 or Ctrl+?"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use iced::keyboard::Location;
    use iced::keyboard::key::{Code, Physical};

    fn press(key: Key, modifiers: Modifiers) -> Event {
        Event::KeyPressed {
            modified_key: key.clone(),
            key,
            physical_key: Physical::Code(Code::Abort),
            location: Location::Standard,
            modifiers,
            text: None,
            repeat: false,
        }
    }

    #[test]
    fn the_usual_keys_do_the_usual_things() {
        #[track_caller]
        fn case(letter: &str, modifiers: Modifiers, expected: Option<Command>) {
            assert_eq!(command(&press(Key::Character(letter.into()), modifiers)), expected, "{letter}");
        }
        let ctrl = Modifiers::CTRL;
        case("z", ctrl, Some(Command::Undo));
        case("z", ctrl | Modifiers::SHIFT, Some(Command::Redo));
        case("y", ctrl, Some(Command::Redo));
        case("s", ctrl, Some(Command::Save));
        case("s", ctrl | Modifiers::SHIFT, Some(Command::SaveAs));
        case("0", ctrl, Some(Command::TrueSize));
        case("f", Modifiers::empty(), Some(Command::Fit));
        case("f", Modifiers::ALT, None);
        case("x", Modifiers::empty(), Some(Command::Plane));
        case("q", Modifiers::empty(), None);
        let named = |it, m| command(&press(Key::Named(it), m));
        assert_eq!(named(Named::Tab, Modifiers::SHIFT), Some(Command::PreviousFinding));
        assert_eq!(named(Named::ArrowUp, Modifiers::SHIFT), Some(Command::Nudge(0, 10)));
        assert_eq!(named(Named::F12, Modifiers::empty()), None);
    }

    #[test]
    fn a_key_let_go_asks_for_nothing() {
        assert_eq!(command(&Event::ModifiersChanged(Modifiers::CTRL)), None);
    }
}
