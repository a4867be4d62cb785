//! Normals out of hourly years, so that more years can be made from a typical one.

use physics::numbers;

use crate::error::WeatherError;
use crate::normals::{Month, Normals};
use crate::series::{Kind, RainRecord, Weather, WeatherYear};

/// A day has rain that counts from here, mm.
pub(crate) const WET_DAY_MM: f64 = 1.0;
/// Room for the sum of tenths that binary numbers do not hold exactly.
pub(crate) const ROUNDING_MM: f64 = 1e-6;

/// What a day amounted to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct DaySummary {
    pub(crate) month: usize,
    pub(crate) max_c: f64,
    pub(crate) min_c: f64,
    pub(crate) mean_c: f64,
    pub(crate) rain_mm: f64,
    pub(crate) global_wh_m2: f64,
    pub(crate) humidity: f64,
    pub(crate) wind_m_s: f64,
}

impl DaySummary {
    /// True if its rain counts.
    pub(crate) fn is_wet(&self) -> bool {
        self.rain_mm >= WET_DAY_MM - ROUNDING_MM
    }
}

/// The days of a year.
pub(crate) fn days(year: &WeatherYear) -> Vec<DaySummary> {
    (0..year.hours() / 24)
        .map(|day| {
            let span = day * 24..day * 24 + 24;
            let mean = |column: &[f64]| column[span.clone()].iter().sum::<f64>() / 24.0;
            let air = &year.air_c[span.clone()];
            DaySummary {
                month: year.month_and_day(day * 24).0 as usize - 1,
                max_c: air.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                min_c: air.iter().copied().fold(f64::INFINITY, f64::min),
                mean_c: mean(&year.air_c),
                rain_mm: mean(&year.rain_mm) * 24.0,
                global_wh_m2: mean(&year.global_w_m2) * 24.0,
                humidity: mean(&year.humidity),
                wind_m_s: mean(&year.wind_m_s),
            }
        })
        .collect()
}

impl Normals {
    /// Normals of the years of a series; of a typical year they carry its name, since such a year is calmer than real ones.
    ///
    /// # Errors
    /// [`WeatherError::NoRain`] when the series has no rain.
    pub fn from_weather(weather: &Weather) -> Result<Self, WeatherError> {
        if weather.rain == RainRecord::Missing {
            return Err(WeatherError::NoRain { name: weather.site.name.clone() });
        }
        let all: Vec<DaySummary> = weather.years.iter().flat_map(days).collect();
        let years = weather.years.len().max(1) as f64;
        let months = std::array::from_fn(|month| {
            let of: Vec<&DaySummary> = all.iter().filter(|day| day.month == month).collect();
            month_of(&of, years)
        });
        let from_typical_year = weather.kind == Kind::Typical;
        Ok(Self { site: weather.site.clone(), months, rain_wind_from_deg: rain_wind(&weather.years), from_typical_year })
    }
}

fn month_of(days: &[&DaySummary], years: f64) -> Month {
    let mean = |of: &dyn Fn(&DaySummary) -> f64| days.iter().map(|day| of(day)).sum::<f64>() / days.len().max(1) as f64;
    let wet_days = days.iter().filter(|day| day.is_wet()).count() as f64 / years;
    Month {
        mean_max_c: mean(&|day| day.max_c),
        mean_min_c: mean(&|day| day.min_c),
        rain_mm: days.iter().map(|day| day.rain_mm).sum::<f64>() / years,
        wet_days,
        global_wh_m2_day: mean(&|day| day.global_wh_m2),
        humidity: mean(&|day| day.humidity),
        wind_m_s: mean(&|day| day.wind_m_s),
        daily_sd_k: spread(&days.iter().map(|day| day.mean_c).collect::<Vec<_>>()),
    }
}

/// Standard deviation about the straight line through a month's values, K, so that the season's own drift does not count; `None` of fewer than ten days.
pub(crate) fn spread(values: &[f64]) -> Option<f64> {
    if values.len() < 10 {
        return None;
    }
    let count = values.len() as f64;
    let (middle, mean) = (0.5 * (count - 1.0), values.iter().sum::<f64>() / count);
    let steps = || values.iter().enumerate().map(|(day, value)| (day as f64 - middle, value - mean));
    let slope = steps().map(|(step, apart)| step * apart).sum::<f64>() / steps().map(|(step, _)| step * step).sum::<f64>();
    let left: f64 = steps().map(|(step, apart)| apart - slope * step).map(|left| left * left).sum();
    Some((left / (count - 2.0)).sqrt())
}

/// Where the wind of wet hours blows from in the mean, each hour weighed with its rain and wind; of all hours where it never rains.
fn rain_wind(years: &[WeatherYear]) -> f64 {
    let (mut east, mut north) = (0.0, 0.0);
    let dry = years.iter().all(|year| year.rain_mm.iter().all(|rain| *rain <= 0.0));
    for year in years {
        for ((rain, wind), from) in year.rain_mm.iter().zip(&year.wind_m_s).zip(&year.wind_from_deg) {
            let weight = wind * if dry { 1.0 } else { *rain };
            east += weight * numbers::sin(from.to_radians());
            north += weight * numbers::cos(from.to_radians());
        }
    }
    numbers::atan2(east, north).to_degrees().rem_euclid(360.0)
}
