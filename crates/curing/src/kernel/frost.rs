//! Freezing of pore water: how much of a cell's water is ice, what that takes out of its enthalpy, and what it does to vapour and liquid.
//!
//! Ice stands at the pressure of the air, so the liquid left at a temperature is what the material holds at the suction in balance with ice there,
//! p = ρ_w L_f (T₀ − T)/T₀ (the inverse of [`physics::frost::freezing_point_k`]); ice begins at the freezing point of the suction of the whole water
//! and grows as it gets colder. Enthalpy is that of dry matter and liquid water less ice·(L_f + (c_w − c_i)(T − T₀)), so that a freezing cell holds at
//! its freezing point by itself. Vapour over a cell with ice is that over ice. Liquid moves down the suction of the *whole* water, throttled by the
//! flux potential of the liquid left over that of all the water: ice stops flow and draws none. This module must never let ice draw water from
//! warmer cells: ice lenses and the pressure of ice are not computed. Faces and joints have no volume and
//! hold no ice, but their vapour pressure is at most that over ice. Only points below 0 °C cost anything.

use physics::constants::{FUSION_J_KG, ICE_HEAT_J_KGK};

use crate::MaterialTables;
use crate::kernel::column::Column;
use crate::kernel::point::vapour_pressure;
use crate::kernel::{FACE_TOLERANCE_K, WATER_J_KGK, ZERO_K};
use crate::ladder::Pores;
use crate::lanes::{Lanes, Vector, ln, record};
use crate::material::{GREATEST_LN_SUCTION, LEAST_LN_SUCTION, VAPOUR_GAS_J_KGK, WATER_KG_M3};

/// Change of temperature below which the inverse of enthalpy is found, K.
const FOUND_K: f64 = 1e-10;
/// Share of a face's answer to suction that is kept in the slopes over ice.
const TRACE: f64 = 0.01;
/// Most trials for it: bisection alone would need fewer.
const MOST_TRIALS: usize = 80;

record! {
    /// What ice adds to the enthalpy of a cell, J/m³, with its slopes by y and temperature.
    Frost { value, by_y, by_t }
}

/// The same for one cell of one member.
#[derive(Clone, Copy, Debug, Default)]
struct Ice {
    kg_m3: f64,
    heat: f64,
    by_water: f64,
    by_t: f64,
}

/// ln of the suction of liquid in balance with ice at a temperature, within the tables; the wet end from the melting point up.
fn ice_ln_suction(t_k: f64) -> f64 {
    let suction_pa = WATER_KG_M3 * FUSION_J_KG * (ZERO_K - t_k) / ZERO_K;
    if suction_pa > 1.0 { ln(suction_pa).clamp(LEAST_LN_SUCTION, GREATEST_LN_SUCTION - 0.05) } else { LEAST_LN_SUCTION }
}

/// Suction of the liquid in pores whose whole water has a suction, at a temperature where what is beyond the balance with ice is frozen, Pa.
pub(crate) fn liquid_suction_pa(suction_pa: f64, t_k: f64) -> f64 {
    suction_pa.max(WATER_KG_M3 * FUSION_J_KG * (ZERO_K - t_k) / ZERO_K)
}

/// The ice of a cell that holds so much water, kg/m³, at a temperature, K.
fn ice(pores: Pores<'_>, water: f64, t_k: f64) -> Ice {
    let y = ice_ln_suction(t_k);
    if y <= LEAST_LN_SUCTION {
        return Ice::default();
    }
    let (segment, offset) = pores.segment(y);
    let kg_m3 = water - (segment.water + segment.water_slope * offset);
    if kg_m3 <= 0.0 {
        return Ice::default();
    }
    let fusion = FUSION_J_KG + (WATER_J_KGK - ICE_HEAT_J_KGK) * (t_k - ZERO_K);
    let thaws = -segment.water_slope / (ZERO_K - t_k);
    Ice { kg_m3, heat: -kg_m3 * fusion, by_water: -fusion, by_t: fusion * thaws - kg_m3 * (WATER_J_KGK - ICE_HEAT_J_KGK) }
}

