//! A mortar: what a mix of lime and sand yields, and its properties fresh and hardened.

use serde::Serialize;

use crate::volumes::{AIR_SHARE, CARBON_DIOXIDE_KG_MOL, LimeMeasure, PORTLANDITE_KG_MOL, WATER_KG_M3, WATER_KG_MOL, WaterNeed};
use crate::{Catalogue, Lime, LimeKind, MaterialsError, Moisture, Sand};

/// A mix by volume.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mix {
    /// Lime, catalogue name.
    pub lime: String,
    /// Sand, catalogue name.
    pub sand: String,
    /// Parts of dry sand to one of lime, by volume as the mix is spoken (1 : n). For quicklime the spoken volume is of lime putty equivalent.
    pub sand_parts: f64,
}

/// What one cubic metre of mortar in place is made of and how it behaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mortar {
    /// Its mix.
    pub mix: Mix,
    /// Volume of mortar from one volume of loose dry sand.
    pub yield_per_sand: f64,
    /// Lime as bought, kg per m³ of mortar.
    pub lime_kg_m3: f64,
    /// Lime as measured out, litres per m³ of mortar.
    pub lime_l_m3: f64,
    /// Dry sand, kg per m³ of mortar.
    pub sand_kg_m3: f64,
    /// Loose dry sand, litres per m³ of mortar.
    pub sand_l_m3: f64,
    /// Water added beyond what the lime brings, kg per m³ of mortar; for quicklime with what slaking binds, without what boils off.
    pub water_added_kg_m3: f64,
    /// All free water in the fresh mortar, kg per m³.
    pub water_fresh_kg_m3: f64,
    /// Portlandite free to carbonate, mol per m³.
    pub portlandite_mol_m3: f64,
    /// What of it sets under water; `None` for air lime.
    pub set: Option<HydraulicSet>,
    /// Properties hardened.
    pub hardened: Moisture,
    /// Properties fresh: the pore net of a wet mix.
    pub fresh: Moisture,
    /// Strength class by which "stronger" is judged: relative binder strength, MPa-like rank (air limes below hydraulic).
    pub strength_rank: f64,
}

/// What of a mortar sets under water.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HydraulicSet {
    /// Matter that sets, counted as belite (dicalcium silicate), kg per m³ of mortar.
    pub belite_kg_m3: f64,
    /// Hours at 20 °C by which the paste of its lime has set.
    pub final_set_h: f64,
}

/// Least and most parts of sand to one of lime.
const PARTS: (f64, f64) = (0.25, 6.0);
/// Growth of solids when portlandite becomes calcite, m³/mol: molar volumes 33.08 and 36.93 cm³/mol (CRC Handbook densities 2.24 and 2.71).
const CALCITE_GROWTH_M3_MOL: f64 = 3.85e-6;

impl Catalogue {
    /// What a mix yields and how it behaves.
    ///
    /// Volume = sum of mass over solid density, divided by 1 − air (5 %); water as the sand and the paste need it, or as the putty brings it.
    ///
    /// # Errors
    /// Unknown lime or sand (with the nearest names), parts outside 0.25 to 6, or an entry with impossible densities or shares.
    pub fn mortar(&self, mix: &Mix) -> Result<Mortar, MaterialsError> {
        let lime = self.lime(&mix.lime)?;
        let sand = self.sand(&mix.sand)?;
        if !(mix.sand_parts >= PARTS.0 && mix.sand_parts <= PARTS.1) {
            let (least, most) = PARTS;
            return Err(MaterialsError::Parts { parts: mix.sand_parts, lime: mix.lime.clone(), sand: mix.sand.clone(), least, most });
        }
        check_lime(&mix.lime, lime)?;
        check_sand(&mix.sand, sand)?;
        Ok(batch(mix, lime, sand))
    }
}

