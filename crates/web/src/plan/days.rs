//! A plan read by the day: what is done on a wall, what a day waits for, what hangs, how often it is damped, and what the weather does. It reads a
//! saved programme off and decides nothing.

use jiff::civil::Date;
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::StrDeserializer;
use works::WaitReason;

use super::{Coat, Day, Part, Plan, Run, Task, Wait, WallRun};
use crate::words::{capital, trimmed};

/// A reason by its name on the wire.
pub fn reason(name: &str) -> Option<WaitReason> {
    let named: StrDeserializer<'_, serde::de::value::Error> = name.into_deserializer();
    WaitReason::deserialize(named).ok()
}

/// What a day of a wall is.
#[derive(Debug)]
pub enum What<'p> {
    /// Worked on: the tasks of the day.
    Work(Vec<&'p Task>),
    /// It waits.
    Waits(&'p Wait),
    /// Nothing stands in the programme for it.
    Free,
}

/// The date so many days later.
pub fn later(date: Date, days: i64) -> Date {
    date.checked_add(jiff::Span::new().days(days.clamp(-200_000, 200_000))).unwrap_or(date)
}

/// Days from one date to another.
pub fn between(from: Date, to: Date) -> i64 {
    (to - from).get_days().into()
}

/// Monday of the week of a date.
pub fn monday(date: Date) -> Date {
    later(date, -i64::from(date.weekday().to_monday_zero_offset()))
}

fn holds(wait: &Wait, date: Date) -> bool {
    wait.from <= date && date <= wait.to
}

/// True on a day on which a task is worked on.
pub fn worked_on(task: &Task, date: Date) -> bool {
    task.from <= date && date <= task.to && !task.waited.iter().any(|wait| holds(wait, date))
}

/// True for a task that lays a coat.
pub fn is_coat(task: &Task) -> bool {
    !matches!(task.slug.as_str(), "preparation" | "limewash" | "tie-patches")
}

/// What a day of a wall is.
pub fn what(wall: &WallRun, date: Date) -> What<'_> {
    let work: Vec<&Task> = wall.tasks.iter().filter(|task| worked_on(task, date)).collect();
    if !work.is_empty() {
        return What::Work(work);
    }
    let mut waits = wall.tasks.iter().flat_map(|task| &task.waited).chain(&wall.still_waiting);
    waits.find(|wait| holds(wait, date)).map_or(What::Free, What::Waits)
}

/// The task that a day of waiting waits for.
pub fn waits_for(wall: &WallRun, date: Date) -> Option<&Task> {
    wall.tasks.iter().find(|task| task.waited.iter().any(|wait| holds(wait, date)))
}

/// The record of a day, where the plan keeps one.
pub fn record(wall: &WallRun, date: Date) -> Option<&Day> {
    wall.days.iter().find(|record| record.date == date)
}

/// First and last day of a run, from Monday to Sunday.
pub fn whole_weeks(run: &Run) -> Option<(Date, Date)> {
    let tasks = || run.walls.iter().flat_map(|wall| &wall.tasks);
    let waits = || tasks().flat_map(|task| &task.waited).chain(run.walls.iter().flat_map(|wall| &wall.still_waiting));
    let first = tasks().map(|task| task.from).chain(waits().map(|wait| wait.from)).min()?;
    let last = tasks().map(|task| task.to).chain(waits().map(|wait| wait.to)).max()?;
    Some((monday(first), later(monday(last), 6)))
}

/// The coats of a wall that a run lays, innermost first, each with its task.
pub fn laid<'p>(plan: &'p Plan, wall: &'p WallRun) -> Vec<(&'p Coat, &'p Task)> {
    let specified = plan.specification.walls.iter().find(|specified| specified.slug == wall.slug);
    let coats = specified.into_iter().flat_map(|specified| &specified.coats);
    coats.filter_map(|coat| Some((coat, wall.tasks.iter().find(|task| task.slug == coat.slug)?))).collect()
}

/// Name shown of a wall of the plan.
pub fn wall_name<'p>(plan: &'p Plan, slug: &'p str) -> &'p str {
    plan.survey.walls.iter().find(|wall| wall.slug == slug).map_or(slug, |wall| wall.name.as_str())
}

/// Name shown of a cover or material.
pub fn material_name(plan: &Plan, slug: &str) -> String {
    let known = plan.quantities.materials.iter().find(|material| material.slug == slug);
    known.map_or_else(|| slug.replace('-', " "), |material| small(material.name.split(" (").next().unwrap_or_default()))
}

