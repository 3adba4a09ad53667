//! The command line: checks, draws and lists without a display.
//!
//! Results go to the standard output, messages to the standard error. Knows no window: a call
//! that wants one is handed back to the program.

mod carries;
mod chain;
mod check;
mod compare;
mod draw;
mod plain;
mod start;
mod stock;

use std::ffi::OsString;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// What a call came to.
#[derive(Debug)]
pub enum Outcome {
    /// It is done; the program ends with this code.
    Done(ExitCode),
    /// It wants the window, on this joint file where one is named.
    Window(Option<PathBuf>),
}

/// How a call ended. The numbers are part of what scripts may rely on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    /// All files were read and no fault was found.
    Clean = 0,
    /// At least one fault was found.
    Faults = 1,
    /// A file or the call itself could not be used.
    Unusable = 2,
    /// An output could not be written.
    NotWritten = 3,
}

impl From<End> for ExitCode {
    fn from(end: End) -> Self {
        Self::from(end as u8)
    }
}

const EXAMPLES: &str = "\
Examples:
  shankline                                          open the window
  shankline ledger.joint.json                        open the window on a joint
  shankline check *.joint.json                       what every shank ends in, and what is wrong
  shankline check --json ledger.joint.json           the same for programs
  shankline check --working ledger.joint.json        with every number's formula and clause
  shankline compare ledger.joint.json --with \"gap 0\" choices side by side
  shankline draw ledger.joint.json -o ledger.pdf     the annotated detail, true to scale
  shankline draw *.joint.json -o sheets --format png many at once, into a folder
  shankline stock nail                               the nails that a joint file can name
  shankline start                                    the starting joints, and start NAME its sizes
  shankline start ledger --set sheathing=1/2 -o ledger.joint.json

Exit codes:
  0  no fault found     1  faults found
  2  a file or the call cannot be used     3  an output could not be written

Shankline checks geometry and published formulas, as drawn. Local code, the connector maker's
instructions and a licensed designer decide.";

/// Draws a wood joint in section and tells what every fastener really ends up in.
#[derive(Parser, Debug)]
#[command(name = "shankline", version, after_help = EXAMPLES, args_conflicts_with_subcommands = true)]
struct Call {
    #[command(subcommand)]
    verb: Option<Verb>,
    /// Joint file to open in the window
    file: Option<PathBuf>,
}

#[derive(Subcommand, Debug)]
enum Verb {
    /// Check joint files: every core, every finding
    Check(check::Call),
    /// Compare choices side by side: sizes, gaps, angles, species, standards
    Compare(compare::Call),
    /// Draw the annotated detail, true to scale, as SVG, PDF or PNG
    Draw(draw::Call),
    /// Begin a joint file from one of the starting joints
    Start(start::Call),
    /// List what a joint file can name
    Stock(StockCall),
}

/// List what a joint file can name
#[derive(clap::Args, Debug)]
struct StockCall {
    /// One kind only, such as nail, lag-screw, lumber, washer
    kind: Option<String>,
    /// Print JSON for programs
    #[arg(long)]
    json: bool,
}

/// Does what the arguments (without the program's name) ask for.
#[must_use]
pub fn run(arguments: Vec<OsString>) -> Outcome {
    let named = std::iter::once(OsString::from("shankline")).chain(arguments);
    let call = match Call::try_parse_from(named) {
        Ok(call) => call,
        // A request for help or the version is no error; it goes to the standard output.
        Err(stop) if !stop.use_stderr() => return Outcome::Done(print(&stop.to_string(), End::Clean).into()),
        Err(stop) => {
            tell(&stop.to_string());
            return Outcome::Done(End::Unusable.into());
        }
    };
    match call.verb {
        None => Outcome::Window(call.file),
        Some(Verb::Check(it)) => Outcome::Done(check::run(&it).into()),
        Some(Verb::Compare(it)) => Outcome::Done(compare::run(&it).into()),
        Some(Verb::Draw(it)) => Outcome::Done(draw::run(&it).into()),
        Some(Verb::Start(it)) => Outcome::Done(start::run(&it).into()),
        Some(Verb::Stock(it)) => Outcome::Done(list_stock(&it).into()),
    }
}

/// Says in one line why no window was opened, then checks the file in text instead.
#[must_use]
pub fn instead_of_window(why: &str, file: Option<PathBuf>) -> ExitCode {
    let Some(file) = file else {
        tell(&format!("No window: {why}. Try shankline check FILE, or shankline --help.\n"));
        return End::Unusable.into();
    };
    tell(&format!("No window: {why}. The check follows in text.\n"));
    check::run(&check::Call::text(file)).into()
}

fn list_stock(call: &StockCall) -> End {
    let stock = crate::stock::Stock::built_in();
    match stock::list(&stock, call.kind.as_deref(), call.json) {
        Ok(text) if call.json => print_json(&text, End::Clean),
        Ok(text) => print(&text, End::Clean),
        Err(why) => {
            tell(&format!("{why}\n"));
            End::Unusable
        }
    }
}

/// Prints a result. A reader that has seen enough and closed the pipe is no error.
fn print(text: &str, end: End) -> End {
    print_bytes(plain::for_people(text).as_bytes(), end)
}

/// The same of JSON.
fn print_json(text: &str, end: End) -> End {
    print_bytes(plain::for_programs(text).as_bytes(), end)
}

/// The same of a result that is no text.
fn print_bytes(bytes: &[u8], end: End) -> End {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Ok(()) => end,
        Err(why) if why.kind() == std::io::ErrorKind::BrokenPipe => end,
        Err(why) => {
            tell(&format!("the result cannot be printed: {why}\n"));
            End::NotWritten
        }
    }
}

/// Tells the user something that is no result.
fn tell(text: &str) {
    // Nothing is left to tell when the standard error is closed too.
    let _ = std::io::stderr().lock().write_all(plain::for_people(text).as_bytes());
}
