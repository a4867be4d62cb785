//! Typeset documents for paper: the proposal for the client and the sheets for the hut wall. User words reach the templates as data only.

mod proposal;
mod site;
mod world;

pub use proposal::proposal_pdf;
pub use site::site_pdf;

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
