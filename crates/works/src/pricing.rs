//! From the programme to money: each line is a quantity as shown times a rate, in decimal, rounded half away from zero to the hundredth; the lines add up
//! exactly; overhead is laid on the cost and tax last on the whole.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use reckoning::{Finding, Grade, Known, Money, Reckonings};
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use crate::calendar::{WorkingTime, add_days, days_between};
use crate::order::kind_word;
use crate::reasons::count;
use crate::sheet::measured;
use crate::{
    Between, Gang, Inputs, PartKind, Price, PriceLine, Programme, Quantities, ScaffoldKind, Specification, Task, WallPrice, WorksError,
    YearRun, accounts, odds,
};

mod covers;
mod provisional;
mod redo;
mod risk;
mod terms;

pub use terms::present_value;
pub(crate) use terms::{last_job, years_in_words};

/// What the money of one run is reckoned from.
pub(crate) struct Pricing<'a> {
    pub(crate) survey: &'a survey::Survey,
    pub(crate) specification: &'a Specification,
    pub(crate) quantities: &'a Quantities,
    pub(crate) inputs: &'a Inputs,
    time: WorkingTime,
}

/// The price of the whole job: the lines of the middle run, the price before tax in every run, and its spread.
///
/// # Errors
/// When a rate is below nothing or the calendar cannot be read.
pub fn price(
    survey: &survey::Survey,
    specification: &Specification,
    quantities: &Quantities,
    inputs: &Inputs,
    programme: &Programme,
) -> Result<Price, WorksError> {
    let pricing = Pricing::new(survey, specification, quantities, inputs)?;
    let run = &programme.runs[programme.middle];
    let mut lines = pricing.lines(run);
    let middle = pricing.sum(&lines);
    let by_year: Vec<Money> = programme.runs.iter().map(|run| pricing.before_tax(run)).collect();
    let risk = if run.finished.is_some() { risk::risk(&pricing, programme, &by_year, &middle) } else { None };
    if run.finished.is_some() {
        lines.extend(risk::expected_weather(&pricing, programme, middle.amount));
    }
    lines.extend(redo::expected(&pricing, programme));
    let mean = pricing.sum(&lines);
    lines.extend(risk.as_ref().and_then(|risk| risk::margin(&pricing, risk, mean.amount)));
    let cost = pricing.sum(&lines);
    let before_tax = pricing.with_overhead(&cost);
    let overhead = pricing.money(before_tax.amount - cost.amount);
    let tax_rate = inputs.rates.tax.value;
    let tax = pricing.money(before_tax.amount * tax_rate);
    let total = pricing.money(before_tax.amount + tax.amount);
    let per_m2 = terms::per_m2(&pricing, before_tax.amount, quantities.area_m2).unwrap_or_else(|| pricing.money(Decimal::ZERO));
    let eight_in_ten = if programme.odds.is_some() { pricing.eight_in_ten(programme, &by_year, &before_tax) } else { None };
    let range = provisional::range(&pricing, &cost);
    let quotation = terms::quotation(&pricing, run, &lines, &before_tax);
    let mut price = Price {
        walls: pricing.walls(run, &before_tax),
        lines,
        cost,
        overhead,
        before_tax,
        tax_rate,
        tax,
        total,
        not_given: not_given(run),
        range,
        per_m2,
        by_year,
        eight_in_ten,
        risk,
        quotation,
        exclusions: pricing.exclusions(),
        valid_days: inputs.rates.terms.valid_days,
        reckonings: Reckonings::default(),
    };
    price.reckonings = accounts::reckonings(&price, &pricing);
    Ok(price)
}

/// Why no price can be given for a run that does not end.
fn not_given(run: &YearRun) -> Option<String> {
    run.finished.is_none().then(|| {
        let why = run.unfinished.as_deref().unwrap_or("");
        format!("in the middle year the job is not finished this season. {why}").trim_end().to_owned()
    })
}

