//! Every start week of a year looked ahead to, in every weather year: how long each coat takes, what befalls it and what its protection costs.
//!
//! The bare wall runs once through each weather year; on every morning fit for a first coat a checkpoint is put aside for the start weeks that wait for
//! one, so that starts which come to the same day are followed once, and no start is simulated from the survey. From there each coat is followed until the
//! next may be thrown, the lanes of a bench being filled anew as they fall free; the wall's state is then handed on to the next coat's bench, on which all
//! lanes have the same layers. Fresh coats pass their first hour together, because its short steps would hold up a whole bench of older ones. None of this
//! changes a bit of any course.

use std::sync::atomic::{AtomicUsize, Ordering};

use curing::{Checkpoint, CuringError};
use jiff::civil::Date;
use rayon::prelude::*;
use serde::Serialize;
use survey::Slug;
use weather::Weather;

use crate::calendar::{add_days, days_between};
use crate::climates::WallClimate;
use crate::foreman::SEASON_DAYS;
use crate::protect::course::{Crew, Rule, Run};
use crate::protect::evening::Evening;
use crate::protect::ground::{Ground, Place};
use crate::protect::spread::{CoatAhead, WeekAhead, weeks_ahead};
use crate::protect::{Foresight, Outcome, Policy};
use crate::road::Stages;
use crate::{Inputs, Watch, WorksError};

/// Members stepped together.
const LANES: usize = 8;
/// Weather years followed in one go by one thread.
const YEARS_IN_A_PART: usize = 8;

/// What is looked ahead to.
#[derive(Clone, Debug, PartialEq)]
pub struct LookaheadAsked {
    /// The policies to compare.
    pub policies: Vec<Policy>,
    /// What the foreman knows of the weather to come.
    pub foresight: Foresight,
    /// First start; the others follow week by week.
    pub from: Date,
    /// Start weeks, 1 to 53.
    pub weeks: usize,
    /// The client damps the cloth on days that are not worked.
    pub client_wets: bool,
    /// Every coat at its thickest and thinnest, over stone and over joint, instead of its middle over the stone.
    pub percentiles: bool,
}

/// What lies ahead of each wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lookahead {
    /// Weather years looked at.
    pub years: u32,
    /// Per wall, in the order of the job.
    pub walls: Vec<WallAhead>,
    /// Hours of walls simulated, all columns counted.
    pub hours: u64,
    /// Cell-steps taken.
    pub cell_steps: u64,
    /// Courses that were followed, of so many starts: the others came to the same throw.
    pub followed: (u64, u64),
}

/// What lies ahead of a wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallAhead {
    /// The wall.
    pub wall: Slug,
    /// Names of its coats, the one against the stone first.
    pub coats: Vec<Slug>,
    /// Per policy, as asked.
    pub policies: Vec<PolicyAhead>,
}

/// What lies ahead of a wall under one policy.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PolicyAhead {
    /// The policy.
    pub policy: Policy,
    /// Per start week, in order.
    pub weeks: Vec<WeekAhead>,
}

/// A course waiting for its next throw.
struct Waiting {
    run: Run,
    from: Vec<Checkpoint>,
    /// The evening before, where it is known.
    evening: Option<Evening>,
    /// Start weeks that came to it.
    weeks: Vec<usize>,
}

/// What came of a start week in a weather year.
pub(crate) type Ended = (usize, Outcome);

/// What a part of the years came to: per policy what came of each start; the work it took.
#[derive(Default)]
struct Part {
    ended: Vec<Vec<Ended>>,
    cell_steps: u64,
    hours: u64,
    followed: u64,
}

/// Looks ahead to every start week of every wall in every weather year. The same question has the same answer bit for bit, on any number of threads.
///
/// # Errors
/// Weather with a gap, a job that cannot be specified, a wall the engine refuses, a call to stop.
pub fn lookahead(inputs: &Inputs, weather: &Weather, asked: &LookaheadAsked, watch: &dyn Watch) -> Result<Lookahead, WorksError> {
    let stages = Stages::of(inputs)?;
    let years: Vec<usize> = (0..weather.years.len()).collect();
    ahead_of(&Grounds { inputs, weather, stages: &stages, years: &years, climates: &[] }, asked, watch)
}

/// [`lookahead`] in some of the weather years, by number, for stages that stand.
pub(crate) fn lookahead_in(
    inputs: &Inputs,
    weather: &Weather,
    stages: &Stages,
    years: &[usize],
    asked: &LookaheadAsked,
    watch: &dyn Watch,
) -> Result<Lookahead, WorksError> {
    ahead_of(&Grounds { inputs, weather, stages, years, climates: &[] }, asked, watch)
}

