//! What must hold whatever the wall.

use proptest::prelude::*;
use survey::*;

use crate::fixture::*;

fn one(wall: WallFound) -> WallMeasured {
    measure(building(vec![wall])).unwrap().walls.remove(0)
}

/// Walls with openings on a grid of places, so that they never overlap.
fn walls() -> impl Strategy<Value = WallFound> {
    let sizes = prop::collection::vec((0.1f64..0.9, 0.1f64..0.9, 0.0f64..0.5, 0.0f64..0.4, any::<bool>(), any::<bool>()), 0..8);
    let outlines = prop_oneof![
        (2.0f64..4.0).prop_map(|height_m| Outline::Rectangle { length_m: 10.0, height_m }),
        (2.0f64..4.0, 0.5f64..3.0).prop_map(|(eaves_m, more)| Outline::Gable { length_m: 10.0, eaves_m, apex_m: eaves_m + more }),
        (2.0f64..4.0, 2.0f64..4.0)
            .prop_map(|(left, right)| Outline::Polygon { corners_m: vec![(0.0, 0.0), (10.0, 0.0), (10.0, right), (0.0, left)] }),
    ];
    (outlines, sizes).prop_map(|(outline, sizes)| {
        let mut found = wall("north");
        found.outline = outline;
        for (index, (width, height, reveal_m, margin_m, head, has_sill)) in sizes.into_iter().enumerate() {
            let mut hole = opening(&format!("w{index}"), 1.0 + index as f64, 0.5, width, height);
            (hole.reveal_m, hole.margin_m, hole.head, hole.has_sill) = (reveal_m, margin_m, head, has_sill);
            found.openings.push(hole);
        }
        found
    })
}

fn mirrored(wall: &WallFound) -> WallFound {
    let mut turned = wall.clone();
    for hole in &mut turned.openings {
        hole.left_m = 10.0 - hole.left_m - hole.width_m;
    }
    if let Outline::Polygon { corners_m } = &mut turned.outline {
        for corner in corners_m.iter_mut() {
            corner.0 = 10.0 - corner.0;
        }
    }
    turned
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * (1.0 + a.abs())
}

fn alike(a: &WallMeasured, b: &WallMeasured) -> bool {
    let lines = |m: &MeasuredLines| [m.ingo_m, m.sill_m, m.skew_m, m.margin_m, m.quoin_m, m.wallhead_m, m.base_m];
    let figures = |m: &WallMeasured| vec![m.gross_m2, m.deducted_m2, m.net_m2, m.reveal_m2, m.top_m, m.length_m];
    figures(a).iter().zip(figures(b)).all(|(x, y)| near(*x, y)) && lines(&a.lines).iter().zip(lines(&b.lines)).all(|(x, y)| near(*x, y))
}

