//! `harlwright site`: the week's sheet for a phone, one file.

use std::path::Path;

use crate::failure::Failure;
use crate::files::{open, write_new};
use crate::progress::Bar;

/// Plans the job and writes the sheet.
pub fn run(path: &Path, out: &Path, bar: &Bar) -> Result<(), Failure> {
    if out.exists() {
        return Err(Failure::input(format!("{} exists already, and is left as it is.", out.display()), "Name another file with --out."));
    }
    let opened = open(path)?;
    let plan = works::plan(&opened.job.inputs, opened.weather.as_ref(), bar);
    bar.clear();
    let plan = plan.map_err(Failure::from)?;
    write_new(out, documents::site_html(&plan).as_bytes())?;
    eprintln!("Written: {}. Open it on a phone; it needs no net.", out.display());
    Ok(())
}
