//! What lies over the drawing: handles of what is chosen, the halo of it, numbers of a drag.
//!
//! They are items of a drawing like all others, on the layer that is never exported.

use kurbo::{BezPath, Circle, Point, Rect, Shape as _, Vec2};

use super::camera::PX_PER_MM;
use super::carry::{Carry, Load};
use super::draft::{Draft, Figure};
use super::gesture::{Gesture, Ground};
use super::typed::{Slot, Typed};
use super::{Pane, held};
use crate::drawing::{self, Anchor, Fill, Ink, Item, Layer, Line, Shape, Subject};
use crate::joint::edit::Change;
use crate::joint::{Edit, Grain, Look as From, Outline};
use crate::sketch::member::resize::Handle;
use crate::unit::LengthUnit;
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
    if let Some(Subject::Fastener(_)) = look.chosen {
        handles(pane, look, &mut items);
    }
    for chosen in look.all_chosen() {
        match chosen {
            Subject::Fastener(_) if look.also.is_empty() => {}
            Subject::Fastener(_) => ring(pane, chosen, look, &mut items),
            Subject::Member(_) | Subject::Connector(_) | Subject::Hole(..) => halo(pane, chosen, &mut items),
            Subject::Dimension(_) => lines(pane, chosen, &mut items),
        }
    }
    size_handles(pane, look, &mut items);
    grain(pane, look, &mut items);
    boxed(pane, &mut items);
    drawn(pane, look, &mut items);
    cuts(pane, look, &mut items);
    if look.joint.members.is_empty() && look.joint.connectors.is_empty() && look.making.is_none() {
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
    let lines = [
        ("This joint is empty.", 16.0, true, 0.0),
        ("Place a member from the pane at the left, or begin with one of these.", 13.0, false, 24.0),
    ];
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
    let head = pane.on_paper(shank.head_at);
    let point = pane.on_paper(shank.head_at + shank.toward * shank.length_mm);
    let outline =
        |path: BezPath| item(Shape::Path { path, fill: Some(Fill::Handle), line: Some(Line::Handle) });
    items.push(outline(Rect::from_center_size(head, (mm(11.0), mm(11.0))).to_path(0.01)));
    if mm(14.0) < (point - head).hypot() {
        items.push(outline(Circle::new(point, mm(6.0)).to_path(0.01)));
    }
}

/// The planes that cut the other views, each with a handle to drag it by.
fn cuts(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    for cut in pane.cut_lines(look) {
        let ends = [cut.line.p0, cut.line.p1].map(|it| pane.camera.on_paper(it));
        let line = kurbo::Line::new(ends[0], ends[1]).to_path(0.01);
        let path: BezPath = kurbo::dash(line.iter(), 0.0, &[mm(14.0), mm(4.0), mm(3.0), mm(4.0)]).collect();
        items.push(item(Shape::Path { path, fill: None, line: Some(Line::Handle) }));
        let at = pane.camera.on_paper(cut.handle);
        let path = Rect::from_center_size(at, (mm(13.0), mm(13.0))).to_path(0.01);
        items.push(item(Shape::Path { path, fill: Some(Fill::Handle), line: Some(Line::Handle) }));
        let (words, at_px) = cut.label(pane.camera.viewport_px.0, look);
        label(pane.camera.on_paper(at_px), &words, pane, items);
    }
}

/// The box that is drawn round what is to be chosen.
fn boxed(pane: &Pane, items: &mut Vec<Item>) {
    let Gesture::Boxing { from, to, .. } = &pane.gesture else { return };
    let view = pane.camera.view();
    let on_paper = |it: &Point| view.on_paper(crate::unit::Vec3::new(it.x, it.y, 0.0));
    let outline = Rect::from_points(on_paper(from), on_paper(to)).to_path(0.01);
    let path: BezPath = kurbo::dash(outline.iter(), 0.0, &[mm(4.0), mm(3.0)]).collect();
    items.push(item(Shape::Path { path, fill: None, line: Some(Line::Handle) }));
}

