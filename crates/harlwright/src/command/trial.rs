//! `harlwright trial`: one column of layers by itself.

use std::path::Path;

use crate::failure::Failure;
use crate::files::{located, print, read_text};

/// Runs the trial and prints profiles and totals.
pub fn run(path: &Path, as_json: bool) -> Result<(), Failure> {
    let text = read_text(path, "trial file")?;
    let name = path.display().to_string();
    let folder = path.parent().unwrap_or(Path::new(""));
    let beside = |file: &str| std::fs::read_to_string(folder.join(file)).map_err(|error| error.to_string());
    let trial = job::trial::read(&text, &name, &beside).map_err(|problems| located(&problems, &name, &text))?;
    let result = curing::trial::run(&trial).map_err(|error| Failure::input(error.to_string(), ""))?;
    if !as_json {
        return print(&result.to_csv());
    }
    print(&result.to_json().map_err(|error| Failure::machine(format!("The result could not be written as JSON: {error}.")))?)
}
