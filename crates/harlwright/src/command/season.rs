//! `harlwright season`: the almanac of start weeks as a table, JSON or a picture, with the start gate.

use std::collections::BTreeSet;

use documents::figures::{self, Theme};
use jiff::civil::Date;
use job::Opened;
use works::{Season, SeasonWeek};

use crate::arguments::SeasonArguments;
use crate::failure::Failure;
use crate::files::{open, print, write_new};
use crate::progress::Bar;
use crate::words::{heading, short_date, wrapped};

/// Width of the picture, px.
const WIDE: f64 = 1100.0;

/// Tells of the year.
pub fn run(asked: &SeasonArguments, bar: &Bar) -> Result<(), Failure> {
    let opened = open(&asked.job)?;
    let season = reckoned(&opened, bar)?;
    if let Some(path) = &asked.svg {
        write_new(path, figures::season(&season, &Theme::daylight(WIDE)).svg.as_bytes())?;
        eprintln!("Written: {}", path.display());
    }
    if let Some(path) = &asked.pdf {
        write_new(path, &sheet(&opened.job.inputs.about, &season)?)?;
        eprintln!("Written: {}", path.display());
    }
    if asked.json {
        return print(&documents::season_json(&season));
    }
    print(&told(&season))
}

#[cfg(feature = "pdf")]
fn sheet(about: &works::About, season: &Season) -> Result<Vec<u8>, Failure> {
    documents::season_pdf(about, season).map_err(|error| Failure::machine(error.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn sheet(_: &works::About, _: &Season) -> Result<Vec<u8>, Failure> {
    Err(Failure::machine("This harlwright was built without PDF.".to_owned()))
}

/// The almanac of a job that names its weather.
pub(super) fn reckoned(opened: &Opened, bar: &Bar) -> Result<Season, Failure> {
    let Some(weather) = &opened.weather else {
        return Err(Failure::input(
            "The job names no weather, so no week of the year can be told from another.",
            "Name an hourly weather file of the place under [weather]; `harlwright weather make` makes years from monthly normals.",
        ));
    };
    let season = works::season(&opened.job.inputs, weather, bar);
    bar.clear();
    season.map_err(Failure::from)
}

fn told(season: &Season) -> String {
    let mut text = format!("{}\n\n", wrapped(&season.sentence, 0));
    if let Some(why) = &season.no_odds {
        text += &format!("{}\n\n", wrapped(why, 0));
    }
    text += &format!("{}\n", heading(&format!("Begun in the week of, lived through in {} weather years", season.years)));
    text += "                     finished       days          cost before tax       coats redone\n";
    text += "  first day          years     middle  8 in 10     middle  8 in 10     years  coats  mostly waits for\n";
    for (number, week) in season.weeks.iter().enumerate() {
        text += &line(week, season, number);
    }
    text += "  * the job's own start   + least cost in 8 years of 10\n\n";
    text += &finished_by(season);
    text += &format!("{}\n", heading("What hangs after each coat, by the first day"));
    for (first, last, words) in season.protections() {
        text += &format!("  {}\n", wrapped(&format!("{} to {}: {words}", short_date(first), short_date(last)), 4));
    }
    text += "\n";
    text += &format!("{}\n", heading("The first coat of each wall"));
    for wall in &season.walls {
        text += &format!("  {}\n", wrapped(&wall.says, 4));
    }
    text += "  Safe: in 8 years of 10 the wall is finished, no coat is lost, and frost and cold hold it no more than\n  a fortnight once it is begun.\n\n";
    text += &format!("{}\n", heading("The start gate: what must be true on the day"));
    for item in &season.gate {
        text += &format!("  {}\n", wrapped(&format!("{:<11} {}: {}", item.now.word(), item.what, item.says), 14));
    }
    text
}

/// How many years are finished by the end of each month, a line a start.
fn finished_by(season: &Season) -> String {
    let ends: BTreeSet<Date> = season.weeks.iter().flat_map(SeasonWeek::by_month_end).map(|(end, _)| end).collect();
    if ends.is_empty() {
        return String::new();
    }
    let mut text = format!("{}\n  first day         ", heading(&format!("Of {} weather years, finished by the end of", season.years)));
    text.extend(ends.iter().map(|end| format!(" {:>4}", end.strftime("%b"))));
    text.push('\n');
    for week in &season.weeks {
        text += &format!("  {:<18}", short_date(week.start));
        // Nothing is said of months before the start, nor once every year is told.
        let last = week.by_month_end().last().map(|&(end, _)| end);
        text.extend(ends.iter().map(|&end| match week.finished_by(end) {
            0 => "     ".to_owned(),
            _ if last.is_some_and(|last| end > last) => "     ".to_owned(),
            years => format!(" {years:>4}"),
        }));
        text = format!("{}\n", text.trim_end_matches(' '));
    }
    text + "\n"
}

fn line(week: &SeasonWeek, season: &Season, number: usize) -> String {
    let own = if season.own == Some(number) { "*" } else { " " };
    let best = if season.best == Some(number) { "+" } else { " " };
    let day = |days: Option<u32>| days.map_or("–".to_owned(), |days| days.to_string());
    let money = |money: &Option<reckoning::Money>| money.as_ref().map_or("–".to_owned(), |money| money.to_tens().to_string());
    format!(
        "{own}{best} {:<18} {:>3}/{:<3}  {:>7}  {:>7}  {:>9}  {:>9}  {:>6}  {:>5}  {}\n",
        short_date(week.start),
        week.finished_years,
        season.years,
        day(week.days.0),
        day(week.days.1),
        money(&week.cost.0),
        money(&week.cost.1),
        week.redone.0,
        week.redone.1,
        held(week)
    )
}

/// What held it most, with its mean days.
fn held(week: &SeasonWeek) -> String {
    let parts: Vec<String> = week.held.iter().map(|&(reason, days)| format!("{} {days:.0}", documents::words::brief(reason))).collect();
    parts.join(", ")
}
