//! Reads the small files of the materials bench (sand, lime, slaking, old mortar) and gives what the bench makes of them. Every problem of a file is
//! told at once. It opens nothing itself, and holds no procedure for slaking.

mod lime;
mod mortar;
mod sand;
mod slake;

pub use lime::{BatchReport, LimeReport, LimeRow, read_lime};
pub use mortar::{MortarReport, read_mortar};
pub use sand::{BlendReport, SandReport, SandResult, read_sand};
pub use slake::{SlakeReport, read_slake, slake_days};

use materials::bench::{Arrival, BenchError, Grading, SievedMass};
use materials::{Catalogue, Lime, Mix, Mortar, Sand};
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;
use serde::Serialize;

use crate::problem::{Fault, Problem};
use crate::trial::reader::{Section, Wrong, from_to, read_whole};

/// Said of a file that is too long.
const TOO_LONG: &str = "Keep one question to a file.";

/// A delivery against what was ordered.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ArrivalReport {
    /// Mix as ordered.
    pub mix: Mix,
    /// What it does.
    pub arrival: Arrival,
    /// The delivery as an entry for the job file's own catalogue, TOML: with it specification, order, curing and price use what came.
    pub entry: String,
    /// What lime and sand of a cubic metre of mortar cost, where both prices were said.
    pub money: Option<DeliveryMoney>,
    /// What came, for planning a job again with it.
    #[serde(skip)]
    pub delivered: Delivered,
}

/// What came.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "the words say it")]
pub enum Delivered {
    Lime(Lime),
    Sand(Sand),
}

impl ArrivalReport {
    /// The catalogue with what came in the place of what was ordered, under its name.
    pub fn put_in(&self, catalogue: &mut Catalogue) {
        match &self.delivered {
            Delivered::Lime(lime) => drop(catalogue.limes.insert(self.mix.lime.clone(), lime.clone())),
            Delivered::Sand(sand) => drop(catalogue.sands.insert(self.mix.sand.clone(), sand.clone())),
        }
    }
}

/// Price of lime and sand in a cubic metre of mortar, in the money of the file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DeliveryMoney {
    /// As ordered.
    pub ordered: Decimal,
    /// What came, in the same boxes.
    pub same_parts: Decimal,
    /// What came, with the mix set right for it.
    pub adjusted: Decimal,
}

/// Price of a unit of lime and of sand as sold, both or neither.
fn prices(section: &Section<'_, '_>) -> Option<(Decimal, Decimal)> {
    let price = |key: &'static str| section.number(key, from_to(0.0, 1e6)).and_then(Decimal::from_f64);
    let (lime, sand) = (price("lime_price"), price("sand_price"));
    if section.has("lime_price") != section.has("sand_price") {
        section.missing("lime_price", "Money is reckoned from both prices.", "Give lime_price and sand_price, each for one unit as sold.");
    }
    Some((lime?, sand?))
}

/// Money of a cubic metre from the prices of a unit of lime and of sand as sold, and what each weighs.
fn delivery_money(arrival: &Arrival, prices: Option<(Decimal, Decimal)>, unit_kg: (f64, f64)) -> Option<DeliveryMoney> {
    let (lime, sand) = prices?;
    let of = |mortar: &Mortar| {
        let units = |kg: f64, unit_kg: f64| Decimal::from_f64(kg / unit_kg);
        Some((lime * units(mortar.lime_kg_m3, unit_kg.0)? + sand * units(mortar.sand_kg_m3, unit_kg.1)?).round_dp(2))
    };
    Some(DeliveryMoney { ordered: of(&arrival.ordered)?, same_parts: of(&arrival.same_parts)?, adjusted: of(&arrival.adjusted)? })
}

/// A sand as a job's own entry under a name of its own, like one of the catalogue.
fn sand_entry(own: &str, like: &str, sand: &Sand) -> String {
    let name = toml::Value::String(sand.name.clone());
    let head = entry_head("sands", own, like, &name);
    format!(
        "{head}loose_kg_m3 = {:.0}\nparticle_kg_m3 = {:.0}\nlargest_mm = {}\nfines_share = {:.4}\n",
        sand.loose_kg_m3, sand.particle_kg_m3, sand.largest_mm, sand.fines_share
    )
}

/// A delivered lime as a job's own entry, like the one ordered.
fn lime_entry(like: &str, lime: &Lime) -> String {
    let name = toml::Value::String(lime.name.clone());
    let head = entry_head("limes", &format!("{like}-delivered"), like, &name);
    // A quicklime makes more portlandite than its own mass; the job file takes shares up to one, so that of the entry it is like stands.
    let active = if lime.portlandite_share <= 1.0 { format!("portlandite_share = {:.4}\n", lime.portlandite_share) } else { String::new() };
    format!("{head}bulk_kg_m3 = {:.0}\n{active}water_share = {:.4}\n", lime.bulk_kg_m3, lime.water_share)
}

