//! `harlwright new`: the plain questions, each with a default; the answers become a commented job file that plans at once.

use std::io::{BufRead, IsTerminal, Write};
use std::path::Path;

use job::{Answers, Question};

use crate::failure::Failure;
use crate::files::write_new;
use crate::words::wrapped;

/// Asks and writes.
pub fn run(path: &Path, accept_defaults: bool) -> Result<(), Failure> {
    if path.exists() {
        return Err(Failure::input(format!("{} exists already, and is left as it is.", path.display()), "Name another file."));
    }
    let today = jiff::ZonedDateTime::now().date();
    let questions = job::questions(today);
    let answers = if accept_defaults {
        job::Answers::new()
    } else if std::io::stdin().is_terminal() {
        ask(&questions)?
    } else {
        piped(&questions)?
    };
    write_new(path, job::template(&answers, today).as_bytes())?;
    println!("{} written. What you did not answer is marked there as assumed.", path.display());
    println!("Next: harlwright plan {}", path.display());
    Ok(())
}

fn ask(questions: &[Question]) -> Result<Answers, Failure> {
    println!("Press Enter to leave a question at its default; it is then marked as assumed.\n");
    let mut answers = Answers::new();
    for question in questions {
        println!("{}", wrapped(&format!("{} {}", question.question, question.help), 0));
        if !question.choices.is_empty() {
            println!("  {}", wrapped(&format!("One of: {}.", question.choices.join(", ")), 2));
        }
        loop {
            print!("  [{}] ", question.default);
            let _ = std::io::stdout().flush();
            let Some(line) = read_line()? else { return Ok(answers) };
            match job::check_answer(question.key, &line) {
                Ok(()) => {
                    keep(&mut answers, question, &line);
                    break;
                }
                Err(message) => println!("  {}", wrapped(&message, 2)),
            }
        }
    }
    println!();
    Ok(answers)
}

/// Answers from a pipe, one a line in the order of the questions; an empty line leaves the default.
fn piped(questions: &[Question]) -> Result<Answers, Failure> {
    let mut answers = Answers::new();
    let mut faults = Vec::new();
    for question in questions {
        let Some(line) = read_line()? else { break };
        match job::check_answer(question.key, &line) {
            Ok(()) => keep(&mut answers, question, &line),
            Err(message) => faults.push(format!("{} {message}", question.question)),
        }
    }
    if faults.is_empty() {
        return Ok(answers);
    }
    Err(Failure::input(faults.join("\n"), "Answers are read one a line, in the order of the questions; an empty line leaves the default."))
}

fn keep(answers: &mut Answers, question: &Question, line: &str) {
    let line = line.trim();
    if !line.is_empty() {
        answers.insert(question.key.to_owned(), line.to_owned());
    }
}

fn read_line() -> Result<Option<String>, Failure> {
    let mut line = String::new();
    let read = std::io::stdin().lock().read_line(&mut line).map_err(|error| {
        Failure::input(format!("The answer could not be read: {error}."), "Give the answers as UTF-8 text, one a line.")
    })?;
    Ok((read > 0).then_some(line))
}
