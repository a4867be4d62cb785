//! Hours from daily values: the course of temperature through a day.

use physics::numbers::cos;

/// Hours after the sun's highest in which a day is warmest (the 14 to 15 o'clock of the cosine methods compared by Reicosky, Winkelman, Baker & Baker,
/// Agricultural and Forest Meteorology 46 (1989) 193).
const WARMEST_AFTER_NOON_H: f64 = 2.5;
/// Hour before noon of the least where no sunrise tells it.
const COLDEST_BEFORE_NOON_H: f64 = 6.0;

/// Temperature by the hour from each day's (least, greatest), °C: half cosines from the least, at sunrise, to the greatest, and on to the next least
/// (C. T. de Wit, Simulation of assimilation, respiration and transpiration of crops, 1978). `light` of each hour tells sunrise; `noon` is the hour of
/// the sun's highest.
pub(crate) fn half_cosines(range: &[(f64, f64)], light: &[f64], noon: f64) -> Vec<f64> {
    let mut turns: Vec<(f64, f64)> = Vec::with_capacity(range.len() * 2 + 4);
    let days = range.len() as isize;
    // One day more at either end, like its neighbour, so that the first and last hours have a course too.
    for day in -1..=days {
        let Some((like, (least, greatest))) = usize::try_from(day.clamp(0, days - 1)).ok().and_then(|like| Some((like, range.get(like)?)))
        else {
            continue;
        };
        let start = day as f64 * 24.0;
        turns.push((start + coldest_hour(&light[like * 24..like * 24 + 24], noon), *least));
        turns.push((start + noon + WARMEST_AFTER_NOON_H, *greatest));
    }
    turns.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut courses = Vec::with_capacity(light.len());
    let mut next = 0;
    for hour in 0..range.len() * 24 {
        let time = hour as f64 + 0.5;
        while next < turns.len() && turns[next].0 <= time {
            next += 1;
        }
        courses.push(match (next.checked_sub(1).and_then(|before| turns.get(before)), turns.get(next)) {
            (Some(before), Some(after)) => between(*before, *after, time),
            (Some(end), None) | (None, Some(end)) => end.1,
            (None, None) => 0.0,
        });
    }
    courses
}

fn between(before: (f64, f64), after: (f64, f64), time: f64) -> f64 {
    let part = (time - before.0) / (after.0 - before.0).max(1e-9);
    before.1 + (after.1 - before.1) * 0.5 * (1.0 - cos(std::f64::consts::PI * part))
}

/// Hour of the day's least: sunrise, or six hours before noon where the sun does not rise or set.
fn coldest_hour(light: &[f64], noon: f64) -> f64 {
    let first_lit = light.iter().position(|light| *light > 0.0);
    let latest = noon - 2.0;
    match first_lit {
        Some(hour) if hour > 0 => (hour as f64).min(latest),
        _ => noon - COLDEST_BEFORE_NOON_H,
    }
}
