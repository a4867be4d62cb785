//! What the work asks of the site, wall by wall and day by day, read off the middle year of a programme: may a coat go on, what is hung, how often
//! it is damped, which test is made. The sheets on paper and on a phone say the same. It decides nothing.

use jiff::civil::Date;
use serde::Serialize;
use works::{DayRecord, Plan, Task, WallRun};

use crate::words;

/// A week with something to do in it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Week {
    /// Its Monday.
    pub monday: Date,
    /// Its days, Monday first.
    pub days: Vec<Day>,
}

/// One day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Day {
    /// The day.
    pub date: Date,
    /// Walls in the order of the job.
    pub walls: Vec<WallDay>,
}

/// One wall on one day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallDay {
    /// Short name of the wall.
    pub slug: String,
    /// What is done on it, such as "throw the scud coat".
    pub work: Vec<String>,
    /// Short name of the coat that goes on, if one does.
    pub coat: Option<String>,
    /// Where nothing is done: what comes next, when and what it waits for; `None` where nothing comes any more.
    pub waits: Option<String>,
    /// Change of the cover.
    pub hang: Option<String>,
    /// Times it is damped.
    pub wet: u32,
    /// Coat to be tested, its name in small letters.
    pub test: Option<String>,
}

impl WallDay {
    /// True if the day asks something of the wall.
    pub fn asks(&self) -> bool {
        !self.work.is_empty() || self.hang.is_some() || self.wet > 0 || self.test.is_some()
    }
}

/// Every week in which the middle year asks something of the site.
pub fn weeks(plan: &Plan) -> Vec<Week> {
    let Some(run) = plan.programme.runs.get(plan.programme.middle) else { return Vec::new() };
    let tasks = || run.walls.iter().flat_map(|wall| &wall.tasks);
    let last_record = run.walls.iter().filter_map(|wall| wall.days.last()).map(|day| day.date).max();
    let last = tasks().map(|task| task.to).max().max(last_record);
    let (Some(first), Some(last)) = (tasks().map(|task| task.from).min(), last) else { return Vec::new() };
    let mut monday = words::days_after(first, -i64::from(first.weekday().to_monday_zero_offset()));
    let mut weeks = Vec::new();
    while monday <= last {
        let day = |offset| {
            let date = words::days_after(monday, offset);
            Day { date, walls: run.walls.iter().map(|wall| wall_day(plan, wall, date)).collect() }
        };
        let days: Vec<Day> = (0..7).map(day).collect();
        if days.iter().flat_map(|day| &day.walls).any(WallDay::asks) {
            weeks.push(Week { monday, days });
        }
        monday = words::days_after(monday, 7);
    }
    weeks
}

fn wall_day(plan: &Plan, wall: &WallRun, date: Date) -> WallDay {
    let worked: Vec<&Task> = wall.tasks.iter().filter(|task| words::worked_on(task, date)).collect();
    WallDay {
        slug: wall.slug.clone(),
        work: worked.iter().map(|task| work_words(plan, task, date)).collect(),
        coat: worked.iter().find(|task| words::is_coat(task)).map(|task| task.slug.clone()),
        waits: if worked.is_empty() { waiting(plan, wall, date) } else { None },
        hang: hanging(plan, wall, date),
        wet: record(wall, date).map_or(0, |record| record.wettings),
        test: testing(wall, date),
    }
}

/// What comes next on a wall, when, and what the day waits for.
fn waiting(plan: &Plan, wall: &WallRun, date: Date) -> Option<String> {
    let next = wall.tasks.iter().find(|task| task.to > date)?;
    let when =
        (0..=words::days_between(date, next.to)).map(|offset| words::days_after(date, offset)).find(|day| words::worked_on(next, *day))?;
    let what = work_words(plan, next, when);
    let wait = next.waited.iter().find(|wait| wait.from <= date && date <= wait.to);
    let why = wait.map_or(String::new(), |wait| format!("; today waits {}", wait.reason.words()));
    Some(format!("{} about {}{why}", words::capital(&what), words::day(when)))
}

pub(crate) fn work_words(plan: &Plan, task: &works::Task, date: Date) -> String {
    if words::is_coat(task) {
        let laid = plan.specification.walls.iter().flat_map(|wall| &wall.coats).find(|coat| coat.slug == task.slug);
        let verb = if laid.is_some_and(|coat| coat.placing == works::Placing::Laid) { "lay the" } else { "throw the" };
        return format!("{verb} {}", task.name.to_lowercase());
    }
    if task.slug == "limewash" {
        let before =
            (0..=words::days_between(task.from, date)).filter(|offset| words::worked_on(task, words::days_after(task.from, *offset)));
        return format!("limewash, day {}", before.count());
    }
    task.name.to_lowercase()
}

pub(crate) fn record(wall: &WallRun, date: Date) -> Option<&DayRecord> {
    wall.days.iter().find(|record| record.date == date)
}

/// A change of cover on a day.
pub(crate) fn hanging(plan: &Plan, wall: &WallRun, date: Date) -> Option<String> {
    let today = record(wall, date)?.cover.as_deref();
    let before = record(wall, words::days_after(date, -1)).and_then(|record| record.cover.as_deref());
    match (before, today) {
        (before, Some(cover)) if before != Some(cover) => Some(format!("hang {}", words::material_name(plan, cover).to_lowercase())),
        (Some(cover), None) => Some(format!("strike {}", words::material_name(plan, cover).to_lowercase())),
        _ => None,
    }
}

/// The coat to be tested on a day: when it is reckoned ready, and again on the morning of the work that follows it.
pub(crate) fn testing(wall: &WallRun, date: Date) -> Option<String> {
    let pairs = wall.tasks.iter().zip(wall.tasks.iter().skip(1));
    pairs
        .filter(|(task, _)| words::is_coat(task))
        .find(|(task, next)| task.ready == Some(date) || next.from == date)
        .map(|(task, _)| task.name.to_lowercase())
}
