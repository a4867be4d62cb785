//! Running the built binary as a user runs it, in folders of its own.
#![allow(clippy::unwrap_used, dead_code, reason = "a test that cannot run the binary must stop; each test file uses its own share")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// Root of the repository.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// The demo job.
pub fn demo() -> PathBuf {
    root().join("examples/ferry-house/job.toml")
}

/// An empty folder for one test.
pub fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// What a run said.
pub struct Said {
    /// Exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// Runs the binary.
pub fn harlwright<I: AsRef<std::ffi::OsStr>>(arguments: &[I]) -> Said {
    run(Command::new(env!("CARGO_BIN_EXE_harlwright")).args(arguments).env("NO_COLOR", "1").env_remove("COLUMNS"))
}

/// Runs the binary with answers on its standard input.
pub fn harlwright_answered<I: AsRef<std::ffi::OsStr>>(arguments: &[I], answers: &str) -> Said {
    let file = folder("answers").join("answers.txt");
    std::fs::write(&file, answers).unwrap();
    run(Command::new(env!("CARGO_BIN_EXE_harlwright")).args(arguments).env("NO_COLOR", "1").stdin(std::fs::File::open(&file).unwrap()))
}

fn run(command: &mut Command) -> Said {
    let Output { status, stdout, stderr } = command.output().unwrap();
    let said = Said {
        code: status.code().unwrap_or(-1),
        out: String::from_utf8_lossy(&stdout).into_owned(),
        err: String::from_utf8_lossy(&stderr).into_owned(),
    };
    assert!(!said.err.contains("panicked"), "it panicked:\n{}", said.err);
    said
}

/// Files in a folder of the repository with an ending, in order.
pub fn files(below: &str, ending: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(root().join(below))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|found| found == ending))
        .collect();
    files.sort();
    files
}
