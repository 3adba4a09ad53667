//! A short number that tells one state of a joint from another.

use crate::joint::{Joint, file};

/// Eight hexadecimal figures in two groups, made of the joint's file: FNV-1a of 64 bits (IETF draft
/// `draft-eastlake-fnv`), folded to 32. Where things were drawn aside on the sheet does not count.
pub(super) fn of(joint: &Joint) -> String {
    let mut plain = joint.clone();
    plain.sheet.moved.clear();
    let hash = fnv(file::write(&plain).as_bytes());
    let folded = (hash >> 32) ^ (hash & 0xFFFF_FFFF);
    format!("{:04x} {:04x}", folded >> 16, folded & 0xFFFF)
}

fn fnv(bytes: &[u8]) -> u64 {
    bytes
        .iter()
        .fold(0xCBF2_9CE4_8422_2325, |hash, it| (hash ^ u64::from(*it)).wrapping_mul(0x0100_0000_01B3))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_the_published_one() {
        // Test vectors of the FNV draft, section 6.
        assert_eq!(fnv(b""), 0xCBF2_9CE4_8422_2325);
        assert_eq!(fnv(b"a"), 0xAF63_DC4C_8601_EC8C);
        assert_eq!(fnv(b"foobar"), 0x8594_4171_F739_67E8);
    }

    #[test]
    fn another_title_is_another_joint_and_a_mark_drawn_aside_is_not() {
        let mut joint = Joint::default();
        let first = of(&joint);
        assert_eq!(first.len(), 9);
        joint.sheet.moved = vec![crate::joint::Moved { what: "front mark a".into(), by_mm: (1.0, 2.0) }];
        assert_eq!(of(&joint), first);
        joint.title = "x".to_owned();
        assert_ne!(of(&joint), first);
    }
}
