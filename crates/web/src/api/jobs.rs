//! Jobs as JSON: their text, their history, their site log.

use axum::Json;
use axum::extract::State;
use axum::http::header::{HeaderValue, LOCATION};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::{Value, json};
use store::{BookedJob, Handed, Listed, SiteEntry};

use super::answer::{Body, MadeOn, PUT_AWAY, Place, Problem, change_failed, fresh, tag, tagged};
use crate::App;
use crate::doors::Visitor;
use crate::pages::title_of;

/// Most bytes of a job file.
const MOST_TEXT: usize = 1024 * 1024;

type Answer = Result<Response, Problem>;

fn listed(job: &Listed, who: &Visitor) -> Value {
    let latest = job.latest.as_ref().map(|(number, headline)| {
        if who.sees_prices() { json!({ "number": number, "headline": headline }) } else { json!({ "number": number }) }
    });
    json!({ "slug": job.slug, "title": job.title, "version": job.version, "changed_at": job.changed_at, "put_away": job.put_away, "latest": latest })
}

pub async fn list(State(app): State<App>, who: Visitor) -> Answer {
    let jobs = app.read(|book| book.jobs()).await?;
    Ok(Json(json!({ "jobs": jobs.iter().map(|job| listed(job, &who)).collect::<Vec<_>>() })).into_response())
}

fn whole(job: &BookedJob) -> Value {
    json!({ "slug": job.slug, "title": job.title, "version": job.version, "changed_at": job.changed_at, "put_away": job.put_away, "text": job.text })
}

/// Mark in the tag of a job that is put away.
fn mark_of(job: &BookedJob) -> &'static str {
    if job.put_away { PUT_AWAY } else { "" }
}

/// Entity tag of a job as it is read. Putting a job away makes no new version of its text, but another answer: `a` marks it.
fn tag_of(job: &BookedJob) -> String {
    tag(job.version, mark_of(job))
}

pub async fn show(State(app): State<App>, headers: HeaderMap, Place(slug): Place<String>) -> Answer {
    let job = app.read(move |book| book.job(&slug)).await?;
    Ok(fresh(&headers, &tag_of(&job), || whole(&job)))
}

/// A job file sent.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sent {
    text: String,
    what: Option<String>,
}

impl Sent {
    /// The text, if it reads as a job.
    fn checked(self) -> Result<(String, Option<String>), Problem> {
        if self.text.len() > MOST_TEXT {
            return Err(Problem::new(StatusCode::PAYLOAD_TOO_LARGE, "A job file has at most 1 MB.", "Check that it is the right file."));
        }
        if let Err(problems) = job::read(&self.text, "the job file") {
            let told = problems.iter().map(|problem| {
                json!({
                    "path": problem.path, "line": problem.line, "column": problem.column,
                    "found": problem.found, "allowed": problem.allowed, "remedy": problem.remedy,
                })
            });
            let title = format!("The job file has {} problems.", problems.len());
            return Err(Problem::new(StatusCode::UNPROCESSABLE_ENTITY, title, "Mend them and send it again; nothing was changed.")
                .with(told.collect()));
        }
        let what = self.what.filter(|what| !what.trim().is_empty()).map(|what| what.chars().take(200).collect());
        Ok((self.text, what))
    }
}

pub async fn add(State(app): State<App>, Body(sent): Body<Sent>) -> Answer {
    let (text, what) = sent.checked()?;
    let title = title_of(&text);
    let job = app.write(move |book| book.add_job(&title, &text, what.as_deref().unwrap_or("brought in by a program"))).await?;
    let mut response = tagged(StatusCode::CREATED, &tag_of(&job), whole(&job));
    if let Ok(place) = HeaderValue::from_str(&format!("/api/jobs/{}", job.slug)) {
        response.headers_mut().insert(LOCATION, place);
    }
    Ok(response)
}

pub async fn change(State(app): State<App>, Place(slug): Place<String>, MadeOn(made_on): MadeOn, Body(sent): Body<Sent>) -> Answer {
    let (text, what) = sent.checked()?;
    let title = title_of(&text);
    let name = slug.clone();
    let saved = app
        .write(move |book| Ok(book.save_job(&name, made_on, &title, &text, what.as_deref().unwrap_or("changed by a program"))))
        .await?
        .map_err(change_failed)?;
    stands(&app, slug, saved.version).await
}

async fn stands(app: &App, slug: String, version: i64) -> Answer {
    let job = app.read(move |book| book.job(&slug)).await?;
    Ok(tagged(StatusCode::OK, &tag(version, mark_of(&job)), whole(&job)))
}

