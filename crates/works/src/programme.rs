//! The programme: what happens on which day in each weather year, and why each waiting day waits.

use curing::DamageKind;
use jiff::civil::Date;
use reckoning::{Finding, Reckonings};
use serde::{Deserialize, Serialize};
use survey::Slug;

use crate::GateItem;

/// The programme of the whole job.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Programme {
    /// What must be true before the start, in order of date.
    pub before: Vec<Before>,
    /// What must be true on the day of the start, and which of it is true now.
    pub gate: Vec<GateItem>,
    /// One run per weather year.
    pub runs: Vec<YearRun>,
    /// Index of the middle run (median finish; the earlier of two).
    pub middle: usize,
    /// Odds of the finish; `None` when the weather gives none, with the reason in `no_odds`.
    pub odds: Option<Odds>,
    /// Why there are no odds.
    pub no_odds: Option<String>,
    /// How the gaps were set: by the engine, or by rule of thumb.
    pub gaps_by: GapsBy,
    /// The middle year lived once more with every coat at its ends; `None` by rule of thumb.
    pub ends: Option<Ends>,
    /// Waiting days by reason, most first, of the wall that finishes last in the middle run: with its days of work they fill the job.
    pub waits: Vec<(WaitReason, u32)>,
    /// The waits added up in one sentence a client can read.
    pub waits_sentence: String,
    /// What the programme leaves out or takes for granted, for whoever relies on its dates.
    pub findings: Vec<Finding>,
    /// Cells times hours the engine stepped; zero by rule of thumb.
    pub cell_steps: u64,
    /// Reckonings of the shown figures.
    pub reckonings: Reckonings,
}

impl Programme {
    /// Why the middle run is not finished; `None` when it is. No date and no price of an unfinished run is firm.
    pub fn unfinished(&self) -> Option<&str> {
        self.runs.get(self.middle).and_then(|run| run.unfinished.as_deref())
    }
}

/// How the days between coats were found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum GapsBy {
    /// By the curing engine, hour by hour.
    Engine,
    /// By the trade's rule of thumb, when no weather is at hand.
    RuleOfThumb,
}

/// Something that must be done before the start.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Before {
    /// What.
    pub what: String,
    /// Latest day to begin or ask.
    pub by: Date,
    /// Why and how long.
    pub why: String,
    /// Path of the thing, for `why`.
    pub path: String,
}

/// The job in one weather year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct YearRun {
    /// Weather year.
    pub year: i32,
    /// Per wall, in the order of the job.
    pub walls: Vec<WallRun>,
    /// Last day on the job, the scaffold down.
    pub finished: Option<Date>,
    /// Why it did not finish, if it did not.
    pub unfinished: Option<String>,
    /// Days a gang worked on the job.
    pub gang_days: f64,
    /// Visits (runs of working days without a break on the job of more than a weekend).
    pub visits: u32,
    /// Damping visits by a hand.
    pub damping_visits: u32,
    /// What tending the coats by a policy took; nothing where the specification's rule tends them.
    pub covers: CoverWork,
    /// Scaffold, m² × weeks (started weeks, wall by wall).
    pub scaffold_m2_weeks: f64,
    /// Per gang, in the order of the job.
    pub gangs: Vec<GangRun>,
    /// Coats that were spoilt, taken off and laid again, wall by wall in order of date.
    pub losses: Vec<Loss>,
    /// Damage that was mended, wall by wall in order of date.
    pub mendings: Vec<Mending>,
    /// Visits for mending on days without a gang.
    pub mending_visits: u32,
    /// Visits held back so that several walls are done on one, gang by gang in order of date.
    pub held: Vec<HeldVisit>,
    /// Days off on which somebody damps who is not paid for it, in order of date; none where a hand is paid.
    pub days_off_damped: Vec<DayOffDamped>,
}

/// A visit that was held back for some days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeldVisit {
    /// The gang.
    pub gang: String,
    /// First day held.
    pub from: Date,
    /// Last day held.
    pub to: Date,
    /// Working days held.
    pub days: u32,
    /// Walls done on the one visit: those that were ready, then those waited for.
    pub walls: Vec<Slug>,
}

