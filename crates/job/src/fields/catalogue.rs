//! Fields of a job's own catalogue entries: a lime from its data sheet, a local sand, a stone, a cover. An entry of a shipped name overrides
//! only what it says; a new one says everything, or names the shipped entry it is like.

use super::{Field, Kind, Measure, Names, Page, Preset, Shelf, Word, number};

const fn entry(path: &'static str, label: &'static str, kind: Kind) -> Field {
    Field::new(Page::Materials, path, label, kind)
}

const fn share(path: &'static str, label: &'static str) -> Field {
    entry(path, label, number(0.0, 1.0, "as a share, 0 to 1"))
}

const SHORT: Kind = Kind::Text { most: 200 };
const MANY: Kind = Kind::Each { names: Names::Slugs, at_most: 200 };
const LIKE: &str = "Properties left out are taken from that entry.";
const SHEET: &str = "the job's own entry";

/// A low and a high value.
const fn span(low: f64, high: f64, unit: &'static str) -> Kind {
    Kind::Numbers { low, high, measure: Measure::As(unit), at_least: 2, at_most: 2 }
}

/// Kinds of lime.
pub const LIME_KINDS: &[Word] = &[
    ("putty", "slaked, matured putty"),
    ("hydrate", "dry hydrate of air lime"),
    ("quicklime", "quicklime, to be slaked by trained people"),
    ("hydraulic", "natural hydraulic lime"),
];

const HARDNESSES: &[Word] = &[("soft", "a nail digs in"), ("medium", "a nail scratches"), ("hard", "a nail slides")];

pub(super) const LIMES: &[Field] = &[
    entry("catalogue", "own entries of the catalogue", Kind::Section)
        .help("Materials from their own data sheets; they go before the shipped ones."),
    entry("catalogue.limes", "own limes", MANY),
    entry("catalogue.limes.*.like", "like", Kind::Entry(Shelf::Limes)).help(LIKE),
    entry("catalogue.limes.*.source", "where the figures come from", SHORT).usual(Preset::Word(SHEET), SHEET),
    entry("catalogue.limes.*.name", "name shown", SHORT),
    entry("catalogue.limes.*.kind", "kind of lime", Kind::Choice(LIME_KINDS)),
    entry("catalogue.limes.*.designation", "designation by EN 459-1", SHORT),
    entry("catalogue.limes.*.bulk_kg_m3", "bulk density as measured out", number(200.0, 2000.0, "kg/m³")),
    share("catalogue.limes.*.portlandite_share", "share of calcium hydroxide free to carbonate, by mass as measured out"),
    share("catalogue.limes.*.water_share", "share of water, by mass"),
    entry("catalogue.limes.*.solid_kg_m3", "density of its solids", number(1800.0, 3600.0, "kg/m³")),
    entry("catalogue.limes.*.class_mpa", "strength class of a hydraulic lime", number(1.0, 10.0, "MPa")),
    share("catalogue.limes.*.hydraulic_share", "share of a hydraulic lime that sets under water, by mass"),
    entry("catalogue.limes.*.final_set_h", "hours by which the paste of a hydraulic lime has set at 20 °C", number(0.5, 200.0, "h")),
    entry("catalogue.limes.*.unit_name", "unit of sale", SHORT),
    entry("catalogue.limes.*.unit_kg", "mass of one unit of sale", number(0.5, 30_000.0, "kg")),
    entry("catalogue.limes.*.mature_weeks", "weeks it lies before use", number(0.0, 520.0, "weeks")),
    entry("catalogue.limes.*.frost_free_days", "frost-free days it needs after placing, low and high", span(0.0, 365.0, "days")),
];

pub(super) const SANDS: &[Field] = &[
    entry("catalogue.sands", "own sands", MANY),
    entry("catalogue.sands.*.like", "like", Kind::Entry(Shelf::Sands)).help(LIKE),
    entry("catalogue.sands.*.source", "where the figures come from", SHORT).usual(Preset::Word(SHEET), SHEET),
    entry("catalogue.sands.*.name", "name shown", SHORT),
    entry("catalogue.sands.*.loose_kg_m3", "loose dry bulk density", number(800.0, 2200.0, "kg/m³")),
    entry("catalogue.sands.*.particle_kg_m3", "density of the grains", number(1800.0, 3500.0, "kg/m³")),
    entry("catalogue.sands.*.largest_mm", "largest grain", number(0.1, 32.0, "mm")),
    share("catalogue.sands.*.fines_share", "share finer than 0.063 mm, by mass"),
    entry("catalogue.sands.*.sharp", "sharp", Kind::Flag),
    share("catalogue.sands.*.moisture_share", "moisture as delivered, by mass of dry sand"),
    share("catalogue.sands.*.bulking", "bulking at that moisture"),
    entry("catalogue.sands.*.unit_name", "unit of sale", SHORT),
    entry("catalogue.sands.*.unit_kg", "damp mass of one unit of sale", number(1.0, 40_000.0, "kg")),
];