pub async fn undo(State(app): State<App>, Place(slug): Place<String>, MadeOn(made_on): MadeOn) -> Answer {
    let name = slug.clone();
    let saved = app.write(move |book| Ok(book.undo(&name, made_on))).await?.map_err(change_failed)?;
    stands(&app, slug, saved.version).await
}

pub async fn redo(State(app): State<App>, Place(slug): Place<String>, MadeOn(made_on): MadeOn) -> Answer {
    let name = slug.clone();
    let saved = app.write(move |book| Ok(book.redo(&name, made_on))).await?.map_err(change_failed)?;
    stands(&app, slug, saved.version).await
}

pub async fn history(State(app): State<App>, Place(slug): Place<String>) -> Answer {
    let edits = app.read(move |book| book.history(&slug)).await?;
    let told = edits.iter().map(|edit| {
        let kind = match edit.kind {
            store::EditKind::Edit => "edit",
            store::EditKind::Undo => "undo",
            store::EditKind::Redo => "redo",
        };
        json!({ "version": edit.version, "kind": kind, "what": edit.what, "at": edit.at })
    });
    Ok(Json(json!({ "edits": told.collect::<Vec<_>>() })).into_response())
}

fn told(entry: &SiteEntry) -> Value {
    let body: Value = serde_json::from_str(&entry.body).unwrap_or_default();
    json!({ "id": entry.given_id, "at": entry.happened_at, "who": entry.who, "kind": entry.kind, "told": body })
}

pub async fn log(State(app): State<App>, Place(slug): Place<String>) -> Answer {
    let entries = app.read(move |book| book.site_log(&slug)).await?;
    Ok(Json(json!({ "entries": entries.iter().map(told).collect::<Vec<_>>() })).into_response())
}

pub async fn tell(State(app): State<App>, Place(slug): Place<String>, Body(sent): Body<Value>) -> Answer {
    let refused = |found: Vec<String>| {
        let problem = Problem::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "The entries cannot be taken in.",
            "Mend them and send all again; nothing was taken in.",
        );
        problem.with(found.into_iter().map(Value::String).collect())
    };
    let handed = Handed::read(&sent.to_string()).map_err(refused)?;
    if let Some(other) = handed.not_for(&slug) {
        return Err(refused(vec![other]));
    }
    let all = handed.entries.len();
    let added = app.write(move |book| book.take_in(&slug, &handed.entries)).await?;
    Ok(Json(json!({ "added": added, "known": all - added })).into_response())
}

/// Values to write, by path; an empty text takes one out.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Values {
    values: std::collections::BTreeMap<String, String>,
}

pub async fn set(State(app): State<App>, Place(slug): Place<String>, MadeOn(made_on): MadeOn, Body(sent): Body<Values>) -> Answer {
    let name = slug.clone();
    let stood = app.read(move |book| book.job(&name)).await?;
    if stood.version != made_on {
        return Err(change_failed(store::StoreError::Conflict { stands: stood.version, made_on }));
    }
    let Some(mut editing) = job::edit::Editing::open(&stood.text) else {
        return Err(Problem::new(StatusCode::CONFLICT, "The job file does not read as TOML.", "Send the whole text instead."));
    };
    let refused: Vec<Value> = sent
        .values
        .iter()
        .filter_map(|(path, typed)| editing.set(path, typed).err())
        .map(|refused| json!({ "path": refused.path, "found": refused.found, "allowed": refused.allowed, "remedy": refused.remedy }))
        .collect();
    if !refused.is_empty() {
        let problem = Problem::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "Some values will not do.",
            "Mend them and send all again; nothing was changed.",
        );
        return Err(problem.with(refused));
    }
    let paths: Vec<&str> = sent.values.keys().map(String::as_str).collect();
    let what: String = format!("{} by a program", paths.join(", ")).chars().take(200).collect();
    let (text, _) = Sent { text: editing.text(), what: None }.checked()?;
    let (name, title) = (slug.clone(), title_of(&text));
    let saved = app.write(move |book| Ok(book.save_job(&name, made_on, &title, &text, &what))).await?.map_err(change_failed)?;
    stands(&app, slug, saved.version).await
}

/// The one table of fields.
pub async fn fields() -> Response {
    let told = job::fields::all().map(|field| {
        json!({
            "path": field.path, "label": field.label, "help": field.help, "question": field.question,
            "assumed": field.assumed, "table": field.is_table(), "source": field.source,
        })
    });
    Json(json!({ "fields": told.collect::<Vec<_>>() })).into_response()
}

/// The schema of a job file, from the same table.
pub async fn schema() -> Response {
    Json(job::schema()).into_response()
}
