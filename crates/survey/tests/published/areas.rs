//! Areas by the surveyor's shoelace sum and by plane geometry.
//!
//! Sources: the worked example of the shoelace formula printed in general works (polygon (1,6) (3,1) (7,2) (4,4) (8,5), area 16.5; published);
//! Pick's theorem A = I + B/2 − 1 for polygons with corners on a lattice (Pick 1899; exact solution); lateral area of a cylinder 2πrh and of a
//! regular polygon ½·n·R²·sin(2π/n) (exact solution).

use survey::{Outline, measure};

use crate::fixture::{building, wall};

fn gross(outline: Outline) -> f64 {
    measure(building(vec![survey::WallFound { outline, ..wall("north") }])).unwrap().walls[0].gross_m2
}

fn polygon(corners: &[(f64, f64)]) -> Outline {
    Outline::Polygon { corners_m: corners.to_vec() }
}

/// published: 16.5, in either sense of walking round.
#[test]
fn the_printed_shoelace_example() {
    let mut corners = vec![(1.0, 6.0), (3.0, 1.0), (7.0, 2.0), (4.0, 4.0), (8.0, 5.0)];
    assert!((gross(polygon(&corners)) - 16.5).abs() < 1e-12);
    corners.reverse();
    assert!((gross(polygon(&corners)) - 16.5).abs() < 1e-12);
}

/// exact solution (Pick): an L of lattice corners with 5 points inside and 16 on its edge: 5 + 8 − 1 = 12.
#[test]
fn a_lattice_polygon_by_picks_theorem() {
    let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0)];
    let (inside, edge) = (5.0, 16.0);
    assert!((gross(polygon(&corners)) - (inside + edge / 2.0 - 1.0)).abs() < 1e-12);
}

/// exact solution: a regular polygon of forty sides.
#[test]
fn a_regular_polygon() {
    let (sides, radius) = (40_u32, 3.0);
    let corners: Vec<(f64, f64)> = (0..sides)
        .map(|i| {
            let angle = std::f64::consts::TAU * f64::from(i) / f64::from(sides);
            (5.0 + radius * libm::cos(angle), 5.0 + radius * libm::sin(angle))
        })
        .collect();
    let exact = 0.5 * f64::from(sides) * radius * radius * libm::sin(std::f64::consts::TAU / f64::from(sides));
    assert!((gross(polygon(&corners)) - exact).abs() < 1e-9);
}

/// exact solution: a whole tower and a quarter of it.
#[test]
fn a_round_wall() {
    let whole = gross(Outline::Round { radius_m: 2.5, arc_deg: 360.0, height_m: 8.0 });
    assert!((whole - 2.0 * std::f64::consts::PI * 2.5 * 8.0).abs() < 1e-9);
    let quarter = gross(Outline::Round { radius_m: 2.5, arc_deg: 90.0, height_m: 8.0 });
    assert!((quarter - whole / 4.0).abs() < 1e-9);
}

/// exact solution: a gable is the mean of its heights along its length, and the same as its own five corners.
#[test]
fn a_gable() {
    let area = gross(Outline::Gable { length_m: 7.0, eaves_m: 2.6, apex_m: 6.0 });
    assert!((area - 7.0 * (2.6 + 6.0) / 2.0).abs() < 1e-12);
    let corners = [(0.0, 0.0), (7.0, 0.0), (7.0, 2.6), (3.5, 6.0), (0.0, 2.6)];
    assert!((area - gross(polygon(&corners))).abs() < 1e-12);
}
