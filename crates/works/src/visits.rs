//! What one visit of a gang costs and what a day costs on which ready work is held back, so that the foreman can weigh the one against the other; and what a
//! day beyond the client's date is charged at. Whole pence. It must never know the weather.

use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::calendar::{WorkingTime, day};
use crate::reasons::{inside, listed};
use crate::sheet::{JobSheet, WallSheet};
use crate::{Between, HeldVisit, Inputs, YearRun};

/// Days from one day of work to the next above which the later begins another visit: more than a weekend.
pub(crate) const VISIT_GAP_DAYS: i64 = 3;

/// By what a foreman holds ready work back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Holding {
    /// Working days at most.
    pub(crate) most_days: u32,
    gangs: Vec<GangVisit>,
    /// Hire of each wall's scaffold for a day.
    hire_a_day: Vec<i64>,
    plant_a_day: i64,
    late_a_day: i64,
    finish_by: Option<Date>,
}

/// What a visit of one gang costs.
#[derive(Clone, Debug, PartialEq, Eq)]
struct GangVisit {
    /// It goes away, or has other work, between visits.
    leaves: bool,
    /// Setting up, and travel where it travels once a visit.
    visit: i64,
    /// Travel of a day, where it goes home each night.
    day: i64,
    /// Paid for nothing on a half-day that is paid as the least day.
    short_day: i64,
    /// Lodging of all hands for a night away.
    night: i64,
}

impl Holding {
    /// What the job's rates say; `None` where nothing is ever held back.
    pub(crate) fn of(inputs: &Inputs, walls: &[WallSheet], time: &WorkingTime) -> Option<Self> {
        let gangs: Vec<GangVisit> = (0..inputs.gangs.len()).map(|gang| gang_visit(inputs, gang, time)).collect();
        if inputs.running.hold_days == 0 || !gangs.iter().any(|gang| gang.leaves) {
            return None;
        }
        let hire = inputs.scaffold.hire_m2_week.value;
        Some(Self {
            most_days: inputs.running.hold_days,
            gangs,
            hire_a_day: walls.iter().map(|wall| pence(hire * decimal(wall.scaffold_m2) / Decimal::from(7))).collect(),
            plant_a_day: pence(inputs.rates.plant_week.value / Decimal::from(7)),
            late_a_day: pence(late_a_day(inputs, time)),
            finish_by: inputs.window.finish_by,
        })
    }

    /// True for a gang that leaves between visits.
    pub(crate) fn leaves(&self, gang: usize) -> bool {
        self.gangs[gang].leaves
    }

    /// Pence saved when work of so many half-days and of so many others is done on one visit instead of two.
    pub(crate) fn saved(&self, gang: usize, one: u32, other: u32) -> i64 {
        let gang = &self.gangs[gang];
        let days = |halves: u32| i64::from(halves.div_ceil(2));
        let short = |halves: u32| i64::from(halves % 2);
        let fewer_days = days(one) + days(other) - days(one + other);
        let fewer_short = short(one) + short(other) - short(one + other);
        // Two visits of some days each have one night less between them than the same days on end.
        gang.visit + gang.day * fewer_days + gang.short_day * fewer_short - gang.night * (1 - fewer_days)
    }

    /// Pence that holding some walls back for so many days costs; `ends_least` is the soonest day on which the last of them can be finished if it is not.
    pub(crate) fn cost(&self, held: &[usize], days: i64, ends_least: Date) -> i64 {
        let hire: i64 = held.iter().map(|&wall| self.hire_a_day[wall]).sum();
        let late = self.finish_by.is_some_and(|by| crate::calendar::add_days(ends_least, days) > by);
        days * (hire + self.plant_a_day + if late { self.late_a_day } else { 0 })
    }
}

fn gang_visit(inputs: &Inputs, number: usize, time: &WorkingTime) -> GangVisit {
    let (gang, rates) = (&inputs.gangs[number], &inputs.rates);
    let travel = decimal(gang.travel_h.value) * wages_h(inputs, number);
    let home = gang.home_each_night.value;
    let short_h = (rates.terms.least_paid_h - decimal(time.hours / 2.0)).max(Decimal::ZERO);
    let hands = Decimal::from(gang.masons + gang.labourers);
    GangVisit {
        leaves: gang.between != Between::IdlePaid,
        visit: pence(rates.visit.value + if home { Decimal::ZERO } else { travel }),
        day: if home { pence(travel) } else { 0 },
        short_day: pence(short_h * wages_h(inputs, number)),
        night: if home { 0 } else { pence(rates.terms.lodging * hands) },
    }
}

/// Wages of a gang for an hour.
pub(crate) fn wages_h(inputs: &Inputs, gang: usize) -> Decimal {
    let gang = &inputs.gangs[gang];
    Decimal::from(gang.masons) * inputs.rates.mason_h.value + Decimal::from(gang.labourers) * inputs.rates.labourer_h.value
}

/// Charged for a day beyond the client's date: as the job says, else a day of all gangs' wages.
pub(crate) fn late_a_day(inputs: &Inputs, time: &WorkingTime) -> Decimal {
    let wages = || (0..inputs.gangs.len()).map(|gang| wages_h(inputs, gang)).sum::<Decimal>() * decimal(time.hours);
    inputs.running.late_a_day.unwrap_or_else(wages)
}

/// What was held back so that walls are done on one visit, in sentences that follow others; empty where nothing was.
pub(crate) fn told(run: &YearRun, sheet: &JobSheet) -> String {
    let name = |slug: &String| {
        let wall = sheet.walls.iter().find(|wall| wall.slug == *slug);
        wall.map_or(slug.clone(), |wall| inside(&wall.name))
    };
    let one = |held: &HeldVisit| {
        let walls: Vec<String> = held.walls.iter().map(name).collect();
        let whose = if sheet.gangs.len() > 1 { format!("the {}", held.gang) } else { "the gang".to_owned() };
        format!(
            " From {} {whose} is held {} so that {} can be done on one visit.",
            day(held.from),
            days_in_words(held.days),
            listed(&walls)
        )
    };
    run.held.iter().map(one).collect()
}

/// "one day", "two days", "12 days".
fn days_in_words(days: u32) -> String {
    const WORDS: [&str; 11] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    let number = WORDS.get(days as usize).map_or_else(|| days.to_string(), |word| (*word).to_owned());
    format!("{number} day{}", if days == 1 { "" } else { "s" })
}

fn decimal(value: f64) -> Decimal {
    Decimal::from_f64_retain(value).unwrap_or_default()
}

/// Whole pence of money.
pub(crate) fn pence(money: Decimal) -> i64 {
    (money * Decimal::ONE_HUNDRED).round().to_i64().unwrap_or(i64::MAX)
}
