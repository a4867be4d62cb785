//! JSON Schema (draft 2020-12) of the job file, from the one table of fields.

use serde_json::{Map, Value, json};

use crate::fields::{self, EVERY_WALL, Field, Kind, Names, Preset, Shelf, Word};
use crate::values::{allowed, shelf_words};

/// A short name, as a regular expression.
const SLUG: &str = "^[a-z0-9]([a-z0-9-]{0,38}[a-z0-9])?$";

/// The schema of a job file. Numbers may also be written as text the way people write them, so a number's type is number or string.
pub fn schema() -> Value {
    let mut schema = table("");
    let head = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A harlwright job",
        "description": "A surveyed building, what goes on its walls, when, by whom and at what rates. One TOML file.",
    });
    if let (Value::Object(head), Value::Object(body)) = (head, &mut schema) {
        let mut whole = head;
        whole.append(body);
        return Value::Object(whole);
    }
    schema
}

/// The object schema of the table of a pattern.
fn table(pattern: &str) -> Value {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for field in fields::children(pattern) {
        // An answer given once for every wall takes no child tables of a wall.
        if pattern == EVERY_WALL && field.is_table() {
            continue;
        }
        properties.insert(field.key().to_owned(), of(field));
        let walls = field.path == "walls";
        if field.preset == Preset::Required || walls || holds_required(field) {
            required.push(Value::from(field.key()));
        }
    }
    let mut object = json!({ "type": "object", "additionalProperties": false, "properties": properties });
    if !required.is_empty() {
        object["required"] = Value::Array(required);
    }
    object
}

/// True for a table that must be there because something in it must; tables that may be left out whole say so by being optional.
fn holds_required(field: &Field) -> bool {
    let optional = ["weather", "rates.last_job"].contains(&field.path);
    field.kind == Kind::Section && !optional && fields::children(field.path).iter().any(|below| below.preset == Preset::Required)
}

fn of(field: &Field) -> Value {
    let mut schema = match field.kind {
        Kind::Section => table(field.path),
        Kind::Each { names, at_most } => each(field, names, at_most),
        _ => value(field),
    };
    schema["title"] = Value::from(field.label);
    schema["description"] = Value::from(describe(field));
    if let Some(default) = default(field) {
        schema["default"] = default;
    }
    schema
}

/// Question, help, what is allowed, and whether a default stands as assumed.
fn describe(field: &Field) -> String {
    let allowed = if field.is_table() { String::new() } else { allowed(field) };
    let standing = match (field.assumed, field.preset) {
        (true, _) => format!("Left out, a default stands as assumed ({}).", field.source),
        (false, Preset::Worked(how)) => format!("Left out: {how}."),
        _ => String::new(),
    };
    [field.question, field.help, &allowed, &standing].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

fn each(field: &Field, names: Names, at_most: usize) -> Value {
    let below = table(&format!("{}.*", field.path));
    match names {
        Names::Slugs => {
            let least = usize::from(field.path == "walls");
            json!({
                "type": "object",
                "additionalProperties": false,
                "patternProperties": { SLUG: below },
                "minProperties": least,
                "maxProperties": at_most,
            })
        }
        Names::Of(words) => {
            let properties: Map<String, Value> = words
                .iter()
                .map(|(word, meaning)| {
                    let mut one = below.clone();
                    one["description"] = Value::from(*meaning);
                    ((*word).to_owned(), one)
                })
                .collect();
            json!({ "type": "object", "additionalProperties": false, "properties": properties })
        }
    }
}

fn words(words: &[Word]) -> Value {
    Value::Array(words.iter().map(|(word, meaning)| json!({ "const": word, "title": meaning })).collect())
}

fn number(low: f64, high: f64, whole: bool) -> Value {
    let kind = if whole { "integer" } else { "number" };
    json!({ "type": [kind, "string"], "minimum": low, "maximum": high, "minLength": 1, "maxLength": 80 })
}

fn value(field: &Field) -> Value {
    match field.kind {
        Kind::Number { low, high, whole, .. } => number(low, high, whole),
        Kind::Decimal { low, high, .. } | Kind::OpenOr { low, high } | Kind::Ratio { low, high } => number(low, high, false),
        Kind::Bearing => number(0.0, 360.0, false),
        Kind::Choice(all) => json!({ "type": "string", "oneOf": words(all) }),
        Kind::Choices(all) => json!({ "type": "array", "minItems": 1, "items": { "type": "string", "oneOf": words(all) } }),
        Kind::Entry(shelf) => json!({ "type": "string", "pattern": SLUG, "$comment": entries(shelf) }),
        Kind::Walls => json!({ "type": "array", "maxItems": 500, "items": { "type": "string", "pattern": SLUG } }),
        Kind::Text { most } => {
            let least = usize::from(field.preset == Preset::Required);
            json!({ "type": "string", "minLength": least, "maxLength": most })
        }
        Kind::Flag => json!({ "type": "boolean" }),
        // A day may be written "26 April 2027" too, so the format is not forced.
        Kind::Date | Kind::Time => json!({ "type": "string", "maxLength": 80 }),
        Kind::Spells { at_most } => json!({ "type": "array", "maxItems": at_most, "items": { "type": "string", "maxLength": 80 } }),
        Kind::Numbers { low, high, at_least, at_most, .. } => {
            json!({ "type": "array", "minItems": at_least, "maxItems": at_most, "items": number(low, high, false) })
        }
        Kind::Rows { low, high, at_least, at_most, columns, .. } => json!({
            "type": "array", "minItems": at_least, "maxItems": at_most,
            "items": { "type": "array", "minItems": columns.0, "maxItems": columns.1, "items": number(low, high, false) },
        }),
        Kind::Section | Kind::Each { .. } => json!({}),
    }
}

fn entries(shelf: Shelf) -> String {
    let catalogue = materials::Catalogue::shipped();
    let names: Vec<&String> = match shelf {
        Shelf::Limes => catalogue.limes.keys().collect(),
        Shelf::Sands => catalogue.sands.keys().collect(),
        Shelf::Masonries => catalogue.masonries.keys().collect(),
        Shelf::Covers => catalogue.covers.keys().collect(),
    };
    let names = names.into_iter().map(String::as_str).collect::<Vec<_>>().join(", ");
    format!("One of the {} shipped ({names}) or of the job's own.", shelf_words(shelf))
}

fn default(field: &Field) -> Option<Value> {
    match (field.preset, field.kind) {
        (Preset::Number(number), Kind::Number { whole: true, .. }) => Some(Value::from(crate::reader::whole(number))),
        (Preset::Number(number), _) => Some(Value::from(number)),
        (Preset::Word(word), _) => Some(Value::from(word)),
        (Preset::Words(words), _) => Some(Value::from(words.to_vec())),
        (Preset::Flag(flag), _) => Some(Value::from(flag)),
        (Preset::Required | Preset::Absent | Preset::Worked(_), _) => None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    #[test]
    fn every_field_stands_in_the_schema_with_its_words() {
        let schema = schema();
        for field in fields::all() {
            let mut at = &schema;
            for part in field.path.split('.') {
                at = match part {
                    "*" => at.get("patternProperties").map_or_else(|| &at["properties"]["gutters"], |many| &many[SLUG]),
                    part => &at["properties"][part],
                };
            }
            assert_eq!(at["title"], field.label, "{}", field.path);
        }
        assert_eq!(schema["properties"]["every_wall"]["properties"]["masonry"]["title"], "stone");
        assert!(schema["properties"]["every_wall"]["properties"].get("length_m").is_none());
    }
}
