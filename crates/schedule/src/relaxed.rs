//! A bound beneath every plan: walls alone, gangs alone, scaffold alone, each at its cheapest under prices of the slots that they share (a Lagrangian
//! relaxation; M. L. Fisher, Management Science 27 (1981) 1-18, from memory). Whatever the prices, what it comes to is beneath every plan; good prices
//! bring it close. Reckoned in whole numbers, so that no rounding can make it more than it is. It must never make a plan.

use crate::Aim;
use crate::axis::Compiled;
use crate::forest::{Arrivals, Forest, NEVER, Reckoned, can_be};
use crate::serial::Set;
use crate::visits::Worked;

/// Parts into which a unit is divided.
pub(crate) const PARTS: i64 = 1 << 8;

/// Which choices are open still.
#[derive(Clone)]
pub(crate) struct Domain {
    pub(crate) open: Vec<bool>,
    /// Per task, the first and the last slot in which it may begin; the first is later than the last where there is none.
    pub(crate) within: Vec<(usize, usize)>,
}

impl Domain {
    /// Every choice that the rules for a task alone allow.
    pub(crate) fn all(forest: &Forest) -> Self {
        let mut open = Vec::with_capacity(forest.choices());
        for task in &forest.compiled.tasks {
            for way in &task.ways {
                let in_time = |start: usize| start + way.length <= task.latest_end;
                open.extend(way.may_begin.iter().enumerate().map(|(start, &may)| may && in_time(start)));
            }
        }
        let mut domain = Self { open, within: vec![(0, forest.slots - 1); forest.compiled.tasks.len()] };
        domain.tighten(forest);
        domain
    }

    /// Draws the first and last slots in to what is open.
    pub(crate) fn tighten(&mut self, forest: &Forest) {
        for task in 0..self.within.len() {
            let (from, to) = self.within[task];
            let ways = forest.compiled.tasks[task].ways.len();
            let open = |start: &usize| (0..ways).any(|way| self.open[forest.first[task] + way * forest.slots + start]);
            let found = (from..(to + 1).min(forest.slots)).find(open);
            self.within[task] = match found {
                Some(first) => (first, (first..=to).rev().find(open).unwrap_or(first)),
                None => (1, 0),
            };
        }
    }

    /// True where a task has no choice left.
    pub(crate) fn is_empty(&self) -> bool {
        self.within.iter().any(|&(from, to)| from > to)
    }

    /// The open choices of a task.
    pub(crate) fn of<'d>(&'d self, forest: &'d Forest, task: usize) -> impl Iterator<Item = usize> + 'd {
        let (from, to) = self.within[task];
        let ways = 0..forest.compiled.tasks[task].ways.len();
        let row = move |way: usize| (from..to + 1).map(move |start| forest.first[task] + way * forest.slots + start);
        ways.flat_map(row).filter(|&choice| self.open[choice])
    }
}

/// What things cost, in parts of a unit.
pub(crate) struct Charges {
    /// Per choice, what it costs whatever the others do: lateness, charge, and scaffold as what is to pay from its beginning or until its end.
    pub(crate) own: Vec<i64>,
    /// Per open slot, what it costs that the last task ends after it.
    pub(crate) time: Vec<i64>,
    /// Per gang, what a visit costs.
    pub(crate) visit: Vec<i64>,
    pub(crate) patience: Vec<usize>,
}

impl Charges {
    pub(crate) fn new(forest: &Forest, aim: Aim, unit: i64) -> Self {
        let compiled = forest.compiled;
        let gangs = &compiled.instance.gangs;
        let patience = gangs.iter().map(|gang| gang.patience as usize).collect();
        match aim {
            Aim::Finish => Self { own: vec![0; forest.choices()], time: vec![PARTS; forest.slots], visit: vec![0; gangs.len()], patience },
            Aim::Cost => {
                let parts = |pence: i64| pence / unit * PARTS;
                let ends = |rank: usize| i64::from(compiled.axis.end(rank));
                let time = |rank: usize| parts(compiled.instance.per_slot) * (ends(rank + 1) - ends(rank));
                let mut own = vec![0; forest.choices()];
                for task in 0..compiled.tasks.len() {
                    add_own(forest, task, &parts, &mut own);
                }
                let visit = gangs.iter().map(|gang| parts(gang.visit)).collect();
                Self { own, time: (0..forest.slots).map(time).collect(), visit, patience }
            }
        }
    }
}

