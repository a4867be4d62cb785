//! Metre lines of outlines that can be done in the head.

use survey::*;

use crate::fixture::*;

fn lines(wall: WallFound) -> MeasuredLines {
    measure(building(vec![wall])).unwrap().walls.remove(0).lines
}

#[test]
fn a_rectangle_with_a_door_and_a_window() {
    let mut found = wall("north");
    let mut door = opening("door", 1.0, 0.0, 1.0, 2.1);
    (door.kind, door.has_sill, door.margin_m) = (OpeningKind::Door, false, 0.15);
    found.openings = vec![door, opening("window", 4.0, 1.0, 1.2, 1.4)];
    let found = lines(found);
    assert!((found.base_m - 9.0).abs() < 1e-12, "a door breaks the base");
    assert!((found.wallhead_m - 10.0).abs() < 1e-12 && (found.quoin_m - 8.0).abs() < 1e-12 && found.skew_m == 0.0);
    assert!((found.sill_m - 1.2).abs() < 1e-12);
    assert!((found.ingo_m - (2.0 * 2.1 + 1.0 + 2.0 * 1.4 + 1.2)).abs() < 1e-12);
    assert!((found.margin_m - (2.0 * (2.1 + 0.15) + 1.3)).abs() < 1e-12);
}

/// A three-four-five gable: 8 m wide, 3 m from eaves to apex, skews of 5 m each.
#[test]
fn a_gable_has_skews_and_no_wallhead() {
    let found = lines(WallFound { outline: Outline::Gable { length_m: 8.0, eaves_m: 2.5, apex_m: 5.5 }, ..wall("gable") });
    assert!((found.skew_m - 10.0).abs() < 1e-12 && found.wallhead_m == 0.0 && (found.quoin_m - 5.0).abs() < 1e-12);
}

#[test]
fn a_tower_has_no_quoin() {
    let found = lines(WallFound { outline: Outline::Round { radius_m: 2.0, arc_deg: 360.0, height_m: 6.0 }, ..wall("tower") });
    assert!(found.quoin_m == 0.0 && (found.base_m - 4.0 * std::f64::consts::PI).abs() < 1e-9);
}

#[test]
fn what_the_surveyor_gave_goes_first() {
    let mut found = wall("north");
    found.lines = Lines { quoin_m: Some(3.0), base_m: Some(9.5), ..Lines::default() };
    let found = lines(found);
    assert!(found.quoin_m == 3.0 && found.base_m == 9.5 && found.wallhead_m == 10.0);
}
