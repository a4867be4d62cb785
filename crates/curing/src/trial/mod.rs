//! One hand-made column for study and for published checks: its layers, faces, clock and what to report, as plain data, and the run that
//! hands it to the same kernel that carries a wall. It reads no file and knows no coat, cover or job.

mod data;
mod forms;
mod grid;
mod material;
mod report;
mod result;
mod run;

pub use data::{
    AirCarbon, AirRow, CarbonDiffusion, Clock, LayerGrid, Longwave, Start, StartPoint, Switches, Trial, TrialFace, TrialLayer, TrialLime,
    Wetness,
};
pub use forms::{AirPermeability, Heat, Liquid, LiquidLaw, Retention, VanGenuchtenTerm, Vapour, WetVapour};
pub use material::LayerTableError;
pub use result::{Books, Profile, ProfilePoint, Totals, TrialResult};
pub use run::run;
