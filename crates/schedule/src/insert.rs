//! Betters a plan by taking out whole walls and laying each again where it is cheapest among the others, exactly, by dynamic programming over the open
//! slots. It proves nothing, and what it lays is a plan only when [`Compiled::keeps`] says so.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use crate::Aim;
use crate::axis::{Compiled, CompiledSpan};
use crate::forest::{Arrivals, Forest, NEVER, Reckoned, can_be};
use crate::relaxed::{Charges, Domain};
use crate::serial::Set;

/// The price of a slot in which every set of a scaffold is taken: more than any plan costs.
const TAKEN: i64 = 1 << 40;

/// Rounds in which a plan may become worse for a while.
const ENOUGH: u32 = 100;

/// Lays walls anew.
pub(crate) struct Insert<'f> {
    forest: &'f Forest<'f>,
    charges: &'f Charges,
    aim: Aim,
    unit: i64,
    domain: Domain,
    reckoned: Reckoned,
    cost: Vec<i64>,
    /// Per gang, when it is at work.
    gangs: Vec<Neighbours>,
    /// Per scaffold and slot, what it costs to stand in all slots before.
    stands: Vec<Vec<i64>>,
    /// What it costs to end by a slot.
    time: Vec<i64>,
    draws: ChaCha8Rng,
    /// No arrival told by a tree alone.
    none: Arrivals,
}

/// When a gang is at work: how many slots before each are taken, the last end at or before it, the first start at or after it.
#[derive(Clone, Default)]
struct Neighbours {
    taken_before: Vec<usize>,
    ended: Vec<Option<usize>>,
    next: Vec<Option<usize>>,
}

impl Neighbours {
    fn reckon(&mut self, slots: usize, sets: impl Iterator<Item = Set>) {
        let mut taken = vec![false; slots];
        self.ended = vec![None; slots + 1];
        self.next = vec![None; slots + 1];
        for set in sets {
            taken[set.start..set.end].fill(true);
            self.ended[set.end] = Some(set.end);
            self.next[set.start] = Some(set.start);
        }
        self.taken_before = vec![0; slots + 1];
        for (slot, &taken) in taken.iter().enumerate() {
            self.taken_before[slot + 1] = self.taken_before[slot] + usize::from(taken);
            self.ended[slot + 1] = self.ended[slot + 1].or(self.ended[slot]);
        }
        for slot in (0..slots).rev() {
            self.next[slot] = self.next[slot].or(self.next[slot + 1]);
        }
    }
}

impl<'f> Insert<'f> {
    pub(crate) fn new(forest: &'f Forest<'f>, charges: &'f Charges, (aim, unit): (Aim, i64), seed: u64) -> Self {
        let instance = forest.compiled.instance;
        let mut time = vec![0];
        charges.time.iter().for_each(|slot| time.push(time[time.len() - 1] + slot));
        Self {
            forest,
            charges,
            aim,
            unit,
            domain: Domain::all(forest),
            reckoned: Reckoned::new(forest),
            cost: vec![NEVER; forest.choices()],
            gangs: vec![Neighbours::default(); instance.gangs.len()],
            stands: vec![vec![0; forest.slots + 1]; instance.scaffolds.len()],
            time,
            draws: ChaCha8Rng::seed_from_u64(seed),
            none: Arrivals { cost: vec![0; instance.gangs.len()], patience: charges.patience.clone() },
        }
    }

    /// Betters a plan for so many rounds.
    pub(crate) fn better(&mut self, first: &[Set], rounds: u32) -> Vec<Set> {
        let groups = self.forest.groups.len();
        let mut now = first.to_vec();
        let mut cost_now = self.forest.compiled.in_units(self.aim, self.unit, &now);
        let (mut best, mut least) = (now.clone(), cost_now);
        for round in 0..rounds {
            let mut out: Vec<usize> = Vec::new();
            for _ in 0..=self.below(3.min(groups)) {
                let group = self.below(groups);
                if !out.contains(&group) {
                    out.push(group);
                }
            }
            let mut tried = now.clone();
            let mut placed = vec![true; tried.len()];
            out.iter().for_each(|&group| self.forest.groups[group].iter().for_each(|&task| placed[task] = false));
            if !out.iter().all(|&group| self.lay(group, &mut tried, &mut placed, None)) || !self.forest.compiled.keeps(&tried) {
                continue;
            }
            let cost = self.forest.compiled.in_units(self.aim, self.unit, &tried);
            // Hardly worse, by a share that shrinks to nothing; in few rounds there is no time for that.
            let slack = if rounds < ENOUGH { 0 } else { cost_now / 50 * i64::from(rounds - round) / i64::from(rounds) };
            if cost <= cost_now + slack {
                (now, cost_now) = (tried, cost);
                if cost < least {
                    (best, least) = (now.clone(), cost);
                }
            }
        }
        best
    }

    fn below(&mut self, count: usize) -> usize {
        usize::try_from((u64::from(self.draws.next_u32()) * count as u64) >> 32).unwrap_or(0)
    }

