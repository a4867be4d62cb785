//! A profile says the same as a look, cell by cell: both read one column.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use common::*;
use curing::{Action, Bench, ProfileCell, Stratum};

fn bench() -> Bench {
    let coats = [scud(), finish()];
    let mut bench = Bench::new(&sandstone(0.2), &coats, changing(5, 8760, 9.0, 0.2), &[1000, 3000]).unwrap();
    for member in 0..2 {
        bench.act(member, Action::Throw).unwrap();
    }
    bench.advance(24 * 9);
    bench
}

fn of(cells: &[ProfileCell], stratum: Stratum) -> Vec<&ProfileCell> {
    cells.iter().filter(|cell| cell.stratum == stratum).collect()
}

#[test]
fn cells_add_up_to_what_a_look_shows() {
    let bench = bench();
    for member in 0..2 {
        let (cells, look) = (bench.profile(member), bench.look(member));
        let coat = of(&cells, Stratum::Coat(0));
        let thickness: f64 = coat.iter().map(|cell| cell.width_m).sum();
        assert!((thickness - scud().thickness_m).abs() < 1e-12);
        let left: f64 = coat.iter().map(|cell| cell.portlandite_share.unwrap() * cell.width_m).sum();
        assert!((thickness - left - look.coats[0].uptake_m).abs() < 1e-9, "{} {}", thickness - left, look.coats[0].uptake_m);
        assert!(look.coats[0].uptake_m > 1e-4, "something was taken up");
        let water: f64 = coat.iter().map(|cell| cell.water_share * cell.width_m).sum::<f64>() / thickness * 480.0;
        assert!((water / look.coats[0].water_kg_m3 - 1.0).abs() < 1e-6, "{water} {}", look.coats[0].water_kg_m3);
        let masonry: f64 = of(&cells, Stratum::Masonry).iter().map(|cell| cell.width_m).sum();
        assert!((masonry - 0.5).abs() < 1e-12);
        assert!(of(&cells, Stratum::Masonry).iter().all(|cell| cell.portlandite_share.is_none()));
    }
}

#[test]
fn cells_run_from_the_room_to_the_weather_and_coats_to_come_are_not_shown() {
    let mut bench = bench();
    let cells = bench.profile(0);
    assert!(cells.windows(2).all(|pair| pair[0].depth_m > pair[1].depth_m), "depth falls towards the weather");
    assert!(of(&cells, Stratum::Coat(1)).is_empty(), "the second coat is not thrown yet");
    bench.act(0, Action::Throw).unwrap();
    bench.advance(1);
    let after = bench.profile(0);
    assert!(!of(&after, Stratum::Coat(1)).is_empty());
    assert!((after[0].depth_m - cells[0].depth_m - finish().thickness_m).abs() < 1e-12, "the face has moved out by a coat");
    assert!(bench.profile(7).is_empty(), "a member that is not there");
}
