//! The documents of invented plans: what they hold, that they are the same on repeat, and that nothing in them collides.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod almanac;
mod batches;
mod bench;
mod catalogue;
mod cure;
mod ferry_house;
mod figures;
mod forms;
mod names;
#[cfg(feature = "pdf")]
mod pdf;
mod real;
mod site_sheet;
mod support;
