//! Hand-worked cases of the trace, in a one-line notation of a core.

mod cores;
mod distances;
mod ellipse;
mod heads;
mod scene;
