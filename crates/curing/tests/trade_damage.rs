//! What the trade says of heat, frost, haste, texture and coverings (common practice, no source), with the rule of least age off, so that each can fail.
//! Limits of damage were set before any of these was run; where one comes out differently the miss is asserted as a miss.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Column, FaceCondition, Settings};
use curing::{Action, Bench, CoatModel, DamageGrade, DamageKind, Inside, Layer, Look, MaterialTables, Numerics, WallModel};
use materials::Moisture;
use physics::surface::{convective_w_m2k, vapour_film_s_m};
use weather::FaceClimate;

/// The gravest grade of a kind on a coat.
fn grade(look: &Look, kind: DamageKind) -> Option<DamageGrade> {
    look.damage.iter().filter(|damage| damage.kind == kind).map(|damage| damage.grade).max()
}

/// The hot dry windy day of the trade, standing still: 28 °C, 45 %, 5 m/s. Bare, and behind hessian of a leak wetted every four hours for three days.
fn hot(wall: &WallModel, coat: CoatModel, leak: Option<f64>) -> Look {
    let mut bench = Bench::new(wall, &[coat], steady(28.0, 0.45, 5.0), &[0]).unwrap();
    bench.act(0, Action::Throw).unwrap();
    if let Some(leak) = leak {
        bench.act(0, Action::Hang(hessian(leak))).unwrap();
    }
    for hour in 0..24 * 10 {
        if leak.is_some() && hour < 72 && hour % 4 == 0 {
            bench.act(0, Action::Wet(0.9)).unwrap();
        }
        bench.advance(1);
    }
    let dry = bench.damage_indices(0).into_iter().find(|index| index.measure.kind == DamageKind::DriedOut).unwrap();
    println!("28 °C, 45 %, 5 m/s, leak {leak:?}: {:.1} hours of dry face (redo from {})", dry.value, dry.measure.limits[2].at);
    bench.look(0)
}

/// Lost bare; saved behind hessian that is lapped and tied (leak 0.05) on both stones, behind hessian hung loose (0.15) on sandstone alone.
#[test]
fn damp_hessian_saves_a_coat_on_a_hot_windy_day_that_is_lost_without_it() {
    for (stone, wall) in [("sandstone", sandstone(0.15)), ("granite", granite(0.3))] {
        for (name, coat) in [("scud", scud()), ("finish", finish())] {
            let [bare, loose, tied] = [None, Some(0.15), Some(0.05)].map(|leak| hot(&wall, coat.clone(), leak));
            let [bare, loose, tied] = [bare, loose, tied].map(|look| grade(&look, DamageKind::DriedOut));
            println!("{name} on {stone}, dried out: bare {bare:?}, behind hessian hung loose {loose:?}, lapped and tied {tied:?}");
            assert_eq!(bare, Some(DamageGrade::Redo), "{name} on {stone}");
            assert!(tied < Some(DamageGrade::Redo) && tied <= loose, "{name} on {stone}");
            // Hung loose it is not enough on granite, which gives no water back: a miss of the saying as it is said.
            assert_eq!(loose == Some(DamageGrade::Redo), stone == "granite", "{name} on {stone}");
        }
    }
}

/// Long-wave falling on an upright face under a clear sky: Berdahl and Martin 1984 for the sky's emissivity by dew point, half the view ground at the
/// temperature of the air, the sky half weighted 0.707 for what lies near the horizon (Walton 1983; both from memory).
fn clear_sky_w_m2(air_c: f64, dew_c: f64) -> f64 {
    let sky = 0.711 + 0.56 * dew_c / 100.0 + 0.73 * (dew_c / 100.0) * (dew_c / 100.0);
    let air_k = air_c + 273.15;
    5.670_374_419e-8 * air_k * air_k * air_k * air_k * (0.5 * (0.707 * sky + 0.293) + 0.5)
}

/// Mild overcast days at `day_c`, and from the fourth evening on so many clear calm nights of 16 hours at `night_c`, 85 %, wind 0.5 m/s, with days at
/// `between_c` between them.
fn frosty(day_c: f64, night_c: f64, between_c: f64, nights: usize) -> Arc<FaceClimate> {
    let mild = steady(day_c, 0.85, 0.5);
    let mut climate = (*mild).clone();
    let night = steady(night_c, 0.85, 0.5);
    let between = steady(between_c, 0.85, 0.5);
    for day in 3..10 {
        for hour in 0..24 {
            let at = day * 24 + hour;
            let source = if hour < 16 && day < 3 + nights { &night } else { &between };
            climate.air_k[at] = source.air_k[0];
            climate.vapour_pa[at] = source.vapour_pa[0];
            climate.longwave_w_m2[at] = source.longwave_w_m2[0];
            if hour < 16 && day < 3 + nights {
                climate.longwave_w_m2[at] = clear_sky_w_m2(night_c, night_c - 2.2);
            }
        }
    }
    Arc::new(climate)
}