fn add_own(forest: &Forest, task: usize, parts: &dyn Fn(i64) -> i64, own: &mut [i64]) {
    let compiled = forest.compiled;
    for (way, done) in compiled.tasks[task].ways.iter().enumerate() {
        for start in 0..(forest.slots + 1).saturating_sub(done.length) {
            let set = Set { start, end: start + done.length, way };
            let mut pence = compiled.own(task, &set);
            for span in compiled.instance.spans.iter() {
                if span.first == task {
                    pence -= i64::from(span.per_slot) * i64::from(compiled.axis.start(start));
                }
                if span.last == task {
                    pence += i64::from(span.per_slot) * i64::from(compiled.axis.end(set.end).saturating_add(span.stays));
                }
            }
            own[forest.choice(task, &set)] = parts(pence);
        }
    }
}

/// Prices of what is shared, in parts of a unit, in one row: each slot of each gang, of each scaffold, the slots until the end for each task that
/// nothing follows, and the part of each gang's visit that the trees alone tell.
#[derive(Clone)]
pub(crate) struct Prices {
    pub(crate) of: Vec<f64>,
}

/// True where all that a gang can do stands on one set of scaffold that serves a wall at a time, each wall a chain from its first task to its last: then
/// nothing but the task before can have kept it between two tasks of a wall.
fn alone(forest: &Forest, gang: usize) -> bool {
    let compiled = forest.compiled;
    let can = |task: usize| compiled.tasks[task].ways.iter().any(|way| way.gang == gang);
    let mut scaffold = None;
    (0..compiled.tasks.len()).filter(|&task| can(task)).all(|task| {
        let Some(group) = forest.groups.iter().find(|group| group.contains(&task)) else { return false };
        let chain = group.windows(2).all(|pair| {
            compiled.tasks[pair[1]].gaps_before.iter().all(|&gap| compiled.gaps[gap].before == pair[0])
                && !compiled.tasks[pair[1]].gaps_before.is_empty()
        });
        let span = compiled.spans.iter().find(|span| Some(&span.first) == group.first() && Some(&span.last) == group.last());
        let Some(span) = span.filter(|span| chain && compiled.instance.scaffolds[span.scaffold].sets == 1) else { return false };
        scaffold.get_or_insert(span.scaffold) == &span.scaffold
    })
}

/// The relaxation.
pub(crate) struct Relaxed<'f> {
    pub(crate) forest: &'f Forest<'f>,
    pub(crate) charges: &'f Charges,
    aim: Aim,
    unit: i64,
    /// Gangs, scaffolds and last tasks.
    gangs: usize,
    scaffolds: usize,
    pub(crate) cost: Vec<i64>,
    reckoned: Reckoned,
    worked: Vec<Worked>,
    /// Prices as whole parts, and what they add up to before each slot.
    whole: Vec<i64>,
    before: Vec<i64>,
    can: Vec<Vec<bool>>,
    must: Vec<bool>,
    /// Per gang, whether nothing but the task before can keep it between two tasks of a tree.
    alone: Vec<bool>,
    arrivals: Arrivals,
    pub(crate) picked: Vec<Set>,
    /// How much use exceeds what there is, per price.
    pub(crate) slope: Vec<f64>,
}

