//! Typeset documents for paper: the proposal for the client and the sheets for the hut wall. User words reach the templates as data only.

mod bench;
mod damping;
mod price;
mod proposal;
mod season;
mod site;
mod world;

pub use bench::{BatchSheet, ReliefSheet, batch_pdf, batch_words, relief_pdf, relief_words};
pub use damping::damping_pdf;
pub use proposal::proposal_pdf;
pub use season::season_pdf;
pub use site::site_pdf;

use crate::DocumentError;

/// The words of the proposal, page by page, as they are set: for proving what a document says without reading the PDF back.
///
/// # Errors
/// As [`proposal_pdf`].
pub fn proposal_words(plan: &works::Plan, season: Option<&works::Season>) -> Result<Vec<String>, DocumentError> {
    world::words(proposal::sheets(plan, season))
}

/// The words of the damping sheet as they are set, page by page.
///
/// # Errors
/// As [`damping_pdf`].
pub fn damping_words(plan: &works::Plan) -> Result<Vec<String>, DocumentError> {
    world::words(damping::sheets(plan))
}

/// The words of the almanac as they are set, page by page, those of the picture not among them.
///
/// # Errors
/// As [`season_pdf`].
pub fn season_words(about: &works::About, season: &works::Season) -> Result<Vec<String>, DocumentError> {
    world::words(season::sheets(about, season))
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

/// The sheet of the year, in the proposal and by itself.
const SEASON_PART: (&str, &str) = ("/season_part.typ", include_str!("../../templates/season_part.typ"));

/// Names for the title block and the head of each page.
fn head(plan: &works::Plan, document: &str) -> serde_json::Value {
    let surveyed = date_words(&plan.survey.building.surveyed_on);
    let basis = if plan.basis.years > 0 {
        format!("Survey of {surveyed}; {}", plan.basis.weather)
    } else {
        format!("Survey of {surveyed}; no weather")
    };
    head_of(&plan.about, document, &basis)
}

/// The same for a document without a plan.
fn head_of(about: &works::About, document: &str, basis: &str) -> serde_json::Value {
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
        "basis": basis,
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
