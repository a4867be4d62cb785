//! The damping sheet: one upright page for the client or a neighbour who keeps the hessian damp on days without a gang. It never grows to a second page: days
//! that find no room are counted and left to a later revision.

use serde_json::{Value, json};
use works::Plan;

use super::world::{Sheets, typeset};
use crate::damping::{self, DampingDay};
use crate::figures::{self, Face, Theme};
use crate::{DocumentError, words};

/// Columns of days on the sheet at most, beside the one that stays empty.
const COLUMNS: usize = 3;
/// Most days in a column: as many as stand legibly in the room the page leaves.
const MOST_ROWS: usize = 24;
/// Most days in a column of two, which are wider.
const ROOMY_ROWS: usize = 18;
/// Room for the rows down the page, by whether they stand in two columns or in three, and the most that one takes, mm.
const ROOM_MM: [f64; 2] = [74.0, 90.0];
const TALLEST_MM: f64 = 6.6;
/// Least rows, so that the empty column has room.
const LEAST_ROWS: usize = 9;
/// Room for a wall's name, points.
const NAME_PT: f64 = 86.0;
/// Walls named beside the plan of the building.
const MOST_NAMES: usize = 14;

/// Typesets the damping sheet, PDF/UA-1; the same plan gives the same bytes.
///
/// # Errors
/// [`DocumentError`] if a template is at fault; no job can bring it about.
pub fn damping_pdf(plan: &Plan) -> Result<Vec<u8>, DocumentError> {
    typeset(sheets(plan))
}

pub(super) fn sheets(plan: &Plan) -> Sheets {
    let days = damping::damping_days(plan);
    let shown = days.len().min(COLUMNS * MOST_ROWS);
    let is_roomy = shown <= 2 * ROOMY_ROWS;
    let rows = shown.div_ceil(if is_roomy { 2 } else { COLUMNS }).max(LEAST_ROWS);
    let room_mm = ROOM_MM[usize::from(!is_roomy)];
    let columns: Vec<Vec<Value>> = days[..shown].chunks(rows).map(|column| column.iter().map(day).collect()).collect();
    let site_plan = figures::site_plan(plan, &Theme::paper(96.0));
    let most = days.iter().map(|day| day.times).max().unwrap_or(0);
    let names = plan.survey.building.walls.iter().enumerate().take(MOST_NAMES);
    let data = json!({
        "head": super::head(plan, "Damping sheet"),
        "lead": damping::lead(plan, &days),
        "times": words::capital(&words::listed(&damping::times_of_day(most.max(1)).iter().map(|time| (*time).to_owned()).collect::<Vec<_>>())),
        "how": damping::HOW, "never": damping::NEVER, "call": damping::CALL,
        "walls": names.map(|(index, wall)| format!("{} {}", index + 1, figures::cut(&wall.name, Face::Sans, 8.2, NAME_PT))).collect::<Vec<_>>(),
        "plan": { "path": "/figures/1.svg", "alt": format!("{}. {}", site_plan.title, site_plan.description), "wide": site_plan.width, "tall": site_plan.height },
        "columns": columns, "rows": rows, "tall": (room_mm / rows as f64).min(TALLEST_MM),
        "boxes": damping::times_of_day(most.max(1)).len(),
        "evenings": days[..shown].iter().any(|day| !day.evening.is_empty()),
        "left_out": days.get(shown).map(|day| format!("{} more, from {}, stand on the sheet of a later revision.", words::capital(&words::counted(days.len() - shown, "day", "days")), words::weekday(day.date))),
        "cautions": damping::cautions(plan).iter().map(|caution| &caution.words).collect::<Vec<_>>(),
        "contractor": plan.about.contractor,
    });
    Sheets {
        document: "damping sheet",
        templates: vec![("/damping.typ", include_str!("../../templates/damping.typ")), super::COMMON],
        data,
        drawings: vec![("/figures/1.svg".to_owned(), site_plan.svg)],
        dated: plan.about.dated,
    }
}

/// A row: the day, the walls by number, how many boxes, and the walls of the evening.
fn day(day: &DampingDay) -> Value {
    let numbers = |walls: &[usize]| walls.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    json!({
        "date": day.date.strftime("%a %-d %b").to_string(), "weekend": day.is_weekend(), "walls": numbers(&day.walls),
        "boxes": damping::times_of_day(day.times).len(), "evening": numbers(&day.evening),
    })
}
