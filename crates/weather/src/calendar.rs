//! Days and months of a year of 365 or 366 days, without a time zone.

const SHORT: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// True for a leap year of the Gregorian calendar.
pub(crate) fn is_leap(year: i32) -> bool {
    year.rem_euclid(4) == 0 && (year.rem_euclid(100) != 0 || year.rem_euclid(400) == 0)
}

/// Days of a month, 1 to 12; zero for any other number.
pub(crate) fn days_of_month(month: u32, leap: bool) -> u32 {
    let index = (month as usize).wrapping_sub(1);
    SHORT.get(index).map_or(0, |days| days + u32::from(leap && month == 2))
}

/// Days of a year.
pub(crate) fn days_of_year(leap: bool) -> usize {
    if leap { 366 } else { 365 }
}

/// Day of the year from 0; the month must be 1 to 12.
pub(crate) fn day_of_year(month: u32, day: u32, leap: bool) -> usize {
    let before: u32 = (1..month).map(|earlier| days_of_month(earlier, leap)).sum();
    (before + day).saturating_sub(1) as usize
}

/// Month and day of a day of the year from 0; the last day for one past the end.
pub(crate) fn month_and_day(day: usize, leap: bool) -> (u32, u32) {
    let mut left = day.min(days_of_year(leap) - 1) as u32;
    for month in 1..=12 {
        let length = days_of_month(month, leap);
        if left < length {
            return (month, left + 1);
        }
        left -= length;
    }
    (12, 31)
}

/// Month from 0 of every day of a year.
pub(crate) fn months_by_day(leap: bool) -> Vec<usize> {
    (1..=12).flat_map(|month| std::iter::repeat_n(month as usize - 1, days_of_month(month, leap) as usize)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_months_agree() {
        for leap in [false, true] {
            for day in 0..days_of_year(leap) {
                let (month, of_month) = month_and_day(day, leap);
                assert_eq!(day_of_year(month, of_month, leap), day);
                assert_eq!(months_by_day(leap)[day], month as usize - 1);
            }
        }
        assert!(is_leap(2000) && is_leap(2024) && !is_leap(2100) && !is_leap(2023));
    }
}
