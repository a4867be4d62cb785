//! Ice in the cloth. Water that the cloth holds beyond what it takes from the air by sorption is free and freezes within a fifth of a kelvin below 0 °C; what
//! it holds by sorption stays liquid. As in a cell, ice is part of the enthalpy, so that a wet cloth holds near 0 °C while it freezes and thaws, and its
//! vapour is that over ice. Ice that hangs in the cloth does not drip.

use physics::constants::{FUSION_J_KG, ICE_HEAT_J_KGK};

use crate::kernel::point::vapour_pressure;
use crate::kernel::{WATER_J_KGK, ZERO_K};
use crate::lanes::{On, Vector};
use crate::material::VAPOUR_GAS_J_KGK;

/// Span of temperature in which the free water of a cloth freezes, K: a choice of numerics, narrow beside what weather does in an hour.
const FREEZES_WITHIN_K: f64 = 0.2;
/// Heat that liquid water takes more than ice, J/(kg K).
const THAWED_J_KGK: f64 = WATER_J_KGK - ICE_HEAT_J_KGK;

/// What a cloth is that hangs in one lane, for its enthalpy.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Hung {
    /// Heat capacity dry, J/(m² K); zero for no cloth.
    pub(crate) dry_heat: f64,
    /// Water it holds by sorption, which does not freeze, kg/m².
    pub(crate) sorbed: f64,
    /// Whether water freezes at all.
    pub(crate) freezes: bool,
}

impl Hung {
    fn free(&self, water: f64) -> f64 {
        if self.freezes { (water - self.sorbed).max(0.0) } else { 0.0 }
    }

    /// Ice in it, kg/m².
    pub(crate) fn ice(&self, water: f64, t_k: f64) -> f64 {
        self.free(water) * ((ZERO_K - t_k) / FREEZES_WITHIN_K).clamp(0.0, 1.0)
    }

    /// Enthalpy above dry cloth and liquid water at 0 °C, J/m².
    pub(crate) fn heat(&self, water: f64, t_k: f64) -> f64 {
        let warmth = t_k - ZERO_K;
        (self.dry_heat + WATER_J_KGK * water) * warmth - self.ice(water, t_k) * (FUSION_J_KG + THAWED_J_KGK * warmth)
    }

    /// Temperature at which it has an enthalpy, K: the exact inverse of [`Hung::heat`].
    pub(crate) fn temperature(&self, water: f64, heat_j_m2: f64) -> f64 {
        let capacity = self.dry_heat + WATER_J_KGK * water;
        let free = self.free(water);
        if heat_j_m2 >= 0.0 || free == 0.0 {
            return heat_j_m2 / capacity + ZERO_K;
        }
        let frozen_below = -capacity * FREEZES_WITHIN_K - free * (FUSION_J_KG - THAWED_J_KGK * FREEZES_WITHIN_K);
        if heat_j_m2 <= frozen_below {
            return (heat_j_m2 + free * FUSION_J_KG) / (capacity - free * THAWED_J_KGK) + ZERO_K;
        }
        // Between: H = (C + free·L/δ)·θ + (free·Δc/δ)·θ², the root near zero.
        let linear = capacity + free * FUSION_J_KG / FREEZES_WITHIN_K;
        let square = free * THAWED_J_KGK / FREEZES_WITHIN_K;
        2.0 * heat_j_m2 / (linear + (linear * linear + 4.0 * square * heat_j_m2).sqrt()) + ZERO_K
    }
}

/// Heat of the ice in the cloths of a block, J/m², with its slopes by water and temperature; nothing where none is cold enough.
#[inline(always)]
pub(crate) fn heat_of_ice<V: Vector>(water: V, t: V, sorbed: V) -> [V; 3] {
    let on = On::<V>(t.proof());
    let (none, one) = (on.zero(), on.splat(1.0));
    let cold = on.splat(ZERO_K) - t;
    if !cold.any_above_zero() {
        return [none; 3];
    }
    let free = (water - sorbed).max(none);
    let share = (cold * (1.0 / FREEZES_WITHIN_K)).clamp(0.0, 1.0);
    let share_t = cold.above_zero((on.splat(FREEZES_WITHIN_K) - cold).above_zero(on.splat(-1.0 / FREEZES_WITHIN_K), none), none);
    let fusion = on.splat(FUSION_J_KG) - cold * THAWED_J_KGK;
    let by_water = (water - sorbed).above_zero(one, none) * share * fusion;
    [-(free * share * fusion), -by_water, -(free * (share_t * fusion + share * THAWED_J_KGK))]
}

/// Saturation pressure over the water of a cloth, over ice below 0 °C, Pa, and its slope by temperature.
#[inline(always)]
pub(crate) fn saturation<V: Vector>(t: V, freezes: bool) -> (V, V) {
    let on = On::<V>(t.proof());
    let none = on.zero();
    if !freezes || !(on.splat(ZERO_K) - t).any_above_zero() {
        return vapour_pressure(t, none);
    }
    let inverse_t = t.inverse();
    let kelvin = ((inverse_t - 1.0 / ZERO_K) * (FUSION_J_KG / VAPOUR_GAS_J_KGK)).max(none);
    let (pressure, slope) = vapour_pressure(t, -kelvin);
    (pressure, slope + kelvin.above_zero(pressure * inverse_t * inverse_t * (FUSION_J_KG / VAPOUR_GAS_J_KGK), none))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lanes::Lanes;

    const CLOTH: Hung = Hung { dry_heat: 402.0, sorbed: 0.06, freezes: true };

    #[test]
    fn temperature_is_the_inverse_of_enthalpy() {
        for water in [0.0, 0.03, 0.06, 0.3, 0.9] {
            for t_k in [250.0, 268.15, 272.9, 272.95, 273.0, 273.1, 273.149_99, 273.15, 273.2, 290.0] {
                let found = CLOTH.temperature(water, CLOTH.heat(water, t_k));
                assert!((found - t_k).abs() < 1e-9, "{water} {t_k} {found}");
            }
        }
    }

    #[test]
    fn the_lanes_say_what_one_cloth_says() {
        for (water, t_k) in [(0.03, 270.0), (0.9, 275.0), (0.9, 273.05), (0.5, 272.5)] {
            let [heat, by_water, by_t] = heat_of_ice(Lanes([water]), Lanes([t_k]), Lanes([CLOTH.sorbed])).map(|lanes| lanes.0[0]);
            let liquid = |water: f64, t_k: f64| (CLOTH.dry_heat + WATER_J_KGK * water) * (t_k - ZERO_K);
            let truth = |water: f64, t_k: f64| CLOTH.heat(water, t_k) - liquid(water, t_k);
            assert!((heat - truth(water, t_k)).abs() < 1e-6);
            let (dw, dt) = (1e-6, 1e-5);
            assert!((by_water - (truth(water + dw, t_k) - truth(water - dw, t_k)) / (2.0 * dw)).abs() < 1.0);
            assert!((by_t - (truth(water, t_k + dt) - truth(water, t_k - dt)) / (2.0 * dt)).abs() < 1e-4 * by_t.abs() + 1.0);
        }
    }
}
