//! The terms of a quotation: the price by measure, daywork, stage payments with what is retained, what they are worth today, and the least charge of a small
//! job. All of it follows from the price; none of it may change what the work costs but the least charge and the sums for height and access.

use jiff::civil::Date;
use reckoning::Money;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::{Pricing, decimal};
use crate::calendar::days_between;
use crate::order::kind_word;
use crate::sheet::{days_of_m2, measured};
use crate::{MeasureLine, PriceLine, Quotation, StagePayment, YearRun};

/// Height above which work goes slower, m (common practice, no source: above the second lift hoisting tells).
const HIGH_M: f64 = 6.0;
/// Days in a year, for interest.
const YEAR_DAYS: f64 = 365.0;

/// The present value of sums of money, each so many years from today, at a rate of interest a year: Σ sum ÷ (1 + rate)^years.
pub fn present_value(rate: f64, flows: &[(f64, f64)]) -> f64 {
    flows.iter().map(|(years, sum)| sum / (1.0 + rate).powf(*years)).sum()
}

/// Lines for height and for access; none where nothing is asked for.
pub(super) fn height_and_access(pricing: &Pricing, labour: &[PriceLine]) -> Vec<PriceLine> {
    let terms = &pricing.inputs.rates.terms;
    let mut lines = Vec::new();
    let labour: Decimal = labour.iter().map(|line| line.amount.amount).sum();
    let (high, all) = pricing.survey.walls.iter().fold((0.0, 0.0), |(high, all), wall| {
        let above = ((wall.top_m - HIGH_M) / wall.top_m.max(1e-9)).max(0.0);
        (high + above * wall.net_m2, all + wall.net_m2)
    });
    let amount = labour * decimal(high / f64::max(all, 1e-9), 4) * terms.height;
    if amount > Decimal::ZERO {
        let percent = (terms.height * Decimal::ONE_HUNDRED).normalize();
        let words = format!("Height: {percent} % on the labour of the {high:.0} m² above {HIGH_M:.0} m, hoisted and carried");
        lines.push(pricing.line("Height and access", words, (1.0, "sum", 0), amount, "price.height".to_owned()));
    }
    if terms.access > Decimal::ZERO {
        let words = "Access: getting plant, scaffold and materials to the walls".to_owned();
        lines.push(pricing.line("Height and access", words, (1.0, "sum", 0), terms.access, "price.access".to_owned()));
    }
    lines
}

/// Lines of what a visit costs beyond its hours: nights away, and half-days paid as the least day.
pub(super) fn stays(pricing: &Pricing, run: &YearRun) -> Vec<PriceLine> {
    let terms = &pricing.inputs.rates.terms;
    let mut lines = Vec::new();
    for (gang, gang_run) in pricing.inputs.gangs.iter().zip(&run.gangs) {
        let name = gang.name.to_lowercase().replace(' ', "-");
        if !gang.home_each_night.value && terms.lodging > Decimal::ZERO && gang_run.nights > 0 {
            let nights = f64::from(gang_run.nights * (gang.masons + gang.labourers));
            let words = format!("Lodging of {}: {} nights away, each hand", gang.name, gang_run.nights);
            lines.push(pricing.line("Lodging", words, (nights, "nights", 0), terms.lodging, format!("price.lodging.{name}")));
        }
        let short = terms.least_paid_h - decimal(pricing.time.hours / 2.0, 2);
        if short > Decimal::ZERO && gang_run.short_days > 0 {
            let words = format!("Half-days of {} paid as the least day of {} hours", gang.name, terms.least_paid_h.normalize());
            let days = (f64::from(gang_run.short_days), "days", 0);
            lines.push(pricing.line("Labour", words, days, short * pricing.gang_hour(gang), format!("price.least-day.{name}")));
        }
    }
    lines
}

/// The line that makes a small job up to its least charge.
pub(super) fn least_charge(pricing: &Pricing, cost: &Money) -> Option<PriceLine> {
    use rust_decimal::RoundingStrategy::ToPositiveInfinity;
    let least = pricing.inputs.rates.terms.least_charge;
    let short = least / (Decimal::ONE + pricing.inputs.rates.overhead.value) - cost.amount;
    let words = format!("Least charge of a small job: made up to {} before tax", pricing.money(least));
    let amount = short.round_dp_with_strategy(2, ToPositiveInfinity);
    (amount > Decimal::ZERO).then(|| pricing.line("Least charge", words, (1.0, "sum", 0), amount, "price.least-charge".to_owned()))
}

