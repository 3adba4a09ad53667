//! Styles of buttons, fields, lists and panels.

use iced::border::{self, Border};
use iced::overlay::menu;
use iced::widget::{button, checkbox, container, pick_list, scrollable, text, text_input};
use iced::{Background, Color, Shadow, Theme};

use super::Colours;

const ROUND: f32 = 4.0;

fn edge(colour: Color, width: f32) -> Border {
    border::rounded(ROUND).color(colour).width(width)
}

/// A surface without a border.
pub fn surface(ground: Color) -> impl Fn(&Theme) -> container::Style {
    move |_| container::Style { background: Some(Background::Color(ground)), ..container::Style::default() }
}

/// A card: raised, with a thin border.
pub fn card(colours: &'static Colours, chosen: bool) -> impl Fn(&Theme) -> container::Style {
    move |_| container::Style {
        background: Some(Background::Color(if chosen { colours.chosen } else { colours.raised })),
        border: edge(if chosen { colours.accent } else { colours.rule }, 1.0),
        ..container::Style::default()
    }
}

/// A line in one colour.
pub fn stripe(colour: Color) -> impl Fn(&Theme) -> container::Style {
    surface(colour)
}

/// Words in a colour.
pub fn words(colour: Color) -> impl Fn(&Theme) -> text::Style {
    move |_| text::Style { color: Some(colour) }
}

/// What the eye should find first: filled.
pub fn main_button(colours: &'static Colours) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |_, status| {
        let ground = match status {
            button::Status::Active => colours.accent,
            button::Status::Hovered | button::Status::Pressed => colours.text,
            button::Status::Disabled => colours.rule,
        };
        let word = match status {
            button::Status::Active => colours.on_accent,
            button::Status::Hovered | button::Status::Pressed => colours.raised,
            button::Status::Disabled => colours.soft,
        };
        button::Style {
            background: Some(Background::Color(ground)),
            text_color: word,
            border: edge(ground, 1.0),
            ..button::Style::default()
        }
    }
}

/// A button with a border.
pub fn plain_button(colours: &'static Colours) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |_, status| {
        let (ground, line, word) = match status {
            button::Status::Active => (colours.raised, colours.edge, colours.text),
            button::Status::Hovered => (colours.hover, colours.accent, colours.text),
            button::Status::Pressed => (colours.chosen, colours.accent, colours.text),
            button::Status::Disabled => (colours.raised, colours.rule, colours.soft),
        };
        button::Style {
            background: Some(Background::Color(ground)),
            text_color: word,
            border: edge(line, 1.0),
            ..button::Style::default()
        }
    }
}

/// A button that is only words until the pointer is over it.
pub fn bare_button(
    colours: &'static Colours,
    word: Color,
) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |_, status| {
        let (ground, word) = match status {
            button::Status::Active => (None, word),
            button::Status::Hovered => (Some(colours.hover), word),
            button::Status::Pressed => (Some(colours.chosen), word),
            button::Status::Disabled => (None, colours.soft.scale_alpha(0.6)),
        };
        button::Style {
            background: ground.map(Background::Color),
            text_color: word,
            border: edge(Color::TRANSPARENT, 0.0),
            ..button::Style::default()
        }
    }
}

/// A line of a list, chosen or not. A chosen one has a border too, so that colour is not its only sign.
pub fn line_button(
    colours: &'static Colours,
    chosen: bool,
) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |_, status| {
        let ground = match (chosen, status) {
            (true, _) | (_, button::Status::Pressed) => Some(colours.chosen),
            (_, button::Status::Hovered) => Some(colours.hover),
            (_, button::Status::Active | button::Status::Disabled) => None,
        };
        button::Style {
            background: ground.map(Background::Color),
            text_color: colours.text,
            border: edge(if chosen { colours.accent } else { Color::TRANSPARENT }, 1.0),
            ..button::Style::default()
        }
    }
}

/// A field to type in; `bad` while what stands in it cannot be read.
pub fn field(
    colours: &'static Colours,
    bad: bool,
) -> impl Fn(&Theme, text_input::Status) -> text_input::Style {
    move |_, status| {
        let (line, width) = match (bad, status) {
            (true, _) => (colours.fault, 2.0),
            (false, text_input::Status::Focused { .. }) => (colours.accent, 2.0),
            (false, text_input::Status::Hovered) => (colours.text, 1.0),
            (false, text_input::Status::Active | text_input::Status::Disabled) => (colours.edge, 1.0),
        };
        text_input::Style {
            background: Background::Color(colours.raised),
            border: edge(line, width),
            icon: colours.soft,
            placeholder: colours.soft,
            value: colours.text,
            selection: colours.accent.scale_alpha(0.35),
        }
    }
}

/// A list to pick from.
pub fn pick(colours: &'static Colours) -> impl Fn(&Theme, pick_list::Status) -> pick_list::Style {
    move |_, status| pick_list::Style {
        text_color: colours.text,
        placeholder_color: colours.soft,
        handle_color: colours.soft,
        background: Background::Color(colours.raised),
        border: match status {
            pick_list::Status::Active => edge(colours.edge, 1.0),
            pick_list::Status::Hovered | pick_list::Status::Opened { .. } => edge(colours.accent, 1.0),
        },
    }
}

/// The opened part of a list to pick from.
pub fn pick_menu(colours: &'static Colours) -> impl Fn(&Theme) -> menu::Style {
    move |_| menu::Style {
        background: Background::Color(colours.raised),
        border: edge(colours.edge, 1.0),
        text_color: colours.text,
        selected_text_color: colours.text,
        selected_background: Background::Color(colours.chosen),
        shadow: Shadow::default(),
    }
}

/// A box to tick.
pub fn tick(colours: &'static Colours) -> impl Fn(&Theme, checkbox::Status) -> checkbox::Style {
    move |_, status| {
        let (checkbox::Status::Active { is_checked }
        | checkbox::Status::Hovered { is_checked }
        | checkbox::Status::Disabled { is_checked }) = status;
        let line = match status {
            checkbox::Status::Hovered { .. } => colours.accent,
            checkbox::Status::Active { .. } | checkbox::Status::Disabled { .. } => colours.edge,
        };
        checkbox::Style {
            background: Background::Color(if is_checked { colours.accent } else { colours.raised }),
            icon_color: colours.on_accent,
            border: edge(line, 1.0),
            text_color: Some(colours.text),
        }
    }
}

/// A part that scrolls.
pub fn scroll(colours: &'static Colours) -> impl Fn(&Theme, scrollable::Status) -> scrollable::Style {
    move |theme, status| {
        let mut style = scrollable::default(theme, status);
        for rail in [&mut style.vertical_rail, &mut style.horizontal_rail] {
            rail.background = None;
            rail.scroller.background = Background::Color(colours.edge);
            rail.scroller.border = border::rounded(ROUND);
        }
        style.gap = None;
        style
    }
}
