//! One wall followed for many foremen at once: those under whose hands it has had the same history in the same weather year follow one column of the engine,
//! and part where one does to it what another does not. Columns of all of them fill the lanes of common blocks. It must never change a bit of any course,
//! nor decide what is done.

use std::cell::OnceCell;
use std::sync::Arc;

use curing::{Action, Bench, Checkpoint, CuringError, Look};

/// Lanes of a block.
const LANES: usize = 8;
/// Columns from which a block of eight costs less than as many of one.
const FEWEST_TOGETHER: usize = 3;
const HOURS_OF_A_DAY: usize = 24;
/// Days after which columns are seated anew beside those that are like them.
const DAYS_SEATED: usize = 7;

/// One wall and all who follow it.
pub(crate) struct Courses {
    /// For each list of coats that is asked for, its shelves.
    kinds: Vec<[Shelf; 3]>,
    courses: Vec<Option<Course>>,
    /// The course of each follower; `None` once he has left.
    of: Vec<Option<usize>>,
    /// Hours stepped since the first day.
    hour: usize,
}

/// A history of the wall in a weather year.
struct Course {
    at: Seat,
    /// Number of its weather year.
    year: usize,
    followers: usize,
    /// What is seen of it at this hour, once somebody has looked.
    look: OnceCell<Arc<Look>>,
    /// The course it left in this hour.
    from: Option<usize>,
    /// Courses that left it in this hour, and by which doings.
    left: Vec<(Vec<Action>, usize)>,
    /// What was done to it in this hour and could not be.
    refused: Option<CuringError>,
}

impl Course {
    fn new(at: Seat, year: usize, followers: usize, from: Option<usize>) -> Self {
        Self { at, year, followers, look: OnceCell::new(), from, left: Vec::new(), refused: None }
    }
}

/// A lane of a shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Seat {
    kind: usize,
    pace: Pace,
    lane: usize,
}

/// How columns are stepped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Pace {
    /// An hour at a time, in blocks of eight.
    Steady,
    /// In the hour after a throw or a wetting, whose short steps would hold up the others: in blocks of eight.
    Fresh,
    /// The same, each alone: while it is wetted and thrown on, and where too few are fresh to fill a block.
    Alone,
}

/// A bench whose lanes are taken and given back.
struct Shelf {
    bench: Bench,
    taken: Vec<bool>,
    together: bool,
}

impl Shelf {
    fn new(like: &Bench, pace: Pace) -> Self {
        Self { bench: like.beside(), taken: Vec::new(), together: pace != Pace::Alone }
    }

    /// Puts a wall as it stood into the first free lane.
    fn seat(&mut self, wall: &Checkpoint) -> Result<usize, CuringError> {
        let free = |taken: &[bool]| taken.iter().position(|taken| !taken);
        if free(&self.taken).is_none() {
            self.bench.grow(self.together)?;
            self.taken.resize(self.bench.members(), false);
        }
        let lane = free(&self.taken).unwrap_or(0);
        self.bench.resume(lane, wall)?;
        self.taken[lane] = true;
        Ok(lane)
    }

    fn free(&mut self, lane: usize) {
        self.bench.stop(lane);
        self.taken[lane] = false;
    }
}

impl Courses {
    /// Walls as they stand before anybody has done anything, one a weather year, on an empty bench for each list of coats; each follower says by which bench
    /// and in which of the years he follows.
    pub(crate) fn new(benches: &[Bench], walls: &[Checkpoint], follows: impl Iterator<Item = (usize, usize)>) -> Result<Self, CuringError> {
        let shelves = |bench| [Pace::Steady, Pace::Fresh, Pace::Alone].map(|pace| Shelf::new(bench, pace));
        let of: Vec<Option<usize>> = follows.map(|(kind, year)| Some(kind * walls.len() + year)).collect();
        let mut all = Self { kinds: benches.iter().map(shelves).collect(), courses: Vec::new(), of, hour: 0 };
        for kind in 0..benches.len() {
            for (year, wall) in walls.iter().enumerate() {
                let at = all.seat(kind, Pace::Steady, wall)?;
                let number = all.courses.len();
                let followers = all.of.iter().filter(|&&of| of == Some(number)).count();
                all.courses.push(Some(Course::new(at, year, followers, None)));
            }
        }
        Ok(all)
    }

    /// Hours stepped since the first day.
    pub(crate) fn hour(&self) -> usize {
        self.hour
    }

    /// Cell-steps taken.
    pub(crate) fn cell_steps(&self) -> u64 {
        self.kinds.iter().flatten().map(|shelf| shelf.bench.cell_steps()).sum()
    }

    fn shelf(&mut self, at: Seat) -> &mut Shelf {
        &mut self.kinds[at.kind][at.pace as usize]
    }

