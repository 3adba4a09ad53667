//! A joint made of bytes: of sizes that meet, of angles that nearly meet, of words that mean harm.

use arbitrary::{Result, Unstructured};
use kurbo::Point;
use shankline::joint::{
    Connector, Duration, Duty, Fastener, Finish, Grain, Hole, Interval, Joint, LeadHole, Load, Look, Member,
    Moved, Outline, Paper, Placement, Plate, PlateSide, Revision, Seat, SheetView, StandardId, Takes,
    Treatment, file,
};
use shankline::stock::{FastenerKind, Stock};
use shankline::unit::{LengthUnit, Vec3};

use super::STOCK;

/// The joint that these bytes stand for, if a joint file could hold it.
pub(super) fn joint(bytes: &[u8]) -> Option<Joint> {
    STOCK.with(|stock| {
        let joint = Maker { from: Unstructured::new(bytes), stock }.joint().ok()?;
        // The reader judges it as it judges a file, and what it takes in is what a user can have.
        file::read(&file::write(&joint), stock).ok()
    })
}

struct Maker<'a> {
    from: Unstructured<'a>,
    stock: &'a Stock,
}

impl Maker<'_> {
    fn joint(&mut self) -> Result<Joint> {
        let mut joint = Joint {
            title: self.words()?,
            show_lengths_in: self.one(&[LengthUnit::Inch, LengthUnit::Millimetre])?,
            standard: self.one(&[StandardId::Nds2018, StandardId::En199511])?,
            ..Joint::default()
        };
        for n in 0..self.below(6)? {
            joint.members.push(self.member(n)?);
        }
        for n in 0..self.below(3)? {
            joint.connectors.push(self.connector(n)?);
        }
        let holes: Vec<(String, String)> = joint
            .connectors
            .iter()
            .flat_map(|it| {
                it.plates
                    .iter()
                    .flat_map(|plate| plate.holes.iter().map(|hole| (it.id.clone(), hole.id.clone())))
            })
            .collect();
        for n in 0..self.below(12)? {
            joint.fasteners.push(self.fastener(n, &holes)?);
        }
        if !joint.members.is_empty() {
            for _ in 0..self.below(3)? {
                let on = joint.members[self.below(joint.members.len())?].id.clone();
                let newtons = self.maybe(|it| Ok(f64::from(it.from.arbitrary::<u16>()?)))?;
                joint.loads.push(Load { on, toward: self.place()?, newtons, duration: Duration::TenYears });
            }
        }
        self.sheet(&mut joint)?;
        Ok(joint)
    }

    fn sheet(&mut self, joint: &mut Joint) -> Result<()> {
        if self.from.is_empty() {
            return Ok(());
        }
        joint.notes = (0..self.below(3)?).map(|_| self.words()).collect::<Result<_>>()?;
        let sheet = &mut joint.sheet;
        sheet.paper = self.maybe(|it| it.one(&[Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid]))?;
        sheet.scale = self.maybe(|it| it.one(&[0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 12.0, 100.0]))?;
        for _ in 0..self.below(4)? {
            let look = self.one(&[Look::Front, Look::Side, Look::Top])?;
            sheet.views.push(SheetView { look, cut_mm: self.maybe(Self::coordinate)? });
        }
        sheet.detail = self.words()?;
        sheet.owner = self.words()?;
        sheet.date = self.words()?;
        for _ in 0..self.below(3)? {
            let mark = self.words()?.chars().take(4).collect();
            sheet.revisions.push(Revision {
                mark,
                what: self.words()?,
                by: self.words()?,
                date: self.words()?,
            });
        }
        for n in 0..self.below(3)? {
            let what = format!("front mark f{n}");
            sheet.moved.push(Moved { what, by_mm: (self.coordinate()? % 99.0, self.coordinate()? % 99.0) });
        }
        Ok(())
    }

    fn member(&mut self, n: usize) -> Result<Member> {
        let materials: Vec<_> = self.stock.materials.values().cloned().collect();
        let outline = self.outline()?;
        let cutouts = (0..self.below(3)?).map(|_| self.outline()).collect::<Result<_>>()?;
        let grain = match self.below(3)? {
            0 => Grain::AlongDepth,
            1 => Grain::InPlane(self.angle()?),
            _ => Grain::None,
        };
        Ok(Member {
            id: format!("m{n}"),
            name: self.words()?,
            material: self.one(&materials)?,
            outline,
            cutouts,
            depth: self.depth()?,
            grain,
            treatment: self.one(&[Treatment::None, Treatment::Preservative, Treatment::FireRetardant])?,
            bearing: self.from.ratio(7, 8)?,
            blocking: self.from.arbitrary()?,
        })
    }

    fn outline(&mut self) -> Result<Outline> {
        Ok(match self.below(6)? {
            0..=2 => Outline::Rectangle {
                corner: self.point()?,
                size_mm: (self.size()?, self.size()?),
                turn_deg: self.angle()?,
            },
            3 => Outline::Polygon((0..3 + self.below(6)?).map(|_| self.point()).collect::<Result<_>>()?),
            4 => Outline::Round { centre: self.point()?, diameter_mm: self.size()? },
            _ => {
                let (a, b, c, radius) = (self.point()?, self.point()?, self.point()?, self.size()?);
                let sweep = u8::from(self.from.arbitrary::<bool>()?);
                Outline::Path(format!(
                    "M{} {}L{} {}A{radius} {radius} 0 0 {sweep} {} {}Z",
                    a.x, a.y, b.x, b.y, c.x, c.y
                ))
            }
        })
    }

    fn connector(&mut self, n: usize) -> Result<Connector> {
        let steel: Vec<_> =
            self.stock.materials.values().filter(|it| it.id.starts_with("steel")).cloned().collect();
        let mut plates = Vec::new();
        for plate in 0..1 + self.below(2)? {
            let profile = (0..2 + self.below(3)?).map(|_| self.point()).collect::<Result<_>>()?;
            let depth = self.depth()?;
            let mut holes = Vec::new();
            for hole in 0..self.below(4)? {
                holes.push(Hole {
                    id: format!("h{plate}{hole}"),
                    along_mm: self.size()?,
                    depth_mm: depth.from
                        + (depth.to - depth.from) * f64::from(self.from.arbitrary::<u8>()?) / 255.0,
                    diameter_mm: 1.0 + f64::from(self.from.arbitrary::<u8>()?) / 8.0,
                    duty: self.one(&[Duty::Required, Duty::Extra, Duty::HoldingUp])?,
                    takes: self.maybe(|it| {
                        let kind =
                            it.one(&[FastenerKind::Nail, FastenerKind::Bolt, FastenerKind::LagScrew])?;
                        Ok(Takes { kind, diameter_mm: it.size()?, min_length_mm: it.maybe(Self::size)? })
                    })?,
                    angle_deg: self.maybe(|it| Ok(it.angle()?.clamp(-89.0, 89.0)))?,
                    driven_from: self.one(&[PlateSide::Left, PlateSide::Right])?,
                });
            }
            let thickness_mm = self.one(&[0.9, 1.2, 1.5, 3.0, 6.0])?;
            let bend_radius_mm = self.one(&[0.0, 3.0, 6.0])?;
            plates.push(Plate { thickness_mm, depth, profile, bend_radius_mm, holes });
        }
        Ok(Connector {
            id: format!("c{n}"),
            name: self.words()?,
            material: self.one(&steel)?,
            plates,
            rating: None,
        })
    }

    fn fastener(&mut self, n: usize, holes: &[(String, String)]) -> Result<Fastener> {
        let kinds: Vec<_> = self.stock.fasteners.values().cloned().collect();
        let spec = self.one(&kinds)?;
        let place = if !holes.is_empty() && self.from.arbitrary()? {
            let (connector, hole) = self.one(holes)?;
            Placement::Fills {
                connector,
                hole,
                angle_deg: self.maybe(|it| Ok(it.angle()?.clamp(-89.0, 89.0)))?,
            }
        } else {
            let head = self.place()?;
            let toward = match self.below(4)? {
                0 => self.place()?,
                // Nearly, but not quite, along an axis or a face.
                1 => Vec3::new(1.0, f64::from(self.from.arbitrary::<i8>()?) * 1e-9, 0.0),
                2 => Vec3::new(0.0, -1.0, f64::from(self.from.arbitrary::<i8>()?) * 1e-7),
                _ => {
                    let (sin, cos) = self.angle()?.to_radians().sin_cos();
                    Vec3::new(cos, sin, 0.0)
                }
            };
            Placement::Free { head, toward }
        };
        let seat = match self.below(4)? {
            0 | 1 => Seat::Flush,
            2 => Seat::Proud(self.size()? % 50.0),
            _ => Seat::Overdriven(self.size()? % 50.0),
        };
        Ok(Fastener {
            id: format!("f{n}"),
            spec,
            place,
            seat,
            finish: self.one(&[Finish::Bright, Finish::HotDipGalvanized, Finish::Stainless])?,
            lead_hole: self.maybe(|it| Ok(LeadHole { diameter_mm: it.size()?, depth_mm: it.size()? }))?,
            head_washer: None,
            nut_washer: None,
            existing: self.from.ratio(1, 8)?,
        })
    }

    /// Mostly sixteenths of an inch in a small field, so that things meet; sometimes a hair off; rarely far away.
    fn coordinate(&mut self) -> Result<f64> {
        let grid = f64::from(self.from.arbitrary::<i8>()?) * 25.4 / 4.0;
        Ok(match self.from.arbitrary::<u8>()? {
            0..=199 => grid,
            200..=219 => grid + f64::from(self.from.arbitrary::<i8>()?) * 1e-4,
            220..=235 => grid + f64::from(self.from.arbitrary::<i8>()?) * 1e-12,
            236..=250 => grid + f64::from(self.from.arbitrary::<i16>()?) / 1000.0,
            _ => grid * 1e3,
        })
    }

    fn size(&mut self) -> Result<f64> {
        Ok(self.coordinate()?.abs().max(0.001))
    }

    fn depth(&mut self) -> Result<Interval> {
        let from = self.coordinate()?;
        Ok(Interval { from, to: from + self.size()? })
    }

    fn angle(&mut self) -> Result<f64> {
        let whole = f64::from(self.from.int_in_range(-24..=24)?) * 15.0;
        Ok(match self.below(4)? {
            0 | 1 => whole,
            2 => whole + f64::from(self.from.arbitrary::<i8>()?) * 1e-6,
            _ => (whole + f64::from(self.from.arbitrary::<i8>()?) / 8.0).clamp(-360.0, 360.0),
        })
    }

    fn point(&mut self) -> Result<Point> {
        Ok(Point::new(self.coordinate()?, self.coordinate()?))
    }

    fn place(&mut self) -> Result<Vec3> {
        Ok(Vec3::new(self.coordinate()?, self.coordinate()?, self.coordinate()?))
    }

    fn words(&mut self) -> Result<String> {
        Ok(match self.below(8)? {
            0..=3 => String::new(),
            4 => "</text><script>alert(1)</script>".to_owned(),
            5 => "]]> &#0; \" ' url(http://x.test/) javascript:1 \u{202e}\u{0}\u{1b}\u{fffe}".to_owned(),
            6 => "a long word ".repeat(self.below(60)?),
            _ => {
                let count = self.below(24)?;
                (0..count).map(|_| self.from.arbitrary::<char>()).collect::<Result<_>>()?
            }
        })
    }

    fn one<T: Clone>(&mut self, of: &[T]) -> Result<T> {
        self.from.choose(of).cloned()
    }

    /// A number below `count`; zero where the bytes have run out, so that lists come to an end.
    fn below(&mut self, count: usize) -> Result<usize> {
        if count < 2 { Ok(0) } else { self.from.int_in_range(0..=count - 1) }
    }

    fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> Result<T>) -> Result<Option<T>> {
        if self.from.arbitrary()? { make(self).map(Some) } else { Ok(None) }
    }
}
