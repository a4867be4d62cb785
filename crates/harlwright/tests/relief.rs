//! `harlwright straighten` as a user runs it.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use support::{demo, folder, harlwright};

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

/// A scan of the north wall of the demo: waves 6 mm high along it, a point each 20 mm, as text.
fn scanned(length_m: f64, height_m: f64) -> String {
    let (columns, rows) = ((length_m / 0.02) as u32, (height_m / 0.02) as u32);
    let mut text = String::from("x,y,z\n");
    for cell in 0..columns * rows {
        let (along, up) = (f64::from(cell % columns) * 0.02 + 0.01, f64::from(cell / columns) * 0.02 + 0.01);
        let out = 0.003 * (2.0 * std::f64::consts::PI * along / 0.6).sin();
        text += &format!("{along:.3},{:.5},{up:.3}\n", 6.0 - out);
    }
    text
}

#[test]
fn a_scan_of_a_wall_of_the_job_is_straightened_and_mapped() {
    let folder = folder("relief");
    let job = demo();
    let (scan, map) = (folder.join("wall.csv"), folder.join("map.svg"));
    std::fs::write(&scan, scanned(11.4, 4.6)).unwrap();
    let asked = ["relief", scan.to_str().unwrap(), "--job", job.to_str().unwrap(), "--wall", "north", "--cell-mm", "20", "--edge", "1.2"];
    let mut drawn = asked.to_vec();
    drawn.extend(["--svg", map.to_str().unwrap()]);
    let said = harlwright(&drawn);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(
        said.out.contains("points were") && said.out.contains("Taken in metres") && said.out.contains("job's own edge"),
        "{}",
        said.out
    );
    assert!(std::fs::read_to_string(&map).unwrap().starts_with("<svg"));
    let mut as_json = asked.to_vec();
    as_json.push("--json");
    let said = harlwright(&as_json);
    let found: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    // The waves run along the wall: laid up, the edge finds nothing to bridge, and the lower face of the two is the wall's own but for its plane.
    let mean = found["edges"][0]["straightened"]["mean_m"].as_f64().unwrap();
    assert!((0.0..0.0005).contains(&mean), "{mean}");
    let wrong = harlwright(&["relief", scan.to_str().unwrap(), "--job", job.to_str().unwrap(), "--wall", "nowhere"]);
    assert!(wrong.code == 2 && wrong.err.contains("Its walls are"), "{}", wrong.err);
}

#[test]
fn every_broken_scan_is_refused_with_its_name_and_remedy() {
    let job = demo();
    let broken: Vec<_> = ["csv", "ply", "e57", "las"].iter().flat_map(|ending| support::files("tests/bad/scan", ending)).collect();
    assert!(broken.len() >= 12, "{} broken scans", broken.len());
    for scan in broken {
        let said = harlwright(&["relief", scan.to_str().unwrap(), "--job", job.to_str().unwrap(), "--wall", "1"]);
        let name = scan.file_name().unwrap().to_string_lossy().into_owned();
        assert_eq!(said.code, 2, "{name}: {}{}", said.out, said.err);
        assert!(said.err.contains("help: ") && said.out.is_empty(), "{name}:\n{}", said.err);
    }
}

/// The demo with the north wall's gaps given up for a scan of it.
fn demo_with_scan(folder: &std::path::Path) -> std::path::PathBuf {
    let job = demo();
    let text = std::fs::read_to_string(&job).unwrap();
    let text = text.replace("gaps_mm       = [11, 6, 14, 9, 18, 7, 12, 10, 5, 13]", "relief_file = \"north.csv\"\nrelief_cell_mm = 20");
    assert!(text.contains("relief_file"));
    std::fs::copy(job.with_file_name("weather.csv"), folder.join("weather.csv")).unwrap();
    let own = folder.join("job.toml");
    std::fs::write(&own, text).unwrap();
    own
}

#[test]
fn a_scan_named_in_the_job_is_read_with_it_and_why_says_so() {
    let folder = folder("relief-in-job");
    let job = demo_with_scan(&folder);
    let missing = harlwright(&["check", job.to_str().unwrap()]);
    assert!(missing.code == 2 && missing.err.contains("north.csv"), "{}", missing.err);
    std::fs::write(folder.join("north.csv"), scanned(11.4, 4.6)).unwrap();
    let why = harlwright(&["why", job.to_str().unwrap(), "walls.north.relief.mean"]);
    assert_eq!(why.code, 0, "{}", why.err);
    for word in ["scan north.csv", "mean depth under an edge of 0.9 m", "laid on the face"] {
        assert!(why.out.contains(word), "{word}: {}", why.out);
    }
    std::fs::write(folder.join("north.csv"), scanned(4.0, 4.6)).unwrap();
    let wrong = harlwright(&["check", job.to_str().unwrap()]);
    assert!(wrong.code == 2 && wrong.err.contains("walls.north.relief_file") && wrong.err.contains("the face scanned is"), "{}", wrong.err);
}

#[test]
fn every_length_of_edge_has_its_mortar_passes_days_and_money() {
    let folder = folder("relief-curve");
    let job = demo();
    let scan = folder.join("wall.csv");
    std::fs::write(&scan, scanned(11.4, 4.6)).unwrap();
    let (curve, sheet) = (folder.join("curve.svg"), folder.join("sheet.pdf"));
    let mut asked = vec!["relief", scan.to_str().unwrap(), "--job", job.to_str().unwrap(), "--wall", "north", "--cell-mm", "20"];
    asked.extend(["--curve-svg", curve.to_str().unwrap(), "--pdf", sheet.to_str().unwrap(), "--json"]);
    let said = harlwright(&asked);
    assert_eq!(said.code, 0, "{}", said.err);
    let found: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let choices = found["curve"]["choices"].as_array().unwrap();
    assert_eq!((choices[0]["edge_m"].as_f64(), choices.last().unwrap()["edge_m"].as_f64()), (Some(0.3), Some(3.0)));
    let mortar: Vec<f64> = choices.iter().map(|choice| choice["mortar_m3"].as_f64().unwrap()).collect();
    assert!(mortar.windows(2).all(|pair| pair[0] <= pair[1] + 1e-9), "{mortar:?}");
    for choice in choices {
        assert!(choice["quick"] == true && choice["days"].as_i64().unwrap() > 20 && choice["passes"].as_u64().unwrap() >= 1, "{choice}");
        assert!(choice["before_tax"]["amount"].as_str().unwrap().parse::<f64>().unwrap() > 0.0, "{choice}");
    }
    assert!(found["curve"]["basis"].as_str().unwrap().starts_with("quick: "));
    assert!(std::fs::read_to_string(&curve).unwrap().starts_with("<svg") && std::fs::read(&sheet).unwrap().starts_with(b"%PDF"));
}
