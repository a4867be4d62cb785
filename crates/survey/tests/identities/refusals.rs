//! Faults: each named with its place, all at once.

use survey::*;

use crate::fixture::*;

fn refused(wall: WallFound) -> Vec<SurveyError> {
    measure(building(vec![wall])).unwrap_err()
}

fn polygon(corners: &[(f64, f64)]) -> WallFound {
    WallFound { outline: Outline::Polygon { corners_m: corners.to_vec() }, ..wall("north") }
}

#[test]
fn outlines_that_cross_touch_or_fold() {
    let bow_tie = polygon(&[(0.0, 0.0), (4.0, 3.0), (4.0, 0.0), (0.0, 3.0)]);
    assert!(matches!(refused(bow_tie)[0], SurveyError::Crosses { first: 1, second: 3, .. }));
    let fold = polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (4.0, 1.0), (0.0, 1.0)]);
    assert!(matches!(refused(fold)[0], SurveyError::Crosses { .. }));
    let twice = polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (4.0, 3.0)]);
    assert!(matches!(refused(twice)[0], SurveyError::Crosses { .. }));
    let touching = polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (2.0, 0.0), (0.0, 3.0)]);
    assert!(matches!(refused(touching)[0], SurveyError::Crosses { .. }));
    assert!(matches!(refused(polygon(&[(0.0, 0.0), (1.0, 0.0)]))[0], SurveyError::Count { found: 2, .. }));
    assert!(
        measure(building(vec![polygon(&[(0.0, 0.0), (4.0, 0.0), (2.0, 1.0), (4.0, 3.0), (0.0, 3.0)])])).is_ok(),
        "a hollow corner is fine"
    );
}

#[test]
fn openings_outside_the_outline_or_over_each_other() {
    let mut gable = WallFound { outline: Outline::Gable { length_m: 8.0, eaves_m: 2.5, apex_m: 5.5 }, ..wall("gable") };
    gable.openings = vec![opening("loft", 0.2, 2.6, 1.0, 1.0)];
    let told = refused(gable)[0].to_string();
    assert!(told.starts_with("walls.gable.openings.loft") && told.contains("outside"), "{told}");
    let mut found = wall("north");
    found.openings = vec![opening("a", 1.0, 1.0, 1.0, 1.0), opening("b", 1.5, 1.5, 1.0, 1.0), opening("c", 2.5, 1.5, 1.0, 1.0)];
    let told = refused(found);
    assert_eq!(told.len(), 1, "openings side by side touch and do not overlap: {told:?}");
    assert!(told[0].to_string().contains("“a” and “b” overlap"));
}

#[test]
fn every_fault_is_told_at_once() {
    let mut found = wall("north");
    found.outline = Outline::Gable { length_m: -3.0, eaves_m: 4.0, apex_m: 3.0 };
    found.thickness_m.value = 60.0;
    found.dampness.low.value = 20.0;
    found.openings = vec![opening("a", 1.0, 1.0, 0.0, 1.0), opening("a", 3.0, 1.0, 1.0, 1.0)];
    found.evenness = Evenness::Gaps { gaps_m: vec![0.01, -0.01] };
    let mut house = building(vec![found, wall("north")]);
    house.causes_of_damp = vec![CauseOfDamp { kind: DampKind::Gutters, state: DampState::ToMend, walls: vec!["nroth".to_owned()] }];
    let told = measure(house).unwrap_err();
    let words: Vec<String> = told.iter().map(ToString::to_string).collect();
    for part in [
        "length",
        "apex",
        "thickness",
        "dampness low",
        "width",
        "“a” is borne twice",
        "gap 2",
        "gaps under",
        "“north” is borne twice",
        "nroth",
    ] {
        assert!(words.iter().any(|word| word.contains(part)), "{part} in {words:#?}");
    }
    assert_eq!(told.len(), 10, "{words:#?}");
}

#[test]
fn offsets_must_be_a_grid() {
    let with = |spacing_m: f64, rows_m: Vec<Vec<f64>>| WallFound { evenness: Evenness::Offsets { spacing_m, rows_m }, ..wall("north") };
    assert!(matches!(refused(with(0.3, vec![vec![0.0; 4], vec![0.0; 3]]))[0], SurveyError::Ragged { row: 2, found: 3, expected: 4, .. }));
    assert!(matches!(refused(with(0.3, Vec::new()))[0], SurveyError::Count { found: 0, .. }));
    assert!(matches!(refused(with(0.0, vec![vec![0.0; 4]]))[0], SurveyError::Range { .. }));
}

#[test]
fn a_house_without_walls() {
    assert_eq!(measure(building(Vec::new())).unwrap_err(), vec![SurveyError::NoWalls]);
}
