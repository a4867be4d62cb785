//! What the rates and thresholds of curing rest on, and how well. Nothing here is a measurement made for this program: read it before trusting a date.
//!
//! # How a coat carbonates
//!
//! | constant | value | rests on |
//! | --- | --- | --- |
//! | pore law | D_e = D₀ ε^2.74 (1 − S)^4.20 | exponents of Thiery 2005 for cement pastes (from memory), chosen over Millington and Quirk 1961, which is about twice too deep here |
//! | k at 20 °C | 3 1/s | chosen with the pore law on the depth bands below; k from 1 to 30 1/s moves a mild week by −1 to +2 days |
//! | activation of k | 15 kJ/mol | net of a slower reaction and a gas more soluble in the cold (from memory) |
//! | humidity ramp | 0.30 to 0.60 | dry lime takes up nothing, a film of water does not hinder: own synthesis of published remarks, no fit |
//! | film | S up to 0.05 | guess |
//!
//! The bands are **recollected priors of about ±50 %**; no published series of lime mortar could be read (what was looked for and what was found stands in
//! `docs/calibration.md`, with the depths that the kernel gives beside the bands). Early depths come out too small, because the slab starts soaked; very
//! damp air after three months and very dry air throughout come out about twice too deep. Dates in dry rooms and after a long damp time are weak.
//!
//! # When a coat is ready
//!
//! | threshold | value | rests on | honest range, and what it does |
//! | --- | --- | --- | --- |
//! | uptake | 1.15 mm | **set to the mild week**: one number to one datum | 0.9 to 1.4 mm; about ±1.5 days in a mild week, ±3 in a cold fortnight |
//! | share of the coat | 0.6 | guess: a thin coat cannot be asked for more than it has | decides only coats under 1.9 mm |
//! | firm, share of mix water | 0.5 | common practice, no source; kept loose | rarely decides behind hessian |
//! | wettest face | 0.995 | guess, no source | 0.98 to 1; at 0.98 the cold fortnight on sandstone becomes 15 days, at 0.99 nothing changes |
//! | least age | 7 days at or above 5 °C | common practice, no source | decides bare faces and hot weather |
//! | fit for the throw | 5 to 30 °C | common practice, no source | |
//!
//! The data are the trade's two rules, a week between coats and about two when it is cold ([`data::RULES`]). The tended week sets the uptake ([`fit::fit`]);
//! the tended fortnight is **not fitted**, and neither are bare faces, which miss both rules by half. `cargo xtask calibrate` prints the data, the fit, its
//! profile and its residuals, and `docs/calibration.md` holds what it printed; days to ready of every lime stand in `docs/days-to-ready.md`.
//!
//! So the rules come out for *tended* coats. A bare coat is ready sooner by any measure of uptake, and without computed damage the model would reward neglect:
//! that is why rule 1, the least age, always stands. The week behind hessian leans on a guessed wind leak of 0.15: from 0.05 to 0.30 it runs from 8.4
//! to 6.4 days. It is the deficit of vapour pressure, the wetness of the wall and the cover that set the time; the temperature by itself hardly does. A wall
//! more than about a third full behind damp hessian in cold damp weather is not ready in six weeks. One number fitted to one datum has no residual of its own,
//! and nothing here was checked against a logged wall: a wall weighed and sprayed with phenolphthalein at 3, 7 and 14 days, bare and covered, is what is
//! needed most.
//!
//! # What would spoil it
//!
//! Limits of damage stand in [`crate::MEASURES`], each with its source or the word "guess": nearly all are guesses, made before any run was seen. What they
//! say of the trade's sayings stands in `tests/trade_damage.rs`: 28 °C, 45 % and 5 m/s lose a bare coat and not one behind hessian lapped, tied and wetted
//! every four hours; one clear calm night at +1 °C freezes the bare face of a thin wall for eleven hours and leaves that behind hessian unfrozen, but
//! hardly freezes one on half a metre of stone (a miss); after five such nights hessian no longer helps the thin wall.
//!
//! # How a hydraulic lime sets
//!
//! | constant | value | rests on |
//! | --- | --- | --- |
//! | activation energy | 40 kJ/mol | no value is agreed for natural hydraulic limes; 30 to 50 is its range: 0.63 to 0.50 of the speed at 20 °C when it is 10 °C |
//! | drying | 1/(1 + (7.5 − 7.5 φ)⁴) | Bažant and Najjar 1972, for concrete |
//! | degree | exp(−(105 d/t)^0.3) | the form is that of Freiesleben Hansen and Pedersen 1977; its two numbers give 28 days 0.45 and 90 days 0.70 of a year, in the middle of recollected ranges for the strength of NHL mortars (0.4 to 0.6, 0.6 to 0.8). 7 days come out at 0.46 of 28 days; EN 459-1 asks 2 of 5 MPa of an NHL 5 |
//! | water bound | 0.21 kg/kg | hydrates of belite, as of cement's (Taylor, Cement Chemistry, from memory) |
//! | heat | 260 kJ/kg | heat of hydration of dicalcium silicate (Bogue; Taylor, from memory) |
//! | firm by its set | its paste's final set | EN 459-1's longest for the class, 40, 30 and 15 hours at 20 °C, unless the lime's own is given |
//! | set enough for the next coat | the degree of 4 days at 20 °C | a supplier's published 4 to 7 days under a first coat, taken to be at about 15 °C: 0.75 of 5½ days |
//!
//! A hydraulic coat is judged by its set *or* by what it takes up of the air, whichever is met first; dry or frozen, only the air is left to it. Nothing here
//! was checked against a logged wall.
//!
//! # The pore net
//!
//! A coat's net goes from that of the wet mix to the hardened one in eight stages by its firmness: the water it has lost on its way to *firm*, or the
//! degree of its set over that of its final set. The fit of the uptake lets the net harden so.
//!
//! # What is not in it yet
//!
//! Hysteresis of suction, and the tenth of the lime that never turns.

