//! A new job file from a few plain questions: it plans at once, and everything not answered stands in it as a commented default, marked assumed.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use jiff::civil::Date;

use crate::fields::{self, Field, Kind, Measure, Preset, Reach};
use crate::values::{example, figure, is_planned_in, with_unit};

/// A question that `new` asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Name of the answer.
    pub key: &'static str,
    /// The plain question.
    pub question: &'static str,
    /// What to say to one who does not know, in a mason's words.
    pub help: &'static str,
    /// The default; empty where there must be an answer.
    pub default: String,
    /// Words to choose from; empty for a free answer.
    pub choices: Vec<String>,
}

/// Answers by the key of their question, as they were typed; one left out stands assumed.
pub type Answers = BTreeMap<String, String>;

/// A question of `new` that is not itself a field: how big the house is, and what is in its walls.
struct HouseQuestion {
    key: &'static str,
    question: &'static str,
    help: &'static str,
    usual: f64,
    low: f64,
    high: f64,
    measure: Measure,
}

impl HouseQuestion {
    /// The answer as a number.
    fn read(&self, text: &str) -> Result<f64, String> {
        let number = crate::written::amount(text, self.measure)?;
        if !(self.low..=self.high).contains(&number) || (self.measure == Measure::One && number.fract() != 0.0) {
            let whole = if self.measure == Measure::One { "a whole number" } else { "a number" };
            return Err(format!(
                "{text:?} will not do: write {whole} from {} to {}.",
                figure(self.low),
                with_unit(self.high, self.measure)
            ));
        }
        Ok(number)
    }
}

const fn house(
    key: &'static str,
    question: &'static str,
    help: &'static str,
    usual: f64,
    (low, high): (f64, f64),
    measure: Measure,
) -> HouseQuestion {
    HouseQuestion { key, question, help, usual, low, high, measure }
}

const HOUSE: [HouseQuestion; 5] = [
    house(
        "length",
        "How long is the house, along the eaves (m)?",
        "Along the base; a stride is about 0.9 m.",
        10.0,
        (1.0, 200.0),
        Measure::Metres,
    ),
    house("depth", "How deep is it, across the gable (m)?", "Outside to outside.", 6.5, (1.0, 60.0), Measure::Metres),
    house("eaves", "How high is it to the eaves (m)?", "Count courses, or hold a staff against it.", 4.5, (1.0, 40.0), Measure::Metres),
    house(
        "windows",
        "How many windows has it?",
        "All round; each is taken as 0.9 m by 1.2 m until it is measured.",
        6.0,
        (0.0, 60.0),
        Measure::One,
    ),
    house("doors", "How many doors has it?", "Each is taken as 1.0 m by 2.1 m until it is measured.", 1.0, (0.0, 12.0), Measure::One),
];

/// Countries `new` knows the money, the usual tax on building work and the time zone of.
const COUNTRIES: [(&str, &str, &str, &str); 3] = [
    ("United Kingdom", "GBP", "20", "Europe/London"),
    ("Ireland", "EUR", "13.5", "Europe/Dublin"),
    ("France", "EUR", "10", "Europe/Paris"),
];

/// The questions, in the order they are asked. `today` stands behind the default dates; the tool reads no clock.
pub fn questions(today: Date) -> Vec<Question> {
    let of = |key: &'static str, path: &str, default: String| {
        let field = fields::field(path);
        let (question, help) = field.map_or(("", ""), |field| (field.question, field.help));
        Question { key, question, help, default, choices: choices(field) }
    };
    let mut questions = vec![of("name", "job.name", String::new()), of("place", "job.place", String::new())];
    questions.extend(HOUSE.iter().map(|asked| Question {
        key: asked.key,
        question: asked.question,
        help: asked.help,
        default: figure(asked.usual),
        choices: Vec::new(),
    }));
    questions.push(of("stone", "walls.*.masonry", String::new()));
    questions.push(of("surveyed", "survey.surveyed_on", today.to_string()));
    questions.push(of("start", "window.start", next_start(today).to_string()));
    questions.push(Question {
        key: "country",
        question: "Which country is it in?",
        help: "For money, tax and time; another country can be written in the file.",
        default: COUNTRIES[0].0.to_owned(),
        choices: COUNTRIES.iter().map(|(name, ..)| (*name).to_owned()).collect(),
    });
    questions
}

