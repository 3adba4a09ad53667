//! The clipboard: things as the text of a joint file, and back with ids of their own.

use std::collections::{BTreeMap, BTreeSet};

use super::{Adding, Chosen, next_fastener, nothing};
use crate::joint::edit::Change;
use crate::joint::{Anchor, Connector, Dimension, Edit, Fastener, Joint, Load, Member, Placement, file};
use crate::sketch::fresh::Ids;
use crate::sketch::motion::Motion;
use crate::sketch::question::WishError;
use crate::stock::Stock;
use crate::trace::Trace;
use crate::unit::Vec3;

/// Things as the text of a joint file. A fastener whose connector is not among them is driven freely there.
///
/// # Errors
/// Nothing selected.
pub fn text(joint: &Joint, trace: &Trace, ids: &[String]) -> Result<String, WishError> {
    let chosen = Chosen::of(joint, ids).without_holes().with_fills(joint);
    if chosen.is_empty() {
        return Err(nothing());
    }
    let connectors: Vec<Connector> =
        chosen.connectors.iter().map(|at| joint.connectors[*at].clone()).collect();
    let members: Vec<Member> = chosen.members.iter().map(|at| joint.members[*at].clone()).collect();
    let fastener = |at: &usize| {
        let mut it = joint.fasteners.get(*at)?.clone();
        if let Placement::Fills { connector, .. } = &it.place
            && !connectors.iter().any(|it| it.id == *connector)
        {
            // One that fills a hole which is not there is nowhere, and cannot be told.
            let shank = trace.fasteners.get(*at).filter(|it| it.toward.unit().is_some())?;
            it.place = Placement::Free { head: shank.head_at, toward: shank.toward };
        }
        Some(it)
    };
    let ids: BTreeSet<&str> = chosen.ids(joint).collect();
    let holds = |it: &Anchor| it.id().is_none_or(|id| ids.contains(id));
    let loads = joint.loads.iter().filter(|it| members.iter().any(|member| member.id == it.on));
    let part = Joint {
        title: joint.title.clone(),
        show_lengths_in: joint.show_lengths_in,
        standard: joint.standard,
        service: joint.service,
        fasteners: chosen.fasteners.iter().filter_map(fastener).collect(),
        loads: loads.cloned().collect(),
        dimensions: joint.dimensions.iter().filter(|it| holds(&it.from) && holds(&it.to)).cloned().collect(),
        members,
        connectors,
        ..Joint::default()
    };
    Ok(file::write(&part))
}

/// Puts the things of a clipboard's text into the joint, moved, as [`inserted`] does.
///
/// # Errors
/// A text that is no joint, with the first thing that is wrong with it; a joint with nothing in it.
pub fn pasted(
    joint: &Joint,
    text: &str,
    motion: &Motion,
    stock: &Stock,
) -> Result<(Edit, Vec<String>), WishError> {
    let other = file::read(text, stock).map_err(|problems| {
        let first = problems.first().map_or_else(String::new, |it| {
            let part = if it.part.is_empty() { String::new() } else { format!("{}: ", it.part) };
            format!(" (line {}: {part}{})", it.line, it.says)
        });
        WishError::DoesNotFit(format!("the clipboard holds nothing that can be put into a joint{first}"))
    })?;
    inserted(joint, &other, motion)
}

/// Puts everything of another joint behind what is there, with free ids and its loads. An empty joint
/// without a title takes over the other's title, unit, standard and surroundings too. Gives the new ids.
///
/// # Errors
/// Nothing in the other joint.
pub fn inserted(joint: &Joint, other: &Joint, motion: &Motion) -> Result<(Edit, Vec<String>), WishError> {
    let mut taken = Ids::of(joint);
    let mut renamed: BTreeMap<&str, String> = BTreeMap::new();
    let mut adding = Adding::new(joint);
    for it in &other.members {
        let id = taken.like(&it.id);
        renamed.insert(&it.id, id.clone());
        adding.member(Member { id, ..motion.member(it) });
    }
    for it in &other.connectors {
        let id = taken.like(&it.id);
        renamed.insert(&it.id, id.clone());
        adding.connector(Connector { id, ..motion.connector(it) });
    }
    for it in &other.fasteners {
        let mut new: Fastener = motion.fastener(it);
        if let Placement::Fills { connector, .. } = &mut new.place
            && let Some(id) = renamed.get(connector.as_str())
        {
            connector.clone_from(id);
        }
        new.id = next_fastener(&mut taken, &new.id);
        renamed.insert(&it.id, new.id.clone());
        adding.fastener(new);
    }
    if adding.ids.is_empty() {
        return Err(WishError::DoesNotFit("there is nothing in it to put into the joint".to_owned()));
    }
    let (mut edits, ids) = (adding.edits, adding.ids);
    for (n, it) in other.loads.iter().enumerate() {
        let Some(on) = renamed.get(it.on.as_str()).cloned() else { continue };
        let new = Box::new(Load { on, toward: motion.direction(it.toward), ..it.clone() });
        edits.push(Edit::Loads(Change::Insert { at: joint.loads.len() + n, new }));
    }
    for (n, it) in other.dimensions.iter().enumerate() {
        let look = it.look;
        let anchor = |it: &Anchor| {
            if let Anchor::Place(at) = it {
                let place = motion.place(look.turned_back(Vec3::new(at.x, at.y, 0.0)));
                return Anchor::Place(look.turned(place).plan());
            }
            it.id().and_then(|id| renamed.get(id)).map_or_else(|| it.clone(), |id| it.on(id))
        };
        let new = Box::new(Dimension { from: anchor(&it.from), to: anchor(&it.to), ..it.clone() });
        edits.push(Edit::Dimensions(Change::Insert { at: joint.dimensions.len() + n, new }));
    }
    edits.extend(surroundings(joint, other));
    Ok((Edit::All(edits), ids))
}

/// What an empty joint takes over from the first thing that is put into it.
fn surroundings(joint: &Joint, other: &Joint) -> Vec<Edit> {
    let is_empty = joint.members.is_empty() && joint.connectors.is_empty() && joint.fasteners.is_empty();
    if !is_empty || !joint.title.is_empty() {
        return Vec::new();
    }
    vec![
        Edit::Title(other.title.clone()),
        Edit::ShowLengthsIn(other.show_lengths_in),
        Edit::Standard(other.standard),
        Edit::Service(other.service),
        Edit::Conditions(other.conditions),
        Edit::Notes(other.notes.clone()),
    ]
}
