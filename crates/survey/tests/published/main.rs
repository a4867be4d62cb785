//! Checks of the survey's geometry and relief against outside values: the citation in each module, a provenance word beside each number.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod areas;
#[path = "../identities/fixture.rs"]
mod fixture;
mod flatness;
