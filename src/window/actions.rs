//! Every action of the window by its words and its keys, to be searched and done.

mod search;

use iced::widget::{column, container, row, space, text, text_input};
use iced::{Alignment, Length};

use super::look::{Command, Fill, Shown};
use super::making::{Measure, Shape, Thing};
use super::selected::arrange::{Done, Size};
use super::theme::{self, Colours, Element, control, gap, parts, text_px};
use crate::joint::Look as From;
use crate::sketch::arrange::align::{Along, Line};

pub use self::search::{Found, Offer, found};

/// One action.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// What it does.
    pub words: &'static str,
    /// The keys that do it; empty where there are none.
    pub keys: &'static str,
    /// What is asked for.
    pub command: Command,
}

const fn entry(words: &'static str, keys: &'static str, command: Command) -> Entry {
    Entry { words, keys, command }
}

/// Every action, in the order of the list.
pub const ALL: &[Entry] = &[
    entry("New joint", "Ctrl+N", Command::New),
    entry("Start from a ready joint", "B", Command::Starters),
    entry("Open a joint file", "Ctrl+O", Command::Open),
    entry("Open a recent file", "Ctrl+R", Command::Recent),
    entry("Save", "Ctrl+S", Command::Save),
    entry("Save under another name", "Ctrl+Shift+S", Command::SaveAs),
    entry("Show the sheet as it will be printed", "Ctrl+P", Command::Sheet),
    entry("Export the detail", "Ctrl+E", Command::Export),
    entry("Close the window", "Ctrl+W or Ctrl+Q", Command::Close),
    entry("Undo", "Ctrl+Z", Command::Undo),
    entry("Redo", "Ctrl+Y or Ctrl+Shift+Z", Command::Redo),
    entry("Every step by its name", "Ctrl+H", Command::Steps),
    entry("Choose everything", "Ctrl+A", Command::ChooseAll),
    entry("Choose nothing, or one level back", "Esc", Command::Escape),
    entry("Choose the next thing", "Page Down", Command::NextThing),
    entry("Choose the thing before", "Page Up", Command::PreviousThing),
    entry("Copy", "Ctrl+C", Command::Copy),
    entry("Cut", "Ctrl+X", Command::Cut),
    entry("Paste", "Ctrl+V", Command::Paste),
    entry("Duplicate", "Ctrl+D", Command::Duplicate),
    entry("Take away", "Delete", Command::Delete),
    entry("Nudge to the left", "Left", Command::Nudge(-1, 0)),
    entry("Nudge to the right", "Right", Command::Nudge(1, 0)),
    entry("Nudge up", "Up", Command::Nudge(0, 1)),
    entry("Nudge down", "Down", Command::Nudge(0, -1)),
    entry("Turn by a degree, anticlockwise", "Comma", Command::TurnBy(1)),
    entry("Turn by a degree, clockwise", "Full stop", Command::TurnBy(-1)),
    entry("Turn by 90 degrees", "", Command::TurnBy(90)),
    entry("Mirror left to right", "M", Command::Mirror),
    entry("Mirror top to bottom", "", Command::MirrorUpsideDown),
    entry("Arrange: rows and rings of copies, line up, spread, turn, mirror", "A", Command::Arrange),
    entry("Copies in rows across", "", Command::ArrangeBy(Size::Across)),
    entry("Copies in rows upward", "", Command::ArrangeBy(Size::Up)),
    entry("Copies in rows in depth", "", Command::ArrangeBy(Size::Near)),
    entry("Make the copies in rows", "", Command::Arranged(Done::Copies)),
    entry("Copies round a place, in a ring", "", Command::ArrangeBy(Size::Ring)),
    entry("Make the copies round a place", "", Command::Arranged(Done::Ring)),
    entry("Turn by degrees that are typed", "", Command::ArrangeBy(Size::Turn)),
    entry("Turn by the degrees that were typed", "", Command::Arranged(Done::Turn)),
    entry("Copy, turned by the degrees that were typed", "", Command::Arranged(Done::TurnedCopy)),
    entry("Copy, mirrored left to right", "", Command::Arranged(Done::MirroredCopy)),
    entry("Line up left sides", "", Command::Align(Line::Left)),
    entry("Line up middles, one above the other", "", Command::Align(Line::Centre)),
    entry("Line up right sides", "", Command::Align(Line::Right)),
    entry("Line up tops", "", Command::Align(Line::Top)),
    entry("Line up middles, side by side", "", Command::Align(Line::Middle)),
    entry("Line up bottoms", "", Command::Align(Line::Bottom)),
    entry("Spread evenly across", "", Command::Spread(Along::X)),
    entry("Spread evenly upward", "", Command::Spread(Along::Y)),
    entry("Draw before the others", "}", Command::Order(true)),
    entry("Draw behind the others", "{", Command::Order(false)),
    entry("Draw a rectangular member", "", Command::Make(Thing::Member(Shape::Box))),
    entry("Draw a member corner by corner", "", Command::Make(Thing::Member(Shape::Polygon))),
    entry("Draw a member with arcs", "", Command::Make(Thing::Member(Shape::Path))),
    entry("Draw a round member", "", Command::Make(Thing::Member(Shape::Round))),
    entry("Draw an I-section", "", Command::Make(Thing::Member(Shape::ISection))),
    entry("Cut a notch", "", Command::Make(Thing::Cut(Shape::Box))),
    entry("Cut a notch corner by corner", "", Command::Make(Thing::Cut(Shape::Polygon))),
    entry("Cut a round hole", "", Command::Make(Thing::Cut(Shape::Round))),
    entry("Place a flat strap", "", Command::Make(Thing::Form("strap"))),
    entry("Place an angle", "", Command::Make(Thing::Form("angle"))),
    entry("Place a joist hanger", "", Command::Make(Thing::Form("joist-hanger"))),
    entry("Place a post seat", "", Command::Make(Thing::Form("post-seat"))),
    entry("Place a tie plate", "", Command::Make(Thing::Form("tie-plate"))),
    entry("Draw a plate by its profile", "", Command::Make(Thing::Profile)),
    entry("Make holes in steel", "", Command::Make(Thing::Holes)),
    entry("Fill the chosen hole", "", Command::Fill(Fill::One)),
    entry("Fill what is required", "", Command::Fill(Fill::Required)),
    entry("Fill all holes", "", Command::Fill(Fill::All)),
    entry("Measure a distance", "", Command::Make(Thing::Measure(Measure::Distance))),
    entry("Place a dimension", "", Command::Make(Thing::Dimension)),
    entry("Measure an angle", "", Command::Make(Thing::Measure(Measure::Angle))),
    entry("Make another of what was made last", "G", Command::Again),
    entry("Longer fastener of the same kind", "]", Command::NextSize(true)),
    entry("Shorter fastener of the same kind", "[", Command::NextSize(false)),
    entry("Next finding", "Tab", Command::NextFinding),
    entry("Finding before", "Shift+Tab", Command::PreviousFinding),
    entry("Do what the chosen finding advises", "R", Command::ApplyRemedy),
    entry("Show how the chosen finding came about", "W", Command::ShowWorking),
    entry("Edit the numbers of what is chosen", "F2", Command::EditNumbers),
    entry("What it carries, or its numbers", "C", Command::TurnCarries),
    entry("Working of what it carries, large", "F3", Command::Working),
    entry("Choices side by side: sizes, gaps, angles, woods", "F4", Command::Compare),
    entry("Front view", "1", Command::View(Shown::One(From::Front))),
    entry("Side view", "2", Command::View(Shown::One(From::Side))),
    entry("Top view", "3", Command::View(Shown::One(From::Top))),
    entry("Front, side and top together", "4", Command::View(Shown::All)),
    entry("Cut the view by a plane, or see it whole again", "X", Command::Plane),
    entry("Next step of the snap", "S", Command::SnapStep),
    entry("Show all of the joint", "F or Home", Command::Fit),
    entry("Show what is chosen as large as it goes", "Z", Command::FitChosen),
    entry("Larger drawing", "Ctrl++", Command::ZoomIn),
    entry("Smaller drawing", "Ctrl+-", Command::ZoomOut),
    entry("True size", "Ctrl+0", Command::TrueSize),
    entry("Larger words and controls", "", Command::Scale(true)),
    entry("Smaller words and controls", "", Command::Scale(false)),
    entry("Judge what is not judged yet", "", Command::Judge),
    entry("Light or dark window", "", Command::Lights),
    entry("The keyboard into the controls, one after the other", "F6", Command::Controls),
    entry("Keys", "F1", Command::Keys),
];

