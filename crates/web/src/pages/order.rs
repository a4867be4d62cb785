//! The order: what, how much, by when. Counted out in strokes as on a builder's slate, said so that it can be read over a telephone, and taken away
//! as a table. No price stands on it.

use std::collections::BTreeMap;

use axum::Router;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use jiff::civil::Date;
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::extract::Address;
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::plan::{OrderLine, Plan, Saved};
use crate::words::{capital, counted, day, long_day};
use crate::{App, PageError};

/// Strokes drawn for one line at most; above it a stroke stands for ten.
const MOST_STROKES: u32 = 200;

/// The sheet and the table.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/order", get(order)).route("/jobs/{slug}/order.csv", get(csv))
}

async fn order(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let body = match &job.saved {
        Some(saved) => sheet(&job, &who, saved),
        None => crate::pages::unplanned(&job),
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "order", title: "Order", body }))
}

async fn csv(State(app): State<App>, Address(slug): Address<String>) -> Result<Response, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let saved = job.saved.ok_or_else(|| PageError::nothing("plan"))?;
    let (_, sha256) = saved.files.iter().find(|(name, _)| name == "order.csv").cloned().ok_or_else(|| PageError::nothing("order"))?;
    let bytes = app.read(move |book| book.blob_bytes(&sha256)).await?;
    let named = format!("attachment; filename=\"{slug}-order-{}.csv\"", saved.number);
    Ok(([(header::CONTENT_TYPE, "text/csv; charset=utf-8".to_owned()), (header::CONTENT_DISPOSITION, named)], bytes).into_response())
}

fn sheet(job: &Standing, who: &Visitor, saved: &Saved) -> Markup {
    let plan = &saved.plan;
    let mut by_day: BTreeMap<Date, Vec<&OrderLine>> = BTreeMap::new();
    for line in &plan.order.lines {
        by_day.entry(line.on_site_by).or_default().push(line);
    }
    let take = html! {
        p.does {
            a.btn.first href=(job.address("order.csv")) { "The order as a table (CSV)" }
            @if who.sees_prices() { a.btn href=(job.address("pack.zip")) { "The whole pack" } }
        }
    };
    html! {
        (opening(plan, by_day.len()))
        (part("Counted out", &html! { p { "A stroke for each unit, a bundle for five. The date is the day it must be on site." } }, &html! { (tallies(&by_day)) (take) }))
        @if !plan.order.lay_down.is_empty() { (part("Laid down", &html! { p { "What must lie and mature before it is thrown." } }, &laid_down(job, plan))) }
        (part("To read out", &html! { p { "As it is said over a telephone. The job names no supplier; the printed sheet leaves room to write one in." } }, &read_out(plan)))
        (part("All of it", &html! { p { "A dotted figure can be asked why." } }, &table(job, who, plan)))
    }
}

fn opening(plan: &Plan, dates: usize) -> Markup {
    let lines = &plan.order.lines;
    let Some(first) = lines.iter().min_by_key(|line| line.on_site_by) else {
        return answer("", &html! { "Nothing has to be ordered." }, &html! { (plan.programme.finish) "." });
    };
    let sentence = html! { "Order first " (amount(first)) " of " (crate::plan::days::small(&first.name)) ", to be on site by " (long_day(first.on_site_by)) "." };
    let then = html! {
        (capital(&counted(lines.len(), "thing", "things"))) " in all, on " (counted(dates, "date", "dates")) "."
        @if let Some(lay) = plan.order.lay_down.iter().min_by_key(|lay| lay.by) { " By " (long_day(lay.by)) ": " (lay.what) "." }
    };
    answer("", &sentence, &then)
}

/// "105 × 20 litre tub", "8 m³".
fn amount(line: &OrderLine) -> String {
    let is_measure = ["m³", "m²", "m", "kg", "litres", "l"].contains(&line.unit_name.as_str());
    format!("{}{}{}", line.units, if is_measure { " " } else { " × " }, line.unit_name)
}

fn tallies(by_day: &BTreeMap<Date, Vec<&OrderLine>>) -> Markup {
    html! {
        ol.slate {
            @for (date, lines) in by_day {
                li {
                    h3 { time datetime=(date) { (day(*date)) } }
                    ul { @for line in lines { li { p { b { (line.name) } span.soft { (amount(line)) } } (strokes(line.units)) } } }
                }
            }
        }
    }
}

/// Strokes in bundles of five.
fn strokes(units: u32) -> Markup {
    let each = if units > MOST_STROKES { 10 } else { 1 };
    let count = units.div_ceil(each).min(MOST_STROKES);
    html! {
        p.tally {
            @for bundle in 0..count.div_ceil(5) { (gate((count - bundle * 5).min(5))) }
            @if each > 1 { span.note { "a stroke for ten" } }
        }
    }
}

fn gate(strokes: u32) -> Markup {
    let upright: String = (0..strokes.min(4)).map(|stroke| format!("M{} 2 l-1 18", 5 + stroke * 5)).collect();
    html! { svg width="28" height="22" viewBox="0 0 28 22" aria-hidden="true" { path d=(upright) {} @if strokes == 5 { path d="M1 17 L26 5" {} } } }
}

fn laid_down(job: &Standing, plan: &Plan) -> Markup {
    html! {
        table.stack {
            thead { tr { th { "By" } th { "What" } th { "Why" } } }
            tbody { @for (index, lay) in plan.order.lay_down.iter().enumerate() {
                @let path = format!("before.lay-down-{}", index + 1);
                tr {
                    td.nw data-l="By" { (why(job, plan, &path, &day(lay.by))) }
                    td data-l="What" { (lay.what) }
                    td data-l="Why" { (lay.why) }
                }
            } }
        }
    }
}

/// Words that can be asked why, if the plan holds their reckoning.
fn why(job: &Standing, plan: &Plan, path: &str, words: &str) -> Markup {
    html! { @if plan.reckonings.contains_key(path) { a.why href=(job.address(&format!("why/{path}"))) { (words) } } @else { (words) } }
}

fn read_out(plan: &Plan) -> Markup {
    html! {
        ol.said.readout {
            @for line in &plan.order.lines {
                li {
                    span { b { (line.name) ": " (amount(line)) "." } " On site by " (long_day(line.on_site_by)) ". " (line.remark) "." }
                    span.write { "From" }
                }
            }
        }
    }
}

fn table(job: &Standing, who: &Visitor, plan: &Plan) -> Markup {
    let asked = |path: String, words: &str| {
        if who.sees_prices() {
            why(job, plan, &path, words)
        } else {
            html! { (words) }
        }
    };
    html! {
        table.stack {
            thead { tr { th { "On site by" } th { "What" } th.n { "Units" } th { "Unit" } th.n { "Need" } th { "First used for" } } }
            tbody { @for line in &plan.order.lines {
                tr {
                    td.nw data-l="By" { (asked(format!("order.{}.by", line.slug), &day(line.on_site_by))) }
                    td data-l="What" { (line.name) }
                    td.n data-l="Units" { (asked(format!("materials.{}.units", line.slug), &line.units.to_string())) }
                    td data-l="Unit" { (line.unit_name) }
                    td.n data-l="Need" { (asked(format!("materials.{}.amount", line.slug), &line.need)) }
                    td data-l="For" { (line.first_used_for) }
                }
            } }
        }
    }
}