/// What the lookahead stands on.
pub(crate) struct Grounds<'a> {
    pub(crate) inputs: &'a Inputs,
    pub(crate) weather: &'a Weather,
    pub(crate) stages: &'a Stages,
    /// Weather years to look at, by number.
    pub(crate) years: &'a [usize],
    /// Climates of the walls' faces where they stand already; otherwise empty.
    pub(crate) climates: &'a [WallClimate],
}

/// [`lookahead`] for stages that stand.
pub(crate) fn ahead_of(on: &Grounds, asked: &LookaheadAsked, watch: &dyn Watch) -> Result<Lookahead, WorksError> {
    let Grounds { inputs, weather, stages, years, climates } = *on;
    let weeks = asked.weeks.clamp(1, 53);
    let most_coats = stages.specification.walls.iter().map(|wall| wall.coats.len()).max().unwrap_or(0);
    let place = Place::new(inputs, weather, stages, asked.from, 7 * weeks + (2 * most_coats + 3) * SEASON_DAYS as usize)?;
    let walls: Vec<usize> = (0..stages.sheet.walls.len()).collect();
    let grounds = walls
        .par_iter()
        .map(|&wall| {
            let climate = climates.get(wall).map_or_else(|| place.climate(wall), |climate| Ok(climate.clone()))?;
            place.ground(wall, &climate, asked.client_wets, asked.percentiles)
        })
        .collect::<Result<Vec<_>, WorksError>>()?;
    let parts: Vec<(usize, &[usize])> =
        walls.iter().flat_map(|&wall| years.chunks(YEARS_IN_A_PART).map(move |part| (wall, part))).collect();
    let start = usize::try_from(days_between(place.days.first, asked.from)).unwrap_or(0);
    let starts: Vec<usize> = (0..weeks).map(|week| start + 7 * week).collect();
    let tally = Tally { watch, done: AtomicUsize::new(0), of: parts.len() };
    let done = parts
        .par_iter()
        .map(|&(wall, years)| {
            let part = Ahead { ground: &grounds[wall], asked, starts: &starts, tally: &tally }.part(years);
            part.map_err(|error| match error {
                Stop::Engine(error) => WorksError::Engine { wall: stages.sheet.walls[wall].slug.clone(), why: error.to_string() },
                Stop::Cancelled => WorksError::Cancelled,
            })
        })
        .collect::<Result<Vec<Part>, WorksError>>()?;
    Ok(told(stages, asked, weeks, &parts, done, years.len()))
}

/// Parts of the work that are done, for whoever watches.
struct Tally<'w> {
    watch: &'w dyn Watch,
    done: AtomicUsize,
    of: usize,
}

/// Why a part stopped.
enum Stop {
    Engine(CuringError),
    Cancelled,
}

impl From<CuringError> for Stop {
    fn from(error: CuringError) -> Self {
        Stop::Engine(error)
    }
}

/// One wall looked ahead to.
struct Ahead<'g> {
    ground: &'g Ground<'g>,
    asked: &'g LookaheadAsked,
    /// Days on which the start weeks begin.
    starts: &'g [usize],
    tally: &'g Tally<'g>,
}

