//! The program: hands its arguments to the command line, and opens the window when they ask for it.

use std::path::PathBuf;
use std::process::ExitCode;

use shankline::command::{self, Outcome};

fn main() -> ExitCode {
    match command::run(std::env::args_os().skip(1).collect()) {
        Outcome::Done(code) => code,
        Outcome::Window(file) => match open_window(file.clone()) {
            Ok(()) => ExitCode::SUCCESS,
            Err(why) => command::instead_of_window(&why, file),
        },
    }
}

#[cfg(feature = "window")]
fn open_window(file: Option<PathBuf>) -> Result<(), String> {
    shankline::window::run(file)
}

#[cfg(not(feature = "window"))]
fn open_window(_file: Option<PathBuf>) -> Result<(), String> {
    Err("this build has none".to_owned())
}
