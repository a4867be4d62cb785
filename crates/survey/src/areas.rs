//! Areas of a wall: face, what is deducted for openings and bare margins, reveals, chimneys.

use crate::geometry::{Point, Rect, clipped_area, covered_area};
use crate::{Chimney, Opening, OpeningKind};

/// Place of an opening on the wall.
pub(crate) fn frame(opening: &Opening) -> Rect {
    Rect { left: opening.left_m, foot: opening.sill_m, right: opening.left_m + opening.width_m, head: opening.sill_m + opening.height_m }
}

/// True if a dressed margin runs under the opening too: it has no sill and does not stand on the base.
pub(crate) fn margin_below(opening: &Opening) -> bool {
    !opening.has_sill && opening.sill_m > 0.0 && !matches!(opening.kind, OpeningKind::Door | OpeningKind::CartDoor)
}

/// The opening with the dressed margin left bare round it.
pub(crate) fn void(opening: &Opening) -> Rect {
    let frame = frame(opening);
    let margin = opening.margin_m;
    let below = if margin_below(opening) { margin } else { 0.0 };
    Rect { left: frame.left - margin, foot: frame.foot - below, right: frame.right + margin, head: frame.head + margin }
}

/// True if the opening, with its margin, is large enough to be deducted.
pub(crate) fn is_deducted(opening: &Opening, corners: &[Point], small_opening_m2: f64) -> bool {
    clipped_area(corners, &void(opening)) >= small_opening_m2
}

/// Area deducted for openings and their bare margins, m².
pub(crate) fn deducted_m2(openings: &[Opening], corners: &[Point], small_opening_m2: f64) -> f64 {
    let voids: Vec<Rect> = openings.iter().filter(|o| is_deducted(o, corners, small_opening_m2)).map(void).collect();
    covered_area(corners, &voids)
}

/// Length of the reveals of an opening, m: both jambs, and the head if it is harled.
pub(crate) fn ingo_m(opening: &Opening) -> f64 {
    if opening.reveal_m > 0.0 { 2.0 * opening.height_m + if opening.head { opening.width_m } else { 0.0 } } else { 0.0 }
}

/// Area of the reveals, m²: those of openings that were deducted (an opening too small to deduct stands in for its own reveals).
pub(crate) fn reveal_m2(openings: &[Opening], corners: &[Point], small_opening_m2: f64) -> f64 {
    let mut areas: Vec<f64> =
        openings.iter().filter(|o| is_deducted(o, corners, small_opening_m2)).map(|o| o.reveal_m * ingo_m(o)).collect();
    areas.sort_by(f64::total_cmp);
    areas.iter().sum()
}

/// Faces of chimneys, m².
pub(crate) fn chimneys_m2(chimneys: &[Chimney]) -> f64 {
    let mut areas: Vec<f64> = chimneys.iter().map(|c| 2.0 * (c.length_m + c.width_m) * c.height_m).collect();
    areas.sort_by(f64::total_cmp);
    areas.iter().sum()
}
