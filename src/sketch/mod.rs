//! From what a user wants to the change of the joint that does it.
//!
//! Every answer is a joint, a part of one, or an [`Edit`](crate::joint::Edit): whoever shows a window or
//! reads a command line applies it, so that nothing bypasses the history. Knows no screen, no mouse, no file.

pub mod arrange;
pub mod drive;
pub mod form;
pub mod fresh;
pub mod member;
pub mod motion;
pub mod question;
pub mod ruler;
pub mod snap;
pub mod start;
