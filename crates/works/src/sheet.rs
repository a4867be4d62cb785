//! The job as a foreman carries it: for each wall the pieces of work in order with their gang-days, the gangs with their pace, the scaffold and
//! the dates before which nothing may begin. It must never hold weather or money.

use jiff::civil::Date;
use survey::{OldCovering, Slug, Survey, WallMeasured};

use crate::calendar::WorkingTime;
use crate::{
    CoatKind, CoatSpecification, Gang, Inputs, Protection, Quantities, Rates, Specification, WaitReason, WallSpecification, WorksError,
    gate, stripping,
};

/// A piece of work on a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Work {
    /// Taking off, raking, pinning, brushing.
    Preparation,
    /// The coat of this number, the one against the stone being 0.
    Coat(usize),
    /// The limewash of this number.
    Limewash(u32),
}

/// A piece of work with its size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Step {
    pub(crate) work: Work,
    /// Days of a gang of two masons and a labourer, before rounding to half-days.
    pub(crate) gang_days: f64,
}

/// A coat as the foreman needs it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CoatSheet {
    pub(crate) slug: Slug,
    pub(crate) name: String,
    pub(crate) protection: Protection,
    pub(crate) least_wait_days: f64,
    /// Days of a gang of two masons and a labourer to take it off again.
    pub(crate) take_off_days: f64,
}

/// One wall's work.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct WallSheet {
    pub(crate) slug: Slug,
    pub(crate) name: String,
    pub(crate) steps: Vec<Step>,
    pub(crate) coats: Vec<CoatSheet>,
    pub(crate) scaffold_m2: f64,
    /// Its preparation takes an impermeable covering off.
    pub(crate) freed: bool,
    /// Whole days from the end of the last coat to the first limewash.
    pub(crate) limewash_wait_days: i64,
    /// Whole days from one limewash to the next.
    pub(crate) limewash_gap_days: i64,
    /// Day before which its first coat may not go on, because it dries from a cause of damp.
    pub(crate) dry_from: Option<Date>,
}

/// A gang's pace.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct GangSheet {
    pub(crate) name: String,
    /// 1 for two masons and a labourer.
    pub(crate) pace: f64,
}

/// The whole job.
#[derive(Clone, Debug)]
pub(crate) struct JobSheet {
    pub(crate) walls: Vec<WallSheet>,
    pub(crate) gangs: Vec<GangSheet>,
    pub(crate) time: WorkingTime,
    pub(crate) start: Date,
    pub(crate) scaffold_from: Date,
    pub(crate) walls_at_once: usize,
    /// First day a coat may go on: the sample panel stands approved.
    pub(crate) approved_from: Date,
    /// Days before which nothing may be done on any wall, with what is waited for.
    pub(crate) closed_until: Vec<(Date, WaitReason)>,
    /// First day on which the coarse stuff that was laid down may be thrown.
    pub(crate) lain_from: Option<Date>,
}

impl JobSheet {
    /// Whether a policy tends any coat.
    pub(crate) fn is_tended(&self) -> bool {
        self.walls.iter().flat_map(|wall| &wall.coats).any(|coat| coat.protection.policy.is_some())
    }

    /// Puts the job together, refusing what no foreman could run; all refusals at once.
    pub(crate) fn new(
        survey: &Survey,
        specification: &Specification,
        quantities: &Quantities,
        inputs: &Inputs,
    ) -> Result<Self, WorksError> {
        let mut refused = refused_gangs(&inputs.gangs);
        refused.extend(refused_outputs(&inputs.rates));
        refused.extend(refused_scaffold(inputs));
        if specification.walls.is_empty() {
            refused.push(WorksError::NoWalls);
        }
        let time = match WorkingTime::new(&inputs.calendar, &inputs.about.time_zone) {
            Ok(time) => Some(time),
            Err(error) => {
                refused.push(error);
                None
            }
        };
        let mut walls = Vec::new();
        for wall in &specification.walls {
            match wall_sheet(wall, survey, quantities, inputs) {
                Ok(sheet) => walls.push(sheet),
                Err(error) => refused.push(error),
            }
        }
        WorksError::gather(refused)?;
        let time = time.ok_or(WorksError::NoWorkingDays)?;
        time.on_or_after(inputs.window.start)?;
        Ok(Self {
            walls,
            gangs: inputs.gangs.iter().map(|gang| GangSheet { name: gang.name.clone(), pace: pace(gang) }).collect(),
            time,
            start: inputs.window.start,
            scaffold_from: inputs.scaffold.from.value,
            walls_at_once: inputs.scaffold.walls_at_once.map_or(usize::MAX, |count| count as usize),
            approved_from: gate::approved_from(survey, specification, inputs),
            closed_until: gate::closed_until(survey, inputs),
            lain_from: gate::lain_from(inputs),
        })
    }

