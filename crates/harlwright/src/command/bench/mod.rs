//! `harlwright sand`, `lime`, `slake` and `mortar`: the materials bench in words or JSON. Cautions stand before anything that burns.

mod card;
mod limes;
mod sands;

use std::path::Path;

use jiff::civil::Date;
use job::Problem;
use job::bench::ArrivalReport;
use materials::Catalogue;
use materials::bench::{ACID_CAUTIONS, SLAKING_CAUTIONS};
use reckoning::Finding;
use serde::Serialize;
use serde_json::{Value, json};
use works::Compared;

use crate::arguments::{BenchArguments, BenchInJob, LimeArguments};
use crate::failure::Failure;
use crate::files::{located, open, print, read_text};
use crate::progress::Bar;
use crate::words::{heading, long_date, with_cautions, wrapped};

/// What a sand is good for.
pub fn sand(asked: &BenchInJob, bar: &Bar) -> Result<(), Failure> {
    let report = read(&asked.bench, job::bench::read_sand)?;
    let compared = against(asked, report.arrival.as_ref(), bar)?;
    let said = sands::sand(&report) + &compared.as_ref().map_or(String::new(), in_the_job);
    show(asked.bench.json, "sand", &[], &report, &said, compared.map(|compared| ("job", json!(compared))))
}

/// What limes are worth, with a batch card to print.
pub fn lime(asked: &LimeArguments, bar: &Bar) -> Result<(), Failure> {
    let report = read(&asked.bench.bench, job::bench::read_lime)?;
    let compared = against(&asked.bench, report.arrival.as_ref(), bar)?;
    if let Some(path) = &asked.card {
        card::write(&report, path)?;
    }
    let written = asked.card.as_ref().map_or(String::new(), |path| format!("\nWritten: {}\n", path.display()));
    let said = limes::lime(&report) + &compared.as_ref().map_or(String::new(), in_the_job) + &written;
    show(asked.bench.bench.json, "lime", &[], &report, &said, compared.map(|compared| ("job", json!(compared))))
}

/// What a bath would do, and when to slake for a job.
pub fn slake(asked: &BenchInJob, bar: &Bar) -> Result<(), Failure> {
    let mut report = read(&asked.bench, job::bench::read_slake)?;
    let mut first = None;
    if let Some(path) = &asked.job {
        let plan = planned(path, bar)?;
        let Some((day, what)) = works::first_putty_day(&plan) else {
            return Err(Failure::input("The job uses no putty, so nothing has to be slaked for it.", "Leave --job out."));
        };
        report.slake_on = job::bench::slake_days(day);
        first = Some(format!("  Its first putty goes on the wall on {} in the middle year: {what}.\n", long_date(day)));
    }
    let said = limes::slake(&report) + &first.unwrap_or_default();
    show(asked.bench.json, "slake", &SLAKING_CAUTIONS, &report, &said, None)
}

/// What an old mortar was.
pub fn mortar(asked: &BenchArguments) -> Result<(), Failure> {
    let report = read(asked, job::bench::read_mortar)?;
    show(asked.json, "mortar", &ACID_CAUTIONS, &report, &sands::mortar(&report), None)
}

/// Reads and works a file of the bench.
fn read<T>(asked: &BenchArguments, read: fn(&str, &str) -> Result<T, Vec<Problem>>) -> Result<T, Failure> {
    let text = read_text(&asked.file, "bench file")?;
    let name = asked.file.display().to_string();
    read(&text, &name).map_err(|problems| located(&problems, &name, &text))
}

fn planned(path: &Path, bar: &Bar) -> Result<works::Plan, Failure> {
    let opened = open(path)?;
    let plan = works::plan(&opened.job.inputs, opened.weather.as_ref(), bar);
    bar.clear();
    plan.map_err(|error| Failure::input(error.to_string(), ""))
}

/// A delivery held against a job: the job planned as it stands and with what came.
fn against(asked: &BenchInJob, arrival: Option<&ArrivalReport>, bar: &Bar) -> Result<Option<Compared>, Failure> {
    let Some(path) = &asked.job else { return Ok(None) };
    let Some(arrival) = arrival else {
        return Err(Failure::input(
            "The file does not say what was ordered, so there is nothing to hold against the job.",
            "Add [ordered] with lime, sand and parts; see docs/bench.md.",
        ));
    };
    let opened = open(path)?;
    let mut after = opened.job.inputs.clone();
    arrival.put_in(&mut after.catalogue);
    let compared = works::compared(&opened.job.inputs, &after, opened.weather.as_ref(), bar);
    bar.clear();
    compared.map(Some).map_err(|error| Failure::input(error.to_string(), ""))
}

