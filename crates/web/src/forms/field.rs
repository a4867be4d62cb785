//! One field of a form: label, question, what to write in, unit, range, what stands in when nothing is written, and what is wrong.

use std::sync::LazyLock;

use job::fields::{EVERY_WALL, Field, Kind, Measure, Preset, Reach, Shelf, Word};
use materials::Catalogue;
use maud::{Markup, html};

use super::Filling;
use crate::words::capital;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(Catalogue::shipped);

/// The unit of money in the table of fields; a form names the money itself.
const OWN_MONEY: &str = "in the currency of the job";
/// Where the job says in what money it is priced.
const CURRENCY: &str = "rates.currency";

/// The field at a path.
pub fn one(filling: &Filling, field: &Field, path: &str) -> Markup {
    let fault = filling.faults.get(path);
    let wide = matches!(field.kind, Kind::Rows { .. } | Kind::Numbers { .. } | Kind::Walls | Kind::Choices(_));
    let unit = unit(filling, field);
    let under = under(filling, field, path);
    html! {
        div.field.bad[fault.is_some()].whole[wide] id={ "at-" (path) } {
            @if !matches!(field.kind, Kind::Choices(_) | Kind::Walls) { label for=(path) { (capital(field.label)) } } @else { span.lab id={ (path) "-label" } { (capital(field.label)) } }
            @if !field.question.is_empty() || !field.help.is_empty() { p.help id={ (path) "-help" } { (field.question) " " (field.help) } }
            div.in { (input(filling, field, path, fault.is_some())) @if !unit.is_empty() { span.unit { (unit) } } }
            p.under id={ (path) "-under" } { (under) }
            @if let Some(says) = fault { p.err role="alert" id={ (path) "-err" } { b { "Cannot be kept: " } (says) } }
        }
    }
}

fn input(filling: &Filling, field: &Field, path: &str, bad: bool) -> Markup {
    let value = filling.value(path);
    let helped = !field.question.is_empty() || !field.help.is_empty();
    let parts = [(helped, "help"), (true, "under"), (bad, "err")].into_iter().filter(|(there, _)| *there);
    let described = parts.map(|(_, part)| format!("{path}-{part}")).collect::<Vec<_>>().join(" ");
    let invalid = bad.then_some("true");
    let placeholder = placeholder(filling, field, path);
    match field.kind {
        Kind::Choice(words) => choice(path, &value, words, &described, invalid, &placeholder),
        Kind::Flag => choice(path, &value, &[("yes", ""), ("no", "")], &described, invalid, &placeholder),
        Kind::Entry(shelf) => entry(filling, (path, &value), shelf, &described, invalid, &placeholder),
        Kind::Choices(words) => {
            boxes(path, &value, &words.iter().map(|(word, meaning)| ((*word).to_owned(), (*meaning).to_owned())).collect::<Vec<_>>())
        }
        Kind::Walls => {
            boxes(path, &value, &filling.editing.names("walls").into_iter().map(|name| (name.clone(), name)).collect::<Vec<_>>())
        }
        Kind::Rows { .. } => {
            html! { textarea id=(path) name=(path) aria-describedby=(described) aria-invalid=[invalid] spellcheck="false" { "\n" (value) } }
        }
        Kind::Text { .. } | Kind::Numbers { .. } | Kind::Spells { .. } => {
            html! { input.long type="text" id=(path) name=(path) value=(value) placeholder=(placeholder) aria-describedby=(described) aria-invalid=[invalid] autocomplete="off"; }
        }
        _ => {
            html! { input type="text" id=(path) name=(path) value=(value) placeholder=(placeholder) aria-describedby=(described) aria-invalid=[invalid] autocomplete="off"; }
        }
    }
}

/// What stands in the empty field: the answer for every wall, or the default.
fn placeholder(filling: &Filling, field: &Field, path: &str) -> String {
    for_every_wall(filling, field, path).unwrap_or_else(|| preset(field))
}

fn for_every_wall(filling: &Filling, field: &Field, path: &str) -> Option<String> {
    if !field.common || path.starts_with(EVERY_WALL) {
        return None;
    }
    filling.editing.written(&format!("{EVERY_WALL}.{}", field.key()))
}

fn preset(field: &Field) -> String {
    match field.preset {
        Preset::Number(number) => plain(number),
        Preset::Word(word) => word.to_owned(),
        Preset::Words(words) => words.join(", "),
        Preset::Flag(flag) => (if flag { "yes" } else { "no" }).to_owned(),
        Preset::Required | Preset::Absent | Preset::Worked(_) => String::new(),
    }
}

fn plain(number: f64) -> String {
    format!("{number}")
}

fn choice(path: &str, value: &str, words: &[Word], described: &str, invalid: Option<&str>, stands_in: &str) -> Markup {
    let known = words.iter().any(|(word, _)| *word == value);
    html! {
        select id=(path) name=(path) aria-describedby=(described) aria-invalid=[invalid] {
            option value="" { @if stands_in.is_empty() { "not said" } @else { "not said: " (stands_in) } }
            @for (word, meaning) in words { option value=(word) selected[*word == value] { (word) @if !meaning.is_empty() { ": " (meaning) } } }
            @if !known && !value.is_empty() { option value=(value) selected { (value) } }
        }
    }
}

