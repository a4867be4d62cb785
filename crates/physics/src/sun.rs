//! Where the sun stands and what it puts on a vertical face: position (NREL SPA), split of global radiation (Erbs), transposition
//! (isotropic, and Hay-Davies which is the one used by the hour), clear sky (Haurwitz). Angles in degrees at the border, radiation in W/m².

use core::f64::consts::PI;

use solar_positioning::{Location, RefractionCorrection, SolarPositions, delta_t, time::JulianDate};

use crate::numbers::{atan2, cos, exp, sin};

const RADIANS: f64 = PI / 180.0;
/// Mean horizontal parallax of the sun, rad (8.794″, IAU).
const PARALLAX: f64 = 8.794 / 3600.0 * RADIANS;
/// Solar constant, W/m², as in Spencer's form in the general-purpose library the checks run against (1366.1, ASTM E490).
pub const SOLAR_CONSTANT_W_M2: f64 = 1366.1;
/// Below this height of the sun (3°) global radiation is not split into a beam, the limit common to general-purpose libraries.
pub const GREATEST_BEAM_ZENITH_DEG: f64 = 87.0;

/// A place on the globe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Degrees north, −90 to 90.
    pub latitude_deg: f64,
    /// Degrees east, −180 to 180.
    pub longitude_deg: f64,
    /// Height above the sea, m.
    pub elevation_m: f64,
}

/// Air the sunlight is bent by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Refraction {
    /// Air pressure, Pa.
    pub pressure_pa: f64,
    /// Air temperature, °C.
    pub air_c: f64,
}

/// The sun's place in the sky.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// Angle from the vertical, degrees.
    pub zenith_deg: f64,
    /// Bearing, degrees clockwise from north.
    pub azimuth_deg: f64,
}

/// Unit vector towards the sun.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    /// Part towards east.
    pub east: f64,
    /// Part towards north.
    pub north: f64,
    /// Part towards the zenith: the cosine of the zenith angle.
    pub up: f64,
}

impl Position {
    /// The unit vector of these angles.
    pub fn direction(self) -> Direction {
        let across = sin(self.zenith_deg * RADIANS);
        let bearing = self.azimuth_deg * RADIANS;
        Direction { east: across * sin(bearing), north: across * cos(bearing), up: cos(self.zenith_deg * RADIANS) }
    }
}

/// Outward normal of a vertical face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Normal {
    /// Part towards east.
    pub east: f64,
    /// Part towards north.
    pub north: f64,
}

impl Normal {
    /// The normal of a face that looks towards this bearing, degrees clockwise from north.
    pub fn of(faces_deg: f64) -> Self {
        Self { east: sin(faces_deg * RADIANS), north: cos(faces_deg * RADIANS) }
    }

    /// Cosine of the angle between the sun and the normal; negative when the sun is behind the face.
    pub fn cos_incidence(self, sun: Direction) -> f64 {
        self.east * sun.east + self.north * sun.north
    }
}

/// Julian date (UT) of midnight UTC at the start of a day of the proleptic Gregorian calendar.
/// Source: Fliegel & Van Flandern 1968 in the form of J. Meeus, Astronomical Algorithms, ch. 7.
pub fn julian_date(year: i32, month: u32, day: u32) -> f64 {
    let shifted = (14 - i64::from(month)).div_euclid(12);
    let years = i64::from(year) + 4800 - shifted;
    let months = i64::from(month) + 12 * shifted - 3;
    let number =
        i64::from(day) + (153 * months + 2) / 5 + 365 * years + years.div_euclid(4) - years.div_euclid(100) + years.div_euclid(400) - 32045;
    number as f64 - 0.5
}

