//! From checked values to the plain inputs of the road: each part of the job is built once, and what its values say together is checked here.

mod building;
mod catalogue;
mod dampness;
mod joint;
mod opening;
mod outline;
mod rates;
mod relief;
mod running;
mod season;
mod system;
mod wall;

pub(crate) use outline::size_m;

use std::collections::BTreeMap;

use reckoning::{Finding, Grade};
use works::protect::Foresight;
use works::{About, Asked, Inputs};

use crate::fields;
use crate::problem::Fault;
use crate::reader::Reader;
use crate::relief::ReliefAsked;
use crate::{MONTHS, WeatherAsked};

/// What is built from one file.
pub(crate) struct Built {
    pub inputs: Inputs,
    pub weather: Option<WeatherAsked>,
    pub reliefs: Vec<ReliefAsked>,
    pub findings: Vec<Finding>,
}

/// Builds everything; problems are told to the reader and stand-ins keep the rest going, so that all are told at once.
pub(crate) fn build(reader: &mut Reader<'_>) -> Option<Built> {
    let mut findings = Vec::new();
    let catalogue = catalogue::build(reader);
    let gangs = season::gangs(reader, &mut findings);
    let calendar = season::calendar(reader)?;
    let mut reliefs = Vec::new();
    let building = building::build(reader, &catalogue, &mut findings, &mut reliefs);
    let window = season::window(reader, &calendar, &building.surveyed_on, &mut findings);
    let system = system::build(reader, &catalogue);
    let rates = rates::build(reader, &catalogue, &calendar, &gangs, &system);
    let weather = weather(reader, &mut findings);
    let about = about(reader, &building.surveyed_on);
    // These four come after the rest, so that a date that is missing does not hide what else is wrong.
    let (window, rates, about) = (window?, rates?, about?);
    let scaffold = rates::scaffold(reader, &window);
    let allowances = rates::allowances(reader);
    let before = season::before(reader);
    let running = running::build(reader);
    let seed = seed(reader);
    let foresight = foresight(reader);
    reader.word("format");
    let inputs = Inputs {
        about,
        building,
        catalogue,
        system,
        window,
        before,
        calendar,
        gangs,
        running,
        rates,
        scaffold,
        allowances,
        questions: questions(),
        seed,
        foresight,
    };
    Some(Built { inputs, weather, reliefs, findings })
}

/// Labels and questions of the fields that may stand assumed, for what says which of them is worth settling.
fn questions() -> BTreeMap<String, Asked> {
    let asked = fields::all().filter(|field| !field.question.is_empty());
    asked.map(|field| (field.path.to_owned(), Asked { label: field.label.to_owned(), question: field.question.to_owned() })).collect()
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the table of fields bounds it to whole numbers a float holds exactly"
)]
fn seed(reader: &mut Reader<'_>) -> u64 {
    reader.number("job.seed").map_or(1, |seed| seed as u64)
}

/// What the foreman knows of the weather to come.
fn foresight(reader: &mut Reader<'_>) -> Foresight {
    match reader.word("weather.foresight").as_deref() {
        Some("none") => Foresight::None,
        Some("perfect") => Foresight::Perfect,
        _ => Foresight::Imperfect,
    }
}

fn about(reader: &mut Reader<'_>, surveyed_on: &str) -> Option<About> {
    let mut word = |key: &str| reader.word(&format!("job.{key}")).unwrap_or_default();
    let (name, place, client) = (word("name"), word("place"), word("client"));
    let (contractor, surveyor, time_zone) = (word("contractor"), word("surveyor"), word("time_zone"));
    if !time_zone.is_empty() && jiff::tz::TimeZone::get(&time_zone).is_err() {
        reader.problem(
            Fault::NotFound,
            "job.time_zone",
            format!("{time_zone:?} is no time zone."),
            "Allowed is a name of the IANA list.",
            "Write for example \"Europe/London\" or \"Europe/Dublin\".",
        );
    }
    let revision = reader.count("job.revision").unwrap_or(1);
    let invented = reader.flag("job.invented").unwrap_or(false);
    let dated = reader.date("job.dated").or_else(|| surveyed_on.parse().ok())?;
    Some(About { name, place, client, contractor, surveyor, revision, dated, invented, time_zone })
}

/// Refuses a file that is not named from the folder of the job.
fn must_lie_beside(reader: &mut Reader<'_>, path: &str, file: &str) {
    if file.starts_with(['/', '\\']) || file.contains(':') {
        reader.problem(
            Fault::WrongKind,
            path,
            format!("{file:?} is not named from the folder of this job file."),
            "Allowed is a file name, with folders below or beside this one.",
            "Put the file beside the job file and write its name alone, so that the job can be carried to another machine.",
        );
    }
}

fn weather(reader: &mut Reader<'_>, findings: &mut Vec<Finding>) -> Option<WeatherAsked> {
    if !reader.has_table("weather") {
        findings.push(Finding {
            grade: Grade::Note,
            rule: "weather-given".to_owned(),
            place: "weather".to_owned(),
            says: "No weather file is named, so the days between coats go by rule of thumb and no odds are given.".to_owned(),
            reason: "Only hour by hour weather of the place can say when a coat is ready and how sure a date is.".to_owned(),
            source: "design rule".to_owned(),
            remedy: "Name an hourly weather file of the place under [weather].".to_owned(),
        });
        return None;
    }
    let file = reader.word("weather.file").unwrap_or_default();
    must_lie_beside(reader, "weather.file", &file);
    let kind = reader.word("weather.kind").map(|word| match word.as_str() {
        "typical" => weather::Kind::Typical,
        "made" => weather::Kind::Made,
        "invented" => weather::Kind::Invented,
        _ => weather::Kind::Measured,
    });
    let monthly_rain_mm = reader.numbers("weather.monthly_rain_mm").and_then(|totals| <[f64; MONTHS]>::try_from(totals).ok());
    Some(WeatherAsked { file, kind, monthly_rain_mm })
}
