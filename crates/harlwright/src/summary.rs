//! The plan on a terminal: the answer first, then what stands behind it, then what to do next. It words and aligns; it works nothing out.

use std::path::Path;

use reckoning::Grade;
use works::{GapsBy, Plan, WallRun, YearRun};

use crate::words::{heading, long_date, short_date, urgent, with_cautions, wrapped};

/// Findings shown in full; the rest are counted.
const FINDINGS_SHOWN: usize = 6;
/// Order lines shown; the rest are in the pack.
const ORDERS_SHOWN: usize = 8;

/// The whole summary.
pub fn of(plan: &Plan, job: &Path) -> String {
    let mut text = String::new();
    let invented = if plan.about.invented { " (invented: place, people, prices and weather)" } else { "" };
    text += &format!("{}, {}{invented}. Plan revision {}.\n\n", plan.about.name, plan.about.place, plan.about.revision);
    text += &format!("{}\n", wrapped(&answer(plan), 0));
    for part in [
        stops(plan),
        walls(plan),
        coats(plan),
        waits(plan),
        weather_costs(plan),
        terms(plan),
        decide(plan),
        swings(plan),
        first_orders(plan),
    ] {
        if !part.is_empty() {
            text += "\n";
            text += &part;
        }
    }
    text += &format!("\nReckoned from {}.\n", plan.basis.weather);
    text += &format!("Ask why: harlwright why {} finish     (without a path: all that can be asked)\n", job.display());
    with_cautions(&text, &plan.catalogue.cautions, "summary")
}

/// One sentence that answers when and how much.
fn answer(plan: &Plan) -> String {
    let start = long_date(plan.window.start);
    let run = middle(plan);
    if let Some(why) = run.and_then(|run| run.unfinished.as_ref()) {
        return format!("Started on {start}, {} is not finished: {why} No price is given for a job that does not end.", plan.about.name);
    }
    let finish = match (&plan.programme.odds, run.and_then(|run| run.finished)) {
        (Some(odds), _) => {
            format!("is finished by {} in {} years of {}", long_date(odds.eight_in_ten), odds.eight_in_ten_years, odds.years)
        }
        (None, Some(day)) => format!("is reckoned to finish on {}, without odds", long_date(day)),
        (None, None) => return format!("Started on {start}, {} is not finished in the season it was reckoned for.", plan.about.name),
    };
    let price = plan.price.before_tax.to_tens();
    let spread =
        plan.price.eight_in_ten.as_ref().map_or(String::new(), |most| format!("; 8 years in 10 it stays under {}", most.to_tens()));
    let sums = plan.price.range.as_ref().map_or(String::new(), |(low, high)| {
        format!(" With provisional sums at their ends it lies between {} and {}.", low.to_tens(), high.to_tens())
    });
    let none = plan.programme.no_odds.as_ref().map_or(String::new(), |why| format!(" {why}"));
    format!("Started on {start}, {} {finish}. The price stands at {price} before tax{spread}.{sums}{none}", plan.about.name)
}

fn middle(plan: &Plan) -> Option<&YearRun> {
    plan.programme.runs.get(plan.programme.middle)
}

fn stops(plan: &Plan) -> String {
    let stops = plan.findings.iter().filter(|finding| finding.grade == Grade::Stop);
    let lines = stops.map(|stop| format!("{}  {}\n      Do: {}\n", urgent("STOP"), wrapped(&stop.says, 6), wrapped(&stop.remedy, 6)));
    lines.collect()
}

fn walls(plan: &Plan) -> String {
    let Some(run) = middle(plan) else { return String::new() };
    let title = match plan.programme.gaps_by {
        GapsBy::Engine => "Walls, in the middle year",
        GapsBy::RuleOfThumb => "Walls, by rule of thumb",
    };
    let mut text = format!("{}\n", heading(title));
    let widest = plan.survey.building.walls.iter().map(|wall| wall.name.chars().count()).max().unwrap_or(0);
    for wall in &run.walls {
        text += &wall_line(plan, wall, widest);
    }
    text
}

fn wall_line(plan: &Plan, run: &WallRun, widest: usize) -> String {
    let name = plan.survey.building.walls.iter().find(|wall| wall.slug == run.slug).map_or(run.slug.as_str(), |wall| wall.name.as_str());
    let net = plan.survey.walls.iter().find(|wall| wall.slug == run.slug).map_or(0.0, |wall| wall.net_m2);
    let tasks: Vec<String> = run.tasks.iter().map(|task| format!("{} {}", task.name.to_lowercase(), short_date(task.from))).collect();
    format!("  {}\n", wrapped(&format!("{name:widest$} {net:6.1} m²  {}", tasks.join(", ")), widest + 14))
}

fn coats(plan: &Plan) -> String {
    let Some(first) = plan.specification.walls.first() else { return String::new() };
    let name = plan.survey.building.walls.first().map_or("", |wall| wall.name.as_str());
    let mut text = format!("{}\n", heading(&format!("Coats, on the {}", name.to_lowercase())));
    let widest = first.coats.iter().map(|coat| coat.name.chars().count()).max().unwrap_or(0).max("Limewash".len());
    for coat in &first.coats {
        let [_, middle, _] = coat.thickness_m;
        let line = format!(
            "{:widest$}  1 : {:<4} {:4.1} mm  {}, {}",
            coat.name,
            coat.mix.sand_parts,
            middle * 1000.0,
            plan.catalogue.limes.get(&coat.mix.lime).map_or(coat.mix.lime.as_str(), |lime| lime.name.as_str()),
            if coat.placing == works::Placing::Thrown { "thrown" } else { "laid" }
        );
        text += &format!("  {line}\n");
    }
    text += &format!("  {:widest$}  {} coats, {} of water to one of putty\n", "Limewash", first.limewash.coats, first.limewash.water_parts);
    text
}