    fn bench(&self, at: Seat) -> &Bench {
        &self.kinds[at.kind][at.pace as usize].bench
    }

    fn seat(&mut self, kind: usize, pace: Pace, wall: &Checkpoint) -> Result<Seat, CuringError> {
        let lane = self.kinds[kind][pace as usize].seat(wall)?;
        Ok(Seat { kind, pace, lane })
    }

    fn course(&self, follower: usize) -> Option<&Course> {
        self.of[follower].and_then(|course| self.courses[course].as_ref())
    }

    /// What a follower sees of his wall; `None` once he has left it.
    pub(crate) fn look(&self, follower: usize) -> Option<Arc<Look>> {
        let course = self.course(follower)?;
        Some(Arc::clone(course.look.get_or_init(|| Arc::new(self.bench(course.at).look(course.at.lane)))))
    }

    /// Whether the engine has lost a follower's wall.
    pub(crate) fn lost(&self, follower: usize) -> bool {
        self.course(follower).is_some_and(|course| self.bench(course.at).failed(course.at.lane).is_some())
    }

    /// A follower looks at his wall no more.
    pub(crate) fn leave(&mut self, follower: usize) {
        if let Some(course) = self.of[follower].take().and_then(|course| self.courses[course].as_mut()) {
            course.followers -= 1;
        }
    }

    /// Does something to a follower's wall at the beginning of the coming hour. Whoever has done the same to the same wall in this hour has it in common
    /// with him from now on.
    pub(crate) fn act(&mut self, follower: usize, doings: Vec<Action>) -> Result<(), CuringError> {
        let Some(here) = self.of[follower].filter(|_| !doings.is_empty()) else { return Ok(()) };
        let Some(course) = self.courses[here].as_mut() else { return Ok(()) };
        if let Some(&(_, there)) = course.left.iter().find(|(done, _)| *done == doings) {
            course.followers -= 1;
            self.of[follower] = Some(there);
            let Some(course) = self.courses[there].as_mut() else { return Ok(()) };
            course.followers += 1;
            return course.refused.clone().map_or(Ok(()), Err);
        }
        // Where nobody else can come to this wall by the same way, it is changed where it stands.
        let own = course.followers == 1 && course.left.is_empty() && !self.can_be_joined(here);
        let there = if own { here } else { self.part(follower, here, &doings)? };
        self.carry_out(there, doings)
    }

    /// Whether others might yet do in this hour what led to a course.
    fn can_be_joined(&self, course: usize) -> bool {
        let mut before = self.courses[course].as_ref().and_then(|course| course.from);
        while let Some(course) = before.and_then(|course| self.courses[course].as_ref()) {
            if course.followers > 0 {
                return true;
            }
            before = course.from;
        }
        false
    }

    /// A course of his own for a follower, standing as the one he leaves.
    fn part(&mut self, follower: usize, here: usize, doings: &[Action]) -> Result<usize, CuringError> {
        let Some((at, year, wall)) = self.stands(here) else { return Ok(here) };
        let pace = if stirs(doings) { Pace::Alone } else { at.pace };
        let course = Course::new(self.seat(at.kind, pace, &wall)?, year, 1, Some(here));
        let there = self.courses.iter().position(Option::is_none).unwrap_or(self.courses.len());
        if there == self.courses.len() {
            self.courses.push(None);
        }
        self.courses[there] = Some(course);
        if let Some(course) = self.courses[here].as_mut() {
            course.followers -= 1;
            course.left.push((doings.to_vec(), there));
        }
        self.of[follower] = Some(there);
        Ok(there)
    }

    /// A course's seat, its year and its wall.
    fn stands(&self, course: usize) -> Option<(Seat, usize, Checkpoint)> {
        let &Course { at, year, .. } = self.courses[course].as_ref()?;
        Some((at, year, self.bench(at).checkpoint(at.lane)?))
    }

    fn carry_out(&mut self, course: usize, doings: Vec<Action>) -> Result<(), CuringError> {
        if stirs(&doings) {
            self.set(course, Pace::Alone)?;
        }
        let Some(at) = self.courses[course].as_ref().map(|course| course.at) else { return Ok(()) };
        let bench = &mut self.shelf(at).bench;
        let done = doings.into_iter().try_for_each(|doing| bench.act(at.lane, doing));
        if let Some(course) = self.courses[course].as_mut() {
            course.look = OnceCell::new();
            course.refused = done.clone().err();
        }
        done
    }

    /// Puts a course where it is stepped at a pace.
    fn set(&mut self, course: usize, pace: Pace) -> Result<(), CuringError> {
        match self.stands(course) {
            Some((at, _, wall)) if at.pace != pace => self.reseat(course, at, pace, &wall),
            _ => Ok(()),
        }
    }

