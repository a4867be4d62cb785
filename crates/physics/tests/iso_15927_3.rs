//! Wind-driven rain after ISO 15927-3:2009: worked numbers of its equations (published equations, worked independently with NumPy).
#![allow(clippy::unwrap_used, clippy::expect_used)]

use physics::driven_rain::{
    FARMLAND, SHORE, SUBURB, TOWN, airfield_kg_m2, obstruction_factor, roughness_coefficient, topography_coefficient,
};

#[test]
fn single_hours() {
    assert!((airfield_kg_m2(5.0, 1.0, 180.0, 180.0) - 1.1111).abs() < 1e-4);
    assert!((airfield_kg_m2(8.0, 2.0, 210.0, 180.0) - 2.850_95).abs() < 1e-5);
    assert!((airfield_kg_m2(4.0, 0.5, 240.0, 180.0) - 0.240_01).abs() < 1e-5);
    let abreast = airfield_kg_m2(6.0, 3.0, 270.0, 180.0);
    assert!(abreast == 0.0 && abreast.is_sign_positive(), "{abreast:e}");
    assert_eq!(airfield_kg_m2(6.0, 3.0, 0.0, 180.0), 0.0);
}

#[test]
fn four_hours_on_four_faces() {
    let hours = [(6.0, 240.0, 1.0), (8.0, 250.0, 2.0), (5.0, 30.0, 3.0), (7.0, 220.0, 0.4)];
    for (faces, expected) in [(180.0, 2.320_33), (225.0, 4.957_75), (270.0, 4.690_99), (0.0, 2.555_03)] {
        let sum: f64 = hours.iter().map(|&(wind, from, rain)| airfield_kg_m2(wind, rain, from, faces)).sum();
        assert!((sum - expected).abs() < 1e-4, "{faces}: {sum}");
    }
}

#[test]
fn roughness_by_height() {
    let table = [
        (SHORE, [0.9007, 1.0565, 1.1364, 1.1743, 1.2922]),
        (FARMLAND, [0.8326, 0.8750, 0.9643, 1.0067, 1.1384]),
        (SUBURB, [0.7224, 0.7224, 0.7224, 0.7714, 0.9239]),
        (TOWN, [0.6654, 0.6654, 0.6654, 0.6654, 0.7190]),
    ];
    for (terrain, expected) in table {
        for (height, coefficient) in [2.0, 5.0, 8.0, 10.0, 20.0].into_iter().zip(expected) {
            assert!((roughness_coefficient(terrain, height) - coefficient).abs() < 1e-4, "{terrain:?} {height}");
        }
    }
}

#[test]
fn the_whole_chain_on_a_sheltered_wall() {
    let offered = airfield_kg_m2(8.0, 2.0, 210.0, 180.0) * roughness_coefficient(SUBURB, 8.0) * obstruction_factor(Some(50.0)) * 0.4;
    assert!((offered - 0.4943).abs() < 1e-4, "{offered}");
}

#[test]
fn obstruction_and_topography() {
    for (distance, factor) in
        [(5.0, 0.2), (10.0, 0.3), (20.0, 0.4), (30.0, 0.5), (50.0, 0.6), (70.0, 0.7), (90.0, 0.8), (110.0, 0.9), (130.0, 1.0)]
    {
        assert_eq!(obstruction_factor(Some(distance)), factor);
    }
    assert_eq!(obstruction_factor(None), 1.0);
    assert_eq!(topography_coefficient(0.04, 1.0), 1.0);
    assert!((topography_coefficient(0.2, 0.5) - 1.2).abs() < 1e-12);
    assert!((topography_coefficient(0.4, 0.5) - 1.3).abs() < 1e-12);
}