/// A ring round the head of one of several chosen fasteners.
fn ring(pane: &Pane, chosen: &Subject, look: &Look<'_>, items: &mut Vec<Item>) {
    let Subject::Fastener(id) = chosen else { return };
    let Some(n) = look.joint.fasteners.iter().position(|it| it.id == *id) else { return };
    let Some(shank) = look.trace.fasteners.get(n) else { return };
    let (head, point) =
        (pane.on_paper(shank.head_at), pane.on_paper(shank.head_at + shank.toward * shank.length_mm));
    for (at, radius) in [(head, 7.0), (point, 4.0)] {
        let path = Circle::new(at, mm(radius)).to_path(0.01);
        items.push(item(Shape::Path { path, fill: None, line: Some(Line::Handle) }));
    }
}

/// The outline of a chosen thing, again, in the colour of handles.
fn halo(pane: &Pane, chosen: &Subject, items: &mut Vec<Item>) {
    let is_part = |it: &&Item| {
        let is_drawn = matches!(it.layer, Layer::Members | Layer::Connectors);
        is_drawn && it.subject.as_ref() == Some(chosen)
    };
    for shown in pane.items.iter().filter(is_part) {
        let Shape::Path { path, fill: Some(_), .. } = &shown.shape else { continue };
        let dashed: BezPath = kurbo::dash(path.iter(), 0.0, &[mm(7.0), mm(4.0)]).collect();
        items.push(item(Shape::Path { path: dashed, fill: None, line: Some(Line::Handle) }));
    }
}

/// The lines of a chosen dimension, again, in the colour of handles.
fn lines(pane: &Pane, chosen: &Subject, items: &mut Vec<Item>) {
    for shown in pane.items.iter().filter(|it| it.subject.as_ref() == Some(chosen)) {
        let Shape::Path { path, .. } = &shown.shape else { continue };
        items.push(item(Shape::Path { path: path.clone(), fill: None, line: Some(Line::Handle) }));
    }
}

/// The squares by which a chosen member is made larger or smaller.
fn size_handles(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let view = pane.camera.view();
    for it in pane.handles(look) {
        let at = view.on_paper(crate::unit::Vec3::new(it.at.x, it.at.y, 0.0));
        let path = Rect::from_center_size(at, (mm(8.0), mm(8.0))).to_path(0.01);
        items.push(item(Shape::Path { path, fill: Some(Fill::Handle), line: Some(Line::Handle) }));
    }
}

/// The grain of a chosen member: a line, pointed at both ends; a ring with a dot where it runs along
/// the depth, as an arrow that is seen from its point; and the ring by which it is turned.
fn grain(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let Some(it) = pane.grain(look) else { return };
    let (middle, ring) = (pane.camera.on_screen(it.middle), it.handle);
    let px = |it: Point| pane.camera.on_paper(it);
    let way = (ring - middle) / (ring - middle).hypot();
    let mut line = |from: Point, to: Point| {
        let path = kurbo::Line::new(px(from), px(to)).to_path(0.01);
        items.push(item(Shape::Path { path, fill: None, line: Some(Line::Handle) }));
    };
    let across = Vec2::new(-way.y, way.x);
    let end = ring - way * 6.0;
    match it.grain {
        Grain::InPlane(_) => {
            let other = middle - (end - middle);
            line(other, end);
            for (tip, back) in [(end, -way), (other, way)] {
                line(tip, tip + back * 7.0 + across * 3.5);
                line(tip, tip + back * 7.0 - across * 3.5);
            }
        }
        Grain::AlongDepth | Grain::None => {
            line(middle + way * 6.0, end);
            for radius in [6.0, 1.5] {
                let path = Circle::new(px(middle), mm(radius)).to_path(0.01);
                items.push(item(Shape::Path { path, fill: None, line: Some(Line::Handle) }));
            }
        }
    }
    let path = Circle::new(px(ring), mm(6.0)).to_path(0.01);
    items.push(item(Shape::Path { path, fill: Some(Fill::Handle), line: Some(Line::Handle) }));
}

