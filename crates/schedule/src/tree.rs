//! The proof by cases: the question halved again and again (a task begins by a slot or after it, one gang does it or another), each part with its bound
//! ([`crate::relaxed`]), until no part can hold a better plan. On the way plans are made from the prices. It must never drop a part that its bound, or
//! what follows at once from its slots, does not rule out.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::forest::{Forest, NEVER, can_be};
use crate::insert::Insert;
use crate::narrow::narrow;
use crate::relaxed::{Domain, PARTS, Prices, Relaxed};
use crate::serial::Set;

/// Reckonings of the bound for the whole question, for a part of it, and for a case that is only tried.
const FOR_ALL: u32 = 1_500;
const FOR_PART: u32 = 60;
const FOR_TRIAL: u32 = 10;
/// Cases tried before one is chosen.
const CASES: usize = 8;
/// Reckonings between two looks at which choices can be closed, and between two plans made from the prices.
const UNTIL_CLOSING: u32 = 15;
const UNTIL_PLAN: u32 = 20;
/// Rounds in which such a plan is bettered.
const BETTERED: u32 = 10;
/// How much of the last direction a step keeps, and by how much less each reckoning before the last weighs in the shares.
const KEPT: f64 = 0.7;
const GROWTH: f64 = 1.06;
/// Reckonings without gain after which steps become shorter, and by how much.
const WITHOUT_GAIN: u32 = 12;
const SHORTER: f64 = 0.7;
/// How many slots of spread a gang that is quite undecided counts for. Found by trying a few values on the made instances.
const UNDECIDED: f64 = 5.0;

/// Two halves of a part.
#[derive(Clone, Copy)]
enum Case {
    /// A task begins by a slot, or after it.
    By { task: usize, slot: usize },
    /// A task is done in a way, or in another.
    Way { task: usize, way: usize },
}

/// A part of the question.
struct Part {
    domain: Domain,
    prices: Prices,
    /// Nothing in it comes to less, in parts of a unit.
    bound: i64,
    /// How it may be halved, the most promising first.
    cases: Vec<Case>,
}

impl Part {
    fn copy(&self) -> Self {
        Part { domain: self.domain.clone(), prices: self.prices.clone(), bound: self.bound, cases: Vec::new() }
    }
}

/// The parts still open.
pub(crate) struct Tree<'f, 'w> {
    relaxed: Relaxed<'f>,
    insert: Insert<'f>,
    /// The best plan known, in units.
    pub(crate) best: Option<(i64, Vec<Set>)>,
    /// Reckonings so far.
    pub(crate) steps: u64,
    until: u64,
    cancel: &'w dyn Fn() -> bool,
    pub(crate) cancelled: bool,
    direction: Vec<f64>,
    open: BinaryHeap<(Reverse<i64>, Reverse<usize>)>,
    parts: Vec<Option<Part>>,
    /// What the whole question left open, once it was priced.
    pub(crate) whole: Option<Domain>,
}

impl<'f, 'w> Tree<'f, 'w> {
    pub(crate) fn new(relaxed: Relaxed<'f>, insert: Insert<'f>, best: Option<(i64, Vec<Set>)>, cancel: &'w dyn Fn() -> bool) -> Self {
        let direction = vec![0.0; relaxed.slope.len()];
        let (open, parts) = (BinaryHeap::new(), Vec::new());
        Self { relaxed, insert, best, steps: 0, until: 0, cancel, cancelled: false, direction, open, parts, whole: None }
    }

    /// The most that a better plan may come to, in parts of a unit.
    fn most(&self) -> i64 {
        self.best.as_ref().map_or(NEVER / 4, |&(units, _)| (units - 1) * PARTS)
    }

    /// Nothing better than the best plan comes to less than this, in units; `None` where there is nothing better.
    pub(crate) fn bound(&self) -> Option<i64> {
        match (&self.whole, self.open.peek()) {
            (None, _) => Some(0),
            (Some(_), None) => None,
            (Some(_), Some(&(Reverse(bound), _))) => {
                // A whole number of units that is no less.
                let units = bound.div_euclid(PARTS) + i64::from(bound.rem_euclid(PARTS) > 0);
                (bound <= self.most()).then_some(units)
            }
        }
    }

    pub(crate) fn forest(&self) -> &'f Forest<'f> {
        self.relaxed.forest
    }

