//! The catalogue's entries. Every number comes from a data file where its source stands beside it.

use std::collections::BTreeMap;

use reckoning::Caution;
use serde::{Deserialize, Serialize};

use crate::MaterialsError;

/// All entries, by name (slug). A job's own entries extend or override the shipped ones.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogue {
    /// Limes.
    pub limes: BTreeMap<String, Lime>,
    /// Sands.
    pub sands: BTreeMap<String, Sand>,
    /// Masonries.
    pub masonries: BTreeMap<String, Masonry>,
    /// Covers hung before a face.
    pub covers: BTreeMap<String, Cover>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Source of each value, by path such as `limes.putty-cl90.density_kg_m3`.
    pub sources: BTreeMap<String, String>,
}

/// Kind of lime.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LimeKind {
    /// Slaked, matured putty.
    Putty,
    /// Dry hydrate of air lime.
    Hydrate,
    /// Quicklime, slaked with the sand (hot-mixed) or to putty.
    Quicklime,
    /// Natural hydraulic lime; the number of its strength class.
    Hydraulic,
}

/// A lime.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lime {
    /// Name shown.
    pub name: String,
    /// Kind.
    pub kind: LimeKind,
    /// EN 459-1 designation, for example "CL 90 S PL".
    pub designation: String,
    /// Bulk density as measured out on site, kg/m³.
    pub bulk_kg_m3: f64,
    /// Mass share that is Ca(OH)₂ free to carbonate (as it stands in the mortar after slaking), 0 to 1, of the mass measured out.
    pub portlandite_share: f64,
    /// Mass share of water in it (putty), 0 to 1.
    pub water_share: f64,
    /// Density of its solids, kg/m³.
    pub solid_kg_m3: f64,
    /// Strength class number for hydraulic limes, MPa (2, 3.5, 5).
    pub class_mpa: Option<f64>,
    /// Mass share of a hydraulic lime that sets under water, counted as belite, 0 to 1; left out, that usual for its class.
    pub hydraulic_share: Option<f64>,
    /// Hours at 20 °C by which its paste has set (the needle's final set); left out, the longest its class allows.
    pub final_set_h: Option<f64>,
    /// Unit it is sold in: "25 kg bag", "20 litre tub".
    pub unit_name: String,
    /// Mass of lime in one unit of sale, kg.
    pub unit_kg: f64,
    /// Weeks it must lie before use (putty), zero for none.
    pub mature_weeks: f64,
    /// Frost-free days needed after placing (range low, high).
    pub frost_free_days: (f64, f64),
}

/// A sand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sand {
    /// Name shown.
    pub name: String,
    /// Loose dry bulk density, kg/m³.
    pub loose_kg_m3: f64,
    /// Particle density, kg/m³.
    pub particle_kg_m3: f64,
    /// Largest grain, mm.
    pub largest_mm: f64,
    /// Mass share finer than 0.063 mm, 0 to 1.
    pub fines_share: f64,
    /// True for sharp grains, false for soft building sand.
    pub sharp: bool,
    /// Moisture as delivered, mass share of dry sand.
    pub moisture_share: f64,
    /// Bulking at that moisture, 0 to 1 (volume damp = volume dry × (1 + bulking)).
    pub bulking: f64,
    /// Unit it is sold in.
    pub unit_name: String,
    /// Damp mass in one unit of sale, kg.
    pub unit_kg: f64,
}

/// How a porous material holds and passes heat and water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moisture {
    /// Dry density, kg/m³.
    pub density_kg_m3: f64,
    /// Open porosity, 0 to 1.
    pub porosity: f64,
    /// Water at saturation of the open pores, kg/m³.
    pub saturation_kg_m3: f64,
    /// Retention: w = saturation·(1 + (a·p_c)^n)^-(1 - 1/n); a, 1/Pa.
    pub retention_a_per_pa: f64,
    /// Retention exponent n, > 1.
    pub retention_n: f64,
    /// Water absorption coefficient A, kg/(m² s^½).
    pub absorption_kg_m2_s05: f64,
    /// Vapour resistance factor μ, dry.
    pub vapour_resistance: f64,
    /// Thermal conductivity dry, W/(m K).
    pub conductivity_w_mk: f64,
    /// Increase of conductivity with water, W/(m K) per kg/m³.
    pub conductivity_per_water: f64,
    /// Specific heat dry, J/(kg K).
    pub heat_j_kgk: f64,
}

