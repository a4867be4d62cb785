//! The generator judged by reconstruction: normals from 15 random days of each month of a real file, 100 made years, and the days left out against them.
//! Provenance: real typical years out of an older pvlib wheel. The limits are wide where one year's chance is wide (a quantile of 180 days, one year's frost
//! nights). What is missed, and what was fitted to which file, stands in `docs/weather-normals.md`.

use serde_json::Value;
use weather::{Month, Normals, Site, Weather, WeatherYear, make, read_epw, read_tmy3};

use super::files::real;

/// A small fixed sequence (Park & Miller).
struct Cases(u64);

impl Cases {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        (self.0 as usize) % count
    }
}

#[derive(Clone, Copy)]
struct Day {
    month: usize,
    mean_c: f64,
    max_c: f64,
    min_c: f64,
    global: f64,
    humidity: f64,
    wind: f64,
    wet: bool,
}

fn days(year: &WeatherYear, wet: &[bool]) -> Vec<Day> {
    (0..year.hours() / 24)
        .map(|day| {
            let span = day * 24..day * 24 + 24;
            let mean = |column: &[f64]| column[span.clone()].iter().sum::<f64>() / 24.0;
            let air = &year.air_c[span.clone()];
            Day {
                month: year.month_and_day(day * 24).0 as usize - 1,
                mean_c: mean(&year.air_c),
                max_c: air.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                min_c: air.iter().copied().fold(f64::INFINITY, f64::min),
                global: mean(&year.global_w_m2) * 24.0,
                humidity: mean(&year.humidity),
                wind: mean(&year.wind_m_s),
                wet: wet[day],
            }
        })
        .collect()
}

fn made_days(weather: &Weather) -> Vec<Vec<Day>> {
    let of = |year: &WeatherYear| {
        let wet: Vec<bool> = year.rain_mm.chunks(24).map(|day| day.iter().sum::<f64>() > 0.95).collect();
        days(year, &wet)
    };
    weather.years.iter().map(of).collect()
}

/// Fifteen random days of each month, and the rest.
fn split(all: &[Day]) -> (Vec<Day>, Vec<bool>) {
    let mut cases = Cases(1_234_567);
    let mut chosen = vec![false; all.len()];
    for month in 0..12 {
        let of: Vec<usize> = (0..all.len()).filter(|day| all[*day].month == month).collect();
        let mut left = 15;
        while left > 0 {
            let day = of[cases.below(of.len())];
            if !chosen[day] {
                chosen[day] = true;
                left -= 1;
            }
        }
    }
    ((0..all.len()).filter(|day| chosen[*day]).map(|day| all[day]).collect(), chosen)
}

fn normals(site: &Site, chosen: &[Day]) -> Normals {
    let months = std::array::from_fn(|month| {
        let of: Vec<&Day> = chosen.iter().filter(|day| day.month == month).collect();
        let mean = |value: &dyn Fn(&Day) -> f64| of.iter().map(|day| value(day)).sum::<f64>() / of.len() as f64;
        let wet_days = mean(&|day| f64::from(day.wet)) * 30.0;
        Month {
            mean_max_c: mean(&|day| day.max_c),
            mean_min_c: mean(&|day| day.min_c),
            rain_mm: wet_days * 6.0,
            wet_days,
            global_wh_m2_day: mean(&|day| day.global),
            humidity: mean(&|day| day.humidity),
            wind_m_s: mean(&|day| day.wind),
            daily_sd_k: None,
        }
    });
    Normals { site: site.clone(), months, rain_wind_from_deg: 230.0, from_typical_year: true }
}

fn quantile(values: &mut [f64], share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let at = share * (values.len() - 1) as f64;
    let from = at as usize;
    let to = (from + 1).min(values.len() - 1);
    values[from] + (values[to] - values[from]) * (at - from as f64)
}

/// Correlation of a day's departure from its month's mean with the next day's.
fn persistence(days: &[Day]) -> f64 {
    let mut sums = [(0.0, 0.0); 12];
    for day in days {
        sums[day.month].0 += day.mean_c;
        sums[day.month].1 += 1.0;
    }
    let apart: Vec<f64> = days.iter().map(|day| day.mean_c - sums[day.month].0 / sums[day.month].1).collect();
    let product: f64 = apart.windows(2).map(|pair| pair[0] * pair[1]).sum();
    product / apart.iter().map(|value| value * value).sum::<f64>()
}

