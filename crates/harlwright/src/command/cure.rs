//! `harlwright cure`: the story of one wall by the day, or of the impatient coat; as words, JSON, a table, pictures.

use std::path::Path;

use documents::figures::{Figure, Theme, cure};
use documents::telling;
use jiff::civil::Date;
use job::Opened;
use works::protect::{Foresight, Policy, StoryAsked};
use works::{Impatient, Told, ToldDay};

use crate::arguments::CureArguments;
use crate::failure::{Failure, Located};
use crate::files::{open, print, ready_folder, write_new, write_whole};
use crate::progress::Bar;
use crate::words::{heading, short_date, with_cautions, wrapped};

/// Width of the pictures, pixels.
const WIDE: f64 = 1080.0;
/// Said under a story told with smooth faces.
const SMOOTH: &str = "\n\nTold with texture factor 1: every face dries no faster than a smooth one. Without --smooth a thrown face counts for more than its plan area.\n";
/// Quiet days told together.
const QUIET_TOGETHER: usize = 7;

/// Tells the story.
pub fn run(asked: &CureArguments, bar: &Bar) -> Result<(), Failure> {
    let opened = open(&asked.job)?;
    let (story, throw_at) = understood(asked, &opened)?;
    let Some(weather) = &opened.weather else { return Err(no_weather()) };
    let refused = |error: works::WorksError| Failure::from(error);
    let inputs = &opened.job.inputs;
    if let Some(days) = throw_at {
        let pair = works::impatient(inputs, weather, &story, days, bar);
        bar.clear();
        return show_pair(asked, &opened, &pair.map_err(refused)?);
    }
    let told = works::tell(inputs, weather, &story, bar);
    bar.clear();
    show(asked, &opened, &told.map_err(refused)?)
}

fn no_weather() -> Failure {
    Failure::input(
        "The job names no weather, and a wall cures in weather.",
        "Name a weather file in the job under [weather], or make one: harlwright weather make.",
    )
}

/// What was asked, or all that is wrong with it.
fn understood(asked: &CureArguments, opened: &Opened) -> Result<(StoryAsked, Option<[u32; 2]>), Failure> {
    let mut problems = Problems::default();
    let wall = problems.take(wall(opened, &asked.wall));
    let from = problems.take(date(&asked.from, opened));
    let policy = problems.take(policy(asked.policy.as_deref(), opened));
    let throw_at = problems.take(asked.throw_at.as_deref().map(throw_at).transpose());
    if let (Some(year), Some(weather)) = (asked.year, &opened.weather)
        && !weather.years.iter().any(|known| known.year == year)
    {
        let years: Vec<String> = weather.years.iter().map(|known| known.year.to_string()).collect();
        problems.add(format!("The weather of {} has no year {year}.", weather.site.name), format!("Its years are: {}.", years.join(", ")));
    }
    if opened.weather.is_none() {
        problems.0.extend(match no_weather() {
            Failure::Input { problems } => problems,
            Failure::Machine(_) | Failure::CalledOff(_) | Failure::Told => Vec::new(),
        });
    }
    match (wall, from, policy, throw_at) {
        (Some(wall), Some(from), Some(policy), Some(throw_at)) if problems.0.is_empty() => {
            let story = StoryAsked {
                wall,
                from,
                policy,
                foresight: Foresight::Imperfect,
                year: asked.year,
                hasty_days: None,
                client_wets: false,
                smooth: asked.smooth,
            };
            Ok((story, throw_at))
        }
        _ => Err(Failure::Input { problems: problems.0 }),
    }
}

/// Problems gathered.
#[derive(Default)]
struct Problems(Vec<Located>);

impl Problems {
    fn add(&mut self, message: String, remedy: String) {
        self.0.push(Located { message, remedy, source_text: None, span: None, label: String::new() });
    }

    fn take<T>(&mut self, found: Result<T, (String, String)>) -> Option<T> {
        match found {
            Ok(found) => Some(found),
            Err((message, remedy)) => {
                self.add(message, remedy);
                None
            }
        }
    }
}