/// A masonry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Masonry {
    /// Name shown.
    pub name: String,
    /// What a scratch and a look tell, in a mason's words.
    pub tell: String,
    /// Properties of the stone.
    pub stone: Moisture,
    /// True for stone with little suction on which a scud is needed.
    pub dense: bool,
    /// Crushing class in words: "soft", "medium", "hard".
    pub hardness: String,
    /// Seconds until a splash is gone: usual low and high.
    pub splash_s: (f64, f64),
    /// Solar absorptance of the bare face, 0 to 1.
    pub solar_absorptance: f64,
}

/// A cover before a face, as data.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cover {
    /// Name shown.
    pub name: String,
    /// Share of the wind's film coefficient that reaches the face direct (leak), 0 to 1.
    pub wind_leak: f64,
    /// Share of sun let through, 0 to 1.
    pub sun_through: f64,
    /// Share of driving rain let through, 0 to 1.
    pub rain_through: f64,
    /// Share of the sky's long-wave exchange let through, 0 to 1.
    pub sky_through: f64,
    /// Heat exchange of the still gap between cloth and face, W/(m² K); zero where there is no cloth node.
    pub gap_w_m2k: f64,
    /// Dry mass of the cloth, kg/m²; zero for a cover that is not a node of its own.
    pub cloth_kg_m2: f64,
    /// Water the cloth holds when soaked, kg/m².
    pub holds_kg_m2: f64,
    /// Solar absorptance of the cloth, 0 to 1.
    pub cloth_absorptance: f64,
    /// True if it is wetted.
    pub wetted: bool,
    /// Rise of the air behind it over outdoors that is asked of a heater, K; the rise is less where the heater cannot give it.
    pub warms_k: f64,
    /// What the heater gives at most, W per m² of face; zero where nothing limits the rise.
    pub heater_w_m2: f64,
    /// Heat lost through the cover's skin, W/(m² K) of face, beside what the wind that leaks in takes.
    pub skin_w_m2k: f64,
    /// True if the heater burns gas in the air behind the cover: its carbon dioxide and vapour stay there until they leak out.
    pub burner: bool,
    /// CO₂ film coefficient through the cover, m/s; a very large number for none.
    pub co2_film_m_s: f64,
    /// Labour to hang, person-hours per 100 m².
    pub hang_h_per_100_m2: f64,
    /// Load when soaked, kg/m².
    pub load_kg_m2: f64,
    /// Working wind limit, m/s.
    pub wind_limit_m_s: f64,
}

impl Catalogue {
    /// The lime of a name.
    ///
    /// # Errors
    /// [`MaterialsError::Unknown`] with the nearest names.
    pub fn lime(&self, name: &str) -> Result<&Lime, MaterialsError> {
        find("lime", &self.limes, name)
    }

    /// The sand of a name.
    ///
    /// # Errors
    /// [`MaterialsError::Unknown`] with the nearest names.
    pub fn sand(&self, name: &str) -> Result<&Sand, MaterialsError> {
        find("sand", &self.sands, name)
    }

    /// The masonry of a name.
    ///
    /// # Errors
    /// [`MaterialsError::Unknown`] with the nearest names.
    pub fn masonry(&self, name: &str) -> Result<&Masonry, MaterialsError> {
        find("masonry", &self.masonries, name)
    }

    /// The cover of a name.
    ///
    /// # Errors
    /// [`MaterialsError::Unknown`] with the nearest names.
    pub fn cover(&self, name: &str) -> Result<&Cover, MaterialsError> {
        find("cover", &self.covers, name)
    }

    /// Source of a value by its path, for example `limes.putty-cl90.bulk_kg_m3`; a job's own entry has none here and is the job's own word.
    pub fn source(&self, path: &str) -> &str {
        self.sources.get(path).map_or("the job's own entry", String::as_str)
    }
}

fn find<'a, T>(kind: &'static str, entries: &'a BTreeMap<String, T>, name: &str) -> Result<&'a T, MaterialsError> {
    entries.get(name).ok_or_else(|| {
        let mut near: Vec<(&String, f64)> = entries.keys().map(|k| (k, strsim::jaro_winkler(k, name))).collect();
        near.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(b.0)));
        let nearest = near.iter().take(3).map(|(k, _)| k.as_str()).collect::<Vec<_>>().join(", ");
        MaterialsError::Unknown { kind, name: name.to_owned(), nearest }
    })
}
