//! `harlwright demo`: the invented job and its invented weather, written out so that they can be changed and planned.

use std::path::Path;

use crate::failure::Failure;
use crate::files::{ready_folder, write_new};

/// The invented job, as the repository holds it.
const JOB: &str = include_str!("../../../../examples/ferry-house/job.toml");

/// Writes the demo.
pub fn run(into: &Path) -> Result<(), Failure> {
    ready_folder(into)?;
    let years = weather::invented::years(weather::invented::DEMO_SEED, weather::invented::DEMO_YEARS)
        .map_err(|error| Failure::machine(error.to_string()))?;
    let weather = weather::write_csv(&years);
    write_new(&into.join("job.toml"), JOB.as_bytes())?;
    write_new(&into.join("weather.csv"), weather.as_bytes())?;
    let folder = into.display();
    println!("Written: {folder}/job.toml and {folder}/weather.csv, a job, place, people, prices and weather that are all invented.");
    println!("Next: harlwright plan {folder}/job.toml --out {folder}/pack");
    Ok(())
}
