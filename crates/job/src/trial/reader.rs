//! A strict reader over a parsed TOML table: every value is asked for by name with its range, every problem is kept with its place and a
//! remedy, and what nobody asked for is refused with the nearest key. It reads on after a problem, so that all are reported at once.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::problem::{Fault, Problem, Problems, nearest};
use crate::sheet::MOST_BYTES;

/// Collects problems while a file is read.
pub(crate) struct Reader {
    problems: RefCell<Problems>,
}

/// Reads the whole of a text: too long, not TOML, or each problem that `build` finds, all at once.
pub(crate) fn read_whole<T>(
    text: &str,
    name: &str,
    too_long: &str,
    build: impl FnOnce(&Section<'_, '_>) -> Option<T>,
) -> Result<T, Vec<Problem>> {
    let reader = Reader::new(name, text);
    if text.len() > MOST_BYTES {
        let (found, allowed) = (format!("The file is {} bytes long.", text.len()), format!("Allowed are {MOST_BYTES} bytes."));
        reader.refuse(0..0, "", Wrong::new(Fault::TooMuch, found, allowed, too_long));
        return Err(reader.into_problems());
    }
    let (root, faults) = DeTable::parse_recoverable(text);
    for fault in faults {
        let span = fault.span().unwrap_or(0..0);
        let found = format!("This cannot be read as TOML: {}.", fault.message().trim_end_matches('.'));
        reader.refuse(
            span,
            "",
            Wrong::new(Fault::NotToml, found, "Values are `key = value`, tables are `[name]`.", "Correct the text here."),
        );
    }
    if reader.any() {
        return Err(reader.into_problems());
    }
    let built = build(&Section::new(&reader, String::new(), root.span(), root.get_ref()));
    match built {
        Some(built) if !reader.any() => Ok(built),
        _ => Err(reader.into_problems()),
    }
}

/// What is wrong with a value, in complete sentences.
pub(crate) struct Wrong {
    pub(crate) fault: Fault,
    pub(crate) found: String,
    pub(crate) allowed: String,
    pub(crate) remedy: String,
}

impl Wrong {
    pub(crate) fn new(fault: Fault, found: impl Into<String>, allowed: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { fault, found: found.into(), allowed: allowed.into(), remedy: remedy.into() }
    }
}

impl Reader {
    pub(crate) fn new(file: &str, text: &str) -> Self {
        Self { problems: RefCell::new(Problems::new(file, text)) }
    }

    /// Keeps a problem found at a byte range of the file.
    pub(crate) fn refuse(&self, span: Range<usize>, path: &str, wrong: Wrong) {
        self.problems.borrow_mut().add(wrong.fault, span, path, wrong.found, wrong.allowed, wrong.remedy);
    }

    pub(crate) fn any(&self) -> bool {
        !self.problems.borrow().is_empty()
    }

    /// The problems in order of place.
    pub(crate) fn into_problems(self) -> Vec<Problem> {
        self.problems.into_inner().into_sorted()
    }
}

/// What a number must be.
#[derive(Clone, Copy)]
pub(crate) struct Bounds {
    /// Least allowed.
    pub(crate) least: f64,
    /// Greatest allowed.
    pub(crate) greatest: f64,
}

impl Bounds {
    fn sentence(self) -> String {
        format!("A number from {} to {} is possible.", self.least, self.greatest)
    }
}

/// Shorthand for bounds that include both ends.
pub(crate) const fn from_to(least: f64, greatest: f64) -> Bounds {
    Bounds { least, greatest }
}

/// One table of the file. What is read from it is remembered; `finish` refuses the rest.
pub(crate) struct Section<'r, 't> {
    pub(crate) reader: &'r Reader,
    pub(crate) path: String,
    pub(crate) span: Range<usize>,
    table: &'r DeTable<'t>,
    known: RefCell<BTreeSet<&'static str>>,
}

impl<'r, 't> Section<'r, 't> {
    pub(crate) fn new(reader: &'r Reader, path: String, span: Range<usize>, table: &'r DeTable<'t>) -> Self {
        Self { reader, path, span, table, known: RefCell::new(BTreeSet::new()) }
    }

