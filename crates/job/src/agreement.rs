//! The table of fields and the reader agree: every value the table describes is read, and nothing is read that it does not describe; and the
//! table agrees with itself.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::build;
use crate::fields::{self, Field, Kind, Names, Preset, Reach, Shelf};
use crate::problem::Problems;
use crate::reader::Reader;
use crate::sheet::Sheet;
use crate::values::example;

/// A file with every field of the table in it, walls of every shape, each value the table's own example.
fn everything() -> String {
    let mut text = String::new();
    for field in fields::all().filter(|field| !field.is_table()) {
        let names: &[&str] = if field.path.starts_with("walls.") { &["rectangle", "gable", "polygon", "round"] } else { &["one"] };
        for name in names {
            // Where one answer goes before another, some walls give only the lesser one.
            let key = field.key();
            if (*name == "rectangle" && (key.starts_with("offsets_") || key.starts_with("saturation_")))
                || (*name == "gable" && (key.starts_with("offsets_") || key == "gaps_mm"))
                || (*name != "round" && key.starts_with("relief_"))
            {
                continue;
            }
            let name = if field.path.starts_with("damp.") { "gutters" } else { name };
            let value = if field.key() == "shape" { format!("{name:?}") } else { example(field) };
            let _ = writeln!(text, "{} = {value}", field.path.replace('*', name));
        }
    }
    text
}

#[test]
fn every_field_of_the_table_is_read_and_nothing_else() {
    let text = everything();
    let mut problems = Problems::new("everything.toml", &text);
    let (sheet, is_whole) = Sheet::read(&text, &mut problems);
    assert!(is_whole, "every example is TOML");
    assert!(problems.is_empty(), "every example fits its own field: {:#?}", problems.into_sorted());
    let mut reader = Reader::new(&sheet, &mut problems);
    build::build(&mut reader);
    let described: BTreeSet<String> = fields::all().filter(|field| !field.is_table()).map(|field| field.path.to_owned()).collect();
    let unread: Vec<_> = described.difference(&reader.asked).collect();
    let undescribed: Vec<_> = reader.asked.difference(&described).collect();
    assert!(unread.is_empty(), "described but never read: {unread:?}");
    assert!(undescribed.is_empty(), "read but not described: {undescribed:?}");
}

#[test]
fn paths_are_unique_and_every_table_is_described() {
    let mut seen = BTreeSet::new();
    for field in fields::all() {
        assert!(seen.insert(field.path), "{} is described twice", field.path);
        let parent = field.parent().trim_end_matches(".*");
        assert!(parent.is_empty() || fields::field(parent).is_some_and(Field::is_table), "{} stands in no table", field.path);
        assert!(!field.common || field.path.starts_with("walls.*."), "{} is not of a wall", field.path);
        assert!(!field.label.is_empty());
    }
}

#[test]
fn an_assumed_field_has_a_question_and_a_source() {
    for field in fields::all().filter(|field| field.assumed) {
        assert!(field.question.ends_with('?'), "{} asks nothing", field.path);
        assert!(!field.source.is_empty(), "{} has no source", field.path);
        assert!(!matches!(field.preset, Preset::Required | Preset::Absent), "{} assumes nothing", field.path);
    }
}

#[test]
fn defaults_and_their_ranges_lie_in_what_is_allowed() {
    for field in fields::all() {
        let (Kind::Number { low, high, .. } | Kind::Decimal { low, high, .. }) = field.kind else { continue };
        assert!(low < high, "{}", field.path);
        let Preset::Number(preset) = field.preset else { continue };
        assert!((low..=high).contains(&preset), "{}", field.path);
        if let Reach::Numbers(from, to) = field.reach {
            assert!(low <= from && from <= preset && preset <= to && to <= high, "{}", field.path);
        }
    }
}

#[test]
fn words_of_defaults_are_among_those_allowed() {
    let catalogue = materials::Catalogue::shipped();
    for field in fields::all() {
        let known = |word: &str| match field.kind {
            Kind::Choice(words) => words.iter().any(|(known, _)| *known == word),
            Kind::Entry(Shelf::Limes) => catalogue.limes.contains_key(word),
            Kind::Entry(Shelf::Sands) => catalogue.sands.contains_key(word),
            Kind::Entry(Shelf::Masonries) => catalogue.masonries.contains_key(word),
            Kind::Entry(Shelf::Covers) => catalogue.covers.contains_key(word),
            _ => true,
        };
        if let Preset::Word(word) = field.preset {
            assert!(known(word), "{}: {word}", field.path);
        }
        if let Reach::Words(low, high) = field.reach {
            assert!(known(low) && known(high), "{}: {low} to {high}", field.path);
        }
        if let Kind::Each { names: Names::Of(words), at_most } = field.kind {
            assert_eq!(words.len(), at_most, "{}", field.path);
        }
    }
}

#[test]
fn every_figure_worth_settling_stands_in_the_table_with_its_question() {
    for path in works::swing_paths() {
        let field = fields::field(path).unwrap_or_else(|| panic!("{path} is swung but stands in no table"));
        assert!(field.path == path && !field.is_table() && field.question.ends_with('?'), "{path}");
    }
}
