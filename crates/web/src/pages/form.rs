//! The forms of a job: shown from the table of fields, kept as changes of the text's own lines. What will not do is shown again as typed; what was
//! changed elsewhere in the meantime is told, and nothing typed is lost.

use std::collections::BTreeMap;

use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use job::edit::Editing;
use job::fields;
use maud::{Markup, html};
use serde::Deserialize;
use store::StoreError;

use crate::doors::Visitor;
use crate::extract::{Address, Asked, Typed};
use crate::forms::{self, Filling};
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::pages::start::{only_for_changers, title_of};
use crate::pages::survey;
use crate::{App, PageError};

/// Forms, and drawings of what is typed into them.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/form", get(another_wall))
        .route("/jobs/{slug}/form/{table}", get(show).post(keep))
        .route("/jobs/{slug}/draw/{table}", post(draw))
}

/// Name of a wall to be added.
#[derive(Debug, Deserialize)]
struct Wall {
    wall: Option<String>,
}

async fn another_wall(State(app): State<App>, Address(slug): Address<String>, Asked(asked): Asked<Wall>) -> Result<Redirect, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let name = slug_of(&asked.wall.unwrap_or_default());
    let mut trial = Editing::open(&job.job.text).unwrap_or_else(Editing::empty);
    let leaf = match trial.add("walls", &name) {
        Ok(()) => format!("form/walls.{name}"),
        Err(_) if trial.has_table(&format!("walls.{name}")) => format!("form/walls.{name}"),
        Err(_) => "survey".to_owned(),
    };
    Ok(Redirect::to(&job.address(&leaf)))
}

