//! The list of findings: what is wrong by word and mark, the place of it, how it came about, what would mend it.

use std::collections::BTreeSet;

use iced::widget::{button, column, container, row, space, text};
use iced::{Alignment, Length};

use super::look::{Action, Command, Judgement, Look, name_of};
use super::part;
use super::theme::{self, Colours, Element, control, gap, parts, piece, reach, text_px};
use super::words;
use crate::drawing::{Mood, Subject};
use crate::findings::{Finding, Findings, Kind, Severity};

/// What the pane remembers. A finding is known by what it says of whom, since numbers change with every edit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pane {
    chosen: Option<Key>,
    working: BTreeSet<Key>,
    not_checked: bool,
}

/// The name of the list among all widgets.
pub const LIST: &str = "findings";

/// What tells a finding from others from one edit to the next.
pub type Key = (Kind, Vec<String>);

/// What happened in the pane.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// A finding was pressed, by its place in the list.
    Pressed(usize),
    /// Its working was asked for or folded away.
    WorkingPressed(usize),
    /// Its remedy was pressed.
    RemedyPressed(usize),
    /// What was stopped is to be judged after all.
    JudgePressed,
    /// What was not checked was asked for or folded away.
    NotCheckedPressed,
}

fn is(finding: &Finding, key: &Key) -> bool {
    finding.kind == key.0 && finding.subjects == key.1
}

fn key(finding: &Finding) -> Key {
    (finding.kind, finding.subjects.clone())
}

impl Pane {
    /// What is asked for by what happened.
    pub fn update(&mut self, message: &Message, look: &Look<'_>) -> Action {
        let at = |n: &usize| look.findings.list.get(*n);
        match message {
            Message::Pressed(n) => at(n).map_or(Action::None, |it| self.choose(it, look)),
            Message::WorkingPressed(n) => {
                if let Some(finding) = at(n) {
                    self.turn_working(finding);
                }
                Action::None
            }
            Message::RemedyPressed(n) => at(n).map_or(Action::None, remedy),
            Message::JudgePressed => Action::Do(Command::Judge),
            Message::NotCheckedPressed => {
                self.not_checked = !self.not_checked;
                Action::None
            }
        }
    }

    fn choose(&mut self, finding: &Finding, look: &Look<'_>) -> Action {
        self.chosen = Some(key(finding));
        let subject = finding.subjects.first().and_then(|it| look.subject_of(it));
        Action::Show(subject, finding.at.map(crate::unit::Vec3::plan))
    }

    fn turn_working(&mut self, finding: &Finding) {
        let key = key(finding);
        if !self.working.remove(&key) {
            let _ = self.working.insert(key);
        }
    }

    fn chosen_at(&self, findings: &Findings) -> Option<usize> {
        let chosen = self.chosen.as_ref()?;
        findings.list.iter().position(|it| is(it, chosen))
    }

    /// The next finding, or the one before; round and round.
    pub fn walk(&mut self, forward: bool, look: &Look<'_>) -> Action {
        let count = look.findings.list.len();
        if count == 0 {
            return Action::None;
        }
        let next = match (self.chosen_at(look.findings), forward) {
            (Some(at), true) => (at + 1) % count,
            (Some(at), false) => (at + count - 1) % count,
            (None, true) => 0,
            (None, false) => count - 1,
        };
        self.choose(&look.findings.list[next], look)
    }

    /// How far down the list the chosen finding stands: 0 at the top, 1 at the bottom.
    #[must_use]
    pub fn chosen_share(&self, findings: &Findings) -> Option<f32> {
        let at = self.chosen_at(findings)?;
        let part = part::part(findings.list.len(), Some(at));
        let last = u16::try_from(part.len().saturating_sub(1)).unwrap_or(u16::MAX);
        let at = u16::try_from(at - part.start).unwrap_or(u16::MAX);
        Some(f32::from(at) / f32::from(last.max(1)))
    }

    /// Does what the chosen finding advises.
    #[must_use]
    pub fn apply_remedy(&self, look: &Look<'_>) -> Action {
        let Some(at) = self.chosen_at(look.findings) else {
            return Action::Say("Choose a finding first: Tab goes from one to the next.".into());
        };
        let action = remedy(&look.findings.list[at]);
        if action == Action::None {
            return Action::Say("No change was found that mends this finding.".into());
        }
        action
    }

