//! What the normals say of every day of the year, and the means set right by a pilot.

use physics::numbers::{exp, ln};
use physics::sun;

use super::{day, hour};
use crate::normals::Normals;
use crate::series::Site;
use crate::{calendar, sunlit};

/// Days of a made year.
pub(super) const DAYS: usize = 365;

/// A value for every day.
pub(super) type Daily = Vec<f64>;

/// The day-by-day picture of a climate.
pub(super) struct Plan {
    pub(super) site: Site,
    pub(super) rain_wind_from_deg: f64,
    /// Month from 0 of every day.
    pub(super) months: Vec<usize>,
    /// Mean of the day's temperature, °C.
    pub(super) mean_c: Daily,
    /// Mean daily range of temperature, K.
    pub(super) range_k: Daily,
    /// Standard deviation of the daily mean, K.
    pub(super) sd_k: Daily,
    /// 1 in the coldest part of the year, −1 in the warmest.
    pub(super) winter: Daily,
    /// Odds of a wet day as a logit.
    pub(super) wet_logit: [f64; 12],
    /// Share of wet days.
    pub(super) wet_share: [f64; 12],
    /// Mean rain of a wet day, mm.
    pub(super) wet_day_mm: [f64; 12],
    /// Share of the clear sky's light.
    pub(super) light: Daily,
    /// Mean relative humidity.
    pub(super) humidity: Daily,
    /// Mean wind, m/s.
    pub(super) wind_m_s: Daily,
    /// Hour of the day, local mean time, in which the sun stands highest.
    pub(super) noon: f64,
}

/// Standard deviation of the slow regime's pull on the odds of a wet day, as a logit (from memory of how unlike wet and dry
/// fortnights are; range 0.4 to 1).
pub(super) const REGIME_PULL: f64 = 0.7;
/// Rounds of the pilot, and its years.
const PILOT_ROUNDS: i32 = 2;
const PILOT_YEARS: i32 = 8;
/// The pilot's years are filed far from any that is made.
const PILOT_FIRST_YEAR: i32 = -9000;
/// The year whose sun stands for the pilot's.
pub(super) const SUN_YEAR: i32 = 2001;

impl Plan {
    /// The picture of these normals, its means set by a pilot under the same seed.
    pub(super) fn of(normals: &Normals, seed: u64) -> Self {
        let months = calendar::months_by_day(false);
        let of = |value: &dyn Fn(&crate::normals::Month) -> f64| smooth(&months, &normals.months.map(|month| value(&month)));
        let mean_c = of(&|month| 0.5 * (month.mean_max_c + month.mean_min_c));
        let (low, high) = (mean_c.iter().copied().fold(f64::INFINITY, f64::min), mean_c.iter().copied().fold(f64::NEG_INFINITY, f64::max));
        let swing = (high - low).max(0.1);
        let winter: Daily = mean_c.iter().map(|mean| 1.0 - 2.0 * (mean - low) / swing).collect();
        let given_sd = of(&|month| month.daily_sd_k.unwrap_or(f64::NAN));
        let sd_k = given_sd
            .iter()
            .zip(&winter)
            .map(|(given, winter)| if given.is_nan() { usual_sd(swing, *winter) } else { given.max(0.1) })
            .collect();
        let wet_share: [f64; 12] = std::array::from_fn(|month| {
            (normals.months[month].wet_days / f64::from(calendar::days_of_month(month as u32 + 1, false))).clamp(0.001, 0.97)
        });
        let widened = (1.0 + 0.346 * REGIME_PULL * REGIME_PULL).sqrt();
        let mut plan = Self {
            site: normals.site.clone(),
            rain_wind_from_deg: normals.rain_wind_from_deg,
            range_k: of(&|month| month.mean_max_c - month.mean_min_c).iter().map(|range| range.max(0.5)).collect(),
            wet_logit: wet_share.map(|share| ln(share / (1.0 - share)) * widened),
            wet_day_mm: std::array::from_fn(|month| normals.months[month].rain_mm / normals.months[month].wet_days.max(0.03)),
            wet_share,
            light: clear_share(normals, &months),
            humidity: of(&|month| month.humidity),
            wind_m_s: of(&|month| month.wind_m_s),
            noon: 12.0 - normals.site.longitude_deg / 15.0 + normals.site.utc_offset_h,
            months,
            mean_c,
            sd_k,
            winter,
        };
        plan.set_means(normals, seed);
        plan
    }