/// Other words by which an action is found: those of its button, and those that many people use for it.
const OTHER_WORDS: &[(Command, &str)] = &[
    (Command::Fill(Fill::One), "fill this hole"),
    (Command::Fill(Fill::Required), "fill the holes that must be filled"),
    (Command::Make(Thing::Holes), "more holes, drill"),
    (Command::Make(Thing::Profile), "bent steel"),
    (Command::Make(Thing::Cut(Shape::Box)), "cope, dap, birdsmouth"),
    (Command::Make(Thing::Measure(Measure::Distance)), "length"),
    (Command::Delete, "remove, erase"),
    (Command::Escape, "cancel"),
    (Command::TurnBy(90), "rotate"),
    (Command::TurnBy(1), "rotate"),
    (Command::TurnBy(-1), "rotate"),
    (Command::ArrangeBy(Size::Turn), "rotate"),
    (Command::Mirror, "flip"),
    (Command::MirrorUpsideDown, "flip"),
    (Command::Sheet, "print, preview, pages"),
    (Command::Export, "pdf, svg, png, print"),
    (Command::Fit, "fit, zoom to all"),
    (Command::FitChosen, "zoom to it"),
    (Command::ZoomIn, "zoom in"),
    (Command::ZoomOut, "zoom out"),
    (Command::TrueSize, "zoom 1:1"),
    (Command::View(Shown::All), "all views"),
    (Command::SnapStep, "grid"),
    (Command::Plane, "section"),
    (Command::Lights, "dark, theme"),
    (Command::Compare, "compare, try another"),
    (Command::Starters, "template, begin"),
    (Command::Keys, "shortcuts, help"),
];

