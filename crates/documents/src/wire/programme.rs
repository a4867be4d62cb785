//! plan/1: what happens on which day in each weather year, and why each waiting day waits.

use jiff::civil::Date;
use serde::Serialize;
use works::{DayRecord, GapsBy, Plan, Task as Planned, Wait as Waited, WaitReason, WallRun, YearRun};

use super::curing::{Covers, Ends, Freed};

#[derive(Serialize)]
pub(super) struct Programme<'p> {
    gaps_by: &'static str,
    sentence: &'p str,
    finish: String,
    odds: Option<Odds>,
    no_odds: Option<&'p str>,
    before: Vec<Before<'p>>,
    gate: Vec<Gate<'p>>,
    waits: Vec<WaitDays>,
    /// Weather year of the middle run.
    middle_year: Option<i32>,
    /// Null by rule of thumb.
    ends: Option<Ends<'p>>,
    runs: Vec<Run<'p>>,
}

impl<'p> Programme<'p> {
    pub(super) fn of(plan: &'p Plan) -> Self {
        let programme = &plan.programme;
        Self {
            gaps_by: match programme.gaps_by {
                GapsBy::Engine => "engine",
                GapsBy::RuleOfThumb => "rule-of-thumb",
            },
            sentence: &programme.waits_sentence,
            finish: crate::words::finish_in_words(plan),
            odds: programme.odds.as_ref().map(Odds::of),
            no_odds: programme.no_odds.as_deref(),
            before: programme.before.iter().map(Before::of).collect(),
            gate: gate(&programme.gate),
            waits: programme.waits.iter().map(|(reason, days)| WaitDays { reason: name(*reason), days: *days }).collect(),
            middle_year: programme.runs.get(programme.middle).map(|run| run.year),
            ends: programme.ends.as_ref().map(Ends::of),
            runs: programme.runs.iter().enumerate().map(|(index, run)| Run::of(run, index == programme.middle)).collect(),
        }
    }
}

/// One thing that must be true on the day of the start.
#[derive(Serialize)]
pub(crate) struct Gate<'p> {
    what: &'p str,
    now: &'static str,
    says: &'p str,
    by: Option<String>,
}

pub(crate) fn gate(items: &[works::GateItem]) -> Vec<Gate<'_>> {
    let of = |item: &'_ works::GateItem| item.by.map(iso);
    items.iter().map(|item| Gate { what: &item.what, now: item.now.word(), says: &item.says, by: of(item) }).collect()
}

/// Name of a reason on the wire.
pub(crate) fn name(reason: WaitReason) -> &'static str {
    match reason {
        WaitReason::Carbonation => "carbonation",
        WaitReason::Firmness => "firmness",
        WaitReason::LeastAge => "least-age",
        WaitReason::TooWet => "too-wet",
        WaitReason::Rain => "rain",
        WaitReason::Wind => "wind",
        WaitReason::Heat => "heat",
        WaitReason::Frost => "frost",
        WaitReason::Cold => "cold",
        WaitReason::GangElsewhere => "gang-elsewhere",
        WaitReason::Visit => "visit",
        WaitReason::Daylight => "daylight",
        WaitReason::Scaffold => "scaffold",
        WaitReason::Consent => "consent",
        WaitReason::Permit => "permit",
        WaitReason::Wildlife => "wildlife",
        WaitReason::Approval => "approval",
        WaitReason::DryingOut => "drying-out",
        WaitReason::Lying => "lying",
        WaitReason::ShortStretch => "short-stretch",
        WaitReason::Cover => "cover",
        WaitReason::Weekend => "weekend",
        WaitReason::Break => "break",
    }
}

fn iso(date: Date) -> String {
    date.to_string()
}

#[derive(Serialize)]
struct Odds {
    years: u32,
    finished_years: u32,
    middle: String,
    eight_in_ten: String,
    eight_in_ten_years: u32,
    finishes: Vec<String>,
}

impl Odds {
    fn of(odds: &works::Odds) -> Self {
        Self {
            years: odds.years,
            finished_years: odds.finished_years,
            middle: iso(odds.middle),
            eight_in_ten: iso(odds.eight_in_ten),
            eight_in_ten_years: odds.eight_in_ten_years,
            finishes: odds.finishes.iter().copied().map(iso).collect(),
        }
    }
}

