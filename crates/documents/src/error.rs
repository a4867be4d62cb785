//! What can go wrong in making a document.

/// A document that could not be made.
#[derive(Debug, thiserror::Error)]
pub enum DocumentError {
    /// A template did not compile: a fault of ours, not of the job.
    #[error(
        "the {document} could not be typeset: {found}. This is a fault in the template, not in the job; the other documents of the pack are not affected"
    )]
    Template {
        /// Which document.
        document: &'static str,
        /// What the typesetter said.
        found: String,
    },
    /// The typeset pages broke the accessibility standard.
    #[error(
        "the {document} does not meet PDF/UA-1: {found}. This is a fault in the template, not in the job; the other documents of the pack are not affected"
    )]
    Accessibility {
        /// Which document.
        document: &'static str,
        /// What the export said.
        found: String,
    },
}