fn entry_head(shelf: &str, own: &str, like: &str, name: &toml::Value) -> String {
    format!("[catalogue.{shelf}.{own}]\nlike = \"{like}\"\nsource = \"measured on the bench\"\nname = {name}\n")
}

fn read<T>(text: &str, name: &str, build: impl FnOnce(&Section<'_, '_>) -> Option<T>) -> Result<T, Vec<Problem>> {
    read_whole(text, name, TOO_LONG, build)
}

/// Tells the faults the bench found in a table, at that table.
fn tell<T>(section: &Section<'_, '_>, result: Result<T, Vec<BenchError>>) -> Option<T> {
    match result {
        Ok(value) => Some(value),
        Err(errors) => {
            for error in errors {
                let wrong = Wrong::new(
                    Fault::Contradiction,
                    error.to_string(),
                    "What was measured must be able to be true.",
                    "Nothing was reckoned from it.",
                );
                section.reader.refuse(section.span.clone(), &section.path, wrong);
            }
            None
        }
    }
}

/// A grading from `sieves_mm` with `passing_percent`, or with `retained_g`, `dry_g`, `pan_g` and `washed_g`.
fn grading(section: &Section<'_, '_>) -> Option<Grading> {
    let sieves = section.needs_numbers("sieves_mm", from_to(0.01, 125.0));
    let passing = section.numbers("passing_percent", from_to(0.0, 100.0));
    let retained = section.numbers("retained_g", from_to(0.0, 1e6));
    let dry_g = section.number("dry_g", from_to(1.0, 1e6));
    let pan_g = section.number("pan_g", from_to(0.0, 1e6)).unwrap_or(0.0);
    let washed_g = section.number("washed_g", from_to(0.0, 1e6)).unwrap_or(0.0);
    if section.has("passing_percent") == section.has("retained_g") {
        let allowed = "Either passing_percent or retained_g says what the sieves showed.";
        section.missing("passing_percent", allowed, "Give one of the two, with as many numbers as sieves_mm.");
        return None;
    }
    let sieves = sieves?;
    let shown = if section.has("passing_percent") { passing? } else { retained.clone()? };
    if shown.len() != sieves.len() {
        let found = format!("There are {} sieves and {} results.", sieves.len(), shown.len());
        section.contradicts("sieves_mm", found, "Every sieve has one result.", "Make the lists equally long.");
        return None;
    }
    if retained.is_none() {
        let rows: Vec<(f64, f64)> = sieves.into_iter().zip(shown).collect();
        return tell(section, Grading::from_passing(&rows));
    }
    if !section.has("dry_g") {
        section.missing("dry_g", "The dry mass that went in, g.", "Add dry_g, so that the masses can be checked against it.");
    }
    let rows: Vec<SievedMass> =
        sieves.into_iter().zip(shown).map(|(opening_mm, retained_g)| SievedMass { opening_mm, retained_g }).collect();
    tell(section, Grading::from_retained(dry_g?, &rows, pan_g, washed_g))
}

/// Pairs from two lists of one length.
fn pairs(section: &Section<'_, '_>, first: (&'static str, f64, f64), second: (&'static str, f64, f64)) -> Option<Vec<(f64, f64)>> {
    if !section.has(first.0) && !section.has(second.0) {
        return None;
    }
    let firsts = section.needs_numbers(first.0, from_to(first.1, first.2));
    let seconds = section.needs_numbers(second.0, from_to(second.1, second.2));
    let (firsts, seconds) = (firsts?, seconds?);
    if firsts.len() != seconds.len() {
        let found = format!("`{}` has {} numbers, `{}` has {}.", first.0, firsts.len(), second.0, seconds.len());
        section.contradicts(first.0, found, "Each number of the one belongs to one of the other.", "Make the lists equally long.");
        return None;
    }
    Some(firsts.into_iter().zip(seconds).collect())
}

/// The mix that was ordered: `lime`, `sand`, `parts`.
fn mix(section: &Section<'_, '_>, catalogue: &Catalogue) -> Option<Mix> {
    let lime = section.needs_text("lime", "Name a lime of the catalogue, for example \"putty-cl90\".");
    let sand = section.needs_text("sand", "Name a sand of the catalogue, for example \"sharp-0-4\".");
    let sand_parts = section.needs_number("parts", from_to(0.25, 6.0));
    let lime = lime.and_then(|name| known(section, "lime", name, catalogue.lime(name).map(|_| ())));
    let sand = sand.and_then(|name| known(section, "sand", name, catalogue.sand(name).map(|_| ())));
    Some(Mix { lime: lime?, sand: sand?, sand_parts: sand_parts? })
}

/// A name of the catalogue, or its fault told.
fn known(section: &Section<'_, '_>, key: &'static str, name: &str, found: Result<(), materials::MaterialsError>) -> Option<String> {
    match found {
        Ok(()) => Some(name.to_owned()),
        Err(error) => {
            section.refuse(
                key,
                Wrong::new(Fault::NotFound, error.to_string(), "It must be a name of the catalogue.", "Use one of the nearest."),
            );
            None
        }
    }
}
