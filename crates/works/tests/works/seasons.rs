//! The job in weather: invented years made by hand, in which the weather of every day is known, with the engine behind the coats.

use jiff::civil::{Date, date};
use weather::{Kind, RainRecord, Site, Weather, WeatherYear};
use works::{Programme, Task, WaitReason, WorksError};

use crate::fixture::{Job, job};
use crate::waits::days_add_up;

/// A still, dull, dry year at 12 °C and 75 %, the same in every hour.
pub fn dull(year: i32) -> WeatherYear {
    let hours = 8760;
    WeatherYear {
        year,
        air_c: vec![12.0; hours],
        humidity: vec![0.75; hours],
        pressure_pa: vec![101_325.0; hours],
        wind_m_s: vec![2.0; hours],
        wind_from_deg: vec![0.0; hours],
        rain_mm: vec![0.0; hours],
        global_w_m2: vec![0.0; hours],
        direct_w_m2: vec![0.0; hours],
        diffuse_w_m2: vec![0.0; hours],
        sky_w_m2: vec![370.0; hours],
    }
}

pub fn weather(kind: Kind, years: Vec<WeatherYear>) -> Weather {
    let site = Site { name: "Port Calder".to_owned(), latitude_deg: 56.0, longitude_deg: -3.0, elevation_m: 10.0, utc_offset_h: 0.0 };
    Weather { site, kind, years, hash: "made by hand".to_owned(), findings: Vec::new(), rain: RainRecord::Hourly }
}

/// Changes the hours `from..to` of a day.
pub fn on(year: &mut WeatherYear, day: Date, hours: std::ops::Range<usize>, change: impl Fn(&mut WeatherYear, usize)) {
    let midnight = (usize::from(day.day_of_year().unsigned_abs()) - 1) * 24;
    for hour in hours {
        change(year, midnight + hour);
    }
}

fn bare_job() -> Job {
    let mut job = job(&["north"]);
    job.survey.building.surveyed_on = "2026-05-25".to_owned();
    job
}

fn scud(programme: &Programme) -> &Task {
    &programme.runs[programme.middle].walls[0].tasks[1]
}

/// The job in one year, changed by hand.
fn run(change: impl Fn(&mut WeatherYear)) -> Programme {
    let mut year = dull(2026);
    change(&mut year);
    let programme = bare_job().programme_in(Some(&weather(Kind::Invented, vec![year]))).unwrap();
    days_add_up(date(2026, 6, 1), &programme.runs[0]);
    programme
}

// Preparation on Monday 1 June; nothing holds the scud on Tuesday 2 June.
#[test]
fn a_dry_day_is_thrown_on() {
    let programme = run(|_| {});
    assert_eq!(scud(&programme).from, date(2026, 6, 2));
    assert!(scud(&programme).waited.is_empty());
    assert!(programme.runs[0].finished.is_some(), "{:?}", programme.runs[0].unfinished);
    assert!(programme.cell_steps > 0);
}

// How a year ends hangs on no other: a year of frost in which the job is given up is the same alone and beside one that is rained off until September and
// goes on into the winter.
#[test]
fn a_year_that_is_given_up_is_the_same_beside_another() {
    let mut frosty = dull(2026);
    frosty.air_c.iter_mut().for_each(|air_c| *air_c = -3.0);
    let mut wet = dull(2027);
    wet.rain_mm[..255 * 24].iter_mut().for_each(|rain_mm| *rain_mm = 2.0);
    let run = |years: Vec<WeatherYear>| {
        let mut run = bare_job().programme_in(Some(&weather(Kind::Invented, years))).unwrap().runs.swap_remove(0);
        // Days are kept of the middle year alone.
        run.walls.iter_mut().for_each(|wall| wall.days.clear());
        run
    };
    let alone = run(vec![frosty.clone()]);
    assert!(alone.unfinished.is_some() && alone.finished.is_none());
    assert_eq!(run(vec![frosty, wet]), alone);
}

#[test]
fn rain_on_given_days_holds_the_throw() {
    let programme = run(|year| {
        for day in [2, 3] {
            on(year, date(2026, 6, day), 8..16, |year, hour| {
                year.rain_mm[hour] = 3.0;
                year.wind_m_s[hour] = 5.0;
            });
        }
    });
    let waited: Vec<(Date, Date, WaitReason)> = scud(&programme).waited.iter().map(|wait| (wait.from, wait.to, wait.reason)).collect();
    assert_eq!(waited, [(date(2026, 6, 2), date(2026, 6, 3), WaitReason::Rain)]);
    assert!(scud(&programme).from >= date(2026, 6, 4));
}

