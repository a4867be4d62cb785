//! The calendar of coats: every day of every wall as a square, the wall growing above it, the weather of the chosen year on top; a wall as a diary;
//! and each day by its own address. It reads the programme off and reckons nothing.

mod diary;
mod marks;
mod one_day;
mod strip;

use std::collections::BTreeMap;

use axum::Router;
use axum::extract::{Query, State};
use axum::routing::get;
use jiff::civil::Date;
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::extract::Address;
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::plan::days::{self, between, is_coat};
use crate::plan::{Plan, Run, Saved, Task, WallRun};
use crate::words::{capital, counted, day, long_day, span};
use crate::{App, PageError};

pub use one_day::stack;

/// Walls on one sheet.
const WALLS_ON_A_SHEET: usize = 8;

/// The calendar, a wall of it, a day of it.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/calendar", get(calendar))
        .route("/jobs/{slug}/calendar/{wall}", get(of_wall))
        .route("/jobs/{slug}/calendar/{wall}/{date}", get(of_day))
}

/// What may be asked beside the address.
type Asked = Query<BTreeMap<String, String>>;

/// A run of the plan as a page looks at it.
struct View<'p> {
    job: &'p Standing,
    who: &'p Visitor,
    plan: &'p Plan,
    run: &'p Run,
    from: Date,
    to: Date,
    /// The day it is, if it lies within.
    today: Option<Date>,
}

impl<'p> View<'p> {
    /// The year asked for, else the middle one; `None` if the plan has nothing to show.
    fn of(job: &'p Standing, who: &'p Visitor, saved: &'p Saved, asked: &BTreeMap<String, String>) -> Result<Option<Self>, PageError> {
        let plan = &saved.plan;
        let year = match asked.get("year") {
            Some(text) => Some(text.parse::<i32>().map_err(|_| PageError::nothing("weather year"))?),
            None => None,
        };
        let Some(run) = plan.programme.run(year) else {
            return if year.is_some() { Err(PageError::nothing("weather year")) } else { Ok(None) };
        };
        let Some((from, to)) = days::whole_weeks(run) else { return Ok(None) };
        let now = jiff::ZonedDateTime::now().date();
        Ok(Some(Self { job, who, plan, run, from, to, today: (from <= now && now <= to).then_some(now) }))
    }

    /// The address that answers why, where the plan can and whoever looks may ask.
    fn why(&self, path: &str) -> Option<String> {
        let told = self.is_middle() && self.who.sees_prices() && self.plan.reckonings.contains_key(path);
        told.then(|| self.job.address(&format!("why/{path}")))
    }

    fn is_middle(&self) -> bool {
        self.plan.programme.middle_year == Some(self.run.year)
    }

    /// Asks for the year in an address, where it is not the middle one.
    fn asking(&self) -> String {
        if self.is_middle() { String::new() } else { format!("?year={}", self.run.year) }
    }

    fn wall_address(&self, wall: &str) -> String {
        format!("{}{}", self.job.address(&format!("calendar/{wall}")), self.asking())
    }

    fn day_address(&self, wall: &str, date: Date) -> String {
        format!("{}{}", self.job.address(&format!("calendar/{wall}/{date}")), self.asking())
    }

    fn wall(&self, slug: &str) -> Result<&'p WallRun, PageError> {
        self.run.walls.iter().find(|wall| wall.slug == slug).ok_or_else(|| PageError::nothing("wall"))
    }

    /// The year in words.
    fn year_words(&self) -> String {
        if self.plan.programme.gaps_by == "rule-of-thumb" {
            return "by rule of thumb, without weather".to_owned();
        }
        let middle = if self.is_middle() { ", the middle year" } else { "" };
        format!("in the weather of {}{middle}", self.run.year)
    }
}

async fn calendar(State(app): State<App>, who: Visitor, Address(slug): Address<String>, Query(asked): Asked) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let body = match &job.saved {
        Some(saved) => match View::of(&job, &who, saved, &asked)? {
            Some(view) => sheet(&view, asked.get("walls").and_then(|text| text.parse().ok()).unwrap_or(1)),
            None => nothing(&saved.plan),
        },
        None => crate::pages::unplanned(&job),
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "calendar", title: "Calendar of coats", body }))
}

