//! From the runs of many weather years to odds in plain words. Dates stand at their plotting position k/(n + 1) (Weibull 1939, as given in the
//! handbooks of hydrology): a date that eight years in ten keep is read at rank 0.8·(n + 1), between two ranks by interpolation, rounded up to a working day.

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

/// The first working day by which eight years in ten are finished, of finishes in order; `None` where the rank lies beyond them.
fn eight_in_ten(finishes: &[Date], years: usize, time: &WorkingTime) -> Option<Date> {
    let first = *finishes.first()?;
    let days: Vec<f64> = finishes.iter().map(|&finish| days_between(first, finish) as f64).collect();
    let rank = rank(0.8, years).filter(|rank| rank.ceil() as usize <= finishes.len())?;
    let read = add_days(first, at_rank(&days, rank)?.ceil() as i64);
    // Nobody finishes on a closed day: the next working day is the one that can be promised.
    Some(time.on_or_after(read).unwrap_or(read))
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

    // Exact: of ten finishes from Wednesday 3 June 2026 a day apart, rank 8.8 is 7.8 days after the first, rounded up Thursday 11 June; begun two days later
    // it is Saturday 13 June, and Monday 15 June is promised, by when all ten are finished.
    #[test]
    fn a_date_to_promise_is_a_working_day() {
        let calendar = crate::Calendar {
            days: vec![Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday, Weekday::Thursday, Weekday::Friday],
            from: time(8, 0, 0, 0),
            to: time(16, 0, 0, 0),
            breaks: Vec::new(),
        };
        let time = WorkingTime::new(&calendar, "UTC").unwrap();
        let promised = |first: Date| {
            let finishes: Vec<Date> = (0..10).map(|day| add_days(first, day)).collect();
            (eight_in_ten(&finishes, 10, &time).unwrap(), finishes)
        };
        assert_eq!(promised(date(2026, 6, 3)).0, date(2026, 6, 11));
        let (day, finishes) = promised(date(2026, 6, 5));
        assert_eq!(day, date(2026, 6, 15));
        assert!(finishes.iter().all(|&finish| finish <= day));
    }

    #[test]
    fn a_share_beyond_the_last_rank_is_not_read() {
        assert_eq!(rank(0.8, 3), None);
        assert_eq!(rank(0.95, 12), None);
        assert_eq!(at_rank(&[], 1.0), None);
    }
}
