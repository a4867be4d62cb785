//! Everything that can be wrong with a survey, found all at once before anything is measured.

use crate::areas::frame;
use crate::geometry::{Point, clipped_area, corners, crossing, extent, shoelace};
use crate::{Building, Evenness, Opening, Outline, SurveyError, WallFound};

const MOST_CORNERS: usize = 500;
const MOST_OPENINGS: usize = 200;
const MOST_READINGS: usize = 100_000;

/// All faults of the survey, in the order of the walls.
pub(crate) fn faults(building: &Building) -> Vec<SurveyError> {
    let mut found = Vec::new();
    if building.walls.is_empty() {
        found.push(SurveyError::NoWalls);
    }
    let mut range = Ranges { place: "survey".to_owned(), found: &mut found };
    range.within("the area of a small opening (m²)", building.small_opening_m2, 0.0, 10.0);
    for (index, wall) in building.walls.iter().enumerate() {
        if building.walls[..index].iter().any(|w| w.slug == wall.slug) {
            found.push(SurveyError::Twice { place: "walls".to_owned(), kind: "wall", slug: wall.slug.clone() });
        }
        check_wall(wall, &mut found);
    }
    check_causes(building, &mut found);
    found
}

fn check_causes(building: &Building, found: &mut Vec<SurveyError>) {
    let names: Vec<&str> = building.walls.iter().map(|w| w.slug.as_str()).collect();
    for cause in &building.causes_of_damp {
        for wall in cause.walls.iter().filter(|w| !names.contains(&w.as_str())) {
            found.push(SurveyError::DampWall { kind: format!("{:?}", cause.kind), wall: wall.clone(), walls: names.join(", ") });
        }
    }
}

struct Ranges<'a> {
    place: String,
    found: &'a mut Vec<SurveyError>,
}

impl Ranges<'_> {
    fn within(&mut self, what: &str, value: f64, low: f64, high: f64) -> bool {
        let holds = value >= low && value <= high;
        if !holds {
            self.found.push(SurveyError::Range {
                place: self.place.clone(),
                what: what.to_owned(),
                found: value,
                allowed: format!("from {low} to {high}"),
            });
        }
        holds
    }
}

fn check_wall(wall: &WallFound, found: &mut Vec<SurveyError>) {
    let place = format!("walls.{}", wall.slug);
    let outline_holds = check_outline(&place, &wall.outline, found);
    let mut range = Ranges { place: place.clone(), found };
    range.within("the bearing it faces (degrees)", wall.faces_deg, 0.0, 360.0);
    range.within("its thickness (m)", wall.thickness_m.value, 0.05, 5.0);
    range.within("the share of joint", wall.joint_share.value, 0.0, 1.0);
    range.within("the seconds until a splash is gone", wall.splash_s.value, 0.0, 86_400.0);
    for (what, dampness) in
        [("dampness low", &wall.dampness.low), ("dampness in the middle", &wall.dampness.middle), ("dampness high", &wall.dampness.high)]
    {
        range.within(what, dampness.value, 0.0, 1.0);
    }
    for (what, line) in [
        ("the skew line (m)", wall.lines.skew_m),
        ("the margin line (m)", wall.lines.margin_m),
        ("the quoin line (m)", wall.lines.quoin_m),
        ("the wallhead line (m)", wall.lines.wallhead_m),
        ("the base line (m)", wall.lines.base_m),
    ] {
        range.within(what, line.unwrap_or(0.0), 0.0, 2000.0);
    }
    for chimney in &wall.chimneys {
        range.within("a chimney's length (m)", chimney.length_m, 0.1, 20.0);
        range.within("a chimney's width (m)", chimney.width_m, 0.1, 20.0);
        range.within("a chimney's height (m)", chimney.height_m, 0.05, 50.0);
    }
    for joint in &wall.joints {
        range.within("where a joint is hidden (m)", joint.at_m, 0.0, 2000.0);
    }
    check_evenness(&place, &wall.evenness, found);
    check_openings(&place, wall, outline_holds, found);
}

fn check_outline(place: &str, outline: &Outline, found: &mut Vec<SurveyError>) -> bool {
    let before = found.len();
    let mut range = Ranges { place: place.to_owned(), found };
    match outline {
        Outline::Rectangle { length_m, height_m } => {
            range.within("its length (m)", *length_m, 0.1, 500.0);
            range.within("its height (m)", *height_m, 0.1, 100.0);
        }
        Outline::Gable { length_m, eaves_m, apex_m } => {
            range.within("its length (m)", *length_m, 0.1, 500.0);
            range.within("the height of its eaves (m)", *eaves_m, 0.1, 100.0);
            if range.within("the height of its apex (m)", *apex_m, 0.1, 100.0) && apex_m <= eaves_m {
                found.push(SurveyError::Apex { place: place.to_owned(), apex_m: *apex_m, eaves_m: *eaves_m });
            }
        }
        Outline::Round { radius_m, arc_deg, height_m } => {
            range.within("its radius (m)", *radius_m, 0.2, 200.0);
            range.within("its arc (degrees)", *arc_deg, 1.0, 360.0);
            range.within("its height (m)", *height_m, 0.1, 100.0);
        }
        Outline::Polygon { corners_m } => check_polygon(place, corners_m, found),
    }
    found.len() == before
}