proptest! {
    #[test]
    fn a_mirrored_wall_measures_the_same(found in walls()) {
        prop_assert!(alike(&one(found.clone()), &one(mirrored(&found))));
    }

    #[test]
    fn openings_in_another_order_measure_the_same_bit_for_bit(found in walls()) {
        let mut turned = found.clone();
        turned.openings.reverse();
        let (a, b) = (one(found), one(turned));
        prop_assert_eq!((a.net_m2, a.deducted_m2, a.reveal_m2), (b.net_m2, b.deducted_m2, b.reveal_m2));
    }

    #[test]
    fn an_unused_wall_changes_nothing(found in walls()) {
        let alone = one(found.clone());
        let both = measure(building(vec![wall("unused"), found])).unwrap();
        prop_assert_eq!(&both.walls[1], &alone);
    }

    #[test]
    fn walls_permuted_are_the_survey_permuted(first in walls(), second in walls()) {
        let second = WallFound { slug: "south".to_owned(), ..second };
        let one_way = measure(building(vec![first.clone(), second.clone()])).unwrap();
        let other_way = measure(building(vec![second, first])).unwrap();
        prop_assert_eq!(&one_way.walls[0], &other_way.walls[1]);
        prop_assert_eq!(&one_way.walls[1], &other_way.walls[0]);
    }

    #[test]
    fn what_is_deducted_never_passes_the_face(found in walls()) {
        let measured = one(found);
        prop_assert!(measured.deducted_m2 >= 0.0 && measured.deducted_m2 <= measured.gross_m2);
        prop_assert!(near(measured.net_m2 + measured.deducted_m2, measured.gross_m2));
    }

    #[test]
    fn more_margin_never_leaves_more_to_harl(found in walls(), more in 0.0f64..0.3) {
        let mut wider = found.clone();
        for hole in &mut wider.openings {
            hole.margin_m += more;
        }
        prop_assert!(one(wider).net_m2 <= one(found).net_m2 + 1e-9);
    }

    #[test]
    fn twice_the_size_is_four_times_the_area_and_twice_the_lines(found in walls()) {
        let mut double = found.clone();
        double.outline = match &found.outline {
            Outline::Rectangle { length_m, height_m } => Outline::Rectangle { length_m: 2.0 * length_m, height_m: 2.0 * height_m },
            Outline::Gable { length_m, eaves_m, apex_m } => Outline::Gable { length_m: 2.0 * length_m, eaves_m: 2.0 * eaves_m, apex_m: 2.0 * apex_m },
            Outline::Polygon { corners_m } => Outline::Polygon { corners_m: corners_m.iter().map(|(x, y)| (2.0 * x, 2.0 * y)).collect() },
            Outline::Round { .. } => unreachable!("no round walls here"),
        };
        for hole in &mut double.openings {
            for size in [&mut hole.width_m, &mut hole.height_m, &mut hole.left_m, &mut hole.sill_m, &mut hole.reveal_m, &mut hole.margin_m] {
                *size *= 2.0;
            }
        }
        let (single, double) = (one(found), one(double));
        prop_assert!(near(4.0 * single.net_m2, double.net_m2) && near(4.0 * single.reveal_m2, double.reveal_m2));
        prop_assert!(near(2.0 * single.lines.margin_m, double.lines.margin_m) && near(2.0 * single.lines.ingo_m, double.lines.ingo_m));
    }

    /// Nothing panics on any numbers at all.
    #[test]
    fn any_numbers_give_a_survey_or_sentences(numbers in prop::collection::vec(any::<f64>(), 12), corners in prop::collection::vec((any::<f64>(), any::<f64>()), 0..8)) {
        let mut found = wall("north");
        found.outline = if numbers[0] > 0.0 { Outline::Polygon { corners_m: corners } } else { Outline::Round { radius_m: numbers[1], arc_deg: numbers[2], height_m: numbers[3] } };
        let mut hole = opening("w", numbers[4], numbers[5], numbers[6], numbers[7]);
        (hole.reveal_m, hole.margin_m) = (numbers[8], numbers[9]);
        found.openings.push(hole);
        found.evenness = Evenness::Gaps { gaps_m: numbers.clone() };
        if let Err(errors) = measure(building(vec![found])) {
            prop_assert!(errors.iter().all(|error| error.to_string().len() > 30));
        }
    }
}

#[test]
fn a_small_opening_is_not_deducted_and_stands_in_for_its_reveals() {
    let mut found = wall("north");
    found.openings = vec![opening("vent", 1.0, 1.0, 0.5, 0.5), opening("window", 3.0, 1.0, 1.0, 1.5)];
    let mut house = building(vec![found]);
    house.small_opening_m2 = 0.5;
    let measured = measure(house.clone()).unwrap().walls.remove(0);
    assert!(near(measured.deducted_m2, 1.5) && near(measured.reveal_m2, 0.2 * (2.0 * 1.5 + 1.0)));
    assert!(near(measured.lines.ingo_m, 4.0 + 1.5), "the work of its ingo is still there");
    house.small_opening_m2 = 0.0;
    assert!(near(measure(house).unwrap().walls[0].deducted_m2, 1.75));
}

