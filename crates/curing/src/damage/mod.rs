//! What spoils a coat: the eight kinds of damage and their three grades. Damage is read off the state the engine computes; it never changes that state,
//! and nobody is told what to do about it here: `works` decides.

//!
//! `measures` holds the indices with their limits, `wear` feeds them by the hour, `standing` says in words what stands.

mod measures;
mod standing;
mod wear;

use std::fmt;

use serde::Serialize;

pub use measures::{Limit, MEASURES, Measure};
pub(crate) use standing::{add_indices, add_standing};
pub(crate) use wear::{Beneath, Placing, Wear, WearHour, can_be_pressed, critical_saturation};

/// What spoiled a coat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DamageKind {
    /// The wall drew the water out of it in the first hours.
    Robbed,
    /// It slid down a dense or soaked wall that drew nothing.
    Slipped,
    /// It shrank and cracked after it was firm.
    Shrunk,
    /// It dried while it should have been taking up air.
    DriedOut,
    /// Driving rain reached it before it could stand rain.
    Washed,
    /// Ice formed in it while its pores were too full.
    Frosted,
    /// It stayed too wet, or too shut in, to take up air.
    Starved,
    /// It was thicker than one pass may be, or thrown on a coat that could not carry it.
    Overloaded,
}

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DamageGrade {
    /// To be written down and watched.
    Note,
    /// To be mended: wetted down, pressed back, a patch made good. It costs a visit and holds nobody up.
    Mend,
    /// The coat comes off and is laid again.
    Redo,
}

/// The cheapest change that would have prevented a damage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Prevention {
    /// Damp the wall down the evening before and half an hour before the throw.
    DampDown,
    /// Wait until the wall has dried enough to draw.
    DryTheWall,
    /// Lay it in thinner passes.
    ThinnerPasses,
    /// Mist the face and press it back while it is soft.
    MistAndPressBack,
    /// Hang hessian, lap and tie it, and keep it damp.
    DampHessian,
    /// Lap, tie and sheet the hessian that hangs, then damp it more often.
    TieAndSheet,
    /// Hang a cover that keeps the rain off.
    KeepRainOff,
    /// Hang a blanket of hessian before the night, or throw in a milder week.
    Blanket,
    /// Open the cover to the air: netting instead of hessian.
    OpenCover,
    /// Let the coat beneath become ready first.
    WaitForCoatBeneath,
    /// Use no stronger mix than that of the coat beneath.
    WeakerMix,
}

/// One damage that stands on a coat.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Damage {
    /// What spoiled it.
    pub kind: DamageKind,
    /// How bad it is.
    pub grade: DamageGrade,
    /// Coat it stands on, counted from the innermost, 0 the first.
    pub coat: usize,
    /// Hour index into the climate at which this grade was reached.
    pub hour: usize,
    /// The index that measures it over the limit of its grade, at least 1.
    pub severity: f64,
    /// What happened, as a short sentence.
    pub cause: String,
    /// The cheapest change that would have prevented it.
    pub prevention: Prevention,
}

/// An index of damage of a coat as it is now, whatever its grade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamageIndex {
    /// The coat, counted from the innermost.
    pub coat: usize,
    /// What it measures, with its limits.
    pub measure: &'static Measure,
    /// Its value.
    pub value: f64,
}

impl DamageKind {
    /// All kinds, in the order in which they can befall a coat.
    pub const ALL: [DamageKind; 8] = [
        DamageKind::Robbed,
        DamageKind::Slipped,
        DamageKind::Shrunk,
        DamageKind::DriedOut,
        DamageKind::Washed,
        DamageKind::Frosted,
        DamageKind::Starved,
        DamageKind::Overloaded,
    ];
}

impl fmt::Display for DamageKind {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            DamageKind::Robbed => "robbed",
            DamageKind::Slipped => "slipped",
            DamageKind::Shrunk => "shrunk",
            DamageKind::DriedOut => "dried out",
            DamageKind::Washed => "washed",
            DamageKind::Frosted => "frosted",
            DamageKind::Starved => "starved",
            DamageKind::Overloaded => "overloaded",
        })
    }
}

impl fmt::Display for DamageGrade {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            DamageGrade::Note => "note",
            DamageGrade::Mend => "mend",
            DamageGrade::Redo => "redo",
        })
    }
}

impl fmt::Display for Prevention {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Prevention::DampDown => "damp the wall down the evening before and half an hour before the throw",
            Prevention::DryTheWall => "wait until the wall has dried enough to draw",
            Prevention::ThinnerPasses => "lay it in thinner passes",
            Prevention::MistAndPressBack => "mist the face and press it back while it is soft",
            Prevention::DampHessian => "hang hessian, lapped and tied, and keep it damp",
            Prevention::TieAndSheet => "lap, tie and sheet the hessian, then damp it more often",
            Prevention::KeepRainOff => "hang a cover that keeps the rain off",
            Prevention::Blanket => "hang hessian as a blanket before the night, or throw in a milder week",
            Prevention::OpenCover => "open the cover to the air: netting instead of hessian",
            Prevention::WaitForCoatBeneath => "let the coat beneath become ready first",
            Prevention::WeakerMix => "use no stronger mix than that of the coat beneath",
        })
    }
}