/// A name with its first letter small, as it stands in a sentence.
pub fn small(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// "scud thrown", "straightening laid", "preparation", "limewash".
pub fn work_words(plan: &Plan, task: &Task) -> String {
    if !is_coat(task) {
        return task.name.to_lowercase();
    }
    let laid = plan.specification.walls.iter().flat_map(|wall| &wall.coats).any(|coat| coat.slug == task.slug && coat.placing == "laid");
    format!("{} {}", task.name.to_lowercase(), if laid { "laid" } else { "thrown" })
}

/// A day of a wall as it is told.
#[derive(Debug, Default)]
pub struct Told {
    /// What is done or waited for, a sentence.
    pub what: String,
    /// What hangs and how often it is damped; empty where nothing does.
    pub care: String,
    /// How far air has got into the coats; empty before the first.
    pub front: String,
    /// The weather; empty where the plan keeps none.
    pub weather: String,
}

impl Told {
    /// All of it in a row.
    pub fn in_a_row(&self) -> String {
        [&self.what, &self.care, &self.front, &self.weather]
            .into_iter()
            .filter(|part| !part.is_empty())
            .cloned()
            .collect::<Vec<_>>()
            .join(" ")
    }
}

/// Tells a day of a wall.
pub fn told(plan: &Plan, run: &Run, wall: &WallRun, date: Date) -> Told {
    let record = record(wall, date);
    Told {
        what: what_told(plan, run, wall, date),
        care: record.map_or(String::new(), |record| care(plan, record)),
        front: record.map_or(String::new(), |record| fronts(plan, wall, record)),
        weather: weather(run, date),
    }
}

fn what_told(plan: &Plan, run: &Run, wall: &WallRun, date: Date) -> String {
    let mut parts = Vec::new();
    match what(wall, date) {
        What::Work(tasks) => {
            let words: Vec<String> = tasks.iter().map(|task| work_words(plan, task)).collect();
            parts.push(format!("{}.", capital(&words.join(", then "))));
        }
        What::Waits(wait) => {
            let why = reason(&wait.reason).map_or_else(|| wait.reason.as_str(), |known| known.words());
            let next = waits_for(wall, date).map_or(String::new(), |task| format!("; the {} comes next", task.name.to_lowercase()));
            parts.push(format!("Waits {why}{next}."));
        }
        What::Free if wall.tasks.iter().all(|task| task.to < date) => parts.push("The wall is finished.".to_owned()),
        What::Free => parts.push("Nothing is planned.".to_owned()),
    }
    for part in wall.tasks.iter().flat_map(|task| &task.parts).filter(|part| part.from <= date && date <= part.to) {
        parts.push(part_told(part));
    }
    for step in wall.scaffold.iter().filter(|step| step.from <= date && date <= step.to) {
        parts.push(step.told().to_owned());
    }
    for (task, look) in
        wall.tasks.iter().flat_map(|task| task.looked.iter().map(move |look| (task, look))).filter(|(_, look)| look.date == date)
    {
        let who = look.gang.as_deref().unwrap_or("somebody who comes for it");
        parts.push(format!("The {} is pressed back and tended, by {who}.", task.name.to_lowercase()));
    }
    for task in wall.tasks.iter().filter(|task| is_coat(task) && task.ready == Some(date)) {
        parts.push(format!("The {} is reckoned ready: make its test.", task.name.to_lowercase()));
    }
    for mended in run.mendings.iter().filter(|mended| mended.wall == wall.slug && mended.date == date) {
        parts.push(format!("The {} coat, {}, is mended.", mended.coat.replace('-', " "), mended.damage));
    }
    for loss in run.losses.iter().filter(|loss| loss.wall == wall.slug && loss.date == date) {
        parts.push(format!("A coat is lost: {}", loss.cause));
    }
    parts.join(" ")
}

/// A part of a coat as it is told: "Bay 2, 26 m², top lift first."
pub fn part_told(part: &Part) -> String {
    let size = match (part.area_m2, part.length_m) {
        (Some(area_m2), _) => format!(", {} m²", trimmed(area_m2, 1)),
        (None, Some(length_m)) => format!(", {} m", trimmed(length_m, 1)),
        (None, None) => String::new(),
    };
    let lifts = if part.lifts.is_some_and(|lifts| lifts > 1) { ", top lift first" } else { "" };
    let cold = if part.cold_joint { ": a cold joint stands in it" } else { "" };
    format!("{}{size}{lifts}{cold}.", part.name)
}

fn care(plan: &Plan, record: &Day) -> String {
    let damped = match record.wettings {
        0 => String::new(),
        1 => "damped once".to_owned(),
        times => format!("damped {times} times"),
    };
    match (&record.cover, damped.is_empty()) {
        (Some(cover), true) => format!("{} hangs.", capital(&material_name(plan, cover))),
        (Some(cover), false) => format!("{} hangs, {damped}.", capital(&material_name(plan, cover))),
        (None, false) => format!("{}.", capital(&damped)),
        (None, true) => String::new(),
    }
}

/// How far air has got into each coat that has begun to take it up.
fn fronts(plan: &Plan, wall: &WallRun, record: &Day) -> String {
    let coats = laid(plan, wall);
    let parts: Vec<String> = coats
        .iter()
        .zip(&record.front_m)
        .map(|((coat, _), depth)| format!("{} mm into the {}", trimmed(depth * 1000.0, 1), coat.name.to_lowercase()))
        .collect();
    if parts.is_empty() { String::new() } else { format!("Air has gone {}.", parts.join(", ")) }
}

/// The weather of a day of a run in words.
pub fn weather(run: &Run, date: Date) -> String {
    let Some(record) = run.walls.iter().find_map(|wall| record(wall, date)) else { return String::new() };
    let (Some(low), Some(high)) = (record.air_low_c, record.air_high_c) else { return String::new() };
    let rain = if record.rain_mm < 0.05 { "dry".to_owned() } else { format!("{} mm of rain", trimmed(record.rain_mm, 1)) };
    format!("{low:.0} to {high:.0} °C, {rain}.")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reason_is_known_by_the_name_it_has_on_the_wire() {
        assert_eq!(reason("least-age"), Some(WaitReason::LeastAge));
        assert_eq!(reason("drying-out"), Some(WaitReason::DryingOut), "what holds the start is told as well");
        assert_eq!(reason("nothing-of-the-kind"), None);
    }

    #[test]
    fn weeks_begin_on_monday() {
        let date = jiff::civil::date(2027, 5, 2);
        assert_eq!(monday(date), jiff::civil::date(2027, 4, 26));
        assert_eq!(between(monday(date), date), 6);
    }
}