/// A quantity as shown, in decimal.
pub(crate) fn decimal(value: f64, places: u32) -> Decimal {
    use rust_decimal::RoundingStrategy::MidpointAwayFromZero;
    Decimal::from_f64(value).unwrap_or_default().round_dp_with_strategy(places, MidpointAwayFromZero)
}

impl<'a> Pricing<'a> {
    /// Reads the rates, refusing any below nothing; all refusals at once.
    pub(crate) fn new(
        survey: &'a survey::Survey,
        specification: &'a Specification,
        quantities: &'a Quantities,
        inputs: &'a Inputs,
    ) -> Result<Self, WorksError> {
        let rates = &inputs.rates;
        let named: [(&str, &Known<Decimal>); 14] = [
            ("tax", &rates.tax),
            ("a mason's hour", &rates.mason_h),
            ("a labourer's hour", &rates.labourer_h),
            ("water", &rates.water_m3),
            ("plant", &rates.plant_week),
            ("a visit", &rates.visit),
            ("a damping visit", &rates.damping_visit),
            ("hessian", &rates.hessian_m2),
            ("carting away waste", &rates.waste_m3),
            ("making good", &rates.making_good_m2),
            ("overhead", &rates.overhead),
            ("putting scaffold up and down", &inputs.scaffold.up_and_down_m2),
            ("hire of scaffold", &inputs.scaffold.hire_m2_week),
            ("adapting scaffold", &inputs.scaffold.adapt_m2),
        ];
        let materials = rates.materials.iter().map(|(name, rate)| (name.as_str(), rate));
        let refused = named.into_iter().chain(materials).filter(|(_, rate)| rate.value < Decimal::ZERO);
        WorksError::gather(
            refused.map(|(what, rate)| WorksError::Rate { what: what.to_owned(), value: rate.value.to_string() }).collect(),
        )?;
        let time = WorkingTime::new(&inputs.calendar, &inputs.about.time_zone)?;
        Ok(Self { survey, specification, quantities, inputs, time })
    }

    pub(crate) fn money(&self, amount: Decimal) -> Money {
        Money::new(amount, self.inputs.rates.currency.clone()).to_cents()
    }

    fn sum(&self, lines: &[PriceLine]) -> Money {
        self.money(lines.iter().map(|line| line.amount.amount).sum())
    }

    /// Cost and overhead of a run, with what that year itself lost.
    pub(crate) fn before_tax(&self, run: &YearRun) -> Money {
        let mut lines = self.lines(run);
        lines.extend(redo::of_run(self, run));
        self.with_overhead(&self.sum(&lines))
    }

    fn with_overhead(&self, cost: &Money) -> Money {
        let overhead = self.money(cost.amount * self.inputs.rates.overhead.value);
        self.money(cost.amount + overhead.amount)
    }

    /// The lines of a run, in the order they are read, but for what it lost.
    pub(crate) fn lines(&self, run: &YearRun) -> Vec<PriceLine> {
        let mut lines = self.labour(run);
        lines.extend(terms::height_and_access(self, &lines));
        lines.extend(self.materials());
        lines.extend(self.plant_and_visits(run));
        lines.extend(redo::mending(self, run));
        lines.extend(self.scaffold(run));
        lines.extend(provisional::lines(self));
        lines.extend(terms::least_charge(self, &self.sum(&lines)));
        lines
    }

    pub(crate) fn line(&self, heading: &str, words: String, quantity: (f64, &str, u32), rate: Decimal, path: String) -> PriceLine {
        let (quantity, unit, places) = quantity;
        let shown = decimal(quantity, places);
        PriceLine {
            heading: heading.to_owned(),
            words,
            quantity: rust_decimal::prelude::ToPrimitive::to_f64(&shown).unwrap_or(quantity),
            unit: unit.to_owned(),
            rate: self.money(rate),
            amount: self.money(shown * self.money(rate).amount),
            path,
        }
    }

