//! Where a cloud lies on its wall: the unit, which way is up and out, and where the foot of the outline stands. A round wall is rolled out flat.

use super::ScanError;
use super::grid::{FACE_M, Gridding};
use super::plane::{Plane, cross, dot, fit_plane, least_squares, less, thinned};
use super::points::{Cloud, LengthUnit};
use crate::{Outline, WallFound};

/// Points on which the size of the face is judged.
const JUDGED: usize = 50_000;

/// Share of the points cut off at each end of the face before its size is taken.
const CUT: f64 = 0.005;

/// Least and greatest size found, as shares of the outline's, for which the scan is believed to show the wall.
const BELIEVED: (f64, f64) = (0.6, 1.3);

/// A cloud placed on its wall.
pub(super) struct Placed {
    shape: Shape,
    metres: f64,
    /// Along and up of the foot of the frame.
    foot: (f64, f64),
    pub(super) unit: LengthUnit,
    pub(super) notes: Vec<String>,
}

#[derive(Clone, Copy)]
enum Shape {
    Flat {
        plane: Plane,
        right: [f64; 3],
        up: [f64; 3],
    },
    /// Upright cylinder: centre on plan, radius, and the direction of the arc's middle.
    Round {
        centre: [f64; 2],
        radius_m: f64,
        middle: [f64; 2],
    },
}

impl Placed {
    /// Along, up and out of a point, m.
    pub(super) fn on_wall(&self, point: [f32; 3]) -> [f64; 3] {
        let [along, up, out] = self.shape.on_face(point.map(|coordinate| f64::from(coordinate) * self.metres));
        [along - self.foot.0, up - self.foot.1, out]
    }
}

impl Shape {
    fn on_face(&self, point: [f64; 3]) -> [f64; 3] {
        match self {
            Self::Flat { plane, right, up } => {
                let off = less(point, plane.through_m);
                [dot(off, *right), dot(off, *up), dot(off, plane.normal)]
            }
            Self::Round { centre, radius_m, middle } => {
                let (x, y) = (point[0] - centre[0], point[1] - centre[1]);
                let angle = libm::atan2(middle[0] * y - middle[1] * x, middle[0] * x + middle[1] * y);
                [radius_m * angle, point[2], (x * x + y * y).sqrt() - radius_m]
            }
        }
    }
}

/// A way of seeing the cloud, and how far its size is from the wall's.
struct Seen {
    shape: Shape,
    unit: LengthUnit,
    foot: (f64, f64),
    size_m: (f64, f64),
    misfit: f64,
    upright: bool,
}

/// Places the cloud on a wall of the given length and height.
pub(super) fn place(cloud: &Cloud, wall: &WallFound, size_m: (f64, f64), asked: &Gridding, name: &str) -> Result<Placed, ScanError> {
    let declared = asked.unit.or(cloud.unit);
    let units = declared.map_or(LengthUnit::ALL.to_vec(), |unit| vec![unit]);
    let mut seen = Vec::new();
    let mut refused = None;
    for unit in units {
        match ways(cloud, wall, unit, name) {
            Ok(shapes) => seen.extend(shapes.into_iter().map(|(shape, upright)| look(cloud, shape, unit, upright, size_m))),
            Err(error) => refused = refused.or(Some(error)),
        }
    }
    seen.sort_by(|a, b| a.misfit.total_cmp(&b.misfit));
    let Some(best) = seen.into_iter().next() else {
        return Err(refused.unwrap_or(ScanError::Flat { name: name.to_owned() }));
    };
    if !believed(best.size_m.0 / size_m.0) || !believed(best.size_m.1 / size_m.1) {
        return Err(refused.unwrap_or_else(|| wrong(&best, size_m, name)));
    }
    let mut notes = Vec::new();
    if declared.is_none() {
        notes.push(format!("Taken as {}, for so the face has the size of the wall.", best.unit.words()));
    }
    if !best.upright {
        notes.push("Taken with the second axis (y) upright.".to_owned());
    }
    let mut placed = Placed { shape: best.shape, metres: best.unit.metres(), foot: best.foot, unit: best.unit, notes };
    placed.face_outwards(cloud, asked.turned, &best, size_m);
    Ok(placed)
}

