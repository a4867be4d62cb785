//! The four policies compared for the job's own start, and the choice per wall and coat: what each costs in days, visits, money and risk. It must never hide
//! that a policy spoils coats behind a low price. What it chooses is advice, unless the job asks for the choice to be followed.

use curing::DamageGrade;
use reckoning::{Currency, Money, Reckoning, Reckonings, Unit, Value};
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;
use survey::Slug;
use weather::Weather;

use crate::climates::WallClimate;
use crate::protect::lookahead::{Grounds, ahead_of};
use crate::protect::spread::Spread;
use crate::protect::{CoatAhead, Foresight, LookaheadAsked, Policy, WallAhead, WeekAhead};
use crate::road::Stages;
use crate::sheet::{days_of_m2, measured};
use crate::{Inputs, ProtectionAsked, Watch, WorksError};

/// Most weather years the policies are compared in: evenly taken from those at hand, so that a plan stays quick.
const MOST_YEARS: usize = 6;
/// Share of years that may spoil a coat, or leave it unready, before a policy is passed over.
const RISK_BORNE: f64 = 0.1;
/// Roof and sheets over what the scaffold costs to put up and to hire (guess: half as much again).
const SHELTER_SHARE: f64 = 0.5;
/// Labourer's hours that a day of heating 100 m² takes, for fuel and for somebody who watches it (guess).
const HEATING_H_PER_100_M2: f64 = 2.0;
/// Labourer's hours to mend a damaged coat, per 100 m² (guess).
const MENDING_H_PER_100_M2: f64 = 8.0;

/// The policies compared, wall by wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Protection {
    /// Weather years compared in.
    pub years: Vec<i32>,
    /// Per wall, in the order of the job.
    pub walls: Vec<WallProtection>,
    /// Cell-steps it took.
    pub cell_steps: u64,
    /// Reckonings of the shown figures.
    pub reckonings: Reckonings,
}

/// One wall's choice.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallProtection {
    /// The wall.
    pub wall: Slug,
    /// Its name.
    pub name: String,
    /// Cover the job itself asks for, by catalogue name; what is chosen is then that and no advice.
    pub fixed: Option<String>,
    /// Every policy.
    pub options: Vec<ProtectionOption>,
    /// Policy chosen for each coat, the one against the stone first.
    pub chosen: Vec<Policy>,
    /// Why, in a sentence.
    pub why: String,
}

/// What a policy comes to on a wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ProtectionOption {
    /// The policy.
    pub policy: Policy,
    /// Whole days from the start to the last coat's readiness, were this wall the gang's only work.
    pub days: Spread,
    /// Visits for the cover alone, the mean of the years.
    pub visits: f64,
    /// Person-hours at the cover.
    pub hours: f64,
    /// Share of years in which a coat is spoiled and comes off, 0 to 1.
    pub redo: f64,
    /// What it costs beside the coats themselves: cover, visits, hours, scaffold while it waits, mending and redoing as often as they occur.
    pub money: Money,
    /// Per coat.
    pub coats: Vec<CoatOption>,
}

/// What a policy comes to on a coat.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoatOption {
    /// The coat.
    pub coat: Slug,
    /// Its name.
    pub name: String,
    /// What lies ahead of it.
    pub ahead: CoatAhead,
    /// Share of years in which it is mended, 0 to 1.
    pub mend: f64,
    /// Its part of the money.
    pub money: Money,
}

/// Compares the policies for a job's own start. Every coat is run at its ends.
pub(crate) fn protection(
    inputs: &Inputs,
    weather: &Weather,
    stages: &Stages,
    climates: &[WallClimate],
    watch: &dyn Watch,
) -> Result<Protection, WorksError> {
    let count = weather.years.len();
    let taken = count.min(MOST_YEARS);
    let years: Vec<usize> = (0..taken).map(|number| number * count / taken).collect();
    let asked = LookaheadAsked {
        policies: Policy::ALL.to_vec(),
        foresight: Foresight::Imperfect,
        from: inputs.window.start,
        weeks: 1,
        client_wets: false,
        percentiles: true,
    };
    let ahead = ahead_of(&Grounds { inputs, weather, stages, years: &years, climates }, &asked, watch)?;
    let mut reckonings = Reckonings::default();
    let mut walls = Vec::new();
    for (number, wall) in ahead.walls.iter().enumerate() {
        let basis = Basis::new(inputs, stages, number)?;
        let told = wall_protection(&basis, inputs, stages, number, wall);
        told.options.iter().for_each(|option| reckonings.keep(reckoned(&told, option, years.len())));
        walls.push(told);
    }
    let years = years.iter().map(|&year| weather.years[year].year).collect();
    Ok(Protection { years, walls, cell_steps: ahead.cell_steps, reckonings })
}

