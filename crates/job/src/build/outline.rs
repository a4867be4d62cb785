//! The outline of a wall, and whether a point or an opening lies within it.

use std::collections::BTreeSet;

use survey::Outline;

use crate::problem::Fault;
use crate::reader::Reader;

/// Slack for what a tape reads, m.
pub(super) const TAPE_M: f64 = 0.011;

/// Least area of a wall drawn by its corners, m².
const LEAST_M2: f64 = 0.01;

/// Keys that belong to each shape.
const KEYS: [(&str, &[&str]); 4] = [
    ("rectangle", &["length_m", "height_m"]),
    ("gable", &["length_m", "eaves_m", "apex_m"]),
    ("polygon", &["corners_m"]),
    ("round", &["radius_m", "arc_deg", "height_m"]),
];

pub(super) fn build(reader: &mut Reader<'_>, wall: &str) -> Outline {
    let shape = reader.word(&format!("{wall}.shape")).unwrap_or_default();
    let (shape, own) = KEYS.into_iter().find(|(name, _)| *name == shape).unwrap_or(KEYS[0]);
    let others: BTreeSet<&str> = KEYS.iter().flat_map(|(_, keys)| keys.iter().copied()).filter(|key| !own.contains(key)).collect();
    for key in others {
        strange(reader, &format!("{wall}.{key}"), shape, own);
    }
    let mut number = |key: &str| reader.needed_number(&format!("{wall}.{key}"));
    match shape {
        "gable" => {
            let (length_m, eaves_m, apex_m) = (number("length_m"), number("eaves_m"), number("apex_m"));
            if apex_m <= eaves_m && apex_m > 0.0 && eaves_m > 0.0 {
                reader.problem(
                    Fault::Contradiction,
                    &format!("{wall}.apex_m"),
                    format!("The apex at {apex_m} m is not above the eaves at {eaves_m} m."),
                    "Allowed is an apex above the eaves, both measured from the base.",
                    "Measure both from the base, or make it shape = \"rectangle\" with height_m.",
                );
            }
            Outline::Gable { length_m, eaves_m, apex_m }
        }
        "polygon" => polygon(reader, wall),
        "round" => Outline::Round { radius_m: number("radius_m"), arc_deg: number("arc_deg"), height_m: number("height_m") },
        _ => Outline::Rectangle { length_m: number("length_m"), height_m: number("height_m") },
    }
}

/// A key of another shape.
fn strange(reader: &mut Reader<'_>, path: &str, shape: &str, own: &[&str]) {
    if reader.is_written_here(path) {
        let key = path.rsplit('.').next().unwrap_or(path);
        let belongs: Vec<&str> = KEYS.iter().filter(|(_, keys)| keys.contains(&key)).map(|(name, _)| *name).collect();
        reader.problem(
            Fault::Contradiction,
            path,
            format!("A wall of shape {shape:?} has no {key}."),
            format!("Allowed are {}.", own.join(", ")),
            format!("Take it out, or write shape = {:?}.", belongs.first().unwrap_or(&"rectangle")),
        );
    }
}

fn polygon(reader: &mut Reader<'_>, wall: &str) -> Outline {
    let path = format!("{wall}.corners_m");
    let Some(rows) = reader.rows(&path) else {
        reader.missing(&path);
        return Outline::Polygon { corners_m: Vec::new() };
    };
    let corners_m: Vec<(f64, f64)> = rows.iter().filter_map(|row| Some((*row.first()?, *row.get(1)?))).collect();
    if area_m2(&corners_m).abs() < LEAST_M2 {
        reader.problem(
            Fault::Contradiction,
            &path,
            "The corners enclose no area.",
            "Allowed are corners in order round the outline.",
            "Write each corner as [along, up] in metres, going round once.",
        );
    } else if let Some((one, other)) = crossing(&corners_m) {
        reader.problem(
            Fault::Contradiction,
            &path,
            format!("The outline crosses itself: the side after corner {} meets the side after corner {}.", one + 1, other + 1),
            "Allowed is an outline that goes round once without crossing.",
            "Write the corners in the order in which you would walk round the outline.",
        );
    }
    Outline::Polygon { corners_m }
}

