//! A job's text with an order of work taken into it: the walls in another order, another start, walls given to gangs. Comments and all other bytes stay with
//! what they stand at. It must never take an order that the text, read again, does not hold.

use jiff::civil::Date;
use toml_edit::{DocumentMut, Item, Table};

use crate::edit::Editing;

/// What is taken into a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// Walls in order, by their short names: all of the job.
    pub walls: Vec<String>,
    /// First day on the wall.
    pub start: Date,
    /// First day of scaffold.
    pub scaffold_from: Date,
    /// Walls that one gang alone works on, by its place in the job.
    pub gangs: Vec<(String, usize)>,
}

/// The text with the order taken in.
///
/// # Errors
/// Why it could not be, in a sentence.
pub fn with_order(text: &str, taken: &Taken) -> Result<String, String> {
    let mut editing = Editing::open(text).ok_or("The job file does not read as TOML.")?;
    let gangs = editing.names("gangs");
    let mut set = |path: String, value: String| editing.set(&path, &value).map_err(|refused| refused.to_string());
    set("window.start".to_owned(), taken.start.to_string())?;
    for (wall, gang) in &taken.gangs {
        let gang = gangs.get(*gang).ok_or("The job names no such gang.")?;
        set(format!("walls.{wall}.gang"), gang.clone())?;
    }
    if editing.written("scaffold.from").is_some() {
        editing.set("scaffold.from", &taken.scaffold_from.to_string()).map_err(|refused| refused.to_string())?;
    }
    let mut document: DocumentMut = editing.text().parse().map_err(|_| "The changed job does not read as TOML.")?;
    put_in_order(&mut document, &taken.walls);
    let changed = document.to_string();
    let read = crate::read(&changed, "the changed job").map_err(|_| "The changed job does not read again.")?;
    let walls: Vec<&String> = read.inputs.building.walls.iter().map(|wall| &wall.slug).collect();
    let wanted: Vec<&String> = taken.walls.iter().collect();
    if walls != wanted {
        return Err(
            "The walls of this job are not each written as a table of its own, so that they could not be put in order: put them so by hand.".to_owned(),
        );
    }
    Ok(changed)
}

/// Puts the tables of the walls in order: the places in the text that they and the tables within them hold are dealt out anew.
fn put_in_order(document: &mut DocumentMut, walls: &[String]) {
    let Some(table) = document.get_mut("walls").and_then(Item::as_table_mut) else { return };
    let mut places: Vec<isize> = Vec::new();
    for (_, wall) in table.iter_mut() {
        each_table(wall, &mut |table| places.extend(table.position()));
    }
    places.sort_unstable();
    let mut places = places.into_iter();
    for wall in walls {
        let Some(item) = table.get_mut(wall) else { continue };
        // Within a wall the tables keep their own order.
        let mut own: Vec<isize> = Vec::new();
        each_table(item, &mut |table| own.extend(table.position()));
        own.sort_unstable();
        let dealt: Vec<(isize, isize)> = own.into_iter().zip(places.by_ref()).collect();
        each_table(item, &mut |table| {
            let place = table.position().and_then(|old| dealt.iter().find(|(before, _)| *before == old).map(|(_, new)| *new));
            if place.is_some() {
                table.set_position(place);
            }
        });
    }
    // The order in which the text names them, for whoever reads the document before it is written.
    table.sort_values_by(|one, _, other, _| {
        let at = |key: &str| walls.iter().position(|wall| wall == key);
        at(one.get()).cmp(&at(other.get()))
    });
}

/// A table and all tables within it.
fn each_table(item: &mut Item, visit: &mut dyn FnMut(&mut Table)) {
    if let Some(table) = item.as_table_mut() {
        visit(table);
        for (_, inner) in table.iter_mut() {
            each_table(inner, visit);
        }
    }
}