/// A name as typed made into a short name: "South gable" is `south-gable`.
fn slug_of(name: &str) -> String {
    let kept: String = name.trim().to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    kept.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

async fn show(State(app): State<App>, who: Visitor, Address((slug, table)): Address<(String, String)>) -> Result<Markup, PageError> {
    only_for_changers(&who)?;
    let job = Standing::of(&app, &slug).await?;
    let filling = Filling::of(&job.job.text);
    page(&job, &who, &table, &filling, &html! {})
}

/// What is wrong outside the form, or changed elsewhere.
fn page(job: &Standing, who: &Visitor, table: &str, filling: &Filling, told: &Markup) -> Result<Markup, PageError> {
    let leaf = forms::leaf_of(table).ok_or_else(|| PageError::nothing("form"))?;
    let heading = forms::heading_of(&filling.editing, table);
    let wall = table.strip_prefix("walls.");
    let drawing = wall.map(|slug| survey::wall_drawing(&filling.editing.text(), slug));
    let fields = html! {
        (told)
        form method="post" action=(job.address(&format!("form/{table}"))) data-keeps="" data-draws=[wall.map(|_| job.address(&format!("draw/{table}")))] data-into="drawn" {
            input type="hidden" name="version" value=(job.job.version);
            // Enter keeps: the first button of a form is the one it presses.
            button.vh type="submit" name="do" value="keep" tabindex="-1" aria-hidden="true" { "Keep" }
            (forms::form_of(filling, table))
            div.does {
                button.btn.first type="submit" name="do" value="keep" { "Keep" }
                a.btn.quiet href=(job.address(&format!("form/{table}"))) { "Put it back as it was" }
                @if wall.is_some() && filling.editing.has_table(table) { button type="submit" name="do" value={ "remove:" (table) } { "Take this wall out" } }
            }
        }
    };
    let matter = match &drawing {
        Some(drawing) => html! {
            div.editor { div { (fields) } div.draws { figure { div id="drawn" { (drawing) } figcaption { "As kept, all in metres, seen from outside. With scripts on, it follows what you type." } } } }
        },
        None => fields,
    };
    let sentence = match filling.faults.len() {
        0 => html! { (heading) "." },
        count => html! { (heading) ": " (crate::words::counted(count, "value", "values")) " will not do yet." },
    };
    let question = if wall.is_some() {
        "Numbers as you write them: 6.20, 6200 mm, 20 ft 4 in, 3 1/2."
    } else {
        fields::field(table).map_or("", |field| field.help)
    };
    let body = html! {
        (answer("What is left empty stands at its default; an assumed one is marked until somebody answers.", &sentence, &html! { (question) }))
        (part("", &html! { (undo(job)) }, &matter))
    };
    Ok(job_page(&Page { job, who, here: leaf, title: &heading, body }))
}

/// The last change, to be taken back.
pub fn undo(job: &Standing) -> Markup {
    html! {
        @if let (Some(what), _) = &job.can_go {
            form method="post" action=(job.address("undo")) {
                input type="hidden" name="version" value=(job.job.version);
                p { "Last changed: " (what) "." }
                button type="submit" { "Undo" }
            }
        }
    }
}

async fn keep(
    State(app): State<App>,
    who: Visitor,
    Address((slug, table)): Address<(String, String)>,
    typed: Typed,
) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    forms::leaf_of(&table).ok_or_else(|| PageError::nothing("form"))?;
    let job = Standing::of(&app, &slug).await?;
    let made_on = typed.made_on()?;
    let base = if made_on == job.job.version { job.job.text.clone() } else { text_at(&app, &slug, made_on).await? };
    let mut change = Change::apply(&job.job.text, &base, &table, &typed);
    let asks = typed.text("do");
    if let Some(path) = asks.strip_prefix("add:") {
        change.add(path, &slug_of(&typed.text(&format!("add:{path}"))));
        return Ok(page(&job, &who, &table, &change.filling, &html! {})?.into_response());
    }
    if let Some(path) = asks.strip_prefix("remove:").filter(|path| *path == table || forms::stands_in(path, &table)) {
        change.remove(path);
    }
    if made_on != job.job.version {
        let told = changed_elsewhere(&base, &job.job.text, &change);
        return Ok((StatusCode::CONFLICT, page(&job, &who, &table, &change.filling, &told)?).into_response());
    }
    if change.changed.is_empty() && change.filling.faults.is_empty() {
        return Ok(Redirect::to(&job.address(&format!("form/{table}"))).into_response());
    }
    let text = change.filling.editing.text();
    let problems = job::read(&text, "the job").err().unwrap_or_default();
    let elsewhere = told_elsewhere(&change.filling.take_problems(&problems, &table));
    if !problems.is_empty() || !change.filling.faults.is_empty() {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page(&job, &who, &table, &change.filling, &elsewhere)?).into_response());
    }
    let (what, title, name) = (change.what(), title_of(&text), slug.clone());
    let saved = app.read(move |book| Ok(book.save_job(&name, made_on, &title, &text, &what))).await?;
    match saved {
        Ok(_) => {
            let gone = change.removed.contains(&table);
            let leaf = if gone { "survey".to_owned() } else { format!("form/{table}") };
            Ok(Redirect::to(&job.address(&leaf)).into_response())
        }
        // Somebody saved between our reading and our writing.
        Err(StoreError::Conflict { .. }) => {
            let now = Standing::of(&app, &slug).await?;
            let change = Change::apply(&now.job.text, &base, &table, &typed);
            let told = changed_elsewhere(&base, &now.job.text, &change);
            Ok((StatusCode::CONFLICT, page(&now, &who, &table, &change.filling, &told)?).into_response())
        }
        Err(error) => Err(error.into()),
    }
}

async fn text_at(app: &App, slug: &str, version: i64) -> Result<String, PageError> {
    let name = slug.to_owned();
    app.read(move |book| book.text_at(&name, version)).await
}

fn told_elsewhere(problems: &[&job::Problem]) -> Markup {
    html! {
        @if !problems.is_empty() {
            div.stop role="alert" {
                h2 { "It does not fit the rest of the job; nothing was kept yet." }
                ul { @for problem in problems { li { @if !problem.path.is_empty() { b { (problem.path) } ": " } (problem.found) " " (problem.allowed) " " (problem.remedy) } } }
            }
        }
    }
}

