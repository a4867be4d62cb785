//! An entry of the site log as a page tells it.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde_json::Value;
use store::SiteEntry;

/// What an entry says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// "Tue 11 May, 08:30", on the clock of the place where it was told.
    pub when: String,
    /// The day it happened there.
    pub date: Option<Date>,
    /// What, in words: "Coat on".
    pub what: String,
    /// Short name of the wall, if it names one.
    pub wall: String,
    /// The coat, as it was told.
    pub coat: String,
    /// Of a test.
    pub result: String,
    /// In the teller's words.
    pub words: String,
    /// Who told it.
    pub who: String,
    /// Name of a photograph among the job's files, if it is one.
    pub photograph: String,
}

/// Reads an entry.
pub fn told(entry: &SiteEntry) -> Told {
    let body: Value = serde_json::from_str(&entry.body).unwrap_or_default();
    let word = |key: &str| body[key].as_str().unwrap_or_default().to_owned();
    let local = entry.happened_at.get(..16).and_then(|start| start.parse::<jiff::civil::DateTime>().ok());
    let local = local.or_else(|| entry.happened_at.parse::<Timestamp>().ok().map(|at| at.to_zoned_datetime(TimeZone::system()).datetime()));
    let result = word("result");
    let what = match entry.kind.as_str() {
        "placed" => "Coat on".to_owned(),
        "hung" => "Cover hung".to_owned(),
        "struck" => "Cover taken down".to_owned(),
        "damped" => "Damped".to_owned(),
        "tested" if result.is_empty() => "Tested".to_owned(),
        "tested" => format!("Tested: {result}"),
        "reading" => "Reading".to_owned(),
        _ => "Note".to_owned(),
    };
    Told {
        when: local.map_or_else(|| entry.happened_at.clone(), |local| local.strftime("%a %-d %B, %H:%M").to_string()),
        date: local.map(|local| local.date()),
        what,
        wall: word("wall"),
        coat: word("coat"),
        result,
        words: word("words"),
        who: entry.who.clone(),
        photograph: word("photograph"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_is_told_by_the_clock_of_its_place() {
        let entry = SiteEntry {
            given_id: "0123456789".to_owned(),
            happened_at: "2027-05-11T23:30:00+01:00".to_owned(),
            who: "Ann".to_owned(),
            kind: "tested".to_owned(),
            body: r#"{"wall": "north", "coat": "scud", "result": "holds"}"#.to_owned(),
        };
        let told = told(&entry);
        assert_eq!((told.when.as_str(), told.what.as_str(), told.wall.as_str()), ("Tue 11 May, 23:30", "Tested: holds", "north"));
        assert_eq!(told.date, Some(jiff::civil::date(2027, 5, 11)));
    }

    #[test]
    fn a_body_that_is_no_object_says_nothing() {
        let entry = SiteEntry {
            given_id: String::new(),
            happened_at: "once".to_owned(),
            who: String::new(),
            kind: "note".to_owned(),
            body: "[]".to_owned(),
        };
        assert_eq!((told(&entry).when.as_str(), told(&entry).words.as_str()), ("once", ""));
    }
}