/// The wall by its short name, or its number from one.
fn wall(opened: &Opened, asked: &str) -> Result<String, (String, String)> {
    let walls = &opened.job.inputs.building.walls;
    let by_number = asked.parse::<usize>().ok().and_then(|number| number.checked_sub(1)).and_then(|index| walls.get(index));
    if let Some(wall) = walls.iter().find(|wall| wall.slug == asked).or(by_number) {
        return Ok(wall.slug.clone());
    }
    let mut near: Vec<(usize, &str)> = walls.iter().map(|wall| (strsim::levenshtein(asked, &wall.slug), wall.slug.as_str())).collect();
    near.sort_unstable();
    let near: Vec<&str> = near.into_iter().take(4).map(|(_, slug)| slug).collect();
    Err((format!("The job has no wall “{asked}”."), format!("Nearest: {}.", near.join(", "))))
}

/// The first day, within what the survey can speak for.
fn date(asked: &str, opened: &Opened) -> Result<Date, (String, String)> {
    let Ok(from) = asked.parse::<Date>() else {
        return Err((format!("“{asked}” is not a day of the calendar."), "Write it as year-month-day, for example 2027-04-26.".to_owned()));
    };
    let Ok(surveyed) = opened.job.inputs.building.surveyed_on.parse::<Date>() else { return Ok(from) };
    let last = documents::words::days_after(surveyed, works::SURVEY_HOLDS_DAYS);
    if surveyed <= from && from <= last {
        return Ok(from);
    }
    Err((
        format!(
            "The story cannot begin on {from}: the wall was surveyed on {surveyed}, and the wetness found then is believed until {last}."
        ),
        "Give a day between the two, or survey the wall again.".to_owned(),
    ))
}

fn policy(asked: Option<&str>, opened: &Opened) -> Result<Policy, (String, String)> {
    let Some(asked) = asked else { return Ok(Policy::HessianByRule) };
    if let Some(policy) = Policy::ALL.into_iter().find(|policy| telling::policy_name(*policy) == asked || policy.name() == asked) {
        return Ok(policy);
    }
    let names: Vec<&str> = Policy::ALL.into_iter().map(telling::policy_name).collect();
    let cover = opened.job.inputs.catalogue.covers.get(asked);
    let message = match cover {
        Some(cover) => {
            format!("“{asked}” is a cover ({}), not a way of protecting a wall through its whole story.", cover.name.to_lowercase())
        }
        None => format!("There is no protection called “{asked}”."),
    };
    Err((message, format!("Give {}.", names.join(", "))))
}

/// Two different numbers of days.
fn throw_at(asked: &str) -> Result<[u32; 2], (String, String)> {
    let days: Vec<Option<u32>> = asked.split(',').map(|part| part.trim().parse().ok().filter(|days| (1..=60).contains(days))).collect();
    match days.as_slice() {
        [Some(one), Some(other)] if one != other => Ok([*one.min(other), *one.max(other)]),
        _ => Err((
            format!("“{asked}” does not say when the next coat is thrown."),
            "Give two different numbers of days from 1 to 60 with a comma between, for example 2,9.".to_owned(),
        )),
    }
}

fn show(asked: &CureArguments, opened: &Opened, told: &Told) -> Result<(), Failure> {
    let theme = Theme::daylight(WIDE);
    let one = || cure::sheet(told, &theme);
    let all = || {
        let mut figures = vec![("front", cure::front(told, &theme)), ("nights", cure::nights(told, &theme))];
        figures.extend(cure::sections(told, &theme).map(|figure| ("sections", figure)));
        figures.extend(cure::cloth(told, &theme).map(|figure| ("hessian", figure)));
        figures
    };
    draw(asked.svg.as_deref(), one, all)?;
    if asked.json {
        return print(&telling::cure_json(told, asked.hourly));
    }
    if asked.csv {
        return print(&String::from_utf8_lossy(&telling::cure_csv(told, asked.hourly)));
    }
    let mut text = words(opened, told, asked.hourly);
    if asked.smooth {
        text.push_str(SMOOTH);
    }
    print(&with_cautions(&text, &opened.job.inputs.catalogue.cautions, "cure"))
}

fn show_pair(asked: &CureArguments, opened: &Opened, pair: &Impatient) -> Result<(), Failure> {
    let theme = Theme::daylight(WIDE);
    draw(asked.svg.as_deref(), || cure::pair(pair, &theme), || vec![("impatient", cure::pair(pair, &theme))])?;
    if asked.json {
        return print(&telling::pair_json(pair, asked.hourly));
    }
    if asked.csv {
        let tables = pair.walls.iter().map(|told| telling::cure_csv(told, asked.hourly));
        let tables: Vec<String> = tables.map(|table| String::from_utf8_lossy(&table).into_owned()).collect();
        return print(&side_by_side(&tables, pair.days));
    }
    print(&with_cautions(&pair_words(opened, pair), &opened.job.inputs.catalogue.cautions, "cure"))
}

