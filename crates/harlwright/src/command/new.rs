//! `harlwright new`: the plain questions, each with a default; the answers become a commented job file that plans at once.

use std::io::{BufRead, IsTerminal, Write};
use std::path::Path;

use crate::failure::Failure;
use crate::files::write_new;
use crate::words::wrapped;

/// Asks and writes.
pub fn run(path: &Path, accept_defaults: bool) -> Result<(), Failure> {
    if path.exists() {
        return Err(Failure::input(format!("{} exists already, and is left as it is.", path.display()), "Name another file."));
    }
    let asking = !accept_defaults && std::io::stdin().is_terminal();
    let answers = if asking { ask()? } else { piped(accept_defaults)? };
    write_new(path, job::template(&answers).as_bytes())?;
    println!("{} written. What you did not answer is marked there as assumed.", path.display());
    println!("Next: harlwright plan {}", path.display());
    Ok(())
}

fn ask() -> Result<job::Answers, Failure> {
    println!("Press Enter to leave a question at its default; it is then marked as assumed.\n");
    let mut answers = job::Answers::default();
    for question in job::questions() {
        loop {
            println!("{}", wrapped(&question.text, 0));
            print!("  [{}] ", question.default);
            let _ = std::io::stdout().flush();
            let Some(line) = read_line()? else { return Ok(answers) };
            match answers.give(question.key, line.trim()) {
                Ok(()) => break,
                Err(message) => println!("  {}", wrapped(&message, 2)),
            }
        }
    }
    println!();
    Ok(answers)
}

/// Answers from a pipe, one a line in the order of the questions; an empty line leaves the default.
fn piped(accept_defaults: bool) -> Result<job::Answers, Failure> {
    let mut answers = job::Answers::default();
    if accept_defaults {
        return Ok(answers);
    }
    for question in job::questions() {
        let Some(line) = read_line()? else { break };
        answers.give(question.key, line.trim()).map_err(|message| {
            Failure::input(format!("{} {message}", question.text), "Answers are read one a line; an empty line leaves the default.")
        })?;
    }
    Ok(answers)
}

fn read_line() -> Result<Option<String>, Failure> {
    let mut line = String::new();
    let read = std::io::stdin()
        .lock()
        .read_line(&mut line)
        .map_err(|error| Failure::input(format!("The answer could not be read: {error}."), ""))?;
    Ok((read > 0).then_some(line))
}