/// A day off on which the client or a neighbour damps.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DayOffDamped {
    /// The day.
    pub date: Date,
    /// Walls with the times each is damped, in the order of the job.
    pub walls: Vec<(Slug, u32)>,
    /// Hours of the civil day at which to damp.
    pub hours: Vec<u32>,
}

/// The middle year with each wall followed at its ends as well: readiness waits for the thickest of every coat (the 90th percentile) over stone and over
/// joint, and what spoils the thinnest (the 10th) over the thirstier of the two is lost too. What spoils the thickest alone is not counted.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ends {
    /// Its last day on the job; `None` where the job is not finished so.
    pub finished: Option<Date>,
    /// Coats lost in it.
    pub losses: u32,
    /// Per coat of every wall that was ready, in the order of the job.
    pub coats: Vec<EndsCoat>,
}

/// One coat at its ends.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EndsCoat {
    /// The wall.
    pub wall: Slug,
    /// The coat.
    pub coat: Slug,
    /// Name shown.
    pub name: String,
    /// Days it took in its middle over the stone.
    pub middle_days: f64,
    /// Least and most days it took on any column.
    pub days: (f64, f64),
}

/// What tending coats by a policy took, all walls together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct CoverWork {
    /// Person-hours of hanging, wetting and misting.
    pub hours: f64,
    /// Scaffold face that was ever roofed and sheeted, m².
    pub sheltered_m2: f64,
    /// How long it stood so, m² × weeks.
    pub shelter_m2_weeks: f64,
    /// How long it was heated, m² × days.
    pub heated_m2_days: f64,
}

/// A coat that was spoilt, taken off and laid again.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Loss {
    /// Day on which it was found and given up.
    pub date: Date,
    /// The wall.
    pub wall: Slug,
    /// The coat.
    pub coat: Slug,
    /// Name shown.
    pub name: String,
    /// What spoilt it, or the one beneath that took it along.
    pub kind: DamageKind,
    /// What happened, in words.
    pub cause: String,
    /// The cheapest change that would have prevented it, in words.
    pub prevention: String,
    /// Gang that had laid it.
    pub gang: String,
    /// Gang-days lost: laying it the first time and taking it off.
    pub gang_days: f64,
}

/// A damage that was mended.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mending {
    /// Day.
    pub date: Date,
    /// The wall.
    pub wall: Slug,
    /// The coat.
    pub coat: Slug,
    /// What befell it.
    pub kind: DamageKind,
}

/// One gang in one weather year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GangRun {
    /// The gang.
    pub name: String,
    /// Days worked on the job, by half-days.
    pub days: f64,
    /// Visits (runs of working days without a break of more than a weekend).
    pub visits: u32,
    /// Working days between its first and its last day on the job on which it had nothing to do there.
    pub idle_days: f64,
    /// Days on which it worked one half-day alone.
    pub short_days: u32,
    /// Nights between days of work on end.
    pub nights: u32,
}

/// One wall in one weather year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallRun {
    /// The wall.
    pub slug: Slug,
    /// Its tasks in order: preparation, each coat, limewash, tie patches.
    pub tasks: Vec<Task>,
    /// First day it stands in scaffold for this job.
    pub scaffold_from: Option<Date>,
    /// Last day of taking it down.
    pub scaffold_to: Option<Date>,
    /// What the scaffolders do, in order of date; it is hired from the day it stands to the day it is down.
    pub scaffold: Vec<ScaffoldStep>,
    /// Waiting days after its last task: when the wall was not finished, or over a weekend while its scaffold comes down.
    pub still_waiting: Vec<Wait>,
    /// How it dried, where its preparation took an impermeable covering off; `None` by rule of thumb.
    pub freed: Option<Freed>,
    /// Evenings on which the thirsty wall itself is damped down by hand, for a coat next morning.
    pub damped: Vec<Date>,
    /// A record by the day, from the first coat to the end, for the drawings; kept for the middle run alone.
    pub days: Vec<DayRecord>,
}

/// A piece of work of the scaffolders.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ScaffoldStep {
    /// What they do.
    pub kind: ScaffoldKind,
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
}

/// What scaffolders do on a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ScaffoldKind {
    /// Put it up.
    Up,
    /// Move boards and ties clear for the finish.
    Adapt,
    /// Take it down, lift by lift, while the gang makes good the tie patches.
    Down,
}

