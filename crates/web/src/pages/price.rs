//! The price: wall by wall in words first, then where the money goes, what the weather does to it, the lines, and what a client is told. Every figure
//! leads to its why. Never shown to a gang; nothing is worked out here.

use axum::Router;
use axum::extract::State;
use axum::routing::get;
use maud::{Markup, html};

use crate::doors::Priced;
use crate::extract::Address;
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::plan::{Money, Plan, Price, PriceLine, Saved};
use crate::words::trimmed;
use crate::{App, PageError};

mod terms;

/// The sheet.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/price", get(price))
}

async fn price(State(app): State<App>, Priced(who): Priced, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let body = match &job.saved {
        Some(saved) => sheet(&job, saved),
        None => crate::pages::unplanned(&job),
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "price", title: "Price", body }))
}

/// A figure that can be asked why, if the plan holds its reckoning.
fn why(job: &Standing, plan: &Plan, path: &str, words: &str) -> Markup {
    html! { @if plan.reckonings.contains_key(path) { a.why href=(job.address(&format!("why/{path}"))) { (words) } } @else { (words) } }
}

fn sheet(job: &Standing, saved: &Saved) -> Markup {
    let plan = &saved.plan;
    let price = &plan.price;
    html! {
        (opening(job, plan))
        (part("Wall by wall", &html! { p { "Before tax, each with its share of what all walls need." } }, &by_wall(job, plan)))
        (part("Where it goes", &html! { p { "Each line as long as its sum; all at one scale." } }, &lengths(price)))
        @if price.by_year.len() > 1 && price.not_given.is_none() {
            (part("What the weather does", &html! { p { "The same job in each weather year, before tax. One mark for a year." } }, &weather(job, plan)))
        }
        (part("Line by line", &html! { p { "Quantity, rate and sum. A dotted sum can be asked why." } }, &lines(job, plan)))
        (terms::parts(job, plan))
        (part("What clients ask", &html! { p { "Each in a line." } }, &quotation(plan)))
        (part("Take it away", &html! {}, &pack(job, saved)))
    }
}

fn opening(job: &Standing, plan: &Plan) -> Markup {
    let price = &plan.price;
    if let Some(not) = &price.not_given {
        return answer("", &html! { "No price can be given." }, &html! { (not) " The figures below stand for the record." });
    }
    let sentence = html! {
        "The price is " (why(job, plan, "price.before-tax", &price.before_tax.spoken().to_string())) " before tax"
        @if let Some(eight) = &price.eight_in_ten { "; in about 8 years of 10 it stays under " (why(job, plan, "price.eight-in-ten", &eight.spoken().to_string())) } "."
    };
    let then = html! {
        "With tax " (why(job, plan, "price.total", &price.total.spoken().to_string())) "; " (why(job, plan, "price.per-m2", &price.per_m2.to_string())) " a square metre of harl. It stands for " (price.valid_days) " days."
        @if let Some((low, high)) = &price.range { " Provisional sums can bring it to " (low.spoken()) " or to " (high.spoken()) "." }
    };
    answer("For whoever signs, not for the gang.", &sentence, &then)
}

fn by_wall(job: &Standing, plan: &Plan) -> Markup {
    html! {
        ul.said {
            @for wall in &plan.price.walls {
                // The words end with the sum, which stands apart here and can be asked why.
                @let words = wall.words.rsplit_once(": ").map_or(wall.words.as_str(), |(words, _)| words);
                li { span { (words) } b { (why(job, plan, &format!("walls.{}.price", wall.slug), &wall.amount.spoken().to_string())) } }
            }
        }
    }
}

/// The sums by heading as measured lengths.
fn lengths(price: &Price) -> Markup {
    let sums: Vec<(&str, Money)> = price
        .headings
        .iter()
        .map(|heading| (heading.heading.as_str(), price.in_its_currency(heading.amount)))
        .chain([("Overhead and profit", price.overhead.clone())])
        .collect();
    let longest = sums.iter().map(|(_, sum)| sum.length()).fold(1.0, f64::max);
    html! {
        @if price.headings.is_empty() { p.note { "This plan was saved before the lines were added up by their heading; reckon again to see it." } }
        @else {
            dl.lengths {
                @for (heading, sum) in &sums {
                    @let end = trimmed(sum.length().abs() / longest * 996.0 + 2.0, 1);
                    div {
                        dt { (heading) }
                        dd {
                            svg viewBox="0 0 1000 20" preserveAspectRatio="none" aria-hidden="true" { path d={ "M2 10 H" (end) " M2 3 V17 M" (end) " 3 V17" } {} }
                            b { (sum.spoken()) }
                        }
                    }
                }
            }
        }
    }
}

