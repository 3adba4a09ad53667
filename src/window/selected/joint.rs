//! Nothing is chosen: the joint itself.

use iced::widget::text;

use super::field::{Field, JointField};
use super::rows::{self, field, rows};
use super::{Message, Pane};
use crate::window::look::Look;
use crate::window::theme::Element;

pub(super) fn view<'a>(pane: &'a Pane, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let joint = look.joint;
    let mut list = rows();
    for it in [
        JointField::Title,
        JointField::Detail,
        JointField::Owner,
        JointField::Drawn,
        JointField::Checked,
        JointField::Date,
    ] {
        list = list.push(field(pane, Field::Joint(it), look));
    }
    let holes: usize = joint.connectors.iter().flat_map(|it| &it.plates).map(|it| it.holes.len()).sum();
    let content = format!(
        "{} members, {} connectors with {holes} holes, {} fasteners, {} loads",
        joint.members.len(),
        joint.connectors.len(),
        joint.fasteners.len(),
        joint.loads.len()
    );
    list = list.push(rows::value("Holds", content, colours));
    for note in &joint.notes {
        list = list.push(text(note.as_str()).size(crate::window::theme::text_px::SMALL));
    }
    list.into()
}