async fn of_wall(
    State(app): State<App>,
    who: Visitor,
    Address((slug, wall)): Address<(String, String)>,
    Query(asked): Asked,
) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let saved = job.saved.as_ref().ok_or_else(|| PageError::nothing("plan"))?;
    let view = View::of(&job, &who, saved, &asked)?.ok_or_else(|| PageError::nothing("day of work"))?;
    let body = diary::sheet(&view, view.wall(&wall)?);
    Ok(job_page(&Page { job: &job, who: &who, here: "calendar", title: "Calendar of a wall", body }))
}

async fn of_day(
    State(app): State<App>,
    who: Visitor,
    Address((slug, wall, date)): Address<(String, String, String)>,
    Query(asked): Asked,
) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let saved = job.saved.as_ref().ok_or_else(|| PageError::nothing("plan"))?;
    let view = View::of(&job, &who, saved, &asked)?.ok_or_else(|| PageError::nothing("day of work"))?;
    let date: Date = date.parse().map_err(|_| PageError::nothing("day"))?;
    if date < view.from || date > view.to {
        return Err(PageError::nothing("day of work"));
    }
    let body = one_day::sheet(&view, view.wall(&wall)?, date);
    Ok(job_page(&Page { job: &job, who: &who, here: "calendar", title: "A day of a wall", body }))
}

fn nothing(plan: &Plan) -> Markup {
    answer(
        "",
        &html! { "The plan holds no day of work." },
        &html! { (plan.programme.finish) ". " @if let Some(no) = &plan.programme.no_odds { (no) } },
    )
}

fn sheet(view: &View<'_>, group: usize) -> Markup {
    let groups = view.run.walls.len().div_ceil(WALLS_ON_A_SHEET).max(1);
    let from = (group.clamp(1, groups) - 1) * WALLS_ON_A_SHEET;
    let walls: Vec<&WallRun> = view.run.walls.iter().skip(from).take(WALLS_ON_A_SHEET).collect();
    let notes = html! {
        p { "Each wall grows outward from its stone, in true proportion; the black line falling through a coat is how far air has got. Below it a square for each day." }
        (marks::key())
    };
    let drawn = html! {
        (years(view))
        @if groups > 1 { (group_pick(view, groups, from / WALLS_ON_A_SHEET + 1)) }
        svg.hatches width="0" height="0" aria-hidden="true" { (marks::hatches()) }
        div.strips data-chart="" {
            p.reading { "Point at a square, or tab to the squares and step with the arrows: what the day holds, why it waits, and the weather." }
            (strip::spreads(view, &walls))
        }
        div.diaries { @for wall in &walls { (diary::table(view, wall, true)) } }
        (marks::letters(view.run))
        @if !view.is_middle() { p.note { "The front in the coats, the cover, the damping and the weather are kept day by day for the middle year alone; here are the days of work and of waiting of this one." } }
    };
    html! {
        (opening(view))
        (part("Coats, day by day", &notes, &drawn))
        (part("The same in words", &html! { p { "Every coat, its wait, and why." } }, &in_words(view)))
    }
}

/// The sentence that answers first.
fn opening(view: &View<'_>) -> Markup {
    let run = view.run;
    let start = view.plan.window.start;
    let longest = longest_wait(view);
    let gang = documents::words::parts(run.gang_days);
    let sentence = match run.finished {
        Some(finished) => {
            let span = u64::try_from(between(start, finished) + 1).unwrap_or(0);
            html! {
                (gang) " days of the gang’s work stand in " (span) "; the rest is waiting"
                @if let Some((words, wait)) = &longest { ", the longest " (wait) " days " (words) } "."
            }
        }
        None => {
            html! { (capital(&view.year_words())) " the work is not finished: " (run.unfinished.as_deref().unwrap_or("the plan does not say why.")) }
        }
    };
    let then = html! {
        @match run.finished {
            Some(_) if view.is_middle() => { (capital(&view.year_words())) ". " (view.plan.programme.sentence) }
            Some(finished) => { "From " (long_day(start)) " to " (long_day(finished)) ", " (view.year_words()) "." }
            None => {}
        }
    };
    let note = counted(usize::try_from((between(view.from, view.to) + 1) / 7).unwrap_or(0), "week", "weeks");
    answer(&format!("{}, {}.", capital(&note), span(view.from, view.to)), &sentence, &then)
}

