//! The description of the JSON in OpenAPI 3.1, made from the one table of routes and, for the job file, from the one table of fields.

use axum::Json;
use axum::response::{IntoResponse, Response};
use serde_json::{Map, Value, json};

use super::table::{Route, Takes, routes};

pub async fn show() -> Response {
    Json(openapi()).into_response()
}

/// The description.
pub fn openapi() -> Value {
    let mut paths = Map::new();
    for route in routes() {
        let at = paths.entry(route.path).or_insert_with(|| json!({}));
        at[route.verb.word()] = operation(&route);
    }
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "harlwright job book",
            "version": env!("CARGO_PKG_VERSION"),
            "description": "The same reads and writes as the pages. A request that changes something sends `Origin` equal to the address it calls, or comes from a page of the job book. Beyond this machine a session cookie from /sign-in is needed.",
            "license": { "name": "MIT OR Apache-2.0" },
        },
        "paths": paths,
        "components": { "schemas": schemas() },
    })
}

fn operation(route: &Route) -> Value {
    let (status, schema) = route.answers;
    let mut parameters: Vec<Value> = route
        .path
        .split('/')
        .filter_map(|part| part.strip_prefix('{')?.strip_suffix('}'))
        .map(|name| {
            let schema = if name == "number" { number() } else { json!({ "type": "string", "minLength": 1 }) };
            json!({ "name": name, "in": "path", "required": true, "schema": schema })
        })
        .collect();
    parameters.extend(route.asks.iter().map(|(name, kind, needed)| {
        let schema = if *kind == "integer" { number() } else { json!({ "type": kind }) };
        json!({ "name": name, "in": "query", "required": needed, "schema": schema })
    }));
    if route.on_version {
        let schema = json!({ "type": "string", "pattern": "^\"v[0-9]{1,18}a?\"$" });
        parameters.push(json!({ "name": "If-Match", "in": "header", "required": true, "schema": schema }));
    }
    let answer = match schema {
        "binary" => json!({ "description": "The document", "content": { "application/*": {}, "text/*": {} } }),
        name => json!({ "description": route.says, "content": { "application/json": { "schema": refer(name) } } }),
    };
    let mut answers = Map::new();
    answers.insert(status.to_string(), answer);
    for (status, says) in failures(route) {
        let content = json!({ "application/problem+json": { "schema": refer("Problem") } });
        answers.insert(status.to_string(), json!({ "description": says, "content": content }));
    }
    let mut operation = json!({ "summary": route.says, "operationId": named(route), "parameters": parameters, "responses": answers });
    if let Takes::Json(name) = route.takes {
        operation["requestBody"] = json!({ "required": true, "content": { "application/json": { "schema": refer(name) } } });
    }
    if route.gang {
        operation["x-gang"] = Value::Bool(true);
    }
    operation
}

/// Number of a saved plan.
fn number() -> Value {
    json!({ "type": "integer", "minimum": 1, "maximum": 1_000_000_000 })
}

fn refer(name: &str) -> Value {
    json!({ "$ref": format!("#/components/schemas/{name}") })
}

/// A name of its own for each route: "get-jobs-job-plan".
fn named(route: &Route) -> String {
    let path: Vec<&str> = route.path.split('/').filter(|part| !part.is_empty() && *part != "api").collect();
    format!("{}-{}", route.verb.word(), path.join("-").replace(['{', '}', '.'], ""))
}

/// How a route may fail.
fn failures(route: &Route) -> Vec<(u16, &'static str)> {
    let mut all = vec![(401, "Nobody is signed in"), (403, "Not yours, or not sent from a page of the job book")];
    if route.path.contains('{') {
        all.push((404, "There is no such job, plan or document"));
    }
    if !route.asks.is_empty() || route.takes != Takes::Nothing || route.on_version {
        all.push((400, "What was sent cannot be read"));
    }
    if route.takes != Takes::Nothing {
        all.extend([(413, "Too large"), (415, "Not JSON"), (422, "What was sent will not do; each problem is named")]);
    }
    if route.on_version {
        all.extend([(409, "There is nothing to do"), (412, "Somebody changed the job first"), (428, "`If-Match` is missing")]);
    }
    if route.path.ends_with("/log") && route.takes != Takes::Nothing {
        all.push((409, "An entry stands already in the log of another job"));
    }
    if route.path.ends_with("/reckoning") {
        all.push((503, "Too much is being reckoned"));
    }
    all
}