    /// Money for one day of a gang.
    pub(crate) fn gang_day(&self, gang: &Gang) -> Decimal {
        self.gang_hour(gang) * decimal(self.time.hours, 2)
    }

    pub(crate) fn gang_hour(&self, gang: &Gang) -> Decimal {
        Decimal::from(gang.masons) * self.inputs.rates.mason_h.value + Decimal::from(gang.labourers) * self.inputs.rates.labourer_h.value
    }

    /// How a gang's day is paid.
    fn paid(&self) -> String {
        let calendar = &self.inputs.calendar;
        let clock = |time: jiff::civil::Time| time.strftime("%H:%M").to_string();
        format!("a day is paid from {} to {}, no break taken off", clock(calendar.from), clock(calendar.to))
    }

    fn labour(&self, run: &YearRun) -> Vec<PriceLine> {
        const KINDS: [(&str, &str); 7] = [
            ("preparation", "Preparation: raking, pinning, brushing down"),
            ("scud", "Scud coat, reveals first, covered"),
            ("straightening", "Straightening coat, reveals first, laid and covered"),
            ("ruling", "Straightening coat ruled while it is soft"),
            ("finish", "Finish coat, reveals first, bay by bay, covered"),
            ("limewash", "Limewash"),
            ("tie-patches", "Tie patches made good as the scaffold comes down, in one visit and not coat by coat"),
        ];
        let mut days: BTreeMap<(usize, usize), f64> = BTreeMap::new();
        for wall in &run.walls {
            for task in &wall.tasks {
                let word = self.kind_of(&wall.slug, &task.slug);
                let kind = |word: &str| KINDS.iter().position(|(kind, _)| *kind == word).unwrap_or(0);
                let gang = self.inputs.gangs.iter().position(|gang| gang.name == task.gang).unwrap_or(0);
                let ruling = ruling_days(task);
                *days.entry((kind(word), gang)).or_default() += task.gang_days - ruling;
                if ruling > 0.0 {
                    *days.entry((kind("ruling"), gang)).or_default() += ruling;
                }
            }
        }
        let mut lines: Vec<PriceLine> = days
            .into_iter()
            .enumerate()
            .map(|(number, ((kind, gang), days))| {
                let (slug, words) = KINDS[kind];
                let paid = if number == 0 { format!("; {}", self.paid()) } else { String::new() };
                let gang = &self.inputs.gangs[gang];
                let path = format!("price.labour.{slug}.{}", gang.name.to_lowercase().replace(' ', "-"));
                let taking_off = if slug == "preparation" { provisional::taking_off_words(self) } else { String::new() };
                let words = format!("{words}{taking_off} ({}{paid})", hands(gang));
                self.line("Labour", words, (days, "gang-days", 1), self.gang_day(gang), path)
            })
            .collect();
        for (gang, gang_run) in self.inputs.gangs.iter().zip(&run.gangs) {
            if gang.between == Between::IdlePaid && gang_run.idle_days > 0.0 {
                let path = format!("price.labour.idle.{}", gang.name.to_lowercase().replace(' ', "-"));
                let words = format!("Standing between coats, paid ({})", hands(gang));
                lines.push(self.line("Labour", words, (gang_run.idle_days, "gang-days", 1), self.gang_day(gang), path));
            }
        }
        lines
    }

