//! Progress on stderr while long work runs. Silent when asked, when stderr is no terminal, and once the work is done.

use std::io::IsTerminal;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

/// A line of progress.
pub struct Bar(Option<ProgressBar>);

impl Bar {
    /// A bar, or none if `quiet` or stderr is not a terminal.
    pub fn new(quiet: bool) -> Self {
        if quiet || !std::io::stderr().is_terminal() {
            return Self(None);
        }
        let bar = ProgressBar::new(1);
        let style = ProgressStyle::with_template("{msg} {bar:24} {pos}/{len}").unwrap_or_else(|_| ProgressStyle::default_bar());
        bar.set_style(style);
        bar.enable_steady_tick(Duration::from_millis(200));
        Self(Some(bar))
    }

    /// Takes the line away.
    pub fn clear(&self) {
        if let Some(bar) = &self.0 {
            bar.finish_and_clear();
        }
    }
}

impl works::Watch for Bar {
    fn progress(&self, stage: &str, done: usize, of: usize) {
        if let Some(bar) = &self.0 {
            bar.set_length(of as u64);
            bar.set_position(done as u64);
            bar.set_message(stage.to_owned());
        }
    }

    fn cancelled(&self) -> bool {
        false
    }
}
