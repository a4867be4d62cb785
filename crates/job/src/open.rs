//! A job with the weather and the reliefs it names, opened through a reader of files that the caller gives: a folder, a job book. It knows no place
//! where files lie.

use weather::{Weather, WeatherError};

use crate::{Job, Problem, WeatherAsked, read};

/// A job with its weather, ready to be planned.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The job.
    pub job: Job,
    /// Its weather, if it names any.
    pub weather: Option<Weather>,
}

/// What a file is wanted for: a caller may bound the one otherwise than the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// Hourly weather.
    Weather,
    /// A scan or a table of offsets.
    Relief,
}

/// Bytes of a file with the name it is called by in messages.
#[derive(Clone, Debug)]
pub struct Fetched {
    /// Name shown.
    pub name: String,
    /// Content.
    pub bytes: Vec<u8>,
}

/// Why a job could not be opened.
#[derive(Debug)]
pub enum OpenError<E> {
    /// Problems of the job file, all of them.
    Job(Vec<Problem>),
    /// The reader of files would not.
    File(E),
    /// Files of relief that will not do: every fault of every file, with its wall.
    Reliefs(Vec<String>),
    /// The weather will not do.
    Weather {
        /// Name of the weather file.
        name: String,
        /// What is wrong with it.
        error: WeatherError,
    },
}

/// Reads a job from its text and asks `fetch` for the files it names, each by its name as written in the job.
///
/// # Errors
/// Every problem of the job file; what `fetch` says; reliefs and weather that cannot be read or are not fit to plan from.
pub fn open<E>(text: &str, name: &str, fetch: impl Fn(&str, Wanted) -> Result<Fetched, E>) -> Result<Opened, OpenError<E>> {
    let mut job = read(text, name).map_err(OpenError::Job)?;
    take_reliefs(&mut job, &fetch)?;
    let weather = job.weather.as_ref().map(|asked| open_weather(asked, &fetch)).transpose()?;
    Ok(Opened { job, weather })
}

fn take_reliefs<E>(job: &mut Job, fetch: impl Fn(&str, Wanted) -> Result<Fetched, E>) -> Result<(), OpenError<E>> {
    let mut faults = Vec::new();
    for asked in job.reliefs.clone() {
        let fetched = fetch(&asked.file, Wanted::Relief).map_err(OpenError::File)?;
        if let Err(told) = job.take_relief(&asked, &fetched.bytes, &asked.file) {
            faults.extend(told.into_iter().map(|fault| format!("walls.{}.relief_file: {fault}", asked.wall)));
        }
    }
    if faults.is_empty() { Ok(()) } else { Err(OpenError::Reliefs(faults)) }
}

fn open_weather<E>(asked: &WeatherAsked, fetch: impl Fn(&str, Wanted) -> Result<Fetched, E>) -> Result<Weather, OpenError<E>> {
    let Fetched { name, bytes } = fetch(&asked.file, Wanted::Weather).map_err(OpenError::File)?;
    let read = weather::read_any(&bytes, &name);
    let read = read.and_then(|weather| match asked.monthly_rain_mm {
        Some(totals_mm) => weather.with_monthly_rain(totals_mm),
        None => Ok(weather),
    });
    read.and_then(|weather| weather.fit_for_planning().map(|()| weather)).map_err(|error| OpenError::Weather { name, error })
}
