//! What is done to whatever is chosen: taken away, copied, put in, nudged, turned, mirrored, put before or behind.

use iced::Task;

use super::dialog::Then;
use super::look::{Action, Fill, group_of, name_of};
use super::{App, Message, starters, words};
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::group::{self, Group};
use crate::joint::rigid::Rigid;
use crate::joint::{Edit, Fastener, Joint, Placement, file};
use crate::sketch::drive::fill::{Which, fill};
use crate::unit::Vec3;

use super::canvas::gesture::direction;

/// How far a copy is put beside its original, in steps of the snap.
const COPY_STEPS: f64 = 8.0;

const STAYS_IN_ITS_HOLE: &str = "It fills a hole; a hole takes one fastener. Drive a new one instead.";

impl App {
    /// What is chosen, of the joint as it is kept.
    fn group(&self) -> Group {
        group_of(self.document.joint(), self.look().all_chosen())
    }

    /// What is chosen, in words.
    fn chosen_words(&self) -> String {
        match (&self.chosen, self.also.len()) {
            (Some(chosen), 0) => name_of(self.document.joint(), chosen),
            (Some(_), more) => words::count(more + 1, "thing"),
            (None, _) => "nothing".to_owned(),
        }
    }

    pub(super) fn delete(&mut self) {
        let group = self.group();
        if group.is_empty() {
            self.said = Some("Choose first what is to be taken away.".into());
            return;
        }
        let edit = group.taken_away(self.document.joint());
        let name = format!("Take {} away", self.chosen_words());
        let _ = self.act(Action::Keep(name, edit));
    }

    pub(super) fn choose_everything(&mut self) {
        let joint = self.document.joint();
        let members = joint.members.iter().map(|it| Subject::Member(it.id.clone()));
        let connectors = joint.connectors.iter().map(|it| Subject::Connector(it.id.clone()));
        let fasteners = joint.fasteners.iter().map(|it| Subject::Fastener(it.id.clone()));
        let all = members.chain(connectors).chain(fasteners).collect();
        let _ = self.act(Action::ChooseAll(all));
    }

    /// What is chosen as a joint of its own; `None`, with words, where there is nothing that can stand alone.
    fn lifted(&mut self) -> Option<Joint> {
        let group = self.group();
        if group.is_empty() {
            self.said = Some("Choose first what is to be copied.".into());
            return None;
        }
        let part = group.lifted(self.document.joint());
        let empty = part.members.is_empty() && part.connectors.is_empty() && part.fasteners.is_empty();
        if empty {
            self.said = Some(STAYS_IN_ITS_HOLE.into());
            return None;
        }
        Some(part)
    }

    pub(super) fn copy(&mut self) -> Task<Message> {
        let Some(part) = self.lifted() else { return Task::none() };
        self.pasted = 0;
        self.said = Some(format!("Copied {}.", self.chosen_words()));
        iced::clipboard::write(file::write(&part))
    }

    pub(super) fn cut(&mut self) -> Task<Message> {
        let written = self.copy();
        if !self.group().is_empty() {
            self.delete();
        }
        written
    }

    pub(super) fn duplicate(&mut self) {
        let Some(part) = self.lifted() else { return };
        self.put_in(&part, 1);
    }

    /// What was on the clipboard: a joint, or part of one, or something else.
    pub(super) fn paste(&mut self, text: Option<&str>) {
        let Some(text) = text.filter(|it| !it.trim().is_empty()) else {
            self.said = Some("There is nothing on the clipboard.".into());
            return;
        };
        match file::read(text, &self.stock) {
            Ok(part) => {
                self.pasted += 1;
                self.put_in(&part, self.pasted);
            }
            Err(problems) => {
                let why = problems.first().map_or(String::new(), |it| it.says.clone());
                self.said = Some(format!("The clipboard holds no part of a joint: {why}"));
            }
        }
    }

