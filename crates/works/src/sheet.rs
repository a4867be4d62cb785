//! The job as a foreman carries it: for each wall the pieces of work in order with their gang-days, the gangs with their pace, the scaffold and
//! the dates before which nothing may begin. It must never hold weather, nor money but what a visit is weighed by.

use jiff::civil::Date;
use survey::{Bay, OldCovering, Slug, Survey, WallMeasured};

use crate::calendar::{WorkingTime, add_days};
use crate::foreman::LONGEST_JOB_DAYS;
use crate::pieces::{Piece, PieceKind, bay_days, half_days, is_able};
use crate::visits::Holding;
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
    /// Patches at the ties made good as the scaffold comes down.
    TiePatches,
}

/// A piece of work with its size.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Step {
    pub(crate) work: Work,
    /// In the order in which they are worked.
    pub(crate) pieces: Vec<Piece>,
}

impl Step {
    /// A step in one piece.
    fn whole(work: Work, gang_days: f64) -> Self {
        Self { work, pieces: vec![Piece::whole(gang_days)] }
    }

    /// Days of a gang of two masons and a labourer, before rounding to half-days.
    pub(crate) fn gang_days(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.gang_days).sum()
    }

    /// True for a finish that is thrown in bays: a weekend may stand between two of them.
    pub(crate) fn is_in_bays(&self) -> bool {
        self.pieces.iter().any(|piece| piece.unbroken)
    }
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

/// The scaffold of one wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ScaffoldSheet {
    /// Working days of the scaffolders to put it up.
    pub(crate) up_days: u32,
    /// To adapt it for the finish.
    pub(crate) adapt_days: u32,
    /// To take it down.
    pub(crate) down_days: u32,
    /// The coat it is adapted for; `None` where the finish is the only coat, or there is none.
    pub(crate) adapt_before: Option<usize>,
}

/// One wall's work.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct WallSheet {
    pub(crate) slug: Slug,
    pub(crate) name: String,
    pub(crate) steps: Vec<Step>,
    pub(crate) coats: Vec<CoatSheet>,
    pub(crate) scaffold_m2: f64,
    pub(crate) scaffold: ScaffoldSheet,
    /// Bays of the finish, from the left.
    pub(crate) bays: Vec<Bay>,
    /// Height of a lift of the scaffold, m.
    pub(crate) lift_m: f64,
    /// Its preparation takes an impermeable covering off.
    pub(crate) freed: bool,
    /// Whole days from the end of the last coat to the first limewash.
    pub(crate) limewash_wait_days: i64,
    /// Whole days from one limewash to the next.
    pub(crate) limewash_gap_days: i64,
    /// Day before which its first coat may not go on, because it dries from a cause of damp.
    pub(crate) dry_from: Option<Date>,
    /// The gang that alone works on it; `None` for any.
    pub(crate) gang: Option<usize>,
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
    /// By what ready work is held back for another wall; `None` where it never is.
    pub(crate) holding: Option<Holding>,
    /// Days off are damped by somebody who is not paid for it.
    pub(crate) days_off_unpaid: bool,
    /// Hours from the last throw of a day to dusk.
    pub(crate) hours_before_dusk: f64,
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
            holding: Holding::of(inputs, &walls, &time),
            days_off_unpaid: inputs.running.weekend_damping.unpaid().is_some(),
            hours_before_dusk: inputs.running.hours_before_dusk,
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
        self.walls.iter().flat_map(|wall| &wall.steps).map(Step::gang_days).sum()
    }

    /// Half-days a gang needs to take off what so many days of two masons and a labourer take off; none for nothing.
    pub(crate) fn take_off_half_days(&self, gang: usize, days: f64) -> u32 {
        if days > 0.0 { half_days(&[Piece::whole(days)], self.gangs[gang].pace) } else { 0 }
    }

    /// Half-days from a morning on that a gang needs for a step, at least one.
    pub(crate) fn half_days(&self, gang: usize, step: &Step) -> u32 {
        half_days(&step.pieces, self.gangs[gang].pace)
    }

    /// Whether a gang can throw every bay of a step in one day that some gang can.
    pub(crate) fn is_able(&self, gang: usize, step: &Step) -> bool {
        is_able(&step.pieces, self.gangs[gang].pace)
    }
}

