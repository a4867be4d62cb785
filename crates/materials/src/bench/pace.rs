//! How a bath answers to the pace at which lumps go in: mean temperature, steam and water in time. A mean is not the heat of a lump, and no pace shown
//! is safe.

use serde::Serialize;

use super::error::Checks;
use super::slaking::{BOILING_C, BOILING_J_KG, SLAKED_J_KGK, UNSLAKED_J_KGK, WATER_J_KGK};
use super::{Bath, BenchError};
use physics::lime::{SLAKED_KG_KG, SLAKING_J_KG, SLAKING_WATER_KG_KG};

/// Step of the sum, s.
const STEP_S: f64 = 1.0;
/// Heat capacity that goes when a kilogram of CaO slakes: of the lime and its water, less that of the hydrate, J/K.
const LOST_CAPACITY_J_KGK: f64 = UNSLAKED_J_KGK + SLAKING_WATER_KG_KG * WATER_J_KGK - SLAKED_KG_KG * SLAKED_J_KGK;

/// A bath with its lime added at a pace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PaceAsked {
    /// All that comes together in the end; no sand.
    pub bath: Bath,
    /// Quicklime going in, kg a minute, evenly.
    pub pace_kg_min: f64,
    /// Time constant of slaking, s.
    pub slaking_s: f64,
    /// Heat lost by the bath, W/K (roughly 10 to 15 W/K for each square metre of its surface); zero for none.
    pub loss_w_k: f64,
    /// Air around it, °C.
    pub air_c: f64,
    /// How long to follow it, minutes.
    pub minutes: f64,
}

/// The bath at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PaceRow {
    /// Minutes from the first lump.
    pub minutes: f64,
    /// Mean temperature, °C.
    pub mean_c: f64,
    /// Quicklime added so far, kg.
    pub added_kg: f64,
    /// CaO added and still unslaked, kg: heat that stopping does not stop.
    pub waiting_kg: f64,
    /// Steam so far, kg.
    pub steam_kg: f64,
    /// Free water left, kg.
    pub water_kg: f64,
}

/// The bath in time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Paced {
    /// Every minute, or so often that there are at most 240 rows.
    pub rows: Vec<PaceRow>,
    /// Hottest mean, °C.
    pub hottest_c: f64,
    /// Minutes to boiling; `None` if it never boils.
    pub boils_min: Option<f64>,
    /// Minutes until the free water was gone, where the model stops; `None` if it lasted.
    pub dry_min: Option<f64>,
    /// Most CaO lying unslaked at once, kg.
    pub most_waiting_kg: f64,
}

/// Follows the bath: each lump slakes by its time constant, the mean warms, boils at 100 °C, and loses heat to the air.
///
/// It stops where the free water is gone: beyond that a bath is not a bath. Explicit steps of a second: the same on every machine.
///
/// # Errors
/// Anything outside what can be; sand in the bath.
pub fn pace(asked: &PaceAsked) -> Result<Paced, Vec<BenchError>> {
    asked.bath.check()?;
    let mut checks = Checks::default();
    checks.number("The pace", asked.pace_kg_min, 0.001, 10_000.0, " kg a minute");
    checks.number("The time constant of slaking", asked.slaking_s, 5.0, 36_000.0, " s");
    checks.number("The heat lost", asked.loss_w_k, 0.0, 1000.0, " W/K");
    checks.number("The air", asked.air_c, -20.0, 50.0, " °C");
    checks.number("The minutes to follow", asked.minutes, 1.0, 1440.0, "");
    checks.number("The sand in a bath for putty", asked.bath.sand_kg, 0.0, 0.0, " kg");
    checks.number("The water before the first lump", asked.bath.water_kg, 0.1, 1_000_000.0, " kg");
    // A loss that would empty the bath's heat in a step cannot be followed in steps of a second.
    checks.number(
        "The heat lost for the mass of water",
        asked.loss_w_k / (asked.bath.water_kg.max(1e-9) * WATER_J_KGK),
        0.0,
        0.1,
        " a second",
    );
    checks.done()?;
    Ok(follow(asked))
}

fn follow(asked: &PaceAsked) -> Paced {
    let steps = (60.0 * asked.minutes / STEP_S) as usize;
    let every = (steps / 240).max((60.0 / STEP_S) as usize);
    let mut now = State { mean_c: asked.bath.start_c, water_kg: asked.bath.water_kg, ..State::default() };
    let mut paced = Paced { rows: vec![now.row(0.0)], hottest_c: now.mean_c, boils_min: None, dry_min: None, most_waiting_kg: 0.0 };
    for step in 1..=steps {
        let minutes = step as f64 * STEP_S / 60.0;
        now.advance(asked);
        paced.hottest_c = paced.hottest_c.max(now.mean_c);
        paced.most_waiting_kg = paced.most_waiting_kg.max(now.waiting_kg);
        if paced.boils_min.is_none() && now.mean_c >= BOILING_C {
            paced.boils_min = Some(minutes);
        }
        let is_dry = now.water_kg <= 0.0;
        if step % every == 0 || is_dry || step == steps {
            paced.rows.push(now.row(minutes));
        }
        if is_dry {
            paced.dry_min = Some(minutes);
            break;
        }
    }
    paced
}

#[derive(Clone, Copy, Default)]
struct State {
    mean_c: f64,
    water_kg: f64,
    added_kg: f64,
    waiting_kg: f64,
    slaked_kg: f64,
    steam_kg: f64,
}

impl State {
    fn row(&self, minutes: f64) -> PaceRow {
        PaceRow {
            minutes,
            mean_c: self.mean_c,
            added_kg: self.added_kg,
            waiting_kg: self.waiting_kg,
            steam_kg: self.steam_kg,
            water_kg: self.water_kg,
        }
    }

    fn advance(&mut self, asked: &PaceAsked) {
        let bath = &asked.bath;
        let goes_in_kg = (asked.pace_kg_min * STEP_S / 60.0).min(bath.quicklime_kg - self.added_kg).max(0.0);
        self.added_kg += goes_in_kg;
        self.waiting_kg += goes_in_kg * bath.purity;
        // No more slakes than there is water for.
        let slakes_kg = (self.waiting_kg * STEP_S / asked.slaking_s).min(self.waiting_kg).min(self.water_kg / SLAKING_WATER_KG_KG);
        self.waiting_kg -= slakes_kg;
        self.slaked_kg += slakes_kg;
        self.water_kg -= SLAKING_WATER_KG_KG * slakes_kg;
        let so_far = Bath { quicklime_kg: self.added_kg.max(1e-12), ..*bath };
        let share = self.slaked_kg / (so_far.purity * so_far.quicklime_kg);
        let capacity = so_far.solids_j_k(share.min(1.0), false) + WATER_J_KGK * self.water_kg;
        let cold_j = goes_in_kg * UNSLAKED_J_KGK * (bath.start_c - self.mean_c);
        // What comes together holds more heat than what it becomes: slaking in a hot bath frees that too (Kirchhoff's law).
        let freed_j = slakes_kg * (SLAKING_J_KG + LOST_CAPACITY_J_KGK * (self.mean_c - bath.start_c));
        let heat_j = freed_j + cold_j - asked.loss_w_k * (self.mean_c - asked.air_c) * STEP_S;
        self.mean_c += heat_j / capacity;
        if self.mean_c > BOILING_C {
            let boils_kg = ((self.mean_c - BOILING_C) * capacity / BOILING_J_KG).min(self.water_kg);
            self.steam_kg += boils_kg;
            self.water_kg -= boils_kg;
            self.mean_c -= boils_kg * BOILING_J_KG / capacity;
        }
    }
}
