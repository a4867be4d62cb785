//! HAMSTAD benchmark 5: brick with a capillary active insulation inside (Hagentoft et al. 2004, J. Thermal Envelope and Building Science 27:327). Inputs from
//! memory; the report's tables were not seen. The values were computed by an independent finite-volume program, on two grids that agree to 0.2 % (other
//! tool, own reference). Limits: 0.5 % of the total, 0.002 of humidity, 0.02 K: those two grids, and the digits printed.

use crate::{at, close, run, totals};

const DAY_S: f64 = 86_400.0;

#[test]
fn sixty_days_agree_with_the_reference_program() {
    let result = run("hamstad-5-inside-insulation.toml");
    for (day, total) in [(1.0, 1.213), (10.0, 1.679), (30.0, 2.264), (60.0, 2.778)] {
        close(&format!("total after {day} d"), totals(&result, day * DAY_S).water_kg_m2, total, 0.005 * total);
    }
    let points = [
        (1.0, 0.658, 0.7645),
        (100.0, 2.967, 0.7727),
        (200.0, 5.297, 0.7811),
        (300.0, 7.626, 0.7913),
        (364.0, 9.116, 0.7988),
        (372.0, 9.324, 0.872),
        (381.0, 9.689, 0.9464),
        (390.0, 11.141, 0.9382),
        (400.0, 13.18, 0.858),
        (410.0, 15.57, 0.7628),
        (419.0, 17.81, 0.684),
    ];
    for (depth_mm, temperature_c, humidity) in points {
        let point = at(&result, 60.0 * DAY_S, depth_mm / 1000.0);
        close(&format!("temperature at {depth_mm} mm"), point.temperature_c, temperature_c, 0.02);
        close(&format!("humidity at {depth_mm} mm"), point.humidity, humidity, 0.002);
    }
}
