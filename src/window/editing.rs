//! What is done to whatever is chosen: taken away, copied, put in, nudged, turned, mirrored, brought into line, put
//! before or behind. What the step is comes from `sketch::arrange`; here it gets its name.

use iced::Task;

use super::dialog::Then;
use super::look::{Action, Command, Fill, name_of};
use super::{App, Message, starters, words};
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Edit, Fastener, Joint, Placement};
use crate::sketch::arrange::align::{Along, Line, aligned, distributed};
use crate::sketch::arrange::order::{Order, ordered};
use crate::sketch::arrange::{self, clip};
use crate::sketch::drive::fill::{Which, fill};
use crate::sketch::motion::Motion;
use crate::sketch::question::WishError;
use crate::unit::Vec3;

use super::canvas::gesture::direction;

/// How far a copy is put beside its original, in steps of the snap.
const COPY_STEPS: f64 = 8.0;

impl App {
    /// What is chosen, in words.
    pub(super) fn chosen_words(&self) -> String {
        match (&self.chosen, self.also.len()) {
            (Some(chosen), 0) => name_of(self.document.joint(), chosen),
            (Some(_), more) => words::count(more + 1, "thing"),
            (None, _) => "nothing".to_owned(),
        }
    }

    /// Does a step that was worked out, or says why there is none.
    fn keep_or_say(&mut self, name: String, edit: Result<Edit, WishError>) -> Task<Message> {
        match edit {
            Ok(edit) => self.act(Action::Keep(name, edit)),
            Err(why) => self.act(Action::Say(words::sentence(&why.to_string()))),
        }
    }

    pub(super) fn delete(&mut self) {
        let dimensions: Vec<usize> = self
            .all_chosen()
            .filter_map(|it| if let Subject::Dimension(at) = it { Some(*at) } else { None })
            .collect();
        let edit = arrange::deleted(self.document.joint(), &self.look().chosen_ids(), &dimensions);
        let _ = self.keep_or_say(format!("Take {} away", self.chosen_words()), edit);
    }

    pub(super) fn choose_everything(&mut self) {
        let joint = self.document.joint();
        let members = joint.members.iter().map(|it| Subject::Member(it.id.clone()));
        let connectors = joint.connectors.iter().map(|it| Subject::Connector(it.id.clone()));
        let fasteners = joint.fasteners.iter().map(|it| Subject::Fastener(it.id.clone()));
        let all = members.chain(connectors).chain(fasteners).collect();
        let _ = self.act(Action::ChooseAll(all));
    }

    pub(super) fn copy(&mut self) -> Task<Message> {
        let kept = self.document.kept();
        match clip::text(&kept.joint, &kept.trace, &self.look().chosen_ids()) {
            Ok(text) => {
                self.pasted = 0;
                self.said = Some(format!("Copied {}.", self.chosen_words()));
                iced::clipboard::write(text)
            }
            Err(why) => self.act(Action::Say(words::sentence(&why.to_string()))),
        }
    }

    pub(super) fn cut(&mut self) -> Task<Message> {
        let written = self.copy();
        if self.chosen.is_some() {
            self.delete();
        }
        written
    }

    /// How far the next copy is put from its original.
    fn beside(&self, times: u32) -> Motion {
        let by = f64::from(times) * COPY_STEPS * self.canvas.step_mm(self.document.joint().show_lengths_in);
        Motion::shift(Vec3::new(0.0, by, 0.0))
    }

    pub(super) fn duplicate(&mut self) {
        let made = arrange::copied(self.document.joint(), &self.look().chosen_ids(), &[self.beside(1)]);
        self.put_in(made);
    }

    /// What was on the clipboard: a joint, or part of one, or something else.
    pub(super) fn paste(&mut self, text: Option<&str>) {
        let Some(text) = text.filter(|it| !it.trim().is_empty()) else {
            self.said = Some("There is nothing on the clipboard.".into());
            return;
        };
        let made = clip::pasted(self.document.joint(), text, &self.beside(self.pasted + 1), &self.stock);
        self.pasted += u32::from(made.is_ok());
        self.put_in(made);
    }

    /// Puts copies in and chooses them.
    fn put_in(&mut self, made: Result<(Edit, Vec<String>), WishError>) {
        let (edit, ids) = match made {
            Ok(made) => made,
            Err(why) => {
                let _ = self.act(Action::Say(words::sentence(&why.to_string())));
                return;
            }
        };
        let joint = self.document.joint();
        let is_fastener = matches!(&edit, Edit::All(all) if matches!(all.first(), Some(Edit::Fasteners(_))));
        let name = match ids.as_slice() {
            [_] if is_fastener => format!("Copy to fastener {}", joint.fasteners.len() + 1),
            [id] => format!("Copy to {id}"),
            _ => format!("Put in {}", words::count(ids.len(), "thing")),
        };
        let _ = self.act(Action::Keep(name, edit));
        let chosen = ids.iter().filter_map(|it| self.look().subject_of(it)).collect();
        let _ = self.act(Action::ChooseAll(chosen));
    }

