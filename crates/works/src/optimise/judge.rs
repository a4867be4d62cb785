//! An order lived by the foreman in the same weather years as every other, and its neighbours beside it. It must never judge two orders in different years.

use jiff::civil::Date;
use reckoning::Money;
use rust_decimal::Decimal;
use survey::Slug;
use weather::Weather;

use super::Judged;
use crate::calendar::{add_days, days_between};
use crate::climates::{WallClimate, climates};
use crate::forward::run_by_thumb;
use crate::odds;
use crate::pricing::Pricing;
use crate::road::Stages;
use crate::thumb::Rule;
use crate::years::Years;
use crate::{Inputs, Watch, WorksError, YearRun};

/// Weather years in which orders are compared, spread evenly over those at hand: more would tell little of a difference between pairs.
const MOST_YEARS: usize = 8;

/// Lives orders.
pub(super) struct Judge<'a> {
    inputs: &'a Inputs,
    weather: Option<&'a Weather>,
    climates: Vec<(Slug, WallClimate)>,
    pub(super) years: Vec<usize>,
    /// Charged for a day beyond the date the client fixed: a day of all gangs' wages.
    pub(super) late_a_day: Money,
    watch: &'a dyn Watch,
}

impl<'a> Judge<'a> {
    pub(super) fn new(inputs: &'a Inputs, stages: &Stages, weather: Option<&'a Weather>, watch: &'a dyn Watch) -> Result<Self, WorksError> {
        let made = weather.map(|weather| climates(&stages.sheet, &stages.survey, weather)).transpose()?.unwrap_or_default();
        let slugs = stages.sheet.walls.iter().map(|wall| wall.slug.clone());
        let count = weather.map_or(0, |weather| weather.years.len());
        let judged = count.min(MOST_YEARS);
        let wages: Decimal = (0..inputs.gangs.len()).map(|gang| wages_h(inputs, gang)).sum();
        let hours = Decimal::from_f64_retain(stages.sheet.time.hours).unwrap_or_default();
        Ok(Self {
            inputs,
            weather,
            climates: slugs.zip(made).collect(),
            years: (0..judged).map(|part| part * count / judged).collect(),
            late_a_day: Money::new(wages * hours, inputs.rates.currency.clone()).to_cents(),
            watch,
        })
    }

    /// The walls in an order, begun on a day, lived in every year.
    pub(super) fn lived(&self, walls: &[Slug], start: Date) -> Result<Judged, WorksError> {
        let mut inputs = self.inputs.clone();
        inputs.building.walls.sort_by_key(|wall| walls.iter().position(|slug| *slug == wall.slug));
        // Scaffold that was to stand for the start comes for the start.
        if inputs.scaffold.from.value <= inputs.window.start {
            inputs.scaffold.from.value = add_days(inputs.scaffold.from.value, days_between(inputs.window.start, start));
        }
        inputs.window.start = start;
        // A start beyond the client's date is dear, not refused.
        inputs.window.finish_by = None;
        let stages = Stages::of(&inputs)?;
        let runs = self.runs(&stages, &inputs)?;
        let pricing = Pricing::new(&stages.survey, &stages.specification, &stages.quantities, &inputs)?;
        Ok(self.judged(&runs, &pricing))
    }

    fn runs(&self, stages: &Stages, inputs: &Inputs) -> Result<Vec<YearRun>, WorksError> {
        let Some(weather) = self.weather else { return Ok(vec![run_by_thumb(&stages.sheet, Rule::Thumb)]) };
        let climate = |slug: &Slug| self.climates.iter().find(|(of, _)| of == slug).map(|(_, climate)| climate.clone());
        let climates: Vec<WallClimate> = stages.sheet.walls.iter().filter_map(|wall| climate(&wall.slug)).collect();
        let years = Years::new(&stages.sheet, &stages.survey, &stages.specification, inputs, weather, &climates)?;
        Ok(years.run(&self.years, self.watch)?.0)
    }

    fn judged(&self, runs: &[YearRun], pricing: &Pricing) -> Judged {
        let count = runs.len().max(1);
        let finish_by = self.inputs.window.finish_by;
        let late = |run: &YearRun| {
            let days = finish_by.zip(run.finished).map_or(0, |(by, finish)| days_between(by, finish).max(0));
            self.late_a_day.amount * Decimal::from(days)
        };
        let sum: Decimal = runs.iter().map(|run| pricing.before_tax(run).amount + late(run)).sum();
        let mean = |of: &dyn Fn(&YearRun) -> f64| runs.iter().map(of).sum::<f64>() / count as f64;
        let number = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        Judged {
            expected: Money::new(sum / Decimal::from(count), self.inputs.rates.currency.clone()).to_cents(),
            middle: runs.get(odds::middle(runs)).and_then(|run| run.finished),
            latest: runs.iter().filter_map(|run| run.finished).max(),
            unfinished: number(runs.iter().filter(|run| run.finished.is_none()).count()),
            kept: finish_by.map(|by| number(runs.iter().filter(|run| run.finished.is_some_and(|finish| finish <= by)).count())),
            visits: mean(&|run| f64::from(run.visits)),
            lost: mean(&|run| run.losses.len() as f64),
        }
    }

    /// An order and its neighbours, two walls beside each other exchanged or the start moved by a week: the best of them as the foreman lives them.
    pub(super) fn polished(&self, walls: Vec<Slug>, start: Date) -> Result<(Vec<Slug>, Date, Judged), WorksError> {
        let judged = self.lived(&walls, start)?;
        let mut best = (walls.clone(), start, judged);
        let exchanged = (1..walls.len()).map(|at| {
            let mut other = walls.clone();
            other.swap(at - 1, at);
            (other, start)
        });
        let moved = [-7, 7].map(|days| (walls.clone(), add_days(start, days)));
        for (other, start) in exchanged.chain(moved).filter(|&(_, start)| start >= self.inputs.window.start) {
            if self.watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
            let judged = self.lived(&other, start)?;
            if rank(&judged) < rank(&best.2) {
                best = (other, start, judged);
            }
        }
        Ok(best)
    }
}

/// Years that are not finished weigh before money.
pub(super) fn rank(judged: &Judged) -> (u32, Decimal) {
    (judged.unfinished, judged.expected.amount)
}

/// Wages of a gang for an hour.
pub(super) fn wages_h(inputs: &Inputs, gang: usize) -> Decimal {
    let gang = &inputs.gangs[gang];
    Decimal::from(gang.masons) * inputs.rates.mason_h.value + Decimal::from(gang.labourers) * inputs.rates.labourer_h.value
}
