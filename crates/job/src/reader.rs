//! Values taken from the checked file, with the defaults of the table of fields standing in: it alone decides whether a value was answered or
//! assumed. What is asked for must stand in the table; a test holds the two together.

use std::collections::BTreeSet;

use jiff::civil::{Date, Time};
use reckoning::Known;
use rust_decimal::Decimal;
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};

use crate::assumed::{AssumedField, Setting};
use crate::fields::{self, EVERY_WALL, Field, Kind, Measure, Preset, Reach};
use crate::problem::{Fault, Problems};
use crate::sheet::Sheet;
use crate::values::{Given, allowed, remedy};
use crate::written;

/// Who stands behind a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Standing {
    Answered,
    ForEveryWall,
    Usual,
    Assumed,
}

/// Takes values from a sheet by path.
pub(crate) struct Reader<'a> {
    pub sheet: &'a Sheet,
    pub problems: &'a mut Problems,
    pub assumed: Vec<AssumedField>,
    /// Fields asked for, by their path in the table.
    pub asked: BTreeSet<String>,
}

impl<'a> Reader<'a> {
    pub(crate) fn new(sheet: &'a Sheet, problems: &'a mut Problems) -> Self {
        Self { sheet, problems, assumed: Vec::new(), asked: BTreeSet::new() }
    }

    /// Tells a problem at a path.
    pub(crate) fn problem(
        &mut self,
        fault: Fault,
        path: &str,
        found: impl Into<String>,
        allowed: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        self.problems.add(fault, self.sheet.span(path), path, found.into(), allowed.into(), remedy.into());
    }

    /// True if the path, or its answer for every wall, was written (even if it will not do).
    pub(crate) fn is_written(&self, path: &str) -> bool {
        let here = |path: &str| self.sheet.get(path).is_some() || self.sheet.is_spoiled(path);
        here(path) || every_wall(path).is_some_and(|every| here(&every))
    }

    /// True if the very path was written.
    pub(crate) fn is_written_here(&self, path: &str) -> bool {
        self.sheet.get(path).is_some() || self.sheet.is_spoiled(path)
    }

    /// The names in a table of many, in the order of the file.
    pub(crate) fn names(&self, path: &str) -> Vec<String> {
        self.sheet.names(path)
    }

    /// True if a table was written.
    pub(crate) fn has_table(&self, path: &str) -> bool {
        self.sheet.has_table(path)
    }

    fn given(&mut self, path: &str) -> Option<(Given, Standing, &'static Field)> {
        let pattern = fields::pattern(path);
        let found = fields::field(&pattern);
        self.asked.insert(pattern);
        let field = found?;
        if let Some(entry) = self.sheet.get(path) {
            return Some((entry.given.clone(), Standing::Answered, field));
        }
        if self.sheet.is_spoiled(path) {
            return None;
        }
        if field.common
            && let Some(every) = every_wall(path)
        {
            if let Some(entry) = self.sheet.get(&every) {
                return Some((entry.given.clone(), Standing::ForEveryWall, field));
            }
            if self.sheet.is_spoiled(&every) {
                return None;
            }
        }
        if field.preset == Preset::Required {
            self.missing(path);
        }
        let given = preset(field)?;
        let standing = if field.assumed { Standing::Assumed } else { Standing::Usual };
        if standing == Standing::Assumed {
            let range = reach(field);
            self.record(path, field, setting(&given), range, field.source.to_owned());
        }
        Some((given, standing, field))
    }

    fn record(&mut self, path: &str, field: &'static Field, value: Option<Setting>, range: Option<(Setting, Setting)>, source: String) {
        let Some(value) = value else { return };
        let of = |table: &str, word: &str| {
            let name = path.strip_prefix(table).and_then(|rest| rest.split_once('.'));
            name.map_or(String::new(), |(name, _)| format!(", {name} {word}"))
        };
        let wall = format!("{}{}", of("walls.", "wall"), of("gangs.", "gang"));
        let unit = match field.kind {
            Kind::Number { measure, .. } | Kind::Decimal { measure, .. } => measure.words(),
            Kind::OpenOr { .. } => Measure::Metres.words(),
            _ => "",
        };
        self.assumed.push(AssumedField {
            path: path.to_owned(),
            field: field.path.to_owned(),
            label: format!("{}{wall}", field.label),
            question: field.question.to_owned(),
            value,
            unit: unit.to_owned(),
            range,
            source,
        });
    }

