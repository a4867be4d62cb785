//! Live checks against general-purpose Python libraries (SciPy, CoolProp, chemicals), versions pinned in `tests/reference/requirements.txt`.
//! They need `HARLWRIGHT_PYTHON`, set by `cargo xtask test`; without it they fail rather than skip.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "reference/air.rs"]
mod air;
#[path = "reference/chemistry.rs"]
mod chemistry;
#[path = "reference/diffusion.rs"]
mod diffusion;
#[path = "reference/en15026.rs"]
mod en15026;
#[path = "../../../tests/reference/harness.rs"]
mod harness;
#[path = "reference/special.rs"]
mod special;

use std::collections::BTreeMap;

/// The libraries installed are the libraries pinned: otherwise the other checks name a version they did not use.
#[test]
fn the_libraries_are_the_pinned_ones() {
    let pinned: BTreeMap<String, String> = include_str!("../../../tests/reference/requirements.txt")
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .map(|line| line.split_once("==").expect("each line pins one version"))
        .map(|(name, version)| (name.to_owned(), version.to_owned()))
        .collect();
    let names: Vec<&String> = pinned.keys().collect();
    let installed = harness::run("versions.py", &serde_json::json!(names));
    let installed: BTreeMap<String, String> = serde_json::from_value(installed).unwrap();
    assert_eq!(pinned, installed);
}
