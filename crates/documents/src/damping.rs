//! Who keeps the walls damp when no gang is there: the days, walls and times of the middle year on which a hand living near is asked for, and the words that
//! tell how. The sheet for the client or a neighbour is set from it. It decides nothing, and it never tells a price.

use std::collections::BTreeSet;

use jiff::civil::{Date, Weekday};
use reckoning::Caution;
use works::{Plan, YearRun};

use crate::words;

/// A day on which somebody living near damps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DampingDay {
    /// The day.
    pub date: Date,
    /// Walls whose cloth is wetted, by their number in the job, from one.
    pub walls: Vec<usize>,
    /// Times in the day.
    pub times: u32,
    /// Walls that are themselves damped down in the evening, for a coat next morning.
    pub evening: Vec<usize>,
}

impl DampingDay {
    /// True on a Saturday and a Sunday.
    pub fn is_weekend(&self) -> bool {
        matches!(self.date.weekday(), Weekday::Saturday | Weekday::Sunday)
    }
}

/// The days of the middle year on which something is to be damped and no gang works on the job, in order.
pub fn damping_days(plan: &Plan) -> Vec<DampingDay> {
    let Some(run) = plan.programme.runs.get(plan.programme.middle) else { return Vec::new() };
    let records = run.walls.iter().flat_map(|wall| &wall.days).filter(|record| record.wettings > 0).map(|record| record.date);
    let asked: BTreeSet<Date> = records.chain(run.walls.iter().flat_map(|wall| wall.damped.iter().copied())).collect();
    asked.into_iter().filter(|date| !is_attended(run, *date)).map(|date| of_day(plan, run, date)).collect()
}

/// True on a day on which a gang works on any wall of the job.
fn is_attended(run: &YearRun, date: Date) -> bool {
    run.walls.iter().flat_map(|wall| &wall.tasks).any(|task| words::worked_on(task, date))
}

fn of_day(plan: &Plan, run: &YearRun, date: Date) -> DampingDay {
    let number = |slug: &str| plan.survey.walls.iter().position(|wall| wall.slug == slug).map_or(0, |index| index + 1);
    let mut day = DampingDay { date, walls: Vec::new(), times: 0, evening: Vec::new() };
    for wall in &run.walls {
        let wettings = wall.days.iter().find(|record| record.date == date).map_or(0, |record| record.wettings);
        if wettings > 0 {
            day.walls.push(number(&wall.slug));
            day.times = day.times.max(wettings);
        }
        if wall.damped.contains(&date) {
            day.evening.push(number(&wall.slug));
        }
    }
    day
}

/// When in the day, by the number of times (common practice, no source: spread over the working day, the last before evening).
pub fn times_of_day(times: u32) -> Vec<&'static str> {
    match times {
        0 => Vec::new(),
        1 => vec!["in the morning"],
        2 => vec!["in the morning", "late in the afternoon"],
        _ => vec!["in the morning", "at midday", "late in the afternoon"],
    }
}

/// How it is done, step by step (common practice, no source).
pub const HOW: [&str; 5] = [
    "Feel first. Lift a corner of the hessian near the foot of the wall and lay a hand on its back. Cool and damp: leave it. A corner dry: wet it all.",
    "Use a fine spray: a hand pump with a lance, or a hose with its rose set fine. Stand on the ground.",
    "Begin at the top and work down until the hessian drips but does not run. Edges and laps dry first: wet them as well.",
    "Has rain wet it through, leave it. In sun and wind feel it once more between times.",
    "Tick the box, and write down what you saw.",
];

/// What is never done (common practice, no source).
pub const NEVER: [&str; 5] = [
    "Never water when it freezes, or when frost is forecast for the night: leave the cloth as it hangs, and call.",
    "Never a jet, and never so much that water runs down: it washes the lime out of the coat.",
    "Never climb a ladder or the scaffold alone. What you cannot reach from the ground, leave, and call.",
    "Never look up into the drips: they carry lime. Goggles and gloves on before you begin.",
    "Never take the hessian down, and tie nothing to the scaffold.",
];

/// When to call the contractor.
pub const CALL: &str = "Call when frost is forecast, when cloth is down or torn, when a corner stays dry although you wet it, when the coat cracks, streaks or \
     comes away, and when you cannot go.";

/// The cautions that the sheet carries: those always shown on it, and those that its own words call for.
pub fn cautions(plan: &Plan) -> Vec<&Caution> {
    let said = HOW.iter().chain(&NEVER).copied().chain([CALL]).collect::<Vec<_>>().join(" ");
    plan.cautions.iter().filter(|caution| caution.is_always_shown_in("damping") || caution.is_called_for_by(&said)).collect()
}

/// What the sheet is about in a sentence or two.
pub fn lead(plan: &Plan, days: &[DampingDay]) -> String {
    let (Some(first), Some(last)) = (days.first(), days.last()) else {
        return "In the middle weather year no day asks for damping when the gang is away. If one comes, it is written in below."
            .to_owned();
    };
    let weekends = days.iter().filter(|day| day.is_weekend()).count();
    let at_weekends = match weekends {
        0 => "none of them at a weekend".to_owned(),
        one_or_more if one_or_more == days.len() => "all at weekends".to_owned(),
        some => format!("{some} of them at weekends"),
    };
    format!(
        "{} from {} to {}, {at_weekends}. On other days the gang is there and damps. The dates are those of a middling weather year: {} says when they move.",
        words::capital(&words::counted(days.len(), "day", "days")),
        words::weekday(first.date),
        words::weekday(last.date),
        plan.about.contractor
    )
}
