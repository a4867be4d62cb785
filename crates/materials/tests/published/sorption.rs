//! Retention against sorption points.
//!
//! Source: middles of measured ranges of building materials at 50, 80 and 95 % relative humidity and at free saturation, from memory (a national
//! stone database and papers on lime mortars give the ranges). The retention of each was fitted to these points, so this check shows how well two
//! numbers carry three points; it is no independent check. Kelvin's equation at 20 °C (exact solution) turns humidity into suction.

use materials::{Catalogue, Mix, Moisture};

/// Water at a relative humidity, as a share of saturation.
fn share(moisture: &Moisture, humidity: f64) -> f64 {
    let suction_pa = -1000.0 * 461.5 * 293.15 * humidity.ln();
    (1.0 + (moisture.retention_a_per_pa * suction_pa).powf(moisture.retention_n)).powf(1.0 / moisture.retention_n - 1.0)
}

/// Points of w50, w80, w95 and saturation, kg/m³: from memory.
const MASONRIES: &[(&str, [f64; 3], f64)] = &[
    ("blond-sandstone", [2.0, 5.0, 10.0], 110.0),
    ("limestone", [1.0, 3.0, 10.0], 165.0),
    ("soft-brick", [1.0, 3.0, 8.0], 275.0),
    ("whin", [1.0, 2.0, 4.0], 8.0),
    ("schist-slate", [0.5, 1.0, 3.0], 8.0),
];
const MORTARS: &[(&str, [f64; 3], f64)] =
    &[("putty-cl90", [2.0, 5.0, 15.0], 250.0), ("nhl-3-5", [8.0, 18.0, 40.0], 235.0), ("nhl-5", [10.0, 22.0, 45.0], 215.0)];

/// Tolerance 30 % at 80 %, 45 % at the ends: the ranges themselves are two or three wide.
fn agrees(name: &str, moisture: &Moisture, points: [f64; 3], saturation: f64) {
    for ((humidity, point), tolerance) in [0.50, 0.80, 0.95].into_iter().zip(points).zip([0.45, 0.30, 0.45]) {
        let ours = share(moisture, humidity);
        println!("{name} at {humidity}: {ours:.4} of saturation, remembered {:.4}", point / saturation);
        assert!((ours / (point / saturation) - 1.0).abs() < tolerance, "{name} at {humidity}: {ours} for {}", point / saturation);
    }
}

#[test]
fn retention_carries_the_sorption_points() {
    let catalogue = Catalogue::shipped();
    for (name, points, saturation) in MASONRIES {
        agrees(name, &catalogue.masonries[*name].stone, *points, *saturation);
    }
    for (name, points, saturation) in MORTARS {
        let mix = Mix { lime: (*name).to_owned(), sand: "sharp-0-4".to_owned(), sand_parts: 2.5 };
        agrees(name, &catalogue.mortar(&mix).unwrap().hardened, *points, *saturation);
    }
}

/// Pores hold what they are said to: water at saturation never passes the open porosity.
#[test]
fn saturation_fits_in_the_pores() {
    for (name, masonry) in &Catalogue::shipped().masonries {
        let stone = &masonry.stone;
        assert!(stone.saturation_kg_m3 <= 1000.0 * stone.porosity && stone.retention_n > 1.0, "{name}");
        assert!(stone.density_kg_m3 / (1.0 - stone.porosity) < 3200.0 && stone.density_kg_m3 / (1.0 - stone.porosity) > 2300.0, "{name}");
    }
}
