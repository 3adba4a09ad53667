//! Random sound joints for tests: every field, every kind, every edge of what may be left out.

use std::sync::Arc;

use kurbo::Point;
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use crate::joint::{
    Anchor, Conditions, Connector, Dimension, Duration, Duty, Fastener, Finish, Grain, Heat, Hole, Interval,
    Joint, LeadHole, Load, Look, Measures, Member, Moved, Outline, Paper, Placement, Plate, PlateSide,
    RatedHoles, Rating, Revision, Seat, Service, SheetSettings, SheetView, StandardId, Takes, Treatment,
};
use crate::stock::{Family, FastenerKind, FastenerSpec, Material, NutSpec, Stock, WasherSpec, WoodType};
use crate::unit::{LengthUnit, Vec3};

fn coordinate() -> impl Strategy<Value = f64> {
    prop_oneof![
        (-2000_i32..2000).prop_map(f64::from),
        (-2000_i32..2000).prop_map(|it| f64::from(it) * 25.4 / 16.0),
        -1e6..1e6_f64,
        select(vec![0.0, -0.0, 1e6, -1e6, 1e-300, 0.1 + 0.2]),
    ]
}

fn size() -> impl Strategy<Value = f64> {
    prop_oneof![(1_i32..500).prop_map(f64::from), 0.001..1e6_f64, select(vec![0.001, 1e6, 38.1])]
}

fn length() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), size()]
}

fn angle(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), Just(most), -most..most]
}

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[ -~]{0,30}",
        ".{0,12}",
        select(vec![
            "a \"quoted\" \\ text".to_owned(),
            "Zeile\nzwei\t\u{1F528}\u{0}".to_owned(),
            "<&>".to_owned()
        ]),
    ]
}

fn point() -> impl Strategy<Value = Point> {
    (coordinate(), coordinate()).prop_map(Point::from)
}

fn place() -> impl Strategy<Value = Vec3> {
    [coordinate(), coordinate(), coordinate()].prop_map(Vec3::from)
}

fn direction() -> impl Strategy<Value = Vec3> {
    place().prop_filter("a direction needs a length", |it| it.unit().is_some())
}

fn depth() -> impl Strategy<Value = Interval> {
    (-1000.0..1000.0_f64, 1.0..1000.0_f64).prop_map(|(from, width)| Interval { from, to: from + width })
}

/// Corners around a centre in order, so that no two sides cross.
fn polygon() -> impl Strategy<Value = Outline> {
    (point(), vec(1.0..300.0_f64, 3..12)).prop_map(|(centre, radii)| {
        let step = std::f64::consts::TAU / f64::from(u32::try_from(radii.len()).unwrap_or(3));
        let mut turn = 0.0_f64;
        let corner = |radius: f64| {
            turn += step;
            // Well within the limit, so that a corner cannot fall outside it.
            Point::new(centre.x / 2.0 + radius * turn.cos(), centre.y / 2.0 + radius * turn.sin())
        };
        Outline::Polygon(radii.into_iter().map(corner).collect())
    })
}

fn outline() -> impl Strategy<Value = Outline> {
    let rectangle = (point(), size(), size(), angle(360.0))
        .prop_map(|(corner, x, y, turn_deg)| Outline::Rectangle { corner, size_mm: (x, y), turn_deg });
    let round = (point(), size()).prop_map(|(centre, diameter_mm)| Outline::Round { centre, diameter_mm });
    let i_section = (point(), 10.0..500.0_f64, 10.0..500.0_f64, 0.01..0.49_f64, angle(360.0)).prop_map(
        |(corner, x, y, part, turn_deg)| Outline::ISection {
            corner,
            size_mm: (x, y),
            flange_mm: y * part,
            web_mm: x * part,
            turn_deg,
        },
    );
    let path = select(vec![
        "M0 0H100V50H0Z".to_owned(),
        "M 0,0 L 100,0 A 50 50 0 0 1 100 100 L 0,100 Z".to_owned(),
        "M0 0H100V100H0Z M20 20H40V40H20Z".to_owned(),
        "M 0 0 Q 50 -40 100 0 C 120 30 120 60 100 90 L 0 90 Z".to_owned(),
    ])
    .prop_map(Outline::Path);
    prop_oneof![rectangle, polygon(), round, i_section, path]
}