/// Rates and sizes of a wall, in plain numbers: a comparison is no quotation.
struct Basis {
    currency: Currency,
    face_m2: f64,
    labourer_h: f64,
    visit: f64,
    hessian: f64,
    scaffold_day: f64,
    shelter_up: f64,
    shelter_day: f64,
    /// Wages to throw each coat again.
    again: Vec<f64>,
}

impl Basis {
    fn new(inputs: &Inputs, stages: &Stages, wall: usize) -> Result<Self, WorksError> {
        let specified = &stages.specification.walls[wall];
        let size = measured(&stages.survey, &specified.slug)?;
        let face_m2 = size.net_m2 + size.reveal_m2;
        let rates = &inputs.rates;
        let money = |value: rust_decimal::Decimal| value.to_f64().unwrap_or(0.0);
        let (hire, up) = (money(inputs.scaffold.hire_m2_week.value), money(inputs.scaffold.up_and_down_m2.value));
        let scaffold_day = hire * size.gross_m2 / 7.0;
        let day = (2.0 * money(rates.mason_h.value) + money(rates.labourer_h.value)) * stages.sheet.time.hours;
        Ok(Self {
            currency: rates.currency.clone(),
            face_m2,
            labourer_h: money(rates.labourer_h.value),
            visit: money(rates.damping_visit.value),
            hessian: money(rates.hessian_m2.value) * face_m2 * (1.0 + inputs.allowances.hessian_lap.value),
            scaffold_day,
            shelter_up: SHELTER_SHARE * up * size.gross_m2,
            shelter_day: SHELTER_SHARE * scaffold_day,
            again: specified.coats.iter().map(|coat| day * face_m2 * days_of_m2(rates, coat.kind)).collect(),
        })
    }

    /// What a coat costs under a policy beside itself; cloth and shelter, which serve all coats, are shared among them.
    fn coat(&self, policy: Policy, number: usize, ahead: &CoatAhead, week: &WeekAhead) -> f64 {
        let coats = self.again.len().max(1) as f64;
        let days = ahead.days.middle.or(ahead.days.most).unwrap_or(crate::foreman::SEASON_DAYS as f64);
        let waited = ahead.waited_days.middle.unwrap_or(0.0);
        let hundreds = self.face_m2 / 100.0;
        let stands = match policy {
            Policy::Nothing => 0.0,
            Policy::HessianByRule => self.hessian / coats,
            Policy::Sheltered => self.shelter_up / coats + self.shelter_day * (days + waited),
            Policy::Heated => {
                let heated = week.heated_days / coats;
                self.shelter_up / coats + self.shelter_day * (days + waited) + heated * HEATING_H_PER_100_M2 * hundreds * self.labourer_h
            }
        };
        let redo = ahead.redone * self.again.get(number).copied().unwrap_or(0.0);
        let mend = mended(ahead) * (self.visit + MENDING_H_PER_100_M2 * hundreds * self.labourer_h);
        stands + ahead.visits * self.visit + ahead.hours * self.labourer_h + (days + waited) * self.scaffold_day + redo + mend
    }
}

/// Share of years in which a coat is mended: that of the kind that most often asks for it.
fn mended(ahead: &CoatAhead) -> f64 {
    ahead.damage.iter().filter(|damage| damage.grade == DamageGrade::Mend).map(|damage| damage.share).fold(0.0, f64::max)
}

/// Share of years in which a coat is spoiled or not ready.
fn risk(ahead: &CoatAhead) -> f64 {
    ahead.redone.max(ahead.days.not_this_season).max(1.0 - ahead.thrown)
}

