//! The site's pages, the gang's too: which jobs there are, the week's sheet for the phone, and the log that comes back. No price stands on any of
//! them.

use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE, HeaderValue};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use documents::words::{capital, counted};
use maud::{Markup, html};
use serde_json::Value;
use store::{Handed, SiteEntry};

use crate::doors::Visitor;
use crate::extract::{Address, Typed};
use crate::layout::{Page, answer, book_page, job_page, part};
use crate::pages::Standing;
use crate::{App, PageError, doors};

/// Name of the sheet among the documents of a plan.
pub const SHEET: &str = "site.html";

/// The site's pages.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/site", get(jobs))
        .route("/jobs/{slug}/site", get(job))
        .route("/jobs/{slug}/site.html", get(sheet))
        .route("/jobs/{slug}/site.pdf", get(week_paper))
        .route("/jobs/{slug}/damping.pdf", get(damping_paper))
        .route("/jobs/{slug}/log", get(log).post(take_in))
        .route("/jobs/{slug}/log/hand-in", get(hand_in))
}

async fn jobs(State(app): State<App>, who: Visitor) -> Result<Markup, PageError> {
    let jobs: Vec<_> = app.read(|book| book.jobs()).await?.into_iter().filter(|job| !job.put_away).collect();
    let listed = html! {
        ul.jobs {
            @for job in &jobs {
                li {
                    h3 { a href={ "/jobs/" (job.slug) "/site" } { (job.title) } }
                    p { @if job.latest.is_some() { "The week's sheet is ready." } @else { span.soft { "No plan yet." } } }
                }
            }
        }
    };
    let sentence = html! { (capital(&counted(jobs.len(), "job", "jobs"))) " with a site." };
    let body = html! { (answer("", &sentence, &html! { "Choose one for its week." })) (part("Jobs", &doors::leaving(&who), &listed)) };
    Ok(book_page("Site", &body))
}

/// Title of a job, and the hash of a document of its latest plan.
async fn latest_document(app: &App, slug: &str, name: &'static str) -> Result<(String, i64, Option<String>), PageError> {
    let slug = slug.to_owned();
    app.read(move |book| {
        let title = book.job(&slug)?.title;
        let Some(number) = book.revisions(&slug)?.iter().map(|listed| listed.number).max() else { return Ok((title, 0, None)) };
        let revision = book.revision(&slug, number)?;
        Ok((title, number, revision.files.into_iter().find(|(file, _)| file == name).map(|(_, sha256)| sha256)))
    })
    .await
}

async fn job(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let (title, number, sheet) = latest_document(&app, &slug, SHEET).await?;
    let of_log = slug.clone();
    let entries = app.read(move |book| book.site_log(&of_log)).await?;
    let at = |leaf: &str| format!("/jobs/{slug}/{leaf}");
    let take = html! {
        @if sheet.is_some() {
            p.does { a.btn.first href=(at("site.html")) { "Open the sheet" } a.btn href=(at("site.html?keep=1")) download={ "site-" (slug) ".html" } { "Keep it on this phone" } a.btn.quiet href=(at("site.pdf")) { "The same on paper" } a.btn.quiet href=(at("damping.pdf")) { "For whoever damps at weekends" } }
        } @else {
            p { "There is no plan with a sheet yet: it is written when the plan is reckoned." }
        }
    };
    let logged = html! { p { (capital(&counted(entries.len(), "entry", "entries"))) " in the log. " a href=(at("log")) { "See the log, or hand one in" } } };
    let sentence = html! { "The wall decides, not the sheet: make the test, then throw." };
    let note = if number > 0 { format!("Plan revision {number}.") } else { String::new() };
    let body = html! {
        (answer(&note, &sentence, &html! { "The sheet is one file. Kept on a phone it needs no net, and keeps what you log until you hand it over." }))
        (part("Sheet", &html! {}, &take))
        (part("Log", &html! {}, &logged))
    };
    dressed(&app, &who, &slug, &format!("Site, {title}"), body).await
}

/// A page on the job's own sheet, for whoever may follow its rule; for the gang on a plain one, since most of the rule is not theirs.
async fn dressed(app: &App, who: &Visitor, slug: &str, title: &str, body: Markup) -> Result<Markup, PageError> {
    if !who.sees_prices() {
        return Ok(book_page(title, &body));
    }
    let job = Standing::of(app, slug).await?;
    Ok(job_page(&Page { job: &job, who, here: "site", title: "Site", body }))
}

async fn bytes_of(app: &App, sha256: Option<String>) -> Result<Vec<u8>, PageError> {
    let Some(sha256) = sha256 else { return Err(PageError::nothing("sheet")) };
    app.read(move |book| book.blob_bytes(&sha256)).await
}

