//! The days of a made year: wet or dry, rain, temperature, light, damp, wind.

use physics::numbers::{exp, pow};

use super::draws::{Chain, Draws, Purpose};
use super::plan::{DAYS, Plan, REGIME_PULL, chance};

/// One day.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Day {
    pub(super) rain_mm: f64,
    pub(super) least_c: f64,
    pub(super) greatest_c: f64,
    /// Share of the clear sky's light.
    pub(super) light: f64,
    /// Relative humidity at the day's mean temperature, 0 to 1.
    pub(super) humidity: f64,
    /// Mean wind for such a day, m/s.
    pub(super) wind_m_s: f64,
    /// How windy the day is among its like: a normal score.
    pub(super) wind_score: f64,
    /// Where the wind is heading to blow from, degrees.
    pub(super) wind_from_deg: f64,
}

/// A wet day has at least this much rain, mm: the threshold of weather services.
const WET_DAY_MM: f64 = 1.0;
/// Persistence of wet and dry: P(wet after dry) is 0.75 of the share of wet days (Geng, Penning de Vries & Supit 1986).
const PERSISTENCE: f64 = 0.25;
/// Memory of the slow regime from day to day (about ten days; from memory of blocking in middle latitudes).
const REGIME_MEMORY: f64 = 0.9;
/// Shape of the Weibull distribution of rain on wet days; 0.7 to 0.9 is common for daily rain (Geng et al. use the like; value from memory).
const RAIN_SHAPE: f64 = 0.8;
/// Gamma function of 1 + 1/0.8, the mean of that distribution at scale 1.
const RAIN_SHAPE_MEAN: f64 = 1.133_003_096_319_346;
/// Chance of drizzle on a day that is not wet, as a share of the share of wet days, and its mean, mm (from memory).
const DRIZZLE_CHANCE: f64 = 0.5;
const DRIZZLE_MM: f64 = 0.4;
/// Memory of the daily mean temperature (0.7 to 0.8 at stations in middle latitudes; from memory).
const TEMPERATURE_MEMORY: f64 = 0.76;
/// How far a wet day's mean leans to the mild side (warm in winter, cool in summer), in standard deviations (from memory).
const WET_LEAN: f64 = 0.35;
/// Range of temperature on a wet day over that on a dry one, and its spread (from memory).
const WET_RANGE: f64 = 0.72;
const RANGE_SPREAD: f64 = 0.3;
/// Light on a wet day over that on a dry one, and its spread (from memory).
const WET_LIGHT: f64 = 0.58;
const LIGHT_SPREAD: f64 = 0.36;
/// Humidity: lean of wet days, of clear days, and own spread, shares (from memory).
const WET_HUMIDITY: f64 = 0.07;
const CLEAR_HUMIDITY: f64 = 0.03;
const HUMIDITY_SPREAD: f64 = 0.05;
/// Wind: memory of the daily score, and wet over dry (from memory).
const WIND_MEMORY: f64 = 0.5;
const WET_WIND: f64 = 1.25;
/// Share of dry days whose wind comes from the far side, as under high pressure (from memory).
const FAR_WIND: f64 = 0.35;

/// The days of a year.
pub(super) fn days(plan: &Plan, seed: u64, year: i32) -> Vec<Day> {
    let chain = |purpose, memory| Chain::new(Draws::new(seed, year, purpose), memory);
    let wet = wet_days(plan, seed, year);
    let rain = rain(plan, seed, year, &wet);
    let mut temperature = chain(Purpose::Temperature, TEMPERATURE_MEMORY);
    let mut clear = chain(Purpose::Range, 0.3);
    let mut light = chain(Purpose::Light, 0.2);
    let mut damp = chain(Purpose::Humidity, 0.5);
    let mut wind = chain(Purpose::Wind, WIND_MEMORY);
    let mut direction = Draws::new(seed, year, Purpose::Direction);
    (0..DAYS)
        .map(|day| {
            let share = plan.wet_share[plan.months[day]];
            let leaning = if wet[day] { 1.0 - share } else { -share };
            let clearness = clear.step();
            let mean = plan.mean_c[day]
                + plan.sd_k[day] * (temperature.step() * spread_beside_lean(share) + WET_LEAN * plan.winter[day] * leaning);
            let range = plan.range_k[day] * two_sided(share, WET_RANGE, wet[day]) * bounded_spread(RANGE_SPREAD, clearness);
            let brightness = 0.6 * clearness + 0.8 * light.step();
            let lit = plan.light[day] * two_sided(share, WET_LIGHT, wet[day]) * bounded_spread(LIGHT_SPREAD, brightness);
            let humidity = plan.humidity[day] + WET_HUMIDITY * leaning - CLEAR_HUMIDITY * clearness + HUMIDITY_SPREAD * damp.step();
            Day {
                rain_mm: rain[day],
                least_c: mean - 0.5 * range,
                greatest_c: mean + 0.5 * range,
                light: lit.clamp(0.04, 1.0),
                humidity: humidity.clamp(0.1, 1.05),
                wind_m_s: plan.wind_m_s[day] * two_sided(share, WET_WIND, wet[day]),
                wind_score: wind.step(),
                wind_from_deg: heading(plan.rain_wind_from_deg, wet[day], &mut direction),
            }
        })
        .collect()
}

