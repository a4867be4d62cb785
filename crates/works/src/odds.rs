//! From the runs of many weather years to odds in plain words. Figures stand at their plotting position k/(n + 1) (Weibull 1939, as given in the
//! handbooks of hydrology) and are read between two ranks by interpolation. A finish is a whole working day, and many years share one; so a date is read by the
//! same argument on working days: [`odds_of`].

use jiff::civil::Date;
use weather::{Kind, Weather};

use crate::calendar::{WorkingTime, add_days, days_between};
use crate::{Odds, YearRun};

/// Index of the middle run: the median by finish, the earlier of two; unfinished runs stand last.
pub(crate) fn middle(runs: &[YearRun]) -> usize {
    let mut order: Vec<usize> = (0..runs.len()).collect();
    order.sort_by_key(|&run| (runs[run].finished.is_none(), runs[run].finished, run));
    order.get(runs.len().saturating_sub(1) / 2).copied().unwrap_or(0)
}

/// Rank, counted from 1, at which a share of the years is met: share × (n + 1). `None` beyond the last.
pub(crate) fn rank(share: f64, count: usize) -> Option<f64> {
    let rank = share * (count as f64 + 1.0);
    (rank <= count as f64 && rank >= 1.0).then_some(rank)
}

/// A value between the two ranks about `rank` of values in order.
pub(crate) fn at_rank(values: &[f64], rank: f64) -> Option<f64> {
    let below = rank.floor();
    let low = *values.get((below as usize).checked_sub(1)?)?;
    let high = values.get(below as usize).copied().unwrap_or(low);
    Some(low + (high - low) * (rank - below))
}

/// The odds, or the reason in words why there are none.
pub(crate) fn odds(runs: &[YearRun], weather: Option<&Weather>, time: &WorkingTime) -> Result<Odds, String> {
    let Some(weather) = weather else {
        return Err("No weather is at hand, so there are no odds: the gaps are by rule of thumb, a week between coats and two for a coat placed from November to March.".to_owned());
    };
    let years = runs.len();
    if !weather.gives_odds() {
        return Err(match weather.kind {
            Kind::Typical => "One typical year gives no odds: it is put together from months of several years, and shows neither the good nor the bad one.".to_owned(),
            _ => format!("{years} weather years give no odds: at least {} are needed.", Weather::FEWEST_YEARS_FOR_ODDS),
        });
    }
    let mut finishes: Vec<Date> = runs.iter().filter_map(|run| run.finished).collect();
    finishes.sort_unstable();
    let none = |finished: usize| {
        format!(
            "The job is finished this season in only {finished} of {years} years, so no date can be named that holds in eight years of ten."
        )
    };
    let eight_in_ten = eight_in_ten(&finishes, years, time).ok_or_else(|| none(finishes.len()))?;
    Ok(Odds {
        years: years as u32,
        finished_years: finishes.len() as u32,
        middle: finishes[(years - 1) / 2],
        eight_in_ten,
        eight_in_ten_years: finishes.iter().filter(|&&finish| finish <= eight_in_ten).count() as u32,
        finishes,
    })
}

/// The working day whose odds lie nearest to eight years in ten, of finishes in order, the later of two as near; `None` where too few years are finished.
pub(crate) fn eight_in_ten(finishes: &[Date], years: usize, time: &WorkingTime) -> Option<Date> {
    const SHARE: f64 = 0.8;
    rank(SHARE, years).filter(|rank| rank.ceil() as usize <= finishes.len())?;
    let days = working_days(*finishes.first()?, *finishes.last()?, time);
    let near = |&day: &Date| (odds_of(day, finishes, years, time) - SHARE).abs();
    days.into_iter().rev().min_by(|one, other| near(one).total_cmp(&near(other)))
}

/// Odds that a year to come is finished by the evening of a day, 0 to 1. A year to come falls with equal chance before, between or after the `years` that
/// were lived (exchangeable years: the plotting position); and between two finishes with equal chance on each working day from the one to the other, both
/// counted, since nobody finishes between days. Where finishes lie far apart this is the plotting position with interpolation; where many share a
/// day it allows for those yet to come that share it too.
pub(crate) fn odds_of(day: Date, finishes: &[Date], years: usize, time: &WorkingTime) -> f64 {
    let by = finishes.partition_point(|&finish| finish <= day);
    let within = match (by.checked_sub(1).map(|last| finishes[last]), finishes.get(by)) {
        (Some(last), Some(&next)) => {
            let open = |to: Date| working_days(last, to, time).len() as f64;
            open(day) / open(next)
        }
        _ => 0.0,
    };
    (by as f64 + within) / (years as f64 + 1.0)
}

