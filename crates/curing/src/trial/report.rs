//! Profiles and the carbonated front, read off a column at given depths.

use super::data::Trial;
use super::result::{Profile, ProfilePoint};
use super::run::vapour_pa;
use crate::kernel::{Column, Place, Seen, liquid_suction_pa};
use crate::material::humidity_of_suction;

/// One layer's points, outermost first: the face or joint outside it, its cells, the joint or face inside it.
struct LayerPoints {
    points: Vec<Seen>,
    portlandite_mol_m3: f64,
}

/// The column at the depths asked for, or in the middle of every cell.
pub(super) fn profile(trial: &Trial, column: &Column<1>, time_s: f64) -> Profile {
    let layers = by_layer(trial, column);
    let mut points = Vec::new();
    if trial.depths_m.is_empty() {
        for (index, layer) in layers.iter().enumerate() {
            let cells = layer.points.iter().filter(|seen| seen.width_m > 0.0);
            points.extend(cells.map(|seen| {
                let ice = trial.switches.freezing.then_some(seen.ice_kg_m3);
                point(index, layer, seen, ice)
            }));
        }
    } else {
        points.extend(trial.depths_m.iter().filter_map(|depth_m| at(trial, column, &layers, *depth_m)));
    }
    Profile { time_s, points }
}

/// The points of each layer, outermost layer first. A joint is seen by the kernel as the material inside it; the layer outside it holds other water.
fn by_layer(trial: &Trial, column: &Column<1>) -> Vec<LayerPoints> {
    let mut all = column.profile(0);
    all.reverse();
    let ends: Vec<usize> = (0..all.len()).filter(|&index| !matches!(all[index].place, Place::Cell { .. })).collect();
    let ranges = ends.windows(2).map(|pair| pair[0]..=pair[1]);
    ranges
        .zip(&trial.layers)
        .map(|(range, layer)| LayerPoints {
            points: all[range].to_vec(),
            portlandite_mol_m3: layer.lime.map_or(0.0, |lime| lime.portlandite_mol_m3),
        })
        .collect()
}

/// The state at a depth, on the straight lines between the points of its layer.
fn at(trial: &Trial, column: &Column<1>, layers: &[LayerPoints], depth_m: f64) -> Option<ProfilePoint> {
    let slack = 1e-9;
    let index = layers.iter().position(|layer| layer.points.last().is_some_and(|last| depth_m <= last.depth_m + slack))?;
    let layer = &layers[index];
    let deeper = layer.points.iter().position(|seen| seen.depth_m >= depth_m - slack)?.max(1);
    let (low, high) = (layer.points.get(deeper - 1)?, layer.points.get(deeper)?);
    let share = ((depth_m - low.depth_m) / (high.depth_m - low.depth_m)).clamp(0.0, 1.0);
    let between = |a: f64, b: f64| a + share * (b - a);
    let material = &column.layers()[trial.layers.len() - 1 - index].material;
    let held = |seen: &Seen| if seen.width_m > 0.0 { seen.water_kg_m3 } else { material.water_kg_m3(seen.suction_pa) };
    let water = between(held(low), held(high));
    let portlandite = |seen: &Seen, other: &Seen| if seen.width_m > 0.0 { seen.portlandite_mol_m3 } else { other.portlandite_mol_m3 };
    let lime = between(portlandite(low, high), portlandite(high, low));
    let suction_pa = match share {
        0.0 => low.suction_pa,
        1.0 => high.suction_pa,
        _ => material.suction_pa(water),
    };
    let ice = |seen: &Seen, other: &Seen| if seen.width_m > 0.0 { seen.ice_kg_m3 } else { other.ice_kg_m3 };
    let state = Seen {
        depth_m,
        temperature_k: between(low.temperature_k, high.temperature_k),
        water_kg_m3: water,
        suction_pa,
        portlandite_mol_m3: lime,
        ..*low
    };
    let ice = trial.switches.freezing.then(|| between(ice(low, high), ice(high, low)));
    Some(point(index, layer, &state, ice))
}

/// A state as it is printed; `ice_kg_m3` is `None` where pore water does not freeze.
fn point(index: usize, layer: &LayerPoints, seen: &Seen, ice_kg_m3: Option<f64>) -> ProfilePoint {
    let Seen { depth_m, temperature_k, water_kg_m3, suction_pa, portlandite_mol_m3: lime, .. } = *seen;
    let iced = ice_kg_m3.is_some_and(|ice| ice > 0.0);
    let liquid_pa = if iced { liquid_suction_pa(suction_pa, temperature_k) } else { suction_pa };
    let humidity = humidity_of_suction(liquid_pa, temperature_k);
    ProfilePoint {
        depth_m,
        layer: index + 1,
        temperature_c: temperature_k - 273.15,
        humidity,
        vapour_pa: vapour_pa(humidity, temperature_k),
        water_kg_m3,
        suction_pa,
        ice_kg_m3,
        portlandite_share: if layer.portlandite_mol_m3 > 0.0 { lime / layer.portlandite_mol_m3 } else { 1.0 },
    }
}

/// Depth at which portlandite passes half of what was there, m, between the middles of cells: zero where even the outermost cell has more, the inner edge of
/// the lime where even its innermost has less.
pub(super) fn front_m(trial: &Trial, column: &Column<1>) -> f64 {
    let mut before: Option<(f64, f64)> = None;
    let mut edge_m = 0.0;
    for layer in by_layer(trial, column).iter().filter(|layer| layer.portlandite_mol_m3 > 0.0) {
        for cell in layer.points.iter().filter(|seen| seen.width_m > 0.0) {
            let share = cell.portlandite_mol_m3 / layer.portlandite_mol_m3;
            if share >= 0.5 {
                return before.map_or(0.0, |(depth_m, less)| depth_m + (0.5 - less) / (share - less) * (cell.depth_m - depth_m));
            }
            before = Some((cell.depth_m, share));
            edge_m = cell.depth_m + 0.5 * cell.width_m;
        }
    }
    edge_m
}
