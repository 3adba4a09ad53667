//! Another id for a thing, with all that names it: what fills its holes, the loads on it, dimensions, and the labels
//! that were put somewhere on a sheet.

use crate::joint::edit::Change;
use crate::joint::{Anchor, Edit, Joint, Placement};
use crate::sketch::fresh::Ids;
use crate::sketch::question::WishError;

/// What gets another id.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose<'a> {
    /// A member, a connector or a fastener, by its id.
    Thing(&'a str),
    /// A hole: the ids of its connector and its own.
    Hole(&'a str, &'a str),
}

/// Longest id of a joint file, in characters.
const LONGEST: usize = 200;

/// Gives a thing another id, and names it so wherever it is named.
///
/// # Errors
/// An empty id, one that is too long, one with a stroke or a line break, and one that something has already.
pub fn renamed(joint: &Joint, whose: Whose<'_>, id: &str) -> Result<Edit, WishError> {
    let id = id.trim();
    let refuse = |says: &str| Err(WishError::DoesNotFit(says.to_owned()));
    if id.is_empty() {
        return refuse("an id has at least one character");
    }
    if LONGEST < id.chars().count() || id.contains('/') || id.chars().any(char::is_control) {
        return refuse("an id has at most 200 characters, and no stroke or line break");
    }
    let mut new = joint.clone();
    match whose {
        Whose::Thing(old) if old == id => {}
        Whose::Thing(_) if Ids::of(joint).has(id) => {
            return refuse("something is called so already");
        }
        Whose::Thing(old) => rename(&mut new, old, id),
        Whose::Hole(connector, old) => {
            let owner = joint.connectors.iter().find(|it| it.id == connector);
            let mut holes = owner.into_iter().flat_map(|it| &it.plates).flat_map(|it| &it.holes);
            if old != id && holes.any(|it| it.id == id) {
                return refuse("another hole of it is called so already");
            }
            rename_hole(&mut new, (connector, old), id);
        }
    }
    Ok(difference(joint, &new))
}

fn rename(joint: &mut Joint, old: &str, id: &str) {
    let set = |it: &mut String| {
        if it == old {
            id.clone_into(it);
        }
    };
    joint.members.iter_mut().for_each(|it| set(&mut it.id));
    joint.connectors.iter_mut().for_each(|it| set(&mut it.id));
    for it in &mut joint.fasteners {
        set(&mut it.id);
        if let Placement::Fills { connector, .. } = &mut it.place {
            set(connector);
        }
    }
    joint.loads.iter_mut().for_each(|it| set(&mut it.on));
    for it in &mut joint.dimensions {
        for end in [&mut it.from, &mut it.to] {
            if end.id() == Some(old) {
                *end = end.on(id);
            }
        }
    }
    for it in &mut joint.sheet.moved {
        for kind in ["mark", "name"] {
            let what = format!(" {kind} {old}");
            if let Some(view) = it.what.strip_suffix(&what) {
                it.what = format!("{view} {kind} {id}");
            }
        }
        if let Some((view, hole)) = it.what.split_once(&format!(" tag {old}/")) {
            it.what = format!("{view} tag {id}/{hole}");
        }
    }
}

fn rename_hole(joint: &mut Joint, (connector, old): (&str, &str), id: &str) {
    let owner = joint.connectors.iter_mut().filter(|it| it.id == connector);
    let holes = owner.flat_map(|it| &mut it.plates).flat_map(|it| &mut it.holes);
    holes.filter(|it| it.id == old).for_each(|it| id.clone_into(&mut it.id));
    for it in &mut joint.fasteners {
        if let Placement::Fills { connector: of, hole, .. } = &mut it.place
            && of == connector
            && hole == old
        {
            id.clone_into(hole);
        }
    }
    for it in &mut joint.dimensions {
        for end in [&mut it.from, &mut it.to] {
            if let Anchor::Hole { connector: of, hole } = end
                && of == connector
                && hole == old
            {
                id.clone_into(hole);
            }
        }
    }
    for it in &mut joint.sheet.moved {
        let what = format!(" tag {connector}/{old}");
        if let Some(view) = it.what.strip_suffix(&what) {
            it.what = format!("{view} tag {connector}/{id}");
        }
    }
}

