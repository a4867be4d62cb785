//! One wall-year of heat and moisture without carbon dioxide: 40 cells of stone between a room and invented hourly weather, as the engine steps it and
//! as it is told to the Python scripts that solve the same.
use std::sync::Arc;

use curing::kernel::{Column, FaceCondition, Settings, Width};
use curing::{Layer, MaterialTables};
use materials::Moisture;
use serde_json::{Value, json};
use weather::FaceClimate;

use super::{changing, sandstone};

/// Cells of the wall.
pub const CELLS: usize = 40;
/// Cells whose course is compared, from the room outwards.
pub const PROBES: [usize; 8] = [0, 10, 20, 30, 35, 37, 38, 39];
const START_K: f64 = 282.15;
const START_PA: f64 = 2e5;
const EMISSIVITY: f64 = 0.93;

/// Widths growing inwards from the weather by 1.12, 0.5 m in all.
fn widths_m() -> Vec<f64> {
    let mut widths: Vec<f64> = (0..CELLS).map(|cell| libm::pow(1.12, cell as f64)).collect();
    let sum: f64 = widths.iter().sum();
    widths.iter_mut().for_each(|width| *width *= 0.5 / sum);
    widths.reverse();
    widths
}

fn stone() -> Moisture {
    sandstone(0.3).masonry
}

/// Weather without rain, by the hour.
pub fn weather(seed: u64, hours: usize) -> Arc<FaceClimate> {
    changing(seed, hours, 9.0, 0.0)
}

fn inner() -> FaceCondition {
    FaceCondition::film(291.15, 1030.0, 7.7, 3e-8)
}

fn outer(climate: &FaceClimate, hour: usize) -> FaceCondition {
    let film = 4.0 + 4.0 * climate.wind_m_s[hour];
    FaceCondition {
        absorbed_w_m2: 0.6 * climate.sun_w_m2[hour],
        emissivity: EMISSIVITY,
        longwave_w_m2: climate.longwave_w_m2[hour],
        ..FaceCondition::film(climate.air_k[hour], climate.vapour_pa[hour], film, 7e-9 * film)
    }
}

/// The case as the scripts take it; `time` is how often each of their solvers is timed, `None` for not at all.
pub fn told(climate: &FaceClimate, time: Option<usize>) -> Value {
    let faces: Vec<FaceCondition> = (0..climate.air_k.len()).map(|hour| outer(climate, hour)).collect();
    let each = |f: fn(&FaceCondition) -> f64| faces.iter().map(f).collect::<Vec<f64>>();
    let (room, stone) = (inner(), stone());
    json!({
        "widths_m": widths_m(),
        "material": {
            "saturation": stone.saturation_kg_m3,
            "a": stone.retention_a_per_pa,
            "n": stone.retention_n,
            "absorption": stone.absorption_kg_m2_s05,
            "resistance": stone.vapour_resistance,
            "conductivity": stone.conductivity_w_mk,
            "conductivity_per_water": stone.conductivity_per_water,
            "dry_heat": stone.density_kg_m3 * stone.heat_j_kgk,
        },
        "latent_j_kg": Settings::default().latent_j_kg,
        "start": [START_K, START_PA],
        "inner": { "air_k": room.air_k, "vapour_pa": room.vapour_pa, "heat": room.heat_w_m2k, "vapour": room.vapour_s_m },
        "outer": {
            "air_k": each(|c| c.air_k),
            "vapour_pa": each(|c| c.vapour_pa),
            "heat": each(|c| c.heat_w_m2k),
            "vapour": each(|c| c.vapour_s_m),
            "absorbed": each(|c| c.absorbed_w_m2),
            "longwave": each(|c| c.longwave_w_m2),
            "emissivity": EMISSIVITY,
        },
        "probes": PROBES,
        "rtol": 1e-6,
        "time": time,
    })
}

/// A wall of `L` members at the start of the year.
pub fn column<const L: usize>(settings: Settings) -> Column<L>
where
    Column<L>: Width<L>,
{
    let material = Arc::new(MaterialTables::from_moisture(&stone()).unwrap());
    let layer = Layer { material, widths_m: widths_m(), carbonation: None };
    let mut column = Column::new(vec![layer], 1, settings).unwrap();
    for lane in 0..L {
        column.set_uniform(lane, START_K, START_PA);
    }
    column
}

/// Steps every member through the weather, each in its own year where there are several; `each_hour` sees the column after every hour.
pub fn live<const L: usize>(column: &mut Column<L>, years: &[Arc<FaceClimate>; L], longest_s: f64, mut each_hour: impl FnMut(&Column<L>)) {
    for hour in 0..years[0].air_k.len() {
        let outside: [FaceCondition; L] = std::array::from_fn(|lane| outer(&years[lane], hour));
        let lost = column.advance(&[true; L], 3600.0, &[longest_s; L], &[inner(); L], &outside);
        assert!(lost.iter().all(Option::is_none), "hour {hour}: {lost:?}");
        each_hour(column);
    }
}

/// Temperature, K, and relative humidity of the probes of the first member, by the hour.
pub fn course(climate: &Arc<FaceClimate>, settings: Settings, longest_s: f64) -> (Vec<f64>, Vec<f64>) {
    let mut column = column::<1>(settings);
    let (mut t, mut humidity) = (Vec::new(), Vec::new());
    live(&mut column, &[Arc::clone(climate)], longest_s, |column| {
        let cells: Vec<_> = column.layer_cells(0, 0).collect();
        t.extend(PROBES.map(|probe| cells[probe].temperature_k));
        humidity.extend(PROBES.map(|probe| cells[probe].humidity));
    });
    (t, humidity)
}

/// Root of the mean square of the differences.
pub fn rms(ours: &[f64], theirs: &[f64]) -> f64 {
    assert_eq!(ours.len(), theirs.len());
    let sum: f64 = ours.iter().zip(theirs).map(|(a, b)| (a - b) * (a - b)).sum();
    libm::sqrt(sum / ours.len() as f64)
}
