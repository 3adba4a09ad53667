//! The settings of the sheet beside its preview: paper, scale, views, title block, notes and revisions.
//!
//! Each is a part of the joint file, so each change is a step that can be undone.

use iced::widget::{button, checkbox, column, container, row, text, text_input};
use iced::{Alignment, Length};

use super::fields::{BLOCK, Field, RevisionField, is_same, next_mark, other_scale, views};
use super::{Message, Pane};
use crate::drawing;
use crate::joint::{Edit, Look as From, Paper, Revision, SheetSettings, SheetView};
use crate::window::look::Look;
use crate::window::theme::{self, Element, control, gap, part_px, parts, text_px};

/// The most views and the most revisions that a joint file holds.
const MOST_VIEWS: usize = 12;
const MOST_REVISIONS: usize = 100;

/// Width of the button that takes a row away, and of short fields.
const BUTTON_PX: f32 = 66.0;
const SHORT_PX: f32 = 52.0;

/// A choice with its words.
#[derive(Clone, Debug, PartialEq)]
struct Choice<T> {
    it: T,
    words: String,
}

impl<T> std::fmt::Display for Choice<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.words)
    }
}

fn choice<T>(it: T, words: impl Into<String>) -> Choice<T> {
    Choice { it, words: words.into() }
}

const PAPERS: [(Paper, &str); 4] =
    [(Paper::A4, "A4"), (Paper::A3, "A3"), (Paper::Letter, "Letter"), (Paper::Tabloid, "Tabloid")];

/// What a view is called in the list, with the axis that its plane is a place on.
const VIEWS: [(From, &str); 3] = [(From::Front, "Front"), (From::Side, "Side"), (From::Top, "Top")];

/// The pane.
pub(super) fn view<'a>(pane: &'a Pane, look: &Look<'a>) -> Element<'a, Message> {
    let mut list = column![].spacing(gap::TIGHT);
    list = page(list, pane, look);
    list = shown(list, pane, look);
    list = list.push(head("Title block", look));
    for it in BLOCK {
        list = list.push(field(pane, Field::Block(it), look));
    }
    list = notes(list, pane, look);
    list = revisions(list, pane, look);
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE).bottom(gap::PANE));
    container(parts::scroll(inside.width(Length::Fill), look.colours))
        .padding(iced::Padding::from([gap::ROW, 0.0]).left(gap::PANE))
        .width(part_px::RIGHT)
        .height(Length::Fill)
        .into()
}

type Rows<'a> = iced::widget::Column<'a, Message>;

fn head<'a>(words: &'a str, look: &Look<'a>) -> Element<'a, Message> {
    let padding = iced::Padding::default().top(gap::ROW).bottom(gap::TIGHT);
    container(parts::part_head(words, look.colours)).padding(padding).into()
}

/// The edit of the settings as a step.
fn step(name: &str, sheet: SheetSettings) -> Message {
    Message::Picked(name.to_owned(), Edit::Sheet(Box::new(sheet)))
}

