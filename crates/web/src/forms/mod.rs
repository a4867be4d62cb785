//! Forms of the job file, generated from the one table of fields: every value with its question, unit, range, default, assumed mark and error. Nothing
//! about a value is written here that is not in the table.

mod field;
mod tables;

use std::collections::BTreeMap;

use job::edit::Editing;
use job::fields::{self, Field, Kind, Names};
use job::{AssumedField, Problem};
use maud::{Markup, html};

pub use tables::{TABLES, heading_of, leaf_of};

/// What a form is filled from.
#[derive(Debug)]
pub struct Filling {
    /// The text the form is of.
    pub editing: Editing,
    /// What was typed and does not stand in the text: shown again as typed.
    pub typed: BTreeMap<String, String>,
    /// What is wrong, by path: complete sentences.
    pub faults: BTreeMap<String, String>,
    /// The values nobody has answered for, if the text could be read.
    pub assumed: Vec<AssumedField>,
    /// Tables asked for that do not stand in the text yet.
    pub added: Vec<String>,
}

impl Filling {
    /// From a text that may or may not read.
    pub fn of(text: &str) -> Self {
        let assumed = job::read(text, "the job").map(|job| job.assumed).unwrap_or_default();
        let editing = Editing::open(text).unwrap_or_else(Editing::empty);
        Self { editing, typed: BTreeMap::new(), faults: BTreeMap::new(), assumed, added: Vec::new() }
    }

    /// Takes in the problems that belong to the form of a table; gives back those that belong elsewhere.
    pub fn take_problems<'p>(&mut self, problems: &'p [Problem], table: &str) -> Vec<&'p Problem> {
        let mut elsewhere = Vec::new();
        for problem in problems {
            let here = fields::field(&problem.path).is_some_and(|field| !field.is_table()) && stands_in(&problem.path, table);
            if here {
                let says = format!("{} {} {}", problem.found, problem.allowed, problem.remedy);
                self.faults.entry(problem.path.clone()).or_insert(says);
            } else {
                elsewhere.push(problem);
            }
        }
        elsewhere
    }

    /// The names in a table of many: those of the text, then those asked for.
    fn names(&self, path: &str) -> Vec<String> {
        let mut names = self.editing.names(path);
        let added = self.added.iter().filter_map(|added| added.rsplit_once('.').filter(|(parent, _)| *parent == path));
        for (_, name) in added {
            if !names.iter().any(|known| known == name) {
                names.push(name.to_owned());
            }
        }
        names
    }

    /// What stands in the field of a path: as typed, or as written.
    pub fn value(&self, path: &str) -> String {
        self.typed.get(path).cloned().or_else(|| self.editing.written(path)).unwrap_or_default()
    }
}

/// True if a path lies in a table.
pub fn stands_in(path: &str, table: &str) -> bool {
    path.strip_prefix(table).is_some_and(|rest| rest.starts_with('.')) || (table == "job" && !path.contains('.'))
}

/// The form of a table that has one.
pub fn form_of(filling: &Filling, table: &str) -> Markup {
    match fields::field(table) {
        Some(field) if matches!(field.kind, Kind::Each { .. }) => within(filling, field, table),
        _ => table_form(filling, table),
    }
}

/// The fields of a table and of every table within it.
fn table_form(filling: &Filling, table: &str) -> Markup {
    let pattern = fields::pattern(table);
    let children = fields::children(&pattern);
    let path = |child: &Field| format!("{table}.{}", child.key());
    let (asked, seldom) = asked_first(filling, table, children);
    html! {
        div.fields {
            // What stands at the top of the file is asked with the names of the job.
            @if table == "job" { @for top in fields::children("").iter().filter(|top| !top.is_table()) { (field::one(filling, top, top.key())) } }
            @for child in asked { (field::one(filling, child, &path(child))) }
        }
        @if !seldom.is_empty() {
            details.more {
                summary { "Where it applies" span.note { (seldom.len()) " more that may be left out" } }
                div.fields { @for child in seldom { (field::one(filling, child, &path(child))) } }
            }
        }
        // The answers for every wall hold no tables of a wall.
        @if table != fields::EVERY_WALL {
            @for child in children.iter().filter(|child| child.is_table()) { (within(filling, child, &format!("{table}.{}", child.key()))) }
        }
    }
}

/// Most values that may be left out and are shown all the same.
const FEW: usize = 6;

/// The values of a table in the order they are asked: first those that are written, wanted, or stand in for something; then, where there are many and
/// the table is written, those that apply to some only. One with a fault is never out of sight.
fn asked_first(filling: &Filling, table: &str, children: &'static [&'static Field]) -> (Vec<&'static Field>, Vec<&'static Field>) {
    let values = || children.iter().copied().filter(|child| !child.is_table());
    let may_wait = |child: &Field| {
        let path = format!("{table}.{}", child.key());
        child.preset == job::Preset::Absent && filling.value(&path).is_empty() && !filling.faults.contains_key(&path)
    };
    if !filling.editing.has_table(table) || values().filter(|child| may_wait(child)).count() <= FEW {
        return (values().collect(), Vec::new());
    }
    values().partition(|child| !may_wait(child))
}

/// A table within a form.
fn within(filling: &Filling, child: &Field, path: &str) -> Markup {
    match child.kind {
        Kind::Each { names, .. } => each(filling, child, path, names),
        _ => folded(filling, path, &crate::words::capital(child.label), child.help, &table_form(filling, path)),
    }
}

