//! Tasks as trees of what follows what, and the cheapest places of a whole tree, exactly, by dynamic programming over the open slots: the cost of a place is
//! whatever its asker says. Where a task follows several, one of the gaps alone is kept, so that an answer is then a bound and no plan. It must never
//! know what the costs stand for.

use crate::axis::Compiled;
use crate::serial::Set;

/// The cost of a place that is not open; sums of some of them must stay within 64 bits.
pub(crate) const NEVER: i64 = 1 << 52;

/// True for what can be had: no sum of true costs comes near half of [`NEVER`].
pub(crate) fn can_be(cost: i64) -> bool {
    cost < NEVER / 2
}

/// The trees. A choice is a task with a way and the open slot in which it begins; the choices of a task stand in a row, way by way.
pub(crate) struct Forest<'c> {
    pub(crate) compiled: &'c Compiled<'c>,
    /// Open slots.
    pub(crate) slots: usize,
    /// Where the choices of each task begin, and where those of the last end.
    pub(crate) first: Vec<usize>,
    /// The gap kept before each task.
    before: Vec<Option<usize>>,
    /// The gaps kept after each task.
    after: Vec<Vec<usize>>,
    /// Tasks, each after the one it follows.
    pub(crate) order: Vec<usize>,
    /// Tasks that nothing follows.
    pub(crate) last: Vec<usize>,
    /// The tasks that hang together by gaps, as lists.
    pub(crate) groups: Vec<Vec<usize>>,
}

impl<'c> Forest<'c> {
    pub(crate) fn new(compiled: &'c Compiled<'c>) -> Self {
        let slots = compiled.axis.len();
        let tasks = compiled.tasks.len();
        let mut first = vec![0];
        for task in &compiled.tasks {
            first.push(first[first.len() - 1] + task.ways.len() * slots);
        }
        let before: Vec<Option<usize>> = compiled.tasks.iter().map(|task| task.gaps_before.first().copied()).collect();
        let kept =
            |task: usize| compiled.tasks[task].gaps_after.iter().copied().filter(|&gap| before[compiled.gaps[gap].after] == Some(gap));
        let after = (0..tasks).map(|task| kept(task).collect()).collect();
        let last = (0..tasks).filter(|&task| compiled.tasks[task].gaps_after.is_empty()).collect();
        Self { compiled, slots, first, before, after, order: compiled.order(), last, groups: groups(compiled) }
    }

    pub(crate) fn choices(&self) -> usize {
        self.first[self.first.len() - 1]
    }

    pub(crate) fn choice(&self, task: usize, set: &Set) -> usize {
        self.first[task] + set.way * self.slots + set.start
    }

    pub(crate) fn set(&self, task: usize, choice: usize) -> Set {
        let (way, start) = ((choice - self.first[task]) / self.slots, (choice - self.first[task]) % self.slots);
        Set { start, end: start + self.compiled.tasks[task].ways[way].length, way }
    }
}

/// Tasks that hang together by gaps, whichever way.
fn groups(compiled: &Compiled) -> Vec<Vec<usize>> {
    let mut group: Vec<usize> = (0..compiled.tasks.len()).collect();
    for gap in &compiled.gaps {
        let (one, other) = (group[gap.before], group[gap.after]);
        group.iter_mut().filter(|group| **group == other).for_each(|group| *group = one);
    }
    let order = compiled.order();
    let lists = (0..group.len()).map(|name| order.iter().copied().filter(|&task| group[task] == name).collect::<Vec<_>>());
    lists.filter(|list| !list.is_empty()).collect()
}

/// What it costs that a gang comes anew to a task, where nothing but the task before can have kept it: per gang, the cost and the open slots it may
/// stand idle before.
pub(crate) struct Arrivals {
    pub(crate) cost: Vec<i64>,
    pub(crate) patience: Vec<usize>,
}

/// What the trees come to under one set of costs.
pub(crate) struct Reckoned {
    /// Per choice, the cheapest of it with all that follows; [`NEVER`] or more where there is none.
    pub(crate) best: Vec<i64>,
    /// Per way of a task and open slot, and one more, the cheapest choice that begins there or later.
    least_from: Vec<i64>,
    /// Per choice, the cheapest of what is not after it in its tree.
    outside: Vec<i64>,
}

