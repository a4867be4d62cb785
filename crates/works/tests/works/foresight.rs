//! What the foreman knows of the weather to come: a frost that comes out of a mild spell holds the throw of one who knows it, and takes by surprise one who
//! expects tomorrow to be as today was. What he sees at work stops him whatever he expected. The weather is made by hand; the days are worked on paper.

use jiff::civil::{Date, date};
use weather::{Kind, WeatherYear};
use works::protect::Foresight;
use works::{Programme, WaitReason};

use crate::fixture::job;
use crate::seasons::{dull, on, weather};

/// Preparation on Monday 1 June, so that the scud is due on Tuesday 2 June.
fn lived(foresight: Foresight, year: &WeatherYear) -> Programme {
    let mut job = job(&["north"]);
    job.survey.building.surveyed_on = "2026-05-25".to_owned();
    job.inputs.foresight = foresight;
    job.programme_in(Some(&weather(Kind::Invented, vec![year.clone()]))).unwrap()
}

fn scud(programme: &Programme) -> (Date, Vec<WaitReason>) {
    let scud = &programme.runs[0].walls[0].tasks[1];
    (scud.from, scud.waited.iter().map(|wait| wait.reason).collect())
}

/// Mild, but for a night of frost after Tuesday 2 June.
fn frost_out_of_nothing() -> WeatherYear {
    let mut year = dull(2026);
    on(&mut year, date(2026, 6, 2), 22..24, |year, hour| year.air_c[hour] = -2.0);
    year
}

#[test]
fn who_knows_of_the_frost_waits_and_who_does_not_throws() {
    let year = frost_out_of_nothing();
    let (from, waited) = scud(&lived(Foresight::Perfect, &year));
    assert!(from > date(2026, 6, 2) && waited == [WaitReason::Frost], "{from} {waited:?}");
    let (from, waited) = scud(&lived(Foresight::None, &year));
    assert_eq!((from, waited), (date(2026, 6, 2), Vec::new()));
}

// A forecast of a frost of -2 °C half a day ahead errs by a kelvin (one deviation): it is foreseen.
#[test]
fn a_sharp_frost_is_foreseen_the_morning_before() {
    let (from, waited) = scud(&lived(Foresight::Imperfect, &frost_out_of_nothing()));
    assert!(from > date(2026, 6, 2) && waited == [WaitReason::Frost], "{from} {waited:?}");
}

#[test]
fn rain_in_the_hours_of_work_stops_whoever_expected_none() {
    let mut year = dull(2026);
    on(&mut year, date(2026, 6, 2), 8..17, |year, hour| year.rain_mm[hour] = 3.0);
    for foresight in [Foresight::None, Foresight::Imperfect, Foresight::Perfect] {
        let (from, waited) = scud(&lived(foresight, &year));
        assert!(from > date(2026, 6, 2) && waited.first() == Some(&WaitReason::Rain), "{foresight:?}: {from} {waited:?}");
    }
}

#[test]
fn the_forecasts_hang_on_the_seed_alone() {
    let mut year = dull(2026);
    year.air_c.iter_mut().enumerate().for_each(|(hour, air)| *air = 5.5 + 3.0 * ((hour % 24) as f64 / 24.0 - 0.5));
    let with = |seed: u64| {
        let mut job = job(&["north"]);
        job.survey.building.surveyed_on = "2026-05-25".to_owned();
        job.inputs.seed = seed;
        job.programme_in(Some(&weather(Kind::Invented, vec![year.clone()]))).unwrap().runs
    };
    assert_eq!(with(7), with(7));
    assert!((1..20).any(|seed| with(seed) != with(7)), "no seed moves a day of a job at the edge of the cold");
}
