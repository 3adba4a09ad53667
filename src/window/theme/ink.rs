//! Colours, light and dark: of the window's surfaces, and of every class of line, fill and word of a drawing.
//!
//! Every pair of words and ground that is used together has a contrast of at least 4.5 to 1
//! (WCAG 2.2, 1.4.3), every mark and border of a control at least 3 to 1 (1.4.11); a test measures it.

use iced::Color;

use crate::drawing::{Fill, Ink, Line, Mood};
use crate::findings::Severity;

/// The colours of one theme.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Colours {
    /// Whether it is the dark one.
    pub dark: bool,
    /// The bars, the pane of cores and cards.
    pub raised: Color,
    /// The panes at the sides.
    pub pane: Color,
    /// The canvas.
    pub canvas: Color,
    /// Lines between panes and round cards.
    pub rule: Color,
    /// The border of something that can be typed in or pressed.
    pub edge: Color,
    /// Words.
    pub text: Color,
    /// Words that stand back.
    pub soft: Color,
    /// What can be pressed, and what is chosen.
    pub accent: Color,
    /// Words on the accent.
    pub on_accent: Color,
    /// The ground of what is chosen in a list.
    pub chosen: Color,
    /// The ground under the pointer.
    pub hover: Color,
    /// A fault.
    pub fault: Color,
    /// A caution.
    pub caution: Color,
    /// A note, or nothing to tell.
    pub quiet: Color,
    /// Words on a filled mark.
    pub on_mark: Color,
    /// Over the window while a question is asked.
    pub veil: Color,
    /// The strong lines of a drawing.
    pub line: Color,
    /// The fine lines of a drawing.
    pub fine: Color,
    /// The outline of steel.
    pub steel_line: Color,
    /// Sawn lumber.
    pub lumber: Color,
    /// Engineered wood.
    pub engineered: Color,
    /// Panels.
    pub panel: Color,
    /// Concrete and masonry.
    pub concrete: Color,
    /// Fillings.
    pub filling: Color,
    /// A connector's steel: slate, never bright.
    pub steel: Color,
    /// A shank in solid material.
    pub shank: Color,
    /// A shank that was there before.
    pub existing: Color,
    /// The hatching of wood and the rest.
    pub hatch: Color,
}

const fn hex(rgb: u32) -> Color {
    let [_, r, g, b] = rgb.to_be_bytes();
    Color::from_rgb8(r, g, b)
}

/// By day.
pub const LIGHT: Colours = Colours {
    dark: false,
    raised: hex(0xffffff),
    pane: hex(0xf1f4f4),
    canvas: hex(0xfcfbf7),
    rule: hex(0xccd5d8),
    edge: hex(0x76868e),
    text: hex(0x1b262c),
    soft: hex(0x55646c),
    accent: hex(0x006e78),
    on_accent: hex(0xffffff),
    chosen: hex(0xd8ebec),
    hover: hex(0xe4ebec),
    fault: hex(0xa3152a),
    caution: hex(0x835300),
    quiet: hex(0x006e78),
    on_mark: hex(0xffffff),
    line: hex(0x1f2a30),
    fine: hex(0x6b6557),
    steel_line: hex(0x3f505c),
    lumber: hex(0xecdfc3),
    engineered: hex(0xdccba0),
    panel: hex(0xd8d3c6),
    concrete: hex(0xd3d5d4),
    filling: hex(0xe6edf1),
    steel: hex(0x9dadb8),
    shank: hex(0x1f2a30),
    existing: hex(0x77838a),
    hatch: hex(0xb7a06c),
    veil: Color { r: 0.05, g: 0.08, b: 0.09, a: 0.55 },
};

/// By night.
pub const DARK: Colours = Colours {
    dark: true,
    raised: hex(0x232b30),
    pane: hex(0x1b2226),
    canvas: hex(0x14191c),
    rule: hex(0x3a454b),
    edge: hex(0x7d8c94),
    text: hex(0xe9edef),
    soft: hex(0xa9b5bb),
    accent: hex(0x5cc3cb),
    on_accent: hex(0x0d1417),
    chosen: hex(0x21474b),
    hover: hex(0x2d373d),
    fault: hex(0xff8f99),
    caution: hex(0xe8b45c),
    quiet: hex(0x5cc3cb),
    on_mark: hex(0x14191c),
    line: hex(0xe3e7e4),
    fine: hex(0x9a9484),
    steel_line: hex(0xb4c3ce),
    lumber: hex(0x594c33),
    engineered: hex(0x6a5730),
    panel: hex(0x4b4940),
    concrete: hex(0x41464a),
    filling: hex(0x2b363d),
    steel: hex(0x5b6b78),
    shank: hex(0xf0f3f1),
    existing: hex(0x8f9aa0),
    hatch: hex(0x93804f),
    veil: Color { r: 0.05, g: 0.08, b: 0.09, a: 0.55 },
};

