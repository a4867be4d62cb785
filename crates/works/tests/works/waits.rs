//! Every day of a wall is a day of work or a waiting day with exactly one reason, and they add up to the span.

use std::collections::BTreeMap;

use jiff::civil::Date;
use proptest::prelude::*;
use works::YearRun;

use crate::fixture::{gang, job};

/// Checks every wall of a run; days of work are those of its tasks that are not waits.
pub fn days_add_up(start: Date, run: &YearRun) {
    for wall in &run.walls {
        let mut days: BTreeMap<Date, u32> = BTreeMap::new();
        for wait in wall.tasks.iter().flat_map(|task| &task.waited).chain(&wall.still_waiting) {
            let mut day = wait.from;
            while day <= wait.to {
                *days.entry(day).or_default() += 1;
                day = day.tomorrow().unwrap();
            }
        }
        assert!(days.values().all(|&count| count == 1), "a day waits for two reasons");
        let Some(last) = wall.tasks.last() else { continue };
        let mut day = start;
        while day <= last.to {
            let worked = wall.tasks.iter().any(|task| task.from <= day && day <= task.to && !days.contains_key(&day));
            assert!(worked || days.contains_key(&day), "{} {day}: neither work nor a reason", wall.slug);
            day = day.tomorrow().unwrap();
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn in_any_job_without_weather(
        walls in 1usize..5,
        gangs in 1usize..3,
        at_once in prop::option::of(1u32..4),
        output in 20.0f64..90.0,
        shift in 0i64..360,
        break_from in 0i64..60,
        break_days in 0i64..20,
        wait in 0.0f64..16.0,
    ) {
        let slugs = ["north", "east", "south", "west"];
        let mut job = job(&slugs[..walls]);
        let move_by = |days: i64| jiff::ToSpan::days(days);
        let start = job.inputs.window.start.checked_add(move_by(shift)).unwrap();
        job.inputs.window.start = start;
        job.inputs.gangs = (0..gangs).map(|number| gang(&format!("Gang {number}"))).collect();
        job.inputs.scaffold.walls_at_once = at_once;
        job.inputs.rates.outputs.finish.value = output;
        let first = start.checked_add(move_by(break_from)).unwrap();
        job.inputs.calendar.breaks = vec![(first, first.checked_add(move_by(break_days)).unwrap())];
        for coat in job.specification.walls.iter_mut().flat_map(|wall| &mut wall.coats) {
            coat.least_wait_days = wait;
        }
        let programme = job.programme().unwrap();
        let run = &programme.runs[0];
        prop_assert!(run.finished.is_some());
        days_add_up(start, run);
        // The wall that finishes last: work and waits fill the job.
        let waiting: u32 = programme.waits.iter().map(|&(_, days)| days).sum();
        let span = start.until(run.finished.unwrap()).unwrap().get_days() + 1;
        prop_assert!(i64::from(waiting) < i64::from(span));
        prop_assert_eq!(&programme, &job.programme().unwrap());
    }
}
