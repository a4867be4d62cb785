//! The balance of a face node: films, long-wave, sun, and the cloth in front, whose own water and heat are eliminated into the face's row, so that
//! it is an unknown of the same Newton.

use crate::kernel::cloth;
use crate::kernel::conditions::Conditions;
use crate::kernel::point::Point;
use crate::kernel::{STEFAN_BOLTZMANN, WATER_J_KGK, ZERO_K};
use crate::lanes::{Lanes, On, Record, Vector, record};

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

record! {
    /// A flow and its slopes.
    Flow { value, by_y, by_t }
}

/// A flow to the world outside and its slopes by the face's and the cloth's unknowns.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Outflow<N> {
    pub(crate) face: Flow<N>,
    pub(crate) by_cloth_water: N,
    pub(crate) by_cloth_t: N,
}

impl<N> Record<N> for Outflow<N> {
    type Of<M> = Outflow<M>;

    #[inline(always)]
    fn map<M>(&self, f: impl Fn(&N) -> M + Copy) -> Outflow<M> {
        Outflow { face: self.face.map(f), by_cloth_water: f(&self.by_cloth_water), by_cloth_t: f(&self.by_cloth_t) }
    }
}

/// What leaves a face, rain apart.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct FaceRow<N> {
    /// Water leaving the face, kg/(m² s), with the cloth eliminated.
    pub(crate) mass: Flow<N>,
    /// Heat leaving the face, W/m², with the cloth eliminated.
    pub(crate) heat: Flow<N>,
    /// Water reaching the world.
    pub(crate) outside_mass: Outflow<N>,
    /// Heat reaching the world.
    pub(crate) outside_heat: Outflow<N>,
    /// Change of the cloth's water and temperature: −(value + by_y Δy + by_t Δt).
    pub(crate) cloth: [Flow<N>; 2],
}

impl<N> Record<N> for FaceRow<N> {
    type Of<M> = FaceRow<M>;

    #[inline(always)]
    fn map<M>(&self, f: impl Fn(&N) -> M + Copy) -> FaceRow<M> {
        FaceRow {
            mass: self.mass.map(f),
            heat: self.heat.map(f),
            outside_mass: self.outside_mass.map(f),
            outside_heat: self.outside_heat.map(f),
            cloth: [self.cloth[0].map(f), self.cloth[1].map(f)],
        }
    }
}