/// What a delivery does to a job, in words.
fn in_the_job(compared: &Compared) -> String {
    let finish = |day: Option<Date>| day.map_or("not this season".to_owned(), long_date);
    let later = match compared.later_days {
        Some(0) | None => String::new(),
        Some(days) if days > 0 => format!(", {days} days later"),
        Some(days) => format!(", {} days sooner", -days),
    };
    format!(
        "\n{}\n  finished  {} as ordered; {} with what came, in the same boxes{later}\n  price     {} before tax as ordered; {} with what came\n  mortar    {:.2} and {:.2} m³\n",
        heading("In the job"),
        finish(compared.finish[0]),
        finish(compared.finish[1]),
        compared.before_tax[0],
        compared.before_tax[1],
        compared.mortar_m3[0],
        compared.mortar_m3[1]
    )
}

/// Prints: cautions first, then what was found, then the cautions its words call for.
fn show<T: Serialize>(
    as_json: bool,
    verb: &str,
    first: &[&str],
    report: &T,
    said: &str,
    beside: Option<(&str, Value)>,
) -> Result<(), Failure> {
    let catalogue = Catalogue::shipped();
    if !as_json {
        let before: String = first.iter().map(|caution| format!("  {}\n", wrapped(caution, 2))).collect();
        let before = if before.is_empty() { before } else { format!("{}\n{before}\n", heading("Before anything")) };
        return print(&with_cautions(&format!("{before}{said}"), &catalogue.cautions, verb));
    }
    let due = catalogue.cautions.iter().filter(|caution| caution.is_always_shown_in(verb) || caution.is_called_for_by(said));
    let cautions: Vec<&str> = first.iter().copied().chain(due.map(|caution| caution.words.as_str())).collect();
    let report: Value =
        serde_json::to_value(report).map_err(|error| Failure::machine(format!("The result could not be written as JSON: {error}.")))?;
    let mut whole = json!({ "cautions": cautions, "verb": verb, "report": report });
    if let Some((name, value)) = beside {
        whole[name] = value;
    }
    print(&whole.to_string())
}

/// Findings in words, the heaviest first.
fn findings(findings: &[Finding]) -> String {
    let mut text = String::new();
    for finding in findings {
        text += &format!("  {}  {}\n", heading(finding.grade.word()), wrapped(&finding.says, 4));
        if !finding.remedy.is_empty() {
            text += &format!("    {}\n    {}\n", wrapped(&finding.reason, 4), wrapped(&format!("Do: {}", finding.remedy), 4));
        }
    }
    text
}

/// A delivery in words.
fn arrival(report: &ArrivalReport) -> String {
    let arrival = &report.arrival;
    let mut text = format!("\n{}\n", heading("What came, against what was ordered"));
    text += &format!("  ordered   {} 1 : {:.2} {}\n", report.mix.lime, report.mix.sand_parts, report.mix.sand);
    for (word, mortar) in [("ordered", &arrival.ordered), ("unchanged", &arrival.same_parts), ("adjusted", &arrival.adjusted)] {
        text += &format!(
            "  {word:<9} 1 : {:<5.2} lime {:.0} kg, sand {:.0} kg, water {:.0} kg, portlandite {:.0} mol to a cubic metre of mortar; {:.0} % pores hardened\n",
            mortar.mix.sand_parts,
            mortar.lime_kg_m3,
            mortar.sand_kg_m3,
            mortar.water_added_kg_m3,
            mortar.portlandite_mol_m3,
            100.0 * mortar.hardened.porosity
        );
    }
    text += &format!(
        "  The adjusted mix takes {:.2} times the lime, and the money for it; the air must turn {:.2} times the portlandite, and the gap between coats grows or shrinks with it.\n",
        arrival.lime_ratio, arrival.portlandite_ratio
    );
    if let Some(money) = &report.money {
        text += &format!(
            "  Lime and sand of a cubic metre: {} as ordered, {} in the same boxes, {} adjusted.\n",
            money.ordered, money.same_parts, money.adjusted
        );
    }
    text += &findings(&arrival.findings);
    text + &format!("\n{}\n{}", heading("For the job file"), report.entry)
}

/// A figure, or a dash where it is not known.
fn figure(value: Option<f64>, places: usize) -> String {
    value.map_or("–".to_owned(), |value| format!("{value:.places$}"))
}
