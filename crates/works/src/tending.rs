//! Coats tended by a policy while the job is lived: each hour of work the policy is asked what is hung, wetted, misted or struck, with a forecast that errs,
//! and what it asks for is done and counted. It must never choose the policy, nor look at weather the forecast does not tell.

use curing::Action;
use jiff::civil::Date;

use crate::calendar::add_days;
use crate::columns::Columns;
use crate::fit::Shelter;
use crate::protect::{Deed, Forecast, MIST_KG_M2, Policy, Screen, Screens, Sight, WET_H_PER_100_M2, decide, screens};
use crate::sheet::JobSheet;
use crate::{CoverWork, Inputs, WorksError};

/// Most days until somebody works again.
const LONGEST_BREAK_DAYS: i64 = 120;

/// What policies need: the covers they hang.
pub(crate) struct Tending {
    screens: Screens,
}

impl Tending {
    /// For a job on which policies tend coats; `None` for one without.
    pub(crate) fn of(sheet: &JobSheet, inputs: &Inputs) -> Result<Option<Self>, WorksError> {
        if !sheet.is_tended() {
            return Ok(None);
        }
        let wall = sheet.walls.first().map_or("", |wall| wall.slug.as_str());
        Ok(Some(Self { screens: screens(&inputs.catalogue, wall)? }))
    }

    /// The shelter under which a coat is thrown that a policy tends.
    pub(crate) fn shelter(&self, policy: Option<Policy>) -> Shelter {
        policy.map_or(Shelter::Open, |policy| policy.shelter(&self.screens))
    }
}

/// What hangs before a wall by its policy, and what that has taken.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Tended {
    pub(crate) hung: Option<Screen>,
    /// Hour at which it was misted last.
    misted_hour: Option<usize>,
    hours: f64,
    sheltered_h: u32,
    heated_h: u32,
}

impl CoverWork {
    /// With what one wall took besides.
    pub(crate) fn and(self, tended: &Tended, scaffold_m2: f64) -> Self {
        Self {
            hours: self.hours + tended.hours,
            sheltered_m2: self.sheltered_m2 + if tended.sheltered_h > 0 { scaffold_m2 } else { 0.0 },
            shelter_m2_weeks: self.shelter_m2_weeks + f64::from(tended.sheltered_h) / (24.0 * 7.0) * scaffold_m2,
            heated_m2_days: self.heated_m2_days + f64::from(tended.heated_h) / 24.0 * scaffold_m2,
        }
    }
}

/// An hour at a wall.
pub(crate) struct Visit {
    pub(crate) policy: Policy,
    pub(crate) date: Date,
    /// Hour of the civil day.
    pub(crate) hour: usize,
    /// The coat was found ready for the next.
    pub(crate) ready: bool,
}

/// What is done to a wall in an hour, in order; true if somebody had to come for it.
pub(crate) fn tend(site: &mut Columns, wall: usize, visit: &Visit, tended: &mut Tended) -> Result<bool, String> {
    let years = site.years;
    let Some(tending) = years.tending.as_ref() else { return Ok(false) };
    match tended.hung {
        Some(Screen::Shelter) => tended.sheltered_h += 1,
        Some(Screen::Heated) => {
            tended.sheltered_h += 1;
            tended.heated_h += 1;
        }
        _ => {}
    }
    if blown(site, tending, wall, visit, tended) {
        act(site, wall, Action::Strike)?;
        tended.hung = None;
    }
    let time = &years.sheet.time;
    if visit.hour < time.from || visit.hour >= time.to || time.closed(visit.date).is_some() {
        return Ok(false);
    }
    let deeds = match sight(site, wall, visit, tended)? {
        Some(sight) => decide(visit.policy, &sight, &tending.screens),
        None => [None, None],
    };
    let mut any = false;
    for deed in deeds.into_iter().flatten() {
        carry_out(site, tending, wall, deed, tended)?;
        any = true;
    }
    if any {
        tended.misted_hour = if deeds.contains(&Some(Deed::Mist)) { Some(hours(site, visit)) } else { tended.misted_hour };
    }
    Ok(any)
}

