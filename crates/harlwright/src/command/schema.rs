//! `harlwright schema`: the JSON Schema of the job file.

use crate::failure::Failure;
use crate::files::print;

/// Prints the schema.
pub fn run() -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(&job::schema())
        .map_err(|error| Failure::machine(format!("The schema could not be written: {error}.")))?;
    print(&text)
}
