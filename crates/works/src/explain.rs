//! The reckonings behind the programme: why the finish is where it is, what each coat waited for, and what the totals are added up from.

use reckoning::{Reckoning, Reckonings, Unit, Value};
use survey::Survey;

use crate::book::LEAST_AGE;
use crate::calendar::days_between;
use crate::forward::wait_days;
use crate::sheet::JobSheet;
use crate::{GangRun, GapsBy, Odds, Outputs, ReadyRule, RuleMet, Task, WaitReason, WallRun, YearRun};

mod work;

use work::output;

const ENGINE: &str = "the curing engine, hour by hour, in the middle weather year; the test on the wall decides";
const THUMB: &str = "a week between coats, two in a cold month: common practice, no source";
const WEEK: &str = "a week between coats, in days at or above 5 °C: common practice, no source";
const CALENDAR: &str = "the job's calendar, gangs, scaffold and panel";
const VISIT: &str = "what a visit costs against what the days held cost, by the job's rates";
const SUN: &str = "sunset at the site (Reda and Andreas 2004), and the hours before dusk of the job";
const WEATHER: &str =
    "limits of weather for the work (suppliers' published tables, common practice) in the hours of the middle weather year";
const COVERING: &str = "the days of protection in the specification: common practice, no source";
const PLOTTING: &str = "plotting position k/(n + 1), Weibull 1939, as in handbooks of hydrology";
const MIDDLE: &str = "the middle run";

/// The middle run and what it rests on.
pub(crate) struct Told<'a> {
    pub(crate) sheet: &'a JobSheet,
    pub(crate) survey: &'a Survey,
    pub(crate) outputs: &'a Outputs,
    pub(crate) run: &'a YearRun,
    pub(crate) waits: &'a [(WaitReason, u32)],
    pub(crate) gaps_by: GapsBy,
}

