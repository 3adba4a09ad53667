//! The fields of the sheet's settings: what each shows, and the edit that its text asks for.

use crate::drawing;
use crate::joint::{Edit, Revision, SheetSettings, SheetView, read_scale};
use crate::window::look::Look;
use crate::window::words;

/// The longest text that a joint file holds in a field of the title block, and in a note or the words of a revision.
const LONGEST: usize = 200;
const LONGEST_WORDS: usize = 1000;
const LONGEST_MARK: usize = 20;

/// A field of the settings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// A scale beside the standard ones.
    Scale,
    /// The plane that cuts a view.
    Cut(usize),
    /// Of the title block.
    Block(BlockField),
    /// A note; the one after the last is a new one.
    Note(usize),
    /// Of a row of the revision table.
    Revision(usize, RevisionField),
}

/// Fields of the title block, after ISO 7200.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlockField {
    /// The title of the joint.
    Title,
    /// A second line to the title.
    Supplement,
    /// The number of the detail.
    Detail,
    /// Identification number of the document.
    Number,
    /// Who owns the document.
    Owner,
    /// Who drew it.
    Drawn,
    /// Who checked it.
    Checked,
    /// Who approved it.
    Approved,
    /// Date of issue.
    Date,
}

/// Fields of one row of the revision table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RevisionField {
    /// Its letter or number.
    Mark,
    /// When.
    Date,
    /// By whom.
    By,
    /// What was changed.
    What,
}

/// The fields of the title block in their order.
pub(super) const BLOCK: [BlockField; 9] = [
    BlockField::Title,
    BlockField::Supplement,
    BlockField::Detail,
    BlockField::Number,
    BlockField::Owner,
    BlockField::Drawn,
    BlockField::Checked,
    BlockField::Approved,
    BlockField::Date,
];

/// The name of a step and its edit, or why there is none, in words.
pub(super) type Written = Result<(String, Edit), String>;

impl Field {
    /// What stands before the field, or names its step.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Scale => "Another scale",
            Self::Cut(_) => "Cut at",
            Self::Block(it) => match it {
                BlockField::Title => "Title",
                BlockField::Supplement => "Second title",
                BlockField::Detail => "Detail number",
                BlockField::Number => "Document no.",
                BlockField::Owner => "Owner",
                BlockField::Drawn => "Drawn by",
                BlockField::Checked => "Checked by",
                BlockField::Approved => "Approved by",
                BlockField::Date => "Date of issue",
            },
            Self::Note(_) => "Note",
            Self::Revision(_, it) => match it {
                RevisionField::Mark => "Issue",
                RevisionField::Date => "Date",
                RevisionField::By => "By",
                RevisionField::What => "What was changed",
            },
        }
    }

    /// What an empty field shows.
    pub(super) fn empty_words(self, look: &Look<'_>) -> &'static str {
        match self {
            Self::Scale => "as chosen above",
            Self::Cut(_) => "seen whole",
            Self::Block(_) => "",
            Self::Note(n) if n < look.joint.notes.len() => "",
            Self::Note(_) => "another note",
            Self::Revision(..) => self.words(),
        }
    }

    /// The name by which the field is found among all widgets.
    #[must_use]
    pub fn name(self) -> String {
        format!("sheet {self:?}")
    }

    /// The value as text that reads back as the same value.
    #[must_use]
    pub fn read(self, look: &Look<'_>) -> String {
        let (joint, sheet) = (look.joint, &look.joint.sheet);
        match self {
            Self::Scale => {
                other_scale(look).map_or_else(String::new, |it| drawing::scale_words(it, look.unit()))
            }
            Self::Cut(n) => {
                let cut = views(look).get(n).and_then(|it| it.cut_mm);
                cut.map_or_else(String::new, |it| words::exact(it, look.unit()))
            }
            Self::Block(BlockField::Title) => joint.title.clone(),
            Self::Block(it) => block_of(&mut sheet.clone(), it).map(std::mem::take).unwrap_or_default(),
            Self::Note(n) => joint.notes.get(n).cloned().unwrap_or_default(),
            Self::Revision(n, it) => sheet
                .revisions
                .get(n)
                .cloned()
                .map_or_else(String::new, |mut row| std::mem::take(revision_of(&mut row, it))),
        }
    }

    /// The edit that the text asks for.
    pub(super) fn write(self, text: &str, look: &Look<'_>) -> Written {
        let name = self.words().to_owned();
        let mut sheet = look.joint.sheet.clone();
        match self {
            Self::Scale => {
                let text = text.trim();
                sheet.scale = if text.is_empty() { None } else { Some(read_scale(text)?) };
            }
            Self::Cut(n) => {
                let mut all = views(look);
                let view = all.get_mut(n).ok_or("This view is no longer there.")?;
                let is_whole = text.trim().is_empty();
                view.cut_mm = if is_whole { None } else { Some(words::length(text, look.unit())?) };
                sheet.views = all;
            }
            Self::Block(BlockField::Title) => {
                return Ok((name, Edit::Title(no_longer_than(text, LONGEST)?)));
            }
            Self::Block(it) => {
                if let Some(field) = block_of(&mut sheet, it) {
                    *field = no_longer_than(text, LONGEST)?;
                }
            }
            Self::Note(n) => return write_note(n, no_longer_than(text, LONGEST_WORDS)?, look),
            Self::Revision(n, it) => {
                let row = sheet.revisions.get_mut(n).ok_or("This row is no longer there.")?;
                let longest = match it {
                    RevisionField::Mark => LONGEST_MARK,
                    RevisionField::What => LONGEST_WORDS,
                    RevisionField::By | RevisionField::Date => LONGEST,
                };
                *revision_of(row, it) = no_longer_than(text, longest)?;
            }
        }
        Ok((name, Edit::Sheet(Box::new(sheet))))
    }
}

