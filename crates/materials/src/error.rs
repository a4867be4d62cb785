//! What can be wrong with a mix or with catalogue data, in sentences that say what is allowed.

use thiserror::Error;

/// A fault in a mix or in the catalogue.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MaterialsError {
    /// A name that no entry bears.
    #[error(
        "The catalogue holds no {kind} named “{name}”. The nearest names are: {nearest}. Use one of these, or add an entry of your own."
    )]
    Unknown {
        /// "lime", "sand", "masonry" or "cover".
        kind: &'static str,
        /// The name asked for.
        name: String,
        /// The nearest names, most alike first, joined by commas.
        nearest: String,
    },
    /// Proportions outside what the yield model covers.
    #[error(
        "The mix 1 : {parts} of “{lime}” and “{sand}” lies outside what a lime mortar is made of. Give between {least} and {most} parts of dry sand to one of lime."
    )]
    Parts {
        /// Parts of sand found.
        parts: f64,
        /// Lime.
        lime: String,
        /// Sand.
        sand: String,
        /// Least parts allowed.
        least: f64,
        /// Most parts allowed.
        most: f64,
    },
    /// An entry whose values cannot be true together.
    #[error("The {kind} “{name}” has {what} = {found}; it must lie {allowed}. Correct the entry.")]
    Entry {
        /// "lime" or "sand".
        kind: &'static str,
        /// Entry.
        name: String,
        /// Field.
        what: &'static str,
        /// Value found.
        found: f64,
        /// What is allowed, in words.
        allowed: &'static str,
    },
    /// A catalogue file that cannot be read.
    #[error(
        "The catalogue file {file} cannot be read at “{place}”: {found}. Every value stands as {{ value = …, source = … }}, with a source listed under [sources] or written after “own:”."
    )]
    Data {
        /// File name.
        file: String,
        /// Path within it.
        place: String,
        /// What was found.
        found: String,
    },
}
