//! The season of the demonstration job: four walls, 52 start weeks, 30 invented years of its place, on two threads; wall time and processor time, the
//! cell-steps taken, and the most memory held. Run with `cargo bench -p job --bench season`; `-- one` runs on one thread, `-- 12` so many years.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::sync::Mutex;
use std::time::Instant;

use works::{Season, Watch};

const YEARS: usize = 30;

/// Seconds at which each stage was first told of.
struct Clock {
    began: Instant,
    stages: Mutex<Vec<(String, f64)>>,
}

impl Watch for Clock {
    fn progress(&self, stage: &str, _: usize, _: usize) {
        let mut stages = self.stages.lock().unwrap();
        if stages.last().is_none_or(|(last, _)| last != stage) {
            stages.push((stage.to_owned(), self.began.elapsed().as_secs_f64()));
        }
    }

    fn cancelled(&self) -> bool {
        false
    }
}

fn main() {
    let given: Vec<String> = std::env::args().collect();
    let years = given.iter().find_map(|argument| argument.parse().ok()).unwrap_or(YEARS);
    let threads = if given.iter().any(|argument| argument == "one") { 1 } else { 2 };
    let job = job::read(job::demo::JOB, "job.toml").unwrap();
    let weather = weather::invented::years(weather::invented::DEMO_SEED, years).unwrap();
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    let clock = Clock { began: Instant::now(), stages: Mutex::new(Vec::new()) };
    let before = processor_s();
    let season: Season = pool.install(|| works::season(&job.inputs, &weather, &clock)).unwrap();
    let (wall_s, processor_s) = (clock.began.elapsed().as_secs_f64(), processor_s() - before);
    println!(
        "{} walls × {years} years × {} starts, {threads} threads: {wall_s:.2} s, {processor_s:.2} s of processor time; {:.0} million cell-steps, {:.1} ns of \
         processor time each{}",
        season.walls.len(),
        season.weeks.len(),
        season.cell_steps as f64 / 1e6,
        processor_s * 1e9 / season.cell_steps as f64,
        memory()
    );
    for (stage, second) in clock.stages.into_inner().unwrap() {
        println!("  {second:6.2} s: first word of “{stage}”");
    }
    println!("  {}", season.sentence);
}

/// Processor time of all threads, s, where the system tells it: 100 ticks a second.
fn processor_s() -> f64 {
    let told = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after_name = told.rsplit(')').next().unwrap_or("");
    let ticks = |place: usize| after_name.split_whitespace().nth(place).and_then(|ticks| ticks.parse::<f64>().ok());
    (ticks(11).unwrap_or(0.0) + ticks(12).unwrap_or(0.0)) / 100.0
}

/// Most memory held so far, where the system tells it.
fn memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    status.lines().find(|line| line.starts_with("VmHWM")).map_or(String::new(), |line| format!("; {}", line.replace(['\t', ' '], "")))
}
