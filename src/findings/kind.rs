//! The kinds of finding, their fixed words in files and their short titles in lists.

/// What a finding is about. The word of each in files is [`Kind::word`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// No part of the shank is in a bearing body.
    InAir,
    /// The shank crosses a gap.
    Gap,
    /// The shank crosses a filling.
    Filling,
    /// The shank meets no bearing body after the first body: it misses.
    Shiner,
    /// Bite less than required.
    ShortBite,
    /// The side member is thinner than required.
    ThinSide,
    /// The point leaves the holding body.
    PointOut,
    /// The cover is less than the radius: the shank breaks out sideways.
    BreaksOut,
    /// The axis lies in a face, so that its owner is a matter of rounding.
    AlongFace,
    /// Too near an end.
    EndDistance,
    /// Too near an edge.
    EdgeDistance,
    /// Too near a neighbour.
    Spacing,
    /// Rows so far apart across the grain that the wood splits when it dries.
    Spread,
    /// Two shanks run into each other.
    Clash,
    /// Under the head is neither steel, washer nor wood.
    HeadSeat,
    /// A required hole is empty.
    EmptyHole,
    /// The kind does not suit its hole.
    WrongKind,
    /// The diameter does not suit its hole.
    WrongDiameter,
    /// The length does not suit its hole.
    WrongLength,
    /// The slope is not the one asked for by a hole or the standard.
    WrongAngle,
    /// An angled nail starts too near or too far from the end.
    WrongStart,
    /// A hole wider than the shank may have.
    OversizeHole,
    /// A lead hole too narrow, too wide or missing.
    LeadHole,
    /// A hole in masonry not deep enough.
    HoleDepth,
    /// The head is sunk.
    Overdriven,
    /// The head stands proud.
    Proud,
    /// A washer is missing or too small.
    Washer,
    /// The shank crosses steel where there is no hole.
    ThroughSteel,
    /// The bolt is too short for its washer and nut.
    BoltShort,
    /// The nut is not on steel or a washer, or not square.
    NutSeat,
    /// Two bodies take the same place.
    Overlap,
    /// The finish does not suit treated or wet wood.
    Finish,
    /// The shank is in end grain.
    EndGrain,
    /// The kind of fastener does not suit the body that must hold it.
    Unsuitable,
    /// A fastener names a connector or hole that the joint does not have.
    NoSuchHole,
    /// A load asks more of it than it carries.
    Overloaded,
    /// A load reaches it and the standard gives no value to hold against that.
    NoValue,
    /// A connector is not fastened as its rating presumes.
    BelowRating,
    /// A load comes to no fastener.
    NotCarried,
}

impl Kind {
    /// Every kind, in the order in which they are declared.
    pub const ALL: [Self; 39] = [
        Self::InAir,
        Self::Gap,
        Self::Filling,
        Self::Shiner,
        Self::ShortBite,
        Self::ThinSide,
        Self::PointOut,
        Self::BreaksOut,
        Self::AlongFace,
        Self::EndDistance,
        Self::EdgeDistance,
        Self::Spacing,
        Self::Spread,
        Self::Clash,
        Self::HeadSeat,
        Self::EmptyHole,
        Self::WrongKind,
        Self::WrongDiameter,
        Self::WrongLength,
        Self::WrongAngle,
        Self::WrongStart,
        Self::OversizeHole,
        Self::LeadHole,
        Self::HoleDepth,
        Self::Overdriven,
        Self::Proud,
        Self::Washer,
        Self::ThroughSteel,
        Self::BoltShort,
        Self::NutSeat,
        Self::Overlap,
        Self::Finish,
        Self::EndGrain,
        Self::Unsuitable,
        Self::NoSuchHole,
        Self::Overloaded,
        Self::NoValue,
        Self::BelowRating,
        Self::NotCarried,
    ];

    /// The fixed word in files. It never changes once it is published.
    #[must_use]
    pub const fn word(self) -> &'static str {
        self.names().0
    }

    /// A short title for lists.
    #[must_use]
    pub const fn title(self) -> &'static str {
        self.names().1
    }

    #[allow(clippy::too_many_lines, reason = "one line for each kind, and nothing else")]
    const fn names(self) -> (&'static str, &'static str) {
        match self {
            Self::InAir => ("in_air", "Shank in the air"),
            Self::Gap => ("gap", "Gap on the way"),
            Self::Filling => ("filling", "Filling on the way"),
            Self::Shiner => ("shiner", "Misses the next member"),
            Self::ShortBite => ("short_bite", "Short bite"),
            Self::ThinSide => ("thin_side", "Side member too thin"),
            Self::PointOut => ("point_out", "Point comes out"),
            Self::BreaksOut => ("breaks_out", "Breaks out sideways"),
            Self::AlongFace => ("along_face", "Runs along a face"),
            Self::EndDistance => ("end_distance", "Too near an end"),
            Self::EdgeDistance => ("edge_distance", "Too near an edge"),
            Self::Spacing => ("spacing", "Too near a neighbour"),
            Self::Spread => ("spread", "Rows far apart across the grain"),
            Self::Clash => ("clash", "Shanks run into each other"),
            Self::HeadSeat => ("head_seat", "Head not seated"),
            Self::EmptyHole => ("empty_hole", "Hole still to fill"),
            Self::WrongKind => ("wrong_kind", "Wrong kind for the hole"),
            Self::WrongDiameter => ("wrong_diameter", "Wrong diameter for the hole"),
            Self::WrongLength => ("wrong_length", "Wrong length for the hole"),
            Self::WrongAngle => ("wrong_angle", "Wrong angle"),
            Self::WrongStart => ("wrong_start", "Starts at the wrong place"),
            Self::OversizeHole => ("oversize_hole", "Hole too wide"),
            Self::LeadHole => ("lead_hole", "Lead hole"),
            Self::HoleDepth => ("hole_depth", "Hole not deep enough"),
            Self::Overdriven => ("overdriven", "Overdriven"),
            Self::Proud => ("proud", "Head stands proud"),
            Self::Washer => ("washer", "Washer"),
            Self::ThroughSteel => ("through_steel", "Through steel without a hole"),
            Self::BoltShort => ("bolt_short", "Too short for washer and nut"),
            Self::NutSeat => ("nut_seat", "Nut not seated"),
            Self::Overlap => ("overlap", "Two bodies in one place"),
            Self::Finish => ("finish", "Finish does not suit"),
            Self::EndGrain => ("end_grain", "In end grain"),
            Self::Unsuitable => ("unsuitable", "Unsuitable fastener"),
            Self::NoSuchHole => ("no_such_hole", "No such hole"),
            Self::Overloaded => ("overloaded", "Asked more than it carries"),
            Self::NoValue => ("no_value", "No value for the load on it"),
            Self::BelowRating => ("below_rating", "Not fastened as the rating presumes"),
            Self::NotCarried => ("not_carried", "Load reaches no fastener"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_kind_has_a_word_and_a_title_of_its_own() {
        let words: BTreeSet<&str> = Kind::ALL.iter().map(|it| it.word()).collect();
        let titles: BTreeSet<&str> = Kind::ALL.iter().map(|it| it.title()).collect();
        assert_eq!((words.len(), titles.len()), (Kind::ALL.len(), Kind::ALL.len()));
        assert!(words.iter().all(|it| it.chars().all(|c| c == '_' || c.is_ascii_lowercase())));
        assert!(Kind::ALL.windows(2).all(|it| it[0] < it[1]), "in the order of declaration");
    }
}
