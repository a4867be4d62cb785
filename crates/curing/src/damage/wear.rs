//! What a coat has been through, hour by hour: the values of the indices of damage and when each grade was reached. It is fed with what the engine
//! computed; it changes nothing and allocates nothing.

use crate::damage::measures::{
    COUNT, DRY_FACE, EVAPORATION, FROSTED, MEASURES, ROBBED, SHRUNK, SLIPPED, STARVED, STRONGER, TOO_THICK, UNREADY, WASHED,
};
use crate::lanes::{exp, ln};
use crate::{CoatModel, DamageGrade};

/// Hours in which a wall robs a coat: the suction of a trial took nearly all it took in the first (computed here).
const ROBBING_H: usize = 3;
/// Yield stress at rest of a mortar as placed, Pa, and the loss of its water, as a share, that doubles it (guesses; rendering mortars run from a few
/// hundred Pa to about 1 kPa, from memory).
const YIELD_PA: f64 = 350.0;
const DOUBLES_SHARE: f64 = 0.05;
/// Suction of the face beneath at and above which the coat grips it whole, and at and below which it stands in water and grips by half, Pa (guesses).
const GRIPS_PA: f64 = 1e4;
const SWIMS_PA: f64 = 1e3;
const GRAVITY_M_S2: f64 = 9.81;
/// Shrinkage of a coat by the water it loses after firming, 1/(kg/m³): 1.2 mm/m for a 1 : 2½ mix from half its water to none (guess; lime mortars shrink
/// by about 1 mm/m, from memory).
const SHRINKS_M3_KG: f64 = 7.5e-6;
/// Share of a strain left after an hour of creep: relaxation in a day (guess).
const LEFT_AFTER_AN_HOUR: f64 = 0.959_189_457;
/// Thickness to which shrinkage is referred, m: what opens a crack grows with the root of the thickness (steady channelling, Hutchinson and Suo 1992,
/// from memory; form only).
const REFERENCE_M: f64 = 0.010;
/// Face drier than this is dry, one at [`PARCHED`] counts whole; one at least [`DAMP`] makes good what was dry (guesses; the first from the trial).
const DRY: f64 = 0.75;
const PARCHED: f64 = 0.45;
const DAMP: f64 = 0.95;
/// Uptake up to which a coat can dry out, m (guess of the trial).
const TENDER_M: f64 = 0.5e-3;
/// Hours in which a coat counts as fresh for evaporation, unless it is firm sooner (guess).
const FRESH_H: usize = 24;
/// How soft a coat is to rain when it has just firmed, against 1 when placed (guess); it falls to nothing with the uptake asked for.
const FIRM_SOFTNESS: f64 = 0.5;
/// Uptake in a day below which the coat took up nothing, m (guess).
const NOTHING_M: f64 = 0.02e-3;
/// Critical degree of saturation of a mortar that has taken up nothing and of one that has taken up all (the reference assumes 0.6 to 0.7 for young lime
/// mortar and recalls 0.8 to 0.9 for hardened; unsure).
const CRITICAL: (f64, f64) = (0.65, 0.85);

/// A value must pass its limit by more than rounding.
const HAIR: f64 = 1e-9;

/// A coat at the moment it is thrown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placing {
    /// Hour index into the climate.
    pub(crate) hour: usize,
    /// Suction of the face beneath, Pa.
    pub(crate) suction_beneath_pa: f64,
    /// Water in everything beneath, kg/m².
    pub(crate) water_beneath_kg_m2: f64,
    /// The coat beneath; `None` on masonry or on a coat placed in the same hour, which is the same coat.
    pub(crate) beneath: Option<Beneath>,
}

/// The coat beneath one that is thrown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Beneath {
    /// Share of the uptake asked of it that it has.
    pub(crate) taken_up: f64,
    /// Its water over the water at which it is firm; below 1 it is.
    pub(crate) softness: f64,
    /// Its strength rank.
    pub(crate) strength: f64,
}

/// An hour of the outermost coat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct WearHour {
    /// Hour index into the climate.
    pub(crate) hour: usize,
    /// Hours since it was thrown, this one counted.
    pub(crate) age_h: usize,
    /// Mean water as a share of the mix's.
    pub(crate) water_share: f64,
    /// Mean water as placed, kg/m³.
    pub(crate) placed_kg_m3: f64,
    /// Whether it has been firm.
    pub(crate) firm: bool,
    /// Uptake, and uptake asked for, m.
    pub(crate) uptake_m: f64,
    pub(crate) asked_m: f64,
    /// Relative humidity in the pores of its face.
    pub(crate) face_humidity: f64,
    /// Driving rain that reached the face, kg/m².
    pub(crate) rain_kg_m2: f64,
    /// Evaporation by the published form, kg/(m² h); zero once it is not fresh.
    pub(crate) evaporation_kg_m2h: f64,
    /// Water in everything beneath, kg/m².
    pub(crate) water_beneath_kg_m2: f64,
    /// Whether cloth or a shelter stood in front.
    pub(crate) covered: bool,
}

