//! The eight samples and the ten ready joints, each entered again into an empty window by what a hand can do there:
//! presses, drags, keys, typed fields and picked lists. What is saved is held against the file, field by field: so
//! every field of them can be reached in the window.

use std::path::Path;
use std::sync::Arc;

use iced::keyboard::key::Named as Key;
use kurbo::Point;
use serde_json::Value;
use shankline::drawing::Subject;
use shankline::joint::edit::Change;
use shankline::joint::{
    Connector, Edit, Fastener, Grain, Hole, Joint, Load, Member, Outline, Placement, Plate, Seat, StandardId,
    file,
};
use shankline::sketch::question::Sizes;
use shankline::sketch::start::STARTERS;
use shankline::stock::Stock;
use shankline::unit::Vec3;
use shankline::window::look::{Command, Fill};
use shankline::window::making::{self, Kind, Shape};
use shankline::window::selected::field::{
    AskedField, FastenerField, Field, HoleField, JointField, MemberField, NameField, TakesField,
};
use shankline::window::top::Named;
use shankline::window::{App, Message, selected, sheet, stock, top};

use super::window_bench::Bench;
use super::window_drawing::{answer, keys, make, set};
use super::window_session::{ctrl, named};

/// A hand that enters a joint.
struct Hand<'a> {
    bench: Bench,
    wanted: &'a Joint,
}

fn mm(it: f64) -> String {
    format!("{it}mm")
}