/// A wall freed of an impermeable covering.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Freed {
    /// Day on which the last of the covering came off.
    pub stripped: Date,
    /// Mean filling of the pores of its outer 60 mm then, 0 to 1.
    pub wet_then: f64,
    /// Day of the first coat, and the filling then; `None` where none went on.
    pub coated: Option<(Date, f64)>,
}

/// A piece of work on a wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Task {
    /// `preparation`, a coat's slug, `limewash`, or `tie-patches`.
    pub slug: Slug,
    /// Name shown.
    pub name: String,
    /// Gang that does it.
    pub gang: String,
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// Gang days.
    pub gang_days: f64,
    /// Day it was ready for the next.
    pub ready: Option<Date>,
    /// The rule that decided when it was ready, in words.
    pub decides: String,
    /// The rules of the curing engine as they stood on that day; empty by rule of thumb and before a coat is ready.
    pub rules: Vec<RuleMet>,
    /// Whole days and parts it took to be as old, as firm and as far carbonated as is asked, on each column of the wall that was followed: its middle over the
    /// stone and, in a run at the ends, thickest over stone and joint and thinnest. Empty as the rules are.
    pub took_days: Vec<f64>,
    /// Waiting before it, and within it where weather or weekend broke it off, day by day with its reason, in runs. The days of a wall
    /// from the start of the job to its last day are its days of work and these, each once; a coat lost was worked on as well, and its days stand with the loss.
    pub waited: Vec<Wait>,
    /// Damping visits made after it.
    pub damping_visits: u32,
    /// A coat in its parts by the day, in the order in which they are worked; empty for other tasks.
    pub parts: Vec<Part>,
    /// Who looks at a coat, wets it down and presses it back in its first forty-eight hours; empty for other tasks.
    pub looked: Vec<Look>,
}

impl Task {
    /// True for a task that lays a coat.
    pub fn is_coat(&self) -> bool {
        !matches!(self.slug.as_str(), "preparation" | "limewash" | "tie-patches")
    }
}

/// A fresh coat looked at, wetted down and pressed back.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Look {
    /// The day.
    pub date: Date,
    /// The gang that does it in passing; `None` where somebody comes for it, counted with the damping visits.
    pub gang: Option<String>,
}

/// A part of a coat.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// What it is.
    pub kind: PartKind,
    /// Name shown.
    pub name: String,
    /// First day.
    pub from: Date,
    /// Last day; a bay of the finish that is ended on a later day than it was begun has a cold joint.
    pub to: Date,
    /// m² of face; metres for reveals.
    pub amount: f64,
    /// Days of the gang, before the task is rounded up to half-days.
    pub gang_days: f64,
    /// Lifts in which a bay is thrown, the top one first; `None` for the rest.
    pub lifts: Option<u32>,
    /// It was ended on a later day than it was begun, so that a joint stands in it.
    pub cold_joint: bool,
}

/// What a part of a coat is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PartKind {
    /// Reveals, before the face of the same coat.
    Reveals,
    /// Face thrown or laid on one day.
    Face,
    /// Ruling what was laid the same day.
    Ruling,
    /// A bay of the finish.
    Bay,
}

/// A rule of readiness as it stood when a coat was ready for the next.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RuleMet {
    /// The rule.
    pub rule: ReadyRule,
    /// What was reached: days, share of the mix's water, m taken up, degree of set, relative humidity of the face.
    pub value: f64,
    /// What is asked for, in the same unit.
    pub limit: f64,
    /// Day on which it was first met; for the face, the day it was looked at.
    pub met: Date,
}

/// The rules of readiness that a coat itself meets in time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReadyRule {
    /// Days since it was placed with a mean at or above 5 °C: at least.
    Age,
    /// Its water as a share of the mix's water: below.
    Firm,
    /// Depth taken up, m: at least.
    Uptake,
    /// Degree of hydraulic set at which it is firm: at least.
    FirmSet,
    /// Degree of hydraulic set that stands for the depth taken up: at least.
    Set,
    /// Relative humidity of its face: at most.
    Face,
}

/// A run of waiting days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Wait {
    /// First day waited.
    pub from: Date,
    /// Last day waited.
    pub to: Date,
    /// Why.
    pub reason: WaitReason,
}

