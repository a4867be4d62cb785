//! Files in and out: a job with its weather, a pack of documents. Text comes in whole and bounded; documents go out complete or not at all.

use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use job::{Fetched, OpenError, Opened, Wanted};
use miette::NamedSource;
use weather::WeatherError;

use crate::failure::{Failure, Located};

/// Folder of the job book where none is named: below the one we are in.
pub const BOOK: &str = "harlwright-book";

/// The file of a job book, from the folder that people name, or from the file itself.
pub fn book_file(named: &Path) -> PathBuf {
    if named.is_file() { named.to_owned() } else { named.join("book.sqlite") }
}

/// Largest text taken in, bytes: thirty hourly years with room to spare.
const LARGEST_TEXT: u64 = 64 * 1024 * 1024;

/// Longest line shown in an excerpt, bytes.
const LONGEST_LINE_SHOWN: usize = 200;

/// Largest scan taken in, bytes: a hundred million points as PLY.
const LARGEST_SCAN: u64 = 2 * 1024 * 1024 * 1024;

/// Opens a job with its weather and the files of relief its walls name, all named from the folder of the job file.
pub fn open(path: &Path) -> Result<Opened, Failure> {
    let text = read_text(path, "job file")?;
    let name = path.display().to_string();
    let fetch = |file: &str, wanted: Wanted| {
        let path = path.parent().unwrap_or(Path::new("")).join(file);
        let bytes = match wanted {
            Wanted::Weather => read_bytes(&path, "weather file")?,
            Wanted::Relief => read_up_to(&path, "scan", LARGEST_SCAN)?,
        };
        Ok(Fetched { name: path.display().to_string(), bytes })
    };
    job::open(&text, &name, fetch).map_err(|error| match error {
        OpenError::Job(problems) => located(&problems, &name, &text),
        OpenError::File(failure) => failure,
        OpenError::Reliefs(faults) => {
            Failure::input(faults.join("\n"), "See docs/scans.md for what a scan must hold and docs/straight-edge.md for offsets.")
        }
        OpenError::Weather { name, error } => weather_failure(&error, &name),
    })
}

/// Problems of a TOML file as reports with excerpts.
pub fn located(problems: &[job::Problem], name: &str, text: &str) -> Failure {
    Failure::Input { problems: problems.iter().map(|problem| in_the_text(problem, name, text)).collect() }
}

/// A problem with an excerpt of its lines, or with its place in words where the lines are too long to show.
fn in_the_text(problem: &job::Problem, name: &str, text: &str) -> Located {
    let message = if problem.path.is_empty() { problem.found.clone() } else { format!("{}: {}", problem.path, problem.found) };
    let remedy = format!("{} {}", problem.allowed, problem.remedy);
    let label = problem.fault.to_string();
    let lines = text.lines().skip(problem.line.saturating_sub(2)).take(3);
    if lines.into_iter().any(|line| line.len() > LONGEST_LINE_SHOWN) {
        let place = format!("{name}, line {}, column {}: {message}", problem.line, problem.column);
        return Located { message: place, remedy, source_text: None, span: None, label };
    }
    let span = Some((problem.span.start..problem.span.end).into());
    Located { message, remedy, source_text: Some(NamedSource::new(name, text.to_owned())), span, label }
}

/// What is wrong with weather, each fault with its place.
pub fn weather_failure(error: &WeatherError, name: &str) -> Failure {
    let WeatherError::Faults { problems, more, .. } = error else {
        return Failure::input(format!("{name}: {error}"), "See docs/weather-csv.md for what a weather file must hold.");
    };
    let mut failures: Vec<Located> = problems
        .iter()
        .map(|problem| {
            let place = problem.line.map_or(String::new(), |line| format!(", line {line}"));
            let column = if problem.column.is_empty() { String::new() } else { format!(", {}", problem.column) };
            let message = format!("{name}{place}{column}: found {}.", problem.found);
            let remedy = format!("Allowed: {}. {}", problem.allowed, problem.remedy);
            Located { message, remedy, source_text: None, span: None, label: String::new() }
        })
        .collect();
    if *more > 0 {
        let message = format!("{name}: and {more} more of the same sorts.");
        failures.push(Located { message, remedy: String::new(), source_text: None, span: None, label: String::new() });
    }
    Failure::Input { problems: failures }
}

