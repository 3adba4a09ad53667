//! All integration tests in one binary, a module for each boundary.

mod dice;
mod drawing;
mod findings;
mod house;
mod published_rules;
mod scenes;
mod shape;
mod trace_lattice;
mod trace_laws;
mod trace_sampled;
#[cfg(feature = "window")]
mod window_bench;
#[cfg(feature = "window")]
mod window_clicks;
#[cfg(feature = "window")]
mod window_session;
