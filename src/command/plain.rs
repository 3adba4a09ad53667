//! Text that a terminal only shows. A joint file can come from anybody, and what it says must not move the cursor,
//! colour the screen or turn the order of the words.

use std::fmt::Write as _;

/// Whether a terminal would do something at this character rather than show it.
fn acts(it: char) -> bool {
    // The line end is ours. The others are the controls of ISO 6429 and the directions of Unicode's UAX #9.
    it != '\n' && it.is_control() || matches!(it, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// For people: what acts is shown as the sign for a character that cannot be shown.
pub(super) fn for_people(text: &str) -> String {
    text.chars().map(|it| if acts(it) { '\u{fffd}' } else { it }).collect()
}

/// For programs: what acts is written by its number, which JSON reads as the same character.
pub(super) fn for_programs(json: &str) -> String {
    let mut text = String::with_capacity(json.len());
    for it in json.chars() {
        if acts(it) {
            let _ = write!(text, "\\u{:04x}", u32::from(it));
        } else {
            text.push(it);
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_acts_is_shown_and_other_letters_stay() {
        let hostile = "a\u{1b}[2Jb\u{9b}31m\rc\u{202e}d\u{7f} é 1/2\" \u{5d0}\n";
        assert_eq!(
            for_people(hostile),
            "a\u{fffd}[2Jb\u{fffd}31m\u{fffd}c\u{fffd}d\u{fffd} é 1/2\" \u{5d0}\n"
        );
    }

    #[test]
    fn json_reads_back_as_it_was() {
        let hostile = "\u{1b}[2J \u{9b}31m \u{202e} \u{7f} é";
        let json = for_programs(&serde_json::to_string(hostile).unwrap());
        assert!(json.is_ascii() || !json.chars().any(acts), "{json}");
        assert_eq!(serde_json::from_str::<String>(&json).unwrap(), hostile);
    }
}
