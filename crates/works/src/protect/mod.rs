//! Protection: four named policies of covering and damping, each a foreman's rule that decides hour by working hour from what he can see and what is
//! forecast; one wall followed under one of them; every week of a year looked ahead to; and the choice per wall and coat. It must never decide from
//! weather nobody could know: what is to come reaches it through a [`Foresight`] alone.

mod choose;
mod course;
mod days;
mod evening;
mod forecast;
mod ground;
mod lookahead;
mod policy;
mod spread;
mod story;
mod tally;
mod told;

pub(crate) use choose::protection;
pub use choose::{CoatOption, ForesightWorth, Protection, ProtectionOption, WallProtection, foresight_worth};
pub(crate) use course::WET_H_PER_100_M2;
pub(crate) use forecast::{Errors, Forecast};
pub(crate) use ground::{ColumnModel, screens};
pub(crate) use lookahead::lookahead_in;
pub use lookahead::{Lookahead, LookaheadAsked, PolicyAhead, WallAhead, lookahead};
pub(crate) use policy::{Deed, MIST_KG_M2, Screen, Screens, Sight, decide};
pub use spread::{CoatAhead, DamageShare, Spread, WeekAhead};
pub use story::{Event, EventKind, Section, Story, StoryAsked, StoryCoat, StoryHour, story};
pub use tally::{CoatOutcome, Outcome, Tally};
pub(crate) use told::{findings, followed};

use serde::Serialize;

use crate::WorksError;

/// What is hung and done after a coat is on the wall: one of four rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Policy {
    /// The face stands bare.
    Nothing,
    /// Hessian follows the hazard of the day: hung damp before heat, sun and wind, dry before frost and driving rain, and taken away in cold damp
    /// weather, in which it would starve the coat.
    HessianByRule,
    /// A roofed and sheeted scaffold stands before the wall from the first throw to the last coat's readiness; the face is misted when it dries.
    Sheltered,
    /// The same, gently heated while the forecast is cold.
    Heated,
}

impl Policy {
    /// All four, the least first.
    pub const ALL: [Policy; 4] = [Policy::Nothing, Policy::HessianByRule, Policy::Sheltered, Policy::Heated];

    /// Its name in files and on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Policy::Nothing => "nothing",
            Policy::HessianByRule => "hessian-by-rule",
            Policy::Sheltered => "sheltered",
            Policy::Heated => "heated",
        }
    }

    /// In words, for a sentence.
    pub fn words(self) -> &'static str {
        match self {
            Policy::Nothing => "no cover",
            Policy::HessianByRule => "hessian by the hazard of the day",
            Policy::Sheltered => "a roofed and sheeted scaffold",
            Policy::Heated => "a roofed and sheeted scaffold, gently heated when it is cold",
        }
    }

    /// The policy of a name.
    ///
    /// # Errors
    /// [`WorksError::NoSuchPolicy`] with the four there are.
    pub fn named(name: &str) -> Result<Self, WorksError> {
        Self::ALL.into_iter().find(|policy| policy.name() == name).ok_or_else(|| WorksError::NoSuchPolicy { found: name.to_owned() })
    }
}

/// What the foreman knows of the weather to come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Foresight {
    /// Nothing: he expects each coming hour to be as the last one of its time of day was.
    None,
    /// A forecast: the truth and an error that grows with lead.
    #[default]
    Imperfect,
    /// The truth.
    Perfect,
}