    /// What a piece of work on a wall waits for that has to be true before the start, the reason that holds longest first.
    pub(crate) fn gate(&self, wall: usize, work: Work, date: Date) -> Option<WaitReason> {
        let all = self.closed_until.iter().filter(|(from, _)| date < *from).max_by_key(|(from, _)| *from).map(|&(_, reason)| reason);
        let coat = || {
            let before = |from: Option<Date>, reason: WaitReason| from.filter(|&from| date < from).map(|from| (from, reason));
            let first = work == Work::Coat(0);
            let holds = [
                before(Some(self.approved_from).filter(|_| first), WaitReason::Approval),
                before(self.walls[wall].dry_from.filter(|_| first), WaitReason::DryingOut),
                before(self.lain_from, WaitReason::Lying),
            ];
            holds.into_iter().flatten().max_by_key(|&(from, _)| from).map(|(_, reason)| reason)
        };
        all.or_else(|| if matches!(work, Work::Coat(_)) { coat() } else { None })
    }

    /// Days of a gang of two masons and a labourer for the whole job, before each piece is rounded to half-days.
    pub(crate) fn unrounded_days(&self) -> f64 {
        self.walls.iter().flat_map(|wall| &wall.steps).map(|step| step.gang_days).sum()
    }

    /// Half-days a gang needs to take off what so many days of two masons and a labourer take off; none for nothing.
    pub(crate) fn take_off_half_days(&self, gang: usize, days: f64) -> u32 {
        if days > 0.0 { self.half_days(gang, Step { work: Work::Preparation, gang_days: days }) } else { 0 }
    }

    /// Half-days a gang needs for a step, at least one.
    pub(crate) fn half_days(&self, gang: usize, step: Step) -> u32 {
        // A hair is taken off so that a wall of exactly one gang-day is not rounded up to one and a half.
        let halves = (2.0 * step.gang_days / self.gangs[gang].pace - 1e-9).ceil();
        halves.clamp(1.0, 2000.0) as u32
    }
}

/// Pace of a gang against two masons and a labourer: the masons count; without a labourer one of them mixes and carries, so counts half.
fn pace(gang: &Gang) -> f64 {
    let masons = f64::from(gang.masons);
    let throwing = if gang.labourers == 0 { masons - 0.5 } else { masons };
    throwing / 2.0
}

fn refused_gangs(gangs: &[Gang]) -> Vec<WorksError> {
    if gangs.is_empty() {
        return vec![WorksError::NoGang];
    }
    gangs.iter().filter(|gang| gang.masons == 0).map(|gang| WorksError::NobodyInTheGang { gang: gang.name.clone() }).collect()
}

fn refused_outputs(rates: &Rates) -> Vec<WorksError> {
    let outputs = &rates.outputs;
    [
        ("preparation", outputs.preparation.value),
        ("taking off cement", outputs.take_off_cement.value),
        ("taking off lime harl", outputs.take_off_lime_harl.value),
        ("taking off paint", outputs.take_off_paint.value),
        ("the scud coat", outputs.scud.value),
        ("the straightening coat", outputs.straightening.value),
        ("the finish coat", outputs.finish.value),
        ("limewash", outputs.limewash.value),
        ("reveals", outputs.reveals_m.value),
        ("hanging hessian", outputs.hessian.value),
    ]
    .into_iter()
    .filter(|(_, value)| !(value.is_finite() && *value > 0.0))
    .map(|(what, value)| WorksError::Output { what: what.to_owned(), value: value.to_string() })
    .collect()
}

fn refused_scaffold(inputs: &Inputs) -> Vec<WorksError> {
    let mut refused = Vec::new();
    if inputs.scaffold.walls_at_once == Some(0) {
        refused.push(WorksError::ScaffoldNeverFree);
    }
    if let Some(finish_by) = inputs.window.finish_by {
        let from = inputs.scaffold.from.value;
        if from > finish_by {
            refused.push(WorksError::ScaffoldTooLate { from, finish_by });
        }
        if inputs.window.start > finish_by {
            refused.push(WorksError::FinishBeforeStart { start: inputs.window.start, finish_by });
        }
    }
    refused
}

