//! The judgement and the splice: what must hold of them. Exact identities unless said otherwise.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use weather::{Forecast, Weather, WeatherYear, invented, judge, made_against_given};

fn twelve() -> Weather {
    invented::years(31, 12).unwrap()
}

#[test]
fn counts_keep_within_the_month() {
    let judged = judge(&twelve(), 0.0);
    for (month, days) in judged.months.iter().zip([31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0]) {
        assert!(month.mild_damp_h.high <= 24.0 * days);
        for spread in [month.frost_nights, month.freezing_faces, month.drying_days, month.working_days] {
            assert!(0.0 <= spread.low && spread.low <= spread.high && spread.high <= days);
        }
        // A face under the sky is never warmer at night than the air by this reckoning, so it freezes at least as often.
        assert!(month.freezing_faces.mean >= month.frost_nights.mean - 1e-9);
    }
    let rain: f64 = judged.months.iter().map(|month| month.rain_mm.mean).sum();
    let year: f64 = twelve().years.iter().map(|year| year.rain_mm.iter().sum::<f64>()).sum::<f64>() / 12.0;
    assert!((rain - year).abs() < 1e-6);
}

/// ISO 15927-3: the index of a face is the sum of its hours; here with one wind and one rain every hour, by hand.
#[test]
fn the_index_of_a_steady_wind() {
    let mut weather = twelve();
    weather.years.truncate(1);
    let year = &mut weather.years[0];
    year.wind_m_s.fill(5.0);
    year.wind_from_deg.fill(180.0);
    year.rain_mm.fill(1.0);
    let judged = judge(&weather, 0.0);
    let south = judged.faces.iter().find(|face| face.words == "south").unwrap();
    assert!((south.rain_kg_m2_a - 8760.0 * 2.0 / 9.0 * 5.0).abs() < 1e-6 && (south.spell_kg_m2 - south.rain_kg_m2_a).abs() < 1e-6);
    assert!(judged.faces.iter().filter(|face| face.words != "south").all(|face| face.rain_kg_m2_a < 1e-9));
}

#[test]
fn words_and_drawing_say_the_same() {
    let weather = twelve();
    let judged = judge(&weather, 20.0);
    let (text, svg) = (judged.to_text(), judged.to_svg());
    assert!(text.starts_with("Port Calder (invented): 12 invented years"), "{text}");
    assert!(svg.contains(&judged.answer()) && svg.starts_with("<svg") && svg.ends_with("</svg>\n"));
    for face in &judged.faces {
        let figure = format!("{} {:.0}", face.words, face.rain_kg_m2_a);
        assert!(svg.contains(&figure), "{figure}");
    }
    let few = judge(&invented::years(31, 2).unwrap(), 0.0).to_text();
    assert!(few.contains("no odds can be taken") && !few.contains('–'), "{few}");
    let table = made_against_given(&weather, &invented::normals()).unwrap();
    assert_eq!(table.lines().count(), 13);
}

/// A name that would break out of the drawing does not.
#[test]
fn names_are_escaped() {
    let mut weather = invented::years(1, 1).unwrap();
    weather.site.name = "<script>&\"\u{7}".into();
    let svg = judge(&weather, 0.0).to_svg();
    assert!(!svg.contains("<script") && svg.contains("&lt;script&gt;&amp;&quot;"));
}

const FORECAST: &str =
    "day,min,max,rain,wind\n2026-05-04,6,14,0,3\n2026-05-05,8,12,9.5,8\n2026-05-06,7,13,0.4,5\n2026-05-07,5,16,0,2\n2026-05-08,9,19,0,4\n";

fn day(year: &WeatherYear, day: usize) -> (f64, f64, f64, f64) {
    let span = day * 24..day * 24 + 24;
    let air = &year.air_c[span.clone()];
    let fold = |start: f64, pick: fn(f64, f64) -> f64| air.iter().copied().fold(start, pick);
    let mean = year.wind_m_s[span.clone()].iter().sum::<f64>() / 24.0;
    (fold(f64::INFINITY, f64::min), fold(f64::NEG_INFINITY, f64::max), year.rain_mm[span].iter().sum(), mean)
}

#[test]
fn a_forecast_is_laid_over_every_year_and_fades() {
    let before = twelve();
    let forecast = Forecast::from_text(FORECAST, "forecast").unwrap();
    let after = before.clone().spliced(&forecast);
    assert_ne!(before.hash, after.hash);
    let first = 31 + 28 + 31 + 30 + 3;
    let mut taken = Vec::new();
    for lead in 0..5 {
        let asked = forecast.days[lead];
        let mut hits = 0;
        for (own, year) in before.years.iter().zip(&after.years) {
            let (least, greatest, rain, wind) = day(year, first + lead);
            let is_forecast = (least - asked.least_c).abs() < 1e-9
                && (greatest - asked.greatest_c).abs() < 1e-6
                && (rain - asked.rain_mm).abs() < 0.06
                && (wind - asked.wind_m_s).abs() < 1e-6;
            assert!(is_forecast || day(year, first + lead) == day(own, first + lead), "lead {lead}: {:?}", day(year, first + lead));
            hits += usize::from(is_forecast);
        }
        taken.push(hits);
    }
    // 12 years: whole for three days, then 85 and 70 in 100.
    assert_eq!(taken, [12, 12, 12, 10, 8]);
    // Nothing else moved.
    for (own, year) in before.years.iter().zip(&after.years) {
        assert_eq!(own.air_c[..first * 24], year.air_c[..first * 24]);
        assert_eq!(own.rain_mm[(first + 5) * 24..], year.rain_mm[(first + 5) * 24..]);
    }
}

#[test]
fn a_forecast_may_run_over_new_year() {
    let forecast = Forecast::from_text("2026-12-30,1,5,0,3\n2026-12-31,1,5,0,3\n2027-01-01,-3,2,0,3\n", "forecast").unwrap();
    let after = twelve().spliced(&forecast);
    assert!(after.years.iter().all(|year| (day(year, 0).0 + 3.0).abs() < 1e-9));
}

#[test]
fn every_fault_of_a_forecast_at_once() {
    let said = Forecast::from_text("2026-05-04,6,14,0\n2026-02-30,6,14,0,3\n2026-05-06,x,14,-1,3\n2026-05-09,14,6,0,3\n", "typed")
        .unwrap_err()
        .to_string();
    for word in [
        "line 1: found 4 fields",
        "line 2, day: found “2026-02-30”",
        "line 3, min: found “x”",
        "line 3, rain: found “-1”",
        "line 4, min: found 14 over 6",
    ] {
        assert!(said.contains(word), "{word}: {said}");
    }
    assert!(Forecast::from_text("", "typed").unwrap_err().to_string().contains("no day"));
    assert!(
        Forecast::from_text("2026-05-04,6,14,0,3\n2026-05-06,6,14,0,3\n", "typed")
            .unwrap_err()
            .to_string()
            .contains("days that follow each other")
    );
}
