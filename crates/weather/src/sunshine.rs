//! Radiation from what weather services count instead of it: hours of bright sunshine, or the range of the day's temperature.
//! Source: R. Allen, L. Pereira, D. Raes & M. Smith, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56 (1998), equations 35 and 50.

use physics::sun;

use crate::calendar;
use crate::series::Site;
use crate::sunlit;

/// Share of the radiation outside the air that comes through an overcast sky, and what bright sunshine adds (FAO 56, where no local values are known).
const OVERCAST_SHARE: f64 = 0.25;
const SUNSHINE_SHARE: f64 = 0.50;

/// Length and light of a day outside the air.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Day {
    /// Hours from sunrise to sunset.
    pub(crate) length_h: f64,
    /// Radiation on the horizontal outside the air, Wh/m².
    pub(crate) outside_wh_m2: f64,
    /// Radiation under a clear sky, Wh/m² (Haurwitz).
    pub(crate) clear_wh_m2: f64,
}

/// Steps in an hour by which a day's length is counted.
const STEPS: usize = 4;

/// The days of a year at a place.
pub(crate) fn days(site: &Site, year: i32, leap: bool) -> Vec<Day> {
    let heights: Vec<f64> = sunlit::stepped(site, year, leap, STEPS).map(|sun| sun.up).collect();
    let step_h = 1.0 / STEPS as f64;
    heights
        .chunks(24 * STEPS)
        .enumerate()
        .map(|(day, heights)| {
            let outside = sun::extraterrestrial_w_m2(day as u32 + 1);
            heights.iter().filter(|up| **up > 0.0).fold(Day::default(), |sum, up| Day {
                length_h: sum.length_h + step_h,
                outside_wh_m2: sum.outside_wh_m2 + outside * up * step_h,
                clear_wh_m2: sum.clear_wh_m2 + sun::clear_sky_w_m2(*up) * step_h,
            })
        })
        .collect()
}

/// A day's global radiation, Wh/m², from its hours of bright sunshine (FAO 56, equation 35, after Ångström 1924 and Prescott 1940).
pub(crate) fn from_sunshine(day: Day, sunshine_h: f64) -> f64 {
    let share = if day.length_h > 0.0 { (sunshine_h / day.length_h).clamp(0.0, 1.0) } else { 0.0 };
    day.outside_wh_m2 * (OVERCAST_SHARE + SUNSHINE_SHARE * share)
}

/// A day's global radiation, Wh/m², from the range of its temperature, K (FAO 56, equation 50, after Hargreaves & Samani 1982, inland coefficient 0.16);
/// never more than under a clear sky.
pub(crate) fn from_range(day: Day, range_k: f64) -> f64 {
    (0.16 * range_k.max(0.0).sqrt() * day.outside_wh_m2).min(day.clear_wh_m2)
}

/// Mean daily global radiation of the months, Wh/m², from their hours of sunshine.
pub(crate) fn global_wh_m2_day(site: &Site, sunshine_h: &[f64; 12]) -> [f64; 12] {
    let days = days(site, 2001, false);
    let months = calendar::months_by_day(false);
    std::array::from_fn(|month| {
        let of_month: Vec<Day> = days.iter().zip(&months).filter(|(_, of)| **of == month).map(|(day, _)| *day).collect();
        let count = of_month.len() as f64;
        of_month.iter().map(|day| from_sunshine(*day, sunshine_h[month] / count)).sum::<f64>() / count
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published: FAO 56, example 10. Rio de Janeiro (22° 54′ S), May, 220 hours of sunshine: 14.5 MJ/m² a day (from 10.9 h and 25.1 MJ/m²). The
    /// example rounds and takes the middle of the month: 2 %.
    #[test]
    fn sunshine_at_rio() {
        let site = Site { name: String::new(), latitude_deg: -22.9, longitude_deg: -43.2, elevation_m: 0.0, utc_offset_h: -3.0 };
        let mut sunshine = [0.0; 12];
        sunshine[4] = 220.0;
        let found = global_wh_m2_day(&site, &sunshine)[4] * 0.0036;
        assert!((found / 14.5 - 1.0).abs() < 0.02, "{found}");
        let middle = days(&site, 2001, false)[134];
        assert!((middle.length_h - 10.9).abs() < 0.25 && (middle.outside_wh_m2 * 0.0036 - 25.1).abs() < 0.4, "{middle:?}");
    }

    /// Published: FAO 56, example 15. Lyon (45° 43′ N), July, 26.6 and 14.8 °C: 22.3 MJ/m² a day (from 40.6 outside). 1 %.
    #[test]
    fn range_at_lyon() {
        let site = Site { name: String::new(), latitude_deg: 45.72, longitude_deg: 4.85, elevation_m: 200.0, utc_offset_h: 1.0 };
        let middle = days(&site, 2001, false)[195];
        assert!((middle.outside_wh_m2 * 0.0036 - 40.6).abs() < 0.5, "{middle:?}");
        assert!((from_range(middle, 26.6 - 14.8) * 0.0036 / 22.3 - 1.0).abs() < 0.015);
    }
}
