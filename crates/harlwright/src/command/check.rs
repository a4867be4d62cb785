//! `harlwright check`: the job file's problems, all at once; then what good practice says of the job.

use std::path::Path;

use reckoning::{Finding, Grade};
use serde_json::json;

use crate::failure::Failure;
use crate::files::{located, open, print, read_text};
use crate::words::{heading, with_cautions, wrapped};

/// Checks the file; exit code 0 only if it can be planned and nothing says stop.
pub fn run(path: &Path, as_json: bool) -> Result<(), Failure> {
    if as_json {
        return check_as_json(path);
    }
    let opened = open(path)?;
    let findings = findings(&opened.job)?;
    let mut text = format!("{} can be planned.\n", path.display());
    if opened.weather.is_none() {
        text += "It names no weather: gaps will be set by rule of thumb and no odds given.\n";
    }
    for grade in [Grade::Stop, Grade::Think, Grade::Note] {
        for finding in findings.iter().filter(|finding| finding.grade == grade) {
            let says = format!("{}{}", of_the_wall(&opened.job, &finding.place), finding.says);
            text += &format!("\n{}  {}\n", heading(grade.word()), wrapped(&says, 2));
            text += &format!("  {}\n  {}\n", wrapped(&finding.reason, 2), wrapped(&format!("Do: {}", finding.remedy), 2));
        }
    }
    let agrees = findings.iter().filter(|finding| finding.grade == Grade::Agrees).count();
    text += &format!("\n{agrees} of {} rules of good practice agree.\n", findings.len());
    print(&with_cautions(&text, &opened.job.inputs.catalogue.cautions, "check"))?;
    outcome(&findings)
}

/// "South wall: " where a finding is about one wall and does not name it itself.
fn of_the_wall(job: &job::Job, place: &str) -> String {
    let slug = place.strip_prefix("walls.").and_then(|rest| rest.split('.').next());
    let wall = job.inputs.building.walls.iter().find(|wall| Some(wall.slug.as_str()) == slug);
    wall.map_or(String::new(), |wall| format!("{}: ", wall.name))
}

fn outcome(findings: &[Finding]) -> Result<(), Failure> {
    if findings.iter().any(|finding| finding.grade == Grade::Stop) { Err(Failure::Told) } else { Ok(()) }
}

fn findings(job: &job::Job) -> Result<Vec<Finding>, Failure> {
    let survey = survey::measure(job.inputs.building.clone()).map_err(|errors| {
        let words: Vec<String> = errors.iter().map(ToString::to_string).collect();
        Failure::input(words.join("\n"), "")
    })?;
    let specification = works::specify(&survey, &job.inputs);
    let mut all = survey.findings;
    all.extend(specification.findings);
    all.sort_by_key(|finding| finding.grade);
    Ok(all)
}

fn check_as_json(path: &Path) -> Result<(), Failure> {
    let text = read_text(path, "job file")?;
    let name = path.display().to_string();
    match job::read(&text, &name) {
        Ok(job) => {
            let findings = findings(&job)?;
            print(&json!({ "file": name, "problems": [], "findings": findings }).to_string())?;
            outcome(&findings)
        }
        Err(problems) => {
            let rows: Vec<_> = problems
                .iter()
                .map(|problem| {
                    json!({
                        "message": problem.found, "path": problem.path, "line": problem.line, "column": problem.column,
                        "allowed": problem.allowed, "remedy": problem.remedy,
                    })
                })
                .collect();
            print(&json!({ "file": name, "problems": rows, "findings": [] }).to_string())?;
            Err(located(&problems, &name, &text))
        }
    }
}