/// Hours from the first day's midnight to a visit.
fn hours(site: &Columns, visit: &Visit) -> usize {
    site.years.hour_of_day(visit.date, visit.hour)
}

/// Whether wind above its limit takes the cloth down in this hour.
fn blown(site: &Columns, tending: &Tending, wall: usize, visit: &Visit, tended: &Tended) -> bool {
    let Some(screen) = tended.hung.filter(|screen| screen.is_cloth()) else { return false };
    let wind_m_s = &site.years.walls[wall].climate.wind_m_s;
    let now = (site.first_hour + hours(site, visit)) % wind_m_s.len().max(1);
    wind_m_s[now] > tending.screens.cover(screen).wind_limit_m_s * weather::WINDWARD_SHARE
}

/// What the foreman sees and is told; nothing where no coat is on the wall.
fn sight<'s>(site: &Columns<'s, '_, '_>, wall: usize, visit: &Visit, tended: &Tended) -> Result<Option<Sight<'s>>, String> {
    let Some(look) = site.stand(wall).looked_at(site.member)? else { return Ok(None) };
    let years = site.years;
    let Some((coat, model)) = look.coats.last().zip(years.walls[wall].coats.get(look.coats.len() - 1)) else { return Ok(None) };
    let time = &years.sheet.time;
    let mut next = add_days(visit.date, 1);
    while time.closed(next).is_some() && next < add_days(visit.date, LONGEST_BREAK_DAYS) {
        next = add_days(next, 1);
    }
    let index = |date, hour| site.first_hour + years.hour_of_day(date, hour);
    let (first, last) = (visit.hour == time.from, visit.hour + 1 == time.to);
    let now = index(visit.date, visit.hour);
    let tomorrow = index(next, time.from);
    let asked_m = model.thresholds.uptake_m.min(model.thresholds.uptake_share * model.thickness_m);
    Ok(Some(Sight {
        forecast: Forecast {
            climate: &years.walls[wall].climate,
            rain_mm: &years.joined.rain_mm,
            errors: &years.joined.errors[site.year],
            year_begins: years.joined.begins[site.year],
            foresight: years.foresight,
            issued: now,
        },
        now,
        back: if last { tomorrow } else { index(visit.date, time.to - 1) },
        back_until: tomorrow,
        first,
        last,
        age_h: coat.age_h,
        cured: visit.ready || coat.uptake_m >= asked_m,
        face_humidity: look.face_humidity,
        cloth_kg_m2: look.cloth_kg_m2,
        hung: tended.hung,
        misted_h: tended.misted_hour.map_or(usize::MAX, |hour| hours(site, visit).saturating_sub(hour)),
    }))
}

fn carry_out(site: &mut Columns, tending: &Tending, wall: usize, deed: Deed, tended: &mut Tended) -> Result<(), String> {
    let hundreds = site.years.walls[wall].face_m2 / 100.0;
    match deed {
        Deed::Hang(screen, _) => {
            let cover = tending.screens.cover(screen).clone();
            // A shelter that stands is heated or left cold by a switch, not hung anew.
            tended.hours += if tended.hung.is_some() { 0.0 } else { cover.hang_h_per_100_m2 * hundreds };
            act(site, wall, Action::Hang(cover))?;
            tended.hung = Some(screen);
        }
        Deed::Strike(_) => {
            act(site, wall, Action::Strike)?;
            tended.hung = None;
        }
        Deed::Wet => {
            act(site, wall, Action::Wet(tending.screens.cover(Screen::DampHessian).holds_kg_m2))?;
            tended.hung = Some(Screen::DampHessian);
            tended.hours += WET_H_PER_100_M2 * hundreds;
        }
        Deed::Mist => {
            act(site, wall, Action::Mist(MIST_KG_M2))?;
            tended.hours += WET_H_PER_100_M2 * hundreds;
        }
    }
    Ok(())
}

fn act(site: &mut Columns, wall: usize, action: Action) -> Result<(), String> {
    let member = site.member;
    let stand = site.years.walls[wall].stand;
    site.stands[stand].take(member, &[action])
}
