//! Shankline draws a wood joint in section, places a connector and its fasteners, and
//! tells what each shank really ends up in: solid bearing material, a gap, or air.
//!
//! Data flows one way, and each folder is a room that knows only the rooms before it:
//!
//! ```text
//! unit, disk, shape -> stock -> joint -> trace -> standard -> findings -> drawing -> paint -> command | window
//! ```
//!
//! Beside `drawing` stands `sketch`: from what a user wants to the edit of the joint that does it.
//!
//! Every arrow is a pure function, and nothing is kept between two arrows: after an edit
//! the whole chain runs again.

pub mod command;
pub mod disk;
pub mod drawing;
pub mod findings;
pub mod joint;
pub mod paint;
pub mod shape;
pub mod sketch;
pub mod standard;
pub mod stock;
pub mod trace;
pub mod unit;
#[cfg(feature = "window")]
pub mod window;