/// Area with sign, m².
fn area_m2(corners: &[(f64, f64)]) -> f64 {
    sides(corners).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0
}

type Corner = (f64, f64);

fn sides(corners: &[Corner]) -> impl Iterator<Item = (Corner, Corner)> + '_ {
    (0..corners.len()).map(move |index| (corners[index], corners[(index + 1) % corners.len()]))
}

/// The first two sides that cross.
fn crossing(corners: &[Corner]) -> Option<(usize, usize)> {
    let sides: Vec<_> = sides(corners).collect();
    for one in 0..sides.len() {
        for other in one + 2..sides.len() {
            let neighbours = one == 0 && other == sides.len() - 1;
            if !neighbours && cross(sides[one], sides[other]) {
                return Some((one, other));
            }
        }
    }
    None
}

fn turn(a: Corner, b: Corner, c: Corner) -> f64 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

fn cross((a, b): (Corner, Corner), (c, d): (Corner, Corner)) -> bool {
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

/// True if every measure of the outline is there, so that what lies in it can be held against it.
pub(super) fn is_whole(outline: &Outline) -> bool {
    match outline {
        Outline::Rectangle { length_m, height_m } => *length_m > 0.0 && *height_m > 0.0,
        Outline::Gable { length_m, eaves_m, apex_m } => *length_m > 0.0 && *eaves_m > 0.0 && apex_m > eaves_m,
        Outline::Polygon { corners_m } => crossing(corners_m).is_none() && area_m2(corners_m).abs() >= LEAST_M2,
        Outline::Round { radius_m, arc_deg, height_m } => *radius_m > 0.0 && *arc_deg > 0.0 && *height_m > 0.0,
    }
}

/// Length along the base and greatest height, m.
pub(crate) fn size_m(outline: &Outline) -> (f64, f64) {
    match outline {
        Outline::Rectangle { length_m, height_m } => (*length_m, *height_m),
        Outline::Gable { length_m, apex_m, .. } => (*length_m, *apex_m),
        Outline::Polygon { corners_m } => {
            let reach = |take: fn(&Corner) -> f64| corners_m.iter().map(take).fold(0.0, f64::max);
            (reach(|corner| corner.0), reach(|corner| corner.1))
        }
        Outline::Round { radius_m, arc_deg, height_m } => (radius_m * arc_deg.to_radians(), *height_m),
    }
}

/// True if a point (along, up) lies on the wall, to within what a tape reads.
pub(super) fn holds(outline: &Outline, (along, up): Corner) -> bool {
    let (length_m, top_m) = size_m(outline);
    match outline {
        Outline::Gable { length_m, eaves_m, apex_m } => {
            let from_middle = (2.0 * along / length_m - 1.0).abs();
            let top = eaves_m + (apex_m - eaves_m) * (1.0 - from_middle);
            within(along, *length_m) && within(up, top)
        }
        Outline::Polygon { corners_m } => inside(corners_m, (along, up)),
        Outline::Rectangle { .. } | Outline::Round { .. } => within(along, length_m) && within(up, top_m),
    }
}

fn within(value: f64, most: f64) -> bool {
    value >= -TAPE_M && value <= most + TAPE_M
}

/// Inside by the even-odd rule, or within the tape's slack of a side.
fn inside(corners: &[Corner], point: Corner) -> bool {
    let crosses =
        |(a, b): (Corner, Corner)| (a.1 > point.1) != (b.1 > point.1) && point.0 < (b.0 - a.0) * (point.1 - a.1) / (b.1 - a.1) + a.0;
    let odd = sides(corners).filter(|side| crosses(*side)).count() % 2 == 1;
    odd || sides(corners).any(|(a, b)| distance_m(a, b, point) <= TAPE_M)
}

fn distance_m(a: Corner, b: Corner, point: Corner) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let along = (((point.0 - a.0) * dx + (point.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
    let (gap_x, gap_y) = (point.0 - a.0 - along * dx, point.1 - a.1 - along * dy);
    (gap_x * gap_x + gap_y * gap_y).sqrt()
}