    /// Goes on for so many reckonings; true when nothing is left.
    pub(crate) fn go_on(&mut self, steps: u64) -> bool {
        self.until = self.steps.saturating_add(steps);
        if self.whole.is_none() {
            self.begin();
        }
        while self.bound().is_some() && !self.spent() {
            let Some((_, Reverse(number))) = self.open.pop() else { break };
            let Some(part) = self.parts[number].take() else { continue };
            for half in self.halves(&part) {
                self.keep(half);
            }
        }
        self.bound().is_none()
    }

    fn spent(&mut self) -> bool {
        if self.steps.is_multiple_of(64) && (self.cancel)() {
            self.cancelled = true;
        }
        self.cancelled || self.steps >= self.until
    }

    fn begin(&mut self) {
        let forest = self.relaxed.forest;
        let domain = Domain::all(forest);
        let mut part = Part { domain, prices: self.relaxed.prices(), bound: 0, cases: Vec::new() };
        if self.stands(&mut part) {
            self.price(&mut part, FOR_ALL);
        }
        self.whole = Some(part.domain.clone());
        self.keep(part);
    }

    /// Opens a part where it may hold something better.
    fn keep(&mut self, part: Part) {
        if part.bound <= self.most() {
            self.open.push((Reverse(part.bound), Reverse(self.parts.len())));
            self.parts.push(Some(part));
        }
    }

    /// Draws a part in by what follows at once; `false` where nothing is left of it.
    fn stands(&self, part: &mut Part) -> bool {
        let stands = !part.domain.is_empty() && narrow(self.relaxed.forest, &mut part.domain);
        if !stands {
            part.bound = NEVER;
        }
        stands
    }

    /// Searches for prices under which a part's bound is high, by steps along what is used too much or too little (a subgradient with a memory), closes
    /// choices and makes plans on the way.
    fn price(&mut self, part: &mut Part, rounds: u32) {
        let forest = self.relaxed.forest;
        let (mut reach, mut idle, mut best) = (1.0, 0, i64::MIN);
        let mut prices = part.prices.clone();
        let mut share = vec![0.0; forest.choices()];
        let (mut weight, mut weights) = (1.0, 0.0);
        self.direction.fill(0.0);
        self.relaxed.take(&part.domain);
        for round in 1..=rounds {
            self.steps += 1;
            let bound = self.relaxed.bound(&part.domain, &prices);
            idle += 1;
            if bound > best {
                (best, idle) = (bound, 0);
                part.prices.of.copy_from_slice(&prices.of);
                part.bound = part.bound.max(bound);
            }
            if part.bound > self.most() {
                return;
            }
            if (round.is_multiple_of(UNTIL_CLOSING) || round == rounds) && !self.close(part, bound, &prices) {
                return;
            }
            if round.is_multiple_of(UNTIL_PLAN) {
                self.make(&part.domain);
            }
            self.relaxed.pick(&part.domain);
            for (task, set) in self.relaxed.picked.iter().enumerate() {
                share[forest.choice(task, set)] += weight;
            }
            weights += weight;
            weight *= GROWTH;
            if idle >= WITHOUT_GAIN {
                (reach, idle) = (reach * SHORTER, 0);
                prices.of.copy_from_slice(&part.prices.of);
            }
            self.step(&mut prices, reach, bound);
            if self.spent() {
                break;
            }
        }
        share.iter_mut().for_each(|share| *share /= weights);
        part.cases = cases(forest, &part.domain, &share);
    }

    /// One step of the prices, as long as is needed to reach the best plan were the bound a plane (B. T. Polyak's length).
    fn step(&mut self, prices: &mut Prices, reach: f64, bound: i64) {
        let mut square = 0.0;
        for (direction, slope) in self.direction.iter_mut().zip(&self.relaxed.slope) {
            *direction = KEPT * *direction + (1.0 - KEPT) * slope;
            square += *direction * *direction;
        }
        let bound = bound as f64;
        let goal = self.best.as_ref().map_or(bound + bound.abs() / 5.0, |&(units, _)| (units * PARTS) as f64);
        let length = reach * (goal - bound).max(PARTS as f64) / square.max(1e-9);
        prices.of.iter_mut().zip(&self.direction).for_each(|(price, direction)| *price += length * direction);
        self.relaxed.allow(prices);
    }

    /// Closes what cannot be in a better plan; `false` where nothing is left of the part.
    fn close(&mut self, part: &mut Part, bound: i64, prices: &Prices) -> bool {
        if self.relaxed.close(&mut part.domain, bound, self.most()) == 0 {
            return true;
        }
        if !self.stands(part) {
            return false;
        }
        self.relaxed.take(&part.domain);
        let stands = can_be(self.relaxed.bound(&part.domain, prices));
        if !stands {
            part.bound = NEVER;
        }
        stands
    }

