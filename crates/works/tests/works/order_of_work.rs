//! The order of work for a job without weather, where every wait is known and the sums can be worked by hand.

use jiff::civil::date;
use weather::Weather;
use works::{Inputs, OrderOfWork, Unwatched, order_of_work, plan};

use crate::fixture::{gang, job};

fn found(slugs: &[&str], at_once: Option<u32>) -> OrderOfWork {
    let mut inputs = job(slugs).inputs;
    inputs.scaffold.walls_at_once = at_once;
    order_of_work(&inputs, None, &Unwatched).unwrap()
}

// Exact: by rule of thumb every coat waits a week, so that in the solver's order too a coat begins a week after the one beneath has ended, on a working day.
#[test]
fn pieces_keep_the_week_between_coats() {
    let found = found(&["north", "south"], None);
    assert_eq!(found.solved.len(), 1, "without weather there is one confidence");
    let ordered = &found.solved[0];
    assert!(ordered.known.starts_with("Proved"), "{}", ordered.known);
    for wall in ["North wall", "South wall"] {
        let coats: Vec<_> = ordered.pieces.iter().filter(|piece| piece.name.starts_with(wall) && piece.name.contains("coat")).collect();
        assert!(coats.len() > 1, "{:?}", ordered.pieces);
        for pair in coats.windows(2) {
            assert!((pair[1].from - pair[0].to).get_days() >= 7, "{} {}", pair[0].to, pair[1].from);
        }
    }
    let mut starts: Vec<_> = ordered.pieces.iter().map(|piece| piece.from).collect();
    starts.sort();
    assert!(starts[0] >= date(2026, 6, 1));
}

// Identity: the job as it stands comes to what the plan comes to, and the same question has the same answer.
#[test]
fn the_job_as_it_stands_is_the_plan() {
    let inputs = job(&["north", "south"]).inputs;
    let found = order_of_work(&inputs, None, &Unwatched).unwrap();
    let planned = plan(&inputs, None, &Unwatched).unwrap();
    assert_eq!(found.as_it_stands.middle, planned.programme.runs[0].finished);
    assert_eq!(found.as_it_stands.visits, f64::from(planned.programme.runs[0].visits));
    assert_eq!(found, order_of_work(&inputs, None, &Unwatched).unwrap());
}

// With one wall scaffolded at a time, no piece of the second wall begins before the first wall's last has ended.
#[test]
fn one_scaffold_keeps_walls_apart() {
    let found = found(&["north", "south"], Some(1));
    let ordered = &found.solved[0];
    let of = |slug: &str| {
        let name = format!("{}{} wall", slug[..1].to_uppercase(), &slug[1..]);
        let pieces: Vec<_> = ordered.pieces.iter().filter(|piece| piece.name.starts_with(&name)).collect();
        (pieces.iter().map(|piece| piece.from).min().unwrap(), pieces.iter().map(|piece| piece.to).max().unwrap())
    };
    let spans = [of("north"), of("south")];
    assert!(spans[0].1 <= spans[1].0 || spans[1].1 <= spans[0].0, "{spans:?}");
}

/// Two walls of unlike size that look north and south, begun in April, in invented years.
fn in_weather() -> (Inputs, Weather) {
    let mut inputs = job(&["north", "south"]).inputs;
    inputs.building.walls[1].faces_deg = 180.0;
    inputs.building.walls[1].outline = survey::Outline::Rectangle { length_m: 5.0, height_m: 5.0 };
    inputs.building.surveyed_on = "2026-03-16".to_owned();
    inputs.window.start = date(2026, 4, 6);
    inputs.scaffold.from.value = date(2026, 4, 6);
    (inputs, weather::invented::years(7, 5).unwrap())
}

// Identities: the same years serve the plan and every order; the job as it stands is among those lived, so that the best is no dearer; what is told adds up; and a name
// is borne out by the years.
#[test]
fn in_weather_the_best_is_no_dearer_than_the_job_as_it_stands() {
    let (inputs, weather) = in_weather();
    let found = order_of_work(&inputs, Some(&weather), &Unwatched).unwrap();
    assert_eq!(found.years, 5);
    let planned = plan(&inputs, Some(&weather), &Unwatched).unwrap().programme;
    let visits: u32 = planned.runs.iter().map(|run| run.visits).sum();
    assert!((found.as_it_stands.visits - f64::from(visits) / 5.0).abs() < 1e-12, "{} {visits}", found.as_it_stands.visits);
    assert_eq!(found.as_it_stands.middle, planned.runs[planned.middle].finished);
    let best = &found.orders[0].judged;
    assert!(best.unfinished < found.as_it_stands.unfinished || best.expected.amount <= found.as_it_stands.expected.amount);
    for judged in found.orders.iter().map(|ordered| &ordered.judged).chain([&found.as_it_stands]) {
        assert_eq!(judged.expected.amount, judged.cost.amount + judged.late.amount + judged.risk.amount);
        assert!(judged.dear.amount >= judged.cost.amount + judged.late.amount);
    }
    for ordered in &found.orders[1..] {
        let cheaper = ordered.judged.cost.amount + ordered.judged.late.amount < best.cost.amount + best.late.amount;
        assert_eq!(cheaper, ordered.name.starts_with("Cheaper"), "{ordered:?}");
        assert!(ordered.differs.starts_with("Beside the best it"), "{}", ordered.differs);
    }
    assert_eq!(found.orders.len() + found.missing.len(), 3, "each of the three is told, or said to be missing: {:?}", found.missing);
    assert!(!found.solved.is_empty());
}

// The same bits on one thread and on two.
#[test]
fn in_weather_the_answer_does_not_hang_on_threads() {
    let (inputs, weather) = in_weather();
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| order_of_work(&inputs, Some(&weather), &Unwatched)).unwrap()
    };
    assert_eq!(on(1), on(2));
}

// Two gangs and two walls of a gang-day for each piece: one gang on each wall is done sooner than both walls by one gang, and by rule of thumb nothing else differs. What
// the solver gave stands in the order, and the foreman keeps to it.
#[test]
fn walls_are_given_to_gangs() {
    let mut inputs = job(&["north", "south"]).inputs;
    inputs.gangs = vec![gang("First gang"), gang("Second gang")];
    let found = order_of_work(&inputs, None, &Unwatched).unwrap();
    let best = &found.orders[0];
    let mut bound = inputs.clone();
    bound.running.gang_of = best.gangs.iter().cloned().collect();
    bound.building.walls.sort_by_key(|wall| best.walls.iter().position(|slug| *slug == wall.slug));
    bound.window.start = best.start;
    bound.scaffold.from.value = best.scaffold_from;
    let run = plan(&bound, None, &Unwatched).unwrap().programme.runs.remove(0);
    assert_eq!(run.finished, best.judged.middle);
    assert_eq!(f64::from(run.visits), best.judged.visits);
    for (wall, gang) in &best.gangs {
        let lived = run.walls.iter().find(|run| run.slug == *wall).unwrap();
        assert!(lived.tasks.iter().all(|task| task.gang == inputs.gangs[*gang].name));
    }
}

// The critical path of one wall, worked by hand, ends on 29 June (critical_path.rs).
#[test]
fn an_impossible_date_is_refused_with_what_binds() {
    let mut inputs = job(&["north"]).inputs;
    inputs.window.finish_by = Some(date(2026, 6, 20));
    let refused = order_of_work(&inputs, None, &Unwatched).unwrap_err().to_string();
    assert!(refused.contains("20 June 2026") && refused.contains("old enough"), "{refused}");
}