/// A mark for each weather year along the money.
fn weather(job: &Standing, plan: &Plan) -> Markup {
    let price = &plan.price;
    let years: Vec<(i32, &Money)> = plan.programme.runs.iter().map(|run| run.year).zip(&price.by_year).collect();
    let low = years.iter().map(|(_, sum)| sum.length()).chain([price.before_tax.length()]).fold(f64::INFINITY, f64::min);
    let high = years.iter().map(|(_, sum)| sum.length()).chain(price.eight_in_ten.iter().map(Money::length)).fold(low + 1.0, f64::max);
    let x = |sum: &Money| 60.0 + (sum.length() - low) / (high - low) * 760.0;
    let mut marks: Vec<(f64, u32, String)> = Vec::new();
    for (year, sum) in &years {
        let at = x(sum);
        let above = marks.iter().filter(|(other, ..)| (other - at).abs() < 15.0).count();
        marks.push((at, u32::try_from(above).unwrap_or(0), format!("{year}: {sum} before tax")));
    }
    let tall = marks.iter().map(|(_, above, _)| *above).max().unwrap_or(0);
    let line = 40.0 + 16.0 * f64::from(tall);
    let label = format!("Price in each of {} weather years, from {} to {}", years.len(), spoken(&years, low), spoken(&years, high));
    html! {
        div.wide data-chart="" {
            svg.sums viewBox={ "0 0 900 " (trimmed(line + 66.0, 0)) } role="group" aria-label=(label) {
                path.axis d={ "M40 " (line) " H860" } {}
                @for (at, above, says) in &marks { circle.year cx=(trimmed(*at, 1)) cy=(trimmed(line - 10.0 - 16.0 * f64::from(*above), 1)) r="6" data-says=(says) {} }
                @for (year, sum) in [years.iter().min_by(|a, b| a.1.length().total_cmp(&b.1.length())), years.iter().max_by(|a, b| a.1.length().total_cmp(&b.1.length()))].into_iter().flatten() {
                    text.end-label x=(trimmed(x(sum), 1)) y="14" text-anchor="middle" { (year) ", " (sum.spoken()) }
                }
                (flag(x(&price.before_tax), line, 0.0, &format!("the price, {}", price.before_tax.spoken())))
                @if let Some(eight) = &price.eight_in_ten { (flag(x(eight), line, 24.0, &format!("8 years of 10 stay under {}", eight.spoken()))) }
            }
            p.reading { "Point at a mark, or tab to it and step with the arrows." }
        }
        details.more {
            summary { "The years as a table" span.note { (years.len()) " years" } }
            table { thead { tr { th { "Weather of" } th.n { "Before tax" } } } tbody { @for (year, sum) in &years { tr { td { a href={ (job.address("calendar")) "?year=" (year) } { (year) } } td.n { (sum) } } } } }
        }
    }
}

fn spoken(years: &[(i32, &Money)], length: f64) -> String {
    years.iter().find(|(_, sum)| (sum.length() - length).abs() < 0.005).map_or(String::new(), |(_, sum)| sum.to_string())
}

fn flag(x: f64, line: f64, down: f64, says: &str) -> Markup {
    let (anchor, dx) = if x > 560.0 { ("end", -6.0) } else { ("start", 6.0) };
    html! {
        path.flag d={ "M" (trimmed(x, 1)) " " (trimmed(line, 1)) " V" (trimmed(line + 26.0 + down, 1)) } {}
        text x=(trimmed(x + dx, 1)) y=(trimmed(line + 26.0 + down, 1)) text-anchor=(anchor) { (says) }
    }
}

fn lines(job: &Standing, plan: &Plan) -> Markup {
    let price = &plan.price;
    let mut groups: Vec<(&str, Vec<&PriceLine>)> = Vec::new();
    for line in &price.lines {
        match groups.last_mut() {
            Some((heading, lines)) if *heading == line.heading => lines.push(line),
            _ => groups.push((&line.heading, vec![line])),
        }
    }
    let sum = |path: &str, words: &str, sum: &Money| html! { tr.sum { th scope="row" colspan="4" { (words) } td.n { (why(job, plan, path, &sum.to_string())) } } };
    html! {
        div.scrolls tabindex="0" role="region" aria-label="Lines of the price" {
            table {
                thead { tr { th { "What" } th.n { "Quantity" } th { "Unit" } th.n { "Rate" } th.n { "Sum" } } }
                @for (heading, lines) in &groups {
                    tbody {
                        tr.head { th scope="rowgroup" colspan="5" { (heading) } }
                        @for line in lines { tr { td { (line.words) } td.n { (documents::words::quantity(line.quantity, &line.unit)) } td { (line.unit) } td.n { (line.rate) } td.n { (why(job, plan, &line.path, &line.amount.to_string())) } } }
                    }
                }
                tbody {
                    (sum("price.cost", "Cost", &price.cost))
                    (sum("price.overhead", "Overhead and profit", &price.overhead))
                    (sum("price.before-tax", "Before tax", &price.before_tax))
                    (sum("price.tax", &format!("Tax at {} %", (price.tax_rate * rust_decimal::Decimal::ONE_HUNDRED).normalize()), &price.tax))
                    (sum("price.total", "With tax", &price.total))
                }
            }
        }
    }
}

fn quotation(plan: &Plan) -> Markup {
    html! {
        dl.quote { @for answer in &plan.answers { dt { (answer.question) } dd { (answer.answer) } } }
    }
}

fn pack(job: &Standing, saved: &Saved) -> Markup {
    html! {
        p { "The proposal, the site sheets, the order, the dates for a calendar, the plan for machines and the job file, as they were saved with plan revision " (saved.number) "." }
        p.does { a.btn.first href=(job.address("pack.zip")) { "The whole pack (ZIP)" } a.btn.quiet href=(job.address("order")) { "The order" } }
    }
}
