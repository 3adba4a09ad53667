//! Drawings as a reader of the exported page has them: parsed back by an independent library.

mod annotation;
mod appendix;
mod laws;
mod located;
mod sample;
mod sheets;
mod snapshot;
mod views;
