//! A job with an order of work taken into it: what changes, and what stays byte for byte.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use jiff::civil::date;

use job::demo::JOB;
use job::{Taken, with_order};

fn taken(walls: &[&str], gangs: Vec<(String, usize)>) -> Taken {
    Taken { walls: walls.iter().map(|wall| (*wall).to_owned()).collect(), start: date(2027, 5, 10), scaffold_from: date(2027, 5, 3), gangs }
}

#[test]
fn walls_change_places_with_all_that_stands_in_them_and_every_comment() {
    let before = job::read(JOB, "demo").unwrap();
    let mut names: Vec<&str> = before.inputs.building.walls.iter().map(|wall| wall.slug.as_str()).collect();
    names.reverse();
    let text = with_order(JOB, &taken(&names, Vec::new())).unwrap();
    let after = job::read(&text, "changed").unwrap();
    assert_eq!(after.inputs.window.start, date(2027, 5, 10));
    for wall in &before.inputs.building.walls {
        let same = after.inputs.building.walls.iter().find(|other| other.slug == wall.slug).unwrap();
        assert_eq!(same, wall);
    }
    let sorted = |text: &str| {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        lines.sort();
        lines
    };
    let (one, other) = (sorted(JOB), sorted(&text));
    let differ = other.iter().filter(|line| !one.contains(line)).count();
    assert!(one.len() == other.len() && differ <= 2, "{differ} lines differ beside the start and the scaffold");
}

#[test]
fn the_order_as_it_stands_changes_nothing_but_the_start() {
    let before = job::read(JOB, "demo").unwrap();
    let names: Vec<&str> = before.inputs.building.walls.iter().map(|wall| wall.slug.as_str()).collect();
    let same = Taken { start: before.inputs.window.start, scaffold_from: before.inputs.scaffold.from.value, ..taken(&names, Vec::new()) };
    assert_eq!(with_order(JOB, &same).unwrap(), JOB);
}

#[test]
fn walls_are_given_to_gangs_by_their_short_names() {
    let job = format!("{JOB}\n[gangs.second]\nmasons = 2\n");
    let gangs = job::read(&job, "two").unwrap().inputs.gangs.len();
    let names: Vec<String> = job::read(&job, "two").unwrap().inputs.building.walls.iter().map(|wall| wall.slug.clone()).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let text = with_order(&job, &taken(&names, vec![("south".to_owned(), gangs - 1)])).unwrap();
    let read = job::read(&text, "changed").unwrap();
    assert_eq!(read.inputs.running.gang_of.get("south"), Some(&(gangs - 1)));
    assert!(with_order(&job, &taken(&names, vec![("south".to_owned(), 9)])).is_err());
}