/// Until which slot a gang that was last at work at a choice's end, or before its beginning, would still be there.
fn stays_until(forest: &Forest, arrivals: &Arrivals, (task, set): (usize, Set), gang: usize) -> usize {
    let same = forest.compiled.tasks[task].ways[set.way].gang == gang;
    (if same { set.end } else { set.start }) + arrivals.patience[gang]
}

impl Reckoned {
    pub(crate) fn new(forest: &Forest) -> Self {
        let rows = forest.choices() / forest.slots;
        Self { best: vec![NEVER; forest.choices()], least_from: vec![NEVER; rows * (forest.slots + 1)], outside: vec![0; forest.choices()] }
    }

    fn row(forest: &Forest, task: usize, way: usize) -> usize {
        (forest.first[task] / forest.slots + way) * (forest.slots + 1)
    }

    /// The cheapest way to go on from a choice with a task that follows it.
    fn onwards(&self, forest: &Forest, arrivals: &Arrivals, within: &[(usize, usize)], from: (usize, Set), gap: usize) -> i64 {
        let gap = &forest.compiled.gaps[gap];
        let earliest = gap.earliest[from.1.end];
        let mut least = NEVER;
        for (way, done) in forest.compiled.tasks[gap.after].ways.iter().enumerate() {
            let row = Self::row(forest, gap.after, way);
            let cost = arrivals.cost[done.gang];
            if cost == 0 {
                least = least.min(self.least_from[row + earliest]);
                continue;
            }
            let until = (stays_until(forest, arrivals, from, done.gang) + 1).min(forest.slots);
            let at = forest.first[gap.after] + way * forest.slots;
            let (first, last) = within[gap.after];
            for start in earliest.max(first)..until.min(last + 1) {
                least = least.min(self.best[at + start]);
            }
            least = least.min(self.least_from[row + earliest.max(until)] + cost);
        }
        least
    }

    /// Reckons the given tasks (whole trees, each after the one it follows) from the last to the first, and gives the sum of the trees. `within`
    /// holds for each task the first and the last slot in which it may begin.
    pub(crate) fn upwards(
        &mut self,
        forest: &Forest,
        tasks: &[usize],
        cost: &[i64],
        arrivals: &Arrivals,
        within: &[(usize, usize)],
    ) -> i64 {
        let mut sum = 0_i64;
        for &task in tasks.iter().rev() {
            let (from, to) = within[task];
            for (way, done) in forest.compiled.tasks[task].ways.iter().enumerate() {
                let at = forest.first[task] + way * forest.slots;
                let row = Self::row(forest, task, way);
                self.least_from[row + (to + 1).min(forest.slots)..row + forest.slots + 1].fill(NEVER);
                let mut least = NEVER;
                for start in (from..(to + 1).min(forest.slots)).rev() {
                    let mut total = cost[at + start];
                    if can_be(total) {
                        for &gap in &forest.after[task] {
                            total += self.onwards(forest, arrivals, within, (task, Set { start, end: start + done.length, way }), gap);
                        }
                    }
                    total = if can_be(total) { total } else { NEVER };
                    self.best[at + start] = total;
                    least = least.min(total);
                    self.least_from[row + start] = least;
                }
                self.least_from[row..row + from.min(forest.slots)].fill(least);
            }
            if forest.before[task].is_none() {
                sum = (sum + self.least(forest, task)).min(NEVER);
            }
        }
        sum
    }

    /// The cheapest of a task's choices.
    fn least(&self, forest: &Forest, task: usize) -> i64 {
        let ways = 0..forest.compiled.tasks[task].ways.len();
        ways.map(|way| self.least_from[Self::row(forest, task, way)]).min().unwrap_or(NEVER)
    }

