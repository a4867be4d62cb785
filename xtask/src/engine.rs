//! The pages of the engine's own figures: computed, printed and written, so that what they say can be made again by a command.

use crate::shell::{cargo, root, run};

/// The fit, and days to ready.
pub fn calibrate() -> Result<(), String> {
    let fit = curing::calibration::page::calibration().map_err(|error| error.to_string())?;
    println!("{fit}");
    write("calibration.md", &fit)?;
    write("days-to-ready.md", &curing::calibration::page::days_to_ready().map_err(|error| error.to_string())?)
}

/// The table of convergence, which the long test of that name prints and writes.
pub fn converge() -> Result<(), String> {
    let test = ["test", "--release", "--package", "curing", "--test", "convergence", "--", "--nocapture", "fifty_random_walls"];
    run(cargo().args(test).env("HARLWRIGHT_LONG", "1").env("HARLWRIGHT_WRITE", "1"))
}

fn write(name: &str, text: &str) -> Result<(), String> {
    let path = root().join("docs").join(name);
    std::fs::write(&path, text).map_err(|error| format!("could not write {}: {error}", path.display()))?;
    println!("wrote docs/{name}");
    Ok(())
}
