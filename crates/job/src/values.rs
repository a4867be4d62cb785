//! One value of the file against its field: the kind, the range, and the words that say what is allowed.

use std::str::FromStr;

use jiff::civil::{Date, Time};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use toml::Spanned;
use toml::de::DeValue;

use crate::fields::{Field, Kind, Measure, Names, Preset, Shelf, Word};
use crate::problem::{Fault, nearest};
use crate::written;

/// A checked value, numbers in the unit as written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Given {
    Number(f64),
    Decimal(Decimal),
    Text(String),
    Flag(bool),
    Date(Date),
    Time(Time),
    Numbers(Vec<f64>),
    Rows(Vec<Vec<f64>>),
    Words(Vec<String>),
    Spells(Vec<(Date, Date)>),
}

/// Why a value will not do: the fault, what was found, and the part of the value at fault if it is one of a list.
#[derive(Debug)]
pub(crate) struct Wrong {
    pub fault: Fault,
    pub found: String,
    pub at: Option<std::ops::Range<usize>>,
    pub hint: Option<String>,
}

impl Wrong {
    pub(crate) fn new(fault: Fault, found: String) -> Self {
        Self { fault, found, at: None, hint: None }
    }
}

type Checked<T> = Result<T, Wrong>;
type Value<'i> = Spanned<DeValue<'i>>;

/// Checks a value against its field.
pub(crate) fn check(field: &Field, value: &Value<'_>) -> Checked<Given> {
    match field.kind {
        Kind::Number { low, high, measure, whole } => number(value, low, high, measure, whole).map(Given::Number),
        Kind::Decimal { low, high, measure } => decimal(value, low, high, measure).map(Given::Decimal),
        Kind::OpenOr { low, high } => open_or(value, low, high),
        Kind::Choice(words) => text(value).and_then(|word| choice(&word, words)).map(Given::Text),
        Kind::Choices(words) => list(value, 1, 100, |each| text(each).and_then(|word| choice(&word, words))).map(Given::Words),
        Kind::Entry(_) => text(value).and_then(slug).map(Given::Text),
        Kind::Walls => list(value, 0, 500, |each| text(each).and_then(slug)).map(Given::Words),
        Kind::Text { most } => text(value).and_then(|words| plain_text(words, most, field)).map(Given::Text),
        Kind::Flag => match value.get_ref() {
            DeValue::Boolean(flag) => Ok(Given::Flag(*flag)),
            other => Err(wrong_kind(other)),
        },
        Kind::Date => date(value).map(Given::Date),
        Kind::Time => time(value).map(Given::Time),
        Kind::Spells { at_most } => list(value, 0, at_most, spell).map(Given::Spells),
        Kind::Bearing => bearing(value).map(Given::Number),
        Kind::Ratio { low, high } => ratio(value, low, high).map(Given::Number),
        Kind::Numbers { low, high, measure, at_least, at_most } => {
            list(value, at_least, at_most, |each| number(each, low, high, measure, false)).map(Given::Numbers)
        }
        Kind::Rows { low, high, measure, at_least, at_most, columns } => {
            list(value, at_least, at_most, |row| list(row, columns.0, columns.1, |each| number(each, low, high, measure, false)))
                .map(Given::Rows)
        }
        Kind::Section | Kind::Each { .. } => Err(wrong_kind(value.get_ref())),
    }
}

/// A value as it reads in a sentence.
pub(crate) fn describe(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("the text {:?}", short(text)),
        DeValue::Integer(number) => format!("the number {}", short(&number.to_string())),
        DeValue::Float(number) => format!("the number {}", short(&number.to_string())),
        DeValue::Boolean(flag) => format!("the word {flag}"),
        DeValue::Datetime(when) => format!("the date or time {when}"),
        DeValue::Array(_) => "a list".to_owned(),
        DeValue::Table(_) => "a table".to_owned(),
    }
}

fn short(text: &str) -> String {
    if text.chars().count() <= 60 { text.to_owned() } else { text.chars().take(57).chain("...".chars()).collect() }
}

pub(crate) fn wrong_kind(value: &DeValue<'_>) -> Wrong {
    Wrong::new(Fault::WrongKind, format!("Here stands {}.", describe(value)))
}