fn choices(field: Option<&Field>) -> Vec<String> {
    match field.map(|field| field.kind) {
        Some(Kind::Entry(fields::Shelf::Masonries)) => materials::Catalogue::shipped().masonries.into_keys().collect(),
        Some(Kind::Choice(words)) => words.iter().map(|(word, _)| (*word).to_owned()).collect(),
        _ => Vec::new(),
    }
}

/// The last Monday of the next April: the usual beginning of the lime season; common practice, no source.
fn next_start(today: Date) -> Date {
    let in_year = |year: i16| Date::new(year, 4, 30).ok().and_then(|end| end.nth_weekday(-1, jiff::civil::Weekday::Monday).ok());
    in_year(today.year()).filter(|start| *start > today).or_else(|| in_year(today.year().saturating_add(1))).unwrap_or(today)
}

/// A day as it was typed, if a job is planned on it.
fn asked_day(text: &str) -> Option<Date> {
    crate::written::date(text).filter(|day| is_planned_in(*day))
}

/// What one asked value will be: the answer if it can be read, otherwise the default.
struct House {
    length_m: f64,
    depth_m: f64,
    eaves_m: f64,
    windows: u32,
    doors: u32,
}

impl House {
    fn from(answers: &Answers) -> Self {
        let number = |key: &str| {
            let asked = HOUSE.iter().find(|asked| asked.key == key);
            asked.map_or(1.0, |asked| answers.get(key).and_then(|text| asked.read(text).ok()).unwrap_or(asked.usual))
        };
        Self {
            length_m: number("length"),
            depth_m: number("depth"),
            eaves_m: number("eaves"),
            windows: crate::reader::whole(number("windows")),
            doors: crate::reader::whole(number("doors")),
        }
    }
}

/// A commented job file from the answers; `today` as for [`questions`].
pub fn template(answers: &Answers, today: Date) -> String {
    let plain: BTreeMap<&str, String> = answers.iter().map(|(key, text)| (key.as_str(), one_line(text))).collect();
    let answer = |key: &str| plain.get(key).map(String::as_str).filter(|text| !text.is_empty());
    let day = |key: &str, usual: Date| answer(key).and_then(asked_day).unwrap_or(usual);
    let surveyed = day("surveyed", today);
    let usual_start = Some(next_start(surveyed.max(today))).filter(|start| is_planned_in(*start)).unwrap_or(surveyed);
    let start = day("start", usual_start).max(surveyed);
    let country = answer("country").and_then(|name| COUNTRIES.iter().find(|(known, ..)| known.eq_ignore_ascii_case(name)));
    let mut given: BTreeMap<&str, String> = BTreeMap::new();
    given.insert("job.name", quoted(answer("name").unwrap_or("A house to be named")));
    given.insert("job.place", quoted(answer("place").unwrap_or("A place to be named")));
    given.insert("survey.surveyed_on", surveyed.to_string());
    given.insert("window.start", start.to_string());
    if let Some(stone) = answer("stone").filter(|stone| materials::Catalogue::shipped().masonries.contains_key(*stone)) {
        given.insert("every_wall.masonry", quoted(stone));
    }
    if let Some((_, currency, tax, zone)) = country {
        given.insert("rates.currency", quoted(currency));
        given.insert("rates.tax_percent", (*tax).to_owned());
        given.insert("job.time_zone", quoted(zone));
    }
    let mut text = HEAD.to_owned();
    for section in ["job", "survey", "damp", "every_wall"] {
        write_section(&mut text, section, &given);
    }
    write_walls(&mut text, &House::from(answers), answers);
    for section in
        ["weather", "system", "window", "calendar", "gangs", "rates", "rates.outputs", "rates.last_job", "scaffold", "allowances"]
    {
        write_section(&mut text, section, &given);
    }
    text
}

