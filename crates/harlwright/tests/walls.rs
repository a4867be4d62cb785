//! Holds the walls of the house: a crate may import only from the floors beneath it. The manifests are read, so a forbidden edge fails here
//! before anybody builds on it.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot read the workspace must stop")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Floors, lowest first, as ARCHITECTURE.md draws them.
const FLOORS: [&[&str]; 9] = [
    &["reckoning", "physics", "schedule"],
    &["weather", "materials", "survey"],
    &["curing"],
    &["works"],
    &["job"],
    &["documents", "store"],
    &["web"],
    &["harlwright"],
    &["xtask"],
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn floor_of(name: &str) -> Option<usize> {
    FLOORS.iter().position(|floor| floor.contains(&name))
}

fn manifests() -> BTreeMap<String, toml::Table> {
    let crates = std::fs::read_dir(root().join("crates")).unwrap();
    let mut folders: Vec<PathBuf> = crates.map(|entry| entry.unwrap().path()).filter(|path| path.join("Cargo.toml").exists()).collect();
    folders.push(root().join("xtask"));
    folders
        .into_iter()
        .map(|folder| {
            let table: toml::Table = std::fs::read_to_string(folder.join("Cargo.toml")).unwrap().parse().unwrap();
            (folder.file_name().unwrap().to_string_lossy().into_owned(), table)
        })
        .collect()
}

fn imports(manifest: &toml::Table) -> Vec<String> {
    let tables = ["dependencies", "build-dependencies"];
    tables.iter().filter_map(|key| manifest.get(*key)?.as_table()).flat_map(|table| table.keys().cloned()).collect()
}

#[test]
fn every_crate_stands_on_a_floor() {
    for name in manifests().keys() {
        assert!(floor_of(name).is_some(), "`{name}` stands on no floor: give it one in ARCHITECTURE.md and in this test");
    }
}

#[test]
fn imports_go_down_never_up_or_sideways() {
    for (name, manifest) in manifests() {
        let own = floor_of(&name).unwrap();
        for import in imports(&manifest) {
            if let Some(theirs) = floor_of(&import) {
                assert!(theirs < own, "`{name}` (floor {own}) imports `{import}` (floor {theirs}): imports go down only");
            }
        }
    }
}

#[test]
fn the_decisions_do_no_input_or_output() {
    for name in ["reckoning", "physics", "survey", "curing", "works", "materials", "weather", "job"] {
        for file in rust_files(&root().join("crates").join(name).join("src")) {
            let text = std::fs::read_to_string(&file).unwrap();
            for word in
                ["std::fs", "std::net", "std::env", "std::process", "std::io::stdin", "SystemTime", "Instant::now", "println!", "eprintln!"]
            {
                assert!(!text.contains(word), "{} reaches outside with `{word}`: I/O lives at the edges", file.display());
            }
        }
    }
}

#[test]
fn only_documents_knows_the_typesetter_and_only_store_knows_sql() {
    for (name, manifest) in manifests() {
        for import in imports(&manifest) {
            // The assets are fonts and nothing that sets type: the pages serve the same letters as the paper.
            assert!(!import.starts_with("typst") || name == "documents" || import == "typst-assets", "`{name}` imports `{import}`");
            assert!(import != "rusqlite" || name == "store", "`{name}` imports `{import}`");
        }
    }
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}