fn believed(share: f64) -> bool {
    (BELIEVED.0..=BELIEVED.1).contains(&share)
}

fn wrong(best: &Seen, size_m: (f64, f64), name: &str) -> ScanError {
    let ratio = ((best.size_m.0 / size_m.0) * (best.size_m.1 / size_m.1)).sqrt();
    let other = LengthUnit::ALL.into_iter().find(|unit| (ratio * unit.metres() / best.unit.metres() - 1.0).abs() < 0.15);
    let hint = other.map_or("Give the scan of this wall, or correct the outline.".to_owned(), |unit| {
        format!("The sizes agree if the scan is in {}: declare the unit.", unit.words())
    });
    ScanError::WrongWall {
        name: name.to_owned(),
        found_length_m: best.size_m.0,
        found_height_m: best.size_m.1,
        length_m: size_m.0,
        height_m: size_m.1,
        hint,
    }
}

/// The ways to see the cloud in one unit: with z upright, and with y upright for a flat wall.
fn ways(cloud: &Cloud, wall: &WallFound, unit: LengthUnit, name: &str) -> Result<Vec<(Shape, bool)>, ScanError> {
    let metres = unit.metres();
    if let Outline::Round { radius_m, arc_deg, .. } = wall.outline {
        return Ok(vec![(round(cloud, metres, radius_m, arc_deg).ok_or(ScanError::Flat { name: name.to_owned() })?, true)]);
    }
    let plane = fit_plane(cloud, metres, name)?;
    let ways = [([0.0, 0.0, 1.0], true), ([0.0, 1.0, 0.0], false)];
    let stands = ways.into_iter().filter(|(up, _)| dot(*up, plane.normal).abs() < 0.7);
    Ok(stands.map(|(up, upright)| (flat(plane, up), upright)).collect())
}

fn flat(plane: Plane, upwards: [f64; 3]) -> Shape {
    let lean = dot(upwards, plane.normal);
    let up = [0, 1, 2].map(|axis| upwards[axis] - lean * plane.normal[axis]);
    let length = dot(up, up).sqrt();
    let up = up.map(|part| part / length);
    Shape::Flat { plane, right: cross(up, plane.normal), up }
}

/// An upright cylinder of known radius through the cloud: Gauss and Newton's steps on its centre, what lies off it left out.
fn round(cloud: &Cloud, metres: f64, radius_m: f64, arc_deg: f64) -> Option<Shape> {
    let points = thinned(cloud, metres, JUDGED);
    let plane = least_squares(&points)?;
    let mean = plane.through_m;
    let level = (plane.normal[0] * plane.normal[0] + plane.normal[1] * plane.normal[1]).sqrt();
    let starts: Vec<[f64; 2]> = if arc_deg > 200.0 || level < 0.1 {
        vec![[mean[0], mean[1]]]
    } else {
        [-1.0, 1.0].map(|side| [0, 1].map(|axis| mean[axis] + side * radius_m * plane.normal[axis] / level)).to_vec()
    };
    let centred = starts.into_iter().map(|start| centred(&points, start, radius_m));
    let (_, centre) = centred.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let middle = [mean[0] - centre[0], mean[1] - centre[1]];
    let length = (middle[0] * middle[0] + middle[1] * middle[1]).sqrt();
    let middle = if length > 1e-6 { middle.map(|part| part / length) } else { [1.0, 0.0] };
    Some(Shape::Round { centre, radius_m, middle })
}

