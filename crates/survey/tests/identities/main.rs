//! Exact identities of the survey (mirrored, permuted, unused, shifted) and its refusals.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod fixture;
mod identities;
mod lines;
mod refusals;
