//! The engine: one wall as a column from room to weather, its coats added on the day they are thrown, its cover hung in front, stepped by the
//! hour under actions it is given. It must never know a price or a calendar, and it chooses nothing: `works` decides.

mod bench;
pub mod calibration;
mod damage;
mod error;
mod exposure;
mod grid;
mod group;
pub mod kernel;
mod ladder;
mod lanes;
mod look;
pub mod material;
mod model;
pub mod policy;
mod readiness;
pub mod trial;

pub use bench::{Balance, Bench, Closure, Numerics};
pub use damage::{Damage, DamageGrade, DamageIndex, DamageKind, Limit, MEASURES, Measure, Prevention};
pub use error::CuringError;
pub use group::Checkpoint;
pub use kernel::Layer;
pub use ladder::STAGES;
pub use look::{CoatLook, Criterion, CriterionLook, Look, ProfileCell, Stratum};
pub use material::{Function, Liquid, MaterialFunctions, MaterialTables, TableError, VapourInAir};
pub use model::{Action, CoatModel, Inside, MOST_WASHES, OldCovering, Thresholds, TowardsFace, WallModel, Wash};
