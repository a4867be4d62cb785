//! trade
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;
use common::*;
use curing::*;

#[test]
fn week_and_fortnight() {
    for (name, t, rh) in [("mild", 15.0, 0.75), ("cool", 8.0, 0.85), ("cold", 5.0, 0.90)] {
        for (what, cover) in [("bare", None), ("damp3", Some(hessian(0.15)))] {
            for (stone, wall) in [("sand", sandstone(0.15)), ("granite", granite(0.3))] {
                let started = std::time::Instant::now();
                let climate = steady(t, rh, 2.0);
                let mut bench = Bench::new(&wall, &[scud()], climate, &[0]).unwrap();
                let mut text = String::new();
                let (days, decides) = until_ready(&mut bench, cover.clone(), 3, 60, |day, look| {
                    if [1, 3, 7, 14].contains(&day) {
                        let coat = &look.coats[0];
                        text += &format!(
                            " | {day}: {:.0}/{:.3}/{:.1}/{:.2}",
                            coat.water_kg_m3,
                            look.face_humidity,
                            coat.front_m * 1000.0,
                            coat.share
                        );
                    }
                });
                let balance = bench.balance(0);
                println!(
                    "{name} {stone} {what}: {days:?} {decides:?}{text} [{:.0} ns/cell-step, water {:.1e} carbon {:.1e} energy {:.1e}]",
                    started.elapsed().as_nanos() as f64 / bench.cell_steps() as f64,
                    balance.water.residual / balance.water.moved,
                    balance.carbon.residual / balance.carbon.moved,
                    balance.energy.residual / balance.energy.moved
                );
            }
        }
    }
}