/// The longest wait before a coat or limewash once work on its wall has begun, told, with its days.
fn longest_wait(view: &View<'_>) -> Option<(String, i64)> {
    let mut longest: Option<(String, i64)> = None;
    for wall in &view.run.walls {
        for task in wall.tasks.iter().filter(|task| task.slug != "preparation") {
            let waited = days_waited(task);
            if longest.as_ref().is_none_or(|(_, most)| waited > *most) {
                let why = documents::words::waits_in_brief(&as_planned(task));
                let words = format!(
                    "on the {} before its {}: {why}",
                    days::wall_name(view.plan, &wall.slug).to_lowercase(),
                    task.name.to_lowercase()
                );
                longest = Some((words, waited));
            }
        }
    }
    longest.filter(|(_, waited)| *waited > 0)
}

/// Waits as the documents word them.
fn as_planned(task: &Task) -> Vec<works::Wait> {
    let known = |wait: &crate::plan::Wait| Some(works::Wait { from: wait.from, to: wait.to, reason: days::reason(&wait.reason)? });
    task.waited.iter().filter_map(known).collect()
}

fn days_waited(task: &Task) -> i64 {
    documents::words::days_waited(&as_planned(task))
}

/// The years to choose from, each with its finish.
fn years(view: &View<'_>) -> Markup {
    let programme = &view.plan.programme;
    if programme.runs.len() < 2 {
        return html! {};
    }
    html! {
        nav aria-label="Weather year" {
            ul.yearpick {
                li.note { "Weather of" }
                @for run in &programme.runs {
                    @let here = (run.year == view.run.year).then_some("page");
                    @let ends = run.finished.map_or("not finished".to_owned(), |date| format!("finished {}", day(date)));
                    li { a href={ (view.job.address("calendar")) "?year=" (run.year) } aria-current=[here] title=(ends) { (run.year) @if Some(run.year) == programme.middle_year { " (middle)" } } }
                }
            }
        }
    }
}

fn group_pick(view: &View<'_>, groups: usize, here: usize) -> Markup {
    let year = if view.is_middle() { String::new() } else { format!("&year={}", view.run.year) };
    html! {
        nav aria-label="Walls shown" { ul.yearpick {
            li.note { "Walls" }
            @for group in 1..=groups {
                @let (first, last) = ((group - 1) * WALLS_ON_A_SHEET + 1, (group * WALLS_ON_A_SHEET).min(view.run.walls.len()));
                li { a href={ (view.job.address("calendar")) "?walls=" (group) (year) } aria-current=[(group == here).then_some("page")] { (first) " to " (last) } }
            }
        } }
    }
}

/// Every task with its wait and its reason.
fn in_words(view: &View<'_>) -> Markup {
    html! {
        table.stack {
            thead { tr { th { "Wall" } th { "What" } th { "Days" } th.n { "Waited before" } th { "Why so long" } th { "Next when" } } }
            tbody {
                @for wall in &view.run.walls {
                    @for (index, task) in wall.tasks.iter().enumerate() {
                        tr id=[(index == 0).then_some(&wall.slug)] {
                            td.nw data-l="Wall" { a href=(view.wall_address(&wall.slug)) { (days::wall_name(view.plan, &wall.slug)) } }
                            td data-l="What" { (task.name) @for part in &task.parts { br; span.soft { (span(part.from, part.to)) ": " (days::part_told(part)) } } }
                            td.nw data-l="Days" { a href=(view.day_address(&wall.slug, task.from)) { (span(task.from, task.to)) } }
                            td.n data-l="Waited" { @match days_waited(task) { 0 => "none", 1 => "1 day", more => { (more) " days" } } }
                            td data-l="Why" { (documents::words::waits_in_brief(&as_planned(task))) }
                            td data-l="Next when" { (next_when(view, wall, task)) }
                        }
                    }
                }
            }
        }
    }
}

/// What must be so before the next coat, with its why.
fn next_when(view: &View<'_>, wall: &WallRun, task: &Task) -> Markup {
    let path = format!("walls.{}.coats.{}.ready", wall.slug, task.slug);
    let Some(ready) = task.ready.filter(|_| is_coat(task)) else { return html! {} };
    let words = html! { "ready " (day(ready)) };
    html! {
        @if let Some(why) = view.why(&path) { a.why href=(why) { (words) } } @else { (words) }
        @if !task.decides.is_empty() { ", by " (task.decides) }
    }
}
