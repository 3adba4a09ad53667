//! Which of many boxes meet, without asking every pair.

use std::ops::ControlFlow;

use kurbo::Rect;

/// Calls `visit` once for each pair of boxes that meet or touch, the lower index first, until it breaks off.
///
/// The boxes are swept along the axis on which they are shorter in all, so that a long row of
/// pieces costs little more than sorting it.
pub fn meeting_boxes(boxes: &[Rect], mut visit: impl FnMut(usize, usize) -> ControlFlow<()>) {
    let across: f64 = boxes.iter().map(|it| it.x1 - it.x0).sum();
    let up: f64 = boxes.iter().map(|it| it.y1 - it.y0).sum();
    let whole = boxes.iter().copied().reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let is_across = across * (whole.y1 - whole.y0) <= up * (whole.x1 - whole.x0);
    let along = |it: &Rect| if is_across { (it.x0, it.x1) } else { (it.y0, it.y1) };
    let beside = |it: &Rect| if is_across { (it.y0, it.y1) } else { (it.x0, it.x1) };

    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by(|a, b| along(&boxes[*a]).0.total_cmp(&along(&boxes[*b]).0));
    let mut open: Vec<usize> = Vec::new();
    for n in order {
        let from = along(&boxes[n]).0;
        open.retain(|it| from <= along(&boxes[*it]).1);
        let (low, high) = beside(&boxes[n]);
        for other in &open {
            let (other_low, other_high) = beside(&boxes[*other]);
            if low <= other_high && other_low <= high && visit(n.min(*other), n.max(*other)).is_break() {
                return;
            }
        }
        open.push(n);
    }
}