    /// Shows or hides the working of the chosen finding.
    pub fn show_working(&mut self, look: &Look<'_>) {
        if let Some(at) = self.chosen_at(look.findings) {
            self.turn_working(&look.findings.list[at]);
        }
    }

    /// Lets the chosen finding go when something else than its subject is chosen.
    pub fn release_unless_of(&mut self, subject: Option<&Subject>, look: &Look<'_>) {
        let of = self.chosen.as_ref().and_then(|it| it.1.first()).and_then(|it| look.subject_of(it));
        if of.as_ref() != subject {
            self.chosen = None;
        }
    }

    /// No finding is chosen any longer. Whether one was.
    pub fn release(&mut self) -> bool {
        self.chosen.take().is_some()
    }

    /// The pane.
    #[must_use]
    pub fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let mut list = column![].spacing(gap::ROW);
        if look.judgement != Judgement::Done {
            list = list.push(parts::body(unjudged(look.judgement), colours));
        } else if look.findings.list.is_empty() {
            list = list.push(parts::body(nothing_found(look), colours));
        }
        if look.judgement == Judgement::Stopped {
            list = list.push(judge_button(colours));
        }
        let all = look.findings.list.len();
        let part = part::part(all, self.chosen_at(look.findings));
        list = list.push(part::before(&part, Message::Pressed, colours));
        for at in part.clone() {
            list = list.push(self.card(at, &look.findings.list[at], look));
        }
        list = list.push(part::after(&part, all, Message::Pressed, colours));
        list = list.push(self.not_checked(look.findings, colours));
        let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
        let told = if look.judgement == Judgement::Done {
            counts(look.findings)
        } else {
            look.judgement.word().to_owned()
        };
        column![
            container(parts::head("FINDINGS", told, colours))
                .padding(iced::Padding::default().right(gap::PANE)),
            parts::scroll(piece(inside, arrangement(&look.findings.list[part])), colours)
                .id(iced::widget::Id::new(LIST)),
        ]
        .spacing(gap::ROW)
        .into()
    }

    fn card<'a>(&'a self, at: usize, finding: &'a Finding, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let chosen = self.chosen.as_ref().is_some_and(|it| is(finding, it));
        let working = self.working.contains(&key(finding));
        let colour = colours.severity(finding.severity);
        let number = finding.subjects.first().and_then(|it| look.known.number(it));
        let mark = parts::mark(
            number.map_or("!".to_owned(), |it| it.to_string()),
            Mood::from(Some(finding.severity)),
            colours,
        );
        let head = row![
            text(severity_word(finding.severity))
                .size(text_px::SMALL)
                .font(theme::BOLD)
                .style(control::words(colour)),
            text(subject_words(finding, look))
                .size(text_px::SMALL)
                .wrapping(text::Wrapping::None)
                .style(control::words(colours.soft)),
        ]
        .spacing(gap::ROW);
        let mut said =
            column![container(head).clip(true), parts::body(words::unbroken(&finding.says), colours)]
                .spacing(3.0);
        said = said.push(source_line(at, finding, working, colours));
        if working {
            for line in finding.working.lines() {
                said = said.push(parts::soft(line, colours));
            }
        }
        if let Some(remedy) = &finding.remedy {
            said = said.push(remedy_button(at, remedy.says.as_str(), colours));
        }
        let inside = row![mark, said.width(Length::Fill)].spacing(gap::ROW);
        button(
            container(inside)
                .padding([gap::ROW, gap::ROW])
                .width(Length::Fill)
                .style(control::card(colours, chosen)),
        )
        .padding(0.0)
        .width(Length::Fill)
        .style(control::line_button(colours, chosen))
        .on_press(Message::Pressed(at))
        .into()
    }

    fn not_checked<'a>(&self, findings: &'a Findings, colours: &'static Colours) -> Element<'a, Message> {
        let sign = if self.not_checked { "\u{2013}" } else { "+" };
        let head = format!("{sign} What was not checked ({})", findings.not_checked.len());
        let mut list = column![
            button(text(head).size(text_px::SMALL))
                .padding(gap::LINE)
                .style(control::bare_button(colours, colours.soft))
                .on_press(Message::NotCheckedPressed)
        ]
        .spacing(gap::TIGHT);
        if self.not_checked {
            for line in &findings.not_checked {
                list = list.push(parts::soft(line.as_str(), colours));
            }
        }
        list.into()
    }
}

