//! The file against the table of fields: unknown keys refused, every value checked, every problem gathered. Nothing is built here.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::fields::{self, Field, Kind, Names};
use crate::problem::{Fault, Problems, nearest};
use crate::values::{Given, allowed, check, describe, remedy, slug};

/// Most bytes of a job file.
pub(crate) const MOST_BYTES: usize = 4 * 1024 * 1024;

/// A checked value and where it stands.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub given: Given,
    pub span: Range<usize>,
}

/// The checked values by path as written.
#[derive(Debug, Default)]
pub(crate) struct Sheet {
    values: BTreeMap<String, Entry>,
    /// Paths that were written but would not do: their problem is told already.
    spoiled: BTreeSet<String>,
    /// Where each table stands.
    tables: BTreeMap<String, Range<usize>>,
    /// Names in each table of many, in the order of the file.
    names: BTreeMap<String, Vec<String>>,
}

impl Sheet {
    /// Reads and checks a text; the second is false if the text was not TOML all through, so that missing values prove nothing.
    pub(crate) fn read(text: &str, problems: &mut Problems) -> (Self, bool) {
        let mut sheet = Self::default();
        if text.len() > MOST_BYTES {
            problems.add(
                Fault::TooMuch,
                0..0,
                "",
                format!("The file is {} bytes long.", text.len()),
                format!("Allowed are {MOST_BYTES} bytes."),
                "Keep offsets coarse, or split the job by building.".to_owned(),
            );
            return (sheet, false);
        }
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in &errors {
            let says = error.message().trim().replace('\n', ", ");
            problems.add(
                Fault::NotToml,
                error.span().unwrap_or(0..0),
                "",
                format!("The file does not read as TOML here: {says}."),
                "Allowed is a line such as key = value, or the name of a table in square brackets, each key once.".to_owned(),
                "Mend this line: text stands in quotation marks, a decimal has a point, a comment begins with #.".to_owned(),
            );
        }
        let mut walk = Walk { sheet: &mut sheet, problems };
        walk.table(table.get_ref(), table.span(), "", "");
        (sheet, errors.is_empty())
    }

    /// Puts a value at a path as if it had been written there.
    pub(crate) fn set(&mut self, path: &str, given: Given) {
        self.spoiled.remove(path);
        self.values.insert(path.to_owned(), Entry { given, span: 0..0 });
    }

    /// Lays the values of another sheet over these; tables and names that are new are added.
    pub(crate) fn lay_over(&mut self, other: Self) {
        for (path, entry) in other.values {
            self.spoiled.remove(&path);
            self.values.insert(path, Entry { span: 0..0, ..entry });
        }
        for path in other.tables.into_keys() {
            self.tables.entry(path).or_insert(0..0);
        }
        for (table, names) in other.names {
            let known = self.names.entry(table).or_default();
            names.into_iter().for_each(|name| {
                if !known.contains(&name) {
                    known.push(name);
                }
            });
        }
    }

    pub(crate) fn get(&self, path: &str) -> Option<&Entry> {
        self.values.get(path)
    }

    pub(crate) fn is_spoiled(&self, path: &str) -> bool {
        self.spoiled.contains(path)
    }

    /// True if a table of this path was written.
    pub(crate) fn has_table(&self, path: &str) -> bool {
        self.tables.contains_key(path)
    }

    /// The names in a table of many, in the order of the file.
    pub(crate) fn names(&self, path: &str) -> Vec<String> {
        self.names.get(path).cloned().unwrap_or_default()
    }

    /// Where a value stands, or failing that the nearest table round it.
    pub(crate) fn span(&self, path: &str) -> Range<usize> {
        if let Some(entry) = self.values.get(path) {
            return entry.span.clone();
        }
        let mut path = path;
        loop {
            if let Some(span) = self.tables.get(path) {
                return span.clone();
            }
            match path.rsplit_once('.') {
                Some((parent, _)) => path = parent,
                None => return 0..0,
            }
        }
    }
}

struct Walk<'a> {
    sheet: &'a mut Sheet,
    problems: &'a mut Problems,
}