    /// Puts a part of a joint beside where it was, so many times farther away, and chooses it.
    fn put_in(&mut self, part: &Joint, times: u32) {
        let by = f64::from(times) * COPY_STEPS * self.canvas.step_mm(self.document.joint().show_lengths_in);
        let shift = Rigid::shift(Vec3::new(0.0, by, 0.0));
        let joint = self.document.joint();
        let (edit, ids) = group::put_in(joint, part, &shift);
        let name = match (ids.as_slice(), part.fasteners.len()) {
            ([_], 1) => format!("Copy to fastener {}", joint.fasteners.len() + 1),
            ([id], _) => format!("Copy to {id}"),
            (_, _) => format!("Put in {}", words::count(ids.len(), "thing")),
        };
        let _ = self.act(Action::Keep(name, edit));
        let chosen = ids.iter().filter_map(|it| self.look().subject_of(it)).collect();
        let _ = self.act(Action::ChooseAll(chosen));
    }

    /// Moves what is chosen by so many steps of the snap.
    pub(super) fn nudge(&mut self, right: i32, up: i32) -> Task<Message> {
        if self.in_fields {
            return Task::none();
        }
        let step = self.canvas.step_mm(self.document.joint().show_lengths_in);
        let by = Vec3::new(f64::from(right) * step, f64::from(up) * step, 0.0);
        let by = crate::drawing::turned_back(self.canvas.view, by);
        let group = self.group();
        if group.is_empty() {
            return Task::none();
        }
        let edit = group.moved(self.document.joint(), &Rigid::shift(by));
        if edit == Edit::All(Vec::new()) {
            self.said = Some("It fills a hole: it turns, but does not leave the hole.".into());
            return Task::none();
        }
        self.act(Action::Keep(format!("Nudge {}", self.chosen_words()), edit))
    }

    /// Turns what is chosen: one fastener about its head, anything else about its middle.
    pub(super) fn turn_by(&mut self, deg: i32) -> Task<Message> {
        let deg = f64::from(deg) * if self.canvas.held.shift { 15.0 } else { 1.0 };
        let group = self.group();
        let only = self.look().chosen_fastener().filter(|_| group.len() == 1);
        if let Some(at) = only {
            let Some(old) = self.document.joint().fasteners.get(at) else { return Task::none() };
            let new = Box::new(turned(old, deg));
            let edit = Edit::Fasteners(Change::Replace { at, new });
            return self.act(Action::Keep(format!("Turn fastener {}", at + 1), edit));
        }
        self.move_about_middle("Turn", |about| Rigid::turn(about, deg))
    }

    pub(super) fn mirror(&mut self) -> Task<Message> {
        self.move_about_middle("Mirror", Rigid::mirror)
    }

    fn move_about_middle(&mut self, verb: &str, how: impl FnOnce(kurbo::Point) -> Rigid) -> Task<Message> {
        let group = self.group();
        let middle = super::canvas::middle_of(&group, &self.look());
        let Some(middle) = middle else {
            self.said = Some("Choose first what is to be turned.".into());
            return Task::none();
        };
        let edit = group.moved(self.document.joint(), &how(middle));
        self.act(Action::Keep(format!("{verb} {}", self.chosen_words()), edit))
    }

    /// Puts the chosen members and connectors at the end or the beginning of their lists.
    pub(super) fn order(&mut self, before_all: bool) -> Task<Message> {
        let group = self.group();
        let joint = self.document.joint();
        let members = to_an_end(&joint.members, &group.members, before_all).into_iter().map(Edit::Members);
        let connectors =
            to_an_end(&joint.connectors, &group.connectors, before_all).into_iter().map(Edit::Connectors);
        let edit = Edit::All(members.chain(connectors).collect());
        if edit == Edit::All(Vec::new()) {
            self.said = Some("Choose first a member that is to be drawn before or behind the others.".into());
            return Task::none();
        }
        let way = if before_all { "before" } else { "behind" };
        self.act(Action::Keep(format!("Draw {} {way} the others", self.chosen_words()), edit))
    }
}

