//! All integration tests in one binary, a module for each boundary.

mod command;
mod findings;
mod house;
mod published_rules;
