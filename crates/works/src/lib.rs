//! The decisions: from a survey to a specification, quantities, protection, programme, order and price, and the plan that ties them.
//! Pure functions of plain inputs that `job` builds. It must never read a file, a clock or a terminal.

mod accounts;
mod answers;
mod before;
mod calendar;
mod column;
mod error;
mod explain;
mod fit;
mod foreman;
mod forward;
mod input;
mod odds;
mod order;
mod plan;
mod price;
mod pricing;
mod programme;
mod quantities;
mod reasons;
mod road;
mod season;
mod sheet;
mod site;
mod specify;
mod stripping;
mod swings;
mod thumb;
mod watch;
mod years;

pub use before::before;
pub use error::WorksError;
pub use input::*;
pub use order::*;
pub use plan::*;
pub use price::*;
pub use pricing::price;
pub use programme::*;
pub use quantities::*;
pub use road::plan;
pub use season::programme;
pub use specify::*;
pub use swings::swing_paths;
pub use watch::{Unwatched, Watch};