fn material(stock: &Stock) -> impl Strategy<Value = Arc<Material>> + use<> {
    let held: Vec<_> = stock.materials.values().cloned().collect();
    let families = select(vec![
        Family::Lumber,
        Family::Glulam,
        Family::Engineered,
        Family::Panel,
        Family::Concrete,
        Family::Masonry,
        Family::Steel,
        Family::Filling,
    ]);
    let wood = of(select(vec![WoodType::Softwood, WoodType::Hardwood]));
    let label = prop_oneof![text(), Just("lumber".to_owned())];
    let own = (label, families, wood, of(0.1..1.2_f64), of(100.0..1000.0_f64), text()).prop_map(
        |(label, family, wood, specific_gravity, density_kg_m3, source)| {
            let id = String::new();
            Arc::new(Material {
                id,
                label,
                family,
                wood,
                specific_gravity,
                density_kg_m3,
                elastic_mpa: None,
                dowel_bearing_mpa: None,
                crushing_mpa: None,
                source,
            })
        },
    );
    prop_oneof![select(held), own]
}

fn kind() -> impl Strategy<Value = FastenerKind> {
    select(vec![
        FastenerKind::Nail,
        FastenerKind::WoodScrew,
        FastenerKind::LagScrew,
        FastenerKind::Bolt,
        FastenerKind::ThreadedRod,
        FastenerKind::MasonryScrew,
    ])
}

fn spec(stock: &Stock) -> impl Strategy<Value = Arc<FastenerSpec>> + use<> {
    let held: Vec<_> = stock.fasteners.values().cloned().collect();
    let measures = (1.0..40.0_f64, 1.0..1000.0_f64, of(0.1..1.0_f64), of(0.1..1.0_f64), 0.0..1.0_f64);
    let head = (of(1.0..3.0_f64), length());
    let nut = of((size(), 1.0..3.0_f64));
    let strength = (of(100.0..1000.0_f64), of(100.0..1000.0_f64));
    let own = (kind(), (text(), text()), measures, head, nut, strength).prop_map(
        |(kind, (label, source), (diameter_mm, length_mm, root, thread, point), head, nut, strength)| {
            Arc::new(FastenerSpec {
                id: String::new(),
                label,
                kind,
                diameter_mm,
                root_mm: root.map(|it| it * diameter_mm),
                length_mm,
                head_mm: head.0.map_or(0.0, |it| it * diameter_mm),
                head_height_mm: head.1,
                thread_mm: thread.map(|it| it * length_mm),
                point_mm: point * length_mm,
                bending_yield_mpa: strength.0,
                tensile_mpa: strength.1,
                nut: nut.map(|it| NutSpec { height_mm: it.0, across_flats_mm: 1.0 + it.1 * diameter_mm }),
                source,
            })
        },
    );
    prop_oneof![select(held), own]
}

fn washer(stock: &Stock) -> impl Strategy<Value = Arc<WasherSpec>> + use<> {
    let held: Vec<_> = stock.washers.iter().cloned().map(Arc::new).collect();
    let own = (prop_oneof![Just(0.0), size()], size(), size(), size(), text()).prop_map(
        |(for_diameter_mm, inner_mm, outer_mm, thickness_mm, source)| {
            let for_diameter_mm = if for_diameter_mm == 0.0 { inner_mm } else { for_diameter_mm };
            Arc::new(WasherSpec {
                id: String::new(),
                for_diameter_mm,
                inner_mm,
                outer_mm,
                thickness_mm,
                source,
            })
        },
    );
    prop_oneof![select(held), own]
}

fn member(stock: &Stock) -> impl Strategy<Value = Member> + use<> {
    let grain =
        prop_oneof![Just(Grain::AlongDepth), Just(Grain::None), angle(360.0).prop_map(Grain::InPlane)];
    let treatment =
        select(vec![Treatment::None, Treatment::Preservative, Treatment::Borate, Treatment::FireRetardant]);
    let shape = (outline(), vec(outline(), 0..3), depth());
    (text(), material(stock), shape, grain, treatment, any::<bool>(), any::<bool>()).prop_map(
        |(name, material, (outline, cutouts, depth), grain, treatment, bearing, blocking)| Member {
            id: String::new(),
            name,
            material,
            outline,
            cutouts,
            depth,
            grain,
            treatment,
            bearing,
            blocking,
        },
    )
}

/// Where a hole lies is given as a share of what the plate allows.
fn hole() -> impl Strategy<Value = Hole> {
    let takes = of((kind(), size(), of(size())).prop_map(|(kind, diameter_mm, min_length_mm)| Takes {
        kind,
        diameter_mm,
        min_length_mm,
    }));
    let duty = select(vec![Duty::Required, Duty::Extra, Duty::HoldingUp]);
    let side = select(vec![PlateSide::Left, PlateSide::Right]);
    (10.0..40.0_f64, 20.0..80.0_f64, 1.0..20.0_f64, duty, takes, of(angle(89.0)), side).prop_map(
        |(along_mm, depth_mm, diameter_mm, duty, takes, angle_deg, driven_from)| Hole {
            id: String::new(),
            along_mm,
            depth_mm,
            diameter_mm,
            duty,
            takes,
            angle_deg,
            driven_from,
        },
    )
}

