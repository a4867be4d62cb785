//! Waiting days added up by reason, and the sentence a client can read. The wall that finishes last is the one told of: its days of work and of waiting
//! fill the job from the first day to the last, each day once.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::book::{DAMP_NOT_WET, FIRM, LEAST_AGE, SET, UPTAKE};
use crate::calendar::{days_between, said};
use crate::forward::{wait_days, waits_of};
use crate::{Wait, WaitReason, WallRun, YearRun};

/// The wall that finishes last (the first of several), or the one that was never finished.
pub(crate) fn last_wall(run: &YearRun) -> Option<&WallRun> {
    let end = |wall: &WallRun| wall.tasks.last().map(|task| task.to).max(wall.scaffold_to);
    if run.finished.is_none()
        && let Some(stuck) = run.walls.iter().filter(|wall| !wall.still_waiting.is_empty()).max_by_key(|wall| wall.still_waiting.len())
    {
        return Some(stuck);
    }
    run.walls.iter().rev().max_by_key(|wall| end(wall))
}

/// Waiting days of a wall by reason, most first; equal counts in the order of the reasons.
pub(crate) fn waits(wall: &WallRun) -> Vec<(WaitReason, u32)> {
    waits_by_reason(waits_of(wall))
}

/// Days of some waits by reason, most first; equal counts in the order of the reasons.
pub(crate) fn waits_by_reason<'w>(waits: impl Iterator<Item = &'w Wait>) -> Vec<(WaitReason, u32)> {
    let mut by_reason: BTreeMap<WaitReason, u32> = BTreeMap::new();
    for wait in waits {
        *by_reason.entry(wait.reason).or_default() += wait_days(wait);
    }
    let mut waits: Vec<_> = by_reason.into_iter().collect();
    waits.sort_by_key(|&(reason, days)| (std::cmp::Reverse(days), reason));
    waits
}

/// The waits in one sentence.
pub(crate) fn sentence(start: Date, run: &YearRun, wall_name: &str, waits: &[(WaitReason, u32)]) -> String {
    let waiting: u32 = waits.iter().map(|&(_, days)| days).sum();
    let parts: Vec<String> = waits.iter().map(|&(reason, days)| format!("{days} {}", reason.words())).collect();
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

/// Which rule set the day on which each coat was ready, counted over all walls; `None` when no coat was. Coats set by the trade's week owe nothing to
/// the curing engine, and that is said.
pub(crate) fn what_set_the_dates(run: &YearRun) -> Option<String> {
    let decided: Vec<&str> =
        run.walls.iter().flat_map(|wall| &wall.tasks).map(|task| task.decides.as_str()).filter(|word| !word.is_empty()).collect();
    let of = |what: &str| decided.iter().filter(|&&decides| decides == what).count();
    let told: Vec<String> = [
        (LEAST_AGE, "by the trade's week alone (common practice, no source)"),
        (UPTAKE, "by the air it must take up (the curing engine)"),
        (SET, "by its hydraulic set (the curing engine)"),
        (FIRM, "by its firming (the curing engine)"),
        (DAMP_NOT_WET, "by its wet face (the curing engine)"),
    ]
    .into_iter()
    .filter(|&(what, _)| of(what) > 0)
    .map(|(what, words)| format!("{words} for {}", of(what)))
    .collect();
    let coats = u32::try_from(decided.len()).unwrap_or(u32::MAX);
    (coats > 0).then(|| format!("Of {}, the day on which each was ready for the next was set {}.", count(coats, "coat"), listed(&told)))
}

/// The reason that holds most days of some waits, leaving out closed days, with its days; of equals the first in the order of the reasons.
pub(crate) fn most(waits: impl Iterator<Item = Wait>) -> Option<(WaitReason, u32)> {
    let mut by_reason: BTreeMap<WaitReason, u32> = BTreeMap::new();
    for wait in waits.filter(|wait| !matches!(wait.reason, WaitReason::Weekend | WaitReason::Break)) {
        *by_reason.entry(wait.reason).or_default() += wait_days(&wait);
    }
    by_reason.into_iter().max_by_key(|&(reason, days)| (days, std::cmp::Reverse(reason)))
}

/// What can be done against a wait.
pub(crate) fn remedy(reason: WaitReason) -> &'static str {
    match reason {
        WaitReason::Carbonation => {
            "Start earlier in the year, put the cause of damp right and let the wall dry first, or keep the coat damp for fewer days."
        }
        WaitReason::Firmness | WaitReason::TooWet => {
            "Put the cause of damp right and let the wall dry first, and keep driven rain off with sheets on the scaffold."
        }
        WaitReason::LeastAge => "Start earlier in the year: only days at or above 5 °C count towards a coat's age.",
        WaitReason::Rain | WaitReason::Wind => "Sheet the scaffold, or start in a drier season.",
        WaitReason::Heat => "Shade the scaffold, or start outside the hottest months.",
        WaitReason::Frost | WaitReason::Cold => "Start earlier in the year, or enclose the scaffold and warm it.",
        WaitReason::GangElsewhere => "Add a gang, or do the job in parts.",
        WaitReason::Visit => "Set calendar.hold_days to 0, so that no work is held back for another wall.",
        WaitReason::Daylight => "Start earlier in the year, or begin the day earlier.",
        WaitReason::Scaffold => "Let more walls be scaffolded at once.",
        WaitReason::Consent => "Ask for consent sooner, or move the start.",
        WaitReason::Permit => "Ask for the permit sooner, or stand the scaffold clear of the pavement.",
        WaitReason::Wildlife => "Have a licensed person look sooner, or begin on a wall without a sign.",
        WaitReason::Approval => "Have the sample panel begun sooner.",
        WaitReason::DryingOut => "Have the cause of damp mended sooner, or begin on a wall it does not wet.",
        WaitReason::Lying => "Buy the coarse stuff matured, or move the start.",
        WaitReason::ShortStretch => "Work a longer week, add hands to the gang, or do the wall in smaller parts.",
        WaitReason::Cover => "Shorten the days the cover hangs.",
        WaitReason::Weekend | WaitReason::Break => "Shorten the breaks, or work more days of the week.",
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
/// A wall's name inside a sentence: "north wall"; one with a name or a number in it stays as it is written.
pub(crate) fn inside(name: &str) -> String {
    let plain = !name.chars().skip(1).any(|letter| letter.is_uppercase() || letter.is_numeric());
    if plain { name.to_lowercase() } else { name.to_owned() }
}
