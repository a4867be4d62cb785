//! Specification and quantities as a whole: the default system, every rule made to agree and to depart, and a worked take-off.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod coats;
mod fixture;
mod rules;
mod takeoff;
