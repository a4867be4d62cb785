//! A mortar: what a mix of lime and sand yields, and its properties fresh and hardened.

use serde::Serialize;

use crate::Moisture;

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
    /// Water added beyond what the lime brings, kg per m³ of mortar.
    pub water_added_kg_m3: f64,
    /// All free water in the fresh mortar, kg per m³.
    pub water_fresh_kg_m3: f64,
    /// Portlandite free to carbonate, mol per m³.
    pub portlandite_mol_m3: f64,
    /// Properties hardened.
    pub hardened: Moisture,
    /// Properties fresh: the pore net of a wet mix.
    pub fresh: Moisture,
    /// Strength class by which "stronger" is judged: relative binder strength, MPa-like rank (air limes below hydraulic).
    pub strength_rank: f64,
}