pub(super) const MASONRIES: &[Field] = &[
    entry("catalogue.masonries", "own masonries", MANY),
    entry("catalogue.masonries.*.like", "like", Kind::Entry(Shelf::Masonries)).help(LIKE),
    entry("catalogue.masonries.*.source", "where the figures come from", SHORT).usual(Preset::Word(SHEET), SHEET),
    entry("catalogue.masonries.*.name", "name shown", SHORT),
    entry("catalogue.masonries.*.tell", "what a scratch and a look tell", Kind::Text { most: 400 }),
    entry("catalogue.masonries.*.dense", "dense, so that a scud is needed", Kind::Flag),
    entry("catalogue.masonries.*.hardness", "hardness", Kind::Choice(HARDNESSES)),
    entry("catalogue.masonries.*.splash_s", "seconds until a splash is gone, low and high", span(0.5, 7200.0, "seconds")),
    share("catalogue.masonries.*.solar_absorptance", "share of sun the bare face takes up"),
    entry("catalogue.masonries.*.stone", "the stone", Kind::Section),
    entry("catalogue.masonries.*.stone.density_kg_m3", "dry density", number(500.0, 3500.0, "kg/m³")),
    entry("catalogue.masonries.*.stone.porosity", "open porosity", number(0.002, 0.8, "as a share, 0 to 1")),
    entry("catalogue.masonries.*.stone.saturation_kg_m3", "water when saturated", number(1.0, 800.0, "kg/m³")),
    entry("catalogue.masonries.*.stone.retention_a_per_pa", "retention a", number(1e-9, 1.0, "1/Pa")),
    entry("catalogue.masonries.*.stone.retention_n", "retention n", number(1.05, 4.0, "")),
    entry("catalogue.masonries.*.stone.absorption_kg_m2_s05", "water absorption coefficient", number(1e-5, 5.0, "kg/(m² s^½)")),
    entry("catalogue.masonries.*.stone.vapour_resistance", "vapour resistance factor", number(1.0, 100_000.0, "")),
    entry("catalogue.masonries.*.stone.conductivity_w_mk", "thermal conductivity, dry", number(0.02, 10.0, "W/(m K)")),
    entry("catalogue.masonries.*.stone.conductivity_per_water", "its increase with water", number(0.0, 0.1, "W/(m K) per kg/m³")),
    entry("catalogue.masonries.*.stone.heat_j_kgk", "specific heat, dry", number(300.0, 3000.0, "J/(kg K)")),
];

pub(super) const COVERS: &[Field] = &[
    entry("catalogue.covers", "own covers", MANY),
    entry("catalogue.covers.*.like", "like", Kind::Entry(Shelf::Covers)).help(LIKE),
    entry("catalogue.covers.*.source", "where the figures come from", SHORT).usual(Preset::Word(SHEET), SHEET),
    entry("catalogue.covers.*.name", "name shown", SHORT),
    share("catalogue.covers.*.wind_leak", "share of the wind that reaches the face"),
    share("catalogue.covers.*.sun_through", "share of sun let through"),
    share("catalogue.covers.*.rain_through", "share of driving rain let through"),
    share("catalogue.covers.*.sky_through", "share of the clear sky's pull let through"),
    entry("catalogue.covers.*.gap_w_m2k", "heat exchange of the still gap", number(0.0, 50.0, "W/(m² K)")),
    entry("catalogue.covers.*.cloth_kg_m2", "dry mass of the cloth", number(0.0, 10.0, "kg/m²")),
    entry("catalogue.covers.*.holds_kg_m2", "water it holds when soaked", number(0.0, 20.0, "kg/m²")),
    share("catalogue.covers.*.cloth_absorptance", "share of sun the cloth takes up"),
    entry("catalogue.covers.*.wetted", "wetted", Kind::Flag),
    entry("catalogue.covers.*.warms_k", "warms the air behind it by", number(0.0, 30.0, "K")),
    entry("catalogue.covers.*.heater_w_m2", "heat its heater gives at most (0: as much as it takes)", number(0.0, 1000.0, "W/m²")),
    entry("catalogue.covers.*.skin_w_m2k", "heat lost through its skin", number(0.0, 50.0, "W/(m² K)")),
    entry("catalogue.covers.*.burner", "its heater burns gas in the air behind it", Kind::Flag),
    entry("catalogue.covers.*.co2_film_m_s", "film coefficient of carbon dioxide through it", number(1e-6, 1e9, "m/s")),
    entry("catalogue.covers.*.hang_h_per_100_m2", "labour to hang 100 m²", number(0.0, 200.0, "person-hours")),
    entry("catalogue.covers.*.load_kg_m2", "load when soaked", number(0.0, 100.0, "kg/m²")),
    entry("catalogue.covers.*.wind_limit_m_s", "wind up to which it may hang", number(0.5, 40.0, "m/s")),
];