    fn reseat(&mut self, course: usize, at: Seat, pace: Pace, wall: &Checkpoint) -> Result<(), CuringError> {
        let to = self.seat(at.kind, pace, wall)?;
        self.shelf(at).free(at.lane);
        if let Some(course) = self.courses[course].as_mut() {
            course.at = to;
        }
        Ok(())
    }
}

/// Whether the engine takes fine steps after some doings.
fn stirs(doings: &[Action]) -> bool {
    doings.iter().any(|doing| matches!(doing, Action::Throw | Action::DampDown(_) | Action::Mist(_)))
}

impl Courses {
    /// Steps every course to an hour.
    pub(crate) fn advance_to(&mut self, to: usize) -> Result<(), CuringError> {
        if to <= self.hour {
            return Ok(());
        }
        self.end_hour();
        if self.hour.is_multiple_of(HOURS_OF_A_DAY) {
            if (self.hour / HOURS_OF_A_DAY).is_multiple_of(DAYS_SEATED) { self.seat_anew()? } else { self.close_ranks()? }
        }
        if self.gather()? {
            self.kinds.iter_mut().flatten().for_each(|shelf| shelf.bench.advance(1));
            self.hour += 1;
            self.seated(|at| at.pace != Pace::Steady).into_iter().try_for_each(|(course, _)| self.set(course, Pace::Steady))?;
        }
        self.kinds.iter_mut().flatten().for_each(|shelf| shelf.bench.advance(to - self.hour));
        self.hour = to;
        Ok(())
    }

    /// Nobody can come to a course any more by what was done in the hour that is over; those that nobody follows end.
    fn end_hour(&mut self) {
        for number in 0..self.courses.len() {
            let Some(course) = self.courses[number].as_mut() else { continue };
            (course.look, course.from, course.refused) = (OnceCell::new(), None, None);
            course.left.clear();
            if course.followers == 0 {
                let at = course.at;
                self.courses[number] = None;
                self.shelf(at).free(at.lane);
            }
        }
    }

    /// Brings together the columns that take fine steps in the coming hour, where they are enough for a block; whether there are any.
    fn gather(&mut self) -> Result<bool, CuringError> {
        let mut any = false;
        for kind in 0..self.kinds.len() {
            let alone = self.seated(|at| at.kind == kind && at.pace == Pace::Alone);
            let over = alone.len() % LANES;
            let together = if over >= FEWEST_TOGETHER { alone.len() } else { alone.len() - over };
            alone[..together].iter().try_for_each(|&(course, _)| self.set(course, Pace::Fresh))?;
            any |= !alone.is_empty();
        }
        Ok(any)
    }

    /// Courses by where they are seated.
    fn seated(&self, there: impl Fn(Seat) -> bool) -> Vec<(usize, Seat)> {
        let all = self.courses.iter().enumerate().filter_map(|(number, course)| course.as_ref().map(|course| (number, course.at)));
        all.filter(|&(_, at)| there(at)).collect()
    }

    /// Moves columns into as few blocks as hold them.
    fn close_ranks(&mut self) -> Result<(), CuringError> {
        for kind in 0..self.kinds.len() {
            let seated = self.seated(|at| at.kind == kind && at.pace == Pace::Steady);
            let room = seated.len().div_ceil(LANES) * LANES;
            for (course, at) in seated.into_iter().filter(|(_, at)| at.lane >= room) {
                if let Some((_, _, wall)) = self.stands(course) {
                    self.reseat(course, at, Pace::Steady, &wall)?;
                }
            }
        }
        Ok(())
    }

    /// Seats columns beside those that have as many coats on and live in the same weather: a block is stepped through its outermost coat, as often as the
    /// slowest of its lanes asks.
    fn seat_anew(&mut self) -> Result<(), CuringError> {
        for kind in 0..self.kinds.len() {
            let seated = self.seated(|at| at.kind == kind && at.pace == Pace::Steady);
            let mut all: Vec<(usize, Seat, usize, Checkpoint)> = Vec::with_capacity(seated.len());
            all.extend(seated.into_iter().filter_map(|(course, _)| self.stands(course).map(|(at, year, wall)| (course, at, year, wall))));
            all.sort_by_key(|(_, _, year, wall)| (wall.coats(), *year));
            all.iter().for_each(|&(_, at, ..)| self.shelf(at).free(at.lane));
            for (course, _, _, wall) in &all {
                let at = self.seat(kind, Pace::Steady, wall)?;
                if let Some(course) = self.courses[*course].as_mut() {
                    course.at = at;
                }
            }
        }
        Ok(())
    }
}
