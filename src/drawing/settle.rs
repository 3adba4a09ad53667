//! Settles where the labels of a drawing stand, all of them together: each has places to choose from, and a
//! choice has a cost by itself and against the choices of the others.
//!
//! A tabu search: of the labels that are badly off the one that gains most goes to the place that is best as the
//! others stand now, even where that is worse than what it had; what it left is closed to it for a while, and the
//! label that it pushed aside is the next to move. The best state that was met is kept. There is no chance in it and the steps are counted,
//! so that the same joint gives the same drawing on every machine.

use kurbo::{Line, Rect};

use super::place::{Taken, crosses, overlap, touches};

/// Cost of a label that lies on something that must be read.
const HIDES: f64 = 1000.0;
/// Cost of a label that a line runs through.
const RUN_THROUGH: f64 = 400.0;
/// Cost of a leader that crosses something.
const CROSSES: f64 = 300.0;
/// Cost of a leader that crosses nothing but thin lines, of a label that may lead over them: less than to leave it out.
const CROSSES_THIN: f64 = 40.0;
/// Cost of a label that lies across the edge of a member.
const ON_AN_EDGE: f64 = 100.0;

/// Places of one label nearer to each other than this are nearly one.
const NEAR_MM: f64 = 5.0;
/// Leaders closer than this cross.
const LEADERS_APART_MM: f64 = 0.3;

/// What is drawn already and stays where it is.
pub(super) struct Fixed<'a> {
    /// Shanks, dimension lines, figures: a label must not lie on them.
    pub(super) taken: &'a Taken,
    /// Edges of members and steel: a label had better not lie on them.
    pub(super) edges: &'a Taken,
}

/// A place that a label can have.
#[derive(Clone, Debug)]
pub(super) struct Choice {
    /// What it hides, with the clear paper that it wants.
    boxes: Vec<Rect>,
    /// What leads to it.
    strokes: Vec<Line>,
    bounds: Rect,
    /// What is wrong with it whatever the others do.
    wrong: f64,
    /// How much it is liked less than the best place.
    wish: f64,
}

impl Choice {
    /// A place with its boxes and its leader, liked so much less than the best. Of each stroke only the part that
    /// `own_mm` leaves from its end is held against what is drawn: there it touches what it leads to.
    pub(super) fn new(
        boxes: Vec<Rect>,
        strokes: Vec<Line>,
        (wish, own_mm): (f64, f64),
        fixed: &Fixed<'_>,
    ) -> Self {
        let mut wrong = 0.0;
        for it in &boxes {
            if !fixed.taken.is_free_box(*it) {
                wrong += HIDES;
            } else if !fixed.edges.is_free_box(*it) {
                wrong += ON_AN_EDGE;
            }
        }
        for it in &strokes {
            let share = (own_mm / (it.p1 - it.p0).hypot()).min(0.9);
            if !fixed.taken.is_free_stroke(it.p0, it.p1.lerp(it.p0, share)) {
                wrong += CROSSES;
            }
        }
        let all = boxes.iter().copied().chain(strokes.iter().map(kurbo::Shape::bounding_box));
        let bounds = all.reduce(|a, b| a.union(b)).unwrap_or(NOWHERE);
        Self { boxes, strokes, bounds, wrong, wish }
    }

    /// The same, of a label whose leader may run over dimension lines and nails where there is no better way.
    pub(super) fn over_thin_lines(mut self, fixed: &Fixed<'_>) -> Self {
        let taken = fixed.taken;
        let crosses =
            |it: &&Line| !taken.is_free_stroke(it.p0, it.p1) && taken.is_free_but_for_thin(it.p0, it.p1);
        let thin = count(self.strokes.iter().filter(crosses));
        self.wrong -= CROSSES * thin;
        self.wish += CROSSES_THIN * thin;
        self
    }

    /// No place at all: the label is left out, which is as bad as this.
    pub(super) fn none(wrong: f64) -> Self {
        Self { boxes: Vec::new(), strokes: Vec::new(), bounds: NOWHERE, wrong, wish: 0.0 }
    }

    /// Whether something is wrong with it whatever the others do.
    pub(super) fn is_wrong(&self) -> bool {
        0.0 < self.wrong
    }

    /// The box round all of it; `None` for no place at all.
    pub(super) fn room(&self) -> Option<Rect> {
        self.bounds.is_finite().then_some(self.bounds)
    }

