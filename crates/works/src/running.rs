//! How the work is run besides rates and dates: who throws which wall, how long a gang is held back so that walls are done on one visit, when the last
//! coat of a day goes on, who damps on days off, and what lateness and risk are charged at. Plain inputs; it must never decide.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use survey::Slug;

/// Working days a ready piece of work is held back at most (a guess).
pub const HOLD_DAYS: u32 = 3;
/// Hours a coat has before dusk (common practice that it must have some; the figure is a guess).
pub const HOURS_BEFORE_DUSK: f64 = 2.0;

/// How the work is run.
#[derive(Clone, Debug, PartialEq)]
pub struct Running {
    /// Walls that one gang alone works on, by its place among the gangs.
    pub gang_of: BTreeMap<Slug, usize>,
    /// Working days that ready work is held back at most so that another wall is done on the same visit; 0 for never.
    pub hold_days: u32,
    /// Hours from the last throw of a day to dusk.
    pub hours_before_dusk: f64,
    /// Who damps on days that are not worked.
    pub weekend_damping: WeekendDamping,
    /// Charged for a day beyond the client's date where orders are compared; `None` for a day of all gangs' wages.
    pub late_a_day: Option<Decimal>,
    /// Share of what the dearest quarter of the years costs above the mean that is charged for risk where orders are compared, 0 to 1.
    pub risk_share: Decimal,
}

impl Default for Running {
    /// No wall bound to a gang; the other figures are guesses, as the table of fields says.
    fn default() -> Self {
        Self {
            gang_of: BTreeMap::new(),
            hold_days: HOLD_DAYS,
            hours_before_dusk: HOURS_BEFORE_DUSK,
            weekend_damping: WeekendDamping::Hand,
            late_a_day: None,
            risk_share: Decimal::new(25, 2),
        }
    }
}

/// Who damps on days that are not worked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WeekendDamping {
    /// A hand living near, paid by the visit.
    #[default]
    Hand,
    /// The client, unpaid, with an instruction.
    Client,
    /// A neighbour, unpaid, with an instruction.
    Neighbour,
}

impl WeekendDamping {
    /// Who it is, in words, where nobody is paid for it.
    pub fn unpaid(self) -> Option<&'static str> {
        match self {
            WeekendDamping::Hand => None,
            WeekendDamping::Client => Some("the client"),
            WeekendDamping::Neighbour => Some("a neighbour"),
        }
    }
}
