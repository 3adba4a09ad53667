//! What every pane may look at, and what a pane may ask for.

use std::sync::Arc;

use kurbo::Point;

use super::canvas::plane::Cuts;
use super::document::{Chain, Known};
use super::making::{Kind, Making, Thing};
use super::selected::arrange;
use super::theme::Colours;
use crate::drawing::{Inputs, Subject};
use crate::findings::Findings;
use crate::joint::{Edit, Joint, Look as From};
use crate::sketch::arrange::Chosen;
use crate::sketch::arrange::align::{Along, Line};
use crate::stock::{FastenerSpec, Stock};
use crate::trace::Trace;
use crate::unit::LengthUnit;

/// The one bundle that panes are shown: all of it borrowed, none of it to be changed.
#[derive(Clone, Copy, Debug)]
pub struct Look<'a> {
    /// The joint as it is shown: while something is dragged, as it would be.
    pub joint: &'a Joint,
    /// Its trace.
    pub trace: &'a Trace,
    /// What was found.
    pub findings: &'a Findings,
    /// What panes ask of many things at once.
    pub known: &'a Known,
    /// How far that goes.
    pub judgement: Judgement,
    /// The joint as it is kept, with what the chain says of it: what snaps is asked of it, and what is made is put
    /// into it.
    pub kept: &'a Chain,
    /// Another number whenever another joint is shown.
    pub version: u64,
    /// Another number whenever another picture is shown.
    pub picture: u64,
    /// Another number whenever another joint is kept.
    pub kept_version: u64,
    /// What can be placed.
    pub stock: &'a Stock,
    /// What is chosen; of several things the one that was chosen last.
    pub chosen: Option<&'a Subject>,
    /// What is chosen besides.
    pub also: &'a [Subject],
    /// The fastener that is going to be driven by the next press on the canvas.
    pub driving: Option<&'a Arc<FastenerSpec>>,
    /// The planes that cut the views.
    pub cuts: Cuts,
    /// The view that is worked in, or that is drawn now.
    pub view: From,
    /// Which views are shown.
    pub shown: Shown,
    /// What the next presses on the canvas make.
    pub making: Option<&'a Making>,
    /// The colours.
    pub colours: &'static Colours,
}

/// How far what is shown is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judgement {
    /// It is.
    Done,
    /// It is so large that this is done beside the window, and is not done yet.
    Going,
    /// Not while something is in the hand.
    InHand,
    /// It was stopped.
    Stopped,
}

impl Judgement {
    /// A word for the heads of what it is told in; empty where all is told.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Done => "",
            Self::Going => "being judged",
            Self::InHand => "judged when let go",
            Self::Stopped => "not judged",
        }
    }
}

impl<'a> Look<'a> {
    /// The unit of the joint's lengths.
    #[must_use]
    pub fn unit(&self) -> LengthUnit {
        self.joint.show_lengths_in
    }