    fn kind_of(&self, wall: &str, task: &str) -> &'static str {
        let coats = self.specification.walls.iter().find(|specified| specified.slug == wall).map(|specified| &specified.coats);
        let coat = coats.and_then(|coats| coats.iter().find(|coat| coat.slug == task));
        match (coat, task) {
            (Some(coat), _) => kind_word(coat.kind),
            (None, "limewash") => "limewash",
            (None, "tie-patches") => "tie-patches",
            (None, _) => "preparation",
        }
    }

    fn materials(&self) -> Vec<PriceLine> {
        self.quantities
            .materials
            .iter()
            .filter_map(|material| {
                let path = format!("price.materials.{}", material.slug);
                let words = format!("{}: {}", material.name, material.purpose);
                let (quantity, unit, places, rate) = self.rate_of(material)?;
                Some(self.line("Materials", words, (quantity, unit, places), rate, path))
            })
            .collect()
    }

    /// Quantity, unit and rate of a material; `None` where nobody has given a price.
    fn rate_of<'m>(&self, material: &'m crate::Material) -> Option<(f64, &'m str, u32, Decimal)> {
        let rates = &self.inputs.rates;
        if let Some((_, rate)) = rates.materials.iter().find(|(name, _)| *name == material.slug) {
            return Some((f64::from(material.units), &material.unit_name, 0, rate.value));
        }
        match material.slug.as_str() {
            "hessian" => Some((material.amount, "m²", 0, rates.hessian_m2.value)),
            "water" => Some((material.amount / 1000.0, "m³", 2, rates.water_m3.value)),
            _ => None,
        }
    }

    fn plant_and_visits(&self, run: &YearRun) -> Vec<PriceLine> {
        let rates = &self.inputs.rates;
        let weeks = working_weeks(run);
        let words = "Mixer, tools and small plant, in the weeks with work".to_owned();
        let mut lines = vec![self.line("Plant", words, (f64::from(weeks), "weeks", 0), rates.plant_week.value, "price.plant".to_owned())];
        for (gang, gang_run) in self.inputs.gangs.iter().zip(&run.gangs) {
            let name = gang.name.to_lowercase().replace(' ', "-");
            let visits = (f64::from(gang_run.visits), "visits", 0);
            let words = format!("Visits of {}: setting up and clearing away", gang.name);
            lines.push(self.line("Visits", words, visits, rates.visit.value, format!("price.visits.{name}")));
            let travel = decimal(gang.travel_h.value, 2) * self.gang_hour(gang);
            let (journeys, each) = if gang.home_each_night.value {
                ((f64::from(days_on_site(run, &gang.name)), "days", 0), "each day on site, home each night")
            } else {
                (visits, "each visit, away from home while it works")
            };
            let words = format!("Travel of {}, paid: {:.1} hours there and back {each}", gang.name, gang.travel_h.value);
            lines.push(self.line("Travel", words, journeys, travel, format!("price.travel.{name}")));
        }
        lines.extend(terms::stays(self, run));
        if run.damping_visits > 0 {
            let words = "Damping hessian and walls, tending covers, and looking at coats and pressing them back in their first 48 hours, on days without a gang, by a hand living near".to_owned();
            let quantity = (f64::from(run.damping_visits), "visits", 0);
            lines.push(self.line("Attendance", words, quantity, rates.damping_visit.value, "price.attendance".to_owned()));
        }
        lines.extend(covers::lines(self, run));
        lines
    }

    fn scaffold(&self, run: &YearRun) -> Vec<PriceLine> {
        let scaffold = &self.inputs.scaffold;
        let area: f64 = run.walls.iter().filter_map(|wall| measured(self.survey, &wall.slug).ok()).map(|wall| wall.gross_m2).sum();
        let is_adapted = |wall: &&crate::WallRun| wall.scaffold.iter().any(|step| step.kind == ScaffoldKind::Adapt);
        let adapted = run.walls.iter().filter(is_adapted).filter_map(|wall| measured(self.survey, &wall.slug).ok());
        let adapted_m2: f64 = adapted.map(|wall| wall.gross_m2).sum();
        let line = |words: &str, quantity, rate, path: &str| {
            self.line("Scaffold", words.to_owned(), quantity, rate, format!("price.scaffold.{path}"))
        };
        let mut lines = vec![line("Scaffold put up and taken down", (area, "m²", 0), scaffold.up_and_down_m2.value, "up-and-down")];
        if adapted_m2 > 0.0 {
            let words = "Scaffold adapted before the finish, boards and ties moved clear";
            lines.push(line(words, (adapted_m2, "m²", 0), scaffold.adapt_m2.value, "adapt"));
        }
        lines.push(line(
            "Scaffold hire, face × started weeks",
            (run.scaffold_m2_weeks, "m²-weeks", 0),
            scaffold.hire_m2_week.value,
            "hire",
        ));
        lines
    }

    /// The price before tax that about eight years in ten do not pass, at least the stated one: the middle year is the middle by its finish and may be a
    /// dear one. Unfinished years count as dearer than any finished one.
    fn eight_in_ten(&self, programme: &Programme, by_year: &[Money], stated: &Money) -> Option<Money> {
        let mut finished: Vec<f64> =
            programme.runs.iter().zip(by_year).filter(|(run, _)| run.finished.is_some()).map(|(_, money)| money.to_f64()).collect();
        finished.sort_by(f64::total_cmp);
        let rank = odds::rank(0.8, by_year.len()).filter(|rank| rank.ceil() as usize <= finished.len())?;
        let at_rank = odds::at_rank(&finished, rank).map(|amount| Money::from_f64(amount, self.inputs.rates.currency.clone()))?;
        Some(if at_rank.amount < stated.amount { stated.clone() } else { at_rank })
    }

    /// Shares of the price before tax, half by days of work and half by area; rounding falls on the last wall.
    fn walls(&self, run: &YearRun, before_tax: &Money) -> Vec<WallPrice> {
        let gang_days: f64 = run.walls.iter().flat_map(|wall| &wall.tasks).map(|task| task.gang_days).sum();
        let weights: Vec<Decimal> = run.walls.iter().map(|wall| decimal(self.weight(wall, gang_days), 6)).collect();
        let whole: Decimal = weights.iter().sum::<Decimal>().max(Decimal::new(1, 6));
        let mut left = before_tax.amount;
        let last = run.walls.len().saturating_sub(1);
        let mut shares = Vec::new();
        for (number, (wall, weight)) in run.walls.iter().zip(&weights).enumerate() {
            let amount = if number == last { self.money(left) } else { self.money(before_tax.amount * *weight / whole) };
            left -= amount.amount;
            let words = self.wall_words(wall, &amount);
            shares.push(WallPrice { slug: wall.slug.clone(), words, amount });
        }
        shares
    }

    /// Half the wall's share of the days of work, half its share of the area.
    fn weight(&self, wall: &crate::WallRun, all_days: f64) -> f64 {
        let days: f64 = wall.tasks.iter().map(|task| task.gang_days).sum();
        let area = measured(self.survey, &wall.slug).map_or(0.0, |size| size.net_m2 + size.reveal_m2);
        let all_area = self.survey.walls.iter().map(|size| size.net_m2 + size.reveal_m2).sum::<f64>().max(1e-9);
        0.5 * days / all_days.max(1e-9) + 0.5 * area / all_area
    }

    fn wall_words(&self, wall: &crate::WallRun, amount: &Money) -> String {
        let name = self.survey.building.walls.iter().find(|found| found.slug == wall.slug).map_or(wall.slug.as_str(), |found| &found.name);
        let area = measured(self.survey, &wall.slug).map_or(0.0, |size| size.net_m2 + size.reveal_m2);
        let days: f64 = wall.tasks.iter().map(|task| task.gang_days).sum();
        // The passes of a straightening coat are one coat.
        let coats = wall.tasks.iter().filter(|task| task.is_coat());
        let coats = coats.map(|task| self.kind_of(&wall.slug, &task.slug)).collect::<BTreeSet<_>>().len();
        format!("{name}: {area:.0} m² in {} and limewash, {} of a gang: {}", count(coats as u32, "coat"), half_days(days), amount.to_tens())
    }

    fn exclusions(&self) -> Vec<String> {
        let mut list = vec![
            "Mending the causes of damp: gutters, downpipes, wallhead, skews, ground and iron".to_owned(),
            "Replacing stone, and pinning beyond the preparation described and its provisional sum".to_owned(),
            "Dealing with lead, asbestos or salts found in an old covering".to_owned(),
            "Consents, permits for the pavement, and surveys of bats and birds".to_owned(),
            "Coats to be redone after frost or driving rain beyond what is simulated".to_owned(),
            "Limewash renewed later, and yearly inspection".to_owned(),
        ];
        if let Some(who) = self.inputs.running.weekend_damping.unpaid() {
            list.push(format!("Damping at weekends and holidays: {who} does it, unpaid, by the instruction handed over"));
        }
        if self.survey.building.stage == survey::Stage::BeforeStripping {
            list.push("What stripping brings to light: quantities are ranges until the wall is open".to_owned());
        }
        list.extend(
            self.unpriced().map(|material| format!("{} ({} × {}): no price was given", material.name, material.units, material.unit_name)),
        );
        list
    }

    fn unpriced(&self) -> impl Iterator<Item = &crate::Material> {
        self.quantities.materials.iter().filter(|material| self.rate_of(material).is_none())
    }

    /// A finding for each material without a price.
    pub(crate) fn findings(&self) -> Vec<Finding> {
        self.unpriced()
            .map(|material| Finding {
                grade: Grade::Think,
                rule: "price-given".to_owned(),
                place: format!("rates.materials.{}", material.slug),
                says: format!("{} has no price, so {} × {} are left out of the total.", material.name, material.units, material.unit_name),
                reason: "A total that leaves something out is too low.".to_owned(),
                source: "the job file".to_owned(),
                remedy: format!("Give a price for one {} of {}.", material.unit_name, material.slug),
            })
            .collect()
    }
}