fn check_lime(name: &str, lime: &Lime) -> Result<(), MaterialsError> {
    let entry = |what, found, allowed| Err(MaterialsError::Entry { kind: "lime", name: name.to_owned(), what, found, allowed });
    if !(200.0..=2500.0).contains(&lime.bulk_kg_m3) {
        return entry("bulk_kg_m3", lime.bulk_kg_m3, "between 200 and 2500 kg/m³");
    }
    if !(1500.0..=4000.0).contains(&lime.solid_kg_m3) {
        return entry("solid_kg_m3", lime.solid_kg_m3, "between 1500 and 4000 kg/m³");
    }
    if !(0.0..=0.9).contains(&lime.water_share) {
        return entry("water_share", lime.water_share, "between 0 and 0.9");
    }
    let most = if lime.kind == LimeKind::Quicklime { 1.3213 } else { 1.0 - lime.water_share };
    if !(lime.portlandite_share > 0.0 && lime.portlandite_share <= most) {
        return entry("portlandite_share", lime.portlandite_share, "above 0 and not above its share of solids (1.3213 for quicklime)");
    }
    if lime.hydraulic_share.is_some_and(|share| !(0.0..=1.0).contains(&share)) {
        return entry("hydraulic_share", lime.hydraulic_share.unwrap_or(0.0), "between 0 and 1");
    }
    if lime.final_set_h.is_some_and(|hours| !(0.5..=200.0).contains(&hours)) {
        return entry("final_set_h", lime.final_set_h.unwrap_or(0.0), "between 0.5 and 200 hours");
    }
    if lime.class_mpa.is_some_and(|class| !(0.5..=20.0).contains(&class)) {
        return entry("class_mpa", lime.class_mpa.unwrap_or(0.0), "between 0.5 and 20 MPa");
    }
    Ok(())
}

fn check_sand(name: &str, sand: &Sand) -> Result<(), MaterialsError> {
    let entry = |what, found, allowed| Err(MaterialsError::Entry { kind: "sand", name: name.to_owned(), what, found, allowed });
    if !(2000.0..=3500.0).contains(&sand.particle_kg_m3) {
        return entry("particle_kg_m3", sand.particle_kg_m3, "between 2000 and 3500 kg/m³");
    }
    if !(1000.0..=0.8 * sand.particle_kg_m3).contains(&sand.loose_kg_m3) {
        return entry("loose_kg_m3", sand.loose_kg_m3, "between 1000 kg/m³ and eight tenths of the particle density");
    }
    Ok(())
}

fn batch(mix: &Mix, lime: &Lime, sand: &Sand) -> Mortar {
    let measure = LimeMeasure::spoken(lime);
    let sand_kg = mix.sand_parts * sand.loose_kg_m3;
    let need = WaterNeed::of(lime.kind);
    let free_kg = (need.sand * sand_kg + need.lime * measure.solids_kg).max(measure.brings_kg);
    let solids_m3 = sand_kg / sand.particle_kg_m3 + measure.solids_kg / lime.solid_kg_m3;
    let volume_m3 = (solids_m3 + free_kg / WATER_KG_M3) / (1.0 - AIR_SHARE);
    let pores = 1.0 - solids_m3 / volume_m3;
    let portlandite_mol_m3 = measure.portlandite_kg / PORTLANDITE_KG_MOL / volume_m3;
    let solids_kg_m3 = (sand_kg + measure.solids_kg) / volume_m3;
    Mortar {
        mix: mix.clone(),
        yield_per_sand: volume_m3 / mix.sand_parts,
        lime_kg_m3: measure.bought_kg / volume_m3,
        lime_l_m3: 1000.0 * measure.measured_m3 / volume_m3,
        sand_kg_m3: sand_kg / volume_m3,
        sand_l_m3: 1000.0 * mix.sand_parts / volume_m3,
        water_added_kg_m3: (free_kg - measure.brings_kg + measure.bound_kg) / volume_m3,
        water_fresh_kg_m3: free_kg / volume_m3,
        portlandite_mol_m3,
        set: hydraulic_set(lime, measure.bought_kg / volume_m3),
        hardened: hardened(lime, pores, solids_kg_m3, portlandite_mol_m3),
        fresh: fresh(lime, pores, solids_kg_m3),
        strength_rank: strength_rank(lime, mix.sand_parts),
    }
}

/// Share that sets and hours of final set usual for a class, MPa, where a lime does not say: as the shipped limes of the nearest class.
fn usual_set(class_mpa: f64) -> (f64, f64) {
    match class_mpa {
        feeble if feeble < 2.75 => (0.17, 40.0),
        moderate if moderate < 4.25 => (0.35, 30.0),
        _ => (0.43, 15.0),
    }
}

