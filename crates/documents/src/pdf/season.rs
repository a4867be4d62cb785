//! The year of start weeks on paper: the picture with what it says of the best start and of each wall, as a sheet of the proposal and as a document of its own. It
//! takes a finished almanac and reckons nothing.

use serde_json::{Value, json};
use works::{About, Season, SeasonWeek};

use super::proposal::Drawings;
use super::world::{Sheets, typeset};
use crate::figures::{self, Theme};
use crate::{DocumentError, words};

/// Points across a page on its side.
const ACROSS_PT: f64 = 750.0;

/// Typesets the almanac of a job, PDF/UA-1; the same almanac gives the same bytes.
///
/// # Errors
/// [`DocumentError`] if a template is at fault; no almanac can bring it about.
pub fn season_pdf(about: &About, season: &Season) -> Result<Vec<u8>, DocumentError> {
    typeset(sheets(about, season))
}

pub(super) fn sheets(about: &About, season: &Season) -> Sheets {
    let mut drawings = Drawings::default();
    let basis = format!("{} weather years", season.years);
    let data = json!({
        "head": super::head_of(about, "When to start", &basis),
        "season": part(season, &mut drawings),
        "weeks": season.weeks.iter().enumerate().map(|(number, week)| row(season, number, week)).collect::<Vec<_>>(),
        "gate": season.gate.iter().map(|item| [words::capital(item.now.word()), item.what.clone(), item.says.clone()]).collect::<Vec<_>>(),
    });
    Sheets {
        document: "season",
        templates: vec![("/season.typ", include_str!("../../templates/season.typ")), super::COMMON, super::SEASON_PART],
        data,
        drawings: drawings.0,
        dated: about.dated,
    }
}

/// What a sheet of the year holds.
pub(super) fn part(season: &Season, drawings: &mut Drawings) -> Value {
    json!({
        "figure": drawings.add(&figures::season(season, &Theme::paper(ACROSS_PT))),
        "sentence": season.sentence,
        "no_odds": season.no_odds,
        "years": season.years,
        "walls": season.walls.iter().map(|wall| &wall.says).collect::<Vec<_>>(),
    })
}

/// A start week: its day, finished years, days, money, coats redone, and what held it most.
fn row(season: &Season, number: usize, week: &SeasonWeek) -> Value {
    let days = |days: Option<u32>| days.map_or("–".to_owned(), |days| days.to_string());
    let money = |money: &Option<reckoning::Money>| money.as_ref().map_or("–".to_owned(), |money| money.to_tens().to_string());
    let held: Vec<String> = week.held.iter().map(|&(reason, days)| format!("{} {days:.0}", words::brief(reason))).collect();
    let mark = match (season.best == Some(number), season.own == Some(number)) {
        (true, true) => " (the job's start, least cost)",
        (true, false) => " (least cost)",
        (false, true) => " (the job's start)",
        (false, false) => "",
    };
    json!([
        format!("{} {}{mark}", words::day(week.start), week.start.year()),
        format!("{} of {}", week.finished_years, season.years),
        days(week.days.0),
        days(week.days.1),
        money(&week.cost.0),
        money(&week.cost.1),
        words::redone(week.redone.1, week.redone.0),
        held.join(", "),
    ])
}
