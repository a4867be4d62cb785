//! The gates: format, lints, documentation, licences, tests, and the main job itself. The same for a newcomer and for the machine that checks.

use std::path::PathBuf;

use crate::shell::{cargo, command, root, run, tools};
use crate::{browser, python};

/// Version of the licence checker, pinned so that the gate is the same everywhere.
const CARGO_DENY: &str = "0.20.2";

/// What was asked for.
#[derive(Default)]
pub struct Options {
    long: bool,
    only: Option<String>,
}

impl Options {
    /// Reads `--long` and `--only GATE`.
    pub fn read(words: &[&str]) -> Result<Self, String> {
        let mut options = Self::default();
        let mut words = words.iter();
        while let Some(word) = words.next() {
            match *word {
                "--long" => options.long = true,
                "--only" => options.only = Some((*words.next().ok_or("--only needs the name of a gate")?).to_owned()),
                other => return Err(format!("`{other}` is not an option of `cargo xtask test`; it takes --long and --only GATE")),
            }
        }
        Ok(options)
    }
}

type Gate = (&'static str, fn(&Options) -> Result<(), String>);

const GATES: [Gate; 6] =
    [("fmt", format), ("clippy", clippy), ("doc", documentation), ("deny", licences), ("test", tests), ("plan", main_job)];

/// Passes every gate, or stops at the first that fails.
pub fn pass_all(options: &Options) -> Result<(), String> {
    if let Some(only) = &options.only
        && !GATES.iter().any(|(name, _)| name == only)
    {
        let names: Vec<&str> = GATES.iter().map(|(name, _)| *name).collect();
        return Err(format!("there is no gate `{only}`; the gates are {}", names.join(", ")));
    }
    for (name, gate) in GATES {
        if options.only.as_deref().is_none_or(|only| only == name) {
            let begun = std::time::Instant::now();
            gate(options).map_err(|error| format!("gate `{name}` failed: {error}"))?;
            eprintln!("gate `{name}` passed in {:.0} s", begun.elapsed().as_secs_f64());
        }
    }
    Ok(())
}

fn format(_: &Options) -> Result<(), String> {
    run(cargo().args(["fmt", "--all", "--check"]))
}

fn clippy(_: &Options) -> Result<(), String> {
    run(cargo().args(["clippy", "--release", "--workspace", "--all-targets", "--", "-D", "warnings"]))
}

fn documentation(_: &Options) -> Result<(), String> {
    run(cargo().args(["doc", "--release", "--workspace", "--no-deps"]).env("RUSTDOCFLAGS", "-D warnings"))
}

fn licences(_: &Options) -> Result<(), String> {
    run(command(licence_checker()?).args(["--log-level", "error", "check", "bans", "licenses", "sources"]))
}

/// The licence checker, built once into the tools folder.
fn licence_checker() -> Result<PathBuf, String> {
    let folder = tools().join(format!("cargo-deny-{CARGO_DENY}"));
    let program = folder.join("bin").join(if cfg!(windows) { "cargo-deny.exe" } else { "cargo-deny" });
    if !program.exists() {
        run(cargo().args(["install", "cargo-deny", "--quiet", "--locked", "--version", CARGO_DENY, "--root"]).arg(&folder))?;
    }
    Ok(program)
}

fn tests(options: &Options) -> Result<(), String> {
    let python = python::environment()?;
    let browser = browser::environment()?;
    let mut command = cargo();
    command.args(["test", "--release", "--workspace", "--no-fail-fast"]).env("HARLWRIGHT_PYTHON", python);
    command.env("HARLWRIGHT_CHROMIUM", browser.chromium).env("HARLWRIGHT_CHROMEDRIVER", browser.driver).env("HARLWRIGHT_AXE", browser.axe);
    if options.long {
        command.env("HARLWRIGHT_LONG", "1");
    }
    run(&mut command)
}

/// The main job on the demonstration, with the binary that the tests have just built (`cargo run` would build the typesetter a second time).
fn main_job(_: &Options) -> Result<(), String> {
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    let binary = target.join("release").join(format!("harlwright{}", std::env::consts::EXE_SUFFIX));
    run(command(binary).args(["plan", "examples/ferry-house/job.toml", "--out"]).arg(tools().join("pack")))
}
