//! Changing a job's text without touching its other bytes: values are set, taken out and added by path, comments and order stay where they stand.
//! A typed value is checked against its field before it goes in; what several values say together only reading the whole job can tell.

use thiserror::Error;
use toml::de::DeTable;
use toml_edit::{DocumentMut, InlineTable, Item, Table, TableLike, Value};

use crate::fields::{self, Field, Kind};
use crate::values::{Wrong, allowed, check, remedy, slug};

/// Why a typed value was not taken: complete sentences.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{found} {allowed} {remedy}")]
pub struct Refused {
    /// Path of the value.
    pub path: String,
    /// What was found.
    pub found: String,
    /// What is allowed.
    pub allowed: String,
    /// What to do.
    pub remedy: String,
}

impl Refused {
    fn because(field: &Field, path: &str, wrong: Wrong) -> Self {
        let remedy = wrong.hint.unwrap_or_else(|| remedy(field));
        Self { path: path.to_owned(), found: wrong.found, allowed: allowed(field), remedy }
    }

    fn no_place(path: &str) -> Self {
        Self {
            path: path.to_owned(),
            found: format!("The job has no place {path}."),
            allowed: "Allowed are the fields of the job file.".to_owned(),
            remedy: "Take the path from a form of the job.".to_owned(),
        }
    }
}

/// A job's text, open for change.
#[derive(Clone, Debug)]
pub struct Editing {
    document: DocumentMut,
}

impl Editing {
    /// A text with nothing in it.
    pub fn empty() -> Self {
        Self { document: DocumentMut::new() }
    }

    /// Opens a text; `None` if it is not TOML.
    pub fn open(text: &str) -> Option<Self> {
        text.parse().ok().map(|document| Self { document })
    }

    /// The text as it stands now. Untouched, it is byte for byte what was opened.
    pub fn text(&self) -> String {
        self.document.to_string()
    }

    /// What is written at a path, as one would type it in a form: words without quotation marks, lists with commas, rows on lines.
    pub fn written(&self, path: &str) -> Option<String> {
        find(self.document.as_item(), path)?.as_value().map(shown)
    }

    /// True if a table stands at a path.
    pub fn has_table(&self, path: &str) -> bool {
        find(self.document.as_item(), path).is_some_and(Item::is_table_like)
    }

    /// Names in the table of many at a path, in the order of the text.
    pub fn names(&self, path: &str) -> Vec<String> {
        let table = find(self.document.as_item(), path).and_then(Item::as_table_like);
        table.map_or_else(Vec::new, |table| table.iter().map(|(key, _)| key.to_owned()).collect())
    }

    /// Writes a typed value at a path; nothing typed takes the value out, so that its default stands again.
    ///
    /// # Errors
    /// When the path is no field's, or what was typed will not do; the text is left as it was.
    pub fn set(&mut self, path: &str, typed: &str) -> Result<(), Refused> {
        let field = fields::field(path).filter(|field| !field.is_table()).ok_or_else(|| Refused::no_place(path))?;
        if typed.trim().is_empty() {
            self.remove(path);
            return Ok(());
        }
        let literal = literal(field, typed.trim());
        let mut value = checked(field, path, &literal)?;
        let (parent, key) = path.rsplit_once('.').unwrap_or(("", path));
        let table = table_at(self.document.as_item_mut(), parent).ok_or_else(|| Refused::no_place(path))?;
        match table.get_mut(key).and_then(Item::as_value_mut) {
            Some(old) => {
                *value.decor_mut() = old.decor().clone();
                *old = value;
            }
            None => {
                table.insert(key, Item::Value(value));
            }
        }
        Ok(())
    }

    /// Makes a table under a name in the table of many at a path.
    ///
    /// # Errors
    /// When the name is no short name, or is there already.
    pub fn add(&mut self, path: &str, name: &str) -> Result<(), Refused> {
        let full = format!("{path}.{name}");
        let field = fields::field(path).ok_or_else(|| Refused::no_place(path))?;
        let Kind::Each { names, .. } = field.kind else { return Err(Refused::no_place(path)) };
        match names {
            fields::Names::Slugs => slug(name.to_owned()).map(drop).map_err(|wrong| Refused::because(field, &full, wrong))?,
            fields::Names::Of(words) if words.iter().any(|(word, _)| *word == name) => {}
            fields::Names::Of(_) => return Err(Refused::no_place(&full)),
        }
        if find(self.document.as_item(), &full).is_some() {
            return Err(Refused {
                found: format!("There is a {name} already."),
                allowed: "Each short name stands once.".to_owned(),
                remedy: "Choose another short name.".to_owned(),
                path: full,
            });
        }
        table_at(self.document.as_item_mut(), &full).map(drop).ok_or_else(|| Refused::no_place(&full))
    }

