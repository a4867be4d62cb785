//! The catalogue of limes, sands, masonries, covers and cautions (data in TOML, every value with its source), and what follows from them:
//! proportions, yields, and the properties of a mortar fresh and hardened. It must never know a wall, a date or a price.

pub mod bench;
mod catalogue;
mod error;
mod mortar;
mod shipped;
mod volumes;

pub use catalogue::{Catalogue, Cover, Lime, LimeKind, Masonry, Moisture, Sand};
pub use error::MaterialsError;
pub use mortar::{HydraulicSet, Mix, Mortar};
pub use volumes::{PUTTY_PORTLANDITE_KG_M3, WaterNeed, putty_density_kg_m3, putty_solids_share, voids_share};
