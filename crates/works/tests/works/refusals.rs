//! What cannot be planned is refused in a sentence that names what binds.

use jiff::civil::date;
use works::WorksError;

use crate::fixture::job;

#[test]
fn an_impossible_deadline_names_the_earliest_day_and_what_binds() {
    let mut job = job(&["north"]);
    job.inputs.window.finish_by = Some(date(2026, 6, 20));
    let error = job.programme().unwrap_err();
    // The critical path worked by hand ends on 30 June at the specification's least waits.
    assert!(matches!(&error, WorksError::ImpossibleDeadline { earliest, .. } if *earliest == date(2026, 6, 30)), "{error}");
    let words = error.to_string();
    assert!(
        words.contains("20 June 2026") && words.contains("North wall") && words.contains("old enough") && words.contains("22 May 2026"),
        "{words}"
    );
    job.inputs.window.finish_by = Some(date(2026, 6, 30));
    assert!(job.programme().is_ok());
}

#[test]
fn everything_wrong_is_said_at_once() {
    let mut job = job(&["north"]);
    job.inputs.calendar.days.clear();
    job.inputs.gangs[0].masons = 0;
    job.inputs.scaffold.walls_at_once = Some(0);
    job.inputs.rates.outputs.finish.value = 0.0;
    let WorksError::Several(all) = job.programme().unwrap_err() else { panic!("one error only") };
    assert_eq!(all.len(), 4);
    let words = WorksError::Several(all).to_string();
    for said in ["no working days", "First gang", "0 walls to be scaffolded", "output for the finish coat is 0"] {
        assert!(words.contains(said), "{words}");
    }
}

#[test]
fn no_gang_no_wall_and_a_late_scaffold_are_refused() {
    let mut none = job(&["north"]);
    none.inputs.gangs.clear();
    assert_eq!(none.programme().unwrap_err(), WorksError::NoGang);
    let mut late = job(&["north"]);
    late.inputs.scaffold.from.value = date(2026, 12, 1);
    late.inputs.window.finish_by = Some(date(2026, 11, 1));
    assert!(matches!(late.programme().unwrap_err(), WorksError::ScaffoldTooLate { .. }));
    let mut empty = job(&["north"]);
    empty.specification.walls.clear();
    assert_eq!(empty.programme().unwrap_err(), WorksError::NoWalls);
    let mut cheap = job(&["north"]);
    let programme = cheap.programme().unwrap();
    cheap.inputs.rates.visit.value = rust_decimal::Decimal::NEGATIVE_ONE;
    assert!(cheap.price(&programme).unwrap_err().to_string().contains("a visit is -1"));
}
