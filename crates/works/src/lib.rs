//! The decisions: from a survey to a specification, quantities, protection, programme, order and price, and the plan that ties them.
//! Pure functions of plain inputs that `job` builds. It must never read a file, a clock or a terminal.

mod input;
mod order;
mod plan;
mod price;
mod programme;
mod quantities;
mod specify;

pub use input::*;
pub use order::*;
pub use plan::*;
pub use price::*;
pub use programme::*;
pub use quantities::*;
pub use specify::*;
