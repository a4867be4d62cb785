//! Live checks against pvlib and against real weather files out of an older pvlib wheel, fetched from the package registry when the test runs.
//! They need `HARLWRIGHT_PYTHON`, set by `cargo xtask test`; without it they fail rather than skip. Provenance of every number: other tool (pvlib 0.16.1).
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "reference/derived.rs"]
mod derived;
#[path = "reference/files.rs"]
mod files;
#[path = "../../../tests/reference/harness.rs"]
mod harness;
#[path = "reference/reconstruction.rs"]
mod reconstruction;
#[path = "reference/sun.rs"]
mod sun;
