//! What was not checked. It always goes with the findings, also when there are none.

use crate::findings::carry::told::{self, Held};
use crate::findings::scene::Scene;
use crate::joint::StandardId;

/// What is left out of the capacities.
fn capacity(scene: &Scene<'_>, held: Held) -> &'static str {
    if told::is_too_large(scene) {
        "Capacity: the joint is so large that only its first fasteners were held against the loads."
    } else if held == Held::NoLoad {
        "Capacity: no load of known size is given, so nothing was held against what the fasteners carry."
    } else if held == Held::Nothing {
        "Capacity: no load comes to a fastener that has a value, so nothing was held against what the fasteners \
         carry."
    } else if scene.joint.standard == StandardId::En199511 {
        "Capacity beyond equal shares: eccentricity, stiffness, prying, friction, bearing on a connector's \
         seat, net section, and splitting of what is not softwood."
    } else {
        "Capacity beyond equal shares: eccentricity, stiffness, prying, friction, bearing on a connector's \
         seat, net section and splitting of the members."
    }
}

pub(super) fn not_checked(scene: &Scene<'_>, held: Held) -> Vec<String> {
    let joint = scene.joint;
    let mut list = vec![capacity(scene, held).to_owned()];
    if scene.pushes.is_empty() && !joint.fasteners.is_empty() {
        list.push(
            "Load: none is given, so loaded edges and ends are not known; distances that depend on it are cautions."
                .to_owned(),
        );
    } else if 1 < scene.pushes.len() {
        list.push("Loads acting together: each was taken by itself.".to_owned());
    }
    list.push(
        "Service: moisture, shrinkage, temperature and fire, beyond the finish of the fasteners.".to_owned(),
    );
    list.push(
        "The members themselves: strength, grade, knots, splits and decay at the fasteners.".to_owned(),
    );
    if joint.connectors.iter().any(|it| it.rating.is_none()) {
        list.push("Connectors: the maker's rating and instructions are not known.".to_owned());
    } else if !joint.connectors.is_empty() {
        list.push(
            "Connectors: the maker's instructions, and the rating beyond what was typed in.".to_owned(),
        );
    }
    let depth = scene.trace.fasteners.iter().any(|it| !it.core.is_empty());
    if depth {
        list.push("The site: gaps, holes and places as built may differ from the drawing.".to_owned());
    }
    list.push(match joint.standard {
        StandardId::Nds2018 => "Local code and amendments to the standard.".to_owned(),
        StandardId::En199511 => "Local code and the national annex of the standard.".to_owned(),
    });
    list
}
