//! How much light a day has at the site: whether a coat can go on in a half-day and still have its hours before dusk. Dusk is sunset over a flat horizon:
//! nobody throws by twilight (common practice, no source). It must never know the weather.

use jiff::civil::Date;
use physics::sun::{Place, Track, julian_date};
use weather::Site;

/// Share of the hours of a half-day that must have light, and time before dusk, for it to count as one (a guess).
const LEAST_SHARE: f64 = 0.5;
/// A leap year whose days stand for those of every year: the sun sets within a minute of the same time.
const YEAR: i16 = 2024;

/// Sunrise and sunset through the year at a site, by the clock of its weather.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Daylight {
    /// By day of a leap year: hours from midnight to sunrise and to sunset.
    days: Vec<(f64, f64)>,
}

/// Hours of the civil day: a half-day of work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct HalfDay {
    pub(crate) from: usize,
    pub(crate) to: usize,
}

impl Daylight {
    /// At a site. One off the globe has light all day, as nothing is known of it.
    pub(crate) fn at(site: &Site) -> Self {
        let place = Place { latitude_deg: site.latitude_deg, longitude_deg: site.longitude_deg, elevation_m: site.elevation_m };
        let first = julian_date(i32::from(YEAR), 1, 1) - site.utc_offset_h / 24.0;
        let day = |track: &Track, number: u32| track.rise_and_set(first + f64::from(number));
        let days = match Track::new(first - 1.0, 369.0, place) {
            Some(track) => (0..366).map(|number| day(&track, number)).collect(),
            None => vec![(0.0, 24.0); 366],
        };
        Self { days }
    }

    /// Hours of the day, by the clock of the weather, at which the sun rises and sets.
    pub(crate) fn of(&self, date: Date) -> (f64, f64) {
        let day = Date::new(YEAR, date.month(), date.day()).map_or(0, |day| usize::from(day.day_of_year().unsigned_abs()) - 1);
        self.days[day]
    }

    /// Whether enough of a half-day lies between sunrise and so many hours before dusk; the civil clock runs `ahead_h` ahead of the weather's.
    pub(crate) fn is_enough(&self, date: Date, half: HalfDay, ahead_h: i64, before_dusk_h: f64) -> bool {
        let (rise, set) = self.of(date);
        let (from, to) = (half.from as f64, half.to as f64);
        let throwing = to.min(set + ahead_h as f64 - before_dusk_h) - from.max(rise + ahead_h as f64);
        throwing >= LEAST_SHARE * (to - from)
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn edinburgh() -> Daylight {
        Daylight::at(&Site { name: String::new(), latitude_deg: 55.95, longitude_deg: -3.19, elevation_m: 0.0, utc_offset_h: 0.0 })
    }

    // Almanac, from memory, to the minute, UTC: Edinburgh on 21 December rises 8:42 and sets 15:40, on 21 June 3:26 and 21:02; three minutes are the bar.
    #[test]
    fn midwinter_and_midsummer_are_as_printed() {
        let light = edinburgh();
        for (day, rise, set) in
            [(date(2026, 12, 21), 8.0 + 42.0 / 60.0, 15.0 + 40.0 / 60.0), (date(2026, 6, 21), 3.0 + 26.0 / 60.0, 21.0 + 2.0 / 60.0)]
        {
            let found = light.of(day);
            assert!((found.0 - rise).abs() < 0.05 && (found.1 - set).abs() < 0.05, "{day}: {found:?}");
        }
    }

    // On 21 December the last coat goes on at 13:40: an afternoon from 12 to 16 has 1 h 40 min of its four, a morning from 8 to 12 has 3 h 18 min. In
    // summer the day is long enough, and half a year of the south is the other half of the north.
    #[test]
    fn an_afternoon_that_begins_too_late_is_none() {
        let light = edinburgh();
        let (morning, afternoon) = (HalfDay { from: 8, to: 12 }, HalfDay { from: 12, to: 16 });
        assert!(light.is_enough(date(2026, 12, 21), morning, 0, 2.0));
        assert!(!light.is_enough(date(2026, 12, 21), afternoon, 0, 2.0));
        assert!(light.is_enough(date(2026, 12, 21), afternoon, 0, 1.5));
        assert!(light.is_enough(date(2026, 6, 21), afternoon, 1, 2.0));
        let south =
            Daylight::at(&Site { name: String::new(), latitude_deg: -55.95, longitude_deg: -3.19, elevation_m: 0.0, utc_offset_h: 0.0 });
        assert!(south.is_enough(date(2026, 12, 21), afternoon, 0, 2.0) && !south.is_enough(date(2026, 6, 21), afternoon, 0, 2.0));
    }
}
