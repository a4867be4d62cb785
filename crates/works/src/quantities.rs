//! Quantities: volumes with waste and rebound, dry materials, units of sale.

use reckoning::Reckonings;
use serde::Serialize;
use survey::{Slug, Survey};

use crate::{Inputs, Specification};

mod extras;
mod totals;
mod volumes;

pub(crate) use extras::cloth_m2;

/// Quantities of a specification: mortar by coat, materials in units of sale, and the reckonings behind them.
///
/// Never fails: a lime or sand outside the catalogue is counted by the shipped one that the specification put in its place.
pub fn quantities(survey: &Survey, specification: &Specification, inputs: &Inputs) -> Quantities {
    let mut reckonings = Reckonings::default();
    let walls: Vec<WallQuantities> = specification
        .walls
        .iter()
        .filter_map(|wall| {
            let measured = survey.walls.iter().find(|measured| measured.slug == wall.slug)?;
            Some(volumes::wall([&survey.reckonings, &specification.reckonings], measured, wall, inputs, &mut reckonings))
        })
        .collect();
    let area_m2 = survey.walls.iter().map(|wall| wall.net_m2 + wall.reveal_m2).sum();
    let materials = totals::materials(specification, &walls, inputs, &mut reckonings);
    Quantities { walls, materials, area_m2, reckonings }
}

/// Quantities of the whole job.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Quantities {
    /// Per wall and coat.
    pub walls: Vec<WallQuantities>,
    /// Materials added up, in units of sale.
    pub materials: Vec<Material>,
    /// Area harled, m².
    pub area_m2: f64,
    /// Reckonings of the shown figures.
    pub reckonings: Reckonings,
}

/// Quantities of one wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallQuantities {
    /// The wall.
    pub slug: Slug,
    /// Its coats.
    pub coats: Vec<CoatQuantities>,
    /// Limewash, litres ready to brush, all coats.
    pub limewash_l: f64,
    /// Hessian, m².
    pub hessian_m2: f64,
    /// Patches at the ties of the scaffold, made good as it comes down.
    pub tie_patches: u32,
    /// Finish mortar to be mixed for them, m³.
    pub tie_mortar_m3: f64,
}

/// Quantities of one coat on one wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoatQuantities {
    /// The coat.
    pub slug: Slug,
    /// Face and reveals, m².
    pub area_m2: f64,
    /// Mean thickness, m.
    pub mean_thickness_m: f64,
    /// In place, m³.
    pub net_m3: f64,
    /// To be mixed, m³, with low and high.
    pub mixed_m3: f64,
    /// Low and high of what is to be mixed, m³.
    pub mixed_range_m3: (f64, f64),
    /// Lime as bought that goes into the mixer, kg; spillage is added in the totals.
    pub lime_kg: f64,
    /// Dry sand that goes into the mixer, kg; spillage is added in the totals.
    pub sand_kg: f64,
    /// Water added, litres.
    pub water_l: f64,
}

/// A material in the units it is sold in.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Material {
    /// Catalogue name, or a plain name for hessian, water and fixings.
    pub slug: String,
    /// Name shown.
    pub name: String,
    /// Need with waste, as it is bought: sand is damp.
    pub amount: f64,
    /// Unit of `amount`: "kg", "litres", "m²", "number".
    pub unit: String,
    /// Whole units of sale.
    pub units: u32,
    /// Name of one unit of sale.
    pub unit_name: String,
    /// What it is for.
    pub purpose: String,
    /// True if all of it must come in one load (finish sand, pigment).
    pub one_load: bool,
    /// Coat kinds it serves, as words; "limewash" for limewash.
    pub serves: Vec<String>,
}
