//! The hours of a made year's days.

use physics::numbers::{cos, erfc, exp, ln};
use physics::sun;

use super::day::Day;
use super::draws::{Chain, Draws, Purpose};
use super::plan::{DAYS, Plan, SUN_YEAR};
use crate::daily::half_cosines;
use crate::{moist, sunlit};

/// The hours of a year.
#[derive(Default)]
pub(super) struct Hours {
    pub(super) air_c: Vec<f64>,
    pub(super) humidity: Vec<f64>,
    pub(super) wind_m_s: Vec<f64>,
    pub(super) wind_from_deg: Vec<f64>,
    pub(super) rain_mm: Vec<f64>,
    pub(super) global_w_m2: Vec<f64>,
}

/// Spread of the hourly share of the clear sky's light about the day's, and its memory (from memory).
const LIGHT_SPREAD: f64 = 0.35;
const LIGHT_MEMORY: f64 = 0.6;
/// Most light of an hour over that of the clear sky: edges of clouds.
const MOST_LIGHT: f64 = 1.08;
/// Light left in an hour of rain, share (from memory).
const RAIN_LIGHT: f64 = 0.5;
/// Part of an hour's wind score that is the day's, and the memory of the rest (from memory).
const WIND_OF_DAY: f64 = 0.8;
const WIND_MEMORY: f64 = 0.8;
/// Height of the daily course of wind over its mean on a bright summer's day, share (from memory).
pub(crate) const WIND_COURSE: f64 = 0.3;
/// Greatest hourly wind made, m/s.
const MOST_WIND_M_S: f64 = 40.0;
/// Share of the way to the day's heading that the wind turns in an hour, and its wander, degrees (from memory).
const TURN: f64 = 0.15;
const WANDER_DEG: f64 = 9.0;
/// Least humidity in an hour of rain (from memory).
const RAIN_HUMIDITY: f64 = 0.88;

/// The hours of a year's days.
pub(super) fn hours(plan: &Plan, seed: u64, year: i32, days: &[Day]) -> Hours {
    let sun_year = if (1850..=2200).contains(&year) { year } else { SUN_YEAR };
    let clear: Vec<f64> = sunlit::hourly(&plan.site, sun_year, false).map(|sun| sun::clear_sky_w_m2(sun.up)).collect();
    let amounts: Vec<f64> = days.iter().map(|day| day.rain_mm).collect();
    let rain_mm = rain(seed, year, &amounts, &plan.mean_c);
    let range: Vec<(f64, f64)> = days.iter().map(|day| (day.least_c, day.greatest_c)).collect();
    let air_c = half_cosines(&range, &clear, plan.noon);
    let vapour: Vec<f64> = days.iter().map(|day| day.humidity * moist::saturation_pa(0.5 * (day.least_c + day.greatest_c))).collect();
    let humidity = humidity(&vapour, &air_c, &rain_mm);
    let (wind_m_s, wind_from_deg) = wind(plan, seed, year, days);
    Hours { global_w_m2: light(seed, year, days, &clear, &rain_mm), humidity, wind_m_s, wind_from_deg, air_c, rain_mm }
}

fn light(seed: u64, year: i32, days: &[Day], clear: &[f64], rain_mm: &[f64]) -> Vec<f64> {
    let mut chain = Chain::new(Draws::new(seed, year, Purpose::LightHours), LIGHT_MEMORY);
    let mut light = Vec::with_capacity(DAYS * 24);
    for (hour, clear) in clear.iter().enumerate() {
        let draw = chain.step();
        if *clear <= 0.0 {
            light.push(0.0);
            continue;
        }
        let of_day = days[hour / 24].light;
        // A clear day is steady and so is a dull one; broken cloud is what flickers.
        let spread = LIGHT_SPREAD * 4.0 * of_day * (1.0 - of_day).max(0.05);
        let share = of_day * exp(spread * draw - 0.5 * spread * spread) * if rain_mm[hour] > 0.0 { RAIN_LIGHT } else { 1.0 };
        light.push(clear * share.clamp(0.03, MOST_LIGHT));
    }
    light
}

/// Relative humidity by the hour: vapour stands at each day's mean at noon and runs in a line from noon to noon; it cannot pass saturation.
pub(crate) fn humidity(vapour_pa: &[f64], air_c: &[f64], rain_mm: &[f64]) -> Vec<f64> {
    let last = vapour_pa.len().saturating_sub(1);
    air_c
        .iter()
        .zip(rain_mm)
        .enumerate()
        .map(|(hour, (air, rain))| {
            let along = ((hour as f64 + 0.5) / 24.0 - 0.5).max(0.0);
            let from = (along as usize).min(last);
            let to = (from + 1).min(last);
            let held = vapour_pa[from] + (vapour_pa[to] - vapour_pa[from]) * (along - from as f64).min(1.0);
            let share = held / moist::saturation_pa(*air);
            let least = if *rain > 0.0 { RAIN_HUMIDITY } else { 0.05 };
            share.clamp(least, 1.0)
        })
        .collect()
}