    /// Moves what is chosen by so many steps of the snap.
    pub(super) fn nudge(&mut self, right: i32, up: i32) -> Task<Message> {
        if self.in_fields || self.chosen.is_none() {
            return Task::none();
        }
        let step = self.canvas.step_mm(self.document.joint().show_lengths_in);
        let by = Vec3::new(f64::from(right) * step, f64::from(up) * step, 0.0);
        let by = self.canvas.view.turned_back(by);
        let edit = arrange::moved(self.document.joint(), &self.look().chosen_ids(), &Motion::shift(by));
        self.keep_or_say(format!("Nudge {}", self.chosen_words()), edit)
    }

    /// Turns what is chosen: one fastener about its head, anything else about its middle.
    pub(super) fn turn_by(&mut self, deg: i32) -> Task<Message> {
        let deg = f64::from(deg) * if self.canvas.held.shift { 15.0 } else { 1.0 };
        let only = self.look().chosen_fastener().filter(|_| self.also.is_empty());
        if let Some(at) = only {
            let Some(old) = self.document.joint().fasteners.get(at) else { return Task::none() };
            let new = Box::new(turned(old, deg));
            let edit = Edit::Fasteners(Change::Replace { at, new });
            return self.act(Action::Keep(format!("Turn fastener {}", at + 1), edit));
        }
        self.move_about_middle("Turn", |about| Motion::turn(about, deg))
    }

    /// Mirrors what is chosen about its middle, left to right or top to bottom.
    pub(super) fn mirror(&mut self, upside_down: bool) -> Task<Message> {
        let line_deg = if upside_down { 0.0 } else { 90.0 };
        self.move_about_middle("Mirror", |about| Motion::mirror(about, line_deg))
    }

    fn move_about_middle(&mut self, verb: &str, how: impl FnOnce(kurbo::Point) -> Motion) -> Task<Message> {
        let middle = super::canvas::middle_of(&self.look().chosen_group(), &self.look());
        let Some(middle) = middle else {
            return self.act(Action::Say("Choose first what is to be turned.".into()));
        };
        let edit = arrange::moved(self.document.joint(), &self.look().chosen_ids(), &how(middle));
        self.keep_or_say(format!("{verb} {}", self.chosen_words()), edit)
    }

    /// Brings what is chosen into line or spreads it; for any other command shows what else can be arranged.
    #[expect(clippy::wildcard_enum_match_arm, reason = "all others are somebody else's")]
    pub(super) fn arrange(&mut self, command: Command) -> Task<Message> {
        match command {
            Command::Align(line) => self.align(line),
            Command::Spread(along) => self.spread(along),
            Command::ArrangeBy(size) => {
                if !self.selected.arranging.is_shown {
                    self.turn_arrange();
                }
                self.in_fields = true;
                let task = self.act(Action::Again);
                let id = iced::widget::Id::from(size.name());
                let focus = iced::widget::operation::focus(id.clone());
                task.chain(focus.chain(iced::widget::operation::select_all(id)))
            }
            Command::Arranged(done) => {
                let action = self.in_selected(super::selected::Message::Arranged(done));
                self.act(action)
            }
            _ => {
                self.turn_arrange();
                self.act(Action::Again)
            }
        }
    }

    /// Brings what is chosen into line.
    fn align(&mut self, line: Line) -> Task<Message> {
        let kept = self.document.kept();
        let edit = aligned((&kept.joint, &kept.trace), &self.look().chosen_ids(), line);
        let which = match line {
            Line::Left => "left sides",
            Line::Centre => "middles, upright",
            Line::Right => "right sides",
            Line::Top => "tops",
            Line::Middle => "middles, level",
            Line::Bottom => "bottoms",
        };
        self.keep_or_say(format!("Line up {}: {which}", self.chosen_words()), edit)
    }

    /// Spreads what is chosen evenly.
    fn spread(&mut self, along: Along) -> Task<Message> {
        let kept = self.document.kept();
        let edit = distributed((&kept.joint, &kept.trace), &self.look().chosen_ids(), along);
        let way = match along {
            Along::X => "across",
            Along::Y => "upward",
        };
        self.keep_or_say(format!("Spread {} evenly {way}", self.chosen_words()), edit)
    }

    /// Puts the chosen members and connectors at the end or the beginning of their lists.
    pub(super) fn order(&mut self, before_all: bool) -> Task<Message> {
        let order = if before_all { Order::Front } else { Order::Behind };
        let edit = ordered(self.document.joint(), &self.look().chosen_ids(), order);
        let way = if before_all { "before" } else { "behind" };
        self.keep_or_say(format!("Draw {} {way} the others", self.chosen_words()), edit)
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

impl App {
    /// Fills holes of the chosen connector, each with the shortest of stock that it takes.
    pub(super) fn fill(&mut self, which: Fill) -> Task<Message> {
        let (connector, hole) = match &self.chosen {
            Some(Subject::Connector(id)) => (id.clone(), None),
            Some(Subject::Hole(id, hole)) => (id.clone(), Some(hole.clone())),
            Some(Subject::Member(_) | Subject::Fastener(_) | Subject::Dimension(_)) | None => {
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
