//! What nobody may have to think about: nothing is lost, nothing is let in, nothing is wrong in silence.

#[cfg(unix)]
mod disk;
mod fuzzed;
#[cfg(unix)]
mod killed;
mod limits;
mod near;
mod same;

/// Prints a figure or a reason, for those who run a test with `--nocapture`.
#[allow(clippy::print_stdout, reason = "it is what was asked for")]
fn say(words: &str) {
    println!("{words}");
}
