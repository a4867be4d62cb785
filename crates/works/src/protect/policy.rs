//! The four rules: what a foreman hangs, wets, mists and strikes at an hour of work, from what he sees and what is forecast. Pure functions; they know no
//! money, and nothing of the weather but what the forecast tells. Every limit here is common practice without a source, or a guess that says so.

use materials::Cover;
use physics::evaporation::uno_kg_m2s;

use crate::fit::{Ahead, Shelter};
use crate::protect::Policy;
use crate::protect::forecast::Forecast;

/// Forecast air below which a fresh coat is covered for the night, °C: a clear sky cools a face a kelvin or two below the air.
const FROST_EXPECTED_C: f64 = 2.0;
/// Evaporation that a wet face would be offered in 24 hours (Uno 1998's form of the published evaporation chart) above which hessian is kept damp, kg/m²:
/// a guess. 15 °C, 75 % and 2 m/s in the shade offer 2.1; 28 °C, 45 % and 5 m/s offer 21.
const DRYING_KG_M2_DAY: f64 = 2.5;
/// Driven rain until somebody comes again against which a young coat is covered, kg/m², and its age until which that is done, h: guesses.
const RAIN_EXPECTED_KG_M2: f64 = 0.3;
const RAIN_SAFE_H: f64 = 72.0;
/// Shares of what the cloth holds below which it is wetted: while somebody is there, and in the evening.
const WET_BELOW: f64 = 1.0 / 3.0;
const WET_BELOW_EVENING: f64 = 2.0 / 3.0;
/// Humidity of a sheltered face below which it is misted, kg/m² put on, and hours from one misting to the next.
const MIST_BELOW: f64 = 0.90;
pub(crate) const MIST_KG_M2: f64 = 0.3;
const MIST_EVERY_H: usize = 3;
/// Forecast air below which a shelter is heated, °C (the least at which lime is thrown).
const HEAT_BELOW_C: f64 = 5.0;
/// Absorptance and film with which sun warms a face, for the evaporation offered: a fresh harl; still air's convection and long-wave, W/(m² K).
const FACE_ABSORPTANCE: f64 = 0.45;
const STILL_FILM_W_M2K: f64 = 9.0;

/// What may hang before a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Screen {
    DryHessian,
    DampHessian,
    Shelter,
    Heated,
}

impl Screen {
    pub(crate) const ALL: [Screen; 4] = [Screen::DryHessian, Screen::DampHessian, Screen::Shelter, Screen::Heated];

    /// Its name in the catalogue.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Screen::DryHessian => "dry-hessian",
            Screen::DampHessian => "damp-hessian",
            Screen::Shelter => "roofed-shelter",
            Screen::Heated => "heated-shelter",
        }
    }

    /// Whether it is cloth that is hung and struck by hand.
    pub(crate) fn is_cloth(self) -> bool {
        matches!(self, Screen::DryHessian | Screen::DampHessian)
    }
}

/// The covers of the catalogue that policies hang.
#[derive(Clone, Debug)]
pub(crate) struct Screens {
    pub(crate) covers: [Cover; 4],
}

impl Screens {
    pub(crate) fn cover(&self, screen: Screen) -> &Cover {
        &self.covers[screen as usize]
    }
}

impl Policy {
    /// The shelter under which coats are thrown.
    pub(crate) fn shelter(self, screens: &Screens) -> Shelter {
        match self {
            Policy::Nothing | Policy::HessianByRule => Shelter::Open,
            Policy::Sheltered => Shelter::Roofed,
            Policy::Heated => Shelter::Warmed(screens.cover(Screen::Heated).warms_k.max(0.0) as u32),
        }
    }
}

/// Something done, with the hazard that asked for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Deed {
    Hang(Screen, Hazard),
    Strike(Hazard),
    Wet,
    Mist,
}

/// What is expected of the weather.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hazard {
    Drying,
    Frost,
    Rain,
    Wind,
    Cold,
    /// None in itself: a shelter stands as long as coats cure.
    Standing,
    /// Nothing that a cover would help against.
    Quiet,
}

impl Hazard {
    pub(crate) fn words(self) -> &'static str {
        match self {
            Hazard::Drying => "drying weather expected",
            Hazard::Frost => "frost expected",
            Hazard::Rain => "driving rain expected",
            Hazard::Wind => "wind above the cover's limit",
            Hazard::Cold => "cold expected",
            Hazard::Standing => "it stands while the coats cure",
            Hazard::Quiet => "no hazard expected: the coat takes up air faster bare",
        }
    }
}

/// What a foreman sees at an hour of work. Hours are indexes into the climate.
pub(crate) struct Sight<'a> {
    pub(crate) forecast: Forecast<'a>,
    pub(crate) now: usize,
    /// The hour at which somebody is there again to hang or strike, and the end of that day's work.
    pub(crate) back: usize,
    pub(crate) back_until: usize,
    /// First and last hour of the day's work.
    pub(crate) first: bool,
    pub(crate) last: bool,
    /// Hours since the coat was thrown.
    pub(crate) age_h: f64,
    /// The coat has taken up what is asked of it.
    pub(crate) cured: bool,
    pub(crate) face_humidity: f64,
    pub(crate) cloth_kg_m2: f64,
    pub(crate) hung: Option<Screen>,
    /// Hours since it was misted last.
    pub(crate) misted_h: usize,
}

