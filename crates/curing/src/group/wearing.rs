//! Feeding what the coats of a block have been through: from the column's state and the hour's weather to the indices of damage. It reads; it never
//! changes the column.

use materials::Cover;
use physics::air::saturation_iapws_pa;
use physics::evaporation::menzel_kg_m2s;
use physics::frost::saturation;
use weather::FaceClimate;

use super::{Group, Member};
use crate::damage::{Beneath, Placing, Wear, WearHour, critical_saturation};
use crate::exposure;
use crate::kernel::{Column, Seen};
use crate::readiness::asked_m;
use crate::{CoatLook, CoatModel};

/// Hours after a throw in which what is beneath is weighed, and in which the coat may be fresh.
const WEIGHED_H: usize = 3;
const FRESH_H: usize = 24;
/// A cover that lets less than this share of the wind through shuts a coat in.
const SHUTS_BELOW: f64 = 0.5;

impl<const L: usize> Group<L> {
    /// Passes the hour that ended, seen on the outermost coat and its face, to what the coats have been through.
    pub(super) fn wear(&mut self, lane: usize, hour: usize, seen: &CoatLook, face: &Seen) {
        let (shared, column, member) = (&*self.shared, &self.column, &mut self.members[lane]);
        let covered = shuts(member.cover.as_ref());
        if shared.numerics.settings.freezing && face.temperature_k < crate::kernel::ZERO_K {
            for (coat, record) in member.thrown.iter_mut().enumerate() {
                if let (Some(wear), Some(layer)) = (record.wear.as_mut(), shared.layer[coat]) {
                    wear.freeze(frozen_share(column, lane, layer, &shared.coats[coat]), hour, covered);
                }
            }
        }
        let Some(coat) = member.thrown.len().checked_sub(1) else { return };
        let Some(layer) = shared.layer[coat] else { return };
        let model = &shared.coats[coat];
        let record = &member.thrown[coat];
        let (age_h, firm) = (record.age_h(), record.firm(seen, model));
        let evaporation_kg_m2h =
            if age_h <= FRESH_H && !firm { evaporation(&shared.climate, hour, member, column.cloth(lane), face) } else { 0.0 };
        let now = WearHour {
            hour,
            age_h,
            water_share: seen.water_share,
            placed_kg_m3: record.placed_kg_m3(),
            firm,
            uptake_m: seen.uptake_m,
            asked_m: asked_m(&model.thresholds, model.thickness_m),
            face_humidity: face.humidity,
            rain_kg_m2: shared.climate.rain_kg_m2[hour] * member.cover.as_ref().map_or(1.0, |cover| cover.rain_through),
            evaporation_kg_m2h,
            water_beneath_kg_m2: if age_h <= WEIGHED_H { water_beneath(column, lane, layer) } else { 0.0 },
            covered,
        };
        if let Some(wear) = member.thrown[coat].wear.as_mut() {
            wear.pass(model, &now);
        }
    }

    /// What a coat about to be thrown as so many-th finds beneath it.
    pub(super) fn placing(&self, lane: usize, coat: usize, layer: usize) -> Placing {
        let shared = &*self.shared;
        let member = &self.members[lane];
        let beneath = (0..coat).rev().find(|&under| shared.layer[under].is_some()).and_then(|under| {
            let (record, model) = (&member.thrown[under], &shared.coats[under]);
            let seen = record.look(&self.column, lane, shared.layer[under], model);
            let limits = &model.thresholds;
            let soft = if record.firm(&seen, model) { 0.0 } else { seen.water_share / limits.firm_water_share.max(1e-6) };
            (record.age_h() > 0).then(|| Beneath {
                taken_up: (seen.uptake_m / asked_m(limits, model.thickness_m).max(1e-9))
                    .max(seen.set_asked.map_or(0.0, |asked| seen.set / asked.max(1e-9))),
                softness: soft,
                strength: model.mortar.strength_rank,
            })
        });
        Placing {
            hour: shared.hour(member.passed),
            suction_beneath_pa: self.column.outer_face(lane).suction_pa,
            water_beneath_kg_m2: water_beneath(&self.column, lane, layer),
            beneath,
        }
    }

    /// What a coat about to be thrown starts with; `None` for one too thin to be a layer.
    pub(super) fn new_wear(&self, lane: usize, coat: usize) -> Option<Wear> {
        let layer = self.shared.layer[coat]?;
        Some(Wear::thrown(&self.shared.coats[coat], &self.placing(lane, coat, layer)))
    }
}

/// Whether a cover shuts a coat in.
fn shuts(cover: Option<&Cover>) -> bool {
    cover.is_some_and(|cover| cover.wind_leak < SHUTS_BELOW)
}

/// Water in the layers inside one, kg/m².
fn water_beneath<const L: usize>(column: &Column<L>, lane: usize, layer: usize) -> f64 {
    (0..layer).flat_map(|inner| column.layer_contents(lane, inner)).map(|(width, water, _)| width * water).sum()
}

/// Share of a coat that is ice in cells fuller than the critical degree.
fn frozen_share<const L: usize>(column: &Column<L>, lane: usize, layer: usize, model: &CoatModel) -> f64 {
    let (mut frozen, mut thickness) = (0.0, 0.0);
    for cell in column.layer_cells(lane, layer) {
        thickness += cell.width_m;
        let taken_up = 1.0 - cell.portlandite_mol_m3 / model.mortar.portlandite_mol_m3.max(1e-9);
        if cell.ice_kg_m3 > 0.0 && saturation(cell.water_kg_m3, model.mortar.fresh.porosity) > critical_saturation(taken_up) {
            frozen += cell.width_m * cell.ice_kg_m3 / cell.water_kg_m3;
        }
    }
    if thickness > 0.0 { frozen / thickness } else { 0.0 }
}

/// Evaporation by Menzel's form from a face, kg/(m² h): behind a cover with the wind it lets through, and behind a cloth with air mixed by the leak from
/// that outdoors and that at the cloth (the mixing is a guess).
fn evaporation(climate: &FaceClimate, hour: usize, member: &Member, (cloth_kg_m2, cloth_k): (f64, f64), face: &Seen) -> f64 {
    let (air_k, outdoors_pa) = (climate.air_k[hour], climate.vapour_pa[hour]);
    let leak = member.cover.as_ref().map_or(1.0, |cover| cover.wind_leak);
    let cloth = member.cover.as_ref().filter(|cover| exposure::cloth_heat_j_m2k(cover).is_some());
    let behind_pa = cloth.map_or(outdoors_pa, |cover| {
        let dampness = (cloth_kg_m2 / exposure::hygroscopic_kg_m2(cover)).min(1.0);
        leak * outdoors_pa + (1.0 - leak) * dampness * saturation_iapws_pa(cloth_k)
    });
    let humidity = behind_pa / saturation_iapws_pa(air_k);
    (3600.0 * menzel_kg_m2s(face.temperature_k, air_k, humidity, climate.wind_m_s[hour] * leak)).max(0.0)
}
