//! Today, on the scaffold: for each wall may a coat go on, what to hang, when to damp, which test to make; and one touch to log it. No price stands on
//! it. The form works without a script; with one, entries wait on the phone where there is no signal.

use axum::Router;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use maud::{Markup, html};
use std::collections::BTreeMap;
use store::{ENTRY_KINDS, SiteEntry};

use crate::doors::Visitor;
use crate::extract::{Address, Typed};
use crate::layout::{Page, changes_jobs, job_page, part};
use crate::pages::Standing;
use crate::pages::told::{Told, told};
use crate::plan::days::{self, later};
use crate::plan::{Saved, WallDay};
use crate::words::{capital, day, long_day};
use crate::{App, PageError};

/// Longest words of an entry, in letters.
const MOST_WORDS: usize = 400;
/// Longest name of a teller.
const MOST_WHO: usize = 80;

/// The sheet of a day, and what is logged on it.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/today", get(today).post(log))
}

async fn today(
    State(app): State<App>,
    who: Visitor,
    Address(slug): Address<String>,
    Query(asked): Query<BTreeMap<String, String>>,
) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let body = match &job.saved {
        Some(saved) => {
            let asked = match asked.get("day") {
                Some(text) => Some(text.parse::<Date>().map_err(|_| PageError::nothing("day"))?),
                None => None,
            };
            let name = slug.clone();
            let entries = app.read(move |book| book.site_log(&name)).await?;
            sheet(&job, &who, saved, asked, &entries)?
        }
        None => crate::pages::unplanned(&job),
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "today", title: "Today", body }))
}

/// The zone of the job, the machine's own where it names none that is known.
fn zone(saved: &Saved) -> TimeZone {
    TimeZone::get(&saved.plan.job.time_zone).unwrap_or_else(|_| TimeZone::system())
}

fn sheet(job: &Standing, who: &Visitor, saved: &Saved, asked: Option<Date>, entries: &[SiteEntry]) -> Result<Markup, PageError> {
    let all = || saved.weeks.iter().flat_map(|week| &week.days);
    let (Some(first), Some(last)) = (all().map(|day| day.date).min(), all().map(|day| day.date).max()) else {
        return Ok(crate::layout::answer(
            "",
            &html! { "No day of work is kept with this plan." },
            &html! { "Either nothing is done in its middle year, or it was saved before the days were kept: reckon it again." },
        ));
    };
    let now = ZonedDateTime::now().with_time_zone(zone(saved)).date();
    let date = asked.unwrap_or(now.clamp(first, last));
    if date < first || date > last {
        return Err(PageError::nothing("day of work"));
    }
    let walls: &[WallDay] = all().find(|day| day.date == date).map_or(&[], |day| &day.walls);
    let logged: Vec<(&SiteEntry, Told)> = entries.iter().map(|entry| (entry, told(entry))).collect();
    Ok(html! {
        (opening(job, saved, date, now, walls))
        p.kept data-kept="" role="status" hidden {}
        (turn(job, date, (first, last)))
        div.scaffold { @for wall in walls { (of_wall(job, saved, who, date, wall)) } @if walls.is_empty() { p { "Nothing is asked of any wall in this week." } } }
        (part("Logged", &html! { @if changes_jobs(who) { p { "Every entry of this job is on " a href=(job.address("record")) { "the record" } "." } } }, &lately(&logged)))
    })
}

/// What to do, in a sentence.
fn opening(job: &Standing, saved: &Saved, date: Date, now: Date, walls: &[WallDay]) -> Markup {
    let name = |slug: &str| job.wall_name(slug).to_lowercase();
    let work: Vec<String> = walls
        .iter()
        .filter(|wall| !wall.work.is_empty())
        .map(|wall| capital(&format!("{} on the {}", wall.work.join(", then "), name(&wall.slug))))
        .collect();
    let hang: Vec<String> =
        walls.iter().filter_map(|wall| Some(capital(&format!("{} on the {}", wall.hang.as_ref()?, name(&wall.slug))))).collect();
    let wet: Vec<String> = walls.iter().filter(|wall| wall.wet > 0 && wall.hang.is_none()).map(|wall| name(&wall.slug)).collect();
    html! {
        section.part { div.m { div.mb { p { @if date == now { "Today." } @else if date > now { "Not today: the sheet of a day to come." } @else { "A day gone by." } } } } div.b {
            h1.answer {
                @if work.is_empty() { "No coat and no preparation today. " } @else { (work.join(". ")) ". " }
                @if !hang.is_empty() { (hang.join(". ")) ". " }
                @if !wet.is_empty() { "Damp the " (wet.join(" and the ")) "." }
            }
            p { (long_day(date)) ", in the weather of the middle year; plan revision " (saved.number) ". The wall decides, not the sheet: make the test, then throw." }
        } }
    }
}

