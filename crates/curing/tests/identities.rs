//! Identities that cost little and hold exactly, or to the grid where that is said.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Carbonation, Column, FaceCondition, PoreLaw, Settings};
use curing::{Action, Bench, CoatModel, Inside, Layer, Look, MaterialTables, WallModel};
use materials::{Cover, Moisture};
use weather::FaceClimate;

fn layer(material: &Moisture, thickness_m: f64, cells: usize) -> Layer {
    let material = Arc::new(MaterialTables::from_moisture(material).unwrap());
    Layer { material, widths_m: vec![thickness_m / cells as f64; cells], carbonation: None }
}

/// Bits of everything a look shows as a number.
fn bits(look: &Look) -> Vec<u64> {
    let mut numbers = vec![look.face_c, look.face_humidity, look.masonry_saturation, look.cloth_kg_m2];
    for coat in &look.coats {
        numbers.extend([coat.age_h, coat.water_kg_m3, coat.uptake_m, coat.front_m, coat.share]);
    }
    numbers.iter().map(|number| number.to_bits()).collect()
}

#[test]
fn a_sealed_column_at_rest_stays_at_rest() {
    let layers = vec![layer(&sandstone(0.0).masonry, 0.1, 20), layer(&scud().mortar.fresh, 0.01, 10)];
    let mut column = Column::<1>::new(layers, 2, Settings::default()).unwrap();
    column.set_uniform(0, 283.15, 5e4);
    let before = column.profile(0);
    for _ in 0..500 {
        let sealed = [FaceCondition::sealed()];
        assert!(column.advance(&[true], 3600.0, &[3600.0], &sealed, &sealed)[0].is_none());
    }
    for (old, new) in before.iter().zip(column.profile(0)) {
        assert!((old.temperature_k - new.temperature_k).abs() < 1e-9, "{old:?} {new:?}");
        assert!((old.water_kg_m3 - new.water_kg_m3).abs() < 1e-9);
    }
}

#[test]
fn a_mirrored_wall_gives_a_mirrored_answer() {
    let (stone, mortar) = (sandstone(0.0).masonry, scud().mortar.fresh);
    let warm = FaceCondition::film(293.15, 1200.0, 8.0, 3e-8);
    let cold = FaceCondition::film(275.15, 600.0, 20.0, 1.4e-7);
    let run = |layers: Vec<Layer>, inner: FaceCondition, outer: FaceCondition| {
        let settings = Settings { tolerance_y: 1e-6, tolerance_k: 1e-6, ..Settings::default() };
        let count = layers.len();
        let mut column = Column::<1>::new(layers, count, settings).unwrap();
        column.set_uniform(0, 288.15, 2e5);
        for _ in 0..300 {
            assert!(column.advance(&[true], 3600.0, &[3600.0], &[inner], &[outer])[0].is_none());
        }
        column.profile(0)
    };
    let one = run(vec![layer(&stone, 0.2, 40), layer(&mortar, 0.02, 20)], warm, cold);
    let other = run(vec![layer(&mortar, 0.02, 20), layer(&stone, 0.2, 40)], cold, warm);
    for (a, b) in one.iter().zip(other.iter().rev()) {
        assert!((a.temperature_k - b.temperature_k).abs() < 1e-6, "{a:?} {b:?}");
        assert!((a.suction_pa / b.suction_pa - 1.0).abs() < 1e-5, "{a:?} {b:?}");
    }
}

/// To the grid: a joint between like layers changes the place of cells, so the two agree within 2 %, not to the bit.
#[test]
fn two_coats_of_5_mm_in_one_hour_are_one_of_10_mm() {
    let climate = changing(3, 8760, 9.0, 0.3);
    let five = CoatModel { thickness_m: 5e-3, ..finish() };
    let ten = CoatModel { thickness_m: 10e-3, ..finish() };
    let run = |coats: &[CoatModel]| {
        let mut bench = Bench::new(&sandstone(0.2), coats, Arc::clone(&climate), &[2000]).unwrap();
        for _ in coats {
            bench.act(0, Action::Throw).unwrap();
        }
        bench.advance(24 * 10);
        let look = bench.look(0);
        let water: f64 = look.coats.iter().map(|coat| coat.water_kg_m3).sum::<f64>() / coats.len() as f64;
        (look.coats.iter().map(|coat| coat.uptake_m).sum::<f64>(), water, look.masonry_saturation)
    };
    let (two, one) = (run(&[five.clone(), five]), run(&[ten]));
    println!("{two:?} {one:?}");
    assert!(
        (two.0 / one.0 - 1.0).abs() < 0.02 && (two.1 / one.1 - 1.0).abs() < 0.02 && (two.2 / one.2 - 1.0).abs() < 0.02,
        "{two:?} {one:?}"
    );
}

#[test]
fn a_coat_of_no_thickness_is_no_coat() {
    let climate = changing(4, 8760, 9.0, 0.5);
    let none = CoatModel { thickness_m: 0.0, texture: 1.5, solar_absorptance: 0.9, ..finish() };
    let mut with = Bench::new(&sandstone(0.2), &[none, scud()], Arc::clone(&climate), &[100]).unwrap();
    let mut without = Bench::new(&sandstone(0.2), &[scud()], climate, &[100]).unwrap();
    with.act(0, Action::Throw).unwrap();
    with.act(0, Action::Throw).unwrap();
    without.act(0, Action::Throw).unwrap();
    with.advance(300);
    without.advance(300);
    assert_eq!(bits(&with.look(0))[..4], bits(&without.look(0))[..4]);
    assert_eq!(with.look(0).coats[1], without.look(0).coats[0]);
}

