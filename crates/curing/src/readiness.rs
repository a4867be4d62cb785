//! When a coat is ready for the next: the six rules, each a named reason that can be shown.
//!
//! What each limit rests on stands in [`crate::calibration`]. Age, firm and carbonated latch: once met they stay met. The others are judged on the hour.
//!
//! *Sound* fails while damage of grade *redo* stands on any coat of the wall: only such a coat has to come off. A damage to note or to mend holds nobody up.

use crate::damage::Wear;
use crate::kernel::{Column, Seen};
use crate::{CoatLook, CoatModel, Criterion, CriterionLook, Thresholds, calibration};

/// What is remembered of a coat that has been thrown.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CoatRecord {
    /// Hours since it was thrown.
    age_h: usize,
    /// Whole days of 24 hours since then with a mean at or above 5 °C.
    mild_days: usize,
    /// Sum of the day's air temperatures so far, °C.
    day_sum_c: f64,
    /// Water placed with it, kg/m³.
    placed_kg_m3: f64,
    /// How firm it has been, 0 as placed to 1 when the second rule held: it only grows.
    firmness: f64,
    /// Hours after throwing at which each rule first held.
    met_after_h: [Option<f64>; 6],
    /// What it has been through; `None` for a coat too thin to be a layer.
    pub(crate) wear: Option<Wear>,
}

/// The hour as the rules need it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Present {
    /// Air, °C.
    pub(crate) air_c: f64,
    /// Outer face, °C.
    pub(crate) face_c: f64,
    /// Relative humidity in the pores of the outer face.
    pub(crate) face_humidity: f64,
    /// No damage that asks for a coat to be redone stands on the wall.
    pub(crate) sound: bool,
}

const RULES: [Criterion; 6] =
    [Criterion::Age, Criterion::Firm, Criterion::Carbonated, Criterion::DampNotWet, Criterion::Sound, Criterion::ThermallyFit];
/// Temperature from which a day counts towards age, °C (common practice, no source).
const MILD_C: f64 = 5.0;

impl CoatRecord {
    pub(crate) fn thrown(placed_kg_m3: f64, wear: Option<Wear>) -> Self {
        Self { age_h: 0, mild_days: 0, day_sum_c: 0.0, placed_kg_m3, firmness: 0.0, met_after_h: [None; 6], wear }
    }

    /// Hours since it was thrown.
    pub(crate) fn age_h(&self) -> usize {
        self.age_h
    }

    /// Water placed with it, kg/m³.
    pub(crate) fn placed_kg_m3(&self) -> f64 {
        self.placed_kg_m3
    }

    /// Whether it has been firm, by what is seen of it now or before.
    pub(crate) fn firm(&self, coat: &CoatLook, model: &CoatModel) -> bool {
        let set = firm_degree(model).is_some_and(|asked| coat.set >= asked);
        self.met_after_h[1].is_some() || coat.water_share < model.thresholds.firm_water_share || set
    }

    /// Whether no damage that asks for it to be redone stands on it.
    pub(crate) fn sound(&self) -> bool {
        self.wear.as_ref().is_none_or(Wear::sound)
    }

    /// Passes an hour.
    pub(crate) fn pass_hour(&mut self, air_c: f64) {
        self.age_h += 1;
        self.day_sum_c += air_c;
        if self.age_h.is_multiple_of(24) {
            if self.day_sum_c >= MILD_C * 24.0 {
                self.mild_days += 1;
            }
            self.day_sum_c = 0.0;
        }
    }

    /// How firm the coat is now and was at most, 0 as placed to 1 when the second rule held, by the water it has lost on the way there or
    /// by its set.
    pub(crate) fn firmness(&mut self, coat: &CoatLook, model: &CoatModel) -> f64 {
        let limits = &model.thresholds;
        let lost = (1.0 - coat.water_share) / (1.0 - limits.firm_water_share).max(1e-9);
        let set = coat.set_firm.map_or(0.0, |degree| coat.set / degree);
        self.firmness = self.firmness.max(lost.max(set).clamp(0.0, 1.0));
        self.firmness
    }

    /// The coat as it stands; `layer` is `None` for a coat too thin to be one.
    pub(crate) fn look<const L: usize>(&self, column: &Column<L>, lane: usize, layer: Option<usize>, model: &CoatModel) -> CoatLook {
        let measured = layer.map(|layer| measure(column, lane, layer, model.mortar.portlandite_mol_m3)).unwrap_or_default();
        CoatLook {
            age_h: self.age_h as f64,
            mild_days: self.mild_days as f64,
            water_kg_m3: measured.water_kg_m3,
            water_share: if self.placed_kg_m3 > 0.0 { measured.water_kg_m3 / self.placed_kg_m3 } else { 0.0 },
            uptake_m: measured.uptake_m,
            front_m: measured.front_m,
            share: if model.thickness_m > 0.0 { measured.uptake_m / model.thickness_m } else { 1.0 },
            set: layer.map_or(0.0, |layer| column.layer_set(lane, layer)),
            set_firm: firm_degree(model),
            set_asked: degree_after(model, model.thresholds.set_days * 24.0),
        }
    }

    /// The six rules now, remembering when each was first met.
    pub(crate) fn judge(&mut self, coat: &CoatLook, model: &CoatModel, present: &Present) {
        let now = holds_now(coat, model, present);
        for (met, holds) in self.met_after_h.iter_mut().zip(now) {
            if holds && met.is_none() {
                *met = Some(self.age_h as f64);
            }
        }
    }

