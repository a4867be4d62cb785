//! Visits held back, gangs bound to walls and damping on days off, in a job without weather whose sums are worked by hand.

use jiff::civil::date;
use rust_decimal::Decimal;
use works::{Between, Programme, Protection, WaitReason, WeekendDamping};

use crate::fixture::{Job, gang, job, known};

/// Two walls of two coats, without limewash, begun on Tuesday 2 June: a gang-day for each piece of work. The north scud waits a week, the south one ten days.
fn two_walls() -> Job {
    let mut job = job(&["north", "south"]);
    job.inputs.window.start = date(2026, 6, 2);
    job.inputs.scaffold.from.value = date(2026, 6, 2);
    for (wall, days) in job.specification.walls.iter_mut().zip([7.0, 10.0]) {
        wall.coats.remove(1);
        wall.coats[0].least_wait_days = days;
        wall.limewash.coats = 0;
    }
    job
}

fn finish_days(programme: &Programme) -> Vec<jiff::civil::Date> {
    programme.runs[0].walls.iter().map(|wall| wall.tasks[2].from).collect()
}

// Tue 2 north prepared, Wed 3 north scud, Thu 4 south prepared, Fri 5 south scud. North is ready on Wed 10, south on Mon 15.
// Held back never: Wed 10 and Mon 15 lie five days apart, so that the gang comes three times: 2 to 5, 10, 15.
// Held back: a visit costs 50 and an hour of travel of two masons and a labourer, 30 + 30 + 20 = 80: 130. Two days held cost the hire of 60 m2 at 0.80 a
// week, 2 x 48/7 = 13.71, and plant, 2 x 120/7 = 34.29: 48. So north waits for Fri 12, and from Friday to Monday is one visit: 2 to 5, 12 to 15.
// Scaffold: north stands 2 to 10 or 2 to 12 June, two started weeks both times. Work falls in three weeks both times. So the cost differs by the visit and its
// travel, 130, with 15 per cent of overhead 149.50.
#[test]
fn two_days_held_save_a_visit() {
    let held = two_walls();
    let mut never = two_walls();
    never.inputs.running.hold_days = 0;
    let (with, without) = (held.programme().unwrap(), never.programme().unwrap());
    assert_eq!(finish_days(&without), [date(2026, 6, 10), date(2026, 6, 15)]);
    assert_eq!(finish_days(&with), [date(2026, 6, 12), date(2026, 6, 15)]);
    assert_eq!((without.runs[0].visits, with.runs[0].visits), (3, 2));
    assert_eq!(with.runs[0].finished, without.runs[0].finished);
    let told = &with.runs[0].held;
    assert_eq!(told.len(), 1);
    assert_eq!((told[0].from, told[0].to, told[0].days), (date(2026, 6, 10), date(2026, 6, 11), 2));
    let waited = with.runs[0].walls[0].tasks[2].waited.last().unwrap();
    assert_eq!((waited.from, waited.to, waited.reason), (date(2026, 6, 10), date(2026, 6, 11), WaitReason::Visit));
    let sentence = "From 10 June 2026 the gang is held two days so that north wall and south wall are done on one visit.";
    assert!(with.waits_sentence.contains(sentence), "{}", with.waits_sentence);
    assert!(!without.waits_sentence.contains("one visit"), "{}", without.waits_sentence);
    let before_tax = |job: &Job, programme: &Programme| job.price(programme).unwrap().before_tax.amount;
    assert_eq!(before_tax(&never, &without) - before_tax(&held, &with), Decimal::new(14_950, 2));
}

// The same two days at four times the hire cost 2 x 4 x 48/7 + 34.29 = 89.14, less than 130; at ten times 171.43, more.
#[test]
fn nothing_is_held_where_the_days_cost_more_than_the_visit() {
    for (hire, visits) in [(320, 2), (800, 3)] {
        let mut job = two_walls();
        job.inputs.scaffold.hire_m2_week = known(Decimal::new(hire, 2));
        assert_eq!(job.programme().unwrap().runs[0].visits, visits, "hire {hire}");
    }
}

#[test]
fn nothing_is_held_where_a_visit_costs_nothing_or_the_gang_stays() {
    let mut free = two_walls();
    free.inputs.rates.visit = known(Decimal::ZERO);
    free.inputs.gangs[0].travel_h = known(0.0);
    let mut stays = two_walls();
    stays.inputs.gangs[0].between = Between::IdlePaid;
    for job in [free, stays] {
        let run = job.programme().unwrap().runs.remove(0);
        assert!(run.held.is_empty() && run.visits == 3, "{:?}", run.held);
    }
}

