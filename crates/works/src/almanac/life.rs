//! All starts of the almanac lived through side by side, day by day, in some weather years: a foreman for each start in each year, and columns of the engine
//! that those have in common whose walls have had the same history. It must never let one foreman see another.

use std::sync::atomic::{AtomicUsize, Ordering};

use curing::Bench;
use jiff::civil::Date;
use rayon::prelude::*;

use crate::calendar::add_days;
use crate::columns::Stand;
use crate::courses::Courses;
use crate::foreman::{Foreman, LONGEST_JOB_DAYS};
use crate::forward::{decide, decision_hours, year_run};
use crate::years::Years;
use crate::{Watch, WorksError, YearRun};

/// Most weather years lived through by one thread: columns of more years fill their blocks better, fewer share the work out better.
const MOST_YEARS_IN_A_PART: usize = 16;

/// What came of all starts.
pub(crate) struct Lived {
    /// By start, then by weather year.
    pub(crate) runs: Vec<Vec<YearRun>>,
    pub(crate) cell_steps: u64,
}

/// The starts of an almanac, set into the same weather years from the same first day on.
pub(crate) struct Life<'y, 'a> {
    starts: &'y [Years<'a>],
    /// Hours of the day at which each start's foremen decide, and all of these.
    hours: Vec<Vec<usize>>,
    all_hours: Vec<usize>,
    /// By wall: an empty bench for each list of coats that some start asks for, and by start which of them is his.
    benches: Vec<(Vec<Bench>, Vec<usize>)>,
    watch: &'y dyn Watch,
    over: AtomicUsize,
}

impl<'y, 'a> Life<'y, 'a> {
    /// Sets the benches up.
    pub(crate) fn new(starts: &'y [Years<'a>], watch: &'y dyn Watch) -> Result<Self, WorksError> {
        let hours: Vec<Vec<usize>> = starts.iter().map(|years| decision_hours(years.sheet)).collect();
        let mut all_hours = hours.concat();
        all_hours.sort_unstable();
        all_hours.dedup();
        let walls = starts.first().map_or(0, |years| years.walls.len());
        let benches = (0..walls).map(|wall| benches(starts, wall)).collect::<Result<_, _>>()?;
        Ok(Self { starts, hours, all_hours, benches, watch, over: AtomicUsize::new(0) })
    }

    /// Lives through some weather years, by number.
    pub(crate) fn live(&self, years: &[usize]) -> Result<Lived, WorksError> {
        let threads = rayon::current_num_threads();
        let in_a_part = years.len().div_ceil(threads).clamp(1, MOST_YEARS_IN_A_PART);
        let parts = years.par_chunks(in_a_part).map(|part| Part::new(self, part)?.live()).collect::<Result<Vec<_>, WorksError>>()?;
        let mut all = Lived { runs: vec![Vec::new(); self.starts.len()], cell_steps: 0 };
        for part in parts {
            all.runs.iter_mut().zip(part.runs).for_each(|(all, runs)| all.extend(runs));
            all.cell_steps += part.cell_steps;
        }
        Ok(all)
    }
}

/// An empty bench of a wall for each list of coats, and which of them each start's is.
fn benches(starts: &[Years], wall: usize) -> Result<(Vec<Bench>, Vec<usize>), WorksError> {
    let mut kinds: Vec<usize> = Vec::new();
    let mut of = Vec::with_capacity(starts.len());
    for (number, years) in starts.iter().enumerate() {
        let same = |&kind: &usize| starts[kind].walls[starts[kind].at(wall)].coats == years.walls[years.at(wall)].coats;
        of.push(kinds.iter().position(same).unwrap_or_else(|| {
            kinds.push(number);
            kinds.len() - 1
        }));
    }
    let benches = kinds.into_iter().map(|start| starts[start].bench(starts[start].at(wall), &[])).collect::<Result<_, _>>()?;
    Ok((benches, of))
}

/// Some weather years of all starts, on one thread.
struct Part<'l, 'y, 'a> {
    life: &'l Life<'y, 'a>,
    years: &'l [usize],
    first_hours: Vec<usize>,
    /// A foreman for each start in each year, the years of a start together.
    foremen: Vec<Foreman<'a>>,
    stands: Vec<Stand<'l>>,
}