/// What a coat has been through.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Wear {
    /// Value of each index; for those that heal the present one.
    value: [f64; COUNT],
    /// Hour at which each grade of each was reached, if it stands.
    reached: [[Option<usize>; 3]; COUNT],
    /// Whether it was behind a cover when the index last grew.
    covered: [bool; COUNT],
    water_beneath_at_placing: f64,
    grip: f64,
    share_before: f64,
    /// Strain that has not relaxed.
    strain: f64,
    uptake_a_day_ago: f64,
}

impl Wear {
    /// A coat just thrown.
    pub(crate) fn thrown(model: &CoatModel, placing: &Placing) -> Self {
        let mut wear = Self {
            value: [0.0; COUNT],
            reached: [[None; 3]; COUNT],
            covered: [false; COUNT],
            water_beneath_at_placing: placing.water_beneath_kg_m2,
            grip: grip(placing.suction_beneath_pa),
            share_before: 1.0,
            strain: 0.0,
            uptake_a_day_ago: 0.0,
        };
        wear.set(TOO_THICK, model.thickness_m * 1000.0, placing.hour);
        if let Some(beneath) = placing.beneath {
            let lacks = if beneath.softness >= 1.0 { beneath.softness } else { 0.99 * (1.0 - beneath.taken_up).clamp(0.0, 1.0) };
            wear.set(UNREADY, lacks, placing.hour);
            wear.set(STRONGER, model.mortar.strength_rank / beneath.strength, placing.hour);
        }
        wear
    }

    /// Passes an hour as the outermost coat.
    pub(crate) fn pass(&mut self, model: &CoatModel, now: &WearHour) {
        let fresh = now.age_h <= FRESH_H && !now.firm;
        if now.age_h <= ROBBING_H {
            let placed_kg_m2 = now.placed_kg_m3 * model.thickness_m;
            self.raise(ROBBED, (now.water_beneath_kg_m2 - self.water_beneath_at_placing) / placed_kg_m2, now);
        }
        if now.age_h == 1 {
            self.raise(SLIPPED, self.load_over_yield(model, now), now);
        }
        if fresh {
            self.raise(EVAPORATION, now.evaporation_kg_m2h, now);
        }
        self.shrink(model, now);
        self.dry(now);
        self.wash(now);
        if now.age_h.is_multiple_of(24) {
            self.starve(now);
        }
        self.share_before = now.water_share;
    }

    /// Weight of the pass over the stress at which it yields: stiffer for the water it has lost, half held where its ground stands in water.
    fn load_over_yield(&self, model: &CoatModel, now: &WearHour) -> f64 {
        const LN_2: f64 = std::f64::consts::LN_2;
        let density = model.mortar.fresh.density_kg_m3 + now.placed_kg_m3;
        let stiffened = exp(LN_2 * ((1.0 - now.water_share) / DOUBLES_SHARE).clamp(-4.0, 20.0));
        density * GRAVITY_M_S2 * model.thickness_m / (YIELD_PA * self.grip * stiffened)
    }

    /// Shrinkage since it was firm, relaxing by creep; wetting takes it back.
    fn shrink(&mut self, model: &CoatModel, now: &WearHour) {
        if !now.firm {
            return;
        }
        let lost_kg_m3 = (self.share_before - now.water_share) * now.placed_kg_m3;
        self.strain = (self.strain * LEFT_AFTER_AN_HOUR + SHRINKS_M3_KG * lost_kg_m3).max(0.0);
        let index = 1000.0 * self.strain * (model.thickness_m / REFERENCE_M).sqrt();
        // A crack does not close of itself when the strain has crept away.
        self.raise(SHRUNK, index, now);
    }

    /// Hours of dry face while it is tender; hours of damp face make them good.
    fn dry(&mut self, now: &WearHour) {
        if now.uptake_m >= TENDER_M.min(now.asked_m) {
            return;
        }
        let hours = if now.face_humidity >= DAMP { -1.0 } else { ((DRY - now.face_humidity) / (DRY - PARCHED)).max(0.0) };
        if hours > 0.0 {
            self.covered[DRY_FACE] = now.covered;
        }
        self.set(DRY_FACE, (self.value[DRY_FACE] + hours).max(0.0), now.hour);
    }