impl<'f> Relaxed<'f> {
    pub(crate) fn new(forest: &'f Forest<'f>, charges: &'f Charges, (aim, unit): (Aim, i64)) -> Self {
        let compiled = forest.compiled;
        let (gangs, scaffolds) = (compiled.instance.gangs.len(), compiled.instance.scaffolds.len());
        let rows = gangs + scaffolds + forest.last.len();
        let needed = |gang: usize| compiled.tasks.iter().any(|task| task.ways.iter().all(|way| way.gang == gang));
        Self {
            forest,
            charges,
            aim,
            unit,
            gangs,
            scaffolds,
            cost: vec![NEVER; forest.choices()],
            reckoned: Reckoned::new(forest),
            worked: vec![Worked::default(); gangs],
            whole: vec![0; rows * forest.slots],
            before: vec![0; rows * (forest.slots + 1)],
            can: vec![vec![true; forest.slots]; gangs],
            must: (0..gangs).map(needed).collect(),
            alone: (0..gangs).map(|gang| alone(forest, gang)).collect(),
            arrivals: Arrivals { cost: vec![0; gangs], patience: charges.patience.clone() },
            picked: vec![Set { start: 0, end: 0, way: 0 }; compiled.tasks.len()],
            slope: vec![0.0; rows * forest.slots + gangs],
        }
    }

    /// Prices to begin with: nothing for gangs and scaffolds, the time shared evenly.
    pub(crate) fn prices(&self) -> Prices {
        let shared = (self.gangs + self.scaffolds) * self.forest.slots;
        let mut of = vec![0.0; shared];
        for _ in &self.forest.last {
            of.extend(self.charges.time.iter().map(|&time| time as f64 / self.forest.last.len() as f64));
        }
        of.extend((0..self.gangs).map(|gang| if self.alone[gang] { self.charges.visit[gang] as f64 / 2.0 } else { 0.0 }));
        Prices { of }
    }

    /// Makes prices ones that may be: none below nought for scaffold; for each slot of time together no more than it costs (the nearest such, by
    /// the projection on a simplex).
    pub(crate) fn allow(&self, prices: &mut Prices) {
        let slots = self.forest.slots;
        let (scaffolds, time) = (self.gangs * slots, (self.gangs + self.scaffolds) * slots);
        prices.of[scaffolds..time].iter_mut().for_each(|price| *price = price.max(0.0));
        let parts = prices.of.len() - self.gangs;
        for (gang, part) in prices.of[parts..].iter_mut().enumerate() {
            *part = if self.alone[gang] { part.clamp(0.0, self.charges.visit[gang] as f64) } else { 0.0 };
        }
        let lasts = self.forest.last.len();
        let mut sorted = Vec::with_capacity(lasts);
        for slot in 0..slots {
            let total = self.charges.time[slot] as f64;
            if total <= 0.0 {
                // Time that costs nothing has no price for anybody: the threshold below would leave the largest as it stands.
                (0..lasts).for_each(|last| prices.of[time + last * slots + slot] = 0.0);
                continue;
            }
            sorted.clear();
            sorted.extend((0..lasts).map(|last| prices.of[time + last * slots + slot]));
            sorted.sort_unstable_by(|one, other| other.total_cmp(one));
            let (mut sum, mut off) = (0.0, 0.0);
            for (number, &price) in sorted.iter().enumerate() {
                sum += price;
                let over = (sum - total) / (number + 1) as f64;
                if price > over {
                    off = over;
                }
            }
            for last in 0..lasts {
                let price = &mut prices.of[time + last * slots + slot];
                *price = (*price - off).max(0.0);
            }
        }
    }

    /// Takes up a domain: in which slots somebody could work on each gang.
    pub(crate) fn take(&mut self, domain: &Domain) {
        let (forest, compiled) = (self.forest, self.forest.compiled);
        self.can.iter_mut().for_each(|can| can.fill(false));
        for task in 0..compiled.tasks.len() {
            for choice in domain.of(forest, task) {
                let set = forest.set(task, choice);
                self.can[compiled.tasks[task].ways[set.way].gang][set.start..set.end].fill(true);
            }
        }
    }

