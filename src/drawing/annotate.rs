//! Tags, marks and names of a view: each is placed where it hides nothing of what stands already; on a sheet
//! they are then settled all together.

use kurbo::{BezPath, Rect};

use super::labels::{self, Name};
use super::marks::{self, Group, tags};
use super::pen::{self, Care, Scene};
use super::place::Taken;
use super::put::Drawn;
use super::settle::{Choice, Fixed, settle};

/// So often a label is moved while they are settled; less often where there are many, of which each step costs more.
const MOST_STEPS: usize = 150;
const MOST_STEPS_OF_MANY: usize = 60;
const MANY: usize = 60;

/// Labels so near to one that is badly off may make room for it.
const NEAR_MM: f64 = 30.0;

/// Something that can stand in several places.
pub(super) trait Label {
    /// One of its places.
    type Place: Clone;
    /// Where it stands.
    fn place(&self) -> &Self::Place;
    /// Puts it there.
    fn put(&mut self, place: Self::Place);
    /// Where else it could stand.
    fn others(&self) -> Vec<Self::Place>;
    /// A place with what it covers and costs.
    fn choice(&self, place: &Self::Place, fixed: &Fixed<'_>) -> Choice;
}

/// Tags, marks, and the names of members that are not named elsewhere. What the user has put somewhere stands there.
pub(super) fn draw(scene: &Scene<'_>, edges: &Taken, taken: &mut Taken) -> Drawn {
    let runs = marks::runs(scene);
    for (from, to, clear) in runs.iter().flat_map(marks::Run::strokes) {
        taken.add_stroke(from, to, clear);
    }
    let fixed = (scene.manner.care != Care::Quick).then(|| taken.clone());
    let mut tags = tags::place(scene, taken);
    let mut groups = marks::place(scene, &runs, edges, taken);
    let mut names = labels::place(scene, edges, taken);
    if let Some(taken) = fixed {
        settle_all(&mut tags, &mut groups, &mut names, &Fixed { taken: &taken, edges });
    }
    let mut drawn = tags::draw(scene, &tags);
    drawn.extend(marks::draw(scene, &groups));
    drawn.extend(labels::draw(scene, &names));
    drawn
}

/// Finds better places for labels that are badly off, and for those that are in their way.
fn settle_all(tags: &mut [tags::Tag], groups: &mut [Group], names: &mut [Name], fixed: &Fixed<'_>) {
    let mut choices: Vec<Vec<Choice>> = Vec::new();
    choices.extend(tags.iter().map(|it| first(it, fixed)));
    choices.extend(groups.iter().map(|it| first(it, fixed)));
    choices.extend(names.iter().map(|it| first(it, fixed)));
    let may_move = movable(&choices);
    if may_move.iter().all(|it| !it) {
        return;
    }
    let (after_tags, after_groups) = (tags.len(), tags.len() + groups.len());
    let mut offers = Offers { tags: Vec::new(), groups: Vec::new(), names: Vec::new() };
    for (n, it) in tags.iter().enumerate() {
        offers.tags.push(offer(it, may_move[n], &mut choices[n], fixed));
    }
    for (n, it) in groups.iter().enumerate() {
        let n = n + after_tags;
        offers.groups.push(offer(it, may_move[n], &mut choices[n], fixed));
    }
    for (n, it) in names.iter().enumerate() {
        let n = n + after_groups;
        offers.names.push(offer(it, may_move[n], &mut choices[n], fixed));
    }
    let settled = settle(&choices, if choices.len() <= MANY { MOST_STEPS } else { MOST_STEPS_OF_MANY });
    take(tags, offers.tags, &settled);
    take(groups, offers.groups, &settled[after_tags..]);
    take(names, offers.names, &settled[after_groups..]);
}

/// The other places that were offered to each label, in the order of its choices after the first.
struct Offers {
    tags: Vec<Vec<usize>>,
    groups: Vec<Vec<marks::Set>>,
    names: Vec<Vec<Option<labels::Place>>>,
}

fn first<L: Label>(label: &L, fixed: &Fixed<'_>) -> Vec<Choice> {
    vec![label.choice(label.place(), fixed)]
}

fn offer<L: Label>(label: &L, may_move: bool, choices: &mut Vec<Choice>, fixed: &Fixed<'_>) -> Vec<L::Place> {
    let others = if may_move { label.others() } else { Vec::new() };
    choices.extend(others.iter().map(|it| label.choice(it, fixed)));
    others
}

fn take<L: Label>(labels: &mut [L], offers: Vec<Vec<L::Place>>, settled: &[usize]) {
    for ((label, mut others), choice) in labels.iter_mut().zip(offers).zip(settled) {
        if let Some(at) = choice.checked_sub(1).filter(|it| *it < others.len()) {
            label.put(others.swap_remove(at));
        }
    }
}

/// Labels that are badly off, and those near them.
fn movable(choices: &[Vec<Choice>]) -> Vec<bool> {
    let placed: Vec<&Choice> = choices.iter().filter_map(|it| it.first()).collect();
    let is_wrong = |n: usize| {
        placed[n].is_wrong() || placed.iter().enumerate().any(|(m, it)| m != n && 0.0 < placed[n].against(it))
    };
    let wrong: Vec<usize> = (0..placed.len()).filter(|it| is_wrong(*it)).collect();
    let rooms: Vec<Rect> = wrong.iter().filter_map(|it| placed[*it].room()).collect();
    let is_near = |it: &Choice| {
        it.room().is_some_and(|at| rooms.iter().any(|room| room.inflate(NEAR_MM, NEAR_MM).overlaps(at)))
    };
    (0..placed.len()).map(|n| wrong.contains(&n) || is_near(placed[n])).collect()
}

/// The edges of members and steel, across which nothing had better be written.
pub(super) fn edges(scene: &Scene<'_>) -> Taken {
    let mut edges = Taken::default();
    for body in &scene.inputs.trace.bodies {
        add_edges(&scene.outline(&body.region), &mut edges);
    }
    edges
}

fn add_edges(outline: &BezPath, edges: &mut Taken) {
    for (from, to) in pen::chords(outline) {
        edges.add_stroke(from, to, 0.3);
    }
}