fn wall_protection(basis: &Basis, inputs: &Inputs, stages: &Stages, number: usize, wall: &WallAhead) -> WallProtection {
    let specified = &stages.specification.walls[number];
    let money = |amount: f64| Money::from_f64(amount, basis.currency.clone());
    let mut options = Vec::new();
    let mut costs: Vec<Vec<f64>> = Vec::new();
    for by in &wall.policies {
        let week = &by.weeks[0];
        let per_coat: Vec<f64> = week.coats.iter().enumerate().map(|(coat, ahead)| basis.coat(by.policy, coat, ahead, week)).collect();
        let coats = specified.coats.iter().zip(&week.coats).zip(&per_coat).map(|((coat, ahead), &cost)| CoatOption {
            coat: coat.slug.clone(),
            name: coat.name.clone(),
            ahead: ahead.clone(),
            mend: mended(ahead),
            money: money(cost),
        });
        options.push(ProtectionOption {
            policy: by.policy,
            days: week.days,
            visits: week.visits,
            hours: week.hours,
            redo: 1.0 - week.sound,
            money: money(per_coat.iter().sum()),
            coats: coats.collect(),
        });
        costs.push(per_coat);
    }
    // A job that asks for the choice asks for no cover of its own.
    let fixes = !inputs.system.cover.assumed && inputs.system.protection != ProtectionAsked::Chosen;
    let fixed = fixes.then(|| inputs.system.cover.value.clone());
    let (chosen, why) = choose(&options, &costs, fixed.as_deref());
    WallProtection { wall: wall.wall.clone(), name: stages.sheet.walls[number].name.clone(), fixed, options, chosen, why }
}

/// The choice: coat by coat between no cover and hessian, or a shelter for all where that is the cheaper of what is borne; never a policy that spoils
/// coats more often than is borne, where another does not.
fn choose(options: &[ProtectionOption], costs: &[Vec<f64>], fixed: Option<&str>) -> (Vec<Policy>, String) {
    let coats = costs.first().map_or(0, Vec::len);
    let place = |policy: Policy| options.iter().position(|option| option.policy == policy);
    if let Some(cover) = fixed {
        let policy = if cover == "none" { Policy::Nothing } else { by_cover(cover) };
        return (vec![policy; coats], format!("The job itself asks for {}.", cover.replace('-', " ")));
    }
    let risk_of = |option: usize, coat: usize| options[option].coats.get(coat).map_or(0.0, |coat| risk(&coat.ahead));
    // Less risk first as far as it is not borne, then less money.
    let better = |one: (f64, f64), other: (f64, f64)| {
        let beyond = |risk: f64| if risk > RISK_BORNE { risk } else { 0.0 };
        (beyond(one.0), one.1) < (beyond(other.0), other.1)
    };
    let best_of = |coat: usize| {
        let bare_or_hessian = [Policy::Nothing, Policy::HessianByRule].into_iter().filter_map(place);
        let seen = bare_or_hessian.map(|option| (option, (risk_of(option, coat), costs[option][coat])));
        seen.reduce(|best, next| if better(next.1, best.1) { next } else { best })
    };
    let best: Vec<(usize, (f64, f64))> = (0..coats).filter_map(best_of).collect();
    let mut chosen: Vec<Policy> = best.iter().map(|&(option, _)| options[option].policy).collect();
    let mut worst = best.iter().map(|&(_, (risk, _))| risk).fold(0.0, f64::max);
    let mut sum: f64 = best.iter().map(|&(_, (_, cost))| cost).sum();
    for option in [Policy::Sheltered, Policy::Heated].into_iter().filter_map(place) {
        let here = ((0..coats).map(|coat| risk_of(option, coat)).fold(0.0, f64::max), costs[option].iter().sum());
        if better(here, (worst, sum)) {
            (chosen, worst, sum) = (vec![options[option].policy; coats], here.0, here.1);
        }
    }
    let why = why(options, &chosen, worst);
    (chosen, why)
}

/// The policy that hangs a cover of the catalogue.
fn by_cover(cover: &str) -> Policy {
    match cover {
        "heated-shelter" => Policy::Heated,
        "roofed-shelter" => Policy::Sheltered,
        _ => Policy::HessianByRule,
    }
}