    /// What drawings are made from.
    #[must_use]
    pub fn inputs(&self) -> Inputs<'a> {
        Inputs { joint: self.joint, trace: self.trace, findings: self.findings }
    }

    /// The place of the chosen fastener in the joint's list.
    #[must_use]
    pub fn chosen_fastener(&self) -> Option<usize> {
        match self.chosen {
            Some(Subject::Fastener(id)) => self.joint.fasteners.iter().position(|it| it.id == *id),
            Some(Subject::Member(_) | Subject::Connector(_) | Subject::Hole(..) | Subject::Dimension(_))
            | None => None,
        }
    }

    /// Everything that is chosen.
    pub fn all_chosen(&self) -> impl Iterator<Item = &'a Subject> {
        self.also.iter().chain(self.chosen)
    }

    /// Everything that is chosen, by its places in the joint's lists.
    #[must_use]
    pub fn chosen_group(&self) -> Chosen {
        Chosen::of(self.joint, &self.chosen_ids())
    }

    /// Everything that is chosen, by ids.
    #[must_use]
    pub fn chosen_ids(&self) -> Vec<String> {
        self.all_chosen().map(id_of).filter(|it| !it.is_empty()).collect()
    }

    /// What of the joint an id names.
    #[must_use]
    pub fn subject_of(&self, id: &str) -> Option<Subject> {
        let joint = self.joint;
        if joint.fasteners.iter().any(|it| it.id == id) {
            return Some(Subject::Fastener(id.to_owned()));
        }
        if joint.members.iter().any(|it| it.id == id) {
            return Some(Subject::Member(id.to_owned()));
        }
        if joint.connectors.iter().any(|it| it.id == id) {
            return Some(Subject::Connector(id.to_owned()));
        }
        let (connector, hole) = id.split_once('/')?;
        let owner = joint.connectors.iter().find(|it| it.id == connector)?;
        let has_it = owner.plates.iter().any(|plate| plate.holes.iter().any(|it| it.id == hole));
        has_it.then(|| Subject::Hole(connector.to_owned(), hole.to_owned()))
    }

    /// Whether the joint still has it.
    #[must_use]
    pub fn has(&self, subject: &Subject) -> bool {
        match subject {
            Subject::Member(id) | Subject::Connector(id) | Subject::Fastener(id) => {
                self.subject_of(id).as_ref() == Some(subject)
            }
            Subject::Hole(connector, hole) => {
                self.subject_of(&format!("{connector}/{hole}")).as_ref() == Some(subject)
            }
            Subject::Dimension(at) => *at < self.joint.dimensions.len(),
        }
    }
}

/// The id by which a thing is named to `sketch`: a hole by its connector and its own, `strap/h1`.
#[must_use]
pub fn id_of(subject: &Subject) -> String {
    match subject {
        Subject::Member(id) | Subject::Connector(id) | Subject::Fastener(id) => id.clone(),
        Subject::Hole(connector, hole) => format!("{connector}/{hole}"),
        // Nothing has this id: a dimension is named by its place alone.
        Subject::Dimension(_) => String::new(),
    }
}

/// A thing in words: `fastener 2`, `rim`, `hole h1 of the strap`.
#[must_use]
pub fn name_of(joint: &Joint, subject: &Subject) -> String {
    match subject {
        Subject::Member(id) => {
            joint.members.iter().find(|it| it.id == *id).map_or(id.clone(), |it| it.shown_name().to_owned())
        }
        Subject::Connector(id) => joint
            .connectors
            .iter()
            .find(|it| it.id == *id)
            .map_or(id.clone(), |it| it.shown_name().to_owned()),
        Subject::Hole(id, hole) => format!("hole {hole} of {id}"),
        Subject::Dimension(at) => format!("dimension {}", at + 1),
        Subject::Fastener(id) => {
            crate::drawing::mark_of(joint, id).map_or(id.clone(), |it| format!("fastener {it}"))
        }
    }
}

/// What a pane asks of the window. The window alone does it.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Nothing.
    None,
    /// Choose this, or nothing.
    Choose(Option<Subject>),
    /// Choose all of these and nothing else; the last one is shown in the pane of numbers.
    ChooseAll(Vec<Subject>),
    /// Choose this besides, or let it go if it is chosen.
    Toggle(Subject),
    /// Choose this and bring the place into view.
    Show(Option<Subject>, Option<Point>),
    /// Show the joint with this edit, but do not keep it yet.
    Preview(String, Edit),
    /// Keep this edit as one step under a name.
    Keep(String, Edit),
    /// Keep what is previewed.
    KeepPreview,
    /// Drop what is previewed.
    DropPreview,
    /// The next press on the canvas drives this one.
    Drive(Option<Arc<FastenerSpec>>),
    /// The next presses on the canvas make this, or nothing any longer.
    Make(Option<Kind>),
    /// Show anew what is made, after a setting of it has changed.
    Redraft,
    /// Cut the views here.
    Cut(Cuts),
    /// Out of the field that has the keyboard, so that keys belong to the canvas again.
    Leave,
    /// Say this at the foot.
    Say(String),
    /// Do what a key or a menu would.
    Do(Command),
    /// Put the cursor into the field with this name.
    Focus(&'static str),
    /// Put these words on the clipboard.
    CopyText(String),
    /// Show it again: only what the pane remembers has changed.
    Again,
    /// Several, in order.
    All(Vec<Action>),
}

