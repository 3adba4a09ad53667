//! Long lists: all of a short one is shown, of a long one the part in which the chosen thing stands.

use std::ops::Range;

use super::theme::{Colours, Element, control, gap, reach, text_px};
use iced::Length;
use iced::widget::{button, text};

/// So many lines are shown at once: more would be laid out at every move of the pointer.
const MOST: usize = 120;

/// The lines that are shown of so many, among them the chosen one.
#[must_use]
pub fn part(all: usize, chosen: Option<usize>) -> Range<usize> {
    let first = chosen.map_or(0, |it| it.min(all.saturating_sub(1)) / MOST * MOST);
    first..all.min(first + MOST)
}

/// A line that leads to what stands before the shown part, by the last of it; `None` where nothing does.
pub fn before<'a, M: Clone + 'a>(
    part: &Range<usize>,
    go: impl FnOnce(usize) -> M,
    colours: &'static Colours,
) -> Option<Element<'a, M>> {
    let last = part.start.checked_sub(1)?;
    Some(line(format!("{} before these", part.start), go(last), colours))
}

/// A line that leads to what follows the shown part, by the first of it; `None` where nothing does.
pub fn after<'a, M: Clone + 'a>(
    part: &Range<usize>,
    all: usize,
    go: impl FnOnce(usize) -> M,
    colours: &'static Colours,
) -> Option<Element<'a, M>> {
    let left = all.checked_sub(part.end).filter(|it| 0 < *it)?;
    Some(line(format!("{left} more"), go(part.end), colours))
}

fn line<'a, M: Clone + 'a>(words: String, message: M, colours: &'static Colours) -> Element<'a, M> {
    let face = button(text(words).size(text_px::SMALL))
        .width(Length::Fill)
        .padding(gap::LINE)
        .style(control::plain_button(colours))
        .on_press(message.clone());
    reach(face, Some(message), colours.accent)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_part_of_a_list_holds_what_is_chosen() {
        assert_eq!(part(0, None), 0..0);
        assert_eq!(part(MOST, Some(3)), 0..MOST);
        assert_eq!(part(5 * MOST + 7, None), 0..MOST);
        for chosen in [0, 1, MOST - 1, MOST, 3 * MOST + 5, 5 * MOST + 6, 99 * MOST] {
            let shown = part(5 * MOST + 7, Some(chosen));
            assert!(shown.contains(&chosen.min(5 * MOST + 6)), "{chosen} {shown:?}");
            assert!(shown.len() <= MOST && shown.end <= 5 * MOST + 7);
        }
    }
}