fn no_longer_than(text: &str, most: usize) -> Result<String, String> {
    if text.chars().count() <= most {
        Ok(text.to_owned())
    } else {
        Err(format!("No more than {most} letters."))
    }
}

/// A note in its place; one that was emptied again at the end of the list is no note.
fn write_note(n: usize, text: String, look: &Look<'_>) -> Written {
    let mut notes = look.joint.notes.clone();
    match notes.get_mut(n) {
        Some(note) => *note = text,
        None => notes.push(text),
    }
    while notes.last().is_some_and(String::is_empty) {
        notes.pop();
    }
    Ok((format!("Note {}", n + 1), Edit::Notes(notes)))
}

fn block_of(sheet: &mut SheetSettings, field: BlockField) -> Option<&mut String> {
    Some(match field {
        BlockField::Title => return None,
        BlockField::Supplement => &mut sheet.supplement,
        BlockField::Detail => &mut sheet.detail,
        BlockField::Number => &mut sheet.number,
        BlockField::Owner => &mut sheet.owner,
        BlockField::Drawn => &mut sheet.drawn,
        BlockField::Checked => &mut sheet.checked,
        BlockField::Approved => &mut sheet.approved,
        BlockField::Date => &mut sheet.date,
    })
}

fn revision_of(row: &mut Revision, field: RevisionField) -> &mut String {
    match field {
        RevisionField::Mark => &mut row.mark,
        RevisionField::Date => &mut row.date,
        RevisionField::By => &mut row.by,
        RevisionField::What => &mut row.what,
    }
}

/// The views of the sheet: those that were chosen, else those that the joint needs.
pub(super) fn views(look: &Look<'_>) -> Vec<SheetView> {
    drawing::sheet_views(&look.inputs())
}

/// A scale that is none of the standard ones.
pub(super) fn other_scale(look: &Look<'_>) -> Option<f64> {
    let scale = look.joint.sheet.scale?;
    let is_standard = drawing::standard_scales(look.unit()).any(|it| is_same(it, scale));
    (!is_standard).then_some(scale)
}

/// Whether two scales are one.
pub(super) fn is_same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9 * a.abs().max(1.0)
}

/// The mark of the row after the last one: `A`, then the letter or number that follows.
pub(super) fn next_mark(rows: &[Revision]) -> String {
    let Some(last) = rows.last() else { return "A".to_owned() };
    if let Ok(number) = last.mark.trim().parse::<u32>() {
        return number.saturating_add(1).to_string();
    }
    match last.mark.trim().as_bytes() {
        [letter @ (b'A'..=b'Y' | b'a'..=b'y')] => char::from(letter + 1).to_string(),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_marked_one_after_the_other() {
        let after = |mark: &str| next_mark(&[Revision { mark: mark.to_owned(), ..Revision::default() }]);
        assert_eq!(next_mark(&[]), "A");
        assert_eq!(
            [after("A"), after("c"), after("9"), after("Z"), after("first")],
            ["B", "d", "10", "", ""]
        );
    }
}
