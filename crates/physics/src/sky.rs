//! Long-wave radiation of the sky and what of it reaches a vertical face. Temperatures in K unless named `_c`, radiation in W/m².

/// Stefan-Boltzmann constant, W/(m² K⁴) (CODATA 2018, exact).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Share of the sky half of a vertical face's view that is as cold as the sky overhead; the rest, near the horizon, is at air temperature
/// (G. Walton 1983, NBSIR 83-2655: square root of one half for a vertical face).
pub const VERTICAL_SKY_SHARE: f64 = core::f64::consts::FRAC_1_SQRT_2;

/// Emissivity of a clear sky from the dew point, °C (Berdahl & Martin 1984, monthly form without the corrections for hour and height).
/// Fitted to dew points of about −13 to 24 °C; held within 0.5 and 1 outside.
pub fn clear_emissivity(dew_point_c: f64) -> f64 {
    let hundredth = dew_point_c / 100.0;
    (0.711 + 0.56 * hundredth + 0.73 * hundredth * hundredth).clamp(0.5, 1.0)
}

/// Emissivity under a share `cloud` (0 to 1) of the sky (Unsworth & Monteith 1975).
pub fn cloudy_emissivity(clear: f64, cloud: f64) -> f64 {
    let covered = cloud.clamp(0.0, 1.0);
    clear * (1.0 - 0.84 * covered) + 0.84 * covered
}

/// Share of the sky under cloud from global radiation against that of a clear sky (Crawford & Duchon 1999): one minus their ratio.
pub fn cloud_from_radiation(global: f64, clear_sky_global: f64) -> f64 {
    if clear_sky_global <= 0.0 { 0.0 } else { (1.0 - global / clear_sky_global).clamp(0.0, 1.0) }
}

/// Black-body radiation at a temperature, W/m².
pub fn black_body_w_m2(temperature_k: f64) -> f64 {
    let square = temperature_k * temperature_k;
    STEFAN_BOLTZMANN * square * square
}

/// Long-wave radiation down from the sky on the horizontal, W/m².
pub fn downward_w_m2(air_k: f64, dew_point_c: f64, cloud: f64) -> f64 {
    cloudy_emissivity(clear_emissivity(dew_point_c), cloud) * black_body_w_m2(air_k)
}

/// Long-wave radiation that falls on a vertical face, W/m²: the share `sky_view` (0 to 0.5) sees sky, of which [`VERTICAL_SKY_SHARE`] is as cold
/// as overhead; ground, horizon and the low sky radiate as black at air temperature.
pub fn onto_vertical_w_m2(downward_w_m2: f64, air_k: f64, sky_view: f64) -> f64 {
    let cold = sky_view * VERTICAL_SKY_SHARE;
    cold * downward_w_m2 + (1.0 - cold) * black_body_w_m2(air_k)
}
