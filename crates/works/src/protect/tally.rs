//! What a policy costs and what came of it, counted as it runs.

use curing::{Criterion, Damage, DamageGrade, DamageKind};
use serde::Serialize;

/// What protecting a wall took. A visit is an hour of work in which somebody comes to the wall for its cover alone, on a day on which no coat is thrown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Tally {
    /// Visits by a hand of the contractor.
    pub visits: u32,
    /// Visits made by the client on days that are not worked.
    pub client_visits: u32,
    /// Person-hours of hanging, striking, wetting and misting.
    pub hours: f64,
    /// Times a cloth was wetted.
    pub wettings: u32,
    /// Times the face was misted.
    pub mistings: u32,
    /// Times a cover was hung.
    pub hangings: u32,
    /// Times wind above a cloth's limit took it down, or a shelter had to be tied down.
    pub blown: u32,
    /// Hours a cover hung.
    pub covered_h: u32,
    /// Hours a shelter was heated.
    pub heated_h: u32,
}

impl Tally {
    /// Adds another.
    pub fn add(&mut self, other: &Tally) {
        self.visits += other.visits;
        self.client_visits += other.client_visits;
        self.hours += other.hours;
        self.wettings += other.wettings;
        self.mistings += other.mistings;
        self.hangings += other.hangings;
        self.blown += other.blown;
        self.covered_h += other.covered_h;
        self.heated_h += other.heated_h;
    }
}

/// What came of one coat.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct CoatOutcome {
    /// Whole days from the day it might have been thrown to the day it was.
    pub waited_days: u32,
    /// Whole days from its throw to the morning on which it was ready for the next; `None` if it was not ready this season.
    pub days: Option<u32>,
    /// The rule of readiness that was met last.
    pub decides: Option<Criterion>,
    /// Damage that befell it: each kind at its gravest.
    pub damage: Vec<Damage>,
    /// Times it came off and was thrown again.
    pub redone: u32,
    /// What its protection took.
    pub tally: Tally,
}

impl CoatOutcome {
    /// Keeps each kind of damage at its gravest.
    pub(crate) fn note(&mut self, damage: &Damage) {
        match self.damage.iter_mut().find(|kept| kept.kind == damage.kind) {
            Some(kept) if kept.grade < damage.grade => kept.clone_from(damage),
            Some(_) => {}
            None => self.damage.push(damage.clone()),
        }
    }

    /// Whether damage of a kind, of at least a grade, befell it.
    pub fn suffered(&self, kind: DamageKind, at_least: DamageGrade) -> bool {
        self.damage.iter().any(|damage| damage.kind == kind && damage.grade >= at_least)
    }

    /// The gravest damage that befell it.
    pub fn gravest(&self) -> Option<DamageGrade> {
        self.damage.iter().map(|damage| damage.grade).max()
    }
}

/// What came of a wall followed under one policy.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Outcome {
    /// Per coat thrown, in order; coats never thrown are missing.
    pub coats: Vec<CoatOutcome>,
    /// Why it ended before the last coat was ready.
    pub unfinished: Option<String>,
}

impl Outcome {
    /// What the whole wall's protection took.
    pub fn tally(&self) -> Tally {
        let mut sum = Tally::default();
        self.coats.iter().for_each(|coat| sum.add(&coat.tally));
        sum
    }

    /// Whole days from the start to the last coat's readiness; `None` if it was not reached.
    pub fn days(&self) -> Option<u32> {
        if self.unfinished.is_some() {
            return None;
        }
        self.coats.iter().map(|coat| coat.days.map(|days| days + coat.waited_days)).sum()
    }
}
