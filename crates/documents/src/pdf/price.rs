//! The price in parts: how it is made up, what the weather costs, by measure with its check, what is provisional, when it is paid, work beyond it and what is
//! not in it. It words and sets figures that the price holds and never works one out.

use serde_json::{Value, json};
use works::{Plan, Price, PriceLine};

use crate::words;

/// All parts of the price.
pub(super) fn part(plan: &Plan) -> Value {
    let price = &plan.price;
    let tax = (price.tax_rate * rust_decimal::Decimal::ONE_HUNDRED).normalize();
    json!({
        "answer": price_answer(price),
        "odds": price_spread(price),
        "walls": price.walls.iter().map(|wall| &wall.words).collect::<Vec<_>>(),
        "headings": headings(&price.lines),
        "sums": [
            json!(["Cost", exact(&price.cost), false]),
            json!(["Overhead and profit", exact(&price.overhead), false]),
            json!(["Before tax", exact(&price.before_tax), true]),
            json!([format!("Tax at {tax} %"), exact(&price.tax), false]),
            json!(["In all", exact(&price.total), true]),
        ],
        "given": price.not_given.is_none(),
        "weather": weather(price),
        "measure": measure(price),
        "provisional": provisional(price),
        "payments": payments(price),
        "daywork": price.quotation.daywork.iter().map(|(what, rate)| json!([what, exact(rate)])).collect::<Vec<_>>(),
        "exclusions": price.exclusions,
        "valid": format!("This price stands for {} days from {}.", price.valid_days, words::full_day(plan.about.dated)),
        "least": price.quotation.least_charge.as_ref().map(|least| format!("The least charge of a small job is {} before tax.", least.to_tens())),
    })
}

/// Lines under their headings.
fn headings(lines: &[PriceLine]) -> Vec<Value> {
    let mut headings: Vec<(String, Vec<Value>)> = Vec::new();
    for line in lines {
        let row = json!([line.words, quantity_words(line.quantity, &line.unit), exact(&line.rate), exact(&line.amount)]);
        match headings.iter_mut().find(|(heading, _)| *heading == line.heading) {
            Some((_, rows)) => rows.push(row),
            None => headings.push((line.heading.clone(), vec![row])),
        }
    }
    headings.iter().map(|(heading, rows)| json!({ "heading": words::capital(heading), "rows": rows })).collect()
}

/// The middle year, what weather and redoing add to it, and what a margin for so many years takes.
fn weather(price: &Price) -> Option<Value> {
    let risk = price.risk.as_ref()?;
    let tens = |money: &reckoning::Money| money.to_tens().to_string();
    let shares = risk.shares.iter().map(|share| {
        let of = |money: &Option<reckoning::Money>| money.as_ref().map_or("too few years".to_owned(), &tens);
        let chosen = risk.chosen == Some(share.years_in_20);
        json!([words::years_in_20(share.years_in_20), of(&share.price), of(&share.margin), chosen])
    });
    let stands = match risk.chosen {
        Some(years) => format!("The price carries a margin for {}.", words::years_in_20(years)),
        None => "The price stands at the mean of the years: no margin is asked for beyond it.".to_owned(),
    };
    Some(json!({
        "rows": [
            json!(["The middle year by its finish", tens(&risk.middle)]),
            json!(["Expected weather: the mean of the years less the middle one", tens(&risk.expected_weather)]),
            json!(["Coats to redo, in the mean of the years", tens(&risk.redo)]),
            json!(["Mean of the years", tens(&risk.mean)]),
        ],
        "shares": shares.collect::<Vec<_>>(),
        "stands": stands,
    }))
}

