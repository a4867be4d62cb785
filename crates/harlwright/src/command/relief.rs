//! `harlwright relief`: from a scan of one of the job's walls to what straightening it takes, with a map of thickness.

use survey::{Gridded, Gridding, HeightField, Straightened, WallFound};

use super::straighten::{as_json, as_text, rows, ruling, usual};
use crate::arguments::ReliefArguments;
use crate::failure::Failure;
use crate::files::{open_job, print, read_scan, write_new};

/// Reads, places and grids the scan; rules it under every edge asked for.
pub fn run(asked: &ReliefArguments) -> Result<(), Failure> {
    let job = open_job(&asked.job)?;
    let wall = wall(&job.inputs.building.walls, &asked.wall)?;
    let name = asked.scan.display().to_string();
    let refused = |error: survey::ScanError| Failure::input(error.to_string(), "See docs/scans.md for what a scan must hold.");
    let cloud = survey::read_scan(&read_scan(&asked.scan)?, &name).map_err(refused)?;
    let gridding = Gridding { cell_m: asked.cell_mm / 1000.0, unit: asked.unit.map(Into::into), turned: asked.turned };
    let found = survey::grid(&cloud, wall, &gridding, &name).map_err(refused)?;
    let (laid, how) = usual(&found.field);
    let rows = rows(&found.field, &ruling(laid, &asked.coat), &asked.edge, asked.coat.dress_mm / 1000.0);
    if let (Some(path), Some(first)) = (&asked.svg, rows.first()) {
        write_new(path, map(wall, &found.field, &first.straightened).as_bytes())?;
    }
    if asked.coat.json {
        let mut result = as_json(&found.field, &rows);
        result["wall"] = wall.slug.clone().into();
        result["unit"] = found.unit.words().into();
        result["notes"] = found.notes.clone().into();
        result["dropped"] = serde_json::to_value(found.dropped).unwrap_or_default();
        return print(&result.to_string());
    }
    let head = format!("{name}: {} ({}), a grid of {:.0} mm", wall.name, cloud.format, asked.cell_mm);
    let mut text = as_text(&head, &found.field, how, &rows);
    text += &format!("\n{}\n", told(&found));
    if let Some(path) = &asked.svg {
        text += &format!("\nWritten: {}\n", path.display());
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

/// What was dropped and taken for granted, in words.
fn told(found: &Gridded) -> String {
    let mut text = format!("{}\n", found.dropped.words());
    text +=
        &format!("Taken in {}. The face strays {:.1} mm from its plane (root mean square).\n", found.unit.words(), 1000.0 * found.spread_m);
    for note in &found.notes {
        text += &format!("{note}\n");
    }
    text
}

/// Steps of the map: up to this thickness, mm, and its tone.
const TONES: [(f64, &str); 7] = [
    (3.0, "#f6efe0"),
    (6.0, "#ead9b7"),
    (10.0, "#d9bd88"),
    (15.0, "#c29a5c"),
    (20.0, "#a3753b"),
    (30.0, "#7d5226"),
    (f64::INFINITY, "#4d2f14"),
];

/// Most tiles of the map along the wall.
const MOST_TILES: usize = 160;

/// The map of thickness, weather side, foot of the wall below.
fn map(wall: &WallFound, field: &HeightField, found: &Straightened) -> String {
    let tile = field.columns.div_ceil(MOST_TILES).max(1);
    let (across, up) = (field.columns.div_ceil(tile), field.rows.div_ceil(tile));
    let side = 800.0 / across as f64;
    let height = side * up as f64;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 840 {:.0}\" font-family=\"sans-serif\" font-size=\"13\">\n<title>{}: thickness under an edge of {} m</title>\n<rect width=\"840\" height=\"{:.0}\" fill=\"#ffffff\"/>\n",
        height + 90.0,
        escaped(&wall.name),
        found.edge_m,
        height + 90.0
    );
    for row in 0..up {
        for column in 0..across {
            if let Some(thickness_m) = mean_of_tile(field, &found.thickness_m, (column * tile, row * tile), tile) {
                let tone = TONES.iter().find(|(to, _)| 1000.0 * thickness_m < *to).map_or("#4d2f14", |(_, tone)| tone);
                let (x, y) = (20.0 + side * column as f64, 20.0 + side * (up - 1 - row) as f64);
                svg += &format!("<rect x=\"{x:.2}\" y=\"{y:.2}\" width=\"{side:.2}\" height=\"{side:.2}\" fill=\"{tone}\"/>\n");
            }
        }
    }
    for (index, (to, tone)) in TONES.iter().enumerate() {
        let x = 20.0 + 110.0 * index as f64;
        let words = if to.is_finite() { format!("to {to:.0} mm") } else { "more".to_owned() };
        svg += &format!("<rect x=\"{x}\" y=\"{:.1}\" width=\"16\" height=\"16\" fill=\"{tone}\" stroke=\"#555555\"/>", height + 36.0);
        svg += &format!("<text x=\"{}\" y=\"{:.1}\">{words}</text>\n", x + 22.0, height + 49.0);
    }
    let words = format!(
        "{}: mean {:.1} mm, deepest {:.1} mm under an edge of {} m",
        wall.name,
        1000.0 * found.mean_m,
        1000.0 * found.deepest_m,
        found.edge_m
    );
    svg + &format!("<text x=\"20\" y=\"{:.1}\">{}</text>\n</svg>\n", height + 78.0, escaped(&words))
}

fn mean_of_tile(field: &HeightField, thickness_m: &[f64], (left, foot): (usize, usize), tile: usize) -> Option<f64> {
    let (mut sum, mut count) = (0.0, 0.0);
    for row in foot..(foot + tile).min(field.rows) {
        for thickness in &thickness_m[row * field.columns + left..row * field.columns + (left + tile).min(field.columns)] {
            if thickness.is_finite() {
                sum += thickness;
                count += 1.0;
            }
        }
    }
    (count > 0.0).then(|| sum / count)
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
