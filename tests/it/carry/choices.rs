//! Choices side by side, and the little language that names them.

use shankline::findings::carry::compare::{Compared, compare};
use shankline::findings::carry::vary::varied;
use shankline::joint::{Grain, Joint, StandardId};
use shankline::stock::Stock;

use super::{MM, block, driven, ledger_on_rim, load, near, strapped};

#[test]
fn the_schema_of_a_comparison_is_current() {
    let fresh = shankline::findings::carry::compare::schema();
    crate::findings::same_as_stored("resources/schema/compare.schema.json", &fresh);
}

/// 1/4 in of foam and 1/8 in of air between ledger and rim.
fn loose() -> Joint {
    let mut joint = ledger_on_rim();
    let y = [0.0, 9.25 * MM];
    joint.members[1] = block("rim", "lumber/hem-fir", [1.875 * MM, 5.375 * MM], y, Grain::AlongDepth);
    joint.members.push(block("foam", "filling/foam", [1.5 * MM, 1.75 * MM], y, Grain::None));
    joint.fasteners = vec![driven("n1", "nail/common/16d", [0.0, 120.0, 600.0], [1.0, 0.0, 0.0])];
    joint.loads = vec![load("ledger", [0.0, -1.0, 0.0], 200.0)];
    joint
}

fn with(joint: &Joint, text: &str) -> Joint {
    varied(joint, text, &Stock::built_in()).unwrap_or_else(|why| panic!("{why}"))
}

fn beside(joint: &Joint, texts: &[&str]) -> Compared {
    let mut all = vec![("as drawn".to_owned(), joint.clone())];
    all.extend(texts.iter().map(|it| ((*it).to_owned(), with(joint, it))));
    compare(&all)
}

/// Closed, the nail has 2 in of bite and not 1 5/8 in, and the foam is gone; it carries as the tight one does.
#[test]
fn a_gap_is_closed_by_moving_what_is_on_the_head_side() {
    let closed = with(&loose(), "gap 0");
    assert_eq!(closed.members.len(), 2);
    let compared = beside(&loose(), &["gap 0", "gap 1/2\""]);
    let cells: Vec<_> = compared.fasteners[0].choices.iter().flatten().collect();
    near(cells[0].bite_mm, 1.625 * MM, 1e-9);
    near(cells[1].bite_mm, 2.0 * MM, 1e-9);
    near(cells[1].bite_more_mm.expect("the first has it"), 0.375 * MM, 1e-9);
    near(cells[1].gap_mm, 0.0, 1e-9);
    near(cells[2].gap_mm, 0.5 * MM, 1e-9);
    let mut tight = ledger_on_rim();
    (tight.fasteners, tight.loads) = (loose().fasteners, loose().loads);
    let tight = compare(&[("tight".to_owned(), tight)]);
    let value = |it: &Compared, n: usize| {
        it.fasteners[0].choices[n].as_ref().and_then(|it| it.adjusted_n).expect("a value")
    };
    near(value(&compared, 1), value(&tight, 0), 1e-9);
    assert!(value(&compared, 2) < value(&compared, 0) && value(&compared, 0) < value(&compared, 1));
    near(cells[1].adjusted_part.expect("both have values"), value(&compared, 1) / value(&compared, 0), 1e-12);
    near(
        cells[0].ratio.expect("it is loaded") / cells[1].ratio.expect("it is loaded"),
        value(&compared, 1) / value(&compared, 0),
        1e-9,
    );
}