/// A number of the file as a binary number, from an integer, a decimal or text.
fn raw_number(value: &Value<'_>, measure: Measure) -> Checked<f64> {
    match value.get_ref() {
        DeValue::Integer(integer) => i128::from_str_radix(integer.as_str(), integer.radix())
            .ok()
            .and_then(|number| number.to_f64())
            .ok_or_else(|| Wrong::new(Fault::OutOfRange, format!("The number {} is too large.", short(integer.as_str())))),
        DeValue::Float(float) => float.as_str().parse::<f64>().map_err(|_| wrong_kind(value.get_ref())),
        DeValue::String(text) => written::amount(text, measure)
            .map_err(|why| Wrong::new(Fault::WrongKind, format!("Here stands {}. {why}", describe(value.get_ref())))),
        other => Err(wrong_kind(other)),
    }
}

fn number(value: &Value<'_>, low: f64, high: f64, measure: Measure, whole: bool) -> Checked<f64> {
    let number = raw_number(value, measure)?;
    if !number.is_finite() {
        return Err(Wrong::new(Fault::OutOfRange, format!("Here stands {}, which nobody can measure.", describe(value.get_ref()))));
    }
    within(number, low, high, measure)?;
    if whole && number.fract() != 0.0 {
        return Err(Wrong::new(Fault::WrongKind, format!("{} is not a whole number.", figure(number))));
    }
    // Minus nothing is nothing: a sign on zero would show in the documents.
    Ok(if number == 0.0 { 0.0 } else { number })
}

fn within(number: f64, low: f64, high: f64, measure: Measure) -> Checked<()> {
    let side = match number {
        n if n < low => format!("less than {}", with_unit(low, measure)),
        n if n > high => format!("more than {}", with_unit(high, measure)),
        _ => return Ok(()),
    };
    Err(Wrong::new(Fault::OutOfRange, format!("{} is {side}.", with_unit(number, measure))))
}

fn decimal(value: &Value<'_>, low: f64, high: f64, measure: Measure) -> Checked<Decimal> {
    let written = match value.get_ref() {
        DeValue::Integer(integer) if integer.radix() == 10 => integer.as_str().to_owned(),
        DeValue::Float(float) => float.as_str().to_owned(),
        DeValue::String(text) => text.trim().trim_start_matches(['£', '€', '$']).trim_end_matches('%').trim().to_owned(),
        other => return Err(wrong_kind(other)),
    };
    let exact = Decimal::from_str(&written).or_else(|_| Decimal::from_scientific(&written));
    let exact = exact.map_err(|_| {
        Wrong::new(Fault::WrongKind, format!("Here stands {}, which does not read as an exact amount.", describe(value.get_ref())))
    })?;
    within(exact.to_f64().unwrap_or(f64::MAX), low, high, measure)?;
    Ok(exact)
}

fn open_or(value: &Value<'_>, low: f64, high: f64) -> Checked<Given> {
    if let DeValue::String(text) = value.get_ref()
        && text.trim().eq_ignore_ascii_case("open")
    {
        return Ok(Given::Text("open".to_owned()));
    }
    number(value, low, high, Measure::Metres, false).map(Given::Number)
}

fn text(value: &Value<'_>) -> Checked<String> {
    match value.get_ref() {
        DeValue::String(text) => Ok(text.trim().to_owned()),
        other => Err(wrong_kind(other)),
    }
}

fn plain_text(words: String, most: usize, field: &Field) -> Checked<String> {
    if words.is_empty() && field.preset == Preset::Required {
        return Err(Wrong::new(Fault::Missing, "Nothing stands between the quotation marks.".to_owned()));
    }
    if words.chars().count() > most {
        return Err(Wrong::new(Fault::TooMuch, format!("This is {} characters long.", words.chars().count())));
    }
    match words.chars().find(|c| c.is_control()) {
        Some(_) => Err(Wrong::new(Fault::WrongKind, "There is a line break or another control character in it.".to_owned())),
        None => Ok(words),
    }
}

