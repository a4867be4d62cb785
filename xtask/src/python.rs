//! The Python reference libraries: a virtual environment with pinned versions, made once and made again when the pins change.

use std::path::PathBuf;

use crate::shell::{command, root, run, tools};

/// The environment's python, made if need be.
pub fn environment() -> Result<PathBuf, String> {
    let pins_path = root().join("tests/reference/requirements.txt");
    let pins = std::fs::read_to_string(&pins_path).map_err(|error| format!("could not read {}: {error}", pins_path.display()))?;
    let folder = tools().join("python");
    let python = folder.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    let stamp = folder.join("pins-installed.txt");
    if python.exists() && std::fs::read_to_string(&stamp).is_ok_and(|old| old == pins) {
        return Ok(python);
    }
    run(command(find()?).args(["-m", "venv", "--clear"]).arg(&folder))?;
    run(command(&python).args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"]).arg(&pins_path))?;
    std::fs::write(&stamp, pins).map_err(|error| format!("could not write {}: {error}", stamp.display()))?;
    Ok(python)
}

/// A Python of at least 3.11 on the path.
fn find() -> Result<&'static str, String> {
    let new_enough = "import sys, venv, ensurepip; raise SystemExit(sys.version_info < (3, 11))";
    ["python3", "python", "python3.13", "python3.12", "python3.11"]
        .into_iter()
        .find(|name| {
            command(name).args(["-c", new_enough]).stderr(std::process::Stdio::null()).status().is_ok_and(|status| status.success())
        })
        .ok_or_else(|| {
            "the reference checks need Python 3.11 or newer with venv and pip, and none was found on the path.\n\
             Install it (Debian: apt-get install python3 python3-venv) and run `cargo xtask test` again."
                .to_owned()
        })
}
