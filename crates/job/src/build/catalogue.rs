//! The shipped catalogue with the job's own entries laid over it.

use std::collections::BTreeMap;

use materials::Catalogue;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use crate::fields::{self, Field, Shelf};
use crate::problem::{Fault, nearest};
use crate::reader::Reader;
use crate::values::shelf_words;

pub(super) fn build(reader: &mut Reader<'_>) -> Catalogue {
    let mut catalogue = Catalogue::shipped();
    let mut sources = std::mem::take(&mut catalogue.sources);
    lay_over(reader, "limes", &mut catalogue.limes, &mut sources);
    lay_over(reader, "sands", &mut catalogue.sands, &mut sources);
    lay_over(reader, "masonries", &mut catalogue.masonries, &mut sources);
    lay_over(reader, "covers", &mut catalogue.covers, &mut sources);
    catalogue.sources = sources;
    check(reader, &catalogue);
    catalogue
}

/// Lays the job's entries of one shelf over the shipped ones.
fn lay_over<T: Serialize + DeserializeOwned>(
    reader: &mut Reader<'_>,
    shelf: &str,
    entries: &mut BTreeMap<String, T>,
    sources: &mut BTreeMap<String, String>,
) {
    let table = format!("catalogue.{shelf}");
    for name in reader.names(&table) {
        let path = format!("{table}.{name}");
        let like = reader.word(&format!("{path}.like"));
        let base = like.as_deref().unwrap_or(&name);
        if let Some(like) = &like
            && !entries.contains_key(like)
        {
            not_on_shelf(reader, &format!("{path}.like"), like, shelf, entries.keys().map(String::as_str));
            continue;
        }
        let base = entries.get(base).and_then(|entry| serde_json::to_value(entry).ok());
        let is_new = base.is_none();
        let mut whole = match base {
            Some(Value::Object(whole)) => whole,
            _ => Map::new(),
        };
        let source = reader.word(&format!("{path}.source")).unwrap_or_default();
        let before = reader.problems_told();
        fill(reader, &path, &format!("{table}.*"), &mut whole, is_new, &mut |key| {
            sources.insert(format!("{shelf}.{name}.{key}"), source.clone());
        });
        match serde_json::from_value(Value::Object(whole)) {
            Ok(entry) => {
                entries.insert(name, entry);
            }
            // A missing value has been told by name already; anything else is told in the words of the catalogue.
            Err(_) if reader.problems_told() > before => {}
            Err(error) => reader.problem(
                Fault::Missing,
                &path,
                format!("This entry of the catalogue is not whole: {error}."),
                "Allowed is an entry that says all its properties, or is like a shipped one.",
                "Write what is missing, or name a shipped entry as `like`.",
            ),
        }
    }
}

/// Puts what was written into an entry, and tells what a new entry lacks.
fn fill(reader: &mut Reader<'_>, path: &str, pattern: &str, whole: &mut Map<String, Value>, is_new: bool, written: &mut dyn FnMut(&str)) {
    for field in fields::children(pattern) {
        let key = field.key();
        if matches!(key, "like" | "source") {
            continue;
        }
        let here = format!("{path}.{key}");
        if field.is_table() {
            let below = whole.entry(key).or_insert_with(|| Value::Object(Map::new()));
            if let Value::Object(below) = below {
                fill(reader, &here, field.path, below, is_new, &mut |inner| written(&format!("{key}.{inner}")));
            }
            continue;
        }
        match reader.json(&here) {
            Some(value) => {
                whole.insert(key.to_owned(), value);
                written(key);
            }
            None if is_new && needed(field) => reader.missing(&here),
            None => {}
        }
    }
}

/// Only the strength class and how a lime sets may be left out of an entry: air limes have neither, and the class says what is usual.
fn needed(field: &Field) -> bool {
    !matches!(field.key(), "class_mpa" | "hydraulic_share" | "final_set_h")
}

/// Tells that a name is on no shelf.
fn not_on_shelf<'n>(reader: &mut Reader<'_>, path: &str, name: &str, shelf: &str, known: impl Iterator<Item = &'n str> + Clone) {
    let remedy = match nearest(name, known.clone()) {
        Some(near) => format!("Did you mean {near:?}?"),
        None => format!("Write one of those, or describe it under [catalogue.{shelf}.{name}]."),
    };
    let names = known.collect::<Vec<_>>().join(", ");
    reader.problem(
        Fault::NotFound,
        path,
        format!("The catalogue has no {name:?} among its {shelf}."),
        format!("Allowed are: {names}."),
        remedy,
    );
}

/// Checks that a name stands on its shelf of the catalogue.
pub(super) fn must_be_on(reader: &mut Reader<'_>, catalogue: &Catalogue, shelf: Shelf, path: &str, name: &str) {
    if name.is_empty() {
        return;
    }
    let words = shelf_words(shelf);
    match shelf {
        Shelf::Limes if !catalogue.limes.contains_key(name) => {
            not_on_shelf(reader, path, name, words, catalogue.limes.keys().map(String::as_str))
        }
        Shelf::Sands if !catalogue.sands.contains_key(name) => {
            not_on_shelf(reader, path, name, words, catalogue.sands.keys().map(String::as_str))
        }
        Shelf::Masonries if !catalogue.masonries.contains_key(name) => {
            not_on_shelf(reader, path, name, words, catalogue.masonries.keys().map(String::as_str));
        }
        Shelf::Covers if !catalogue.covers.contains_key(name) => {
            not_on_shelf(reader, path, name, words, catalogue.covers.keys().map(String::as_str))
        }
        _ => {}
    }
}

/// What the values of an entry say together.
fn check(reader: &mut Reader<'_>, catalogue: &Catalogue) {
    for name in reader.names("catalogue.limes") {
        let Some(lime) = catalogue.limes.get(&name) else { continue };
        if lime.portlandite_share + lime.water_share > 1.0 {
            disagree(
                reader,
                &format!("catalogue.limes.{name}.portlandite_share"),
                "Its calcium hydroxide and its water together are more than all of it.",
            );
        }
        in_order(reader, &format!("catalogue.limes.{name}.frost_free_days"), lime.frost_free_days);
    }
    for name in reader.names("catalogue.sands") {
        let Some(sand) = catalogue.sands.get(&name) else { continue };
        if sand.loose_kg_m3 >= sand.particle_kg_m3 {
            disagree(
                reader,
                &format!("catalogue.sands.{name}.loose_kg_m3"),
                "Loose sand is as heavy as its solid grains: there would be no voids.",
            );
        }
    }
    for name in reader.names("catalogue.masonries") {
        let Some(masonry) = catalogue.masonries.get(&name) else { continue };
        if masonry.stone.saturation_kg_m3 > masonry.stone.porosity * 1000.0 {
            disagree(reader, &format!("catalogue.masonries.{name}.stone.saturation_kg_m3"), "It holds more water than it has pores for.");
        }
        in_order(reader, &format!("catalogue.masonries.{name}.splash_s"), masonry.splash_s);
    }
}

fn in_order(reader: &mut Reader<'_>, path: &str, (low, high): (f64, f64)) {
    if low > high {
        disagree(reader, path, "The low value comes after the high one.");
    }
}

fn disagree(reader: &mut Reader<'_>, path: &str, found: &str) {
    reader.problem(
        Fault::Contradiction,
        path,
        found,
        "Allowed are values that can hold together.",
        "Look at the data sheet again, and at the units in the names of the keys.",
    );
}