impl<'l, 'y, 'a> Part<'l, 'y, 'a> {
    fn new(life: &'l Life<'y, 'a>, years: &'l [usize]) -> Result<Self, WorksError> {
        let first_hours = life.starts.first().map_or_else(Vec::new, |start| start.first_hours(years));
        let foremen = life.starts.iter().flat_map(|start| years.iter().map(|_| Foreman::new(start.sheet))).collect();
        let mut part = Self { life, years, first_hours, foremen, stands: Vec::new() };
        part.stands = (0..life.benches.len()).map(|wall| part.stand(wall)).collect::<Result<_, _>>()?;
        Ok(part)
    }

    /// A wall as surveyed, in every year for every list of coats.
    fn stand(&self, wall: usize) -> Result<Stand<'l>, WorksError> {
        let (benches, of) = &self.life.benches[wall];
        let first = &self.life.starts[0];
        let bare = first.bench(first.at(wall), &self.first_hours)?;
        let walls: Vec<_> = (0..bare.members()).filter_map(|member| bare.checkpoint(member)).collect();
        let follows = of.iter().flat_map(|&kind| (0..self.years.len()).map(move |year| (kind, year)));
        let courses = Courses::new(benches, &walls, follows).map_err(|error| first.refused(wall, &error))?;
        Ok(Stand::Shared(Box::new(courses)))
    }

    fn live(mut self) -> Result<Lived, WorksError> {
        let dates = self.life.starts.iter().map(|start| start.sheet.start);
        let (Some(mut date), Some(last)) = (dates.clone().min(), dates.max()) else { return Ok(self.told()) };
        let last = add_days(last, LONGEST_JOB_DAYS + 1);
        while date <= last && self.foremen.iter().any(|foreman| !foreman.over()) {
            if self.life.watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
            self.day(date)?;
            date = add_days(date, 1);
        }
        Ok(self.told())
    }

    /// Lives through a day.
    fn day(&mut self, date: Date) -> Result<(), WorksError> {
        let (life, of) = (self.life, self.years.len());
        let begun = |member: &usize| date >= life.starts[member / of].sheet.start;
        let here: Vec<usize> = (0..self.foremen.len()).filter(|member| !self.foremen[*member].over()).filter(begun).collect();
        for &hour in &life.all_hours {
            self.bring(life.starts[0].hour_of_day(date, hour))?;
            for &member in here.iter().filter(|member| life.hours[*member / of].contains(&hour)) {
                let start = &life.starts[member / of];
                let now = start.hour_of_day(date, hour);
                let mut site = start.site(&mut self.stands, (member, self.years[member % of]), now, self.first_hours[member % of]);
                decide(start.sheet, &mut self.foremen[member], date, hour, &mut site);
            }
        }
        let now = life.starts[0].hour_of_day(add_days(date, 1), 0);
        self.bring(now)?;
        for &member in &here {
            let start = &life.starts[member / of];
            let site = start.site(&mut self.stands, (member, self.years[member % of]), now, self.first_hours[member % of]);
            self.foremen[member].close(date, &site);
            if self.foremen[member].unfinished.is_some() {
                self.stands.iter_mut().for_each(|stand| stand.leave(member));
            }
        }
        let over = here.iter().filter(|member| self.foremen[**member].over()).count();
        if over > 0 {
            let all = life.over.fetch_add(over, Ordering::Relaxed) + over;
            life.watch.progress("starts in weather years", all, life.starts.len() * life.starts[0].weather.years.len());
        }
        Ok(())
    }

    /// Steps every wall to an hour.
    fn bring(&mut self, hour: usize) -> Result<(), WorksError> {
        let first = &self.life.starts[0];
        let walls = self.stands.par_iter_mut().enumerate();
        walls.map(|(wall, stand)| stand.advance_to(hour).map_err(|error| first.refused(wall, &error))).collect()
    }

    fn told(mut self) -> Lived {
        let cell_steps = self.stands.iter_mut().map(Stand::cell_steps).sum();
        let mut foremen = self.foremen.into_iter();
        let run = |start: &Years, foreman: Option<Foreman>, year: usize| {
            foreman.map(|foreman| year_run(start.sheet, foreman, start.weather.years[year].year))
        };
        let runs = self.life.starts.iter().map(|start| self.years.iter().filter_map(|&year| run(start, foremen.next(), year)).collect());
        Lived { runs: runs.collect(), cell_steps }
    }
}
