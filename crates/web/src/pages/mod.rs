//! The pages, one module each with its own routes; and the job as a page finds it.

mod book;
pub mod calendar;
mod coats;
mod file;
mod files;
mod form;
mod history;
mod lain;
mod materials;
mod order;
mod price;
mod reckoning;
mod record;
mod relief;
mod season;
mod standing;
mod start;
mod survey;
mod today;
mod told;
mod upkeep;
mod walls;
mod whole_pack;
mod why;

use axum::Router;

use crate::App;

pub use history::pack;
pub use standing::Standing;
pub use start::title_of;
/// What a page says of a job that has no plan yet.
pub use walls::without_plan as unplanned;

/// All pages. A room that adds a page merges its routes here.
pub fn routes() -> Router<App> {
    Router::new()
        .merge(book::routes())
        .merge(start::routes())
        .merge(reckoning::routes())
        .merge(walls::routes())
        .merge(survey::routes())
        .merge(form::routes())
        .merge(file::routes())
        .merge(files::routes())
        .merge(coats::routes())
        .merge(why::routes())
        .merge(history::routes())
        .merge(season::routes())
        .merge(materials::routes())
        .merge(relief::routes())
        .merge(days())
}

/// The pages that are read by the day, and what is ordered, paid and kept.
fn days() -> Router<App> {
    let work = calendar::routes().merge(order::routes()).merge(price::routes()).merge(whole_pack::routes());
    work.merge(today::routes()).merge(record::routes()).merge(upkeep::routes())
}

/// Where the form of a value stands, below the address of its job: a table without a form of its own is asked in the one around it. A path with a `*`
/// in it is asked of many tables; the survey lists them.
pub fn survey_address(path: &str) -> String {
    let mut table = path;
    while let Some((around, _)) = table.rsplit_once('.').filter(|_| !path.contains('*')) {
        if crate::forms::leaf_of(around).is_some() {
            return format!("form/{around}#{path}");
        }
        table = around;
    }
    "survey".to_owned()
}
