//! Reads the shipped data files: takes the value out of every `{ value, source }`, keeps the source under the value's path, and refuses a value
//! that has none.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use reckoning::Caution;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use toml::{Table, Value};

use crate::{Catalogue, MaterialsError};

const LIMES: &str = include_str!("../data/limes.toml");
const SANDS: &str = include_str!("../data/sands.toml");
const MASONRIES: &str = include_str!("../data/masonries.toml");
const COVERS: &str = include_str!("../data/covers.toml");
const CAUTIONS: &str = include_str!("../data/cautions.toml");

static SHIPPED: LazyLock<Catalogue> = LazyLock::new(|| {
    #[expect(clippy::expect_used, reason = "the files are part of the program; the test `the_shipped_data_reads` reads these very bytes")]
    read_all().expect("the shipped catalogue reads")
});

impl Catalogue {
    /// The catalogue that comes with the program.
    pub fn shipped() -> Self {
        SHIPPED.clone()
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CautionFile {
    caution: Vec<Caution>,
}

pub(crate) fn read_all() -> Result<Catalogue, MaterialsError> {
    let mut sources = BTreeMap::new();
    let limes = read_entries("limes", LIMES, &mut sources)?;
    let sands = read_entries("sands", SANDS, &mut sources)?;
    let masonries = read_entries("masonries", MASONRIES, &mut sources)?;
    let covers = read_entries("covers", COVERS, &mut sources)?;
    let cautions: CautionFile = toml::from_str(CAUTIONS).map_err(|e| fault("cautions", "", e.message()))?;
    Ok(Catalogue { limes, sands, masonries, covers, cautions: cautions.caution, sources })
}

fn fault(file: &str, place: &str, found: &str) -> MaterialsError {
    MaterialsError::Data { file: format!("{file}.toml"), place: place.to_owned(), found: found.to_owned() }
}

/// Entries of one file; the sources land in `sources` under `file.entry.field`.
pub(crate) fn read_entries<T: DeserializeOwned>(
    file: &str,
    text: &str,
    sources: &mut BTreeMap<String, String>,
) -> Result<BTreeMap<String, T>, MaterialsError> {
    let mut table: Table = text.parse().map_err(|e: toml::de::Error| fault(file, "", e.message()))?;
    let Some(Value::Table(keys)) = table.remove("sources") else {
        return Err(fault(file, "sources", "the table of sources is missing"));
    };
    let mut entries = BTreeMap::new();
    for (slug, entry) in table {
        let path = format!("{file}.{slug}");
        let Value::Table(entry) = entry else {
            return Err(fault(file, &path, "an entry must be a table"));
        };
        let plain = strip(file, &path, entry, &keys, sources)?;
        let value: T = Value::Table(plain).try_into().map_err(|e: toml::de::Error| fault(file, &path, e.message()))?;
        entries.insert(slug, value);
    }
    Ok(entries)
}

/// The entry without its sources. Only `name` may stand without one.
fn strip(file: &str, path: &str, entry: Table, keys: &Table, sources: &mut BTreeMap<String, String>) -> Result<Table, MaterialsError> {
    let mut plain = Table::new();
    for (field, value) in entry {
        let place = format!("{path}.{field}");
        let bare = match value {
            Value::String(_) if field == "name" => value,
            Value::Table(mut sourced) if sourced.contains_key("value") => {
                let source = source_words(file, &place, sourced.remove("source"), keys)?;
                let Some(bare) = sourced.remove("value") else {
                    return Err(fault(file, &place, "no value"));
                };
                if let Some(other) = sourced.keys().next() {
                    return Err(fault(file, &place, &format!("the unknown key “{other}”")));
                }
                sources.insert(place, source);
                bare
            }
            Value::Table(inner) => Value::Table(strip(file, &place, inner, keys, sources)?),
            _ => return Err(fault(file, &place, "a value without a source")),
        };
        plain.insert(field, bare);
    }
    Ok(plain)
}

fn source_words(file: &str, place: &str, source: Option<Value>, keys: &Table) -> Result<String, MaterialsError> {
    let Some(Value::String(key)) = source else {
        return Err(fault(file, place, "a value without a source"));
    };
    if let Some(own) = key.strip_prefix("own:") {
        return Ok(own.trim().to_owned());
    }
    match keys.get(&key) {
        Some(Value::String(words)) => Ok(words.clone()),
        _ => Err(fault(file, place, &format!("the source “{key}”, which is not listed under [sources]"))),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;
    use crate::{Lime, Sand};
    use reckoning::Hazard;

    #[test]
    fn the_shipped_data_reads() {
        let catalogue = read_all().unwrap();
        assert!(catalogue.limes.len() >= 6 && catalogue.sands.len() >= 3 && catalogue.masonries.len() >= 6);
        assert_eq!(catalogue.covers.len(), 8);
        assert!(catalogue.limes.values().all(|l| l.mature_weeks >= 0.0 && l.frost_free_days.0 <= l.frost_free_days.1));
        assert!(catalogue.sources.values().all(|words| words.len() > 10), "a source is words, not a mark");
    }

    /// Every field of an entry but its name has its source; the fields are counted by writing the entry out again.
    fn all_sourced<T: serde::Serialize>(catalogue: &Catalogue, shelf: &str, entries: &BTreeMap<String, T>) {
        for (slug, entry) in entries {
            for (field, value) in Table::try_from(entry).unwrap() {
                let path = format!("{shelf}.{slug}.{field}");
                match value {
                    Value::Table(inner) => {
                        inner.keys().for_each(|key| assert!(catalogue.sources.contains_key(&format!("{path}.{key}")), "{path}.{key}"))
                    }
                    _ if field == "name" => {}
                    _ => assert!(catalogue.sources.contains_key(&path), "{path}"),
                }
            }
        }
    }

    #[test]
    fn no_value_lacks_a_source() {
        let catalogue = read_all().unwrap();
        all_sourced(&catalogue, "limes", &catalogue.limes);
        all_sourced(&catalogue, "sands", &catalogue.sands);
        all_sourced(&catalogue, "masonries", &catalogue.masonries);
        all_sourced(&catalogue, "covers", &catalogue.covers);
    }

    #[test]
    fn a_value_without_a_source_is_refused() {
        let text = "[sources]\np = \"practice\"\n[a]\nname = \"A\"\nloose_kg_m3 = 1500.0\n";
        let refused = read_entries::<Sand>("sands", text, &mut BTreeMap::new()).unwrap_err().to_string();
        assert!(refused.contains("sands.a.loose_kg_m3") && refused.contains("without a source"), "{refused}");
        let text = "[sources]\np = \"practice\"\n[a]\nname = \"A\"\nbulk_kg_m3 = { value = 1.0, source = \"q\" }\n";
        let refused = read_entries::<Lime>("limes", text, &mut BTreeMap::new()).unwrap_err().to_string();
        assert!(refused.contains("not listed"), "{refused}");
    }

    #[test]
    fn every_hazard_has_one_caution() {
        use Hazard::*;
        let all = [
            Lime,
            Quicklime,
            Height,
            ScaffoldLoad,
            Dust,
            OldCoverings,
            Acid,
            Phenolphthalein,
            Heaters,
            Lifting,
            Consent,
            Wildlife,
            Simulated,
        ];
        let cautions = read_all().unwrap().cautions;
        for hazard in all {
            let found: Vec<_> = cautions.iter().filter(|c| c.hazard == hazard).collect();
            assert_eq!(found.len(), 1, "{hazard:?}");
            assert!(!found[0].triggers.is_empty() && found[0].words.ends_with('.') && !found[0].source.is_empty());
            assert!(found[0].triggers.iter().all(|t| *t == t.to_lowercase()));
        }
        assert_eq!(cautions.len(), all.len());
    }
}
