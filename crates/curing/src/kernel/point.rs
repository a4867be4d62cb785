//! One point of a material: what it holds and passes at a suction and a temperature, with exact derivatives of the tables.

use crate::MaterialTables;
use crate::lanes::{Lanes, On, Vector, record};
use crate::material::{LEAST_LN_SUCTION, SEGMENTS, SEGMENTS_PER_UNIT, Segment, VAPOUR_GAS_J_KGK, WATER_KG_M3, WHOLE};

record! {
    /// State functions at a point, one number a lane. Slopes are by y = ln(suction).
    Point { t, water, water_slope, potential, potential_slope, factor, factor_slope, pressure, pressure_y, pressure_t }
}

/// Saturation pressure over water and its slope by temperature: 610.5 exp(17.269 t/(237.3 + t)) (EN ISO 13788, its curve over water kept below 0 °C,
/// because pore water is undercooled and weather data are relative to water), times exp of a further exponent.
#[inline(always)]
pub(crate) fn vapour_pressure<V: Vector>(t_k: V, exponent: V) -> (V, V) {
    let t_c = t_k - 273.15;
    let shifted = t_c + 237.3;
    let inverse = shifted.inverse();
    let pressure = (t_c * inverse * 17.269 + exponent).exp() * 610.5;
    (pressure, pressure * (inverse * inverse * (17.269 * 237.3)))
}

/// Row of the tables in which each lane reads at its own stage, and the offset into its segment; y must lie within the tables, as the solver keeps it.
#[inline(always)]
fn place_lanes<V: Vector, const L: usize>(on: On<V>, stage: &[usize; L], y: &Lanes<L>) -> ([usize; L], V) {
    let scaled = (on.load(y) - LEAST_LN_SUCTION) * SEGMENTS_PER_UNIT;
    let shifted = (scaled - 0.499_999_9) + WHOLE;
    let offset = (scaled - (shifted - WHOLE)) * (1.0 / SEGMENTS_PER_UNIT);
    let shifted: Lanes<L> = shifted.lanes();
    let row = std::array::from_fn(|lane| stage[lane] * SEGMENTS + ((shifted.0[lane].to_bits() & 0xFFFF_FFFF) as usize).min(SEGMENTS - 1));
    (row, offset)
}

impl<V: Vector> Point<V> {
    /// Evaluates a material of which each lane has its own stage; y must lie within the tables, as the solver keeps it.
    #[inline(always)]
    pub(crate) fn at<const L: usize>(on: On<V>, material: &MaterialTables, stage: &[usize; L], y: &Lanes<L>, t: &Lanes<L>) -> Self {
        let (row, offset) = place_lanes(on, stage, y);
        let segments: [&Segment; L] = row.map(|row| &material.segments[row]);
        let (water, water_slope) = (
            on.load(&Lanes(segments.map(
                #[inline(always)]
                |segment| segment.water,
            ))),
            on.load(&Lanes(segments.map(
                #[inline(always)]
                |segment| segment.water_slope,
            ))),
        );
        let (potential, potential_slope) = (
            on.load(&Lanes(segments.map(
                #[inline(always)]
                |segment| segment.potential,
            ))),
            on.load(&Lanes(segments.map(
                #[inline(always)]
                |segment| segment.potential_slope,
            ))),
        );
        let (factor, factor_slope) = (
            on.load(&Lanes(segments.map(
                #[inline(always)]
                |segment| segment.factor,
            ))),
            on.load(&Lanes(segments.map(
                #[inline(always)]
                |segment| segment.factor_slope,
            ))),
        );
        let t = on.load(t);
        // exp of an offset within one segment, to 3e-10.
        let growth = ((((offset * 0.25 + 1.0) * offset) * (1.0 / 3.0) + 1.0) * offset * 0.5 + 1.0) * offset + 1.0;
        let suction = on.load(&Lanes(segments.map(
            #[inline(always)]
            |segment| segment.suction,
        ))) * growth;
        let inverse_t = on.splat(1.0 / (WATER_KG_M3 * VAPOUR_GAS_J_KGK)) / t;
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
pub(crate) fn heat_conductivity<V: Vector, const L: usize>(on: On<V>, material: &MaterialTables, stage: &[usize; L], y: &Lanes<L>) -> V {
    let (row, offset) = place_lanes(on, stage, y);
    let rows: [&[f64; 2]; L] = row.map(|row| &material.heat_conductivity[row]);
    on.load(&Lanes(rows.map(|row| row[0]))) + on.load(&Lanes(rows.map(|row| row[1]))) * offset
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
