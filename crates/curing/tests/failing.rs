//! A member that cannot be solved is lost alone, with where and at what step, and stays as it was; nothing hangs, nobody else notices. Impossible input is
//! refused in sentences.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Column, FaceCondition, Settings, Width};
use curing::{Action, Bench, CoatModel, CuringError, Layer, MaterialTables, WallModel};

fn column<const L: usize>() -> Column<L>
where
    Column<L>: Width<L>,
{
    let material = Arc::new(MaterialTables::from_moisture(&sandstone(0.0).masonry).unwrap());
    let layer = Layer { material, widths_m: vec![2e-3; 40], carbonation: None };
    let mut column = Column::new(vec![layer], 1, Settings::default()).unwrap();
    for lane in 0..L {
        column.set_uniform(lane, 285.15, 3e6);
    }
    column
}

#[test]
fn a_lost_member_is_lost_alone() {
    let good = FaceCondition::film(280.15, 700.0, 15.0, 1e-7);
    let mut outer = [good; 8];
    outer[2].vapour_pa = f64::NAN;
    let mut eight = column::<8>();
    let mut one = column::<1>();
    let before = eight.profile(2);
    let mut running = [true; 8];
    for hour in 0..24 {
        let lost = eight.advance(&running, 3600.0, &[3600.0; 8], &[good; 8], &outer);
        assert_eq!(lost[2].is_some(), hour == 0, "hour {hour}: {lost:?}");
        assert!((0..8).all(|lane| lane == 2 || lost[lane].is_none()));
        running[2] = false;
        assert!(one.advance(&[true], 3600.0, &[3600.0], &[good], &[good])[0].is_none());
    }
    assert_eq!(eight.profile(2), before, "the lost lane stays as it was");
    for lane in [0, 1, 3, 4, 5, 6, 7] {
        assert_eq!(eight.profile(lane), one.profile(0), "lane {lane}");
    }
}

#[test]
fn a_step_that_cannot_be_solved_says_where() {
    let mut column = column::<1>();
    let outer = FaceCondition::film(f64::INFINITY, 700.0, 15.0, 1e-7);
    let lost = column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[outer])[0].unwrap();
    assert!(lost.depth_m >= 0.0 && lost.depth_m <= 0.08 && lost.step_s < 1.0, "{lost:?}");
    let error = CuringError::NotConverged { hour: 7, depth_mm: lost.depth_m * 1000.0, step_s: lost.step_s };
    assert!(error.to_string().contains("in hour 7") && error.to_string().contains("mm behind the outer face"));
}

#[test]
fn impossible_walls_coats_and_climates_are_refused_in_sentences() {
    let climate = steady(10.0, 0.8, 2.0);
    let refused = |wall: &WallModel, coats: &[CoatModel]| Bench::new(wall, coats, Arc::clone(&climate), &[0]).unwrap_err().to_string();
    let none = WallModel { thickness_m: 0.0, ..sandstone(0.2) };
    assert!(refused(&none, &[]).starts_with("The wall: its thickness, m, is 0"), "{}", refused(&none, &[]));
    let thick = CoatModel { thickness_m: 0.2, ..scud() };
    assert!(refused(&sandstone(0.2), &[thick]).starts_with("Coat 1: its thickness, m, is 0.2"));
    let not_a_number = WallModel { saturation: f64::NAN, ..sandstone(0.2) };
    assert!(refused(&not_a_number, &[]).contains("degree of saturation"));
    let mut stone = sandstone(0.2);
    stone.masonry.retention_n = 0.5;
    assert!(refused(&stone, &[]).starts_with("Material of the masonry"));
    let mut gap = (*climate).clone();
    gap.wind_m_s.pop();
    let error = Bench::new(&sandstone(0.2), &[], Arc::new(gap), &[0]).unwrap_err().to_string();
    assert!(error.contains("wind") && error.contains("239"), "{error}");
    let mut bad = (*climate).clone();
    bad.rain_kg_m2[17] = -1.0;
    let error = Bench::new(&sandstone(0.2), &[], Arc::new(bad), &[0]).unwrap_err().to_string();
    assert!(error.contains("hour 17"), "{error}");
    let mut hole = (*climate).clone();
    hole.air_k[100] = f64::NAN;
    let error = Bench::new(&sandstone(0.2), &[], Arc::new(hole), &[0]).unwrap_err().to_string();
    assert!(error.contains("air temperature, K is NaN in hour 100") && error.contains("Correct the weather file"), "{error}");
    let error = Bench::new(&sandstone(0.2), &[], Arc::default(), &[0]).unwrap_err().to_string();
    assert!(error.contains("it has no hours"), "{error}");
    let error = Bench::new(&sandstone(0.2), &[], climate, &[0, 239, 240]).unwrap_err().to_string();
    assert!(error.contains("start in hour 240, after it ends: it has 240 hours") && error.contains("Start within the weather"), "{error}");
}

#[test]
fn impossible_actions_are_refused_and_change_nothing() {
    let mut bench = Bench::new(&sandstone(0.2), &[scud()], steady(10.0, 0.8, 2.0), &[0, 5]).unwrap();
    assert!(matches!(bench.act(0, Action::Wet(0.9)), Err(CuringError::Action { .. })));
    assert!(matches!(bench.act(0, Action::DampDown(f64::NAN)), Err(CuringError::OutOfRange { .. })));
    assert!(matches!(bench.act(2, Action::Throw), Err(CuringError::NoMember { member: 2, members: 2 })));
    bench.act(0, Action::Throw).unwrap();
    assert!(matches!(bench.act(0, Action::Throw), Err(CuringError::Action { .. })));
    bench.stop(1);
    assert_eq!(bench.act(1, Action::Throw), Err(CuringError::Stopped { member: 1 }));
    let bad = [materials::Cover { wind_leak: f64::NAN, ..hessian(0.15) }, materials::Cover { sun_through: 1.2, ..hessian(0.15) }];
    for cover in bad {
        let error = bench.act(0, Action::Hang(cover)).unwrap_err().to_string();
        assert!(error.starts_with("The cover “hessian”: ") && error.contains("from 0 to 1"), "{error}");
    }
    assert_eq!(bench.look(0).cloth_kg_m2, 0.0, "nothing was hung");
    let before = bench.look(1);
    bench.advance(24);
    assert_eq!(bench.look(1), before);
    assert_eq!(bench.look(0).coats[0].age_h, 24.0);
}
