//! What the work asks of the site by the day, as it was kept with a plan: the same words as on the paper sheets.

use jiff::civil::Date;
use serde::Deserialize;

/// A week with something to do in it.
#[derive(Debug, Deserialize)]
pub struct Week {
    /// Its days, Monday first.
    pub days: Vec<SheetDay>,
}

/// One day.
#[derive(Debug, Deserialize)]
pub struct SheetDay {
    /// The day.
    pub date: Date,
    /// Walls in the order of the job.
    pub walls: Vec<WallDay>,
}

/// One wall on one day.
#[derive(Debug, Deserialize)]
pub struct WallDay {
    /// Short name of the wall.
    pub slug: String,
    /// What is done on it.
    pub work: Vec<String>,
    /// Short name of the coat that goes on, if one does.
    pub coat: Option<String>,
    /// Where nothing is done: what comes next, when and what it waits for.
    pub waits: Option<String>,
    /// Change of the cover.
    pub hang: Option<String>,
    /// Times it is damped.
    pub wet: u32,
    /// The wall itself is damped down in the evening; not said in an older plan.
    #[serde(default)]
    pub evening: bool,
    /// Coat to be tested.
    pub test: Option<String>,
    /// Coat to be looked at and pressed back, and by whom.
    #[serde(default)]
    pub press: Option<String>,
}

impl WallDay {
    /// True if the day asks something of the wall.
    pub fn asks(&self) -> bool {
        !self.work.is_empty() || self.hang.is_some() || self.wet > 0 || self.evening || self.test.is_some() || self.press.is_some()
    }
}