    /// Runs pilots and moves light and humidity by what their means miss; what a month misses is averaged with its neighbours, since the miss is the
    /// model's and runs with the season, while its scatter is the pilot's.
    fn set_means(&mut self, normals: &Normals, seed: u64) {
        for round in 0..PILOT_ROUNDS {
            let got = self.pilot(seed, round);
            let light = of_neighbours(std::array::from_fn(|month| {
                let (want, have) = (normals.months[month].global_wh_m2_day, got[month].0);
                if have > 1e-9 { (want / have).clamp(0.5, 2.0) } else { 1.0 }
            }));
            let humidity = of_neighbours(std::array::from_fn(|month| normals.months[month].humidity - got[month].1));
            for day in 0..DAYS {
                let month = self.months[day];
                self.light[day] *= light[month];
                self.humidity[day] = (self.humidity[day] + humidity[month]).clamp(0.05, 1.1);
            }
        }
    }

    /// Monthly means of the pilot's years: radiation, Wh/m² a day, and humidity.
    fn pilot(&self, seed: u64, round: i32) -> [(f64, f64); 12] {
        let mut sums = [(0.0, 0.0, 0.0); 12];
        for year in 0..PILOT_YEARS {
            let year = PILOT_FIRST_YEAR + round * PILOT_YEARS + year;
            let days = day::days(self, seed, year);
            let hours = hour::hours(self, seed, year, &days);
            for (day, (light, humidity)) in hours.global_w_m2.chunks(24).zip(hours.humidity.chunks(24)).enumerate() {
                let sum = &mut sums[self.months[day]];
                sum.0 += light.iter().sum::<f64>();
                sum.1 += humidity.iter().sum::<f64>() / 24.0;
                sum.2 += 1.0;
            }
        }
        sums.map(|(light, humidity, count)| (light / count, humidity / count))
    }
}

/// Each month's value with a quarter of both neighbours.
fn of_neighbours(values: [f64; 12]) -> [f64; 12] {
    std::array::from_fn(|month| 0.25 * values[(month + 11) % 12] + 0.5 * values[month] + 0.25 * values[(month + 1) % 12])
}

/// Standard deviation of the daily mean temperature, K, from the yearly swing of the monthly means, K, and the season (1 winter, −1 summer):
/// 1.5 + 0.19 swing in the coldest part of the year, 2.1 in the warmest. A line by eye through the typical years of a maritime, a coastal and a continental
/// station (winter spreads 3.1, 4.0 and 6.4 K at swings of 13, 13 and 25 K; summer 2.8, 1.5 and 2.1 K). A fourth, in the shelter of high mountains, has
/// 2.8 K in winter where this gives 6: give `daily_sd_k` where it is known.
fn usual_sd(swing_k: f64, winter: f64) -> f64 {
    let (coldest, warmest) = (1.5 + 0.19 * swing_k, 2.1);
    warmest + (coldest - warmest) * 0.5 * (1.0 + winter)
}

/// A smooth yearly course with the given monthly means: straight lines between the middles of months, their ends moved until the means hold.
fn smooth(months: &[usize], means: &[f64; 12]) -> Daily {
    let mut nodes = *means;
    let mut course = Vec::new();
    for _ in 0..6 {
        course = lines(&nodes);
        let mut sums = [(0.0, 0.0); 12];
        for (value, month) in course.iter().zip(months) {
            sums[*month].0 += value;
            sums[*month].1 += 1.0;
        }
        for ((node, mean), (sum, count)) in nodes.iter_mut().zip(means).zip(sums) {
            *node += mean - sum / count;
        }
    }
    course
}

fn lines(nodes: &[f64; 12]) -> Daily {
    // Months are a little unequal; the middle of each is taken at its twelfth of the year.
    let width = DAYS as f64 / 12.0;
    (0..DAYS)
        .map(|day| {
            let along = (day as f64 + 0.5) / width - 0.5;
            let from = along.floor();
            let at = |index: f64| nodes[index.rem_euclid(12.0) as usize % 12];
            at(from) + (at(from + 1.0) - at(from)) * (along - from)
        })
        .collect()
}

/// The share of the clear sky's light that the normals leave, for every day.
fn clear_share(normals: &Normals, months: &[usize]) -> Daily {
    let clear: Daily = sunlit::hourly(&normals.site, SUN_YEAR, false)
        .map(|sun| sun::clear_sky_w_m2(sun.up))
        .collect::<Vec<f64>>()
        .chunks(24)
        .map(|day| day.iter().sum())
        .collect();
    let mut sums = [(0.0, 0.0); 12];
    for (light, month) in clear.iter().zip(months) {
        sums[*month].0 += light;
        sums[*month].1 += 1.0;
    }
    let shares: [f64; 12] = std::array::from_fn(|month| {
        let usual = sums[month].0 / sums[month].1;
        if usual > 20.0 { (normals.months[month].global_wh_m2_day / usual).clamp(0.05, 1.1) } else { 0.5 }
    });
    smooth(months, &shares).iter().map(|share| share.clamp(0.03, 1.1)).collect()
}

/// The share of an even chance that a logit stands for.
pub(super) fn chance(logit: f64) -> f64 {
    1.0 / (1.0 + exp(-logit))
}
