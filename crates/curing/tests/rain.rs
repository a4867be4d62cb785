//! Rain on a lime-like layer and its drying. R1: inputs made up for the check; totals computed outside this program by another solver (SciPy, its stated
//! accuracy ±0.5 %, ±1 % after 72 h). R2 is the same with twice the rain, where the face saturates and some runs off: checked here for
//! conservation and convergence only. The wet-bulb state is a closed form: h (T_a − T_s) = L β (p_sat(T_s) − p_a) (exact solution).
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::sync::Arc;

use curing::kernel::{Cloth, Column, FaceCondition, Settings};
use curing::material::suction_of_humidity_pa;
use curing::{Layer, Liquid, MaterialFunctions, MaterialTables, VapourInAir};

fn saturation(c: f64) -> f64 {
    610.5 * libm::exp(17.269 * c / (237.3 + c))
}

fn column(cells: usize) -> Column<1> {
    let water = |pc: f64| 250.0 / libm::pow(1.0 + libm::pow(2e-5 * pc, 1.6), 0.375);
    let material = MaterialTables::new(&MaterialFunctions {
        name: "R1".to_owned(),
        water: Box::new(water),
        liquid: Liquid::Conductivity(Box::new(move |pc| 2e-10 * libm::pow(water(pc) / 250.0, 6.0))),
        vapour_factor: Box::new(|w| (1.9e-11 / 2e-10) * (1.0 - w / 250.0).max(0.0)),
        vapour_in_air: VapourInAir::Constant(2e-10),
        heat_conductivity: Box::new(|w| 0.7 + 0.003 * w),
        dry_heat_j_m3k: 1700.0 * 850.0,
    })
    .unwrap();
    // Geometric towards the outer face.
    let growth: f64 = libm::pow(20.0, 1.0 / (cells as f64 - 1.0));
    let mut widths: Vec<f64> = (0..cells).map(|cell| libm::pow(growth, (cells - 1 - cell) as f64)).collect();
    let sum: f64 = widths.iter().sum();
    widths.iter_mut().for_each(|width| *width *= 0.05 / sum);
    let layer = Layer { material: Arc::new(material), widths_m: widths, carbonation: None };
    let mut column = Column::new(vec![layer], 1, Settings::default()).unwrap();
    column.set_uniform(0, 283.15, suction_of_humidity_pa(0.8, 283.15));
    column
}

/// Totals, kg/m², at the given hours with `rain` mm/h for the first six; and the run-off.
fn run(cells: usize, step_s: f64, rain: f64, hours: &[usize]) -> (Vec<f64>, f64) {
    let mut column = column(cells);
    let air = FaceCondition::film(283.15, 0.8 * saturation(10.0), 20.0, 1.4e-7);
    let mut totals = Vec::new();
    for hour in 0..*hours.last().unwrap() {
        let outer = FaceCondition { rain_kg_m2s: if hour < 6 { rain / 3600.0 } else { 0.0 }, ..air };
        let lost = column.advance(&[true], 3600.0, &[step_s], &[FaceCondition::sealed()], &[outer]);
        assert!(lost[0].is_none(), "hour {hour}: {lost:?}");
        if hours.contains(&(hour + 1)) {
            totals.push(column.contents(0).water_kg_m2);
        }
    }
    let balance = column.balance(0);
    for closure in [balance.water, balance.energy] {
        assert!(closure.residual.abs() < 1e-8 * closure.moved, "{balance:?}");
    }
    (totals, column.books(0).run_off_kg_m2)
}

#[test]
fn r1_against_another_solver() {
    let truth = [(1, 1.201), (6, 5.929), (12, 5.616), (24, 4.992), (72, 3.971), (168, 3.354), (336, 2.760), (720, 2.026)];
    let (totals, run_off) = run(80, 300.0, 1.0, &truth.map(|(hour, _)| hour));
    for ((hour, truth), total) in truth.into_iter().zip(totals) {
        let limit = if hour > 72 { 0.015 } else { 0.01 };
        println!("{hour} h: {total:.3} against {truth}");
        assert!((total / truth - 1.0).abs() < limit, "{hour} h: {total:.3} against {truth}");
    }
    assert!(run_off.abs() < 1e-9, "all of R1 is taken up; {run_off} ran off");
}

