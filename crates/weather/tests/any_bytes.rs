//! Any bytes are read to an end: no reader panics, hangs or takes memory without bound. A seeded run of some thousand inputs by default; with `HARLWRIGHT_LONG` set
//! (by `cargo xtask test --long`) two minutes for each reader.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::time::{Duration, Instant};

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use weather::{Forecast, Mapping, Normals, decode, invented, read_any, read_csv, read_daily, read_epw, read_mapped, read_tmy3, write_csv};

const DEFAULT_INPUTS: u64 = 1_500;
const LONG: Duration = Duration::from_secs(120);

/// Scraps that readers look for, so that random bytes get past the first line now and then.
const SCRAPS: [&str; 26] = [
    "\n",
    ",",
    ";",
    "\"",
    "#",
    "-",
    ".",
    "e9",
    "-9900",
    "99999999999999999999",
    "2001,1,1,0,",
    "2004,2,29,23,",
    "01/01/1997,24:00,",
    "NaN",
    "inf",
    "1e308",
    "\u{feff}",
    "\0",
    "# latitude_deg: 90\n",
    "# kind: typical\n",
    "LOCATION,",
    "Date (MM/DD/YYYY)",
    "year,month,day,hour",
    "min_c,max_c",
    "[columns]\n",
    "2026-05-04,6,14,0,3\n",
];

struct Bytes(ChaCha8Rng);

impl Bytes {
    fn below(&mut self, count: usize) -> usize {
        (self.0.next_u64() % count.max(1) as u64) as usize
    }

    /// A seed text with a few changes: a byte, a cut, a doubled part, a scrap; or nothing but noise.
    fn input(&mut self, seeds: &[Vec<u8>]) -> Vec<u8> {
        let mut bytes = if self.below(8) == 0 {
            (0..self.below(400)).map(|_| self.0.next_u64() as u8).collect()
        } else {
            seeds[self.below(seeds.len())].clone()
        };
        for _ in 0..=self.below(6) {
            let (at, to) = (self.below(bytes.len() + 1), self.below(bytes.len() + 1));
            match self.below(5) {
                0 if at < bytes.len() => bytes[at] = self.0.next_u64() as u8,
                1 => bytes.truncate(at),
                2 => {
                    let part = bytes[at.min(to)..at.max(to).min(at.min(to) + 4000)].to_vec();
                    bytes.splice(at.min(to)..at.min(to), part);
                }
                3 => {
                    bytes.drain(at.min(to)..at.max(to).min(at.min(to) + 200));
                }
                _ => {
                    let scrap = SCRAPS[self.below(SCRAPS.len())].bytes();
                    bytes.splice(at..at, scrap);
                }
            }
        }
        bytes
    }
}

/// Runs one reader over inputs made from its seeds.
fn run(number: u64, seeds: &[Vec<u8>], read: &dyn Fn(&[u8])) {
    let mut source = Bytes(ChaCha8Rng::seed_from_u64(number));
    let long = std::env::var_os("HARLWRIGHT_LONG").is_some();
    let start = Instant::now();
    let mut count = 0;
    while if long { start.elapsed() < LONG } else { count < DEFAULT_INPUTS } {
        let input = source.input(seeds);
        let before = Instant::now();
        read(&input);
        assert!(before.elapsed() < Duration::from_secs(10), "{} bytes took {:?}", input.len(), before.elapsed());
        count += 1;
    }
    println!("{count} inputs in {:.1?}", start.elapsed());
}

fn bad(name: &str) -> Vec<u8> {
    std::fs::read(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/bad/weather").join(name)).unwrap()
}

/// The head and first days of an invented year, and the whole of it now and then.
fn own_csv() -> Vec<Vec<u8>> {
    let whole = write_csv(&invented::years(1, 1).unwrap());
    let few: String = whole.lines().take(60).map(|line| format!("{line}\n")).collect();
    vec![few.clone().into_bytes(), few.into_bytes(), bad("words-for-numbers.csv"), bad("many-years.csv"), whole.into_bytes()]
}

#[test]
fn our_csv() {
    run(1, &own_csv(), &|bytes| drop(read_csv(&decode(bytes).0, "x")));
}

#[test]
fn epw() {
    run(2, &[bad("cut-short.epw"), bad("wrong-values.epw")], &|bytes| drop(read_epw(&decode(bytes).0, "x")));
}

#[test]
fn tmy3() {
    let sound = String::from_utf8(bad("cut-short.tmy3.csv")).unwrap().replace("-400", "-4").into_bytes();
    run(3, &[bad("cut-short.tmy3.csv"), sound], &|bytes| drop(read_tmy3(&decode(bytes).0, "x")));
}

#[test]
fn days() {
    run(4, &[bad("days-out-of-order.csv")], &|bytes| drop(read_daily(&decode(bytes).0, "x")));
}

#[test]
fn any_file() {
    let seeds = [own_csv(), vec![bad("cut-short.epw"), bad("days-out-of-order.csv"), bad("cut-short.tmy3.csv")]].concat();
    run(5, &seeds, &|bytes| drop(read_any(bytes, "x")));
}

#[test]
fn declarations_and_their_tables() {
    let page = include_str!("../../../docs/weather-tables.md");
    let declaration = page.split("```toml\n").nth(1).unwrap().split("```").next().unwrap().as_bytes().to_vec();
    let sound = Mapping::from_toml(&String::from_utf8(declaration.clone()).unwrap(), "x").unwrap();
    let table = b"a\nb\nDate;Time;T;RH;FF;DD;RR;G\n01.01.2001;01:00;1,5;90;4;200;0;0\n01.01.2001;02:00;1,5;90;4;200;-999;0\n".to_vec();
    run(6, &[declaration], &|bytes| drop(Mapping::from_toml(&decode(bytes).0, "x")));
    run(7, &[table], &|bytes| drop(read_mapped(&decode(bytes).0, &sound, "x")));
}

#[test]
fn normals_and_forecasts() {
    let page = include_str!("../../../docs/weather-normals.md");
    let example = page.split("```toml\n").nth(1).unwrap().split("```").next().unwrap().as_bytes().to_vec();
    // What is accepted must also be makeable.
    run(8, &[example, bad("normals.toml")], &|bytes| {
        if let Ok(normals) = Normals::from_toml(&decode(bytes).0, "x") {
            let made = weather::make(&normals, 1, 1).unwrap();
            let year = &made.years[0];
            assert!(year.air_c.iter().chain(&year.rain_mm).chain(&year.global_w_m2).chain(&year.sky_w_m2).all(|value| value.is_finite()));
        }
    });
    run(9, &[bad("forecast.txt"), b"2026-05-04,6,14,0,3\n2026-05-05,6,14,2,3\n".to_vec()], &|bytes| {
        drop(Forecast::from_text(&decode(bytes).0, "x"))
    });
}