#[test]
fn a_cover_whose_factors_are_all_one_is_no_cover() {
    let climate = changing(5, 8760, 9.0, 0.8);
    let nothing = Cover {
        wind_leak: 1.0,
        sun_through: 1.0,
        rain_through: 1.0,
        sky_through: 1.0,
        gap_w_m2k: 0.0,
        cloth_kg_m2: 0.0,
        holds_kg_m2: 0.0,
        co2_film_m_s: 1e9,
        ..hessian(1.0)
    };
    let run = |cover: Option<Cover>| {
        let mut bench = Bench::new(&sandstone(0.2), &[scud()], Arc::clone(&climate), &[100]).unwrap();
        bench.act(0, Action::Throw).unwrap();
        if let Some(cover) = cover {
            bench.act(0, Action::Hang(cover)).unwrap();
        }
        bench.advance(300);
        bits(&bench.look(0))
    };
    assert_eq!(run(Some(nothing)), run(None));
}

/// With the far side open to the same weather nothing depends on where the series begins (the lag of an unheated room would, by rounding).
#[test]
fn shifted_weather_shifts_the_answer() {
    let climate = changing(6, 2000, 9.0, 0.8);
    let by = 777;
    let turn = |series: &[f64]| {
        let mut series = series.to_vec();
        series.rotate_right(by);
        series
    };
    let shifted = FaceClimate {
        air_k: turn(&climate.air_k),
        vapour_pa: turn(&climate.vapour_pa),
        pressure_pa: turn(&climate.pressure_pa),
        wind_m_s: turn(&climate.wind_m_s),
        sun_w_m2: turn(&climate.sun_w_m2),
        longwave_w_m2: turn(&climate.longwave_w_m2),
        rain_kg_m2: turn(&climate.rain_kg_m2),
    };
    let wall = WallModel { inside: Inside::Open, ..sandstone(0.3) };
    let run = |climate: Arc<FaceClimate>, first: usize| {
        let mut bench = Bench::new(&wall, &[scud()], climate, &[first]).unwrap();
        bench.advance(50);
        bench.act(0, Action::Throw).unwrap();
        bench.advance(1500);
        bits(&bench.look(0))
    };
    assert_eq!(run(Arc::clone(&climate), 500), run(Arc::new(shifted), 500 + by));
}

#[test]
fn twice_the_carbon_dioxide_and_twice_the_lime_is_the_same_front() {
    let run = |times: f64| {
        let law = Carbonation {
            portlandite_mol_m3: 2500.0 * times,
            porosity: 0.3,
            pores: PoreLaw::MILLINGTON_QUIRK,
            rate_per_s: 3.0,
            activation_j_mol: 15e3,
            humidity_ramp: (0.3, 0.6),
            film_saturation: 0.05,
            narrows: false,
            feeds_back: false,
        };
        let layers = vec![Layer { carbonation: Some(law), ..layer(&scud().mortar.fresh, 0.01, 40) }];
        let mut column = Column::<1>::new(layers, 1, Settings::default()).unwrap();
        column.set_uniform(0, 293.15, 5e7);
        let outer = FaceCondition { co2_mol_m3: 0.0175 * times, co2_m_s: 5e-3, ..FaceCondition::sealed() };
        for _ in 0..24 * 20 {
            assert!(column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[outer])[0].is_none());
        }
        column.layer_contents(0, 0).map(|(_, _, portlandite)| portlandite / (2500.0 * times)).collect::<Vec<f64>>()
    };
    for (one, two) in run(1.0).into_iter().zip(run(2.0)) {
        assert!((one - two).abs() < 1e-9, "{one} {two}");
    }
}

/// A story that differs from member to member: thrown, hung, wetted, damped and struck at hours of its own.
fn act_out(bench: &mut Bench, members: &[(usize, usize)], hours: usize) -> Vec<Vec<u64>> {
    for hour in 0..hours {
        for (place, &(_, first)) in members.iter().enumerate() {
            let own = first % 97;
            if hour == 20 + own % 7 || hour == 260 + own {
                bench.act(place, Action::Throw).unwrap();
            }
            if hour == 21 + own {
                bench.act(place, Action::Hang(hessian(0.15))).unwrap();
            }
            if hour > 21 + own && hour < 90 + own && hour % (6 + own % 5) == 0 {
                bench.act(place, Action::Wet(0.9)).unwrap();
            }
            if hour == 200 + own {
                bench.act(place, Action::Strike).unwrap();
                bench.act(place, Action::DampDown(1.0)).unwrap();
            }
        }
        bench.advance(1);
    }
    (0..members.len()).map(|place| bits(&bench.look(place))).collect()
}

/// Sixteen members alone, together, and in another order, on one thread and on two: the same bits.
#[test]
fn lanes_do_not_know_their_company() {
    let climate = changing(8, 9500, 8.0, 1.0);
    let coats = [scud(), straightening(8e-3)];
    let members: Vec<(usize, usize)> = (0..16).map(|member| (member, 613 * member + 31 * (member % 3))).collect();
    let run = |members: &[(usize, usize)]| {
        let first: Vec<usize> = members.iter().map(|&(_, first)| first).collect();
        let mut bench = Bench::new(&sandstone(0.25), &coats, Arc::clone(&climate), &first).unwrap();
        act_out(&mut bench, members, 400)
    };
    let together = run(&members);
    for &(member, first) in &members {
        assert_eq!(run(&[(member, first)])[0], together[member], "member {member} alone");
    }
    let mut permuted = members.clone();
    permuted.reverse();
    permuted.swap(2, 9);
    permuted.truncate(13);
    for (place, bits) in run(&permuted).into_iter().enumerate() {
        assert_eq!(bits, together[permuted[place].0], "member {} permuted", permuted[place].0);
    }
    for threads in [1, 2] {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        assert_eq!(pool.install(|| run(&members)), together, "{threads} threads");
    }
}
