//! All integration tests in one binary, a module for each boundary.

#![allow(
    clippy::too_many_arguments,
    clippy::wildcard_enum_match_arm,
    clippy::float_cmp,
    clippy::too_many_lines,
    reason = "a table of cases is read best with its cases in one place and its columns side by side"
)]

mod carry;
mod command;
mod damage;
mod dice;
mod drawing;
mod ec5_capacity;
mod ec5_mechanics;
mod ec5_scene;
mod ec5_working;
mod findings;
mod formats;
mod hostile;
mod house;
mod joint_file;
mod nds_capacity;
mod published;
mod published_rules;
mod samples;
mod scenes;
mod shape;
mod trace_lattice;
mod trace_laws;
mod trace_sampled;
mod trust;
#[cfg(feature = "window")]
mod window_arranging;
#[cfg(feature = "window")]
mod window_bench;
#[cfg(feature = "window")]
mod window_carries;
#[cfg(feature = "window")]
mod window_clicks;
#[cfg(feature = "window")]
mod window_drawing;
#[cfg(feature = "window")]
mod window_editing;
#[cfg(feature = "window")]
mod window_frames;
#[cfg(feature = "window")]
mod window_handles;
#[cfg(feature = "window")]
mod window_hurdles;
#[cfg(feature = "window")]
mod window_joints;
#[cfg(feature = "window")]
mod window_keys;
#[cfg(feature = "window")]
mod window_large;
#[cfg(feature = "window")]
mod window_placed;
#[cfg(feature = "window")]
mod window_real;
#[cfg(feature = "window")]
mod window_real_drawn;
#[cfg(feature = "window")]
mod window_rescue;
#[cfg(feature = "window")]
mod window_safety;
#[cfg(feature = "window")]
mod window_samples;
#[cfg(feature = "window")]
mod window_session;
#[cfg(feature = "window")]
mod window_sheet;
#[cfg(feature = "window")]
mod window_steel;
#[cfg(feature = "window")]
mod window_views;