async fn sheet(
    State(app): State<App>,
    origin: axum::Extension<doors::Origin>,
    Address(slug): Address<String>,
) -> Result<Response, PageError> {
    let (_, _, sheet) = latest_document(&app, &slug, SHEET).await?;
    let bytes = bytes_of(&app, sheet).await?;
    let text = String::from_utf8(bytes).map_err(|_| PageError::machine("The sheet could not be read."))?;
    let nonce = doors::nonce().map_err(PageError::machine)?;
    let page = documents::site_html_served(&text, &origin.0.0, &slug, &nonce);
    let rules = format!(
        "default-src 'none'; img-src data:; style-src 'nonce-{nonce}'; script-src 'nonce-{nonce}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    );
    let mut response = page.into_response();
    let headers = response.headers_mut();
    headers.insert(CONTENT_TYPE, HeaderValue::from_static("text/html; charset=utf-8"));
    headers.insert(
        CONTENT_SECURITY_POLICY,
        HeaderValue::from_str(&rules).map_err(|_| PageError::machine("The sheet could not be given out."))?,
    );
    Ok(response)
}

async fn week_paper(State(app): State<App>, Address(slug): Address<String>) -> Result<Response, PageError> {
    paper(&app, &slug, "site.pdf", "inline; filename=\"site.pdf\"").await
}

async fn damping_paper(State(app): State<App>, Address(slug): Address<String>) -> Result<Response, PageError> {
    paper(&app, &slug, "damping.pdf", "inline; filename=\"damping.pdf\"").await
}

async fn paper(app: &App, slug: &str, name: &'static str, shown_as: &'static str) -> Result<Response, PageError> {
    let (_, _, paper) = latest_document(app, slug, name).await?;
    let mut response = bytes_of(app, paper).await?.into_response();
    response.headers_mut().insert(CONTENT_TYPE, HeaderValue::from_static("application/pdf"));
    response.headers_mut().insert(CONTENT_DISPOSITION, HeaderValue::from_static(shown_as));
    Ok(response)
}

/// Entries shown on the page of the log.
const SHOWN: usize = 200;

async fn log(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    log_page(&app, &who, &slug, &[], None).await
}

async fn log_page(app: &App, who: &Visitor, slug: &str, problems: &[String], taken: Option<(usize, usize)>) -> Result<Markup, PageError> {
    let name = slug.to_owned();
    let (title, entries) = app.read(move |book| Ok((book.job(&name)?.title, book.site_log(&name)?))).await?;
    let shown = html! {
        @if entries.is_empty() { p { "Nothing is logged yet." } }
        @else {
            div.wide tabindex="0" role="region" aria-label="The log" {
                table.stack { caption { "The last " (SHOWN) " entries, the latest first." }
                    thead { tr { th scope="col" { "When" } th scope="col" { "Who" } th scope="col" { "What" } th scope="col" { "Told" } } }
                    tbody { @for entry in entries.iter().rev().take(SHOWN) { tr { td.nw data-l="When" { (entry.happened_at.replace('T', " ")) } td data-l="Who" { (entry.who) } td data-l="What" { (entry.kind) } td data-l="Told" { (told(entry)) } } } }
                }
            }
        }
    };
    let says = match (problems, taken) {
        ([], None) => html! {},
        ([], Some((added, known))) => {
            html! { p role="status" { b { (capital(&counted(added, "entry", "entries"))) " taken in." } " " (known) " were there already." } }
        }
        (found, _) => html! { div.stop role="alert" { h2 { "Nothing was taken in." } ul { @for problem in found { li { (problem) } } } } },
    };
    let hand = html! { (says) (hand_in_form(slug, "")) };
    let sentence = html! { (capital(&counted(entries.len(), "entry", "entries"))) " in the site log." };
    let body = html! {
        (answer("", &sentence, &html! { "What happened on the wall, as it was told. Entries are only ever added." }))
        (part("Hand in", &html! { p { "What the site sheet wrote as a file, opened and pasted here; one handed in twice stands once." } }, &hand))
        (part("Log", &html! {}, &shown))
    };
    dressed(app, who, slug, &format!("Site log, {title}"), body).await
}

/// What an entry tells, in a line.
fn told(entry: &SiteEntry) -> String {
    let body: Value = serde_json::from_str(&entry.body).unwrap_or_default();
    let word = |key: &str| body[key].as_str().map(str::to_owned);
    ["wall", "coat", "result", "words"].into_iter().filter_map(word).collect::<Vec<_>>().join(", ")
}

fn hand_in_form(slug: &str, text: &str) -> Markup {
    html! {
        form method="post" action={ "/jobs/" (slug) "/log" } data-hand-in="" {
            div.field {
                label for="entries" { "Entries (site-log/1)" }
                p.help id="entries-help" { "The whole of the file, from the first brace to the last." }
                textarea id="entries" name="entries" rows="6" required aria-describedby="entries-help" { (text) }
            }
            p.does { button.btn.first type="submit" { "Take them in" } }
        }
    }
}

/// The page a phone comes to with its entries behind the "#": its script puts them into the form, and a person sends it.
async fn hand_in(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let name = slug.clone();
    let title = app.read(move |book| book.job(&name)).await?.title;
    let sentence = html! { "Take in what the phone kept?" };
    let form = html! { p data-hand-in-says="" role="status" { "Without a script: open the file the sheet wrote, and paste it here." } (hand_in_form(&slug, "")) };
    let body = html! { (answer("", &sentence, &html! { "Nothing is taken in before you say so." })) (part("Hand in", &html! {}, &form)) };
    dressed(&app, &who, &slug, &format!("Hand in, {title}"), body).await
}

async fn take_in(State(app): State<App>, who: Visitor, Address(slug): Address<String>, typed: Typed) -> Result<Response, PageError> {
    let handed = match Handed::read(&typed.text("entries")) {
        Ok(handed) => handed,
        Err(problems) => return Ok((StatusCode::UNPROCESSABLE_ENTITY, log_page(&app, &who, &slug, &problems, None).await?).into_response()),
    };
    if let Some(other) = handed.not_for(&slug) {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, log_page(&app, &who, &slug, &[other], None).await?).into_response());
    }
    let (all, name) = (handed.entries.len(), slug.clone());
    let added = app.write(move |book| book.take_in(&name, &handed.entries)).await?;
    if added == 0 && all == 0 {
        return Ok(Redirect::to(&format!("/jobs/{slug}/log")).into_response());
    }
    Ok(log_page(&app, &who, &slug, &[], Some((added, all - added))).await?.into_response())
}
