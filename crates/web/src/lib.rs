//! The job book in a browser: pages drawn on the server, forms that work without a script, and the same reads and writes as JSON. It must never
//! reckon anything of the trade: it asks the crates below and shows what they answer.

mod api;
mod assets;
pub mod doors;
mod draw;
mod error;
pub mod extract;
mod forms;
mod keeping;
pub mod layout;
pub mod pages;
pub mod plan;
mod reckoning;
mod seasons;
mod serve;
mod site;
mod state;
mod words;

pub use api::openapi;
pub use error::PageError;
pub use serve::{ServeError, ServeOptions, serve};
pub use state::App;

use axum::Router;

use crate::doors::{Doors, Manner};

/// Everything that answers, behind the doors: pages, their assets, and whatever other rooms merge in.
pub fn router(app: App, manner: Manner) -> Router {
    let doors = Doors::new(std::sync::Arc::clone(app.book()), manner, layout::dressed);
    let pages = pages::routes().layer(axum::extract::DefaultBodyLimit::max(extract::FORM_MOST_BYTES));
    let inside = Router::new().merge(pages).merge(site::routes()).merge(keeping::routes()).merge(api::routes()).merge(assets::routes());
    let inside = inside.fallback(error::nothing_here).method_not_allowed_fallback(error::not_so);
    doors.guard(inside.with_state(app))
}