    /// Takes out the value or table at a path; true if there was one.
    pub fn remove(&mut self, path: &str) -> bool {
        let (parent, key) = path.rsplit_once('.').unwrap_or(("", path));
        find_mut(self.document.as_item_mut(), parent).and_then(Item::as_table_like_mut).is_some_and(|table| table.remove(key).is_some())
    }
}

fn parts(path: &str) -> impl Iterator<Item = &str> {
    path.split('.').filter(|part| !part.is_empty())
}

fn find<'d>(root: &'d Item, path: &str) -> Option<&'d Item> {
    parts(path).try_fold(root, |item, part| item.as_table_like()?.get(part))
}

fn find_mut<'d>(root: &'d mut Item, path: &str) -> Option<&'d mut Item> {
    parts(path).try_fold(root, |item, part| item.as_table_like_mut()?.get_mut(part))
}

/// The table at a path, made where it is missing: written like the one it stands in.
fn table_at<'d>(root: &'d mut Item, path: &str) -> Option<&'d mut dyn TableLike> {
    let mut item = root;
    for part in parts(path) {
        let within_line = item.is_inline_table();
        // Openings and the like are mostly written on a line each; a sibling shows the way.
        let siblings_in_lines =
            item.as_table_like().is_some_and(|table| table.iter().next().is_some_and(|(_, item)| item.is_inline_table()));
        let table = item.as_table_like_mut()?;
        if table.get(part).is_none() {
            let made = if within_line || siblings_in_lines {
                Item::Value(Value::InlineTable(InlineTable::new()))
            } else {
                Item::Table(Table::new())
            };
            table.insert(part, made);
        }
        item = table.get_mut(part)?;
    }
    item.as_table_like_mut()
}

/// The value of a literal, if the field takes it.
fn checked(field: &Field, path: &str, literal: &str) -> Result<Value, Refused> {
    let line = format!("value = {literal}");
    let (table, errors) = DeTable::parse_recoverable(&line);
    let value = table.get_ref().iter().find(|(key, _)| key.get_ref() == "value").map(|(_, value)| value);
    let no_value = || Refused {
        path: path.to_owned(),
        found: format!("{literal} cannot be written in the job."),
        allowed: allowed(field),
        remedy: remedy(field),
    };
    let value = value.filter(|_| errors.is_empty()).ok_or_else(no_value)?;
    check(field, value).map_err(|wrong| Refused::because(field, path, wrong))?;
    literal.parse().map_err(|_| no_value())
}

/// What was typed as it is written in the file.
fn literal(field: &Field, typed: &str) -> String {
    match field.kind {
        Kind::Number { .. } | Kind::Decimal { .. } | Kind::OpenOr { .. } | Kind::Bearing | Kind::Ratio { .. } => bare_or_quoted(typed),
        Kind::Date => {
            let plain = typed.len() == 10 && typed.parse::<jiff::civil::Date>().is_ok();
            if plain { typed.to_owned() } else { quoted(typed) }
        }
        Kind::Flag => match typed.to_lowercase().as_str() {
            "yes" | "true" | "on" => "true".to_owned(),
            "no" | "false" | "off" => "false".to_owned(),
            _ => quoted(typed),
        },
        Kind::Choices(_) | Kind::Walls | Kind::Spells { .. } => list(typed.split([',', ';', '\n']), quoted),
        Kind::Numbers { .. } => numbers(typed),
        Kind::Rows { .. } => list(typed.split([';', '\n']), numbers),
        _ => quoted(typed),
    }
}

fn list<'t>(items: impl Iterator<Item = &'t str>, each: impl Fn(&str) -> String) -> String {
    let items: Vec<String> = items.map(str::trim).filter(|item| !item.is_empty()).map(each).collect();
    format!("[{}]", items.join(", "))
}

/// Numbers between commas or, where there is none, between blanks: "3 1/2, 4" is two numbers.
fn numbers(typed: &str) -> String {
    let typed = typed.trim().trim_matches(['[', ']']);
    if typed.contains([',', ';', '\n']) {
        list(typed.split([',', ';', '\n']), bare_or_quoted)
    } else {
        list(typed.split_whitespace(), bare_or_quoted)
    }
}

/// A number as TOML writes it, or whatever people write in its place as text.
fn bare_or_quoted(typed: &str) -> String {
    let plain = typed.trim_start_matches('-');
    let (whole, fraction) = plain.split_once('.').unwrap_or((plain, "0"));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let bare = digits(whole) && digits(fraction) && (whole.len() == 1 || !whole.starts_with('0')) && whole.len() < 16;
    if bare { typed.to_owned() } else { quoted(typed) }
}

