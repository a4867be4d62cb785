//! Answers of the JSON: problem details (RFC 9457), entity tags and preconditions (RFC 9110), bodies that are what they say they are.

use axum::Json;
use axum::extract::rejection::{BytesRejection, QueryRejection};
use axum::extract::{FromRequest, FromRequestParts, Request};
use axum::http::header::{CONTENT_TYPE, ETAG, HeaderValue, IF_MATCH, IF_NONE_MATCH};
use axum::http::request::Parts;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use store::StoreError;

use crate::PageError;

/// A failure as problem details.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    status: StatusCode,
    title: String,
    detail: String,
    problems: Vec<Value>,
}

impl Problem {
    /// A failure with its status, what happened and what to do.
    pub fn new(status: StatusCode, title: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { status, title: title.into(), detail: remedy.into(), problems: Vec::new() }
    }

    /// The same with each problem of what was sent.
    pub fn with(self, problems: Vec<Value>) -> Self {
        Self { problems, ..self }
    }

    /// What was sent will not do.
    pub fn bad(title: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, title, remedy)
    }
}

impl From<PageError> for Problem {
    fn from(error: PageError) -> Self {
        Self::new(error.status, error.says, error.remedy)
    }
}

impl From<StoreError> for Problem {
    fn from(error: StoreError) -> Self {
        PageError::from(error).into()
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let mut body = json!({ "type": "about:blank", "title": self.title, "status": self.status.as_u16(), "detail": self.detail });
        if !self.problems.is_empty() {
            body["problems"] = Value::Array(self.problems);
        }
        let mut response = (self.status, body.to_string()).into_response();
        response.headers_mut().insert(CONTENT_TYPE, HeaderValue::from_static("application/problem+json"));
        response
    }
}

/// Mark in the entity tag of a job that is put away: another answer, though its text has no new version.
pub const PUT_AWAY: &str = "a";

/// Entity tag of a version. The mark tells apart what is shown differently of the same version; `"v3-site"` has the mark `-site`.
pub fn tag(version: i64, mark: &str) -> String {
    format!("\"v{version}{mark}\"")
}

/// An answer with its entity tag.
pub fn tagged(status: StatusCode, tag: &str, body: Value) -> Response {
    let mut response = (status, Json(body)).into_response();
    if let Ok(value) = HeaderValue::from_str(tag) {
        response.headers_mut().insert(ETAG, value);
    }
    response
}

/// An answer with its entity tag, or nothing where the caller has it already.
pub fn fresh(headers: &HeaderMap, tag: &str, body: impl FnOnce() -> Value) -> Response {
    let known = headers.get(IF_NONE_MATCH).and_then(|value| value.to_str().ok());
    if known.is_some_and(|known| known.split(',').any(|one| one.trim().trim_start_matches("W/") == tag)) {
        let mut response = StatusCode::NOT_MODIFIED.into_response();
        if let Ok(value) = HeaderValue::from_str(tag) {
            response.headers_mut().insert(ETAG, value);
        }
        return response;
    }
    tagged(StatusCode::OK, tag, body())
}

/// The version a change was made on, from `If-Match`.
#[derive(Clone, Copy, Debug)]
pub struct MadeOn(pub i64);

impl<S: Sync> FromRequestParts<S> for MadeOn {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Problem> {
        let Some(given) = parts.headers.get(IF_MATCH) else {
            return Err(Problem::new(
                StatusCode::PRECONDITION_REQUIRED,
                "The change does not say which version of the job it was made on.",
                "Send the entity tag of the job you changed as `If-Match`, such as `If-Match: \"v3\"`.",
            ));
        };
        version_of(given).map(Self).ok_or_else(|| {
            Problem::bad("`If-Match` is no entity tag of a job.", "Send the tag as the job was given with it, such as `\"v3\"`.")
        })
    }
}

/// The version in the tag of a job, put away or not.
fn version_of(tag: &HeaderValue) -> Option<i64> {
    let inside = tag.to_str().ok()?.trim().strip_prefix("\"v")?.strip_suffix('"')?;
    inside.strip_suffix(PUT_AWAY).unwrap_or(inside).parse().ok()
}

/// A failed change as its problem: a lost race is a failed precondition.
pub fn change_failed(error: StoreError) -> Problem {
    match error {
        StoreError::Conflict { .. } => Problem::new(
            StatusCode::PRECONDITION_FAILED,
            error.to_string(),
            "Get the job again, make the change on what stands there now, and send it with the new entity tag. Nothing was changed.",
        ),
        other => other.into(),
    }
}

/// A JSON body.
#[derive(Debug)]
pub struct Body<T>(pub T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for Body<T> {
    type Rejection = Problem;

    async fn from_request(request: Request, state: &S) -> Result<Self, Problem> {
        let said = request.headers().get(CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default().to_ascii_lowercase();
        if said.split(';').next().map(str::trim) != Some("application/json") {
            return Err(Problem::new(
                StatusCode::UNSUPPORTED_MEDIA_TYPE,
                "The body is not said to be JSON.",
                "Send `Content-Type: application/json`.",
            ));
        }
        let bytes = axum::body::Bytes::from_request(request, state).await.map_err(|error| match error {
            BytesRejection::FailedToBufferBody(error) if error.status() == StatusCode::PAYLOAD_TOO_LARGE => Problem::new(
                StatusCode::PAYLOAD_TOO_LARGE,
                "The body is larger than is taken in.",
                "Nothing was changed; send less at once.",
            ),
            _ => Problem::bad("The body broke off.", "Send it again."),
        })?;
        serde_json::from_slice(&bytes).map(Self).map_err(|error| {
            Problem::bad(format!("The body is not what is taken in here: {error}."), "GET /api/openapi.json describes it.")
        })
    }
}

/// What is asked behind the question mark.
#[derive(Debug)]
pub struct Asked<T>(pub T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequestParts<S> for Asked<T> {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let asked: Result<axum::extract::Query<T>, QueryRejection> = axum::extract::Query::from_request_parts(parts, state).await;
        asked
            .map(|asked| Self(asked.0))
            .map_err(|error| Problem::bad(format!("The address cannot be read: {error}."), "GET /api/openapi.json describes it."))
    }
}

/// Parts of the address.
#[derive(Debug)]
pub struct Place<T>(pub T);

impl<S: Send + Sync, T: DeserializeOwned + Send> FromRequestParts<S> for Place<T> {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let place = axum::extract::Path::<T>::from_request_parts(parts, state).await;
        place.map(|axum::extract::Path(place)| Self(place)).map_err(|_| {
            Problem::new(StatusCode::NOT_FOUND, "There is nothing at this address.", "GET /api/openapi.json describes all there is.")
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_is_made_on_a_job_put_away_or_not() {
        let version = |text| version_of(&HeaderValue::from_static(text));
        assert_eq!([version("\"v3\""), version("\"v3a\"")], [Some(3), Some(3)]);
        for bad in ["v3", "\"v3", "\"va\"", "\"v3aa\"", "\"v3-site\"", "*"] {
            assert_eq!(version(bad), None, "{bad}");
        }
    }

    #[test]
    fn who_has_another_reading_of_a_version_is_told_the_whole() {
        let mut headers = HeaderMap::new();
        headers.insert(IF_NONE_MATCH, HeaderValue::from_static("\"v3\""));
        let status = |mark: &str| fresh(&headers, &tag(3, mark), || json!({})).status();
        assert_eq!(status(""), StatusCode::NOT_MODIFIED);
        assert_eq!(status("-site"), StatusCode::OK);
    }
}