    /// Whether a label would stand nearly where it does in another of its places.
    fn is_near(&self, other: &Self) -> bool {
        match (self.boxes.first(), other.boxes.first()) {
            (Some(a), Some(b)) => (a.center() - b.center()).hypot() < NEAR_MM,
            (a, b) => a.is_none() && b.is_none(),
        }
    }

    /// What is wrong between two places.
    pub(super) fn against(&self, other: &Self) -> f64 {
        let apart = |a: Rect, b: Rect| b.x1 < a.x0 || a.x1 < b.x0 || b.y1 < a.y0 || a.y1 < b.y0;
        if apart(self.bounds.inflate(LEADERS_APART_MM, LEADERS_APART_MM), other.bounds) {
            return 0.0;
        }
        let mut cost = 0.0;
        for a in &self.boxes {
            cost += HIDES * count(other.boxes.iter().filter(|b| overlap(*a, **b)));
            cost += RUN_THROUGH * count(other.strokes.iter().filter(|b| touches(*a, **b)));
        }
        for a in &self.strokes {
            cost += RUN_THROUGH * count(other.boxes.iter().filter(|b| touches(**b, *a)));
            cost += CROSSES * count(other.strokes.iter().filter(|b| crosses(*a, **b, LEADERS_APART_MM)));
        }
        cost
    }
}

/// A box that is near nothing.
const NOWHERE: Rect = Rect::new(f64::NAN, f64::NAN, f64::NAN, f64::NAN);

fn count<'a, T: 'a>(it: impl Iterator<Item = &'a T>) -> f64 {
    f64::from(u32::try_from(it.count()).unwrap_or(u32::MAX))
}

/// How a search goes about it: so many labels that are badly off are looked at for the best move, one that has moved
/// rests for so many steps, and for so many steps it does not go back to the place that it left.
struct Manner {
    looked_at: usize,
    rest: usize,
    closed: usize,
}

/// One after the other until one of them leaves nothing wrong.
const MANNERS: [Manner; 7] = [
    Manner { looked_at: 6, rest: 3, closed: 24 },
    Manner { looked_at: 1, rest: 3, closed: 24 },
    Manner { looked_at: 3, rest: 1, closed: 12 },
    Manner { looked_at: 2, rest: 6, closed: 60 },
    Manner { looked_at: 12, rest: 1, closed: 8 },
    Manner { looked_at: 4, rest: 2, closed: 120 },
    Manner { looked_at: 1, rest: 1, closed: 40 },
];

/// The place of each label: the first one of each at the start, the best that was met at the end.
pub(super) fn settle(labels: &[Vec<Choice>], most_steps: usize) -> Vec<usize> {
    let mut state = State { labels, now: vec![0; labels.len()] };
    let mut best = (state.total(), state.now.clone());
    for manner in &MANNERS {
        // Each goes on from the best that was met.
        state.now.clone_from(&best.1);
        state.search(manner, most_steps, &mut best);
        if state.worst().is_empty() {
            break;
        }
    }
    best.1
}

struct State<'a> {
    labels: &'a [Vec<Choice>],
    now: Vec<usize>,
}

impl<'a> State<'a> {
    /// Moves labels until nothing is wrong or the steps are used up, and keeps the best that it meets.
    fn search(&mut self, manner: &Manner, most_steps: usize, best: &mut (f64, Vec<usize>)) {
        let mut rests = vec![0_usize; self.labels.len()];
        let mut closed: Vec<Vec<usize>> = self.labels.iter().map(|it| vec![0; it.len()]).collect();
        let mut total = self.total();
        for step in 1..=most_steps {
            let wrong = self.worst();
            if wrong.is_empty() {
                return;
            }
            let mut moved: Option<(usize, usize, f64)> = None;
            for (which, _) in wrong.into_iter().filter(|it| rests[it.0] < step).take(manner.looked_at) {
                let left = self.now[which];
                let open = |it: &usize| *it != left && closed[which][*it] <= step;
                let Some((to, cost)) = self.best_place(which, open) else { continue };
                let gain = cost - self.cost(which, self.choice(which));
                if moved.is_none_or(|it| gain < it.2) {
                    moved = Some((which, to, gain));
                }
            }
            let Some((which, to, gain)) = moved else { continue };
            // What lies near the place that it leaves is as bad: closed too.
            let left = self.choice(which);
            for (it, until) in self.labels[which].iter().zip(&mut closed[which]) {
                if it.is_near(left) {
                    *until = step + manner.closed;
                }
            }
            rests[which] = step + manner.rest;
            self.now[which] = to;
            total += gain;
            if total < best.0 - 1e-9 {
                *best = (total, self.now.clone());
            }
        }
    }

