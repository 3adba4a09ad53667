//! `shankline draw`: the annotated detail as a file.

use std::path::PathBuf;

use super::{End, chain, tell};
use crate::disk;
use crate::drawing;
use crate::paint;
use crate::stock::Stock;

/// Draw the annotated detail as SVG with true millimetres
#[derive(clap::Args, Debug)]
pub(super) struct Call {
    /// Joint file to draw
    file: PathBuf,
    /// Where to write the SVG; - prints it
    #[arg(short, long)]
    output: PathBuf,
}

/// Draws one joint. Faults in the joint do not keep it from being drawn: the detail shows them.
pub(super) fn run(call: &Call) -> End {
    let chained = match chain::run(&call.file, &Stock::built_in()) {
        Ok(it) => it,
        Err(problems) => {
            tell(&format!("{}\n", problems.join("\n")));
            return End::Unusable;
        }
    };
    let svg = paint::svg(&drawing::pages(&chained.inputs()).first().cloned().unwrap_or_default());
    if call.output.as_os_str() == "-" {
        return super::print(&svg, End::Clean);
    }
    match disk::replace(&call.output, svg.as_bytes()) {
        Ok(()) => End::Clean,
        Err(why) => {
            tell(&format!("{why}\n"));
            End::NotWritten
        }
    }
}