/// Position of the sun by the NREL solar position algorithm (Reda & Andreas 2004, uncertainty 0.0003°), topocentric.
/// `julian_date` in UT; `delta_t_s` is terrestrial time minus UT, s. Without `refraction` the true position is given.
/// `None` when the place or the time is outside the algorithm's range (latitude, longitude, years −2000 to 6000) or not finite.
pub fn position(julian_date: f64, delta_t_s: f64, place: Place, refraction: Option<Refraction>) -> Option<Position> {
    let bending = match refraction {
        Some(air) => Some(RefractionCorrection::new(air.pressure_pa / 100.0, air.air_c).ok()?),
        None => None,
    };
    let time = JulianDate::new(julian_date, delta_t_s).ok()?;
    let location = Location { latitude: place.latitude_deg, longitude: place.longitude_deg };
    let found = SolarPositions::new().at_from_julian(time, location, place.elevation_m, bending).ok()?;
    Some(Position { zenith_deg: found.zenith_angle(), azimuth_deg: found.azimuth() })
}

/// Terrestrial time minus universal time, s, in a year given with its fraction (after Espenak & Meeus); 69 s outside −500 to 3000.
pub fn delta_t_s(year: f64) -> f64 {
    delta_t::estimate(year).unwrap_or(69.0)
}

/// Days between the points at which [`Track`] asks the full algorithm; the sun's declination is smooth over such a step.
const STEP_DAYS: f64 = 4.0;

/// The sun over one place through many days, a hundred times cheaper than the full algorithm: declination and equation of time are taken
/// from it every four days and joined by cubics. Within 0.002° of [`position`] (tested).
#[derive(Clone, Debug)]
pub struct Track {
    start: f64,
    sin_latitude: f64,
    cos_latitude: f64,
    longitude_rad: f64,
    /// Sine of the declination and hour angle at Greenwich noon (rad) at each point.
    points: Vec<(f64, f64)>,
}

impl Track {
    /// A track from the Julian date `start` (UT) over `days`. `None` when place or time is out of range.
    pub fn new(start: f64, days: f64, place: Place) -> Option<Self> {
        if !(start.is_finite() && (0.0..=400_000.0).contains(&days)) {
            return None;
        }
        // One point before the first and two after the last, so that every cubic has its four.
        let first = start.floor() - STEP_DAYS;
        let count = (days / STEP_DAYS) as usize + 5;
        let greenwich = Place { latitude_deg: 0.0, longitude_deg: 0.0, elevation_m: 0.0 };
        let mut points = Vec::with_capacity(count);
        for index in 0..count {
            let date = first + STEP_DAYS * index as f64;
            let year = 2000.0 + (date - 2_451_545.0) / 365.25;
            let sun = position(date, delta_t_s(year), greenwich, None)?.direction();
            // On the equator the pole lies due north, so north is the sine of the declination and the rest gives the hour angle.
            points.push((sun.north, atan2(-sun.east, sun.up)));
        }
        let latitude = place.latitude_deg * RADIANS;
        Some(Self {
            start: first,
            sin_latitude: sin(latitude),
            cos_latitude: cos(latitude),
            longitude_rad: place.longitude_deg * RADIANS,
            points,
        })
    }

    /// Direction of the sun at a Julian date (UT); dates outside the track give the value at its nearest end.
    pub fn direction(&self, julian_date: f64) -> Direction {
        let along = ((julian_date - self.start) / STEP_DAYS).clamp(1.0, (self.points.len() - 3) as f64);
        let index = along as usize;
        let part = along - index as f64;
        let [a, b, c, d] = [self.points[index - 1], self.points[index], self.points[index + 1], self.points[index + 2]];
        let sin_declination = cubic([a.0, b.0, c.0, d.0], part);
        let noon_angle = cubic([a.1, b.1, c.1, d.1], part);
        let cos_declination = (1.0 - sin_declination * sin_declination).max(0.0).sqrt();
        // Julian dates turn at noon, so the fraction of the day is the turn since Greenwich noon.
        let turn = (julian_date - julian_date.floor()) * 2.0 * PI;
        let hour_angle = noon_angle + turn + self.longitude_rad;
        let (sin_hour, cos_hour) = (sin(hour_angle), cos(hour_angle));
        let up = sin_declination * self.sin_latitude + cos_declination * self.cos_latitude * cos_hour;
        let stretch = 1.0 + PARALLAX * up;
        Direction {
            east: -cos_declination * sin_hour * stretch,
            north: (sin_declination * self.cos_latitude - cos_declination * self.sin_latitude * cos_hour) * stretch,
            up: up - PARALLAX * (1.0 - up * up),
        }
    }
}