// Two working days are wanted; at most one is allowed.
#[test]
fn nothing_is_held_longer_than_the_most() {
    let mut job = two_walls();
    job.inputs.running.hold_days = 1;
    let run = job.programme().unwrap().runs.remove(0);
    assert!(run.held.is_empty() && run.visits == 3, "{:?}", run.held);
}

// With one limewash a week after its finish north ends on Wed 17 June at the soonest; held two days, on Fri 19. A day late is charged at a day of the gang, 8 x 80
// = 640, so that the client's date of the 17th holds nothing back, and one of the 19th does; unless a day late is said to cost but 10: 48 + 20 is less than 130.
#[test]
fn nothing_is_held_past_the_clients_date_unless_that_is_cheap() {
    let held = |finish_by, late: Option<i64>| {
        let mut job = two_walls();
        job.specification.walls[0].limewash.coats = 1;
        job.inputs.window.finish_by = Some(finish_by);
        job.inputs.running.late_a_day = late.map(Decimal::from);
        job.programme().unwrap().runs[0].held.len()
    };
    assert_eq!(held(date(2026, 6, 17), None), 0);
    assert_eq!(held(date(2026, 6, 17), Some(10)), 1);
    assert_eq!(held(date(2026, 6, 19), None), 1);
}

// In October the frost season is near (it begins on the 15th): nothing is held.
#[test]
fn nothing_is_held_against_a_closing_season() {
    let mut job = two_walls();
    job.inputs.window.start = date(2026, 9, 29);
    job.inputs.scaffold.from.value = date(2026, 9, 29);
    let run = job.programme().unwrap().runs.remove(0);
    assert_eq!((run.visits, run.held.len()), (3, 0));
}

// Each wall by its own gang: both begin on Tuesday. South alone needs Tue 2 prepared, Wed 3 scud, + 10 = Sat 13, so Mon 15.
#[test]
fn a_wall_is_done_by_the_gang_it_is_given_to() {
    let mut job = two_walls();
    job.inputs.gangs = vec![gang("First gang"), gang("Second gang")];
    job.inputs.running.gang_of = [("north".to_owned(), 1), ("south".to_owned(), 0)].into();
    let run = job.programme().unwrap().runs.remove(0);
    for (wall, name) in run.walls.iter().zip(["Second gang", "First gang"]) {
        assert!(wall.tasks.iter().all(|task| task.gang == name), "{:?}", wall.tasks);
    }
    assert_eq!((run.walls[0].tasks[0].from, run.walls[1].tasks[0].from), (date(2026, 6, 2), date(2026, 6, 2)));
    // Both on one gang: south begins when north's scud is on, as with one gang alone.
    job.inputs.running.gang_of = [("north".to_owned(), 1), ("south".to_owned(), 1)].into();
    let run = job.programme().unwrap().runs.remove(0);
    assert_eq!(run.walls[1].tasks[0].from, date(2026, 6, 4));
    assert_eq!(run.gangs[0].days, 0.0);
}

// With 60 m2 of hessian at 200 a gang-day a coat takes 1.3 days, three half-days: north scud on Wed 3 and the morning of Thu 4, covered at noon, wetted at 8 and 15 on
// Fri 5, Sat 6 and Sun 7. South is prepared from Thursday noon to Friday noon, and its scud would be broken off by the weekend: Mon 8. So on Saturday and Sunday
// north alone is wetted, twice each. A paid hand is charged two visits for each day; the client is not.
#[test]
fn the_client_damps_on_days_off_and_is_not_charged() {
    let mut job = two_walls();
    job.inputs.running.hold_days = 0;
    for coat in job.specification.walls.iter_mut().flat_map(|wall| &mut wall.coats) {
        coat.protection = Protection { cover: "hessian".to_owned(), days: 3, damp_days: 3, wettings_a_day: 2, policy: None };
    }
    let paid = job.programme().unwrap().runs.remove(0);
    job.inputs.running.weekend_damping = WeekendDamping::Client;
    let programme = job.programme().unwrap();
    let run = &programme.runs[0];
    let first: Vec<_> = run.days_off_damped.iter().take(2).map(|day| (day.date, day.walls.clone(), day.hours.clone())).collect();
    let north = || vec![("north".to_owned(), 2)];
    assert_eq!(first, [(date(2026, 6, 6), north(), vec![8, 15]), (date(2026, 6, 7), north(), vec![8, 15])]);
    assert!(paid.days_off_damped.is_empty());
    let unpaid: u32 = run.days_off_damped.iter().map(|day| u32::try_from(day.hours.len()).unwrap()).sum();
    assert_eq!(paid.damping_visits, run.damping_visits + unpaid);
    assert!(programme.findings.iter().any(|finding| finding.rule == "days-off-damped" && finding.says.contains("the client damps")));
    let price = job.price(&programme).unwrap();
    assert!(price.exclusions.iter().any(|line| line.contains("the client does it")));
}