    /// The full name of a key of this table.
    pub(crate) fn name(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    fn entry(&self, key: &'static str) -> Option<&'r Spanned<DeValue<'t>>> {
        self.known.borrow_mut().insert(key);
        self.table.iter().find(|(name, _)| name.get_ref() == key).map(|(_, value)| value)
    }

    /// True if the key stands in the file.
    pub(crate) fn has(&self, key: &'static str) -> bool {
        self.entry(key).is_some()
    }

    /// The place of a key's value, or of the table if it is missing.
    pub(crate) fn span_of(&self, key: &'static str) -> Range<usize> {
        self.entry(key).map_or_else(|| self.span.clone(), Spanned::span)
    }

    /// Keeps a problem with a key of this table.
    pub(crate) fn refuse(&self, key: &'static str, wrong: Wrong) {
        self.reader.refuse(self.span_of(key), &self.name(key), wrong);
    }

    /// Keeps two values that cannot both hold.
    pub(crate) fn contradicts(&self, key: &'static str, found: impl Into<String>, allowed: &str, remedy: &str) {
        self.refuse(key, Wrong::new(Fault::Contradiction, found, allowed, remedy));
    }

    /// Says that a key is missing.
    pub(crate) fn missing(&self, key: &'static str, allowed: impl Into<String>, remedy: impl Into<String>) {
        let found = format!("`{}` is not there.", self.name(key));
        self.reader.refuse(self.span.clone(), &self.name(key), Wrong::new(Fault::Missing, found, allowed, remedy));
    }

    fn wrong_kind(&self, key: &'static str, value: &Spanned<DeValue<'t>>, wanted: &str) {
        let found = format!("`{key}` is {}.", article(value.get_ref().type_str()));
        let wrong = Wrong::new(Fault::WrongKind, found, format!("It must be {wanted}."), format!("Write {wanted}."));
        self.reader.refuse(value.span(), &self.name(key), wrong);
    }

    /// A number, if the key is there.
    pub(crate) fn number(&self, key: &'static str, bounds: Bounds) -> Option<f64> {
        let value = self.entry(key)?;
        let Some(number) = number_of(value.get_ref()) else {
            self.wrong_kind(key, value, "a number");
            return None;
        };
        self.within(key, value.span(), number, bounds)
    }

    /// A number that must be there.
    pub(crate) fn needs_number(&self, key: &'static str, bounds: Bounds) -> Option<f64> {
        if !self.has(key) {
            self.missing(key, bounds.sentence(), format!("Add {key} = a number, in the unit at the end of the key."));
        }
        self.number(key, bounds)
    }

    fn within(&self, key: &'static str, span: Range<usize>, number: f64, bounds: Bounds) -> Option<f64> {
        if number >= bounds.least && number <= bounds.greatest {
            return Some(number);
        }
        let found = format!("`{key}` is {number}, outside what can be.");
        let wrong = Wrong::new(Fault::OutOfRange, found, bounds.sentence(), "Correct the number; its unit stands at the end of the key.");
        self.reader.refuse(span, &self.name(key), wrong);
        None
    }

    /// A list of numbers, if the key is there; `None` too when an entry is refused.
    pub(crate) fn numbers(&self, key: &'static str, bounds: Bounds) -> Option<Vec<f64>> {
        let value = self.entry(key)?;
        let Some(list) = value.get_ref().as_array() else {
            self.wrong_kind(key, value, "a list of numbers");
            return None;
        };
        let read = list.iter().map(|entry| match number_of(entry.get_ref()) {
            Some(number) => self.within(key, entry.span(), number, bounds),
            None => {
                self.wrong_kind(key, entry, "a number");
                None
            }
        });
        read.collect::<Vec<_>>().into_iter().collect()
    }

    /// A list of numbers that must be there.
    pub(crate) fn needs_numbers(&self, key: &'static str, bounds: Bounds) -> Option<Vec<f64>> {
        if !self.has(key) {
            self.missing(key, bounds.sentence(), "Add a list of numbers, for example [1, 2, 3].");
        }
        self.numbers(key, bounds)
    }

    /// A whole number, if the key is there.
    pub(crate) fn whole(&self, key: &'static str, least: u32, greatest: u32) -> Option<u32> {
        let number = self.number(key, from_to(f64::from(least), f64::from(greatest)))?;
        let whole = number as u32;
        if f64::from(whole) == number {
            return Some(whole);
        }
        let allowed = format!("It must be a whole number from {least} to {greatest}.");
        self.refuse(key, Wrong::new(Fault::WrongKind, format!("`{key}` is {number}."), allowed, "Write a whole number."));
        None
    }

    /// A text, if the key is there.
    pub(crate) fn text(&self, key: &'static str) -> Option<&'r str> {
        let value = self.entry(key)?;
        let text = value.get_ref().as_str();
        if text.is_none() {
            self.wrong_kind(key, value, "a text in quotes");
        }
        text
    }

    /// A text that must be there.
    pub(crate) fn needs_text(&self, key: &'static str, remedy: &str) -> Option<&'r str> {
        if !self.has(key) {
            self.missing(key, "It must be a text in quotes.", remedy);
        }
        self.text(key)
    }

    /// True or false, with what holds when the key is absent.
    pub(crate) fn flag(&self, key: &'static str, otherwise: bool) -> bool {
        let Some(value) = self.entry(key) else { return otherwise };
        value.get_ref().as_bool().unwrap_or_else(|| {
            self.wrong_kind(key, value, "true or false");
            otherwise
        })
    }

    /// One of a list of words, if the key is there.
    pub(crate) fn choice<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<T> {
        let text = self.text(key)?;
        let found = words.iter().find(|(word, _)| *word == text).map(|(_, meaning)| *meaning);
        if found.is_none() {
            let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let found = format!("`{key}` is “{text}”, a word not known here.");
            self.refuse(key, Wrong::new(Fault::NotAChoice, found, among(&list), suggestion(text, &list)));
        }
        found
    }

    /// One of a list of words that must be there.
    pub(crate) fn needs_choice<T: Copy>(&self, key: &'static str, words: &[(&str, T)]) -> Option<T> {
        if !self.has(key) {
            let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            self.missing(key, among(&list), "Add one of these words in quotes.");
        }
        self.choice(key, words)
    }

    /// A table inside this one, if the key is there.
    pub(crate) fn section(&self, key: &'static str) -> Option<Section<'r, 't>> {
        let value = self.entry(key)?;
        let Some(table) = value.get_ref().as_table() else {
            self.wrong_kind(key, value, "a table");
            return None;
        };
        Some(Section::new(self.reader, self.name(key), value.span(), table))
    }

    /// A table inside this one that must be there.
    pub(crate) fn needs_section(&self, key: &'static str, remedy: &str) -> Option<Section<'r, 't>> {
        if !self.has(key) {
            self.missing(key, "It must be a table.", remedy);
        }
        self.section(key)
    }

    /// A list of tables, empty if the key is absent.
    pub(crate) fn sections(&self, key: &'static str) -> Vec<Section<'r, 't>> {
        let Some(value) = self.entry(key) else { return Vec::new() };
        let Some(list) = value.get_ref().as_array() else {
            self.wrong_kind(key, value, "a list of tables");
            return Vec::new();
        };
        let mut sections = Vec::new();
        for (index, entry) in list.iter().enumerate() {
            match entry.get_ref().as_table() {
                Some(table) => {
                    sections.push(Section::new(self.reader, format!("{}[{index}]", self.name(key)), entry.span(), table));
                }
                None => self.wrong_kind(key, entry, "a table"),
            }
        }
        sections
    }

    /// Refuses every key that was not asked for. Called last.
    pub(crate) fn finish(&self) {
        let known: Vec<&str> = self.known.borrow().iter().copied().collect();
        for (key, _) in self.table.iter() {
            let word: &str = key.get_ref();
            if !known.contains(&word) {
                let found = format!("`{word}` is not a key here.");
                let wrong = Wrong::new(Fault::UnknownKey, found, among(&known), suggestion(word, &known));
                self.reader.refuse(key.span(), &self.name(word), wrong);
            }
        }
    }
}

fn number_of(value: &DeValue<'_>) -> Option<f64> {
    let digits = match value {
        DeValue::Integer(integer) => return i64::from_str_radix(integer.as_str(), integer.radix()).ok().map(|whole| whole as f64),
        DeValue::Float(float) => float.as_str(),
        _ => return None,
    };
    digits.parse::<f64>().ok()
}

fn among(words: &[&str]) -> String {
    format!("Known here: {}.", words.join(" · "))
}

/// A remedy that names the nearest of the allowed words.
fn suggestion(word: &str, words: &[&str]) -> String {
    match nearest(word, words.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "Take it out, or use one of these.".to_owned(),
    }
}

fn article(kind: &str) -> String {
    let vowel = kind.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {kind}", if vowel { "an" } else { "a" })
}
