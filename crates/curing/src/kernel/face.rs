//! The balance of a face node: films, long-wave, sun, and the cloth in front, whose own water and heat are eliminated into the face's row, so that
//! it is an unknown of the same Newton.

use crate::kernel::cloth;
use crate::kernel::conditions::Conditions;
use crate::kernel::point::Point;
use crate::kernel::{STEFAN_BOLTZMANN, WATER_J_KGK, ZERO_K};
use crate::lanes::Lanes;

/// Water (kg/m²) and temperature (K) of the cloth, and its water and heat at the start of the step.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct ClothState<const L: usize> {
    pub(crate) water: Lanes<L>,
    pub(crate) t: Lanes<L>,
    pub(crate) water_before: Lanes<L>,
    pub(crate) heat_before: Lanes<L>,
    /// Whether its water freezes.
    pub(crate) freezes: bool,
}

/// A flow and its slopes.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Flow<const L: usize> {
    pub(crate) value: Lanes<L>,
    pub(crate) by_y: Lanes<L>,
    pub(crate) by_t: Lanes<L>,
}

/// A flow to the world outside and its slopes by the face's and the cloth's unknowns.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Outflow<const L: usize> {
    pub(crate) face: Flow<L>,
    pub(crate) by_cloth_water: Lanes<L>,
    pub(crate) by_cloth_t: Lanes<L>,
}

/// What leaves a face, rain apart.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct FaceRow<const L: usize> {
    /// Water leaving the face, kg/(m² s), with the cloth eliminated.
    pub(crate) mass: Flow<L>,
    /// Heat leaving the face, W/m², with the cloth eliminated.
    pub(crate) heat: Flow<L>,
    /// Water reaching the world.
    pub(crate) outside_mass: Outflow<L>,
    /// Heat reaching the world.
    pub(crate) outside_heat: Outflow<L>,
    /// Change of the cloth's water and temperature: −(value + by_y Δy + by_t Δt).
    pub(crate) cloth: [Flow<L>; 2],
}