fn schemas() -> Value {
    let text = || json!({ "type": "string" });
    let maybe = |kind: &str| json!({ "type": [kind, "null"] });
    let list = |key: &str, of: Value| object(&[(key, json!({ "type": "array", "items": of }))], &[]);
    let job_head = || {
        vec![
            ("slug", text()),
            ("title", text()),
            ("version", json!({ "type": "integer" })),
            ("changed_at", text()),
            ("put_away", json!({ "type": "boolean" })),
        ]
    };
    let mut listed = job_head();
    listed.push(("latest", json!({ "type": ["object", "null"], "properties": { "number": { "type": "integer" }, "headline": text() }, "required": ["number"] })));
    let mut whole = job_head();
    whole.push(("text", text()));
    let change = object(&[("path", text()), ("before", maybe("string")), ("after", maybe("string"))], &[]);
    let entry = object(
        &[
            ("id", text()),
            ("at", text()),
            ("who", text()),
            ("kind", json!({ "enum": store::ENTRY_KINDS })),
            ("told", json!({ "type": "object" })),
        ],
        &[],
    );
    json!({
        "Problem": {
            "type": "object", "required": ["type", "title", "status", "detail"],
            "properties": { "type": text(), "title": text(), "status": { "type": "integer" }, "detail": text(), "problems": { "type": "array" } },
        },
        "Description": { "type": "object" },
        "Fields": list("fields", object(&[("path", text()), ("label", text()), ("help", text()), ("question", text()), ("source", text()), ("assumed", json!({ "type": "boolean" })), ("table", json!({ "type": "boolean" }))], &[])),
        "JobFile": job::schema(),
        "Jobs": list("jobs", object(&listed, &[])),
        "Job": object(&whole, &[]),
        "JobText": closed(&object(&[("text", json!({ "type": "string", "description": "The job file, TOML; its values are those of JobFile" })), ("what", maybe("string"))], &["what"])),
        "Values": closed(&object(&[("values", json!({ "type": "object", "additionalProperties": { "type": "string" }, "description": "Text as people write it, by path; empty takes a value out" }))], &[])),
        "History": list("edits", object(&[("version", json!({ "type": "integer" })), ("kind", json!({ "enum": ["edit", "undo", "redo"] })), ("what", text()), ("at", text())], &[])),
        "Log": list("entries", entry),
        "SiteLog": {
            "type": "object", "required": ["format", "entries"],
            "properties": {
                "format": { "const": store::HANDED_FORMAT }, "job": { "type": "object" },
                "entries": { "type": "array", "maxItems": 5000, "items": {
                    "type": "object", "required": ["id", "at", "who", "kind"],
                    "properties": {
                        "id": { "type": "string", "pattern": "^[A-Za-z0-9-]{8,64}$" }, "at": { "type": "string", "format": "date-time" },
                        "who": { "type": "string", "minLength": 1, "maxLength": 80 }, "kind": { "enum": store::ENTRY_KINDS },
                    },
                } },
            },
        },
        "TakenIn": object(&[("added", json!({ "type": "integer" })), ("known", json!({ "type": "integer" }))], &[]),
        "Plan": { "type": "object", "required": ["format"], "properties": { "format": { "const": documents::FORMAT } } },
        "Plans": list("plans", object(&[("number", json!({ "type": "integer" })), ("headline", text()), ("at", text())], &[])),
        "Changes": object(&[("job", json!({ "type": "array", "items": change.clone() })), ("figures", json!({ "type": "array", "items": change }))], &[]),
        "Reckonings": list("reckonings", json!({ "type": "object" })),
        "Progress": object(&[("state", json!({ "enum": ["none", "under-way", "saved", "failed", "stopped"] })), ("says", text()), ("done", json!({ "type": "integer" })), ("of", json!({ "type": "integer" })), ("number", maybe("integer"))], &["done", "of", "number"]),
    })
}

/// An object of these properties, all needed but those that may be left out.
fn object(properties: &[(&str, Value)], left_out: &[&str]) -> Value {
    let needed: Vec<&str> = properties.iter().map(|(name, _)| *name).filter(|name| !left_out.contains(name)).collect();
    let properties: Map<String, Value> = properties.iter().map(|(name, schema)| ((*name).to_owned(), schema.clone())).collect();
    json!({ "type": "object", "required": needed, "properties": properties })
}

/// The same, with nothing else allowed in it.
fn closed(object: &Value) -> Value {
    let mut object = object.clone();
    object["additionalProperties"] = Value::Bool(false);
    object
}
