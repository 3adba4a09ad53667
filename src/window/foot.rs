//! The line at the foot: what can be done now, and the cautions.

use iced::widget::{container, row, text};
use iced::{Alignment, Length};

use super::canvas::carry::Load;
use super::canvas::gesture::{Gesture, Grip};
use super::canvas::typed::Slot;
use super::look::Look;
use super::theme::{Element, control, gap, part_px, text_px};
use crate::drawing::Subject;
use crate::joint::Placement;
use crate::trace::TOUCH_MM;

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
        Gesture::Driving { .. } => {
            "Type a direction in degrees, Enter drives it. Shift keeps 15-degree steps, Ctrl frees the snap, Esc puts it back.".into()
        }
        Gesture::Turning { .. } => {
            "Type a direction in degrees. Shift keeps 15-degree steps, Ctrl frees the snap, Esc puts it back.".into()
        }
        Gesture::Carrying(carry) if carry.moved && matches!(carry.load, Load::Grain(_)) => {
            "Turn the grain, or type its direction; drawn onto its own middle it runs along the depth. Shift keeps 15-degree steps, Esc puts it back.".into()
        }
        Gesture::Carrying(carry) if carry.moved && matches!(carry.load, Load::Handle(..)) => {
            "Type how far, Tab for its direction or where to. Ctrl frees the snap, Esc puts it back.".into()
        }
        Gesture::Carrying(carry) if carry.moved => {
            "Type a length, Tab for its direction or where to. Shift keeps an axis, Ctrl frees the snap, Esc puts it back.".into()
        }
        Gesture::Cutting { .. } => "Drag the plane; it is caught by the axis of a fastener. Ctrl frees it.".into(),
        Gesture::Boxing { more: true, .. } => "Draw a box round what else is to be chosen, or press a thing.".into(),
        Gesture::Boxing { .. } => "What lies wholly inside the box is chosen.".into(),
        Gesture::Drawing(draft) => {
            let aims = || {
                let [across, up] = Slot::place_in(draft.view).map(Slot::word);
                format!("Where the head goes: type {across}, Tab, {up}, then Enter; or press there. Esc takes it back.")
            };
            look.making.map_or_else(aims, |it| it.hint(draft))
        }
        Gesture::Idle | Gesture::Pressed { .. } | Gesture::Carrying(_) => resting(look),
    }
}

fn resting(look: &Look<'_>) -> String {
    if let Some(making) = look.making {
        return making.hint(&making.draft(look.view));
    }
    if let Some(spec) = look.driving {
        return format!(
            "Press where the head of the {} goes and drag the way it points, or type where. Esc ends.",
            spec.label
        );
    }
    if !look.also.is_empty() {
        return "Drag one to move them all; arrows nudge; Delete takes them away; Shift and a press adds or leaves out."
            .into();
    }
    match look.chosen {
        Some(Subject::Fastener(_)) => {
            let fills = look
                .chosen_fastener()
                .is_some_and(|n| matches!(look.joint.fasteners[n].place, Placement::Fills { .. }));
            if is_cut_away(look) {
                "It lies before the plane that cuts this view, so it is not drawn: move that plane, or take it away."
                    .into()
            } else if fills {
                "It fills a hole: drag its point to turn it; it does not leave the hole.".into()
            } else {
                "Drag its head to move, its point to turn; arrows nudge; F2 edits its numbers.".into()
            }
        }
        Some(Subject::Member(_)) => "Drag to move it, a square to change its size, the ring to turn its grain; arrows nudge; A arranges copies.".into(),
        Some(Subject::Hole(..)) => "Drag to move it in its steel; F2 edits its numbers; Delete takes it away; Esc lets it go.".into(),
        Some(Subject::Dimension(_)) => "Drag its line to another place; Delete takes it away; Esc lets it go.".into(),
        Some(Subject::Connector(_)) => "Drag to move it; arrows nudge; F2 edits its numbers; Delete takes it away; Esc lets it go.".into(),
        None => {
            "Press a thing to choose it, drag it to move it, or draw a box round several. Tab walks the findings.".into()
        }
    }
}

/// Whether the chosen fastener lies wholly before the plane that cuts the view, and is not seen in it.
fn is_cut_away(look: &Look<'_>) -> bool {
    let Some(shank) = look.chosen_fastener().and_then(|n| look.trace.fasteners.get(n)) else { return false };
    let Some(cut) = look.cuts.of(look.view) else { return false };
    let ends = [shank.head_at, shank.head_at + shank.toward * shank.length_mm];
    let toward = |it| look.view.turned(it).z;
    ends.into_iter().all(|it| cut + TOUCH_MM < toward(it))
}

/// The line.
#[must_use]
pub fn view<'a, M: 'a>(said: String, width_px: f32, look: &Look<'a>) -> Element<'a, M> {
    let colours = look.colours;
    // In a narrow window the hint has two lines beside the cautions.
    let is_narrow = width_px < part_px::FOOT_NARROW;
    let hint = text(said)
        .size(text_px::SMALL)
        .wrapping(if is_narrow { text::Wrapping::Word } else { text::Wrapping::None })
        .style(control::words(colours.soft));
    let line = |words: String| {
        text(words).size(text_px::SMALL).wrapping(text::Wrapping::None).style(control::words(colours.soft))
    };
    let bar = row![container(hint).width(Length::Fill).clip(true), line(CAUTIONS.to_owned())]
        .spacing(gap::PANE)
        .align_y(Alignment::Center);
    container(bar)
        .padding([0.0, gap::PANE])
        .height(if is_narrow { part_px::FOOT_HIGH } else { part_px::FOOT })
        .width(Length::Fill)
        .align_y(Alignment::Center)
        .clip(true)
        .into()
}
