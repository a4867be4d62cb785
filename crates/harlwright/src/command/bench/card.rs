//! The batch card of the bench as a sheet to print.

use std::path::Path;

use job::bench::LimeReport;

use crate::failure::Failure;

/// Writes the batch card of a lime file; a file without one is refused.
#[cfg(feature = "pdf")]
pub fn write(report: &LimeReport, path: &Path) -> Result<(), Failure> {
    let Some(batch) = &report.batch else {
        return Err(Failure::input(
            "The file asks for no batch card.",
            "Add [batch] with lime, sand, parts, mixer_l and day_l; see docs/bench.md.",
        ));
    };
    let catalogue = materials::Catalogue::shipped();
    let words = "lime on skin and in eyes, dry lime and sand at the mixer";
    let due = catalogue.cautions.iter().filter(|caution| caution.is_always_shown_in("lime") || caution.is_called_for_by(words));
    let cautions = due.map(|caution| caution.words.as_str()).collect();
    let sheet = documents::BatchSheet {
        title: &report.title,
        lime: &batch.lime,
        sand: &batch.sand,
        parts: batch.parts,
        mixer_l: batch.mixer_l,
        day_l: batch.day_l,
        box_l: batch.box_l,
        moisture_share: batch.moisture_share,
        bulking: batch.bulking,
        lime_unit: &batch.lime_unit,
        sand_unit: &batch.sand_unit,
        card: &batch.card,
        hot: batch.hot,
        cautions,
        dated: today(),
    };
    let bytes = documents::batch_pdf(&sheet).map_err(|error| Failure::machine(error.to_string()))?;
    crate::files::write_new(path, &bytes)
}

/// Today, by the machine's clock at Greenwich.
#[cfg(feature = "pdf")]
fn today() -> jiff::civil::Date {
    let epoch = jiff::civil::date(1970, 1, 1);
    let seconds = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).map_or(0, |since| since.as_secs());
    let days = i64::try_from(seconds / 86_400).unwrap_or(0);
    epoch.checked_add(jiff::ToSpan::days(days)).unwrap_or(epoch)
}

/// Without the typesetter there is no card.
#[cfg(not(feature = "pdf"))]
pub fn write(_: &LimeReport, _: &Path) -> Result<(), Failure> {
    Err(Failure::machine("This harlwright was built without PDF.".to_owned()))
}