fn waits(plan: &Plan) -> String {
    if plan.programme.waits_sentence.is_empty() {
        return String::new();
    }
    format!("{}\n  {}\n", heading("Why it takes so long"), wrapped(&plan.programme.waits_sentence, 2))
}

/// The middle year, what weather costs beyond it, and what the years come to.
fn weather_costs(plan: &Plan) -> String {
    let Some(risk) = &plan.price.risk else { return String::new() };
    let shares: Vec<String> = risk
        .shares
        .iter()
        .map(|share| {
            let words = documents::words::years_in_20(share.years_in_20);
            share.price.as_ref().map_or(format!("{words}: too few years to say"), |money| format!("{words}: {}", money.to_tens()))
        })
        .collect();
    let margin = match (&risk.margin, risk.chosen) {
        (Some(margin), Some(years)) => {
            format!(" A margin for {} is {} on the middle year.", documents::words::years_in_20(years), margin.to_tens())
        }
        _ => " No margin is asked for beyond that (rates.margin_years_in_20).".to_owned(),
    };
    let line = format!(
        "The middle year costs {} before tax, expected weather {} and coats to redo {}: in the mean {}. What is not passed in {}.{margin}",
        risk.middle.to_tens(),
        risk.expected_weather.to_tens(),
        risk.redo.to_tens(),
        risk.mean.to_tens(),
        shares.join("; ")
    );
    format!("{}\n  {}\n", heading("What the weather costs"), wrapped(&line, 2))
}

/// The price by measure, stages and terms.
fn terms(plan: &Plan) -> String {
    let quotation = &plan.price.quotation;
    if plan.price.not_given.is_some() || quotation.by_measure.is_empty() {
        return String::new();
    }
    let mut text = format!("{}\n", heading("Offered as"));
    for line in &quotation.by_measure {
        let rate = line.rate.as_ref().map_or(String::new(), |rate| format!(" at {rate}"));
        text += &format!("  {}\n", wrapped(&format!("{:.1} {}{rate}  {}", line.quantity, line.unit, line.words), 4));
    }
    let stages: Vec<String> = quotation.stages.iter().map(|stage| format!("{} {}", stage.words.to_lowercase(), stage.due)).collect();
    let retention = quotation.retention.as_ref().map_or(String::new(), |(amount, due)| {
        format!("; retained {amount}{}", due.map_or(String::new(), |due| format!(", due {}", long_date(due))))
    });
    text += &format!("  {}\n", wrapped(&format!("Paid by stages before tax: {}{retention}.", stages.join(", ")), 4));
    if let Some(worth) = &quotation.worth_at_start {
        text += &format!("  On the first day these payments are worth {worth} at the interest given.\n");
    }
    let daywork: Vec<String> = quotation.daywork.iter().map(|(words, rate)| format!("{} {rate}", words.to_lowercase())).collect();
    text += &format!(
        "  {}\n",
        wrapped(&format!("Beyond the quotation: {}. It stands for {} days.", daywork.join(", "), plan.price.valid_days), 4)
    );
    text
}

fn decide(plan: &Plan) -> String {
    let open: Vec<_> = plan.findings.iter().filter(|finding| matches!(finding.grade, Grade::Think)).collect();
    if open.is_empty() {
        return String::new();
    }
    let mut text = format!("{}\n", heading("To decide"));
    for finding in open.iter().take(FINDINGS_SHOWN) {
        text += &format!("  {}\n", wrapped(&format!("{} {}", finding.says, finding.remedy), 4));
    }
    if open.len() > FINDINGS_SHOWN {
        text += &format!("  and {} more: harlwright check\n", open.len() - FINDINGS_SHOWN);
    }
    text
}

fn swings(plan: &Plan) -> String {
    if plan.swings.is_empty() {
        return String::new();
    }
    let mut text = format!("{}\n", heading("Assumed, and worth ten minutes of measuring"));
    for swing in plan.swings.iter().take(3) {
        let line =
            format!("{} ({}): swings {:.0} days and {}. {}", swing.label, swing.assumed, swing.days, swing.money.to_tens(), swing.question);
        text += &format!("  {}\n", wrapped(&line, 4));
    }
    text
}

fn first_orders(plan: &Plan) -> String {
    if plan.order.lines.is_empty() {
        return String::new();
    }
    let mut text = format!("{}\n", heading("Order"));
    for lay in &plan.order.lay_down {
        text += &format!("  {}\n", wrapped(&format!("by {}  {}: {}", short_date(lay.by), lay.what, lay.why), 4));
    }
    for line in plan.order.lines.iter().take(ORDERS_SHOWN) {
        let words = format!("by {}  {} × {} {}", short_date(line.on_site_by), line.units, line.unit_name, line.name);
        text += &format!("  {}\n", wrapped(&words, 4));
    }
    if plan.order.lines.len() > ORDERS_SHOWN {
        text += &format!("  and {} more lines in order.csv\n", plan.order.lines.len() - ORDERS_SHOWN);
    }
    text
}
