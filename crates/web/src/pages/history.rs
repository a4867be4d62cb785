//! The history of a job: every change with undo and redo, every saved plan with its documents, and what differs between two of them.

use axum::Router;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use maud::{Markup, html};
use serde::Deserialize;
use store::{Change, EditKind, RevisionListed};

use crate::doors::Visitor;
use crate::extract::{Address, Asked, Typed};
use crate::layout::{Page, answer, changes_jobs, job_page, part};
use crate::pages::Standing;
use crate::pages::start::only_for_changers;
use crate::plan::{FIGURES, WEEKS, saved};
use crate::words::{capital, counted, moment};
use crate::{App, PageError};

/// History, undo, redo, comparison, documents.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/history", get(history))
        .route("/jobs/{slug}/compare", get(compare))
        .route("/jobs/{slug}/undo", post(undo))
        .route("/jobs/{slug}/redo", post(redo))
        .route("/jobs/{slug}/away", post(away))
        .route("/jobs/{slug}/plans/{number}/{name}", get(document))
}

async fn history(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let name = slug.clone();
    let (edits, mut revisions) = app.read(move |book| Ok((book.history(&name)?, book.revisions(&name)?))).await?;
    revisions.sort_by_key(|revision| std::cmp::Reverse(revision.number));
    let sentence = html! { (capital(&counted(edits.len(), "change", "changes"))) " and " (counted(revisions.len(), "saved plan", "saved plans")) ", nothing lost." };
    let changes = html! {
        table.stack {
            thead { tr { th { "When" } th { "What" } th.n { "Version" } } }
            tbody { @for edit in edits.iter().take(200) { tr { td.nw data-l="When" { (moment(&edit.at)) } td data-l="What" { @match edit.kind { EditKind::Undo => "undone: ", EditKind::Redo => "done again: ", EditKind::Edit => "" } (edit.what) } td.n data-l="Version" { (edit.version) } } } }
        }
    };
    let body = html! {
        (answer("Undo and redo are changes too.", &sentence, &html! { "A saved plan stays as it was saved, whatever is changed later." }))
        (part("Plans", &html! {}, &plans(&job, &who, &revisions)))
        (part("Changes", &html! { (step(&job, &who)) }, &changes))
        @if changes_jobs(&who) { (part("Put away", &html! {}, &html! { form method="post" action=(job.address("away")) { p { "The job leaves the list; nothing is deleted, and it can be brought back." } input type="hidden" name="away" value=(!job.job.put_away); button type="submit" { @if job.job.put_away { "Bring it back" } @else { "Put this job away" } } } })) }
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "history", title: "History", body }))
}

fn step(job: &Standing, who: &Visitor) -> Markup {
    let one = |leaf: &str, word: &str, what: &str| {
        html! { form method="post" action=(job.address(leaf)) { input type="hidden" name="version" value=(job.job.version); p { (what) } button type="submit" { (word) } } }
    };
    html! {
        @if changes_jobs(who) {
            @if let Some(what) = &job.can_go.0 { (one("undo", "Undo", what)) }
            @if let Some(what) = &job.can_go.1 { (one("redo", "Redo", what)) }
        }
    }
}

fn plans(job: &Standing, who: &Visitor, revisions: &[RevisionListed]) -> Markup {
    if revisions.is_empty() {
        return html! { p { "None yet." } };
    }
    html! {
        form method="get" action=(job.address("compare")) {
            table.stack {
                thead { tr { th { "Plan" } th { "What it answers first" } th { "Saved" } th { "From" } th { "To" } } }
                tbody {
                    @for (row, revision) in revisions.iter().enumerate() {
                        tr {
                            td data-l="Plan" { b { (revision.number) } }
                            td data-l="Answers" { @if who.sees_prices() { (revision.headline) } @else { "Plan revision " (revision.number) } }
                            td.nw data-l="Saved" { (moment(&revision.at)) }
                            td data-l="From" { input type="radio" name="from" value=(revision.number) checked[row == 1] aria-label={ "Compare from plan " (revision.number) }; }
                            td data-l="To" { input type="radio" name="to" value=(revision.number) checked[row == 0] aria-label={ "Compare to plan " (revision.number) }; }
                        }
                    }
                }
            }
            @if revisions.len() > 1 && who.sees_prices() { div.does { button type="submit" { "Compare the two" } } }
        }
        @if let (Some(saved), true) = (&job.saved, who.sees_prices()) { (pack(job, saved.number, &saved.files)) }
    }
}

