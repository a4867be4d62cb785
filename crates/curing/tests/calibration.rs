//! The depth table of the calibration page, recomputed.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::calibration;
use curing::kernel::{Column, FaceCondition, Settings};
use curing::{Layer, MaterialTables};

/// Depth of the front, mm, at 7, 14, 28, 90 and 365 days in a 1:3 slab of 50 mm, placed wet, one face open to still weather.
fn depths_mm(air_c: f64, humidity: f64) -> [f64; 5] {
    let mortar = coat(3.0, 0.05, 320.0, 10.0, 2730.0, 305.0).mortar;
    let material = Arc::new(MaterialTables::from_moisture(&mortar.fresh).unwrap());
    let suction = material.suction_pa(305.0);
    let mut widths: Vec<f64> = (0..60).map(|cell| 0.35e-3 * libm::pow(1.03, f64::from(59 - cell))).collect();
    let scale = 0.05 / widths.iter().sum::<f64>();
    widths.iter_mut().for_each(|width| *width *= scale);
    let layer = Layer { material, widths_m: widths, carbonation: Some(calibration::carbonation(&mortar)) };
    let mut column = Column::<1>::new(vec![layer], 1, Settings::default()).unwrap();
    column.set_uniform(0, air_c + 273.15, suction);
    let saturation = 610.5 * libm::exp(17.269 * air_c / (237.3 + air_c));
    // Laboratory air: a total heat film of 8 W/(m² K), 5 of it convection that carries vapour and gas.
    let outer = FaceCondition {
        co2_mol_m3: 420e-6 * 101_325.0 / (8.314_462_618 * (air_c + 273.15)),
        co2_m_s: 0.73 * 7e-9 * 5.0 * 461.5 * (air_c + 273.15),
        ..FaceCondition::film(air_c + 273.15, humidity * saturation, 8.0, 7e-9 * 5.0)
    };
    let mut found = [0.0; 5];
    let mut day = 0;
    for (slot, until) in [7, 14, 28, 90, 365].into_iter().enumerate() {
        while day < until {
            for _ in 0..24 {
                assert!(column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[outer])[0].is_none());
            }
            day += 1;
        }
        let (mut depth, mut before) = (0.0, None::<(f64, f64)>);
        let mut front = None;
        for (width, _, portlandite) in column.layer_contents(0, 0).rev() {
            let middle = depth + 0.5 * width;
            if portlandite >= 1365.0 {
                front = Some(before.map_or(0.0, |(above, turned)| above + (middle - above) * (1365.0 - turned) / (portlandite - turned)));
                break;
            }
            before = Some((middle, portlandite));
            depth += width;
        }
        found[slot] = front.unwrap_or(0.05) * 1000.0;
    }
    found
}

/// Figures of the table in `curing::calibration`: computed here (regression only), and the recollected bands (priors of ±50 %, from memory).
#[test]
fn depths_are_those_of_the_table_and_seven_of_nineteen_lie_in_their_band() {
    let open = f64::INFINITY;
    let rows = [
        (20.0, 0.65, [0.2, 1.3, 3.0, 6.8, 14.9], [(1.0, 2.5), (1.5, 3.5), (2.5, 5.0), (5.0, 10.0), (12.0, 20.0)]),
        (8.0, 0.85, [0.0, 0.0, 0.4, 5.0, 13.4], [(0.0, 1.0), (0.5, 2.0), (1.0, 3.0), (2.0, 5.5), (5.0, 11.0)]),
        (20.0, 0.93, [0.0, 0.0, 0.2, 3.6, 12.4], [(0.0, 0.5), (0.0, 1.0), (0.5, 1.5), (1.0, 3.0), (3.0, 6.0)]),
        (20.0, 0.35, [0.8, 1.8, 3.0, 6.0, 14.6], [(0.0, 0.5), (0.0, 1.0), (0.0, 1.5), (0.0, 3.0), (open, open)]),
    ];
    let (mut inside, mut judged) = (0, 0);
    for (air_c, humidity, table, bands) in rows {
        let found = depths_mm(air_c, humidity);
        println!("{air_c} °C, {humidity}: {found:.1?} mm, bands {bands:?}");
        for ((found, table), (low, high)) in found.into_iter().zip(table).zip(bands) {
            assert!((found - table).abs() < 0.1 + 0.03 * table, "{air_c} °C, {humidity}: {found} against {table}");
            if low < open {
                judged += 1;
                inside += usize::from(found >= low && found <= high);
            }
        }
    }
    assert_eq!((inside, judged), (7, 19));
}