    /// What the cheapest walls, gangs and scaffolds come to under prices, in parts of a unit; [`NEVER`] where some wall has no place.
    pub(crate) fn bound(&mut self, domain: &Domain, prices: &Prices) -> i64 {
        self.round(prices);
        self.price(domain);
        let walls = self.reckoned.upwards(self.forest, &self.forest.order, &self.cost, &self.arrivals, &domain.within);
        if !can_be(walls) {
            return NEVER;
        }
        let slots = self.forest.slots;
        let mut sum = walls;
        for gang in 0..self.gangs {
            let price = &self.whole[gang * slots..(gang + 1) * slots];
            let part = self.arrivals.cost[gang];
            let terms = (self.charges.visit[gang] - part, self.charges.patience[gang]);
            // Its first task of all is one for which it comes, and no tree counts it.
            sum += if self.gangs == 1 { part } else { 0 };
            sum -= self.worked[gang].forwards(price, &self.can[gang], terms, self.must[gang]);
        }
        for (scaffold, told) in self.forest.compiled.instance.scaffolds.iter().enumerate() {
            let all = self.before[(self.gangs + scaffold) * (slots + 1) + slots];
            sum -= all * i64::from(told.sets);
        }
        sum.min(NEVER)
    }

    /// Whole parts, never more than may be.
    fn round(&mut self, prices: &Prices) {
        let slots = self.forest.slots;
        for gang in 0..self.gangs {
            self.arrivals.cost[gang] = prices.of[prices.of.len() - self.gangs + gang] as i64;
        }
        for (row, whole) in self.whole.chunks_mut(slots).enumerate() {
            let before = &mut self.before[row * (slots + 1)..(row + 1) * (slots + 1)];
            for slot in 0..slots {
                // Cut off towards nought: a sum that may be stays one.
                whole[slot] = prices.of[row * slots + slot] as i64;
                before[slot + 1] = before[slot] + whole[slot];
            }
        }
    }

    fn sums(&self, row: usize) -> &[i64] {
        &self.before[row * (self.forest.slots + 1)..(row + 1) * (self.forest.slots + 1)]
    }

    /// The cost of each choice under the prices.
    fn price(&mut self, domain: &Domain) {
        let compiled = self.forest.compiled;
        let slots = self.forest.slots;
        let mut cost = std::mem::take(&mut self.cost);
        for (number, task) in compiled.tasks.iter().enumerate() {
            let (from, to) = domain.within[number];
            let last = self.forest.last.iter().position(|&last| last == number);
            for (way, done) in task.ways.iter().enumerate() {
                let at = self.forest.first[number] + way * slots;
                let gang = self.sums(done.gang);
                for start in from..to + 1 {
                    let choice = at + start;
                    cost[choice] =
                        if domain.open[choice] { self.charges.own[choice] + gang[start + done.length] - gang[start] } else { NEVER };
                }
                for span in compiled.spans.iter() {
                    let stands = self.sums(self.gangs + span.scaffold);
                    if span.first == number {
                        (from..to + 1).filter(|&start| domain.open[at + start]).for_each(|start| cost[at + start] -= stands[start]);
                    }
                    if span.last == number {
                        let open = (from..to + 1).filter(|&start| domain.open[at + start]);
                        open.for_each(|start| cost[at + start] += stands[span.free_again[start + done.length]]);
                    }
                }
                if let Some(last) = last {
                    let time = self.sums(self.gangs + self.scaffolds + last);
                    let open = (from..to + 1).filter(|&start| domain.open[at + start]);
                    open.for_each(|start| cost[at + start] += time[start + done.length]);
                }
            }
        }
        self.cost = cost;
    }

    /// After [`Self::bound`], picks the cheapest walls and reckons by how much they use more than there is.
    pub(crate) fn pick(&mut self, domain: &Domain) {
        let (forest, slots) = (self.forest, self.forest.slots);
        let mut picked = std::mem::take(&mut self.picked);
        // The bound was one that can be, so every task has a place.
        let _ = self.reckoned.pick(forest, &forest.order, &self.arrivals, &domain.within, &mut picked);
        self.picked = picked;
        self.slope.fill(0.0);
        self.use_of_gangs();
        self.use_of_scaffolds();
        for (last, &task) in forest.last.iter().enumerate() {
            let row = (self.gangs + self.scaffolds + last) * slots;
            self.slope[row..row + self.picked[task].end].fill(1.0);
        }
    }

