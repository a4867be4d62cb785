//! `harlwright compare`: the job beside itself with a value changed, or several, in the same weather years.

use job::Job;
use works::{Comparison, Inputs, Side};

use crate::arguments::CompareArguments;
use crate::failure::{Failure, Located};
use crate::files::{open, print};
use crate::progress::Bar;
use crate::words::{heading, long_date, wrapped};

/// Compares.
pub fn run(asked: &CompareArguments, bar: &Bar) -> Result<(), Failure> {
    let opened = open(&asked.job)?;
    let mut changes = Vec::new();
    for change in &asked.change {
        changes.push((change.clone(), changed(&opened.job, std::slice::from_ref(change))?));
    }
    if asked.change.len() > 1 {
        changes.push(("all of these together".to_owned(), changed(&opened.job, &asked.change)?));
    }
    let told = works::compare(&opened.job.inputs, &changes, opened.weather.as_ref(), bar);
    bar.clear();
    let told = told.map_err(Failure::from)?;
    if asked.json {
        let text = serde_json::to_string_pretty(&told);
        return print(&text.map_err(|error| Failure::machine(format!("The comparison could not be written: {error}.")))?);
    }
    print(&words(&told))
}

fn changed(job: &Job, changes: &[String]) -> Result<Inputs, Failure> {
    let changed = job.changed(changes).map_err(|problems| Failure::Input { problems: problems.iter().map(plainly).collect() })?;
    Ok(changed.inputs)
}

/// A problem in words, without an excerpt: a change stands on no line of the file.
fn plainly(problem: &job::Problem) -> Located {
    let path = if problem.path.is_empty() { String::new() } else { format!("{}: ", problem.path) };
    let remedy = format!(
        "{} {} A change is a value of the job file and what to put in its place, such as window.start=2027-09-06 or system.straight_edge_m=1.8; \
         `harlwright schema` lists all values.",
        problem.allowed, problem.remedy
    );
    Located { message: format!("{path}{}", problem.found), remedy, source_text: None, span: None, label: problem.fault.to_string() }
}

fn words(told: &Comparison) -> String {
    let mut text = format!("{}\n  {}\n\n", heading("As it stands"), wrapped(&side(&told.base), 2));
    for option in &told.options {
        text += &format!("{}\n  {}\n", heading(&option.name), wrapped(&option.says, 2));
        if let Ok(changed) = &option.side {
            text += &format!("  {}\n", wrapped(&side(changed), 2));
        }
        text.push('\n');
    }
    text += "Differences are taken year by year in the same weather, so that each is due to the change alone.\n";
    text
}

fn side(side: &Side) -> String {
    let odds = match &side.odds {
        Some(odds) => {
            format!("in the middle year finished by {}, 8 years in 10 by {}", long_date(odds.middle), long_date(odds.eight_in_ten))
        }
        None => format!("finished in {} of {} years", side.finished.0, side.finished.1),
    };
    let cost =
        side.cost_eight_in_ten.as_ref().map_or(String::new(), |cost| format!("; {} before tax or less 8 years in 10", cost.to_tens()));
    let redone = if side.redone > 0 { format!("; coats redone in all years together: {}", side.redone) } else { String::new() };
    let none = side.no_odds.as_ref().map_or(String::new(), |why| format!(" {why}"));
    format!("Begun on {}: {odds}{cost}{redone}.{none}", long_date(side.start))
}
