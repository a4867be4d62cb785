//! The steps of a wall in the order in which they fall, each with its days: what the programme's tables say. It moves no date and adds none.

use jiff::civil::Date;
use works::{Look, Part, PartKind, ScaffoldKind, ScaffoldStep, Task, WallRun};

use crate::words;

/// A step of a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct StepRow {
    /// What is done.
    pub name: String,
    /// First and last day.
    pub days: (Date, Date),
    /// Days waited before it and within it.
    pub waited: i64,
    /// Why, most first; empty where it did not wait.
    pub why: String,
}

/// Every step of a wall's run, in order of the day on which it begins: what the scaffolders do, each task with its parts, who looks at a coat in its first
/// forty-eight hours, and the test before the next.
pub fn steps(wall: &WallRun) -> Vec<StepRow> {
    let mut rows: Vec<StepRow> = wall.scaffold.iter().filter(|step| step.kind == ScaffoldKind::Up).map(scaffold_row).collect();
    for (number, task) in wall.tasks.iter().enumerate() {
        rows.push(task_row(task));
        rows.extend(task.parts.iter().map(part_row));
        rows.extend(looks_row(task));
        rows.extend(wall.tasks.get(number + 1).and_then(|next| test_row(task, next)));
    }
    rows.extend(wall.scaffold.iter().filter(|step| step.kind != ScaffoldKind::Up).map(scaffold_row));
    rows.sort_by_key(|row| row.days.0);
    rows
}

/// The steps a client follows: what the scaffolders do and each piece of work with what it waited for; of the parts of a piece only bays, where there are several
/// or a cold joint stands in one.
pub fn main_steps(wall: &WallRun) -> Vec<StepRow> {
    let mut rows: Vec<StepRow> = wall.scaffold.iter().map(scaffold_row).collect();
    for task in &wall.tasks {
        rows.push(task_row(task));
        let bays: Vec<&Part> = task.parts.iter().filter(|part| part.kind == PartKind::Bay).collect();
        let told = bays.len() > 1 || bays.iter().any(|bay| bay.cold_joint);
        rows.extend(bays.into_iter().filter(|_| told).map(part_row));
    }
    rows.sort_by_key(|row| row.days.0);
    rows
}

fn plain(name: String, from: Date, to: Date) -> StepRow {
    StepRow { name, days: (from, to), waited: 0, why: String::new() }
}

fn scaffold_row(step: &ScaffoldStep) -> StepRow {
    plain(words::capital(scaffold_words(step.kind)), step.from, step.to)
}

/// What scaffolders do, in words.
pub fn scaffold_words(kind: ScaffoldKind) -> &'static str {
    match kind {
        ScaffoldKind::Up => "scaffold put up, by scaffolders",
        ScaffoldKind::Adapt => "scaffold adapted for the finish, by scaffolders",
        ScaffoldKind::Down => "scaffold taken down lift by lift, by scaffolders",
    }
}

fn looks_row(task: &Task) -> Option<StepRow> {
    let (first, last) = (task.looked.first()?, task.looked.last()?);
    let on = |look: &&Look| words::short_day(look.date);
    let by_gang: Vec<String> = task.looked.iter().filter(|look| look.gang.is_some()).map(|look| on(&look)).collect();
    let by_other: Vec<String> = task.looked.iter().filter(|look| look.gang.is_none()).map(|look| on(&look)).collect();
    let mut who = Vec::new();
    if let Some(gang) = task.looked.iter().find_map(|look| look.gang.as_ref()) {
        who.push(format!("{gang} on {}", words::listed(&by_gang)));
    }
    if !by_other.is_empty() {
        who.push(format!("an attendance visit on {}", words::listed(&by_other)));
    }
    Some(plain(format!("– pressed back and tended in its first 48 hours: {}", words::listed(&who)), first.date, last.date))
}

fn test_row(task: &Task, next: &Task) -> Option<StepRow> {
    task.is_coat().then(|| plain(format!("– test on the wall before the {}", next.name.to_lowercase()), next.from, next.from))
}

fn task_row(task: &Task) -> StepRow {
    StepRow {
        name: task.name.clone(),
        days: (task.from, task.to),
        waited: words::days_waited(&task.waited),
        why: words::waits_in_words(&task.waited),
    }
}

fn part_row(part: &Part) -> StepRow {
    plain(format!("– {}", part_words(part)), part.from, part.to)
}

/// A part of a coat in words: "reveals, 18 m", "bay 2, 4.8 to 11.4 m from the left, 26 m² in 3 lifts, top lift first".
pub fn part_words(part: &Part) -> String {
    let name = words::small(&part.name);
    let amount = words::trimmed(part.amount, if part.amount < 10.0 { 1 } else { 0 });
    match part.kind {
        PartKind::Reveals => format!("{name} first, {amount} m"),
        PartKind::Face => format!("{name}, {amount} m²"),
        PartKind::Ruling => format!("{name} while it is soft, {amount} m²"),
        PartKind::Bay => {
            let lifts = match part.lifts {
                Some(more) if more > 1 => format!(" in {more} lifts, top lift first"),
                _ => String::new(),
            };
            let cold = if part.cold_joint { ": not ended in a day, so a cold joint stands in it" } else { "" };
            format!("{name}, {amount} m²{lifts}{cold}")
        }
    }
}
