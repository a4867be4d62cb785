//! A coat that is spoilt comes off and is laid again: its half-days, its money and its finding, worked on paper. Whether it is spoilt is computed by the
//! engine (regression only); what follows is exact.

use jiff::civil::date;
use reckoning::Grade;
use rust_decimal::Decimal;
use weather::{Kind, WeatherYear};
use works::{Programme, Protection};

use crate::fixture::{Job, job};
use crate::seasons::{dull, on, weather};

/// A wall of 60 m², its coats bare or behind hessian wetted three times a day.
fn one_wall(covered: bool) -> Job {
    let mut job = job(&["north"]);
    job.survey.building.surveyed_on = "2026-05-25".to_owned();
    if covered {
        for coat in &mut job.specification.walls[0].coats {
            coat.protection = Protection { cover: "damp-hessian".to_owned(), days: 7, damp_days: 3, wettings_a_day: 3, policy: None };
        }
    }
    job
}

/// A dull year with ten hot, dry, windy days from the start.
fn hot_spell() -> WeatherYear {
    let mut year = dull(2026);
    for day in 1..=10 {
        on(&mut year, date(2026, 6, day), 0..24, |year, hour| {
            year.air_c[hour] = 27.0;
            year.humidity[hour] = 0.40;
            year.wind_m_s[hour] = 6.0;
        });
    }
    year
}

fn run(job: &Job) -> Programme {
    job.programme_in(Some(&weather(Kind::Invented, vec![hot_spell()]))).unwrap()
}

#[test]
fn a_coat_dried_out_is_taken_off_and_laid_again_and_paid() {
    let job = one_wall(false);
    let programme = run(&job);
    let run = &programme.runs[0];
    for loss in &run.losses {
        println!("{loss:?}");
        // Laid at 60 m² a gang-day: two half-days; taken off at 25 m² a gang-day: 2.4 days, so five half-days.
        assert_eq!(loss.gang_days, 3.5);
        assert!(loss.kind.to_string() == "dried out" && loss.coat == "scud" && !loss.cause.is_empty() && !loss.prevention.is_empty());
    }
    assert!((1..=3).contains(&run.losses.len()) && run.finished.is_some(), "{:?}", run.unfinished);
    let tasks: f64 = run.walls[0].tasks.iter().map(|task| task.gang_days).sum();
    let lost = run.losses.len() as f64;
    assert_eq!(run.gang_days, tasks + 3.5 * lost, "every half-day worked is a task's or a loss's");
    let finding = programme.findings.iter().find(|finding| finding.rule == "coats-lost").unwrap();
    assert!(finding.grade == Grade::Stop && finding.says.contains("In 1 of 1 year of weather"), "{}", finding.says);
    // A gang-day is 8 hours of two masons at 30 and a labourer at 20.
    let price = job.price(&programme).unwrap();
    let line = price.lines.iter().find(|line| line.path == "price.redo").unwrap();
    assert_eq!(line.amount.amount, Decimal::from(2240) * Decimal::from(run.losses.len()));
    assert_eq!(price.by_year.as_slice(), std::slice::from_ref(&price.before_tax), "one year is its own mean");
    assert!(price.reckonings.get("price.redo").is_some());
}

#[test]
fn behind_hessian_the_same_coat_is_kept() {
    let job = one_wall(true);
    let programme = run(&job);
    let run = &programme.runs[0];
    println!("{:?} {:?}", run.losses, run.mendings);
    assert!(run.losses.is_empty());
    assert!(programme.findings.iter().any(|finding| finding.rule == "no-coat-lost"));
    let price = job.price(&programme).unwrap();
    assert!(price.lines.iter().all(|line| line.path != "price.redo"));
    assert_eq!(price.lines.iter().any(|line| line.path == "price.mending"), run.mending_visits > 0);
}

/// Money of coats lost is the mean over the years: half of it where one year of two loses one.
#[test]
fn the_price_carries_the_mean_of_what_the_years_lose() {
    let job = one_wall(false);
    let both = job.programme_in(Some(&weather(Kind::Invented, vec![hot_spell(), dull(2027)]))).unwrap();
    assert!(both.runs[1].losses.is_empty(), "{:?}", both.runs[1].losses);
    let lost = both.runs[0].losses.len();
    let price = job.price(&both).unwrap();
    let line = price.lines.iter().find(|line| line.path == "price.redo").unwrap();
    assert_eq!(line.amount.amount, Decimal::from(1120) * Decimal::from(lost));
    assert!(line.words.contains("in 2 years"), "{}", line.words);
}