/// The other words of an action.
pub(super) fn other_words(command: Command) -> &'static str {
    OTHER_WORDS.iter().find(|it| it.0 == command).map_or("", |it| it.1)
}

/// The name of the field that is searched in.
pub const FIELD: &str = "actions";

/// The panel: what is searched, and what is found, of which one is in the hand.
pub(super) fn view<'a, M: Clone + 'a>(
    (search, found, at): (&'a str, &'a Found, usize),
    typed: fn(String) -> M,
    entered: M,
    pressed: fn(usize) -> M,
    colours: &'static Colours,
) -> Element<'a, M> {
    let field = text_input("What do you want to do?", search)
        .id(iced::widget::Id::new(FIELD))
        .size(text_px::BODY)
        .padding(gap::CONTROL)
        .style(control::field(colours, false))
        .on_input(typed)
        .on_submit(entered);
    let mut list = column![].spacing(1.0);
    if found.offers.is_empty() {
        let none = "No action, size of stock, material or setting has these words.";
        list = list.push(parts::soft(none, colours));
    }
    for (n, it) in found.offers.iter().enumerate() {
        let line = row![
            text(it.words.as_str()).size(text_px::BODY).width(Length::Fill),
            text(it.keys).size(text_px::SMALL).font(theme::BOLD).style(control::words(colours.soft)),
        ]
        .spacing(gap::ROW)
        .align_y(Alignment::Center);
        list = list.push(
            iced::widget::button(line)
                .width(Length::Fill)
                .padding(gap::LINE)
                .style(control::line_button(colours, n == at))
                .on_press(pressed(n)),
        );
    }
    if 0 < found.more {
        let more = format!("{} more have these words; type another word to tell them apart.", found.more);
        list = list.push(parts::soft(more, colours));
    }
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    column![
        row![
            text("Actions").size(text_px::TITLE).font(theme::BOLD).style(control::words(colours.text)),
            space().width(Length::Fill),
            parts::soft("Enter does the marked one; arrows mark another; Esc closes.", colours),
        ]
        .align_y(Alignment::Center),
        field,
        parts::scroll(inside, colours).height(Length::Shrink),
    ]
    .spacing(gap::PANE)
    .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_action_is_there_once() {
        for (n, one) in ALL.iter().enumerate() {
            for other in &ALL[n + 1..] {
                assert!(one.command != other.command && one.words != other.words, "{one:?} {other:?}");
            }
        }
    }
}
