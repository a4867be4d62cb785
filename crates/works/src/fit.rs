//! Is the day fit for the work? The limits of weather for throwing and for limewashing, each with its source, judged hour by hour over the half-day
//! of work and the frost of the two nights after it, in the weather as it is or as a forecast tells it.

use crate::WaitReason;

/// Least air and face temperature, °C: "not below 5 °C", suppliers' published tables; wall and air both.
pub(crate) const COLDEST_C: f64 = 5.0;
/// Air that is rising may begin at 3 °C (one supplier's published table: not at 5 falling, nor 3 rising).
pub(crate) const COLDEST_RISING_C: f64 = 3.0;
/// Greatest air and face temperature, °C: common practice, no source (28 °C and up dries and shrinks the coat; published limits say 30 °C).
pub(crate) const HOTTEST_C: f64 = 28.0;
/// Mean wind of an hour, at the height of the face, above which nothing is thrown at a face it strikes, m/s (common practice, no source). A climate holds
/// the wind felt close to the face, so the limit is brought there too; a face in the lee stands more wind over the roof.
pub(crate) const WINDIEST_M_S: f64 = 8.0 * weather::WINDWARD_SHARE;
/// Driven rain on the face from the start of work to the end of the working day, kg/m² (a trace: common practice, no source).
pub(crate) const RAIN_ON_FACE_KG_M2: f64 = 0.1;
/// Rain on the flat in any hour of work, mm: more stops mixer and boards (common practice, no source).
pub(crate) const RAIN_IN_HOUR_MM: f64 = 0.5;
/// Hours after the start of work in which the air must not fall below freezing (common practice, no source; the coat is covered meanwhile).
pub(crate) const FROST_SAFE_H: usize = 48;

/// What the weather is to be fit for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fitness {
    /// Throwing or laying a coat.
    Coat,
    /// Brushing limewash: wind does not stop it.
    Limewash,
}

/// The hours of one half-day in a climate.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Hours {
    /// First hour of work, index into the climate.
    pub(crate) from: usize,
    /// One past the last hour of this half-day.
    pub(crate) to: usize,
    /// One past the last hour of the working day.
    pub(crate) day_end: usize,
}

/// The weather of hours to come, as somebody sees it: the truth, or a forecast. Hours are indexes into a climate; past its end it begins again.
pub(crate) trait Ahead {
    /// Air, °C.
    fn air_c(&self, hour: usize) -> f64;
    /// Rain on the flat, mm.
    fn rain_mm(&self, hour: usize) -> f64;
    /// Driven rain on the face, kg/m².
    fn driven_kg_m2(&self, hour: usize) -> f64;
    /// Wind near the face, m/s.
    fn wind_m_s(&self, hour: usize) -> f64;
}

/// Shelter under which the work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shelter {
    /// None: all limits stand.
    Open,
    /// A roof and sheets: rain and wind stop nobody.
    Roofed,
    /// The same, warmed by some whole kelvins.
    Warmed(u32),
}

/// The first limit of weather that is passed, gravest first: frost, cold, heat, rain, wind, in the weather as somebody sees it, under a shelter or none.
pub(crate) fn unfit_ahead(fitness: Fitness, ahead: &impl Ahead, hours: Hours, shelter: Shelter) -> Option<WaitReason> {
    let warmed = if let Shelter::Warmed(kelvins) = shelter { f64::from(kelvins) } else { 0.0 };
    let air_c = |hour: usize| ahead.air_c(hour) + warmed;
    let work = hours.from..hours.to;
    if (hours.from..hours.from + FROST_SAFE_H).any(|hour| air_c(hour) < 0.0) {
        return Some(WaitReason::Frost);
    }
    let too_cold = |hour: usize| {
        let now = air_c(hour);
        now < COLDEST_RISING_C || (now < COLDEST_C && air_c(hour + 1) <= now)
    };
    if work.clone().any(too_cold) {
        return Some(WaitReason::Cold);
    }
    if work.clone().any(|hour| ahead.air_c(hour) > HOTTEST_C) {
        return Some(WaitReason::Heat);
    }
    if shelter != Shelter::Open {
        return None;
    }
    let on_face: f64 = (hours.from..hours.day_end).map(|hour| ahead.driven_kg_m2(hour)).sum();
    if on_face > RAIN_ON_FACE_KG_M2 || work.clone().any(|hour| ahead.rain_mm(hour) > RAIN_IN_HOUR_MM) {
        return Some(WaitReason::Rain);
    }
    if fitness == Fitness::Coat && work.clone().any(|hour| ahead.wind_m_s(hour) > WINDIEST_M_S) {
        return Some(WaitReason::Wind);
    }
    None
}

