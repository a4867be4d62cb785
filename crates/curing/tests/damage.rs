//! Each kind of damage comes from its cause, is prevented by its prevention, and only a redo blocks. The limits are guesses; what is asserted here is the
//! direction, not the figure.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::Settings;
use curing::{Action, Bench, CoatModel, Criterion, Damage, DamageGrade, DamageKind, Inside, Look, Numerics, Prevention, WallModel};
use materials::Cover;
use weather::FaceClimate;

fn of(look: &Look, kind: DamageKind) -> Option<&Damage> {
    look.damage.iter().find(|damage| damage.kind == kind)
}

/// The value of the first index of a kind on a coat.
fn index(bench: &Bench, coat: usize, kind: DamageKind) -> f64 {
    bench.damage_indices(0).iter().find(|index| index.coat == coat && index.measure.kind == kind).unwrap().value
}

/// A coat thrown on a wall and left bare, or behind a cover, for so many hours.
fn after(wall: &WallModel, coat: CoatModel, climate: &Arc<FaceClimate>, cover: Option<Cover>, hours: usize) -> Bench {
    let mut bench = Bench::new(wall, &[coat], Arc::clone(climate), &[0]).unwrap();
    bench.act(0, Action::Throw).unwrap();
    if let Some(cover) = cover {
        bench.act(0, Action::Hang(cover)).unwrap();
        bench.act(0, Action::Wet(0.9)).unwrap();
    }
    bench.advance(hours);
    bench
}

#[test]
fn a_thirsty_wall_robs_a_thin_coat_and_damping_it_first_robs_less() {
    let brick = wall(moisture(280.0, 1e-5, 1.6, 0.3, 10.0, 1700.0, (0.6, 0.0)), 0.02);
    let climate = steady(15.0, 0.75, 2.0);
    let dry = after(&brick, scud(), &climate, None, 4);
    let mut damped = Bench::new(&brick, &[scud()], Arc::clone(&climate), &[0]).unwrap();
    damped.act(0, Action::DampDown(3.0)).unwrap();
    damped.advance(12);
    damped.act(0, Action::DampDown(1.5)).unwrap();
    damped.act(0, Action::Throw).unwrap();
    damped.advance(4);
    let (robbed, tended) = (index(&dry, 0, DamageKind::Robbed), index(&damped, 0, DamageKind::Robbed));
    println!("share of its water taken by a thirsty brick {robbed:.2}, damped down before {tended:.2}");
    assert!(robbed > 0.25 && tended < 0.6 * robbed, "{robbed} {tended}");
    let damage = of(&dry.look(0), DamageKind::Robbed).cloned().unwrap();
    assert!(damage.severity >= 1.0 && damage.prevention == Prevention::DampDown && damage.cause.contains("% of its water"));
    assert!(of(&damped.look(0), DamageKind::Robbed).map(|damage| damage.grade) < Some(damage.grade));
}

/// Water put on half an hour before goes into the wall, not into the coat.
#[test]
fn damping_down_before_a_throw_wets_the_wall() {
    let run = |kg_m2: f64| {
        let mut bench = Bench::new(&sandstone(0.1), &[scud()], steady(15.0, 0.75, 2.0), &[0]).unwrap();
        if kg_m2 > 0.0 {
            bench.act(0, Action::DampDown(kg_m2)).unwrap();
        }
        let before = bench.look(0).masonry_saturation;
        bench.act(0, Action::Throw).unwrap();
        let wetted = bench.look(0).masonry_saturation - before;
        assert!((bench.look(0).coats[0].water_share - 1.0).abs() < 1e-12);
        let books = bench.balance(0);
        assert!(
            books.water.residual.abs() <= 1e-8 * books.water.moved + 1e-12
                && books.energy.residual.abs() <= 1e-8 * books.energy.moved + 1e-6
        );
        wetted
    };
    assert_eq!(run(0.0), 0.0);
    assert!(run(0.4) > 0.03, "{}", run(0.4));
}

#[test]
fn a_thick_pass_slips_on_a_soaked_dense_wall_and_not_on_a_dry_one() {
    let climate = steady(12.0, 0.85, 2.0);
    let soaked = after(&granite(1.0), straightening(15e-3), &climate, None, 2);
    let dry = after(&sandstone(0.15), straightening(15e-3), &climate, None, 2);
    let thin = after(&granite(1.0), scud(), &climate, None, 2);
    let [soaked_index, dry_index, thin_index] = [&soaked, &dry, &thin].map(|bench| index(bench, 0, DamageKind::Slipped));
    println!(
        "weight over yield: 15 mm on soaked granite {soaked_index:.2}, on dry sandstone {dry_index:.2}, a scud on soaked granite {thin_index:.2}"
    );
    assert!(of(&soaked.look(0), DamageKind::Slipped).is_some());
    assert!(of(&dry.look(0), DamageKind::Slipped).is_none() && of(&thin.look(0), DamageKind::Slipped).is_none());
}