    /// Lays all walls one after another, in an order drawn, each where it is cheapest by the costs of a guide among those laid before.
    pub(crate) fn guided(&mut self, guide: &[i64], domain: &Domain) -> Option<Vec<Set>> {
        let mut order: Vec<usize> = (0..self.forest.groups.len()).collect();
        for at in (1..order.len()).rev() {
            let other = self.below(at + 1);
            order.swap(at, other);
        }
        let mut sets = vec![Set { start: 0, end: 0, way: 0 }; self.domain.within.len()];
        let mut placed = vec![false; sets.len()];
        let laid = order.into_iter().all(|group| self.lay(group, &mut sets, &mut placed, Some((guide, domain))));
        (laid && self.forest.compiled.keeps(&sets)).then_some(sets)
    }

    /// Lays a group where it is cheapest among what is placed.
    fn lay(&mut self, group: usize, sets: &mut [Set], placed: &mut [bool], guide: Option<(&[i64], &Domain)>) -> bool {
        self.surround(sets, placed);
        let tasks = &self.forest.groups[group];
        for &task in tasks {
            self.price(task, sets, placed, guide);
        }
        let within = guide.map_or(&self.domain.within, |(_, domain)| &domain.within);
        let sum = self.reckoned.upwards(self.forest, tasks, &self.cost, &self.none, within);
        if sum >= TAKEN / 2 || !can_be(sum) || !self.reckoned.pick(self.forest, tasks, &self.none, within, sets) {
            return false;
        }
        tasks.iter().for_each(|&task| placed[task] = true);
        true
    }

    /// Takes up what is placed: when gangs are at work, and in which slots no set of a scaffold is left.
    fn surround(&mut self, sets: &[Set], placed: &[bool]) {
        let (slots, compiled) = (self.forest.slots, self.forest.compiled);
        for (gang, about) in self.gangs.iter_mut().enumerate() {
            let mine = |task: &usize| placed[*task] && compiled.tasks[*task].ways[sets[*task].way].gang == gang;
            about.reckon(slots, (0..sets.len()).filter(mine).map(|task| sets[task]));
        }
        for (scaffold, stands) in self.stands.iter_mut().enumerate() {
            let mut standing = vec![0_u32; slots];
            let both = |span: &&CompiledSpan| span.scaffold == scaffold && placed[span.first] && placed[span.last];
            for span in compiled.spans.iter().filter(both) {
                let (from, to) = (sets[span.first].start, span.free_again[sets[span.last].end]);
                standing.iter_mut().take(to).skip(from).for_each(|count| *count += 1);
            }
            let most = compiled.instance.scaffolds[scaffold].sets;
            for (slot, &standing) in standing.iter().enumerate() {
                stands[slot + 1] = stands[slot] + if standing >= most { TAKEN } else { 0 };
            }
        }
    }

    fn price(&mut self, task: usize, sets: &[Set], placed: &[bool], guide: Option<(&[i64], &Domain)>) {
        let (forest, compiled) = (self.forest, self.forest.compiled);
        let ended = sets.iter().enumerate().filter(|&(task, _)| placed[task]).map(|(_, set)| set.end).max().unwrap_or(0);
        let last = compiled.tasks[task].gaps_after.is_empty();
        let domain = guide.map_or(&self.domain, |(_, domain)| domain);
        let (from, to) = domain.within[task];
        for (way, done) in compiled.tasks[task].ways.iter().enumerate() {
            let (about, visit, patience) = (&self.gangs[done.gang], self.charges.visit[done.gang], self.charges.patience[done.gang]);
            for start in from..to + 1 {
                let choice = forest.first[task] + way * forest.slots + start;
                let end = start + done.length;
                if !domain.open[choice] || about.taken_before[end] > about.taken_before[start] {
                    self.cost[choice] = NEVER;
                    continue;
                }
                if let Some((guide, _)) = guide {
                    self.cost[choice] = guide[choice];
                    continue;
                }
                let mut cost = self.charges.own[choice];
                if visit > 0 {
                    let (before, after) = (about.ended[start], about.next[end]);
                    let joins = before.is_some_and(|before| start - before <= patience);
                    let joined = after.is_some_and(|after| after - end <= patience);
                    let linked = before.zip(after).is_some_and(|(before, after)| after - before <= patience);
                    cost += visit * (1 + i64::from(linked) - i64::from(joins) - i64::from(joined));
                }
                if last {
                    cost += self.time[end.max(ended)] - self.time[ended];
                }
                self.cost[choice] = cost;
            }
        }
        for span in &compiled.spans {
            let stands = &self.stands[span.scaffold];
            for (way, done) in compiled.tasks[task].ways.iter().enumerate() {
                let at = forest.first[task] + way * forest.slots;
                for start in from..to + 1 {
                    if !can_be(self.cost[at + start]) {
                        continue;
                    }
                    if span.first == task {
                        self.cost[at + start] -= stands[start];
                    }
                    if span.last == task {
                        self.cost[at + start] += stands[span.free_again[start + done.length]];
                    }
                }
            }
        }
    }
}

impl Compiled<'_> {
    /// True when a schedule keeps every rule, its tasks' own left aside.
    pub(crate) fn keeps(&self, sets: &[Set]) -> bool {
        let gaps = self.gaps.iter().all(|gap| gap.earliest[sets[gap.before].end] <= sets[gap.after].start);
        gaps && (0..sets.len()).all(|task| self.undisturbed(task, sets))
    }
}
