//! How a wall stands on the day of the survey. It must never know what comes after.

use std::sync::Arc;

use super::{Shared, WETTEST_MIX};
use crate::kernel::Column;
use crate::lanes::exp;
use crate::material::suction_of_humidity_pa;
use crate::{Inside, WallModel};

/// Gives a lane its state on the day of the survey: water as surveyed, temperature running straight from the room's to the mean of the ten days
/// before.
pub(super) fn start<const L: usize>(shared: &Shared, column: &mut Column<L>, lane: usize, hour: usize) {
    let climate = &shared.climate;
    let hours = climate.air_k.len();
    let before = 240.min(hours);
    let mean = (0..before).map(|back| climate.air_k[(hour + hours - 1 - back) % hours]).sum::<f64>() / before as f64;
    let inside = match shared.wall.inside {
        Inside::Heated { air_k, .. } => air_k,
        Inside::Unheated | Inside::Open => mean,
    };
    let material = Arc::clone(&column.layers()[0].material);
    // A wall said to be bone dry still stands in equilibrium with room air.
    let driest = suction_of_humidity_pa(0.4, mean);
    let suction =
        |depth_m: f64| material.suction_pa(wetness(&shared.wall, depth_m).min(WETTEST_MIX) * material.saturation_kg_m3()).min(driest);
    let widths = column.layers()[0].widths_m.clone();
    let thickness: f64 = widths.iter().sum();
    let mut from_inside = 0.0;
    for (cell, width) in widths.iter().enumerate() {
        let middle = from_inside + 0.5 * width;
        column.set_cell(lane, 0, cell, inside + (mean - inside) * (middle / thickness), suction(thickness - middle));
        from_inside += width;
    }
    column.settle(lane);
}

/// Degree of saturation on the day of the survey at a depth behind the outer face, 0 to 1.
fn wetness(wall: &WallModel, depth_m: f64) -> f64 {
    match wall.towards_face {
        None => wall.saturation,
        Some(face) => wall.saturation + (face.saturation - wall.saturation) * exp(-depth_m / face.depth_m),
    }
}