#[test]
fn a_coat_that_dries_fast_shrinks_and_pressing_back_closes_it_while_it_is_soft() {
    let climate = steady(20.0, 0.60, 4.0);
    let (mut bench, hung) =
        (after(&sandstone(0.15), finish(), &climate, None, 0), after(&sandstone(0.15), finish(), &climate, Some(hessian(0.05)), 24));
    let mut pressed = false;
    for _ in 0..24 {
        bench.advance(1);
        let standing = of(&bench.look(0), DamageKind::Shrunk).map(|damage| damage.grade);
        if standing == Some(DamageGrade::Note) && !pressed {
            bench.act(0, Action::Mist(0.5)).unwrap();
            bench.act(0, Action::PressBack).unwrap();
            assert!(of(&bench.look(0), DamageKind::Shrunk).is_none(), "a note is closed by pressing back");
            pressed = true;
        }
    }
    assert!(pressed, "{:?}", bench.damage_indices(0));
    let (bare, covered) = (after(&sandstone(0.15), finish(), &climate, None, 24), &hung);
    let (bare, covered) = (index(&bare, 0, DamageKind::Shrunk), index(covered, 0, DamageKind::Shrunk));
    println!("shrinkage not relaxed, mm/m: bare {bare:.2}, behind hessian {covered:.2}");
    assert!(covered < bare);
}

#[test]
fn rain_washes_a_soft_coat_and_not_one_behind_a_sheet_or_hardened() {
    let mut rainy = (*steady(12.0, 0.85, 3.0)).clone();
    rainy.rain_kg_m2[6..12].fill(1.5);
    let climate = Arc::new(rainy);
    let bare = after(&sandstone(0.15), finish(), &climate, None, 24);
    let behind = after(&sandstone(0.15), finish(), &climate, Some(Cover { rain_through: 0.02, ..hessian(0.05) }), 24);
    let damage = of(&bare.look(0), DamageKind::Washed).cloned().unwrap();
    println!("washed: {damage:?}");
    assert!(damage.grade >= DamageGrade::Mend && (6..12).contains(&damage.hour) && damage.prevention == Prevention::KeepRainOff);
    assert!(of(&behind.look(0), DamageKind::Washed).is_none());
    // The same rain three weeks on, on a coat that has taken up what is asked of it.
    let mut late = (*steady(15.0, 0.75, 2.0)).clone();
    late.rain_kg_m2 = [vec![0.0; 504], vec![1.5; 6], vec![0.0; 90]].concat();
    for series in
        [&mut late.air_k, &mut late.vapour_pa, &mut late.pressure_pa, &mut late.wind_m_s, &mut late.sun_w_m2, &mut late.longwave_w_m2]
    {
        let first = series[0];
        series.resize(600, first);
    }
    let old = after(&sandstone(0.15), finish(), &Arc::new(late), None, 520);
    assert_eq!(index(&old, 0, DamageKind::Washed), 0.0);
}

#[test]
fn a_wet_coat_that_freezes_is_lost_and_a_dry_one_is_not() {
    let mut cold = (*steady(5.0, 0.90, 2.0)).clone();
    for hour in 4..28 {
        cold.air_k[hour] = 267.15;
        cold.vapour_pa[hour] = 380.0;
        cold.longwave_w_m2[hour] = 250.0;
    }
    let mut frost_in_a_week = cold.clone();
    for series in [&mut frost_in_a_week.air_k, &mut frost_in_a_week.vapour_pa, &mut frost_in_a_week.longwave_w_m2] {
        series.rotate_right(24 * 7);
    }
    let numerics = Numerics { settings: Settings { freezing: true, ..Numerics::default().settings }, ..Numerics::default() };
    // A dense thin wall that neither draws the coat's water nor keeps warmth.
    let run = |climate: FaceClimate, hours: usize| {
        let thin = WallModel { thickness_m: 0.2, inside: Inside::Open, ..granite(0.3) };
        let mut bench = Bench::with_numerics(&thin, &[finish()], Arc::new(climate), &[0], numerics).unwrap();
        bench.act(0, Action::Throw).unwrap();
        bench.advance(hours);
        assert!(bench.failed(0).is_none());
        bench
    };
    let (fresh, week_old) = (run(cold, 48), run(frost_in_a_week, 9 * 24));
    let (early, late) = (index(&fresh, 0, DamageKind::Frosted), index(&week_old, 0, DamageKind::Frosted));
    println!("share of the coat that froze too full: on the first night {early:.2}, after a week bare {late:.2}");
    let look = fresh.look(0);
    let damage = of(&look, DamageKind::Frosted).unwrap();
    assert!(damage.grade == DamageGrade::Redo && damage.prevention == Prevention::Blanket, "{damage:?}");
    assert!(look.rules.iter().any(|rule| rule.criterion == Criterion::Sound && !rule.holds) && !look.ready);
    assert!(late < 0.02, "{late}");
}

