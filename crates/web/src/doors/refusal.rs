//! What a request that is not let in is told: what was the matter and what to do, as a page or as problem details (RFC 9457).

use axum::http::header::{CONTENT_TYPE, HeaderValue, RETRY_AFTER};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use maud::html;
use serde_json::json;

use super::Dress;

/// Why somebody is not let in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// Nobody is signed in.
    SignIn,
    /// Somebody is, and this is not theirs.
    NotYours,
    /// A page of another site tried to change something.
    Elsewhere {
        /// The origin that would have been let in.
        ours: String,
    },
    /// A name that is not ours.
    WrongHost {
        /// What was asked for.
        found: String,
    },
    /// Too many tries.
    TooOften {
        /// Seconds to wait.
        wait_s: u64,
    },
    /// Too much at once.
    Busy,
    /// More than is taken in.
    TooLarge {
        /// Most, bytes.
        most: usize,
    },
    /// The book could not be read.
    Book(String),
}

impl Refusal {
    /// Status of the answer.
    pub fn status(&self) -> StatusCode {
        match self {
            Self::SignIn => StatusCode::UNAUTHORIZED,
            Self::NotYours | Self::Elsewhere { .. } => StatusCode::FORBIDDEN,
            Self::WrongHost { .. } => StatusCode::MISDIRECTED_REQUEST,
            Self::TooOften { .. } => StatusCode::TOO_MANY_REQUESTS,
            Self::Busy => StatusCode::SERVICE_UNAVAILABLE,
            Self::TooLarge { .. } => StatusCode::PAYLOAD_TOO_LARGE,
            Self::Book(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// What is the matter, in a few words.
    pub fn title(&self) -> &'static str {
        match self {
            Self::SignIn => "Sign in first",
            Self::NotYours => "This page is not yours to see",
            Self::Elsewhere { .. } => "This came from another page",
            Self::WrongHost { .. } => "This is not the address of the job book",
            Self::TooOften { .. } => "Too many tries",
            Self::Busy => "Too much at once",
            Self::TooLarge { .. } => "That is too large",
            Self::Book(_) => "The job book could not be read",
        }
    }

    /// What was found and what to do.
    pub fn words(&self) -> String {
        match self {
            Self::SignIn => "This job book asks for a name and a password. Sign in, then ask again.".to_owned(),
            Self::NotYours => "Your account may not see or change this. Ask the owner of the job book if you need it.".to_owned(),
            Self::Elsewhere { ours } => format!(
                "Only pages of this job book may change anything in it, and this request did not come from one. Nothing was changed. Open the page again and send it from there; a program sends the header `Origin: {ours}`."
            ),
            Self::WrongHost { found } => {
                format!(
                    "The request names “{found}”, and the job book does not answer to that. Use the address that `harlwright serve` printed."
                )
            }
            Self::TooOften { wait_s } => format!("Wait {} and try again; nothing is locked for good.", waited(*wait_s)),
            Self::Busy => "The machine has as much to do as it can hold. Nothing was changed; try again in a moment.".to_owned(),
            Self::TooLarge { most } => {
                format!("What was sent is larger than the {} KB that are taken in here. Nothing was changed.", most / 1024)
            }
            Self::Book(found) => found.clone(),
        }
    }

    /// As problem details.
    pub fn problem(&self) -> Response {
        let status = self.status();
        let body = json!({ "type": "about:blank", "title": self.title(), "status": status.as_u16(), "detail": self.words() });
        let mut response = (status, body.to_string()).into_response();
        response.headers_mut().insert(CONTENT_TYPE, HeaderValue::from_static("application/problem+json"));
        self.mark(response)
    }

    /// As a page in the house's dress.
    pub fn page(&self, dress: Dress) -> Response {
        let body = html! {
            h1.answer { (self.title()) "." }
            p.lead { (self.words()) }
            @if *self == Self::SignIn { p { a href="/sign-in" { "Sign in" } } }
            @else { p { a href="/" { "Back to the job book" } } }
        };
        self.mark((self.status(), dress(self.title(), body)).into_response())
    }

    /// As the one or the other, by what the request can read.
    pub fn answer(&self, path: &str, headers: &HeaderMap, dress: Dress) -> Response {
        let reads_pages = headers.get("accept").and_then(|accept| accept.to_str().ok()).is_some_and(|accept| accept.contains("text/html"));
        if path.starts_with("/api") || !reads_pages { self.problem() } else { self.page(dress) }
    }

    fn mark(&self, mut response: Response) -> Response {
        if let Self::TooOften { wait_s } = self {
            response.headers_mut().insert(RETRY_AFTER, HeaderValue::from(*wait_s));
        }
        response
    }
}

fn waited(seconds: u64) -> String {
    match seconds.div_ceil(60) {
        0 | 1 => "a minute".to_owned(),
        minutes => format!("{minutes} minutes"),
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        self.problem()
    }
}
