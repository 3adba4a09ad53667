//! A panel nailed on studs, seen from the front: a joint of many fasteners as people draw it, nearly all
//! of them sound. Made up.

use kurbo::Point;
use shankline::joint::{
    Fastener, Finish, Grain, Interval, Joint, Member, Outline, Placement, Seat, Treatment,
};
use shankline::stock::Stock;
use shankline::unit::Vec3;

const STUDS: u32 = 5;
const NAILS_IN_A_STUD: u32 = 40;
const STUD_APART_MM: f64 = 300.0;
const PITCH_MM: f64 = 60.0;
const STUD_MM: (f64, f64) = (38.1, 88.9);
const PANEL_MM: f64 = 11.9;

/// Five studs behind a panel, forty nails in each; one in forty stands off its stud.
pub(crate) fn panel() -> Joint {
    let stock = Stock::built_in();
    let height = PITCH_MM * f64::from(NAILS_IN_A_STUD);
    let width = STUD_APART_MM * f64::from(STUDS - 1) + STUD_MM.0;
    let member = |id: String, material: &str, (x, width): (f64, f64), depth: (f64, f64)| Member {
        id,
        name: String::new(),
        material: stock.materials.get(material).expect("stock lists it").clone(),
        outline: Outline::Rectangle { corner: Point::new(x, 0.0), size_mm: (width, height), turn_deg: 0.0 },
        cutouts: Vec::new(),
        depth: Interval { from: depth.0, to: depth.1 },
        grain: Grain::InPlane(90.0),
        treatment: Treatment::None,
        bearing: true,
        blocking: false,
    };
    let mut joint = Joint { title: "Panel on studs".to_owned(), ..Joint::default() };
    for stud in 0..STUDS {
        let left = STUD_APART_MM * f64::from(stud);
        let id = format!("stud-{stud}");
        joint.members.push(member(id, "lumber/hem-fir", (left, STUD_MM.0), (-STUD_MM.1, 0.0)));
        for nail in 0..NAILS_IN_A_STUD {
            let off = if nail == 7 { 30.0 } else { 0.0 };
            let head = Vec3::new(left + STUD_MM.0 / 2.0 + off, PITCH_MM * (f64::from(nail) + 0.5), PANEL_MM);
            joint.fasteners.push(Fastener {
                id: format!("n{stud}-{nail}"),
                spec: stock.fasteners.get("nail/common/8d").expect("stock lists it").clone(),
                place: Placement::Free { head, toward: Vec3::new(0.0, 0.0, -1.0) },
                seat: Seat::Flush,
                finish: Finish::Bright,
                lead_hole: None,
                head_washer: None,
                nut_washer: None,
                existing: false,
            });
        }
    }
    joint.members.push(member("panel".to_owned(), "panel/plywood", (0.0, width), (0.0, PANEL_MM)));
    joint
}
