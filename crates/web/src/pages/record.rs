//! The record: what was reckoned beside what the site log says, the photographs, and every entry. It compares dates and judges nothing; photographs
//! are kept without place and device.

use axum::Router;
use axum::extract::multipart::MultipartError;
use axum::extract::{DefaultBodyLimit, Multipart, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use jiff::civil::Date;
use jiff::{Timestamp, ZonedDateTime};
use maud::{Markup, html};
use store::{Attachment, SiteEntry};
use tokio::sync::Semaphore;

use crate::doors::Visitor;
use crate::extract::Address;
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::pages::start::only_for_changers;
use crate::pages::told::{Told, told};
use crate::plan::days::{self, between, is_coat};
use crate::plan::{Plan, Run};
use crate::words::{capital, counted, day, trimmed};
use crate::{App, PageError};

/// Most bytes of a photograph with its form.
const PHOTOGRAPH_MOST_BYTES: usize = 24 * 1024 * 1024;
/// Photographs taken in at once: each is held whole while it is cleaned.
static TAKEN_IN: Semaphore = Semaphore::const_new(2);
/// How the name of a photograph among the files of a job begins.
const PHOTOGRAPH: &str = "photograph-";

/// The sheet, and the photographs.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/record", get(record))
        .route("/jobs/{slug}/record/photographs", post(take_in).layer(DefaultBodyLimit::max(PHOTOGRAPH_MOST_BYTES)))
        .route("/jobs/{slug}/record/photographs/{name}", get(photograph))
}

async fn record(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let (entries, files) = app.read(move |book| Ok((book.site_log(&slug)?, book.attachments(&slug)?))).await?;
    let body = match &job.saved {
        Some(saved) => match saved.plan.programme.run(None) {
            Some(run) => sheet(&job, &who, (&saved.plan, run), &entries, &files),
            None => answer("", &html! { "The plan holds no day of work to compare with." }, &html! {}),
        },
        None => crate::pages::unplanned(&job),
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "record", title: "Record", body }))
}

/// A coat as it was reckoned and as it was told.
struct Compared<'p> {
    wall: &'p str,
    wall_name: &'p str,
    coat: &'p str,
    reckoned: Date,
    told: Option<Date>,
    ready: Option<Date>,
    tested: Option<Date>,
    damped: usize,
    dampings: u32,
}

fn sheet(job: &Standing, who: &Visitor, (plan, run): (&Plan, &Run), entries: &[SiteEntry], files: &[Attachment]) -> Markup {
    let log: Vec<Told> = entries.iter().map(told).collect();
    let compared = compare(plan, run, entries, &log);
    let seen = compared.iter().filter(|coat| coat.told.is_some()).count();
    html! {
        (opening(&compared, seen, log.len()))
        (part("Reckoned and told", &html! { p { "A ring is the first day of a coat in the middle year; a full mark is the day it was logged. The line between is how far they lie apart." } }, &drawn(&compared)))
        (part("The same in words", &html! { p { "Reckoned for the middle year; told by the log." } }, &table(&compared)))
        (part("Photographs", &html! { p { "Place, device and hidden pictures are taken out before one is kept; colours and which way up it is stay." } }, &photographs(job, who, plan, &log, files)))
        (part("The log", &html! { p { a href=(job.address("today")) { "Log something" } } }, &all(&log)))
    }
}

