//! Published checks of the kernel that no trial file can state, because the column changes under way. The others are the shipped trials, held to their
//! sources in `crates/job/tests/published`, on the floor that reads trial files.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod directions;
mod front;