    /// Tells that a value is missing.
    pub(crate) fn missing(&mut self, path: &str) {
        if self.is_written(path) {
            return;
        }
        let Some(field) = fields::field(path) else { return };
        let table = path.rsplit_once('.').map_or("", |(table, _)| table);
        let found = if table.is_empty() { format!("There is no {}.", field.key()) } else { format!("[{table}] has no {}.", field.key()) };
        self.problem(Fault::Missing, path, found, allowed(field), remedy(field));
    }

    /// A number in SI (metres, shares) or in the unit as written; `None` if it was left out and has no default, or would not do.
    pub(crate) fn number(&mut self, path: &str) -> Option<f64> {
        let (given, _, field) = self.given(path)?;
        as_number(&given, field)
    }

    /// A number that must be there in this case though the table lets it be left out; zero stands in when the problem is told.
    pub(crate) fn needed_number(&mut self, path: &str) -> f64 {
        let number = self.number(path);
        if number.is_none() {
            self.missing(path);
        }
        number.unwrap_or(0.0)
    }

    /// An exact amount with its standing, not told among the assumptions: one that nothing in this job rests on.
    pub(crate) fn idle_decimal(&mut self, path: &str) -> Known<Decimal> {
        let told = self.assumed.len();
        let known = self.known_decimal(path);
        self.assumed.truncate(told);
        known
    }

    /// A number with its standing.
    pub(crate) fn known_number(&mut self, path: &str) -> Known<f64> {
        let Some((given, standing, field)) = self.given(path) else { return Known::answered(0.0) };
        let factor = factor(field);
        let range = match field.reach {
            Reach::Numbers(low, high) => Some((low * factor, high * factor)),
            _ => None,
        };
        known(as_number(&given, field).unwrap_or(0.0), standing, field, range)
    }

    /// A number that is worked from other answers when it is left out; value, range and source in SI say how.
    pub(crate) fn known_number_or(&mut self, path: &str, value: f64, range: (f64, f64), source: String) -> Known<f64> {
        let pattern = fields::pattern(path);
        let Some(field) = fields::field(&pattern) else { return Known::answered(value) };
        if self.is_written(path) {
            return self.known_number(path);
        }
        self.asked.insert(pattern);
        let factor = factor(field);
        let as_written = |number: f64| Setting::Number(number / factor);
        self.record(path, field, Some(as_written(value)), Some((as_written(range.0), as_written(range.1))), source.clone());
        Known::assumed(value, source, Some(range))
    }

    /// An exact amount with its standing; shares as shares.
    pub(crate) fn known_decimal(&mut self, path: &str) -> Known<Decimal> {
        let Some((Given::Decimal(amount), standing, field)) = self.given(path) else { return Known::answered(Decimal::ZERO) };
        let range = match field.reach {
            Reach::Numbers(low, high) => {
                Decimal::from_f64(low).zip(Decimal::from_f64(high)).map(|(low, high)| (scaled(low, field), scaled(high, field)))
            }
            _ => None,
        };
        known(scaled(amount, field), standing, field, range)
    }

    /// An exact amount worked from other answers when it is left out.
    pub(crate) fn known_decimal_or(&mut self, path: &str, value: Decimal, range: (Decimal, Decimal), source: &str) -> Known<Decimal> {
        let pattern = fields::pattern(path);
        let Some(field) = fields::field(&pattern) else { return Known::answered(value) };
        if self.is_written(path) {
            return self.known_decimal(path);
        }
        self.asked.insert(pattern);
        let number = |amount: Decimal| amount.to_f64().map(Setting::Number);
        self.record(path, field, number(value), number(range.0).zip(number(range.1)), source.to_owned());
        Known::assumed(value, source, Some(range))
    }

    /// An exact amount without a default.
    pub(crate) fn decimal(&mut self, path: &str) -> Option<Decimal> {
        match self.given(path)? {
            (Given::Decimal(amount), _, field) => Some(scaled(amount, field)),
            _ => None,
        }
    }

    /// A word, a name or text; `None` if it was left out and has no default.
    pub(crate) fn word(&mut self, path: &str) -> Option<String> {
        match self.given(path)? {
            (Given::Text(word), _, _) => Some(word),
            _ => None,
        }
    }