/// The documents of a plan, to take away.
pub fn pack(job: &Standing, number: i64, files: &[(String, String)]) -> Markup {
    html! {
        p.does {
            @for (name, _) in files.iter().filter(|(name, _)| name != FIGURES && name != WEEKS) { a.btn href=(job.address(&format!("plans/{number}/{name}"))) download { (name) } }
            a.btn.quiet href=(job.address(&format!("plans/{number}/plan.json"))) download { "plan.json" }
        }
    }
}

/// Two plans.
#[derive(Debug, Deserialize)]
struct Pair {
    from: Option<i64>,
    to: Option<i64>,
}

async fn compare(
    State(app): State<App>,
    who: Visitor,
    Address(slug): Address<String>,
    Asked(pair): Asked<Pair>,
) -> Result<Markup, PageError> {
    if !who.sees_prices() {
        return Err(PageError::not_yours());
    }
    let job = Standing::of(&app, &slug).await?;
    let Pair { from: Some(from), to: Some(to) } = pair else {
        return Err(PageError::bad("Two plans are compared.", "Choose one to compare from and one to compare to, in the history."));
    };
    let (before, after) = (saved(&app, &slug, from).await?, saved(&app, &slug, to).await?);
    let job_changes = store::job_changes(&before.text, &after.text);
    let figures = store::figure_changes(&before.json, &after.json);
    let sentence = html! { "From plan " (from) " to plan " (to) ": " (counted(job_changes.len(), "value", "values")) " of the job changed, and " (counted(figures.len(), "figure", "figures")) " with them." };
    let label = |path: &str| {
        after
            .plan
            .reckonings
            .get(path)
            .or(before.plan.reckonings.get(path))
            .map_or_else(|| path.to_owned(), |reckoning| reckoning.label.clone())
    };
    let body = html! {
        (answer("", &sentence, &html! { (before.plan.headline) " " b { "Then: " } (after.plan.headline) }))
        (part("The job", &html! {}, &differences(&job_changes, |path| job::field(path).map_or_else(|| path.to_owned(), |field| format!("{}, {path}", capital(field.label))))))
        (part("The figures", &html! {}, &differences(&figures, label)))
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "history", title: "Compare", body }))
}

fn differences(changes: &[Change], label: impl Fn(&str) -> String) -> Markup {
    if changes.is_empty() {
        return html! { p { "Nothing differs." } };
    }
    let shown = |value: &Option<String>| value.clone().unwrap_or_else(|| "not there".to_owned());
    html! {
        table.stack {
            thead { tr { th { "What" } th { "Before" } th { "After" } } }
            tbody { @for change in changes { tr { td data-l="What" { (label(&change.path)) } td data-l="Before" { (shown(&change.before)) } td data-l="After" { b { (shown(&change.after)) } } } } }
        }
    }
}

async fn undo(State(app): State<App>, who: Visitor, Address(slug): Address<String>, typed: Typed) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let (made_on, name) = (typed.made_on()?, slug.clone());
    app.write(move |book| book.undo(&name, made_on)).await?;
    Ok(Redirect::to(&format!("/jobs/{slug}/history")))
}

async fn redo(State(app): State<App>, who: Visitor, Address(slug): Address<String>, typed: Typed) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let (made_on, name) = (typed.made_on()?, slug.clone());
    app.write(move |book| book.redo(&name, made_on)).await?;
    Ok(Redirect::to(&format!("/jobs/{slug}/history")))
}

async fn away(State(app): State<App>, who: Visitor, Address(slug): Address<String>, typed: Typed) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let away = typed.text("away") == "true";
    app.write(move |book| book.put_away(&slug, away)).await?;
    Ok(Redirect::to("/"))
}

async fn document(
    State(app): State<App>,
    who: Visitor,
    Address((slug, number, name)): Address<(String, i64, String)>,
) -> Result<Response, PageError> {
    // Every document of the pack but the sheets of week and damping tells prices, or whom to order from.
    if !who.sees_prices() && !["site.pdf", "damping.pdf", "programme.ics"].contains(&name.as_str()) {
        return Err(PageError::not_yours());
    }
    let plan = saved(&app, &slug, number).await?;
    let kind = match name.rsplit('.').next() {
        Some("pdf") => "application/pdf",
        Some("csv") => "text/csv; charset=utf-8",
        Some("ics") => "text/calendar; charset=utf-8",
        _ => "application/json",
    };
    let bytes = if name == "plan.json" {
        plan.json.clone().into_bytes()
    } else {
        let (_, sha256) = plan
            .files
            .iter()
            .find(|(known, _)| *known == name && name != FIGURES && name != WEEKS)
            .ok_or_else(|| PageError::nothing("document"))?;
        let sha256 = sha256.clone();
        app.read(move |book| book.blob_bytes(&sha256)).await?
    };
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{slug}-{number}-{name}\"")),
    ];
    Ok((headers, bytes).into_response())
}