impl<'g> Ahead<'g> {
    fn rule(&self, policy: Policy) -> Rule<'g> {
        Rule { ground: self.ground, policy, foresight: self.asked.foresight }
    }

    fn part(&self, years: &[usize]) -> Result<Part, Stop> {
        let mut part = Part::default();
        let waiting = self.bare(years, &mut part)?;
        for (&policy, mut waiting) in self.asked.policies.iter().zip(waiting) {
            let mut ended = std::mem::take(&mut part.ended[self.place_of(policy)]);
            part.followed += waiting.len() as u64;
            for coat in 0..self.ground.columns[0].coats.len() {
                waiting = self.coat(policy, coat, waiting, &mut ended, &mut part)?;
            }
            part.ended[self.place_of(policy)] = ended;
        }
        let done = self.tally.done.fetch_add(1, Ordering::Relaxed) + 1;
        self.tally.watch.progress("lookahead", done, self.tally.of);
        Ok(part)
    }

    fn place_of(&self, policy: Policy) -> usize {
        self.asked.policies.iter().position(|&asked| asked == policy).unwrap_or(0)
    }

    /// The bare wall through the years; per policy the first throws it comes to.
    fn bare(&self, years: &[usize], part: &mut Part) -> Result<Vec<Vec<Waiting>>, Stop> {
        let policies = &self.asked.policies;
        let (days, weather) = (self.ground.days, self.ground.weather);
        let hours = self.ground.climate.air_k.len();
        let mut ready = policies.iter().map(|_| Vec::new()).collect::<Vec<_>>();
        part.ended = policies.iter().map(|_| Vec::new()).collect();
        for years in years.chunks(LANES) {
            let first: Vec<usize> = years.iter().map(|&year| weather.first_day[year] % hours).collect();
            let mut crew = Crew::new(self.rule(policies[0]), 0, &first, false)?;
            let mut pending = vec![vec![0_usize; years.len()]; policies.len()];
            // The covering is off from the first start on.
            let mut passed = days.hour(self.starts[0], 0);
            let before = crew.pass_to(0, self.starts[0], 0);
            crew.strip()?;
            part.hours += (passed * crew.benches.len() * years.len()) as u64;
            for day in self.starts[0]..days.count() {
                if self.tally.watch.cancelled() {
                    return Err(Stop::Cancelled);
                }
                let to = days.hour(day, days.from);
                part.hours += ((to - passed) * crew.benches.len() * pending_lanes(&pending, self.starts.len())) as u64;
                let mut evenings = crew.pass_to(passed, day, days.from);
                if day == self.starts[0] && !self.ground.freed {
                    evenings.clone_from(&before);
                }
                passed = to;
                for (lane, &year) in years.iter().enumerate() {
                    for (rank, &policy) in policies.iter().enumerate() {
                        self.first_throw(
                            (lane, year, day, to),
                            policy,
                            (&crew, evenings[lane].as_ref()),
                            &mut pending[rank][lane],
                            &mut ready[rank],
                            &mut part.ended[rank],
                        );
                    }
                    if pending.iter().all(|weeks| weeks[lane] == self.starts.len()) {
                        crew.leave(lane);
                    }
                }
                if pending_lanes(&pending, self.starts.len()) == 0 {
                    break;
                }
            }
            part.cell_steps += crew.work().0;
        }
        Ok(ready)
    }

    /// Looks whether the first coat goes on a bare wall this morning, and gives the weeks that waited for it their course. `next` is the first start week
    /// that has none yet.
    fn first_throw(
        &self,
        (lane, year, day, hour): (usize, usize, usize, usize),
        policy: Policy,
        (crew, evening): (&Crew, Option<&Evening>),
        next: &mut usize,
        ready: &mut Vec<Waiting>,
        ended: &mut Vec<Ended>,
    ) {
        let arrived = self.starts.iter().filter(|&&start| start <= day).count();
        while *next < arrived && day >= self.starts[*next] + SEASON_DAYS as usize {
            let why = format!("no day fit for the first coat came in {SEASON_DAYS} days");
            ended.push((*next, Outcome { coats: Vec::new(), unfinished: Some(why) }));
            *next += 1;
        }
        if *next >= arrived || self.ground.days.closed(day) {
            return;
        }
        if crew.benches[0].failed(lane).is_some() {
            for week in *next..self.starts.len() {
                ended.push((week, Outcome { coats: Vec::new(), unfinished: Some(crate::columns::LOST.to_owned()) }));
            }
            *next = self.starts.len();
            return;
        }
        let run = Run::bare(year, hour);
        if self.rule(policy).fit(&run, day, &crew.benches[0].look(lane)) {
            ready.push(Waiting { run, from: crew.checkpoints(lane), evening: evening.cloned(), weeks: (*next..arrived).collect() });
            *next = arrived;
        }
    }

    /// Follows one coat of every waiting course until the next may be thrown; those that end are put by with what came of them.
    fn coat(
        &self,
        policy: Policy,
        coat: usize,
        mut waiting: Vec<Waiting>,
        ended: &mut Vec<Ended>,
        part: &mut Part,
    ) -> Result<Vec<Waiting>, Stop> {
        // Neighbours in the season take about as long, and need about as many steps.
        waiting.sort_by_key(|waits| (waits.run.hour, waits.run.year));
        let mut crew = Crew::new(self.rule(policy), coat + 1, &[0; LANES], true)?;
        (0..LANES).for_each(|lane| {
            crew.leave(lane);
        });
        let mut fresh = self.throw(&mut crew, waiting)?.into_iter();
        let mut next = Vec::new();
        let mut weeks: Vec<Vec<usize>> = vec![Vec::new(); LANES];
        let mut hour = 0_usize;
        loop {
            for (lane, weeks) in weeks.iter_mut().enumerate() {
                if !crew.empty(lane) && crew.done(lane) {
                    let from = crew.due(lane).then(|| (crew.checkpoints(lane), crew.evening(lane)));
                    let Some(run) = crew.leave(lane) else { continue };
                    match from {
                        Some((from, evening)) => next.push(Waiting { run, from, evening, weeks: std::mem::take(weeks) }),
                        None => self.end(run, weeks, ended),
                    }
                }
                if crew.empty(lane)
                    && let Some(waits) = fresh.next()
                {
                    crew.take(lane, waits.run, &waits.from, waits.evening)?;
                    *weeks = waits.weeks;
                }
            }
            if (0..LANES).all(|lane| crew.empty(lane)) {
                break;
            }
            crew.decide();
            if (0..LANES).any(|lane| !crew.empty(lane) && crew.done(lane)) {
                continue;
            }
            crew.pass_hour();
            hour += 1;
            if hour.is_multiple_of(240) && self.tally.watch.cancelled() {
                return Err(Stop::Cancelled);
            }
        }
        let (cell_steps, hours) = crew.work();
        part.cell_steps += cell_steps;
        part.hours += hours;
        Ok(next)
    }

    /// Throws the coat of every waiting course and passes its first hour, whose steps are short, as many as there are lanes at a time.
    fn throw(&self, crew: &mut Crew, waiting: Vec<Waiting>) -> Result<Vec<Waiting>, Stop> {
        let mut thrown = Vec::with_capacity(waiting.len());
        let mut rest = waiting.into_iter().peekable();
        while rest.peek().is_some() {
            let mut weeks = Vec::new();
            for (lane, waits) in rest.by_ref().take(LANES).enumerate() {
                crew.take(lane, waits.run, &waits.from, waits.evening)?;
                weeks.push(waits.weeks);
            }
            crew.decide();
            crew.pass_hour();
            for (lane, weeks) in weeks.into_iter().enumerate() {
                let from = crew.checkpoints(lane);
                if let Some(run) = crew.leave(lane) {
                    thrown.push(Waiting { run, from, evening: None, weeks });
                }
            }
        }
        Ok(thrown)
    }

    /// Writes down what came of a course, for each start that came to it.
    fn end(&self, run: Run, weeks: &[usize], ended: &mut Vec<Ended>) {
        let day_thrown = run.first_thrown_hour.map_or(0, |hour| self.ground.days.civil(hour).0);
        for &week in weeks {
            let mut outcome = run.outcome.clone();
            if let Some(first) = outcome.coats.first_mut() {
                first.waited_days = u32::try_from(day_thrown.saturating_sub(self.starts[week])).unwrap_or(u32::MAX);
            }
            ended.push((week, outcome));
        }
    }
}

