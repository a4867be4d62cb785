//! Hourly weather years for a place, and what they put on a wall face. Reads files into plain series and turns a series into the climate
//! of one face. It must never know a coat, a gang or a price; file bytes come in as strings, never as paths.

mod face;
mod series;

pub use face::{Face, FaceClimate, Roughness};
pub use series::{Kind, Site, Weather, WeatherYear};
