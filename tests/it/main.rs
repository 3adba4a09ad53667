//! All integration tests in one binary, a module for each boundary.

mod findings;
mod house;
mod published_rules;