fn entry(filling: &Filling, (path, value): (&str, &str), shelf: Shelf, described: &str, invalid: Option<&str>, stands_in: &str) -> Markup {
    let (table, shipped): (&str, Vec<(&String, &String)>) = match shelf {
        Shelf::Limes => ("catalogue.limes", CATALOGUE.limes.iter().map(|(slug, lime)| (slug, &lime.name)).collect()),
        Shelf::Sands => ("catalogue.sands", CATALOGUE.sands.iter().map(|(slug, sand)| (slug, &sand.name)).collect()),
        Shelf::Masonries => ("catalogue.masonries", CATALOGUE.masonries.iter().map(|(slug, masonry)| (slug, &masonry.name)).collect()),
        Shelf::Covers => ("catalogue.covers", CATALOGUE.covers.iter().map(|(slug, cover)| (slug, &cover.name)).collect()),
    };
    let own = filling.names(table);
    let known = own.iter().any(|name| name == value) || shipped.iter().any(|(slug, _)| *slug == value);
    html! {
        select id=(path) name=(path) aria-describedby=(described) aria-invalid=[invalid] {
            option value="" { @if stands_in.is_empty() { "not said" } @else { "not said: " (stands_in) } }
            @for name in &own { option value=(name) selected[name == value] { (name) ", the job's own" } }
            @for (slug, name) in shipped.iter().filter(|(slug, _)| !own.contains(slug)) { option value=(slug) selected[*slug == value] { (name) } }
            @if !known && !value.is_empty() { option value=(value) selected { (value) } }
        }
    }
}

/// Boxes to tick under one name; an empty one goes along, so that none ticked is an answer too.
fn boxes(path: &str, value: &str, words: &[(String, String)]) -> Markup {
    let ticked: Vec<&str> = value.split(',').map(str::trim).collect();
    html! {
        input type="hidden" name=(path) value="";
        div.choice role="group" aria-labelledby={ (path) "-label" } {
            @for (word, meaning) in words { label { input type="checkbox" name=(path) value=(word) checked[ticked.contains(&word.as_str())]; (meaning) } }
        }
    }
}

fn unit(filling: &Filling, field: &Field) -> String {
    let words = match field.kind {
        Kind::Number { measure, .. } | Kind::Decimal { measure, .. } | Kind::Numbers { measure, .. } | Kind::Rows { measure, .. } => {
            measure.words()
        }
        Kind::OpenOr { .. } => Measure::Metres.words(),
        _ => "",
    };
    let currency = || filling.editing.written(CURRENCY).or_else(|| job::field(CURRENCY).map(preset)).unwrap_or_default();
    if words == OWN_MONEY { currency() } else { words.to_owned() }
}

/// What may be written, and what stands while nothing is: the line under the field.
fn under(filling: &Filling, field: &Field, path: &str) -> Markup {
    let written = !filling.value(path).is_empty();
    let assumed = filling.assumed.iter().find(|assumed| assumed.path == path);
    let range = range(field);
    html! {
        @if !written {
            @if let Some(assumed) = assumed {
                span.take { "assumed" } " " (assumed.value) @if assumed.unit != OWN_MONEY && !assumed.unit.is_empty() { " " (assumed.unit) }
                @if let Some((low, high)) = &assumed.range { ", may be " (low) " to " (high) }
                " (" (assumed.source) "). "
            } @else if let Some(value) = for_every_wall(filling, field, path) {
                "For every wall: " (value) ". "
            } @else if field.assumed {
                span.take { "assumed" } " " (default_words(field)) ". "
            } @else {
                @match field.preset {
                    Preset::Required => { "Must be written. " }
                    Preset::Absent => {}
                    Preset::Worked(how) => { "Left out: " (how) ". " }
                    _ => { "Left out: " (preset(field)) ". " }
                }
            }
        }
        (range)
    }
}

fn default_words(field: &Field) -> String {
    let value = match field.preset {
        Preset::Worked(how) => how.to_owned(),
        _ => preset(field),
    };
    match field.reach {
        Reach::Numbers(low, high) => format!("{value}, may be {} to {} ({})", plain(low), plain(high), field.source),
        Reach::Words(low, high) => format!("{value}, may be {low} to {high} ({})", field.source),
        Reach::None | Reach::Either => format!("{value} ({})", field.source),
    }
}

/// The range, as a short sentence; long lists of words stand in the field itself.
fn range(field: &Field) -> String {
    match field.kind {
        Kind::Choice(_)
        | Kind::Choices(_)
        | Kind::Entry(_)
        | Kind::Flag
        | Kind::Walls
        | Kind::Text { .. }
        | Kind::Section
        | Kind::Each { .. } => String::new(),
        _ => {
            let allowed = job::allowed(field);
            let bare = ["Allowed is ", "Allowed are ", "a number ", "an exact amount "]
                .iter()
                .fold(allowed.as_str(), |words, head| words.strip_prefix(head).unwrap_or(words));
            capital(bare).replace(&format!(" {OWN_MONEY}"), "")
        }
    }
}
