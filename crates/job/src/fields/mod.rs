//! The one table of fields: every value of a job with its key and unit, range, help, plain question, default with source, and page.
//! The check of the file, the schema, the template, the error text and later the forms come from it; a job value must never be
//! described anywhere else.

mod about;
mod catalogue;
mod coats;
mod price;
mod season;
mod survey;
mod walls;

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Page of the job on which a field is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Page {
    /// Names, place, dates of the documents.
    Job,
    /// What was found at the building.
    Survey,
    /// Limes, sands, masonries, covers.
    Materials,
    /// The coat system.
    Coats,
    /// Weather, calendar, gangs, start.
    Season,
    /// Rates, scaffold, allowances.
    Price,
}

/// Unit in which a number is written, and what it becomes inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A bare number.
    One,
    /// Metres; kept as metres.
    Metres,
    /// Millimetres; kept as metres.
    Millimetres,
    /// Per cent; kept as a share, 0 to 1.
    PerCent,
    /// Any other unit, kept as written; the words follow the number in help and errors.
    As(&'static str),
}

impl Measure {
    /// What one unit as written is inside the tool.
    pub fn factor(self) -> f64 {
        match self {
            Measure::Millimetres => 1e-3,
            Measure::PerCent => 1e-2,
            Measure::One | Measure::Metres | Measure::As(_) => 1.0,
        }
    }

    /// The unit in words, empty for a bare number.
    pub fn words(self) -> &'static str {
        match self {
            Measure::One => "",
            Measure::Metres => "m",
            Measure::Millimetres => "mm",
            Measure::PerCent => "%",
            Measure::As(words) => words,
        }
    }
}

/// A shelf of the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the words say it")]
pub enum Shelf {
    Limes,
    Sands,
    Masonries,
    Covers,
}

/// A word that may be written, and what it means.
pub type Word = (&'static str, &'static str);

/// Names that the keys of a table of many may have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Names {
    /// Short names the user makes up: lower-case letters, digits and hyphens.
    Slugs,
    /// Only these.
    Of(&'static [Word]),
}

/// What may be written for a field.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "bounds and measures as named; all bounds are in the unit as written")]
pub enum Kind {
    /// A table with fixed keys.
    Section,
    /// A table of many, each with a name of its own.
    Each { names: Names, at_most: usize },
    /// A number; also as text the way people write it.
    Number { low: f64, high: f64, measure: Measure, whole: bool },
    /// An exact decimal: money, or a share of money.
    Decimal { low: f64, high: f64, measure: Measure },
    /// A distance in metres, or the word `open`.
    OpenOr { low: f64, high: f64 },
    /// One of some words.
    Choice(&'static [Word]),
    /// Several of some words.
    Choices(&'static [Word]),
    /// Name of an entry of the catalogue.
    Entry(Shelf),
    /// Short names of walls of this job.
    Walls,
    /// Words, at most so many characters.
    Text { most: usize },
    /// True or false.
    Flag,
    /// A civil date.
    Date,
    /// A time of day.
    Time,
    /// First and last days, as `"2027-07-12 to 2027-07-16"`.
    Spells { at_most: usize },
    /// A point of the compass in words or degrees.
    Bearing,
    /// Lime to sand by volume, as `"1:2½"`: parts of sand to one of lime.
    Ratio { low: f64, high: f64 },
    /// A list of numbers.
    Numbers { low: f64, high: f64, measure: Measure, at_least: usize, at_most: usize },
    /// Rows of numbers.
    Rows { low: f64, high: f64, measure: Measure, at_least: usize, at_most: usize, columns: (usize, usize) },
}

/// What stands in when nothing is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Preset {
    /// It must be written.
    Required,
    /// It may be left out; then there is none.
    Absent,
    /// A number, in the unit as written.
    Number(f64),
    /// A word or words.
    Word(&'static str),
    /// Several words.
    Words(&'static [&'static str]),
    /// True or false.
    Flag(bool),
    /// Worked from other answers, as these words say.
    Worked(&'static str),
}

/// The honest range of an assumed default.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// Not said.
    None,
    /// From a low to a high number, in the unit as written.
    Numbers(f64, f64),
    /// Between two words.
    Words(&'static str, &'static str),
    /// It may be either.
    Either,
}

/// One job value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// Its place in the file, with `*` for a name the user makes up: `walls.*.length_m`.
    pub path: &'static str,
    /// What it is, in a few words.
    pub label: &'static str,
    /// What may be written.
    pub kind: Kind,
    /// The plain question, as one would ask it on site.
    pub question: &'static str,
    /// Help in a mason's words.
    pub help: &'static str,
    /// What stands in when nothing is written.
    pub preset: Preset,
    /// Where the default comes from.
    pub source: &'static str,
    /// How far the default may be out.
    pub reach: Reach,
    /// True if the default counts as assumed until somebody answers.
    pub assumed: bool,
    /// Page on which it is asked.
    pub page: Page,
    /// True for a field of a wall that may be answered once for all in `[every_wall]`.
    pub common: bool,
}

impl Field {
    /// A field that may be left out.
    pub(crate) const fn new(page: Page, path: &'static str, label: &'static str, kind: Kind) -> Self {
        Self {
            path,
            label,
            kind,
            question: "",
            help: "",
            preset: Preset::Absent,
            source: "",
            reach: Reach::None,
            assumed: false,
            page,
            common: false,
        }
    }

