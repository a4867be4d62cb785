//! Hourly weather years for a place, and what they put on a wall face. Reads files into plain series and turns a series into the climate
//! of one face. It must never know a coat, a gang or a price; file bytes come in as strings, never as paths.

mod assemble;
mod calendar;
mod columns;
mod daily;
mod daily_csv;
mod epw;
mod error;
mod face;
mod figure;
mod hours;
pub mod invented;
mod judge;
mod make;
mod mapped;
mod moist;
mod months;
mod normals;
mod normals_toml;
mod number;
mod rows;
mod series;
mod splice;
mod stamp;
mod statistics;
mod sunlit;
mod sunshine;
mod text;
mod tmy3;
mod units;
mod words;

pub use daily_csv::read_daily;
pub use epw::read_epw;
pub use error::{Problem, WeatherError};
pub use face::{Face, FaceClimate, LEEWARD_SHARE, Roughness, WINDWARD_SHARE, on_face};
pub use hours::{read_csv, write_csv};
pub use judge::{FaceJudged, Judged, MonthJudged, Spread, judge, made_against_given};
pub use make::{MOST_YEARS, make};
pub use mapped::{Mapping, read_mapped};
pub use normals::{Month, Normals};
pub use series::{Kind, RainRecord, Site, Weather, WeatherYear};
pub use splice::{Forecast, ForecastDay};
pub use stamp::Stamp;
pub use text::{Encoding, decode};
pub use tmy3::read_tmy3;