/// Sine of the height of the sun's centre when its upper edge touches the horizon: −50′, of which 34′ are the usual bending of its light and 16′ half its
/// disc, as almanacs reckon and the algorithm of Reda & Andreas does.
const SIN_AT_HORIZON: f64 = -0.014_543_9;
/// Steps of a day in which its noon is looked for, and halvings by which the moment of rise or set is closed in on (to a hundredth of a second).
const NOON_STEPS: u32 = 144;
const HALVINGS: u32 = 24;

impl Track {
    /// Hours after a Julian date (UT), the place's midnight by any clock, at which the sun rises before and sets after the highest sun of the next 24 hours.
    /// Both fall on that noon where the sun does not rise, and half a day to either side of it where it does not set. The horizon is flat.
    pub fn rise_and_set(&self, midnight: f64) -> (f64, f64) {
        let up = |hours: f64| self.direction(midnight + hours / 24.0).up - SIN_AT_HORIZON;
        let noon = (0..NOON_STEPS)
            .map(|step| f64::from(step) * 24.0 / f64::from(NOON_STEPS))
            .fold(0.0, |best, hours| if up(hours) > up(best) { hours } else { best });
        if up(noon) <= 0.0 {
            return (noon, noon);
        }
        let crossing = |night: f64| {
            let (mut dark, mut light) = (night, noon);
            if up(dark) > 0.0 {
                return dark;
            }
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(dark, light);
                if up(middle) > 0.0 { light = middle } else { dark = middle }
            }
            light
        };
        (crossing(noon - 12.0), crossing(noon + 12.0))
    }
}

/// Cubic through four equally spaced values, `part` of the way from the second to the third (Lagrange).
fn cubic([a, b, c, d]: [f64; 4], part: f64) -> f64 {
    let (back, on, far) = (part + 1.0, part - 1.0, part - 2.0);
    -a * part * on * far / 6.0 + b * back * on * far / 2.0 - c * back * part * far / 2.0 + d * back * part * on / 6.0
}

/// Extraterrestrial radiation on a plane facing the sun, W/m², for a day of the year from 1 (Spencer 1971).
pub fn extraterrestrial_w_m2(day_of_year: u32) -> f64 {
    let angle = 2.0 * PI * (f64::from(day_of_year) - 1.0) / 365.0;
    let (sin_one, cos_one) = (sin(angle), cos(angle));
    let (sin_two, cos_two) = (sin(2.0 * angle), cos(2.0 * angle));
    SOLAR_CONSTANT_W_M2 * (1.000_110 + 0.034_221 * cos_one + 0.001_280 * sin_one + 0.000_719 * cos_two + 0.000_077 * sin_two)
}

/// Beam and diffuse radiation.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Split {
    /// Direct normal irradiance, W/m².
    pub direct_w_m2: f64,
    /// Diffuse horizontal irradiance, W/m².
    pub diffuse_w_m2: f64,
}

/// Splits global horizontal radiation into beam and diffuse by the clearness index (Erbs, Klein & Duffie 1982).
/// `cos_zenith` of the sun at the middle of the hour; `extraterrestrial_w_m2` on a plane facing the sun. With the sun lower than 3° all is diffuse.
pub fn split_global(global_w_m2: f64, cos_zenith: f64, extraterrestrial_w_m2: f64) -> Split {
    let lowest = cos(GREATEST_BEAM_ZENITH_DEG * RADIANS);
    if global_w_m2 <= 0.0 || cos_zenith < lowest {
        return Split { direct_w_m2: 0.0, diffuse_w_m2: global_w_m2.max(0.0) };
    }
    // The floor of the cosine in the clearness index (0.065) is the one of the general-purpose library checked against.
    let clearness = (global_w_m2 / (extraterrestrial_w_m2 * cos_zenith.max(0.065))).clamp(0.0, 2.0);
    let k = clearness;
    let share = if k <= 0.22 {
        1.0 - 0.09 * k
    } else if k <= 0.8 {
        0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)))
    } else {
        0.165
    };
    let diffuse = global_w_m2 * share;
    Split { direct_w_m2: ((global_w_m2 - diffuse) / cos_zenith).max(0.0), diffuse_w_m2: diffuse }
}