/// What is left of the spread beside the lean, so that both together have the wanted standard deviation.
fn spread_beside_lean(share: f64) -> f64 {
    (1.0 - WET_LEAN * WET_LEAN * share * (1.0 - share)).max(0.0).sqrt()
}

/// Factor of a wet or a dry day whose mean over both is 1.
fn two_sided(share: f64, wet_over_dry: f64, wet: bool) -> f64 {
    let dry = 1.0 / (1.0 - share + share * wet_over_dry);
    if wet { dry * wet_over_dry } else { dry }
}

/// A log-normal factor of mean 1, its draw held within three standard deviations.
fn bounded_spread(spread: f64, draw: f64) -> f64 {
    exp(spread * draw.clamp(-3.0, 3.0) - 0.5 * spread * spread)
}

fn heading(rain_from_deg: f64, wet: bool, draws: &mut Draws) -> f64 {
    let (choice, wander) = (draws.even(), draws.normal());
    let (middle, width) = match (wet, choice < FAR_WIND) {
        (true, _) => (rain_from_deg, 40.0),
        (false, true) => (rain_from_deg + 170.0, 50.0),
        (false, false) => (rain_from_deg + 30.0, 60.0),
    };
    middle + width * wander
}

fn wet_days(plan: &Plan, seed: u64, year: i32) -> Vec<bool> {
    let mut regime = Chain::new(Draws::new(seed, year, Purpose::Regime), REGIME_MEMORY);
    let mut draws = Draws::new(seed, year, Purpose::Wet);
    let mut wet = draws.even() < plan.wet_share[0];
    (0..DAYS)
        .map(|day| {
            let share = chance(plan.wet_logit[plan.months[day]] + REGIME_PULL * regime.step());
            let own = own_persistence(plan.wet_share[plan.months[day]]);
            let odds = share * (1.0 - own) + if wet { own } else { 0.0 };
            wet = draws.even() < odds;
            wet
        })
        .collect()
}

/// Persistence left to the chain itself, once the slow regime has given its part: its variance as a share of that of wet and dry, times its memory.
fn own_persistence(share: f64) -> f64 {
    let of_regime = REGIME_MEMORY * REGIME_PULL * REGIME_PULL * share * (1.0 - share);
    (PERSISTENCE - of_regime).max(0.0)
}

fn rain(plan: &Plan, seed: u64, year: i32, wet: &[bool]) -> Vec<f64> {
    let mut amounts = Draws::new(seed, year, Purpose::Amount);
    let mut drizzle = Draws::new(seed, year, Purpose::Drizzle);
    wet.iter()
        .enumerate()
        .map(|(day, wet)| {
            let month = plan.months[day];
            let share = plan.wet_share[month];
            // Both are drawn every day, so that a day's draw does not depend on the days before.
            let (amount, drizzles, little) = (amounts.exponential(), drizzle.even(), drizzle.even());
            // Drizzle takes its part of the month's rain from the wet days.
            let lost = (1.0 - share) * DRIZZLE_CHANCE * DRIZZLE_MM;
            let mean = (plan.wet_day_mm[month] - lost).max(WET_DAY_MM + 0.05);
            if *wet {
                WET_DAY_MM + (mean - WET_DAY_MM) * pow(amount, 1.0 / RAIN_SHAPE) / RAIN_SHAPE_MEAN
            } else if drizzles < DRIZZLE_CHANCE * share {
                0.1 + 2.0 * (DRIZZLE_MM - 0.1) * little
            } else {
                0.0
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_mean_of_the_rain_shape_is_the_gamma_function() {
        assert!((gamma(1.0 + 1.0 / super::RAIN_SHAPE) - super::RAIN_SHAPE_MEAN).abs() < 1e-9);
    }

    /// Gamma by Simpson's rule on its integral, after x = u⁴ to tame the end.
    fn gamma(z: f64) -> f64 {
        let steps = 200_000;
        let width = 3.2 / f64::from(steps);
        let inside = |u: f64| 4.0 * u.powi(3) * u.powf(4.0 * (z - 1.0)) * (-u.powi(4)).exp();
        (0..steps)
            .map(|step| f64::from(step) * width)
            .map(|u| width / 6.0 * (inside(u) + 4.0 * inside(u + width / 2.0) + inside(u + width)))
            .sum()
    }
}