pub mod data;
pub mod days;
pub mod fit;
pub mod page;
pub mod slab;
pub mod watch;

use materials::{HydraulicSet, MaterialsError, Mortar};
use thiserror::Error;

use crate::kernel::{Carbonation, PoreLaw, SetLaw};
use crate::{CuringError, Thresholds};

/// Why a calibration could not be run.
#[derive(Debug, Error)]
pub enum CalibrationError {
    /// The catalogue lacks what the data name.
    #[error(transparent)]
    Materials(#[from] MaterialsError),
    /// The engine refused a wall or lost a step.
    #[error(transparent)]
    Curing(#[from] CuringError),
}

/// The rates of this file, for a mortar without lime.
pub(crate) const RATES: Carbonation = Carbonation {
    portlandite_mol_m3: 0.0,
    porosity: 0.3,
    pores: PoreLaw::THIERY,
    rate_per_s: 3.0,
    activation_j_mol: 15e3,
    humidity_ramp: (0.30, 0.60),
    film_saturation: 0.05,
    narrows: true,
    feeds_back: true,
};

/// How a mortar carbonates, by the constants of this file.
pub fn carbonation(mortar: &Mortar) -> Carbonation {
    Carbonation { portlandite_mol_m3: mortar.portlandite_mol_m3, porosity: mortar.fresh.porosity, ..RATES }
}

/// How a mortar sets under water, by the constants of this file.
pub fn set_law(set: &HydraulicSet) -> SetLaw {
    SetLaw {
        binds_kg_m3: 0.21 * set.belite_kg_m3,
        heat_j_m3: 260e3 * set.belite_kg_m3,
        activation_j_mol: 40e3,
        time_s: 105.0 * 86_400.0,
        exponent: 0.3,
    }
}

/// The thresholds of this file, with the least age asked for in days; zero switches that rule off.
pub fn thresholds(least_days: f64) -> Thresholds {
    Thresholds {
        least_days,
        firm_water_share: 0.5,
        uptake_m: 1.15e-3,
        uptake_share: 0.6,
        wettest_face: 0.995,
        set_days: 4.0,
        fit_c: (5.0, 30.0),
    }
}
