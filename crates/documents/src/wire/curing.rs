//! plan/1: what the runs say beside their days: covers that a policy tends, a wall freed of its covering, the ends of a wall in the middle year.

use serde::Serialize;

/// What tending coats by a policy took in a run.
#[derive(Serialize)]
pub(super) struct Covers {
    hours: f64,
    sheltered_m2: f64,
    shelter_m2_weeks: f64,
    heated_m2_days: f64,
}

impl Covers {
    pub(super) fn of(work: &works::CoverWork) -> Self {
        let works::CoverWork { hours, sheltered_m2, shelter_m2_weeks, heated_m2_days } = *work;
        Self { hours, sheltered_m2, shelter_m2_weeks, heated_m2_days }
    }
}

/// A wall freed of an impermeable covering in a run.
#[derive(Serialize)]
pub(super) struct Freed {
    stripped: String,
    wet_then: f64,
    coated: Option<String>,
    wet_when_coated: Option<f64>,
}

impl Freed {
    pub(super) fn of(freed: &works::Freed) -> Self {
        Self {
            stripped: freed.stripped.to_string(),
            wet_then: freed.wet_then,
            coated: freed.coated.map(|(date, _)| date.to_string()),
            wet_when_coated: freed.coated.map(|(_, wet)| wet),
        }
    }
}

/// The middle year lived with every coat at its ends.
#[derive(Serialize)]
pub(super) struct Ends<'p> {
    finished: Option<String>,
    losses: u32,
    coats: Vec<EndsCoat<'p>>,
}

#[derive(Serialize)]
struct EndsCoat<'p> {
    wall: &'p str,
    coat: &'p str,
    middle_days: f64,
    least_days: f64,
    most_days: f64,
}

impl<'p> Ends<'p> {
    pub(super) fn of(ends: &'p works::Ends) -> Self {
        let coats = ends.coats.iter().map(|coat| EndsCoat {
            wall: &coat.wall,
            coat: &coat.coat,
            middle_days: coat.middle_days,
            least_days: coat.days.0,
            most_days: coat.days.1,
        });
        Self { finished: ends.finished.map(|date| date.to_string()), losses: ends.losses, coats: coats.collect() }
    }
}
