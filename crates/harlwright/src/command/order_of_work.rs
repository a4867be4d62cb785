//! `harlwright order-of-work`: which wall first, when to start and which gang where, the best order with a riskier and a safer one beside it; and the job
//! with one of them taken into it.

use std::path::Path;

use job::Taken;
use works::{Judged, OrderOfWork, Ordered, order_of_work};

use crate::arguments::Take;
use crate::failure::Failure;
use crate::files::{open, print, write_new};
use crate::progress::Bar;
use crate::words::{heading, long_date, short_date, with_cautions, wrapped};

/// Finds and prints the orders; writes the job with one taken in where a file is named.
pub fn run(path: &Path, out: Option<&Path>, take: Take, bar: &Bar) -> Result<(), Failure> {
    let prints_job = out.is_some_and(|out| out == Path::new("-"));
    if let Some(out) = out.filter(|out| !prints_job && out.exists()) {
        return Err(Failure::input(format!("{} exists already, and is left as it is.", out.display()), "Name another file."));
    }
    let opened = open(path)?;
    let inputs = &opened.job.inputs;
    let found = order_of_work(inputs, opened.weather.as_ref(), bar);
    bar.clear();
    let found = found.map_err(Failure::from)?;
    let name = |slug: &str| inputs.building.walls.iter().find(|wall| wall.slug == slug).map_or(slug.to_owned(), |wall| wall.name.clone());
    let gang = |number: usize| inputs.gangs.get(number).map_or(String::new(), |gang| gang.name.clone());
    let mut text = told(&found, &name, &gang);
    if let Some(out) = out {
        let job = taken(&opened.job.text, &found, take)?;
        if prints_job {
            return print(&job);
        }
        write_new(out, job.as_bytes())?;
        text += &format!("\nThe order is taken into {}. {} is as it was.\n", out.display(), path.display());
    }
    print(&with_cautions(&text, &inputs.catalogue.cautions, "order-of-work"))
}

/// The job with one of the orders taken in.
fn taken(text: &str, found: &OrderOfWork, take: Take) -> Result<String, Failure> {
    let begins = match take {
        Take::Best => "Best",
        Take::Riskier => "Cheaper",
        Take::Safer => "Safer",
    };
    let ordered = found.orders.iter().find(|ordered| ordered.name.starts_with(begins)).ok_or_else(|| {
        Failure::input(format!("There is no such order. {}", found.missing.join(" ")), "Leave out --take, so that the best is taken.")
    })?;
    let taken =
        Taken { walls: ordered.walls.clone(), start: ordered.start, scaffold_from: ordered.scaffold_from, gangs: ordered.gangs.clone() };
    job::with_order(text, &taken).map_err(|why| Failure::input(why, "Take the order in by hand."))
}

fn told(found: &OrderOfWork, name: &dyn Fn(&str) -> String, gang: &dyn Fn(usize) -> String) -> String {
    let lived = match found.years {
        0 => "by rule of thumb, without odds".to_owned(),
        years => format!("each lived day by day in the same {years} weather years"),
    };
    let percent = found.risk_percent();
    let charges = format!(
        "{} orders compared, {lived}. What is made least is the mean cost before tax with two stated charges: {} for each day beyond the client's date, and {percent} % of \
         what the dearest quarter of the years costs above the mean.",
        found.lived, found.late_a_day
    );
    let mut text = format!("{}\n{}\n", heading("Order of work"), wrapped(&charges, 0));
    text += &format!("\n{}\n  {}\n", heading("As the job stands"), wrapped(&comes_to(&found.as_it_stands, found.years), 2));
    for ordered in &found.orders {
        text += &one(ordered, found, name, gang);
    }
    if !found.missing.is_empty() {
        text.push('\n');
    }
    for missing in &found.missing {
        text += &format!("{}\n", wrapped(missing, 0));
    }
    text += &format!("\n{}\n", heading("What the solver found, and what that came to"));
    for solved in &found.solved {
        let says = format!("Where {}: {} Lived, it comes to {}.", solved.gaps, solved.known, solved.judged.expected.to_tens());
        text += &format!("  {}\n", wrapped(&says, 2));
    }
    text.push('\n');
    for note in &found.notes {
        text += &format!("- {}\n", wrapped(note, 2));
    }
    text
}

fn one(ordered: &Ordered, found: &OrderOfWork, name: &dyn Fn(&str) -> String, gang: &dyn Fn(usize) -> String) -> String {
    let walls: Vec<String> = ordered.walls.iter().map(|slug| name(slug)).collect();
    let mut text = format!("\n{}\n", heading(ordered.name));
    text += &format!("  {}\n", wrapped(&format!("Start {}: {}.", long_date(ordered.start), walls.join(", then ")), 2));
    if !ordered.gangs.is_empty() {
        let given: Vec<String> = ordered.gangs.iter().map(|(wall, number)| format!("{} by {}", name(wall), gang(*number))).collect();
        text += &format!("  {}\n", wrapped(&format!("Gangs: {}.", given.join(", ")), 2));
    }
    for says in [&ordered.differs, &comes_to(&ordered.judged, found.years), &ordered.known] {
        if !says.is_empty() {
            text += &format!("  {}\n", wrapped(says, 2));
        }
    }
    for piece in &ordered.pieces {
        text += &format!("    {} to {}  {} ({})\n", short_date(piece.from), short_date(piece.to), piece.name, piece.gang);
    }
    text
}

fn comes_to(judged: &Judged, years: u32) -> String {
    let finish = judged
        .middle
        .map_or("not finished this season in the middle year".to_owned(), |day| format!("finished {} in the middle year", long_date(day)));
    let latest = judged.latest.filter(|_| years > 1).map_or(String::new(), |day| format!(", {} at the latest", short_date(day)));
    let kept = judged.kept.filter(|_| years > 0).map_or(String::new(), |kept| format!(", by the client's date in {kept} of {years} years"));
    let unfinished = if judged.unfinished > 0 { format!(", not finished in {} years", judged.unfinished) } else { String::new() };
    format!(
        "Expected {}: cost {}, lateness {}, risk {}; {finish}{latest}{kept}{unfinished}; {:.1} visits, {:.1} coats lost on average.",
        judged.expected.to_tens(),
        judged.cost.to_tens(),
        judged.late.to_tens(),
        judged.risk.to_tens(),
        judged.visits,
        judged.lost
    )
}
