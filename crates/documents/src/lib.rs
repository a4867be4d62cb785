//! Documents from a plan: figures, PDF, JSON, CSV, calendar files. It takes a finished plan and returns bytes; it never opens the job book.

pub mod batch;
mod error;
pub mod figures;
#[cfg(feature = "pdf")]
mod pdf;
pub mod words;

pub use error::DocumentError;
#[cfg(feature = "pdf")]
pub use pdf::{proposal_pdf, site_pdf};
