//! Monthly normals as a practitioner can copy them from the pages of a national weather service: `docs/weather-normals.md` describes the file.

use serde::Deserialize;

use crate::error::{Faults, WeatherError, declared};
use crate::normals::{Month, Normals};
use crate::series::Site;
use crate::sunshine;

/// The file as it stands in TOML; one list of twelve for each normal, some in a choice of units.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Declared {
    place: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    utc_offset_h: f64,
    rain_wind_from_deg: f64,
    mean_max_c: Vec<f64>,
    mean_min_c: Vec<f64>,
    rain_mm: Vec<f64>,
    wet_days: Vec<f64>,
    sunshine_h: Option<Vec<f64>>,
    global_wh_m2_day: Option<Vec<f64>>,
    global_mj_m2_day: Option<Vec<f64>>,
    humidity_percent: Vec<f64>,
    wind_m_s: Option<Vec<f64>>,
    wind_knots: Option<Vec<f64>>,
    wind_km_h: Option<Vec<f64>>,
    daily_sd_k: Option<Vec<f64>>,
}

impl Normals {
    /// Reads normals from TOML. `name` is what the file is called in messages.
    ///
    /// # Errors
    /// [`WeatherError::Faults`] with everything that is wrong at once (of TOML itself, the first fault).
    pub fn from_toml(text: &str, name: &str) -> Result<Self, WeatherError> {
        let mut faults = Faults::default();
        let declared: Declared = declared(text, name, "the keys of docs/weather-normals.md", "Correct the normals.")?;
        let normals = declared.normals(&mut faults);
        // Twelve numbers first: the ranges of lists of another length would only confuse.
        if faults.count() == 0 {
            normals.fault_ranges(&mut faults);
        }
        faults.into_result(name)?;
        Ok(normals)
    }
}

impl Declared {
    fn normals(self, faults: &mut Faults) -> Normals {
        let site = Site {
            name: self.place,
            latitude_deg: self.latitude_deg,
            longitude_deg: self.longitude_deg,
            elevation_m: self.elevation_m,
            utc_offset_h: self.utc_offset_h,
        };
        let mut twelve = |key: &str, list: Option<Vec<f64>>| -> Option<[f64; 12]> {
            let list = list?;
            let count = list.len();
            let fits = list.try_into().ok();
            if fits.is_none() {
                faults.add(None, key, format!("{count} numbers"), "twelve, January first", "Give one number for each month.");
            }
            fits
        };
        let mean_max_c = twelve("mean_max_c", Some(self.mean_max_c));
        let mean_min_c = twelve("mean_min_c", Some(self.mean_min_c));
        let rain_mm = twelve("rain_mm", Some(self.rain_mm));
        let wet_days = twelve("wet_days", Some(self.wet_days));
        let humidity = twelve("humidity_percent", Some(self.humidity_percent));
        let daily_sd_k = twelve("daily_sd_k", self.daily_sd_k);
        let winds =
            [("wind_m_s", self.wind_m_s, 1.0), ("wind_knots", self.wind_knots, 1852.0 / 3600.0), ("wind_km_h", self.wind_km_h, 1.0 / 3.6)];
        let wind: Vec<[f64; 12]> =
            winds.into_iter().filter_map(|(key, list, scale)| Some(twelve(key, list)?.map(|value| value * scale))).collect();
        let sunshine = twelve("sunshine_h", self.sunshine_h).map(|hours| sunshine::global_wh_m2_day(&site, &hours));
        let given = twelve("global_wh_m2_day", self.global_wh_m2_day);
        let megajoules = twelve("global_mj_m2_day", self.global_mj_m2_day).map(|list| list.map(|value| value * 1000.0 / 3.6));
        let light: Vec<[f64; 12]> = [sunshine, given, megajoules].into_iter().flatten().collect();
        only_one(faults, wind.len(), "wind_m_s", "wind_m_s, wind_knots or wind_km_h");
        only_one(faults, light.len(), "sunshine_h", "sunshine_h, global_wh_m2_day or global_mj_m2_day");
        let at = |list: Option<[f64; 12]>, month: usize| list.map_or(0.0, |list| list[month]);
        let months = std::array::from_fn(|month| Month {
            mean_max_c: at(mean_max_c, month),
            mean_min_c: at(mean_min_c, month),
            rain_mm: at(rain_mm, month),
            wet_days: at(wet_days, month),
            global_wh_m2_day: at(light.first().copied(), month),
            humidity: at(humidity, month) / 100.0,
            wind_m_s: at(wind.first().copied(), month),
            daily_sd_k: daily_sd_k.map(|list| list[month]),
        });
        Normals { site, months, rain_wind_from_deg: self.rain_wind_from_deg, from_typical_year: false }
    }
}

fn only_one(faults: &mut Faults, count: usize, key: &str, allowed: &str) {
    if count != 1 && faults.count() == 0 {
        faults.add(None, key, format!("{count} of them"), format!("one of {allowed}"), "Give one.");
    }
}
