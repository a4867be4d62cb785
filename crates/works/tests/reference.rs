//! Live check of money worth today against numpy-financial, a general-purpose library, its version pinned in `tests/reference/requirements.txt` (other tool).
//! It needs `HARLWRIGHT_PYTHON`, set by `cargo xtask test`; without it it fails.

#[path = "../../../tests/reference/harness.rs"]
mod harness;

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use serde_json::json;

/// Two hundred rows of payments, up to forty of them, at up to 30 % a period.
#[test]
fn worth_today_is_that_of_a_general_library() {
    let mut runner = TestRunner::deterministic();
    let made = (0.0..0.3_f64, proptest::collection::vec(-1e6..1e6_f64, 1..40));
    let rows: Vec<(f64, Vec<f64>)> = (0..200).filter_map(|_| made.new_tree(&mut runner).ok()).map(|tree| tree.current()).collect();
    let cases: Vec<_> = rows.iter().map(|(rate, flows)| json!({ "rate": rate, "flows": flows })).collect();
    let theirs = harness::numbers(&harness::run("present_value.py", &json!({ "cases": cases }))["values"]);
    assert_eq!((rows.len(), theirs.len()), (200, 200));
    for ((rate, sums), theirs) in rows.iter().zip(theirs) {
        let flows: Vec<(f64, f64)> = sums.iter().enumerate().map(|(period, sum)| (period as f64, *sum)).collect();
        let ours = works::present_value(*rate, &flows);
        let size: f64 = sums.iter().map(|sum| sum.abs()).sum();
        assert!((ours - theirs).abs() <= 1e-12 * size, "{ours} for {theirs} at {rate}");
    }
}