const HEAD: &str = "\
# A harlwright job. A line that begins with # is not read: it shows what stands in until you answer, most of it only assumed.
# To answer, take the # away and write what you found. Lengths are in the unit at the end of the key and may also be written
# as people say them: \"3 1/2\", \"12 ft 6 in\". Wet lime burns: read the cautions before anyone opens a bag.

format = \"job/1\"
";

/// An answer on one line, as long as a name may be.
fn one_line(text: &str) -> String {
    let line: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    line.trim().chars().take(200).collect::<String>().trim().to_owned()
}

/// Text in quotation marks, as TOML wants it.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// One section: its answered values, then the rest as commented defaults.
fn write_section(text: &mut String, path: &str, given: &BTreeMap<&str, String>) {
    let section = fields::all().find(|field| field.path == path);
    let help = section.map_or("", |field| field.help);
    if let Some(Kind::Each { names: fields::Names::Of(words), .. }) = section.map(|field| field.kind) {
        let _ = writeln!(text, "\n# {help}\n[{path}]");
        for (word, meaning) in words {
            let line = format!("# {word} = {{ state = \"not-seen\" }}");
            let _ = writeln!(text, "{line:<40} # {meaning}: sound, mended, to-mend or not-seen?");
        }
        return;
    }
    let (header, pattern) = if path == "gangs" { ("gangs.own", "gangs.*") } else { (path, path) };
    // Readings by weighed sample are for few jobs: the schema tells of them, a first file need not.
    let told = |field: &&Field| !field.is_table() && !field.key().starts_with("saturation_");
    let fields: Vec<&Field> = fields::children(pattern).iter().copied().filter(told).collect();
    // A table with something required in it cannot stand half empty: it stands commented whole.
    let offered = ["weather", "rates.last_job"].contains(&path);
    let _ = writeln!(text, "\n# {help}\n{}[{header}]", if offered { "# " } else { "" });
    for field in fields {
        let key = format!("{path}.{}", field.key());
        match given.get(key.as_str()) {
            Some(value) => {
                write_question(text, field);
                let _ = writeln!(text, "{} = {value}", field.key());
            }
            None => write_default(text, field),
        }
    }
}

/// One value as a commented default under its question, with its range and source beside it.
fn write_default(text: &mut String, field: &Field) {
    let reach = match (field.reach, field.kind) {
        (Reach::Numbers(low, high), Kind::Number { measure, .. } | Kind::Decimal { measure, .. }) => {
            format!(" ({} to {})", figure(low), with_unit(high, measure))
        }
        (Reach::Words(low, high), _) => format!(" ({low} to {high})"),
        _ => String::new(),
    };
    let standing = match (field.assumed, field.preset) {
        (true, _) => format!("# assumed{reach}: {}", field.source),
        (false, Preset::Worked(how)) => format!("# left out: {how}"),
        (false, Preset::Absent) => "# may be left out".to_owned(),
        _ => String::new(),
    };
    write_question(text, field);
    let line = format!("# {} = {}", field.key(), example(field));
    let _ = writeln!(text, "{}", format!("{line:<40} {standing}").trim_end());
}

/// The question of a field as a comment, with the words to choose from.
fn write_question(text: &mut String, field: &Field) {
    let words = match field.kind {
        Kind::Choice(words) => words.iter().map(|(word, meaning)| format!("{word}: {meaning}")).collect::<Vec<_>>().join("; "),
        _ => String::new(),
    };
    let asked = if field.question.is_empty() { field.label } else { field.question };
    let _ = writeln!(text, "#   {asked}");
    if !words.is_empty() {
        let _ = writeln!(text, "#   ({words})");
    }
}

