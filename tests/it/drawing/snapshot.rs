//! One small sheet as it stands, so that a change of the drawing is seen in the review of its diff.

use shankline::findings::{Kind, Severity};
use shankline::joint::Grain;
use shankline::stock::Family;
use shankline::unit::Vec3;
use shankline::{drawing, paint};

use super::sample::{Sample, nail, rect};

fn small() -> Sample {
    let mut it = Sample::default();
    it.joint.title = "Two boards".to_owned();
    let lumber = (Family::Lumber, "hem-fir");
    it.member("upper", lumber, rect(0.0, 38.1, 139.7, 19.05), Grain::InPlane(0.0));
    it.member("lower", lumber, rect(0.0, 0.0, 139.7, 38.1), Grain::AlongDepth);
    it.fastener(nail("8d common nail", 3.33, 63.5), Vec3::new(60.0, 57.15, 600.0), -Vec3::Y);
    let says = "The point comes out of the lower board by 1/4\".";
    it.find(Kind::PointOut, Severity::Fault, "f1", Some((6.35, 0.0)), says);
    it.findings.not_checked = vec!["Loads.".to_owned()];
    it
}

#[test]
fn a_small_sheet_is_as_it_was() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/snap/two-boards.svg");
    let svg = paint::svg(&drawing::pages(&small().inputs())[0]);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(path, &svg).expect("the snapshot can be written");
    }
    let kept = std::fs::read_to_string(path).expect("the snapshot is there");
    let same = svg.lines().zip(kept.lines()).take_while(|it| it.0 == it.1).count();
    assert!(
        svg == kept,
        "from line {}: {:?} was {:?}; if it is meant, run the test with UPDATE=1 and look at the picture",
        same + 1,
        svg.lines().nth(same),
        kept.lines().nth(same)
    );
}