/// "3½ days".
pub(crate) fn half_days(days: f64) -> String {
    let halves = (days * 2.0).round() as i64;
    match (halves / 2, halves % 2) {
        (0, 1) => "½ day".to_owned(),
        (1, 0) => "1 day".to_owned(),
        (whole, 0) => format!("{whole} days"),
        (whole, _) => format!("{whole}½ days"),
    }
}

/// Of a task's days, rounded up to half-days as they are, those of ruling.
fn ruling_days(task: &Task) -> f64 {
    let of =
        |ruling: bool| task.parts.iter().filter(|part| !ruling || part.kind == PartKind::Ruling).map(|part| part.gang_days).sum::<f64>();
    let all = of(false);
    if all > 0.0 { task.gang_days * of(true) / all } else { 0.0 }
}

fn hands(gang: &Gang) -> String {
    let labourers = if gang.labourers > 0 { format!(" and {}", count(gang.labourers, "labourer")) } else { String::new() };
    format!("{}: {}{labourers}", gang.name, count(gang.masons, "mason"))
}

/// Days on which a gang is on the job.
fn days_on_site(run: &YearRun, gang: &str) -> u32 {
    let tasks = run.walls.iter().flat_map(|wall| &wall.tasks).filter(|task| task.gang == gang);
    tasks.flat_map(worked_days).collect::<BTreeSet<_>>().len() as u32
}

/// Days from the first to the last of a task on which it is not waited for.
fn worked_days(task: &Task) -> impl Iterator<Item = Date> + '_ {
    let days = (0..=days_between(task.from, task.to)).map(|day| add_days(task.from, day));
    days.filter(|date| !task.waited.iter().any(|wait| wait.from <= *date && *date <= wait.to))
}

/// Weeks (Monday to Sunday) with work of a gang in them.
fn working_weeks(run: &YearRun) -> u32 {
    let mut weeks = BTreeSet::new();
    for date in run.walls.iter().flat_map(|wall| &wall.tasks).flat_map(worked_days) {
        let week = date.iso_week_date();
        weeks.insert((week.year(), week.week()));
    }
    weeks.len() as u32
}
