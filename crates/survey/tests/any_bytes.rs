//! Any bytes are read to an end: no reader of scans or offsets panics, hangs or takes memory without bound. A seeded run of some hundred inputs a reader by
//! default; with `HARLWRIGHT_LONG` set (by `cargo xtask test --long`) two minutes for each reader.
//!
//! The bound: beside the bytes of the file a reader holds at most [`BOUND_BYTES`] and [`BOUND_TIMES`] times the file. Linux says how much the process ever
//! held; where it does not, only panics and hangs are looked for.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::io::Cursor;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use e57::{E57Writer, Record, RecordValue};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use survey::{read_offsets, read_scan};

const DEFAULT_INPUTS: u64 = 400;
const LONG: Duration = Duration::from_secs(120);
/// Memory a reader may take whatever the file, and how many times the file on top of it: points are twelve bytes for as few as two of a packed file.
const BOUND_BYTES: u64 = 256 * 1024 * 1024;
const BOUND_TIMES: u64 = 40;

/// One reader at a time, so that the memory is its own.
static TURN: Mutex<()> = Mutex::new(());

/// The most the process ever held, bytes.
fn peak() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse::<u64>().ok().map(|kb| 1024 * kb)
}

/// Scraps that readers look for, so that changed bytes get past the first line now and then.
const SCRAPS: [&[u8]; 18] = [
    b"\n",
    b",",
    b";",
    b"nan",
    b"inf",
    b"1e308",
    b"-",
    b"#",
    b"\0\0\0\0",
    b"\xff\xff\xff\xff\xff\xff\xff\x7f",
    b"\xff\xff\xff\xff",
    b"end_header\n",
    b"element vertex 4000000000\n",
    b"property list uchar int x\n",
    b"property double x\n",
    b"format binary_big_endian 1.0\n",
    b"recordCount=\"999999999\"",
    b"x,y,z\n",
];

struct Bytes(ChaCha8Rng);

impl Bytes {
    fn below(&mut self, count: usize) -> usize {
        (self.0.next_u64() % count.max(1) as u64) as usize
    }

    /// A sound file with a few changes: a byte, a cut, a doubled or a lost part, a scrap; changes lie mostly in its first kilobytes, where headers are.
    fn input(&mut self, seeds: &[Vec<u8>]) -> Vec<u8> {
        let mut bytes = if self.below(16) == 0 {
            (0..self.below(600)).map(|_| self.0.next_u64() as u8).collect()
        } else {
            seeds[self.below(seeds.len())].clone()
        };
        for _ in 0..=self.below(5) {
            let reach = if self.below(3) == 0 { bytes.len() + 1 } else { (bytes.len() + 1).min(2048) };
            let (at, to) = (self.below(reach), self.below(reach));
            match self.below(6) {
                0 | 1 if at < bytes.len() => bytes[at] = self.0.next_u64() as u8,
                2 if self.below(4) == 0 => bytes.truncate(at),
                3 => {
                    let part = bytes[at.min(to)..at.max(to).min(at.min(to) + 3000)].to_vec();
                    bytes.splice(at.min(to)..at.min(to), part);
                }
                4 => {
                    bytes.drain(at.min(to)..at.max(to).min(at.min(to) + 200));
                }
                _ => {
                    let scrap = SCRAPS[self.below(SCRAPS.len())];
                    let over = (at + scrap.len()).min(bytes.len());
                    // Laid over what stands there, so that lengths of a binary header stay where they are, or put between.
                    if self.below(2) == 0 {
                        bytes.splice(at..over.max(at), scrap.iter().copied());
                    } else {
                        bytes.splice(at..at, scrap.iter().copied());
                    }
                }
            }
        }
        bytes
    }
}