/// The text of a file, or a failure that says what to do.
pub fn read_text(path: &Path, what: &str) -> Result<String, Failure> {
    let name = path.display();
    String::from_utf8(read_bytes(path, what)?).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        let line = error.as_bytes()[..place].iter().filter(|byte| **byte == b'\n').count() + 1;
        Failure::input(format!("{name}, line {line}: the text is not UTF-8."), "Save it again as UTF-8 in your editor.")
    })
}

/// The bytes of a file, or a failure that says what to do.
pub fn read_bytes(path: &Path, what: &str) -> Result<Vec<u8>, Failure> {
    read_up_to(path, what, LARGEST_TEXT)
}

/// The bytes of a scan, or a failure that says what to do.
pub fn read_scan(path: &Path) -> Result<Vec<u8>, Failure> {
    read_up_to(path, "scan", LARGEST_SCAN)
}

fn read_up_to(path: &Path, what: &str, most: u64) -> Result<Vec<u8>, Failure> {
    let name = path.display();
    let size = std::fs::metadata(path).map_err(|error| unreadable(path, what, &error))?;
    if size.is_dir() {
        return Err(Failure::input(
            format!("{name} is a folder, not a {what}."),
            format!("Name the {what} itself, not the folder it is in."),
        ));
    }
    if size.len() > most {
        return Err(Failure::input(
            format!("{name} has {} MB; a {what} may have {} MB.", size.len() / 1_048_576, most / 1_048_576),
            "Check that it is the right file.",
        ));
    }
    std::fs::read(path).map_err(|error| unreadable(path, what, &error))
}

fn unreadable(path: &Path, what: &str, error: &std::io::Error) -> Failure {
    let name = path.display();
    match error.kind() {
        ErrorKind::NotFound => Failure::input(format!("There is no {what} {name}."), where_to_get(what)),
        ErrorKind::PermissionDenied => {
            Failure::input(format!("The {what} {name} may not be read."), "Ask for leave to read it, or copy it.")
        }
        _ => Failure::input(format!("The {what} {name} could not be read: {error}."), "Check the file and the disk."),
    }
}

fn where_to_get(what: &str) -> &'static str {
    match what {
        "job file" => {
            "Check the name and the folder you are in; `harlwright new` writes a job file, `harlwright demo` an invented one to try."
        }
        "weather file" => {
            "The name is taken from the folder of the job file. Correct it, or leave the weather out of the job: gaps then go by rule of thumb, without odds."
        }
        _ => "Check the name and the folder you are in.",
    }
}

/// Prints a result on stdout; a reader that has gone away is no failure.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    let written = out.write_all(text.as_bytes()).and_then(|()| if text.ends_with('\n') { Ok(()) } else { out.write_all(b"\n") });
    match written.and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::machine(format!("The result could not be printed: {error}."))),
        _ => Ok(()),
    }
}

/// A folder that can be written to, made if need be: asked before the long work, so that a bad path fails early.
pub fn ready_folder(folder: &Path) -> Result<(), Failure> {
    std::fs::create_dir_all(folder).map_err(|error| {
        Failure::input(format!("The folder {} could not be made: {error}.", folder.display()), "Name another with --out.")
    })?;
    let trial = folder.join(".harlwright-can-write");
    std::fs::write(&trial, b"").and_then(|()| std::fs::remove_file(&trial)).map_err(|error| {
        Failure::input(format!("The folder {} cannot be written to: {error}.", folder.display()), "Name another with --out.")
    })
}

/// Writes a file whole: beside its place first, then moved over, so that a full disk leaves the old one.
pub fn write_whole(folder: &Path, name: &str, bytes: &[u8]) -> Result<PathBuf, Failure> {
    let path = folder.join(name);
    let beside = folder.join(format!(".{name}.part"));
    std::fs::write(&beside, bytes).and_then(|()| std::fs::rename(&beside, &path)).map_err(|error| {
        let _ = std::fs::remove_file(&beside);
        Failure::machine(format!("{} could not be written: {error}. What stood there before still stands.", path.display()))
    })?;
    Ok(path)
}

/// Writes a file that must not exist yet.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let opened = std::fs::OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = opened.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => {
            Failure::input(format!("{} exists already, and is left as it is.", path.display()), "Name another file, or move that one away.")
        }
        _ => Failure::input(format!("{} could not be written: {error}.", path.display()), "Name a file in a folder you may write to."),
    })?;
    file.write_all(bytes).map_err(|error| Failure::machine(format!("{} could not be written: {error}.", path.display())))
}
