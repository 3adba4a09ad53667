//! What lies over the drawing: handles of what is chosen, the halo of it, numbers of a drag.
//!
//! They are items of a drawing like all others, on the layer that is never exported.

use kurbo::{BezPath, Circle, Point, Rect, Shape as _, Vec2};

use super::camera::PX_PER_MM;
use super::gesture::{Gesture, foot_on, nearest_face};
use super::{Pane, held};
use crate::drawing::{Anchor, Fill, Ink, Item, Layer, Line, Shape, Subject};
use crate::window::look::Look;
use crate::window::words;

fn item(shape: Shape) -> Item {
    Item { layer: Layer::Handles, subject: None, shape }
}

fn mm(px: f64) -> f64 {
    px / PX_PER_MM
}

/// All of it, as things stand.
pub(super) fn items(pane: &Pane, look: &Look<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    match look.chosen {
        Some(Subject::Fastener(_)) => handles(pane, look, &mut items),
        Some(chosen) => halo(pane, chosen, &mut items),
        None => {}
    }
    if look.joint.members.is_empty() && look.joint.connectors.is_empty() {
        invitation(pane, &mut items);
    }
    caught(pane, look, &mut items);
    numbers(pane, look, &mut items);
    items
}

/// What to do with an empty joint.
fn invitation(pane: &Pane, items: &mut Vec<Item>) {
    let middle = Point::new(pane.camera.viewport_px.0 / 2.0, pane.camera.viewport_px.1 / 2.0);
    let at = pane.camera.on_paper(middle);
    let lines =
        [("This joint is empty.", 16.0, true, 0.0), ("Open a joint file: Ctrl+O.", 13.0, false, 24.0)];
    for (said, size, bold, down) in lines {
        items.push(item(Shape::Text {
            at: at + Vec2::new(0.0, mm(down)),
            words: said.to_owned(),
            size_mm: mm(size),
            anchor: Anchor::Middle,
            turn_deg: 0.0,
            bold,
            ink: if bold { Ink::Plain } else { Ink::Soft },
        }));
    }
}

/// A square at the head, a round at the point, on a line beside which the shank lies.
fn handles(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let Some(shank) = look.chosen_fastener().and_then(|n| look.trace.fasteners.get(n)) else { return };
    let view = pane.camera.view();
    let head = view.on_paper(shank.head_at);
    let point = view.on_paper(shank.head_at + shank.toward * shank.length_mm);
    let outline =
        |path: BezPath| item(Shape::Path { path, fill: Some(Fill::Handle), line: Some(Line::Handle) });
    items.push(outline(Rect::from_center_size(head, (mm(11.0), mm(11.0))).to_path(0.01)));
    if mm(14.0) < (point - head).hypot() {
        items.push(outline(Circle::new(point, mm(6.0)).to_path(0.01)));
    }
}

/// The outline of the chosen thing, again, in the colour of handles.
fn halo(pane: &Pane, chosen: &Subject, items: &mut Vec<Item>) {
    for shown in pane.items.iter().filter(|it| it.subject.as_ref() == Some(chosen)) {
        let Shape::Path { path, fill: Some(_), .. } = &shown.shape else { continue };
        let dashed: BezPath = kurbo::dash(path.iter(), 0.0, &[mm(7.0), mm(4.0)]).collect();
        items.push(item(Shape::Path { path: dashed, fill: None, line: Some(Line::Handle) }));
        let area = path.bounding_box();
        for corner in [
            Point::new(area.x0, area.y0),
            Point::new(area.x1, area.y0),
            Point::new(area.x1, area.y1),
            Point::new(area.x0, area.y1),
        ] {
            let path = Rect::from_center_size(corner, (mm(7.0), mm(7.0))).to_path(0.01);
            items.push(item(Shape::Path { path, fill: Some(Fill::Handle), line: Some(Line::Handle) }));
        }
    }
}

