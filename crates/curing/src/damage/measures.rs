//! The indices by which damage is judged, with the three limits of each and what each limit rests on. Most rest on nothing but a guess, made before any
//! run was seen and never bent since: read the word beside a limit before trusting the grade it gives.

use crate::DamageKind;

/// A limit and what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Value of the index above which the grade is given; infinite where the grade is never given for it.
    pub at: f64,
    /// Where it is from, or the word "guess".
    pub source: &'static str,
}

/// One index of damage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// The kind of damage it measures.
    pub kind: DamageKind,
    /// What it is, in words, with its unit.
    pub what: &'static str,
    /// Limits of note, mend and redo.
    pub limits: [Limit; 3],
}

/// Number of indices.
pub(crate) const COUNT: usize = 11;

/// Places in [`MEASURES`].
pub(crate) const ROBBED: usize = 0;
pub(crate) const SLIPPED: usize = 1;
pub(crate) const SHRUNK: usize = 2;
pub(crate) const DRY_FACE: usize = 3;
pub(crate) const EVAPORATION: usize = 4;
pub(crate) const WASHED: usize = 5;
pub(crate) const FROSTED: usize = 6;
pub(crate) const STARVED: usize = 7;
pub(crate) const TOO_THICK: usize = 8;
pub(crate) const UNREADY: usize = 9;
pub(crate) const STRONGER: usize = 10;

const fn guess(at: f64) -> Limit {
    Limit { at, source: "guess" }
}

const fn from(at: f64, source: &'static str) -> Limit {
    Limit { at, source }
}

const fn never(source: &'static str) -> Limit {
    Limit { at: f64::INFINITY, source }
}

/// All indices with their limits, in the order of the kinds.
pub static MEASURES: [Measure; COUNT] = [
    Measure {
        kind: DamageKind::Robbed,
        what: "share of the mix's water taken by the wall in the first three hours",
        limits: [
            from(
                0.25,
                "guess, after ASTM C270, which asks a mortar to keep 75 % under suction (from memory; that test measures flow, not water)",
            ),
            guess(0.40),
            guess(0.60),
        ],
    },
    Measure {
        kind: DamageKind::Slipped,
        what: "weight of the pass over the yield stress that holds it, an hour after placing",
        limits: [guess(0.70), guess(0.85), from(1.0, "yield by definition; the yield stress itself is a guess")],
    },
    Measure {
        kind: DamageKind::Shrunk,
        what: "shrinkage after firming that has not relaxed, mm/m, on a coat of 10 mm",
        limits: [guess(0.3), guess(0.6), guess(1.2)],
    },
    Measure {
        kind: DamageKind::DriedOut,
        what: "hours of dry face before 0.5 mm was taken up, each counted by how far below 75 % it was; one at 45 % is a whole hour",
        limits: [guess(3.0), guess(12.0), guess(24.0)],
    },
    Measure {
        kind: DamageKind::DriedOut,
        what: "evaporation while fresh by Menzel's form, kg/(m² h)",
        limits: [
            from(0.5, "ACI 305, mixes that bleed little (from memory); made for slabs"),
            from(1.0, "ACI 305, 0.2 lb/(ft² h) (published); made for slabs"),
            never("evaporation asks for care; whether the coat is lost the dry face says"),
        ],
    },
    Measure {
        kind: DamageKind::Washed,
        what: "driving rain on the face, kg/m², each by how soft the coat still was",
        limits: [guess(0.5), guess(2.0), guess(6.0)],
    },
    Measure {
        kind: DamageKind::Frosted,
        what: "share of the coat that was ice in one hour, where its pores were fuller than the critical degree",
        limits: [guess(0.02), guess(0.10), guess(0.25)],
    },
    Measure {
        kind: DamageKind::Starved,
        what: "days without uptake before the depth asked for",
        limits: [guess(7.0), guess(21.0), from(120.0, "the season's limit of the model; common practice, no source")],
    },
    Measure {
        kind: DamageKind::Overloaded,
        what: "thickness of the pass, mm",
        limits: [
            from(12.0, "a lime putty guide: at most 12 mm a pass"),
            from(15.0, "a lime putty guide: never more than 15 mm a pass"),
            never("a pass too thick is the specification's fault and would be too thick again; whether it slid is judged apart"),
        ],
    },
    Measure {
        kind: DamageKind::Overloaded,
        what: "share of its uptake that the coat beneath lacked at the throw; one and more where it was not firm",
        limits: [guess(0.1), guess(0.5), from(1.0, "a coat that yields to the thumb carries no other: common practice, no source")],
    },
    Measure {
        kind: DamageKind::Overloaded,
        what: "strength of the mix over that of the coat beneath",
        limits: [
            from(1.1, "strongest first, weaker outward: common practice, no source; the margin is a guess"),
            never("a matter of the specification, which no visit mends"),
            never("a matter of the specification, which laying it again does not change"),
        ],
    },
];
