//! `harlwright straighten` as a user runs it.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use support::{folder, harlwright};

/// A hollow of radius 50 m along 6 m, ten rows alike, offsets in mm each 100 mm.
fn hollow() -> String {
    let row: Vec<String> = (0..61).map(|cell| format!("{:.4}", -1000.0 * (f64::from(cell - 30) * 0.1).powi(2) / 100.0)).collect();
    (row.join(",") + "\n").repeat(10)
}

#[test]
fn offsets_are_straightened_under_every_edge() {
    let folder = folder("straighten");
    let offsets = folder.join("offsets.csv");
    std::fs::write(&offsets, hollow()).unwrap();
    let asked = ["straighten", offsets.to_str().unwrap(), "--cell-mm", "100", "--laid", "across"];
    let said = harlwright(&asked);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("61 by 10 offsets 100 mm apart") && said.out.contains("DIN 18202"), "{}", said.out);
    let mut with_json = asked.to_vec();
    with_json.extend(["--edge-m", "0.6,1.2", "--json"]);
    let said = harlwright(&with_json);
    assert_eq!(said.code, 0, "{}", said.err);
    let found: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let edges = found["edges"].as_array().unwrap();
    assert_eq!(edges.len(), 2);
    for (edge, length) in edges.iter().zip([0.6_f64, 1.2]) {
        // exact solution: L²/8R with R = 50 m.
        let deepest = edge["straightened"]["deepest_m"].as_f64().unwrap();
        assert!((deepest - length * length / 400.0).abs() < 1e-6, "{length}: {deepest}");
    }
}

#[test]
fn bad_offsets_are_told_with_their_lines() {
    let folder = folder("straighten-bad");
    let offsets = folder.join("offsets.csv");
    std::fs::write(&offsets, "1,2,3\n4,five,6\n7,8\n").unwrap();
    let said = harlwright(&["straighten", offsets.to_str().unwrap(), "--cell-mm", "300"]);
    assert_eq!(said.code, 2);
    for word in ["offsets.csv, line 2", "five", "offsets.csv, line 3", "help: "] {
        assert!(said.err.contains(word), "{word}: {}", said.err);
    }
    let far = harlwright(&["straighten", offsets.to_str().unwrap(), "--cell-mm", "0"]);
    assert_eq!(far.code, 2);
}
