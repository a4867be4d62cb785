//! The plane of a wall in a cloud that also holds ground, scaffold and plants: starts from many planes through three points, the best carried on as
//! trimmed least squares. The draws come from a fixed seed: the same cloud gives the same plane.

use super::ScanError;
use super::points::Cloud;

/// Least points for a plane of a wall.
pub(super) const LEAST_POINTS: usize = 16;

/// Half the thickness of the band about a plane within which a point counts for it while planes are compared, m.
const BAND_M: f64 = 0.05;

/// Planes tried, points on which each is judged, points on which the best is fitted.
const TRIES: usize = 400;
const JUDGED: usize = 2000;
const FITTED: usize = 50_000;

/// Share of the points on a second plane, not the wall's, that makes it another wall.
const SECOND_WALL: f64 = 0.30;

/// A plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// A point on it, counted from the cloud's origin, m.
    pub through_m: [f64; 3],
    /// Unit normal.
    pub normal: [f64; 3],
    /// Root mean square distance of the points fitted, m.
    pub spread_m: f64,
    /// Share of all points that lie within the band fitted.
    pub share: f64,
}

impl Plane {
    /// Distance of a point from the plane, m, positive where the normal points.
    pub fn distance_m(&self, point: [f64; 3]) -> f64 {
        dot(less(point, self.through_m), self.normal)
    }
}

/// Fits the plane of the wall in a cloud whose unit is `metres` long.
///
/// # Errors
/// Too few points, points on a line or in a spot, two walls of like size.
pub fn fit_plane(cloud: &Cloud, metres: f64, name: &str) -> Result<Plane, ScanError> {
    let all = cloud.points.len();
    if all < LEAST_POINTS {
        return Err(ScanError::TooFew { name: name.to_owned(), found: all, least: LEAST_POINTS });
    }
    let points = thinned(cloud, metres, FITTED);
    let judged = thinned(cloud, metres, JUDGED);
    let flat = || ScanError::Flat { name: name.to_owned() };
    let start = best_of(&judged, &judged).ok_or_else(flat)?;
    let plane = trimmed(&points, start).ok_or_else(flat)?;
    let off: Vec<[f64; 3]> = judged.iter().copied().filter(|point| plane.distance_m(*point).abs() > 6.0 * BAND_M).collect();
    if let Some(second) = best_of(&off, &off) {
        let share = count(&off, &second, BAND_M) as f64 / judged.len() as f64;
        let first = count(&judged, &plane, 6.0 * BAND_M) as f64 / judged.len() as f64;
        // Ground and roof lie flat; a wall stands as this one does.
        let stands = second.normal[2].abs() < 0.5 || plane.normal[2].abs() > 0.5;
        if share > SECOND_WALL && stands {
            return Err(ScanError::TwoWalls { name: name.to_owned(), first_percent: 100.0 * first, second_percent: 100.0 * share });
        }
    }
    Ok(plane)
}

/// One point of every so many, in metres, so that at most `most` are left. Which one is drawn from a fixed seed: a scan in rows, read at even steps,
/// would give one column.
pub(super) fn thinned(cloud: &Cloud, metres: f64, most: usize) -> Vec<[f64; 3]> {
    let step = cloud.points.len().div_ceil(most).max(1);
    let mut state = 1893_u64;
    let drawn = cloud.points.chunks(step).map(|points| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        points[((state >> 33) % points.len() as u64) as usize]
    });
    drawn.map(|point| point.map(|coordinate| f64::from(coordinate) * metres)).collect()
}

fn best_of(points: &[[f64; 3]], judged: &[[f64; 3]]) -> Option<Plane> {
    if points.len() < LEAST_POINTS {
        return None;
    }
    // Numbers of a linear congruential generator (Knuth's MMIX constants).
    let mut state = 1893_u64;
    let mut draw = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        points[((state >> 33) % points.len() as u64) as usize]
    };
    let mut best: Option<(usize, Plane)> = None;
    for _ in 0..TRIES {
        let (a, b, c) = (draw(), draw(), draw());
        let across = cross(less(b, a), less(c, a));
        let length = dot(across, across).sqrt();
        if length <= 1e-9 {
            continue;
        }
        let plane = Plane { through_m: a, normal: across.map(|part| part / length), spread_m: 0.0, share: 0.0 };
        let near = count(judged, &plane, BAND_M);
        if best.is_none_or(|(most, _)| near > most) {
            best = Some((near, plane));
        }
    }
    best.map(|(_, plane)| plane)
}

