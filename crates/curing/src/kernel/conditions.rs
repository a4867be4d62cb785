//! What stands in front of a face during a step: held state, film, rain, and a cloth with heat and water of its own.

use crate::kernel::cloth::Hung;
use crate::lanes::{Lanes, ln, record};

/// A cloth hung before a face: a node of its own in the same Newton.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cloth {
    /// Heat exchange of the gap between cloth and face by conduction and convection, W/(m² K).
    pub gap_w_m2k: f64,
    /// Vapour exchange of the gap, kg/(m² s Pa).
    pub gap_s_m: f64,
    /// Emissivity of the exchange of long-wave between face and cloth, 0 to 1.
    pub gap_emissivity: f64,
    /// Heat film of its outer side, W/(m² K).
    pub outer_w_m2k: f64,
    /// Vapour film of its outer side, kg/(m² s Pa).
    pub outer_s_m: f64,
    /// Emissivity of its outer side towards the sky and ground, 0 to 1.
    pub outer_emissivity: f64,
    /// Long-wave falling on its outer side, W/m².
    pub longwave_w_m2: f64,
    /// Sun it absorbs, W/m².
    pub absorbed_w_m2: f64,
    /// Heat capacity dry, J/(m² K).
    pub dry_heat_j_m2k: f64,
    /// Water up to which its vapour pressure rises in proportion, kg/m²: a cloth below it is damp only to the touch of the air (sorption); above it is wet.
    pub hygroscopic_kg_m2: f64,
    /// Water it holds, kg/m²; more drips off.
    pub holds_kg_m2: f64,
}

/// What stands in front of one face of one member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceCondition {
    /// Air temperature, K.
    pub air_k: f64,
    /// Vapour pressure of the air, Pa.
    pub vapour_pa: f64,
    /// Heat film by convection (and radiation, when emissivity is zero), W/(m² K).
    pub heat_w_m2k: f64,
    /// Vapour film, kg/(m² s Pa), texture included.
    pub vapour_s_m: f64,
    /// Short-wave absorbed by the face, W/m².
    pub absorbed_w_m2: f64,
    /// Emissivity of the face towards `longwave_w_m2`, 0 to 1.
    pub emissivity: f64,
    /// Long-wave falling on the face, W/m².
    pub longwave_w_m2: f64,
    /// Rain offered to the face, kg/(m² s). What the face does not take at free water runs off.
    pub rain_kg_m2s: f64,
    /// Temperature of the rain, K.
    pub rain_k: f64,
    /// Carbon dioxide in the air, mol/m³; outer face only.
    pub co2_mol_m3: f64,
    /// Carbon dioxide film, m/s; outer face only.
    pub co2_m_s: f64,
    /// Temperature at which the face is held, K.
    pub held_k: Option<f64>,
    /// Suction at which the face is held, Pa.
    pub held_suction_pa: Option<f64>,
    /// Cloth in front; outer face only.
    pub cloth: Option<Cloth>,
}

impl FaceCondition {
    /// Nothing passes: no heat, no water, no gas.
    pub fn sealed() -> Self {
        Self {
            air_k: 293.15,
            vapour_pa: 0.0,
            heat_w_m2k: 0.0,
            vapour_s_m: 0.0,
            absorbed_w_m2: 0.0,
            emissivity: 0.0,
            longwave_w_m2: 0.0,
            rain_kg_m2s: 0.0,
            rain_k: 293.15,
            co2_mol_m3: 0.0,
            co2_m_s: 0.0,
            held_k: None,
            held_suction_pa: None,
            cloth: None,
        }
    }

    /// Face held at a temperature, K, and a suction, Pa.
    pub fn fixed(temperature_k: f64, suction_pa: f64) -> Self {
        Self { held_k: Some(temperature_k), held_suction_pa: Some(suction_pa), ..Self::sealed() }
    }

    /// Air at a temperature, K, and vapour pressure, Pa, behind films of heat, W/(m² K), and vapour, kg/(m² s Pa).
    pub fn film(air_k: f64, vapour_pa: f64, heat_w_m2k: f64, vapour_s_m: f64) -> Self {
        Self { air_k, vapour_pa, heat_w_m2k, vapour_s_m, rain_k: air_k, ..Self::sealed() }
    }

    /// Free water on the face (suction 1 Pa, the wet end of the tables), its temperature held if one is given.
    pub fn free_water(held_k: Option<f64>) -> Self {
        Self { held_k, held_suction_pa: Some(1.0), ..Self::sealed() }
    }
}