fn choice(word: &str, words: &[Word]) -> Checked<String> {
    let written = word.to_lowercase().replace([' ', '_'], "-");
    if let Some((known, _)) = words.iter().find(|(known, meaning)| *known == written || meaning.to_lowercase() == written) {
        return Ok((*known).to_owned());
    }
    let mut wrong = Wrong::new(Fault::NotAChoice, format!("{:?} is not one of the words for this.", short(word)));
    wrong.hint = nearest(&written, words.iter().map(|(known, _)| *known)).map(|near| format!("Did you mean {near:?}?"));
    Err(wrong)
}

/// A short name: lower-case letters, digits and hyphens, at most 40.
pub(crate) fn slug(name: String) -> Checked<String> {
    let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if !name.is_empty() && name.len() <= 40 && name.chars().all(fits) && !name.starts_with('-') && !name.ends_with('-') {
        return Ok(name);
    }
    let mut wrong = Wrong::new(Fault::BadName, format!("{:?} is not a short name.", short(&name)));
    let mended: String = name.to_lowercase().chars().take(40).map(|c| if fits(c) { c } else { '-' }).collect();
    let mended = mended.trim_matches('-');
    wrong.hint = (!mended.is_empty()).then(|| format!("Write {mended:?}."));
    Err(wrong)
}

/// True for a day in the years a job is planned in.
pub(crate) fn is_planned_in(day: Date) -> bool {
    (1990..=2200).contains(&day.year())
}

fn date(value: &Value<'_>) -> Checked<Date> {
    let read = match value.get_ref() {
        DeValue::String(text) => written::date(text),
        DeValue::Datetime(when) if when.time.is_none() => {
            when.date.and_then(|d| Date::new(i16::try_from(d.year).ok()?, i8::try_from(d.month).ok()?, i8::try_from(d.day).ok()?).ok())
        }
        other => return Err(wrong_kind(other)),
    };
    let day = read.ok_or_else(|| {
        Wrong::new(Fault::WrongKind, format!("Here stands {}, which is no day of the calendar.", describe(value.get_ref())))
    })?;
    if is_planned_in(day) {
        return Ok(day);
    }
    Err(Wrong::new(Fault::OutOfRange, format!("The year {} is not one a job is planned in.", day.year())))
}

fn time(value: &Value<'_>) -> Checked<Time> {
    let read = match value.get_ref() {
        DeValue::String(text) => written::time(text),
        DeValue::Datetime(when) if when.date.is_none() => {
            when.time.and_then(|t| Time::new(i8::try_from(t.hour).ok()?, i8::try_from(t.minute).ok()?, 0, 0).ok())
        }
        other => return Err(wrong_kind(other)),
    };
    read.ok_or_else(|| Wrong::new(Fault::WrongKind, format!("Here stands {}, which is no time of day.", describe(value.get_ref()))))
}

fn spell(value: &Value<'_>) -> Checked<(Date, Date)> {
    if let DeValue::Datetime(_) = value.get_ref() {
        return date(value).map(|day| (day, day));
    }
    let text = text(value)?;
    let (first, last) =
        written::spell(&text).ok_or_else(|| Wrong::new(Fault::WrongKind, format!("{:?} is not a first and a last day.", short(&text))))?;
    if last < first {
        return Err(Wrong::new(Fault::Contradiction, format!("The last day, {last}, comes before the first, {first}.")));
    }
    Ok((first, last))
}

fn bearing(value: &Value<'_>) -> Checked<f64> {
    if let DeValue::String(text) = value.get_ref()
        && let Some(degrees) = written::bearing(text)
    {
        return Ok(degrees);
    }
    if let DeValue::String(text) = value.get_ref()
        && text.chars().all(|c| !c.is_ascii_digit())
    {
        return Err(Wrong::new(Fault::NotAChoice, format!("{:?} is not a point of the compass.", short(text))));
    }
    number(value, 0.0, 360.0, Measure::As("degrees"), false).map(|degrees| if degrees == 360.0 { 0.0 } else { degrees })
}