/// Pace of a gang against two masons and a labourer: the masons count; without a labourer one of them mixes and carries, so counts half.
pub(crate) fn pace(gang: &Gang) -> f64 {
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
    not_above_nothing(&[
        ("preparation", outputs.preparation.value),
        ("taking off cement", outputs.take_off_cement.value),
        ("taking off lime harl", outputs.take_off_lime_harl.value),
        ("taking off paint", outputs.take_off_paint.value),
        ("the scud coat", outputs.scud.value),
        ("laying the straightening coat", outputs.straightening.value),
        ("ruling the straightening coat", outputs.ruling.value),
        ("the finish coat", outputs.finish.value),
        ("limewash", outputs.limewash.value),
        ("reveals", outputs.reveals_m.value),
        ("hanging hessian", outputs.hessian.value),
        ("making good tie patches", outputs.tie_patches.value),
    ])
}

/// An output that is no number above nothing is refused.
fn not_above_nothing(outputs: &[(&str, f64)]) -> Vec<WorksError> {
    let refused = outputs.iter().filter(|(_, value)| !(value.is_finite() && *value > 0.0));
    refused.map(|(what, value)| WorksError::Output { what: (*what).to_owned(), value: value.to_string() }).collect()
}

fn refused_scaffold(inputs: &Inputs) -> Vec<WorksError> {
    let asked = &inputs.scaffold;
    let outputs = [
        ("putting up scaffold", asked.up_m2_day.value),
        ("adapting scaffold", asked.adapt_m2_day.value),
        ("taking down scaffold", asked.down_m2_day.value),
        ("the face to one tie of the scaffold", asked.m2_per_tie.value),
        ("the height of a lift", asked.lift_m.value),
    ];
    let mut refused = not_above_nothing(&outputs);
    if inputs.scaffold.walls_at_once == Some(0) {
        refused.push(WorksError::ScaffoldNeverFree);
    }
    let (from, start) = (inputs.scaffold.from.value, inputs.window.start);
    if from > add_days(start, LONGEST_JOB_DAYS) {
        refused.push(WorksError::ScaffoldTooFarOff { from, start, most: LONGEST_JOB_DAYS });
    }
    if let Some(finish_by) = inputs.window.finish_by {
        if from > finish_by {
            refused.push(WorksError::ScaffoldTooLate { from, finish_by });
        }
        if inputs.window.start > finish_by {
            refused.push(WorksError::FinishBeforeStart { start: inputs.window.start, finish_by });
        }
    }
    refused
}