/// Another number where other cards stand in the list, or the same ones in another order.
fn arrangement(findings: &[Finding]) -> u64 {
    use std::hash::{DefaultHasher, Hash as _, Hasher as _};
    let mut state = DefaultHasher::new();
    for it in findings {
        (it.kind, &it.subjects).hash(&mut state);
    }
    state.finish()
}

fn remedy(finding: &Finding) -> Action {
    finding.remedy.as_ref().map_or(Action::None, |it| Action::Keep(it.says.clone(), it.edit.clone()))
}

fn source_line<'a>(
    at: usize,
    finding: &'a Finding,
    working: bool,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let source = text(finding.source.as_str()).size(text_px::SMALL).style(control::words(colours.soft));
    if finding.working.lines().is_empty() {
        return source.into();
    }
    let words = if working { "Hide working" } else { "Show working" };
    row![
        source,
        space().width(Length::Fill),
        button(text(words).size(text_px::SMALL))
            .padding([0.0, gap::TIGHT])
            .style(control::bare_button(colours, colours.accent))
            .on_press(Message::WorkingPressed(at)),
    ]
    .align_y(Alignment::Center)
    .into()
}

fn remedy_button<'a>(at: usize, says: &'a str, colours: &'static Colours) -> Element<'a, Message> {
    button(text(words::unbroken(says)).size(text_px::SMALL).style(control::words(colours.accent)))
        .padding(gap::CONTROL)
        .width(Length::Fill)
        .style(control::plain_button(colours))
        .on_press(Message::RemedyPressed(at))
        .into()
}

/// The severity in a word, so that colour is not its only sign.
#[must_use]
pub fn severity_word(severity: Severity) -> &'static str {
    match severity {
        Severity::Fault => "Fault",
        Severity::Caution => "Caution",
        Severity::Note => "Note",
    }
}

fn subject_words(finding: &Finding, look: &Look<'_>) -> String {
    // By the names that the text tells: an id is for files.
    let of_thing =
        |id: &String| look.subject_of(id).map_or_else(|| id.clone(), |it| name_of(look.joint, &it));
    let name = |id: &String| {
        look.known.number(id).map_or_else(|| of_thing(id), |number| format!("fastener {number}"))
    };
    finding.subjects.iter().map(name).collect::<Vec<_>>().join(", ")
}

/// `2 faults, 1 caution`.
#[must_use]
pub fn counts(findings: &Findings) -> String {
    let count = |severity| findings.list.iter().filter(|it| it.severity == severity).count();
    let words = |n: usize, one: &str| (n != 0).then(|| words::count(n, one));
    let parts = [
        words(count(Severity::Fault), "fault"),
        words(count(Severity::Caution), "caution"),
        words(count(Severity::Note), "note"),
    ];
    let said: Vec<String> = parts.into_iter().flatten().collect();
    if said.is_empty() { "none".into() } else { said.join(" \u{b7} ") }
}

/// Why nothing is told yet.
fn unjudged(judgement: Judgement) -> &'static str {
    match judgement {
        Judgement::Done => "",
        Judgement::Going => {
            "Judging\u{2026} What was found before was of another joint, and is not told any longer."
        }
        Judgement::InHand => "A joint of this size is judged when it is let go.",
        Judgement::Stopped => "Nothing was judged: it was stopped.",
    }
}

fn judge_button<'a>(colours: &'static Colours) -> Element<'a, Message> {
    let face = button(text("Judge").size(text_px::SMALL))
        .padding(gap::CONTROL)
        .style(control::plain_button(colours))
        .on_press(Message::JudgePressed);
    reach(face, Some(Message::JudgePressed), colours.accent)
}

fn nothing_found(look: &Look<'_>) -> &'static str {
    if look.joint.fasteners.is_empty() {
        "Nothing is driven yet. Press a size of stock at the left, then press on the joint and drag."
    } else {
        "Nothing was found in the joint as drawn. See below what was not checked."
    }
}
