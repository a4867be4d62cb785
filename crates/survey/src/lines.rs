//! Metre lines: ingo, sill, skew, margin, quoin, wallhead, base. What the surveyor gave goes before what the outline implies.

use crate::areas::{ingo_m, margin_below};
use crate::geometry::{Point, extent, sides};
use crate::{MeasuredLines, Opening, OpeningKind, Outline, WallFound};

/// Slope below which an upper side is a wallhead and above which it is a skew: rise over run of 10°.
const LEVEL_SLOPE: f64 = 0.176_327;
/// Slope above which a side is an upright edge: rise over run of 80°.
const UPRIGHT_SLOPE: f64 = 5.671_282;

/// The lines of a wall whose outline has these corners, anticlockwise.
pub(crate) fn measure_lines(wall: &WallFound, corners: &[Point]) -> MeasuredLines {
    let mut lines = implied_by_outline(wall, corners);
    for opening in &wall.openings {
        lines.ingo_m += ingo_m(opening);
        lines.sill_m += if opening.has_sill { opening.width_m } else { 0.0 };
        lines.margin_m += margin_line_m(opening);
    }
    let given = &wall.lines;
    lines.skew_m = given.skew_m.unwrap_or(lines.skew_m);
    lines.margin_m = given.margin_m.unwrap_or(lines.margin_m);
    lines.quoin_m = given.quoin_m.unwrap_or(lines.quoin_m);
    lines.wallhead_m = given.wallhead_m.unwrap_or(lines.wallhead_m);
    lines.base_m = given.base_m.unwrap_or(lines.base_m);
    lines
}

/// Outer edge of a dressed margin, on which the harl dies, m.
fn margin_line_m(opening: &Opening) -> f64 {
    if opening.margin_m <= 0.0 {
        return 0.0;
    }
    let jamb = opening.height_m + opening.margin_m;
    let head = opening.width_m + 2.0 * opening.margin_m;
    if margin_below(opening) { 2.0 * (jamb + opening.margin_m) + 2.0 * head } else { 2.0 * jamb + head }
}

fn implied_by_outline(wall: &WallFound, corners: &[Point]) -> MeasuredLines {
    let mut lines = MeasuredLines::default();
    let foot = extent(corners).foot;
    for ((ax, ay), (bx, by)) in sides(corners) {
        let (run, rise) = ((bx - ax).abs(), (by - ay).abs());
        let length = (run * run + rise * rise).sqrt();
        let slope = rise / run;
        if run == 0.0 || slope >= UPRIGHT_SLOPE {
            lines.quoin_m += length;
        } else if bx > ax {
            lines.base_m += run;
        } else if slope <= LEVEL_SLOPE {
            lines.wallhead_m += length;
        } else {
            lines.skew_m += length;
        }
    }
    if matches!(wall.outline, Outline::Round { arc_deg, .. } if arc_deg >= 360.0) {
        lines.quoin_m = 0.0;
    }
    let doors: f64 = wall.openings.iter().filter(|o| stands_on_base(o, foot)).map(|o| o.width_m).sum();
    lines.base_m = (lines.base_m - doors).max(0.0);
    lines
}

fn stands_on_base(opening: &Opening, foot: f64) -> bool {
    opening.sill_m <= foot + 0.05 || matches!(opening.kind, OpeningKind::CartDoor)
}