/// A table of many: one fold for each, and a way to add one.
fn each(filling: &Filling, child: &Field, path: &str, names: Names) -> Markup {
    let folds = |name: &str, meaning: &str| {
        let one = format!("{path}.{name}");
        let matter = html! {
            (table_form(filling, &one))
            @if filling.editing.has_table(&one) { p.does { button type="submit" name="do" value={ "remove:" (one) } { "Take out " (name) } } }
        };
        folded(filling, &one, &if meaning.is_empty() { name.to_owned() } else { crate::words::capital(meaning) }, "", &matter)
    };
    html! {
        fieldset {
            legend { (crate::words::capital(child.label)) }
            @if !child.help.is_empty() { p.note { (child.help) } }
            @match names {
                Names::Slugs => {
                    @for name in filling.names(path) { (folds(&name, "")) }
                    div.field {
                        label for={ "add-" (path) } { "Another, under a short name" }
                        div.in { input type="text" id={ "add-" (path) } name={ "add:" (path) } placeholder="short-name" autocomplete="off"; button type="submit" name="do" value={ "add:" (path) } { "Add" } }
                        @if let Some(says) = filling.faults.get(&format!("add:{path}")) { p.err { b { "Not added: " } (says) } }
                    }
                }
                Names::Of(words) => { @for (name, meaning) in words { (folds(name, meaning)) } }
            }
        }
    }
}

/// True for a table of many whose names the user makes up.
fn is_of_many(path: &str) -> bool {
    fields::field(path).is_some_and(|field| matches!(field.kind, Kind::Each { names: Names::Slugs, .. }))
}

/// A fold of the form; open where it stands alone, something is wrong in it or it was just asked for.
fn folded(filling: &Filling, path: &str, heading: &str, help: &str, matter: &Markup) -> Markup {
    let only_one = path.rsplit_once('.').is_some_and(|(many, _)| filling.names(many).len() == 1 && is_of_many(many));
    let open = only_one || filling.faults.keys().any(|at| stands_in(at, path)) || filling.added.iter().any(|added| added == path);
    let written = filling.editing.has_table(path);
    html! {
        details.more id=(path) open[open] {
            summary { (heading) span.note { @if written { (brief(filling, path)) } @else { "nothing written" } } }
            @if !help.is_empty() { p.note { (help) } }
            (matter)
        }
    }
}

/// The first few values of a table, so that a closed fold says what is in it.
fn brief(filling: &Filling, path: &str) -> String {
    let pattern = fields::pattern(path);
    let values = fields::children(&pattern).iter().filter(|child| !child.is_table()).filter_map(|child| {
        let value = filling.value(&format!("{path}.{}", child.key()));
        (!value.is_empty()).then(|| format!("{} {}", child.label, value.replace('\n', "; ")))
    });
    values.take(3).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// A job in which every table of many has one entry, so that no form is empty.
    fn with_one_of_each() -> String {
        let mut editing = Editing::empty();
        let mut tables: Vec<&Field> = fields::all().filter(|field| matches!(field.kind, Kind::Each { names: Names::Slugs, .. })).collect();
        tables.sort_by_key(|field| field.path.len());
        for table in tables {
            let path = table.path.replace('*', "one");
            editing.add(&path, "one").unwrap_or_else(|refused| panic!("{path}: {refused}"));
        }
        editing.text()
    }

    fn names_in(page: &str) -> BTreeSet<String> {
        page.split(" name=\"").skip(1).filter_map(|rest| rest.split('"').next()).map(fields::pattern).collect()
    }

    #[test]
    fn every_value_of_the_job_file_has_its_place_in_a_form() {
        let filling = Filling::of(&with_one_of_each());
        let tables = TABLES.iter().map(|at| at.path).chain(["walls.one"]);
        let found: BTreeSet<String> = tables.flat_map(|table| names_in(&form_of(&filling, table).into_string())).collect();
        let missing: Vec<&str> =
            fields::all().filter(|field| !field.is_table() && !found.contains(field.path)).map(|field| field.path).collect();
        assert!(missing.is_empty(), "no form asks for {missing:?}");
    }

    #[test]
    fn every_field_shows_its_words_its_unit_and_what_stands_in() {
        let filling = Filling::of(&with_one_of_each());
        for table in TABLES.iter().map(|at| at.path).chain(["walls.one"]) {
            let page = form_of(&filling, table).into_string();
            for field in fields::all().filter(|field| !field.is_table() && stands_in(&field.path.replace('*', "one"), table)) {
                let shown = |words: &str| page.contains(&maud::html! { (words) }.into_string());
                assert!(shown(&crate::words::capital(field.label)) && shown(field.question) && shown(field.help), "{}", field.path);
                if field.assumed && !table.starts_with("walls.") {
                    assert!(page.contains("assumed"), "{}", field.path);
                }
            }
        }
    }

    #[test]
    fn what_was_typed_wrongly_stands_as_typed_with_its_reason() {
        let mut filling = Filling::of(job::demo::JOB);
        filling.typed.insert("walls.north.length_m".to_owned(), "ten <b>".to_owned());
        filling.faults.insert("walls.north.length_m".to_owned(), "It is no number.".to_owned());
        let page = form_of(&filling, "walls.north").into_string();
        assert!(page.contains("value=\"ten &lt;b&gt;\"") && page.contains("It is no number.") && page.contains("aria-invalid=\"true\""));
    }
}
