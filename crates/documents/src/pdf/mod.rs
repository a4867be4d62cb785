//! Typeset documents for paper: the proposal for the client and the sheets for the hut wall. User words reach the templates as data only.

mod bench;
mod proposal;
mod site;
mod world;

pub use bench::{BatchSheet, ReliefSheet, batch_pdf, batch_words, relief_pdf, relief_words};
pub use proposal::proposal_pdf;
pub use site::site_pdf;

use crate::DocumentError;

/// The words of the proposal, page by page, as they are set: for proving what a document says without reading the PDF back.
///
/// # Errors
/// As [`proposal_pdf`].
pub fn proposal_words(plan: &works::Plan) -> Result<Vec<String>, DocumentError> {
    world::words(proposal::sheets(plan))
}

/// The words of the site sheets, page by page, as they are set.
///
/// # Errors
/// As [`site_pdf`].
pub fn site_words(plan: &works::Plan) -> Result<Vec<String>, DocumentError> {
    world::words(site::sheets(plan))
}

/// What both documents share.
const COMMON: (&str, &str) = ("/common.typ", include_str!("../../templates/common.typ"));

/// Names for the title block and the head of each page.
fn head(plan: &works::Plan, document: &str) -> serde_json::Value {
    let about = &plan.about;
    let years = if plan.basis.years > 0 {
        format!("Survey of {}; {}", date_words(&plan.survey.building.surveyed_on), plan.basis.weather)
    } else {
        format!("Survey of {}; no weather", date_words(&plan.survey.building.surveyed_on))
    };
    serde_json::json!({
        "document": document,
        "name": about.name,
        "place": about.place,
        "client": about.client,
        "contractor": about.contractor,
        "surveyor": about.surveyor,
        "revision": about.revision,
        "dated": crate::words::full_day(about.dated),
        "year": about.dated.year(), "month": about.dated.month(), "day": about.dated.day(),
        "invented": about.invented,
        "basis": years,
        "version": plan.basis.version,
    })
}

/// An ISO date in words; anything else as it stands.
fn date_words(iso: &str) -> String {
    iso.parse::<jiff::civil::Date>().map_or_else(|_| iso.to_owned(), crate::words::full_day)
}

/// The test of each coat in full, once for each wording.
fn tests(plan: &works::Plan) -> Vec<[String; 2]> {
    let mut tests: Vec<(Vec<&str>, &str)> = Vec::new();
    for coat in plan.specification.walls.iter().flat_map(|wall| &wall.coats) {
        match tests.iter_mut().find(|(_, test)| *test == coat.test) {
            Some((names, _)) if names.contains(&coat.name.as_str()) => {}
            Some((names, _)) => names.push(&coat.name),
            None => tests.push((vec![&coat.name], &coat.test)),
        }
    }
    tests.into_iter().map(|(names, test)| [names.join("; "), test.to_owned()]).collect()
}