/// Global radiation under a clear sky, W/m² (Haurwitz 1945; 0.059 as the general-purpose library checked against cites it, some reprints have 0.057).
pub fn clear_sky_w_m2(cos_zenith: f64) -> f64 {
    if cos_zenith <= 0.0 { 0.0 } else { 1098.0 * cos_zenith * exp(-0.059 / cos_zenith) }
}

/// How a vertical face stands before sky and ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlook {
    /// Outward normal.
    pub normal: Normal,
    /// Share of the face's view that is sky, 0 to 0.5 ([`sky_view`]).
    pub sky_view: f64,
    /// Sine of the height of the horizon in front of the face.
    pub sin_horizon: f64,
    /// Short-wave reflectance of the ground, 0 to 1; what stands above the horizon line is given the same.
    pub ground_reflectance: f64,
}

impl Outlook {
    /// The outlook of a face towards `faces_deg` behind a horizon of one height all round, degrees 0 to 90.
    pub fn new(faces_deg: f64, horizon_deg: f64, ground_reflectance: f64) -> Self {
        let horizon = horizon_deg.clamp(0.0, 90.0);
        Self { normal: Normal::of(faces_deg), sky_view: sky_view(horizon), sin_horizon: sin(horizon * RADIANS), ground_reflectance }
    }
}

/// Share of a vertical face's view that is sky above a horizon of one height all round (exact integral of the cosine law): a half for none.
pub fn sky_view(horizon_deg: f64) -> f64 {
    let height = horizon_deg * RADIANS;
    (0.5 - height / PI - sin(2.0 * height) / (2.0 * PI)).max(0.0)
}

/// What reaches a vertical face, W/m².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OnFace {
    /// Straight from the sun.
    pub beam_w_m2: f64,
    /// From the sky.
    pub sky_w_m2: f64,
    /// Reflected by the ground.
    pub ground_w_m2: f64,
}

impl OnFace {
    /// All together.
    pub fn total_w_m2(self) -> f64 {
        self.beam_w_m2 + self.sky_w_m2 + self.ground_w_m2
    }
}

/// Transposition to a vertical face with an isotropic sky (Liu & Jordan 1960).
pub fn isotropic(global_w_m2: f64, split: Split, sun: Direction, outlook: &Outlook) -> OnFace {
    let seen = sun.up > outlook.sin_horizon;
    let cos_incidence = if seen { outlook.normal.cos_incidence(sun).max(0.0) } else { 0.0 };
    OnFace {
        beam_w_m2: split.direct_w_m2 * cos_incidence,
        sky_w_m2: split.diffuse_w_m2 * outlook.sky_view,
        ground_w_m2: global_w_m2 * outlook.ground_reflectance * (1.0 - outlook.sky_view),
    }
}

/// Transposition to a vertical face after Hay & Davies 1980: the share of the sky's light that comes from round the sun is treated as beam.
/// This is the form used by the hour: better than isotropic on a face near the sun, and free of fitted tables.
pub fn hay_davies(global_w_m2: f64, split: Split, extraterrestrial_w_m2: f64, sun: Direction, outlook: &Outlook) -> OnFace {
    let plain = isotropic(global_w_m2, split, sun, outlook);
    let anisotropy = (split.direct_w_m2 / extraterrestrial_w_m2).clamp(0.0, 1.0);
    let seen = sun.up > outlook.sin_horizon;
    let cos_incidence = if seen { outlook.normal.cos_incidence(sun).max(0.0) } else { 0.0 };
    // The least cosine (1° above the horizon) keeps the ratio finite, as general-purpose libraries do.
    let ratio = cos_incidence / sun.up.max(0.017_45);
    let round_sun = split.diffuse_w_m2 * anisotropy * ratio;
    OnFace { sky_w_m2: plain.sky_w_m2 * (1.0 - anisotropy) + round_sun, ..plain }
}