impl Colours {
    /// The colours of the theme.
    #[must_use]
    pub const fn of(dark: bool) -> &'static Self {
        if dark { &DARK } else { &LIGHT }
    }

    /// The colour of a severity.
    #[must_use]
    pub fn severity(&self, severity: Severity) -> Color {
        self.mood(Mood::from(Some(severity)))
    }

    /// The colour of a mood.
    #[must_use]
    pub fn mood(&self, mood: Mood) -> Color {
        match mood {
            Mood::Fault => self.fault,
            Mood::Caution => self.caution,
            Mood::Quiet => self.quiet,
        }
    }

    /// The colour of a line of a drawing.
    #[must_use]
    pub fn line(&self, line: Line) -> Color {
        match line {
            Line::Cut | Line::Seen | Line::Hidden | Line::Tick | Line::Frame => self.line,
            Line::Shank => self.shank,
            Line::Steel | Line::SteelHatch | Line::Hole => self.steel_line,
            Line::Filling | Line::Break | Line::Dimension | Line::Rule => self.soft,
            Line::Hatch => self.hatch,
            Line::ShankInAir(mood) | Line::Leader(mood) | Line::Mark(mood) => self.mood(mood),
            Line::Handle => self.accent,
        }
    }

    /// The colour of a fill of a drawing.
    #[must_use]
    pub fn fill(&self, fill: Fill) -> Color {
        match fill {
            Fill::Paper => self.canvas,
            Fill::Lumber => self.lumber,
            Fill::Engineered => self.engineered,
            Fill::Panel => self.panel,
            Fill::Concrete => self.concrete,
            Fill::Filling => self.filling,
            Fill::Steel => self.steel,
            Fill::Shank => self.shank,
            Fill::ExistingShank => self.existing,
            Fill::Mark(mood) => self.mood(mood),
            Fill::Handle => self.raised,
        }
    }

    /// The colour of words of a drawing.
    #[must_use]
    pub fn ink(&self, ink: Ink) -> Color {
        match ink {
            Ink::Plain => self.text,
            Ink::Soft => self.soft,
            Ink::Mood(mood) => self.mood(mood),
            Ink::OnMark => self.on_mark,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrast ratio of WCAG 2.2 (relative luminance of sRGB, plus 0.05).
    fn contrast(a: Color, b: Color) -> f64 {
        let linear = |it: f32| {
            let it = f64::from(it);
            if it <= 0.040_45 { it / 12.92 } else { ((it + 0.055) / 1.055).powf(2.4) }
        };
        let luminance = |c: Color| 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b);
        let (a, b) = (luminance(a) + 0.05, luminance(b) + 0.05);
        if a < b { b / a } else { a / b }
    }

    #[test]
    fn the_measure_of_contrast_is_right_at_both_ends() {
        // WCAG 2.2, definition of contrast ratio: 21 for black on white, 1 for like on like.
        assert!((contrast(Color::BLACK, Color::WHITE) - 21.0).abs() < 1e-9);
        assert!((contrast(LIGHT.fault, LIGHT.fault) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn words_stand_out_from_every_ground_they_are_set_on() {
        for colours in [&LIGHT, &DARK] {
            let grounds = [colours.raised, colours.pane, colours.canvas, colours.hover, colours.chosen];
            let words =
                [colours.text, colours.soft, colours.accent, colours.fault, colours.caution, colours.quiet];
            for (n, word) in words.iter().enumerate() {
                for (m, ground) in grounds.iter().enumerate() {
                    let ratio = contrast(*word, *ground);
                    assert!(4.5 <= ratio, "dark {}: word {n} on ground {m}: {ratio:.2}", colours.dark);
                }
            }
            let solid = [colours.fault, colours.caution, colours.quiet];
            for ground in solid {
                assert!(4.5 <= contrast(colours.on_mark, ground));
            }
            assert!(4.5 <= contrast(colours.on_accent, colours.accent));
            let fills =
                [colours.lumber, colours.engineered, colours.panel, colours.concrete, colours.filling];
            for (n, fill) in fills.iter().enumerate() {
                let ratio = contrast(colours.text, *fill);
                assert!(4.5 <= ratio, "dark {}: label on fill {n}: {ratio:.2}", colours.dark);
            }
        }
    }

    #[test]
    fn borders_shanks_and_marks_stand_out() {
        for colours in [&LIGHT, &DARK] {
            for ground in [colours.raised, colours.pane, colours.canvas] {
                assert!(3.0 <= contrast(colours.edge, ground), "dark {}", colours.dark);
            }
            let fills =
                [colours.lumber, colours.engineered, colours.panel, colours.concrete, colours.filling];
            for (n, fill) in fills.iter().enumerate() {
                for (m, line) in [colours.shank, colours.line].iter().enumerate() {
                    let ratio = contrast(*line, *fill);
                    assert!(3.0 <= ratio, "dark {}: line {m} on fill {n}: {ratio:.2}", colours.dark);
                }
            }
        }
    }

    #[test]
    fn steel_is_slate_and_never_bright() {
        for steel in [LIGHT.steel, DARK.steel, LIGHT.steel_line, DARK.steel_line] {
            let (high, low) = (steel.r.max(steel.g).max(steel.b), steel.r.min(steel.g).min(steel.b));
            assert!(high - low < 0.15, "hardly any hue");
            assert!(steel.r < steel.g && steel.g < steel.b, "what hue there is leans to blue");
        }
    }
}
