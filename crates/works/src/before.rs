//! What must be true before the start, with the latest day to begin or ask. Lead times are common practice without a source unless they come from the
//! specification or the catalogue; each says how long in its own words.

use jiff::civil::Date;
use reckoning::{Reckoning, Reckonings, Value};
use survey::{DampKind, DampState, Survey};

use crate::calendar::{add_days, said};
use crate::{Asking, Before, Inputs, LayDown, PanelState, Specification, Wildlife, WorksError};

/// Days a wall is left to dry after its cause of damp is mended (common practice, no source).
pub(crate) const MENDED_DAYS: i64 = 28;
/// Days that coarse stuff of putty and sand lies (a lime teacher's published figure: about twelve weeks, in draining conditions).
pub(crate) const COARSE_STUFF_DAYS: i64 = 84;
/// Days before the start by which what was not seen is looked at.
const SEEN_DAYS: i64 = 42;
/// Days before the start by which the scaffold is asked for.
const SCAFFOLD_DAYS: i64 = 21;
/// Days before the sample panel by which its lime is in hand.
const PANEL_LIME_DAYS: i64 = 7;

/// Everything that must be true before the start, in order of date. `lay_down` comes from the order.
///
/// # Errors
/// When the survey's date cannot be read.
pub fn before(survey: &Survey, specification: &Specification, inputs: &Inputs, lay_down: &[LayDown]) -> Result<Vec<Before>, WorksError> {
    let surveyed = crate::years::surveyed_on(survey)?;
    let start = inputs.window.start;
    let panel = panel(specification, start);
    let mut list = vec![scaffold(inputs, start)];
    let state = &inputs.before;
    if !matches!(state.wildlife, Some(Wildlife::Cleared | Wildlife::NoSign)) {
        list.push(wildlife(state.wildlife_weeks, start));
    }
    if survey.building.protected.value && !matches!(state.consent, Some(Asking::Given | Asking::NotNeeded)) {
        list.push(consent(survey.building.protected.assumed, state.consent_weeks, panel.by));
    }
    if matches!(state.pavement, Some(Asking::NotAsked | Asking::Asked)) {
        list.push(pavement(state.pavement_weeks, inputs.scaffold.from.value));
    }
    if !matches!(state.panel, Some(PanelState::Begun | PanelState::Approved)) {
        list.extend(panel_lime(specification, inputs, panel.by));
        list.push(panel);
    }
    list.extend(survey.building.causes_of_damp.iter().filter_map(|cause| damp(cause.kind, cause.state, &cause.walls, start)));
    list.extend(lay_down.iter().enumerate().map(|(number, laid)| Before {
        what: laid.what.clone(),
        by: laid.by,
        why: laid.why.clone(),
        path: format!("before.lay-down-{}", number + 1),
    }));
    for item in &mut list {
        if item.by < surveyed {
            item.why.push_str(&format!(
                " That day lies before the survey ({}): begin at once, and expect the start to move by the days lost.",
                said(surveyed)
            ));
        }
    }
    list.sort_by(|one, other| (one.by, &one.path).cmp(&(other.by, &other.path)));
    Ok(list)
}

fn item(path: &str, what: &str, by: Date, why: String) -> Before {
    Before { what: what.to_owned(), by, why, path: format!("before.{path}") }
}

fn panel(specification: &Specification, start: Date) -> Before {
    let lead = specification.panel.lead_days;
    item(
        "panel",
        &format!("Sample panel of {:.1} m² begun, to be approved before the first coat", specification.panel.area_m2),
        add_days(start, -i64::from(lead)),
        format!("It goes through every coat with its curing, which takes about {lead} days, and is the standard the work is judged by."),
    )
}

/// The panel is begun before the coarse stuff of the work has lain its weeks: its few tubs are bought matured.
fn panel_lime(specification: &Specification, inputs: &Inputs, panel_by: Date) -> Option<Before> {
    let limes = specification.walls.iter().flat_map(|wall| &wall.coats).filter_map(|coat| inputs.catalogue.limes.get(&coat.mix.lime));
    let lime = limes.into_iter().find(|lime| lime.mature_weeks > 0.0)?;
    Some(item(
        "panel-lime",
        &format!("{} for the sample panel in hand, bought matured", lime.name),
        add_days(panel_by, -PANEL_LIME_DAYS),
        format!(
            "The panel is begun before what is laid down for the work has lain its weeks: a tub or two, {:.0} weeks old, is bought for it.",
            lime.mature_weeks
        ),
    ))
}

