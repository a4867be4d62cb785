//! `harlwright order-of-work`: which wall first and when to start, the best order with a riskier and a safer one beside it.

use std::path::Path;

use works::{Judged, OrderOfWork, Ordered, order_of_work};

use crate::failure::Failure;
use crate::files::{open, print};
use crate::progress::Bar;
use crate::words::{heading, long_date, short_date, with_cautions, wrapped};

/// Finds and prints the orders.
pub fn run(path: &Path, bar: &Bar) -> Result<(), Failure> {
    let opened = open(path)?;
    let inputs = &opened.job.inputs;
    let found = order_of_work(inputs, opened.weather.as_ref(), bar);
    bar.clear();
    let found = found.map_err(Failure::from)?;
    let name = |slug: &str| inputs.building.walls.iter().find(|wall| wall.slug == slug).map_or(slug.to_owned(), |wall| wall.name.clone());
    print(&with_cautions(&told(&found, &name), &inputs.catalogue.cautions, "order-of-work"))
}

fn told(found: &OrderOfWork, name: &dyn Fn(&str) -> String) -> String {
    let lived = match found.years {
        0 => "by rule of thumb, without odds".to_owned(),
        years => format!("each lived day by day in the same {years} weather years"),
    };
    let mut text = format!("{}\n", heading("Order of work"));
    text += &format!(
        "{}\n",
        wrapped(
            &format!("Orders compared {lived}. Cost is before tax; a day beyond the client's date is charged at {}.", found.late_a_day),
            0
        )
    );
    text += &format!("\n{}\n  {}\n", heading("As the job stands"), wrapped(&comes_to(&found.as_it_stands, found.years), 2));
    for ordered in &found.orders {
        text += &one(ordered, found, name);
    }
    for missing in &found.missing {
        text += &format!("\n{}\n", wrapped(missing, 0));
    }
    text += "\n";
    for note in &found.notes {
        text += &format!("- {}\n", wrapped(note, 2));
    }
    text
}

fn one(ordered: &Ordered, found: &OrderOfWork, name: &dyn Fn(&str) -> String) -> String {
    let walls: Vec<String> = ordered.walls.iter().map(|slug| name(slug)).collect();
    let mut text = format!("\n{} ({})\n", heading(ordered.name), ordered.gaps);
    text += &format!("  {}\n", wrapped(&format!("Start {}: {}.", long_date(ordered.start), walls.join(", then ")), 2));
    text += &format!("  {}\n", wrapped(&comes_to(&ordered.judged, found.years), 2));
    text += &format!("  {}\n", wrapped(&ordered.known, 2));
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
        "Expected cost {}; {finish}{latest}{kept}{unfinished}; {:.1} visits, {:.1} coats lost on average.",
        judged.expected.to_tens(),
        judged.visits,
        judged.lost
    )
}