/// What was saved in another tab while this form was open.
fn changed_elsewhere(base: &str, now: &str, change: &Change) -> Markup {
    let changes = store::job_changes(base, now);
    html! {
        div.stop role="alert" {
            h2 { "The job was changed elsewhere while you typed." }
            p { "Nothing you typed is lost: it stands below over what was saved meanwhile. Look it through and keep it." }
            ul {
                @for other in &changes {
                    li {
                        b { (other.path) } " was " (other.before.as_deref().unwrap_or("not written")) ", is now " (other.after.as_deref().unwrap_or("not written"))
                        @if change.changed.contains(&other.path) { "; you typed " (change.filling.value(&other.path)) }
                        "."
                    }
                }
            }
        }
    }
}

/// What a form changes in the text.
struct Change {
    filling: Filling,
    changed: Vec<String>,
    removed: Vec<String>,
}

impl Change {
    /// Everything typed that differs from the text the form was made from, put into the text as it stands now.
    fn apply(now: &str, base: &str, table: &str, typed: &Typed) -> Self {
        let mut filling = Filling::of(now);
        let base = Editing::open(base).unwrap_or_else(Editing::empty);
        let mut changed = Vec::new();
        for (path, value) in typed.iter() {
            let is_value = fields::field(path).is_some_and(|field| !field.is_table()) && forms::stands_in(path, table);
            let value = plain(&value);
            if !is_value || value == plain(&base.written(path).unwrap_or_default()) {
                continue;
            }
            changed.push(path.to_owned());
            if let Err(refused) = filling.editing.set(path, &value) {
                filling.faults.insert(path.to_owned(), format!("{} {} {}", refused.found, refused.allowed, refused.remedy));
                filling.typed.insert(path.to_owned(), value);
            }
        }
        Self { filling, changed, removed: Vec::new() }
    }

    /// Asks for a table under a name: it is shown empty, and kept once something is written in it.
    fn add(&mut self, path: &str, name: &str) {
        let mut trial = self.filling.editing.clone();
        match trial.add(path, name) {
            Ok(()) => self.filling.added.push(format!("{path}.{name}")),
            Err(refused) => {
                self.filling.faults.insert(format!("add:{path}"), refused.to_string());
            }
        }
    }

    fn remove(&mut self, path: &str) {
        if self.filling.editing.remove(path) {
            self.changed.retain(|changed| !forms::stands_in(changed, path));
            self.filling.faults.retain(|at, _| !forms::stands_in(at, path));
            self.filling.typed.retain(|at, _| !forms::stands_in(at, path));
            self.changed.push(path.to_owned());
            self.removed.push(path.to_owned());
        }
    }

    /// What was changed, in words for the history.
    fn what(&self) -> String {
        let mut by_place: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for path in &self.changed {
            let (place, label) = match (self.removed.contains(path), path.rsplit_once('.')) {
                (true, _) => (path.clone(), "taken out".to_owned()),
                (false, Some((table, _))) => (table.to_owned(), fields::field(path).map_or(path.as_str(), |field| field.label).to_owned()),
                (false, None) => ("job".to_owned(), path.clone()),
            };
            by_place.entry(place).or_default().push(label);
        }
        let said: Vec<String> = by_place.iter().map(|(place, labels)| format!("{place}: {}", labels.join(", "))).collect();
        said.join("; ").chars().take(300).collect()
    }
}

/// Typed text without the line ends of the browser and blanks at the ends.
fn plain(text: &str) -> String {
    text.replace("\r\n", "\n").trim().to_owned()
}

/// The wall as it is being typed; what will not do yet is left as it was kept.
async fn draw(State(app): State<App>, Address((slug, table)): Address<(String, String)>, typed: Typed) -> Result<Markup, PageError> {
    let wall = table.strip_prefix("walls.").ok_or_else(|| PageError::nothing("drawing"))?;
    let text = app.read(move |book| book.job(&slug)).await?.text;
    let change = Change::apply(&text, &text, &table, &typed);
    Ok(survey::wall_drawing(&change.filling.editing.text(), wall))
}