/// By the square metre and by the metre, and the check a mason makes in his head.
fn measure(price: &Price) -> Value {
    let quotation = &price.quotation;
    let rows = quotation.by_measure.iter().map(|line| {
        let money = |money: &Option<reckoning::Money>| money.as_ref().map_or(String::new(), exact);
        json!([line.words, format!("{:.1} {}", line.quantity, line.unit), money(&line.rate), money(&line.amount)])
    });
    let ours = whole(&quotation.without_scaffold_m2);
    let check = match &quotation.last_job_m2 {
        Some(last) => {
            format!("Without scaffold it comes to {ours} for each square metre of harl; the last such job came to {}.", whole(last))
        }
        None => format!("Without scaffold it comes to {ours} for each square metre of harl, to hold against the last such job."),
    };
    let added: Vec<Value> = price
        .lines
        .iter()
        .filter(|line| line.heading == "Height and access")
        .map(|line| json!([line.words, exact(&line.amount)]))
        .collect();
    json!({ "rows": rows.collect::<Vec<_>>(), "sum": exact(&price.before_tax), "check": check, "added": added })
}

/// Sums that stand until the wall is open, and what they may come to.
fn provisional(price: &Price) -> Value {
    let lines = price.lines.iter().filter(|line| line.heading == "Provisional");
    let rows = lines.map(|line| json!([line.words, quantity_words(line.quantity, &line.unit), exact(&line.rate), exact(&line.amount)]));
    let range = price.range.as_ref().map(|(low, high)| {
        format!("With every provisional sum at its ends the price lies between {} and {} before tax.", low.to_tens(), high.to_tens())
    });
    json!({ "rows": rows.collect::<Vec<_>>(), "range": range })
}

/// When what is paid.
fn payments(price: &Price) -> Value {
    let quotation = &price.quotation;
    let rows = quotation.stages.iter().map(|stage| {
        json!([
            stage.words,
            stage.on.map_or(String::new(), |on| format!("about {}", words::day(on))),
            exact(&stage.gross),
            exact(&stage.due)
        ])
    });
    let retention = quotation.retention.as_ref().map(|(amount, due)| {
        let due = due.map_or(String::new(), |due| format!(", due on {}", words::full_day(due)));
        format!("Retained: {}{due}.", exact(amount))
    });
    let worth = quotation.worth_at_start.as_ref().zip(quotation.interest).map(|(worth, interest)| {
        let percent = (interest * rust_decimal::Decimal::ONE_HUNDRED).normalize();
        format!("At {percent} % a year the payments are worth {} on the first day.", worth.to_tens())
    });
    json!({ "rows": rows.collect::<Vec<_>>(), "retains": quotation.retention.is_some(), "retention": retention, "worth": worth })
}

fn price_answer(price: &Price) -> String {
    match &price.not_given {
        Some(why) => format!("No price can be given: {why} The sums below are for the record."),
        None => format!(
            "{} before tax, {} with it: {} for each square metre of harl.",
            price.before_tax.to_tens(),
            price.total.to_tens(),
            whole(&price.per_m2)
        ),
    }
}

/// What weather and provisional sums may make of it; nothing for a price that is not given.
fn price_spread(price: &Price) -> Option<String> {
    if price.not_given.is_some() {
        return None;
    }
    let weather = price.eight_in_ten.as_ref().map(|most| {
        let most = most.to_tens();
        format!("In about eight weather years of ten it stays under {most} before tax; what weather adds is damping, visits and weeks of scaffold.")
    });
    let sums = price.range.as_ref().map(|(low, high)| {
        format!("With every provisional sum at its ends it lies between {} and {} before tax.", low.to_tens(), high.to_tens())
    });
    let spoken: Vec<String> = weather.into_iter().chain(sums).collect();
    (!spoken.is_empty()).then(|| spoken.join(" "))
}

/// Money with its hundredths, so that a column of it stands in line.
fn exact(money: &reckoning::Money) -> String {
    let cents = money.to_cents();
    if cents.amount.fract().is_zero() { format!("{cents}.00") } else { cents.to_string() }
}

/// Money to the whole unit.
fn whole(money: &reckoning::Money) -> reckoning::Money {
    let amount = money.amount.round_dp_with_strategy(0, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
    reckoning::Money::new(amount, money.currency.clone())
}

/// "46 × 20 litre tub", "704 hours", "6½ gang-days".
fn quantity_words(quantity: f64, unit: &str) -> String {
    let by = if unit.starts_with(|c: char| c.is_ascii_digit()) { "× " } else { "" };
    format!("{} {by}{unit}", words::quantity(quantity, unit))
}
