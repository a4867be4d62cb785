//! Scans of an invented wall, written in every format that is read: what comes back is the wall. Then the scans that must be refused. The plane is
//! held against NumPy's SVD (other tool, version pinned in `tests/reference/requirements.txt`; needs `HARLWRIGHT_PYTHON`).
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "identities/fixture.rs"]
mod fixture;
#[path = "../../../tests/reference/harness.rs"]
mod harness;

use std::io::Cursor;

use e57::{E57Writer, Record, RecordValue};
use proptest::prelude::*;
use serde_json::json;
use survey::{Cloud, Gridding, LengthUnit, Outline, ScanError, WallFound, fit_plane, grid, read_scan};

const LENGTH_M: f64 = 4.0;
const HEIGHT_M: f64 = 2.5;
const CELL_M: f64 = 0.02;

fn wall() -> WallFound {
    WallFound {
        outline: Outline::Rectangle { length_m: LENGTH_M, height_m: HEIGHT_M },
        openings: vec![fixture::opening("w1", 1.5, 0.8, 0.8, 1.0)],
        ..fixture::wall("north")
    }
}

/// The relief of the invented wall, m: waves that add up to no tilt.
fn relief(along: f64, up: f64) -> f64 {
    let turns = 2.0 * std::f64::consts::PI;
    0.006 * (turns * along / 0.8).sin() * (turns * up / 0.625).cos()
}

/// Turned by 30° on plan and set off, the scanner at nought in front of the face.
fn in_the_world([along, up, out]: [f64; 3]) -> [f64; 3] {
    let (sine, cosine) = (0.5, 0.75_f64.sqrt());
    let (x, y) = (along - 2.0, 4.0 - out);
    [cosine * x + sine * y, cosine * y - sine * x, up - 1.4]
}

/// Numbers of a linear congruential generator (Knuth's MMIX constants), 0 to 1.
fn draws(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / (1_u64 << 31) as f64
    }
}

/// The wall alone, a point each 10 mm.
fn face() -> Vec<[f64; 3]> {
    let cells = (0..250).flat_map(|row| (0..400).map(move |column| (f64::from(column) * 0.01 + 0.005, f64::from(row) * 0.01 + 0.005)));
    cells
        .filter(|(x, y)| !(1.5..2.3).contains(x) || !(0.8..1.8).contains(y))
        .map(|(along, up)| in_the_world([along, up, relief(along, up)]))
        .collect()
}

/// With ground before it, a scaffold tube, a bush, glass in the window and stray points.
fn cluttered() -> Vec<[f64; 3]> {
    let mut draw = draws(7);
    let mut points = face();
    for _ in 0..15_000 {
        points.push(in_the_world([LENGTH_M * draw(), 0.02 * draw(), 0.3 + 2.0 * draw()]));
        points.push(in_the_world([1.0 + 0.048 * draw(), HEIGHT_M * draw(), 0.40 + 0.048 * draw()]));
    }
    for _ in 0..4000 {
        points.push(in_the_world([3.0 + 0.3 * draw(), 0.4 * draw(), 0.16 + 0.2 * draw()]));
        points.push(in_the_world([1.5 + 0.8 * draw(), 0.8 + draw(), -0.25]));
    }
    points.extend((0..200).map(|_| in_the_world([LENGTH_M * draw(), HEIGHT_M * draw(), -0.05 + 0.14 * draw()])));
    points
}

fn ply(points: &[[f64; 3]], format: &str) -> Vec<u8> {
    let header = "element vertex COUNT\nproperty uchar red\nproperty float x\nproperty double y\nproperty float z\nproperty short s\n";
    let header = header.replace("COUNT", &points.len().to_string());
    let mut bytes =
        format!("ply\nformat {format} 1.0\ncomment invented\n{header}element face 0\nproperty list uchar int vertex_index\nend_header\n")
            .into_bytes();
    for [x, y, z] in points {
        match format {
            "ascii" => bytes.extend(format!("200 {x:.5} {y:.5} {z:.5} -3\n").bytes()),
            "binary_big_endian" => {
                bytes.push(200);
                bytes.extend((*x as f32).to_be_bytes());
                bytes.extend(y.to_be_bytes());
                bytes.extend((*z as f32).to_be_bytes());
                bytes.extend((-3_i16).to_be_bytes());
            }
            _ => {
                bytes.push(200);
                bytes.extend((*x as f32).to_le_bytes());
                bytes.extend(y.to_le_bytes());
                bytes.extend((*z as f32).to_le_bytes());
                bytes.extend((-3_i16).to_le_bytes());
            }
        }
    }
    bytes
}

