//! Plans as JSON: the latest and every saved one, what changed between two, the reckoning behind a figure, and reckoning anew.

use std::sync::Arc;

use axum::Json;
use axum::body::Body as Bytes;
use axum::extract::State;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE, HeaderValue};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::{Value, json};

use super::answer::{Asked, Place, Problem, fresh, tag};
use crate::App;
use crate::doors::Visitor;
use crate::plan::{Saved, saved};
use crate::reckoning::{self, End};

type Answer = Result<Response, Problem>;

fn none(what: &str) -> Problem {
    Problem::new(StatusCode::NOT_FOUND, format!("The job has no {what}."), "POST /api/jobs/JOB/reckoning makes a plan.")
}

/// The plan as somebody may read it.
fn readable(saved: &Saved, who: &Visitor) -> Value {
    let whole = || serde_json::from_str(&saved.json).unwrap_or_default();
    if who.sees_prices() { whole() } else { documents::without_prices(&saved.json).unwrap_or_default() }
}

/// Entity tag of the plan as somebody may read it: who signs in with another role has not got this reading of it yet.
fn tag_of(saved: &Saved, who: &Visitor) -> String {
    tag(saved.number, if who.sees_prices() { "" } else { "-site" })
}

async fn latest_number(app: &App, slug: &str) -> Result<i64, Problem> {
    let name = slug.to_owned();
    let listed = app.read(move |book| book.revisions(&name)).await?;
    listed.iter().map(|listed| listed.number).max().ok_or_else(|| none("plan yet"))
}

async fn latest_of(app: &App, slug: &str) -> Result<Arc<Saved>, Problem> {
    let number = latest_number(app, slug).await?;
    Ok(saved(app, slug, number).await?)
}

pub async fn latest(State(app): State<App>, who: Visitor, headers: HeaderMap, Place(slug): Place<String>) -> Answer {
    let saved = latest_of(&app, &slug).await?;
    Ok(fresh(&headers, &tag_of(&saved, &who), || readable(&saved, &who)))
}

pub async fn list(State(app): State<App>, Place(slug): Place<String>) -> Answer {
    let listed = app.read(move |book| book.revisions(&slug)).await?;
    let told = listed.iter().map(|listed| json!({ "number": listed.number, "headline": listed.headline, "at": listed.at }));
    Ok(Json(json!({ "plans": told.collect::<Vec<_>>() })).into_response())
}

/// A job and a number, or what is asked of them.
#[derive(Debug, Deserialize)]
pub struct Numbered {
    job: String,
    number: i64,
}

pub async fn show(State(app): State<App>, who: Visitor, headers: HeaderMap, Place(at): Place<Numbered>) -> Answer {
    let saved = saved(&app, &at.job, at.number).await?;
    Ok(fresh(&headers, &tag_of(&saved, &who), || readable(&saved, &who)))
}

/// A document of a saved plan.
#[derive(Debug, Deserialize)]
pub struct Named {
    job: String,
    number: i64,
    name: String,
}

pub async fn file(State(app): State<App>, Place(at): Place<Named>) -> Answer {
    let saved = saved(&app, &at.job, at.number).await?;
    let Some((name, sha256)) = saved.files.iter().find(|(name, _)| *name == at.name).cloned() else { return Err(none("such document")) };
    let bytes = app.read(move |book| book.blob_bytes(&sha256)).await?;
    let mut response = Bytes::from(bytes).into_response();
    let headers = response.headers_mut();
    headers.insert(CONTENT_TYPE, HeaderValue::from_static(kind_of(&name)));
    if let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{name}\"")) {
        headers.insert(CONTENT_DISPOSITION, value);
    }
    Ok(response)
}

/// Media type of a document by its ending.
fn kind_of(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "pdf" => "application/pdf",
        "csv" => "text/csv; charset=utf-8",
        "ics" => "text/calendar; charset=utf-8",
        "json" => "application/json",
        "html" => "text/html; charset=utf-8",
        _ => "application/octet-stream",
    }
}

/// Two saved plans.
#[derive(Debug, Deserialize)]
pub struct Between {
    from: i64,
    to: i64,
}

pub async fn changes(State(app): State<App>, Place(slug): Place<String>, Asked(between): Asked<Between>) -> Answer {
    let (before, after) = (saved(&app, &slug, between.from).await?, saved(&app, &slug, between.to).await?);
    let told = |changes: Vec<store::Change>| -> Vec<Value> {
        changes.into_iter().map(|change| json!({ "path": change.path, "before": change.before, "after": change.after })).collect()
    };
    let (job, figures) = (store::job_changes(&before.text, &after.text), store::figure_changes(&before.json, &after.json));
    Ok(Json(json!({ "job": told(job), "figures": told(figures) })).into_response())
}

/// A figure asked for.
#[derive(Debug, Deserialize)]
pub struct Why {
    path: Option<String>,
}

pub async fn why(State(app): State<App>, Place(slug): Place<String>, Asked(why): Asked<Why>) -> Answer {
    let saved = latest_of(&app, &slug).await?;
    let whole: Value = serde_json::from_str(&saved.json).unwrap_or_default();
    let all = whole["reckonings"].as_array().cloned().unwrap_or_default();
    let Some(path) = why.path else { return Ok(Json(json!({ "reckonings": all })).into_response()) };
    let found: Vec<Value> = all.into_iter().filter(|reckoning| reckoning["path"] == path.as_str()).collect();
    if found.is_empty() {
        return Err(Problem::new(
            StatusCode::NOT_FOUND,
            "The plan holds no figure of that path.",
            "Ask without `path` for all that can be asked.",
        ));
    }
    Ok(Json(json!({ "reckonings": found })).into_response())
}

pub async fn begin(State(app): State<App>, Place(slug): Place<String>) -> Answer {
    let name = slug.clone();
    app.read(move |book| book.job(&name)).await?;
    reckoning::begin(&app, &slug)?;
    Ok((StatusCode::ACCEPTED, Json(progress_of(&app, &slug))).into_response())
}

fn progress_of(app: &App, slug: &str) -> Value {
    let Some(under_way) = app.reckonings().of(slug) else { return json!({ "state": "none", "says": "Nothing is being reckoned." }) };
    let so_far = under_way.so_far();
    let (state, says, number) = match &so_far.end {
        None => ("under-way", so_far.says(), None),
        Some(End::Done) => ("done", "Done.".to_owned(), None),
        Some(End::Saved(number)) => ("saved", format!("Saved as plan {number}."), Some(*number)),
        Some(End::Failed(says)) => ("failed", says.clone(), None),
        Some(End::Stopped) => ("stopped", "Somebody stopped it.".to_owned(), None),
    };
    json!({ "state": state, "says": says, "done": so_far.done, "of": so_far.of, "number": number })
}

pub async fn progress(State(app): State<App>, Place(slug): Place<String>) -> Answer {
    let name = slug.clone();
    app.read(move |book| book.job(&name)).await?;
    Ok(Json(progress_of(&app, &slug)).into_response())
}

pub async fn stop(State(app): State<App>, Place(slug): Place<String>) -> Answer {
    let name = slug.clone();
    app.read(move |book| book.job(&name)).await?;
    if let Some(under_way) = app.reckonings().of(&slug) {
        under_way.stop();
    }
    Ok(Json(progress_of(&app, &slug)).into_response())
}
