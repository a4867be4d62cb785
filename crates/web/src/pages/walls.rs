//! The first sheet of a job: the one sentence, the walls to scale with what comes next on each, when it ends, and what is worth measuring.

use axum::Router;
use axum::extract::State;
use axum::routing::get;
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::draw::elevation_of;
use crate::extract::Address;
use crate::layout::{Page, answer, chart, inline_svg, job_page, part};
use crate::pages::Standing;
use crate::plan::{Plan, Saved, Task, WallRun};
use crate::words::{day, long_day, span};
use crate::{App, PageError};

/// The sheet.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}", get(walls))
}

async fn walls(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let body = match &job.saved {
        Some(saved) => with_plan(&job, &who, saved),
        None => without_plan(&job),
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "", title: "Walls", body }))
}

/// What a page says of a job that has no plan yet.
pub fn without_plan(job: &Standing) -> Markup {
    let sentence = match (&job.under_way, &job.failed) {
        (Some(_), _) => "The first plan is being reckoned.",
        (None, Some(_)) => "The plan could not be reckoned.",
        (None, None) => "Nothing is reckoned yet.",
    };
    let then = html! {
        @match (&job.under_way, &job.failed) {
            (Some(progress), _) => {
                (progress.says()) " It takes some seconds. "
                a href=(job.address("")) { "Look again" } " if this page does not change by itself."
            }
            (None, Some(says)) => { (says) " " a href=(job.address("survey")) { "To the survey" } }
            (None, None) => "Look the survey through, then reckon the plan.",
        }
    };
    answer("", &html! { (sentence) }, &then)
}

/// The sentence that answers when and, to whom it may be told, how much.
fn with_plan(job: &Standing, who: &Visitor, saved: &Saved) -> Markup {
    let plan = &saved.plan;
    let why = |path: &str, words: &str| html! { a.why href=(job.address(&format!("why/{path}"))) { (words) } };
    let start = long_day(plan.window.start);
    let sentence = match (&plan.programme.odds, plan.programme.run(None)) {
        (Some(odds), _) => {
            html! { "Begun on " (start) ", the work is finished by " (long_day(odds.eight_in_ten)) " in " (why("finish.eight-in-ten", &format!("{} years of {}", odds.eight_in_ten_years, odds.years))) "." }
        }
        (None, Some(run)) if run.finished.is_some() => {
            html! { "Begun on " (start) ", the work is reckoned to finish on " (run.finished.map_or(String::new(), long_day)) ", without odds." }
        }
        _ => html! { "Begun on " (start) ", the work is not finished in its season." },
    };
    let then = html! {
        @if let Some(says) = &job.failed { b { "The last reckoning came to nothing: " } (says) " " }
        @if who.sees_prices() {
            @match &plan.price.not_given {
                Some(not) => { "No price can be given: " (not) },
                None => {
                    "The price stands at " (why("price.before-tax", &plan.price.before_tax.spoken().to_string())) " before tax"
                    @if let Some(eight) = &plan.price.eight_in_ten { "; in about 8 years of 10 it stays under " (why("price.eight-in-ten", &eight.spoken().to_string())) } "."
                }
            }
        }
        @if let Some(no) = &plan.programme.no_odds { " " (no) }
    };
    html! {
        (answer("The job on one sheet. A dotted figure can be asked why.", &sentence, &then))
        (drawn(job, saved))
        (part("What comes", &html! { p { "In the order of the days; " (plan.programme.middle_year.map_or("by rule of thumb".to_owned(), |year| format!("in the middle weather year, {year}"))) "." } }, &next(job, plan)))
        @if let Some(figure) = saved.figure("spread").filter(|_| plan.programme.odds.is_some()) {
            (part("When it ends", &html! { p { "One mark for each weather year." } }, &html! { (chart(figure, "spread", "When each weather year ends", "Touch a mark, or step along them with the arrow keys.")) (ends(plan)) }))
        }
        @if !plan.swings.is_empty() { (part("Worth measuring", &html! { p { "Assumed, and what swings most on it." } }, &swings(job, who, plan))) }
        (part("What clients ask", &html! {}, &html! { dl.quote { @for answer in plan.answers.iter().filter(|answer| who.sees_prices() || answer.question != "How much?") { dt { (answer.question) } dd { (answer.answer) } } } }))
    }
}

