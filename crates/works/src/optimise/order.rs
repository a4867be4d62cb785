//! An order of work: which wall first, from which day, and which gang on which wall; and the orders beside it. It must never know what one costs.

use std::collections::BTreeMap;

use jiff::civil::Date;
use survey::Slug;

use crate::calendar::add_days;

/// Days by which a start is moved to a neighbour.
const MOVED_DAYS: [i64; 2] = [-7, 7];

/// An order of work.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Order {
    /// Walls in the order in which the foreman looks at them.
    pub(super) walls: Vec<Slug>,
    /// First day.
    pub(super) start: Date,
    /// Walls that one gang alone works on, by its place in the job.
    pub(super) gangs: BTreeMap<Slug, usize>,
}

impl Order {
    /// The orders beside this one: two walls that follow each other exchanged, the start moved by a week, a wall given to another gang, or two walls'
    /// gangs exchanged. Walls whose gang the job itself names keep it.
    pub(super) fn neighbours(&self, first: Date, gangs: usize, fixed: &BTreeMap<Slug, usize>) -> Vec<Order> {
        let mut beside = Vec::new();
        for at in 1..self.walls.len() {
            let mut other = self.clone();
            other.walls.swap(at - 1, at);
            beside.push(other);
        }
        beside.extend(MOVED_DAYS.map(|days| Order { start: add_days(self.start, days), ..self.clone() }));
        if gangs > 1 {
            beside.extend(self.given_otherwise(gangs, fixed));
        }
        beside.retain(|order| order.start >= first);
        beside
    }

    fn given_otherwise(&self, gangs: usize, fixed: &BTreeMap<Slug, usize>) -> Vec<Order> {
        let free: Vec<&Slug> = self.walls.iter().filter(|wall| !fixed.contains_key(*wall)).collect();
        let mut beside = Vec::new();
        for wall in &free {
            for gang in (0..gangs).filter(|gang| self.gangs.get(*wall) != Some(gang)) {
                let mut other = self.clone();
                other.gangs.insert((*wall).clone(), gang);
                beside.push(other);
            }
        }
        for pair in free.windows(2) {
            let (one, two) = (self.gangs.get(pair[0]), self.gangs.get(pair[1]));
            if let (Some(&one), Some(&two)) = (one, two)
                && one != two
            {
                let mut other = self.clone();
                other.gangs.insert(pair[0].clone(), two);
                other.gangs.insert(pair[1].clone(), one);
                beside.push(other);
            }
        }
        if self.gangs != *fixed {
            beside.push(Order { gangs: fixed.clone(), ..self.clone() });
        }
        beside
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn order(gangs: &[(&str, usize)]) -> Order {
        let walls = ["a", "b", "c"].map(str::to_owned).to_vec();
        Order { walls, start: date(2026, 6, 1), gangs: gangs.iter().map(|(wall, gang)| ((*wall).to_owned(), *gang)).collect() }
    }

    // Three walls have two pairs beside each other; a week sooner lies before the first day allowed, so that one start is left.
    #[test]
    fn one_gang_has_exchanges_and_starts_alone() {
        let beside = order(&[]).neighbours(date(2026, 6, 1), 1, &BTreeMap::new());
        assert_eq!(beside.len(), 3);
        assert_eq!(beside[0].walls, ["b", "a", "c"]);
        assert_eq!(beside[2].start, date(2026, 6, 8));
    }

    // Two gangs: each of three walls to the other gang (3), a and b exchanged (1; b and c have the same), and nobody bound (1): five more than without.
    #[test]
    fn gangs_are_exchanged_but_for_walls_the_job_binds() {
        let given = order(&[("a", 0), ("b", 1), ("c", 1)]);
        let beside = given.neighbours(date(2026, 6, 1), 2, &BTreeMap::new());
        assert_eq!(beside.len(), 3 + 5);
        let fixed: BTreeMap<Slug, usize> = [("a".to_owned(), 0)].into();
        let beside = given.neighbours(date(2026, 6, 1), 2, &fixed);
        assert!(beside.iter().all(|order| order.gangs.get("a") == Some(&0)));
    }
}