fn join(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

impl Walk<'_> {
    fn table(&mut self, table: &DeTable<'_>, span: Range<usize>, path: &str, pattern: &str) {
        self.sheet.tables.insert(path.to_owned(), span);
        let mut entries: Vec<_> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        let fields = fields::children(pattern);
        for (key, value) in entries {
            let name = key.get_ref().as_ref();
            match fields.iter().find(|field| field.key() == name) {
                Some(field) => self.value(field, value, key.span(), &join(path, name)),
                None => self.unknown(name, key.span(), path, fields),
            }
        }
    }

    fn unknown(&mut self, name: &str, span: Range<usize>, path: &str, fields: &[&Field]) {
        if self.problems.is_full() {
            // To look for what was meant would take long in a file that is no job, and would not be told.
            self.problems.add(Fault::UnknownKey, span, path, String::new(), String::new(), String::new());
            return;
        }
        let shown: String = name.chars().take(60).collect();
        let place = if path.is_empty() { "at the top of a job".to_owned() } else { format!("in {path}") };
        let near = nearest(name, fields.iter().map(|field| field.key()));
        if let Some(near) = near {
            // What was meant is likely there under the wrong name: to tell that it is missing too would be one fault told twice.
            self.sheet.spoiled.insert(join(path, near));
        }
        let elsewhere = fields::all().find(|field| field.key() == name).map(|field| field.path);
        let remedy = match (near, elsewhere) {
            (Some(near), _) => format!("Did you mean {near:?}?"),
            (None, Some(elsewhere)) => format!("That key belongs to {elsewhere}: move it there."),
            (None, None) => "Take it out, or see the schema for the keys of a job.".to_owned(),
        };
        let keys = fields.iter().map(|field| field.key()).collect::<Vec<_>>().join(", ");
        self.problems.add(
            Fault::UnknownKey,
            span,
            &join(path, &shown),
            format!("The key {shown:?} is not known {place}."),
            format!("Allowed are: {keys}."),
            remedy,
        );
    }

    fn value(&mut self, field: &'static Field, value: &Spanned<DeValue<'_>>, key: Range<usize>, path: &str) {
        match (field.kind, value.get_ref()) {
            (Kind::Section, DeValue::Table(table)) => self.table(table, key, path, &fields::pattern(path)),
            (Kind::Each { names, at_most }, DeValue::Table(table)) => self.each(table, key, path, field, names, at_most),
            (Kind::Section | Kind::Each { .. }, other) => {
                self.sheet.spoiled.insert(path.to_owned());
                let found = format!("Here stands {}, where a table belongs.", describe(other));
                self.problems.add(
                    Fault::WrongKind,
                    value.span(),
                    path,
                    found,
                    allowed(field),
                    format!("Write [{path}] on a line of its own."),
                );
            }
            _ => match check(field, value) {
                Ok(given) => {
                    self.sheet.values.insert(path.to_owned(), Entry { given, span: value.span() });
                }
                Err(wrong) => {
                    self.sheet.spoiled.insert(path.to_owned());
                    let span = wrong.at.unwrap_or_else(|| value.span());
                    self.problems.add(wrong.fault, span, path, wrong.found, allowed(field), wrong.hint.unwrap_or_else(|| remedy(field)));
                }
            },
        }
    }

    fn each(&mut self, table: &DeTable<'_>, key: Range<usize>, path: &str, field: &Field, names: Names, at_most: usize) {
        self.sheet.tables.insert(path.to_owned(), key.clone());
        if table.len() > at_most {
            let found = format!("There are {} of them.", table.len());
            self.problems.add(Fault::TooMuch, key, path, found, allowed(field), "Split the job.".to_owned());
            return;
        }
        let mut entries: Vec<_> = table.iter().collect();
        entries.sort_by_key(|(name, _)| name.span().start);
        let pattern = join(&fields::pattern(path), "*");
        for (name, value) in entries {
            let Some(slug) = self.name(name.get_ref(), name.span(), path, names) else { continue };
            let below = join(path, &slug);
            self.sheet.names.entry(path.to_owned()).or_default().push(slug);
            match value.get_ref() {
                DeValue::Table(table) => self.table(table, name.span(), &below, &pattern),
                other => {
                    let found = format!("Here stands {}, where a table belongs.", describe(other));
                    let keys = fields::children(&pattern).iter().map(|field| field.key()).collect::<Vec<_>>().join(", ");
                    self.problems.add(
                        Fault::WrongKind,
                        value.span(),
                        &below,
                        found,
                        format!("Allowed is a table with the keys {keys}."),
                        format!("Write it as [{below}] with its values on the lines below, or as {} = {{ ... }}.", name.get_ref()),
                    );
                }
            }
        }
    }

    fn name(&mut self, name: &str, span: Range<usize>, path: &str, names: Names) -> Option<String> {
        let wrong = match names {
            Names::Slugs => match slug(name.to_owned()) {
                Ok(slug) => return Some(slug),
                Err(wrong) => wrong,
            },
            Names::Of(words) => match words.iter().find(|(word, _)| *word == name) {
                Some(_) => return Some(name.to_owned()),
                None => {
                    let shown: String = name.chars().take(60).collect();
                    let mut wrong = crate::values::Wrong::new(Fault::NotAChoice, format!("{shown:?} is not one of the names for this."));
                    wrong.hint = nearest(name, words.iter().map(|(word, _)| *word)).map(|near| format!("Did you mean {near:?}?"));
                    wrong
                }
            },
        };
        let allowed = match names {
            Names::Slugs => "Allowed are at most 40 lower-case letters, digits and hyphens.".to_owned(),
            Names::Of(words) => {
                format!("Allowed are {}.", words.iter().map(|(word, _)| format!("{word:?}")).collect::<Vec<_>>().join(", "))
            }
        };
        let remedy = wrong.hint.unwrap_or_else(|| "Give it a short name of its own.".to_owned());
        self.problems.add(wrong.fault, span, path, wrong.found, allowed, remedy);
        None
    }
}