/// The quotation of a run at a price before tax that the lines come to.
pub(super) fn quotation(pricing: &Pricing, run: &YearRun, lines: &[PriceLine], before_tax: &Money) -> Quotation {
    let terms = &pricing.inputs.rates.terms;
    let (stages, retained) = stages(pricing, run, before_tax);
    let released = run.finished.map(|finished| months_after(finished, terms.retention_months));
    let worth = terms.interest.and_then(|interest| worth(pricing, interest, &stages, released.map(|on| (on, &retained))));
    Quotation {
        by_measure: by_measure(pricing, before_tax),
        without_scaffold_m2: without_scaffold(pricing, lines),
        last_job_m2: last_job(pricing),
        least_charge: (terms.least_charge > Decimal::ZERO).then(|| pricing.money(terms.least_charge)),
        daywork: daywork(pricing),
        stages,
        retention: (retained.amount > Decimal::ZERO).then_some((retained, released)),
        worth_at_start: worth,
        interest: terms.interest,
    }
}

/// A share of years as people say it: "8 years in 10", "19 years in 20".
pub(crate) fn years_in_words(years_in_20: u32) -> String {
    if years_in_20.is_multiple_of(2) { format!("{} years in 10", years_in_20 / 2) } else { format!("{years_in_20} years in 20") }
}

/// The same day of the month so many months later, or that month's last.
fn months_after(date: Date, months: u32) -> Date {
    date.saturating_add(jiff::Span::new().months(i64::from(months.min(1200))))
}

/// The price before tax for one m² with every line of scaffold left out, as the last such job is asked for.
fn without_scaffold(pricing: &Pricing, lines: &[PriceLine]) -> Money {
    let cost: Decimal = lines.iter().filter(|line| line.heading != "Scaffold").map(|line| line.amount.amount).sum();
    per_m2(pricing, pricing.with_overhead(&pricing.money(cost)).amount, pricing.quantities.area_m2)
        .unwrap_or_else(|| pricing.money(Decimal::ZERO))
}

/// What the last such job cost for one m², before tax and without scaffold.
pub(crate) fn last_job(pricing: &Pricing) -> Option<Money> {
    let job = pricing.inputs.rates.last_job.as_ref()?;
    per_m2(pricing, job.cost, job.area_m2)
}

/// Money for one m²; `None` where there is no area.
pub(super) fn per_m2(pricing: &Pricing, amount: Decimal, area_m2: f64) -> Option<Money> {
    let area = decimal(area_m2, 2);
    (area > Decimal::ZERO).then(|| pricing.money(amount / area))
}

/// The price shared over square metres of face and metres of ingo by the labour of each, and sills and margins told with their metres within the face.
fn by_measure(pricing: &Pricing, before_tax: &Money) -> Vec<MeasureLine> {
    let outputs = &pricing.inputs.rates.outputs;
    let (mut face_m2, mut ingo_m, mut sill_m, mut margin_m) = (0.0, 0.0, 0.0, 0.0);
    let (mut ingo_days, mut all_days) = (0.0, 0.0);
    for wall in &pricing.specification.walls {
        let Ok(size) = measured(pricing.survey, &wall.slug) else { continue };
        face_m2 += size.net_m2;
        (ingo_m, sill_m, margin_m) = (ingo_m + size.lines.ingo_m, sill_m + size.lines.sill_m, margin_m + size.lines.margin_m);
        let coats = wall.coats.len() as f64;
        let ingo = coats * size.lines.ingo_m / outputs.reveals_m.value.max(1e-9);
        let whole = size.net_m2 + size.reveal_m2;
        let face: f64 = wall.coats.iter().map(|coat| size.net_m2 * days_of_m2(&pricing.inputs.rates, coat.kind)).sum();
        let rest = whole / outputs.preparation.value.max(1e-9) + f64::from(wall.limewash.coats) * whole / outputs.limewash.value.max(1e-9);
        ingo_days += ingo;
        all_days += ingo + face + rest;
    }
    let line = |words: &str, quantity: f64, unit: &str, share: f64| {
        let amount = pricing.money(before_tax.amount * decimal(share, 6));
        let shown = decimal(quantity, 1);
        let rate = if shown > Decimal::ZERO { pricing.money(amount.amount / shown) } else { pricing.money(Decimal::ZERO) };
        MeasureLine { words: words.to_owned(), quantity, unit: unit.to_owned(), rate: Some(rate), amount: Some(amount) }
    };
    let told =
        |words: &str, quantity: f64| MeasureLine { words: words.to_owned(), quantity, unit: "m".to_owned(), rate: None, amount: None };
    let ingo = if all_days > 0.0 { ingo_days / all_days } else { 0.0 };
    let mut lines = vec![line("Face, all coats, limewash, scaffold, attendance and what weather costs", face_m2, "m²", 1.0 - ingo)];
    if ingo_m > 0.0 {
        lines.push(line("Ingoes of openings, all coats, before the face", ingo_m, "m", ingo));
    }
    if sill_m > 0.0 {
        lines.push(told("Sills, harl cut clean under them: within the face", sill_m));
    }
    if margin_m > 0.0 {
        lines.push(told("Margins and edges run: within the face", margin_m));
    }
    lines
}

