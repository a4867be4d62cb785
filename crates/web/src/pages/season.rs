//! The season: what must be true on the day of the start and which of it is true now; the job begun in every week of a year; each wall's last safe start.

use std::convert::Infallible;

use axum::Router;
use axum::extract::State;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use documents::figures::{self, Theme};
use maud::{Markup, html};
use reckoning::Money;
use tokio_stream::wrappers::WatchStream;
use tokio_stream::{Stream, StreamExt};
use works::{GateItem, Season, SeasonWeek, Standing as Stands};

use crate::doors::{Priced, Visitor};
use crate::extract::Address;
use crate::layout::{Page, answer, changes_jobs, inline_svg, job_page, part};
use crate::pages::Standing;
use crate::pages::start::only_for_changers;
use crate::reckoning::{End, Progress};
use crate::words::{day, long_day};
use crate::{App, PageError, seasons};

/// Width of the picture, px.
const WIDE: f64 = 1000.0;

/// The page, and the almanac begun, watched and stopped.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/season", get(season).post(begin))
        .route("/jobs/{slug}/season/progress", get(progress))
        .route("/jobs/{slug}/season/stop", post(stop))
        .route("/jobs/{slug}/season.pdf", get(paper))
}

async fn begin(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let name = slug.clone();
    let text = app.read(move |book| book.job(&name)).await?.text;
    seasons::begin(&app, &slug, text)?;
    Ok(Redirect::to(&format!("/jobs/{slug}/season")))
}

async fn stop(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    if let Some(year) = app.seasons().of(&slug) {
        year.under_way.stop();
    }
    Ok(Redirect::to(&format!("/jobs/{slug}/season")))
}

async fn progress(
    State(app): State<App>,
    Address(slug): Address<String>,
) -> Result<Sse<impl Stream<Item = Result<Event, Infallible>>>, PageError> {
    let year = app.seasons().of(&slug).ok_or_else(|| PageError::nothing("almanac"))?;
    let mut ended = false;
    let events =
        WatchStream::new(year.under_way.follow()).take_while(move |progress| !std::mem::replace(&mut ended, progress.end.is_some()));
    let told = events.map(|progress| {
        let name = if progress.end.is_some() { "end" } else { "progress" };
        let data = serde_json::json!({ "says": progress.says(), "done": progress.done, "of": progress.of });
        Ok(Event::default().event(name).data(data.to_string()))
    });
    Ok(Sse::new(told).keep_alive(KeepAlive::default()))
}

async fn season(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let year = app.seasons().of(&slug).filter(|year| year.text == job.job.text);
    let reckoned = year.as_ref().and_then(|year| year.season());
    let so_far = year.as_ref().map(|year| year.under_way.so_far());
    let gate = job.read.as_ref().ok().map(|read| works::start_gate(&read.inputs).map_err(|error| error.to_string()));
    let body = html! {
        @match &reckoned {
            Some(season) => (first(&job, season, &who)),
            None => (unreckoned(&job, &who, so_far.as_ref())),
        }
        @match gate {
            Some(Ok(items)) => (start_gate(&job, &items)),
            Some(Err(says)) => (part("The start gate", &html! {}, &html! { p { (says) } })),
            None => {},
        }
        @if let Some(season) = &reckoned { (almanac(season, &who)) }
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "season", title: "Season", body }))
}

/// The year on paper; it tells prices.
#[cfg(feature = "pdf")]
async fn paper(State(app): State<App>, _: Priced, Address(slug): Address<String>) -> Result<Response, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let season = app.seasons().of(&slug).filter(|year| year.text == job.job.text).and_then(|year| year.season());
    let (Some(season), Ok(read)) = (season, job.read) else { return Err(PageError::nothing("almanac")) };
    let about = read.inputs.about;
    let set = tokio::task::spawn_blocking(move || documents::season_pdf(&about, &season)).await;
    let bytes = set.map_err(|error| PageError::machine(error.to_string()))?.map_err(|error| PageError::machine(error.to_string()))?;
    let named = format!("attachment; filename=\"{slug}-season.pdf\"");
    Ok(([(CONTENT_TYPE, "application/pdf".to_owned()), (CONTENT_DISPOSITION, named)], bytes).into_response())
}

/// Built without the typesetter there is none.
#[cfg(not(feature = "pdf"))]
async fn paper(_: Priced, Address(_): Address<String>) -> Result<Response, PageError> {
    Err(PageError::nothing("almanac on paper"))
}

/// Before the year is reckoned: what it would tell, and the door to it.
fn unreckoned(job: &Standing, who: &Visitor, so_far: Option<&Progress>) -> Markup {
    let going = so_far.filter(|progress| progress.end.is_none());
    let failed = so_far.and_then(|progress| match &progress.end {
        Some(End::Failed(says)) => Some(says.as_str()),
        Some(End::Stopped) => Some("It was stopped."),
        _ => None,
    });
    let sentence = if going.is_some() { "The year is being reckoned." } else { "When to start?" };
    let then = html! {
        @if let Some(progress) = going {
            span data-progress=(job.address("season/progress")) role="status" { span data-says-progress="" { (progress.says()) } }
            form method="post" action=(job.address("season/stop")) { button type="submit" { "Stop it" } }
        } @else {
            @if let Some(says) = failed { b { (says) } " " }
            "The job is begun in every week of a year and lived through in every weather year, as a plan of that start would be. It takes up to a minute."
            @if changes_jobs(who) { form method="post" action=(job.address("season")) { button.btn.first type="submit" { "Reckon the year" } } }
        }
    };
    answer("", &html! { (sentence) }, &then)
}