/// Lengths of runs of dry days.
fn dry_spells(days: &[Day]) -> Vec<f64> {
    days.split(|day| day.wet).map(|run| run.len() as f64).filter(|length| *length > 0.0).collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// One line of the table: real, made, and the limit of their difference.
fn line(misses: &mut Vec<String>, what: &str, real: f64, made: f64, limit: f64) {
    let verdict = if (real - made).abs() <= limit { "holds" } else { "MISSES" };
    println!("  {what:<44} real {real:8.2}  made {made:8.2}  limit {limit:5.2}  {verdict}");
    if verdict == "MISSES" {
        misses.push(what.to_owned());
    }
}

fn judge(file: &str, weather: &Weather, wet: &[bool], know_rain: bool) -> Vec<String> {
    let all = days(&weather.years[0], wet);
    let (chosen, taken) = split(&all);
    let made = made_days(&make(&normals(&weather.site, &chosen), 5, 100).unwrap());
    let out: Vec<Day> = (0..all.len()).filter(|day| !taken[*day]).map(|day| all[day]).collect();
    let pooled: Vec<Day> = made.iter().flatten().copied().collect();
    let mut misses = Vec::new();
    println!("{file}: {} days left out, 100 years made", out.len());
    for (season, months) in [("October to March", [9, 10, 11, 0, 1, 2]), ("April to September", [3, 4, 5, 6, 7, 8])] {
        for (share, limit) in [(0.05, 4.0), (0.25, 2.5), (0.5, 2.0), (0.75, 2.5), (0.95, 4.0)] {
            let of = |days: &[Day]| days.iter().filter(|day| months.contains(&day.month)).map(|day| day.mean_c).collect::<Vec<_>>();
            let name = format!("daily mean, {season}, {:.0} in 100, °C", share * 100.0);
            line(&mut misses, &name, quantile(&mut of(&out), share), quantile(&mut of(&pooled), share), limit);
        }
    }
    line(
        &mut misses,
        "day-to-day persistence of temperature",
        persistence(&all),
        mean(&made.iter().map(|year| persistence(year)).collect::<Vec<_>>()),
        0.15,
    );
    let yearly = |days: &[Day], hit: &dyn Fn(&Day) -> bool| 365.0 * days.iter().filter(|day| hit(day)).count() as f64 / days.len() as f64;
    let counted = |misses: &mut Vec<String>, what: &str, hit: &dyn Fn(&Day) -> bool| {
        let found = yearly(&out, hit);
        // One year's count of rare days scatters like its root, and spells make it scatter twice as far.
        line(misses, what, found, yearly(&pooled, hit), 12.0 + 2.0 * found.sqrt());
    };
    counted(&mut misses, "frost nights in a year", &|day| day.min_c < 0.0);
    counted(&mut misses, "days of 25 °C and more in a year", &|day| day.max_c >= 25.0);
    if know_rain {
        counted(&mut misses, "hot dry days (25 °C and more) in a year", &|day| day.max_c >= 25.0 && !day.wet);
        counted(&mut misses, "wet days in a year", &|day| day.wet);
        let spells: Vec<Vec<f64>> = made.iter().map(|year| dry_spells(year)).collect();
        let real = dry_spells(&all);
        line(&mut misses, "mean dry spell, days", mean(&real), mean(&spells.concat()), 0.8);
        let longest = |spells: &[f64]| spells.iter().copied().fold(0.0, f64::max);
        line(
            &mut misses,
            "longest dry spell in a year, days",
            longest(&real),
            mean(&spells.iter().map(|year| longest(year)).collect::<Vec<_>>()),
            8.0,
        );
    }
    misses
}

/// Wet days of the Dutch file: rain, drizzle, snow or showers seen in at least four observations; for the others rain is not known, and only temperature is judged.
fn wet_days(answer: &Value) -> Option<Vec<bool>> {
    let hours: Vec<u32> = serde_json::from_value(answer.get("wet_hours")?.clone()).ok()?;
    let seen = hours.iter().any(|hours| *hours > 0);
    seen.then(|| hours.iter().map(|hours| *hours >= 4).collect())
}

/// What the generator is known to miss: the fourth file was held back when the spread of temperature was set by the other three.
const KNOWN_MISSES: [&str; 1] = ["tmy_45.000_8.000_2005_2016.epw: daily mean, October to March, 75 in 100, °C"];

#[test]
fn four_climates_from_half_their_days() {
    let mut misses: Vec<String> = Vec::new();
    for (file, epw) in [
        ("NLD_Amsterdam062400_IWEC.epw", true),
        ("703165TY.csv", false),
        ("723170TYA.CSV", false),
        ("tmy_45.000_8.000_2005_2016.epw", true),
    ] {
        let (text, answer) = real(file);
        let weather = if epw { read_epw(&text, file) } else { read_tmy3(&text, file) }.unwrap();
        let wet = wet_days(&answer);
        let known = wet.is_some();
        // Where rain is not known every third day is called wet; nothing of rain is judged there.
        let wet = wet.unwrap_or_else(|| (0..365).map(|day| day % 3 == 0).collect());
        misses.extend(judge(file, &weather, &wet, known).into_iter().map(|miss| format!("{file}: {miss}")));
    }
    assert_eq!(misses, KNOWN_MISSES, "the generator misses otherwise than its documentation says");
}
