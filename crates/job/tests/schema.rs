//! The JSON Schema is one (draft 2020-12), takes jobs that read, and refuses at the same place as the reader the faults a schema can tell.
//!
//! Provenance: other tool. The validator is the Python library `jsonschema`, the TOML reader Python's own `tomllib`; neither is ours.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "../../../tests/reference/harness.rs"]
mod harness;

use std::collections::BTreeMap;

const FERRY_HOUSE: &str = include_str!("../../../examples/ferry-house/job.toml");

/// Broken jobs whose fault lies in one value, one key or one missing key, so that a schema can tell it.
const TOLD_BY_A_SCHEMA: [&str; 14] = [
    "coat-too-thick",
    "eleven-months-of-rain",
    "four-gaps",
    "key-in-the-wrong-table",
    "name-not-short",
    "no-days-worked",
    "no-wall-scaffolded",
    "no-walls",
    "rate-below-nothing",
    "survey-not-dated",
    "touch-not-a-word",
    "unknown-key",
    "unknown-table",
    "wall-in-millimetres",
];

fn broken(name: &str) -> String {
    std::fs::read_to_string(format!("{}/../../tests/bad/job/{name}.toml", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

#[test]
fn the_schema_agrees_with_the_reader() {
    let new = job::template(&job::Answers::new(), jiff::civil::date(2027, 2, 3));
    let mut jobs: BTreeMap<&str, String> = TOLD_BY_A_SCHEMA.into_iter().map(|name| (name, broken(name))).collect();
    jobs.insert("ferry-house", FERRY_HOUSE.to_owned());
    jobs.insert("new", new);
    let answer = harness::run("job_schema.py", &serde_json::json!({ "schema": job::schema(), "jobs": jobs }));
    assert_eq!(answer["schema_faults"], serde_json::json!([]));
    for good in ["ferry-house", "new"] {
        assert_eq!(answer["jobs"][good], serde_json::json!([]), "{good}");
    }
    for name in TOLD_BY_A_SCHEMA {
        let ours: Vec<String> = job::read(&jobs[name], name).unwrap_err().into_iter().map(|problem| problem.path).collect();
        assert_eq!(answer["jobs"][name], serde_json::json!(ours), "{name}");
    }
}
