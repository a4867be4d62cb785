//! The almanac of start weeks drawn and written: no two runs of words share ground, and season/1 says what the almanac says.

use documents::figures::{Theme, season};
use jiff::civil::date;
use reckoning::{Currency, Money};
use rust_decimal::Decimal;
use works::{GateItem, Season, SeasonRun, SeasonWeek, Standing, WaitReason, WallSeason, WallWeek};

use crate::figures::{check, keep};

fn pounds(amount: i64) -> Money {
    Money::new(Decimal::from(amount), Currency { code: "GBP".into(), mark: "£".into() })
}

/// An invented year of so many weeks: dearer and longer towards the winter, in which no start is finished 8 years in 10.
pub fn invented(weeks: i64, name: &str) -> Season {
    let first = date(2027, 1, 18);
    let day = |days: i64| first.checked_add(jiff::Span::new().days(days)).unwrap();
    let week = |number: i64| {
        let winter = (number - 20).unsigned_abs();
        let lost = winter > 24;
        let start = day(7 * number);
        let days = 90 + 4 * winter as u32;
        let eight = (!lost).then_some(days + 12);
        SeasonWeek {
            start,
            runs: vec![SeasonRun { year: 2001, finished: Some(day(7 * number + i64::from(days))), cost: pounds(60_000), redone: 1 }],
            finished_years: if lost { 20 } else { 30 },
            days: (Some(days), eight),
            finish: (Some(day(7 * number + i64::from(days))), eight.map(|days| day(7 * number + i64::from(days)))),
            cost: (Some(pounds(60_000 + 150 * winter as i64)), eight.map(|_| pounds(61_000 + 200 * winter as i64))),
            redone: (winter as u32 / 8, winter as u32 / 6),
            kept: None,
            damping_visits: 12.5,
            protection: "damp hessian for 7 days a coat".into(),
            held: vec![(WaitReason::LeastAge, 20.0), (WaitReason::Rain, 6.5)],
        }
    };
    let wall = |slug: &str| WallSeason {
        slug: slug.into(),
        name: format!("{name} {slug}"),
        faces_deg: 0.0,
        weeks: (0..weeks)
            .map(|number| WallWeek { from: day(7 * number), years: 30 - (number as u32 % 31), safe: 25 - (number as u32 % 26) })
            .collect(),
        last_safe: Some(date(2027, 9, 6)),
        safe_again: None,
        says: format!("{name} {slug}: the last safe first coat goes on in the week of 6 September 2027."),
    };
    Season {
        years: 30,
        no_odds: None,
        finish_by: None,
        weeks: (0..weeks).map(week).collect(),
        own: Some((weeks as usize).saturating_sub(1).min(14)),
        best: Some((weeks as usize).saturating_sub(1).min(17)),
        walls: vec![wall("north"), wall("south & <b>")],
        sentence: "Begun on Monday 17 May 2027, the job costs least.".into(),
        gate: vec![GateItem { what: "Consent in hand".into(), now: Standing::NotKnown, says: "Ask.".into(), by: None }],
        cell_steps: 1,
    }
}

#[test]
fn no_words_of_the_year_collide() {
    for (weeks, name) in [(52, "Wall to the"), (10, "A wall with a very long name indeed, to the"), (1, "One")] {
        for theme in [Theme::paper(500.0), Theme::daylight(1100.0), Theme::dark(700.0)] {
            let figure = season(&invented(weeks, name), &theme);
            keep(&figure, &format!("season-{weeks}-{}", theme.wide));
            check(&figure, &format!("{weeks} weeks on {}", theme.wide));
            assert!(!figure.svg.contains("<b>"), "names stay words");
        }
    }
}

#[test]
fn season_1_says_what_the_almanac_says() {
    let season = invented(52, "Wall to the");
    let read: serde_json::Value = serde_json::from_str(&documents::season_json(&season)).unwrap();
    assert_eq!(read["format"], "season/1");
    assert_eq!(read["weeks"].as_array().unwrap().len(), 52);
    assert_eq!(read["best"], "2027-05-17");
    assert_eq!(read["weeks"][17]["cost"]["eight_in_ten"]["amount"], "61600");
    assert_eq!(read["weeks"][0]["held"][0]["reason"], "least-age");
    assert_eq!(read["walls"][0]["last_safe"], "2027-09-06");
    assert_eq!(read["gate"][0]["now"], "not known");
}
