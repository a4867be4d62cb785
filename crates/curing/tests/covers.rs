//! The eight shipped covers as the engine runs them, and what each must do whatever its figures are.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::{Action, Bench, Look};
use materials::{Catalogue, Cover};
use weather::FaceClimate;

fn behind(cover: Option<Cover>, climate: &Arc<FaceClimate>, hours: usize) -> Look {
    let mut bench = Bench::new(&sandstone(0.2), &[scud()], Arc::clone(climate), &[100]).unwrap();
    bench.act(0, Action::Throw).unwrap();
    if let Some(cover) = cover {
        let (holds, wetted) = (cover.holds_kg_m2, cover.wetted);
        bench.act(0, Action::Hang(cover)).unwrap();
        if wetted {
            bench.act(0, Action::Wet(holds)).unwrap();
        }
    }
    bench.advance(hours);
    assert!(bench.failed(0).is_none(), "{:?}", bench.failed(0));
    let books = bench.balance(0);
    for closure in [books.water, books.carbon, books.energy] {
        assert!(closure.residual.abs() <= 1e-8 * closure.moved + 1e-6, "{books:?}");
    }
    bench.look(0)
}

/// Each shipped cover with its factors set to 1 and its films wide open is no cover, to the bit, whatever else it says.
#[test]
fn every_cover_whose_factors_are_all_one_is_no_cover() {
    let climate = changing(31, 8760, 9.0, 0.8);
    let bare = behind(None, &climate, 200);
    let covers = Catalogue::shipped().covers;
    assert_eq!(covers.len(), 8);
    for (name, cover) in covers {
        let open = Cover {
            wind_leak: 1.0,
            sun_through: 1.0,
            rain_through: 1.0,
            sky_through: 1.0,
            gap_w_m2k: 0.0,
            cloth_kg_m2: 0.0,
            holds_kg_m2: 0.0,
            warms_k: 0.0,
            co2_film_m_s: 1e9,
            wetted: false,
            ..cover
        };
        assert_eq!(behind(Some(open), &climate, 200), bare, "{name}");
    }
}

/// Each shipped cover, as it is, runs through changing weather with closed books and does what it is hung for: less rain reaches the face, and less wind.
#[test]
fn every_shipped_cover_runs_and_shelters() {
    let mut storm = (*steady(12.0, 0.6, 6.0)).clone();
    storm.rain_kg_m2[100..148].fill(0.3);
    let (dry, storm) = (steady(20.0, 0.5, 6.0), Arc::new(storm));
    let bare = (behind(None, &dry, 24).coats[0].water_kg_m3, behind(None, &storm, 48).masonry_saturation);
    for (name, cover) in Catalogue::shipped().covers.into_iter().filter(|(name, _)| name != "none") {
        let (held, wet) = (behind(Some(cover.clone()), &dry, 24).coats[0].water_kg_m3, behind(Some(cover), &storm, 48).masonry_saturation);
        println!(
            "{name}: water after a dry day {held:.0} against {:.0} kg/m³ bare; wall after a wet one {wet:.3} against {:.3}",
            bare.0, bare.1
        );
        assert!(held > bare.0 && wet < bare.1, "{name}");
    }
}

/// A sealed shelter starves the coat of carbon dioxide; a burner in it feeds it, and damps it.
#[test]
fn a_sealed_shelter_starves_a_coat_and_a_burner_feeds_it() {
    let shelter = Catalogue::shipped().covers["heated-shelter"].clone();
    let climate = steady(5.0, 0.85, 2.0);
    let uptake = |cover: Cover| behind(Some(cover), &climate, 24 * 12).coats[0].uptake_m * 1000.0;
    let vented = uptake(shelter.clone());
    let sealed = uptake(Cover { co2_film_m_s: 2e-5, ..shelter.clone() });
    let burning = uptake(Cover { co2_film_m_s: 2e-4, burner: true, ..shelter.clone() });
    let electric = uptake(Cover { co2_film_m_s: 2e-4, ..shelter });
    println!(
        "uptake after 12 days, mm: vented {vented:.2}, sealed {sealed:.2}; nearly shut with a burner {burning:.2}, without {electric:.2}"
    );
    assert!(sealed < 0.3 * vented && burning > electric);
}

/// The rise behind a heated shelter is what is asked for, or what its heater can give against wind and skin, whichever is less.
#[test]
fn a_heater_gives_no_more_than_it_can() {
    let shelter = Catalogue::shipped().covers["heated-shelter"].clone();
    let face = |cover: Cover, wind: f64| behind(Some(cover), &steady(2.0, 0.85, wind), 24 * 9).face_c;
    let unlimited = Cover { heater_w_m2: 0.0, ..shelter.clone() };
    let weak = Cover { heater_w_m2: 10.0, ..shelter.clone() };
    assert_eq!(face(unlimited.clone(), 1.0), face(Cover { heater_w_m2: 1000.0, ..shelter.clone() }, 1.0));
    let [full, shipped, faint] = [unlimited, shipped_in(&shelter), weak].map(|cover| face(cover, 4.0));
    println!(
        "face behind a heated shelter in wind: unlimited {full:.2} °C, as shipped {shipped:.2} °C, with a tenth of the heat {faint:.2} °C"
    );
    assert!(faint < shipped && shipped <= full);
}

fn shipped_in(cover: &Cover) -> Cover {
    cover.clone()
}
