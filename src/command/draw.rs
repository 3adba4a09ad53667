//! `shankline draw`: the annotated detail as files.

mod asked;
mod names;

use std::path::PathBuf;

use super::{End, chain, tell};
use crate::disk;
use crate::drawing;
use crate::paint::{self, Format, Letters, Options};
use crate::stock::Stock;
use asked::{PageRange, PaperWord, ScaleWord, ViewWord};

/// Draw the annotated detail, true to scale, as SVG, PDF or PNG
#[derive(clap::Args, Debug)]
pub(super) struct Call {
    /// Joint files to draw
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// Where to write; a folder for several files; - prints. Further pages of SVG and PNG get a number
    #[arg(short, long)]
    output: PathBuf,
    /// The format; what the ending of the output says where absent, else SVG
    #[arg(long, value_enum, ignore_case = true)]
    format: Option<FormatWord>,
    /// Paper; the file's, or the smallest that fits, where absent
    #[arg(long, value_enum, ignore_case = true)]
    paper: Option<PaperWord>,
    /// Which side the paper stands on; as the file says, or its long side, where absent
    #[arg(long, value_enum, ignore_case = true)]
    orientation: Option<OrientationWord>,
    /// Scale, such as 1:5, 2:1 or 3" for 3" to the foot; the file's, or the largest that fits, where absent
    #[arg(long)]
    scale: Option<ScaleWord>,
    /// A view: front, side or top, cut at a plane by front@LENGTH; may be given several times
    #[arg(long = "view", value_name = "VIEW")]
    views: Vec<ViewWord>,
    /// Put the working of what every fastener carries after the detail
    #[arg(long)]
    working: bool,
    /// Pages to write, such as 1,3-4; all where absent
    #[arg(long)]
    pages: Option<PageRange>,
    /// Letters of an SVG: with the font in the file, by the name of the font, or as outlines
    #[arg(long, value_enum, ignore_case = true, default_value_t = LettersWord::Embedded)]
    letters: LettersWord,
    /// Dots to the inch of a PNG
    #[arg(long, default_value_t = 300.0)]
    dpi: f64,
}

#[derive(clap::ValueEnum, Clone, Copy, Debug)]
enum FormatWord {
    Svg,
    Pdf,
    Png,
}

#[derive(clap::ValueEnum, Clone, Copy, Debug, PartialEq, Eq)]
enum OrientationWord {
    Landscape,
    Portrait,
}

#[derive(clap::ValueEnum, Clone, Copy, Debug)]
enum LettersWord {
    Embedded,
    Named,
    Outlines,
}

impl Call {
    fn format(&self) -> Format {
        match self.format {
            Some(FormatWord::Svg) => Format::Svg,
            Some(FormatWord::Pdf) => Format::Pdf,
            Some(FormatWord::Png) => Format::Png,
            None => Format::of(&self.output).unwrap_or_default(),
        }
    }

    fn options(&self) -> Options {
        let letters = match self.letters {
            LettersWord::Embedded => Letters::Embedded,
            LettersWord::Named => Letters::Named,
            LettersWord::Outlines => Letters::Outlines,
        };
        Options { letters, dots_per_inch: self.dpi }
    }

    /// Why the call makes no sense as a whole.
    fn wrong(&self) -> Option<String> {
        if !(self.dpi.is_finite() && 1.0 <= self.dpi) {
            return Some(format!("--dpi {}: give at least 1 dot to the inch", self.dpi));
        }
        if 1 < self.files.len() && !self.prints() && !self.output.is_dir() {
            let folder = self.output.display();
            return Some(format!(
                "{folder} is no folder: several files are written into a folder that is there"
            ));
        }
        (self.prints() && 1 < self.files.len())
            .then(|| "only one file can be printed: name a folder with --output".to_owned())
    }

    fn prints(&self) -> bool {
        self.output.as_os_str() == "-"
    }
}

/// Draws joints. Faults in a joint do not keep it from being drawn: the detail shows them. What is wrong with
/// one file does not stop the others.
pub(super) fn run(call: &Call) -> End {
    if let Some(why) = call.wrong() {
        tell(&format!("{why}\n"));
        return End::Unusable;
    }
    let stock = Stock::built_in();
    let mut worst = End::Clean;
    for (n, file) in call.files.iter().enumerate() {
        // A failure of the program at one file is told like a file that cannot be used.
        let drawn = chain::guarded(file, || Ok(one(call, file, &stock)));
        let drawn = drawn.unwrap_or_else(|problems| Err((End::Unusable, problems.join("\n"))));
        let end = drawn.unwrap_or_else(|(end, why)| {
            tell(&format!("{why}\n"));
            end
        });
        worst = worst.max(end);
        if 1 < call.files.len() {
            let done = if end == End::Clean { "drawn" } else { "not drawn" };
            tell(&format!("{}/{} {} {done}\n", n + 1, call.files.len(), file.display()));
        }
    }
    worst
}

fn one(call: &Call, file: &std::path::Path, stock: &Stock) -> Result<End, (End, String)> {
    let mut chained = chain::run(file, stock).map_err(|it| (End::Unusable, it.join("\n")))?;
    let sheet = &mut chained.joint.sheet;
    sheet.paper = call.paper.map(Into::into).or(sheet.paper);
    sheet.portrait = call.orientation.map_or(sheet.portrait, |it| it == OrientationWord::Portrait);
    sheet.scale = call.scale.map(|it| it.0).or(sheet.scale);
    if !call.views.is_empty() {
        let unit = chained.joint.show_lengths_in;
        let views = call.views.iter().map(|it| it.view(unit)).collect::<Result<Vec<_>, _>>();
        sheet.views = views.map_err(|it| (End::Unusable, it))?;
    }
    let mut pages = drawing::pages(&chained.inputs());
    if call.working {
        pages.extend(drawing::appendix(&chained.inputs()));
    }
    let count = pages.len();
    if let Some(range) = &call.pages {
        pages = range.of(pages).map_err(|it| (End::Unusable, format!("{}: {it}", file.display())))?;
    }
    let format = call.format();
    let contents = paint::files(&pages, format, call.options())
        .map_err(|it| (End::Unusable, format!("{}: {it}", file.display())))?;
    if call.prints() {
        if 1 < contents.len() {
            tell(&format!("page 1 of {count} is printed; choose another with --pages, or write a PDF\n"));
        }
        return Ok(contents.first().map_or(End::Clean, |it| super::print_bytes(it, End::Clean)));
    }
    let path = names::path(&call.output, file, format);
    for (n, content) in contents.iter().enumerate() {
        disk::replace(&disk::numbered(&path, n), content).map_err(|it| (End::NotWritten, it.to_string()))?;
    }
    if 1 < contents.len() {
        tell(&format!("{count} pages: {}\n", disk::numbered_words(&path, contents.len())));
    }
    Ok(End::Clean)
}