/// Both tables in one, with a first column that says after how many days the next coat was thrown.
fn side_by_side(tables: &[String], days: [u32; 2]) -> String {
    let mut text = String::new();
    for (index, (table, days)) in tables.iter().zip(days).enumerate() {
        let mut lines = table.lines();
        let head = lines.next().unwrap_or_default();
        if index == 0 {
            text += &format!("next_coat_after_days,{head}\r\n");
        }
        lines.for_each(|line| text += &format!("{days},{line}\r\n"));
    }
    text
}

/// Pictures into one file that must not exist yet, or each into a folder.
fn draw(path: Option<&Path>, one: impl Fn() -> Figure, all: impl Fn() -> Vec<(&'static str, Figure)>) -> Result<(), Failure> {
    let Some(path) = path else { return Ok(()) };
    if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("svg")) && !path.is_dir() {
        write_new(path, one().svg.as_bytes())?;
        eprintln!("Written: {}", path.display());
        return Ok(());
    }
    ready_folder(path)?;
    let mut written = Vec::new();
    for (name, figure) in all() {
        written.push(write_whole(path, &format!("{name}.svg"), figure.svg.as_bytes())?.display().to_string());
    }
    eprintln!("Written: {}", written.join(", "));
    Ok(())
}

fn title(opened: &Opened, told: &Told) -> String {
    let about = &opened.job.inputs.about;
    let invented = if about.invented { " (invented: place, people, prices and weather)" } else { "" };
    format!("{}, {}{invented}. {}", about.name, about.place, told.wall_name)
}

/// The whole story.
fn words(opened: &Opened, told: &Told, hourly: bool) -> String {
    let mut text = format!("{}.\n\n{}\n{}\n", title(opened, told), wrapped(&telling::answer(told), 0), wrapped(&telling::setting(told), 0));
    text += &format!("\n{}\n", heading(if hourly { "Hour by hour" } else { "Day by day" }));
    text += &if hourly { hours(told) } else { days(told) };
    text += &readiness(told);
    text += &damage(told);
    text += &limits();
    text
}

/// Days with something done or met each for itself, quiet ones together.
fn days(told: &Told) -> String {
    let mut text = String::new();
    let mut from = 0;
    while from < told.days.len() {
        let quiet = |day: &ToldDay| day.done.is_empty() && day.met.is_empty() && day.ready.is_none();
        let mut to = from + 1;
        while quiet(&told.days[from]) && to < told.days.len() && quiet(&told.days[to]) && to - from < QUIET_TOGETHER {
            to += 1;
        }
        text += &days_together(told, &told.days[from..to]);
        from = to;
    }
    text
}

fn days_together(told: &Told, days: &[ToldDay]) -> String {
    let (Some(first), Some(last)) = (days.first(), days.last()) else { return String::new() };
    let when = if days.len() == 1 { short_date(first.date) } else { format!("{} to {}", short_date(first.date), short_date(last.date)) };
    let name = |coat: usize| told.coats.get(coat).map_or(String::new(), |coat| coat.name.to_lowercase());
    let mut said: Vec<String> = days.iter().flat_map(|day| telling::doings(told, day)).collect();
    for (coat, rule) in days.iter().flat_map(|day| &day.met) {
        said.push(format!("{} now {}", name(*coat), telling::rule_name(*rule)));
    }
    said.extend(days.iter().filter_map(|day| day.ready).map(|coat| format!("{} reckoned ready: make the nail test", name(coat))));
    let said = if said.is_empty() { "nothing done".to_owned() } else { said.join("; ") };
    let line = format!(
        "{when}: {said}. {}. {}.",
        documents::words::capital(&telling::weather(days)),
        documents::words::capital(&telling::state(told, last))
    );
    format!("  {}\n", wrapped(&line, 4))
}

