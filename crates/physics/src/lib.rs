//! Air, water vapour, sun, sky, rain, heat, moisture, freezing and lime chemistry: pure functions of numbers, with portable arithmetic.
//! It knows no trade noun: no coat, no wall, no job.
//!
//! Conventions that hold throughout:
//! - SI units; the unit stands in each name (`_k`, `_pa`, `_kg_m3`). Temperatures are in kelvin unless a name ends in `_c`.
//! - Relative humidity is over liquid water at every temperature, from 0 to 1, as weather records give it, unless a name says ice.
//! - Suction (capillary pressure) is positive, in pascal; a positive flux runs the way a function's documentation says.
//! - Nothing panics. A function whose value always exists returns it; one whose value may not exist returns [`PhysicsError`].
//!   A non-finite input of a plain function gives a non-finite answer.
//! - Transcendental functions come from [`numbers`], never from the platform, so that every processor gives the same bits.

pub mod air;
pub mod constants;
pub mod driven_rain;
pub mod en15026;
mod error;
pub mod evaporation;
pub mod exact;
pub mod frost;
pub mod hamstad;
pub mod hydration;
pub mod lime;
pub mod moisture;
pub mod numbers;
pub mod sky;
pub mod sun;
pub mod surface;
pub mod water;

pub use error::PhysicsError;
