//! `harlwright sand`, `lime`, `slake` and `mortar`: the materials bench in words or JSON. Cautions stand before anything that burns.

mod limes;
mod sands;

use job::Problem;
use materials::Catalogue;
use materials::bench::{ACID_CAUTIONS, SLAKING_CAUTIONS};
use reckoning::Finding;
use serde::Serialize;
use serde_json::{Value, json};

use crate::arguments::BenchArguments;
use crate::failure::Failure;
use crate::files::{located, print, read_text};
use crate::words::{heading, with_cautions, wrapped};

/// What a sand is good for.
pub fn sand(asked: &BenchArguments) -> Result<(), Failure> {
    show(asked, "sand", &[], job::bench::read_sand, sands::sand)
}

/// What limes are worth.
pub fn lime(asked: &BenchArguments) -> Result<(), Failure> {
    show(asked, "lime", &[], job::bench::read_lime, limes::lime)
}

/// What a bath would do.
pub fn slake(asked: &BenchArguments) -> Result<(), Failure> {
    show(asked, "slake", &SLAKING_CAUTIONS, job::bench::read_slake, limes::slake)
}

/// What an old mortar was.
pub fn mortar(asked: &BenchArguments) -> Result<(), Failure> {
    show(asked, "mortar", &ACID_CAUTIONS, job::bench::read_mortar, sands::mortar)
}

/// Reads, works and prints: cautions first, then what was found, then the cautions its words call for.
fn show<T: Serialize>(
    asked: &BenchArguments,
    verb: &str,
    first: &[&str],
    read: fn(&str, &str) -> Result<T, Vec<Problem>>,
    words: fn(&T) -> String,
) -> Result<(), Failure> {
    let text = read_text(&asked.file, "bench file")?;
    let name = asked.file.display().to_string();
    let report = read(&text, &name).map_err(|problems| located(&problems, &name, &text))?;
    let said = words(&report);
    let catalogue = Catalogue::shipped();
    if !asked.json {
        let before: String = first.iter().map(|caution| format!("  {}\n", wrapped(caution, 2))).collect();
        let before = if before.is_empty() { before } else { format!("{}\n{before}\n", heading("Before anything")) };
        return print(&with_cautions(&format!("{before}{said}"), &catalogue.cautions, verb));
    }
    let due = catalogue.cautions.iter().filter(|caution| caution.is_always_shown_in(verb) || caution.is_called_for_by(&said));
    let cautions: Vec<&str> = first.iter().copied().chain(due.map(|caution| caution.words.as_str())).collect();
    let report: Value =
        serde_json::to_value(&report).map_err(|error| Failure::machine(format!("The result could not be written as JSON: {error}.")))?;
    print(&json!({ "cautions": cautions, "verb": verb, "report": report }).to_string())
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
fn arrival(report: &job::bench::ArrivalReport) -> String {
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
    text += &findings(&arrival.findings);
    text + &format!("\n{}\n{}", heading("For the job file"), report.entry)
}

/// A figure, or a dash where it is not known.
fn figure(value: Option<f64>, places: usize) -> String {
    value.map_or("–".to_owned(), |value| format!("{value:.places$}"))
}
