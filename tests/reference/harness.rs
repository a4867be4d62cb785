//! Runs a Python script of `tests/reference/` with JSON on its standard input and reads JSON from its standard output.
//!
//! For integration tests of any crate. Use:
//! ```ignore
//! #[path = "../../../tests/reference/harness.rs"]
//! mod harness;
//!
//! let answer = harness::run("erfc.py", &serde_json::json!({ "x": [0.0, 0.5] }));
//! let erfc: Vec<f64> = harness::numbers(&answer["erfc"]);
//! ```
//! The crate needs `serde_json` among its dev-dependencies. A script reads one JSON value with `json.load(sys.stdin)`, prints one with
//! `json.dump(…, sys.stdout)`, and prints nothing else to standard output. Put the script beside this file and any library it imports, with
//! its version, into `requirements.txt`.
//!
//! The interpreter is named by the environment variable `HARLWRIGHT_PYTHON`, which `cargo xtask test` sets after making the pinned virtual
//! environment. Where it is missing the test fails: a comparison that was not made is not a comparison passed. It must never fall back on
//! another interpreter, nor skip.
#![allow(dead_code, reason = "each test that includes this file uses a part of it")]

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use serde_json::Value;

/// Name of the environment variable that holds the path of the interpreter.
const VARIABLE: &str = "HARLWRIGHT_PYTHON";

/// Runs a script of `tests/reference/` on an input and gives its answer.
///
/// # Panics
/// With a plain sentence where the interpreter is not named, the script fails, or its answer is not JSON: each fails the test that asked.
pub fn run(script: &str, input: &Value) -> Value {
    let Some(python) = std::env::var_os(VARIABLE) else {
        panic!("{VARIABLE} is not set, so nothing was compared. Run `cargo xtask test`, which makes the Python environment and sets it.");
    };
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/reference").join(script);
    let mut child = Command::new(&python)
        .arg(&path)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap_or_else(|error| panic!("{VARIABLE} names {}, which did not start: {error}. Run `cargo xtask test`.", python.display()));
    let sent = child.stdin.take().map(|mut pipe| pipe.write_all(input.to_string().as_bytes()));
    let output = child.wait_with_output().unwrap_or_else(|error| panic!("{script} could not be waited for: {error}."));
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{script} failed ({}):\n{complaint}", output.status);
    assert!(matches!(sent, Some(Ok(()))), "{script} ended before it had read its input:\n{complaint}");
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| {
        panic!("{script} answered something that is not JSON ({error}): {}", String::from_utf8_lossy(&output.stdout))
    })
}

/// The numbers of a JSON array.
///
/// # Panics
/// Where it is not an array of numbers.
pub fn numbers(value: &Value) -> Vec<f64> {
    let list = value.as_array().unwrap_or_else(|| panic!("expected an array of numbers, found {value}"));
    list.iter().map(|entry| entry.as_f64().unwrap_or_else(|| panic!("expected a number, found {entry}"))).collect()
}

/// Asserts that two lists agree, entry by entry, within an absolute and a relative limit (the wider of the two), and says where they differ most.
///
/// # Panics
/// Where the lengths differ, an entry differs by more than its limit, or is not a number.
pub fn assert_close(what: &str, ours: &[f64], theirs: &[f64], absolute: f64, relative: f64) {
    assert_eq!(ours.len(), theirs.len(), "{what}: the lists differ in length");
    assert!(!ours.is_empty(), "{what}: nothing was compared");
    for (i, (&our, &their)) in ours.iter().zip(theirs).enumerate() {
        let limit = absolute.max(relative * their.abs());
        assert!(
            (our - their).abs() <= limit,
            "{what}, entry {i}: ours {our}, theirs {their}, difference {:e}, limit {limit:e}",
            our - their
        );
    }
}