/// Paper, orientation, scale, and whether the working follows.
fn page<'a>(list: Rows<'a>, pane: &'a Pane, look: &Look<'a>) -> Rows<'a> {
    let (colours, sheet) = (look.colours, &look.joint.sheet);
    let taken = pane.pages.first().and_then(|it| paper_of(it.size_mm));
    let fitted = match (sheet.paper, taken) {
        (None, Some(name)) => format!("smallest that fits ({name})"),
        _ => "smallest that fits".to_owned(),
    };
    let mut papers = vec![choice(None, fitted)];
    papers.extend(PAPERS.map(|(it, name)| choice(Some(it), name)));
    let now = papers.iter().find(|it| it.it == sheet.paper).cloned();
    let old = sheet.clone();
    let picked =
        move |it: Choice<Option<Paper>>| step("Paper", SheetSettings { paper: it.it, ..old.clone() });
    let list = list.push(head("Page", look)).push(parts::pick("Paper", papers, now, picked, colours));
    let ways = vec![choice(false, "landscape"), choice(true, "portrait")];
    let now = ways.iter().find(|it| it.it == sheet.portrait).cloned();
    let old = sheet.clone();
    let picked =
        move |it: Choice<bool>| step("Orientation", SheetSettings { portrait: it.it, ..old.clone() });
    let list = list.push(parts::pick("Orientation", ways, now, picked, colours));
    let unit = look.unit();
    let mut scales = vec![choice(None, "largest that fits")];
    scales.extend(drawing::standard_scales(unit).map(|it| choice(Some(it), drawing::scale_words(it, unit))));
    scales.extend(other_scale(look).map(|it| choice(Some(it), drawing::scale_words(it, unit))));
    let is_now = |it: &&Choice<Option<f64>>| match (it.it, sheet.scale) {
        (Some(a), Some(b)) => is_same(a, b),
        (a, b) => a.is_none() && b.is_none(),
    };
    let now = scales.iter().find(is_now).cloned();
    let old = sheet.clone();
    let picked = move |it: Choice<Option<f64>>| step("Scale", SheetSettings { scale: it.it, ..old.clone() });
    list.push(parts::pick("Scale", scales, now, picked, colours)).push(field(pane, Field::Scale, look)).push(
        checkbox(pane.with_working)
            .label("Pages with the working of what is carried")
            .size(16.0)
            .text_size(text_px::BODY)
            .style(control::tick(colours))
            .on_toggle(|_| Message::WorkingPressed),
    )
}

/// The name of the paper of this size.
fn paper_of(size_mm: (f64, f64)) -> Option<&'static str> {
    let is_it = |it: &&(Paper, &str)| {
        let of = drawing::paper_mm(it.0, size_mm.0 < size_mm.1);
        (of.0 - size_mm.0).abs() < 0.1 && (of.1 - size_mm.1).abs() < 0.1
    };
    PAPERS.iter().find(is_it).map(|it| it.1)
}

/// The views: chosen by what the joint needs, or one by one.
fn shown<'a>(list: Rows<'a>, pane: &'a Pane, look: &Look<'a>) -> Rows<'a> {
    let (colours, sheet) = (look.colours, &look.joint.sheet);
    let all = views(look);
    let is_fitted = sheet.views.is_empty();
    let with = {
        let old = sheet.clone();
        move |name: &str, views: Vec<SheetView>| step(name, SheetSettings { views, ..old.clone() })
    };
    let turned = with("Views", if is_fitted { all.clone() } else { Vec::new() });
    let tick = checkbox(is_fitted)
        .label("Those that the joint needs")
        .size(16.0)
        .text_size(text_px::BODY)
        .style(control::tick(colours))
        .on_toggle(move |_| turned.clone());
    let mut list = list.push(head("Views", look)).push(tick);
    for (n, it) in all.iter().enumerate() {
        let names: Vec<Choice<From>> = VIEWS.iter().map(|(it, name)| choice(*it, *name)).collect();
        let now = names.iter().find(|name| name.it == it.look).cloned();
        let (others, set) = (all.clone(), with.clone());
        let picked = move |to: Choice<From>| {
            let mut views = others.clone();
            if let Some(view) = views.get_mut(n) {
                // A place on one axis means nothing on another.
                *view = SheetView { look: to.it, cut_mm: None };
            }
            set("View", views)
        };
        let pick = parts::picker(names, now, picked, |it| it.width(84.0), colours);
        let (input, below) = input(pane, Field::Cut(n), look);
        let axis = match it.look {
            From::Front => "cut at z",
            From::Side => "cut at x",
            From::Top => "cut at y",
        };
        let mut fewer = all.clone();
        let _ = fewer.remove(n);
        let gone = (1 < all.len()).then(|| with("Take a view away", fewer));
        let line = row![pick, parts::soft(axis, colours), input, take_away(gone, look)];
        list = list.push(line.spacing(gap::ROW).align_y(Alignment::Center)).push(below);
    }
    let another =
        VIEWS.iter().find(|it| all.iter().all(|view| view.look != it.0)).map_or(From::Front, |it| it.0);
    let mut more = all;
    more.push(SheetView { look: another, cut_mm: None });
    let add = (more.len() <= MOST_VIEWS).then(|| with("Add a view", more));
    list.push(press("Add a view", add, look))
}

