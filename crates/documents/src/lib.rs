//! Documents from a plan: figures, PDF, JSON, CSV, calendar files. It takes a finished plan and returns bytes; it never opens the job book.

pub mod batch;
pub mod damping;
mod error;
pub mod figures;
mod order_csv;
#[cfg(feature = "pdf")]
mod pdf;
mod programme_ics;
mod site_sheet;
pub mod steps;
pub mod telling;
mod unpriced;
pub mod week;
mod wire;
pub mod words;

pub use error::DocumentError;
pub use order_csv::order_csv;
#[cfg(feature = "pdf")]
pub use pdf::{
    BatchSheet, ReliefSheet, batch_pdf, batch_words, damping_pdf, damping_words, proposal_pdf, proposal_words, relief_pdf, relief_words,
    season_pdf, season_words, site_pdf, site_words,
};
pub use programme_ics::programme_ics;
pub use site_sheet::{SERVER_PLACE, site_html, site_html_served};
pub use unpriced::without_prices;
pub use wire::{FORMAT, SEASON_FORMAT, plan_json, season_json};