/// A plate of depth 100 that runs to the right, its legs at least 50 long.
fn plate() -> impl Strategy<Value = Plate> {
    let radius = prop_oneof![Just(0.0), 1.5..5.0_f64];
    let corners = vec((50.0..200.0_f64, -60.0..60.0_f64), 1..5);
    (point(), corners, 0.5..3.0_f64, radius, -500.0..500.0_f64, vec(hole(), 0..4)).prop_map(
        |(start, steps, thickness_mm, bend_radius_mm, from, holes)| {
            let mut at = Point::new(start.x / 2.0, start.y / 2.0);
            let mut profile = vec![at];
            profile.extend(steps.into_iter().map(|step| {
                at += kurbo::Vec2::from(step);
                at
            }));
            let holes = holes.into_iter().map(|it| Hole { depth_mm: it.depth_mm + from, ..it }).collect();
            Plate { thickness_mm, depth: Interval { from, to: from + 100.0 }, profile, bend_radius_mm, holes }
        },
    )
}

fn connector(stock: &Stock) -> impl Strategy<Value = Connector> + use<> {
    let bodies = (text(), material(stock), vec(plate(), 1..3));
    (bodies, of(rating(stock))).prop_map(|((name, material, mut plates), rating)| {
        for (n, hole) in plates.iter_mut().flat_map(|it| &mut it.holes).enumerate() {
            hole.id = format!("h{n}");
        }
        Connector { id: String::new(), name, material, plates, rating }
    })
}

fn rating(stock: &Stock) -> impl Strategy<Value = Rating> + use<> {
    let holes = select(vec![RatedHoles::Required, RatedHoles::All]);
    (0.0..1e9_f64, direction(), holes, of(spec(stock)), text())
        .prop_map(|(newtons, toward, holes, spec, note)| Rating { newtons, toward, holes, spec, note })
}

fn conditions() -> impl Strategy<Value = Conditions> {
    let heat = select(vec![Heat::Ordinary, Heat::Warm, Heat::Hot]);
    (any::<bool>(), heat, any::<bool>(), of(1.0..10.0_f64)).prop_map(
        |(wet_when_made, heat, diaphragm, gamma_m)| Conditions { wet_when_made, heat, diaphragm, gamma_m },
    )
}

/// A fastener in the open; it is put into a hole where the draw says so and there is one.
fn fastener(
    stock: &Stock,
) -> impl Strategy<Value = (Fastener, Option<(prop::sample::Index, Option<f64>)>)> + use<> {
    let seat =
        prop_oneof![Just(Seat::Flush), length().prop_map(Seat::Proud), length().prop_map(Seat::Overdriven)];
    let finish = select(vec![
        Finish::Bright,
        Finish::Electroplated,
        Finish::HotDipGalvanized,
        Finish::MechanicallyGalvanized,
        Finish::Stainless,
        Finish::SiliconBronze,
        Finish::Copper,
    ]);
    let lead_hole = of((size(), size()).prop_map(|it| LeadHole { diameter_mm: it.0, depth_mm: it.1 }));
    let washers = (of(washer(stock)), of(washer(stock)));
    let free = (place(), direction()).prop_map(|(head, toward)| Placement::Free { head, toward });
    let fills = of((any::<prop::sample::Index>(), of(angle(89.0))));
    (spec(stock), free, seat, finish, lead_hole, washers, any::<bool>(), fills).prop_map(
        |(spec, place, seat, finish, lead_hole, (head_washer, nut_washer), existing, fills)| {
            let id = String::new();
            (Fastener { id, spec, place, seat, finish, lead_hole, head_washer, nut_washer, existing }, fills)
        },
    )
}

fn load() -> impl Strategy<Value = (Load, prop::sample::Index)> {
    let duration = select(vec![
        Duration::Permanent,
        Duration::TenYears,
        Duration::TwoMonths,
        Duration::SevenDays,
        Duration::TenMinutes,
        Duration::Impact,
    ]);
    (direction(), of(0.0..1e9_f64), duration, any::<prop::sample::Index>()).prop_map(
        |(toward, newtons, duration, on)| (Load { on: String::new(), toward, newtons, duration }, on),
    )
}

fn sheet() -> impl Strategy<Value = SheetSettings> {
    let paper = of(select(vec![Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid]));
    let look = select(vec![Look::Front, Look::Side, Look::Top]);
    let view = (look, of(-1e5..1e5_f64)).prop_map(|(look, cut_mm)| SheetView { look, cut_mm });
    let revision = [text(), text(), text(), text()].prop_map(|[mark, what, by, date]| Revision {
        mark: mark.chars().take(4).collect(),
        what,
        by,
        date,
    });
    let moved = (text(), (-99.0..99.0_f64, -99.0..99.0_f64)).prop_map(|(what, by_mm)| Moved { what, by_mm });
    let lists = (vec(view, 0..4), vec(revision, 0..3), vec(moved, 0..3));
    let words = [text(), text(), text(), text(), text(), text(), text(), text()];
    ((paper, any::<bool>()), of(0.1..100.0_f64), words, lists).prop_map(|(paper, scale, words, lists)| {
        let (paper, portrait) = paper;
        let [detail, number, supplement, owner, drawn, checked, approved, date] = words;
        let (views, revisions, moved) = lists;
        SheetSettings {
            paper,
            portrait,
            scale,
            views,
            detail,
            number,
            supplement,
            owner,
            drawn,
            checked,
            approved,
            date,
            revisions,
            moved,
        }
    })
}

