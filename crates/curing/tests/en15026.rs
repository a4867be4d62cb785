//! The kernel against the EN 15026:2007 Annex A step. The problem is self-similar; its profiles were computed outside this program by solving the
//! boundary-value problem in x/√t (exact solution, SciPy, residual 1e-7). Limits: 0.5 % of moisture, 0.02 K.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::sync::Arc;

use curing::kernel::{Column, FaceCondition, Settings};
use curing::material::suction_of_humidity_pa;
use curing::{Layer, Liquid, MaterialFunctions, MaterialTables, VapourInAir};

fn polynomial(w: f64) -> f64 {
    let y = w - 73.0;
    -39.2619 + y * (0.0704 + y * (-1.7420e-4 + y * (-2.7953e-6 + y * (-1.1566e-7 + y * 2.5969e-9))))
}

fn material() -> MaterialTables {
    let water = |pc: f64| 146.0 / libm::pow(1.0 + libm::pow(8e-8 * pc, 1.6), 0.375);
    MaterialTables::new(&MaterialFunctions {
        name: "EN 15026".to_owned(),
        water: Box::new(water),
        liquid: Liquid::Conductivity(Box::new(move |pc| libm::exp(polynomial(water(pc))))),
        vapour_factor: Box::new(|w| {
            let dry = 1.0 - w / 146.0;
            dry.max(0.0) / (200.0 * (0.503 * dry * dry + 0.497))
        }),
        vapour_in_air: VapourInAir::PerTemperature,
        heat_conductivity: Box::new(|w| 1.5 + 0.0158 * w),
        dry_heat_j_m3k: 1.824e6,
    })
    .unwrap()
}

fn widths() -> Vec<f64> {
    let mut widths = Vec::new();
    let mut width = 0.0005;
    let mut total = 0.0;
    while total < 30.0 {
        widths.push(width);
        total += width;
        if total > 0.12 { width *= 1.06 } else { width = 0.0005 * (1.0 + total / 0.02) }
    }
    widths.reverse();
    widths
}

#[test]
fn moisture_within_half_a_per_cent_and_temperature_within_0_02_k() {
    let table = material();
    let layer = Layer { material: Arc::new(table), widths_m: widths(), carbonation: None };
    let mut column = Column::<1>::new(vec![layer], 1, Settings::default()).unwrap();
    column.set_uniform(0, 293.15, suction_of_humidity_pa(0.5, 293.15));
    let inner = [FaceCondition::sealed()];
    let outer = [FaceCondition::fixed(303.15, suction_of_humidity_pa(0.95, 303.15))];
    let mut hours = 0;
    for (until, temperature, checks) in [
        (7 * 24, 23.839, [(10.0, 51.90), (20.0, 43.39), (5.0, 80.29)]),
        (30 * 24, 26.748, [(10.0, 82.13), (20.0, 52.77), (30.0, 45.52)]),
        (365 * 24, 29.055, [(20.0, 105.63), (50.0, 64.10), (100.0, 46.04)]),
    ] {
        while hours < until {
            let lost = column.advance(&[true], 3600.0, &[if hours < 2 { 60.0 } else { 3600.0 }], &inner, &outer);
            assert!(lost[0].is_none(), "{lost:?} hour {hours}");
            hours += 1;
        }
        let profile: Vec<_> = column.profile(0).into_iter().rev().filter(|seen| seen.width_m > 0.0).collect();
        let at = |depth: f64, f: &dyn Fn(&curing::kernel::Seen) -> f64| {
            let after = profile.iter().position(|seen| seen.depth_m > depth).unwrap();
            let (a, b) = (&profile[after - 1], &profile[after]);
            f(a) + (f(b) - f(a)) * (depth - a.depth_m) / (b.depth_m - a.depth_m)
        };
        for (mm, truth) in checks {
            let w = at(mm / 1000.0, &|seen| seen.water_kg_m3);
            assert!((w / truth - 1.0).abs() < 0.005, "{until} h, {mm} mm: {w:.3} against {truth}");
        }
        let t = at(1.0, &|seen| seen.temperature_k) - 273.15;
        assert!((t - temperature).abs() < 0.02, "{until} h, 1 m: {t:.3} °C against {temperature}");
        let balance = column.balance(0);
        assert!(balance.water.residual.abs() < 1e-8 * balance.water.moved);
        assert!(balance.energy.residual.abs() < 1e-8 * balance.energy.moved);
    }
}
