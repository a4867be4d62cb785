//! The slab of the recollected bands: 50 mm of 1:3 air lime, placed wet, one face open to still room air, with the pore net
//! of its wet mix throughout. It must never be taken for a coat on a wall.

use std::sync::Arc;

use materials::Moisture;
use physics::air::saturation_pa;
pub use physics::lime::OUTDOOR_CO2_FRACTION;
use physics::lime::co2_mol_m3;
use physics::surface::{co2_film_m_s, vapour_film_s_m};

use super::CalibrationError;
use super::data::{BAND_DAYS, Band, Still};
use crate::kernel::{Carbonation, Column, FaceCondition, Settings};
use crate::{CuringError, Layer, MaterialTables};

/// Pores of a fresh 1:3 putty mortar, as in the trial of the model.
const PORES: Moisture = Moisture {
    density_kg_m3: 1650.0,
    porosity: 0.32,
    saturation_kg_m3: 320.0,
    retention_a_per_pa: 3.3e-6,
    retention_n: 1.8,
    absorption_kg_m2_s05: 0.12,
    vapour_resistance: 10.0,
    conductivity_w_mk: 0.7,
    conductivity_per_water: 0.003,
    heat_j_kgk: 850.0,
};
/// Its water when placed, kg/m³, and its lime, mol/m³.
const PLACED_KG_M3: f64 = 305.0;
pub(crate) const LIME_MOL_M3: f64 = 2730.0;
const THICKNESS_M: f64 = 0.05;
const CELLS: usize = 60;
/// Films of room air: all the heat, and the convection that carries vapour and gas, W/(m² K).
const HEAT_FILM: f64 = 8.0;
const CONVECTION: f64 = 5.0;

/// How the slab carbonates by the constants of [`super::carbonation`].
pub fn law() -> Carbonation {
    Carbonation { portlandite_mol_m3: LIME_MOL_M3, porosity: PORES.porosity, ..super::RATES }
}

/// Depth at which half the lime is turned, mm, after each of [`BAND_DAYS`], in air with so much carbon dioxide, mol/mol ([`OUTDOOR_CO2_FRACTION`] in the open).
///
/// # Errors
/// A step that is lost.
pub fn depths_mm(still: Still, law: Carbonation, co2: f64) -> Result<[f64; 5], CalibrationError> {
    let material = Arc::new(MaterialTables::from_moisture(&PORES)?);
    let suction = material.suction_pa(PLACED_KG_M3);
    let mut widths_m = vec![0.35e-3; CELLS];
    for cell in (0..CELLS - 1).rev() {
        widths_m[cell] = 1.03 * widths_m[cell + 1];
    }
    let scale = THICKNESS_M / widths_m.iter().sum::<f64>();
    widths_m.iter_mut().for_each(|width| *width *= scale);
    let mut column = Column::<1>::new(vec![Layer { material, widths_m, carbonation: Some(law) }], 1, Settings::default())?;
    let air_k = still.air_c + 273.15;
    column.set_uniform(0, air_k, suction);
    let film = vapour_film_s_m(CONVECTION);
    let outer = FaceCondition {
        co2_mol_m3: co2_mol_m3(co2, 101_325.0, air_k),
        co2_m_s: co2_film_m_s(film, air_k),
        ..FaceCondition::film(air_k, still.humidity * saturation_pa(air_k), HEAT_FILM, film)
    };
    let (mut found, mut hour) = ([0.0; 5], 0);
    for (depth_mm, until) in found.iter_mut().zip(BAND_DAYS) {
        while hour < 24 * until {
            if let Some(lost) = column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[outer])[0] {
                return Err(CuringError::NotConverged { hour, depth_mm: lost.depth_m * 1000.0, step_s: lost.step_s }.into());
            }
            hour += 1;
        }
        *depth_mm = 1000.0 * crate::readiness::front_m(column.layer_contents(0, 0).rev(), 0.5 * LIME_MOL_M3);
    }
    Ok(found)
}

/// How many depths lie inside their band, and how many are judged.
pub fn inside(found: &[f64; 5], band: &Band) -> (usize, usize) {
    let judged = found.iter().zip(&band.mm).filter(|(_, (low, _))| low.is_finite());
    let inside = judged.clone().filter(|(depth, (low, high))| *depth >= low && *depth <= high).count();
    (inside, judged.count())
}
