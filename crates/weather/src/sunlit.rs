//! The sun through the hours of a year at a place.

use physics::sun::{self, Direction, Place, Track};

use crate::calendar;
use crate::series::Site;

/// Direction of the sun in the middle of every hour of a year.
pub(crate) fn hourly(site: &Site, year: i32, leap: bool) -> impl Iterator<Item = Direction> {
    stepped(site, year, leap, 1)
}

/// Direction of the sun in the middle of each of so many steps of every hour of a year. A site outside the globe is refused on reading, so the fallback of a
/// sun that never rises is for callers who build a site by hand.
pub(crate) fn stepped(site: &Site, year: i32, leap: bool, steps: usize) -> impl Iterator<Item = Direction> {
    let place = Place { latitude_deg: site.latitude_deg, longitude_deg: site.longitude_deg, elevation_m: site.elevation_m };
    let start = sun::julian_date(year, 1, 1) - site.utc_offset_h / 24.0;
    let track = Track::new(start, 368.0, place);
    // A leap year told without its 29 February still passes that day.
    let skips = calendar::is_leap(year) && !leap;
    let per_day = 24 * steps;
    (0..calendar::days_of_year(leap) * per_day).map(move |step| {
        let skipped = if skips && step >= 59 * per_day { per_day } else { 0 };
        let time = start + ((step + skipped) as f64 + 0.5) / per_day as f64;
        track.as_ref().map_or(Direction { east: 0.0, north: 0.0, up: -1.0 }, |track| track.direction(time))
    })
}
