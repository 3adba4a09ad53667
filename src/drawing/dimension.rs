//! Dimensions.
use super::Item;
use super::pen::Scene;
use super::place::Taken;
pub(super) fn draw(_scene: &Scene<'_>, _taken: &mut Taken) -> Vec<Item> {
    Vec::new()
}