/// The same for every member of a block, one number a lane.
#[derive(Clone, Debug)]
pub(crate) struct Conditions<const L: usize> {
    pub(crate) air_k: Lanes<L>,
    pub(crate) vapour_pa: Lanes<L>,
    pub(crate) heat: Lanes<L>,
    pub(crate) vapour: Lanes<L>,
    pub(crate) absorbed: Lanes<L>,
    pub(crate) emissivity: Lanes<L>,
    pub(crate) longwave: Lanes<L>,
    pub(crate) rain: Lanes<L>,
    pub(crate) rain_k: Lanes<L>,
    pub(crate) co2: Lanes<L>,
    pub(crate) co2_film: Lanes<L>,
    pub(crate) holds_k: Lanes<L>,
    pub(crate) held_k: Lanes<L>,
    pub(crate) holds_y: Lanes<L>,
    pub(crate) held_y: Lanes<L>,
    pub(crate) has_cloth: Lanes<L>,
    pub(crate) cloth: Clothes<Lanes<L>>,
}

record! {
    /// Cloth of every lane.
    Clothes {
        gap_heat,
        gap_vapour,
        gap_emissivity,
        outer_heat,
        outer_vapour,
        outer_emissivity,
        longwave,
        absorbed,
        dry_heat,
        hygroscopic,
        holds,
    }
}

impl<const L: usize> Conditions<L> {
    /// Gathers the conditions of the lanes.
    pub(crate) fn gather(of: &[FaceCondition; L]) -> Self {
        let each = |f: fn(&FaceCondition) -> f64| Lanes(std::array::from_fn(|lane| f(&of[lane])));
        let flag = |set: bool| if set { 1.0 } else { 0.0 };
        Self {
            air_k: each(|c| c.air_k),
            vapour_pa: each(|c| c.vapour_pa),
            heat: each(|c| c.heat_w_m2k),
            vapour: each(|c| c.vapour_s_m),
            absorbed: each(|c| c.absorbed_w_m2),
            emissivity: each(|c| c.emissivity),
            longwave: each(|c| c.longwave_w_m2),
            rain: each(|c| c.rain_kg_m2s),
            rain_k: each(|c| c.rain_k),
            co2: each(|c| c.co2_mol_m3),
            co2_film: each(|c| c.co2_m_s),
            holds_k: Lanes(std::array::from_fn(|lane| flag(of[lane].held_k.is_some()))),
            held_k: each(|c| c.held_k.unwrap_or(c.air_k)),
            holds_y: Lanes(std::array::from_fn(|lane| flag(of[lane].held_suction_pa.is_some()))),
            held_y: each(|c| ln(c.held_suction_pa.unwrap_or(1.0).max(1.0))),
            has_cloth: Lanes(std::array::from_fn(|lane| flag(of[lane].cloth.is_some()))),
            cloth: Clothes::gather(of),
        }
    }
}

impl<const L: usize> Clothes<Lanes<L>> {
    /// What the cloth of a lane is, for its enthalpy.
    pub(crate) fn hung(&self, lane: usize, freezes: bool) -> Hung {
        Hung { dry_heat: self.dry_heat.0[lane], sorbed: self.hygroscopic.0[lane], freezes }
    }

    fn gather(of: &[FaceCondition; L]) -> Self {
        let each = |f: fn(&Cloth) -> f64, without: f64| Lanes(std::array::from_fn(|lane| of[lane].cloth.as_ref().map_or(without, f)));
        Self {
            gap_heat: each(|c| c.gap_w_m2k, 0.0),
            gap_vapour: each(|c| c.gap_s_m, 0.0),
            gap_emissivity: each(|c| c.gap_emissivity, 0.0),
            outer_heat: each(|c| c.outer_w_m2k, 0.0),
            outer_vapour: each(|c| c.outer_s_m, 0.0),
            outer_emissivity: each(|c| c.outer_emissivity, 0.0),
            longwave: each(|c| c.longwave_w_m2, 0.0),
            absorbed: each(|c| c.absorbed_w_m2, 0.0),
            dry_heat: each(|c| c.dry_heat_j_m2k, 1.0),
            hygroscopic: each(|c| c.hygroscopic_kg_m2, 1.0),
            holds: each(|c| c.holds_kg_m2, 1.0),
        }
    }
}