fn turn(job: &Standing, date: Date, (first, last): (Date, Date)) -> Markup {
    let to = |date: Date| format!("{}?day={date}", job.address("today"));
    html! {
        nav.turn aria-label="Other days" {
            @if date > first { a.btn href=(to(later(date, -1))) rel="prev" { (day(later(date, -1))) } }
            @if date < last { a.btn href=(to(later(date, 1))) rel="next" { (day(later(date, 1))) } }
        }
    }
}

fn of_wall(job: &Standing, saved: &Saved, who: &Visitor, date: Date, wall: &WallDay) -> Markup {
    let plan = &saved.plan;
    let run = plan.programme.run(None).and_then(|run| run.walls.iter().find(|run| run.slug == wall.slug));
    let (mark, may) = match (&wall.coat, wall.work.is_empty(), &wall.waits) {
        (Some(_), ..) => ("M9 1 L17 9 L9 17 L1 9 Z", format!("Yes, if the test holds: {}.", wall.work.join(", then "))),
        (None, false, _) => ("M9 1 L17 9 L9 17 L1 9 Z", format!("{}.", capital(&wall.work.join(", then ")))),
        (None, true, Some(waits)) => ("M9 1 L9 17 L1 9 Z", format!("No coat today. {waits}.")),
        (None, true, None) => ("", "No more coats.".to_owned()),
    };
    let damp = documents::week::damp_words(wall.wet, wall.evening);
    let test = wall.test.as_ref().map_or_else(|| "none today".to_owned(), |coat| format!("nail test on the {coat}"));
    html! {
        section.onwall id=(wall.slug) {
            div.head {
                h2 { a href=(job.address(&format!("calendar/{}/{date}", wall.slug))) { (job.wall_name(&wall.slug)) } }
                @if let Some(run) = run { (crate::pages::calendar::stack(plan, run, date)) }
            }
            p.may { svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true" { path.whole d="M9 1 L17 9 L9 17 L1 9 Z" {} @if !mark.is_empty() { path.done d=(mark) {} } } b { (may) } }
            @if wall.asks() || wall.waits.is_some() { dl {
                dt { "Hang" } dd { (wall.hang.as_deref().unwrap_or("nothing changes")) }
                dt { "Damp" } dd { (damp) }
                @if let Some(press) = &wall.press { dt { "Look" } dd { (capital(press)) } }
                dt { "Test" } dd { (test) }
            } }
            (form(job, who, date, wall, run.and_then(|run| days::record(run, date)).is_some_and(|day| day.cover.is_some())))
        }
    }
}

/// The buttons of a wall: each logs one thing at once; what no button says is written below them.
fn form(job: &Standing, who: &Visitor, date: Date, wall: &WallDay, covered: bool) -> Markup {
    let strikes = wall.hang.as_deref().is_some_and(|hang| hang.starts_with("strike"));
    let mut buttons: Vec<(&str, &str)> = Vec::new();
    if wall.coat.is_some() {
        buttons.push(("placed", "Coat is on"));
    }
    if strikes {
        buttons.push(("struck", "Cover is down"));
    } else if wall.hang.is_some() {
        buttons.push(("hung", "Cover is hung"));
    }
    if covered || wall.wet > 0 || wall.evening {
        buttons.push(("damped", "Damped now"));
    }
    if wall.test.is_some() {
        buttons.extend([("tested:holds", "Nail test holds"), ("tested:not yet", "Not yet")]);
    }
    let id = |part: &str| format!("{}-{part}", wall.slug);
    html! {
        form method="post" action=(job.address("today")) data-log="" data-wall=(job.wall_name(&wall.slug)) {
            input type="hidden" name="wall" value=(wall.slug);
            input type="hidden" name="coat" value=(wall.coat.as_deref().unwrap_or_default());
            input type="hidden" name="tested" value=(wall.test.as_deref().unwrap_or_default());
            input type="hidden" name="day" value=(date);
            input type="hidden" name="id" value=(fresh_id());
            @if !buttons.is_empty() { div.touch { @for (tell, words) in &buttons { button type="submit" name="tell" value=(tell) { (words) } } } }
            details.more { summary { "Something else" }
                div.field { label for=(id("kind")) { "What" } select id=(id("kind")) name="kind" { @for (kind, words) in KINDS { option value=(kind) selected[kind == "note"] { (words) } } } }
                div.field { label for=(id("words")) { "In words" } textarea id=(id("words")) name="words" maxlength=(MOST_WORDS) rows="3" {} }
                @if who.name.is_none() { div.field { label for=(id("who")) { "Who" } input.long type="text" id=(id("who")) name="who" maxlength=(MOST_WHO) autocomplete="name"; } }
                button type="submit" name="tell" value="" { "Log it" }
            }
            p.done-now role="status" {}
        }
    }
}

/// Sorts of entry in words.
const KINDS: [(&str, &str); 7] = [
    ("placed", "Coat on"),
    ("hung", "Cover hung"),
    ("struck", "Cover taken down"),
    ("damped", "Damped"),
    ("tested", "Tested"),
    ("reading", "Weather or reading"),
    ("note", "Something else"),
];

/// A name for an entry that nobody else gives; without chance from the machine the moment stands in.
fn fresh_id() -> String {
    let mut bytes = [0_u8; 12];
    if getrandom::fill(&mut bytes).is_err() {
        return format!("at-{}", Timestamp::now().as_nanosecond());
    }
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn lately(logged: &[(&SiteEntry, Told)]) -> Markup {
    html! {
        @if logged.is_empty() { p { "Nothing is logged yet." } }
        @else { ul.logged { @for (_, told) in logged.iter().rev().take(12) { li { span.note { (told.when) } " " b { (told.what) } @if !told.wall.is_empty() { ", " (told.wall.replace('-', " ")) } @if !told.words.is_empty() { ": " (told.words) } span.soft { " " (told.who) } } } } }
    }
}

/// Takes an entry in. Told twice it stands once.
async fn log(State(app): State<App>, who: Visitor, Address(slug): Address<String>, typed: Typed) -> Result<Response, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let zone = job.saved.as_ref().map_or_else(TimeZone::system, |saved| zone(saved));
    let entry = entry(&job, &who, &typed, &zone)?;
    let name = slug.clone();
    app.write(move |book| book.log(&name, &entry)).await?;
    if typed.get("quiet").is_some() {
        return Ok(StatusCode::CREATED.into_response());
    }
    Ok(Redirect::to(&format!("/jobs/{slug}/today?day={}#{}", typed.text("day"), typed.text("wall"))).into_response())
}

/// The entry of a form; all that is wrong with it at once.
fn entry(job: &Standing, who: &Visitor, typed: &Typed, zone: &TimeZone) -> Result<SiteEntry, PageError> {
    let tell = typed.text("tell");
    let (kind, result) = match tell.split_once(':') {
        Some((kind, result)) => (kind.to_owned(), result.to_owned()),
        None if tell.is_empty() => (typed.text("kind"), String::new()),
        None => (tell, String::new()),
    };
    let (id, wall, words, day) = (typed.text("id"), typed.text("wall"), typed.text("words"), typed.text("day"));
    let mut wrong = Vec::new();
    if !ENTRY_KINDS.contains(&kind.as_str()) {
        wrong.push(format!("the sort of entry is none of {}", ENTRY_KINDS.join(", ")));
    }
    if !(8..=64).contains(&id.len()) || !id.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '-') {
        wrong.push("the entry has no name of 8 to 64 letters and digits".to_owned());
    }
    let known = job.saved.as_ref().is_some_and(|saved| saved.plan.survey.walls.iter().any(|known| known.slug == wall));
    if !known {
        wrong.push("the job has no such wall".to_owned());
    }
    if day.parse::<Date>().is_err() {
        wrong.push("the day is no date".to_owned());
    }
    if words.chars().count() > MOST_WORDS {
        wrong.push(format!("the words are longer than {MOST_WORDS} letters"));
    }
    if kind == "note" && words.trim().is_empty() {
        wrong.push("nothing is written".to_owned());
    }
    let at = typed.get("at").filter(|at| !at.is_empty() && at.len() <= 40);
    if at.as_ref().is_some_and(|at| at.parse::<Timestamp>().is_err()) {
        wrong.push("the time is none with an offset".to_owned());
    }
    if !wrong.is_empty() {
        return Err(PageError::bad(
            format!("The entry cannot be taken in: {}.", wrong.join("; ")),
            "Go back to the sheet of the day and log it again; nothing else was changed.",
        ));
    }
    let now = || ZonedDateTime::now().with_time_zone(zone.clone()).strftime("%Y-%m-%dT%H:%M:%S%:z").to_string();
    let named: String = typed.text("who").trim().chars().take(MOST_WHO).collect();
    let teller = if who.name.is_some() || named.is_empty() { who.shown().to_owned() } else { named };
    // What is tested is the coat beneath, not the one that goes on.
    let coat: String = typed.text(if kind == "tested" { "tested" } else { "coat" }).chars().take(80).collect();
    let mut body = serde_json::Map::new();
    for (key, value) in [("wall", wall), ("coat", coat), ("day", day), ("result", result), ("words", words.trim().to_owned())] {
        if !value.is_empty() {
            body.insert(key.to_owned(), serde_json::Value::String(value));
        }
    }
    // One form may be sent by several buttons: each is an entry of its own.
    let given_id = format!("{}-{}", id.chars().take(50).collect::<String>(), kind);
    Ok(SiteEntry { given_id, happened_at: at.unwrap_or_else(now), who: teller, kind, body: serde_json::Value::Object(body).to_string() })
}
