//! The one road from a job to its plan: survey, specification, quantities, programme, order, price, and what explains them.

use jiff::civil::Date;
use rayon::prelude::*;
use reckoning::{Caution, Finding, Grade, Money, Reckoning, Reckonings, Unit, Value};
use survey::Survey;
use weather::Weather;

use crate::answers::answers;
use crate::calendar::{days_between, said};
use crate::climates::{WallClimate, climates, stand_for};
use crate::forward::run_by_thumb;
use crate::pricing::Pricing;
use crate::protect::{self, Foresight, Policy, Protection};
use crate::season::programme_under;
use crate::sheet::JobSheet;
use crate::swings::{Candidate, End, Ranked, Reach, Swung, candidates, heaviest};
use crate::thumb::Rule;
use crate::watch::Unreported;
use crate::years::Years;
use crate::{
    Asked, Basis, GapsBy, Inputs, Plan, Programme, ProtectionAsked, Quantities, Specification, Swing, Watch, WorksError, YearRun, order,
    price, quantities, specify,
};

/// Plans a job, with odds when many weather years are given and by rule of thumb when none is.
///
/// The same inputs give the same plan bit for bit, on any number of threads. The protection policies are not compared: see
/// [`plan_comparing_protection`].
///
/// # Errors
/// [`WorksError`] names what leaves no plan, all of it at once where that can be told.
pub fn plan(inputs: &Inputs, weather: Option<&Weather>, watch: &dyn Watch) -> Result<Plan, WorksError> {
    planned(inputs, weather, watch, false)
}

/// [`plan`], and beside it what each of the four protection policies would come to on each wall. Only on request: it takes ten times as long, and the
/// share of coats spoiled leans on limits of damage that are guesses.
///
/// # Errors
/// As [`plan`].
pub fn plan_comparing_protection(inputs: &Inputs, weather: Option<&Weather>, watch: &dyn Watch) -> Result<Plan, WorksError> {
    planned(inputs, weather, watch, true)
}

fn planned(inputs: &Inputs, weather: Option<&Weather>, watch: &dyn Watch, compares: bool) -> Result<Plan, WorksError> {
    let mut stages = Stages::of(inputs)?;
    watch.progress("quantities", 1, 1);
    let climates = match weather {
        Some(weather) => climates(&stages.sheet, &stages.survey, weather)?,
        None => Vec::new(),
    };
    let compared = |stages: &Stages, weather: &Weather| protect::protection(inputs, weather, stages, &climates, &Unreported(watch));
    let mut chosen_from = None;
    if let (ProtectionAsked::Chosen, Some(weather)) = (inputs.system.protection, weather) {
        let protection = compared(&stages, weather)?;
        let chosen: Vec<Vec<Policy>> = protection.walls.iter().map(|wall| wall.chosen.clone()).collect();
        stages = Stages::tended(inputs, Some(&chosen))?;
        chosen_from = Some((protection, chosen));
    }
    let Stages { survey, specification, quantities, sheet } = &stages;
    let programme = programme_under(sheet, survey, specification, inputs, weather, &climates, watch)?;
    let order = order(specification, quantities, inputs, &programme)?;
    let price = price(survey, specification, quantities, inputs, &programme)?;
    let chosen = chosen_from.as_ref().map(|(_, chosen)| chosen.as_slice());
    let base = Base { inputs, weather, stages: &stages, climates: &climates, programme: &programme, chosen };
    let advises = weather.filter(|_| compares && chosen.is_none());
    let (swings, protection) = rayon::join(|| base.swings(watch), || advises.map(|weather| compared(&stages, weather)).transpose());
    let (swings, protection) = (swings?, protection?);
    let protection = protection.or(chosen_from.map(|(protection, _)| protection));
    if watch.cancelled() {
        return Err(WorksError::Cancelled);
    }
    let findings = findings(&stages, inputs, weather, &programme, protection.as_ref())?;
    let cautions = cautions(inputs, &stages, &findings, &programme);
    let answers = answers(survey, specification, inputs, &programme, &price);
    let mut reckonings = Reckonings::default();
    for kept in [&survey.reckonings, &specification.reckonings, &quantities.reckonings, &programme.reckonings, &price.reckonings] {
        reckonings.take_over(kept.clone());
    }
    reckonings.take_over(crate::order::reckonings(&order));
    swings.iter().for_each(|swing| reckonings.keep(swing_reckoning(swing)));
    protection.iter().for_each(|protection| reckonings.take_over(protection.reckonings.clone()));
    let basis = basis(inputs, weather, &programme);
    let Stages { survey, specification, quantities, .. } = stages;
    Ok(Plan {
        about: inputs.about.clone(),
        window: inputs.window.clone(),
        survey,
        specification,
        quantities,
        protection,
        programme,
        order,
        price,
        answers,
        swings,
        findings,
        cautions,
        reckonings,
        basis,
        catalogue: inputs.catalogue.clone(),
    })
}