/// Which views of the joint are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// One.
    One(From),
    /// The front, the side and the top together.
    All,
}

/// Which holes are filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// The chosen one.
    One,
    /// Those that must be filled.
    Required,
    /// Those and the extra ones.
    All,
}

/// What can be asked for by a key as well as by the mouse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Command {
    /// Begin an empty joint.
    New,
    /// Open a file.
    Open,
    /// Save to the file that it came from.
    Save,
    /// Save to another file.
    SaveAs,
    /// Write the detail as SVG.
    Export,
    /// Show the sheet as it will be printed, or the joint again.
    Sheet,
    /// Close the window.
    Close,
    /// One step back.
    Undo,
    /// One step forward.
    Redo,
    /// The list of steps done and undone.
    Steps,
    /// So many steps back, or forward where it is negative.
    StepBack(i64),
    /// Take away what is chosen.
    Delete,
    /// Put a copy of what is chosen beside it.
    Duplicate,
    /// Put what is chosen on the clipboard.
    Copy,
    /// The same, and take it away.
    Cut,
    /// Put in what is on the clipboard.
    Paste,
    /// Choose everything.
    ChooseAll,
    /// Show all of the joint.
    Fit,
    /// Show these views.
    View(Shown),
    /// Cut the view that is worked in by a plane, or see it whole again.
    Plane,
    /// On to the next step of the snap.
    SnapStep,
    /// Make what is chosen as large as the pane has room for.
    FitChosen,
    /// Larger.
    ZoomIn,
    /// Smaller.
    ZoomOut,
    /// True size: 1:1.
    TrueSize,
    /// On to the next finding.
    NextFinding,
    /// Back to the finding before.
    PreviousFinding,
    /// On to the next thing of the joint.
    NextThing,
    /// Back to the thing before.
    PreviousThing,
    /// Do what the chosen finding advises.
    ApplyRemedy,
    /// Show or hide how the chosen finding came about.
    ShowWorking,
    /// What the chosen thing carries, or its numbers again.
    TurnCarries,
    /// Open or close the panel with the working of what is carried.
    Working,
    /// Open or close the panel with choices side by side.
    Compare,
    /// Into the first field of what is chosen.
    EditNumbers,
    /// On to the next field, or back.
    NextField(bool),
    /// Move what is chosen: steps to the right and up.
    Nudge(i32, i32),
    /// Turn what is chosen by so many degrees.
    TurnBy(i32),
    /// Mirror what is chosen left to right.
    Mirror,
    /// Mirror what is chosen top to bottom.
    MirrorUpsideDown,
    /// Bring what is chosen into line.
    Align(Line),
    /// Spread what is chosen evenly.
    Spread(Along),
    /// How what is chosen can be arranged, or its numbers again.
    Arrange,
    /// The same, with the keyboard in this field.
    ArrangeBy(arrange::Size),
    /// Do this of it, with the numbers that stand there.
    Arranged(arrange::Done),
    /// Draw what is chosen before all others, or behind them: of two that overlap the later one takes the run.
    Order(bool),
    /// The next longer or shorter of its kind, as stock lists them.
    NextSize(bool),
    /// Judge a very large joint whose judging was stopped.
    Judge,
    /// Light or dark.
    Lights,
    /// Larger or smaller words and controls.
    Scale(bool),
    /// Make another of what was made last.
    Again,
    /// Make this.
    Make(Thing),
    /// Every action, to be searched.
    Actions,
    /// The keyboard into the controls, one after the other.
    Controls,
    /// The starting joints.
    Starters,
    /// Fill these holes of the chosen connector.
    Fill(Fill),
    /// Files that were open lately.
    Recent,
    /// The list of keys.
    Keys,
    /// One level back: a dialog, a drag, a field, what is chosen.
    Escape,
    /// Yes to what is asked.
    Confirm,
}