/// Money an hour for work ordered beyond the quotation.
fn daywork(pricing: &Pricing) -> Vec<(String, Money)> {
    let rates = &pricing.inputs.rates;
    let on = Decimal::ONE + rates.terms.daywork_on;
    vec![
        ("Mason, an hour".to_owned(), pricing.money(rates.mason_h.value * on)),
        ("Labourer, an hour".to_owned(), pricing.money(rates.labourer_h.value * on)),
    ]
}

/// Stages with the share of the price each carries, by the days of work in it: tens of money, the last taking what is left; each less what is retained.
fn stages(pricing: &Pricing, run: &YearRun, before_tax: &Money) -> (Vec<StagePayment>, Money) {
    const KINDS: [(&str, &str); 5] = [
        ("preparation", "Preparation done"),
        ("scud", "Scud coat on"),
        ("straightening", "Straightening coat on"),
        ("finish", "Finish coat on"),
        ("limewash", "Limewash done, tie patches made good and scaffold away"),
    ];
    let mut days = [0.0; 5];
    let mut last: [Option<Date>; 5] = [None; 5];
    for (wall, task) in run.walls.iter().flat_map(|wall| wall.tasks.iter().map(move |task| (wall, task))) {
        let specified = pricing.specification.walls.iter().find(|specified| specified.slug == wall.slug);
        let coat = specified.and_then(|wall| wall.coats.iter().find(|coat| coat.slug == task.slug));
        let word = match (coat, task.slug.as_str()) {
            (Some(coat), _) => kind_word(coat.kind),
            (None, "tie-patches") => "limewash",
            (None, slug) => slug,
        };
        let Some(kind) = KINDS.iter().position(|(kind, _)| *kind == word) else { continue };
        days[kind] += task.gang_days;
        last[kind] = last[kind].max(Some(task.to));
    }
    let all: f64 = days.iter().sum::<f64>().max(1e-9);
    let with_work: Vec<usize> = (0..KINDS.len()).filter(|&kind| days[kind] > 0.0).collect();
    let mut left = before_tax.amount;
    let retention = pricing.inputs.rates.terms.retention;
    let mut retained = Decimal::ZERO;
    let mut stages = Vec::new();
    for &kind in &with_work {
        let is_last = with_work.last() == Some(&kind);
        let gross = if is_last { left } else { pricing.money(before_tax.amount * decimal(days[kind] / all, 6)).to_tens().amount };
        left -= gross;
        let held = pricing.money(gross * retention).amount;
        retained += held;
        stages.push(StagePayment {
            words: KINDS[kind].1.to_owned(),
            on: last[kind],
            gross: pricing.money(gross),
            due: pricing.money(gross - held),
        });
    }
    (stages, pricing.money(retained))
}

/// What the stage payments and the retention are worth on the first day of the job.
fn worth(pricing: &Pricing, interest: Decimal, stages: &[StagePayment], retained: Option<(Date, &Money)>) -> Option<Money> {
    let start = pricing.inputs.window.start;
    let years = |on: Date| days_between(start, on) as f64 / YEAR_DAYS;
    let mut flows: Vec<(f64, f64)> = Vec::new();
    for stage in stages {
        flows.push((years(stage.on?), stage.due.to_f64()));
    }
    flows.extend(retained.map(|(on, money)| (years(on), money.to_f64())));
    Some(Money::from_f64(present_value(interest.to_f64()?, &flows), pricing.inputs.rates.currency.clone()))
}
