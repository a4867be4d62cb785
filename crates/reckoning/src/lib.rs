//! What every floor of harlwright speaks: units and values of shown figures, money, the reckoning behind a figure,
//! findings, cautions, and whether a value was answered or assumed. It knows no trade, no physics, no files.

mod caution;
mod finding;
mod known;
mod money;
mod reckoning;
mod value;

pub use caution::{Caution, Hazard};
pub use finding::{Finding, Grade};
pub use known::Known;
pub use money::{Currency, Money};
pub use reckoning::{Reckoning, Reckonings};
pub use value::{Unit, Value};
