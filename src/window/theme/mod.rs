//! How the window looks: fonts, sizes, and the styles of its controls. Colours stand in [`ink`].
//!
//! No other file of the window holds a colour, a padding or a font size of its own.

mod afresh;
pub mod control;
pub mod ink;
pub mod parts;
mod picking;
mod piece;
mod reach;
mod reveal;
mod under;
pub mod wrap;

use iced::font::Weight;
use iced::{Font, Theme};

pub use ink::Colours;
pub use picking::escape_closed_a_list;
pub use piece::piece;
pub use reach::reach;
pub(super) use reveal::{bring, has_keyboard, reveal, stay_in_sight};
pub use under::{behind, under};

/// An element of the window.
pub type Element<'a, M> = iced::Element<'a, M, Theme>;

/// The bundled text font.
pub const REGULAR: Font = Font::with_name("Roboto");
/// Its bold cut.
pub const BOLD: Font = Font { weight: Weight::Bold, ..REGULAR };

/// The bundled font files, so that no font of the system is ever needed.
pub const FONT_FILES: [&[u8]; 3] = [
    include_bytes!("../../../resources/fonts/Roboto-Regular.ttf"),
    include_bytes!("../../../resources/fonts/Roboto-Bold.ttf"),
    include_bytes!("../../../resources/fonts/RobotoCondensed-Regular.ttf"),
];

/// Font sizes in pixels.
pub mod text_px {
    /// Small heads in capitals, units and hints.
    pub const SMALL: f32 = 12.0;
    /// Ordinary words.
    pub const BODY: f32 = 13.0;
    /// The title of a card.
    pub const CARD: f32 = 14.0;
    /// The title of the joint.
    pub const TITLE: f32 = 16.0;
}

/// Distances in pixels.
pub mod gap {
    /// Between things that belong together.
    pub const TIGHT: f32 = 4.0;
    /// Between rows.
    pub const ROW: f32 = 8.0;
    /// Round a pane.
    pub const PANE: f32 = 14.0;
    /// Between parts of a pane.
    pub const PART: f32 = 18.0;
    /// Padding inside a control.
    pub const CONTROL: [f32; 2] = [5.0, 8.0];
    /// Padding of a line in a list.
    pub const LINE: [f32; 2] = [4.0, 6.0];
}

/// Widths and heights of the parts of the window in pixels.
pub mod part_px {
    /// The bar at the top.
    pub const TOP: f32 = 46.0;
    /// The pane of stock.
    pub const STOCK: f32 = 228.0;
    /// The panes of findings and of what is chosen.
    pub const RIGHT: f32 = 336.0;
    /// The line of hints.
    pub const FOOT: f32 = 26.0;
    /// The same with two lines.
    pub const FOOT_HIGH: f32 = 40.0;
    /// Narrower than this the window has two lines of hints.
    pub const FOOT_NARROW: f32 = 1500.0;
    /// The greatest height of the pane of cores, as a share of the window's.
    pub const CORES_SHARE: f32 = 0.24;
    /// The height of the panel of working and choices below the drawing, as a share of the window's.
    pub const PANEL_SHARE: f32 = 0.46;
    /// The words before a field.
    pub const LABEL: f32 = 118.0;
    /// A panel laid over the window.
    pub const DIALOG: f32 = 520.0;
    /// Room for the words over the offers of an empty canvas.
    pub const OFFERS: f32 = 120.0;
    /// A panel that takes nearly the whole window.
    pub const DIALOG_WIDE: f32 = 1240.0;
    /// Its greatest height.
    pub const DIALOG_HIGH: f32 = 600.0;
    /// What the bar at the top holds besides the title.
    pub const TOP_TAKEN: f32 = 900.0;
    /// The mark of a finding.
    pub const MARK: f32 = 24.0;
}

/// The theme that the toolkit's own parts take their colours from.
#[must_use]
pub fn theme(colours: &Colours) -> Theme {
    let palette = iced::theme::Palette {
        background: colours.pane,
        text: colours.text,
        primary: colours.accent,
        success: colours.accent,
        warning: colours.caution,
        danger: colours.fault,
    };
    Theme::custom(if colours.dark { "Shankline dark" } else { "Shankline light" }, palette)
}