fn ratio(value: &Value<'_>, low: f64, high: f64) -> Checked<f64> {
    let parts = match value.get_ref() {
        DeValue::String(text) => {
            written::ratio(text).map_err(|why| Wrong::new(Fault::WrongKind, format!("Here stands {}. {why}", describe(value.get_ref()))))?
        }
        _ => raw_number(value, Measure::One)?,
    };
    if parts.is_finite() && parts >= low && parts <= high {
        return Ok(parts);
    }
    Err(Wrong::new(Fault::OutOfRange, format!("One of lime to {} of sand is not a mix for a wall.", figure(parts))))
}

fn list<T>(value: &Value<'_>, at_least: usize, at_most: usize, each: impl Fn(&Value<'_>) -> Checked<T>) -> Checked<Vec<T>> {
    let DeValue::Array(items) = value.get_ref() else {
        return Err(wrong_kind(value.get_ref()));
    };
    if items.len() < at_least {
        return Err(Wrong::new(Fault::Missing, format!("There are {} in the list.", items.len())));
    }
    if items.len() > at_most {
        return Err(Wrong::new(Fault::TooMuch, format!("There are {} in the list.", items.len())));
    }
    let at = |item: &Value<'_>, mut wrong: Wrong| {
        wrong.at = wrong.at.or(Some(item.span()));
        wrong
    };
    items.iter().map(|item| each(item).map_err(|wrong| at(item, wrong))).collect()
}

/// A number as people write it: no more decimals than it needs.
pub(crate) fn figure(number: f64) -> String {
    let size = number.abs();
    if size != 0.0 && !(1e-4..1e9).contains(&size) { format!("{number:e}") } else { format!("{number}") }
}

pub(crate) fn with_unit(number: f64, measure: Measure) -> String {
    match measure.words() {
        "" => figure(number),
        unit => format!("{} {unit}", figure(number)),
    }
}

fn quoted(words: &[Word]) -> String {
    words.iter().map(|(word, _)| format!("{word:?}")).collect::<Vec<_>>().join(", ")
}

/// What may be written for a field: a complete sentence.
pub fn allowed(field: &Field) -> String {
    let range = |low: f64, high: f64, measure: Measure| format!("from {} to {}", figure(low), with_unit(high, measure));
    match field.kind {
        Kind::Section => "Allowed is a table.".to_owned(),
        Kind::Each { names: Names::Slugs, at_most } => format!("Allowed are at most {at_most} tables, each under a short name."),
        Kind::Each { names: Names::Of(words), .. } => format!("Allowed are tables named {}.", quoted(words)),
        Kind::Number { low, high, measure, whole } => {
            let kind = if whole { "a whole number" } else { "a number" };
            format!("Allowed is {kind} {}.", range(low, high, measure))
        }
        Kind::Decimal { low, high, measure } => format!("Allowed is an exact amount {}.", range(low, high, measure)),
        Kind::OpenOr { low, high } => format!("Allowed is a number {}, or \"open\".", range(low, high, Measure::Metres)),
        Kind::Choice(words) => format!("Allowed is one of {}.", quoted(words)),
        Kind::Choices(words) => format!("Allowed is a list of one or more of {}.", quoted(words)),
        Kind::Entry(shelf) => format!("Allowed is the name of one of the {} of the catalogue.", shelf_words(shelf)),
        Kind::Walls => "Allowed is a list of short names of walls of this job.".to_owned(),
        Kind::Text { most } => format!("Allowed is text in quotation marks, on one line, of at most {most} characters."),
        Kind::Flag => "Allowed is true or false, without quotation marks.".to_owned(),
        Kind::Date => "Allowed is a day such as 2027-04-26 or \"26 April 2027\", from 1990 to 2200.".to_owned(),
        Kind::Time => "Allowed is a time such as \"08:00\".".to_owned(),
        Kind::Spells { at_most } => format!("Allowed is a list of at most {at_most} spells such as \"2027-07-12 to 2027-07-16\"."),
        Kind::Bearing => "Allowed is a point of the compass such as \"north-east\", or degrees from north, 0 to 360.".to_owned(),
        Kind::Ratio { low, high } => {
            format!("Allowed is a proportion such as \"1:2½\", from 1:{} to 1:{}.", figure(low), figure(high))
        }
        Kind::Numbers { low, high, measure, at_least, at_most } => {
            let many = if at_least == at_most { format!("exactly {at_least}") } else { format!("{at_least} to {at_most}") };
            format!("Allowed is a list of {many} numbers {}.", range(low, high, measure))
        }
        Kind::Rows { low, high, measure, at_least, at_most, columns } => format!(
            "Allowed are {at_least} to {at_most} rows of {} numbers {}.",
            if columns.0 == columns.1 { columns.0.to_string() } else { format!("{} to {}", columns.0, columns.1) },
            range(low, high, measure)
        ),
    }
}

