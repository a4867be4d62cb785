//! Materials of the shipped catalogue in a trial: a stone by its name, or a mortar by its mix, as the named forms they stand for.

use curing::trial::{AirPermeability, Heat, Liquid, Retention, VanGenuchtenTerm, Vapour, WetVapour};
use materials::{Catalogue, Mix, Moisture};

use super::reader::{Section, Wrong, from_to};
use crate::problem::Fault;

/// What the catalogue gives for a layer.
pub(super) struct Shipped {
    /// How it holds and passes heat and water.
    pub(super) moisture: Moisture,
    /// Portlandite free to carbonate, mol/m³, of a mortar.
    pub(super) portlandite_mol_m3: Option<f64>,
}

/// The layer's shipped material, if it names one: a masonry by `catalogue`, or a mix by `mortar`.
pub(super) fn read(section: &Section<'_, '_>) -> Option<Shipped> {
    let stone = section.text("catalogue").and_then(|path| stone(section, path));
    let mortar = section.section("mortar").and_then(|own| mortar(&own));
    if section.has("catalogue") && section.has("mortar") {
        section.contradicts("mortar", "A stone and a mortar are both given.", "A layer is one of the two.", "Keep one of them.");
    }
    stone.or(mortar)
}

/// A masonry by its path: `masonries.NAME`.
fn stone(section: &Section<'_, '_>, path: &str) -> Option<Shipped> {
    let catalogue = Catalogue::shipped();
    let found = path.strip_prefix("masonries.").and_then(|name| catalogue.masonries.get(name));
    if found.is_none() {
        let names: Vec<String> = catalogue.masonries.keys().map(|name| format!("masonries.{name}")).collect();
        let found = format!("The catalogue has no “{path}”.");
        let allowed = format!("It has: {}.", names.join(" · "));
        section.refuse("catalogue", Wrong::new(Fault::NotFound, found, allowed, "Take one of these."));
    }
    found.map(|masonry| Shipped { moisture: masonry.stone.clone(), portlandite_mol_m3: None })
}

/// A mortar by its mix, fresh or hardened.
fn mortar(own: &Section<'_, '_>) -> Option<Shipped> {
    let lime = own.needs_text("lime", "Name a lime of the catalogue, for example \"putty-cl90\".");
    let sand = own.needs_text("sand", "Name a sand of the catalogue.");
    let parts = own.needs_number("sand_parts", from_to(0.25, 6.0));
    let is_fresh = own.needs_choice("state", &[("fresh", true), ("hardened", false)]);
    own.finish();
    let mix = Mix { lime: lime?.to_owned(), sand: sand?.to_owned(), sand_parts: parts? };
    match Catalogue::shipped().mortar(&mix) {
        Ok(mortar) => {
            let moisture = if is_fresh? { mortar.fresh } else { mortar.hardened };
            Some(Shipped { moisture, portlandite_mol_m3: Some(mortar.portlandite_mol_m3) })
        }
        Err(error) => {
            let wrong = Wrong::new(Fault::NotFound, error.to_string(), "The mix is made from the shipped catalogue.", "Correct the mix.");
            own.refuse("lime", wrong);
            None
        }
    }
}

pub(super) fn retention(stone: &Moisture) -> Retention {
    let n = stone.retention_n;
    Retention::VanGenuchten {
        saturation_kg_m3: stone.saturation_kg_m3,
        terms: vec![VanGenuchtenTerm { share: 1.0, a_per_pa: stone.retention_a_per_pa, n, m: 1.0 - 1.0 / n }],
    }
}

pub(super) fn vapour(stone: &Moisture) -> Vapour {
    Vapour::Resistance { factor: stone.vapour_resistance, air: AirPermeability::Schirmer, wet: WetVapour::Linear }
}

pub(super) fn liquid(stone: &Moisture) -> Liquid {
    Liquid::DiffusivityExponential { absorption_kg_m2_s05: stone.absorption_kg_m2_s05, factor: 3.8, base: 1000.0 }
}

pub(super) fn heat(stone: &Moisture) -> Heat {
    Heat {
        conductivity_w_mk: stone.conductivity_w_mk,
        conductivity_per_water: stone.conductivity_per_water,
        conductivity_table: Vec::new(),
        density_kg_m3: stone.density_kg_m3,
        specific_j_kgk: stone.heat_j_kgk,
    }
}
