//! Plane geometry of wall faces: outlines as polygons, areas by the shoelace sum, clipping by upright rectangles. It knows no building.

use crate::Outline;

/// A corner (x along the wall, y up), m.
pub(crate) type Point = (f64, f64);

/// An upright rectangle, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Rect {
    pub left: f64,
    pub foot: f64,
    pub right: f64,
    pub head: f64,
}

impl Rect {
    pub(crate) fn area(&self) -> f64 {
        (self.right - self.left).max(0.0) * (self.head - self.foot).max(0.0)
    }

    /// True if the insides share more than a hair (a micrometre) each way.
    pub(crate) fn overlaps(&self, other: &Rect) -> bool {
        const HAIR_M: f64 = 1e-6;
        self.right.min(other.right) - self.left.max(other.left) > HAIR_M && self.head.min(other.head) - self.foot.max(other.foot) > HAIR_M
    }
}

/// Length of an arc, m.
pub(crate) fn arc_m(radius_m: f64, arc_deg: f64) -> f64 {
    radius_m * arc_deg * (std::f64::consts::PI / 180.0)
}

/// Corners of an outline anticlockwise; a round wall is rolled out flat.
pub(crate) fn corners(outline: &Outline) -> Vec<Point> {
    match outline {
        Outline::Rectangle { length_m, height_m } => rectangle(*length_m, *height_m),
        Outline::Gable { length_m, eaves_m, apex_m } => {
            vec![(0.0, 0.0), (*length_m, 0.0), (*length_m, *eaves_m), (length_m / 2.0, *apex_m), (0.0, *eaves_m)]
        }
        Outline::Polygon { corners_m } => {
            let mut corners = corners_m.clone();
            if shoelace(&corners) < 0.0 {
                corners.reverse();
            }
            corners
        }
        Outline::Round { radius_m, arc_deg, height_m } => rectangle(arc_m(*radius_m, *arc_deg), *height_m),
    }
}

fn rectangle(length_m: f64, height_m: f64) -> Vec<Point> {
    vec![(0.0, 0.0), (length_m, 0.0), (length_m, height_m), (0.0, height_m)]
}

/// Area by the shoelace sum, m²; positive for corners anticlockwise. Corners are taken from the first, so that a place far from the origin loses nothing.
pub(crate) fn shoelace(corners: &[Point]) -> f64 {
    let Some(&(x0, y0)) = corners.first() else { return 0.0 };
    let twice: f64 = sides(corners).map(|((ax, ay), (bx, by))| (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)).sum();
    twice / 2.0
}

/// The sides of a closed polygon.
pub(crate) fn sides(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

/// Area of the part of a polygon that lies within a rectangle, m² (Sutherland and Hodgman's clipping; exact for a convex window).
pub(crate) fn clipped_area(corners: &[Point], window: &Rect) -> f64 {
    let left = clip(corners, |p| p.0 - window.left);
    let right = clip(&left, |p| window.right - p.0);
    let foot = clip(&right, |p| p.1 - window.foot);
    let head = clip(&foot, |p| window.head - p.1);
    shoelace(&head).abs()
}

/// The part of a polygon between two uprights.
pub(crate) fn strip(corners: &[Point], left: f64, right: f64) -> Vec<Point> {
    clip(&clip(corners, |p| p.0 - left), |p| right - p.0)
}

fn clip(corners: &[Point], inside: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::with_capacity(corners.len() + 4);
    for (a, b) in sides(corners) {
        let (da, db) = (inside(a), inside(b));
        if da >= 0.0 {
            kept.push(a);
        }
        if (da > 0.0 && db < 0.0) || (da < 0.0 && db > 0.0) {
            let share = da / (da - db);
            kept.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
        }
    }
    kept
}

/// The first two sides that cross, touch or fold back on one another, counted from nought.
pub(crate) fn crossing(corners: &[Point]) -> Option<(usize, usize)> {
    let all: Vec<(Point, Point)> = sides(corners).collect();
    for first in 0..all.len() {
        for second in first + 1..all.len() {
            let neighbours = second == first + 1 || (first == 0 && second == all.len() - 1);
            let faulty = if neighbours { folds(all[first], all[second], second == first + 1) } else { meet(all[first], all[second]) };
            if faulty {
                return Some((first, second));
            }
        }
    }
    None
}

fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

/// True if two neighbouring sides lie back upon each other.
fn folds(one: (Point, Point), two: (Point, Point), one_leads: bool) -> bool {
    let (before, corner, after) = if one_leads { (one.0, one.1, two.1) } else { (two.0, two.1, one.1) };
    let dot = (before.0 - corner.0) * (after.0 - corner.0) + (before.1 - corner.1) * (after.1 - corner.1);
    turn(before, corner, after) == 0.0 && dot >= 0.0
}

fn meet(one: (Point, Point), two: (Point, Point)) -> bool {
    let (a, b, c, d) = (turn(one.0, one.1, two.0), turn(one.0, one.1, two.1), turn(two.0, two.1, one.0), turn(two.0, two.1, one.1));
    if a * b < 0.0 && c * d < 0.0 {
        return true;
    }
    (a == 0.0 && on(one, two.0)) || (b == 0.0 && on(one, two.1)) || (c == 0.0 && on(two, one.0)) || (d == 0.0 && on(two, one.1))
}

fn on(side: (Point, Point), p: Point) -> bool {
    let ((ax, ay), (bx, by)) = side;
    p.0 >= ax.min(bx) && p.0 <= ax.max(bx) && p.1 >= ay.min(by) && p.1 <= ay.max(by)
}

/// Area of the polygon covered by any of the rectangles, m²; what two cover is counted once, whatever their order.
pub(crate) fn covered_area(corners: &[Point], rects: &[Rect]) -> f64 {
    let apart = rects.iter().enumerate().all(|(i, r)| rects[i + 1..].iter().all(|other| !r.overlaps(other)));
    if apart {
        let mut areas: Vec<f64> = rects.iter().map(|r| clipped_area(corners, r)).collect();
        areas.sort_by(f64::total_cmp);
        return areas.iter().sum();
    }
    let edges = |pick: fn(&Rect) -> [f64; 2]| {
        let mut all: Vec<f64> = rects.iter().flat_map(pick).collect();
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    };
    let (xs, ys) = (edges(|r| [r.left, r.right]), edges(|r| [r.foot, r.head]));
    let mut area = 0.0;
    for x in xs.windows(2) {
        for y in ys.windows(2) {
            let cell = Rect { left: x[0], foot: y[0], right: x[1], head: y[1] };
            let (mx, my) = ((x[0] + x[1]) / 2.0, (y[0] + y[1]) / 2.0);
            if rects.iter().any(|r| r.left < mx && mx < r.right && r.foot < my && my < r.head) {
                area += clipped_area(corners, &cell);
            }
        }
    }
    area
}

/// Extent of corners: least x, least y, greatest x, greatest y.
pub(crate) fn extent(corners: &[Point]) -> Rect {
    let start = Rect { left: f64::INFINITY, foot: f64::INFINITY, right: f64::NEG_INFINITY, head: f64::NEG_INFINITY };
    corners.iter().fold(start, |e, p| Rect { left: e.left.min(p.0), foot: e.foot.min(p.1), right: e.right.max(p.0), head: e.head.max(p.1) })
}
