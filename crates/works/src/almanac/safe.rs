//! When a wall's first coat is safe: by the week in which it goes on, over all starts and weather years. It must never look at more than the runs.

use std::collections::BTreeMap;

use jiff::civil::Date;
use survey::Slug;

use crate::almanac::{WallSeason, WallWeek};
use crate::calendar::{add_days, day, days_between};
use crate::forward::{wait_days, waits_of};
use crate::odds::rank;
use crate::road::Stages;
use crate::{WaitReason, WallRun, YearRun};

/// Days that frost and cold may hold a wall once its first coat is on before the start counts as too late (a guess: a fortnight, what a coat takes in the cold).
const MOST_COLD_DAYS: u32 = 14;
/// Weeks on end that are not safe from which that is said to last.
const LASTING_WEEKS: u32 = 3;
/// Fewest weather years from which a week is judged.
const FEWEST_YEARS: u32 = 8;

/// Per wall, the weeks of its first coat and the last safe one.
pub(crate) fn walls(stages: &Stages, first: Date, weeks: usize, runs: &[Vec<YearRun>]) -> Vec<WallSeason> {
    let found = &stages.survey.building.walls;
    stages
        .sheet
        .walls
        .iter()
        .enumerate()
        .map(|(number, sheet)| {
            let weeks = wall_weeks(number, first, weeks, runs);
            let (last_safe, safe_again) = turns(&weeks);
            let faces_deg = found.iter().find(|wall| wall.slug == sheet.slug).map_or(0.0, |wall| wall.faces_deg);
            let says = says(&format!("{}, facing {}", sheet.name, survey::compass(faces_deg)), &weeks, last_safe, safe_again);
            WallSeason { slug: sheet.slug.clone(), name: sheet.name.clone(), faces_deg, weeks, last_safe, safe_again, says }
        })
        .collect()
}

/// Day on which the first coat went on, and whether all went well from there; `None` where none went on.
fn outcome(wall: &WallRun, lost: &dyn Fn(&Slug) -> Option<Date>) -> Option<(Date, bool)> {
    let first = wall.tasks.iter().find(|task| task.slug != "preparation").map(|task| task.from);
    if let Some(lost) = lost(&wall.slug) {
        // The first coat may itself have come off: what is told of is what was laid before the loss.
        return Some((first.map_or(lost, |first| first.min(lost)), false));
    }
    let cold = waits_of(wall).filter(|wait| matches!(wait.reason, WaitReason::Frost | WaitReason::Cold));
    let held: u32 = cold.filter(|wait| first.is_some_and(|first| wait.from >= first)).map(wait_days).sum();
    first.map(|first| (first, wall.scaffold_to.is_some() && held <= MOST_COLD_DAYS))
}

fn wall_weeks(number: usize, first: Date, weeks: usize, runs: &[Vec<YearRun>]) -> Vec<WallWeek> {
    // By week and year: whether all starts that came to it went well.
    let mut judged: BTreeMap<(usize, i32), bool> = BTreeMap::new();
    for run in runs.iter().flatten() {
        let lost = |slug: &Slug| run.losses.iter().filter(|loss| loss.wall == *slug).map(|loss| loss.date).min();
        let Some((on, safe)) = run.walls.get(number).and_then(|wall| outcome(wall, &lost)) else { continue };
        let Ok(week) = usize::try_from(days_between(first, on).div_euclid(7)) else { continue };
        if week < weeks {
            let all = judged.entry((week, run.year)).or_insert(true);
            *all &= safe;
        }
    }
    (0..weeks)
        .map(|week| {
            let of: Vec<bool> = judged.range((week, i32::MIN)..=(week, i32::MAX)).map(|(_, &safe)| safe).collect();
            let safe = of.iter().filter(|&&safe| safe).count();
            WallWeek { from: add_days(first, 7 * week as i64), years: of.len() as u32, safe: safe as u32 }
        })
        .collect()
}

impl WallWeek {
    /// Whether a first coat in this week is safe in about 8 years of 10; `None` where too few years came to it to say.
    pub fn is_safe(&self) -> Option<bool> {
        if self.years < FEWEST_YEARS {
            return None;
        }
        // At the plotting position: of eight years all, of thirty twenty-five.
        Some(rank(0.8, self.years as usize).is_some_and(|rank| f64::from(self.safe) >= rank))
    }
}

/// The last safe week before a lasting time that is not, and the first safe one after that time. A week or two between safe ones do not last.
fn turns(weeks: &[WallWeek]) -> (Option<Date>, Option<Date>) {
    let (mut last, mut on_end) = (None, 0);
    for week in weeks {
        match week.is_safe() {
            Some(true) if on_end >= LASTING_WEEKS && last.is_some() => return (last, Some(week.from)),
            Some(true) => (last, on_end) = (Some(week.from), 0),
            Some(false) => on_end += 1,
            None => {}
        }
    }
    (last.filter(|_| on_end >= LASTING_WEEKS), None)
}

fn says(name: &str, weeks: &[WallWeek], last: Option<Date>, again: Option<Date>) -> String {
    let judged = weeks.iter().filter_map(WallWeek::is_safe).count();
    match (last, again) {
        _ if judged == 0 => format!("{name}: too few weather years came to a first coat in any one week to say when it is safe."),
        (Some(last), again) => {
            let again = again.map_or(String::new(), |again| format!(", and again from the week of {}", day(again)));
            format!("{name}: the last safe first coat goes on in the week of {}{again}.", day(last))
        }
        (None, _) if weeks.iter().any(|week| week.is_safe() == Some(true)) => {
            format!("{name}: no week was found in which its first coat ceases to be safe.")
        }
        (None, _) => format!("{name}: in no week is its first coat safe in 8 years of 10."),
    }
}