/// Balance of a face in front of which `conditions` stand.
#[inline(always)]
pub(crate) fn face_row<V: Vector, const L: usize>(
    on: On<V>,
    c: &Conditions<L>,
    point: &Point<V>,
    cloth: &ClothState<L>,
    per_second: V,
    latent_j_kg: f64,
) -> FaceRow<V> {
    let (vapour, film, emissivity) = (on.load(&c.vapour), on.load(&c.heat), on.load(&c.emissivity));
    let carried = (point.t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    let evaporation = vapour * (point.pressure - on.load(&c.vapour_pa));
    let t2 = point.t * point.t;
    let emitted = emissivity * STEFAN_BOLTZMANN * t2;
    let mass = Flow { value: evaporation, by_y: vapour * point.pressure_y, by_t: vapour * point.pressure_t };
    let heat = Flow {
        value: film * (point.t - on.load(&c.air_k)) - on.load(&c.absorbed) + emitted * t2 - emissivity * on.load(&c.longwave)
            + carried * evaporation,
        by_y: carried * mass.by_y,
        by_t: film + emitted * point.t * 4.0 + carried * mass.by_t + evaporation * WATER_J_KGK,
    };
    let none = on.zero();
    let no_flow = Flow { value: none, by_y: none, by_t: none };
    let mut row = FaceRow {
        mass,
        heat,
        outside_mass: Outflow { face: mass, by_cloth_water: none, by_cloth_t: none },
        outside_heat: Outflow { face: heat, by_cloth_water: none, by_cloth_t: none },
        cloth: [no_flow; 2],
    };
    if on.load(&c.has_cloth).any_above_zero() {
        hang(on, c, point, cloth, per_second, latent_j_kg, &mut row);
    }
    row
}

/// A flow to or from the cloth with its slopes by the face's (y, t) and the cloth's (water, temperature).
#[derive(Clone, Copy)]
struct ClothFlow<V> {
    value: V,
    by_y: V,
    by_t: V,
    by_water: V,
    by_cloth_t: V,
}

/// Flows of water and heat from the face to the cloth, then from the cloth to the world.
#[inline(always)]
fn cloth_flows<V: Vector, const L: usize>(
    on: On<V>,
    c: &Conditions<L>,
    point: &Point<V>,
    cloth: &ClothState<L>,
    latent_j_kg: f64,
) -> [ClothFlow<V>; 4] {
    let (k, none) = (c.cloth.load(on), on.zero());
    let (air_k, vapour_pa) = (on.load(&c.air_k), on.load(&c.vapour_pa));
    let (water, t) = (on.load(&cloth.water), on.load(&cloth.t));
    let (saturation, saturation_t) = cloth::saturation(t, cloth.freezes);
    let dampness = (water / k.hygroscopic).min(on.splat(1.0));
    let pressure = saturation * dampness;
    let pressure_w = (k.hygroscopic - water).above_zero(saturation / k.hygroscopic, none);
    let pressure_t = saturation_t * dampness;
    let face_carried = (point.t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    let cloth_carried = (t - ZERO_K) * WATER_J_KGK + latent_j_kg;
    let (face_t2, cloth_t2) = (point.t * point.t, t * t);
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
        value: k.gap_heat * (point.t - t) + radiated + face_carried * gap.value,
        by_y: face_carried * gap.by_y,
        by_t: k.gap_heat + gap_emitted * face_t2 * point.t * 4.0 + face_carried * gap.by_t + gap.value * WATER_J_KGK,
        by_water: face_carried * gap.by_water,
        by_cloth_t: -k.gap_heat - gap_emitted * cloth_t2 * t * 4.0 + face_carried * gap.by_cloth_t,
    };
    let out = ClothFlow {
        value: k.outer_vapour * (pressure - vapour_pa),
        by_y: none,
        by_t: none,
        by_water: k.outer_vapour * pressure_w,
        by_cloth_t: k.outer_vapour * pressure_t,
    };
    let emitted = outer_emitted * cloth_t2 * cloth_t2 - k.outer_emissivity * k.longwave;
    let out_heat = ClothFlow {
        value: k.outer_heat * (t - air_k) - k.absorbed + emitted + cloth_carried * out.value,
        by_y: none,
        by_t: none,
        by_water: cloth_carried * out.by_water,
        by_cloth_t: k.outer_heat + outer_emitted * cloth_t2 * t * 4.0 + cloth_carried * out.by_cloth_t + out.value * WATER_J_KGK,
    };
    [gap, gap_heat, out, out_heat]
}

/// Adds the cloth to a face's row and eliminates its two unknowns.
#[inline(always)]
fn hang<V: Vector, const L: usize>(
    on: On<V>,
    c: &Conditions<L>,
    point: &Point<V>,
    cloth: &ClothState<L>,
    per_second: V,
    latent_j_kg: f64,
    row: &mut FaceRow<V>,
) {
    let [gap, gap_heat, out, out_heat] = cloth_flows(on, c, point, cloth, latent_j_kg);
    let (water, t, has_cloth) = (on.load(&cloth.water), on.load(&cloth.t), on.load(&c.has_cloth));
    // The cloth's own balance and its 2 × 2 block by (water, temperature).
    let capacity = on.load(&c.cloth.dry_heat) + water * WATER_J_KGK;
    let warmth = t - ZERO_K;
    let residual_w = (water - on.load(&cloth.water_before)) * per_second - gap.value + out.value;
    let mut residual_h = (capacity * warmth - on.load(&cloth.heat_before)) * per_second - gap_heat.value + out_heat.value;
    let ww = per_second - gap.by_water + out.by_water;
    let wc = out.by_cloth_t - gap.by_cloth_t;
    let mut hw = warmth * per_second * WATER_J_KGK - gap_heat.by_water + out_heat.by_water;
    let mut hc = capacity * per_second - gap_heat.by_cloth_t + out_heat.by_cloth_t;
    if cloth.freezes {
        let [ice, ice_w, ice_t] = cloth::heat_of_ice(water, t, on.load(&c.cloth.hygroscopic));
        residual_h = residual_h + ice * per_second;
        hw = hw + ice_w * per_second;
        hc = hc + ice_t * per_second;
    }
    let inverse = (ww * hc - wc * hw).inverse();
    let water = Flow { value: residual_w, by_y: -gap.by_y, by_t: -gap.by_t };
    let heat = Flow { value: residual_h, by_y: -gap_heat.by_y, by_t: -gap_heat.by_t };
    row.cloth = [combined(&water, hc, &heat, wc, inverse), combined(&heat, ww, &water, hw, inverse)];
    row.mass = with_cloth(&row.mass, &gap, &row.cloth);
    row.heat = with_cloth(&row.heat, &gap_heat, &row.cloth);
    for (into, flow) in [(&mut row.outside_mass, &out), (&mut row.outside_heat, &out_heat)] {
        into.face.value = into.face.value + flow.value * has_cloth;
        into.by_cloth_water = flow.by_water * has_cloth;
        into.by_cloth_t = flow.by_cloth_t * has_cloth;
    }
}

/// (a · by − b · less) · scale of a flow and its slopes.
#[inline(always)]
fn combined<V: Vector>(a: &Flow<V>, by: V, b: &Flow<V>, less: V, scale: V) -> Flow<V> {
    Flow {
        value: (by * a.value - less * b.value) * scale,
        by_y: (by * a.by_y - less * b.by_y) * scale,
        by_t: (by * a.by_t - less * b.by_t) * scale,
    }
}

/// A flow of the face and one to its cloth, whose two unknowns are eliminated from it.
#[inline(always)]
fn with_cloth<V: Vector>(from: &Flow<V>, flow: &ClothFlow<V>, [water, t]: &[Flow<V>; 2]) -> Flow<V> {
    Flow {
        value: from.value + (flow.value - flow.by_water * water.value - flow.by_cloth_t * t.value),
        by_y: from.by_y + (flow.by_y - flow.by_water * water.by_y - flow.by_cloth_t * t.by_y),
        by_t: from.by_t + (flow.by_t - flow.by_water * water.by_t - flow.by_cloth_t * t.by_t),
    }
}
