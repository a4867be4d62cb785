//! Entries handed back from a site sheet: a file in the form site-log/1, read with all its problems at once. It takes in what was told and
//! judges nothing of it; `docs/site-log.md` describes the form.

use serde_json::Value;

use crate::{Book, SiteEntry, StoreError};

/// Name and version of the form.
pub const HANDED_FORMAT: &str = "site-log/1";
/// Most entries in one file.
const MOST_ENTRIES: usize = 5000;
/// Most bytes of a file.
pub const HANDED_MOST_BYTES: usize = 2 * 1024 * 1024;
/// Most bytes of one entry.
const MOST_ENTRY_BYTES: usize = 4096;
/// Sorts of entry.
pub const ENTRY_KINDS: [&str; 7] = ["placed", "hung", "struck", "damped", "tested", "reading", "note"];
/// Problems told at most.
const MOST_PROBLEMS: usize = 50;

/// What a file hands over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handed {
    /// Name of the job on the sheet.
    pub job: String,
    /// Short name of the job in the book, if the sheet came from one.
    pub slug: Option<String>,
    /// The entries, in the order of the file.
    pub entries: Vec<SiteEntry>,
}

impl Handed {
    /// What to tell somebody who hands the file in for a job it was not kept for; `None` where it fits or names no job.
    pub fn not_for(&self, slug: &str) -> Option<String> {
        let other = self.slug.as_deref().filter(|other| *other != slug)?;
        Some(format!("This log was kept for {other}; hand it in there."))
    }

    /// Reads a file.
    ///
    /// # Errors
    /// Every problem, each a sentence that says where, what was found and what is allowed; nothing is taken in then.
    pub fn read(text: &str) -> Result<Self, Vec<String>> {
        if text.len() > HANDED_MOST_BYTES {
            return Err(vec![format!(
                "The file has {} KB; {} KB are taken in. Hand over in two files.",
                text.len() / 1024,
                HANDED_MOST_BYTES / 1024
            )]);
        }
        let whole: Value = serde_json::from_str(text)
            .map_err(|error| vec![format!("The file is not JSON ({error}). Hand over the file that the site sheet wrote, as it is.")])?;
        if whole["format"] != HANDED_FORMAT {
            return Err(vec![format!(
                "The file does not say `\"format\": \"{HANDED_FORMAT}\"`: it is not what a site sheet of this version hands over. Choose the file that the sheet wrote."
            )]);
        }
        let Some(told) = whole["entries"].as_array().filter(|entries| entries.len() <= MOST_ENTRIES) else {
            return Err(vec![format!("`entries` is not a list of at most {MOST_ENTRIES}. Choose the file that the sheet wrote.")]);
        };
        if whole.get("job").is_some_and(|job| !job.is_object()) {
            return Err(vec!["`job` is not a table of name, slug and revision. Choose the file that the sheet wrote.".to_owned()]);
        }
        let (mut entries, mut problems) = (Vec::new(), Vec::new());
        for (number, entry) in told.iter().enumerate() {
            match one(entry) {
                Ok(entry) => entries.push(entry),
                Err(found) => problems.extend(found.into_iter().map(|found| format!("Entry {}: {found}", number + 1))),
            }
        }
        if !problems.is_empty() {
            problems.truncate(MOST_PROBLEMS);
            return Err(problems);
        }
        let word = |value: &Value| value.as_str().map(str::to_owned);
        Ok(Self { job: word(&whole["job"]["name"]).unwrap_or_default(), slug: word(&whole["job"]["slug"]), entries })
    }
}

/// One entry, from its JSON.
fn one(entry: &Value) -> Result<SiteEntry, Vec<String>> {
    let mut problems = Vec::new();
    let mut word = |key: &str, most: usize, allowed: &str, fits: &dyn Fn(&str) -> bool| match entry[key].as_str() {
        Some(text) if text.chars().count() <= most && fits(text) => text.to_owned(),
        Some(text) => {
            let shown: String = text.chars().take(40).collect();
            problems.push(format!("`{key}` is “{shown}”; allowed is {allowed}."));
            String::new()
        }
        None => {
            problems.push(format!("`{key}` is missing or no text; it is {allowed}."));
            String::new()
        }
    };
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-';
    let given_id = word("id", 64, "8 to 64 letters, digits and hyphens", &|text| text.len() >= 8 && text.chars().all(plain));
    let happened_at =
        word("at", 40, "a time with its offset, such as 2027-05-11T08:30:00+01:00", &|text| text.parse::<jiff::Timestamp>().is_ok());
    let who = word("who", 80, "a name of 1 to 80 letters", &|text| !text.trim().is_empty());
    let kind = word("kind", 16, &ENTRY_KINDS.join(", "), &|text| ENTRY_KINDS.contains(&text));
    let mut rest = entry.as_object().cloned().unwrap_or_default();
    for key in ["id", "at", "who", "kind"] {
        rest.remove(key);
    }
    let body = Value::Object(rest).to_string();
    if body.len() > MOST_ENTRY_BYTES {
        problems.push(format!("it has {} bytes; {MOST_ENTRY_BYTES} are taken in.", body.len()));
    }
    if problems.is_empty() { Ok(SiteEntry { given_id, happened_at, who, kind, body }) } else { Err(problems) }
}

impl Book {
    /// Adds what was handed over, all or nothing; how many entries were new. One that is there already stands once.
    ///
    /// # Errors
    /// When there is no such job, an entry stands in the log of another, or the book could not be written.
    pub fn take_in(&self, slug: &str, entries: &[SiteEntry]) -> Result<usize, StoreError> {
        self.log_all(slug, entries)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test without its file must stop")]
    use super::*;

    fn file(entries: &str) -> String {
        format!("{{\"format\": \"site-log/1\", \"job\": {{\"name\": \"Mill\", \"slug\": \"mill\"}}, \"entries\": {entries}}}")
    }

    #[test]
    fn a_file_of_the_sheet_is_read_whole() {
        let text = file(
            r#"[{"id": "0123456789abcdef", "at": "2027-05-11T08:30:00+01:00", "who": "Ann", "kind": "placed", "wall": "north", "coat": "scud"}]"#,
        );
        let handed = Handed::read(&text).unwrap();
        assert_eq!((handed.job.as_str(), handed.slug.as_deref(), handed.entries.len()), ("Mill", Some("mill"), 1));
        let body: Value = serde_json::from_str(&handed.entries[0].body).unwrap();
        assert_eq!(body, serde_json::json!({ "wall": "north", "coat": "scud" }));
    }

    #[test]
    fn every_problem_is_told_at_once_with_its_entry() {
        let text = file(r#"[{"id": "../../x", "at": "yesterday", "kind": "thrown"}, {"id": 7}, []]"#);
        let problems = Handed::read(&text).unwrap_err();
        assert_eq!(problems.iter().filter(|problem| problem.starts_with("Entry 1:")).count(), 4, "{problems:?}");
        assert!(
            problems.iter().any(|problem| problem.contains("placed, hung"))
                && problems.iter().any(|problem| problem.starts_with("Entry 3:"))
        );
        for bad in [
            "",
            "{}",
            "[]",
            "{\"format\": \"site-log/2\"}",
            "{\"format\": \"site-log/1\"}",
            "not json",
            "{\"format\": \"site-log/1\", \"job\": [], \"entries\": []}",
        ] {
            assert_eq!(Handed::read(bad).unwrap_err().len(), 1, "{bad}");
        }
        assert!(Handed::read(&" ".repeat(HANDED_MOST_BYTES + 1)).is_err());
    }
}
