//! plan/1: the wire form of a plan. Its types are written out here so that the plan's own types may change without changing what others
//! have saved; `docs/plan-1.md` describes it. Nothing volatile stands in it.

mod curing;
mod money;
mod programme;
mod protection;
mod reasons;
mod season;
mod specification;
mod survey;

pub use season::{SEASON_FORMAT, season_json};
use serde::Serialize;
use works::Plan;

/// Name and version of the form.
pub const FORMAT: &str = "plan/1";

/// The plan as plan/1 JSON, indented, ending in a line break. The same plan gives the same text; keys stand in a fixed order; a number that is
/// not finite is written `null`.
pub fn plan_json(plan: &Plan) -> String {
    let mut text = serde_json::to_string_pretty(&Whole::of(plan)).unwrap_or_else(|_| "{}".to_owned());
    text.push('\n');
    text
}

#[derive(Serialize)]
struct Whole<'p> {
    format: &'static str,
    job: Job<'p>,
    window: Window,
    basis: Basis<'p>,
    headline: String,
    answers: Vec<Answer<'p>>,
    survey: survey::Survey<'p>,
    specification: specification::Specification<'p>,
    quantities: specification::Quantities<'p>,
    protection: Option<protection::Protection<'p>>,
    programme: programme::Programme<'p>,
    order: money::Order<'p>,
    price: money::Price<'p>,
    swings: Vec<reasons::Swing<'p>>,
    findings: Vec<reasons::Finding<'p>>,
    cautions: Vec<reasons::Caution<'p>>,
    reckonings: Vec<reasons::Reckoning<'p>>,
}

impl<'p> Whole<'p> {
    fn of(plan: &'p Plan) -> Self {
        Self {
            format: FORMAT,
            job: Job::of(plan),
            window: Window { start: plan.window.start.to_string(), finish_by: plan.window.finish_by.map(|date| date.to_string()) },
            basis: Basis::of(plan),
            headline: crate::words::headline(plan),
            answers: plan.answers.iter().map(|answer| Answer { question: &answer.question, answer: &answer.answer }).collect(),
            survey: survey::Survey::of(plan),
            specification: specification::Specification::of(plan),
            quantities: specification::Quantities::of(plan),
            protection: plan.protection.as_ref().map(protection::Protection::of),
            programme: programme::Programme::of(plan),
            order: money::Order::of(plan),
            price: money::Price::of(plan),
            swings: plan.swings.iter().map(reasons::Swing::of).collect(),
            findings: plan.findings.iter().map(reasons::Finding::of).collect(),
            cautions: plan.cautions.iter().map(reasons::Caution::of).collect(),
            reckonings: plan.reckonings.iter().map(|reckoning| reasons::Reckoning::of(reckoning, &plan.reckonings)).collect(),
        }
    }
}

#[derive(Serialize)]
struct Job<'p> {
    name: &'p str,
    place: &'p str,
    client: &'p str,
    contractor: &'p str,
    surveyor: &'p str,
    revision: u32,
    dated: String,
    invented: bool,
    time_zone: &'p str,
}

impl<'p> Job<'p> {
    fn of(plan: &'p Plan) -> Self {
        let about = &plan.about;
        Self {
            name: &about.name,
            place: &about.place,
            client: &about.client,
            contractor: &about.contractor,
            surveyor: &about.surveyor,
            revision: about.revision,
            dated: about.dated.to_string(),
            invented: about.invented,
            time_zone: &about.time_zone,
        }
    }
}

#[derive(Serialize)]
struct Window {
    start: String,
    finish_by: Option<String>,
}

#[derive(Serialize)]
struct Basis<'p> {
    version: &'p str,
    arithmetic: &'p str,
    /// As text: a seed may be larger than the whole numbers that every reader of JSON keeps exactly.
    seed: String,
    weather: &'p str,
    weather_hash: Option<&'p str>,
    years: u32,
    cell_steps: u64,
}

impl<'p> Basis<'p> {
    fn of(plan: &'p Plan) -> Self {
        let basis = &plan.basis;
        Self {
            version: &basis.version,
            arithmetic: &basis.arithmetic,
            seed: basis.seed.to_string(),
            weather: &basis.weather,
            weather_hash: basis.weather_hash.as_deref(),
            years: basis.years,
            cell_steps: basis.cell_steps,
        }
    }
}

#[derive(Serialize)]
struct Answer<'p> {
    question: &'p str,
    answer: &'p str,
}
