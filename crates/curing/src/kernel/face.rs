//! The balance of a face node: films, long-wave, sun, and the cloth in front, whose own water and heat are eliminated into the face's row, so that
//! it is an unknown of the same Newton.

use crate::kernel::conditions::Conditions;
use crate::kernel::point::{Point, vapour_pressure};
use crate::kernel::{STEFAN_BOLTZMANN, WATER_J_KGK, ZERO_K};
use crate::lanes::Lanes;

/// Water (kg/m²) and temperature (K) of the cloth, and its water and heat at the start of the step.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct ClothState<const L: usize> {
    pub(crate) water: Lanes<L>,
    pub(crate) t: Lanes<L>,
    pub(crate) water_before: Lanes<L>,
    pub(crate) heat_before: Lanes<L>,
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

/// Adds the cloth to a face's row and eliminates its two unknowns.
fn hang<const L: usize>(
    c: &Conditions<L>,
    point: &Point<L>,
    cloth: &ClothState<L>,
    per_second: Lanes<L>,
    latent_j_kg: f64,
    row: &mut FaceRow<L>,
) {
    let k = &c.cloth;
    let (saturation, saturation_t) = vapour_pressure(cloth.t, Lanes::default());
    let dampness = (cloth.water / k.hygroscopic).min(Lanes::splat(1.0));
    let pressure = saturation * dampness;
    let pressure_w = (k.hygroscopic - cloth.water).above_zero(saturation / k.hygroscopic, Lanes::default());
    let pressure_t = saturation_t * dampness;
    let face_carried = (point.t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    let cloth_carried = (cloth.t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    // From the face to the cloth, and from the cloth to the world.
    let gap = k.gap_vapour * (point.pressure - pressure);
    let out = k.outer_vapour * (pressure - c.vapour_pa);
    let (face_t2, cloth_t2) = (point.t * point.t, cloth.t * cloth.t);
    let gap_emitted = k.gap_emissivity * STEFAN_BOLTZMANN;
    let outer_emitted = k.outer_emissivity * STEFAN_BOLTZMANN;
    let gap_heat = k.gap_heat * (point.t - cloth.t) + gap_emitted * (face_t2 * face_t2 - cloth_t2 * cloth_t2) + face_carried * gap;
    let out_heat = k.outer_heat * (cloth.t - c.air_k) - k.absorbed + outer_emitted * cloth_t2 * cloth_t2 - k.outer_emissivity * k.longwave
        + cloth_carried * out;
    // Slopes of the gap's flows by the face's unknowns and by the cloth's.
    let gap_y = k.gap_vapour * point.pressure_y;
    let gap_t = k.gap_vapour * point.pressure_t;
    let gap_w = -(k.gap_vapour * pressure_w);
    let gap_c = -(k.gap_vapour * pressure_t);
    let heat_y = face_carried * gap_y;
    let heat_t = k.gap_heat + gap_emitted * face_t2 * point.t * 4.0 + face_carried * gap_t + gap * WATER_J_KGK;
    let heat_w = face_carried * gap_w;
    let heat_c = -k.gap_heat - gap_emitted * cloth_t2 * cloth.t * 4.0 + face_carried * gap_c;
    let out_w = k.outer_vapour * pressure_w;
    let out_c = k.outer_vapour * pressure_t;
    let out_heat_w = cloth_carried * out_w;
    let out_heat_c = k.outer_heat + outer_emitted * cloth_t2 * cloth.t * 4.0 + cloth_carried * out_c + out * WATER_J_KGK;
    // The cloth's own balance and its 2 × 2 block by (water, temperature).
    let capacity = k.dry_heat + cloth.water * WATER_J_KGK;
    let warmth = cloth.t - ZERO_K;
    let residual_w = (cloth.water - cloth.water_before) * per_second - gap + out;
    let residual_h = (capacity * warmth - cloth.heat_before) * per_second - gap_heat + out_heat;
    let ww = per_second - gap_w + out_w;
    let wc = out_c - gap_c;
    let hw = warmth * per_second * WATER_J_KGK - heat_w + out_heat_w;
    let hc = capacity * per_second - heat_c + out_heat_c;
    let inverse = Lanes::splat(1.0) / (ww * hc - wc * hw);
    let solve = |w: Lanes<L>, h: Lanes<L>| [(hc * w - wc * h) * inverse, (ww * h - hw * w) * inverse];
    let base = solve(residual_w, residual_h);
    let by_y = solve(-gap_y, -heat_y);
    let by_t = solve(-gap_t, -heat_t);
    let eliminate = |value: Lanes<L>, y: Lanes<L>, t: Lanes<L>, w: Lanes<L>, c: Lanes<L>| Flow {
        value: value - w * base[0] - c * base[1],
        by_y: y - w * by_y[0] - c * by_y[1],
        by_t: t - w * by_t[0] - c * by_t[1],
    };
    let mass = eliminate(gap, gap_y, gap_t, gap_w, gap_c);
    let heat = eliminate(gap_heat, heat_y, heat_t, heat_w, heat_c);
    let add = |flow: &mut Flow<L>, more: Flow<L>| {
        flow.value = flow.value + more.value;
        flow.by_y = flow.by_y + more.by_y;
        flow.by_t = flow.by_t + more.by_t;
    };
    add(&mut row.mass, mass);
    add(&mut row.heat, heat);
    row.outside_mass.face.value = row.outside_mass.face.value + out * c.has_cloth;
    row.outside_mass.by_cloth_water = out_w * c.has_cloth;
    row.outside_mass.by_cloth_t = out_c * c.has_cloth;
    row.outside_heat.face.value = row.outside_heat.face.value + out_heat * c.has_cloth;
    row.outside_heat.by_cloth_water = out_heat_w * c.has_cloth;
    row.outside_heat.by_cloth_t = out_heat_c * c.has_cloth;
    row.cloth = std::array::from_fn(|unknown| Flow { value: base[unknown], by_y: by_y[unknown], by_t: by_t[unknown] });
}