/// The answer: the best start and the job's own.
fn first(job: &Standing, season: &Season, who: &Visitor) -> Markup {
    let best = season.best.and_then(|best| season.weeks.get(best));
    let by = best.and_then(|week| week.finish.1.map(|by| (week, by)));
    let sentence = match by {
        Some((week, by)) => {
            html! { "Begun on " (long_day(week.start)) " the job costs least: 8 years in 10 it is finished by " (long_day(by)) "." }
        }
        None => html! { "In no week of the year can the job be begun so that 8 years in 10 finish it." },
    };
    let own = season.own.and_then(|own| season.weeks.get(own));
    let then = html! {
        @if let Some(own) = own {
            "Begun on " (long_day(own.start)) " as the job has it, it is finished "
            @match own.finish.1 { Some(by) => { "by " (long_day(by)) ", 8 years in 10" }, None => { "in " (own.finished_years) " of " (season.years) " years only" } } "."
        }
        @if let Some(no) = &season.no_odds { " " (no) }
    };
    let picture = html! {
        div.wide { (inline_svg(&figures::season(season, &Theme::daylight(WIDE)).svg, "season")) }
        p.does { a.btn.quiet href=(job.address("season.pdf")) { "The year on paper (PDF)" } }
        p.note { "A plan reckoned now carries the picture in its proposal." }
    };
    let walls = html! { @for wall in &season.walls { p { (wall.says) } } };
    let notes = html! { p { "Safe: in 8 years of 10 the wall is finished, no coat is lost, and frost and cold hold it no more than a fortnight once it is begun." } };
    html! {
        (answer("", &sentence, &then))
        @if who.sees_prices() { (part("The year", &html! { p { "A mark at the middle year, a line to what 8 years in 10 do not pass. The scaffold comes with each start." } }, &picture)) }
        (part("Each wall's last safe start", &notes, &walls))
    }
}

fn start_gate(job: &Standing, items: &[GateItem]) -> Markup {
    let mark = |stands: Stands| match stands {
        Stands::True => "✓",
        Stands::NotYet => "✗",
        Stands::NotKnown => "?",
        Stands::OnTheDay => "·",
    };
    let open = items.iter().filter(|item| matches!(item.now, Stands::NotYet | Stands::NotKnown)).count();
    let notes = html! {
        p { "What must be true on the day, and which of it is true now." }
        p { a href=(job.address("form/before")) { "Say how it stands" } }
    };
    let matter = html! {
        p { @if open == 0 { "Nothing that can be known now stands in the way." } @else { (open) " of " (items.len()) " are not true yet, or nobody has said." } }
        table.stack {
            thead { tr { th { "Now" } th { "Must be true" } th { "How it stands" } } }
            tbody { @for item in items { tr { td.nw data-l="Now" { span { b { (mark(item.now)) } " " (item.now.word()) } } td data-l="Must be true" { (item.what) } td data-l="How it stands" { (item.says) } } } }
        }
    };
    part("The start gate", &notes, &matter)
}

fn almanac(season: &Season, who: &Visitor) -> Markup {
    let prices = who.sees_prices();
    let notes = html! {
        p { "Lived through in " (season.years) " weather years, the same for every start." }
        p { "What hangs after each coat, by the first day:" }
        @for (first, last, words) in season.protections() { p { (day(first)) " to " (day(last)) ": " (words) "." } }
    };
    let matter = html! {
        table.stack {
            thead { tr {
                th { "First day" } th { "Years finished" } th { "Years finished by" } th { "Days, middle and 8 in 10" }
                @if prices { th { "Cost before tax, middle and 8 in 10" } }
                th { "Coats redone" } th { "Held most" }
            } }
            tbody { @for (number, week) in season.weeks.iter().enumerate() { (row(season, number, week, prices)) } }
        }
    };
    part("The almanac", &notes, &matter)
}

fn row(season: &Season, number: usize, week: &SeasonWeek, prices: bool) -> Markup {
    let days = |days: Option<u32>| days.map_or("–".to_owned(), |days| days.to_string());
    let money = |money: &Option<Money>| money.as_ref().map_or("–".to_owned(), |money| money.to_tens().to_string());
    let held: Vec<String> = week.held.iter().map(|(reason, days)| format!("{} {days:.0}", documents::words::brief(*reason))).collect();
    let by: Vec<String> = week.by_month_end().iter().map(|(end, years)| format!("end {} {years}", end.strftime("%b"))).collect();
    let word = match (season.best == Some(number), season.own == Some(number)) {
        (true, true) => ", the job's start and least cost",
        (true, false) => ", least cost",
        (false, true) => ", the job's start",
        (false, false) => "",
    };
    html! {
        tr {
            td.nw data-l="First day" { span { @if word.is_empty() { (day(week.start)) } @else { b { (day(week.start)) } (word) } } }
            td data-l="Finished" { (week.finished_years) " of " (season.years) }
            td data-l="Years finished by" { (by.join(", ")) }
            td data-l="Days" { (days(week.days.0)) ", " (days(week.days.1)) }
            @if prices { td data-l="Cost" { (money(&week.cost.0)) ", " (money(&week.cost.1)) } }
            td data-l="Coats redone" { (documents::words::redone(week.redone.1, week.redone.0)) }
            td data-l="Held most" { (held.join(", ")) }
        }
    }
}