/// The place on a face by which a head is caught.
fn caught(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let place = match (&pane.gesture, look.driving, pane.pointer_mm()) {
        (Gesture::Moving { held, from, to, .. }, _, _) => held.head.plan() + (*to - *from),
        (Gesture::Idle, Some(_), Some(at)) => at,
        _ => return,
    };
    let ground = pane.ground(look);
    let Some(face) = nearest_face(&ground.faces, place, ground.catch_mm) else { return };
    if ground.keep && !matches!(pane.gesture, Gesture::Idle) {
        return;
    }
    let foot = foot_on(face, place);
    let at = pane.camera.view().on_paper(crate::unit::Vec3::new(foot.x, foot.y, 0.0));
    let ring = Circle::new(at, mm(9.0)).to_path(0.01);
    items.push(item(Shape::Path { path: ring, fill: None, line: Some(Line::Handle) }));
    label(at + Vec2::new(mm(14.0), mm(-12.0)), "on the face", items);
}

/// Length and direction of the drag beside the pointer, typed or not.
fn numbers(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let (Some(at), Some(said)) = (pane.pointer, gesture_words(pane, look)) else { return };
    let on_paper = pane.camera.on_paper(at);
    label(on_paper + Vec2::new(mm(18.0), mm(26.0)), &said, items);
}

fn label(at: Point, said: &str, items: &mut Vec<Item>) {
    let size_mm = mm(13.0);
    let letters = f64::from(u32::try_from(said.chars().count()).unwrap_or(u32::MAX));
    let ground =
        Rect::new(at.x - mm(6.0), at.y - mm(16.0), at.x + letters * mm(6.3) + mm(6.0), at.y + mm(7.0));
    items.push(item(Shape::Path {
        path: ground.to_path(0.01),
        fill: Some(Fill::Handle),
        line: Some(Line::Handle),
    }));
    items.push(item(Shape::Text {
        at,
        words: said.to_owned(),
        size_mm,
        anchor: Anchor::Start,
        turn_deg: 0.0,
        bold: false,
        ink: Ink::Plain,
    }));
}

/// What a drag has come to, in words.
pub(super) fn gesture_words(pane: &Pane, look: &Look<'_>) -> Option<String> {
    let unit = look.unit();
    let ground = pane.ground(look);
    let typed = pane.gesture.typed()?;
    let held = held(&pane.gesture)?;
    let cursor = |text: &str, here: bool| if here { format!("{text}_") } else { text.to_owned() };
    let now = pane.gesture.result(&ground);
    match &pane.gesture {
        Gesture::Moving { .. } => {
            let by = match now.as_ref().map(|it| &it.place) {
                Some(crate::joint::Placement::Free { head, .. }) => *head - held.head,
                Some(crate::joint::Placement::Fills { .. }) | None => crate::unit::Vec3::default(),
            };
            let length = match typed.length.as_deref() {
                Some(text) if !text.is_empty() => cursor(text, !typed.at_angle),
                Some(_) | None => words::size(by.plan().to_vec2().hypot(), unit),
            };
            let angle = if typed.angle.is_empty() && !typed.at_angle {
                words::degrees(by.y.atan2(by.x).to_degrees())
            } else {
                cursor(&typed.angle, typed.at_angle)
            };
            Some(format!("move {length} at {angle}"))
        }
        Gesture::Turning { .. } | Gesture::Driving { .. } => {
            let shank = look.trace.fasteners.get(held.at)?;
            let way = words::degrees(shank.toward.y.atan2(shank.toward.x).to_degrees());
            let way = if typed.angle.is_empty() { way } else { cursor(&typed.angle, true) };
            let face = shank.holding.and_then(|it| it.angle_to_face_deg);
            let face = face.map_or(String::new(), |it| format!(" ({} to the face)", words::degrees(it)));
            Some(format!("direction {way}{face}"))
        }
        Gesture::Idle | Gesture::Pressed { .. } => None,
    }
}
