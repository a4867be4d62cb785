//! `harlwright straighten`: what straightening takes on a bare table of offsets, for one or more lengths of edge.

use serde_json::json;
use survey::{Dressing, Flatness, HeightField, Laid, Ruling, Straightened};

use crate::arguments::{CoatArguments, StraightenArguments};
use crate::failure::Failure;
use crate::files::{print, read_text};
use crate::words::wrapped;

/// Lengths of edge with which flatness is found, m.
const JUDGED_M: [f64; 2] = [1.8, 2.0];

/// Straightens the offsets under every edge asked for.
pub fn run(asked: &StraightenArguments) -> Result<(), Failure> {
    let name = asked.offsets.display().to_string();
    let text = read_text(&asked.offsets, "table of offsets")?;
    let field = survey::read_offsets(&text, &name, asked.cell_mm / 1000.0).map_err(|faults| {
        let words: Vec<String> = faults.iter().map(ToString::to_string).collect();
        Failure::input(
            words.join("\n"),
            "One row of offsets in mm a line, the lowest row first, larger where the wall is hollower; see docs/straight-edge.md.",
        )
    })?;
    let (laid, how) = asked.laid.map_or_else(|| usual(&field), |laid| (laid.into(), ""));
    let ruling = ruling(laid, &asked.coat);
    let head = format!("{name}: {} by {} offsets {:.0} mm apart", field.columns, field.rows, 1000.0 * field.spacing_m);
    let rows = rows(&field, &ruling, &asked.edge_m, asked.coat.dress_mm / 1000.0);
    print(&if asked.coat.json { as_json(&field, &rows).to_string() } else { as_text(&head, &field, how, &rows) })
}

/// The ruling of a coat as asked for on the command line.
pub(super) fn ruling(laid: Laid, coat: &CoatArguments) -> Ruling {
    let metres = |millimetres: f64| millimetres / 1000.0;
    Ruling { edge_m: 0.0, laid, least_cover_m: metres(coat.cover_mm), pass_m: metres(coat.pass_mm), pinning_m: metres(coat.pinning_mm) }
}

/// The field straightened under each edge, and judged.
pub(super) fn rows(field: &HeightField, ruling: &Ruling, edges_m: &[f64], dress_m: f64) -> Vec<Row> {
    survey::straighten_each(field, ruling, edges_m).into_iter().map(|found| row(field, ruling, found, dress_m)).collect()
}

fn before(field: &HeightField) -> [Flatness; 2] {
    JUDGED_M.map(|edge| survey::flatness(field, edge))
}

/// One length of edge.
pub(super) struct Row {
    pub(super) straightened: Straightened,
    average_mean_m: f64,
    after: [Flatness; 2],
    dressing: Dressing,
}

fn row(field: &HeightField, ruling: &Ruling, straightened: Straightened, dress_m: f64) -> Row {
    let ruling = Ruling { edge_m: straightened.edge_m, ..*ruling };
    let heights_m: Vec<f64> = field.heights_m.iter().zip(&straightened.thickness_m).map(|(wall, thickness)| wall + thickness).collect();
    let face = HeightField { heights_m, ..*field };
    let average = survey::mean_face(field, ruling.edge_m, ruling.laid);
    let fills: Vec<f64> = average.iter().zip(&field.heights_m).map(|(face, wall)| face - wall).filter(|fill| fill.is_finite()).collect();
    Row {
        average_mean_m: fills.iter().sum::<f64>() / fills.len().max(1) as f64 + ruling.least_cover_m,
        after: JUDGED_M.map(|edge| survey::flatness(&face, edge)),
        dressing: survey::dressing(field, &ruling, dress_m),
        straightened,
    }
}

/// Both ways on a table with rows and columns enough to rule in; along its one line otherwise.
pub(super) fn usual(field: &HeightField) -> (Laid, &'static str) {
    match (field.columns > 2, field.rows > 2) {
        (true, true) => (Laid::BothWays, ", the edge laid across and up, the lower face taken"),
        (false, true) => (Laid::Up, ", the edge laid up"),
        _ => (Laid::Across, ", the edge laid across"),
    }
}

/// The result in JSON, metres.
pub(super) fn as_json(field: &HeightField, rows: &[Row]) -> serde_json::Value {
    let edges: Vec<_> = rows
        .iter()
        .map(|row| {
            json!({
                "straightened": row.straightened, "mean_over_placings_m": row.average_mean_m, "flatness_after": row.after,
                "dressing": row.dressing,
            })
        })
        .collect();
    json!({
        "columns": field.columns, "rows": field.rows, "cell_m": field.spacing_m, "flatness_before": before(field), "edges": edges,
    })
}

/// The result in words, after a head that says what was straightened.
pub(super) fn as_text(head: &str, field: &HeightField, laid: &str, rows: &[Row]) -> String {
    let area = rows.first().map_or(0.0, |row| row.straightened.area_m2);
    let mut text = format!("{head}, {area:.2} m² of wall{laid}.\nBefore: {}\n\n", flatness_words(&before(field)));
    text += "edge m   mean mm   10–90 % mm   deepest mm   litres   of it dubbing   passes   mean over placings mm\n";
    for row in rows {
        let s = &row.straightened;
        text += &format!(
            "{:6.2}   {:7.1}   {:>10}   {:10.1}   {:6.0}   {:13.0}   {:6}   {:21.1}\n",
            s.edge_m,
            1000.0 * s.mean_m,
            format!("{:.1}–{:.1}", 1000.0 * s.percentiles_m[0], 1000.0 * s.percentiles_m[2]),
            1000.0 * s.deepest_m,
            1000.0 * s.volume_m3,
            1000.0 * s.dubbing_m3,
            s.passes.len(),
            1000.0 * row.average_mean_m
        );
    }
    for row in rows {
        text += &format!("\nUnder {} m:\n  {}\n", row.straightened.edge_m, wrapped(&format!("After: {}", flatness_words(&row.after)), 2));
        text += &format!("  {}\n", wrapped(&dressing_words(&row.dressing), 2));
    }
    text + "\nThe face before waste and suction; offsets miss what lies between them. The definition stands in docs/straight-edge.md.\n"
}

fn flatness_words(found: &[Flatness; 2]) -> String {
    let words: Vec<String> = found
        .iter()
        .map(|flatness| {
            if flatness.placings == 0 {
                return format!("the wall is too short for an edge of {} m", flatness.edge_m);
            }
            let row = flatness.keeps.map_or("keeps no row for walls".to_owned(), |row| format!("keeps {}", row.words()));
            format!(
                "gap under {} m: {:.1} mm in the middle, {:.1} at most; {row} of DIN 18202 table 3",
                flatness.edge_m,
                1000.0 * flatness.percentiles_m[1],
                1000.0 * flatness.greatest_m
            )
        })
        .collect();
    words.join("; ") + "."
}

fn dressing_words(dressing: &Dressing) -> String {
    let Some(first) = dressing.spots.first() else { return "No high spots worth dressing off.".to_owned() };
    format!(
        "Dressing up to {:.0} mm off the high spots ({:.3} m²) would save {:.1} litres; the one that saves most ({:.1} litres) stands {:.0} mm proud, {:.2} m along and {:.2} m up.",
        1000.0 * dressing.depth_m,
        dressing.dressed_m2,
        1000.0 * dressing.saved_m3,
        1000.0 * first.saved_m3,
        1000.0 * first.proud_m,
        first.along_m,
        first.up_m
    )
}