/// What the pointer, or what it carries, meets: a ring, and what it is called.
fn caught(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let ground = pane.ground(look);
    let place = match (&pane.gesture, look.driving, pane.pointer_mm()) {
        (Gesture::Moving { held, from, to, typed }, ..) if typed.is_empty() => {
            held.head.plan() + (*to - *from)
        }
        (Gesture::Carrying(carry), ..)
            if carry.moved && carry.typed.is_empty() && !matches!(carry.load, Load::Grain(_)) =>
        {
            carry.corner + (carry.to - carry.from)
        }
        (Gesture::Drawing(draft), ..) if draft.typed.is_empty() && !draft.is_full() => draft.to,
        (Gesture::Idle, Some(_), Some(at)) => at,
        _ => return,
    };
    if ground.keep && !matches!(pane.gesture, Gesture::Idle) {
        return;
    }
    let snapped = ground.snapped(place);
    let Some(says) = snapped.to else { return };
    let view = pane.camera.view();
    let at = view.on_paper(crate::unit::Vec3::new(snapped.at.x, snapped.at.y, 0.0));
    let ring = Circle::new(at, mm(9.0)).to_path(0.01);
    items.push(item(Shape::Path { path: ring, fill: None, line: Some(Line::Handle) }));
    label(at + Vec2::new(mm(14.0), mm(-12.0)), &says, pane, items);
}

/// Length and direction of the drag beside the pointer, typed or not; in the middle where no pointer is, for those
/// who draw by the keyboard alone.
fn numbers(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let Some(said) = gesture_words(pane, look) else { return };
    let beside = pane.pointer.map(|it| pane.camera.on_paper(it));
    let on_paper = beside.unwrap_or_else(|| pane.camera.shown_on_paper().center());
    label(on_paper + Vec2::new(mm(18.0), mm(26.0)), &said, pane, items);
}

/// The size of the letters of a label, pixels.
const LABEL_PX: f64 = 13.0;

/// How wide the words of a label are, pixels.
pub(super) fn wide_px(words: &str) -> f64 {
    drawing::width(words, LABEL_PX)
}