/// The centre, and the middle distance of the points from the cylinder.
fn centred(points: &[[f64; 3]], start: [f64; 2], radius_m: f64) -> (f64, [f64; 2]) {
    let mut centre = start;
    let distance = |point: &[f64; 3], centre: [f64; 2]| {
        let (x, y) = (point[0] - centre[0], point[1] - centre[1]);
        let length = (x * x + y * y).sqrt().max(1e-9);
        (length - radius_m, x / length, y / length)
    };
    let middle = |centre: [f64; 2]| {
        let mut off: Vec<f64> = points.iter().map(|point| distance(point, centre).0.abs()).collect();
        off.sort_by(f64::total_cmp);
        off[off.len() / 2]
    };
    for _ in 0..30 {
        let band = (4.0 * middle(centre)).max(0.02);
        let mut sums = [0.0; 5];
        for (off, x, y) in points.iter().map(|point| distance(point, centre)).filter(|(off, ..)| off.abs() <= band) {
            for (sum, term) in sums.iter_mut().zip([x * x, x * y, y * y, x * off, y * off]) {
                *sum += term;
            }
        }
        let [xx, xy, yy, xo, yo] = sums;
        let determinant = xx * yy - xy * xy;
        if determinant.abs() <= 1e-12 * xx * yy {
            break;
        }
        let step = [(xo * yy - yo * xy) / determinant, (yo * xx - xo * xy) / determinant];
        centre = [centre[0] + step[0], centre[1] + step[1]];
        if step[0].abs() + step[1].abs() < 1e-10 {
            break;
        }
    }
    (middle(centre), centre)
}

/// Takes the size of the face in one way of seeing it.
fn look(cloud: &Cloud, shape: Shape, unit: LengthUnit, upright: bool, size_m: (f64, f64)) -> Seen {
    let faces: Vec<[f64; 3]> = thinned(cloud, unit.metres(), JUDGED)
        .into_iter()
        .map(|point| shape.on_face(point))
        .filter(|[_, _, out]| (FACE_M.0..=FACE_M.1).contains(out))
        .collect();
    let ends = |axis: usize| {
        let mut places: Vec<f64> = faces.iter().map(|face| face[axis]).collect();
        places.sort_by(f64::total_cmp);
        let cut = (CUT * places.len() as f64) as usize;
        match (places.get(cut), places.len().checked_sub(cut + 1).and_then(|last| places.get(last))) {
            // The cut takes its share of the length too.
            (Some(low), Some(high)) => {
                let beyond = (high - low) * CUT / (1.0 - 2.0 * CUT);
                (low - beyond, high + beyond)
            }
            _ => (0.0, 0.0),
        }
    };
    let (along, up) = (ends(0), ends(1));
    let found = (along.1 - along.0, up.1 - up.0);
    let misfit = |found: f64, wanted: f64| libm::log((found / wanted).max(1e-12)).abs();
    Seen { shape, unit, foot: (along.0, up.0), size_m: found, misfit: misfit(found.0, size_m.0) + misfit(found.1, size_m.1), upright }
}

impl Placed {
    /// Turns the face so that heights count towards the outside: the side of the scanner, which stood at the cloud's own nought; where that is no
    /// place for a scanner, the side on which more lies, for ground and scaffold are before a wall.
    fn face_outwards(&mut self, cloud: &Cloud, turned: bool, best: &Seen, size_m: (f64, f64)) {
        let Shape::Flat { plane, right, up } = self.shape else { return };
        let scanner = plane.distance_m([0, 1, 2].map(|axis| -cloud.origin[axis] * self.metres));
        let outwards = if (0.5..200.0).contains(&scanner.abs()) {
            scanner > 0.0
        } else {
            let far = thinned(cloud, self.metres, JUDGED).into_iter().map(|point| plane.distance_m(point));
            let (before, behind) =
                far.fold((0, 0), |(before, behind), off| (before + usize::from(off > 0.3), behind + usize::from(off < -0.3)));
            if before == behind {
                self.notes.push("Which side is the outside could not be seen; if hollows show as high spots, turn the scan.".to_owned());
            }
            before >= behind
        };
        if outwards == turned {
            let plane = Plane { normal: plane.normal.map(|part| -part), ..plane };
            self.shape = Shape::Flat { plane, right: right.map(|part| -part), up };
            self.foot.0 = -(best.foot.0 + best.size_m.0);
        }
        if (best.size_m.0 / size_m.0 - 1.0).abs() > 0.05 || (best.size_m.1 / size_m.1 - 1.0).abs() > 0.05 {
            self.notes.push(format!(
                "The face scanned is {:.2} by {:.2} m, the wall {:.2} by {:.2} m; the lower left corners were laid on one another.",
                best.size_m.0, best.size_m.1, size_m.0, size_m.1
            ));
        }
    }
}