    /// A word with its standing.
    pub(crate) fn known_word(&mut self, path: &str) -> Known<String> {
        let Some((Given::Text(word), standing, field)) = self.given(path) else { return Known::answered(String::new()) };
        let range = match field.reach {
            Reach::Words(low, high) => Some((low.to_owned(), high.to_owned())),
            _ => None,
        };
        known(word, standing, field, range)
    }

    /// Yes or no, with its standing.
    pub(crate) fn known_flag(&mut self, path: &str) -> Known<bool> {
        let Some((Given::Flag(flag), standing, field)) = self.given(path) else { return Known::answered(false) };
        let range = (field.reach == Reach::Either).then_some((false, true));
        known(flag, standing, field, range)
    }

    /// Yes or no.
    pub(crate) fn flag(&mut self, path: &str) -> Option<bool> {
        match self.given(path)? {
            (Given::Flag(flag), _, _) => Some(flag),
            _ => None,
        }
    }

    /// A date.
    pub(crate) fn date(&mut self, path: &str) -> Option<Date> {
        match self.given(path)? {
            (Given::Date(date), _, _) => Some(date),
            _ => None,
        }
    }

    /// A date worked from other answers when it is left out.
    pub(crate) fn known_date_or(&mut self, path: &str, date: Date) -> Known<Date> {
        if let Some(date) = self.date(path) {
            return Known::answered(date);
        }
        let Some(field) = fields::field(path) else { return Known::answered(date) };
        if !self.is_written(path) {
            self.record(path, field, Some(Setting::Word(date.to_string())), None, field.source.to_owned());
        }
        Known::assumed(date, field.source, None)
    }

    /// A time of day.
    pub(crate) fn time(&mut self, path: &str) -> Option<Time> {
        match self.given(path)? {
            (Given::Time(time), _, _) => Some(time),
            _ => None,
        }
    }

    /// Several words.
    pub(crate) fn words(&mut self, path: &str) -> Vec<String> {
        match self.given(path) {
            Some((Given::Words(words), _, _)) => words,
            _ => Vec::new(),
        }
    }

    /// First and last days.
    pub(crate) fn spells(&mut self, path: &str) -> Vec<(Date, Date)> {
        match self.given(path) {
            Some((Given::Spells(spells), _, _)) => spells,
            _ => Vec::new(),
        }
    }

    /// A list of numbers in SI.
    pub(crate) fn numbers(&mut self, path: &str) -> Option<Vec<f64>> {
        match self.given(path)? {
            (Given::Numbers(numbers), _, field) => Some(numbers.into_iter().map(|number| number * factor(field)).collect()),
            _ => None,
        }
    }

    /// Rows of numbers in SI.
    pub(crate) fn rows(&mut self, path: &str) -> Option<Vec<Vec<f64>>> {
        match self.given(path)? {
            (Given::Rows(rows), _, field) => {
                Some(rows.into_iter().map(|row| row.into_iter().map(|number| number * factor(field)).collect()).collect())
            }
            _ => None,
        }
    }

    /// A whole number.
    pub(crate) fn count(&mut self, path: &str) -> Option<u32> {
        self.number(path).map(whole)
    }
}

/// A whole number in the range of `u32`, as the table of fields has bounded it.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a cast from float saturates, and the table bounds it")]
pub(crate) fn whole(number: f64) -> u32 {
    number as u32
}

fn every_wall(path: &str) -> Option<String> {
    let (_, key) = path.strip_prefix("walls.")?.split_once('.')?;
    Some(format!("{EVERY_WALL}.{key}"))
}

fn known<T>(value: T, standing: Standing, field: &Field, range: Option<(T, T)>) -> Known<T> {
    match standing {
        Standing::Answered => Known::answered(value),
        Standing::ForEveryWall => Known { source: "answered in the job for every wall".to_owned(), ..Known::answered(value) },
        Standing::Usual => Known { source: field.source.to_owned(), ..Known::answered(value) },
        Standing::Assumed => Known::assumed(value, field.source, range),
    }
}

fn as_number(given: &Given, field: &Field) -> Option<f64> {
    match given {
        Given::Number(number) => Some(number * factor(field)),
        _ => None,
    }
}

fn factor(field: &Field) -> f64 {
    match field.kind {
        Kind::Number { measure, .. } | Kind::Numbers { measure, .. } | Kind::Rows { measure, .. } => measure.factor(),
        _ => 1.0,
    }
}

fn scaled(amount: Decimal, field: &Field) -> Decimal {
    match field.kind {
        Kind::Decimal { measure: Measure::PerCent, .. } => amount / Decimal::ONE_HUNDRED,
        _ => amount,
    }
}

