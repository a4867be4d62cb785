//! `harlwright relief`: from a scan of one of the job's walls to what straightening it takes, a map of thickness, and what each length of edge comes to in
//! mortar, passes, days and money.

use documents::figures::{Theme, edge_curve, relief_map};
use job::{Opened, ReliefForm, ReliefRead};
use serde_json::json;
use survey::{Gridding, WallFound};
use works::EdgeCurve;

use super::straighten::{Row, as_json, as_text, rows, ruling, usual};
use crate::arguments::ReliefArguments;
use crate::failure::Failure;
use crate::files::{open, print, read_scan, write_new};
use crate::progress::Bar;
use crate::words::wrapped;

/// Width of a picture, pixels.
const WIDE: f64 = 840.0;

/// Reads, places and grids the scan; rules it under every edge asked for; says what every length of edge comes to.
pub fn run(asked: &ReliefArguments, bar: &Bar) -> Result<(), Failure> {
    let mut opened = open(&asked.job)?;
    let wall = wall(&opened.job.inputs.building.walls, &asked.wall)?.clone();
    let name = asked.scan.display().to_string();
    let form = ReliefForm::Scan(Gridding { cell_m: asked.cell_mm / 1000.0, unit: asked.unit.map(Into::into), turned: asked.turned });
    let told = |faults: Vec<String>| Failure::input(faults.join("\n"), "See docs/scans.md for what a scan must hold.");
    let bytes = read_scan(&asked.scan)?;
    let read = job::read_relief(&wall, &form, &bytes, &name).map_err(told)?;
    let (laid, how) = usual(&read.field);
    let rows = rows(&read.field, &ruling(laid, &asked.coat), &asked.edge, asked.coat.dress_mm / 1000.0);
    let curve = if asked.no_curve { None } else { Some(curve(&mut opened, asked, &wall, &read, bar)?) };
    draw(asked, &opened, &wall, &read, &rows, curve.as_ref())?;
    if asked.coat.json {
        let mut result = as_json(&read.field, &rows);
        result["wall"] = wall.slug.clone().into();
        result["basis"] = read.basis.clone().into();
        result["notes"] = read.notes.clone().into();
        result["unit"] = read.unit.map(survey::LengthUnit::words).into();
        result["dropped"] = json!(read.dropped);
        if let Some(curve) = &curve {
            result["curve"] = json!(curve);
        }
        return print(&result.to_string());
    }
    let mut text = as_text(&format!("{}: {}", wall.name, read.basis), &read.field, how, &rows);
    for note in &read.notes {
        text += &format!("{}\n", wrapped(note, 0));
    }
    if let Some(curve) = &curve {
        text += &curve_text(curve);
    }
    for path in [&asked.svg, &asked.curve_svg, &asked.pdf].into_iter().flatten() {
        text += &format!("\nWritten: {}", path.display());
    }
    print(&text)
}

fn wall<'a>(walls: &'a [WallFound], asked: &str) -> Result<&'a WallFound, Failure> {
    let by_number = asked.parse::<usize>().ok().and_then(|number| number.checked_sub(1)).and_then(|index| walls.get(index));
    walls.iter().find(|wall| wall.slug == asked).or(by_number).ok_or_else(|| {
        let known: Vec<&str> = walls.iter().map(|wall| wall.slug.as_str()).collect();
        Failure::input(format!("The job has no wall “{asked}”."), format!("Its walls are: {}.", known.join(", ")))
    })
}

/// The curve of the wall as scanned, with the full run for the edges asked for if that is wished.
fn curve(opened: &mut Opened, asked: &ReliefArguments, wall: &WallFound, read: &ReliefRead, bar: &Bar) -> Result<EdgeCurve, Failure> {
    let failed = |error: works::WorksError| Failure::from(error);
    opened.job.put_relief(&wall.slug, read);
    let inputs = &opened.job.inputs;
    let table = works::ready_table(inputs, opened.weather.as_ref(), &wall.slug, bar).map_err(failed)?;
    let mut curve = works::edge_curve(inputs, &table, &works::EDGES_M).map_err(failed)?;
    if asked.full {
        for &edge_m in &asked.edge {
            let full = works::edge_by_the_weather(inputs, opened.weather.as_ref(), &wall.slug, edge_m, bar).map_err(failed)?;
            curve.choices.push(full);
        }
        curve.choices.sort_by(|one, other| one.edge_m.total_cmp(&other.edge_m).then(one.quick.cmp(&other.quick)));
    }
    bar.clear();
    Ok(curve)
}

fn draw(
    asked: &ReliefArguments,
    opened: &Opened,
    wall: &WallFound,
    read: &ReliefRead,
    rows: &[Row],
    curve: Option<&EdgeCurve>,
) -> Result<(), Failure> {
    let theme = Theme::daylight(WIDE);
    let first = rows.first().map(|row| &row.straightened);
    if let (Some(path), Some(first)) = (&asked.svg, first) {
        write_new(path, relief_map(&wall.name, &read.field, first, &theme).svg.as_bytes())?;
    }
    if let (Some(path), Some(curve)) = (&asked.curve_svg, curve) {
        write_new(path, edge_curve(curve, &theme).svg.as_bytes())?;
    }
    if let (Some(path), Some(curve), Some(drawn)) = (&asked.pdf, curve, first) {
        let about = &opened.job.inputs.about;
        write_new(path, &sheet(about, &wall.name, read, drawn, curve)?)?;
    }
    Ok(())
}

#[cfg(feature = "pdf")]
fn sheet(about: &works::About, wall: &str, read: &ReliefRead, drawn: &survey::Straightened, curve: &EdgeCurve) -> Result<Vec<u8>, Failure> {
    let sheet = documents::ReliefSheet { about, wall, field: &read.field, drawn, notes: &read.notes, curve };
    documents::relief_pdf(&sheet).map_err(|error| Failure::machine(error.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn sheet(_: &works::About, _: &str, _: &ReliefRead, _: &survey::Straightened, _: &EdgeCurve) -> Result<Vec<u8>, Failure> {
    Err(Failure::machine("This harlwright was built without PDF.".to_owned()))
}

/// The curve as a table.
fn curve_text(curve: &EdgeCurve) -> String {
    let mut text = String::from("\nedge m   mean mm   litres to mix   passes   days   price before tax\n");
    for choice in &curve.choices {
        let days = choice.days.map_or("–".to_owned(), |days| days.to_string());
        let money = choice.before_tax.as_ref().map_or("–".to_owned(), ToString::to_string);
        let own = if (choice.edge_m - curve.own_edge_m).abs() < 1e-9 { "  the job's own edge" } else { "" };
        let full = if choice.quick { "" } else { "  by the full run" };
        text += &format!(
            "{:6.2}   {:7.1}   {:13.0}   {:6}   {days:>4}   {money:>16}{own}{full}\n",
            choice.edge_m,
            1000.0 * choice.mean_m,
            1000.0 * choice.mortar_m3,
            choice.passes
        );
    }
    text + &format!("{}\n", wrapped(&format!("Days and money are {}. The full run (--full) takes their place.", curve.basis), 0))
}