fn drawn(job: &Standing, saved: &Saved) -> Markup {
    let plan = &saved.plan;
    let notes = html! {
        p { "Walked round with the sun" span.not-narrow { ", all at one scale" } "." }
        @if let Some(figure) = saved.figure("site-plan") { (inline_svg(figure, "site")) }
    };
    let words = html! {
        @if let Some(figure) = saved.figure("walls") { figure.on-wide { (inline_svg(figure, "walls")) } }
        div.walls.words {
            @for wall in &plan.survey.walls {
                div.wall {
                    // On a phone each wall stands by itself: four in a row would be too small to read.
                    @if let Some(figure) = saved.figure(&elevation_of(&wall.slug)) { figure.on-narrow { (inline_svg(figure, &format!("elevation-{}", wall.slug))) } }
                    h3 { a href={ (job.address("calendar")) "#" (wall.slug) } { (wall.name) } }
                    @if let Some(measured) = &wall.measured { p.says { (crate::words::trimmed(measured.net_m2 + measured.reveal_m2, 1)) " m² to harl" } }
                    @if let Some(run) = plan.programme.run(None).and_then(|run| run.walls.iter().find(|run| run.slug == wall.slug)) { (coat_list(run)) }
                }
            }
        }
    };
    part("The walls", &notes, &words)
}

/// Tasks of a wall, the outermost first, as they lie on it.
fn coat_list(run: &WallRun) -> Markup {
    html! {
        ol.coatlist {
            @for task in run.tasks.iter().rev().filter(|task| task.slug != "tie-patches") {
                li { (swatch(task)) div { b { (task.name) } span.soft { (span(task.from, task.to)) } } }
            }
        }
    }
}

fn swatch(task: &Task) -> Markup {
    let tone = match task.slug.split('-').next().unwrap_or_default() {
        "scud" => "var(--scud)",
        "straightening" => "var(--straightening)",
        "finish" => "var(--finish)",
        "limewash" => "var(--white)",
        _ => "var(--stone)",
    };
    html! { svg width="38" height="18" viewBox="0 0 38 18" aria-hidden="true" { rect x="0.5" y="2.5" width="37" height="13" fill=(tone) stroke="var(--graphite)" {} } }
}

/// When the next coat may follow, and what decides it.
fn ready(task: &Task) -> String {
    match task.ready {
        Some(ready) if !task.decides.is_empty() => format!("Reckoned ready for the next coat on {}: {} decides.", day(ready), task.decides),
        _ => String::new(),
    }
}

/// The same as a table: when each weather year ends.
fn ends(plan: &Plan) -> Markup {
    html! {
        details.more {
            summary { "The same as a table" span.note { "when each weather year ends" } }
            table { thead { tr { th { "Weather year" } th { "Finished" } } } tbody { @for run in &plan.programme.runs { tr { td { (run.year) } td { (run.finished.map_or_else(|| run.unfinished.clone().unwrap_or_else(|| "not finished".to_owned()), long_day)) } } } } }
        }
    }
}

/// Everything to do, by date: what comes before the start, then the first days of every task.
fn next(job: &Standing, plan: &Plan) -> Markup {
    let mut rows: Vec<(jiff::civil::Date, String, String, String)> =
        plan.programme.before.iter().map(|before| (before.by, String::new(), before.what.clone(), before.why.clone())).collect();
    if let Some(run) = plan.programme.run(None) {
        for wall in &run.walls {
            rows.extend(wall.tasks.iter().map(|task| {
                let name = job.wall_name(&wall.slug).to_owned();
                (task.from, name, task.name.clone(), ready(task))
            }));
        }
    }
    rows.sort();
    html! {
        table.stack {
            thead { tr { th { "When" } th { "Wall" } th { "What" } th { "Why then, or what must be so" } } }
            tbody { @for (date, wall, what, why) in &rows { tr { td.nw data-l="When" { b { (day(*date)) } } td.nw data-l="Wall" { (wall) } td data-l="What" { (what) } td data-l="Why" { (why) } } } }
        }
    }
}

fn swings(job: &Standing, who: &Visitor, plan: &Plan) -> Markup {
    html! {
        ul.ask {
            @for swing in &plan.swings {
                li {
                    p { b { (swing.label) } br; span.soft { (swing.assumed) } }
                    p { (swing.question) }
                    p.nw { (swing.days.round()) " days" @if who.sees_prices() { ", " (swing.money.spoken()) } br; a href=(job.address(&crate::pages::survey_address(&swing.path))) { "Answer it" } }
                }
            }
        }
    }
}
