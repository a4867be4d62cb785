//! Tasks on machines with gaps that depend on when one ends: a first order by local search, then the best one with its proof or its bound. It
//! must never know a wall, a coat or a date: time is counted in whole slots and money in whole pence.

mod answer;
mod axis;
mod exact;
mod forest;
mod insert;
mod instance;
mod model;
mod narrow;
mod objective;
mod plan;
mod refusals;
mod relaxed;
mod search;
mod serial;
mod tree;
mod visits;
mod weigh;

pub use answer::{Answer, Ended, Settings, SolveError, Three, first, solve, three};
pub use instance::{Aim, Due, Gang, Gap, Instance, Scaffold, Span, Stretch, Task, Wait, Way};
pub use plan::{Costs, Difference, Placed, Plan};
pub use refusals::{Refusal, refusals};