    /// After [`Self::upwards`], reckons what is outside each task's own tree, from the first to the last.
    pub(crate) fn downwards(&mut self, forest: &Forest, tasks: &[usize], arrivals: &Arrivals, within: &[(usize, usize)]) {
        let slots = forest.slots;
        for &task in tasks {
            let (own, next) = (forest.first[task], forest.first[task + 1]);
            let Some(gap) = forest.before[task] else {
                self.outside[own..next].fill(0);
                continue;
            };
            self.outside[own..next].fill(NEVER);
            let earlier = forest.compiled.gaps[gap].before;
            let (from, to) = within[earlier];
            for way in 0..forest.compiled.tasks[earlier].ways.len() {
                for start in from..(to + 1).min(slots) {
                    let choice = forest.first[earlier] + way * slots + start;
                    if can_be(self.best[choice]) && can_be(self.outside[choice]) {
                        self.spread(forest, arrivals, within, (earlier, choice), gap);
                    }
                }
            }
            for way in 0..forest.compiled.tasks[task].ways.len() {
                for start in own + way * slots + 1..own + (way + 1) * slots {
                    self.outside[start] = self.outside[start].min(self.outside[start - 1]);
                }
            }
        }
    }

    /// Tells the choices of a task that follows one what this one costs with all that is outside them; where the gang would come anew, from the first
    /// slot on in which it would. Sooner ones are told no more than that, which can only be less than they cost.
    fn spread(&mut self, forest: &Forest, arrivals: &Arrivals, within: &[(usize, usize)], (earlier, choice): (usize, usize), gap: usize) {
        let set = forest.set(earlier, choice);
        let without = self.best[choice] + self.outside[choice] - self.onwards(forest, arrivals, within, (earlier, set), gap);
        let gap = &forest.compiled.gaps[gap];
        let earliest = gap.earliest[set.end];
        for (way, done) in forest.compiled.tasks[gap.after].ways.iter().enumerate() {
            let at = forest.first[gap.after] + way * forest.slots;
            let until = stays_until(forest, arrivals, (earlier, set), done.gang);
            let cost = if earliest > until { arrivals.cost[done.gang] } else { 0 };
            if earliest < forest.slots {
                let outside = &mut self.outside[at + earliest];
                *outside = (without + cost).min(*outside);
            }
        }
    }

    /// After [`Self::downwards`], how much dearer than its cheapest a choice's tree is that takes it, at least.
    pub(crate) fn dearer(&self, forest: &Forest, task: usize, choice: usize) -> i64 {
        let mut root = task;
        while let Some(gap) = forest.before[root] {
            root = forest.compiled.gaps[gap].before;
        }
        self.best[choice] + self.outside[choice] - self.least(forest, root)
    }

    /// The cheapest choices after [`Self::upwards`]; `false` where a task has none.
    pub(crate) fn pick(
        &self,
        forest: &Forest,
        tasks: &[usize],
        arrivals: &Arrivals,
        within: &[(usize, usize)],
        picked: &mut [Set],
    ) -> bool {
        tasks.iter().all(|&task| {
            let before = forest.before[task].map(|gap| &forest.compiled.gaps[gap]);
            let earliest = before.map_or(0, |gap| gap.earliest[picked[gap.before].end]);
            let mut found: Option<(i64, Set)> = None;
            for (way, done) in forest.compiled.tasks[task].ways.iter().enumerate() {
                let until = before.map(|gap| stays_until(forest, arrivals, (gap.before, picked[gap.before]), done.gang));
                for start in earliest.max(within[task].0)..(within[task].1 + 1).min(forest.slots) {
                    let anew = if until.is_some_and(|until| start > until) { arrivals.cost[done.gang] } else { 0 };
                    let total = self.best[forest.first[task] + way * forest.slots + start] + anew;
                    if found.is_none_or(|(least, _)| total < least) {
                        found = Some((total, Set { start, end: start + done.length, way }));
                    }
                }
            }
            let Some((_, set)) = found.filter(|&(total, _)| can_be(total)) else { return false };
            picked[task] = set;
            true
        })
    }

    /// How often gangs come anew in what was picked, by gang.
    pub(crate) fn arrivals(forest: &Forest, arrivals: &Arrivals, picked: &[Set], count: &mut [f64]) {
        for (task, set) in picked.iter().enumerate() {
            let Some(gap) = forest.before[task] else { continue };
            let before = forest.compiled.gaps[gap].before;
            let gang = forest.compiled.tasks[task].ways[set.way].gang;
            if set.start > stays_until(forest, arrivals, (before, picked[before]), gang) {
                count[gang] += 1.0;
            }
        }
    }
}