fn hydraulic_set(lime: &Lime, lime_kg_m3: f64) -> Option<HydraulicSet> {
    let (share, hours) = usual_set(lime.class_mpa?);
    Some(HydraulicSet { belite_kg_m3: lime_kg_m3 * lime.hydraulic_share.unwrap_or(share), final_set_h: lime.final_set_h.unwrap_or(hours) })
}

/// The figures in which hardened mortars of these limes differ: retention a (1/Pa) and n fitted to sorption at 50, 80 and 95 % relative humidity,
/// absorption and vapour resistance, all for the reference porosity (middle of measured ranges, from memory).
struct Net {
    porosity: f64,
    a_per_pa: f64,
    n: f64,
    absorption: f64,
    vapour: f64,
}

fn net(lime: &Lime) -> Net {
    match lime.class_mpa {
        None => Net { porosity: 0.30, a_per_pa: 4.4e-6, n: 1.8, absorption: 0.15, vapour: 10.0 },
        Some(class) if class < 2.75 => Net { porosity: 0.30, a_per_pa: 2.8e-6, n: 1.7, absorption: 0.11, vapour: 12.0 },
        Some(class) if class < 4.25 => Net { porosity: 0.29, a_per_pa: 2.4e-6, n: 1.6, absorption: 0.09, vapour: 13.0 },
        Some(_) => Net { porosity: 0.27, a_per_pa: 1.5e-6, n: 1.6, absorption: 0.07, vapour: 16.0 },
    }
}

/// Share of the pores that fills by suction alone: 250 of 300 kg/m³ in the middle of measured ranges, from memory.
const CAPILLARY_SHARE: f64 = 0.833;

fn hardened(lime: &Lime, pores: f64, solids_kg_m3: f64, portlandite_mol_m3: f64) -> Moisture {
    let net = net(lime);
    let porosity = pores - CALCITE_GROWTH_M3_MOL * portlandite_mol_m3;
    let density_kg_m3 = solids_kg_m3 + portlandite_mol_m3 * (CARBON_DIOXIDE_KG_MOL - WATER_KG_MOL);
    Moisture {
        density_kg_m3,
        porosity,
        saturation_kg_m3: CAPILLARY_SHARE * porosity * WATER_KG_M3,
        retention_a_per_pa: net.a_per_pa,
        retention_n: net.n,
        absorption_kg_m2_s05: net.absorption * porosity / net.porosity,
        vapour_resistance: net.vapour * net.porosity / porosity,
        conductivity_w_mk: conductivity_w_mk(density_kg_m3),
        conductivity_per_water: 0.003,
        heat_j_kgk: 850.0,
    }
}

/// A wet mix: pores full of its water and air; retention and absorption as chosen in a trial of the curing model (two to three times the sorption of
/// carbonated lime).
fn fresh(lime: &Lime, pores: f64, solids_kg_m3: f64) -> Moisture {
    let net = net(lime);
    let hydraulic = lime.class_mpa.is_some();
    Moisture {
        density_kg_m3: solids_kg_m3,
        porosity: pores,
        saturation_kg_m3: pores * WATER_KG_M3,
        retention_a_per_pa: if hydraulic { net.a_per_pa } else { 3.3e-6 },
        retention_n: net.n,
        absorption_kg_m2_s05: if hydraulic { net.absorption } else { 0.12 },
        vapour_resistance: net.vapour * 0.33 / pores,
        conductivity_w_mk: conductivity_w_mk(solids_kg_m3),
        conductivity_per_water: 0.003,
        heat_j_kgk: 850.0,
    }
}

/// Dry conductivity of a mortar by density: 0.70 at 1700 kg/m³ (middle of lime mortars) with the slope of EN 1745 (0.68 at 1600, 0.93 at 1800).
fn conductivity_w_mk(density_kg_m3: f64) -> f64 {
    (0.70 + 0.00125 * (density_kg_m3 - 1700.0)).clamp(0.40, 1.20)
}

/// A rank to compare coats by, never a strength: class of a hydraulic lime, 0.8 for air lime, times the root of three over the parts of sand, so that
/// a rich air lime stays below a hydraulic one of usual proportions.
fn strength_rank(lime: &Lime, sand_parts: f64) -> f64 {
    lime.class_mpa.unwrap_or(0.8) * (3.0 / sand_parts).sqrt()
}