    fn use_of_gangs(&mut self) {
        let (forest, slots) = (self.forest, self.forest.slots);
        for (task, set) in self.picked.iter().enumerate() {
            let gang = forest.compiled.tasks[task].ways[set.way].gang;
            self.slope[gang * slots + set.start..gang * slots + set.end].iter_mut().for_each(|used| *used += 1.0);
        }
        for (gang, worked) in self.worked.iter().enumerate() {
            worked.add(-1.0, &mut self.slope[gang * slots..(gang + 1) * slots]);
            let at = self.slope.len() - self.gangs + gang;
            let visits = worked.visits(self.charges.patience[gang]) as f64;
            self.slope[at] = if self.gangs == 1 { 1.0 - visits } else { -visits };
        }
        let at = self.slope.len() - self.gangs;
        Reckoned::arrivals(forest, &self.arrivals, &self.picked, &mut self.slope[at..]);
        (0..self.gangs).filter(|&gang| !self.alone[gang]).for_each(|gang| self.slope[at + gang] = 0.0);
    }

    fn use_of_scaffolds(&mut self) {
        let (forest, slots) = (self.forest, self.forest.slots);
        for span in &forest.compiled.spans {
            let row = (self.gangs + span.scaffold) * slots;
            let (from, to) = (self.picked[span.first].start, span.free_again[self.picked[span.last].end]);
            if from < to {
                self.slope[row + from..row + to].iter_mut().for_each(|used| *used += 1.0);
            }
        }
        for (scaffold, told) in forest.compiled.instance.scaffolds.iter().enumerate() {
            let row = (self.gangs + scaffold) * slots;
            self.slope[row..row + slots].iter_mut().for_each(|used| *used -= f64::from(told.sets));
        }
    }

    /// Takes a schedule as the best where it keeps every rule and comes to less.
    pub(crate) fn consider(&self, sets: &[Set], best: &mut Option<(i64, Vec<Set>)>) {
        let compiled = self.forest.compiled;
        let units = compiled.in_units(self.aim, self.unit, sets);
        if best.as_ref().is_none_or(|&(least, _)| units < least) && compiled.keeps(sets) {
            *best = Some((units, sets.to_vec()));
        }
    }

    /// After [`Self::bound`], closes every choice with which nothing can come to `most` or less, and tells how many.
    pub(crate) fn close(&mut self, domain: &mut Domain, bound: i64, most: i64) -> usize {
        let forest = self.forest;
        self.reckoned.downwards(forest, &forest.order, &self.arrivals, &domain.within);
        for gang in 0..self.gangs {
            let visit = self.charges.visit[gang] - self.arrivals.cost[gang];
            self.worked[gang].backwards(&self.can[gang], (visit, self.charges.patience[gang]));
        }
        let mut closed = 0;
        for task in 0..domain.within.len() {
            let choices: Vec<usize> = domain.of(forest, task).collect();
            for choice in choices {
                let set = forest.set(task, choice);
                let gang = forest.compiled.tasks[task].ways[set.way].gang;
                let wall = self.reckoned.dearer(forest, task, choice);
                let with = if can_be(wall) { bound + wall + self.worked[gang].dearer(set.start, set.end) } else { NEVER };
                if with > most {
                    domain.open[choice] = false;
                    closed += 1;
                }
            }
        }
        if closed > 0 {
            domain.tighten(forest);
        }
        closed
    }
}

impl Compiled<'_> {
    /// What is to be made least, in units, of a schedule that keeps every rule: open slots or money.
    pub(crate) fn in_units(&self, aim: Aim, unit: i64, sets: &[Set]) -> i64 {
        match aim {
            Aim::Finish => i64::try_from(sets.iter().map(|set| set.end).max().unwrap_or(0)).unwrap_or(i64::MAX),
            Aim::Cost => self.weigh(Aim::Cost, sets) / unit,
        }
    }
}
