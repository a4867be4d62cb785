//! Error functions and front constants against SciPy.

use physics::exact::stefan_front;
use physics::numbers::{erf, erfc, erfc_scaled, pow};
use serde_json::json;

use super::harness::{assert_close, numbers, run};

/// Last bits: a few units in the last place.
const ERROR_FUNCTION: f64 = 2e-15;
/// Where exp(±x²) is formed from a rounded square, up to x²/2 units in the last place are lost: 7.5e-14 at 26. That is so of SciPy's erfc (at
/// 12.4 it is 1e-14 off, by 40-digit arithmetic, and ours is right to the last bits) and of our own exp(x²)·erfc(x).
const SQUARED: f64 = 1e-13;
/// SciPy's root finder was asked for 1e-14.
const ROOTS: f64 = 1e-12;

#[test]
fn error_functions_agree_with_scipy() {
    let x: Vec<f64> = (-50..=300).map(|i| f64::from(i) * 0.1).collect();
    let theirs = run("special.py", &json!({ "x": x, "ratio": [], "freezing": [] }));
    let ours = |function: fn(f64) -> f64| x.iter().map(|&x| function(x)).collect::<Vec<f64>>();
    assert_close("erf", &ours(erf), &numbers(&theirs["erf"]), 0.0, ERROR_FUNCTION);
    // Below the smallest normal number erfc keeps fewer bits.
    assert_close("erfc", &ours(erfc), &numbers(&theirs["erfc"]), f64::MIN_POSITIVE, SQUARED);
    assert_close("exp(x²)·erfc(x)", &ours(erfc_scaled), &numbers(&theirs["erfcx"]), 0.0, SQUARED);
}

#[test]
fn stefan_front_agrees_with_scipy() {
    let ratio: Vec<f64> = (-60..=40).map(|i| pow(10.0, f64::from(i) * 0.1)).collect();
    let theirs = numbers(&run("special.py", &json!({ "x": [0.0], "ratio": ratio, "freezing": [] }))["root"]);
    let ours: Vec<f64> = ratio.iter().map(|&r| stefan_front(r).unwrap()).collect();
    assert_close("Stefan's front", &ours, &theirs, 0.0, ROOTS);
}
