//! The job book: every job with what its latest plan answers first, and the two ways to begin.

use axum::Router;
use axum::extract::State;
use axum::routing::get;
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::layout::{answer, book_page, changes_jobs, part};
use crate::words::{counted, moment};
use crate::{App, PageError};

/// Jobs listed on a page of the book.
const ON_A_PAGE: usize = 100;

/// The book's own pages.
pub fn routes() -> Router<App> {
    Router::new().route("/", get(book)).route("/page/{number}", get(page)).route("/away", get(away))
}

async fn book(State(app): State<App>, who: Visitor) -> Result<Markup, PageError> {
    leaf(&app, &who, 1).await
}

async fn page(
    State(app): State<App>,
    who: Visitor,
    crate::extract::Address(number): crate::extract::Address<usize>,
) -> Result<Markup, PageError> {
    leaf(&app, &who, number).await
}

async fn leaf(app: &App, who: &Visitor, number: usize) -> Result<Markup, PageError> {
    let jobs = app.read(|book| book.jobs()).await?;
    let (gone, jobs): (Vec<_>, Vec<_>) = jobs.into_iter().partition(|job| job.put_away);
    if jobs.is_empty() && gone.is_empty() {
        return Ok(book_page("Job book", &empty(who)));
    }
    let pages = jobs.len().div_ceil(ON_A_PAGE).max(1);
    let from = number.saturating_sub(1).min(pages - 1) * ON_A_PAGE;
    let listed = html! {
        ul.jobs {
            @for job in jobs.iter().skip(from).take(ON_A_PAGE) {
                li {
                    h3 { a href={ "/jobs/" (job.slug) } { (job.title) } }
                    p { @match &job.latest {
                        Some((_, headline)) if who.sees_prices() => (headline),
                        Some((number, _)) => { "Plan revision " (number) "." }
                        None => span.soft { "Nothing is reckoned yet." },
                    } }
                    p.note.when { (moment(&job.changed_at)) }
                }
            }
        }
        @if !gone.is_empty() { p.does { a href="/away" { (crate::words::capital(&counted(gone.len(), "job", "jobs"))) " put away" } } }
        @if pages > 1 { p.does { @for page in 1..=pages { a href={ "/page/" (page) } aria-current=[(from / ON_A_PAGE + 1 == page).then_some("page")] { (page) } } } }
    };
    let sentence = html! { (crate::words::capital(&counted(jobs.len(), "job", "jobs"))) " in the book." };
    let body = html! {
        (answer("", &sentence, &html! { "The last changed stands first." }))
        (part("Jobs", &html! { p { "What the latest plan answers first." } }, &listed))
        @if changes_jobs(who) { (part("Begin", &crate::doors::leaving(who), &begin(who))) }
    };
    Ok(book_page("Job book", &body))
}

async fn away(State(app): State<App>) -> Result<Markup, PageError> {
    let jobs = app.read(|book| book.jobs()).await?;
    let jobs: Vec<_> = jobs.into_iter().filter(|job| job.put_away).collect();
    let listed = html! { ul.jobs { @for job in &jobs { li { h3 { a href={ "/jobs/" (job.slug) "/history" } { (job.title) } } p {} p.note.when { (moment(&job.changed_at)) } } } } };
    let sentence = html! { (crate::words::capital(&counted(jobs.len(), "job", "jobs"))) " put away." };
    Ok(book_page(
        "Put away",
        &html! { (answer("", &sentence, &html! { "Each can be brought back from its history." })) (part("", &html! {}, &listed)) },
    ))
}

/// The first page a newcomer sees.
fn empty(who: &Visitor) -> Markup {
    let sentence = html! { "From an old stone wall to a lime harl: what goes on it, when, and for how much." };
    let then =
        html! { "Begin with your own building, in four questions, or look round in an invented one. Either gives a first plan at once." };
    html! {
        (answer("The book is empty.", &sentence, &then))
        @if changes_jobs(who) { (part("Begin", &crate::doors::leaving(who), &begin(who))) }
    }
}

fn begin(who: &Visitor) -> Markup {
    html! {
        div.begin {
            div {
                h3 { "A job of your own" }
                p { "Where, how big, what stone, when. What you do not know is assumed and marked so." }
                a.btn.first href="/new" { "New job" }
            }
            div {
                h3 { "Ferry House, invented" }
                p { "A small house by the water with twelve years of invented weather, to try everything on." }
                form method="post" action="/demo" { button type="submit" { "Open the demo" } }
            }
        }
        p.does { a href="/import" { "Bring in a job file" } @if who.role == store::Role::Owner { a href="/backup" { "Back up or restore the book" } } }
    }
}
