//! The decisions: from a survey to a specification, quantities, protection, programme, order and price, and the plan that ties them.
//! Pure functions of plain inputs that `job` builds. It must never read a file, a clock or a terminal.

mod calendar;
mod error;
mod fit;
mod foreman;
mod forward;
mod input;
mod order;
mod plan;
mod price;
mod programme;
mod quantities;
mod sheet;
mod site;
mod specify;
mod thumb;
mod watch;

pub use error::WorksError;
pub use input::*;
pub use order::*;
pub use plan::*;
pub use price::*;
pub use programme::*;
pub use quantities::*;
pub use specify::*;
pub use watch::{Unwatched, Watch};