fn quoted(text: &str) -> String {
    let text: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    Value::from(text.trim()).to_string()
}

/// A value as one would type it.
fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Boolean(flag) => (if *flag.value() { "yes" } else { "no" }).to_owned(),
        Value::Array(items) => {
            let rows = items.iter().any(|item| item.is_array());
            items.iter().map(shown).collect::<Vec<_>>().join(if rows { "\n" } else { ", " })
        }
        other => {
            let mut bare = other.clone();
            bare.decor_mut().clear();
            bare.to_string()
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;
    use crate::demo::JOB;

    fn lines_that_differ(before: &str, after: &str) -> Vec<String> {
        let before: Vec<&str> = before.lines().collect();
        after.lines().filter(|line| !before.contains(line)).map(str::to_owned).collect()
    }

    #[test]
    fn untouched_text_keeps_every_byte() {
        assert_eq!(Editing::open(JOB).unwrap().text(), JOB);
    }

    #[test]
    fn a_change_touches_its_own_line_and_keeps_its_comment() {
        let mut editing = Editing::open(JOB).unwrap();
        editing.set("every_wall.thickness_mm", "24 in").unwrap();
        editing.set("walls.north.openings.door.width_m", "1.10").unwrap();
        editing.set("window.start", "3 May 2027").unwrap();
        editing.set("walls.east-gable.obstruction_m", "40").unwrap();
        let text = editing.text();
        let changed = lines_that_differ(JOB, &text);
        assert_eq!(changed.len(), 4, "{changed:#?}");
        assert!(text.contains("obstruction_m = 40      # looks over the water"), "{text}");
        assert_eq!(text.lines().count(), JOB.lines().count());
        assert!(crate::read(&text, "demo").is_ok());
    }

    #[test]
    fn what_was_set_reads_back_as_typed() {
        let mut editing = Editing::open(JOB).unwrap();
        for (path, typed) in [
            ("walls.north.gaps_mm", "11, 6, 14, 9, 3 1/2"),
            ("walls.north.overhang", "no"),
            ("job.client", "O'Neill \"the elder\""),
            ("calendar.breaks", "2027-05-03, 2027-07-12 to 2027-07-16"),
            ("walls.north.corners_m", "0, 0\n8.5, 0\n8.5, 4.2"),
            ("rates.mason_per_h", "36.75"),
            ("window.start", "2027-05-03"),
        ] {
            editing.set(path, typed).unwrap_or_else(|refused| panic!("{path}: {refused}"));
            assert_eq!(editing.written(path).as_deref(), Some(typed), "{path}");
        }
    }

    #[test]
    fn what_will_not_do_is_refused_and_changes_nothing() {
        let mut editing = Editing::open(JOB).unwrap();
        for (path, typed) in [
            ("walls.north.length_m", "ten"),
            ("walls.north.length_m", "4000"),
            ("walls.north.shape", "oval"),
            ("job.no_such_thing", "1"),
            ("walls", "1"),
            ("window.start", "31 April 2027"),
        ] {
            let refused = editing.set(path, typed).unwrap_err();
            assert!(refused.path == path && !refused.found.is_empty() && !refused.allowed.is_empty(), "{refused:?}");
        }
        assert_eq!(editing.text(), JOB);
    }

    #[test]
    fn tables_are_added_and_taken_out_beside_their_like() {
        let mut editing = Editing::open(JOB).unwrap();
        editing.add("walls.north.openings", "loft").unwrap();
        editing.set("walls.north.openings.loft.width_m", "0.6").unwrap();
        editing.add("walls", "porch").unwrap();
        editing.set("walls.porch.length_m", "2.1").unwrap();
        assert!(editing.add("walls", "north").is_err() && editing.add("walls", "Not a slug").is_err());
        let text = editing.text();
        assert!(text.contains("loft = { width_m = 0.6 }"), "{text}");
        assert!(text.contains("[walls.porch]\nlength_m = 2.1"), "{text}");
        assert!(editing.remove("walls.porch") && editing.remove("walls.north.openings.loft") && !editing.remove("walls.porch"));
        assert_eq!(editing.text(), JOB);
    }

    #[test]
    fn nothing_typed_takes_the_value_out() {
        let mut editing = Editing::open(JOB).unwrap();
        editing.set("walls.north.splash_s", "  ").unwrap();
        assert_eq!(editing.written("walls.north.splash_s"), None);
        assert!(crate::read(&editing.text(), "demo").unwrap().assumed.iter().any(|field| field.path == "walls.north.splash_s"));
    }
}
