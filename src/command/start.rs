//! `shankline start`: the starting joints, what each asks for, and the joint file that it gives.

use std::path::PathBuf;

use super::check::line;
use super::{End, print, print_json, tell};
use crate::disk;
use crate::joint::{StandardId, file};
use crate::sketch::question::Sizes;
use crate::sketch::start::{STARTERS, Starter};
use crate::stock::Stock;

const EXAMPLES: &str = "\
Examples:
  shankline start                                        list the starting joints
  shankline start ledger                                 list what the ledger asks for
  shankline start ledger -o ledger.joint.json            draw it at its default sizes
  shankline start ledger --set ledger-depth=9-1/4 --set soft-layer=1 -o ledger.joint.json
  shankline start splice --standard en-1995-1-1 -o splice.joint.json

Lengths are read in the unit of the standard unless they name one: 9-1/4, 9.25\", 235 mm.";

/// Begin a joint file from one of the starting joints
#[derive(clap::Args, Debug)]
#[command(after_help = EXAMPLES)]
pub(super) struct Call {
    /// Which one; without it all are listed
    name: Option<String>,
    /// A size of it; may be given more than once
    #[arg(long, value_name = "NAME=VALUE", requires = "name")]
    set: Vec<String>,
    /// The standard that it is checked by, which settles inches or millimetres
    #[arg(long, value_enum, default_value = "nds-2018")]
    standard: Standard,
    /// Where to write the joint file; - prints it; without it the sizes are listed
    #[arg(short, long, requires = "name")]
    output: Option<PathBuf>,
    /// Write over a file that is there
    #[arg(long)]
    force: bool,
}

/// The standards by their names in joint files.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Standard {
    #[value(name = "nds-2018")]
    Nds2018,
    #[value(name = "en-1995-1-1")]
    En199511,
}

impl From<Standard> for StandardId {
    fn from(it: Standard) -> Self {
        match it {
            Standard::Nds2018 => Self::Nds2018,
            Standard::En199511 => Self::En199511,
        }
    }
}

/// Lists, or draws a starting joint.
pub(super) fn run(call: &Call) -> End {
    let Some(name) = &call.name else { return print(&list(), End::Clean) };
    let by = call.standard.into();
    let text = named(name).and_then(|starter| {
        let sizes = sizes(starter, by, &call.set)?;
        let joint = starter.start(&sizes, &Stock::built_in()).map_err(|why| why.to_string())?;
        Ok(if call.output.is_some() { file::write(&joint) } else { questions(starter, &sizes) })
    });
    match (text, &call.output) {
        (Err(why), _) => {
            tell(&format!("{why}\n"));
            End::Unusable
        }
        (Ok(text), Some(path)) if path.as_os_str() != "-" => save(path, &text, call.force),
        (Ok(text), Some(_)) => print_json(&text, End::Clean),
        (Ok(text), None) => print(&text, End::Clean),
    }
}

fn save(path: &std::path::Path, text: &str, force: bool) -> End {
    if !force && path.exists() {
        tell(&format!(
            "{} is there already; choose another name, or --force to replace it\n",
            path.display()
        ));
        return End::NotWritten;
    }
    match disk::replace(path, text.as_bytes()) {
        Ok(()) => End::Clean,
        Err(why) => {
            tell(&format!("{why}\n"));
            End::NotWritten
        }
    }
}

fn named(name: &str) -> Result<&'static Starter, String> {
    Starter::named(name).ok_or_else(|| {
        let near = STARTERS.iter().map(|it| (strsim::damerau_levenshtein(name, it.word), it.word)).min();
        let meant = near
            .filter(|it| it.0 <= 2)
            .map_or_else(|| ".".to_owned(), |it| format!("; did you mean `{}`?", it.1));
        format!("there is no starting joint `{name}`{meant} `shankline start` lists them.")
    })
}

fn sizes(starter: &Starter, by: StandardId, set: &[String]) -> Result<Sizes, String> {
    let mut typed = Vec::new();
    for text in set {
        let (key, value) =
            text.split_once('=').ok_or_else(|| format!("--set {text}: NAME=VALUE is wanted"))?;
        typed.push((key.trim(), value));
    }
    Sizes::read(starter.questions, by, typed).map_err(|why| format!("--set {why}"))
}

fn list() -> String {
    let mut out = String::new();
    for it in &STARTERS {
        line(&mut out, &format!("{:<8} {:<28} {}", it.word, it.title, it.says));
    }
    line(&mut out, "\n`shankline start NAME` lists what one asks for.");
    out
}

/// Every size with its value and its limits.
fn questions(starter: &Starter, sizes: &Sizes) -> String {
    let by = sizes.by();
    let mut out = String::new();
    line(&mut out, &format!("{}: {}\n", starter.title, starter.says));
    for it in starter.questions {
        let value = it.shown(sizes.of(it), by);
        let limits = format!("{} to {}", it.shown(it.least(by), by), it.shown(it.most(by), by));
        line(&mut out, &format!("  {:<18} {value:<12} {limits:<22} {}", it.key, it.asks));
    }
    line(&mut out, &format!("\nshankline start {} -o FILE draws it.", starter.word));
    out
}
