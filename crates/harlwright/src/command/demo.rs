//! `harlwright demo`: the invented job and its invented weather, written out so that they can be changed and planned.

use std::path::Path;

use crate::failure::Failure;
use crate::files::{ready_folder, write_new};

/// Writes the demo.
pub fn run(into: &Path) -> Result<(), Failure> {
    ready_folder(into)?;
    let weather = job::demo::weather_csv().map_err(|error| Failure::machine(error.to_string()))?;
    write_new(&into.join("job.toml"), job::demo::JOB.as_bytes())?;
    write_new(&into.join(job::demo::WEATHER_FILE), weather.as_bytes())?;
    let folder = into.display();
    println!("Written: {folder}/job.toml and {folder}/weather.csv, a job, place, people, prices and weather that are all invented.");
    println!("Next: harlwright plan {folder}/job.toml --out {folder}/pack");
    Ok(())
}