/// Output for a kind of coat, m² a gang-day.
pub(crate) fn coat_output(rates: &Rates, kind: CoatKind) -> f64 {
    match kind {
        CoatKind::Scud => rates.outputs.scud.value,
        CoatKind::Straightening => rates.outputs.straightening.value,
        CoatKind::Finish => rates.outputs.finish.value,
    }
}

/// Measures of a wall by name.
pub(crate) fn measured<'a>(survey: &'a Survey, slug: &str) -> Result<&'a WallMeasured, WorksError> {
    survey.walls.iter().find(|wall| wall.slug == slug).ok_or_else(|| WorksError::WallMissing { wall: slug.to_owned(), stage: "survey" })
}

/// Share of the face that a coat lies on. A pass that fills hollows alone has the percentiles of where it lies but the mean of the whole face,
/// so the one over the other is the share it covers, and the share of a whole coat's work.
fn share_of_face(coat: &CoatSpecification) -> f64 {
    let lies_m = coat.thickness_m.iter().sum::<f64>() / 3.0;
    let filled = coat.mean_thickness_m / lies_m;
    // Percentiles spread unevenly about the mean in a coat that covers everything: only a clear shortfall is a pass in hollows.
    if coat.kind == CoatKind::Straightening && filled < 0.75 { filled.max(0.05) } else { 1.0 }
}

fn wall_sheet(wall: &WallSpecification, survey: &Survey, quantities: &Quantities, inputs: &Inputs) -> Result<WallSheet, WorksError> {
    let rates = &inputs.rates;
    let size = measured(survey, &wall.slug)?;
    let amounts = quantities
        .walls
        .iter()
        .find(|quantity| quantity.slug == wall.slug)
        .ok_or_else(|| WorksError::WallMissing { wall: wall.slug.clone(), stage: "quantities" })?;
    let face_m2 = size.net_m2 + size.reveal_m2;
    let found = survey.building.walls.iter().find(|found| found.slug == wall.slug);
    let covering = found.map_or(OldCovering::Bare, |found| found.old_covering.value);
    let [taking_off, ..] = stripping::gang_days(&rates.outputs, covering, face_m2);
    let mut steps = vec![Step { work: Work::Preparation, gang_days: face_m2 / rates.outputs.preparation.value + taking_off }];
    for (number, coat) in wall.coats.iter().enumerate() {
        let reveals = size.lines.ingo_m / rates.outputs.reveals_m.value;
        let hung_m2 = if hangs(&coat.protection) { amounts.hessian_m2.min(face_m2) } else { 0.0 };
        let whole_face = size.net_m2 / coat_output(rates, coat.kind) + reveals + hung_m2 / rates.outputs.hessian.value;
        let gang_days = whole_face * share_of_face(coat);
        steps.push(Step { work: Work::Coat(number), gang_days });
    }
    for number in 0..wall.limewash.coats {
        steps.push(Step { work: Work::Limewash(number), gang_days: face_m2 / rates.outputs.limewash.value });
    }
    let coats = wall
        .coats
        .iter()
        .map(|coat| CoatSheet {
            slug: coat.slug.clone(),
            name: coat.name.clone(),
            protection: coat.protection.clone(),
            least_wait_days: coat.least_wait_days,
            // A coat a few days old comes off no slower than an old lime harl.
            take_off_days: face_m2 * share_of_face(coat) / rates.outputs.take_off_lime_harl.value,
        })
        .collect();
    let name = found.map_or(wall.slug.clone(), |found| found.name.clone());
    Ok(WallSheet {
        slug: wall.slug.clone(),
        name,
        steps,
        coats,
        scaffold_m2: size.gross_m2,
        freed: stripping::is_impermeable(covering),
        limewash_wait_days: wall.limewash.least_wait_days.ceil().max(0.0) as i64,
        limewash_gap_days: (wall.limewash.interval_h / 24.0).ceil().max(1.0) as i64,
        dry_from: gate::dry_from(survey, inputs, &wall.slug),
    })
}

/// True if a cover is to be hung at all.
pub(crate) fn hangs(protection: &Protection) -> bool {
    protection.days > 0 && protection.cover != "none"
}
