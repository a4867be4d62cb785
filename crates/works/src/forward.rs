//! A day of the job, hour by hour of decision, for one foreman or for several who each live in another year; and what their books say when it is over.

use jiff::civil::Date;

use crate::book::{Done, WallBook};
use crate::calendar::{Half, WorkingTime, add_days, days_between};
use crate::foreman::{Foreman, wetting_hours};
use crate::parts::parts;
use crate::sheet::{JobSheet, Work};
use crate::site::Site;
use crate::thumb::{Rule, Thumb};
use crate::visits::VISIT_GAP_DAYS;
use crate::{CoverWork, GangRun, Look, Task, Wait, WallRun, YearRun};

/// The hours of the civil day at which something may be decided, in order: start, middle and end of work and the hours of wetting.
pub(crate) fn decision_hours(sheet: &JobSheet) -> Vec<usize> {
    let WorkingTime { from, middle, to, .. } = sheet.time;
    let mut hours = vec![from, middle, to];
    for coat in sheet.walls.iter().flat_map(|wall| &wall.coats) {
        hours.extend(wetting_hours(coat.protection.wettings_a_day, &sheet.time));
    }
    // A policy is asked every hour: wind takes a cloth down at any.
    if sheet.is_tended() {
        hours.extend(0..24);
    }
    hours.sort_unstable();
    hours.dedup();
    hours
}

/// What a foreman does at an hour of decision.
pub(crate) fn decide(sheet: &JobSheet, foreman: &mut Foreman, date: Date, hour: usize, site: &mut dyn Site) {
    let time = &sheet.time;
    if hour == time.from {
        foreman.morning(date, site);
        foreman.work(date, Half::Morning, site);
    } else if hour == time.middle {
        foreman.after_half(date, Half::Morning, site);
        foreman.work(date, Half::Afternoon, site);
    } else if hour == time.to {
        foreman.after_half(date, Half::Afternoon, site);
        foreman.damp_for_tomorrow(date, site);
    }
    foreman.wet(date, hour, site);
    foreman.tend(date, hour, site);
}

/// Runs the whole job once without weather.
pub(crate) fn run_by_thumb(sheet: &JobSheet, rule: Rule) -> YearRun {
    let mut site = Thumb::new(sheet, rule);
    let mut foreman = Foreman::new(sheet);
    let hours = decision_hours(sheet);
    let mut date = sheet.start;
    while !foreman.over() {
        for &hour in &hours {
            decide(sheet, &mut foreman, date, hour, &mut site);
        }
        foreman.close(date, &site);
        date = add_days(date, 1);
    }
    year_run(sheet, foreman, i32::from(sheet.start.year()))
}

/// What the foreman's book says when the year is over.
pub(crate) fn year_run(sheet: &JobSheet, foreman: Foreman, year: i32) -> YearRun {
    let Foreman { mut walls, gangs, damping_visits, mending_visits, days_off_damped, unfinished, .. } = foreman;
    let held = gangs.iter().flat_map(|gang| gang.held.iter().cloned()).collect();
    let worked = gangs.iter().filter_map(|gang| gang.days.last()).map(|&(day, _)| day);
    let last_day = worked.chain(walls.iter().filter_map(|wall| wall.scaffold_to)).max();
    let gangs: Vec<GangRun> = gangs.iter().zip(&sheet.gangs).map(|(book, gang)| gang_run(sheet, &gang.name, &book.days)).collect();
    let scaffold_m2_weeks = walls.iter().zip(&sheet.walls).map(|(book, wall)| scaffold_weeks(book, last_day) * wall.scaffold_m2).sum();
    let covers = walls.iter().zip(&sheet.walls).fold(CoverWork::default(), |sum, (book, wall)| sum.and(&book.tended, wall.scaffold_m2));
    let losses = walls.iter_mut().flat_map(|book| std::mem::take(&mut book.losses)).collect();
    let mendings = walls.iter_mut().flat_map(|book| std::mem::take(&mut book.mendings)).collect();
    YearRun {
        year,
        losses,
        mendings,
        mending_visits,
        held,
        days_off_damped,
        finished: if unfinished.is_none() { last_day } else { None },
        unfinished,
        gang_days: gangs.iter().map(|gang| gang.days).sum(),
        visits: gangs.iter().map(|gang| gang.visits).sum(),
        damping_visits,
        covers,
        scaffold_m2_weeks,
        gangs,
        walls: walls.into_iter().enumerate().map(|(wall, book)| wall_run(sheet, wall, book)).collect(),
    }
}