#[derive(Serialize)]
struct Before<'p> {
    what: &'p str,
    by: String,
    why: &'p str,
    path: &'p str,
}

impl<'p> Before<'p> {
    fn of(before: &'p works::Before) -> Self {
        Self { what: &before.what, by: iso(before.by), why: &before.why, path: &before.path }
    }
}

#[derive(Serialize)]
struct WaitDays {
    reason: &'static str,
    days: u32,
}

#[derive(Serialize)]
struct Run<'p> {
    year: i32,
    finished: Option<String>,
    unfinished: Option<&'p str>,
    gang_days: f64,
    visits: u32,
    damping_visits: u32,
    covers: Covers,
    scaffold_m2_weeks: f64,
    mending_visits: u32,
    losses: Vec<Loss<'p>>,
    mendings: Vec<Mending<'p>>,
    held: Vec<Held<'p>>,
    days_off_damped: Vec<DayOff<'p>>,
    walls: Vec<Wall<'p>>,
}

impl<'p> Run<'p> {
    fn of(run: &'p YearRun, with_days: bool) -> Self {
        Self {
            year: run.year,
            finished: run.finished.map(iso),
            unfinished: run.unfinished.as_deref(),
            gang_days: run.gang_days,
            visits: run.visits,
            damping_visits: run.damping_visits,
            covers: Covers::of(&run.covers),
            scaffold_m2_weeks: run.scaffold_m2_weeks,
            mending_visits: run.mending_visits,
            losses: run.losses.iter().map(Loss::of).collect(),
            mendings: run.mendings.iter().map(Mending::of).collect(),
            held: run.held.iter().map(Held::of).collect(),
            days_off_damped: run.days_off_damped.iter().map(DayOff::of).collect(),
            walls: run.walls.iter().map(|wall| Wall::of(wall, with_days)).collect(),
        }
    }
}

/// A visit held back so that several walls are done on one.
#[derive(Serialize)]
struct Held<'p> {
    gang: &'p str,
    from: String,
    to: String,
    days: u32,
    walls: Vec<&'p str>,
}

impl<'p> Held<'p> {
    fn of(held: &'p works::HeldVisit) -> Self {
        let walls = held.walls.iter().map(String::as_str).collect();
        Self { gang: &held.gang, from: iso(held.from), to: iso(held.to), days: held.days, walls }
    }
}

/// A day off on which the client or a neighbour damps.
#[derive(Serialize)]
struct DayOff<'p> {
    date: String,
    hours: &'p [u32],
    walls: Vec<DampedWall<'p>>,
}

#[derive(Serialize)]
struct DampedWall<'p> {
    wall: &'p str,
    times: u32,
}

impl<'p> DayOff<'p> {
    fn of(day: &'p works::DayOffDamped) -> Self {
        let walls = day.walls.iter().map(|(wall, times)| DampedWall { wall, times: *times }).collect();
        Self { date: iso(day.date), hours: &day.hours, walls }
    }
}

#[derive(Serialize)]
struct Loss<'p> {
    date: String,
    wall: &'p str,
    coat: &'p str,
    damage: String,
    cause: &'p str,
    prevention: &'p str,
    gang: &'p str,
    gang_days: f64,
}

impl<'p> Loss<'p> {
    fn of(loss: &'p works::Loss) -> Self {
        Self {
            date: iso(loss.date),
            wall: &loss.wall,
            coat: &loss.coat,
            damage: loss.kind.to_string(),
            cause: &loss.cause,
            prevention: &loss.prevention,
            gang: &loss.gang,
            gang_days: loss.gang_days,
        }
    }
}

#[derive(Serialize)]
struct Mending<'p> {
    date: String,
    wall: &'p str,
    coat: &'p str,
    damage: String,
}

impl<'p> Mending<'p> {
    fn of(mending: &'p works::Mending) -> Self {
        Self { date: iso(mending.date), wall: &mending.wall, coat: &mending.coat, damage: mending.kind.to_string() }
    }
}

#[derive(Serialize)]
struct Wall<'p> {
    slug: &'p str,
    tasks: Vec<Task<'p>>,
    still_waiting: Vec<Wait>,
    scaffold_from: Option<String>,
    scaffold_to: Option<String>,
    scaffold: Vec<Scaffolding>,
    freed: Option<Freed>,
    /// Evenings on which the wall itself is damped down for a coat next morning; only in the middle run.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    damped: Vec<String>,
    /// Only in the middle run.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    days: Vec<Day<'p>>,
}