#[test]
fn frost_cold_heat_and_wind_hold_the_throw_by_name() {
    let spoilt = |reason: WaitReason, hours: std::ops::Range<usize>, change: fn(&mut WeatherYear, usize)| {
        let programme = run(|year| on(year, date(2026, 6, 2), hours.clone(), change));
        let first = &scud(&programme).waited[0];
        assert_eq!((first.from, first.reason), (date(2026, 6, 2), reason));
    };
    spoilt(WaitReason::Frost, 20..24, |year, hour| year.air_c[hour] = -1.0);
    spoilt(WaitReason::Cold, 6..18, |year, hour| year.air_c[hour] = 4.0);
    spoilt(WaitReason::Heat, 6..18, |year, hour| year.air_c[hour] = 31.0);
    spoilt(WaitReason::Wind, 6..18, |year, hour| year.wind_m_s[hour] = 14.0);
}

// Twelve equal years finish on one day, and all of them by it; nine years and a typical one give no odds.
#[test]
fn odds_need_ten_years_that_are_not_typical() {
    let years = |kind, count| bare_job().programme_in(Some(&weather(kind, (0..count).map(|year| dull(2001 + year)).collect()))).unwrap();
    let twelve = years(Kind::Made, 12);
    let odds = twelve.odds.as_ref().unwrap();
    assert_eq!((odds.years, odds.finished_years, odds.eight_in_ten_years), (12, 12, 12));
    assert_eq!(odds.middle, odds.eight_in_ten);
    let recorded: Vec<usize> = (0..12).filter(|&run| !twelve.runs[run].walls[0].days.is_empty()).collect();
    assert_eq!(recorded, [twelve.middle], "the records of the middle run alone are kept");
    assert!(years(Kind::Made, 9).no_odds.unwrap().contains("at least 10"));
    assert!(years(Kind::Typical, 1).no_odds.unwrap().contains("typical"));
}

#[test]
fn any_number_of_threads_gives_the_same_bits() {
    let mut years: Vec<WeatherYear> = (0..5).map(|year| dull(2001 + year)).collect();
    for (number, year) in years.iter_mut().enumerate() {
        year.air_c.iter_mut().enumerate().for_each(|(hour, air)| *air += ((hour * (number + 3)) % 17) as f64 * 0.2);
    }
    let weather = weather(Kind::Made, years);
    let job = bare_job();
    let with = |threads| {
        rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap().install(|| job.programme_in(Some(&weather)).unwrap())
    };
    assert_eq!(with(1), with(3));
}

#[test]
fn an_unused_wall_changes_nothing() {
    let weather = weather(Kind::Invented, vec![dull(2026)]);
    let plain = bare_job().programme_in(Some(&weather)).unwrap();
    let mut more = job(&["north", "south"]);
    more.survey.building.surveyed_on = "2026-05-25".to_owned();
    more.specification.walls.truncate(1);
    more.quantities.walls.truncate(1);
    assert_eq!(more.programme_in(Some(&weather)).unwrap().runs, plain.runs);
}

// Air so cold that no day is ever fit: said as such, with no finish.
#[test]
fn a_year_without_a_fit_day_is_not_finished_this_season() {
    let programme = run(|year| year.air_c.iter_mut().for_each(|air| *air = 2.0));
    let run = &programme.runs[0];
    assert_eq!(run.finished, None);
    let why = run.unfinished.as_ref().unwrap();
    assert!(why.contains("it waits for cold") && why.contains("not finished this season") && why.contains("warm it"), "{why}");
    assert_eq!(programme.unfinished(), run.unfinished.as_deref());
    assert!(!run.walls[0].still_waiting.is_empty());
    assert!(bare_job().price(&programme).is_ok());
}

#[test]
fn a_plan_called_off_says_so() {
    struct Off;
    impl works::Watch for Off {
        fn progress(&self, _: &str, _: usize, _: usize) {}
        fn cancelled(&self) -> bool {
            true
        }
    }
    let job = bare_job();
    let weather = weather(Kind::Invented, vec![dull(2026)]);
    let off = works::programme(&job.survey, &job.specification, &job.quantities, &job.inputs, Some(&weather), &Off);
    assert_eq!(off.unwrap_err(), WorksError::Cancelled);
}

#[test]
fn weather_without_rain_is_refused() {
    let dry = Weather { rain: RainRecord::Missing, ..weather(Kind::Measured, vec![dull(2026)]) };
    assert!(bare_job().programme_in(Some(&dry)).unwrap_err().to_string().contains("gives no rain"));
}

#[test]
fn a_wall_the_engine_cannot_take_is_named() {
    let mut job = bare_job();
    job.survey.building.walls[0].thickness_m.value = -1.0;
    let error = job.programme_in(Some(&weather(Kind::Invented, vec![dull(2026)]))).unwrap_err();
    assert!(matches!(&error, WorksError::Engine { wall, .. } if wall == "north"), "{error}");
}