fn scaffold(inputs: &Inputs, start: Date) -> Before {
    let from = inputs.scaffold.from.value;
    let late = if from > start { format!(" It stands only from {}, so the first days wait for it.", said(from)) } else { String::new() };
    item(
        "scaffold",
        "Scaffold asked for, with hooks clear of the face and its designer told of hessian and sheeting",
        add_days(from, -SCAFFOLD_DAYS),
        format!(
            "About three weeks' notice is usual. Soaked hessian loads a scaffold and catches wind: the scaffold's designer decides.{late}"
        ),
    )
}

fn wildlife(weeks: f64, start: Date) -> Before {
    item(
        "nests-and-bats",
        "Nests and bats looked for; a licensed person asked where there is any sign",
        add_days(start, -weeks_days(weeks)),
        format!(
            "Bats and nesting birds are protected; {weeks:.0} weeks leave time for a licensed person to look. A nest in use stops work on that wall until it is left."
        ),
    )
}

/// Whole days of some weeks.
pub(crate) fn weeks_days(weeks: f64) -> i64 {
    (weeks * 7.0).ceil().clamp(0.0, 3650.0) as i64
}

fn pavement(weeks: f64, scaffold_from: Date) -> Before {
    item(
        "pavement",
        "Permit asked for: the scaffold stands on a pavement or road",
        add_days(scaffold_from, -weeks_days(weeks)),
        format!("About {weeks:.0} weeks; ask the roads authority. No scaffold is put up on a pavement or road without it."),
    )
}

fn consent(assumed: bool, weeks: f64, panel_by: Date) -> Before {
    let assumed = if assumed { " Whether it is protected was assumed: ask." } else { "" };
    item(
        "consent",
        "Consent asked for: the building is listed or otherwise protected",
        add_days(panel_by, -weeks_days(weeks)),
        format!(
            "About {weeks:.0} weeks from drawings to decision; ask the authority how long it takes. Nothing is taken off or thrown before it, the sample panel neither.{assumed}"
        ),
    )
}

/// A cause of damp as it is named, and its short name.
pub(crate) fn cause_words(kind: DampKind) -> (&'static str, &'static str) {
    match kind {
        DampKind::Gutters => ("Gutters", "gutters"),
        DampKind::Downpipes => ("Downpipes", "downpipes"),
        DampKind::Wallhead => ("Wallhead", "wallhead"),
        DampKind::Skews => ("Skews", "skews"),
        DampKind::HighGround => ("Ground lying high against the wall", "high-ground"),
        DampKind::RustingIron => ("Rusting iron in the wall", "rusting-iron"),
        DampKind::Salts => ("Salts", "salts"),
    }
}

fn damp(kind: DampKind, state: DampState, walls: &[String], start: Date) -> Option<Before> {
    let (what, slug) = cause_words(kind);
    let walls = if walls.is_empty() { "all walls".to_owned() } else { walls.join(", ") };
    let path = format!("damp-{slug}");
    match state {
        DampState::Sound => None,
        DampState::ToMend => Some(item(
            &path,
            &format!("{what} mended ({walls})"),
            add_days(start, -MENDED_DAYS),
            "Nobody harls under a cause of damp that still runs. Mended four weeks before the start, the wall has begun to dry.".to_owned(),
        )),
        DampState::NotSeen => Some(item(
            &path,
            &format!("{what} looked at: not seen at the survey ({walls})"),
            add_days(start, -SEEN_DAYS),
            "What was not seen may still have to be mended, and the wall to dry, before the start.".to_owned(),
        )),
    }
}

/// A reckoning for each date.
pub(crate) fn reckonings(list: &[Before], start: Date) -> Reckonings {
    let mut kept = Reckonings::default();
    for item in list {
        let begins = Reckoning::given("window.start", "First day of the job", Value::Date(start.to_string()), "the job file", false);
        kept.keep(Reckoning::worked(
            item.path.clone(),
            item.what.clone(),
            Value::Date(item.by.to_string()),
            item.why.clone(),
            vec![begins],
            "common practice, no source",
        ));
    }
    kept
}
