//! All integration tests in one binary, a module for each boundary.

mod drawing;
mod findings;
mod house;
mod published_rules;
