//! Psychrometric example 1 of the ASHRAE Handbook of Fundamentals, chapter Psychrometrics: moist air at 40 °C dry bulb, 20 °C thermodynamic wet bulb and
//! 101.325 kPa. *Published*, read from the chart: humidity ratio 6.5 g/kg, dew point 7 °C, relative humidity 14 %, volume 0.896 m³/kg of dry air.

use physics::air::{air_density_kg_m3, dew_point_k, humidity_ratio, saturation_pa, wet_bulb_k};
use physics::constants::{STANDARD_ATMOSPHERE_PA, celsius, kelvin};
use physics::numbers::bisect;

use super::near;

/// Limits: half the last figure read from the chart; for the humidity ratio 0.07 g/kg more, because the chart's real air holds 0.5 % more vapour when saturated at
/// 20 °C (14.76 g/kg in the handbook's table, 14.68 by ideal gases and the engine's saturation pressure); for the dew point 0.6 K, because the chart's whole degree and the ratio's two figures leave that.
#[test]
fn example_1() {
    let air = kelvin(40.0);
    let vapour = bisect("vapour pressure of the example", "Pa", 100.0, 3000.0, |p| {
        wet_bulb_k(air, p, STANDARD_ATMOSPHERE_PA).map_or(f64::NAN, |wet| wet - kelvin(20.0))
    })
    .unwrap();
    let ratio = humidity_ratio(vapour, STANDARD_ATMOSPHERE_PA);
    near("humidity ratio (g/kg)", 1e3 * ratio, 6.5, 0.05 + 0.07);
    near("dew point (°C)", celsius(dew_point_k(vapour).unwrap()), 7.0, 0.6);
    near("relative humidity (%)", 100.0 * vapour / saturation_pa(air), 14.0, 0.5);
    near("volume (m³/kg)", (1.0 + ratio) / air_density_kg_m3(STANDARD_ATMOSPHERE_PA, vapour, air), 0.896, 0.0015);
}
