//! The constants are those of the fit, and the pages say what the engine computes now.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::path::PathBuf;

use curing::calibration::data::{BANDS, Use};
use curing::calibration::fit::fit;
use curing::calibration::slab::{OUTDOOR_CO2_FRACTION, depths_mm, inside, law};
use curing::calibration::{page, thresholds};

fn document(name: &str) -> String {
    std::fs::read_to_string(PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../docs").join(name)).unwrap()
}

/// The threshold is the one fitted, the fitted week reads as it is spoken, and there are no more fitted thresholds than fitted data.
#[test]
fn the_constant_is_the_fits() {
    let fit = fit().unwrap();
    let used = thresholds(7.0).uptake_m;
    assert!((used - fit.used_m).abs() < 1e-9, "{used} against the fit's {}", fit.used_m);
    assert!(fit.reads_m.0 <= used && used <= fit.reads_m.1, "{used}: {:?}", fit.reads_m);
    let fitted: Vec<_> = fit.residuals.iter().filter(|residual| residual.rule.used == Use::Fitted).collect();
    assert_eq!(fitted.len(), 2, "one rule, on two walls, for one threshold");
    for residual in fitted {
        assert!(residual.days().unwrap().abs() <= 0.5, "{residual:?}");
    }
}

/// `docs/calibration.md` is what `cargo xtask calibrate` prints.
#[test]
fn the_page_is_what_is_computed() {
    assert!(page::calibration().unwrap() == document("calibration.md"), "docs/calibration.md is out of date: run `cargo xtask calibrate`");
}

/// `docs/days-to-ready.md` is too; it takes a minute, so only the long tests make it again.
#[test]
fn the_days_are_what_is_computed() {
    if std::env::var_os("HARLWRIGHT_LONG").is_none() {
        return;
    }
    assert!(
        page::days_to_ready().unwrap() == document("days-to-ready.md"),
        "docs/days-to-ready.md is out of date: run `cargo xtask calibrate`"
    );
}

/// How many recollected depths are met (priors of ±50 %, from memory): a miss mostly, and asserted as it is.
#[test]
fn seven_of_nineteen_depths_lie_in_their_band() {
    let mut met = (0, 0);
    for band in &BANDS {
        let (hits, judged) = inside(&depths_mm(band.still, law(), OUTDOOR_CO2_FRACTION).unwrap(), band);
        met = (met.0 + hits, met.1 + judged);
    }
    assert_eq!(met, (7, 19));
}
