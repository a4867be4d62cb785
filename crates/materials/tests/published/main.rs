//! Checks of the catalogue and the yield model against outside values: one module for each source, with the citation, a provenance word beside each
//! number and the tolerance explained.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod bench_limes;
mod bench_old_mortar;
mod bench_sands;
mod bench_slaking;
mod densities;
mod handbook_yields;
mod sand_volumes;
mod sorption;
mod worked_mixes;
