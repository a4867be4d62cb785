//! The order of work of an invented job of eight walls in eight invented weather years, and of four: how long it takes on one thread and on two, what the
//! solver proves, and how many orders are lived. Run with `cargo bench -p works --bench order_of_work`; `-- four` leaves out the eight, `-- gangs` has two
//! gangs, `-- two` leaves out one thread.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../tests/works/fixture.rs"]
#[allow(dead_code, unused_imports, reason = "the tests use the rest")]
mod fixture;

use std::time::Instant;

use jiff::civil::date;
use works::{Unwatched, order_of_work};

const YEARS: usize = 12;
const WALLS: [&str; 8] = ["north", "east", "south", "west", "porch", "wing", "stair", "byre"];

fn main() {
    let given: Vec<String> = std::env::args().collect();
    let has = |word: &str| given.iter().any(|argument| argument == word);
    let weather = weather::invented::years(7, YEARS).unwrap();
    for count in [4, 8].into_iter().filter(|&count| count == 4 || !has("four")) {
        let mut inputs = fixture::job(&WALLS[..count]).inputs;
        for (number, wall) in inputs.building.walls.iter_mut().enumerate() {
            wall.faces_deg = 90.0 * number as f64 % 360.0;
            wall.outline = survey::Outline::Rectangle { length_m: 6.0 + number as f64, height_m: 5.0 };
        }
        inputs.building.surveyed_on = "2026-03-02".to_owned();
        inputs.window.start = date(2026, 4, 13);
        inputs.scaffold.from.value = date(2026, 4, 13);
        inputs.scaffold.walls_at_once = Some(4);
        inputs.system.cover = fixture::known("damp-hessian".to_owned());
        if has("gangs") {
            inputs.gangs.push(fixture::gang("Second gang"));
        }
        for threads in [1, 2].into_iter().filter(|&threads| threads == 2 || !has("two")) {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            let started = Instant::now();
            let found = pool.install(|| order_of_work(&inputs, Some(&weather), &Unwatched)).unwrap();
            println!(
                "{count} walls, {threads} threads: {:.1} s; {} orders lived in {} years",
                started.elapsed().as_secs_f64(),
                found.lived,
                found.years
            );
            if threads == 2 {
                for solved in &found.solved {
                    println!("  {}: {} Lived: {}", solved.gaps, solved.known, solved.judged.expected);
                }
                println!("  as it stands {}, best {}", found.as_it_stands.expected, found.orders[0].judged.expected);
            }
        }
    }
}