fn wind(plan: &Plan, seed: u64, year: i32, days: &[Day]) -> (Vec<f64>, Vec<f64>) {
    let mut gusty = Chain::new(Draws::new(seed, year, Purpose::WindHours), WIND_MEMORY);
    let mut wander = Draws::new(seed, year, Purpose::DirectionHours);
    let mut from = days[0].wind_from_deg;
    let (mut speeds, mut directions) = (Vec::with_capacity(DAYS * 24), Vec::with_capacity(DAYS * 24));
    for (index, day) in days.iter().enumerate() {
        let course = WIND_COURSE * day.light * 0.5 * (1.0 - plan.winter[index]);
        for hour in 0..24 {
            let of_day = cos((f64::from(hour) + 0.5 - plan.noon - 2.0) * std::f64::consts::PI / 12.0);
            let score = WIND_OF_DAY * day.wind_score + (1.0 - WIND_OF_DAY * WIND_OF_DAY).sqrt() * gusty.step();
            speeds.push((day.wind_m_s * (1.0 + course * of_day) * rayleigh(score)).min(MOST_WIND_M_S));
            let apart = (day.wind_from_deg - from + 180.0).rem_euclid(360.0) - 180.0;
            from = (from + TURN * apart + WANDER_DEG * wander.normal()).rem_euclid(360.0);
            directions.push(from);
        }
    }
    (speeds, directions)
}

/// The wind over its mean that a normal score stands for, where speeds follow the Rayleigh distribution (Weibull of shape 2), as the wind standard
/// IEC 61400-1 takes them.
fn rayleigh(score: f64) -> f64 {
    let above = 0.5 * erfc(score.clamp(-6.0, 6.0) / std::f64::consts::SQRT_2);
    (-ln(above)).sqrt() / (0.5 * std::f64::consts::PI.sqrt())
}

/// Shares each day's rain among its hours, in tenths of a millimetre: a number of wet hours that grows with the amount, in one to three bursts.
pub(crate) fn rain(seed: u64, year: i32, amounts_mm: &[f64], mean_c: &[f64]) -> Vec<f64> {
    let mut draws = Draws::new(seed, year, Purpose::Bursts);
    let mut rain = vec![0.0; amounts_mm.len() * 24];
    for (index, amount) in amounts_mm.iter().enumerate() {
        let tenths = (amount * 10.0).round() as i64;
        let mut shares = [0.0f64; 24];
        // Every day takes the same number of draws, so that no day depends on the rain of those before.
        let (length, starts) = (draws.normal(), [draws.even(), draws.even(), draws.even()]);
        let weights: [f64; 24] = std::array::from_fn(|_| draws.exponential() + 0.1);
        if tenths <= 0 {
            continue;
        }
        let wet_hours = wet_hours(*amount, mean_c[index], length).min(tenths as usize);
        place_bursts(wet_hours, &starts, &weights, &mut shares);
        for (slot, share) in rain[index * 24..index * 24 + 24].iter_mut().zip(in_tenths(tenths, &shares)) {
            *slot = share as f64 / 10.0;
        }
    }
    rain
}

/// Hours of rain in a day: the amount over a mean intensity of 0.8 mm/h in the cold and 0.05 more for each degree, with a log-normal spread of 0.45
/// (the order of frontal and convective rain, from memory).
fn wet_hours(rain_mm: f64, mean_c: f64, draw: f64) -> usize {
    let intensity = 0.8 + 0.05 * mean_c.max(0.0);
    ((rain_mm / intensity * exp(0.45 * draw)).round() as usize).clamp(1, 22)
}

fn place_bursts(wet_hours: usize, starts: &[f64; 3], weights: &[f64; 24], shares: &mut [f64; 24]) {
    let bursts = 1 + usize::from(wet_hours > 4) + usize::from(wet_hours > 9);
    let mut left = wet_hours;
    for (number, start) in starts.iter().take(bursts).enumerate() {
        let length = left.div_ceil(bursts - number);
        let mut hour = (start * 24.0) as usize;
        let mut placed = 0;
        // Bursts may meet: the later one then runs on, round midnight if need be.
        while placed < length {
            if shares[hour % 24] == 0.0 {
                shares[hour % 24] = weights[hour % 24];
                placed += 1;
            }
            hour += 1;
        }
        left -= length;
    }
}

/// Shares a whole number of tenths in proportion, at least one to each hour that has a share, by largest remainders.
fn in_tenths(tenths: i64, shares: &[f64; 24]) -> [i64; 24] {
    let sum: f64 = shares.iter().sum();
    let wet = shares.iter().filter(|share| **share > 0.0).count() as i64;
    let spare = (tenths - wet).max(0) as f64;
    let exact: [f64; 24] = shares.map(|share| if share > 0.0 { 1.0 + spare * share / sum } else { 0.0 });
    let mut whole: [i64; 24] = exact.map(|value| value as i64);
    let mut order: Vec<usize> = (0..24).filter(|hour| shares[*hour] > 0.0).collect();
    order.sort_by(|one, other| (exact[*other] - whole[*other] as f64).total_cmp(&(exact[*one] - whole[*one] as f64)).then(one.cmp(other)));
    let mut left = tenths - whole.iter().sum::<i64>();
    for hour in order.iter().cycle().take(48) {
        if left <= 0 {
            break;
        }
        whole[*hour] += 1;
        left -= 1;
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rain_is_shared_without_loss() {
        let mut shares = [0.0; 24];
        place_bursts(12, &[0.9, 0.5, 0.95], &[0.7; 24], &mut shares);
        assert_eq!(shares.iter().filter(|share| **share > 0.0).count(), 12);
        for tenths in [12, 13, 57, 1234] {
            let given = in_tenths(tenths, &shares);
            assert_eq!(given.iter().sum::<i64>(), tenths);
            assert!(given.iter().zip(&shares).all(|(given, share)| (*given > 0) == (*share > 0.0)));
        }
    }
}
