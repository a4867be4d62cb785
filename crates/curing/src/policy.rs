//! Running a policy: a rule that somebody else made is asked at every working hour what is done to a wall, and what it asked for is counted in visits,
//! hours of labour and water. Nothing is chosen here and nothing is priced.

use std::ops::{ControlFlow, Range};

use crate::{Action, Bench, CuringError, Look};

/// Labour of what a policy may ask for, in person-hours for 100 m² (common practice, no source). Hanging is the cover's own; throwing is not attendance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Labour {
    /// Wetting a cloth.
    pub wet_h: f64,
    /// Damping a face down.
    pub damp_down_h: f64,
    /// Misting.
    pub mist_h: f64,
    /// Pressing back.
    pub press_back_h: f64,
    /// Striking a cover, as a share of hanging it.
    pub strike_share: f64,
    /// Taking a coat off.
    pub take_off_h: f64,
    /// Taking an old covering off.
    pub strip_h: f64,
    /// One coat of limewash.
    pub limewash_h: f64,
}

impl Default for Labour {
    fn default() -> Self {
        Self {
            wet_h: 0.5,
            damp_down_h: 0.5,
            mist_h: 0.5,
            press_back_h: 4.0,
            strike_share: 0.5,
            take_off_h: 12.0,
            strip_h: 80.0,
            limewash_h: 6.0,
        }
    }
}

/// Who attends, when, and to how much.
#[derive(Clone, Debug, PartialEq)]
pub struct Attendance {
    /// Hours of the climate's day in which somebody is there.
    pub working: Range<usize>,
    /// Face that is tended, m².
    pub area_m2: f64,
    /// Labour of each kind of attendance.
    pub labour: Labour,
}

/// What a policy cost on one member.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PolicyCost {
    /// Visits: runs of working hours on end in each of which something was done.
    pub visits: u32,
    /// Attendance, person-hours.
    pub labour_h: f64,
    /// Water put on, kg: on the face all that was asked for, on a cloth what it took.
    pub water_kg: f64,
    /// Hours for which a cover hung.
    pub covered_h: u32,
    /// Coats taken off.
    pub taken_off: u32,
}

/// The moment at which a policy is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moment {
    /// Member of the bench.
    pub member: usize,
    /// Hours since the run began.
    pub hour: usize,
    /// Hour of the climate's day, 0 to 23.
    pub hour_of_day: usize,
}

/// Runs every member of a bench for at most `hours`. At each working hour the policy sees a member's wall and writes down what is done before the hour
/// passes; a break ends that member's run there and stops it.
///
/// # Errors
/// An action that is impossible as things stand, or a member that is lost.
pub fn run(
    bench: &mut Bench,
    hours: usize,
    attendance: &Attendance,
    mut policy: impl FnMut(Moment, &Look, &mut Vec<Action>) -> ControlFlow<()>,
) -> Result<Vec<PolicyCost>, CuringError> {
    let mut tended = vec![Tended::default(); bench.members()];
    let mut actions = Vec::new();
    for hour in 0..hours {
        for (member, tended) in tended.iter_mut().enumerate().filter(|(_, tended)| !tended.over) {
            if let Some(error) = bench.failed(member) {
                return Err(error.clone());
            }
            let look = bench.look(member);
            let moment = Moment { member, hour, hour_of_day: look.hour % 24 };
            let mut done = false;
            if attendance.working.contains(&moment.hour_of_day) {
                actions.clear();
                let ends = policy(moment, &look, &mut actions).is_break();
                done = !actions.is_empty();
                for action in actions.drain(..) {
                    tended.take(bench, member, action, attendance)?;
                }
                if ends {
                    tended.over = true;
                    bench.stop(member);
                }
            }
            tended.cost.visits += u32::from(done && !tended.there);
            tended.there = done;
            tended.cost.covered_h += u32::from(tended.hang_h.is_some() && !tended.over);
        }
        if tended.iter().all(|tended| tended.over) {
            break;
        }
        bench.advance(1);
    }
    Ok(tended.into_iter().map(|tended| tended.cost).collect())
}

/// A member while it is tended.
#[derive(Clone, Copy, Debug, Default)]
struct Tended {
    cost: PolicyCost,
    /// Something was done in the hour before.
    there: bool,
    over: bool,
    /// Labour of hanging what hangs, person-hours for 100 m².
    hang_h: Option<f64>,
}

impl Tended {
    /// Takes an action and counts it.
    fn take(&mut self, bench: &mut Bench, member: usize, action: Action, attendance: &Attendance) -> Result<(), CuringError> {
        let labour = &attendance.labour;
        let cloth_before = bench.look(member).cloth_kg_m2;
        let (hours, face_kg_m2) = match &action {
            Action::Throw => (0.0, 0.0),
            Action::DampDown(kg_m2) => (labour.damp_down_h, *kg_m2),
            Action::Mist(kg_m2) => (labour.mist_h, *kg_m2),
            Action::PressBack => (labour.press_back_h, 0.0),
            Action::TakeOff => (labour.take_off_h, 0.0),
            Action::Hang(cover) => (cover.hang_h_per_100_m2, 0.0),
            Action::Wet(_) => (labour.wet_h, 0.0),
            Action::Strike => (labour.strike_share * self.hang_h.unwrap_or(0.0), 0.0),
            Action::Strip => (labour.strip_h, 0.0),
            Action::Limewash(_) => (labour.limewash_h, 0.0),
        };
        let (hangs, wets, strikes) = match &action {
            Action::Hang(cover) => (Some(cover.hang_h_per_100_m2), false, false),
            Action::Wet(_) => (None, true, false),
            Action::Strike => (None, false, true),
            _ => (None, false, false),
        };
        self.cost.taken_off += u32::from(action == Action::TakeOff);
        bench.act(member, action)?;
        let cloth_kg_m2 = if wets { bench.look(member).cloth_kg_m2 - cloth_before } else { 0.0 };
        self.cost.labour_h += hours * attendance.area_m2 / 100.0;
        self.cost.water_kg += (face_kg_m2 + cloth_kg_m2) * attendance.area_m2;
        if hangs.is_some() || strikes {
            self.hang_h = hangs;
        }
        Ok(())
    }
}
