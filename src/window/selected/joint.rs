//! Nothing is chosen: the joint itself.

use iced::widget::text;

use super::field::{Field, JointField};
use super::rows::{self, field, rows};
use super::{Message, Pane};
use crate::window::look::Look;
use crate::window::theme::Element;
use crate::window::words;

pub(super) fn view<'a>(pane: &'a Pane, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let joint = look.joint;
    // A title is longer than any other text here, so its field has the whole width.
    let mut list = rows().push(rows::wide_field(pane, Field::Joint(JointField::Title), look));
    for it in
        [JointField::Detail, JointField::Owner, JointField::Drawn, JointField::Checked, JointField::Date]
    {
        list = list.push(field(pane, Field::Joint(it), look));
    }
    let holes: usize = joint.connectors.iter().flat_map(|it| &it.plates).map(|it| it.holes.len()).sum();
    let parts = [
        (joint.members.len(), "member"),
        (joint.connectors.len(), "connector"),
        (holes, "hole"),
        (joint.fasteners.len(), "fastener"),
        (joint.loads.len(), "load"),
    ];
    let told: Vec<String> =
        parts.into_iter().filter(|it| it.0 != 0).map(|it| words::count(it.0, it.1)).collect();
    let content = if told.is_empty() { "nothing yet".to_owned() } else { told.join(", ") };
    list = list.push(rows::value("Holds", content, colours));
    for note in &joint.notes {
        list = list.push(text(note.as_str()).size(crate::window::theme::text_px::SMALL));
    }
    list.into()
}
