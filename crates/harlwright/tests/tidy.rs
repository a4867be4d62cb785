//! Rules of the house that a compiler does not hold: each file says what it is for, nothing is left half done, and nothing speaks of the
//! machine it was written on.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot read the workspace must stop")]

use std::path::{Path, PathBuf};
use std::process::Command;

/// Past this a file holds more than one idea.
const LONGEST_FILE_LINES: usize = 600;
/// A test may hold a fixture, which is one long list.
const LONGEST_TEST_LINES: usize = 800;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Files git knows or would take in, as text.
fn files() -> Vec<(String, String)> {
    let listed = Command::new("git").args(["ls-files", "--cached", "--others", "--exclude-standard"]).current_dir(root()).output().unwrap();
    assert!(listed.status.success(), "git lists the files");
    let names = String::from_utf8(listed.stdout).unwrap();
    let read = |name: &str| Some((name.to_owned(), std::fs::read_to_string(root().join(name)).ok()?));
    names.lines().filter_map(read).collect()
}

fn faults(fault: impl Fn(&str, &str) -> Option<String>) -> Vec<String> {
    files().iter().filter_map(|(name, text)| fault(name, text).map(|what| format!("{name}: {what}"))).collect()
}

fn is_rust(name: &str) -> bool {
    name.ends_with(".rs")
}

#[test]
fn every_file_opens_by_saying_what_it_is_for() {
    let faults = faults(|name, text| {
        let first = text.lines().next().unwrap_or_default();
        (is_rust(name) && !(first.starts_with("//! ") && first.len() > 16)).then(|| format!("opens with `{first}`"))
    });
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn no_file_holds_more_than_one_idea() {
    let faults = faults(|name, text| {
        let lines = text.lines().count();
        let most = if name.contains("/tests/") { LONGEST_TEST_LINES } else { LONGEST_FILE_LINES };
        (is_rust(name) && lines > most).then(|| format!("{lines} lines, over {most}"))
    });
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn nothing_is_left_half_done() {
    let marks = [
        concat!("to", "do!("),
        concat!("unimple", "mented!("),
        concat!("db", "g!("),
        concat!("FIX", "ME"),
        concat!("XX", "X"),
        concat!("TO", "DO"),
    ];
    let faults = faults(|name, text| marks.iter().find(|mark| is_rust(name) && text.contains(**mark)).map(|mark| format!("has {mark}")));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn nothing_speaks_of_the_machine_it_was_written_on() {
    let marks = [concat!("/wo", "rk/"), concat!("/ro", "ot/"), concat!("/ho", "me/"), concat!("/tm", "p/")];
    // A broken job may name a place that is nowhere; that is its fault.
    let speaks = |name: &str| !name.starts_with("tests/bad/");
    let faults = faults(|name, text| marks.iter().find(|mark| speaks(name) && text.contains(**mark)).map(|mark| format!("names {mark}")));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn lines_end_clean() {
    let faults = faults(|name, text| {
        let bad = text.lines().position(|line| line.ends_with(' ') || line.ends_with('\t'));
        bad.filter(|_| is_rust(name) || name.ends_with(".toml")).map(|line| format!("line {} ends in blanks", line + 1))
    });
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
