//! The bays of a wall: what lies between its ends and the places where a joint of the finish coat is hidden, each with its share of the face. It must never
//! say how large a bay may be: that hangs on the gang.

use crate::areas::{is_deducted, void};
use crate::geometry::{Point, Rect, covered_area, extent, shoelace, strip};
use crate::{Bay, WallFound};

/// A joint nearer than this to an end or to another joint makes no bay of its own, m.
const LEAST_M: f64 = 0.05;

/// The bays of a wall whose outline has these corners, from the left. Faces of chimneys are shared out with the rest, since nobody was asked where they stand.
pub(crate) fn bays(wall: &WallFound, corners: &[Point], small_opening_m2: f64) -> Vec<Bay> {
    let whole = extent(corners);
    let length_m = whole.right - whole.left;
    let mut ends: Vec<f64> = wall.joints.iter().map(|joint| joint.at_m).filter(|at_m| *at_m < length_m - LEAST_M).collect();
    ends.sort_by(f64::total_cmp);
    ends.push(length_m);
    let voids: Vec<Rect> = wall.openings.iter().filter(|opening| is_deducted(opening, corners, small_opening_m2)).map(void).collect();
    let mut found = Vec::new();
    let mut from_m = 0.0;
    for to_m in ends {
        if to_m - from_m < LEAST_M {
            continue;
        }
        let (left, right) = (whole.left + from_m, whole.left + to_m);
        let within = strip(corners, left, right);
        let cut: Vec<Rect> = voids.iter().map(|void| Rect { left: void.left.max(left), right: void.right.min(right), ..*void }).collect();
        let cut: Vec<Rect> = cut.into_iter().filter(|rect| rect.right > rect.left).collect();
        let face_m2 = (shoelace(&within).abs() - covered_area(&within, &cut)).max(0.0);
        found.push(Bay { from_m, to_m, share: face_m2, top_m: extent(&within).head.max(0.0) });
        from_m = to_m;
    }
    let all_m2: f64 = found.iter().map(|bay| bay.share).sum();
    let count = found.len().max(1) as f64;
    found.iter_mut().for_each(|bay| bay.share = if all_m2 > 0.0 { bay.share / all_m2 } else { 1.0 / count });
    found
}
