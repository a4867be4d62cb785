//! Orders lived by the foreman in the same weather years, all of them going on from bare walls that were lived through once. It must never judge two
//! orders in different years.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;
use rayon::prelude::*;
use reckoning::Money;
use rust_decimal::Decimal;
use survey::Slug;
use weather::Weather;

use super::Judged;
use super::order::Order;
use crate::almanac::Life;
use crate::calendar::days_between;
use crate::climates::{WallClimate, climates};
use crate::forward::run_by_thumb;
use crate::odds;
use crate::pricing::Pricing;
use crate::road::Stages;
use crate::thumb::Rule;
use crate::visits::late_a_day;
use crate::watch::Unreported;
use crate::years::{Joined, Years};
use crate::{Inputs, Watch, WorksError, YearRun};

/// Weather years in which orders are compared, spread evenly over those at hand: more would tell little of a difference between pairs.
const MOST_YEARS: usize = 8;

/// Lives orders.
pub(super) struct Judge<'a> {
    inputs: &'a Inputs,
    weather: Option<(&'a Weather, Arc<Joined>)>,
    /// By wall: its weather.
    faces: BTreeMap<Slug, WallClimate>,
    /// Day from which all walls are lived.
    begins: Date,
    pub(super) years: Vec<usize>,
    /// Charged for a day beyond the date the client fixed.
    pub(super) late_a_day: Money,
    watch: &'a dyn Watch,
}

impl<'a> Judge<'a> {
    pub(super) fn new(inputs: &'a Inputs, stages: &Stages, weather: Option<&'a Weather>, watch: &'a dyn Watch) -> Result<Self, WorksError> {
        let count = weather.map_or(0, |weather| weather.years.len());
        let judged = count.min(MOST_YEARS);
        let years: Vec<usize> = (0..judged).map(|part| part * count / judged).collect();
        let late = Money::new(late_a_day(inputs, &stages.sheet.time), inputs.rates.currency.clone()).to_cents();
        let mut judge = Self { inputs, weather: None, faces: BTreeMap::new(), begins: inputs.window.start, years, late_a_day: late, watch };
        if let Some(weather) = weather {
            let Stages { survey, specification, sheet, .. } = stages;
            let joined = Arc::new(Joined::of(weather, inputs.seed)?);
            let faces = climates(sheet, survey, weather)?;
            let lived = Years::on(sheet, survey, specification, inputs, weather, &faces, Arc::clone(&joined))?;
            judge.begins = lived.first_day;
            judge.faces = sheet.walls.iter().map(|wall| wall.slug.clone()).zip(faces).collect();
            judge.weather = Some((weather, joined));
        }
        Ok(judge)
    }

    /// What each order comes to where the foreman lives it; side by side, in their order.
    pub(super) fn lived(&self, orders: &[Order]) -> Result<Vec<Judged>, WorksError> {
        let staged = |order: &Order| {
            if self.watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
            let inputs = order.of(self.inputs);
            Stages::of(&inputs).map(|stages| (inputs, stages))
        };
        let jobs = orders.par_iter().map(staged).collect::<Result<Vec<(Inputs, Stages)>, WorksError>>()?;
        let judged = |((inputs, stages), runs): (&(Inputs, Stages), Vec<YearRun>)| {
            let pricing = Pricing::new(&stages.survey, &stages.specification, &stages.quantities, inputs)?;
            Ok(self.judged(&runs, &pricing))
        };
        jobs.iter().zip(self.runs(&jobs)?).map(judged).collect()
    }

    /// The jobs lived: what befalls a wall in the same way in several of them is computed once.
    fn runs(&self, jobs: &[(Inputs, Stages)]) -> Result<Vec<Vec<YearRun>>, WorksError> {
        let Some((weather, joined)) = &self.weather else {
            return Ok(jobs.iter().map(|(_, stages)| vec![run_by_thumb(&stages.sheet, Rule::Thumb)]).collect());
        };
        let mut all = Vec::with_capacity(jobs.len());
        for (inputs, Stages { survey, specification, sheet, .. }) in jobs {
            let faces: Vec<WallClimate> = sheet.walls.iter().filter_map(|wall| self.faces.get(&wall.slug)).cloned().collect();
            let mut years = Years::on(sheet, survey, specification, inputs, weather, &faces, Arc::clone(joined))?;
            years.first_day = self.begins;
            years.stand_as(&jobs[0].1.sheet);
            all.push(years);
        }
        Ok(Life::new(&all, &Unreported(self.watch))?.live(&self.years)?.runs)
    }

    fn judged(&self, runs: &[YearRun], pricing: &Pricing) -> Judged {
        let count = runs.len().max(1);
        let finish_by = self.inputs.window.finish_by;
        let late = |run: &YearRun| {
            let days = finish_by.zip(run.finished).map_or(0, |(by, finish)| days_between(by, finish).max(0));
            self.late_a_day.amount * Decimal::from(days)
        };
        let money = |amount: Decimal| Money::new(amount, self.inputs.rates.currency.clone()).to_cents();
        let costs: Vec<Decimal> = runs.iter().map(|run| pricing.before_tax(run).amount).collect();
        let lates: Vec<Decimal> = runs.iter().map(late).collect();
        let mean_of = |sums: &[Decimal]| money(sums.iter().sum::<Decimal>() / Decimal::from(sums.len().max(1)));
        let mut dearest: Vec<Decimal> = costs.iter().zip(&lates).map(|(cost, late)| cost + late).collect();
        dearest.sort_unstable_by(|one, other| other.cmp(one));
        dearest.truncate(runs.len().div_ceil(4));
        let (cost, late, dear) = (mean_of(&costs), mean_of(&lates), mean_of(&dearest));
        let risk = money((dear.amount - cost.amount - late.amount).max(Decimal::ZERO) * self.inputs.running.risk_share);
        let mean = |of: &dyn Fn(&YearRun) -> f64| runs.iter().map(of).sum::<f64>() / count as f64;
        let number = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        Judged {
            expected: money(cost.amount + late.amount + risk.amount),
            cost,
            late,
            risk,
            dear,
            middle: runs.get(odds::middle(runs)).and_then(|run| run.finished),
            latest: runs.iter().filter_map(|run| run.finished).max(),
            unfinished: number(runs.iter().filter(|run| run.finished.is_none()).count()),
            kept: finish_by.map(|by| number(runs.iter().filter(|run| run.finished.is_some_and(|finish| finish <= by)).count())),
            visits: mean(&|run| f64::from(run.visits)),
            lost: mean(&|run| run.losses.len() as f64),
        }
    }
}

impl Order {
    /// The job as it is in this order.
    fn of(&self, inputs: &Inputs) -> Inputs {
        // A start beyond the client's date is dear, not refused.
        let mut inputs = inputs.begun_on(self.start);
        inputs.building.walls.sort_by_key(|wall| self.walls.iter().position(|slug| *slug == wall.slug));
        inputs.running.gang_of.clone_from(&self.gangs);
        inputs
    }
}