#[test]
fn r2_saturates_runs_off_and_converges() {
    let hours = [1, 2, 3, 6, 12, 72, 336];
    let (coarse, coarse_off) = run(40, 3600.0, 2.0, &hours);
    let (fine, fine_off) = run(120, 120.0, 2.0, &hours);
    println!("{coarse:?} {coarse_off} {fine:?} {fine_off}");
    assert!(fine_off > 0.3, "some must run off");
    for ((hour, coarse), fine) in hours.into_iter().zip(coarse).zip(fine) {
        assert!((coarse / fine - 1.0).abs() < 0.03, "{hour} h: {coarse} and {fine}");
    }
}

/// Temperature at which a wet surface settles, °C, by bisection.
fn wet_bulb(air_c: f64, humidity: f64, heat: f64, vapour: f64) -> f64 {
    let (mut low, mut high) = (-20.0, air_c);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        let excess = heat * (air_c - middle) - 2.5e6 * vapour * (saturation(middle) - humidity * saturation(air_c));
        if excess > 0.0 { low = middle } else { high = middle }
    }
    low
}

#[test]
fn a_wet_face_settles_at_the_wet_bulb() {
    let truth = wet_bulb(10.0, 0.8, 20.0, 1.4e-7);
    assert!((truth - 8.183).abs() < 0.001, "the closed form itself: {truth}");
    let mut column = column(60);
    let outer = FaceCondition::film(283.15, 0.8 * saturation(10.0), 20.0, 1.4e-7);
    let wet = FaceCondition { rain_kg_m2s: 2.0 / 3600.0, rain_k: 273.15 + truth, ..outer };
    for _ in 0..48 {
        column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[wet]);
    }
    let face = column.outer_face(0).temperature_k - 273.15;
    assert!((face - truth).abs() < 0.03, "{face} against {truth}");
}

#[test]
fn a_soaked_cloth_settles_at_the_wet_bulb() {
    let cloth = Cloth {
        gap_w_m2k: 0.0,
        gap_s_m: 0.0,
        gap_emissivity: 0.0,
        outer_w_m2k: 20.0,
        outer_s_m: 1.4e-7,
        outer_emissivity: 0.0,
        longwave_w_m2: 0.0,
        absorbed_w_m2: 0.0,
        dry_heat_j_m2k: 400.0,
        hygroscopic_kg_m2: 0.06,
        holds_kg_m2: 0.9,
    };
    let mut column = column(30);
    column.hang(0, 400.0, 0.06, 0.9, 283.15);
    let air = FaceCondition { cloth: Some(cloth), ..FaceCondition::film(283.15, 0.8 * saturation(10.0), 0.0, 0.0) };
    for _ in 0..5 {
        column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[air]);
    }
    let (water, t) = column.cloth(0);
    let truth = wet_bulb(10.0, 0.8, 20.0, 1.4e-7);
    assert!(water > 0.5 && (t - 273.15 - truth).abs() < 0.03, "{} against {truth}", t - 273.15);
    // Later it is dry, at air temperature, and holds what the air gives it: 0.8 of its sorption.
    for _ in 0..60 {
        column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[air]);
    }
    let (water, t) = column.cloth(0);
    assert!((water - 0.8 * 0.06).abs() < 1e-3 && (t - 283.15).abs() < 0.03, "{water} {t}");
    let balance = column.balance(0);
    assert!(balance.water.residual.abs() < 1e-8 * balance.water.moved && balance.energy.residual.abs() < 1e-8 * balance.energy.moved);
}