/// Runs one reader over inputs made from its seeds.
fn run(number: u64, seeds: &[Vec<u8>], read: &dyn Fn(&[u8])) {
    let _turn = TURN.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    // The readers of foreign formats stop a library's panic and make a fault of it: its noise says nothing.
    std::panic::set_hook(Box::new(|_| {}));
    let mut source = Bytes(ChaCha8Rng::seed_from_u64(number));
    let long = std::env::var_os("HARLWRIGHT_LONG").is_some();
    let (start, before) = (Instant::now(), peak());
    let (mut count, mut largest) = (0, 0);
    while if long { start.elapsed() < LONG } else { count < DEFAULT_INPUTS } {
        let input = source.input(seeds);
        let begun = Instant::now();
        let whole = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| read(&input)));
        let took = begun.elapsed();
        drop(std::panic::take_hook());
        assert!(whole.is_ok(), "input {count} of reader {number} panicked");
        assert!(took < Duration::from_secs(10), "{} bytes took {took:?}", input.len());
        std::panic::set_hook(Box::new(|_| {}));
        largest = largest.max(input.len() as u64);
        count += 1;
    }
    drop(std::panic::take_hook());
    let grown = peak().zip(before).map(|(after, before)| after - before);
    println!("reader {number}: {count} inputs up to {largest} bytes in {:.1?}, memory grew by {grown:?} bytes", start.elapsed());
    if let Some(grown) = grown {
        assert!(grown <= BOUND_BYTES + BOUND_TIMES * largest, "reader {number} took {grown} bytes for files of {largest} at most");
    }
}

fn points(count: u32) -> Vec<[f64; 3]> {
    (0..count).map(|at| [f64::from(at % 40) * 0.1, 6.0 + 0.01 * f64::from(at % 7), f64::from(at / 40) * 0.1]).collect()
}

fn ply(format: &str) -> Vec<u8> {
    let points = points(400);
    let mut bytes = format!(
        "ply\nformat {format} 1.0\nelement vertex {}\nproperty float x\nproperty double y\nproperty float z\nproperty uchar red\nend_header\n",
        points.len()
    )
    .into_bytes();
    for [x, y, z] in points {
        match format {
            "ascii" => bytes.extend(format!("{x:.4} {y:.4} {z:.4} 7\n").bytes()),
            "binary_big_endian" => {
                bytes.extend((x as f32).to_be_bytes());
                bytes.extend(y.to_be_bytes());
                bytes.extend((z as f32).to_be_bytes());
                bytes.push(7);
            }
            _ => {
                bytes.extend((x as f32).to_le_bytes());
                bytes.extend(y.to_le_bytes());
                bytes.extend((z as f32).to_le_bytes());
                bytes.push(7);
            }
        }
    }
    bytes
}

fn las(packed: bool) -> Vec<u8> {
    let mut builder = las::Builder::from((1, 2));
    builder.point_format = las::point::Format::new(0).unwrap();
    builder.point_format.is_compressed = packed;
    let mut writer = las::Writer::new(Cursor::new(Vec::new()), builder.into_header().unwrap()).unwrap();
    for [x, y, z] in points(400) {
        writer.write_point(las::Point { x, y, z, ..las::Point::default() }).unwrap();
    }
    writer.into_inner().unwrap().into_inner()
}

fn e57() -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    {
        let mut writer = E57Writer::new(&mut file, "invented").unwrap();
        let axes = vec![Record::CARTESIAN_X_F64, Record::CARTESIAN_Y_F64, Record::CARTESIAN_Z_F64];
        let mut cloud = writer.add_pointcloud("invented", axes).unwrap();
        for point in points(400) {
            cloud.add_point(point.map(RecordValue::Double).to_vec()).unwrap();
        }
        cloud.finalize().unwrap();
        writer.finalize().unwrap();
    }
    file.into_inner()
}

fn table() -> Vec<u8> {
    let lines: String = points(200).iter().map(|[x, y, z]| format!("{x:.3},{y:.3},{z:.3},9\n")).collect();
    format!("x,y,z,intensity\n{lines}").into_bytes()
}

#[test]
fn ply_of_every_order() {
    let seeds = [ply("ascii"), ply("binary_little_endian"), ply("binary_big_endian")];
    run(1, &seeds, &|bytes| drop(read_scan(bytes, "x")));
}

#[test]
fn las_and_laz() {
    run(2, &[las(false), las(true)], &|bytes| drop(read_scan(bytes, "x")));
}

#[test]
fn e57_files() {
    run(3, &[e57()], &|bytes| drop(read_scan(bytes, "x")));
}

#[test]
fn tables_of_points() {
    run(4, &[table()], &|bytes| drop(read_scan(bytes, "x")));
}

#[test]
fn tables_of_offsets() {
    let row: String = (0..30).map(|cell| format!("{},", cell % 9)).collect();
    let seeds = [format!("# invented\n{row}1\n").repeat(20).into_bytes(), b"1;2;-\n3;nan;4\n".to_vec()];
    run(5, &seeds, &|bytes| {
        if let Ok(text) = std::str::from_utf8(bytes) {
            drop(read_offsets(text, "x", 0.3));
        }
    });
}