    /// Rain on a coat that cannot stand it yet.
    fn wash(&mut self, now: &WearHour) {
        let softness = if now.firm { FIRM_SOFTNESS * (1.0 - now.uptake_m / now.asked_m).max(0.0) } else { 1.0 };
        let washed = if now.asked_m > 0.0 { now.rain_kg_m2 * softness } else { 0.0 };
        if washed > 0.0 {
            self.raise(WASHED, self.value[WASHED] + washed, now);
        }
    }

    /// Days without uptake for want of air; forgotten once the depth asked for is reached, because such a coat is late, not spoilt.
    fn starve(&mut self, now: &WearHour) {
        let idle = now.uptake_m - self.uptake_a_day_ago < NOTHING_M && now.face_humidity >= DRY;
        self.uptake_a_day_ago = now.uptake_m;
        if now.uptake_m >= now.asked_m {
            self.set(STARVED, 0.0, now.hour);
        } else if idle {
            self.raise(STARVED, self.value[STARVED] + 1.0, now);
        }
    }

    /// Ice of an hour: share of the coat that was ice where it was too full; any coat, outermost or not.
    pub(crate) fn freeze(&mut self, share: f64, hour: usize, covered: bool) {
        if share > self.value[FROSTED] {
            self.covered[FROSTED] = covered;
            self.set(FROSTED, share, hour);
        }
    }

    /// Presses the coat back while it is soft: closes what shrinkage opened, unless it has to come off.
    pub(crate) fn press_back(&mut self, tender: bool) {
        if tender && self.reached[SHRUNK][2].is_none() {
            self.strain = 0.0;
            self.value[SHRUNK] = 0.0;
            self.reached[SHRUNK] = [None; 3];
        }
    }

    /// True while no grade of redo stands.
    pub(crate) fn sound(&self) -> bool {
        self.reached.iter().all(|grades| grades[2].is_none())
    }

    /// The value of an index.
    pub(crate) fn value(&self, measure: usize) -> f64 {
        self.value[measure]
    }

    /// Whether a cover stood before the coat when an index last grew.
    pub(crate) fn was_covered(&self, measure: usize) -> bool {
        self.covered[measure]
    }

    /// The gravest grade of an index that stands, and the hour it was reached.
    pub(crate) fn grade(&self, measure: usize) -> Option<(DamageGrade, usize)> {
        let [note, mend, redo] = self.reached[measure];
        redo.map(|hour| (DamageGrade::Redo, hour))
            .or(mend.map(|hour| (DamageGrade::Mend, hour)))
            .or(note.map(|hour| (DamageGrade::Note, hour)))
    }

    /// Sets an index to the greater of what it was and what it is.
    fn raise(&mut self, measure: usize, value: f64, now: &WearHour) {
        if value > self.value[measure] {
            self.covered[measure] = now.covered;
            self.set(measure, value, now.hour);
        }
    }

    /// Sets an index. A redo once reached stands; the others stand while the index is above their limit.
    fn set(&mut self, measure: usize, value: f64, hour: usize) {
        let reached = &mut self.reached[measure];
        let value = if reached[2].is_some() { value.max(self.value[measure]) } else { value };
        self.value[measure] = value;
        for (grade, limit) in reached.iter_mut().zip(&MEASURES[measure].limits) {
            *grade = if value > limit.at + HAIR { grade.or(Some(hour)) } else { None };
        }
    }
}

/// How well a coat grips a face of so much suction: whole, down to half where it stands in water.
fn grip(suction_pa: f64) -> f64 {
    let share = (ln(suction_pa.clamp(SWIMS_PA, GRIPS_PA)) - ln(SWIMS_PA)) / (ln(GRIPS_PA) - ln(SWIMS_PA));
    0.5 + 0.5 * share
}

/// Whether a coat is soft and damp enough to be pressed back.
pub(crate) fn can_be_pressed(uptake_m: f64, face_humidity: f64) -> bool {
    uptake_m < TENDER_M && face_humidity >= DAMP
}

/// Degree of saturation above which freezing harms a mortar that has taken up so much of what it can.
pub(crate) fn critical_saturation(taken_up: f64) -> f64 {
    CRITICAL.0 + (CRITICAL.1 - CRITICAL.0) * taken_up.clamp(0.0, 1.0)
}
