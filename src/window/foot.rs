//! The line at the foot: what can be done now, and the cautions.

use iced::widget::{container, row, text};
use iced::{Alignment, Length};

use super::canvas::gesture::{Gesture, Grip};
use super::look::Look;
use super::theme::{Element, control, gap, part_px, text_px};
use crate::drawing::Subject;
use crate::joint::Placement;

/// What holds for every joint that is shown.
pub const CAUTIONS: &str =
    "Checks geometry and published formulas only. Follow local code and a licensed designer.";

/// What can be done now, in one line.
#[must_use]
pub fn hint(gesture: &Gesture, look: &Look<'_>) -> String {
    match gesture {
        Gesture::Moving { .. } => {
            "Type a length, Tab for its direction. Shift keeps an axis, Ctrl frees the snap, Esc puts it back.".into()
        }
        Gesture::Turning { held, .. } if held.square.is_some() => {
            "It fills a hole: it turns, but does not leave it. Type a direction; Esc puts it back.".into()
        }
        Gesture::Pressed { held, .. } if held.square.is_some() && held.grip == Grip::Head => {
            "It fills a hole: drag its point to turn it; it does not leave the hole.".into()
        }
        Gesture::Turning { .. } | Gesture::Driving { .. } => {
            "Type a direction in degrees. Shift keeps 15-degree steps, Ctrl frees the snap, Esc puts it back.".into()
        }
        Gesture::Idle | Gesture::Pressed { .. } => resting(look),
    }
}

fn resting(look: &Look<'_>) -> String {
    if let Some(spec) = look.driving {
        return format!("Press where the head of the {} goes, drag the way it points. Esc ends.", spec.label);
    }
    match look.chosen {
        Some(Subject::Fastener(_)) => {
            let fills = look
                .chosen_fastener()
                .is_some_and(|n| matches!(look.joint.fasteners[n].place, Placement::Fills { .. }));
            if fills {
                "It fills a hole: drag its point to turn it; it does not leave the hole.".into()
            } else {
                "Drag its head to move, its point to turn; arrows nudge; F2 edits its numbers.".into()
            }
        }
        Some(_) => "F2 edits its numbers; Delete takes it away; Esc lets it go.".into(),
        None => {
            "Drag a shank by its head to move it, by its point to turn it. Tab walks the findings.".into()
        }
    }
}

/// The line.
#[must_use]
pub fn view<'a, M: 'a>(said: String, look: &Look<'a>) -> Element<'a, M> {
    let colours = look.colours;
    let line = |words: String| {
        text(words).size(text_px::SMALL).wrapping(text::Wrapping::None).style(control::words(colours.soft))
    };
    let bar = row![container(line(said)).width(Length::Fill).clip(true), line(CAUTIONS.to_owned())]
        .spacing(gap::PANE)
        .align_y(Alignment::Center);
    container(bar)
        .padding([0.0, gap::PANE])
        .height(part_px::FOOT)
        .width(Length::Fill)
        .align_y(Alignment::Center)
        .clip(true)
        .style(control::surface(colours.pane))
        .into()
}
