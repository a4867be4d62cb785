//! What follows at once from the slots still open: whoever cannot be first comes second. It must never close a choice that some plan takes.

use crate::forest::Forest;
use crate::relaxed::Domain;

/// What is known of when a task lies.
#[derive(Clone, Copy)]
struct Known {
    last_start: usize,
    first_end: usize,
    last_end: usize,
    /// Open slots at least.
    length: usize,
    /// The gang that does it, where one alone can still.
    gang: Option<usize>,
}

/// Draws a domain in until nothing more follows; `false` where no plan is left.
pub(crate) fn narrow(forest: &Forest, domain: &mut Domain) -> bool {
    loop {
        if domain.is_empty() {
            return false;
        }
        let Some(within) = drawn(forest, domain) else { return false };
        if within == domain.within {
            return true;
        }
        domain.within = within;
        domain.tighten(forest);
    }
}

fn known(forest: &Forest, domain: &Domain, task: usize) -> Known {
    let (_, to) = domain.within[task];
    let mut known = Known { last_start: to, first_end: usize::MAX, last_end: 0, length: usize::MAX, gang: None };
    let mut several = false;
    for choice in domain.of(forest, task) {
        let set = forest.set(task, choice);
        let gang = forest.compiled.tasks[task].ways[set.way].gang;
        known.first_end = known.first_end.min(set.end);
        known.last_end = known.last_end.max(set.end);
        known.length = known.length.min(set.end - set.start);
        several |= known.gang.is_some_and(|other| other != gang);
        known.gang = Some(gang);
    }
    known.gang = known.gang.filter(|_| !several);
    known
}

fn drawn(forest: &Forest, domain: &Domain) -> Option<Vec<(usize, usize)>> {
    let mut within = domain.within.clone();
    let all: Vec<Known> = (0..within.len()).map(|task| known(forest, domain, task)).collect();
    for gap in &forest.compiled.gaps {
        let (before, after) = (&all[gap.before], &all[gap.after]);
        let soonest = gap.earliest[before.first_end..=before.last_end].iter().min().copied()?;
        within[gap.after].0 = within[gap.after].0.max(soonest);
        let latest = (before.first_end..=before.last_end).rfind(|&end| gap.earliest[end] <= after.last_start)?;
        within[gap.before].1 = within[gap.before].1.min(latest.saturating_sub(before.length));
    }
    for one in 0..all.len() {
        for other in (0..all.len()).filter(|&other| other != one && all[one].gang.is_some() && all[one].gang == all[other].gang) {
            // Where the one cannot come before the other, it comes after it.
            if all[one].first_end > all[other].last_start {
                within[one].0 = within[one].0.max(all[other].first_end);
                within[other].1 = within[other].1.min(all[one].last_start.checked_sub(all[other].length)?);
            }
        }
    }
    spans(forest, &all, &mut within)?;
    Some(within)
}

/// On one set of scaffold, a span that cannot come first comes second.
fn spans(forest: &Forest, all: &[Known], within: &mut [(usize, usize)]) -> Option<()> {
    let compiled = forest.compiled;
    for (number, one) in compiled.spans.iter().enumerate() {
        for (other_number, other) in compiled.spans.iter().enumerate() {
            let alone = one.scaffold == other.scaffold && compiled.instance.scaffolds[one.scaffold].sets == 1;
            if number == other_number || !alone {
                continue;
            }
            let free = one.free_again[all[one.last].first_end];
            if free > all[other.first].last_start {
                // The one comes after the other.
                let free = other.free_again[all[other.last].first_end];
                within[one.first].0 = within[one.first].0.max(free);
                let latest = (all[other.last].first_end..=all[other.last].last_end)
                    .rfind(|&end| other.free_again[end] <= all[one.first].last_start)?;
                within[other.last].1 = within[other.last].1.min(latest.saturating_sub(all[other.last].length));
            }
        }
    }
    Some(())
}