/// The edit that makes the one joint of the other, which has as many things.
fn difference(old: &Joint, new: &Joint) -> Edit {
    fn of<T: Clone + PartialEq>(old: &[T], new: &[T], edit: fn(Change<T>) -> Edit) -> Vec<Edit> {
        let pairs = old.iter().zip(new).enumerate().filter(|(_, (old, new))| old != new);
        pairs.map(|(at, (_, new))| edit(Change::Replace { at, new: Box::new(new.clone()) })).collect()
    }
    let mut edits = of(&old.members, &new.members, Edit::Members);
    edits.extend(of(&old.connectors, &new.connectors, Edit::Connectors));
    edits.extend(of(&old.fasteners, &new.fasteners, Edit::Fasteners));
    edits.extend(of(&old.loads, &new.loads, Edit::Loads));
    edits.extend(of(&old.dimensions, &new.dimensions, Edit::Dimensions));
    if old.sheet != new.sheet {
        edits.push(Edit::Sheet(Box::new(new.sheet.clone())));
    }
    Edit::All(edits)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::StandardId;
    use crate::joint::edit::apply;
    use crate::joint::file;
    use crate::sketch::question::Sizes;
    use crate::sketch::start::STARTERS;
    use crate::stock::Stock;
    use crate::trace::trace;

    /// Everything gets another id, one after the other: the joint can still be read, and nothing else is different.
    #[test]
    fn what_is_renamed_is_named_so_everywhere_and_nothing_else_changes() {
        let stock = Stock::built_in();
        for starter in STARTERS {
            let joint = starter.start(&Sizes::defaults(StandardId::Nds2018), &stock).unwrap();
            let mut new = joint.clone();
            let ids: Vec<String> = Ids::of(&joint).all().map(str::to_owned).collect();
            for id in &ids {
                let edit = renamed(&new, Whose::Thing(id), &format!("another {id}")).unwrap();
                let before = new.clone();
                let undo = apply(&mut new, &edit);
                let mut back = new.clone();
                let _ = apply(&mut back, &undo);
                assert_eq!(back, before);
            }
            for (connector, hole) in all_holes(&new) {
                let edit = renamed(&new, Whose::Hole(&connector, &hole), &format!("{hole}x")).unwrap();
                let _ = apply(&mut new, &edit);
            }
            assert_eq!(file::read(&file::write(&new), &stock).as_ref(), Ok(&new), "{}", starter.word);
            assert_eq!(trace(&new), trace(&joint), "{}: the same bodies and shanks", starter.word);
            let text = file::write(&new);
            for id in &ids {
                assert!(!text.contains(&format!("\"{id}\"")), "{}: {id} is still named", starter.word);
            }
        }
    }

    fn all_holes(joint: &Joint) -> Vec<(String, String)> {
        let mut all = Vec::new();
        for owner in &joint.connectors {
            let holes = owner.plates.iter().flat_map(|it| &it.holes);
            all.extend(holes.map(|it| (owner.id.clone(), it.id.clone())));
        }
        all
    }

    #[test]
    fn an_id_that_cannot_be_is_refused() {
        let stock = Stock::built_in();
        let joint = STARTERS[0].start(&Sizes::defaults(StandardId::Nds2018), &stock).unwrap();
        let (one, other) = (joint.members[0].id.as_str(), joint.members[1].id.as_str());
        for id in ["", "  ", "a/b", "a\nb", other, joint.fasteners[0].id.as_str()] {
            assert!(renamed(&joint, Whose::Thing(one), id).is_err(), "{id:?}");
        }
        assert_eq!(renamed(&joint, Whose::Thing(one), one), Ok(Edit::All(Vec::new())), "its own id stays");
    }
}
