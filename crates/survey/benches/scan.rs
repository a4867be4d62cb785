//! Speed of a scan: a binary PLY of twenty million points read, its plane fitted and gridded at 10 mm, with the greatest memory the process has held.

use std::time::Instant;

use survey::{Gridding, fit_plane, grid, read_scan};

#[path = "../tests/identities/fixture.rs"]
mod fixture;

const COLUMNS: u32 = 5000;
const ROWS: u32 = 4000;

fn main() {
    let bytes = ply();
    println!("{} MB of PLY, {} points", bytes.len() / 1_000_000, COLUMNS * ROWS);
    let begun = Instant::now();
    let cloud = read_scan(&bytes, "bench.ply").unwrap_or_default();
    let read = begun.elapsed().as_secs_f64();
    let plane = fit_plane(&cloud, 1.0, "bench.ply").map(|plane| plane.spread_m);
    let fitted = begun.elapsed().as_secs_f64();
    let asked = Gridding { cell_m: 0.01, unit: None, turned: false };
    let found = grid(&cloud, &fixture::wall("north"), &asked, "bench.ply").map(|found| found.dropped);
    let gridded = begun.elapsed().as_secs_f64();
    println!(
        "read {read:.2} s, plane {:.2} s ({plane:?}), grid with its own plane {:.2} s, in all {gridded:.2} s",
        fitted - read,
        gridded - fitted
    );
    println!("{found:?}\nmost memory held, the file's bytes within it: {}", most_memory());
}

/// A wall of 10 by 4 m, waves 6 mm high.
fn ply() -> Vec<u8> {
    let mut bytes = format!(
        "ply\nformat binary_little_endian 1.0\nelement vertex {}\nproperty float x\nproperty float y\nproperty float z\nend_header\n",
        COLUMNS * ROWS
    )
    .into_bytes();
    bytes.reserve(12 * (COLUMNS * ROWS) as usize);
    for cell in 0..COLUMNS * ROWS {
        let (along, up) = (0.002 * f64::from(cell % COLUMNS), 0.001 * f64::from(cell / COLUMNS));
        for coordinate in [along - 5.0, 6.0 - 0.003 * (7.0 * along).sin() * (5.0 * up).cos(), up] {
            bytes.extend((coordinate as f32).to_le_bytes());
        }
    }
    bytes
}

/// As the kernel tells it, where it does.
fn most_memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    status.lines().find(|line| line.starts_with("VmHWM")).unwrap_or("not told on this machine").to_owned()
}
