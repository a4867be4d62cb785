//! What went wrong, as a page: what happened, what is safe, what to do. It never tells of the inside of the machine.

use axum::http::StatusCode;
use axum::http::Uri;
use axum::response::{IntoResponse, Response};
use maud::html;
use store::StoreError;

use crate::layout::bare_page;

/// A failure shown as a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageError {
    /// Status of the answer.
    pub status: StatusCode,
    /// What happened, a sentence.
    pub says: String,
    /// What to do, a sentence.
    pub remedy: String,
}

impl PageError {
    /// A failure with a status.
    pub fn new(status: StatusCode, says: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { status, says: says.into(), remedy: remedy.into() }
    }

    /// Something asked for that will not do.
    pub fn bad(says: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, says, remedy)
    }

    /// A name that refers to nothing.
    pub fn nothing(what: &str) -> Self {
        Self::new(StatusCode::NOT_FOUND, format!("There is no such {what} in this job book."), "Look in the list of jobs.")
    }

    /// Not theirs to see or do.
    pub fn not_yours() -> Self {
        Self::new(StatusCode::FORBIDDEN, "This page is not open to your account.", "Ask the owner of the job book.")
    }

    /// The machine would not.
    pub fn machine(says: impl Into<String>) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, says, "What was saved before still stands. Try again.")
    }

    /// More is asked at once than the machine takes on.
    pub fn busy() -> Self {
        Self::new(StatusCode::SERVICE_UNAVAILABLE, "Too much is being done at once.", "Wait a minute and ask again; nothing was lost.")
    }
}

impl From<StoreError> for PageError {
    fn from(error: StoreError) -> Self {
        let status = match &error {
            StoreError::NotFound { .. } => StatusCode::NOT_FOUND,
            StoreError::Conflict { .. } | StoreError::Taken { .. } | StoreError::Elsewhere { .. } | StoreError::Nothing(_) => {
                StatusCode::CONFLICT
            }
            StoreError::TooLarge { .. } => StatusCode::PAYLOAD_TOO_LARGE,
            StoreError::Picture(_) => StatusCode::UNPROCESSABLE_ENTITY,
            _ => StatusCode::INTERNAL_SERVER_ERROR,
        };
        Self::new(status, error.to_string(), "Go back to the job book.")
    }
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        let inside = html! {
            h1.answer { (self.says) }
            p.lead { (self.remedy) }
            p { a.btn href="/" { "To the job book" } }
        };
        (self.status, bare_page("Not so", &inside)).into_response()
    }
}

/// No page of that address.
pub async fn nothing_here(uri: Uri) -> PageError {
    let path: String = uri.path().chars().take(80).collect();
    PageError::new(StatusCode::NOT_FOUND, format!("There is no page {path}."), "Look in the list of jobs.")
}

/// A page that is not asked in this way.
pub async fn not_so() -> PageError {
    PageError::new(
        StatusCode::METHOD_NOT_ALLOWED,
        "This page does not take that kind of request.",
        "Use the buttons and links of the pages.",
    )
}
