//! Air, water vapour, sun, sky, rain, heat, moisture, freezing and lime chemistry: pure functions of numbers, with portable arithmetic.
//! It knows no trade noun: no coat, no wall, no job.

pub mod driven_rain;
pub mod sky;
pub mod sun;
