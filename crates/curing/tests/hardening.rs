//! The pore net of a coat from the wet mix to the hardened mortar: nothing is gained or lost on the way, and nothing overshoots.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Column, FaceCondition, Settings};
use curing::{Action, Bench, CoatModel, Layer, MaterialTables, STAGES};

fn tables(coat: &CoatModel) -> [MaterialTables; 2] {
    [&coat.mortar.fresh, &coat.mortar.hardened].map(|net| MaterialTables::from_moisture(net).unwrap())
}

#[test]
fn every_stage_lies_between_fresh_and_hardened_and_nearer_the_end_than_the_one_before() {
    let [fresh, hardened] = tables(&hardening(scud()));
    let ladder = MaterialTables::hardening(&fresh, &hardened);
    assert_eq!(ladder.stages(), STAGES);
    for step in 0..240 {
        let suction_pa = libm::exp(0.1 * f64::from(step));
        let (first, last) = (fresh.water_kg_m3(suction_pa), hardened.water_kg_m3(suction_pa));
        assert_eq!(ladder.water_at_stage_kg_m3(0, suction_pa), first);
        assert_eq!(ladder.water_at_stage_kg_m3(STAGES - 1, suction_pa), last);
        for stage in 1..STAGES {
            let (before, here) = (ladder.water_at_stage_kg_m3(stage - 1, suction_pa), ladder.water_at_stage_kg_m3(stage, suction_pa));
            assert!((here - before) * (last - first) >= 0.0 && (here - last).abs() <= (before - last).abs(), "{stage} {suction_pa}");
        }
    }
}

#[test]
fn a_net_that_does_not_change_has_one_stage() {
    let [fresh, hardened] = tables(&scud());
    assert_eq!(MaterialTables::hardening(&fresh, &hardened).stages(), 1);
}

/// A soaked, a moist and a freezing coat are moved up the ladder: their water and energy stay to the bit, and their suction is that of the new net.
#[test]
fn a_move_to_another_stage_keeps_water_and_energy() {
    let [fresh, hardened] = tables(&hardening(scud()));
    let ladder = Arc::new(MaterialTables::hardening(&fresh, &hardened));
    for (temperature_k, suction_pa, freezing) in [(288.15, 2e3, false), (288.15, 1e6, false), (268.15, 1e6, true), (268.15, 1e5, true)] {
        let layer = Layer { material: Arc::clone(&ladder), widths_m: vec![1e-3; 4], carbonation: None };
        let mut column = Column::<1>::new(vec![layer], 1, Settings { freezing, ..Settings::default() }).unwrap();
        column.set_uniform(0, temperature_k, suction_pa);
        let before = column.contents(0);
        for step in 1..=10 {
            column.harden(0, 0, f64::from(step) / 10.0);
            assert_eq!(column.contents(0), before);
            let seen = column.layer_cells(0, 0).next().unwrap();
            let held = ladder.water_at_stage_kg_m3(column.stage(0, 0), seen.suction_pa);
            assert!((held / seen.water_kg_m3 - 1.0).abs() < 1e-9, "{held} {seen:?}");
        }
        let wetter_than_it_can_hold = before.water_kg_m2 / 4e-3 > hardened.saturation_kg_m3();
        assert_eq!(column.is_hardened(0, 0), !wetter_than_it_can_hold, "{suction_pa}");
        let sealed = [FaceCondition::sealed()];
        for _ in 0..48 {
            assert!(column.advance(&[true], 3600.0, &[3600.0], &sealed, &sealed)[0].is_none());
        }
        let after = column.contents(0);
        assert!((after.water_kg_m2 - before.water_kg_m2).abs() < 1e-12 && (after.energy_j_m2 - before.energy_j_m2).abs() < 1e-6);
    }
}

#[test]
fn a_net_never_goes_back() {
    let [fresh, hardened] = tables(&hardening(scud()));
    let layer = Layer { material: Arc::new(MaterialTables::hardening(&fresh, &hardened)), widths_m: vec![1e-3; 4], carbonation: None };
    let mut column = Column::<1>::new(vec![layer], 1, Settings::default()).unwrap();
    column.set_uniform(0, 288.15, 1e6);
    column.harden(0, 0, 0.5);
    let reached = column.stage(0, 0);
    column.harden(0, 0, 0.1);
    assert_eq!(column.stage(0, 0), reached);
    assert!(reached > 0 && !column.is_hardened(0, 0));
}

