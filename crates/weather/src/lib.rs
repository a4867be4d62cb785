//! Hourly weather years for a place, and what they put on a wall face. Reads files into plain series and turns a series into the climate
//! of one face. It must never know a coat, a gang or a price; file bytes come in as strings, never as paths.

mod assemble;
mod calendar;
mod columns;
mod daily;
mod epw;
mod error;
mod face;
mod hours;
pub mod invented;
mod make;
mod moist;
mod months;
mod normals;
mod number;
mod rows;
mod series;
mod sunlit;

pub use epw::read_epw;
pub use error::{Problem, WeatherError};
pub use face::{Face, FaceClimate, Roughness, WINDWARD_SHARE, on_face};
pub use hours::{read_csv, write_csv};
pub use make::{MOST_YEARS, make};
pub use normals::{Month, Normals};
pub use series::{Kind, RainRecord, Site, Weather, WeatherYear};