/// The stages before the programme.
pub(crate) struct Stages {
    pub(crate) survey: Survey,
    pub(crate) specification: Specification,
    pub(crate) quantities: Quantities,
    pub(crate) sheet: JobSheet,
}

impl Stages {
    pub(crate) fn of(inputs: &Inputs) -> Result<Self, WorksError> {
        Self::tended(inputs, None)
    }

    /// The same with the coats of each wall tended by policies, where there are any to tend them.
    pub(crate) fn tended(inputs: &Inputs, chosen: Option<&[Vec<Policy>]>) -> Result<Self, WorksError> {
        let survey = match survey::measure(inputs.building.clone()) {
            Ok(survey) => survey,
            Err(faults) => {
                WorksError::gather(faults.iter().map(|fault| WorksError::Survey { said: fault.to_string() }).collect())?;
                return Err(WorksError::NoWalls);
            }
        };
        let mut specification = specify(&survey, inputs);
        for (wall, policies) in specification.walls.iter_mut().zip(chosen.into_iter().flatten()) {
            for (coat, &policy) in wall.coats.iter_mut().zip(policies) {
                coat.protection = crate::specify::Protection::by(policy);
            }
        }
        let quantities = quantities(&survey, &specification, inputs);
        let sheet = JobSheet::new(&survey, &specification, &quantities, inputs)?;
        Ok(Self { survey, specification, quantities, sheet })
    }
}

/// The plan that swings are measured from.
struct Base<'a> {
    inputs: &'a Inputs,
    weather: Option<&'a Weather>,
    stages: &'a Stages,
    climates: &'a [WallClimate],
    programme: &'a Programme,
    /// The policies that were chosen for the coats of each wall, if any were.
    chosen: Option<&'a [Vec<Policy>]>,
}

impl Base<'_> {
    /// The three figures that are most worth settling.
    fn swings(&self, watch: &dyn Watch) -> Result<Vec<Swing>, WorksError> {
        let questions = candidates();
        // The reruns tell nobody how far they are: only the questions are counted.
        let quiet = Unreported(watch);
        let asked = std::sync::atomic::AtomicUsize::new(0);
        let swings: Vec<Option<Ranked>> = questions
            .par_iter()
            .map(|question| {
                let swing = self.swing(question, &quiet);
                let done = asked.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1;
                watch.progress("what is worth measuring", done, questions.len());
                swing
            })
            .collect();
        if watch.cancelled() {
            return Err(WorksError::Cancelled);
        }
        Ok(heaviest(swings.into_iter().flatten().collect()))
    }

    /// One question at both ends; `None` when it is settled, or when an end cannot be planned at all.
    fn swing(&self, question: &Candidate, watch: &dyn Watch) -> Option<Ranked> {
        let ends: Vec<(String, Outcome)> = [End::Low, End::High]
            .into_par_iter()
            .map(|end| {
                let mut inputs = self.inputs.clone();
                let assumed = (question.set)(&mut inputs, end)?;
                let outcome = self.again(&inputs, question.reach, watch).ok()?;
                Some((assumed, outcome))
            })
            .collect::<Option<_>>()?;
        let [(assumed, low), (_, high)] = ends.as_slice() else { return None };
        let Swung { days, money } = low.against(high);
        let season = if low.finished && high.finished { "" } else { "; at one end the job is not finished this season" };
        let Asked { label, question: asked } = question.asked(self.inputs);
        let path = question.path().to_owned();
        let swing = Swing { path, label, assumed: format!("{assumed}{season}"), days, money, question: asked };
        let is_output = question.is_output();
        Some(Ranked {
            swing,
            real: if is_output { low.real_share(high) } else { 1.0 },
            work_days: (low.unrounded_days - high.unrounded_days).abs(),
            is_output,
        })
    }

    /// The job planned again in the middle year.
    fn again(&self, inputs: &Inputs, reach: Reach, watch: &dyn Watch) -> Result<Outcome, WorksError> {
        let base = &self.programme.runs[self.programme.middle];
        if reach == Reach::Money {
            let Stages { survey, specification, quantities, .. } = self.stages;
            return Outcome::of(base, 0.0, &Pricing::new(survey, specification, quantities, inputs)?);
        }
        let stages = Stages::tended(inputs, self.chosen)?;
        let run = match self.weather {
            None => run_by_thumb(&stages.sheet, Rule::Thumb),
            Some(weather) => self.in_middle_year(&stages, inputs, weather, reach, watch)?,
        };
        Outcome::of(&run, stages.sheet.unrounded_days(), &Pricing::new(&stages.survey, &stages.specification, &stages.quantities, inputs)?)
    }

    fn in_middle_year(
        &self,
        stages: &Stages,
        inputs: &Inputs,
        weather: &Weather,
        reach: Reach,
        watch: &dyn Watch,
    ) -> Result<YearRun, WorksError> {
        let base = &self.programme.runs[self.programme.middle];
        let mut climates_now = self.climates.to_vec();
        if reach == Reach::Curing && !stand_for(&self.inputs.building.walls, &inputs.building.walls) {
            climates_now = climates(&stages.sheet, &stages.survey, weather)?;
        }
        let mut years = Years::new(&stages.sheet, &stages.survey, &stages.specification, inputs, weather, &climates_now)?;
        if reach == Reach::Work {
            base.walls.iter().enumerate().for_each(|(number, wall)| years.keep(number, wall, &base.losses));
        }
        let (mut runs, _) = years.run(&[self.programme.middle], watch)?;
        runs.pop().ok_or(WorksError::NoWeather)
    }
}

