//! Monthly normals: what a national weather service publishes for a place, twelve of each.

use crate::error::{Faults, WeatherError};
use crate::series::Site;
use crate::words::month_name;

/// Normals of one month.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Month {
    /// Mean of the daily greatest temperatures, °C.
    pub mean_max_c: f64,
    /// Mean of the daily least temperatures, °C.
    pub mean_min_c: f64,
    /// Rain in the month, mm.
    pub rain_mm: f64,
    /// Days with 1 mm of rain or more.
    pub wet_days: f64,
    /// Global radiation on the horizontal, mean of the month, Wh/m² a day.
    pub global_wh_m2_day: f64,
    /// Relative humidity, mean of all hours, 0 to 1.
    pub humidity: f64,
    /// Wind speed at 10 m, mean, m/s.
    pub wind_m_s: f64,
    /// Standard deviation of the daily mean temperature about the month's own mean course, K; `None` to reckon it from the yearly swing.
    pub daily_sd_k: Option<f64>,
}

/// Normals of a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Normals {
    /// The place.
    pub site: Site,
    /// January first.
    pub months: [Month; 12],
    /// Where the wind of rainy days blows from, degrees clockwise from north.
    pub rain_wind_from_deg: f64,
    /// True when they were taken from a single typical year.
    pub from_typical_year: bool,
}

/// Least and greatest of each normal, with its name.
type Range = (&'static str, fn(&Month) -> f64, f64, f64);

const RANGES: [Range; 7] = [
    ("mean_max_c", |month| month.mean_max_c, -60.0, 55.0),
    ("mean_min_c", |month| month.mean_min_c, -70.0, 45.0),
    ("rain_mm", |month| month.rain_mm, 0.0, 2000.0),
    ("wet_days", |month| month.wet_days, 0.0, 31.0),
    ("global_wh_m2_day", |month| month.global_wh_m2_day, 0.0, 10_000.0),
    ("humidity", |month| month.humidity, 0.05, 1.0),
    ("wind_m_s", |month| month.wind_m_s, 0.0, 25.0),
];

impl Normals {
    /// Checks every normal against what can be true.
    ///
    /// # Errors
    /// [`WeatherError::Faults`] with everything that is wrong at once.
    pub fn check(&self) -> Result<(), WeatherError> {
        let mut faults = Faults::default();
        self.fault_ranges(&mut faults);
        faults.into_result(&self.site.name)
    }

    /// Every normal that cannot be true.
    pub(crate) fn fault_ranges(&self, faults: &mut Faults) {
        crate::hours::check_site(&self.site, faults);
        if !(0.0..=360.0).contains(&self.rain_wind_from_deg) {
            let remedy = "Give where the wind of rainy days blows from.";
            faults.add(None, "rain_wind_from_deg", format!("{}", self.rain_wind_from_deg), "0 to 360", remedy);
        }
        for (index, month) in self.months.iter().enumerate() {
            let name = month_name(index);
            for (key, of, low, high) in RANGES {
                let value = of(month);
                if !(low..=high).contains(&value) {
                    faults.add(None, key, format!("{value} in {name}"), format!("{low} to {high}"), "Correct the normal; mind its unit.");
                }
            }
            if month.daily_sd_k.is_some_and(|spread| !(0.0..=20.0).contains(&spread)) {
                faults.add(None, "daily_sd_k", format!("{:?} in {name}", month.daily_sd_k), "0 to 20 K", "Correct it or leave it out.");
            }
            if month.mean_max_c < month.mean_min_c {
                let found = format!("{} over {} in {name}", month.mean_max_c, month.mean_min_c);
                faults.add(None, "mean_max_c", found, "a greatest above the least", "They may be exchanged.");
            }
            if month.rain_mm + 1e-9 < month.wet_days {
                let found = format!("{} mm on {} days in {name}", month.rain_mm, month.wet_days);
                faults.add(
                    None,
                    "wet_days",
                    found,
                    "at least 1 mm for each wet day",
                    "Give the days with 1 mm or more, not those with 0.1 or 0.2 mm.",
                );
            }
        }
    }
}
