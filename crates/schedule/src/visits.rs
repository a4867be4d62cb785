//! The slots in which a gang works, where each has a price and each visit a cost: which slots are dearest to work, exactly, by dynamic programming. It must
//! never know a task: only whether somebody could work in a slot.

use crate::forest::NEVER;

/// What a gang's slots come to under one set of prices.
#[derive(Clone, Default)]
pub(crate) struct Worked {
    /// Per slot, the most of all that ends with working in it, and of all that begins so; far below nought where nobody can.
    until: Vec<i64>,
    from: Vec<i64>,
    /// The slot worked before each; `None` where it is the first.
    before: Vec<Option<usize>>,
    /// The last slot worked in what comes to the most; `None` where it is best never to come.
    last: Option<usize>,
    most: i64,
    /// Slots and prices of the run at hand.
    price: Vec<i64>,
}

impl Worked {
    /// Reckons forwards: the most that prices of worked slots less visits come to. `must` where the gang is needed.
    pub(crate) fn forwards(&mut self, price: &[i64], can: &[bool], (visit, patience): (i64, usize), must: bool) -> i64 {
        let slots = price.len();
        self.price.clear();
        self.price.extend_from_slice(price);
        self.until.clear();
        self.until.resize(slots, -NEVER);
        self.before.clear();
        self.before.resize(slots, None);
        let mut best: (i64, Option<usize>) = (0, None);
        for slot in 0..slots {
            if !can[slot] {
                continue;
            }
            let (mut most, mut before) = (best.0 - visit, best.1);
            for earlier in slot.saturating_sub(patience + 1)..slot {
                if self.until[earlier] > most {
                    (most, before) = (self.until[earlier], Some(earlier));
                }
            }
            self.until[slot] = most + price[slot];
            self.before[slot] = before;
            if self.until[slot] > best.0 {
                best = (self.until[slot], Some(slot));
            }
        }
        (self.most, self.last) = best;
        if must && self.last.is_none() {
            let least = (0..slots).filter(|&slot| can[slot]).max_by_key(|&slot| (self.until[slot], std::cmp::Reverse(slot)));
            self.last = least;
            self.most = least.map_or(-NEVER, |slot| self.until[slot]);
        }
        self.most
    }

    /// Adds `sign` to each slot that is worked in what comes to the most.
    pub(crate) fn add(&self, sign: f64, slope: &mut [f64]) {
        let mut at = self.last;
        while let Some(slot) = at {
            slope[slot] += sign;
            at = self.before[slot];
        }
    }

    /// Visits of what comes to the most.
    pub(crate) fn visits(&self, patience: usize) -> usize {
        let mut visits = usize::from(self.last.is_some());
        let mut at = self.last;
        while let Some(slot) = at {
            at = self.before[slot];
            visits += usize::from(at.is_some_and(|earlier| slot - earlier > patience + 1));
        }
        visits
    }

    /// After [`Self::forwards`], reckons backwards.
    pub(crate) fn backwards(&mut self, can: &[bool], (visit, patience): (i64, usize)) {
        let slots = self.price.len();
        self.from.clear();
        self.from.resize(slots, -NEVER);
        let mut best = 0;
        for slot in (0..slots).rev() {
            if !can[slot] {
                continue;
            }
            // What is later on the next visit, or on this one.
            let mut most = (best - visit).max(0);
            for later in slot + 1..(slot + patience + 2).min(slots) {
                most = most.max(self.from[later]);
            }
            self.from[slot] = most + self.price[slot];
            best = best.max(self.from[slot]);
        }
    }

    /// How much less it comes to where the gang works from one slot until before another; [`NEVER`] where it cannot.
    pub(crate) fn dearer(&self, from: usize, to: usize) -> i64 {
        let (before, after) = (self.until[from], self.from[to - 1]);
        if before <= -NEVER / 2 || after <= -NEVER / 2 {
            return NEVER;
        }
        let between: i64 = self.price[from + 1..to].iter().sum();
        self.most - (before + between + after - self.price[to - 1])
    }
}