/// The default of a field as a value; `None` if it has none or it is worked from other answers.
fn preset(field: &Field) -> Option<Given> {
    match (field.preset, field.kind) {
        (Preset::Number(number), Kind::Decimal { .. }) => Decimal::from_f64(number).map(Given::Decimal),
        (Preset::Number(number), _) => Some(Given::Number(number)),
        (Preset::Word(word), Kind::Time) => written::time(word).map(Given::Time),
        (Preset::Word(word), _) => Some(Given::Text(word.to_owned())),
        (Preset::Words(_), Kind::Spells { .. }) => Some(Given::Spells(Vec::new())),
        (Preset::Words(words), _) => Some(Given::Words(words.iter().map(|word| (*word).to_owned()).collect())),
        (Preset::Flag(flag), _) => Some(Given::Flag(flag)),
        (Preset::Required | Preset::Absent | Preset::Worked(_), _) => None,
    }
}

fn setting(given: &Given) -> Option<Setting> {
    match given {
        Given::Number(number) => Some(Setting::Number(*number)),
        Given::Decimal(amount) => amount.to_f64().map(Setting::Number),
        Given::Text(word) => Some(Setting::Word(word.clone())),
        Given::Flag(flag) => Some(Setting::Flag(*flag)),
        Given::Date(date) => Some(Setting::Word(date.to_string())),
        _ => None,
    }
}

fn reach(field: &Field) -> Option<(Setting, Setting)> {
    let word = |word: &str| word.parse().map_or_else(|_| Setting::Word(word.to_owned()), Setting::Number);
    match field.reach {
        Reach::None => None,
        Reach::Numbers(low, high) => Some((Setting::Number(low), Setting::Number(high))),
        Reach::Words(low, high) => Some((word(low), word(high))),
        Reach::Either => Some((Setting::Flag(false), Setting::Flag(true))),
    }
}

/// A setting as a checked value of a field, for asking "what if it were so?"; `None` if it does not fit the field.
pub(crate) fn as_given(field: &Field, setting: &Setting) -> Option<Given> {
    Some(match (setting, field.kind) {
        (Setting::Number(number), Kind::Decimal { .. }) => Given::Decimal(Decimal::from_f64(*number)?),
        (Setting::Number(number), Kind::Number { .. } | Kind::OpenOr { .. } | Kind::Bearing | Kind::Ratio { .. }) => Given::Number(*number),
        (Setting::Word(word), Kind::Date) => Given::Date(written::date(word)?),
        (Setting::Word(word), Kind::Time) => Given::Time(written::time(word)?),
        (Setting::Word(word), Kind::Choice(_) | Kind::Entry(_) | Kind::Text { .. } | Kind::OpenOr { .. }) => Given::Text(word.clone()),
        (Setting::Flag(flag), Kind::Flag) => Given::Flag(*flag),
        _ => return None,
    })
}

impl Reader<'_> {
    /// How many problems have been told so far.
    pub(crate) fn problems_told(&self) -> usize {
        self.problems.count()
    }

    /// A value as written, for laying over an entry of the catalogue; `None` if it was not written.
    pub(crate) fn json(&mut self, path: &str) -> Option<serde_json::Value> {
        self.asked.insert(fields::pattern(path));
        Some(match &self.sheet.get(path)?.given {
            Given::Number(number) => serde_json::Value::from(*number),
            Given::Text(word) => serde_json::Value::from(word.clone()),
            Given::Flag(flag) => serde_json::Value::from(*flag),
            Given::Numbers(numbers) => serde_json::Value::from(numbers.clone()),
            _ => return None,
        })
    }

    /// Notes an assumption worked from other answers, in the words the field takes.
    pub(crate) fn assume_word(&mut self, path: &str, word: &str, source: &str) {
        let pattern = fields::pattern(path);
        if let Some(field) = fields::field(&pattern) {
            self.record(path, field, Some(Setting::Word(word.to_owned())), reach(field), source.to_owned());
        }
        self.asked.insert(pattern);
    }
}

impl Reader<'_> {
    /// The standing of a word given where a number may be: what `known_word` gives, without telling the assumption a second time.
    pub(crate) fn standing_of_word(&mut self, path: &str) -> Known<String> {
        let told = self.assumed.len();
        let known = self.known_word(path);
        self.assumed.truncate(told);
        known
    }
}
