//! The order of work for a job without weather, where every wait is known and the sums can be worked by hand.

use jiff::civil::date;
use works::{OrderOfWork, Unwatched, order_of_work, plan};

use crate::fixture::job;

fn found(slugs: &[&str], at_once: Option<u32>) -> OrderOfWork {
    let mut inputs = job(slugs).inputs;
    inputs.scaffold.walls_at_once = at_once;
    order_of_work(&inputs, None, &Unwatched).unwrap()
}

// Exact: by rule of thumb every coat waits a week, so that in the solver's order too a coat begins a week after the one beneath has ended, on a working day.
#[test]
fn pieces_keep_the_week_between_coats() {
    let found = found(&["north", "south"], None);
    assert_eq!(found.orders.len(), 1, "without weather there is one confidence");
    let ordered = &found.orders[0];
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
    assert_eq!(starts[0], ordered.start);
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
    let ordered = &found.orders[0];
    let of = |slug: &str| {
        let name = format!("{}{} wall", slug[..1].to_uppercase(), &slug[1..]);
        let pieces: Vec<_> = ordered.pieces.iter().filter(|piece| piece.name.starts_with(&name)).collect();
        (pieces.iter().map(|piece| piece.from).min().unwrap(), pieces.iter().map(|piece| piece.to).max().unwrap())
    };
    let spans = [of("north"), of("south")];
    assert!(spans[0].1 <= spans[1].0 || spans[1].1 <= spans[0].0, "{spans:?}");
}
