//! The start gate: what must be true on the day of the start, and which of it is true now, in words; and the days before which what is said to be
//! wanting lets nothing begin. Whether nests and bats stand in the way a licensed person says, never this file.

use jiff::civil::Date;
use materials::LimeKind;
use serde::Serialize;
use survey::{DampState, Survey};

use crate::before::{COARSE_STUFF_DAYS, MENDED_DAYS, cause_words, weeks_days};
use crate::calendar::{add_days, said};
use crate::{Asking, Inputs, PanelState, Specification, WaitReason, Wildlife, WorksError};

/// Whether a thing that must be true is true now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// It is.
    True,
    /// It is not.
    NotYet,
    /// Nobody has said.
    NotKnown,
    /// It can only be seen on the day.
    OnTheDay,
}

impl Standing {
    /// In a word or two.
    pub fn word(self) -> &'static str {
        match self {
            Standing::True => "true now",
            Standing::NotYet => "not yet",
            Standing::NotKnown => "not known",
            Standing::OnTheDay => "on the day",
        }
    }
}

/// One thing that must be true on the day of the start.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GateItem {
    /// What must be true.
    pub what: String,
    /// Whether it is now.
    pub now: Standing,
    /// How it stands, in words, and what to do.
    pub says: String,
    /// Day from which it can be true, if that is reckoned.
    pub by: Option<Date>,
}

fn item(what: &str, now: Standing, says: String, by: Option<Date>) -> GateItem {
    GateItem { what: what.to_owned(), now, says, by }
}

/// When a consent or a permit can be had, if it is wanting.
fn had(asking: Option<Asking>, asked: Option<Date>, weeks: f64, inputs: &Inputs) -> Option<Date> {
    let from = match asking {
        Some(Asking::Asked) => asked.unwrap_or(inputs.about.dated),
        Some(Asking::NotAsked) => inputs.about.dated,
        _ => return None,
    };
    // What was due before the day of the plan and has not come is looked for from that day on.
    Some(add_days(from, weeks_days(weeks)).max(inputs.about.dated))
}

pub(crate) fn consent_from(survey: &Survey, inputs: &Inputs) -> Option<Date> {
    let before = &inputs.before;
    had(before.consent, before.consent_asked, before.consent_weeks, inputs).filter(|_| survey.building.protected.value)
}

pub(crate) fn permit_from(inputs: &Inputs) -> Option<Date> {
    let before = &inputs.before;
    had(before.pavement, before.pavement_asked, before.pavement_weeks, inputs)
}

pub(crate) fn wildlife_from(inputs: &Inputs) -> Option<Date> {
    let sign = inputs.before.wildlife == Some(Wildlife::Sign);
    sign.then(|| add_days(inputs.about.dated, weeks_days(inputs.before.wildlife_weeks)))
}

/// Day from which coats may go on: the panel has gone through its curing and is approved. It is begun at once, or when consent is there.
pub(crate) fn approved_from(survey: &Survey, specification: &Specification, inputs: &Inputs) -> Date {
    let before = &inputs.before;
    let lead = i64::from(specification.panel.lead_days);
    match before.panel {
        Some(PanelState::Approved) => inputs.about.dated,
        Some(PanelState::Begun) => add_days(before.panel_begun.unwrap_or(inputs.about.dated), lead),
        Some(PanelState::NotBegun) | None => {
            let from = consent_from(survey, inputs).map_or(inputs.about.dated, |from| from.max(inputs.about.dated));
            add_days(from, lead)
        }
    }
}

/// Day from which a wall may take its first coat, if a cause of damp that wets it is still to be mended: mended at once, and left its weeks to dry.
pub(crate) fn dry_from(survey: &Survey, inputs: &Inputs, wall: &str) -> Option<Date> {
    let wets = |walls: &[String]| walls.is_empty() || walls.iter().any(|named| named == wall);
    let causes = &survey.building.causes_of_damp;
    let runs = causes.iter().any(|cause| cause.state == DampState::ToMend && wets(&cause.walls));
    runs.then(|| add_days(inputs.about.dated, MENDED_DAYS))
}

/// Day from which coarse stuff that was laid down may be thrown.
pub(crate) fn lain_from(inputs: &Inputs) -> Option<Date> {
    inputs.before.coarse_stuff_laid.map(|laid| add_days(laid, COARSE_STUFF_DAYS))
}

