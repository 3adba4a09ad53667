//! What starting joints are built of: members of stock, and fasteners chosen by what they go through.

use std::sync::Arc;

use kurbo::Point;

use super::WishError;
use crate::joint::{
    Connector, Duration, Fastener, Finish, Grain, Interval, Joint, Load, Member, Outline, Placement, Seat,
    StandardId, Treatment,
};
use crate::sketch::drive::{Outfit, Under};
use crate::sketch::question::{shown, unit_of};
use crate::stock::{FastenerSpec, Material, Stock, WasherSpec};
use crate::unit::Vec3;
use crate::unit::compare::{SAME_MM, at_least, at_most};
use crate::unit::length::from_inches;

/// A joint while it is built.
pub(super) struct Build<'a> {
    /// What is drawn so far.
    pub(super) joint: Joint,
    pub(super) stock: &'a Stock,
}

/// A place on the surface and the way into the wood, of unit length.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) at: Vec3,
    pub(super) toward: Vec3,
}

impl Spot {
    pub(super) fn new(at: [f64; 3], toward: Vec3) -> Self {
        Self { at: at.into(), toward }
    }
}

impl<'a> Build<'a> {
    pub(super) fn new(title: &str, by: StandardId, stock: &'a Stock) -> Self {
        let joint =
            Joint { title: title.to_owned(), show_lengths_in: unit_of(by), standard: by, ..Joint::default() };
        Self { joint, stock }
    }

    pub(super) fn by(&self) -> StandardId {
        self.joint.standard
    }

    /// The one of the two that goes with the standard: for NDS 2018, for EN 1995-1-1.
    pub(super) fn pick<T>(&self, inch: T, metric: T) -> T {
        match self.by() {
            StandardId::Nds2018 => inch,
            StandardId::En199511 => metric,
        }
    }

    /// A length of the standard's unit: inches or millimetres.
    pub(super) fn length(&self, inches: f64, mm: f64) -> f64 {
        self.pick(from_inches(inches), mm)
    }

    /// A length in a sentence.
    pub(super) fn shown(&self, mm: f64) -> String {
        shown(mm, self.by())
    }

    pub(super) fn material(&self, name: &str) -> Result<Arc<Material>, WishError> {
        let missing = || WishError::NotInStock(format!("stock has no material `{name}`"));
        self.stock.materials.get(name).cloned().ok_or_else(missing)
    }

    /// Framing lumber that both standards know.
    pub(super) fn lumber(&self) -> Result<Arc<Material>, WishError> {
        self.material(self.pick("lumber/douglas-fir-larch", "lumber/C24"))
    }

    /// Adds a member; what it is called follows from its name.
    pub(super) fn member(
        &mut self,
        name: &str,
        material: Arc<Material>,
        outline: Outline,
        (depth, grain): (Interval, Grain),
    ) -> &mut Member {
        self.joint.members.push(Member {
            id: name.replace(' ', "-"),
            name: if name.contains(' ') { name.to_owned() } else { String::new() },
            bearing: material.family.bears(),
            material,
            outline,
            cutouts: Vec::new(),
            depth,
            grain,
            treatment: Treatment::None,
            blocking: false,
        });
        let last = self.joint.members.len() - 1;
        &mut self.joint.members[last]
    }

    /// Adds a connector and fills every hole of it.
    pub(super) fn fill_all(&mut self, connector: Connector, spec: &Arc<FastenerSpec>) {
        let holes = connector.plates.iter().flat_map(|it| &it.holes);
        let holes: Vec<String> = holes.map(|it| it.id.clone()).collect();
        for (number, hole) in holes.iter().enumerate() {
            let lead_hole = Outfit::of(spec, self.by(), Under::Steel, self.stock).lead_hole;
            let id = format!("n{}", number + 1);
            self.fill(&id, Arc::clone(spec), (&connector.id, hole)).lead_hole = lead_hole;
        }
        self.joint.connectors.push(connector);
    }

    /// The way a load acts, its size left to the user.
    pub(super) fn load(&mut self, on: &str, toward: Vec3) {
        let duration = Duration::TenYears;
        self.joint.loads.push(Load { on: on.to_owned(), toward, newtons: None, duration });
    }

    pub(super) fn note(&mut self, text: &str) {
        self.joint.notes.push(text.to_owned());
    }

    /// The sizes of a table with this diameter, the shortest first.
    pub(super) fn lengths(&self, table: &str, diameter_mm: f64) -> Vec<Arc<FastenerSpec>> {
        let fits =
            |it: &&Arc<FastenerSpec>| it.table() == table && (it.diameter_mm - diameter_mm).abs() < 0.01;
        let mut found: Vec<_> = self.stock.fasteners.values().filter(fits).cloned().collect();
        found.sort_by(|a, b| a.by_size(b));
        found
    }

    /// A named entry of stock.
    pub(super) fn spec(&self, name: &str) -> Result<Arc<FastenerSpec>, WishError> {
        let missing = || WishError::NotInStock(format!("stock has no fastener `{name}`"));
        self.stock.fasteners.get(name).cloned().ok_or_else(missing)
    }