impl Told<'_> {
    /// Everything about the programme that can be asked.
    pub(crate) fn reckonings(&self, odds: Option<&Odds>) -> Reckonings {
        let mut kept = Reckonings::default();
        kept.keep(self.finish());
        odds.into_iter().for_each(|odds| kept.keep(eight_in_ten(odds)));
        self.totals().into_iter().for_each(|total| kept.keep(total));
        for (wall, sheet) in self.run.walls.iter().zip(&self.sheet.walls) {
            for pair in wall.tasks.windows(2) {
                self.between(wall, &pair[0], &pair[1]).into_iter().for_each(|reckoning| kept.keep(reckoning));
            }
            self.work(wall, sheet).into_iter().for_each(|reckoning| kept.keep(reckoning));
            if let Some(last) = wall.tasks.last() {
                let label = format!("Last day on the {}", crate::reasons::inside(&sheet.name));
                let value = Value::Date(last.to.to_string());
                let formula = "last day of its last task in the middle run";
                kept.keep(Reckoning::worked(format!("walls.{}.finish", wall.slug), label, value, formula, Vec::new(), MIDDLE));
            }
        }
        kept
    }

    fn source(&self) -> &'static str {
        match self.gaps_by {
            GapsBy::Engine => ENGINE,
            GapsBy::RuleOfThumb => THUMB,
        }
    }

    /// What a waiting day rests on: the engine only where a coat is not done, never for the calendar or the trade's week.
    fn source_of(&self, reason: WaitReason) -> &'static str {
        use WaitReason as R;
        match reason {
            R::LeastAge if self.gaps_by == GapsBy::Engine => WEEK,
            R::LeastAge | R::Carbonation | R::Firmness | R::TooWet => self.source(),
            R::Rain | R::Wind | R::Heat | R::Frost | R::Cold => WEATHER,
            R::Cover => COVERING,
            R::Visit => VISIT,
            R::Daylight => SUN,
            R::GangElsewhere
            | R::Scaffold
            | R::Consent
            | R::Permit
            | R::Wildlife
            | R::Approval
            | R::DryingOut
            | R::Lying
            | R::ShortStretch
            | R::Weekend
            | R::Break => CALENDAR,
        }
    }

    fn finish(&self) -> Reckoning {
        let start = Value::Date(self.sheet.start.to_string());
        let mut inputs = vec![Reckoning::given("window.start", "First day of the job", start, "the job file", false)];
        let waiting: u32 = self.waits.iter().map(|&(_, days)| days).sum();
        if let Some(finish) = self.run.finished {
            let worked = days_between(self.sheet.start, finish) + 1 - i64::from(waiting);
            let label = "Days worked on the wall that finishes last";
            let formula = "its areas and metres over the outputs, by half-days, and the days on which its scaffold comes down";
            let value = Value::number(worked as f64, Unit::Day, 0);
            inputs.push(Reckoning::worked("programme.worked", label, value, formula, self.output_leaves(), MIDDLE));
        }
        inputs.extend(self.waits.iter().map(|&(reason, days)| {
            let path = format!("programme.waits.{}", reason.letter());
            let value = Value::number(f64::from(days), Unit::Day, 0);
            Reckoning::given(path, format!("Waiting {}", reason.words()), value, self.source_of(reason), false)
        }));
        let value = match self.run.finished {
            Some(finish) => Value::Date(finish.to_string()),
            None => Value::Text(self.run.unfinished.clone().unwrap_or_default()),
        };
        let formula = "first day + days worked + days waited − 1, on the wall that finishes last";
        Reckoning::worked("finish", "Last day of the job in the middle run, the scaffold down", value, formula, inputs, MIDDLE)
    }

    /// The outputs with their standing.
    fn output_leaves(&self) -> Vec<Reckoning> {
        let outputs = self.outputs;
        vec![
            output("preparation", "Output in preparation", &outputs.preparation, Unit::SquareMetrePerDay),
            output("scud", "Output in the scud coat", &outputs.scud, Unit::SquareMetrePerDay),
            output("straightening", "Output in laying the straightening", &outputs.straightening, Unit::SquareMetrePerDay),
            output("ruling", "Output in ruling it", &outputs.ruling, Unit::SquareMetrePerDay),
            output("finish", "Output in the finish coat", &outputs.finish, Unit::SquareMetrePerDay),
            output("limewash", "Output in limewash", &outputs.limewash, Unit::SquareMetrePerDay),
            output("reveals", "Metres of reveal a gang-day", &outputs.reveals_m, Unit::Metre),
            output("hessian", "Output in hanging hessian", &outputs.hessian, Unit::SquareMetrePerDay),
            output("tie_patches", "Tie patches a gang-day", &outputs.tie_patches, Unit::One),
        ]
    }

    fn totals(&self) -> Vec<Reckoning> {
        let run = self.run;
        let total = |what: &str, label: &str, value: Value, formula: &str, inputs: Vec<Reckoning>| {
            Reckoning::worked(format!("programme.{what}"), label, value, formula, inputs, MIDDLE)
        };
        let visits = self.by_gang("visits", Unit::Visit, |gang| f64::from(gang.visits));
        let days = self.by_gang("gang-days", Unit::Day, |gang| gang.days).into_iter().chain(self.output_leaves()).collect();
        vec![
            total(
                "visits",
                "Visits to the job",
                Value::number(f64::from(run.visits), Unit::Visit, 0),
                "runs of a gang's working days without a break of more than a weekend, added up",
                visits,
            ),
            total(
                "gang-days",
                "Days worked by the gangs",
                Value::number(run.gang_days, Unit::Day, 1),
                "half-days worked by each gang, added up; each piece of work is its area over the output, rounded up to half-days",
                days,
            ),
            total(
                "damping-visits",
                "Damping visits by a hand",
                Value::number(f64::from(run.damping_visits), Unit::Visit, 0),
                "wettings by the specification's rule, and looks at coats in their first 48 hours, on days when no gang is on the job: one visit for all walls and both",
                Vec::new(),
            ),
            total(
                "scaffold",
                "Scaffold, square metres times weeks",
                Value::number(run.scaffold_m2_weeks, Unit::One, 0),
                "for each wall its face in m² × started weeks from the day its scaffold stands to the day it is down",
                self.scaffold(),
            ),
        ]
    }

    fn by_gang(&self, what: &str, unit: Unit, of: fn(&GangRun) -> f64) -> Vec<Reckoning> {
        let leaf = |gang: &GangRun| {
            let path = format!("programme.{what}.{}", gang.name.to_lowercase().replace(' ', "-"));
            Reckoning::given(path, gang.name.clone(), Value::number(of(gang), unit, 1), MIDDLE, false)
        };
        self.run.gangs.iter().map(leaf).collect()
    }

    fn scaffold(&self) -> Vec<Reckoning> {
        let leaf = |(wall, sheet): (&WallRun, &crate::sheet::WallSheet)| {
            let day = |date: Option<jiff::civil::Date>| date.map_or("the end".to_owned(), |date| date.to_string());
            let words = format!("{:.1} m² from {} to {}", sheet.scaffold_m2, day(wall.scaffold_from), day(wall.scaffold_to));
            Reckoning::given(format!("walls.{}.scaffold", wall.slug), sheet.name.clone(), Value::Text(words), MIDDLE, false)
        };
        self.run.walls.iter().zip(&self.sheet.walls).map(leaf).collect()
    }

    /// When a piece of work was ready for the next, and how long the next waited.
    fn between(&self, wall: &WallRun, task: &Task, next: &Task) -> Vec<Reckoning> {
        let base = match task.slug.as_str() {
            "preparation" | "limewash" => format!("walls.{}.{}", wall.slug, task.slug),
            coat => format!("walls.{}.coats.{coat}", wall.slug),
        };
        let mut kept = Vec::new();
        if let Some(ready) = task.ready {
            let placed = Value::Date(task.to.to_string());
            let mut inputs = vec![Reckoning::given(format!("{base}.placed"), format!("{} finished", task.name), placed, MIDDLE, false)];
            inputs.extend(task.rules.iter().map(|met| rule(&base, met)));
            inputs.extend(self.dampness(&wall.slug));
            let formula = match task.decides.as_str() {
                "" => "done".to_owned(),
                decides => format!("first time at work on which every rule holds; what decided: {decides}"),
            };
            let label = format!("{} ready for the next", task.name);
            // A coat that its least age alone set owes its day to the trade, whatever the engine says of the other rules.
            let source = match (task.decides.as_str(), self.gaps_by) {
                ("", _) => MIDDLE,
                (LEAST_AGE, GapsBy::Engine) => WEEK,
                _ => self.source(),
            };
            kept.push(Reckoning::worked(format!("{base}.ready"), label, Value::Date(ready.to_string()), formula, inputs, source));
        }
        let waits = next.waited.iter().enumerate().map(|(number, wait)| {
            let label = format!("{} to {}, {}", wait.from, wait.to, wait.reason.words());
            let value = Value::number(f64::from(wait_days(wait)), Unit::Day, 0);
            Reckoning::given(format!("{base}.wait.{}", number + 1), label, value, self.source_of(wait.reason), false)
        });
        let waits: Vec<Reckoning> = waits.collect();
        let days: u32 = next.waited.iter().map(wait_days).sum();
        let label = format!("Days waited between {} and {}", task.name.to_lowercase(), next.name.to_lowercase());
        let value = Value::number(f64::from(days), Unit::Day, 0);
        kept.push(Reckoning::worked(format!("{base}.wait"), label, value, "the waits added up", waits, MIDDLE));
        kept
    }

    /// The wetness the wall was found with, where the engine used it.
    fn dampness(&self, slug: &str) -> Option<Reckoning> {
        let found = self.survey.building.walls.iter().find(|found| found.slug == slug && self.gaps_by == GapsBy::Engine)?;
        let known = &found.dampness.middle;
        let value = Value::number(known.value * 100.0, Unit::PerCent, 0);
        let path = format!("walls.{slug}.dampness.middle");
        Some(Reckoning::given(path, "Wetness of the masonry found", value, known.source.clone(), known.assumed))
    }
}