fn check_polygon(place: &str, corners_m: &[Point], found: &mut Vec<SurveyError>) {
    if !(3..=MOST_CORNERS).contains(&corners_m.len()) {
        found.push(SurveyError::Count {
            place: place.to_owned(),
            what: "corners",
            found: corners_m.len(),
            allowed: format!("an outline has 3 to {MOST_CORNERS}; add the missing ones, or leave out those in a straight line"),
        });
        return;
    }
    let before = found.len();
    let mut range = Ranges { place: place.to_owned(), found };
    for (index, (x, y)) in corners_m.iter().enumerate() {
        range.within(&format!("corner {} along (m)", index + 1), *x, -500.0, 500.0);
        range.within(&format!("corner {} up (m)", index + 1), *y, -100.0, 100.0);
    }
    if found.len() > before {
        return;
    }
    if let Some((first, second)) = crossing(corners_m) {
        found.push(SurveyError::Crosses { place: place.to_owned(), first: first + 1, second: second + 1 });
    } else {
        Ranges { place: place.to_owned(), found }.within("the area of its outline (m²)", shoelace(corners_m).abs(), 0.01, 1e5);
    }
}

fn check_openings(place: &str, wall: &WallFound, outline_holds: bool, found: &mut Vec<SurveyError>) {
    if wall.openings.len() > MOST_OPENINGS {
        found.push(SurveyError::Count {
            place: place.to_owned(),
            what: "openings",
            found: wall.openings.len(),
            allowed: format!("a wall has at most {MOST_OPENINGS}; split the wall"),
        });
        return;
    }
    let outline = outline_holds.then(|| corners(&wall.outline));
    for (index, opening) in wall.openings.iter().enumerate() {
        let own = format!("{place}.openings.{}", opening.slug);
        if wall.openings[..index].iter().any(|o| o.slug == opening.slug) {
            found.push(SurveyError::Twice { place: place.to_owned(), kind: "opening of a wall", slug: opening.slug.clone() });
        }
        if !check_opening(&own, opening, found) {
            continue;
        }
        if let Some(outline) = &outline {
            check_inside(&own, opening, outline, found);
        }
        for other in wall.openings[..index].iter().filter(|o| frame(o).overlaps(&frame(opening))) {
            found.push(SurveyError::Overlap { place: place.to_owned(), first: other.slug.clone(), second: opening.slug.clone() });
        }
    }
}

fn check_opening(place: &str, opening: &Opening, found: &mut Vec<SurveyError>) -> bool {
    let mut range = Ranges { place: place.to_owned(), found };
    [
        range.within("its width (m)", opening.width_m, 0.02, 50.0),
        range.within("its height (m)", opening.height_m, 0.02, 50.0),
        range.within("its place from the left (m)", opening.left_m, -500.0, 500.0),
        range.within("its sill above the base (m)", opening.sill_m, -100.0, 100.0),
        range.within("the depth of its reveal (m)", opening.reveal_m, 0.0, 3.0),
        range.within("the width of its margin (m)", opening.margin_m, 0.0, 2.0),
    ]
    .into_iter()
    .all(|holds| holds)
}

fn check_inside(place: &str, opening: &Opening, outline: &[Point], found: &mut Vec<SurveyError>) {
    const HAIR_M2: f64 = 1e-6;
    let own = frame(opening);
    if clipped_area(outline, &own) < own.area() - HAIR_M2 {
        let whole = extent(outline);
        found.push(SurveyError::Outside {
            place: place.to_owned(),
            left_m: own.left,
            right_m: own.right,
            foot_m: own.foot,
            head_m: own.head,
            length_m: whole.right - whole.left,
            top_m: whole.head,
        });
    }
}

fn check_evenness(place: &str, evenness: &Evenness, found: &mut Vec<SurveyError>) {
    match evenness {
        // A surface was ruled from a height field that has been checked cell by cell.
        Evenness::Class { .. } | Evenness::Surface { .. } => {}
        Evenness::Gaps { gaps_m } => {
            if !(3..=MOST_READINGS).contains(&gaps_m.len()) {
                found.push(SurveyError::Count {
                    place: place.to_owned(),
                    what: "gaps under the straight-edge",
                    found: gaps_m.len(),
                    allowed: "ten are asked and three are the least; measure more, or give a class by eye".to_owned(),
                });
            }
            let mut range = Ranges { place: place.to_owned(), found };
            for (index, gap) in gaps_m.iter().enumerate() {
                range.within(&format!("gap {} (m)", index + 1), *gap, 0.0, 0.5);
            }
        }
        Evenness::Offsets { spacing_m, rows_m } => check_offsets(place, *spacing_m, rows_m, found),
    }
}

fn check_offsets(place: &str, spacing_m: f64, rows_m: &[Vec<f64>], found: &mut Vec<SurveyError>) {
    let mut range = Ranges { place: place.to_owned(), found };
    range.within("the spacing of the offsets (m)", spacing_m, 0.02, 0.9);
    let expected = rows_m.first().map_or(0, Vec::len);
    let readings: usize = rows_m.iter().map(Vec::len).sum();
    if rows_m.is_empty() || expected < 3 || readings > MOST_READINGS {
        found.push(SurveyError::Count {
            place: place.to_owned(),
            what: "readings of offset",
            found: readings,
            allowed: format!("at least one row of three and at most {MOST_READINGS} readings are needed"),
        });
        return;
    }
    for (index, row) in rows_m.iter().enumerate() {
        if row.len() != expected {
            found.push(SurveyError::Ragged { place: place.to_owned(), row: index + 1, found: row.len(), expected });
        }
        for offset in row {
            Ranges { place: format!("{place}, row {}", index + 1), found }.within("an offset (m)", *offset, -5.0, 5.0);
        }
    }
}