/// Four walls of a plain gabled house, its openings spread over the two long walls.
fn write_walls(text: &mut String, house: &House, answers: &Answers) {
    let is_open = |key: &str| answers.get(key).is_none_or(|text| text.trim().is_empty());
    let asked: Vec<&str> = HOUSE.iter().map(|asked| asked.key).filter(|key| is_open(key)).collect();
    let _ = writeln!(text, "\n# The walls, walked round. Give each what you measured; these are of a plain house with a roof at 45°.");
    if !asked.is_empty() {
        let _ = writeln!(text, "# Assumed, because nobody answered: {}.", asked.join(", "));
    }
    let apex_m = house.eaves_m + house.depth_m / 2.0;
    let (front, back) = share_openings(house);
    for (slug, faces, openings) in [("north", "north", front), ("south", "south", back)] {
        let _ = writeln!(
            text,
            "\n[walls.{slug}]\nlength_m = {}\nheight_m = {}\nfaces = {faces:?}",
            figure(house.length_m),
            figure(house.eaves_m)
        );
        write_wall_defaults(text);
        if !openings.is_empty() {
            let _ = writeln!(text, "\n[walls.{slug}.openings]\n{openings}");
        }
        if slug == "north" {
            write_gable(text, "east", house, apex_m);
        }
    }
    write_gable(text, "west", house, apex_m);
}

fn write_gable(text: &mut String, side: &str, house: &House, apex_m: f64) {
    let _ = writeln!(
        text,
        "\n[walls.{side}-gable]\nshape = \"gable\"\nlength_m = {}\neaves_m = {}\napex_m = {}    # assumed: a roof at 45°\nfaces = {side:?}",
        figure(house.depth_m),
        figure(house.eaves_m),
        figure(apex_m)
    );
    write_wall_defaults(text);
}

/// What ten minutes at the wall would answer, as comments in each wall.
fn write_wall_defaults(text: &mut String) {
    for path in ["walls.*.touch_low", "walls.*.splash_s", "walls.*.gaps_mm"] {
        if let Some(field) = fields::field(path) {
            write_default(text, field);
        }
    }
}

/// Openings of the north and of the south wall as lines of the file: as many as fit, doors first.
fn share_openings(house: &House) -> (String, String) {
    let mut walls = [Vec::new(), Vec::new()];
    for index in 0..house.doors {
        walls[usize::from(index % 2 == 1)].push(("door", 1.0, 2.1, 0.0));
    }
    for index in 0..house.windows {
        walls[usize::from(index % 2 == 0)].push(("window", 0.9, 1.2, 0.9));
    }
    let [north, south] = walls.map(|openings| lay_out(&openings, house));
    (north, south)
}

/// Openings spread evenly along a wall; those that would not fit are left out.
fn lay_out(openings: &[(&str, f64, f64, f64)], house: &House) -> String {
    let fitting: Vec<_> = openings.iter().filter(|(_, _, height, sill)| sill + height <= house.eaves_m).collect();
    let mut bays = fitting.len();
    while bays > 0 && house.length_m / as_f64(bays) < 1.3 {
        bays -= 1;
    }
    let bay_m = house.length_m / as_f64(bays.max(1));
    let mut lines = String::new();
    for (index, (kind, width_m, height_m, sill_m)) in fitting.into_iter().take(bays).enumerate() {
        let left_m = ((as_f64(index) + 0.5) * bay_m - width_m / 2.0).max(0.0);
        let left_m = (left_m * 100.0).floor() / 100.0;
        let _ = writeln!(
            lines,
            "{kind}-{} = {{ kind = {kind:?}, width_m = {width_m}, height_m = {height_m}, left_m = {left_m}, sill_m = {sill_m}, reveal_m = 0.15 }}    # assumed",
            index + 1
        );
    }
    lines
}