    /// The longest of the nails of a table that is no longer than this, the thinnest of several.
    pub(super) fn nail_up_to(&self, table: &str, most_mm: f64) -> Result<Arc<FastenerSpec>, WishError> {
        let fits = |it: &&Arc<FastenerSpec>| it.table() == table && at_most(it.length_mm, most_mm);
        let longest =
            self.stock.fasteners.values().filter(fits).max_by(|a, b| {
                a.length_mm.total_cmp(&b.length_mm).then(b.diameter_mm.total_cmp(&a.diameter_mm))
            });
        longest.cloned().ok_or_else(|| {
            WishError::NotInStock(format!("stock has no nail of {} or shorter", self.shown(most_mm)))
        })
    }

    fn washer(&self, diameter_mm: f64) -> Result<Arc<WasherSpec>, WishError> {
        let missing = || {
            let across = self.shown(diameter_mm);
            WishError::NotInStock(format!("stock has no washer for a diameter of {across}"))
        };
        self.stock.washer_for(diameter_mm).cloned().map(Arc::new).ok_or_else(missing)
    }

    /// A bolt with a washer at each end through all that is there, its hole as its standard wants it.
    pub(super) fn bolt(
        &mut self,
        id: &str,
        spot: Spot,
        (diameter_mm, grip_mm): (f64, f64),
    ) -> Result<(), WishError> {
        let washer = self.washer(diameter_mm)?;
        let table = self.pick("bolt/inch", "bolt/metric");
        let between = grip_mm + 2.0 * washer.thickness_mm;
        let fits = |it: &Arc<FastenerSpec>| {
            let beyond = it.length_mm - between;
            it.nut.is_some_and(|nut| at_least(beyond, nut.height_mm))
                && it.thread_mm.is_none_or(|thread| at_most(beyond, thread))
        };
        let Some(spec) = self.lengths(table, diameter_mm).into_iter().find(fits) else {
            let (across, grip) = (self.shown(diameter_mm), self.shown(grip_mm));
            let says = format!("stock has no bolt of {across} for {grip} of material between its washers");
            return Err(WishError::NotInStock(says));
        };
        let Outfit { lead_hole, head_washer, nut_washer } =
            Outfit::of(&spec, self.by(), Under::Member, self.stock);
        let spot = Spot { at: spot.at - spot.toward * washer.thickness_mm, ..spot };
        let new = self.free(id, spec, spot);
        (new.lead_hole, new.head_washer, new.nut_washer) = (lead_hole, head_washer, nut_washer);
        Ok(())
    }

    /// A fastener driven anywhere, flush and bare.
    pub(super) fn free(&mut self, id: &str, spec: Arc<FastenerSpec>, spot: Spot) -> &mut Fastener {
        self.drive(id, spec, Placement::Free { head: spot.at, toward: spot.toward })
    }

    /// A fastener in a hole of a connector.
    pub(super) fn fill(
        &mut self,
        id: &str,
        spec: Arc<FastenerSpec>,
        (connector, hole): (&str, &str),
    ) -> &mut Fastener {
        let (connector, hole) = (connector.to_owned(), hole.to_owned());
        self.drive(id, spec, Placement::Fills { connector, hole, angle_deg: None })
    }

    fn drive(&mut self, id: &str, spec: Arc<FastenerSpec>, place: Placement) -> &mut Fastener {
        self.joint.fasteners.push(Fastener {
            id: id.to_owned(),
            spec,
            place,
            seat: Seat::Flush,
            finish: Finish::Bright,
            lead_hole: None,
            head_washer: None,
            nut_washer: None,
            existing: false,
        });
        let last = self.joint.fasteners.len() - 1;
        &mut self.joint.fasteners[last]
    }
}

/// A rectangle by its lower-left corner and its size.
pub(super) fn rectangle(corner: (f64, f64), size: (f64, f64)) -> Outline {
    Outline::Rectangle { corner: corner.into(), size_mm: size, turn_deg: 0.0 }
}

/// A polygon by its corners.
pub(super) fn polygon(corners: &[(f64, f64)]) -> Outline {
    Outline::Polygon(corners.iter().map(|it| Point::from(*it)).collect())
}

/// So many places from `from` to `to`, the ends among them; one stands in the middle.
pub(super) fn spread(from: f64, to: f64, count: usize) -> Vec<f64> {
    if count <= 1 {
        return vec![f64::midpoint(from, to)];
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of places")]
    let step = (to - from) / (count - 1) as f64;
    #[expect(clippy::cast_precision_loss, reason = "a count of places")]
    let places = (0..count).map(|it| step.mul_add(it as f64, from)).collect();
    places
}

/// How many steps of at most `pitch` fill a length.
pub(super) fn steps(length: f64, pitch: f64) -> usize {
    #[expect(clippy::cast_possible_truncation, reason = "limits keep both sizes sane")]
    #[expect(clippy::cast_sign_loss, reason = "never below zero")]
    let steps = ((length / pitch) - SAME_MM).ceil().max(0.0) as usize;
    steps
}
