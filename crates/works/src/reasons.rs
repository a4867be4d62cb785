//! Waiting days added up by reason, and the sentence a client can read. The wall that finishes last is the one told of: its days of work and of waiting
//! fill the job from the first day to the last, each day once.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::calendar::{days_between, said};
use crate::forward::{wait_days, waits_of};
use crate::{WaitReason, WallRun, YearRun};

/// The wall that finishes last (the first of several), or the one that was never finished.
pub(crate) fn last_wall(run: &YearRun) -> Option<&WallRun> {
    let end = |wall: &WallRun| wall.tasks.last().map(|task| task.to);
    if run.finished.is_none()
        && let Some(stuck) = run.walls.iter().filter(|wall| !wall.still_waiting.is_empty()).max_by_key(|wall| wall.still_waiting.len())
    {
        return Some(stuck);
    }
    run.walls.iter().rev().max_by_key(|wall| end(wall))
}

/// Waiting days of a wall by reason, most first; equal counts in the order of the reasons.
pub(crate) fn waits(wall: &WallRun) -> Vec<(WaitReason, u32)> {
    let mut by_reason: BTreeMap<WaitReason, u32> = BTreeMap::new();
    for wait in waits_of(wall) {
        *by_reason.entry(wait.reason).or_default() += wait_days(wait);
    }
    let mut waits: Vec<_> = by_reason.into_iter().collect();
    waits.sort_by_key(|&(reason, days)| (std::cmp::Reverse(days), reason));
    waits
}

/// The waits in one sentence.
pub(crate) fn sentence(start: Date, run: &YearRun, wall_name: &str, waits: &[(WaitReason, u32)]) -> String {
    let waiting: u32 = waits.iter().map(|&(_, days)| days).sum();
    let parts: Vec<String> = waits.iter().map(|&(reason, days)| format!("{} {}", count(days, "day"), reason.words())).collect();
    let told = if parts.is_empty() { String::new() } else { format!(": {}", listed(&parts)) };
    match (run.finished, &run.unfinished) {
        (Some(finish), _) => {
            let span = u32::try_from(days_between(start, finish) + 1).unwrap_or(0);
            format!(
                "From {} to {} is {}; the {wall_name}, which finishes last, is worked on in {} of them and waits {}{told}.",
                said(start),
                said(finish),
                count(span, "day"),
                span.saturating_sub(waiting),
                count(waiting, "day"),
            )
        }
        (None, Some(why)) => {
            format!("In the middle year the job is not finished. {why} Until then the {wall_name} waits {}{told}.", count(waiting, "day"))
        }
        (None, None) => "Nothing is done.".to_owned(),
    }
}

/// "1 day", "3 days".
pub(crate) fn count(number: u32, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}

/// "a, b and c".
pub(crate) fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