/// A shelf in words.
pub(crate) fn shelf_words(shelf: Shelf) -> &'static str {
    match shelf {
        Shelf::Limes => "limes",
        Shelf::Sands => "sands",
        Shelf::Masonries => "masonries",
        Shelf::Covers => "covers",
    }
}

/// What to do about a value that will not do: the question and an example, complete sentences.
pub(crate) fn remedy(field: &Field) -> String {
    let example = example(field);
    let write = if example.is_empty() { String::new() } else { format!("Write for example: {} = {example}", field.key()) };
    match (field.question, write.as_str()) {
        ("", "") => "See the schema for what belongs here.".to_owned(),
        ("", write) => write.to_owned(),
        (question, "") => question.to_owned(),
        (question, write) => format!("{question} {write}"),
    }
}

/// An example of a field's value as it is written in the file; empty for a table.
pub fn example(field: &Field) -> String {
    match (field.preset, field.kind) {
        (Preset::Number(number), _) => figure(number),
        (Preset::Word(word), _) if !word.is_empty() => format!("{word:?}"),
        (Preset::Words(words), _) if !words.is_empty() => format!("{words:?}"),
        (Preset::Flag(flag), _) => flag.to_string(),
        (_, Kind::Number { low, high, whole, .. }) => figure(usual_between(low, high, whole)),
        (_, Kind::Decimal { low, high, .. }) => figure(usual_between(low, high, true)),
        (_, Kind::OpenOr { .. }) => "25".to_owned(),
        (_, Kind::Choice(words)) => words.first().map_or(String::new(), |(word, _)| format!("{word:?}")),
        (_, Kind::Choices(words)) => words.first().map_or(String::new(), |(word, _)| format!("[{word:?}]")),
        (_, Kind::Entry(shelf)) => match shelf {
            Shelf::Limes => "\"putty-cl90\"",
            Shelf::Sands => "\"sharp-0-4\"",
            Shelf::Masonries => "\"mixed-rubble\"",
            Shelf::Covers => "\"damp-hessian\"",
        }
        .to_owned(),
        (_, Kind::Walls) => "[\"north\"]".to_owned(),
        (_, Kind::Text { .. }) => "\"...\"".to_owned(),
        (_, Kind::Flag) => "true".to_owned(),
        (_, Kind::Date) => "2027-04-26".to_owned(),
        (_, Kind::Time) => "\"08:00\"".to_owned(),
        (_, Kind::Spells { .. }) => "[\"2027-07-12 to 2027-07-16\"]".to_owned(),
        (_, Kind::Bearing) => "\"north\"".to_owned(),
        (_, Kind::Ratio { .. }) => "\"1:2½\"".to_owned(),
        (_, Kind::Numbers { low, high, at_least, at_most, .. }) => {
            let many = if at_least == at_most { at_least } else { 10 };
            format!("[{}]", vec![figure(usual_between(low, high, true)); many].join(", "))
        }
        (_, Kind::Rows { .. }) => "[[0, 0], [8.5, 0], [8.5, 4.2]]".to_owned(),
        (_, Kind::Section | Kind::Each { .. }) => String::new(),
    }
}

/// A plausible number in a range, for an example only.
fn usual_between(low: f64, high: f64, whole: bool) -> f64 {
    let middle = if low > 0.0 { (low * high).sqrt() } else { (high / 10.0).min(10.0) };
    let rounded = if whole || middle >= 10.0 { middle.round() } else { (middle * 10.0).round() / 10.0 };
    if rounded < low || rounded > high { low } else { rounded }
}