/// Why a day waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum WaitReason {
    Carbonation,
    Firmness,
    LeastAge,
    TooWet,
    Rain,
    Wind,
    Heat,
    Frost,
    Cold,
    GangElsewhere,
    Visit,
    Daylight,
    Scaffold,
    Consent,
    Permit,
    Wildlife,
    Approval,
    DryingOut,
    Lying,
    ShortStretch,
    Cover,
    Weekend,
    Break,
}

impl WaitReason {
    /// In words, for a sentence that begins "12 days ".
    pub fn words(self) -> &'static str {
        match self {
            WaitReason::Carbonation => "for the coat beneath to take up air",
            WaitReason::Firmness => "for the coat beneath to firm",
            WaitReason::LeastAge => "for the coat beneath to be old enough",
            WaitReason::TooWet => "for the face to dry enough to hold the next coat",
            WaitReason::Rain => "for rain",
            WaitReason::Wind => "for wind",
            WaitReason::Heat => "for heat",
            WaitReason::Frost => "for frost",
            WaitReason::Cold => "for cold",
            WaitReason::GangElsewhere => "while the gang was on another wall",
            WaitReason::Visit => "so that walls are done on one visit",
            WaitReason::Daylight => "because the coat would not have its hours before dusk",
            WaitReason::Scaffold => "for scaffold",
            WaitReason::Consent => "for consent",
            WaitReason::Permit => "for the permit to stand scaffold on the pavement",
            WaitReason::Wildlife => "for a licensed person to look at nests or bats",
            WaitReason::Approval => "for approval",
            WaitReason::DryingOut => "for the wall to dry after its cause of damp is mended",
            WaitReason::Lying => "for the coarse stuff to lie its weeks",
            WaitReason::ShortStretch => "because the coat would not be finished before a weekend or holiday",
            WaitReason::Cover => "for the cover to hang its days",
            WaitReason::Weekend => "over weekends",
            WaitReason::Break => "over holidays",
        }
    }

    /// One letter for the calendar.
    pub fn letter(self) -> char {
        match self {
            WaitReason::Carbonation => 'c',
            WaitReason::Firmness => 'f',
            WaitReason::LeastAge => 'a',
            WaitReason::TooWet => 'd',
            WaitReason::Rain => 'r',
            WaitReason::Wind => 'w',
            WaitReason::Heat => 'h',
            WaitReason::Frost => 'i',
            WaitReason::Cold => 'k',
            WaitReason::GangElsewhere => 'g',
            WaitReason::Visit => 'z',
            WaitReason::Daylight => 'x',
            WaitReason::Scaffold => 's',
            WaitReason::Consent => 'q',
            WaitReason::Permit => 't',
            WaitReason::Wildlife => 'v',
            WaitReason::Approval => 'p',
            WaitReason::DryingOut => 'm',
            WaitReason::Lying => 'l',
            WaitReason::ShortStretch => 'n',
            WaitReason::Cover => 'o',
            WaitReason::Weekend => 'e',
            WaitReason::Break => 'b',
        }
    }
}

/// A wall at the end of a day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DayRecord {
    /// The day.
    pub date: Date,
    /// Depth taken up in each coat on the wall, m, innermost first.
    pub uptake_m: Vec<f64>,
    /// Front in each coat, m.
    pub front_m: Vec<f64>,
    /// Relative humidity of the face at the end of the day.
    pub face_humidity: f64,
    /// Lowest and highest air temperature of the day, °C.
    pub air_c: (f64, f64),
    /// Rain of the day, mm.
    pub rain_mm: f64,
    /// Catalogue name of the cover hanging, if any.
    pub cover: Option<String>,
    /// Wettings that day.
    pub wettings: u32,
}

/// Spread of the finish.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Odds {
    /// Years judged.
    pub years: u32,
    /// Years finished at all within the season.
    pub finished_years: u32,
    /// Finish dates in order.
    pub finishes: Vec<Date>,
    /// Date by which half the years are finished.
    pub middle: Date,
    /// Date by which about eight years in ten are finished.
    pub eight_in_ten: Date,
    /// Years of `years` finished by that date.
    pub eight_in_ten_years: u32,
}
