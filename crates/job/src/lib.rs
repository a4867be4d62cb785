//! The job file and its one table of fields: parsing, places, schema, help, defaults. It does no I/O and decides nothing.

#[cfg(test)]
mod agreement;
mod assumed;
pub mod bench;
mod build;
mod changed;
pub mod demo;
pub mod edit;
pub mod fields;
mod open;
mod ordered;
mod problem;
mod reader;
mod relief;
mod schema;
mod sheet;
mod template;
pub mod trial;
mod values;
mod written;

pub use assumed::{AssumedField, Setting};
pub use fields::{FIELDS, Field, Kind, Measure, Page, Preset, Reach, field};
pub use open::{Fetched, OpenError, Opened, Wanted, open};
pub use ordered::{Taken, with_order};
pub use problem::{Fault, Problem};
pub use relief::{ReliefAsked, ReliefForm, ReliefRead, read_relief};
pub use schema::schema;
pub use template::{Answers, Question, check_answer, questions, template};
pub use values::{allowed, example};

use reckoning::Finding;

use crate::problem::Problems;
use crate::reader::{Reader, as_given};
use crate::sheet::Sheet;

/// Months of a year.
pub(crate) const MONTHS: usize = 12;

/// A job read from its file.
#[derive(Clone, Debug)]
pub struct Job {
    /// Name of the file, as given by the caller.
    pub name: String,
    /// The text it was read from, kept whole.
    pub text: String,
    /// What was put in the place of written values to ask "what if"; empty for the job as written.
    pub settings: Vec<(String, Setting)>,
    /// Everything the road from survey to price needs.
    pub inputs: works::Inputs,
    /// The weather asked for; without it the days between coats go by rule of thumb.
    pub weather: Option<WeatherAsked>,
    /// Files of relief that the walls name, in the order of the walls. Until one is read ([`Job::take_relief`]) its wall is taken for rubble, assumed.
    pub reliefs: Vec<ReliefAsked>,
    /// What is worth saying about the file itself.
    pub findings: Vec<Finding>,
    /// Every value that nobody has answered for, in the order of reading.
    pub assumed: Vec<AssumedField>,
}

/// The weather a job asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct WeatherAsked {
    /// File, named from the folder of the job file.
    pub file: String,
    /// Kind, if the job says it; otherwise what the file says of itself holds.
    pub kind: Option<weather::Kind>,
    /// Rain of each month, January first, mm, for a file without rain.
    pub monthly_rain_mm: Option<[f64; MONTHS]>,
}

/// Reads a job from the text of its file; `name` is shown in messages.
///
/// # Errors
/// Every problem in the file, in the order of the text, each with its place, what was found, what is allowed and what to do.
pub fn read(text: &str, name: &str) -> Result<Job, Vec<Problem>> {
    read_with(text, name, &[])
}

/// Reads a job as if some values had been written otherwise: paths such as `walls.north.splash_s`, values in the unit as written. Used to say
/// what an assumed value is worth measuring.
///
/// # Errors
/// As [`read`]; and a problem for each setting whose path or kind does not fit.
pub fn read_with(text: &str, name: &str, settings: &[(String, Setting)]) -> Result<Job, Vec<Problem>> {
    let mut problems = Problems::new(name, text);
    let (sheet, is_whole) = with_settings(text, settings, &mut problems);
    built(&sheet, problems, is_whole, (text, name, settings))
}

/// The checked values of a text with some put in the place of written ones; the second is false if the text was not TOML all through.
pub(crate) fn with_settings(text: &str, settings: &[(String, Setting)], problems: &mut Problems) -> (Sheet, bool) {
    let (mut sheet, is_whole) = Sheet::read(text, problems);
    for (path, setting) in settings {
        match field(path).and_then(|field| as_given(field, setting)) {
            Some(given) => sheet.set(path, given),
            None => problems.add(
                Fault::UnknownKey,
                0..0,
                path,
                format!("{path} cannot be set to {setting}."),
                "Allowed is the path of a value of this job and a value of its kind.".to_owned(),
                "Take the path from the list of assumed values.".to_owned(),
            ),
        }
    }
    (sheet, is_whole)
}

/// A job built from checked values that stand for those of another.
pub(crate) fn conclude(sheet: &Sheet, problems: Problems, is_whole: bool, like: &Job) -> Result<Job, Vec<Problem>> {
    built(sheet, problems, is_whole, (&like.text, &like.name, &like.settings))
}

/// The job of checked values, or every problem.
fn built(
    sheet: &Sheet,
    mut problems: Problems,
    is_whole: bool,
    (text, name, settings): (&str, &str, &[(String, Setting)]),
) -> Result<Job, Vec<Problem>> {
    if !is_whole {
        return Err(problems.into_sorted());
    }
    let mut reader = Reader::new(sheet, &mut problems);
    let built = build::build(&mut reader);
    let assumed = std::mem::take(&mut reader.assumed);
    match built {
        Some(built) if problems.is_empty() => Ok(Job {
            name: name.to_owned(),
            text: text.to_owned(),
            settings: settings.to_vec(),
            inputs: built.inputs,
            weather: built.weather,
            reliefs: built.reliefs,
            findings: built.findings,
            assumed,
        }),
        _ => Err(problems.into_sorted()),
    }
}

/// The values of a job that nobody has answered for.
pub fn assumed(job: &Job) -> &[AssumedField] {
    &job.assumed
}

impl Job {
    /// This job with some values written otherwise; earlier settings stand unless they are set again.
    ///
    /// # Errors
    /// As [`read_with`].
    pub fn with(&self, settings: &[(String, Setting)]) -> Result<Self, Vec<Problem>> {
        let mut all = self.settings.clone();
        all.retain(|(path, _)| !settings.iter().any(|(other, _)| other == path));
        all.extend_from_slice(settings);
        let mut job = read_with(&self.text, &self.name, &all)?;
        job.keep_reliefs(self);
        Ok(job)
    }
}
