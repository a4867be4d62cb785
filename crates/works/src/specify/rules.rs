//! The rules of good practice against which a specification is checked. Every rule reports on every job: that it agrees, or each place where the job
//! departs from it, with reason, source and remedy.

use reckoning::{Finding, Grade};
use survey::{Survey, WallFound, WallMeasured};

use crate::specify::{CoatSpecification, Panel, WallSpecification};
use crate::{CoatKind, Inputs};

mod binder;
mod conditions;
mod details;
mod mixes;
mod preparing;
mod seasons;
mod thickness;

/// The usual source of a trade rule.
const PRACTICE: &str = "common practice, no source";

/// What a rule looks at.
pub(crate) struct Case<'a> {
    pub survey: &'a Survey,
    pub inputs: &'a Inputs,
    pub walls: &'a [WallSpecification],
    pub panel: &'a Panel,
}

/// One wall under a rule.
pub(crate) struct WallCase<'a> {
    pub found: &'a WallFound,
    pub measured: &'a WallMeasured,
    pub coats: &'a [CoatSpecification],
    pub specified: &'a WallSpecification,
}

impl<'a> Case<'a> {
    /// The walls with what was found, measured and specified.
    pub(crate) fn walls(&self) -> impl Iterator<Item = WallCase<'a>> + '_ {
        let building = &self.survey.building;
        building.walls.iter().zip(&self.survey.walls).zip(self.walls).map(|((found, measured), specified)| WallCase {
            found,
            measured,
            coats: &specified.coats,
            specified,
        })
    }

    /// True for a coat of air lime; an unknown lime counts as one.
    pub(crate) fn is_air_lime(&self, coat: &CoatSpecification) -> bool {
        self.inputs.catalogue.limes.get(&coat.mix.lime).is_none_or(|lime| lime.class_mpa.is_none())
    }
}

impl WallCase<'_> {
    pub(crate) fn place(&self) -> String {
        format!("walls.{}", self.found.slug)
    }

    pub(crate) fn coat_place(&self, coat: &CoatSpecification) -> String {
        format!("walls.{}.coats.{}", self.found.slug, coat.slug)
    }

    pub(crate) fn has(&self, kind: CoatKind) -> bool {
        self.coats.iter().any(|coat| coat.kind == kind)
    }
}

/// A departure from a rule.
pub(crate) struct Departure {
    pub grade: Grade,
    pub place: String,
    pub says: String,
    pub remedy: String,
}

impl Departure {
    pub(crate) fn new(grade: Grade, place: impl Into<String>, says: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { grade, place: place.into(), says: says.into(), remedy: remedy.into() }
    }
}

/// A rule.
pub(crate) struct Rule {
    /// Stable name, kebab-case.
    pub name: &'static str,
    /// What holds when nothing departs.
    pub agrees: &'static str,
    /// Why it matters.
    pub reason: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// Finds the departures.
    pub check: fn(&Case) -> Vec<Departure>,
}

/// All rules, in the order of work.
fn all() -> impl Iterator<Item = &'static Rule> {
    [preparing::RULES, conditions::RULES, binder::RULES, mixes::RULES, thickness::RULES, seasons::RULES, details::RULES]
        .into_iter()
        .flatten()
}

/// Every rule's report on a job.
pub(crate) fn check(survey: &Survey, inputs: &Inputs, walls: &[WallSpecification], panel: &Panel) -> Vec<Finding> {
    let case = Case { survey, inputs, walls, panel };
    all().flat_map(|rule| report(rule, &case)).collect()
}

fn report(rule: &Rule, case: &Case) -> Vec<Finding> {
    let departures = gathered((rule.check)(case), case.walls.len());
    let finding = |grade, place: String, says: String, remedy: String| Finding {
        grade,
        rule: rule.name.to_owned(),
        place,
        says,
        reason: rule.reason.to_owned(),
        source: rule.source.to_owned(),
        remedy,
    };
    if departures.is_empty() {
        return vec![finding(Grade::Agrees, "job".to_owned(), rule.agrees.to_owned(), String::new())];
    }
    departures.into_iter().map(|d| finding(d.grade, d.place, d.says, d.remedy)).collect()
}

/// The same thing said of several walls is said once, of the job, with the walls named.
fn gathered(departures: Vec<Departure>, walls: usize) -> Vec<Departure> {
    let mut kept: Vec<(Departure, Vec<String>)> = Vec::new();
    for departure in departures {
        let place = departure.place.clone();
        match kept.iter_mut().find(|(one, _)| one.says == departure.says && one.grade == departure.grade && one.remedy == departure.remedy)
        {
            Some((_, places)) => places.push(place),
            None => kept.push((departure, vec![place])),
        }
    }
    kept.into_iter()
        .map(|(mut departure, places)| {
            if places.len() > 1 {
                let names: Vec<String> = places.iter().map(|place| place.replace("walls.", "").replace(".coats.", " ")).collect();
                let whole_walls = places.iter().all(|place| place.starts_with("walls.") && !place.contains(".coats."));
                let on = if whole_walls && names.len() == walls { "every wall".to_owned() } else { names.join(", ") };
                departure.says = format!("{} (on {on}).", departure.says.trim_end_matches('.'));
                departure.place = "job".to_owned();
            }
            departure
        })
        .collect()
}