    /// Makes a plan from the prices: walls laid one after another where they are cheapest under them, then laid anew at what they truly cost.
    fn make(&mut self, domain: &Domain) {
        let Some(sets) = self.insert.guided(&self.relaxed.cost, domain) else { return };
        self.steps += u64::from(BETTERED);
        let sets = self.insert.better(&sets, BETTERED);
        self.relaxed.consider(&sets, &mut self.best);
    }

    /// The halves of a part by the most telling of its cases: each is tried a little, and the one whose halves gain most is taken.
    fn halves(&mut self, part: &Part) -> Vec<Part> {
        if part.cases.is_empty() {
            return self.by_choice(part);
        }
        let mut best: Option<(f64, Vec<Part>)> = None;
        for &case in &part.cases {
            let mut score = 1.0;
            let mut halves = self.split(part, case);
            for half in &mut halves {
                if self.stands(half) {
                    self.price(half, FOR_TRIAL);
                }
                let gain = half.bound.min(self.most() + 1) - part.bound;
                score *= (gain as f64).max(PARTS as f64 / 8.0);
            }
            if best.as_ref().is_none_or(|&(most, _)| score > most) {
                best = Some((score, halves.into()));
            }
        }
        let mut halves = best.map_or(Vec::new(), |(_, halves)| halves);
        for half in &mut halves {
            if half.bound <= self.most() {
                self.price(half, FOR_PART);
            }
        }
        halves
    }

    fn split(&self, part: &Part, case: Case) -> [Part; 2] {
        let forest = self.relaxed.forest;
        let mut halves = [part.copy(), part.copy()];
        let [one, other] = &mut halves;
        match case {
            Case::By { task, slot } => {
                one.domain.within[task].1 = slot;
                other.domain.within[task].0 = slot + 1;
            }
            Case::Way { task, way } => {
                let row = |way: usize| forest.first[task] + way * forest.slots..forest.first[task] + (way + 1) * forest.slots;
                other.domain.open[row(way)].fill(false);
                let ways = 0..forest.compiled.tasks[task].ways.len();
                ways.filter(|&another| another != way).for_each(|another| one.domain.open[row(another)].fill(false));
            }
        }
        halves.iter_mut().for_each(|half| half.domain.tighten(forest));
        halves
    }

    /// A part whose starts are all decided, or one that was never priced: by the first task that is undecided, or the plan itself.
    fn by_choice(&mut self, part: &Part) -> Vec<Part> {
        let forest = self.relaxed.forest;
        let tasks = 0..part.domain.within.len();
        let undecided = tasks.clone().find(|&task| part.domain.of(forest, task).nth(1).is_some());
        let Some(task) = undecided else {
            let only = |task: usize| part.domain.of(forest, task).next().map(|choice| forest.set(task, choice));
            let sets: Vec<Set> = tasks.filter_map(only).collect();
            self.relaxed.consider(&sets, &mut self.best);
            return Vec::new();
        };
        let (from, to) = part.domain.within[task];
        let way = part.domain.of(forest, task).next().map_or(0, |choice| forest.set(task, choice).way);
        let case = if from < to { Case::By { task, slot: from + (to - from) / 2 } } else { Case::Way { task, way } };
        let mut halves = self.split(part, case);
        for half in &mut halves {
            if self.stands(half) {
                self.price(half, FOR_PART);
            }
        }
        halves.into()
    }
}

/// The most undecided starts and ways: those whose picks were spread widest.
fn cases(forest: &Forest, domain: &Domain, share: &[f64]) -> Vec<Case> {
    let mut cases: Vec<(f64, Case)> = Vec::new();
    for task in 0..domain.within.len() {
        let (from, to) = domain.within[task];
        if from >= to {
            continue;
        }
        let ways = forest.compiled.tasks[task].ways.len();
        let (mut sum, mut squares) = (0.0, 0.0);
        for way in 0..ways {
            let row = forest.first[task] + way * forest.slots;
            let mut of_way = 0.0;
            for start in from..to + 1 {
                let (share, at) = (share[row + start], start as f64);
                of_way += share;
                sum += share * at;
                squares += share * at * at;
            }
            let undecided = of_way.min(1.0 - of_way);
            if ways > 1 && undecided > 0.05 {
                cases.push((UNDECIDED * undecided, Case::Way { task, way }));
            }
        }
        cases.push((squares - sum * sum, Case::By { task, slot: (sum.floor() as usize).clamp(from, to - 1) }));
    }
    cases.sort_by(|one, other| other.0.total_cmp(&one.0));
    cases.into_iter().take(CASES).map(|(_, case)| case).collect()
}