#[test]
fn a_coat_shut_in_wet_starves_and_is_forgiven_once_it_has_taken_up() {
    let climate = steady(5.0, 0.95, 1.0);
    let tight = Cover { co2_film_m_s: 1e-5, ..hessian(0.05) };
    let shut = after(&sandstone(0.6), finish(), &climate, Some(tight), 24 * 12);
    let look = shut.look(0);
    let starved = of(&look, DamageKind::Starved).unwrap();
    assert!(starved.grade == DamageGrade::Note && starved.prevention == Prevention::OpenCover, "{starved:?}");
    assert!(look.rules.iter().any(|rule| rule.criterion == Criterion::Sound && rule.holds), "a note blocks nothing");
    let mut bench = after(&sandstone(0.25), scud(), &steady(8.0, 0.9, 1.0), Some(hessian(0.05)), 24 * 60);
    bench.advance(1);
    assert!(of(&bench.look(0), DamageKind::Starved).is_none() || bench.look(0).coats[0].uptake_m < 1.15e-3);
}

#[test]
fn overloaded_by_thickness_by_a_soft_coat_beneath_and_by_a_stronger_mix() {
    let climate = steady(15.0, 0.75, 2.0);
    let thick = after(&sandstone(0.15), straightening(14e-3), &climate, None, 1);
    assert_eq!(of(&thick.look(0), DamageKind::Overloaded).map(|damage| damage.grade), Some(DamageGrade::Note));
    let as_deep_as_allowed = after(&sandstone(0.15), straightening(12e-3), &climate, None, 1);
    assert!(of(&as_deep_as_allowed.look(0), DamageKind::Overloaded).is_none());
    let second = |days: usize, strength: f64| {
        let mut stronger = finish();
        stronger.mortar.strength_rank = strength;
        let mut bench = Bench::new(&sandstone(0.15), &[straightening(12e-3), stronger], Arc::clone(&climate), &[0]).unwrap();
        bench.act(0, Action::Throw).unwrap();
        bench.act(0, Action::Hang(hessian(0.15))).unwrap();
        bench.act(0, Action::Wet(0.9)).unwrap();
        bench.advance(24 * days + 1);
        bench.act(0, Action::Throw).unwrap();
        bench.look(0).damage.iter().find(|damage| damage.coat == 1 && damage.kind == DamageKind::Overloaded).cloned()
    };
    let soft = second(0, 1.0).unwrap();
    assert!(soft.grade == DamageGrade::Redo && soft.prevention == Prevention::WaitForCoatBeneath, "{soft:?}");
    assert!(second(30, 1.0).is_none());
    let stronger = second(30, 2.0).unwrap();
    assert!(stronger.grade == DamageGrade::Note && stronger.prevention == Prevention::WeakerMix, "{stronger:?}");
}

/// Only a redo blocks, and taking the coat off removes it.
#[test]
fn a_redo_blocks_until_the_coat_is_off() {
    let mut bench = Bench::new(&sandstone(0.15), &[scud(), finish()], steady(15.0, 0.75, 2.0), &[0]).unwrap();
    bench.act(0, Action::Throw).unwrap();
    bench.advance(1);
    bench.act(0, Action::Throw).unwrap();
    bench.advance(24 * 40);
    let look = bench.look(0);
    assert!(!look.ready && look.decides == Some(Criterion::Sound), "{:?}", look.rules);
    bench.act(0, Action::TakeOff).unwrap();
    assert!(bench.look(0).damage.iter().all(|damage| damage.coat == 0 && damage.grade < DamageGrade::Redo));
}

/// What a wall has been through is read off its state and changes nothing in it, nor does it depend on who else is on the bench.
#[test]
fn a_member_is_damaged_alone_as_in_company() {
    let climate = changing(21, 3000, 14.0, 2.0);
    let run = |firsts: &[usize], member: usize| {
        let mut bench = Bench::new(&sandstone(0.2), &[scud(), finish()], Arc::clone(&climate), firsts).unwrap();
        for place in 0..firsts.len() {
            bench.act(place, Action::Throw).unwrap();
        }
        bench.advance(200);
        for place in 0..firsts.len() {
            bench.act(place, Action::Throw).unwrap();
        }
        bench.advance(200);
        let bits: Vec<u64> = bench.damage_indices(member).iter().map(|index| index.value.to_bits()).collect();
        (bits, bench.look(member).damage)
    };
    let alone = run(&[700], 0);
    assert!(!alone.1.is_empty());
    assert_eq!(alone, run(&[100, 700, 1500, 2200, 5], 1));
}