fn notes<'a>(list: Rows<'a>, pane: &'a Pane, look: &Look<'a>) -> Rows<'a> {
    let mut list = list.push(head("Notes", look));
    let all = &look.joint.notes;
    for n in 0..=all.len() {
        let (input, below) = input(pane, Field::Note(n), look);
        let mut line = row![input].spacing(gap::ROW).align_y(Alignment::Center);
        if n < all.len() {
            let mut fewer = all.clone();
            let _ = fewer.remove(n);
            let gone = Message::Picked(format!("Take note {} away", n + 1), Edit::Notes(fewer));
            line = line.push(take_away(Some(gone), look));
        }
        list = list.push(line).push(below);
    }
    list
}

fn revisions<'a>(list: Rows<'a>, pane: &'a Pane, look: &Look<'a>) -> Rows<'a> {
    let mut list = list.push(head("Revisions", look));
    let sheet = &look.joint.sheet;
    for n in 0..sheet.revisions.len() {
        let of = |it| input(pane, Field::Revision(n, it), look);
        let (mark, mark_below) = of(RevisionField::Mark);
        let (date, date_below) = of(RevisionField::Date);
        let (by, by_below) = of(RevisionField::By);
        let (what, what_below) = of(RevisionField::What);
        let mut fewer = sheet.clone();
        let _ = fewer.revisions.remove(n);
        let gone = step("Take a revision away", fewer);
        let first = row![container(mark).width(SHORT_PX), date, by].spacing(gap::TIGHT);
        let second = row![what, take_away(Some(gone), look)].spacing(gap::TIGHT).align_y(Alignment::Center);
        list = list.push(first).push(mark_below).push(date_below).push(by_below);
        list = list.push(second).push(what_below).push(parts::rule(look.colours));
    }
    let mut more = sheet.clone();
    let mark = next_mark(&sheet.revisions);
    more.revisions.push(Revision { mark, ..Revision::default() });
    let add = (more.revisions.len() <= MOST_REVISIONS).then(|| step("Add a revision", more));
    list.push(press("Add a revision", add, look))
}

/// A field with its label before it.
fn field<'a>(pane: &'a Pane, field: Field, look: &Look<'a>) -> Element<'a, Message> {
    let (input, below) = input(pane, field, look);
    let line = row![parts::label(field.words(), look.colours), input];
    column![line.spacing(gap::ROW).align_y(Alignment::Center), below].into()
}

/// A field, and what is wrong with it in words.
fn input<'a>(pane: &'a Pane, field: Field, look: &Look<'a>) -> (Element<'a, Message>, Element<'a, Message>) {
    let colours = look.colours;
    let typing = pane.typing.as_ref().filter(|it| it.field == field);
    let error = typing.and_then(|it| it.error.as_deref());
    let text_now = typing.map_or_else(|| field.read(look), |it| it.text.clone());
    let input = text_input(field.empty_words(look), &text_now)
        .id(iced::widget::Id::from(field.name()))
        .size(text_px::BODY)
        .padding(gap::CONTROL)
        .style(control::field(colours, error.is_some()))
        .on_submit(Message::Entered(field))
        .on_input(move |it| Message::Typed(field, it));
    // The row is there with and without words below, so that the field keeps its cursor.
    let below: Element<'a, Message> = match error {
        Some(error) => text(error).size(text_px::SMALL).style(control::words(colours.fault)).into(),
        None => iced::widget::space().height(0.0).into(),
    };
    (input.into(), below)
}

fn take_away<'a>(message: Option<Message>, look: &Look<'a>) -> Element<'a, Message> {
    container(press("Remove", message, look)).width(BUTTON_PX).into()
}

fn press<'a>(words: &'a str, message: Option<Message>, look: &Look<'a>) -> Element<'a, Message> {
    let face = button(text(words).size(text_px::SMALL))
        .padding(gap::CONTROL)
        .style(control::plain_button(look.colours))
        .on_press_maybe(message.clone());
    theme::reach(face, message, look.colours.accent)
}
