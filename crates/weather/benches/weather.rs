//! Speed of reading, making, judging and bringing weather to faces, on one core, best of several, in processor time; and the peak memory of the whole run. The baseline beside the
//! number parser is the standard library's on the same text.
#![allow(clippy::unwrap_used, reason = "a bench that cannot run must stop")]

use std::fmt::Write;
use std::hint::black_box;
use std::time::Instant;

use weather::{Face, Roughness, WeatherYear, invented, judge, make, on_face, read_csv, read_epw, write_csv};

fn main() {
    let made = best_of(3, || drop(make(&invented::normals(), 1, 30).unwrap()));
    println!("make 30 years: {:.0} ms (bar 500)", made * 1e3);
    println!("peak memory until here: {}", peak_memory());
    let twelve = invented::years(invented::DEMO_SEED, 12).unwrap();
    let csv = write_csv(&twelve);
    let csv_s = best_of(5, || drop(read_csv(&csv, "x").unwrap()));
    println!("read 12 years of CSV, {:.1} MB: {:.0} ms", csv.len() as f64 / 1e6, csv_s * 1e3);
    let standard = best_of(5, || {
        black_box(
            csv.lines()
                .filter(|line| line.starts_with('2'))
                .flat_map(|line| line.split(','))
                .map(|field| field.parse::<f64>().unwrap())
                .sum::<f64>(),
        );
    });
    println!("  its numbers alone by the standard library's parser: {:.0} ms; ratio {:.2}", standard * 1e3, csv_s / standard);
    let epw = epw_text(&twelve.years[0]);
    // Twenty at a time: the system tells processor time in steps of some milliseconds.
    let epw_s = best_of(5, || (0..20).for_each(|_| drop(read_epw(&epw, "x.epw").unwrap()))) / 20.0;
    println!("read an EPW file, {:.1} MB: {:.1} ms (bar 20)", epw.len() as f64 / 1e6, epw_s * 1e3);
    let faces = best_of(5, || {
        for faces_deg in [0.0, 90.0, 180.0, 270.0] {
            let face = Face {
                faces_deg,
                height_m: 3.0,
                roughness: Roughness::Farmland,
                obstruction_m: None,
                wall_factor: 0.4,
                horizon_deg: 0.0,
                ground_reflectance: 0.2,
            };
            drop(black_box(on_face(&twelve, &face)));
        }
    });
    println!("four faces of 12 years: {:.0} ms", faces * 1e3);
    println!("judge 12 years: {:.0} ms", best_of(5, || drop(judge(&twelve, 0.0))) * 1e3);
    println!("peak memory of all: {}", peak_memory());
}

/// Shortest of several runs, s of this thread's processor time where the system tells it (so that a busy machine does not count), else of the clock.
fn best_of(runs: usize, mut work: impl FnMut()) -> f64 {
    let clock = Instant::now();
    let now = || processor_s().unwrap_or_else(|| clock.elapsed().as_secs_f64());
    (0..runs).fold(f64::INFINITY, |best, _| {
        let start = now();
        work();
        best.min(now() - start)
    })
}

/// Processor time of this thread so far, s.
fn processor_s() -> Option<f64> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split_whitespace().next()?.parse::<f64>().ok().map(|nanoseconds| nanoseconds * 1e-9)
}

/// Most memory held so far, where the system tells it.
fn peak_memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))
        .map_or_else(|| "not told by this system".to_owned(), |rest| rest.trim().to_owned())
}

/// A year in the EPW layout.
fn epw_text(year: &WeatherYear) -> String {
    let mut text = String::from("LOCATION,Port Calder (invented),-,ZZZ,Invented,000000,57.0,-4.0,0.0,12.0\n");
    text.push_str("DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\nCOMMENTS 2,\nDATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n");
    for hour in 0..year.hours() {
        let (month, day) = year.month_and_day(hour);
        let (air, percent) = (year.air_c[hour], year.humidity[hour] * 100.0);
        let (global, direct, diffuse) = (year.global_w_m2[hour], year.direct_w_m2[hour], year.diffuse_w_m2[hour]);
        let _ = writeln!(
            text,
            "2001,{month},{day},{},60,?9?9?9?9E0?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9*9*9?9?9?9,{air},0.0,{percent:.0},{:.0},0,1415,{:.0},{global:.0},{direct:.0},{diffuse:.0},0,0,0,0,{:.0},{},5,5,20.0,420,9,999999999,0,0.0500,0,88,0.000,{},1.0",
            hour % 24 + 1,
            year.pressure_pa[hour],
            year.sky_w_m2[hour],
            year.wind_from_deg[hour],
            year.wind_m_s[hour],
            year.rain_mm[hour],
        );
    }
    text
}