#[test]
fn sizes_species_angles_and_standards_are_changed_by_name() {
    let joint = loose();
    let stock = Stock::built_in();
    assert_eq!(with(&joint, "n1 nail/common/10d").fasteners[0].spec, stock.fasteners["nail/common/10d"]);
    assert_eq!(with(&joint, "all nail/common/20d").fasteners[0].spec, stock.fasteners["nail/common/20d"]);
    let both = with(&joint, "material rim lumber/southern-pine; standard en-1995-1-1; service wet");
    assert_eq!(both.members[1].material, stock.materials["lumber/southern-pine"]);
    assert_eq!(both.standard, StandardId::En199511);
    // 25 degrees off square, anticlockwise from straight to the right: up.
    let angled = with(&joint, "angle n1 25");
    let (sine, cosine) = 25.0_f64.to_radians().sin_cos();
    let shankline::joint::Placement::Free { toward, .. } = angled.fasteners[0].place else {
        panic!("it is free")
    };
    near(toward.x, cosine, 1e-12);
    near(toward.y, sine, 1e-12);
    // On a face that lies level too: 25 degrees anticlockwise from straight down into it.
    let mut lying = ledger_on_rim();
    lying.fasteners = vec![driven("n1", "nail/common/16d", [1.0 * MM, 9.25 * MM, 600.0], [0.0, -1.0, 0.0])];
    let angled = with(&lying, "angle n1 25");
    let shankline::joint::Placement::Free { toward, .. } = angled.fasteners[0].place else {
        panic!("it is free")
    };
    near(toward.x, sine, 1e-12);
    near(toward.y, -cosine, 1e-12);
    let strapped = with(&strapped(1, 1), "angle n0 -20");
    let shankline::joint::Placement::Fills { angle_deg, .. } = strapped.fasteners[0].place else {
        panic!("it fills")
    };
    assert_eq!(angle_deg, Some(-20.0));
}

#[test]
fn what_cannot_be_done_is_said() {
    let refused = |text: &str| varied(&loose(), text, &Stock::built_in()).expect_err("it is refused");
    assert!(refused("").contains("at least one change"));
    assert!(refused("n2 nail/common/10d").contains("there is no fastener n2"));
    assert!(refused("n1 nail/common/11d").contains("stock has no fastener nail/common/11d"));
    assert!(refused("gap -1").contains("`gap -1`"));
    assert!(refused("angle n1 95").contains("-89 to 89"));
    assert!(refused("material shelf lumber/hem-fir").contains("no member or connector shelf"));
    assert!(refused("standard nds").contains("nds-2018"));
    assert!(refused("make it stronger please").contains("all STOCK"));
    // Both pieces hang together by a second way round: a nail with its head on the rim's side.
    let mut tied = loose();
    tied.members.push(block("cleat", "lumber/hem-fir", [0.0, 5.375 * MM], [-40.0, 0.0], Grain::AlongDepth));
    for (id, x) in [("a", 19.0), ("b", 90.0)] {
        tied.fasteners.push(driven(id, "nail/common/16d", [x, -40.0, 300.0], [0.0, 1.0, 0.0]));
    }
    let why = varied(&tied, "gap 0", &Stock::built_in()).expect_err("it is refused");
    assert!(why.contains("hang together"), "{why}");
}

#[test]
fn a_fastener_that_one_choice_lacks_has_no_cell_there() {
    let mut fewer = loose();
    fewer.fasteners[0].id = "other".to_owned();
    let compared = compare(&[("a".to_owned(), loose()), ("b".to_owned(), fewer)]);
    let ids: Vec<&str> = compared.fasteners.iter().map(|it| it.id.as_str()).collect();
    assert_eq!(ids, ["n1", "other"]);
    assert!(compared.fasteners[0].choices[1].is_none() && compared.fasteners[1].choices[0].is_none());
}

/// 6d nails are 2 in long: 1/8 in of them is in the rim, below 6 D (NDS 2018 12.1.6.4), so that they have no value.
#[test]
fn sums_and_ratios_say_whom_they_leave_out() {
    let mut joint = loose();
    joint.fasteners.push(driven("n2", "nail/common/6d", [0.0, 120.0, 800.0], [1.0, 0.0, 0.0]));
    let compared = beside(&joint, &["all nail/common/6d", "all nail/common/16d"]);
    let [drawn, none, all] = &compared.choices[..] else { panic!("three choices") };
    assert_eq!((drawn.joining, drawn.without_value, drawn.worst_ratio), (2, 1, None));
    assert_eq!(drawn.left_out().as_deref(), Some("no value for 1 of 2"));
    assert!(drawn.adjusted_n.is_some());
    assert_eq!((none.adjusted_n, none.adjusted_part, none.worst_ratio), (None, None, None));
    assert_eq!(none.left_out().as_deref(), Some("no value"));
    // Beside a sum that leaves one out there is no part of it.
    assert_eq!((all.left_out(), all.adjusted_part), (None, None));
    assert!(all.worst_ratio.is_some() && drawn.adjusted_n < all.adjusted_n);
}