impl Hand<'_> {
    fn joint(&self) -> &Joint {
        self.bench.app.document().joint()
    }

    /// Types in a field and presses Enter.
    #[track_caller]
    fn enter(&mut self, field: Field, text: &str) {
        self.bench.send(Message::Selected(selected::Message::Typed(field.clone(), text.to_owned())));
        self.bench.send(Message::Selected(selected::Message::Entered(field.clone())));
        self.quiet(&format!("{field:?} {text}"));
    }

    /// Nothing was refused.
    #[track_caller]
    fn quiet(&self, what: &str) {
        let said = self.bench.app.said().unwrap_or_default();
        assert!(
            !said.starts_with("Not done") && !said.contains("must") && !said.contains("cannot"),
            "{what}: {said}"
        );
    }

    /// Picks from a list of the pane of numbers, or ticks there.
    #[track_caller]
    fn pick(&mut self, edit: Edit) {
        self.bench.send(Message::Selected(selected::Message::Picked("Picked".into(), edit)));
        self.quiet("picked");
    }

    fn choose(&mut self, subject: Subject) {
        self.bench.send(Message::Stock(stock::Message::ThingPressed(subject)));
    }

    #[track_caller]
    fn call(&mut self, subject: Subject, id: &str) {
        self.enter(Field::Called(subject, NameField::Id), id);
    }

    fn surroundings(&mut self) {
        let wanted = self.wanted;
        let name = "picked";
        self.bench.send(Message::Top(top::Message::Standard(Named { it: wanted.standard, name })));
        self.bench.send(Message::Top(top::Message::Unit(Named { it: wanted.show_lengths_in, name })));
        self.bench.send(Message::Top(top::Message::Service(Named { it: wanted.service, name })));
        self.enter(Field::Joint(JointField::Title), &wanted.title);
    }

    /// The places of a figure, one after the other: the first by its coordinates, the others so too.
    fn places(&mut self, all: &[Point]) {
        for (n, it) in all.iter().enumerate() {
            let skip = if n == 0 { "" } else { "\t\t" };
            keys(&mut self.bench, &format!("{skip}{}\t{}\n", mm(it.x), mm(it.y)));
        }
    }

    /// Draws an outline as the kind of figure that it is; a turn is typed afterwards.
    fn outline(&mut self, it: &Outline) {
        match it {
            Outline::Rectangle { corner, size_mm, .. } | Outline::ISection { corner, size_mm, .. } => {
                self.places(&[*corner]);
                keys(&mut self.bench, &format!("{}\t{}\n", mm(size_mm.0), mm(size_mm.1)));
            }
            Outline::Round { centre, diameter_mm } => {
                self.places(&[*centre]);
                keys(&mut self.bench, &format!("{}\n", mm(*diameter_mm)));
            }
            Outline::Polygon(corners) => {
                self.places(corners);
                keys(&mut self.bench, "\n");
            }
            Outline::Path(data) => panic!("no sample has a path: {data}"),
        }
    }

    #[track_caller]
    fn member(&mut self, it: &Member) {
        make(&mut self.bench, Kind::Member(shape_of(&it.outline)));
        let (material, it_grain) = (it.material.clone(), it.grain);
        let (treatment, bearing, blocking) = (it.treatment, it.bearing, it.blocking);
        set(&mut self.bench, |set| {
            set.material = Some(material);
            set.grain = Some(match it_grain {
                Grain::InPlane(_) => Grain::InPlane(0.0),
                other => other,
            });
            (set.treatment, set.bearing, set.blocking) = (treatment, bearing, blocking);
        });
        answer(&mut self.bench, making::Key::Name, &it.id);
        answer(&mut self.bench, making::Key::Far, &mm(it.depth.from));
        answer(&mut self.bench, making::Key::Near, &mm(it.depth.to));
        if let Grain::InPlane(deg) = it.grain {
            answer(&mut self.bench, making::Key::GrainDeg, &deg.to_string());
        }
        if let Outline::ISection { flange_mm, web_mm, .. } = it.outline {
            answer(&mut self.bench, making::Key::Flange, &mm(flange_mm));
            answer(&mut self.bench, making::Key::Web, &mm(web_mm));
        }
        self.outline(&it.outline);
        let made = self.joint().members.last().map(|it| it.id.clone());
        assert_eq!(made.as_deref(), Some(it.id.as_str()), "{:?}", self.bench.app.said());
        let field = |which| Field::Member(it.id.clone(), which);
        if !it.name.is_empty() {
            self.enter(field(MemberField::Name), &it.name);
        }
        if let Outline::Rectangle { turn_deg, .. } | Outline::ISection { turn_deg, .. } = it.outline
            && turn_deg != 0.0
        {
            self.enter(field(MemberField::Turn), &turn_deg.to_string());
        }
        for cut in &it.cutouts {
            self.choose(Subject::Member(it.id.clone()));
            make(&mut self.bench, Kind::Cut(shape_of(cut)));
            self.outline(cut);
            self.quiet("a cut");
        }
    }

    #[track_caller]
    fn connector(&mut self, it: &Connector) {
        self.bench.send(named(Key::Escape));
        for (n, plate) in it.plates.iter().enumerate() {
            make(&mut self.bench, Kind::Profile);
            let steel = it.material.clone();
            set(&mut self.bench, |set| (set.steel, set.joins) = (Some(steel), 0 < n));
            answer(&mut self.bench, making::Key::Thickness, &mm(plate.thickness_mm));
            answer(&mut self.bench, making::Key::Bend, &mm(plate.bend_radius_mm));
            answer(&mut self.bench, making::Key::Far, &mm(plate.depth.from));
            answer(&mut self.bench, making::Key::Near, &mm(plate.depth.to));
            self.places(&plate.profile);
            keys(&mut self.bench, "\n");
            let made = self.joint().connectors.last().map(|it| (it.id.clone(), it.plates.len()));
            let (id, count) = made.unwrap_or_else(|| panic!("{}: {:?}", it.id, self.bench.app.said()));
            assert_eq!(count, n + 1, "{} {:?}", it.id, self.bench.app.said());
            if n == 0 {
                self.call(Subject::Connector(id), &it.id);
            }
            self.choose(Subject::Connector(it.id.clone()));
        }
        if !it.name.is_empty() {
            self.enter(Field::Called(Subject::Connector(it.id.clone()), NameField::Name), &it.name);
        }
        for (n, plate) in it.plates.iter().enumerate() {
            for hole in &plate.holes {
                self.hole((&it.id, n), plate, hole);
            }
        }
        if let Some(rating) = &it.rating {
            self.choose(Subject::Connector(it.id.clone()));
            self.enter(Field::Asked(AskedField::Rating(it.id.clone())), &format!("{} N", rating.newtons));
            self.enter(Field::Asked(AskedField::RatingNote(it.id.clone())), &rating.note);
            let at = self.joint().connectors.len() - 1;
            let mut new = Box::new(self.joint().connectors[at].clone());
            if let Some(mine) = &mut new.rating {
                (mine.toward, mine.holes) = (rating.toward, rating.holes);
                mine.spec.clone_from(&rating.spec);
            }
            self.pick(Edit::Connectors(Change::Replace { at, new }));
        }
    }

    #[track_caller]
    fn hole(&mut self, (connector, plate): (&str, usize), of: &Plate, it: &Hole) {
        let made = self.new_hole((connector, plate), of, it);
        self.call(Subject::Hole(connector.to_owned(), made), &it.id);
        let field = |which| Field::Hole(connector.to_owned(), it.id.clone(), which);
        self.enter(field(HoleField::Along), &mm(it.along_mm));
        self.enter(field(HoleField::Depth), &mm(it.depth_mm));
        self.enter(field(HoleField::Diameter), &mm(it.diameter_mm));
        let angle = it.angle_deg.map_or(String::new(), |it| it.to_string());
        self.enter(field(HoleField::Angle), &angle);
        let at = self.joint().connectors.iter().position(|it| it.id == connector).expect("it is there");
        let mut new = Box::new(self.joint().connectors[at].clone());
        let mine =
            new.plates[plate].holes.iter_mut().find(|mine| mine.id == it.id).expect("it is in this plate");
        (mine.duty, mine.driven_from) = (it.duty, it.driven_from);
        mine.takes = match (it.takes, mine.takes) {
            (Some(wanted), now) => {
                let mut takes = now.unwrap_or(wanted);
                takes.kind = wanted.kind;
                Some(takes)
            }
            (None, _) => None,
        };
        self.pick(Edit::Connectors(Change::Replace { at, new }));
        if let Some(takes) = it.takes {
            let field = |which| Field::Takes(connector.to_owned(), it.id.clone(), which);
            self.enter(field(TakesField::Diameter), &mm(takes.diameter_mm));
            self.enter(field(TakesField::Least), &takes.min_length_mm.map_or(String::new(), mm));
        }
    }

    /// Makes a hole in a plate: where it belongs, or where no other plate lies in the way, for its place is typed then.
    #[track_caller]
    fn new_hole(&mut self, (connector, plate): (&str, usize), of: &Plate, it: &Hole) -> String {
        let whole: f64 = of.profile.windows(2).map(|it| (it[1] - it[0]).hypot()).sum();
        let shares = [0.5, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9].map(|it| it * whole);
        let middle = f64::midpoint(of.depth.from, of.depth.to);
        for along in [it.along_mm].into_iter().chain(shares) {
            for row in [it.depth_mm, middle] {
                let before = self.holes(connector, plate);
                let steps = self.bench.app.document().journal.done().count();
                make(&mut self.bench, Kind::Holes);
                for (key, text) in [
                    (making::Key::Count, "1"),
                    (making::Key::Rows, "1"),
                    (making::Key::Row, mm(row).as_str()),
                ] {
                    answer(&mut self.bench, key, text);
                }
                self.places(&[walked(&of.profile, along)]);
                let made = self.holes(connector, plate).into_iter().find(|it| !before.contains(it));
                if let Some(made) = made {
                    return made;
                }
                if steps < self.bench.app.document().journal.done().count() {
                    self.bench.send(ctrl("z"));
                }
            }
        }
        panic!("{connector} {}: {:?}", it.id, self.bench.app.said())
    }

    fn holes(&self, connector: &str, plate: usize) -> Vec<String> {
        let owner = self.joint().connectors.iter().find(|it| it.id == connector).expect("it is there");
        owner.plates[plate].holes.iter().map(|it| it.id.clone()).collect()
    }

    #[track_caller]
    fn fastener(&mut self, it: &Fastener) {
        let before = self.joint().fasteners.len();
        self.bench.send(named(Key::Escape));
        match &it.place {
            Placement::Fills { connector, hole, .. } => {
                self.choose(Subject::Hole(connector.clone(), hole.clone()));
                self.bench.send(Message::Top(top::Message::Pressed(Command::Fill(Fill::One))));
            }
            Placement::Free { head, toward } if toward.x.hypot(toward.y) < 1e-9 => {
                make(&mut self.bench, Kind::HeadOn(it.spec.clone()));
                for (key, text) in [(making::Key::Count, "1"), (making::Key::Rows, "1")] {
                    answer(&mut self.bench, key, text);
                }
                self.places(&[Point::new(head.x, head.y)]);
            }
            Placement::Free { head, toward } => {
                self.bench.send(Message::Stock(stock::Message::NewPressed(it.spec.clone())));
                let way = Vec3::new(toward.x, toward.y, 0.0).unit().expect("it has a way in the plane");
                // A press near a hole would fill it: aside from all of them, and the numbers are entered below.
                let holes = shankline::trace::trace(self.joint()).holes;
                let is_clear =
                    |y: &f64| holes.iter().all(|it| 18.0 < (it.at.x - head.x).hypot(it.at.y - (head.y + y)));
                let aside = [0.0, -15.0, 15.0, -40.0, 40.0, 90.0].into_iter().find(is_clear);
                let from = (head.x, head.y + aside.expect("there is room"));
                self.bench.drag(from, (from.0 + 80.0 * way.x, from.1 + 80.0 * way.y));
            }
        }
        assert_eq!(self.joint().fasteners.len(), before + 1, "{} {:?}", it.id, self.bench.app.said());
        let id = self.joint().fasteners[before].id.clone();
        self.choose(Subject::Fastener(id.clone()));
        self.call(Subject::Fastener(id), &it.id);
        if self.joint().fasteners[before].spec.id != it.spec.id {
            self.bench.send(Message::Stock(stock::Message::SizePressed(it.spec.clone())));
        }
        let field = |which| Field::Fastener(it.id.clone(), which);
        match &it.place {
            Placement::Fills { angle_deg, .. } => {
                self.enter(field(FastenerField::Tilt), &angle_deg.map_or(String::new(), |it| it.to_string()));
            }
            Placement::Free { head, toward } => {
                for (which, at) in [
                    (FastenerField::HeadX, head.x),
                    (FastenerField::HeadY, head.y),
                    (FastenerField::HeadZ, head.z),
                ] {
                    self.enter(field(which), &mm(at));
                }
                if 1e-9 < toward.x.hypot(toward.y) {
                    let way = toward.y.atan2(toward.x).to_degrees();
                    self.enter(field(FastenerField::Direction), &format!("{way:.9}"));
                    let lean = toward.z.atan2(toward.x.hypot(toward.y)).to_degrees();
                    self.enter(field(FastenerField::Lean), &format!("{lean:.9}"));
                }
            }
        }
        self.made_and_driven(before, it);
    }

    /// Finish, seat, drilled hole, washers.
    #[track_caller]
    fn made_and_driven(&mut self, at: usize, it: &Fastener) {
        let mut new = Box::new(self.joint().fasteners[at].clone());
        (new.finish, new.existing) = (it.finish, it.existing);
        let washer = self.bench.app.stock().washer_for(it.spec.diameter_mm).cloned().map(Arc::new);
        new.head_washer = it.head_washer.as_ref().and(washer.clone());
        new.nut_washer = it.nut_washer.as_ref().and(washer);
        new.seat = match it.seat {
            Seat::Flush => Seat::Flush,
            Seat::Proud(_) => Seat::Proud(1.0),
            Seat::Overdriven(_) => Seat::Overdriven(1.0),
        };
        self.pick(Edit::Fasteners(Change::Replace { at, new }));
        let field = |which| Field::Fastener(it.id.clone(), which);
        if let Seat::Proud(by) | Seat::Overdriven(by) = it.seat {
            self.enter(field(FastenerField::SeatBy), &mm(by));
        }
        match it.lead_hole {
            Some(lead) => {
                self.enter(field(FastenerField::LeadDiameter), &mm(lead.diameter_mm));
                self.enter(field(FastenerField::LeadDepth), &mm(lead.depth_mm));
            }
            None => self.enter(field(FastenerField::LeadDiameter), ""),
        }
    }

    #[track_caller]
    fn load(&mut self, it: &Load) {
        let at = self.joint().loads.len();
        let new = Box::new(Load { newtons: None, ..it.clone() });
        self.pick(Edit::Loads(Change::Insert { at, new }));
        if let Some(newtons) = it.newtons {
            self.enter(Field::Asked(AskedField::Size(at)), &format!("{newtons} N"));
        }
    }

    fn notes(&mut self) {
        self.bench.send(ctrl("p"));
        for (n, it) in self.wanted.notes.iter().enumerate() {
            let field = sheet::fields::Field::Note(n);
            self.bench.send(Message::Sheet(sheet::Message::Typed(field, it.clone())));
            self.bench.send(Message::Sheet(sheet::Message::Entered(field)));
        }
        self.bench.send(named(Key::Escape));
    }
}