/// Hours below 0 °C of a finish's face in the first night and in the fifth, bare or behind dry hessian.
fn hours_below_zero(wall: &WallModel, climate: &Arc<FaceClimate>, covered: bool) -> [usize; 2] {
    let numerics = Numerics { settings: Settings { freezing: true, ..Numerics::default().settings }, ..Numerics::default() };
    let mut bench = Bench::with_numerics(wall, &[finish()], Arc::clone(climate), &[0], numerics).unwrap();
    bench.advance(48);
    bench.act(0, Action::Throw).unwrap();
    if covered {
        bench.act(0, Action::Hang(hessian(0.15))).unwrap();
    }
    bench.advance(24);
    let mut nights = Vec::new();
    for night in 0..5 {
        let (mut below, mut least) = (0, f64::INFINITY);
        for _ in 0..24 {
            bench.advance(1);
            let face_c = bench.look(0).face_c;
            below += usize::from(face_c < 0.0);
            least = face_c.min(least);
        }
        println!("night {}, covered {covered}: {below} hours below zero, least {least:.2} °C", night + 1);
        nights.push(below);
    }
    [nights[0], nights[4]]
}

/// The saying holds on a thin wall with open air behind it, and is a miss on half a metre of sandstone, whose stored warmth keeps the bare face above zero
/// for all but the end of the night; the trial of the model found the same of one clear night.
#[test]
fn on_a_clear_calm_night_after_a_mild_day_hessian_keeps_the_frost_off() {
    let climate = frosty(5.0, 1.0, 5.0, 1);
    let thin = WallModel { thickness_m: 0.2, inside: Inside::Open, ..sandstone(0.15) };
    let below = |wall: &WallModel, covered: bool| hours_below_zero(wall, &climate, covered)[0];
    let (bare, covered) = (below(&thin, false), below(&thin, true));
    assert!(bare > 4 && covered == 0, "thin wall: {bare} hours bare, {covered} behind hessian");
    let (bare, covered) = (below(&sandstone(0.15), false), below(&sandstone(0.15), true));
    assert!(bare <= 4 && covered == 0, "thick wall: {bare} hours bare, {covered} behind hessian; if this is no longer a miss, say so here");
}

#[test]
fn after_five_such_nights_hessian_no_longer_helps_a_thin_cold_wall() {
    let thin = WallModel { thickness_m: 0.2, inside: Inside::Open, ..sandstone(0.15) };
    let climate = frosty(5.0, 1.0, 1.0, 5);
    let [bare_first, bare_fifth] = hours_below_zero(&thin, &climate, false);
    let [covered_first, covered_fifth] = hours_below_zero(&thin, &climate, true);
    println!("thin wall: first night {bare_first} bare and {covered_first} covered, fifth {bare_fifth} and {covered_fifth}");
    assert!(covered_first == 0 && bare_first > 4);
    assert!(covered_fifth > 4 && covered_fifth as f64 > 0.75 * bare_fifth as f64, "{covered_fifth} of {bare_fifth}");
}

/// Haste: the second coat at two days stops the first where it stands.
#[test]
fn a_second_coat_at_two_days_slows_the_first() {
    let uptake = |second_on: Option<usize>| {
        let mut bench = Bench::new(&sandstone(0.15), &[scud(), straightening(12e-3)], steady(15.0, 0.75, 2.0), &[0]).unwrap();
        bench.act(0, Action::Throw).unwrap();
        bench.act(0, Action::Hang(hessian(0.15))).unwrap();
        for hour in 0..24 * 28 {
            if hour < 72 && hour % 8 == 0 {
                bench.act(0, Action::Wet(0.9)).unwrap();
            }
            if second_on == Some(hour / 24) && hour % 24 == 0 {
                bench.act(0, Action::Throw).unwrap();
            }
            bench.advance(1);
        }
        bench.look(0).coats[0].share
    };
    let (two, nine, never) = (uptake(Some(2)), uptake(Some(9)), uptake(None));
    println!("share of the scud turned after four weeks: second coat at two days {two:.2}, at nine {nine:.2}, never {never:.2}");
    assert!(two < 0.5 * nine && nine < never);
}