    fn choice(&self, which: usize) -> &'a Choice {
        &self.labels[which][self.now[which]]
    }

    /// What a choice of a label has against it as the others stand.
    fn conflicts(&self, which: usize, choice: &Choice) -> f64 {
        (0..self.labels.len()).filter(|it| *it != which).map(|it| choice.against(self.choice(it))).sum()
    }

    fn total(&self) -> f64 {
        let one = |it: usize| {
            let choice = self.choice(it);
            let pairs: f64 =
                (it + 1..self.labels.len()).map(|other| choice.against(self.choice(other))).sum();
            choice.wrong + choice.wish + pairs
        };
        (0..self.labels.len()).map(one).sum()
    }

    /// All that a choice of a label costs as the others stand.
    fn cost(&self, which: usize, choice: &Choice) -> f64 {
        choice.wrong + choice.wish + self.conflicts(which, choice)
    }

    /// The same where it is less than `most`; not looked at further once it cannot be.
    fn cost_below(&self, which: usize, choice: &Choice, most: f64) -> Option<f64> {
        let own = choice.wrong + choice.wish;
        let mut conflicts = 0.0;
        for other in (0..self.labels.len()).filter(|it| *it != which) {
            if most <= own + conflicts {
                return None;
            }
            conflicts += choice.against(self.choice(other));
        }
        (own + conflicts < most).then_some(own + conflicts)
    }

    /// The labels that something is wrong with and that have another place, the worst off first.
    fn worst(&self) -> Vec<(usize, f64)> {
        let wrong = |it: usize| {
            let choice = self.choice(it);
            (it, choice.wrong + self.conflicts(it, choice))
        };
        let can_move = |it: &usize| 1 < self.labels[*it].len();
        let mut found: Vec<(usize, f64)> =
            (0..self.labels.len()).filter(can_move).map(wrong).filter(|it| 0.0 < it.1).collect();
        found.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        found
    }

    /// The best open place of a label as the others stand, and what it costs there.
    fn best_place(&self, which: usize, is_open: impl Fn(&usize) -> bool) -> Option<(usize, f64)> {
        let mut best: Option<(usize, f64)> = None;
        for it in (0..self.labels[which].len()).filter(is_open) {
            let choice = &self.labels[which][it];
            let most = best.map_or(f64::INFINITY, |best| best.1);
            if let Some(cost) = self.cost_below(which, choice, most) {
                best = Some((it, cost));
            }
        }
        best
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, wish: f64) -> Choice {
        let (taken, edges) = (Taken::default(), Taken::default());
        let fixed = Fixed { taken: &taken, edges: &edges };
        Choice::new(vec![Rect::new(x, 0.0, x + 4.0, 4.0)], Vec::new(), (wish, 0.0), &fixed)
    }

    #[test]
    fn a_label_makes_room_for_one_that_has_no_other_place() {
        // The second can stand at 0 only, where the first one is; the first can go to 10, past the third.
        let labels = vec![
            vec![at(0.0, 0.0), at(5.0, 1.0), at(10.0, 2.0)],
            vec![at(1.0, 0.0), at(-0.5, 1.0)],
            vec![at(6.0, 0.0)],
        ];
        assert_eq!(settle(&labels, 100), [2, 0, 0]);
    }

    #[test]
    fn what_cannot_be_solved_is_as_good_as_it_gets_and_ends() {
        let labels = vec![vec![at(0.0, 0.0), at(1.0, 0.0)], vec![at(0.5, 0.0), at(0.2, 0.0)]];
        let settled = settle(&labels, 50);
        assert_eq!(settle(&labels, 50), settled, "the same every time");
        assert_eq!(settle(&[], 50), [0_usize; 0]);
    }

    #[test]
    fn a_label_is_left_out_rather_than_laid_over_another() {
        let labels = vec![vec![at(0.0, 0.0)], vec![at(1.0, 0.0), Choice::none(50.0)]];
        assert_eq!(settle(&labels, 10), [0, 1]);
    }
}