fn table(points: &[[f64; 3]], scale: f64) -> Vec<u8> {
    let lines = points.iter().map(|[x, y, z]| format!("{:.6},{:.6},{:.6},17\n", x * scale, y * scale, z * scale));
    ("x,y,z,intensity\n".to_owned() + &lines.collect::<String>()).into_bytes()
}

fn las(points: &[[f64; 3]], packed: bool) -> Vec<u8> {
    let mut builder = las::Builder::from((1, 2));
    builder.point_format = las::point::Format::new(0).unwrap();
    builder.point_format.is_compressed = packed;
    let fine = las::Transform { scale: 0.0001, offset: 0.0 };
    builder.transforms = las::Vector { x: fine, y: fine, z: fine };
    let mut writer = las::Writer::new(Cursor::new(Vec::new()), builder.into_header().unwrap()).unwrap();
    for [x, y, z] in points {
        writer.write_point(las::Point { x: *x, y: *y, z: *z, ..las::Point::default() }).unwrap();
    }
    writer.into_inner().unwrap().into_inner()
}

fn e57(points: &[[f64; 3]]) -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    {
        let mut writer = E57Writer::new(&mut file, "invented").unwrap();
        let axes = vec![Record::CARTESIAN_X_F64, Record::CARTESIAN_Y_F64, Record::CARTESIAN_Z_F64];
        let mut cloud = writer.add_pointcloud("invented wall", axes).unwrap();
        for point in points {
            cloud.add_point(point.map(RecordValue::Double).to_vec()).unwrap();
        }
        cloud.finalize().unwrap();
        writer.finalize().unwrap();
    }
    file.into_inner()
}

fn asked(unit: Option<LengthUnit>) -> Gridding {
    Gridding { cell_m: CELL_M, unit, turned: false }
}

/// Root mean square and greatest difference between the grid and the wall, m.
fn differences(found: &survey::Gridded) -> (f64, f64) {
    let (mut squares, mut greatest, mut count) = (0.0, 0.0_f64, 0.0);
    for (cell, height) in found.field.heights_m.iter().enumerate().filter(|(_, height)| height.is_finite()) {
        let at = |place: usize| (place as f64 + 0.5) * CELL_M;
        let off = (height - relief(at(cell % found.field.columns), at(cell / found.field.columns))).abs();
        squares += off * off;
        greatest = greatest.max(off);
        count += 1.0;
    }
    ((squares / count).sqrt(), greatest)
}

#[test]
fn every_format_gives_the_wall_back() {
    let points = face();
    let files = [
        ("ascii.ply", ply(&points, "ascii")),
        ("little.ply", ply(&points, "binary_little_endian")),
        ("big.ply", ply(&points, "binary_big_endian")),
        ("table.csv", table(&points, 1.0)),
        ("wall.las", las(&points, false)),
        ("wall.laz", las(&points, true)),
        ("wall.e57", e57(&points)),
    ];
    for (name, bytes) in files {
        let cloud = read_scan(&bytes, name).unwrap();
        assert_eq!(cloud.points.len(), points.len(), "{name}");
        let found = grid(&cloud, &wall(), &asked(None), name).unwrap_or_else(|error| panic!("{name}: {error}"));
        let (middle, greatest) = differences(&found);
        assert!(middle < 0.0005 && greatest < 0.002, "{name}: {middle}, {greatest}, {:?}", found.notes);
        assert_eq!(found.unit, LengthUnit::Metre);
        // The foot is found to half the spacing of the points: one row and one column of cells at the outline's edge may go without.
        assert!(found.dropped.holes <= 125 + 200, "{name}: {:?}", found.dropped);
    }
}

#[test]
fn clutter_is_dropped_and_told() {
    let bytes = ply(&cluttered(), "binary_little_endian");
    let found = grid(&read_scan(&bytes, "wall.ply").unwrap(), &wall(), &asked(None), "wall.ply").unwrap();
    let (middle, greatest) = differences(&found);
    println!("clutter: {middle:.5} m, at most {greatest:.5} m; {:?}; {:?}", found.dropped, found.notes);
    assert!(middle < 0.001, "{middle}, {greatest}");
    let dropped = found.dropped;
    // Glass within a few millimetres of a jamb may be taken for behind the face: the foot is found to half the spacing of the points.
    assert!(dropped.in_front > 15_000 && dropped.in_openings > 3900 && dropped.in_openings + dropped.behind >= 4000, "{dropped:?}");
    let openings = found.field.heights_m.iter().filter(|height| height.is_nan()).count();
    assert_eq!(openings, 40 * 50, "the window alone is no wall: {dropped:?}");
}