fn count(points: &[[f64; 3]], plane: &Plane, band_m: f64) -> usize {
    points.iter().filter(|point| plane.distance_m(**point).abs() <= band_m).count()
}

/// Least squares on the points near the plane, again and again, the band drawn in to three times their spread.
fn trimmed(points: &[[f64; 3]], start: Plane) -> Option<Plane> {
    let mut plane = start;
    let mut band_m = 4.0 * BAND_M;
    for _ in 0..20 {
        let near: Vec<[f64; 3]> = points.iter().copied().filter(|point| plane.distance_m(*point).abs() <= band_m).collect();
        let fitted = least_squares(&near)?;
        let share = near.len() as f64 / points.len() as f64;
        let settled = dot(fitted.normal, plane.normal).abs() > 1.0 - 1e-14 && (fitted.spread_m - plane.spread_m).abs() < 1e-9;
        plane = Plane { share, ..fitted };
        if settled {
            break;
        }
        band_m = (3.0 * plane.spread_m).clamp(0.01, 4.0 * BAND_M);
    }
    Some(plane)
}

/// The plane of least squared distances: through the mean, square to the direction of least scatter. None where that direction is not one alone.
pub(crate) fn least_squares(points: &[[f64; 3]]) -> Option<Plane> {
    if points.len() < 3 {
        return None;
    }
    let count = points.len() as f64;
    let mut mean = [0.0; 3];
    for point in points {
        (0..3).for_each(|axis| mean[axis] += point[axis]);
    }
    mean = mean.map(|sum| sum / count);
    let mut scatter = [[0.0; 3]; 3];
    for point in points {
        let off = less(*point, mean);
        for (row, sums) in scatter.iter_mut().enumerate() {
            (0..3).for_each(|column| sums[column] += off[row] * off[column]);
        }
    }
    let (values, vectors) = eigen(scatter);
    let mut order = [0, 1, 2];
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let [least, middle, greatest] = order.map(|axis| values[axis].max(0.0));
    if middle <= 1e-10 * greatest || greatest <= 0.0 {
        return None;
    }
    let normal = [0, 1, 2].map(|row| vectors[row][order[0]]);
    Some(Plane { through_m: mean, normal, spread_m: (least / count).sqrt(), share: 1.0 })
}

/// Eigenvalues and eigenvectors (columns) of a symmetric matrix by Jacobi's rotations.
fn eigen(mut matrix: [[f64; 3]; 3]) -> ([f64; 3], [[f64; 3]; 3]) {
    let mut vectors = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    for _ in 0..60 {
        for (p, q) in [(0, 1), (0, 2), (1, 2)] {
            if matrix[p][q] == 0.0 {
                continue;
            }
            let theta = (matrix[q][q] - matrix[p][p]) / (2.0 * matrix[p][q]);
            let tangent = if theta.is_finite() { theta.signum() / (theta.abs() + (theta * theta + 1.0).sqrt()) } else { 0.0 };
            let cosine = 1.0 / (tangent * tangent + 1.0).sqrt();
            let sine = tangent * cosine;
            let turned = |one: f64, two: f64| (cosine * one - sine * two, sine * one + cosine * two);
            for row in matrix.iter_mut().chain(&mut vectors) {
                (row[p], row[q]) = turned(row[p], row[q]);
            }
            let (upper, lower) = (matrix[p], matrix[q]);
            for column in 0..3 {
                (matrix[p][column], matrix[q][column]) = turned(upper[column], lower[column]);
            }
        }
    }
    ([matrix[0][0], matrix[1][1], matrix[2][2]], vectors)
}

pub(super) fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn less(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
