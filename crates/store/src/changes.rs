//! What differs between two job files and between two saved plans, by path: walls, coats and openings are met by their short names, so that
//! renaming what is shown or moving a table changes nothing else. It compares text and numbers and knows no trade.

use std::collections::BTreeMap;

/// One difference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Path, such as `walls.north.length_m`.
    pub path: String,
    /// Before; `None` if it was not there.
    pub before: Option<String>,
    /// After; `None` if it is gone.
    pub after: Option<String>,
}

/// Values that differ between two job files, in order of path; a file that does not read as TOML has no values.
pub fn job_changes(before: &str, after: &str) -> Vec<Change> {
    differences(&values_of(before), &values_of(after))
}

/// Figures that differ between two plans in plan/1, in order of path.
pub fn figure_changes(before: &str, after: &str) -> Vec<Change> {
    differences(&figures_of(before), &figures_of(after))
}

fn differences(before: &BTreeMap<String, String>, after: &BTreeMap<String, String>) -> Vec<Change> {
    let paths: std::collections::BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    paths
        .into_iter()
        .filter(|path| before.get(*path) != after.get(*path))
        .map(|path| Change { path: path.clone(), before: before.get(path).cloned(), after: after.get(path).cloned() })
        .collect()
}

fn values_of(text: &str) -> BTreeMap<String, String> {
    let mut values = BTreeMap::new();
    if let Ok(table) = text.parse::<toml::Table>() {
        flatten("", &toml::Value::Table(table), &mut values);
    }
    values
}

fn flatten(path: &str, value: &toml::Value, into: &mut BTreeMap<String, String>) {
    match value {
        toml::Value::Table(table) => {
            for (key, below) in table {
                let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                flatten(&path, below, into);
            }
        }
        toml::Value::String(words) => {
            into.insert(path.to_owned(), words.clone());
        }
        other => {
            into.insert(path.to_owned(), other.to_string());
        }
    }
}

/// The value of each reckoning of a plan, as shown.
fn figures_of(plan: &str) -> BTreeMap<String, String> {
    let mut figures = BTreeMap::new();
    let plan: serde_json::Value = serde_json::from_str(plan).unwrap_or_default();
    for reckoning in plan["reckonings"].as_array().into_iter().flatten() {
        if let (Some(path), Some(shown)) = (reckoning["path"].as_str(), shown(&reckoning["value"])) {
            figures.insert(path.to_owned(), shown);
        }
    }
    figures
}

/// A value of plan/1 as people read it.
fn shown(value: &serde_json::Value) -> Option<String> {
    let words = |key: &str| value[key].as_str().map(str::to_owned);
    let number = || {
        let number = value.get("number")?;
        let decimals = usize::try_from(number["decimals"].as_u64()?).ok()?;
        let text = format!("{:.decimals$} {}", number["amount"].as_f64()?, number["unit"].as_str()?);
        Some(text.trim_end().to_owned())
    };
    let money = || {
        let money = value.get("money")?;
        Some(format!("{} {}", money["amount"].as_str()?, money["currency"].as_str()?))
    };
    words("text").or_else(|| words("date")).or_else(number).or_else(money)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn differences_are_met_by_path_whatever_the_order_or_the_comments() {
        let before = "[walls.north]\nlength_m = 8.5 # tape\n[walls.south]\nlength_m = 9\n";
        let after = "[walls.south]\nlength_m = 9.2\n\n[walls.north]\nlength_m = 8.5\nname = \"Back\"\n";
        let changes = job_changes(before, after);
        let told: Vec<(&str, Option<&str>, Option<&str>)> =
            changes.iter().map(|change| (change.path.as_str(), change.before.as_deref(), change.after.as_deref())).collect();
        assert_eq!(told, [("walls.north.name", None, Some("Back")), ("walls.south.length_m", Some("9"), Some("9.2"))]);
        assert!(job_changes(before, before).is_empty());
    }

    #[test]
    fn figures_of_plans_are_met_by_path() {
        let plan = |metres: f64| {
            let value = serde_json::json!({ "number": { "amount": metres, "unit": "m²", "decimals": 1 } });
            serde_json::json!({ "reckonings": [{ "path": "walls.north.net", "value": value }] }).to_string()
        };
        let changes = figure_changes(&plan(39.7), &plan(41.24));
        let told: Vec<_> = changes.iter().map(|change| (change.path.as_str(), change.after.as_deref())).collect();
        assert_eq!(told, [("walls.north.net", Some("41.2 m²"))]);
        assert!(figure_changes(&plan(39.71), &plan(39.72)).is_empty(), "what is shown alike is alike");
        assert!(figure_changes("no plan", "none").is_empty());
    }
}