fn shape_of(outline: &Outline) -> Shape {
    match outline {
        Outline::Rectangle { .. } => Shape::Box,
        Outline::ISection { .. } => Shape::ISection,
        Outline::Round { .. } => Shape::Round,
        Outline::Polygon(_) => Shape::Polygon,
        Outline::Path(_) => Shape::Path,
    }
}

/// The place so far along a profile, its bends left out.
fn walked(profile: &[Point], mut along: f64) -> Point {
    for ends in profile.windows(2) {
        let way = ends[1] - ends[0];
        if along <= way.hypot() {
            return ends[0] + way.normalize() * along;
        }
        along -= way.hypot();
    }
    profile[profile.len() - 1]
}

/// Enters a joint, saves it, and holds the file against the wanted one.
#[track_caller]
fn enters(wanted: &Joint, path: &Path) {
    let app = App::new(Arc::new(Stock::built_in()), Joint::default(), Some(path.to_owned()));
    let mut hand = Hand { bench: Bench::with(app), wanted };
    hand.surroundings();
    wanted.members.iter().for_each(|it| hand.member(it));
    wanted.connectors.iter().for_each(|it| hand.connector(it));
    wanted.fasteners.iter().for_each(|it| hand.fastener(it));
    wanted.loads.iter().for_each(|it| hand.load(it));
    hand.notes();
    hand.bench.send(ctrl("s"));
    let saved = std::fs::read_to_string(path).expect("it is saved");
    let parsed = |text: &str| -> Value { serde_json::from_str(text).expect("a joint file is JSON") };
    let differ = differences("", &parsed(&saved), &parsed(&file::write(wanted)));
    assert!(differ.is_empty(), "{}: {differ:#?}", wanted.title);
    let steps = hand.bench.app.document().journal.done().count();
    for _ in 0..steps {
        hand.bench.send(ctrl("z"));
    }
    assert!(hand.joint().members.is_empty() && hand.joint().title.is_empty(), "all of it is undone");
}