fn compare<'p>(plan: &'p Plan, run: &'p Run, entries: &[SiteEntry], log: &[Told]) -> Vec<Compared<'p>> {
    let mut all = Vec::new();
    for wall in &run.walls {
        for task in wall.tasks.iter().filter(|task| is_coat(task)) {
            let of_coat = |told: &Told| told.wall == wall.slug && (told.coat == task.slug || told.coat.eq_ignore_ascii_case(&task.name));
            let first = |kind: &str, holds: bool| {
                let pairs = entries
                    .iter()
                    .zip(log)
                    .filter(|(entry, told)| entry.kind == kind && of_coat(told) && (!holds || told.result == "holds"));
                pairs.filter_map(|(_, told)| told.date).min()
            };
            let told = first("placed", false);
            let next = wall.tasks.iter().find(|other| other.from > task.to).map(|other| other.from);
            let damped = entries.iter().zip(log).filter(|(entry, said)| {
                entry.kind == "damped"
                    && said.wall == wall.slug
                    && said.date.is_some_and(|date| date >= told.unwrap_or(task.from) && next.is_none_or(|next| date < next))
            });
            all.push(Compared {
                wall: &wall.slug,
                wall_name: days::wall_name(plan, &wall.slug),
                coat: &task.name,
                reckoned: task.from,
                told,
                ready: task.ready,
                tested: first("tested", true),
                damped: damped.count(),
                dampings: task.damping_visits,
            });
        }
    }
    all
}