impl<'p> Wall<'p> {
    fn of(wall: &'p WallRun, with_days: bool) -> Self {
        let days = if with_days { wall.days.iter().map(Day::of).collect() } else { Vec::new() };
        Self {
            slug: &wall.slug,
            tasks: wall.tasks.iter().map(Task::of).collect(),
            still_waiting: wall.still_waiting.iter().map(Wait::of).collect(),
            scaffold_from: wall.scaffold_from.map(iso),
            scaffold_to: wall.scaffold_to.map(iso),
            scaffold: wall.scaffold.iter().map(Scaffolding::of).collect(),
            freed: wall.freed.as_ref().map(Freed::of),
            damped: if with_days { wall.damped.iter().copied().map(iso).collect() } else { Vec::new() },
            days,
        }
    }
}

#[derive(Serialize)]
struct Task<'p> {
    slug: &'p str,
    name: &'p str,
    gang: &'p str,
    from: String,
    to: String,
    gang_days: f64,
    ready: Option<String>,
    decides: &'p str,
    damping_visits: u32,
    waited: Vec<Wait>,
    parts: Vec<Part<'p>>,
    looked: Vec<Look<'p>>,
}

/// What the scaffolders do.
#[derive(Serialize)]
struct Scaffolding {
    kind: works::ScaffoldKind,
    from: String,
    to: String,
}

impl Scaffolding {
    fn of(step: &works::ScaffoldStep) -> Self {
        Self { kind: step.kind, from: iso(step.from), to: iso(step.to) }
    }
}

/// A coat looked at in its first forty-eight hours; `gang` is null where somebody comes for it.
#[derive(Serialize)]
struct Look<'p> {
    date: String,
    gang: Option<&'p str>,
}

/// A part of a coat; metres for reveals, square metres for the rest.
#[derive(Serialize)]
struct Part<'p> {
    kind: works::PartKind,
    name: &'p str,
    from: String,
    to: String,
    area_m2: Option<f64>,
    length_m: Option<f64>,
    gang_days: f64,
    lifts: Option<u32>,
    cold_joint: bool,
}

impl<'p> Part<'p> {
    fn of(part: &'p works::Part) -> Self {
        let by_length = part.kind == works::PartKind::Reveals;
        Self {
            kind: part.kind,
            name: &part.name,
            from: iso(part.from),
            to: iso(part.to),
            area_m2: (!by_length).then_some(part.amount),
            length_m: by_length.then_some(part.amount),
            gang_days: part.gang_days,
            lifts: part.lifts,
            cold_joint: part.cold_joint,
        }
    }
}

impl<'p> Task<'p> {
    fn of(task: &'p Planned) -> Self {
        Self {
            slug: &task.slug,
            name: &task.name,
            gang: &task.gang,
            from: iso(task.from),
            to: iso(task.to),
            gang_days: task.gang_days,
            ready: task.ready.map(iso),
            decides: &task.decides,
            damping_visits: task.damping_visits,
            waited: task.waited.iter().map(Wait::of).collect(),
            parts: task.parts.iter().map(Part::of).collect(),
            looked: task.looked.iter().map(|look| Look { date: iso(look.date), gang: look.gang.as_deref() }).collect(),
        }
    }
}

#[derive(Serialize)]
struct Wait {
    from: String,
    to: String,
    reason: &'static str,
}

impl Wait {
    fn of(wait: &Waited) -> Self {
        Self { from: iso(wait.from), to: iso(wait.to), reason: name(wait.reason) }
    }
}

#[derive(Serialize)]
struct Day<'p> {
    date: String,
    uptake_m: &'p [f64],
    front_m: &'p [f64],
    face_humidity: f64,
    air_low_c: f64,
    air_high_c: f64,
    rain_mm: f64,
    cover: Option<&'p str>,
    wettings: u32,
}

impl<'p> Day<'p> {
    fn of(day: &'p DayRecord) -> Self {
        Self {
            date: iso(day.date),
            uptake_m: &day.uptake_m,
            front_m: &day.front_m,
            face_humidity: day.face_humidity,
            air_low_c: day.air_c.0,
            air_high_c: day.air_c.1,
            rain_mm: day.rain_mm,
            cover: day.cover.as_deref(),
            wettings: day.wettings,
        }
    }
}
