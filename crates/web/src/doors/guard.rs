//! The guard around a router: every request passes here before any handler, and every answer on its way out.

use axum::Router;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::{Method, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Redirect, Response};
use store::Role;
use tower_http::catch_panic::CatchPanicLayer;

use super::{Doors, MOST_FORM_BYTES, Refusal, Visitor, headers, origin, roles, session, sign_in};

/// Longest path and query that is looked at.
const LONGEST_ADDRESS: usize = 8 * 1024;

impl Doors {
    /// Puts the doors around a router whose state is given, with the pages for signing in.
    pub fn guard(&self, router: Router) -> Router {
        router
            .merge(sign_in::routes(self.clone()))
            .layer(DefaultBodyLimit::max(MOST_FORM_BYTES))
            .layer(CatchPanicLayer::custom(|_: Box<dyn std::any::Any + Send>| fault()))
            .layer(middleware::from_fn_with_state(self.clone(), pass))
    }
}

/// What is said when a handler failed: nothing of its inside.
fn fault() -> Response {
    let words =
        "Something went wrong in this program; nothing that was saved is lost. Go back and try again, and tell the makers what you did.";
    (StatusCode::INTERNAL_SERVER_ERROR, words).into_response()
}

async fn pass(State(doors): State<Doors>, mut request: Request, next: Next) -> Response {
    let secure = doors.manner().secure;
    let path = request.uri().path().to_owned();
    let read = request.headers().clone();
    let (mut response, signed_in) = match judge(&doors, request.method(), &path, &mut parts_of(&request)).await {
        Ok(Let::In(visitor, origin)) => {
            let signed_in = visitor.name.is_some();
            request.extensions_mut().insert(visitor);
            request.extensions_mut().insert(Origin(origin));
            (next.run(request).await, signed_in)
        }
        Ok(Let::Nobody) => (next.run(request).await, false),
        Ok(Let::Elsewhere(to)) => (Redirect::to(&to).into_response(), true),
        Err(refusal) => (refusal.answer(&path, &read, doors.dress()), false),
    };
    headers::harden(response.headers_mut(), secure, signed_in);
    response
}

/// Head of a request without its body.
fn parts_of(request: &Request) -> axum::http::request::Parts {
    let mut head = axum::http::Request::new(());
    *head.method_mut() = request.method().clone();
    *head.uri_mut() = request.uri().clone();
    *head.headers_mut() = request.headers().clone();
    head.into_parts().0
}

/// The origin under which the caller reached us, such as `https://book.example.org`, for a handler that must name it.
#[derive(Clone, Debug)]
pub struct Origin(pub String);

/// What the guard decides.
enum Let {
    /// In, as this visitor, at this origin of ours.
    In(Visitor, String),
    /// In, though nobody is signed in: the sign-in page and what it is drawn with.
    Nobody,
    /// To another page.
    Elsewhere(String),
}

async fn judge(doors: &Doors, method: &Method, path: &str, parts: &mut axum::http::request::Parts) -> Result<Let, Refusal> {
    let manner = doors.manner();
    let host = origin::host_of(parts).unwrap_or_default();
    if !origin::host_is_ours(&host, &manner.hosts) {
        return Err(Refusal::WrongHost { found: host.chars().take(80).collect() });
    }
    let ours = manner.our_origin(&host);
    if !origin::is_from_here(method, &parts.headers, &ours) {
        return Err(Refusal::Elsewhere { ours });
    }
    let announced = parts.headers.get(header::CONTENT_LENGTH).and_then(|length| length.to_str().ok()?.parse::<u64>().ok());
    if announced.is_some_and(|bytes| bytes > store::BLOB_MOST_BYTES) || parts.uri.to_string().len() > LONGEST_ADDRESS {
        return Err(Refusal::TooLarge { most: usize::try_from(store::BLOB_MOST_BYTES).unwrap_or(usize::MAX) });
    }
    if !manner.login {
        return Ok(Let::In(Visitor::at_this_machine(), ours));
    }
    let visitor = match session::token_in(&parts.headers, manner.secure) {
        Some(token) => doors.visitor_of(&token).await?,
        None => None,
    };
    let Some(visitor) = visitor else { return nobody(method, path, parts) };
    if visitor.role == Role::Gang && path == "/" && method == Method::GET {
        return Ok(Let::Elsewhere("/site".to_owned()));
    }
    if roles::may(visitor.role, method, path) { Ok(Let::In(visitor, ours)) } else { Err(Refusal::NotYours) }
}

/// What somebody who is not signed in may have: the sign-in page, and what it is drawn with; a reader of pages is sent there.
fn nobody(method: &Method, path: &str, parts: &axum::http::request::Parts) -> Result<Let, Refusal> {
    if path == "/sign-in" || (path.starts_with("/assets/") && method.is_safe()) {
        return Ok(Let::Nobody);
    }
    let accept = parts.headers.get(header::ACCEPT).and_then(|accept| accept.to_str().ok()).unwrap_or_default();
    if *method == Method::GET && accept.contains("text/html") && !path.starts_with("/api") {
        return Ok(Let::Elsewhere(format!("/sign-in?next={}", sign_in::escaped(path))));
    }
    Err(Refusal::SignIn)
}