/// A fastener turned by so many degrees; of one that fills a hole, its lean.
fn turned(old: &Fastener, deg: f64) -> Fastener {
    let mut new = old.clone();
    match &mut new.place {
        Placement::Free { toward, .. } => {
            let in_plane = toward.x.hypot(toward.y);
            let now = toward.y.atan2(toward.x).to_degrees();
            let way = direction(((now + deg) * 1e6).round() / 1e6) * in_plane;
            (toward.x, toward.y) = (way.x, way.y);
        }
        Placement::Fills { angle_deg, .. } => *angle_deg = Some(angle_deg.unwrap_or(0.0) + deg),
    }
    new
}

/// The changes that take some of a list to its end, or to its beginning, in the order that they have.
fn to_an_end<T: Clone>(list: &[T], which: &std::collections::BTreeSet<usize>, end: bool) -> Vec<Change<T>> {
    let which: Vec<usize> = which.iter().copied().filter(|it| *it < list.len()).collect();
    let mut changes: Vec<Change<T>> = which.iter().rev().map(|at| Change::Remove { at: *at }).collect();
    let first = if end { list.len() - which.len() } else { 0 };
    let insert =
        |(n, at): (usize, &usize)| Change::Insert { at: first + n, new: Box::new(list[*at].clone()) };
    changes.extend(which.iter().enumerate().map(insert));
    changes
}

impl App {
    /// Fills holes of the chosen connector, each with the shortest of stock that it takes.
    pub(super) fn fill(&mut self, which: Fill) -> Task<Message> {
        let (connector, hole) = match &self.chosen {
            Some(Subject::Connector(id)) => (id.clone(), None),
            Some(Subject::Hole(id, hole)) => (id.clone(), Some(hole.clone())),
            Some(Subject::Member(_) | Subject::Fastener(_)) | None => {
                return self.act(Action::Say("Choose first a connector, or a hole of it.".into()));
            }
        };
        let (wanted, what) = match (which, &hole) {
            (Fill::One, Some(hole)) => (Which::One(hole), format!("hole {hole}")),
            (Fill::One, None) => {
                return self.act(Action::Say("Choose first the hole that is filled.".into()));
            }
            (Fill::Required, _) => (Which::Required, "the required holes".to_owned()),
            (Fill::All, _) => (Which::All, "all holes".to_owned()),
        };
        let kept = self.document.kept();
        match fill((&kept.joint, &kept.trace), &connector, wanted, None, &self.stock) {
            Ok(edit) => self.act(Action::Keep(format!("Fill {what} of {connector}"), edit)),
            Err(why) => self.act(Action::Say(why.to_string())),
        }
    }

    /// Something in the panel of starting joints.
    pub(super) fn in_starters(&mut self, message: starters::Message) -> Task<Message> {
        self.in_fields = matches!(message, starters::Message::Typed(..));
        match message {
            starters::Message::CancelPressed => self.starters = None,
            starters::Message::BeginPressed if self.document.joint() == &Joint::default() => {
                return self.begin();
            }
            starters::Message::BeginPressed => return self.unless_edited(Then::Begin),
            message @ (starters::Message::Picked(_)
            | starters::Message::By(_)
            | starters::Message::Typed(..)
            | starters::Message::Resized(..)) => {
                let stock = self.stock.clone();
                if let Some(panel) = &mut self.starters {
                    panel.update(message, &stock);
                }
            }
        }
        Task::none()
    }

    /// Makes the empty joint the one that is picked.
    pub(super) fn begin(&mut self) -> Task<Message> {
        let Some(panel) = self.starters.take() else { return Task::none() };
        self.in_fields = false;
        match panel.joint() {
            Ok(start) => {
                let edit = starters::begun(self.document.joint(), start);
                let task = self.act(Action::Keep(format!("Begin with {}", panel.title()), edit));
                self.stock_pane = super::stock::Pane::of(self.document.joint());
                self.each_canvas(super::canvas::Pane::fit);
                task
            }
            Err(_) => {
                self.starters = Some(panel);
                Task::none()
            }
        }
    }
}