    /// The rules as shown: the first three by whether they were ever met, the others by the hour.
    pub(crate) fn rules(&self, coat: &CoatLook, model: &CoatModel, present: &Present) -> Vec<CriterionLook> {
        let now = holds_now(coat, model, present);
        RULES
            .iter()
            .zip(now)
            .zip(self.met_after_h)
            .enumerate()
            .map(|(index, ((&criterion, holds), met_after_h))| {
                let latched = index < 3 && met_after_h.is_some();
                CriterionLook { criterion, holds: holds || latched, met_after_h: met_after_h.or(holds.then_some(self.age_h as f64)) }
            })
            .collect()
    }
}

/// The rule that was met last, or the first still failing.
pub(crate) fn decides(rules: &[CriterionLook]) -> Option<Criterion> {
    if let Some(failing) = rules.iter().find(|rule| !rule.holds) {
        return Some(failing.criterion);
    }
    let mut last: Option<&CriterionLook> = None;
    for rule in rules {
        if last.is_none_or(|last| rule.met_after_h > last.met_after_h) {
            last = Some(rule);
        }
    }
    last.map(|rule| rule.criterion)
}

/// Depth of uptake asked of a coat: the threshold, but never more than its share of the thickness.
pub(crate) fn asked_m(limits: &Thresholds, thickness_m: f64) -> f64 {
    limits.uptake_m.min(limits.uptake_share * thickness_m)
}

/// Degree of set of a coat after so many hours at 20 °C; `None` for air lime.
fn degree_after(model: &CoatModel, hours: f64) -> Option<f64> {
    model.mortar.set.as_ref().map(|set| calibration::set_law(set).degree(hours * 3600.0))
}

/// Degree of set at which a coat is firm: that of its paste's final set.
fn firm_degree(model: &CoatModel) -> Option<f64> {
    degree_after(model, model.mortar.set.as_ref()?.final_set_h)
}

/// The six rules by what is seen now.
fn holds_now(coat: &CoatLook, model: &CoatModel, present: &Present) -> [bool; 6] {
    let limits = &model.thresholds;
    let (coldest, hottest) = limits.fit_c;
    let fit = |c: f64| c >= coldest && c <= hottest;
    let set = |asked: Option<f64>| asked.is_some_and(|asked| coat.set >= asked);
    [
        coat.mild_days >= limits.least_days,
        coat.water_share < limits.firm_water_share || set(coat.set_firm),
        coat.uptake_m >= asked_m(limits, model.thickness_m) || set(coat.set_asked),
        present.face_humidity <= limits.wettest_face,
        present.sound,
        fit(present.face_c) && fit(present.air_c),
    ]
}

/// Means over a coat's cells.
#[derive(Clone, Copy, Debug, Default)]
struct Measured {
    water_kg_m3: f64,
    uptake_m: f64,
    front_m: f64,
}

fn measure<const L: usize>(column: &Column<L>, lane: usize, layer: usize, start_mol_m3: f64) -> Measured {
    let (mut water, mut left, mut thickness) = (0.0, 0.0, 0.0);
    for (width, water_kg_m3, portlandite) in column.layer_contents(lane, layer) {
        water += water_kg_m3 * width;
        left += portlandite * width;
        thickness += width;
    }
    let uptake_m = if start_mol_m3 > 0.0 { thickness - left / start_mol_m3 } else { 0.0 };
    let cells = column.layer_contents(lane, layer).rev();
    Measured { water_kg_m3: water / thickness, uptake_m, front_m: front_m(cells, 0.5 * start_mol_m3) }
}

/// Depth from the outer face at which portlandite passes half its start, between the middles of the cells it passes between.
pub(crate) fn front_m(cells: impl Iterator<Item = (f64, f64, f64)>, half_mol_m3: f64) -> f64 {
    let (mut depth, mut before) = (0.0, None);
    for (width, _, portlandite) in cells {
        let middle = depth + 0.5 * width;
        if portlandite >= half_mol_m3 {
            return match before {
                None => 0.0,
                Some((above, turned)) => above + (middle - above) * (half_mol_m3 - turned) / (portlandite - turned),
            };
        }
        before = Some((middle, portlandite));
        depth += width;
    }
    depth
}

/// The hour's face and air.
pub(crate) fn present(face: &Seen, air_k: f64, sound: bool) -> Present {
    Present { air_c: air_k - 273.15, face_c: face.temperature_k - 273.15, face_humidity: face.humidity, sound }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    #[test]
    fn the_front_lies_between_cells() {
        // Outermost first: two turned cells of 1 mm, then a fresh one.
        let cells = [(1e-3, 0.0, 100.0), (1e-3, 0.0, 300.0), (1e-3, 0.0, 900.0)];
        let front = front_m(cells.into_iter(), 500.0);
        assert!((front - (1.5e-3 + 1e-3 * 200.0 / 600.0)).abs() < 1e-12);
        assert_eq!(front_m([(1e-3, 0.0, 900.0)].into_iter(), 500.0), 0.0);
        assert_eq!(front_m([(1e-3, 0.0, 10.0)].into_iter(), 500.0), 1e-3);
    }

    #[test]
    fn the_last_rule_met_decides_and_a_failing_one_goes_before() {
        let rule = |criterion, holds, met_after_h| CriterionLook { criterion, holds, met_after_h };
        let mut rules = vec![rule(Criterion::Age, true, Some(168.0)), rule(Criterion::Carbonated, true, Some(170.0))];
        assert_eq!(decides(&rules), Some(Criterion::Carbonated));
        rules.push(rule(Criterion::ThermallyFit, false, Some(0.0)));
        assert_eq!(decides(&rules), Some(Criterion::ThermallyFit));
        assert_eq!(decides(&[]), None);
    }

    #[test]
    fn days_count_when_their_mean_is_mild() {
        let mut record = CoatRecord::thrown(400.0, None);
        for hour in 0..72 {
            record.pass_hour(if hour < 24 { 4.9 } else { 5.0 });
        }
        assert_eq!(record.mild_days, 2);
    }
}
