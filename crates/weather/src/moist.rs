//! Moist air as weather services report it: relative humidity over water at every temperature, below 0 °C too. Thin words over `physics::air`.

use physics::{air, numbers};

/// Celsius zero in kelvin.
pub(crate) const ZERO_C: f64 = 273.15;

/// Saturation vapour pressure over water, Pa, °C in.
pub(crate) fn saturation_pa(air_c: f64) -> f64 {
    air::saturation_pa(air_c + ZERO_C)
}

/// Dew point over water, °C, of air at a temperature, °C, and a relative humidity, 0 to 1 (a humidity of none is taken as 0.1 %).
pub(crate) fn dew_point_c(air_c: f64, humidity: f64) -> f64 {
    air::dew_point_k(humidity.max(1e-3) * saturation_pa(air_c)).map_or(air_c, |dew_point_k| dew_point_k - ZERO_C)
}

/// Relative humidity over water, 0 to 1, from air and dew point, °C; at most 1.
pub(crate) fn humidity_from_dew_point(air_c: f64, dew_point_c: f64) -> f64 {
    (saturation_pa(dew_point_c) / saturation_pa(air_c)).min(1.0)
}

/// Air pressure at a height above the sea, Pa, in the standard atmosphere (ISO 2533).
pub(crate) fn standard_pressure_pa(elevation_m: f64) -> f64 {
    101_325.0 * numbers::pow(1.0 - 2.255_77e-5 * elevation_m.clamp(-500.0, 9000.0), 5.255_88)
}