/// Ice in a cell that holds so much water, kg/m³, at a temperature, K: kg/m³.
pub(crate) fn ice_kg_m3(pores: Pores<'_>, water_kg_m3: f64, t_k: f64) -> f64 {
    ice(pores, water_kg_m3, t_k).kg_m3
}

/// Enthalpy of a cell, J/m³, above liquid water and dry matter at 0 °C.
pub(crate) fn enthalpy(pores: Pores<'_>, water_kg_m3: f64, t_k: f64) -> f64 {
    (pores.dry_heat_j_m3k + WATER_J_KGK * water_kg_m3) * (t_k - ZERO_K) + ice(pores, water_kg_m3, t_k).heat
}

/// Temperature at which a cell has an enthalpy, K: the inverse of [`enthalpy`], by Newton's method kept between bounds that close in.
pub(crate) fn temperature(pores: Pores<'_>, water_kg_m3: f64, heat_j_m3: f64, guess_k: f64) -> f64 {
    let capacity = pores.dry_heat_j_m3k + WATER_J_KGK * water_kg_m3;
    let unfrozen = heat_j_m3 / capacity + ZERO_K;
    if unfrozen >= ZERO_K || ice(pores, water_kg_m3, unfrozen).kg_m3 == 0.0 {
        return unfrozen;
    }
    let (mut low, mut high) = (unfrozen, ZERO_K);
    let mut t = if guess_k > low && guess_k < high { guess_k } else { 0.5 * (low + high) };
    for _ in 0..MOST_TRIALS {
        let ice = ice(pores, water_kg_m3, t);
        let over = capacity * (t - ZERO_K) + ice.heat - heat_j_m3;
        if over > 0.0 {
            high = t;
        } else {
            low = t;
        }
        let newton = t - over / (capacity + ice.by_t);
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        let change = (next - t).abs();
        t = next;
        if change < FOUND_K {
            break;
        }
    }
    t
}

impl<const L: usize> Column<L> {
    /// Puts ice into an evaluated cell: its enthalpy, and vapour over ice where there is some.
    #[cold]
    #[inline(never)]
    pub(crate) fn chill(&mut self, layer: usize, node: usize) {
        let material = &self.layout.layers[layer].material;
        let point = &mut self.points[node + layer];
        let mut frost = Frost::<Lanes<L>>::default();
        for lane in 0..L {
            let t = point.t.0[lane];
            let ice = ice(material.pores(self.stage[layer][lane]), point.water.0[lane], t);
            if ice.kg_m3 > 0.0 {
                frost.value.0[lane] = ice.heat;
                frost.by_y.0[lane] = ice.by_water * point.water_slope.0[lane];
                frost.by_t.0[lane] = ice.by_t;
                (point.pressure.0[lane], point.pressure_t.0[lane]) = pressure_over_ice(t);
                point.pressure_y.0[lane] = 0.0;
            }
        }
        self.frost[node] = frost;
        self.icy[node] = true;
    }

    /// Forgets the ice of a cell in which every lane has thawed.
    pub(crate) fn thaw(&mut self, node: usize) {
        self.frost[node] = Frost::default();
        self.icy[node] = false;
    }

    /// Bounds the vapour pressure of a face or joint by that over ice, which its liquid would turn into. A trace of its answer to suction is left in the
    /// slopes alone, so that its suction stays determined where ice has shut the way of liquid.
    #[cold]
    #[inline(never)]
    pub(crate) fn ice_over(&mut self, layer: usize, node: usize) {
        let point = &mut self.points[node + layer];
        for lane in 0..L {
            let t = point.t.0[lane];
            if ice_ln_suction(t) > self.y[node].0[lane] {
                (point.pressure.0[lane], point.pressure_t.0[lane]) = pressure_over_ice(t);
                point.pressure_y.0[lane] *= TRACE;
            }
        }
    }