fn why(options: &[ProtectionOption], chosen: &[Policy], worst: f64) -> String {
    let spoiled: Vec<String> = options
        .iter()
        .filter(|option| option.redo > RISK_BORNE && !chosen.contains(&option.policy))
        .map(|option| format!("{} would spoil a coat in {} years of ten", option.policy.words(), in_ten(option.redo)))
        .collect();
    let mut why = if worst > RISK_BORNE {
        format!("Of the four it spoils coats least often, though in {} years of ten", in_ten(worst))
    } else {
        "Of those that hardly ever spoil a coat it costs least".to_owned()
    };
    if !spoiled.is_empty() {
        why.push_str(&format!("; {}", spoiled.join(", ")));
    }
    why.push('.');
    why
}

/// A share as years of ten, at least one where it is not nothing.
pub(crate) fn in_ten(share: f64) -> f64 {
    (10.0 * share).round().max(1.0)
}

fn reckoned(wall: &WallProtection, option: &ProtectionOption, years: usize) -> Reckoning {
    let path = format!("walls.{}.protection.{}", wall.wall, option.policy.name());
    let source = format!("{years} weather years followed by the hour, each coat at its thickest and thinnest, over stone and over joint");
    let given = |name: &str, label: &str, value: f64, unit: Unit, places: u8| {
        Reckoning::given(format!("{path}.{name}"), label, Value::number(value, unit, places), source.clone(), false)
    };
    let days = option.days.middle.or(option.days.most).unwrap_or(f64::NAN);
    let mut inputs = vec![
        given("days", "Days from the start to the last coat's readiness, in the middle year", days, Unit::Day, 0),
        given("visits", "Visits for the cover alone", option.visits, Unit::One, 0),
        given("hours", "Person-hours at the cover", option.hours, Unit::Hour, 1),
        given("redo", "Share of years in which a coat is spoiled", 100.0 * option.redo, Unit::PerCent, 0),
    ];
    inputs.extend(option.coats.iter().map(|coat| {
        let label = format!("{}: its part", coat.name);
        Reckoning::given(format!("{path}.{}", coat.coat), label, Value::Money(coat.money.to_cents()), source.clone(), false)
    }));
    Reckoning::worked(
        path.clone(),
        format!("{}: {} beside the coats themselves", wall.name, option.policy.words()),
        Value::Money(option.money.to_cents()),
        "cloth or shelter, visits and hours at the job's rates, hire of the scaffold while the coats wait, mending and redoing as often as they occur",
        inputs,
        "the job's rates; roof and sheets taken as half of the scaffold's cost, heating as two labourer's hours a day for 100 m², mending as eight for \
         100 m²: guesses",
    )
}

/// What foresight is worth under one policy, over all starts and walls looked at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ForesightWorth {
    /// What the foreman knew.
    pub foresight: Foresight,
    /// Mean days from start to the last coat's readiness, over weeks and walls: the middle year of each.
    pub days: f64,
    /// Mean visits.
    pub visits: f64,
    /// Mean person-hours.
    pub hours: f64,
    /// Mean share of years with a spoiled coat.
    pub redo: f64,
    /// Mean times a cover was blown down.
    pub blown: f64,
}

/// Looks ahead with no foresight, with a forecast and with the truth, and says what each comes to; of the policies asked for, the first.
///
/// # Errors
/// As [`crate::protect::lookahead()`].
pub fn foresight_worth(
    inputs: &Inputs,
    weather: &Weather,
    asked: &LookaheadAsked,
    watch: &dyn Watch,
) -> Result<[ForesightWorth; 3], WorksError> {
    let with = |foresight: Foresight| {
        let asked = LookaheadAsked { foresight, policies: asked.policies.iter().copied().take(1).collect(), ..asked.clone() };
        let ahead = crate::protect::lookahead(inputs, weather, &asked, watch)?;
        let weeks: Vec<&WeekAhead> = ahead.walls.iter().flat_map(|wall| &wall.policies).flat_map(|by| &by.weeks).collect();
        let mean = |of: fn(&WeekAhead) -> Option<f64>| {
            let all: Vec<f64> = weeks.iter().filter_map(|week| of(week)).collect();
            all.iter().sum::<f64>() / all.len().max(1) as f64
        };
        Ok(ForesightWorth {
            foresight,
            days: mean(|week| week.days.middle),
            visits: mean(|week| Some(week.visits)),
            hours: mean(|week| Some(week.hours)),
            redo: mean(|week| Some(1.0 - week.sound)),
            blown: mean(|week| Some(week.blown)),
        })
    };
    Ok([with(Foresight::None)?, with(Foresight::Imperfect)?, with(Foresight::Perfect)?])
}