#[expect(clippy::cast_precision_loss, reason = "a wall has at most some tens of openings")]
fn as_f64(count: usize) -> f64 {
    count as f64
}

/// Checks one typed answer, so that a prompt can ask again.
///
/// # Errors
/// A complete sentence that says what is wrong with it.
pub fn check_answer(key: &str, text: &str) -> Result<(), String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(());
    }
    let path = match key {
        "name" => "job.name",
        "place" => "job.place",
        "stone" => "walls.*.masonry",
        "surveyed" => "survey.surveyed_on",
        "start" => "window.start",
        "country" => return Ok(()),
        _ => return HOUSE.iter().find(|asked| asked.key == key).map_or(Ok(()), |asked| asked.read(text).map(|_| ())),
    };
    match fields::field(path).map(|field| field.kind) {
        Some(Kind::Date) if asked_day(text).is_none() => {
            Err(format!("{text:?} is no day a job is planned on: write for example 2027-04-26."))
        }
        Some(Kind::Entry(_)) if !materials::Catalogue::shipped().masonries.contains_key(text) => {
            let names: Vec<String> = materials::Catalogue::shipped().masonries.into_keys().collect();
            Err(format!("{text:?} is not in the catalogue: write one of {}.", names.join(", ")))
        }
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    fn today() -> Date {
        Date::constant(2027, 2, 3)
    }

    #[test]
    fn a_job_from_no_answers_reads() {
        let text = template(&Answers::new(), today());
        let job = crate::read(&text, "new.toml").unwrap_or_else(|problems| panic!("{text}\n{problems:#?}"));
        assert_eq!(job.inputs.building.walls.len(), 4);
        assert!(job.assumed.len() > 40, "nearly everything is assumed");
        // Before stripping something covers the walls; what it is, nobody has said.
        let building = &job.inputs.building;
        assert_eq!(building.stage, survey::Stage::BeforeStripping);
        assert!(building.walls.iter().all(|wall| wall.old_covering.assumed && wall.old_covering.value == survey::OldCovering::Cement));
        let opened = crate::read(&text.replace("# stage = \"before-stripping\"", "stage = \"after-opening-up\""), "new.toml").unwrap();
        assert!(opened.inputs.building.walls.iter().all(|wall| wall.old_covering.value == survey::OldCovering::Bare));
    }

    #[test]
    fn answers_reach_the_job() {
        let answers: Answers = [
            ("name", "The \"Old\" Manse\n"),
            ("place", "Invented"),
            ("length", "40 ft"),
            ("stone", "granite"),
            ("country", "ireland"),
            ("start", "3 May 2027"),
            ("windows", "9"),
        ]
        .map(|(key, text)| (key.to_owned(), text.to_owned()))
        .into();
        let job = crate::read(&template(&answers, today()), "new.toml").unwrap();
        assert_eq!(job.inputs.about.name, "The \"Old\" Manse");
        assert_eq!(job.inputs.rates.currency.code, "EUR");
        assert_eq!(job.inputs.window.start.to_string(), "2027-05-03");
        let north = &job.inputs.building.walls[0];
        assert!(matches!(north.outline, survey::Outline::Rectangle { length_m, .. } if (length_m - 12.192).abs() < 1e-9));
        assert!(!north.masonry.assumed && north.masonry.value == "granite");
        let openings: usize = job.inputs.building.walls.iter().map(|wall| wall.openings.len()).sum();
        assert_eq!(openings, 10);
    }

    #[test]
    fn every_commented_default_could_be_taken_as_it_stands() {
        let text = template(&Answers::new(), today());
        let values: Vec<&str> =
            text.lines().filter(|line| line.starts_with("# ") && !line.starts_with("#  ") && line.contains(" = ")).collect();
        assert!(values.len() > 60);
        for line in values {
            let bare = line.trim_start_matches("# ");
            assert!(toml::from_str::<toml::Table>(bare).is_ok(), "{line}");
        }
    }
}
