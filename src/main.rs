//! The program: hands its arguments to the command line.

use std::process::ExitCode;

fn main() -> ExitCode {
    shankline::command::run(std::env::args_os().skip(1).collect())
}
