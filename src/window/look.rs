//! What every pane may look at, and what a pane may ask for.

use std::sync::Arc;

use kurbo::Point;

use super::theme::Colours;
use crate::drawing::{Inputs, Subject};
use crate::findings::Findings;
use crate::joint::{Edit, Joint};
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
    /// What can be placed.
    pub stock: &'a Stock,
    /// What is chosen.
    pub chosen: Option<&'a Subject>,
    /// The fastener that is going to be driven by the next press on the canvas.
    pub driving: Option<&'a Arc<FastenerSpec>>,
    /// The colours.
    pub colours: &'static Colours,
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
            Some(Subject::Member(_) | Subject::Connector(_) | Subject::Hole(..)) | None => None,
        }
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
    /// Take away what is chosen.
    Delete,
    /// Put a copy of what is chosen beside it.
    Duplicate,
    /// Remember what is chosen.
    Copy,
    /// Put in what was remembered.
    Paste,
    /// Show all of the joint.
    Fit,
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
    /// Move the chosen fastener: steps to the right and up.
    Nudge(i32, i32),
    /// Turn the chosen fastener by so many degrees.
    TurnBy(i32),
    /// The next longer or shorter of its kind, as stock lists them.
    NextSize(bool),
    /// Light or dark.
    Lights,
    /// Larger or smaller words and controls.
    Scale(bool),
    /// The list of keys.
    Keys,
    /// One level back: a dialog, a drag, a field, what is chosen.
    Escape,
    /// Yes to what is asked.
    Confirm,
}