/// Lanes whose weeks have not all been given a course.
fn pending_lanes(pending: &[Vec<usize>], weeks: usize) -> usize {
    (0..pending[0].len()).filter(|&lane| pending.iter().any(|by_lane| by_lane[lane] < weeks)).count()
}

/// Puts the parts together.
fn told(stages: &Stages, asked: &LookaheadAsked, weeks: usize, parts: &[(usize, &[usize])], done: Vec<Part>, years: usize) -> Lookahead {
    let specified = &stages.specification.walls;
    let mut by_wall: Vec<Vec<Vec<Ended>>> = specified.iter().map(|_| asked.policies.iter().map(|_| Vec::new()).collect()).collect();
    let (mut hours, mut cell_steps, mut followed) = (0, 0, 0);
    for (&(wall, _), part) in parts.iter().zip(done) {
        hours += part.hours;
        cell_steps += part.cell_steps;
        followed += part.followed;
        for (all, ended) in by_wall[wall].iter_mut().zip(part.ended) {
            all.extend(ended);
        }
    }
    let walls = specified.iter().zip(by_wall).map(|(wall, by_policy)| WallAhead {
        wall: wall.slug.clone(),
        coats: wall.coats.iter().map(|coat| coat.slug.clone()).collect(),
        policies: asked
            .policies
            .iter()
            .zip(by_policy)
            .map(|(&policy, ended)| PolicyAhead {
                policy,
                weeks: weeks_ahead(wall.coats.len(), weeks, &ended, |week| add_days(asked.from, 7 * week as i64)),
            })
            .collect(),
    });
    let walls: Vec<WallAhead> = walls.collect();
    let starts = (specified.len() * years * weeks * asked.policies.len()) as u64;
    Lookahead { years: u32::try_from(years).unwrap_or(u32::MAX), walls, hours, cell_steps, followed: (followed, starts) }
}

impl WeekAhead {
    /// What lies ahead of a coat.
    pub fn coat(&self, number: usize) -> Option<&CoatAhead> {
        self.coats.get(number)
    }
}