/// Margins that overlap, and a margin that reaches over the edge of the wall, are counted once and only on the wall.
#[test]
fn margins_overlap_and_reach_over_the_edge() {
    let mut found = wall("north");
    found.openings = vec![opening("a", 0.1, 1.0, 1.0, 1.0), opening("b", 1.3, 1.0, 1.0, 1.0)];
    for hole in &mut found.openings {
        hole.margin_m = 0.2;
    }
    // From 0 (the wall's edge) to 2.5 m along, from the sills at 1.0 m to 2.2 m up.
    assert!(near(one(found).deducted_m2, 2.5 * 1.2));
}

#[test]
fn before_stripping_ranges_are_wider() {
    let relief = |stage| {
        let mut house = building(vec![wall("north")]);
        house.stage = stage;
        measure(house).unwrap().walls.remove(0).relief.mean_range_m
    };
    let (before, after) = (relief(Stage::BeforeStripping), relief(Stage::AfterOpeningUp));
    assert!(before.0 < after.0 && after.1 < before.1);
}

/// exact solution: on a wave as long as the edge, 8 mm either way, the edge rests on the crests: 16 mm at the deepest, half of it in the mean.
#[test]
fn offsets_of_a_plane_need_nothing_and_of_a_wave_something() {
    let grid = |height: f64| {
        let row: Vec<f64> = (0..25).map(|i| height * (1.0 - libm::cos(std::f64::consts::TAU * f64::from(i) * 0.3 / 1.8))).collect();
        let mut found = wall("north");
        found.evenness = Evenness::Offsets { spacing_m: 0.3, rows_m: vec![row; 4] };
        one(found).relief
    };
    assert!(grid(0.0).mean_m.abs() < 1e-12);
    let wave = grid(0.008);
    assert!(near(wave.deepest_m, 0.016), "an edge as long as the wave rests on its crests: {wave:?}");
    assert!((wave.mean_m - 0.008).abs() < 5e-4, "and the mean is half of it: {wave:?}");
}

fn joint(at_m: f64) -> HiddenJoint {
    HiddenJoint { slug: "pipe".to_owned(), kind: JointKind::Downpipe, at_m }
}

/// A joint at 4 m of a wall 10 m by 6 m parts it as 4 to 6; an opening of 2 m by 1.5 m that lies half in each takes 1.5 m² from both: 22.5 and 34.5 of 57 m².
#[test]
fn bays_share_the_face_between_hidden_joints() {
    let mut wall = wall("north");
    wall.outline = Outline::Rectangle { length_m: 10.0, height_m: 6.0 };
    wall.joints = vec![joint(4.0)];
    let shares = |wall: &WallFound| one(wall.clone()).bays.iter().map(|bay| bay.share).collect::<Vec<_>>();
    assert_eq!(shares(&wall), [0.4, 0.6]);
    wall.openings = vec![opening("middle", 3.0, 1.0, 2.0, 1.5)];
    let halved = shares(&wall);
    assert!((halved[0] - 22.5 / 57.0).abs() < 1e-12 && (halved[1] - 34.5 / 57.0).abs() < 1e-12, "{halved:?}");
    wall.joints = Vec::new();
    assert_eq!(shares(&wall), [1.0]);
}

/// A gable 8 m long, 4 m to the eaves and 8 m to the apex, joint under the apex: two like halves, each as high as the apex; joint at 2 m: the left bay is a trapeze of
/// 2 × (4 + 6) ÷ 2 = 10 m² of 48 m², 6 m high.
#[test]
fn bays_follow_the_slope_of_a_gable() {
    let mut wall = wall("gable");
    wall.outline = Outline::Gable { length_m: 8.0, eaves_m: 4.0, apex_m: 8.0 };
    wall.joints = vec![joint(4.0)];
    let bays = one(wall.clone()).bays;
    assert!(bays.iter().all(|bay| (bay.share - 0.5).abs() < 1e-12 && (bay.top_m - 8.0).abs() < 1e-12), "{bays:?}");
    wall.joints = vec![joint(2.0)];
    let left = one(wall).bays[0];
    assert!((left.share - 10.0 / 48.0).abs() < 1e-12 && (left.top_m - 6.0).abs() < 1e-12, "{left:?}");
}
