//! Visits held back, gangs bound to walls and damping on days off, in a job without weather whose sums are worked by hand.

use jiff::civil::date;
use rust_decimal::Decimal;
use works::{Between, Programme, Protection, WaitReason, WeekendDamping};

use crate::fixture::{Job, gang, job, known};

/// Two walls of two coats, without limewash, begun on Friday 5 June: a gang-day for each coat and preparation, half a one for tie patches. The south scud waits
/// a fortnight, the north one a week. The scaffold stands from Thursday 4 June.
fn two_walls() -> Job {
    let mut job = job(&["south", "north"]);
    job.inputs.window.start = date(2026, 6, 5);
    job.inputs.scaffold.from.value = date(2026, 6, 4);
    for (wall, days) in job.specification.walls.iter_mut().zip([14.0, 7.0]) {
        wall.coats.remove(1);
        wall.coats[0].least_wait_days = days;
        wall.limewash.coats = 0;
    }
    job
}

fn finish_days(programme: &Programme) -> Vec<jiff::civil::Date> {
    programme.runs[0].walls.iter().map(|wall| wall.tasks[2].from).collect()
}

// Fri 5 south prepared, Mon 8 south scud, Tue 9 north prepared, Wed 10 north scud. North is ready on Wed 17, south on Mon 22.
// Held back never: north finish Wed 17, its tie patches Thu 18; south finish Mon 22, its tie patches Tue 23. From the 18th to the 22nd lie four days, so that the
// gang comes three times: 5 to 10, 17 to 18, 22 to 23.
// Held back: a visit costs 50 and an hour of travel of two masons and a labourer, 30 + 30 + 20 = 80: 130. Two days held cost the hire of 60 m2 at 0.80 a
// week, 2 x 48/7 = 13.71, and plant, 2 x 120/7 = 34.29: 48. So north waits for Fri 19, and from Friday to Monday is one visit: 5 to 10, 19 to 23, when both have
// their tie patches.
// Scaffold: north stands from the 4th to the 18th or the 23rd, three started weeks both times; south to the 23rd. Work falls in four weeks both times. Held back,
// the finish of the north wall is looked at on Saturday 20 and Sunday 21 by a hand paid 15 a time; else its tie patches are made good the day after it and
// its scaffold comes down, so that nobody looks. So the cost differs by the visit and its travel less two looks, 130 - 30, with 15 per cent of overhead 115.
#[test]
fn two_days_held_save_a_visit() {
    let held = two_walls();
    let mut never = two_walls();
    never.inputs.running.hold_days = 0;
    let (with, without) = (held.programme().unwrap(), never.programme().unwrap());
    assert_eq!(finish_days(&without), [date(2026, 6, 22), date(2026, 6, 17)]);
    assert_eq!(finish_days(&with), [date(2026, 6, 22), date(2026, 6, 19)]);
    assert_eq!((without.runs[0].visits, with.runs[0].visits), (3, 2));
    let told = &with.runs[0].held;
    assert_eq!(told.len(), 1);
    assert_eq!((told[0].from, told[0].to, told[0].days), (date(2026, 6, 17), date(2026, 6, 18), 2));
    let waited = with.runs[0].walls[1].tasks[2].waited.last().unwrap();
    assert_eq!((waited.from, waited.to, waited.reason), (date(2026, 6, 17), date(2026, 6, 18), WaitReason::Visit));
    let sentence = "From 17 June 2026 the gang is held two days so that north wall and south wall can be done on one visit.";
    assert!(with.waits_sentence.contains(sentence), "{}", with.waits_sentence);
    assert!(!without.waits_sentence.contains("one visit"), "{}", without.waits_sentence);
    let looks = |programme: &Programme| -> Vec<(jiff::civil::Date, bool)> {
        programme.runs[0].walls[1].tasks[2].looked.iter().map(|look| (look.date, look.gang.is_some())).collect()
    };
    assert_eq!(looks(&without), []);
    assert_eq!(looks(&with), [(date(2026, 6, 20), false), (date(2026, 6, 21), false)]);
    let before_tax = |job: &Job, programme: &Programme| job.price(programme).unwrap().before_tax.amount;
    assert_eq!(before_tax(&never, &without) - before_tax(&held, &with), Decimal::from(115));
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

// With one limewash a week after its finish, on Wed 24, and tie patches the day after, north ends on Thu 25 June at the soonest; held two days, on the 27th or later.
// A day late is charged at a day of the gang, 8 x 80 = 640, so that the client's date of the 25th holds nothing back, and one of Mon 29 does; unless a day late
// is said to cost but 10: 48 + 20 is less than 130.
#[test]
fn nothing_is_held_past_the_clients_date_unless_that_is_cheap() {
    let held = |finish_by, late: Option<i64>| {
        let mut job = two_walls();
        job.specification.walls[1].limewash.coats = 1;
        job.inputs.window.finish_by = Some(finish_by);
        job.inputs.running.late_a_day = late.map(Decimal::from);
        job.programme().unwrap().runs[0].held.len()
    };
    assert_eq!(held(date(2026, 6, 25), None), 0);
    assert_eq!(held(date(2026, 6, 25), Some(10)), 1);
    assert_eq!(held(date(2026, 6, 29), None), 1);
}

// In October the frost season is near (it begins on the 15th): nothing is held.
#[test]
fn nothing_is_held_against_a_closing_season() {
    let mut job = two_walls();
    job.inputs.window.start = date(2026, 10, 2);
    job.inputs.scaffold.from.value = date(2026, 10, 1);
    let run = job.programme().unwrap().runs.remove(0);
    assert_eq!((run.visits, run.held.len()), (3, 0));
}

// Each wall by its own gang: both begin on Friday.
#[test]
fn a_wall_is_done_by_the_gang_it_is_given_to() {
    let mut job = two_walls();
    job.inputs.gangs = vec![gang("First gang"), gang("Second gang")];
    job.inputs.running.gang_of = [("north".to_owned(), 1), ("south".to_owned(), 0)].into();
    let run = job.programme().unwrap().runs.remove(0);
    for (wall, name) in run.walls.iter().zip(["First gang", "Second gang"]) {
        assert!(wall.tasks.iter().all(|task| task.gang == name), "{:?}", wall.tasks);
    }
    assert_eq!((run.walls[0].tasks[0].from, run.walls[1].tasks[0].from), (date(2026, 6, 5), date(2026, 6, 5)));
    // Both on one gang: north begins when south's scud is on, as with one gang alone.
    job.inputs.running.gang_of = [("north".to_owned(), 1), ("south".to_owned(), 1)].into();
    let run = job.programme().unwrap().runs.remove(0);
    assert_eq!(run.walls[1].tasks[0].from, date(2026, 6, 9));
    assert_eq!(run.gangs[0].days, 0.0);
}

// With 60 m2 of hessian at 200 a gang-day a coat takes 1.3 days, three half-days: south scud on Mon 8 and the morning of Tue 9, covered at noon, wetted Wed 10 to Fri 12.
// North is prepared from Tuesday noon to Wednesday noon and its scud thrown until Thursday evening: covered then, wetted at 8 and 15 on Fri 12, Sat 13 and Sun 14.
// So on Saturday and Sunday north alone is wetted, twice each. A paid hand comes for all of it, and looks at a fresh coat on the same visit; where the client
// damps, whoever looks at a fresh coat and presses it back is still paid.
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
    assert_eq!(first, [(date(2026, 6, 13), north(), vec![8, 15]), (date(2026, 6, 14), north(), vec![8, 15])]);
    assert!(paid.days_off_damped.is_empty());
    let unpaid: u32 = run.days_off_damped.iter().map(|day| u32::try_from(day.hours.len()).unwrap()).sum();
    let off = |day: &jiff::civil::Date| run.days_off_damped.iter().any(|damped| damped.date == *day);
    let tasks = run.walls.iter().flat_map(|wall| &wall.tasks);
    let looks = tasks.flat_map(|task| &task.looked).filter(|look| look.gang.is_none()).map(|look| look.date).filter(off);
    let looks = u32::try_from(looks.collect::<std::collections::BTreeSet<_>>().len()).unwrap();
    assert_eq!(paid.damping_visits + looks, run.damping_visits + unpaid);
    assert!(programme.findings.iter().any(|finding| finding.rule == "days-off-damped" && finding.says.contains("the client damps")));
    let price = job.price(&programme).unwrap();
    assert!(price.exclusions.iter().any(|line| line.contains("the client does it")));
}