/// Days before which nothing may be done on any wall, with what is waited for: consent first, since no scaffold is put up before it.
pub(crate) fn closed_until(survey: &Survey, inputs: &Inputs) -> Vec<(Date, WaitReason)> {
    let gates = [
        (consent_from(survey, inputs), WaitReason::Consent),
        (wildlife_from(inputs), WaitReason::Wildlife),
        (permit_from(inputs), WaitReason::Permit),
    ];
    gates.into_iter().filter_map(|(from, reason)| Some((from?, reason))).collect()
}

/// The start gate of a job: what must be true on the day, and which of it is true now.
///
/// # Errors
/// A survey that cannot be measured, a job no foreman could run.
pub fn start_gate(inputs: &Inputs) -> Result<Vec<GateItem>, WorksError> {
    let stages = crate::road::Stages::of(inputs)?;
    gate(&stages.survey, &stages.specification, inputs)
}

/// [`start_gate`] for stages that stand.
///
/// # Errors
/// When the survey's date cannot be read.
pub(crate) fn gate(survey: &Survey, specification: &Specification, inputs: &Inputs) -> Result<Vec<GateItem>, WorksError> {
    let mut list = vec![
        consent(survey, inputs),
        panel(survey, specification, inputs),
        scaffold(inputs),
        permit(inputs),
        wildlife(inputs),
        damp(survey, inputs),
        dry_enough(survey)?,
    ];
    list.extend(lime(specification, inputs));
    list.push(item(
        "Materials, cloth and ties on site, and the gang there",
        Standing::OnTheDay,
        "The order says what is wanted by which day.".to_owned(),
        None,
    ));
    list.push(item(
        "A day fit for the throw",
        Standing::OnTheDay,
        "Air and face from 5 to 28 °C, no rain on the face that day, little wind on it, and no frost in the two nights after it."
            .to_owned(),
        None,
    ));
    Ok(list)
}

/// In words when it can be had, against the start.
fn when(from: Date, start: Date) -> String {
    if from > start {
        format!("It can be had from about {}, after the start: work waits for it.", said(from))
    } else {
        format!("It can be had from about {}, in time for the start.", said(from))
    }
}

fn asking(what: &str, state: Option<Asking>, from: Option<Date>, start: Date, unsaid: &str) -> GateItem {
    match (state, from) {
        (Some(Asking::Given), _) => item(what, Standing::True, "It is in hand.".to_owned(), None),
        (Some(Asking::NotNeeded), _) => item(what, Standing::True, "None is needed.".to_owned(), None),
        (Some(Asking::Asked), Some(from)) => item(what, Standing::NotYet, format!("It is asked for. {}", when(from, start)), Some(from)),
        (Some(_), Some(from)) => item(what, Standing::NotYet, format!("It is not asked for yet. {}", when(from, start)), Some(from)),
        _ => item(what, Standing::NotKnown, unsaid.to_owned(), None),
    }
}

fn consent(survey: &Survey, inputs: &Inputs) -> GateItem {
    const WHAT: &str = "Consent in hand, in writing";
    if !survey.building.protected.value {
        return item(WHAT, Standing::True, "The building is not protected, so none is needed.".to_owned(), None);
    }
    let from = consent_from(survey, inputs);
    asking(
        WHAT,
        inputs.before.consent,
        from,
        inputs.window.start,
        "The building is protected, and nobody has said whether consent is given: ask.",
    )
}

fn panel(survey: &Survey, specification: &Specification, inputs: &Inputs) -> GateItem {
    const WHAT: &str = "The sample panel cured, seen and approved";
    if inputs.before.panel == Some(PanelState::Approved) {
        return item(WHAT, Standing::True, "It is approved.".to_owned(), None);
    }
    let from = approved_from(survey, specification, inputs);
    let so_far = match inputs.before.panel {
        Some(PanelState::Begun) => "It is begun.",
        Some(_) => "It is not begun.",
        None => "Nobody has said whether it is begun; if it is begun now:",
    };
    let now = if inputs.before.panel.is_none() { Standing::NotKnown } else { Standing::NotYet };
    item(WHAT, now, format!("{so_far} {}", when(from, inputs.window.start)), Some(from))
}

fn scaffold(inputs: &Inputs) -> GateItem {
    let from = &inputs.scaffold.from;
    let whose = if from.assumed { " (assumed)" } else { "" };
    item(
        "The scaffold up, clear of the face, handed over and tagged",
        Standing::NotYet,
        format!("It stands from {}{whose}.", said(from.value)),
        Some(from.value),
    )
}

