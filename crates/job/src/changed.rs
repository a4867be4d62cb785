//! A job with some values written otherwise, as a person types them: `window.start=2027-09-06`. Each change is checked against the table of fields as a line
//! of the file would be. It must never take a value that the file would refuse.

use crate::problem::Problems;
use crate::sheet::Sheet;
use crate::{Job, Problem, conclude, with_settings};

impl Job {
    /// This job with changes, each a path, an equals sign and a value in the unit of the file; words need no quotation marks. A name that the job does not
    /// have yet (`gangs.second.masons=2`) adds an entry. Settings of before stand.
    ///
    /// # Errors
    /// Every problem of the changes, as in a file that holds them alone; or those of the whole job as changed.
    pub fn changed(&self, changes: &[String]) -> Result<Self, Vec<Problem>> {
        let mut wrong = Vec::new();
        let mut lines = Vec::new();
        for change in changes {
            let text = line(change);
            let mut problems = Problems::new(&format!("change {change}"), &text);
            let (sheet, _) = Sheet::read(&text, &mut problems);
            wrong.extend(problems.into_sorted());
            lines.push(sheet);
        }
        if !wrong.is_empty() {
            return Err(wrong);
        }
        let mut problems = Problems::new(&self.name, &self.text);
        let (mut sheet, is_whole) = with_settings(&self.text, &self.settings, &mut problems);
        lines.into_iter().for_each(|line| sheet.lay_over(line));
        let mut job = conclude(&sheet, problems, is_whole, self)?;
        job.keep_reliefs(self);
        Ok(job)
    }
}

/// A change as a line of a file: what does not read as a value of TOML stands in quotation marks.
fn line(change: &str) -> String {
    let Some((path, value)) = change.split_once('=').map(|(path, value)| (path.trim(), value.trim())) else { return change.to_owned() };
    let plain = format!("{path} = {value}");
    if toml::de::DeTable::parse(&plain).is_ok() {
        return plain;
    }
    let quoted: String = value
        .trim_matches('"')
        .chars()
        .flat_map(|letter| if matches!(letter, '"' | '\\') { vec!['\\', letter] } else { vec![letter] })
        .collect();
    format!("{path} = \"{quoted}\"")
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::line;

    #[test]
    fn words_need_no_quotation_marks() {
        assert_eq!(line("window.start=2027-09-06"), "window.start = 2027-09-06");
        assert_eq!(line("system.straight_edge_m = 1.8"), "system.straight_edge_m = 1.8");
        assert_eq!(line("system.cover=none"), "system.cover = \"none\"");
        assert_eq!(line("walls.north.length_m=12 ft 6 in"), "walls.north.length_m = \"12 ft 6 in\"");
        assert_eq!(line("no equals sign"), "no equals sign");
    }
}
