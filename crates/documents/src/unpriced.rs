//! A plan without its money: what a gang may read. What is left out is left out whole, never blanked to nought, so that no reader takes it for a
//! figure. It must let no sum, no rate and no sentence that names one through.

use serde_json::{Map, Value};

/// Parts of plan/1 that are about money, or speak of it: left out whole.
const LEFT_OUT: [&str; 7] = ["price", "answers", "swings", "headline", "money", "cost", "rate"];

/// Signs of a currency.
const SIGNS: [char; 6] = ['£', '€', '$', '¥', '₤', '₣'];

/// The plan of a plan/1 text without money; `None` if it is none. Says so itself under `without_prices`.
pub fn without_prices(plan: &str) -> Option<Value> {
    let Value::Object(whole) = serde_json::from_str(plan).ok()? else { return None };
    let code = currency(whole.get("price")?)?.to_owned();
    let Value::Object(mut rest) = stripped(&Value::Object(whole), &code)? else { return None };
    rest.insert("without_prices".to_owned(), Value::Bool(true));
    Some(Value::Object(rest))
}

/// Code of the currency, from the first sum that names it.
fn currency(price: &Value) -> Option<&str> {
    price["total"]["currency"].as_str()
}

/// A value without money; `None` if nothing of it may be kept.
fn stripped(value: &Value, code: &str) -> Option<Value> {
    match value {
        Value::Object(entries) if is_money(entries) => None,
        Value::Object(entries) => {
            let kept = entries.iter().filter(|(key, _)| !LEFT_OUT.contains(&key.as_str()));
            Some(Value::Object(kept.filter_map(|(key, value)| Some((key.clone(), stripped(value, code)?))).collect()))
        }
        Value::Array(items) => Some(Value::Array(items.iter().filter_map(|item| stripped(item, code)).collect())),
        Value::String(words) if speaks_of_money(words, code) => None,
        other => Some(other.clone()),
    }
}

/// A sum, or a reckoning whose value or any of whose inputs is one, or that stands under the price or the rates.
fn is_money(entries: &Map<String, Value>) -> bool {
    let sum = entries.contains_key("currency");
    let path = entries.get("path").and_then(Value::as_str).unwrap_or_default();
    let priced = ["price", "rates"].iter().any(|head| path == *head || path.starts_with(&format!("{head}.")));
    let value = entries.get("value").and_then(Value::as_object).is_some_and(|value| value.contains_key("money"));
    let inputs = || entries.get("inputs").and_then(Value::as_array).into_iter().flatten();
    sum || priced || value || (entries.contains_key("value") && inputs().filter_map(Value::as_object).any(is_money))
}

fn speaks_of_money(words: &str, code: &str) -> bool {
    words.contains(SIGNS) || words.split(|c: char| !c.is_ascii_alphanumeric()).any(|word| word == code)
}