/// The days from one to another, both counted, that are worked; the two themselves in any case.
fn working_days(from: Date, to: Date, time: &WorkingTime) -> Vec<Date> {
    let days = (0..=days_between(from, to)).map(|number| add_days(from, number));
    days.filter(|&day| day == from || day == to || time.closed(day).is_none()).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use jiff::civil::{Weekday, date, time};

    use super::*;

    // Other tool: NumPy 2.4.6, numpy.quantile(values, share, method="weibull").
    #[test]
    fn ranks_read_as_another_tool_reads_them() {
        let read = |mut values: Vec<f64>, share: f64| {
            values.sort_by(f64::total_cmp);
            at_rank(&values, rank(share, values.len()).unwrap()).unwrap()
        };
        let twelve = vec![0.0, 4.0, 5.0, 5.0, 6.0, 6.0, 6.0, 6.0, 7.0, 7.0, 13.0, 21.0];
        assert!((read(twelve.clone(), 0.8) - 9.4).abs() < 1e-9);
        assert!((read(twelve, 0.5) - 6.0).abs() < 1e-9);
        assert!((read(vec![3.0, 8.0, 1.0, 9.0, 12.0, 30.0, 2.0, 7.0, 5.0, 4.0], 0.8) - 11.4).abs() < 1e-9);
        assert!((read((0..19).map(f64::from).collect(), 0.8) - 15.0).abs() < 1e-9);
    }

    fn weekdays() -> WorkingTime {
        let calendar = crate::Calendar {
            days: vec![Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday, Weekday::Thursday, Weekday::Friday],
            from: time(8, 0, 0, 0),
            to: time(16, 0, 0, 0),
            breaks: Vec::new(),
        };
        WorkingTime::new(&calendar, "UTC").unwrap()
    }

    // Exact: ten years finished on ten Mondays. Odds of the ninth are 9/11; between the eighth and the ninth lie six working days, both Mondays counted, so that
    // Friday's are (8 + 5/6)/11, which is 0.803 and nearest to 0.8.
    #[test]
    fn far_apart_a_day_is_read_between_two_finishes() {
        let finishes: Vec<Date> = (0..10).map(|week| add_days(date(2026, 6, 1), 7 * week)).collect();
        let time = weekdays();
        let promised = eight_in_ten(&finishes, 10, &time).unwrap();
        assert_eq!(promised, date(2026, 7, 24));
        assert!((odds_of(promised, &finishes, 10, &time) - (8.0 + 5.0 / 6.0) / 11.0).abs() < 1e-12);
        // By the evening of the ninth, one sixth of the gap to the tenth lies on that very day.
        assert!((odds_of(finishes[8], &finishes, 10, &time) - (9.0 + 1.0 / 6.0) / 11.0).abs() < 1e-12);
    }

    // Exact: of thirty years ten finish on Monday and twenty on Tuesday. Monday's odds are 10.5/31, Tuesday's 30/31: neither is near, and the nearer is told.
    #[test]
    fn where_many_years_share_a_day_the_nearest_is_told() {
        let monday = date(2026, 6, 1);
        let finishes: Vec<Date> = (0..30).map(|year| add_days(monday, i64::from(year >= 10))).collect();
        let time = weekdays();
        assert!((odds_of(monday, &finishes, 30, &time) - 10.5 / 31.0).abs() < 1e-12);
        assert_eq!(eight_in_ten(&finishes, 30, &time), Some(date(2026, 6, 2)));
    }

    // Other argument, brute force: finishes drawn on a lattice of working days from a law that is known. The day that is told is kept, pooled over many draws, in
    // eight draws of ten. The law is geometric from day to day, so that days are shared by many at its beginning and by few at its end.
    #[test]
    fn pooled_over_laws_of_many_widths_the_day_told_is_kept_eight_times_in_ten() {
        use rand_chacha::ChaCha8Rng;
        use rand_chacha::rand_core::{Rng, SeedableRng};
        let time = weekdays();
        let mut draws = ChaCha8Rng::seed_from_u64(31);
        let mut uniform = || (draws.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
        let days = working_days(date(2026, 6, 1), date(2028, 6, 1), &time);
        let (mut kept, mut all) = (0.0, 0.0);
        for try_out in 0..4000 {
            let mean = 0.7 + 0.005 * f64::from(try_out);
            let stays = mean / (1.0 + mean);
            let mut draw = || ((uniform().ln() / stays.ln()).floor() as usize).min(days.len() - 1);
            let mut finishes: Vec<Date> = (0..30).map(|_| days[draw()]).collect();
            finishes.sort_unstable();
            let told = eight_in_ten(&finishes, 30, &time).unwrap();
            let number = days.iter().position(|&day| day == told).unwrap();
            kept += 1.0 - stays.powi(number as i32 + 1);
            all += 1.0;
        }
        let share = kept / all;
        assert!((0.79..0.81).contains(&share), "{share}");
    }

    #[test]
    fn a_share_beyond_the_last_rank_is_not_read() {
        assert_eq!(rank(0.8, 3), None);
        assert_eq!(rank(0.95, 12), None);
        assert_eq!(at_rank(&[], 1.0), None);
    }
}