/// What a run comes to.
struct Outcome {
    /// Last day, or the day the run was given up.
    last_day: Option<Date>,
    finished: bool,
    before_tax: Money,
    /// Gang-days as worked, by half-days.
    gang_days: f64,
    /// Gang-days as the outputs give them, before rounding.
    unrounded_days: f64,
}

impl Outcome {
    fn of(run: &YearRun, unrounded_days: f64, pricing: &Pricing) -> Result<Self, WorksError> {
        let given_up = || run.walls.iter().flat_map(|wall| &wall.still_waiting).map(|wait| wait.to).max();
        Ok(Self {
            last_day: run.finished.or_else(given_up),
            finished: run.finished.is_some(),
            before_tax: pricing.before_tax(run),
            gang_days: run.gang_days,
            unrounded_days,
        })
    }

    /// Share of the change of gang-days that is work, the rest being each piece's rounding up to half-days.
    fn real_share(&self, other: &Outcome) -> f64 {
        let worked = (self.gang_days - other.gang_days).abs();
        let real = (self.unrounded_days - other.unrounded_days).abs();
        if worked > 0.0 { (real / worked).min(1.0) } else { 1.0 }
    }

    fn against(&self, other: &Outcome) -> Swung {
        let days = self.last_day.zip(other.last_day).map_or(0, |(one, other)| days_between(one, other).abs());
        let difference = (self.before_tax.amount - other.before_tax.amount).abs();
        Swung { days: days as f64, money: Money::new(difference, self.before_tax.currency.clone()) }
    }
}

fn swing_reckoning(swing: &Swing) -> Reckoning {
    let days = Reckoning::given(
        format!("swings.{}.days", swing.path),
        "Days between its low and its high end",
        Value::number(swing.days, Unit::Day, 0),
        "the middle year, run at both ends",
        false,
    );
    let money = Reckoning::given(
        format!("swings.{}.money", swing.path),
        "Money before tax between them",
        Value::Money(swing.money.clone()),
        "the middle year, run at both ends",
        false,
    );
    Reckoning::worked(
        format!("swings.{}", swing.path),
        swing.label.clone(),
        Value::Text(swing.assumed.clone()),
        "the job planned again with the figure at its low and at its high end",
        vec![days, money],
        "the middle year; other walls and other figures as they stand",
    )
}

/// Everything found on the road, gravest first; findings of one grade in the order of the road.
fn findings(
    stages: &Stages,
    inputs: &Inputs,
    weather: Option<&Weather>,
    programme: &Programme,
    protection: Option<&Protection>,
) -> Result<Vec<Finding>, WorksError> {
    let Stages { survey, specification, quantities, .. } = stages;
    let mut all = survey.findings.clone();
    all.extend(specification.findings.iter().cloned());
    if let Some(weather) = weather {
        all.extend(weather.findings.iter().cloned());
    }
    all.extend(programme_findings(inputs, programme));
    all.extend(programme.findings.iter().cloned());
    all.extend(protect::followed(inputs, programme, weather));
    let followed = inputs.system.protection == ProtectionAsked::Chosen;
    all.extend(protection.into_iter().flat_map(|protection| protect::findings(protection, followed)));
    all.extend(Pricing::new(survey, specification, quantities, inputs)?.findings());
    all.sort_by_key(|finding| finding.grade);
    Ok(all)
}