/// Coats of the catalogue through rain and sun, one thrown on another that is hardly firm: the books close to 1e-8 of what moved.
#[test]
fn the_books_close_while_the_pores_harden() {
    for lime in ["putty-cl90", "nhl-3-5"] {
        let coats = [of_catalogue(lime, 1.5, 3.5e-3), of_catalogue(lime, 2.5, 12e-3)];
        for (seed, rainy) in [(21, 0.3), (22, 6.0)] {
            let mut bench = Bench::new(&sandstone(0.3), &coats, changing(seed, 8760, 9.0, rainy), &[2000, 5000]).unwrap();
            for hour in 0..900_usize {
                for member in 0..2 {
                    if [10, 10 + 48 * (1 + member)].contains(&hour) {
                        bench.act(member, Action::Throw).unwrap();
                    }
                }
                bench.advance(1);
            }
            for member in 0..2 {
                assert!(bench.failed(member).is_none(), "{}", bench.failed(member).unwrap());
                let books = bench.balance(member);
                for (what, closure) in [("water", books.water), ("carbon", books.carbon), ("energy", books.energy)] {
                    assert!(closure.residual.abs() <= 1e-8 * closure.moved + 1e-12, "{lime} {seed} {what}: {closure:?}");
                }
            }
        }
    }
}

/// A wall put aside half way up the ladder goes on, bit for bit, as the one that was never put aside.
#[test]
fn a_checkpoint_remembers_the_stage_and_the_set() {
    let coats = [hardening(setting(scud()))];
    let bench = || Bench::new(&sandstone(0.3), &coats, changing(31, 8760, 9.0, 0.5), &[2500]).unwrap();
    let (mut one, mut other) = (bench(), bench());
    one.act(0, Action::Throw).unwrap();
    one.advance(30);
    let aside = one.checkpoint(0).unwrap();
    assert!(one.look(0).coats[0].set > 0.0);
    one.advance(100);
    other.resume(0, &aside).unwrap();
    other.advance(100);
    assert_eq!(format!("{:?} {:?}", one.look(0), one.balance(0)), format!("{:?} {:?}", other.look(0), other.balance(0)));
}

/// To the grid, as with one net: each half coat has a firmness of its own.
#[test]
fn two_hardening_coats_of_5_mm_in_one_hour_are_one_of_10_mm() {
    let climate = changing(3, 8760, 9.0, 0.3);
    let run = |thicknesses_m: &[f64]| {
        let coats: Vec<CoatModel> = thicknesses_m.iter().map(|&thickness_m| CoatModel { thickness_m, ..hardening(finish()) }).collect();
        let mut bench = Bench::new(&sandstone(0.2), &coats, Arc::clone(&climate), &[2000]).unwrap();
        for _ in &coats {
            bench.act(0, Action::Throw).unwrap();
        }
        bench.advance(24 * 10);
        let look = bench.look(0);
        (look.coats.iter().map(|coat| coat.uptake_m).sum::<f64>(), look.masonry_saturation)
    };
    let (two, one) = (run(&[5e-3, 5e-3]), run(&[10e-3]));
    println!("{two:?} {one:?}");
    assert!((two.0 / one.0 - 1.0).abs() < 0.03 && (two.1 / one.1 - 1.0).abs() < 0.03, "{two:?} {one:?}");
}

/// What hardening of the net does to a wait: computed here, regression only, so that it can be read. The catalogue's own coats behind hessian.
#[test]
fn a_hardening_net_changes_the_week_by_less_than_a_day() {
    let wait = |coat: CoatModel| {
        let mut bench = Bench::new(&sandstone(0.15), &[coat], steady(15.0, 0.75, 2.0), &[0]).unwrap();
        until_ready(&mut bench, Some(hessian(0.15)), 3, 20, |_, _| {}).0.unwrap()
    };
    let (kept, hardens) = (wait(scud()), wait(hardening(scud())));
    println!("net kept {kept:.2} days, hardening {hardens:.2} days");
    assert!((kept - hardens).abs() < 1.0, "{kept} {hardens}");
}
