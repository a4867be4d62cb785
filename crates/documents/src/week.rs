//! What the work asks of the site, wall by wall and day by day, read off the middle year of a programme: may a coat go on, what is hung, how often
//! it is damped, which test is made. The sheets on paper and on a phone say the same. It decides nothing.

use jiff::civil::Date;
use serde::Serialize;
use works::{DayRecord, PartKind, Plan, Task, WallRun};

use crate::steps::scaffold_words;
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
    /// The wall itself is damped down in the evening, for a coat next morning.
    pub evening: bool,
    /// Coat to be tested, its name in small letters.
    pub test: Option<String>,
    /// Coat to be looked at and pressed back in its first 48 hours, and by whom.
    pub press: Option<String>,
}

impl WallDay {
    /// True if the day asks something of the wall.
    pub fn asks(&self) -> bool {
        !self.work.is_empty() || self.hang.is_some() || self.wet > 0 || self.evening || self.test.is_some() || self.press.is_some()
    }
}

/// What is damped on a day, in words.
pub fn damp_words(wet: u32, evening: bool) -> String {
    let cloth = match wet {
        0 => "not today".to_owned(),
        1 => "once, in the morning".to_owned(),
        more => format!("{}, spread over the day", words::times(more)),
    };
    match (wet, evening) {
        (_, false) => cloth,
        (0, true) => format!("{EVENING}, for the coat tomorrow"),
        (_, true) => format!("{cloth}; {EVENING}, for the coat tomorrow"),
    }
}

/// Damping down a wall itself, in words.
pub(crate) const EVENING: &str = "in the evening the wall itself";

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
        work: worked.iter().map(|task| work_words(plan, task, date)).chain(scaffolding(wall, date)).collect(),
        coat: worked.iter().find(|task| task.is_coat()).map(|task| task.slug.clone()),
        waits: if worked.is_empty() && scaffolding(wall, date).is_empty() { waiting(plan, wall, date) } else { None },
        hang: hanging(plan, wall, date),
        wet: record(wall, date).map_or(0, |record| record.wettings),
        evening: wall.damped.contains(&date),
        test: testing(wall, date),
        press: pressing(wall, date),
    }
}

/// What the scaffolders do on a wall on a day.
pub(crate) fn scaffolding(wall: &WallRun, date: Date) -> Vec<String> {
    let today = wall.scaffold.iter().filter(|step| step.from <= date && date <= step.to);
    today.map(|step| scaffold_words(step.kind).to_owned()).collect()
}

/// The coat that is looked at and pressed back on a day, and who comes for it where no gang is there.
pub(crate) fn pressing(wall: &WallRun, date: Date) -> Option<String> {
    let found = wall.tasks.iter().find_map(|task| Some((task, task.looked.iter().find(|look| look.date == date)?)));
    found.map(|(task, look)| {
        let who = if look.gang.is_some() { "" } else { " (attendance visit)" };
        format!("press back the {}{who}", task.name.to_lowercase())
    })
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
    if task.is_coat() {
        let laid = plan.specification.walls.iter().flat_map(|wall| &wall.coats).find(|coat| coat.slug == task.slug);
        let verb = if laid.is_some_and(|coat| coat.placing == works::Placing::Laid) { "lay the" } else { "throw the" };
        return format!("{verb} {}{}", task.name.to_lowercase(), parts_today(task, date));
    }
    if task.slug == "tie-patches" {
        return "make good the tie patches".to_owned();
    }
    if task.slug == "limewash" {
        let before =
            (0..=words::days_between(task.from, date)).filter(|offset| words::worked_on(task, words::days_after(task.from, *offset)));
        return format!("limewash, day {}", before.count());
    }
    task.name.to_lowercase()
}

/// What of a coat falls on a day: ", reveals first, and rule it", ": bay 2, top lift first".
fn parts_today(task: &Task, date: Date) -> String {
    let today = |kind: PartKind| task.parts.iter().filter(move |part| part.kind == kind && part.from <= date && date <= part.to);
    let first = if today(PartKind::Reveals).next().is_some() { ", reveals first" } else { "" };
    let ruled = if today(PartKind::Ruling).next().is_some() { ", and rule it" } else { "" };
    let bays: Vec<String> = today(PartKind::Bay).map(|bay| short_name(&bay.name)).collect();
    if bays.is_empty() {
        let only = !task.parts.is_empty() && today(PartKind::Face).next().is_none();
        return if only && !first.is_empty() { ": reveals".to_owned() } else { format!("{first}{ruled}") };
    }
    let cold = if today(PartKind::Bay).any(|bay| bay.cold_joint) { " (a cold joint: not ended in a day)" } else { "" };
    let lifts = if today(PartKind::Bay).any(|bay| bay.lifts.is_some_and(|lifts| lifts > 1)) { ", top lift first" } else { "" };
    format!("{first}: {}{lifts}{cold}", words::listed(&bays))
}

/// "bay 2" of "Bay 2, 4.8 to 11.4 m from the left".
fn short_name(name: &str) -> String {
    words::small(name.split(", ").next().unwrap_or(name))
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
        .filter(|(task, _)| task.is_coat())
        .find(|(task, next)| task.ready == Some(date) || next.from == date)
        .map(|(task, _)| task.name.to_lowercase())
}