/// A rule of readiness with its value, its limit and the day it was met.
fn rule(base: &str, met: &RuleMet) -> Reckoning {
    let (slug, label, unit, times, decimals, asked, source) = match met.rule {
        ReadyRule::Age => ("age", "Age in days with a mean at or above 5 °C", Unit::Day, 1.0, 0, "at least", WEEK),
        ReadyRule::Firm => (
            "firm",
            "Water left, of the water of the mix",
            Unit::PerCent,
            100.0,
            0,
            "below",
            "limit: common practice, no source, kept loose; value: the curing engine",
        ),
        ReadyRule::Uptake => (
            "uptake",
            "Depth of air taken up",
            Unit::Millimetre,
            1000.0,
            2,
            "at least",
            "limit: fitted to one datum, the trade's week in mild weather, and never more than 0.6 of the coat; value: the curing engine",
        ),
        ReadyRule::FirmSet => (
            "firm-set",
            "Degree of hydraulic set, for firmness",
            Unit::PerCent,
            100.0,
            1,
            "at least",
            "limit: the degree at the final set of its paste, EN 459-1's longest for the class unless the lime says; value: the curing engine",
        ),
        ReadyRule::Set => (
            "set",
            "Degree of hydraulic set",
            Unit::PerCent,
            100.0,
            1,
            "at least",
            "limit: the degree after four days at 20 °C, from a supplier's interval of 4 to 7 days; value: the curing engine",
        ),
        ReadyRule::Face => (
            "face",
            "Relative humidity of the face",
            Unit::PerCent,
            100.0,
            1,
            "at most",
            "limit: guess, no source; value: the curing engine",
        ),
    };
    let path = format!("{base}.rules.{slug}");
    let limit = Value::number(met.limit * times, unit, decimals);
    let said = match met.rule {
        ReadyRule::Face => format!("must be {asked} its limit; looked at on {}", crate::calendar::day(met.met)),
        _ => format!("must be {asked} its limit; first met on {}", crate::calendar::day(met.met)),
    };
    let inputs = vec![Reckoning::given(format!("{path}.limit"), format!("{label}: limit"), limit, source, true)];
    Reckoning::worked(path, label, Value::number(met.value * times, unit, decimals), said, inputs, source)
}

fn eight_in_ten(odds: &Odds) -> Reckoning {
    let label = format!("Date by which {} of {} weather years are finished", odds.eight_in_ten_years, odds.years);
    let formula = format!(
        "finish dates in order; the working day whose odds lie nearest to 0.8, where the odds of a day are the years finished by it, and its share of the gap to the next finish, over ({} + 1)",
        odds.years
    );
    let leaf = |(number, finish): (usize, &jiff::civil::Date)| {
        let number = number + 1;
        let value = Value::Date(finish.to_string());
        Reckoning::given(format!("finish.years.{number}"), format!("Finish number {number}"), value, "the runs", false)
    };
    let inputs = odds.finishes.iter().enumerate().map(leaf).collect();
    Reckoning::worked("finish.eight-in-ten", label, Value::Date(odds.eight_in_ten.to_string()), formula, inputs, PLOTTING)
}