#[test]
fn units_are_found_by_the_size_of_the_wall_or_declared() {
    for unit in LengthUnit::ALL {
        let bytes = table(&face(), 1.0 / unit.metres());
        let cloud = read_scan(&bytes, "wall.csv").unwrap();
        for declared in [None, Some(unit)] {
            let found = grid(&cloud, &wall(), &asked(declared), "wall.csv").unwrap();
            assert_eq!(found.unit, unit);
            assert!(differences(&found).0 < 0.0005, "{unit:?}");
        }
    }
    let feet = read_scan(&table(&face(), 1.0 / 0.3048), "feet.csv").unwrap();
    let refused = grid(&feet, &wall(), &asked(Some(LengthUnit::Metre)), "feet.csv").unwrap_err().to_string();
    assert!(refused.contains("in feet"), "{refused}");
}

#[test]
fn a_turned_wall_shows_its_high_spots_as_hollows() {
    let cloud = read_scan(&table(&face(), 1.0), "wall.csv").unwrap();
    let one = grid(&cloud, &wall(), &Gridding { turned: true, ..asked(None) }, "wall.csv").unwrap();
    let two = grid(&cloud, &wall(), &asked(None), "wall.csv").unwrap();
    let (columns, row) = (two.field.columns, 10);
    let mirrored = one.field.heights_m[row * columns + columns - 1 - 7] + two.field.heights_m[row * columns + 7];
    assert!(mirrored.abs() < 0.001, "{mirrored}");
}

#[test]
fn a_round_wall_is_rolled_out() {
    let radius = 3.0;
    let arc_deg = LENGTH_M / radius * 180.0 / std::f64::consts::PI;
    let round = WallFound { outline: Outline::Round { radius_m: radius, arc_deg, height_m: HEIGHT_M }, openings: Vec::new(), ..wall() };
    let points: Vec<[f64; 3]> = (0..250 * 400)
        .map(|cell| {
            let (along, up) = (f64::from(cell % 400) * 0.01 + 0.005, f64::from(cell / 400) * 0.01 + 0.005);
            let (angle, out) = (along / radius - 0.4, radius + relief(along, up));
            [20.0 + out * angle.cos(), -7.0 + out * angle.sin(), up]
        })
        .collect();
    let found = grid(&read_scan(&e57(&points), "tower.e57").unwrap(), &round, &asked(None), "tower.e57").unwrap();
    let (middle, greatest) = differences(&found);
    assert!(middle < 0.001 && greatest < 0.004, "{middle}, {greatest}, {:?}", found.notes);
}

#[test]
fn a_hole_is_never_filled_above_its_edges() {
    let sparse: Vec<[f64; 3]> =
        face().into_iter().enumerate().filter(|(place, _)| place % 7 != 0 && place / 1500 % 9 != 4).map(|(_, p)| p).collect();
    let cloud = read_scan(&table(&sparse, 1.0), "wall.csv").unwrap();
    let found = grid(&cloud, &wall(), &asked(None), "wall.csv").unwrap();
    assert!(found.dropped.bridged > 100, "{:?}", found.dropped);
    let highest = found.field.heights_m.iter().copied().fold(f64::MIN, f64::max);
    assert!(highest < 0.0065, "{highest}");
}

/// A scan in rows whose length divides the step at which points are looked at must not be seen as one column.
#[test]
fn rows_of_a_scan_do_not_hide_its_plane() {
    let points = (0..2_000_000_u32).map(|cell| [(cell % 500) as f32 * 0.008, 0.0, (cell / 500) as f32 * 0.000_625]).collect();
    let plane = fit_plane(&Cloud { points, ..Cloud::default() }, 1.0, "rows").unwrap();
    assert!(plane.normal[1].abs() > 1.0 - 1e-9 && plane.share > 0.999, "{plane:?}");
}

fn refused(bytes: &[u8], name: &str) -> ScanError {
    match read_scan(bytes, name) {
        Err(error) => error,
        Ok(cloud) => grid(&cloud, &wall(), &asked(None), name).expect_err(name),
    }
}

