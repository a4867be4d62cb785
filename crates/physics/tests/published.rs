//! Checks against published values and exact solutions, one file per source. Each names its source in its head and a provenance word beside each number:
//! *published* (with the source), *exact solution*, *computed apart* (by an independent program in another language, before this code was written), and
//! *computed here* (regression only). "From memory" says that the source itself was not at hand.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "published/ashrae.rs"]
mod ashrae;
#[path = "published/carbonation.rs"]
mod carbonation;
#[path = "published/carslaw_jaeger.rs"]
mod carslaw_jaeger;
#[path = "published/crank.rs"]
mod crank;
#[path = "published/en15026.rs"]
mod en15026;
#[path = "published/evaporation.rs"]
mod evaporation;
#[path = "published/frost.rs"]
mod frost;
#[path = "published/hamstad.rs"]
mod hamstad;
#[path = "published/hydration.rs"]
mod hydration;
#[path = "published/iapws.rs"]
mod iapws;
#[path = "published/iso13788.rs"]
mod iso13788;
#[path = "published/iso6946.rs"]
mod iso6946;
#[path = "published/kuenzel.rs"]
mod kuenzel;
#[path = "published/massman.rs"]
mod massman;
#[path = "published/wmo.rs"]
mod wmo;

/// Asserts that a number is within a limit of the one it is held against.
#[track_caller]
pub fn near(what: &str, ours: f64, theirs: f64, limit: f64) {
    assert!((ours - theirs).abs() <= limit, "{what}: ours {ours}, theirs {theirs}, difference {:e}, limit {limit:e}", ours - theirs);
}