/// Days of a gang of two masons and a labourer for one m² of a kind of coat, ruling with it, reveals and cover left out.
pub(crate) fn days_of_m2(rates: &Rates, kind: CoatKind) -> f64 {
    let outputs = &rates.outputs;
    match kind {
        CoatKind::Scud => 1.0 / outputs.scud.value,
        CoatKind::Straightening => 1.0 / outputs.straightening.value + 1.0 / outputs.ruling.value,
        CoatKind::Finish => 1.0 / outputs.finish.value,
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

/// The pieces of a coat in order: its reveals, then its face, the finish in its bays. The straightening that ends on the wall's plane is ruled; a pass before it is
/// left rough. A bay that the fastest gang cannot throw in a day may be broken.
fn coat_pieces(coats: &[CoatSpecification], number: usize, size: &WallMeasured, rates: &Rates, hung_m2: f64, fastest: f64) -> Vec<Piece> {
    let coat = &coats[number];
    let share = share_of_face(coat);
    let reveals = Piece {
        kind: PieceKind::Reveals,
        gang_days: share * size.lines.ingo_m / rates.outputs.reveals_m.value,
        ruling_days: 0.0,
        amount: share * size.lines.ingo_m,
        unbroken: false,
    };
    let mut pieces: Vec<Piece> = Some(reveals).filter(|reveals| reveals.amount > 0.0).into_iter().collect();
    if coat.kind == CoatKind::Finish {
        pieces.extend(bay_days(size, rates, hung_m2).into_iter().zip(&size.bays).enumerate().map(|(bay, (gang_days, found))| Piece {
            kind: PieceKind::Bay(bay),
            gang_days,
            ruling_days: 0.0,
            amount: found.share * size.net_m2,
            unbroken: gang_days / fastest <= 1.0 + 1e-9,
        }));
        return pieces;
    }
    let last_straightening = coats.iter().rposition(|coat| coat.kind == CoatKind::Straightening);
    let laid = match coat.kind {
        CoatKind::Scud => rates.outputs.scud.value,
        _ => rates.outputs.straightening.value,
    };
    let ruling_days = if last_straightening == Some(number) { share * size.net_m2 / rates.outputs.ruling.value } else { 0.0 };
    let covered = share * (size.net_m2 / laid + hung_m2 / rates.outputs.hessian.value);
    pieces.push(Piece {
        kind: PieceKind::Face,
        gang_days: covered + ruling_days,
        ruling_days,
        amount: share * size.net_m2,
        unbroken: false,
    });
    pieces
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
    let mut steps = vec![Step::whole(Work::Preparation, face_m2 / rates.outputs.preparation.value + taking_off)];
    let fastest = inputs.gangs.iter().map(pace).fold(0.0, f64::max);
    for (number, coat) in wall.coats.iter().enumerate() {
        let hung_m2 = if hangs(&coat.protection) { amounts.hessian_m2.min(face_m2) } else { 0.0 };
        let pieces = coat_pieces(&wall.coats, number, size, rates, hung_m2, fastest);
        steps.push(Step { work: Work::Coat(number), pieces });
    }
    for number in 0..wall.limewash.coats {
        steps.push(Step::whole(Work::Limewash(number), face_m2 / rates.outputs.limewash.value));
    }
    let ties = f64::from(amounts.tie_patches);
    steps.push(Step::whole(Work::TiePatches, ties / rates.outputs.tie_patches.value));
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
        scaffold: scaffold_sheet(wall, size, inputs),
        bays: size.bays.clone(),
        lift_m: inputs.scaffold.lift_m.value,
        freed: stripping::is_impermeable(covering),
        limewash_wait_days: wall.limewash.least_wait_days.ceil().max(0.0) as i64,
        limewash_gap_days: (wall.limewash.interval_h / 24.0).ceil().max(1.0) as i64,
        dry_from: gate::dry_from(survey, inputs, &wall.slug),
        gang: inputs.running.gang_of.get(&wall.slug).copied().filter(|&gang| gang < inputs.gangs.len()),
    })
}

fn scaffold_sheet(wall: &WallSpecification, size: &WallMeasured, inputs: &Inputs) -> ScaffoldSheet {
    let days = |a_day: f64| ((size.gross_m2 / a_day - 1e-9).ceil()).clamp(1.0, 365.0) as u32;
    let asked = &inputs.scaffold;
    ScaffoldSheet {
        up_days: days(asked.up_m2_day.value),
        adapt_days: days(asked.adapt_m2_day.value),
        down_days: days(asked.down_m2_day.value),
        adapt_before: wall.coats.iter().position(|coat| coat.kind == CoatKind::Finish).filter(|&coat| coat > 0),
    }
}

/// True if a cover is to be hung at all.
pub(crate) fn hangs(protection: &Protection) -> bool {
    protection.days > 0 && protection.cover != "none"
}