fn opening(compared: &[Compared<'_>], seen: usize, entries: usize) -> Markup {
    let furthest = compared.iter().filter_map(|coat| Some((coat, between(coat.reckoned, coat.told?)))).max_by_key(|(_, days)| days.abs());
    let sentence = match furthest {
        None => html! { "No coat is logged yet: every date is still a reckoning." },
        Some((_, 0)) => html! { (capital(&counted(seen, "coat is", "coats are"))) " logged, each on the day it was reckoned for." },
        Some((coat, days)) => html! {
            (capital(&counted(seen, "coat is", "coats are"))) " logged of " (compared.len()) ". Furthest from its reckoning: the " (coat.coat.to_lowercase()) " of the " (coat.wall_name.to_lowercase()) ", " (apart(days)) "."
        },
    };
    let then = html! { (capital(&counted(entries, "entry stands", "entries stand"))) " in the log. The dates beside them are those of the middle weather year; the log does not yet move the plan." };
    answer("", &sentence, &then)
}

/// "2 days later", "on the day", "1 day sooner".
fn apart(days: i64) -> String {
    let count = if days.abs() == 1 { "1 day".to_owned() } else { format!("{} days", days.abs()) };
    match days {
        0 => "on the day".to_owned(),
        1.. => format!("{count} later"),
        _ => format!("{count} sooner"),
    }
}

/// Each coat on a line across the weeks.
fn drawn(compared: &[Compared<'_>]) -> Markup {
    let dates = || compared.iter().flat_map(|coat| [Some(coat.reckoned), coat.told].into_iter().flatten());
    let (Some(first), Some(last)) = (dates().min().map(days::monday), dates().max()) else {
        return html! { p { "No coat stands in the programme." } };
    };
    let span = between(first, last).max(7) as f64;
    let x = |date: Date| trimmed(276.0 + between(first, date) as f64 / span * 770.0, 1);
    let row = |index: usize| 46.0 + 26.0 * index as f64;
    let bottom = row(compared.len());
    let weeks = between(first, last) / 7 + 1;
    let every = (weeks / 12 + 1) * 7;
    html! {
        div.wide data-chart="" {
            svg.apart viewBox={ "0 0 1100 " (trimmed(bottom + 4.0, 0)) } role="group" aria-label="Coats as reckoned and as logged, by date" {
                @for week in 0..=(weeks * 7 / every) {
                    @let date = days::later(first, week * every);
                    @if date <= last { path.grid d={ "M" (x(date)) " 24 V" (trimmed(bottom, 1)) } {} text.num x=(x(date)) y="16" { (date.strftime("%-d %b").to_string()) } }
                }
                @for (index, coat) in compared.iter().enumerate() {
                    @let y = trimmed(row(index), 1);
                    @let first_of_wall = index == 0 || compared[index - 1].wall != coat.wall;
                    @if first_of_wall { path.rule-line d={ "M0 " (trimmed(row(index) - 14.0, 1)) " H1100" } {} text.wallname x="0" y=(trimmed(row(index) + 5.0, 1)) { (coat.wall_name) } }
                    text x="110" y=(trimmed(row(index) + 5.0, 1)) { (coat.coat.split(", ").take(2).collect::<Vec<_>>().join(", ").replace(" coat", "")) }
                    @let says = format!("{}, {}: reckoned for {}, {}", coat.wall_name, coat.coat.to_lowercase(), day(coat.reckoned), coat.told.map_or("not logged yet".to_owned(), |told| format!("logged on {}, {}", day(told), apart(between(coat.reckoned, told)))));
                    @if let Some(told) = coat.told { path.between d={ "M" (x(coat.reckoned)) " " (y) " H" (x(told)) } {} circle.full cx=(x(told)) cy=(y) r="5" {} }
                    circle.ring cx=(x(coat.reckoned)) cy=(y) r="6.5" data-says=(says) {}
                }
            }
            p.reading { "Point at a ring, or tab to it and step with the arrows." }
        }
    }
}

fn table(compared: &[Compared<'_>]) -> Markup {
    html! {
        table.stack {
            thead { tr { th { "Wall" } th { "Coat" } th { "Reckoned" } th { "Logged" } th { "Apart" } th { "Reckoned ready" } th { "Test held" } th.n { "Damped" } } }
            tbody { @for coat in compared { tr {
                td data-l="Wall" { (coat.wall_name) }
                td data-l="Coat" { (coat.coat) }
                td.nw data-l="Reckoned" { (day(coat.reckoned)) }
                td.nw data-l="Logged" { (coat.told.map_or("not yet".to_owned(), day)) }
                td.nw data-l="Apart" { (coat.told.map_or(String::new(), |told| apart(between(coat.reckoned, told)))) }
                td.nw data-l="Ready" { (coat.ready.map_or(String::new(), day)) }
                td.nw data-l="Test held" { (coat.tested.map_or("not yet".to_owned(), day)) }
                td.n data-l="Damped" { (coat.damped) " of " (coat.dampings) }
            } } }
        }
    }
}

fn photographs(job: &Standing, who: &Visitor, plan: &Plan, log: &[Told], files: &[Attachment]) -> Markup {
    let kept: Vec<(&Attachment, Option<&Told>)> = files
        .iter()
        .filter(|file| file.name.starts_with(PHOTOGRAPH))
        .map(|file| (file, log.iter().find(|told| told.photograph == file.name)))
        .collect();
    html! {
        @if kept.is_empty() { p { "None yet." } } @else {
            div.pictures { @for (file, told) in &kept {
                @let says = told.map_or_else(|| "Photograph".to_owned(), |told| format!("{}, {}{}", days::wall_name(plan, &told.wall), told.when, if told.words.is_empty() { String::new() } else { format!(": {}", told.words) }));
                @let to = job.address(&format!("record/photographs/{}", file.name));
                figure { a href=(to) { img src=(to) alt=(says) loading="lazy"; } figcaption { (says) } }
            } }
        }
        @if crate::layout::changes_jobs(who) {
            form.take-in method="post" action=(job.address("record/photographs")) enctype="multipart/form-data" {
                div.fields {
                    div.field { label for="wall" { "Wall" } div.in { select id="wall" name="wall" { @for wall in &plan.survey.walls { option value=(wall.slug) { (wall.name) } } } } }
                    div.field { label for="caption" { "What it shows" } div.in { input.long type="text" id="caption" name="words" maxlength="200" autocomplete="off"; } }
                    div.field { label for="photograph" { "JPEG or PNG, up to 24 MB" } div.in { input type="file" id="photograph" name="photograph" accept="image/jpeg,image/png" required; } }
                }
                p.does { button type="submit" { "Keep the photograph" } }
            }
        }
    }
}

fn all(log: &[Told]) -> Markup {
    html! {
        @if log.is_empty() { p { "Nothing is logged yet." } } @else {
            table.stack {
                thead { tr { th { "When" } th { "Wall" } th { "What" } th { "In words" } th { "Who" } } }
                tbody { @for told in log.iter().rev().take(500) { tr {
                    td.nw data-l="When" { (told.when) } td data-l="Wall" { (told.wall.replace('-', " ")) } td data-l="What" { (told.what) @if !told.coat.is_empty() { ", " (told.coat.replace('-', " ").to_lowercase()) } } td data-l="Words" { (told.words) } td data-l="Who" { (told.who) }
                } } }
            }
            @if log.len() > 500 { p.note { "The latest 500 of " (log.len()) " are shown." } }
        }
    }
}

/// What a photograph came with.
#[derive(Default)]
struct Brought {
    wall: String,
    words: String,
    bytes: Vec<u8>,
}

async fn take_in(State(app): State<App>, who: Visitor, Address(slug): Address<String>, form: Multipart) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let _turn = TAKEN_IN.acquire().await.map_err(|_| PageError::busy())?;
    let job = Standing::of(&app, &slug).await?;
    let brought = brought(form).await?;
    let known = job.saved.as_ref().is_some_and(|saved| saved.plan.survey.walls.iter().any(|wall| wall.slug == brought.wall));
    if !known {
        return Err(PageError::bad("The job has no such wall.", "Go back to the record and choose the wall again; nothing was kept."));
    }
    let now = ZonedDateTime::now();
    let teller = who.shown().to_owned();
    let name = slug.clone();
    app.write(move |book| {
        let clean = store::strip(&brought.bytes)?;
        let sha256 = book.put_blob(&mut clean.bytes.as_slice(), clean.bytes.len() as u64)?;
        let kind = if clean.media_type == "image/png" { "png" } else { "jpg" };
        let short: String = sha256.chars().take(12).collect();
        let file = format!("{PHOTOGRAPH}{}-{short}.{kind}", now.date());
        book.attach(&name, &file, &sha256)?;
        let body = serde_json::json!({ "wall": brought.wall, "words": brought.words, "photograph": file }).to_string();
        let given_id = format!("photograph-{short}-{}", Timestamp::now().as_millisecond());
        let entry = SiteEntry {
            given_id,
            happened_at: now.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string(),
            who: teller,
            kind: "note".to_owned(),
            body,
        };
        book.log(&name, &entry)
    })
    .await?;
    Ok(Redirect::to(&format!("/jobs/{slug}/record")))
}

async fn brought(mut form: Multipart) -> Result<Brought, PageError> {
    let broken = |error: &MultipartError| {
        let status = error.status();
        let says = if status == StatusCode::PAYLOAD_TOO_LARGE {
            "The photograph has more than 24 MB."
        } else {
            "The form broke off before it was whole."
        };
        PageError::new(status, says, "Go back to the record and choose it again; nothing was kept.")
    };
    let mut brought = Brought::default();
    while let Some(field) = form.next_field().await.map_err(|error| broken(&error))? {
        let name = field.name().unwrap_or_default().to_owned();
        let bytes = field.bytes().await.map_err(|error| broken(&error))?;
        let text = || String::from_utf8_lossy(&bytes).trim().chars().take(200).collect::<String>();
        match name.as_str() {
            "wall" => brought.wall = text(),
            "words" => brought.words = text(),
            "photograph" => brought.bytes = bytes.to_vec(),
            _ => {}
        }
    }
    Ok(brought)
}

async fn photograph(State(app): State<App>, Address((slug, name)): Address<(String, String)>) -> Result<Response, PageError> {
    if !name.starts_with(PHOTOGRAPH) {
        return Err(PageError::nothing("photograph"));
    }
    let kind = if name.ends_with(".png") { "image/png" } else { "image/jpeg" };
    let bytes = app
        .read(move |book| match book.attachment(&slug, &name)? {
            Some(file) => book.blob_bytes(&file.sha256).map(Some),
            None => Ok(None),
        })
        .await?
        .ok_or_else(|| PageError::nothing("photograph"))?;
    Ok(([(header::CONTENT_TYPE, kind)], bytes).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_apart_are_said_as_people_say_them() {
        assert_eq!([apart(0), apart(1), apart(-1), apart(12)], ["on the day", "1 day later", "1 day sooner", "12 days later"]);
    }
}
