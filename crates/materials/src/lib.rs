//! The catalogue of limes, sands, masonries, covers and cautions (data in TOML, every value with its source), and what follows from them:
//! proportions, yields, and the properties of a mortar fresh and hardened. It must never know a wall, a date or a price.

mod catalogue;
mod mortar;

pub use catalogue::{Catalogue, Cover, Lime, LimeKind, Masonry, Moisture, Sand};
pub use mortar::{Mix, Mortar};