/// Words on a ground of their own, moved as far as it takes to be seen whole.
fn label(at: Point, said: &str, pane: &Pane, items: &mut Vec<Item>) {
    let wide = mm(wide_px(said));
    let seen = pane.camera.shown_on_paper();
    let far = (seen.x1 - wide - mm(8.0), seen.y1 - mm(9.0));
    let at = Point::new(at.x.min(far.0).max(seen.x0 + mm(8.0)), at.y.min(far.1).max(seen.y0 + mm(18.0)));
    let ground = Rect::new(at.x - mm(6.0), at.y - mm(16.0), at.x + wide + mm(6.0), at.y + mm(7.0));
    items.push(item(Shape::Path {
        path: ground.to_path(0.01),
        fill: Some(Fill::Handle),
        line: Some(Line::Handle),
    }));
    items.push(item(Shape::Text {
        at,
        words: said.to_owned(),
        size_mm: mm(LABEL_PX),
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
    if let Gesture::Drawing(draft) = &pane.gesture {
        return (draft.seen && !draft.is_full()).then(|| draft_words(draft, pane, look));
    }
    if let Gesture::Carrying(carry) = &pane.gesture {
        if !carry.moved {
            return None;
        }
        if let Load::Grain(_) = carry.load {
            return Some(grain_words(carry, &ground));
        }
        let by = carry.by(&ground).unwrap_or_default();
        let moved = move_words((by, carry.view), carry.anchor, typed, unit);
        return Some(match size_words(carry, &ground, unit) {
            Some(size) => format!("{size}; {moved}"),
            None => moved,
        });
    }
    let held = held(&pane.gesture)?;
    let now = pane.gesture.result(&ground);
    match &pane.gesture {
        Gesture::Moving { .. } => {
            let by = match now.as_ref().map(|it| &it.place) {
                Some(crate::joint::Placement::Free { head, .. }) => held.view.turned(*head) - held.head,
                Some(crate::joint::Placement::Fills { .. }) | None => crate::unit::Vec3::default(),
            };
            Some(move_words((by.plan().to_vec2(), held.view), held.head.plan(), typed, unit))
        }
        Gesture::Turning { .. } | Gesture::Driving { .. } => {
            let shank = look.trace.fasteners.get(held.at)?;
            let toward = held.view.turned(shank.toward);
            let way = words::degrees(toward.y.atan2(toward.x).to_degrees());
            let way = typed.shown(Slot::Direction).unwrap_or(way);
            let face = shank.holding.and_then(|it| it.angle_to_face_deg);
            let face = face.map_or(String::new(), |it| format!(" ({} to the face)", words::degrees(it)));
            Some(format!("direction {way}{face}"))
        }
        Gesture::Idle
        | Gesture::Pressed { .. }
        | Gesture::Carrying(_)
        | Gesture::Drawing(_)
        | Gesture::Cutting { .. }
        | Gesture::Boxing { .. } => None,
    }
}

/// The grain as the hand shows it, in words.
fn grain_words(carry: &Carry, ground: &Ground) -> String {
    match (carry.typed.shown(Slot::Direction), carry.grain(ground)) {
        (Some(typed), _) => format!("grain {typed}"),
        (None, Some(Grain::InPlane(deg))) => format!("grain {}", words::degrees(deg)),
        (None, _) => "grain along the depth".to_owned(),
    }
}

/// The next place of what is drawn, in words, as it is typed or as it is pointed at.
fn draft_words(draft: &Draft, pane: &Pane, look: &Look<'_>) -> String {
    let unit = look.unit();
    let ground = pane.ground(look);
    let Some(next) = draft.next(&ground) else {
        let typed = draft.typed.slot().map_or("", |it| draft.typed.text(it));
        return format!("{typed}_ ?");
    };
    let told = |slot: Slot, now: f64| {
        let word = match (slot, draft.view) {
            (Slot::Width, From::Side) | (Slot::Height, From::Top) => "depth",
            _ => slot.word(),
        };
        match (draft.typed.shown(slot), draft.typed.length_mm(slot, unit)) {
            (Some(text), Some(Some(mm))) => format!("{word} {text} = {}", words::in_both(mm, unit)),
            (Some(text), _) => format!("{word} {text}"),
            (None, _) => format!("{word} {}", words::size(slot.told(now), unit)),
        }
    };
    let [across, up] = Slot::place_in(draft.view);
    let last = draft.corners.last().map_or(Point::ORIGIN, |it| it.at);
    let by = next - last;
    let all: Vec<String> = match (draft.corners.is_empty(), draft.figure) {
        (true, _) => vec![told(across, next.x), told(up, next.y)],
        (false, Figure::Box) => vec![told(Slot::Width, by.x.abs()), told(Slot::Height, by.y.abs())],
        (false, Figure::Round) => vec![told(Slot::Diameter, 2.0 * by.hypot())],
        (false, _) => {
            let way = words::degrees(by.y.atan2(by.x).to_degrees());
            let way = draft.typed.shown(Slot::Direction).unwrap_or(way);
            let mut all = vec![told(Slot::Length, by.hypot()), format!("at {way}")];
            for (slot, now) in [(across, next.x), (up, next.y)] {
                if draft.typed.slot() == Some(slot) || draft.typed.shown(slot).is_some() {
                    all.push(told(slot, now));
                }
            }
            all
        }
    };
    all.join(", ")
}

/// What is drawn so far: its lines, its places, and the line to where the next one would be.
fn drawn(pane: &Pane, look: &Look<'_>, items: &mut Vec<Item>) {
    let Gesture::Drawing(draft) = &pane.gesture else { return };
    let ground = pane.ground(look);
    let view = pane.camera.view();
    let on_paper = |it: Point| view.on_paper(crate::unit::Vec3::new(it.x, it.y, 0.0));
    let all = draft.with_next(&ground);
    let mut line = BezPath::new();
    for corner in &all {
        if line.is_empty() {
            line.move_to(on_paper(corner.at));
        } else {
            corner.through.iter().for_each(|it| line.line_to(on_paper(*it)));
            line.line_to(on_paper(corner.at));
        }
    }
    let is_line = !matches!(draft.figure, Figure::Box | Figure::One);
    if is_line && 1 < all.len() {
        let path: BezPath = kurbo::dash(line.iter(), 0.0, &[mm(6.0), mm(3.0)]).collect();
        items.push(item(Shape::Path { path, fill: None, line: Some(Line::Handle) }));
    }
    let set = draft.corners.iter().map(|it| it.at).chain(draft.through);
    for at in set.map(on_paper) {
        let path = Rect::from_center_size(at, (mm(7.0), mm(7.0))).to_path(0.01);
        items.push(item(Shape::Path { path, fill: Some(Fill::Handle), line: Some(Line::Handle) }));
    }
    if let Some(at) = draft.next(&ground).filter(|_| draft.seen && !draft.is_full()).map(on_paper) {
        for half in [Vec2::new(mm(7.0), 0.0), Vec2::new(0.0, mm(7.0))] {
            let mut path = BezPath::new();
            path.move_to(at - half);
            path.line_to(at + half);
            items.push(item(Shape::Path { path, fill: None, line: Some(Line::Handle) }));
        }
    }
    let measured = look.making.and_then(|it| it.measured(&all, look));
    if let (Some(said), Some(at)) = (measured, all.first().map(|it| on_paper(it.at))) {
        label(at + Vec2::new(mm(12.0), mm(-16.0)), &said, pane, items);
    }
}

/// What a member that is held by a handle measures then, in words.
fn size_words(carry: &Carry, ground: &Ground, unit: LengthUnit) -> Option<String> {
    let Load::Handle(_, handle) = carry.load else { return None };
    let Some(Edit::Members(Change::Replace { new, .. })) = carry.edit(ground) else {
        return Some("It does not fit".to_owned());
    };
    if matches!(handle, Handle::Far | Handle::Near) {
        return Some(format!("depth {}", words::size(new.depth.to - new.depth.from, unit)));
    }
    match new.outline {
        Outline::Rectangle { size_mm: (width, height), .. }
        | Outline::ISection { size_mm: (width, height), .. } => {
            Some(format!("{} by {}", words::size(width, unit), words::size(height, unit)))
        }
        Outline::Round { diameter_mm, .. } => Some(format!("diameter {}", words::size(diameter_mm, unit))),
        Outline::Polygon(_) | Outline::Path(_) => None,
    }
}

/// A move in words: how far and which way, or where to, as it is typed; a typed length in both units.
fn move_words((by, view): (Vec2, From), anchor: Point, typed: &Typed, unit: LengthUnit) -> String {
    let either = |slot: Slot, now: f64| match typed.shown(slot) {
        Some(text) => match typed.length_mm(slot, unit) {
            Some(Some(mm)) => format!("{text} = {}", words::in_both(mm, unit)),
            Some(None) => text,
            None => format!("{text} ?"),
        },
        None => words::size(now, unit),
    };
    let at = anchor + by;
    let place = Slot::place_in(view);
    if typed.slot().is_some_and(|it| place.contains(&it)) || place.iter().any(|it| typed.shown(*it).is_some())
    {
        let [x, y] = place.map(Slot::word);
        let [across, up] = place;
        return format!("to {x} {}, {y} {}", either(across, across.told(at.x)), either(up, up.told(at.y)));
    }
    let way = words::degrees(by.y.atan2(by.x).to_degrees());
    let way = typed.shown(Slot::Direction).unwrap_or(way);
    format!("move {} at {way}", either(Slot::Length, by.hypot()))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::joint::file;
    use crate::stock::Stock;
    use crate::window::{App, Message, stock};

    /// The squares of a chosen member lie where they can be taken hold of, and nowhere else.
    #[test]
    fn the_handles_of_a_chosen_member_are_drawn_where_they_are() {
        let stock = Arc::new(Stock::built_in());
        let joint = include_str!("../../../sample-projects/heron-lane-ledger.joint.json");
        let mut app = App::new(stock.clone(), file::read(joint, &stock).unwrap(), None);
        let rim = Subject::Member("rim".into());
        drop(app.update(Message::Stock(stock::Message::ThingPressed(rim.clone()))));
        let outline = app
            .canvas
            .items
            .iter()
            .find(|it| it.layer == Layer::Members && it.subject.as_ref() == Some(&rim));
        let Some(Shape::Path { path, .. }) = outline.map(|it| &it.shape) else { panic!("the rim is drawn") };
        let area = path.bounding_box();
        let squares: Vec<Rect> = app
            .canvas
            .overlay_items
            .iter()
            .filter_map(|it| match &it.shape {
                Shape::Path { path, fill: Some(Fill::Handle), .. } => Some(path.bounding_box()),
                Shape::Path { .. } | Shape::Text { .. } => None,
            })
            .collect();
        // Four sides, four corners, and the ring that turns the grain.
        assert_eq!(squares.len(), 9);
        for corner in [(area.x0, area.y0), (area.x1, area.y0), (area.x1, area.y1), (area.x0, area.y1)] {
            let corner = Point::from(corner);
            assert!(
                squares.iter().any(|it| (it.center() - corner).hypot() < 0.3),
                "{corner:?} of {squares:?}"
            );
        }
    }
}
