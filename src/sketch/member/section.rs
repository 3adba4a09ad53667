//! Members cut from stock: by nominal or actual size, seen in any of their three views.

use kurbo::Point;

use crate::joint::{Grain, Interval, Outline};
use crate::sketch::question::WishError;
use crate::stock::{Family, SectionSize, Stock};
use crate::unit::LengthUnit;
use crate::unit::length::parse;

/// A section of a member: its thickness, its depth, and flange and web where it is an I.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// What it is called: `2x10`, or the size as typed.
    pub name: String,
    /// The lesser measure, millimetres.
    pub thickness_mm: f64,
    /// The greater measure, millimetres.
    pub depth_mm: f64,
    /// Height of each flange and thickness of the web of an I-section.
    pub i_section_mm: Option<(f64, f64)>,
}

/// How a member is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// Cut across: its section in the drawing, its length in depth.
    Across,
    /// From the side: its length to the right, its depth up, its thickness in depth.
    Side,
    /// From the edge: its length to the right, its thickness up, its depth in depth.
    Edge,
}

/// Which measure of the section stands upright in the drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stands {
    /// The depth: a joist, a stud on edge.
    #[default]
    OnEdge,
    /// The thickness: a plate, a sill.
    Flat,
}

impl Section {
    /// A section of stock; of a panel, which is cut to any width, `width_mm` of it.
    ///
    /// # Errors
    /// A panel without a width.
    pub fn of(size: &SectionSize, width_mm: Option<f64>) -> Result<Self, WishError> {
        let Some(depth_mm) = size.depth_mm.or(width_mm) else {
            let says = format!("{} is cut to any width; say which", size.nominal);
            return Err(WishError::DoesNotFit(says));
        };
        Ok(Self {
            name: size.nominal.clone(),
            thickness_mm: size.thickness_mm,
            depth_mm,
            i_section_mm: size.i_section_mm.map(|it| (it[1], it[2])),
        })
    }

    /// A section as it is typed: nominal, `2x10`, which stock knows, or actual, `1 1/2" x 9 1/4"`, `45 x 195`.
    ///
    /// A size without units is nominal where stock has it by that name, else actual in the unit of the joint.
    ///
    /// # Errors
    /// A text that is no size, or a measure that cannot be read.
    pub fn typed(text: &str, family: Family, unit: LengthUnit, stock: &Stock) -> Result<Self, WishError> {
        let plain: String = text.trim().to_lowercase().replace('×', "x");
        let bare: String = plain.chars().filter(|it| !it.is_whitespace()).collect();
        let named = |it: &&SectionSize| it.nominal.replace(' ', "").to_lowercase() == bare;
        let of_family = stock.sections.iter().filter(|it| it.family == family).find(named);
        if let Some(size) = of_family.or_else(|| stock.sections.iter().find(named)) {
            return Self::of(size, None);
        }
        let refuse = |says: String| Err(WishError::DoesNotFit(says));
        let Some((first, second)) = plain.split_once('x') else {
            return refuse(format!(
                "`{}` is no size; type 2x10, or the actual size, such as 38 mm x 235 mm",
                text.trim()
            ));
        };
        // A unit that stands behind the whole goes for both.
        let shared = ["mm", "cm", "in", "\""].iter().find(|it| second.trim_end().ends_with(**it));
        let first = match shared {
            Some(mark) if first.trim_end().ends_with(|it: char| it.is_ascii_digit()) => {
                format!("{} {mark}", first.trim())
            }
            _ => first.to_owned(),
        };
        let read = |it: &str| {
            parse(it, unit).map_err(|why| WishError::DoesNotFit(format!("`{}`: {why}", it.trim())))
        };
        let (one, other) = (read(&first)?, read(second)?);
        if !(1.0..=5000.0).contains(&one.min(other)) || 5000.0 < one.max(other) {
            return refuse(format!("`{}` is no size that a member has", text.trim()));
        }
        Ok(Self {
            name: text.trim().to_owned(),
            thickness_mm: one.min(other),
            depth_mm: one.max(other),
            i_section_mm: None,
        })
    }

    /// Outline, depth and grain of a member with this section, its lower-left corner at `corner`, `length_mm`
    /// long. Seen across it lies `from_mm` to `from_mm` and its length in depth; else its far face is there.
    ///
    /// An I-section seen from the side is drawn as the rectangle around it.
    #[must_use]
    pub fn placed(
        &self,
        (seen, stands): (Seen, Stands),
        (corner, from_mm): (Point, f64),
        length_mm: f64,
    ) -> (Outline, Interval, Grain) {
        let (thick, deep) = (self.thickness_mm, self.depth_mm);
        let rectangle = |size_mm| Outline::Rectangle { corner, size_mm, turn_deg: 0.0 };
        let through = |mm: f64| Interval { from: from_mm, to: from_mm + mm };
        let across = match stands {
            Stands::OnEdge => (thick, deep),
            Stands::Flat => (deep, thick),
        };
        match (seen, self.i_section_mm) {
            (Seen::Across, Some((flange_mm, web_mm))) => {
                let (corner, turn_deg) = match stands {
                    Stands::OnEdge => (corner, 0.0),
                    Stands::Flat => (corner + kurbo::Vec2::new(deep, 0.0), 90.0),
                };
                let outline =
                    Outline::ISection { corner, size_mm: (thick, deep), flange_mm, web_mm, turn_deg };
                (outline, through(length_mm), Grain::AlongDepth)
            }
            (Seen::Across, None) => (rectangle(across), through(length_mm), Grain::AlongDepth),
            (Seen::Side, _) => (rectangle((length_mm, deep)), through(thick), Grain::InPlane(0.0)),
            (Seen::Edge, _) => (rectangle((length_mm, thick)), through(deep), Grain::InPlane(0.0)),
        }
    }
}
