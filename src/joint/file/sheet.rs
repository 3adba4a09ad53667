//! How the exported detail is laid out, as the file says it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measure::{Coordinate, Scale};
use super::words::{Look, Paper};
use crate::joint;

/// How the exported detail is laid out.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct Sheet {
    /// Paper; the smallest that fits where absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) paper: Option<Paper>,
    /// The paper stands on its short side; it lies on its long side where absent.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub(super) portrait: bool,
    /// 5 for 1:5; the largest standard scale that fits where absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) scale: Option<Scale>,
    /// What is shown, the main view first; chosen by what the joint needs where absent.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 12))]
    pub(super) views: Vec<View>,
    /// Number of the detail.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) detail: String,
    /// Identification number of the document.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) number: String,
    /// A second line to the title.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) supplement: String,
    /// Who owns the document.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) owner: String,
    /// Who drew it.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) drawn: String,
    /// Who checked it.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) checked: String,
    /// Who approved it.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) approved: String,
    /// Date of issue, as typed.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) date: String,
    /// What was changed from issue to issue, the oldest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 100))]
    pub(super) revisions: Vec<Revision>,
    /// What the user has drawn aside from where it was put.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 100_000))]
    pub(super) moved: Vec<Moved>,
}

/// A view on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "SheetView")]
pub(super) struct View {
    /// From where.
    pub(super) look: Look,
    /// The plane that cuts, as a place on the axis that is looked along; seen whole where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) cut: Option<Coordinate>,
}

/// One row of the revision table.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct Revision {
    /// Its letter or number.
    #[schemars(length(max = 20))]
    pub(super) mark: String,
    /// What was changed.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 1000))]
    pub(super) what: String,
    /// By whom.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) by: String,
    /// When, as typed.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(length(max = 200))]
    pub(super) date: String,
}

/// Something on a sheet that was drawn aside, and stays there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Moved {
    /// The view, the kind and the thing, such as `front mark s1`.
    #[schemars(length(max = 1000))]
    pub(super) what: String,
    /// Its middle, so many millimetres of paper to the right and down from what it belongs to: of a mark from its
    /// head, of a tag from its hole, of a name from the middle of its member, of a figure from that of its line.
    pub(super) by: [Coordinate; 2],
}

/// The settings as a joint has them.
pub(super) fn read(it: Sheet) -> joint::SheetSettings {
    let view = |it: View| joint::SheetView { look: it.look.into(), cut_mm: it.cut.map(|it| it.0) };
    let revision = |it: Revision| joint::Revision { mark: it.mark, what: it.what, by: it.by, date: it.date };
    let moved = |it: Moved| joint::Moved { what: it.what, by_mm: (it.by[0].0, it.by[1].0) };
    joint::SheetSettings {
        paper: it.paper.map(Into::into),
        portrait: it.portrait,
        scale: it.scale.map(|it| it.0),
        views: it.views.into_iter().map(view).collect(),
        detail: it.detail,
        number: it.number,
        supplement: it.supplement,
        owner: it.owner,
        drawn: it.drawn,
        checked: it.checked,
        approved: it.approved,
        date: it.date,
        revisions: it.revisions.into_iter().map(revision).collect(),
        moved: it.moved.into_iter().map(moved).collect(),
    }
}

/// The settings as a file says them.
pub(super) fn written(it: &joint::SheetSettings) -> Sheet {
    let view = |it: &joint::SheetView| View { look: it.look.into(), cut: it.cut_mm.map(Coordinate) };
    let revision = |it: &joint::Revision| Revision {
        mark: it.mark.clone(),
        what: it.what.clone(),
        by: it.by.clone(),
        date: it.date.clone(),
    };
    let moved = |it: &joint::Moved| Moved {
        what: it.what.clone(),
        by: [Coordinate(it.by_mm.0), Coordinate(it.by_mm.1)],
    };
    Sheet {
        paper: it.paper.map(Into::into),
        portrait: it.portrait,
        scale: it.scale.map(Scale),
        views: it.views.iter().map(view).collect(),
        detail: it.detail.clone(),
        number: it.number.clone(),
        supplement: it.supplement.clone(),
        owner: it.owner.clone(),
        drawn: it.drawn.clone(),
        checked: it.checked.clone(),
        approved: it.approved.clone(),
        date: it.date.clone(),
        revisions: it.revisions.iter().map(revision).collect(),
        moved: it.moved.iter().map(moved).collect(),
    }
}