impl Sight<'_> {
    fn coldest_c(&self, until: usize) -> f64 {
        (self.now..until).map(|hour| self.forecast.air_c(hour)).fold(f64::INFINITY, f64::min)
    }

    /// Evaporation offered to a wet face until an hour, as a rate, kg/m² a day.
    fn drying_kg_m2_day(&self, until: usize) -> f64 {
        let offered = (self.now..until).map(|hour| {
            let air_k = self.forecast.air_c(hour) + 273.15;
            let humidity = self.forecast.vapour_pa(hour) / physics::air::saturation_pa(air_k);
            let surface_k = air_k + FACE_ABSORPTANCE * self.forecast.sun_w_m2(hour) / STILL_FILM_W_M2K;
            uno_kg_m2s(surface_k, air_k, humidity, self.forecast.wind_m_s(hour)).max(0.0) * 3600.0
        });
        offered.sum::<f64>() * 24.0 / (until - self.now).max(12) as f64
    }

    fn rain_kg_m2(&self, until: usize) -> f64 {
        (self.now..until).map(|hour| self.forecast.driven_kg_m2(hour)).sum()
    }

    fn windiest_m_s(&self, until: usize) -> f64 {
        (self.now..until).map(|hour| self.forecast.wind_m_s(hour)).fold(0.0, f64::max)
    }

    /// The hazard until an hour that a cloth would help against, gravest first.
    fn hazard(&self, until: usize) -> Hazard {
        if self.drying_kg_m2_day(until) > DRYING_KG_M2_DAY {
            Hazard::Drying
        } else if self.coldest_c(until) < FROST_EXPECTED_C {
            Hazard::Frost
        } else if self.age_h < RAIN_SAFE_H && self.rain_kg_m2(until) > RAIN_EXPECTED_KG_M2 {
            Hazard::Rain
        } else {
            Hazard::Quiet
        }
    }
}

/// What is done at an hour of work, in order.
pub(crate) fn decide(policy: Policy, sight: &Sight, screens: &Screens) -> [Option<Deed>; 2] {
    match policy {
        Policy::Nothing => [None, None],
        Policy::HessianByRule => hessian(sight, screens),
        Policy::Sheltered => [shelter(sight, Screen::Shelter, Hazard::Standing), mist(sight)],
        Policy::Heated => {
            let cold = !sight.cured && sight.coldest_c(sight.back) < HEAT_BELOW_C;
            let (screen, why) = if cold { (Screen::Heated, Hazard::Cold) } else { (Screen::Shelter, Hazard::Standing) };
            [shelter(sight, screen, why), mist(sight)]
        }
    }
}

/// Hessian is hung and struck at the first and the last hour of work and in the hour after a throw; it is wetted at any.
fn hessian(sight: &Sight, screens: &Screens) -> [Option<Deed>; 2] {
    if sight.cured {
        return [sight.hung.map(|_| Deed::Strike(Hazard::Quiet)), None];
    }
    let decides = sight.first || sight.last || sight.age_h < 1.5;
    if !decides {
        return [None, wet(sight, screens, WET_BELOW)];
    }
    let limit_m_s = screens.cover(Screen::DampHessian).wind_limit_m_s * weather::WINDWARD_SHARE;
    if sight.windiest_m_s(sight.back) > limit_m_s {
        return [sight.hung.map(|_| Deed::Strike(Hazard::Wind)), None];
    }
    let hazard = sight.hazard(sight.back);
    let wanted = match hazard {
        Hazard::Drying => Some(Screen::DampHessian),
        Hazard::Frost | Hazard::Rain => Some(Screen::DryHessian),
        _ => None,
    };
    match (sight.hung, wanted) {
        (None, Some(screen)) => [Some(Deed::Hang(screen, hazard)), (screen == Screen::DampHessian).then_some(Deed::Wet)],
        // Nobody takes down in the morning what he would hang again in the evening.
        (Some(_), None) if sight.first && sight.hazard(sight.back_until) == Hazard::Quiet => [Some(Deed::Strike(Hazard::Quiet)), None],
        (Some(_), Some(Screen::DampHessian)) => [None, wet(sight, screens, if sight.last { WET_BELOW_EVENING } else { WET_BELOW })],
        _ => [None, None],
    }
}

fn wet(sight: &Sight, screens: &Screens, below: f64) -> Option<Deed> {
    let holds = screens.cover(Screen::DampHessian).holds_kg_m2;
    let dries = || sight.drying_kg_m2_day(sight.back) > DRYING_KG_M2_DAY;
    (sight.hung.is_some_and(Screen::is_cloth) && sight.cloth_kg_m2 < below * holds && dries()).then_some(Deed::Wet)
}

/// A shelter stands as long as the coats cure; in wind above its limit it is tied down, not struck.
fn shelter(sight: &Sight, screen: Screen, why: Hazard) -> Option<Deed> {
    (sight.hung != Some(screen) && (sight.hung.is_none() || sight.first || sight.last)).then_some(Deed::Hang(screen, why))
}

fn mist(sight: &Sight) -> Option<Deed> {
    let dry = !sight.cured && sight.face_humidity < MIST_BELOW && sight.misted_h >= MIST_EVERY_H;
    (dry && sight.coldest_c(sight.back) > FROST_EXPECTED_C).then_some(Deed::Mist)
}
