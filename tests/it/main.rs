//! All integration tests in one binary, a module for each boundary.

mod house;