/// The hours as columns.
fn hours(told: &Told) -> String {
    let mut text =
        "  day         hour   air °C  damp %  wind m/s  rain mm  face °C  face damp %  cloth kg/m²  water %  taken up mm  front mm\n"
            .to_owned();
    for hour in &told.hours {
        let coat = hour.coats.last().map_or(String::new(), |coat| {
            format!("{:7.0}  {:11.3}  {:8.2}", coat.water_share * 100.0, coat.uptake_m * 1000.0, coat.front_m * 1000.0)
        });
        let line = format!(
            "  {:<10} {:>5} {:8.1} {:7.0} {:9.1} {:8.1} {:8.1} {:12.1} {:>12} {coat}",
            short_date(hour.at.date),
            telling::clock(hour.at.hour),
            hour.air_c,
            hour.air_humidity * 100.0,
            hour.wind_m_s,
            hour.rain_mm,
            hour.face_c,
            hour.face_humidity * 100.0,
            hour.cloth_kg_m2.map_or(String::new(), |water| format!("{water:.2}"))
        );
        text += &format!("{}\n", line.trim_end());
    }
    text
}

/// The six rules of each coat, and the test on the wall.
fn readiness(told: &Told) -> String {
    let mut text = format!("\n{}\n", heading("Ready?"));
    for coat in told.coats.iter().filter(|coat| coat.placed.is_some()) {
        let line = format!("{}, {} mm: {}.", coat.name, documents::words::trimmed(coat.thickness_m * 1000.0, 1), telling::readiness(coat));
        text += &format!("  {}\n", wrapped(&line, 2));
        for rule in &coat.rules {
            let met = rule.met.map_or("not yet".to_owned(), telling::moment);
            text += &format!(
                "    {}\n",
                wrapped(&format!("{:<25} {}; first met: {met}", telling::rule_name(rule.rule), telling::rule_says(rule)), 30)
            );
        }
    }
    if let Some(coat) = told.coats.iter().find(|coat| coat.placed.is_some()) {
        text += &format!("  {}\n", wrapped(&format!("The test on the wall. {}", coat.test), 2));
    }
    text
}

fn damage(told: &Told) -> String {
    let mut text = format!("\n{}\n", heading("Damage"));
    let mut none = true;
    for coat in &told.coats {
        for (at, damage) in &coat.damage {
            none = false;
            text += &format!("  {}\n", wrapped(&format!("{}: {}", coat.name, telling::damage(*at, damage)), 4));
        }
    }
    if none {
        text += "  None is reckoned.\n";
    }
    text
}

fn limits() -> String {
    let says = "One square metre in the middle of the wall, as if the whole wall were thrown in one morning; no corner, no reveal, no water running down \
                from above. The leak of the cover is a guess and the wait leans on it. What else is left out: docs/cure.md.";
    format!("\n{}\n  {}\n", heading("What this cannot see"), wrapped(says, 2))
}

fn pair_words(opened: &Opened, pair: &Impatient) -> String {
    let mut text = format!(
        "{}.\n\n{}\n{}\n",
        title(opened, &pair.walls[0]),
        wrapped(&telling::impatient(pair), 0),
        wrapped(&telling::setting(&pair.walls[0]), 0)
    );
    let first = pair.walls[0].coats.first().map_or(String::new(), |coat| coat.name.to_lowercase());
    text += &format!("\n{}\n", heading(&format!("Taken up by the {first}, mm")));
    text += &format!(
        "  {:<24} {:>18} {:>18}\n",
        "evening of day",
        format!("next at {} days", pair.days[0]),
        format!("next at {} days", pair.days[1])
    );
    let evening = |told: &Told, day: usize| {
        let first = told.hours.iter().position(|hour| !hour.coats.is_empty())?;
        told.hours.get(first + day * 24).and_then(|hour| hour.coats.first()).map(|coat| coat.uptake_m * 1000.0)
    };
    for day in (0..=pair.compared_after_days as usize).filter(|day| *day < 10 || day % 7 == 0) {
        let cell = |told: &Told| evening(told, day).map_or(String::new(), |taken| format!("{taken:.2}"));
        text += &format!("  {day:<24} {:>18} {:>18}\n", cell(&pair.walls[0]), cell(&pair.walls[1]));
    }
    for (told, days) in pair.walls.iter().zip(pair.days) {
        text += &format!("\n{}\n", heading(&format!("With the next coat at {days} days")));
        let mut none = true;
        for coat in &told.coats {
            for (at, damage) in &coat.damage {
                none = false;
                text += &format!("  {}\n", wrapped(&format!("{}: {}", coat.name, telling::damage(*at, damage)), 4));
            }
        }
        if none {
            text += "  No damage is reckoned.\n";
        }
    }
    text + &limits()
}