    /// How far ice at the start of the step throttles the flow of liquid in each link of a layer.
    pub(crate) fn throttle(&mut self, layer: usize) {
        let cells = self.layout.cells[layer].clone();
        self.throttled[layer] = cells.clone().any(|node| (Lanes::splat(ZERO_K) - self.t[node]).any_above_zero());
        if !self.throttled[layer] {
            return;
        }
        let material = &self.layout.layers[layer].material;
        let mut before = Lanes::splat(1.0);
        for node in cells.start..=cells.end {
            let open =
                if node == cells.end { Lanes::splat(1.0) } else { openness(material, &self.stage[layer], self.y[node], self.t[node]) };
            self.liquid_open[node] = before.min(open);
            before = open;
        }
    }

    /// Temperatures of a cell after a change, of which `heat` and `water` are the contents; `otherwise` where the cell is above freezing.
    #[cold]
    #[inline(never)]
    pub(crate) fn thawing(&self, layer: usize, water: Lanes<L>, heat: Lanes<L>, otherwise: Lanes<L>) -> Lanes<L> {
        let material = &self.layout.layers[layer].material;
        let stage = &self.stage[layer];
        Lanes(std::array::from_fn(|lane| temperature(material.pores(stage[lane]), water.0[lane], heat.0[lane], otherwise.0[lane])))
    }

    /// Enthalpy of a cell, J/m³, after changes of y and temperature, as the last evaluation's slopes have it.
    pub(crate) fn heat_after(&self, layer: usize, node: usize, dy: Lanes<L>, dt: Lanes<L>) -> Lanes<L> {
        let point = &self.points[node + layer];
        let more = point.water_slope * dy;
        let warmth = point.t - ZERO_K;
        let capacity = point.water * WATER_J_KGK + self.layout.layers[layer].material.dry_heat_j_m3k();
        let heat = capacity * (warmth + dt) + more * warmth * WATER_J_KGK;
        if !self.icy[node] {
            return heat;
        }
        let frost = &self.frost[node];
        heat + (frost.value + frost.by_y * dy + frost.by_t * dt)
    }

    /// Whether the temperatures a lane's last solve asks for are those its enthalpies then have: not so where a cell begins or ends to freeze.
    pub(crate) fn frost_fits(&self, lane: usize) -> bool {
        for layer in 0..self.awake[lane] {
            let pores = self.layout.layers[layer].material.pores(self.stage[layer][lane]);
            for node in self.layout.cells[layer].clone() {
                let (dy, dt) = (self.dy[node], self.dt[node]);
                let asked = self.t[node].0[lane] + dt.0[lane];
                if asked.min(self.t[node].0[lane]) >= ZERO_K {
                    continue;
                }
                let point = &self.points[node + layer];
                let water = point.water.0[lane] + point.water_slope.0[lane] * dy.0[lane];
                let got = temperature(pores, water, self.heat_after(layer, node, dy, dt).0[lane], asked);
                if (got - asked).abs() >= self.settings.tolerance_k.min(FACE_TOLERANCE_K) {
                    return false;
                }
            }
        }
        true
    }
}

/// Vapour pressure over ice, Pa, and its slope by temperature: that over water at the suction in balance with ice.
fn pressure_over_ice(t_k: f64) -> (f64, f64) {
    let kelvin = FUSION_J_KG / VAPOUR_GAS_J_KGK * (1.0 / t_k - 1.0 / ZERO_K);
    let (pressure, slope) = vapour_pressure(Lanes([t_k]), Lanes([-kelvin]));
    (pressure.0[0], slope.0[0] + pressure.0[0] * FUSION_J_KG / (VAPOUR_GAS_J_KGK * t_k * t_k))
}