/// Where two files differ by more than a millionth; a way counts by its direction alone.
fn differences(at: &str, got: &Value, wanted: &Value) -> Vec<String> {
    match (got, wanted) {
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().unwrap_or(f64::NAN), b.as_f64().unwrap_or(f64::NAN));
            if (a - b).abs() <= 1e-6 { Vec::new() } else { vec![format!("{at}: {a} for {b}")] }
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            let unit = |it: &[Value]| {
                let part = |n: usize| it.get(n).and_then(Value::as_f64).unwrap_or_default();
                Vec3::new(part(0), part(1), part(2)).unit()
            };
            if at.ends_with("/toward")
                && let (Some(a), Some(b)) = (unit(a), unit(b))
            {
                let off = (a - b).length();
                return if off < 1e-6 { Vec::new() } else { vec![format!("{at}: {a:?} for {b:?}")] };
            }
            let pairs = a.iter().zip(b).enumerate();
            pairs.flat_map(|(n, (a, b))| differences(&format!("{at}/{n}"), a, b)).collect()
        }
        (Value::Object(a), Value::Object(b)) => {
            let keys: std::collections::BTreeSet<&String> = a.keys().chain(b.keys()).collect();
            let of = |map: &serde_json::Map<String, Value>, key: &str| {
                map.get(key).cloned().unwrap_or(Value::Null)
            };
            keys.into_iter()
                .flat_map(|it| differences(&format!("{at}/{it}"), &of(a, it), &of(b, it)))
                .collect()
        }
        _ if got == wanted => Vec::new(),
        _ => vec![format!("{at}: {got} for {wanted}")],
    }
}

#[test]
fn every_field_of_the_eight_samples_is_entered_in_the_window() {
    let stock = Stock::built_in();
    let folder = tempfile::tempdir().unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    let mut count = 0;
    for entry in std::fs::read_dir(root).expect("the samples are there") {
        let path = entry.expect("they can be listed").path();
        let text = std::fs::read_to_string(&path).expect("a sample is text");
        let wanted = file::read(&text, &stock).expect("a sample is sound");
        enters(&wanted, &folder.path().join(path.file_name().expect("it is a file")));
        count += 1;
    }
    assert_eq!(count, 8);
}

#[test]
fn the_ten_ready_joints_are_entered_from_an_empty_window_by_both_standards() {
    let stock = Stock::built_in();
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(STARTERS.len(), 10);
    for standard in [StandardId::Nds2018, StandardId::En199511] {
        for starter in STARTERS {
            let wanted = starter.start(&Sizes::defaults(standard), &stock).expect("its usual sizes fit");
            enters(&wanted, &folder.path().join(format!("{}-{standard:?}.joint.json", starter.word)));
        }
    }
}
