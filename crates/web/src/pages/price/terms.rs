//! The price in the parts a quotation has: what the weather costs, by measure with its check, provisional sums, payments, daywork, and what is not in it. It
//! shows what the plan holds and works nothing out.

use documents::words::years_in_20;
use maud::{Markup, html};

use super::why;
use crate::layout::part;
use crate::pages::Standing;
use crate::plan::{Plan, Price, Quotation, Risk};
use crate::words::{day, long_day, trimmed};

/// The parts, one after another; those an older plan lacks are left out.
pub(super) fn parts(job: &Standing, plan: &Plan) -> Markup {
    let price = &plan.price;
    let given = price.not_given.is_none();
    html! {
        @if let Some(risk) = price.risk.as_ref().filter(|_| given) {
            (part("What the weather costs", &html! { p { "Before tax, in tens. The same job in every weather year." } }, &weather(job, plan, risk)))
        }
        @if let Some(quotation) = &price.quotation {
            (part("By measure", &html! { p { "The same price shared by the square metre and the metre: a check on how it is made up." } }, &measure(job, plan, quotation)))
            (part("Provisional sums", &html! { p { "Settled when the wall is open." } }, &provisional(job, plan)))
            @if given {
                (part("Payments", &html! { p { "Before tax, which is added last to each. Dates are those of the middle year." } }, &payments(job, plan, quotation)))
            }
            (part("Terms", &html! {}, &terms(job, plan, quotation)))
        }
        (part("Not in the price", &html! {}, &html! { ul { @for left_out in &price.exclusions { li { (left_out) "." } } } }))
    }
}

fn weather(job: &Standing, plan: &Plan, risk: &Risk) -> Markup {
    let rows = [
        ("The middle year by its finish", "price.risk.middle", &risk.middle),
        ("Expected weather: the mean of the years less the middle one", "price.risk.expected-weather", &risk.expected_weather),
        ("Coats to redo, in the mean of the years", "price.risk.redo", &risk.redo),
        ("Mean of the years", "price.risk.mean", &risk.mean),
    ];
    html! {
        table { tbody { @for (what, path, sum) in rows { tr { th scope="row" { (what) } td.n { (why(job, plan, path, &sum.spoken().to_string())) } } } } }
        table.after {
            thead { tr { th { "Not passed in" } th.n { "Price" } th.n { "Margin" } } }
            tbody { @for share in &risk.shares { tr {
                th scope="row" { (years_in_20(share.years_in_20)) @if risk.chosen_years_in_20 == Some(share.years_in_20) { ", as priced" } }
                @for (kind, sum) in [("share", &share.price), ("margin", &share.margin)] {
                    td.n { @match sum { Some(sum) => (why(job, plan, &format!("price.risk.{kind}-{}", share.years_in_20), &sum.spoken().to_string())), None => "too few years" } }
                }
            } } }
        }
        p.note.after {
            @match risk.chosen_years_in_20 {
                Some(years) => { "The price carries a margin for " (years_in_20(years)) "." },
                None => "The price stands at the mean of the years: no margin is asked for beyond it.",
            }
            " A margin is what so many years take beyond the middle one, never less than what brings the price to the mean."
        }
    }
}

fn measure(job: &Standing, plan: &Plan, quotation: &Quotation) -> Markup {
    let added: Vec<_> = plan.price.lines.iter().filter(|line| line.heading == "Height and access").collect();
    html! {
        div.scrolls tabindex="0" role="region" aria-label="The price by measure" {
            table {
                thead { tr { th { "Measure" } th.n { "Quantity" } th { "Unit" } th.n { "Rate" } th.n { "Sum" } } }
                tbody {
                    @for (number, line) in quotation.by_measure.iter().enumerate() { tr {
                        td { (line.words) } td.n { (trimmed(line.quantity, 1)) } td { (line.unit) }
                        td.n { @if let Some(rate) = &line.rate { (rate) } }
                        td.n { @if let Some(amount) = &line.amount { (why(job, plan, &format!("price.by-measure.{}", number + 1), &amount.to_string())) } }
                    } }
                    tr.sum { th scope="row" colspan="4" { "Before tax" } td.n { (why(job, plan, "price.before-tax", &plan.price.before_tax.to_string())) } }
                }
            }
        }
        p.after {
            @if let Some(ours) = &quotation.without_scaffold_m2 {
                "Without scaffold it comes to " (why(job, plan, "price.without-scaffold-per-m2", &ours.to_string())) " a square metre of harl; "
                @match &quotation.last_job_m2 { Some(last) => { "the last such job came to " (last) "." }, None => "hold it against your last such job." }
            }
            @if added.is_empty() { " Nothing is added for height or for access." }
        }
        @if !added.is_empty() {
            h3 { "Height and access" }
            table { tbody { @for line in added { tr { th scope="row" { (line.words) } td.n { (why(job, plan, &line.path, &line.amount.to_string())) } } } } }
        }
    }
}

fn provisional(job: &Standing, plan: &Plan) -> Markup {
    let lines: Vec<_> = plan.price.lines.iter().filter(|line| line.heading == "Provisional").collect();
    html! {
        @if lines.is_empty() { p { "None: the walls are open and bare." } }
        @else {
            table { tbody { @for line in lines { tr { th scope="row" { (line.words) } td.n { (documents::words::grouped(line.quantity)) " " (line.unit) } td.n { (why(job, plan, &line.path, &line.amount.to_string())) } } } } }
        }
        @if let Some((low, high)) = &plan.price.range { p { "With all of them at their ends the price lies between " (low.spoken()) " and " (high.spoken()) " before tax." } }
    }
}

fn payments(job: &Standing, plan: &Plan, quotation: &Quotation) -> Markup {
    let retains = quotation.retention.is_some();
    html! {
        table {
            thead { tr { th { "Due when" } th { "About" } th.n { "Earned" } @if retains { th.n { "Due" } } } }
            tbody { @for (number, stage) in quotation.stages.iter().enumerate() { tr {
                th scope="row" { (stage.words) } td.nw { @if let Some(on) = stage.on { (day(on)) } }
                @if retains { td.n { (stage.gross) } }
                td.n { (why(job, plan, &format!("price.stages.{}", number + 1), &stage.due.to_string())) }
            } } }
        }
        p.after {
            @match &quotation.retention {
                Some(retention) => {
                    "Retained: " (why(job, plan, "price.retention", &retention.amount.to_string()))
                    @if let Some(due) = retention.due { ", due on " (long_day(due)) } "."
                },
                None => "Nothing is retained.",
            }
            @if let Some((worth, interest)) = quotation.worth_at_start.as_ref().zip(quotation.interest) {
                " At " ((interest * rust_decimal::Decimal::ONE_HUNDRED).normalize()) " % a year the payments are worth " (why(job, plan, "price.worth-at-start", &worth.spoken().to_string())) " on the first day."
            }
        }
    }
}

fn terms(job: &Standing, plan: &Plan, quotation: &Quotation) -> Markup {
    let Price { valid_days, .. } = &plan.price;
    html! {
        table {
            thead { tr { th { "Work ordered beyond this" } th.n { "An hour" } } }
            tbody { @for (number, line) in quotation.daywork_an_hour.iter().enumerate() { tr { th scope="row" { (line.words) } td.n { (why(job, plan, &format!("price.daywork.{}", number + 1), &line.rate.to_string())) } } } }
        }
        p.after {
            "The price stands for " (valid_days) " days; tax is added last."
            @if let Some(least) = &quotation.least_charge { " The least charge of a small job is " (least.spoken()) " before tax." }
        }
    }
}
