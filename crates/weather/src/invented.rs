//! The weather of Port Calder, an invented place on a cool wet coast, for demonstrations. No measured series stands behind it.

use crate::error::WeatherError;
use crate::make;
use crate::normals::{Month, Normals};
use crate::series::{Kind, Site, Weather};

/// Seed and number of the demonstration's years: `examples/ferry-house/weather.csv` is written from them.
pub const DEMO_SEED: u64 = 20;
/// See [`DEMO_SEED`].
pub const DEMO_YEARS: usize = 12;

/// Invented normals: greatest and least temperature, rain, wet days, radiation, humidity, wind. January first.
const NORMALS: [(f64, f64, f64, f64, f64, f64, f64); 12] = [
    (6.4, 1.6, 118.0, 16.5, 480.0, 0.86, 6.1),
    (6.8, 1.6, 92.0, 13.8, 1150.0, 0.84, 5.9),
    (8.5, 2.6, 84.0, 13.6, 2300.0, 0.81, 5.6),
    (11.2, 4.2, 60.0, 11.2, 3750.0, 0.77, 5.0),
    (14.1, 6.6, 58.0, 10.8, 4850.0, 0.76, 4.8),
    (16.3, 9.4, 64.0, 11.2, 4950.0, 0.79, 4.5),
    (17.9, 11.2, 74.0, 12.2, 4600.0, 0.81, 4.3),
    (17.8, 11.1, 86.0, 12.9, 3750.0, 0.82, 4.4),
    (15.6, 9.3, 94.0, 13.2, 2650.0, 0.83, 4.9),
    (12.3, 6.8, 122.0, 15.9, 1400.0, 0.85, 5.5),
    (9.0, 4.0, 116.0, 16.2, 620.0, 0.87, 5.7),
    (6.7, 1.9, 124.0, 16.6, 350.0, 0.87, 6.0),
];

/// The invented normals of Port Calder.
pub fn normals() -> Normals {
    let site =
        Site { name: "Port Calder (invented)".into(), latitude_deg: 57.0, longitude_deg: -4.0, elevation_m: 12.0, utc_offset_h: 0.0 };
    let months = NORMALS.map(|(mean_max_c, mean_min_c, rain_mm, wet_days, global_wh_m2_day, humidity, wind_m_s)| Month {
        mean_max_c,
        mean_min_c,
        rain_mm,
        wet_days,
        global_wh_m2_day,
        humidity,
        wind_m_s,
        daily_sd_k: None,
    });
    Normals { site, months, rain_wind_from_deg: 235.0, from_typical_year: false }
}

/// Invented hourly years of Port Calder, marked invented; 1 to 200 of them. Same seed, same bits.
///
/// # Errors
/// None in practice: the normals above pass their own check, which a test holds.
pub fn years(seed: u64, count: usize) -> Result<Weather, WeatherError> {
    make::make_as(&normals(), seed, count, Kind::Invented)
}