/// A wall of sandstone 0.5 m thick and nearly full, sealed on the room side, behind one layer in balance with it; kg/m² it has lost by so many days at
/// 15 °C, 75 % and 2 m/s.
fn drying(outer: Option<(&Moisture, f64)>, texture: f64, days: &[usize]) -> Vec<f64> {
    let stone = sandstone(0.0).masonry;
    let tables = |moisture: &Moisture| Arc::new(MaterialTables::from_moisture(moisture).unwrap());
    let stone_tables = tables(&stone);
    let suction_pa = stone_tables.suction_pa(0.95 * 150.0);
    let growing = |thickness_m: f64| {
        let (mut widths, mut left, mut width) = (Vec::new(), thickness_m, 0.5e-3);
        while left > 1.5 * width {
            widths.push(width);
            left -= width;
            width *= 1.12;
        }
        widths.push(left);
        widths.reverse();
        widths
    };
    let mut layers = vec![Layer { material: Arc::clone(&stone_tables), widths_m: growing(0.5), carbonation: None }];
    if let Some((moisture, thickness_m)) = outer {
        layers.push(Layer { material: tables(moisture), widths_m: vec![thickness_m / 20.0; 20], carbonation: None });
    }
    let awake = layers.len();
    let mut column = Column::<1>::new(layers, awake, Settings::default()).unwrap();
    column.set_uniform(0, 288.15, suction_pa);
    let film = convective_w_m2k(2.0);
    let vapour_pa = 0.75 * physics::air::saturation_pa(288.15);
    let face = FaceCondition {
        emissivity: 0.93,
        longwave_w_m2: 5.670_374_419e-8 * 288.15 * 288.15 * 288.15 * 288.15,
        ..FaceCondition::film(288.15, vapour_pa, film, vapour_film_s_m(film) * texture)
    };
    let mut lost = Vec::new();
    for hour in 1..=24 * days.last().unwrap() {
        assert!(column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[face])[0].is_none());
        if hour % 24 == 0 && days.contains(&(hour / 24)) {
            lost.push(column.books(0).evaporated_kg_m2);
        }
    }
    lost
}

/// What the saying holds: the harl's rough face dries a wet wall faster while its face is wet. With factor 1 there is next to nothing left of it, so it is
/// the texture that explains it and not the mortar; after a month the stone decides and the gain is gone. The factor stands on vapour alone: the face cools
/// further and gives back more than half of it. A trial that let the texture bring more heat to the face as well had nearly twice the gain.
#[test]
fn a_harled_face_dries_faster_than_bare_stone_while_it_is_wet() {
    let harl = moisture(330.0, 3.3e-6, 1.8, 0.12, 10.0, 1650.0, (0.7, 0.003));
    let bare = drying(None, 1.0, &[7, 30]);
    let [smooth, rough, roughest] = [1.0, 1.2, 1.4].map(|texture| drying(Some((&harl, 20e-3)), texture, &[7, 30]));
    println!(
        "lost in 7 and 30 days, kg/m²: bare stone {bare:.1?}; harl 20 mm with texture 1.0 {smooth:.1?}, 1.2 {rough:.1?}, 1.4 {roughest:.1?}"
    );
    assert!(rough[0] > 1.05 * bare[0] && roughest[0] > 1.1 * bare[0]);
    assert!((smooth[0] / bare[0] - 1.0).abs() < 0.05);
    // The harl's own water is part of what is lost, so the month is told by how little the texture still adds.
    assert!((roughest[1] - smooth[1]) / smooth[1] < 0.5 * (roughest[0] - smooth[0]) / smooth[0]);
}

/// A covering that lets nothing through keeps the wall wet; a sound cement covering only slows it, and no more than that is claimed.
#[test]
fn an_impermeable_covering_keeps_a_wall_wet() {
    let cement = moisture(180.0, 3e-6, 1.5, 0.008, 80.0, 2000.0, (1.0, 0.003));
    let tight = Moisture { absorption_kg_m2_s05: 1e-5, vapour_resistance: 20_000.0, ..cement.clone() };
    let bare = drying(None, 1.0, &[30, 90]);
    let (cement, tight) = (drying(Some((&cement, 15e-3)), 1.0, &[30, 90]), drying(Some((&tight, 15e-3)), 1.0, &[30, 90]));
    println!("lost in 30 and 90 days, kg/m²: bare {bare:.1?}, sound cement {cement:.1?}, shut {tight:.1?}");
    assert!(tight[1] < 0.1 * bare[1]);
    assert!(cement[0] < bare[0] && cement[1] > 0.5 * bare[1]);
}