/// Balance of a face in front of which `conditions` stand.
#[inline(always)]
pub(crate) fn face_row<const L: usize>(
    conditions: &Conditions<L>,
    point: &Point<L>,
    cloth: &ClothState<L>,
    per_second: Lanes<L>,
    latent_j_kg: f64,
) -> FaceRow<L> {
    let c = conditions;
    let carried = (point.t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    let evaporation = c.vapour * (point.pressure - c.vapour_pa);
    let t2 = point.t * point.t;
    let emitted = c.emissivity * STEFAN_BOLTZMANN * t2;
    let mass = Flow { value: evaporation, by_y: c.vapour * point.pressure_y, by_t: c.vapour * point.pressure_t };
    let heat = Flow {
        value: c.heat * (point.t - c.air_k) - c.absorbed + emitted * t2 - c.emissivity * c.longwave + carried * evaporation,
        by_y: carried * mass.by_y,
        by_t: c.heat + emitted * point.t * 4.0 + carried * mass.by_t + evaporation * WATER_J_KGK,
    };
    let mut row = FaceRow {
        mass,
        heat,
        outside_mass: Outflow { face: mass, ..Outflow::default() },
        outside_heat: Outflow { face: heat, ..Outflow::default() },
        cloth: [Flow::default(); 2],
    };
    if c.has_cloth.any_above_zero() {
        hang(c, point, cloth, per_second, latent_j_kg, &mut row);
    }
    row
}

/// A flow to or from the cloth with its slopes by the face's (y, t) and the cloth's (water, temperature).
#[derive(Clone, Copy)]
struct ClothFlow<const L: usize> {
    value: Lanes<L>,
    by_y: Lanes<L>,
    by_t: Lanes<L>,
    by_water: Lanes<L>,
    by_cloth_t: Lanes<L>,
}

/// Flows of water and heat from the face to the cloth, then from the cloth to the world.
#[inline(always)]
fn cloth_flows<const L: usize>(c: &Conditions<L>, point: &Point<L>, cloth: &ClothState<L>, latent_j_kg: f64) -> [ClothFlow<L>; 4] {
    let (k, none) = (&c.cloth, Lanes::default());
    let (saturation, saturation_t) = cloth::saturation(cloth.t, cloth.freezes);
    let dampness = (cloth.water / k.hygroscopic).min(Lanes::splat(1.0));
    let pressure = saturation * dampness;
    let pressure_w = (k.hygroscopic - cloth.water).above_zero(saturation / k.hygroscopic, none);
    let pressure_t = saturation_t * dampness;
    let face_carried = (point.t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    let cloth_carried = (cloth.t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    let (face_t2, cloth_t2) = (point.t * point.t, cloth.t * cloth.t);
    let gap_emitted = k.gap_emissivity * STEFAN_BOLTZMANN;
    let outer_emitted = k.outer_emissivity * STEFAN_BOLTZMANN;
    let gap = ClothFlow {
        value: k.gap_vapour * (point.pressure - pressure),
        by_y: k.gap_vapour * point.pressure_y,
        by_t: k.gap_vapour * point.pressure_t,
        by_water: -(k.gap_vapour * pressure_w),
        by_cloth_t: -(k.gap_vapour * pressure_t),
    };
    let radiated = gap_emitted * (face_t2 * face_t2 - cloth_t2 * cloth_t2);
    let gap_heat = ClothFlow {
        value: k.gap_heat * (point.t - cloth.t) + radiated + face_carried * gap.value,
        by_y: face_carried * gap.by_y,
        by_t: k.gap_heat + gap_emitted * face_t2 * point.t * 4.0 + face_carried * gap.by_t + gap.value * WATER_J_KGK,
        by_water: face_carried * gap.by_water,
        by_cloth_t: -k.gap_heat - gap_emitted * cloth_t2 * cloth.t * 4.0 + face_carried * gap.by_cloth_t,
    };
    let out = ClothFlow {
        value: k.outer_vapour * (pressure - c.vapour_pa),
        by_y: none,
        by_t: none,
        by_water: k.outer_vapour * pressure_w,
        by_cloth_t: k.outer_vapour * pressure_t,
    };
    let emitted = outer_emitted * cloth_t2 * cloth_t2 - k.outer_emissivity * k.longwave;
    let out_heat = ClothFlow {
        value: k.outer_heat * (cloth.t - c.air_k) - k.absorbed + emitted + cloth_carried * out.value,
        by_y: none,
        by_t: none,
        by_water: cloth_carried * out.by_water,
        by_cloth_t: k.outer_heat + outer_emitted * cloth_t2 * cloth.t * 4.0 + cloth_carried * out.by_cloth_t + out.value * WATER_J_KGK,
    };
    [gap, gap_heat, out, out_heat]
}

/// Adds the cloth to a face's row and eliminates its two unknowns.
#[inline(always)]
fn hang<const L: usize>(
    c: &Conditions<L>,
    point: &Point<L>,
    cloth: &ClothState<L>,
    per_second: Lanes<L>,
    latent_j_kg: f64,
    row: &mut FaceRow<L>,
) {
    let [gap, gap_heat, out, out_heat] = cloth_flows(c, point, cloth, latent_j_kg);
    // The cloth's own balance and its 2 × 2 block by (water, temperature).
    let capacity = c.cloth.dry_heat + cloth.water * WATER_J_KGK;
    let warmth = cloth.t - ZERO_K;
    let residual_w = (cloth.water - cloth.water_before) * per_second - gap.value + out.value;
    let mut residual_h = (capacity * warmth - cloth.heat_before) * per_second - gap_heat.value + out_heat.value;
    let ww = per_second - gap.by_water + out.by_water;
    let wc = out.by_cloth_t - gap.by_cloth_t;
    let mut hw = warmth * per_second * WATER_J_KGK - gap_heat.by_water + out_heat.by_water;
    let mut hc = capacity * per_second - gap_heat.by_cloth_t + out_heat.by_cloth_t;
    if cloth.freezes {
        let [ice, ice_w, ice_t] = cloth::heat_of_ice(cloth.water, cloth.t, c.cloth.hygroscopic);
        residual_h = residual_h + ice * per_second;
        hw = hw + ice_w * per_second;
        hc = hc + ice_t * per_second;
    }
    let inverse = Lanes::splat(1.0) / (ww * hc - wc * hw);
    let solve = |w: Lanes<L>, h: Lanes<L>| [(hc * w - wc * h) * inverse, (ww * h - hw * w) * inverse];
    let base = solve(residual_w, residual_h);
    let by_y = solve(-gap.by_y, -gap_heat.by_y);
    let by_t = solve(-gap.by_t, -gap_heat.by_t);
    let add = |into: &mut Flow<L>, flow: &ClothFlow<L>| {
        into.value = into.value + (flow.value - flow.by_water * base[0] - flow.by_cloth_t * base[1]);
        into.by_y = into.by_y + (flow.by_y - flow.by_water * by_y[0] - flow.by_cloth_t * by_y[1]);
        into.by_t = into.by_t + (flow.by_t - flow.by_water * by_t[0] - flow.by_cloth_t * by_t[1]);
    };
    add(&mut row.mass, &gap);
    add(&mut row.heat, &gap_heat);
    for (into, flow) in [(&mut row.outside_mass, &out), (&mut row.outside_heat, &out_heat)] {
        into.face.value = into.face.value + flow.value * c.has_cloth;
        into.by_cloth_water = flow.by_water * c.has_cloth;
        into.by_cloth_t = flow.by_cloth_t * c.has_cloth;
    }
    row.cloth = std::array::from_fn(|unknown| Flow { value: base[unknown], by_y: by_y[unknown], by_t: by_t[unknown] });
}
