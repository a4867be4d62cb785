//! One coat on one wall in still weather, watched by the hour, so that the wait can be read off for any depth of uptake asked of it and with any rule
//! switched off. It must never decide what a threshold should be.

use materials::Catalogue;

use super::CalibrationError;
use super::data::{Care, Still};
use crate::readiness::asked_m;
use crate::{Action, Bench, CoatModel, Criterion, Thresholds, WallModel};

/// A coat not ready after so many days is not ready this season.
pub const SEASON_DAYS: usize = 120;

/// What an hour showed.
#[derive(Clone, Copy, Debug)]
struct Hour {
    uptake_m: f64,
    face_humidity: f64,
    saturation: f64,
    /// Whether the coat has set enough for the next, which stands for the uptake.
    set: bool,
    /// Whether each rule held, in the order of [`Criterion`]; *carbonated* is judged afterwards.
    holds: [bool; 6],
}

/// A coat watched from its throw.
#[derive(Clone, Debug)]
pub struct Watch {
    hours: Vec<Hour>,
    thickness_m: f64,
    limits: Thresholds,
}

/// A wait, and what it waited for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wait {
    /// Days from the throw; `None` when not ready this season.
    pub days: Option<f64>,
    /// The rule met last, or the first still failing.
    pub decides: Criterion,
    /// Whether *carbonated* was met by the hydraulic set.
    pub by_set: bool,
}

const ORDER: [Criterion; 6] =
    [Criterion::Age, Criterion::Firm, Criterion::Carbonated, Criterion::DampNotWet, Criterion::Sound, Criterion::ThermallyFit];

/// Throws the coat, looks after it and watches until it would be ready by any rule that can be asked, or the season is over.
///
/// # Errors
/// A wall or coat that cannot be computed, a cover that the catalogue has not, or a step that is lost.
pub fn watch(catalogue: &Catalogue, wall: &WallModel, coat: &CoatModel, still: Still, care: Care) -> Result<Watch, CalibrationError> {
    let mut bench = Bench::new(wall, std::slice::from_ref(coat), still.climate(), &[0])?;
    bench.act(0, Action::Throw)?;
    let cover = care.cover(catalogue)?;
    if let Some((cover, ..)) = &cover {
        bench.act(0, Action::Hang(cover.clone()))?;
    }
    let mut hours = Vec::new();
    for hour in 0..SEASON_DAYS * 24 {
        if let Some((cover, damp_hours, every)) = &cover
            && hour < *damp_hours
            && hour % every == 0
        {
            bench.act(0, Action::Wet(cover.holds_kg_m2))?;
        }
        bench.advance(1);
        if let Some(error) = bench.failed(0) {
            return Err(error.clone().into());
        }
        let seen = take_down(&bench, coat);
        let deep = seen.uptake_m >= MOST_ASKED_M.min(0.99 * coat.thickness_m);
        let done = (deep || seen.set) && seen.holds.iter().enumerate().all(|(rule, holds)| *holds || rule == 2);
        hours.push(seen);
        if done {
            break;
        }
    }
    Ok(Watch { hours, thickness_m: coat.thickness_m, limits: coat.thresholds })
}

/// Deepest uptake that is asked of a watch, m.
pub const MOST_ASKED_M: f64 = 2.0e-3;

fn take_down(bench: &Bench, coat: &CoatModel) -> Hour {
    let look = bench.look(0);
    let holds = std::array::from_fn(|rule| look.rules.get(rule).is_some_and(|seen| seen.holds));
    let mut hour = Hour { uptake_m: 0.0, face_humidity: look.face_humidity, saturation: 0.0, set: false, holds };
    if let Some(seen) = look.coats.last() {
        hour.uptake_m = seen.uptake_m;
        hour.saturation = seen.water_kg_m3 / coat.mortar.fresh.saturation_kg_m3;
        hour.set = seen.set_asked.is_some_and(|asked| seen.set >= asked);
    }
    hour
}

impl Watch {
    /// The wait for a depth of uptake, m, with the rule of age or without it.
    pub fn wait(&self, uptake_m: f64, with_age: bool) -> Wait {
        let asked = asked_m(&Thresholds { uptake_m, ..self.limits }, self.thickness_m);
        let mut met = [None; 6];
        for (hour, seen) in self.hours.iter().enumerate() {
            let mut holds = seen.holds;
            holds[0] |= !with_age;
            holds[2] = seen.uptake_m >= asked || seen.set;
            for (met, holds) in met.iter_mut().zip(holds) {
                *met = holds.then_some(met.unwrap_or(hour));
            }
            if holds.iter().all(|holds| *holds) {
                let last = (0..6).max_by_key(|&rule| (met[rule], std::cmp::Reverse(rule))).unwrap_or(0);
                let by_set = seen.uptake_m < asked;
                return Wait { days: Some((hour + 1) as f64 / 24.0), decides: ORDER[last], by_set };
            }
        }
        let failing = met.iter().position(Option::is_none).unwrap_or(0);
        Wait { days: None, decides: ORDER[failing], by_set: false }
    }

    /// What held the uptake back until it had reached a depth, m (or to the end).
    pub fn brake(&self, uptake_m: f64) -> Brake {
        let asked = asked_m(&Thresholds { uptake_m, ..self.limits }, self.thickness_m);
        let last = self.hours.iter().position(|hour| hour.uptake_m >= asked).unwrap_or(self.hours.len());
        let shut = self.hours[..last].iter().filter(|hour| hour.saturation > SHUT_SATURATION).count();
        let dry = self.hours[..last].iter().filter(|hour| hour.face_humidity < FULL_RATE_HUMIDITY).count();
        if 2 * shut > last {
            Brake::Wet
        } else if 2 * dry > last {
            Brake::TooDry
        } else {
            Brake::Gas
        }
    }
}

/// Saturation of a coat above which its pores pass less than a tenth of the gas they pass dry: (1 − S)^4.2 = 0.1, by the pore law of [`super::carbonation`].
const SHUT_SATURATION: f64 = 0.422;
/// Humidity of the pores from which the reaction runs at its full rate: the upper end of the ramp of [`super::carbonation`].
const FULL_RATE_HUMIDITY: f64 = 0.60;

/// What holds uptake back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Brake {
    /// Water in the pores: for more than half the time they pass less than a tenth of the gas they pass dry.
    Wet,
    /// The gas on its way through open pores, and the reaction.
    Gas,
    /// The face is too dry for the reaction at its full rate for more than half the time.
    TooDry,
}
