//! One point of a material: what it holds and passes at a suction and a temperature, with exact derivatives of the tables.

use crate::MaterialTables;
use crate::lanes::Lanes;
use crate::material::{SEGMENTS, VAPOUR_GAS_J_KGK, WATER_KG_M3, place_bounded};

/// State functions at a point, one number a lane. Slopes are by y = ln(suction).
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Point<const L: usize> {
    pub(crate) t: Lanes<L>,
    pub(crate) water: Lanes<L>,
    pub(crate) water_slope: Lanes<L>,
    pub(crate) potential: Lanes<L>,
    pub(crate) potential_slope: Lanes<L>,
    pub(crate) factor: Lanes<L>,
    pub(crate) factor_slope: Lanes<L>,
    pub(crate) pressure: Lanes<L>,
    pub(crate) pressure_y: Lanes<L>,
    pub(crate) pressure_t: Lanes<L>,
}

/// Saturation pressure over water and its slope by temperature: 610.5 exp(17.269 t/(237.3 + t)) (EN ISO 13788, its curve over water kept below 0 °C,
/// because pore water is undercooled and weather data are relative to water), times exp of a further exponent.
#[inline(always)]
pub(crate) fn vapour_pressure<const L: usize>(t_k: Lanes<L>, exponent: Lanes<L>) -> (Lanes<L>, Lanes<L>) {
    let t_c = t_k - 273.15;
    let shifted = t_c + 237.3;
    let inverse = Lanes::splat(1.0) / shifted;
    let pressure = (t_c * inverse * 17.269 + exponent).exp() * 610.5;
    (pressure, pressure * (inverse * inverse * (17.269 * 237.3)))
}

impl<const L: usize> Point<L> {
    /// Evaluates a material of which each lane has its own stage; y must lie within the tables, as the solver keeps it.
    #[inline(always)]
    pub(crate) fn at(material: &MaterialTables, stage: &[usize; L], y: Lanes<L>, t: Lanes<L>) -> Self {
        let zero = Lanes::default();
        let (mut water, mut water_slope, mut potential, mut potential_slope) = (zero, zero, zero, zero);
        let (mut factor, mut factor_slope, mut suction, mut offset) = (zero, zero, zero, zero);
        for (lane, &stage) in stage.iter().enumerate() {
            let (index, within) = place_bounded(y.0[lane]);
            let segment = &material.segments[stage * SEGMENTS + index.min(SEGMENTS - 1)];
            offset.0[lane] = within;
            water.0[lane] = segment.water;
            water_slope.0[lane] = segment.water_slope;
            potential.0[lane] = segment.potential;
            potential_slope.0[lane] = segment.potential_slope;
            factor.0[lane] = segment.factor;
            factor_slope.0[lane] = segment.factor_slope;
            suction.0[lane] = segment.suction;
        }
        // exp of an offset within one segment, to 3e-10.
        let growth = ((((offset * 0.25 + 1.0) * offset) * (1.0 / 3.0) + 1.0) * offset * 0.5 + 1.0) * offset + 1.0;
        let suction = suction * growth;
        let inverse_t = Lanes::splat(1.0 / (WATER_KG_M3 * VAPOUR_GAS_J_KGK)) / t;
        let kelvin = suction * inverse_t;
        let (pressure, saturation_t) = vapour_pressure(t, -kelvin);
        Self {
            t,
            water: water + water_slope * offset,
            water_slope,
            potential: potential + potential_slope * offset,
            potential_slope,
            factor: factor + factor_slope * offset,
            factor_slope,
            pressure,
            pressure_y: -(pressure * kelvin),
            pressure_t: saturation_t + pressure * kelvin * (inverse_t * (WATER_KG_M3 * VAPOUR_GAS_J_KGK)),
        }
    }
}

/// Heat conductivity at a value of y within the tables.
#[inline(always)]
pub(crate) fn heat_conductivity<const L: usize>(material: &MaterialTables, stage: &[usize; L], y: Lanes<L>) -> Lanes<L> {
    Lanes(std::array::from_fn(|lane| {
        let (index, within) = place_bounded(y.0[lane]);
        let [value, slope] = material.heat_conductivity[stage[lane] * SEGMENTS + index.min(SEGMENTS - 1)];
        value + slope * within
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn vapour_pressure_is_that_of_physics() {
        for t_k in [243.15, 268.15, 273.15, 288.15, 313.15] {
            let (pressure, slope) = vapour_pressure(Lanes([t_k]), Lanes::default());
            assert!((pressure.0[0] / physics::air::saturation_pa(t_k) - 1.0).abs() < 1e-13);
            assert!((slope.0[0] / physics::air::saturation_slope_pa_k(t_k) - 1.0).abs() < 1e-12);
        }
    }
}
