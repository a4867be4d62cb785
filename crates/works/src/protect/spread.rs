//! From what came of a start in each weather year to its spread in words a planner can use. Years stand at their plotting positions, as in the odds of the
//! programme; a coat that was not ready this season stands beyond all that were.

use curing::{DamageGrade, DamageKind};
use jiff::civil::Date;
use serde::Serialize;

use crate::odds::{at_rank, rank};
use crate::protect::lookahead::Ended;
use crate::protect::{CoatOutcome, Outcome, Tally};

/// A spread over weather years. A figure is `None` where the years to read it from were not ready this season, or are too few.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Spread {
    /// Least.
    pub least: Option<f64>,
    /// A quarter of the years have no more.
    pub lower_quarter: Option<f64>,
    /// Half of the years.
    pub middle: Option<f64>,
    /// Three quarters of the years.
    pub upper_quarter: Option<f64>,
    /// Eight years in ten.
    pub eight_in_ten: Option<f64>,
    /// Most of the years that came to an end.
    pub most: Option<f64>,
    /// Share of years in which it was not ready this season, 0 to 1.
    pub not_this_season: f64,
}

impl Spread {
    /// The spread of figures, `None` for a year that came to no end.
    pub(crate) fn of(figures: impl Iterator<Item = Option<f64>>) -> Self {
        let all: Vec<Option<f64>> = figures.collect();
        let mut values: Vec<f64> = all.iter().copied().flatten().collect();
        values.sort_by(f64::total_cmp);
        let count = all.len();
        let at = |share: f64| rank(share, count).and_then(|rank| if rank > values.len() as f64 { None } else { at_rank(&values, rank) });
        Self {
            least: values.first().copied(),
            lower_quarter: at(0.25),
            middle: at(0.5),
            upper_quarter: at(0.75),
            eight_in_ten: at(0.8),
            most: values.last().copied(),
            not_this_season: if count == 0 { 0.0 } else { (count - values.len()) as f64 / count as f64 },
        }
    }
}

/// How often a damage befell a coat.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DamageShare {
    /// What spoils it.
    pub kind: DamageKind,
    /// How badly, at its gravest.
    pub grade: DamageGrade,
    /// Share of the years in which it was thrown, 0 to 1.
    pub share: f64,
}

/// What lies ahead of one coat, given that those before it went on as early as they could.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct CoatAhead {
    /// Share of years in which it was thrown at all, 0 to 1.
    pub thrown: f64,
    /// Whole days it waited to be thrown, for a fit day.
    pub waited_days: Spread,
    /// Whole days from its throw to its readiness, over the years in which it was thrown.
    pub days: Spread,
    /// Damage by kind and grade, only what occurred.
    pub damage: Vec<DamageShare>,
    /// Share of those years in which it had to come off at least once.
    pub redone: f64,
    /// Means over those years.
    pub visits: f64,
    /// Person-hours.
    pub hours: f64,
}

/// What lies ahead of a start week.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WeekAhead {
    /// First day on which its first coat may be thrown.
    pub start: Date,
    /// Per coat, the one against the stone first.
    pub coats: Vec<CoatAhead>,
    /// Whole days from the start to the last coat's readiness.
    pub days: Spread,
    /// Share of years without damage that asks for a coat to be redone, 0 to 1.
    pub sound: f64,
    /// What protection took, the mean of the years.
    pub visits: f64,
    /// Visits by the client.
    pub client_visits: f64,
    /// Person-hours.
    pub hours: f64,
    /// Times wind took a cover down or a shelter had to be tied down.
    pub blown: f64,
    /// Days a cover hung.
    pub covered_days: f64,
    /// Days a shelter was heated.
    pub heated_days: f64,
}

/// The weeks of a wall under a policy.
pub(crate) fn weeks_ahead(coats: usize, weeks: usize, ended: &[Ended], start: impl Fn(usize) -> Date) -> Vec<WeekAhead> {
    let mut by_week: Vec<Vec<&Outcome>> = vec![Vec::new(); weeks];
    for (week, outcome) in ended {
        by_week[*week].push(outcome);
    }
    by_week.into_iter().enumerate().map(|(week, outcomes)| week_ahead(start(week), coats, &outcomes)).collect()
}

/// What lies ahead of one start, from what came of it in each year.
pub(crate) fn week_ahead(start: Date, coats: usize, outcomes: &[&Outcome]) -> WeekAhead {
    let count = outcomes.len().max(1) as f64;
    let tallies: Vec<Tally> = outcomes.iter().map(|outcome| outcome.tally()).collect();
    let mean = |of: fn(&Tally) -> f64| tallies.iter().map(of).sum::<f64>() / count;
    let spoiled = |outcome: &&&Outcome| outcome.coats.iter().any(|coat| coat.redone > 0 || coat.gravest() == Some(DamageGrade::Redo));
    WeekAhead {
        start,
        coats: (0..coats).map(|coat| coat_ahead(coat, outcomes)).collect(),
        days: Spread::of(outcomes.iter().map(|outcome| outcome.days().map(f64::from))),
        sound: 1.0 - outcomes.iter().filter(spoiled).count() as f64 / count,
        visits: mean(|tally| f64::from(tally.visits)),
        client_visits: mean(|tally| f64::from(tally.client_visits)),
        hours: mean(|tally| tally.hours),
        blown: mean(|tally| f64::from(tally.blown)),
        covered_days: mean(|tally| f64::from(tally.covered_h) / 24.0),
        heated_days: mean(|tally| f64::from(tally.heated_h) / 24.0),
    }
}

fn coat_ahead(coat: usize, outcomes: &[&Outcome]) -> CoatAhead {
    let thrown: Vec<&CoatOutcome> = outcomes.iter().filter_map(|outcome| outcome.coats.get(coat)).collect();
    if thrown.is_empty() {
        return CoatAhead::default();
    }
    let count = thrown.len() as f64;
    let share = |of: &dyn Fn(&CoatOutcome) -> bool| thrown.iter().filter(|coat| of(coat)).count() as f64 / count;
    let mut damage = Vec::new();
    for kind in DamageKind::ALL {
        for grade in [DamageGrade::Note, DamageGrade::Mend, DamageGrade::Redo] {
            let share = share(&|coat| coat.damage.iter().any(|damage| damage.kind == kind && damage.grade == grade));
            if share > 0.0 {
                damage.push(DamageShare { kind, grade, share });
            }
        }
    }
    CoatAhead {
        thrown: count / outcomes.len() as f64,
        waited_days: Spread::of(thrown.iter().map(|coat| Some(f64::from(coat.waited_days)))),
        days: Spread::of(thrown.iter().map(|coat| coat.days.map(f64::from))),
        damage,
        redone: share(&|coat| coat.redone > 0),
        visits: thrown.iter().map(|coat| f64::from(coat.tally.visits)).sum::<f64>() / count,
        hours: thrown.iter().map(|coat| coat.tally.hours).sum::<f64>() / count,
    }
}
