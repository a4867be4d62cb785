//! `harlwright why`: a figure's reckoning as a tree, or the list of all that can be asked.

use reckoning::{Reckoning, Reckonings, Value};

use crate::arguments::WhyArguments;
use crate::failure::Failure;
use crate::files::{open, print};
use crate::progress::Bar;
use crate::words::{heading, long_date, options, with_cautions};

/// Answers why.
pub fn run(asked: &WhyArguments, bar: &Bar) -> Result<(), Failure> {
    let opened = open(&asked.job)?;
    let plan = works::plan(&opened.job.inputs, opened.weather.as_ref(), bar);
    bar.clear();
    let plan = plan.map_err(Failure::from)?;
    match &asked.path {
        None => list(&plan, asked.json),
        Some(path) => {
            let reckoning = plan.reckonings.get(path).ok_or_else(|| unknown(path, &plan.reckonings))?;
            if asked.json { print_json(reckoning) } else { print(&with_cautions(&tree(reckoning), &plan.catalogue.cautions, "why")) }
        }
    }
}

fn list(plan: &works::Plan, as_json: bool) -> Result<(), Failure> {
    let reckonings = &plan.reckonings;
    if as_json {
        return print_json(&reckonings.iter().map(|each| (&each.path, &each.label, &each.value)).collect::<Vec<_>>());
    }
    let widest = reckonings.iter().map(|each| each.path.chars().count()).max().unwrap_or(0);
    let lines: Vec<String> =
        reckonings.iter().map(|each| format!("{:widest$}  {}: {}", each.path, each.label, shown(&each.value))).collect();
    print(&with_cautions(&lines.join("\n"), &plan.catalogue.cautions, "why"))
}

fn print_json(value: &impl serde::Serialize) -> Result<(), Failure> {
    let text =
        serde_json::to_string_pretty(value).map_err(|error| Failure::machine(format!("The reckoning could not be written: {error}.")))?;
    print(&text)
}

/// The reckoning as an indented tree.
pub fn tree(reckoning: &Reckoning) -> String {
    let mut text = String::new();
    branch(reckoning, "", "", &mut text);
    text
}

fn branch(reckoning: &Reckoning, first: &str, rest: &str, text: &mut String) {
    let assumed = if reckoning.assumed { "  [assumed]" } else { "" };
    let line = format!("{}: {}", reckoning.label, shown(&reckoning.value));
    let line = if first.is_empty() { heading(&line) } else { line };
    *text += &format!("{first}{line}{assumed}\n");
    let below = if reckoning.inputs.is_empty() { format!("{rest}  ") } else { format!("{rest}│ ") };
    if !reckoning.formula.is_empty() {
        *text += &indented(&format!("= {}", reckoning.formula), &below);
    }
    if !reckoning.source.is_empty() {
        *text += &indented(&format!("source: {}", reckoning.source), &below);
    }
    for (index, input) in reckoning.inputs.iter().enumerate() {
        let last = index + 1 == reckoning.inputs.len();
        let (mark, trail) = if last { ("└─ ", "   ") } else { ("├─ ", "│  ") };
        branch(input, &format!("{rest}{mark}"), &format!("{rest}{trail}"), text);
    }
}

/// A value as people say it: a date with its weekday.
fn shown(value: &Value) -> String {
    match value {
        Value::Date(text) => text.parse().map_or_else(|_| text.clone(), long_date),
        other => other.to_string(),
    }
}

fn indented(line: &str, indent: &str) -> String {
    textwrap::fill(line, options().initial_indent(indent).subsequent_indent(indent)) + "\n"
}

fn unknown(path: &str, reckonings: &Reckonings) -> Failure {
    let mut near: Vec<(usize, &str)> = reckonings.iter().map(|each| (strsim::levenshtein(path, &each.path), each.path.as_str())).collect();
    near.sort_unstable();
    let near: Vec<&str> = near.into_iter().take(3).map(|(_, path)| path).collect();
    let remedy = format!("Nearest: {}. `harlwright why JOB.toml` without a path lists all that can be asked.", near.join(", "));
    Failure::input(format!("There is no figure `{path}` in this plan."), remedy)
}
