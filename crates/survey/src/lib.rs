//! The survey: what was found at the building, and the areas, edges and metre lines that follow from it.
//! It must never know a coat, a price or a date of work; it does no I/O.

mod found;
mod measured;

pub use found::*;
pub use measured::*;
