//! How somebody who waits for a plan sees it come on and may call it off. It must never change a result.

/// A watcher of a long reckoning; called from several threads.
pub trait Watch: Sync {
    /// `done` parts `of` a stage are finished. Order and number of calls are not part of any result.
    fn progress(&self, stage: &str, done: usize, of: usize);
    /// True when the reckoning should stop; it then ends with [`crate::WorksError::Cancelled`].
    fn cancelled(&self) -> bool;
}

/// Nobody watches.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn progress(&self, _stage: &str, _done: usize, _of: usize) {}

    fn cancelled(&self) -> bool {
        false
    }
}

/// Passes on the wish to stop, and no progress.
pub(crate) struct Unreported<'w>(pub(crate) &'w dyn Watch);

impl Watch for Unreported<'_> {
    fn progress(&self, _stage: &str, _done: usize, _of: usize) {}

    fn cancelled(&self) -> bool {
        self.0.cancelled()
    }
}