/// Started weeks of hire for one wall, from the day it was given scaffold to its last day (to the last day of the job if it was not finished).
fn scaffold_weeks(book: &WallBook, last_day: Option<Date>) -> f64 {
    let Some(from) = book.scaffold_from else { return 0.0 };
    let Some(to) = book.scaffold_to.or(last_day) else { return 0.0 };
    let days = (days_between(from, to) + 1).max(1);
    (days as f64 / 7.0).ceil()
}

fn gang_run(sheet: &JobSheet, name: &str, days: &[(Date, u32)]) -> GangRun {
    let worked: f64 = days.iter().map(|&(_, halves)| f64::from(halves) / 2.0).sum();
    let visits = days.windows(2).filter(|pair| days_between(pair[0].0, pair[1].0) > VISIT_GAP_DAYS).count() + usize::from(!days.is_empty());
    let short = days.iter().filter(|&&(_, halves)| halves == 1).count();
    let nights = days.windows(2).filter(|pair| days_between(pair[0].0, pair[1].0) == 1).count();
    let mut open = 0.0;
    if let (Some(&(first, _)), Some(&(last, _))) = (days.first(), days.last()) {
        let span = (0..=days_between(first, last)).map(|day| add_days(first, day));
        open = span.filter(|&day| sheet.time.closed(day).is_none()).count() as f64;
    }
    let counted = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    GangRun {
        name: name.to_owned(),
        days: worked,
        visits: counted(visits),
        idle_days: (open - worked).max(0.0),
        short_days: counted(short),
        nights: counted(nights),
    }
}

fn wall_run(sheet: &JobSheet, wall: usize, book: WallBook) -> WallRun {
    let still_waiting = book.still_waiting().to_vec();
    let mut tasks = tasks(sheet, wall, &book.done);
    for looked in &book.looked {
        let slug = &sheet.walls[wall].coats[looked.coat].slug;
        // Of a coat that was lost and laid again the days of the last laying are told.
        if let Some(task) = tasks.iter_mut().find(|task| task.slug == *slug && task.from < looked.date) {
            task.looked.push(Look { date: looked.date, gang: looked.gang.map(|gang| sheet.gangs[gang].name.clone()) });
        }
    }
    WallRun {
        slug: sheet.walls[wall].slug.clone(),
        tasks,
        scaffold_from: book.scaffold_from,
        scaffold_to: book.scaffold_to,
        scaffold: book.scaffold,
        still_waiting,
        freed: book.freed,
        damped: book.damped,
        days: book.days,
    }
}

/// The steps as tasks, the limewashes joined into one.
fn tasks(sheet: &JobSheet, wall: usize, done: &[Done]) -> Vec<Task> {
    let mut tasks: Vec<Task> = Vec::new();
    for step in done {
        if let (Work::Limewash(number), Some(last)) = (step.work, tasks.last_mut())
            && number > 0
        {
            last.to = step.to;
            last.gang_days += f64::from(step.half_days) / 2.0;
            last.waited.extend(step.waited.iter().cloned());
            last.ready = Some(step.to);
            continue;
        }
        let (slug, name) = name(sheet, wall, step.work);
        let ready = match step.work {
            Work::Coat(_) => step.ready,
            Work::Preparation | Work::Limewash(_) | Work::TiePatches => Some(step.to),
        };
        tasks.push(Task {
            slug,
            name,
            gang: sheet.gangs[step.gang].name.clone(),
            from: step.from,
            to: step.to,
            gang_days: f64::from(step.half_days) / 2.0,
            ready,
            decides: step.decides.clone(),
            rules: step.rules.clone(),
            took_days: step.took_days.clone(),
            waited: step.waited.clone(),
            damping_visits: step.damping_visits,
            parts: match sheet.walls[wall].steps.iter().find(|planned| planned.work == step.work) {
                Some(planned) => parts(&sheet.walls[wall], planned, step),
                None => Vec::new(),
            },
            looked: Vec::new(),
        });
    }
    tasks
}

fn name(sheet: &JobSheet, wall: usize, work: Work) -> (String, String) {
    match work {
        Work::Preparation => ("preparation".to_owned(), "Preparation".to_owned()),
        Work::Coat(coat) => (sheet.walls[wall].coats[coat].slug.clone(), sheet.walls[wall].coats[coat].name.clone()),
        Work::Limewash(_) => ("limewash".to_owned(), "Limewash".to_owned()),
        Work::TiePatches => ("tie-patches".to_owned(), "Tie patches".to_owned()),
    }
}

/// Waiting days of a wall's run, all its tasks together.
pub(crate) fn waits_of(wall: &WallRun) -> impl Iterator<Item = &Wait> {
    wall.tasks.iter().flat_map(|task| &task.waited).chain(&wall.still_waiting)
}

/// Whole days of a wait.
pub(crate) fn wait_days(wait: &Wait) -> u32 {
    u32::try_from(days_between(wait.from, wait.to) + 1).unwrap_or(0)
}