/// The face's own temperature against the limits, °C.
pub(crate) fn face_unfit(face_c: f64) -> Option<WaitReason> {
    if face_c < COLDEST_C {
        Some(WaitReason::Cold)
    } else if face_c > HOTTEST_C + FACE_OVER_AIR_C {
        Some(WaitReason::Heat)
    } else {
        None
    }
}

/// A sunlit face may be this much warmer than the hottest air allowed before the throw waits, K (common practice, no source: it is damped down and shaded).
const FACE_OVER_AIR_C: f64 = 2.0;

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use weather::FaceClimate;

    use super::*;
    use crate::protect::{Errors, Forecast, Foresight};

    fn climate(air_c: f64) -> FaceClimate {
        let hours = 96;
        FaceClimate {
            air_k: vec![air_c + 273.15; hours],
            vapour_pa: vec![1000.0; hours],
            pressure_pa: vec![101_325.0; hours],
            wind_m_s: vec![2.0; hours],
            sun_w_m2: vec![0.0; hours],
            longwave_w_m2: vec![350.0; hours],
            rain_kg_m2: vec![0.0; hours],
        }
    }

    fn unfit(fitness: Fitness, climate: &FaceClimate, rain_mm: &[f64], hours: Hours) -> Option<WaitReason> {
        let errors = Errors::new(1, 1990, 0);
        let ahead = Forecast { climate, rain_mm, errors: &errors, year_begins: 0, foresight: Foresight::Perfect, issued: hours.to };
        unfit_ahead(fitness, &ahead, hours, Shelter::Open)
    }

    const MORNING: Hours = Hours { from: 8, to: 12, day_end: 17 };

    // Suppliers' published limits: place at air 6 °C but wall 4 °C is refused; air 31 °C is refused; 5 °C falling and 3 °C rising are the edges.
    #[test]
    fn limits_are_those_published() {
        let dry = vec![0.0; 96];
        assert_eq!(unfit(Fitness::Coat, &climate(12.0), &dry, MORNING), None);
        assert_eq!(unfit(Fitness::Coat, &climate(31.0), &dry, MORNING), Some(WaitReason::Heat));
        assert_eq!(unfit(Fitness::Coat, &climate(4.9), &dry, MORNING), Some(WaitReason::Cold));
        assert_eq!(face_unfit(4.0), Some(WaitReason::Cold));
        let mut rising = climate(4.0);
        for (hour, kelvin) in rising.air_k.iter_mut().enumerate() {
            *kelvin += hour as f64 * 0.2;
        }
        assert_eq!(unfit(Fitness::Coat, &rising, &dry, MORNING), None);
    }

    #[test]
    fn frost_in_two_nights_holds_the_throw() {
        let dry = vec![0.0; 96];
        let mut frosty = climate(8.0);
        frosty.air_k[8 + 40] = 272.0;
        assert_eq!(unfit(Fitness::Coat, &frosty, &dry, MORNING), Some(WaitReason::Frost));
        frosty.air_k[8 + 40] = 281.0;
        frosty.air_k[8 + 49] = 272.0;
        assert_eq!(unfit(Fitness::Coat, &frosty, &dry, MORNING), None);
    }

    #[test]
    fn rain_later_in_the_working_day_counts_and_wind_spares_limewash() {
        let dry = vec![0.0; 96];
        let mut wet = climate(12.0);
        wet.rain_kg_m2[15] = 0.2;
        assert_eq!(unfit(Fitness::Coat, &wet, &dry, MORNING), Some(WaitReason::Rain));
        let mut windy = climate(12.0);
        windy.wind_m_s[9] = 9.0;
        assert_eq!(unfit(Fitness::Coat, &windy, &dry, MORNING), Some(WaitReason::Wind));
        assert_eq!(unfit(Fitness::Limewash, &windy, &dry, MORNING), None);
    }
}