#[test]
fn scans_that_cannot_be_used_are_told_why() {
    let points = face();
    let whole = ply(&points, "binary_little_endian");
    assert!(matches!(refused(&whole[..whole.len() / 2], "half.ply"), ScanError::Truncated { .. }));
    let packed = las(&points, true);
    assert!(matches!(refused(&packed[..packed.len() / 2], "half.laz"), ScanError::Truncated { .. } | ScanError::Header { .. }));
    let scan = e57(&points);
    assert!(matches!(refused(&scan[..scan.len() / 2], "half.e57"), ScanError::Header { .. } | ScanError::Truncated { .. }));
    let lying = String::from_utf8(ply(&points[..20], "ascii")).unwrap().replace("vertex 20", "vertex 18446744073709551615");
    assert!(matches!(refused(lying.as_bytes(), "lying.ply"), ScanError::Truncated { found: 20, .. }));
    assert!(matches!(refused(b"\x00\x01\x02 no scan", "any.bin"), ScanError::NotKnown { .. }));
    assert!(matches!(refused(&table(&points[..3], 1.0), "three.csv"), ScanError::TooFew { .. }));
    let line: Vec<[f64; 3]> = (0..100).map(|place| [f64::from(place) * 0.1, 1.0, 2.0]).collect();
    assert!(matches!(refused(&table(&line, 1.0), "line.csv"), ScanError::Flat { .. }));
    let small: Vec<[f64; 3]> = points.iter().map(|point| point.map(|part| part * 0.45)).collect();
    assert!(matches!(
        grid(&read_scan(&e57(&small), "other.e57").unwrap(), &wall(), &asked(None), "other.e57"),
        Err(ScanError::WrongWall { .. })
    ));
    let mut two = points.clone();
    two.extend(points.iter().map(|[x, y, z]| [*y + 5.0, *x - 3.0, *z]));
    assert!(matches!(refused(&e57(&two), "two.e57"), ScanError::TwoWalls { .. }), "{}", refused(&e57(&two), "two.e57"));
    let none = WallFound { outline: Outline::Rectangle { length_m: 0.0, height_m: 0.0 }, ..wall() };
    let cloud = read_scan(&whole, "wall.ply").unwrap();
    assert!(matches!(grid(&cloud, &none, &asked(None), "wall.ply"), Err(ScanError::Grid { .. })));
}

#[test]
fn coordinates_that_are_no_numbers_are_dropped_and_counted() {
    let mut points = face();
    points[5] = [f64::NAN, 0.0, 0.0];
    points[6] = [0.0, f64::INFINITY, 0.0];
    let cloud = read_scan(&ply(&points, "binary_big_endian"), "wall.ply").unwrap();
    assert_eq!((cloud.not_finite, cloud.points.len()), (2, points.len() - 2));
}

#[test]
fn the_plane_is_that_of_the_singular_value_decomposition() {
    let mut draw = draws(1893);
    let clouds: Vec<Vec<[f64; 3]>> = (0..40)
        .map(|_| {
            let (tilt, lean, size) = (draw() - 0.5, draw() - 0.5, 1.0 + 5.0 * draw());
            (0..200)
                .map(|_| {
                    let (x, y) = (size * draw(), size * draw());
                    // Rounded to what a scan keeps, so that both are given the same points.
                    [x, tilt * x + lean * y + 0.01 * (draw() - 0.5), y].map(|part| f64::from(part as f32))
                })
                .collect()
        })
        .collect();
    let answers = harness::run("plane.py", &json!({ "clouds": clouds }));
    for (points, theirs) in clouds.iter().zip(answers["planes"].as_array().unwrap()) {
        let cloud = Cloud { points: points.iter().map(|point| point.map(|part| part as f32)).collect(), ..Cloud::default() };
        let ours = fit_plane(&cloud, 1.0, "cloud").unwrap();
        assert!((ours.share - 1.0).abs() < 1e-12, "all points lie within three spreads of even noise");
        let normal = harness::numbers(&theirs["normal"]);
        let sign = if normal.iter().zip(ours.normal).map(|(a, b)| a * b).sum::<f64>() < 0.0 { -1.0 } else { 1.0 };
        harness::assert_close("normal", &ours.normal.map(|part| sign * part), &normal, 1e-9, 0.0);
        harness::assert_close("mean", &ours.through_m, &harness::numbers(&theirs["mean"]), 1e-9, 0.0);
        harness::assert_close("spread", &[ours.spread_m], &[theirs["spread"].as_f64().unwrap()], 1e-9, 0.0);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn broken_bytes_never_bring_a_reader_down(which in 0..6_usize, cut in 0.0..1.0_f64, hits in prop::collection::vec((0.0..1.0_f64, any::<u8>()), 0..12)) {
        let points = &face()[..60];
        let mut bytes = match which {
            0 => ply(points, "ascii"),
            1 => ply(points, "binary_little_endian"),
            2 => table(points, 1.0),
            3 => las(points, false),
            4 => las(points, true),
            _ => e57(points),
        };
        bytes.truncate((cut.sqrt() * (bytes.len() + 1) as f64) as usize);
        let length = bytes.len();
        for (place, byte) in hits {
            if length > 0 {
                bytes[((place * place * length as f64) as usize).min(length - 1)] = byte;
            }
        }
        if let Ok(cloud) = read_scan(&bytes, "broken") {
            let _ = grid(&cloud, &wall(), &asked(None), "broken");
        }
    }
}