fn permit(inputs: &Inputs) -> GateItem {
    let unsaid = "Nobody has said whether the scaffold stands on a pavement or road: if it does, ask the roads authority for a permit.";
    asking("The permit for scaffold on pavement or road", inputs.before.pavement, permit_from(inputs), inputs.window.start, unsaid)
}

fn wildlife(inputs: &Inputs) -> GateItem {
    const WHAT: &str = "No nest in use and no bat where work goes on";
    let licensed = "Only a licensed person may say what may be done; a nest in use stops work on that wall until it is left.";
    match inputs.before.wildlife {
        Some(Wildlife::Cleared) => {
            item(WHAT, Standing::True, "A licensed person has said that work may go on; look again on the day.".to_owned(), None)
        }
        Some(Wildlife::NoSign) => item(WHAT, Standing::True, "No sign was found; look again on the day.".to_owned(), None),
        Some(Wildlife::Sign) => {
            let from = wildlife_from(inputs);
            let told = from.map_or(String::new(), |from| when(from, inputs.window.start));
            item(WHAT, Standing::NotYet, format!("There is a sign. {licensed} {told}"), from)
        }
        Some(Wildlife::NotLooked) | None => item(WHAT, Standing::NotKnown, format!("Nobody has looked. {licensed}"), None),
    }
}

fn damp(survey: &Survey, inputs: &Inputs) -> GateItem {
    const WHAT: &str = "Every cause of damp mended, and the wall drying since";
    let of = |state: DampState| -> Vec<&'static str> {
        let causes = survey.building.causes_of_damp.iter().filter(|cause| cause.state == state);
        causes.map(|cause| cause_words(cause.kind).0).collect()
    };
    let (to_mend, unseen) = (of(DampState::ToMend), of(DampState::NotSeen));
    if !to_mend.is_empty() {
        let from = add_days(inputs.about.dated, MENDED_DAYS);
        let says = format!(
            "To mend: {}. Mended at once, and four weeks left to dry: {}",
            to_mend.join(", ").to_lowercase(),
            when(from, inputs.window.start)
        );
        return item(WHAT, Standing::NotYet, says, Some(from));
    }
    if !unseen.is_empty() {
        let says = format!("Not looked at: {}. Look in the rain if you can.", unseen.join(", ").to_lowercase());
        return item(WHAT, Standing::NotKnown, says, None);
    }
    match survey.building.causes_of_damp.is_empty() {
        true => item(WHAT, Standing::NotKnown, "Nobody has said how gutters, downpipes, wallhead and ground stand.".to_owned(), None),
        false => item(WHAT, Standing::True, "What was at fault is mended.".to_owned(), None),
    }
}

fn dry_enough(survey: &Survey) -> Result<GateItem, WorksError> {
    let day = crate::years::surveyed_on(survey)?;
    let says = format!("Last felt on {}: lay a hand on every wall again. A film of water must not stand on the face.", said(day));
    Ok(item("The wall dry enough to take the scud", Standing::OnTheDay, says, None))
}

/// Coarse stuff of putty that has lain its weeks; nothing where no coat is of putty.
fn lime(specification: &Specification, inputs: &Inputs) -> Option<GateItem> {
    const WHAT: &str = "Putty and coarse stuff matured";
    let coats = || specification.walls.iter().flat_map(|wall| &wall.coats);
    let putty = |lime: &str| inputs.catalogue.limes.get(lime).is_some_and(|lime| lime.kind == LimeKind::Putty);
    if !coats().any(|coat| putty(&coat.mix.lime)) {
        return None;
    }
    let start = inputs.window.start;
    Some(match lain_from(inputs) {
        Some(from) if from <= inputs.about.dated => item(WHAT, Standing::True, "It has lain its weeks.".to_owned(), Some(from)),
        Some(from) => item(WHAT, Standing::NotYet, format!("It is laid down. {}", when(from, start)), Some(from)),
        None => {
            let latest = add_days(start, -COARSE_STUFF_DAYS);
            let passed = if latest < inputs.about.dated { "that day has passed: buy it matured" } else { "or buy it matured" };
            item(
                WHAT,
                Standing::NotKnown,
                format!("Nobody has said that it is laid down: {} is the latest day for the start, {passed}.", said(latest)),
                None,
            )
        }
    })
}