/// What the programme has to say: no odds, a deadline kept in few years, years that do not finish.
fn programme_findings(inputs: &Inputs, programme: &Programme) -> Vec<Finding> {
    let mut found = Vec::new();
    let years = programme.runs.len();
    let finding = |grade, rule: &str, says: String, reason: &str, remedy: &str| Finding {
        grade,
        rule: rule.to_owned(),
        place: "window".to_owned(),
        says,
        reason: reason.to_owned(),
        source: "the programme's own runs".to_owned(),
        remedy: remedy.to_owned(),
    };
    if let Some(finish_by) = inputs.window.finish_by {
        let kept = programme.runs.iter().filter(|run| run.finished.is_some_and(|finish| finish <= finish_by)).count();
        let share = kept as f64 / years.max(1) as f64;
        let grade = match share {
            _ if share >= 0.8 => Grade::Agrees,
            _ if share >= 0.5 => Grade::Think,
            _ => Grade::Stop,
        };
        let says = format!("The job is finished by {} in {kept} of {years} weather years.", said(finish_by));
        let remedy = if grade == Grade::Agrees { "" } else { "Start earlier, add a gang or scaffold, or agree a later finish." };
        found.push(finding(grade, "finish-by", says, "A date that the weather keeps in few years is a promise to break.", remedy));
    }
    let unfinished: Vec<&YearRun> = programme.runs.iter().filter(|run| run.finished.is_none()).collect();
    if let Some(why) = unfinished.first().and_then(|run| run.unfinished.as_ref()) {
        let says =
            format!("In {} of {years} years the job is not finished this season. In {}: {why}", unfinished.len(), unfinished[0].year);
        let grade = if unfinished.len() * 2 > years { Grade::Stop } else { Grade::Think };
        let reason = "A coat left over winter half cured is open to frost.";
        found.push(finding(
            grade,
            "finished-this-season",
            says,
            reason,
            "Start earlier in the year, let the wall dry first, or shelter and warm it.",
        ));
    }
    if programme.gaps_by == GapsBy::Engine {
        let (says, reason) = foresight_words(inputs.foresight);
        found.push(finding(
            Grade::Note,
            "foresight",
            says.to_owned(),
            reason,
            "Look at the forecast each morning, and keep a day in hand.",
        ));
    }
    if let Some(why) = &programme.no_odds {
        let reason = "A single date without a spread looks surer than it is.";
        found.push(finding(Grade::Note, "odds", why.clone(), reason, "Give ten or more measured weather years of the place."));
    }
    found
}

/// What the programme takes the foreman to know of the weather to come, and what that means for its dates.
fn foresight_words(foresight: Foresight) -> (&'static str, &'static str) {
    match foresight {
        Foresight::Imperfect => (
            "In every weather year the foreman throws and covers by a forecast that errs the more the further it looks; of temperature as published, of wind, vapour and rain by guess.",
            "A real forecast errs otherwise, so that real losses and finishes may differ from these.",
        ),
        Foresight::Perfect => (
            "In every weather year the foreman is taken to know the weather to come exactly, as the job asks.",
            "A real forecast errs, so real finishes lie somewhat later than these.",
        ),
        Foresight::None => (
            "In every weather year the foreman expects tomorrow to be as today was, as the job asks.",
            "A real foreman listens to the forecast, so real losses are fewer than these.",
        ),
    }
}

/// The cautions that apply: those always shown on some output, and those whose trigger begins a word of what the plan says.
fn cautions(inputs: &Inputs, stages: &Stages, findings: &[Finding], programme: &Programme) -> Vec<Caution> {
    let mut words = stages.specification.preparation.join(" ");
    for coat in stages.specification.walls.iter().flat_map(|wall| &wall.coats) {
        words.push_str(&format!(" {} {} {} {}", coat.test, coat.method, coat.mix.lime, coat.protection.cover.replace('-', " ")));
    }
    findings.iter().for_each(|finding| words.push_str(&format!(" {} {} {}", finding.says, finding.reason, finding.remedy)));
    programme.before.iter().for_each(|before| words.push_str(&format!(" {} {}", before.what, before.why)));
    let applies = |caution: &&Caution| !caution.shown.is_empty() || caution.is_called_for_by(&words);
    inputs.catalogue.cautions.iter().filter(applies).cloned().collect()
}

fn basis(inputs: &Inputs, weather: Option<&Weather>, programme: &Programme) -> Basis {
    let words = match weather {
        None => "no weather: the gaps are by rule of thumb".to_owned(),
        Some(weather) => {
            let kind = match weather.kind {
                weather::Kind::Measured => "measured",
                weather::Kind::Typical => "typical",
                weather::Kind::Made => "made",
                weather::Kind::Invented => "invented",
            };
            let plural = if weather.years.len() == 1 { "year" } else { "years" };
            format!("{} {kind} {plural} of {}", weather.years.len(), weather.site.name)
        }
    };
    Basis {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        arithmetic: "portable".to_owned(),
        seed: inputs.seed,
        weather_hash: weather.map(|weather| weather.hash.clone()),
        weather: words,
        years: weather.map_or(0, |weather| u32::try_from(weather.years.len()).unwrap_or(u32::MAX)),
        cell_steps: programme.cell_steps,
    }
}