    /// With its plain question.
    pub(crate) const fn ask(mut self, question: &'static str) -> Self {
        self.question = question;
        self
    }

    /// With its help.
    pub(crate) const fn help(mut self, help: &'static str) -> Self {
        self.help = help;
        self
    }

    /// It must be written.
    pub(crate) const fn required(mut self) -> Self {
        self.preset = Preset::Required;
        self
    }

    /// A default that is a rule of the file, not a guess about the world.
    pub(crate) const fn usual(mut self, preset: Preset, source: &'static str) -> Self {
        self.preset = preset;
        self.source = source;
        self
    }

    /// A default that stands as assumed until it is answered, with its honest range and source.
    pub(crate) const fn assume(mut self, preset: Preset, reach: Reach, source: &'static str) -> Self {
        self.preset = preset;
        self.reach = reach;
        self.source = source;
        self.assumed = true;
        self
    }

    /// It may be answered once for every wall.
    pub(crate) const fn common(mut self) -> Self {
        self.common = true;
        self
    }

    /// The last part of the path: the key as written.
    pub fn key(&self) -> &'static str {
        self.path.rsplit('.').next().unwrap_or(self.path)
    }

    /// Path of the table it stands in, empty for the top of the file.
    pub fn parent(&self) -> &'static str {
        self.path.rsplit_once('.').map_or("", |(parent, _)| parent)
    }

    /// True for a table, false for a value.
    pub fn is_table(&self) -> bool {
        matches!(self.kind, Kind::Section | Kind::Each { .. })
    }
}

/// The tables, in the order of the file.
pub static FIELDS: &[&[Field]] = &[
    about::FIELDS,
    survey::FIELDS,
    walls::FIELDS,
    walls::OPENINGS,
    coats::FIELDS,
    season::FIELDS,
    season::BEFORE,
    price::FIELDS,
    price::ALLOWANCES,
    catalogue::LIMES,
    catalogue::SANDS,
    catalogue::MASONRIES,
    catalogue::COVERS,
];

/// Where the answers for every wall stand in the file.
pub const EVERY_WALL: &str = "every_wall";
const WALL: &str = "walls.*";

static BY_PATH: LazyLock<BTreeMap<&'static str, &'static Field>> = LazyLock::new(|| all().map(|field| (field.path, field)).collect());

static BY_PARENT: LazyLock<BTreeMap<&'static str, Vec<&'static Field>>> = LazyLock::new(|| {
    let mut by_parent: BTreeMap<&'static str, Vec<&'static Field>> = BTreeMap::new();
    for field in all() {
        by_parent.entry(field.parent()).or_default().push(field);
        if field.parent() == WALL && field.common {
            by_parent.entry(EVERY_WALL).or_default().push(field);
        }
    }
    by_parent
});

/// Every field, in the order of the file.
pub fn all() -> impl Iterator<Item = &'static Field> {
    FIELDS.iter().flat_map(|section| section.iter())
}

/// The fields that stand directly in the table of a pattern (`walls.*`, `survey`, empty for the top of the file).
pub fn children(pattern: &str) -> &'static [&'static Field] {
    BY_PARENT.get(pattern).map_or(&[], Vec::as_slice)
}

/// The field of a path as written (`walls.north.length_m`) or of its pattern (`walls.*.length_m`); `None` if no field has it.
pub fn field(path: &str) -> Option<&'static Field> {
    BY_PATH.get(pattern(path).as_str()).copied()
}

/// The pattern of a path as written: names the user made up become `*`, and an answer for every wall becomes that of a wall.
pub fn pattern(path: &str) -> String {
    let mut pattern = String::new();
    for part in path.split('.') {
        let below_many = BY_PATH.get(pattern.as_str()).is_some_and(|table| matches!(table.kind, Kind::Each { .. }));
        let part = if below_many { "*" } else { part };
        if !pattern.is_empty() {
            pattern.push('.');
        }
        pattern.push_str(part);
    }
    match pattern.strip_prefix(EVERY_WALL) {
        Some(rest) if rest.starts_with('.') => format!("{WALL}{rest}"),
        _ => pattern,
    }
}

/// A number of metres, also as text such as "12 ft 6 in".
pub(crate) const fn metres(low: f64, high: f64) -> Kind {
    Kind::Number { low, high, measure: Measure::Metres, whole: false }
}

/// A number of millimetres, also as text such as "3 1/2".
pub(crate) const fn millimetres(low: f64, high: f64) -> Kind {
    Kind::Number { low, high, measure: Measure::Millimetres, whole: false }
}

/// A percentage.
pub(crate) const fn per_cent(low: f64, high: f64) -> Kind {
    Kind::Number { low, high, measure: Measure::PerCent, whole: false }
}

/// A bare number or one in a unit kept as written.
pub(crate) const fn number(low: f64, high: f64, unit: &'static str) -> Kind {
    let measure = if unit.is_empty() { Measure::One } else { Measure::As(unit) };
    Kind::Number { low, high, measure, whole: false }
}

/// A whole number.
pub(crate) const fn count(low: f64, high: f64) -> Kind {
    Kind::Number { low, high, measure: Measure::One, whole: true }
}

/// Words of at most 200 characters.
pub(crate) const WORDS: Kind = Kind::Text { most: 200 };

/// A rule of the trade without a published source.
pub(crate) const PRACTICE: &str = "common practice, no source";
