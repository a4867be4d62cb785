//! Exact solutions that a numerical column is checked against: conduction, freezing and dissolving fronts, diffusion between fixed faces,
//! steady heat and vapour through layers. Used by checks, not by the engine.

mod conduction;
mod front;
mod layers;
mod slab;

pub use conduction::{damping_depth_m, periodic_amplitude, step_convective, step_fixed};
pub use front::{Freezing, freezing_front, stefan_front};
pub use layers::{Condensing, Layer, condensation, face_temperatures_k, heat_flow_w_m2, vapour_flow_kg_m2s};
pub use slab::{slab_mean, slab_profile};