/// Flux potential of the liquid left over that of all the water, 0 to 1, in each lane.
fn openness<const L: usize>(material: &MaterialTables, stage: &[usize; L], y: Lanes<L>, t: Lanes<L>) -> Lanes<L> {
    Lanes(std::array::from_fn(|lane| {
        let iced = ice_ln_suction(t.0[lane]);
        if iced <= y.0[lane] {
            return 1.0;
        }
        let pores = material.pores(stage[lane]);
        let (left, all) = (pores.potential_kg_ms(iced), pores.potential_kg_ms(y.0[lane]));
        if all > 0.0 { (left / all).clamp(0.0, 1.0) } else { 1.0 }
    }))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;
    use materials::Moisture;

    fn mortar() -> MaterialTables {
        let moisture = Moisture {
            density_kg_m3: 1650.0,
            porosity: 0.37,
            saturation_kg_m3: 370.0,
            retention_a_per_pa: 3.3e-6,
            retention_n: 1.8,
            absorption_kg_m2_s05: 0.12,
            vapour_resistance: 10.0,
            conductivity_w_mk: 0.7,
            conductivity_per_water: 0.003,
            heat_j_kgk: 850.0,
        };
        MaterialTables::from_moisture(&moisture).unwrap()
    }

    /// Ice begins at the freezing point of the suction (`physics::frost`, generalised Clausius–Clapeyron).
    #[test]
    fn ice_begins_at_the_freezing_point_of_the_suction() {
        let material = mortar();
        for water in [20.0, 150.0, 300.0, 360.0] {
            let freezes = physics::frost::freezing_point_k(material.suction_pa(water));
            assert_eq!(ice_kg_m3(material.pores(0), water, freezes + 1e-6), 0.0, "{water}");
            assert!(ice_kg_m3(material.pores(0), water, freezes - 1e-3) > 0.0, "{water}");
        }
    }

    #[test]
    fn temperature_is_the_inverse_of_enthalpy() {
        let material = mortar();
        for water in [0.5, 20.0, 150.0, 300.0, 369.99] {
            for t_k in [180.0, 250.0, 268.15, 272.0, 272.9, 273.1, 273.149_99, 273.15, 273.2, 290.0] {
                let found = temperature(material.pores(0), water, enthalpy(material.pores(0), water, t_k), 260.0);
                assert!((found - t_k).abs() < 1e-8, "{water} {t_k} {found}");
            }
        }
    }

    #[test]
    fn slopes_of_the_heat_of_ice_are_its_derivatives() {
        let material = mortar();
        for (water, t_k) in [(300.0, 272.5), (300.0, 265.0), (100.0, 271.0)] {
            let (ice_here, step) = (ice(material.pores(0), water, t_k), 1e-5);
            let by_t = (ice(material.pores(0), water, t_k + step).heat - ice(material.pores(0), water, t_k - step).heat) / (2.0 * step);
            let by_water = (ice(material.pores(0), water + step, t_k).heat - ice(material.pores(0), water - step, t_k).heat) / (2.0 * step);
            assert!((ice_here.by_t / by_t - 1.0).abs() < 1e-3, "{} {by_t}", ice_here.by_t);
            assert!((ice_here.by_water / by_water - 1.0).abs() < 1e-6);
        }
    }

    /// Vapour over ice: the Magnus form over ice of Sonntag 1990 (published; 611.2 exp(22.46 t/(272.62 + t)) Pa; from memory). Within 1 % down to −10 °C;
    /// 1.2 % low at −15 °C, of which 0.7 % because the suction in balance with ice is taken linear, with one heat of fusion.
    #[test]
    fn vapour_over_a_frozen_cell_is_that_over_ice() {
        for (t_c, within) in [(-15.0, 0.015), (-10.0, 0.01), (-5.0, 0.01), (-1.0, 0.01)] {
            let t_k: f64 = t_c + ZERO_K;
            let (pressure, _) = pressure_over_ice(t_k);
            let over_ice = 611.2 * libm::exp(22.46 * t_c / (272.62 + t_c));
            assert!((pressure / over_ice - 1.0).abs() < within, "{t_c}: {pressure} against {over_ice}");
        }
    }
}