/// Dimensions that hold on to things that may be there or not.
fn dimension() -> impl Strategy<Value = Dimension> {
    let id = || select(vec!["m0 \u{b0}".to_owned(), "c.0".to_owned(), "f[0]".to_owned(), "gone".to_owned()]);
    let share = || prop_oneof![Just(0.0), Just(1.0), 0.0..1.0_f64];
    let anchor = prop_oneof![
        (id(), 0..4_usize, 0..3_usize, 0..9_usize, share(), share()).prop_map(
            |(of, part, ring, edge, share, deep)| Anchor::Edge { of, part, ring, edge, share, deep },
        ),
        (id(), 0..4_usize).prop_map(|(of, part)| Anchor::Centre { of, part }),
        id().prop_map(Anchor::Head),
        id().prop_map(Anchor::Tip),
        (id(), "[a-z]{1,4}").prop_map(|(connector, hole)| Anchor::Hole { connector, hole }),
        point().prop_map(Anchor::Place),
    ];
    let measures = select(vec![Measures::Straight, Measures::Level, Measures::Upright]);
    let look = select(vec![Look::Front, Look::Side, Look::Top]);
    let two = vec(anchor, 2..=2);
    (
        look,
        two,
        measures,
        coordinate()
            .prop_filter("as a file leaves it out", |it| it.to_bits() << 1 != 0 || it.is_sign_positive()),
    )
        .prop_map(|(look, mut two, measures, offset_mm)| {
            let to = two.remove(1);
            Dimension { look, from: two.remove(0), to, measures, offset_mm }
        })
}

/// A sound joint of this stock's things and of its own.
pub(in crate::joint) fn joint(stock: &Stock) -> impl Strategy<Value = Joint> + use<> {
    let unit = select(vec![LengthUnit::Inch, LengthUnit::Millimetre]);
    let standard = select(vec![StandardId::Nds2018, StandardId::En199511]);
    let service = select(vec![Service::Dry, Service::Humid, Service::Wet]);
    let heading = (text(), unit, standard, service, vec(text(), 0..3), sheet());
    let bodies = (vec(member(stock), 0..4), vec(connector(stock), 0..3));
    let rest = (vec(fastener(stock), 0..5), vec(load(), 0..3), vec(dimension(), 0..4), conditions());
    (heading, bodies, rest).prop_map(|(heading, (members, connectors), rest)| {
        let (fasteners, loads, dimensions, conditions) = rest;
        let (title, show_lengths_in, standard, service, notes, sheet) = heading;
        let (fasteners, holes): (_, Vec<_>) = fasteners.into_iter().unzip();
        let (loads, on): (_, Vec<_>) = loads.into_iter().unzip();
        let mut joint = Joint {
            title,
            show_lengths_in,
            standard,
            service,
            members,
            connectors,
            fasteners,
            loads,
            dimensions,
            conditions,
            notes,
            sheet,
        };
        name_and_refer(&mut joint, &holes, &on);
        joint
    })
}

fn name_and_refer(
    joint: &mut Joint,
    fills: &[Option<(prop::sample::Index, Option<f64>)>],
    on: &[prop::sample::Index],
) {
    for (n, it) in joint.members.iter_mut().enumerate() {
        it.id = format!("m{n} \u{b0}");
    }
    let mut holes = Vec::new();
    for (n, it) in joint.connectors.iter_mut().enumerate() {
        it.id = format!("c.{n}");
        let found = it.plates.iter().flat_map(|it| &it.holes);
        holes.extend(found.map(|hole| (format!("c.{n}"), hole.id.clone())));
    }
    for ((n, it), fills) in joint.fasteners.iter_mut().enumerate().zip(fills) {
        it.id = format!("f[{n}]");
        if let Some((index, angle_deg)) = fills.as_ref().filter(|_| !holes.is_empty()) {
            let (connector, hole) = holes[index.index(holes.len())].clone();
            it.place = Placement::Fills { connector, hole, angle_deg: *angle_deg };
        }
    }
    if joint.members.is_empty() {
        joint.loads.clear();
    }
    for (it, index) in joint.loads.iter_mut().zip(on) {
        it.on.clone_from(&joint.members[index.index(joint.members.len())].id);
    }
}
