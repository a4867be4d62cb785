//! Hourly series: one structure of arrays per year, hour 0 running from 00:00 to 01:00 on 1 January at a fixed offset from UTC.

use reckoning::Finding;
use serde::Serialize;

use crate::{WeatherError, calendar};

/// Where the weather belongs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Site {
    /// Name of the place.
    pub name: String,
    /// Degrees north.
    pub latitude_deg: f64,
    /// Degrees east.
    pub longitude_deg: f64,
    /// Height above the sea, m.
    pub elevation_m: f64,
    /// Fixed offset of the series from UTC, hours.
    pub utc_offset_h: f64,
}

/// Where the years come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Years that were measured.
    Measured,
    /// One typical year put together from months of several: no odds can be taken from it.
    Typical,
    /// Made from normals by the generator.
    Made,
    /// Invented for a demonstration.
    Invented,
}

/// How the rain of a series came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RainRecord {
    /// Given for every hour.
    Hourly,
    /// Monthly totals were spread over the hours: right in amount, guessed in hour.
    SpreadFromMonths,
    /// Not given; the series holds zeros and is not fit for planning.
    Missing,
}

/// Weather for a place: one or many years.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// The place.
    pub site: Site,
    /// Where the years come from.
    pub kind: Kind,
    /// The years, in order. The hours after a year's end are taken from the next year (from the first, after the last).
    pub years: Vec<WeatherYear>,
    /// How the rain came about.
    pub rain: RainRecord,
    /// SHA-256 of the canonical series, hexadecimal.
    pub hash: String,
    /// What was filled, converted or left doubtful on reading.
    pub findings: Vec<Finding>,
}

impl Weather {
    /// Fewest years from which odds are given (design rule).
    pub const FEWEST_YEARS_FOR_ODDS: usize = 10;

    /// True if odds may be given: enough years, and not one typical year.
    pub fn gives_odds(&self) -> bool {
        self.kind != Kind::Typical && self.years.len() >= Self::FEWEST_YEARS_FOR_ODDS
    }

    /// Refuses a series that a wall cannot be planned with.
    ///
    /// # Errors
    /// [`WeatherError::NoRain`] when rain was not given: a wall that is never rained on dries too well.
    pub fn fit_for_planning(&self) -> Result<(), WeatherError> {
        match self.rain {
            RainRecord::Missing => Err(WeatherError::NoRain { name: self.site.name.clone() }),
            RainRecord::Hourly | RainRecord::SpreadFromMonths => Ok(()),
        }
    }
}

/// One year of hours. All vectors have the same length, 8,760 or 8,784.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WeatherYear {
    /// Calendar year the hours stand for.
    pub year: i32,
    /// Air temperature, °C.
    pub air_c: Vec<f64>,
    /// Relative humidity over water, 0 to 1.
    pub humidity: Vec<f64>,
    /// Air pressure, Pa.
    pub pressure_pa: Vec<f64>,
    /// Wind speed at 10 m in the open, m/s.
    pub wind_m_s: Vec<f64>,
    /// Direction the wind blows from, degrees clockwise from north.
    pub wind_from_deg: Vec<f64>,
    /// Rain in the hour, mm.
    pub rain_mm: Vec<f64>,
    /// Global horizontal irradiance, W/m².
    pub global_w_m2: Vec<f64>,
    /// Direct normal irradiance, W/m².
    pub direct_w_m2: Vec<f64>,
    /// Diffuse horizontal irradiance, W/m².
    pub diffuse_w_m2: Vec<f64>,
    /// Long-wave radiation down from the sky on the horizontal, W/m².
    pub sky_w_m2: Vec<f64>,
}

impl WeatherYear {
    /// Hours in the year.
    pub fn hours(&self) -> usize {
        self.air_c.len()
    }

    /// Month (1 to 12) and day of the month of an hour of this year; the last day for an hour past its end.
    pub fn month_and_day(&self, hour: usize) -> (u32, u32) {
        calendar::month_and_day(hour / 24, self.hours() / 24 == 366)
    }
}
