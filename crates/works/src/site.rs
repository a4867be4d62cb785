//! What a foreman can see and do on site, whoever stands behind it: the curing engine or the trade's rule of thumb. The foreman in [`crate::foreman`]
//! knows nothing else of either.

use curing::DamageKind;
use jiff::civil::Date;

use crate::calendar::Half;
use crate::sheet::Work;
use crate::tending::{Tended, Visit};
use crate::{DayRecord, RuleMet, WaitReason};

/// What the outermost coat says.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Seen {
    /// Why the next coat must wait for the one beneath; `None` when it need not.
    pub(crate) hold: Option<WaitReason>,
    /// True when nothing but a wet face holds: the cover has done its work and may come down.
    pub(crate) only_wet: bool,
    /// Once the coat itself is done (nothing but its wet face may still hold), which of age, firmness and uptake was met last: it alone set every
    /// day the coat took, since the others were met within them.
    pub(crate) set_by: Option<WaitReason>,
    /// The rule that decided, in words.
    pub(crate) decides: String,
    /// Each rule with its limit, once nothing holds.
    pub(crate) rules: Vec<RuleMet>,
    /// Days the coat took on each column of the wall that is followed, those on which it is not done yet left out.
    pub(crate) took_days: Vec<f64>,
    /// How far the outermost coat has still to go; `None` where nobody can tell.
    pub(crate) to_go: Option<ToGo>,
    /// The innermost coat that has to come off, if one has.
    pub(crate) spoilt: Option<Spoilt>,
    /// What is to be mended: coats, the one against the stone being 0, and what befell them.
    pub(crate) to_mend: Vec<(usize, DamageKind)>,
}

/// How far a coat has still to go until it is ready, each nought once it is there.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct ToGo {
    /// Days of its least age.
    pub(crate) age_days: f64,
    /// Water to lose until it is firm, share of the mix's water.
    pub(crate) water: f64,
    /// Depth to take up, m.
    pub(crate) uptake_m: f64,
    /// Hydraulic set that would stand for the depth; infinite where there is none.
    pub(crate) set: f64,
}

impl ToGo {
    /// A coat that its age alone holds.
    pub(crate) fn aged(days: i64) -> Self {
        Self { age_days: days.max(0) as f64, ..Self::default() }
    }
}

/// A coat that has to come off.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Spoilt {
    /// The coat, the one against the stone being 0.
    pub(crate) coat: usize,
    /// What spoilt it.
    pub(crate) kind: DamageKind,
    /// What happened, in words.
    pub(crate) cause: String,
    /// The cheapest change that would have prevented it, in words.
    pub(crate) prevention: String,
}

/// Something done to a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Act {
    /// Damp down if the face is dry enough to rob the coat, and place the coat of this number.
    Place(usize),
    /// Damp down in the evening for a coat next morning.
    DampDown,
    /// Take the old covering off the bare wall.
    Strip,
    /// Brush on the limewash of this number.
    Limewash(u32),
    /// Hang the cover that the coat of this number asks for, soaked if it is one that is wetted.
    Hang(usize),
    /// Wet the hung cloth through.
    Wet,
    /// Take the cover away.
    Strike,
    /// Take the outermost coat off.
    TakeOff,
    /// Wet the face down and press it back.
    Mend,
    /// The wall is finished: look at it no more.
    Leave,
}

/// The site of one year. Errors are sentences.
pub(crate) trait Site {
    /// What the outermost coat of a wall says this morning or noon.
    fn seen(&self, wall: usize, date: Date) -> Result<Seen, String>;
    /// The limit of weather that forbids a piece of work this half-day.
    fn unfit(&self, wall: usize, work: Work, date: Date, half: Half) -> Option<WaitReason>;
    /// Whether the face is dry enough to rob a coat.
    fn thirsty(&self, wall: usize) -> bool;
    /// Mean filling of the pores of the outer stone, 0 to 1; `None` where there is nothing to see.
    fn wetness(&self, wall: usize) -> Option<f64>;
    /// An hour at a wall whose coat a policy tends; true if something was done.
    fn tend(&mut self, wall: usize, visit: &Visit, tended: &mut Tended) -> Result<bool, String>;
    /// Does something.
    fn act(&mut self, wall: usize, act: Act, date: Date) -> Result<(), String>;
    /// The wall at the end of a day; `None` where there is nothing to record.
    fn record(&self, wall: usize, date: Date) -> Option<DayRecord>;
}
