//! The tables of the job file that have a form of their own, in the order they are worked through.

use job::edit::Editing;
use job::fields;

/// A table with a form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TableAt {
    /// Its path.
    pub path: &'static str,
    /// Page whose mark the rule shows.
    pub leaf: &'static str,
}

const fn at(path: &'static str, leaf: &'static str) -> TableAt {
    TableAt { path, leaf }
}

/// The tables, without the walls, each of which has its own.
pub const TABLES: &[TableAt] = &[
    at("job", "survey"),
    at("survey", "survey"),
    at("damp", "survey"),
    at("every_wall", "survey"),
    at("weather", "survey"),
    at("system", "coats"),
    at("catalogue", "coats"),
    at("before", "calendar"),
    at("window", "calendar"),
    at("calendar", "calendar"),
    at("gangs", "calendar"),
    at("rates", "price"),
    at("scaffold", "price"),
    at("allowances", "price"),
];

/// The leaf of a table's form; `None` if it has none.
pub fn leaf_of(table: &str) -> Option<&'static str> {
    let wall = table.strip_prefix("walls.").is_some_and(|name| !name.is_empty() && !name.contains('.'));
    if wall { Some("survey") } else { TABLES.iter().find(|at| at.path == table).map(|at| at.leaf) }
}

/// What a table is called: a wall by its name shown.
pub fn heading_of(editing: &Editing, table: &str) -> String {
    if let Some(slug) = table.strip_prefix("walls.") {
        return editing.written(&format!("{table}.name")).unwrap_or_else(|| slug.to_owned());
    }
    crate::words::capital(fields::field(table).map_or(table, |field| field.label))
}
