//! Progress on stderr while long work runs. Silent when asked, when stderr is no terminal, and once the work is done. Whoever interrupts the work (Ctrl-C)
//! calls it off: it ends with a sentence; who interrupts again ends the program.

use std::io::IsTerminal;
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

/// Somebody has interrupted the work.
static CALLED_OFF: AtomicBool = AtomicBool::new(false);

/// Listens for an interruption from the first work on that can be called off; without it an interruption ends the program as ever.
fn listen() {
    static LISTENS: Once = Once::new();
    LISTENS.call_once(|| {
        let interrupted = || {
            if CALLED_OFF.swap(true, Ordering::Relaxed) {
                std::process::exit(i32::from(crate::failure::CALLED_OFF));
            }
        };
        // Where nothing can listen, an interruption ends the program as ever.
        let _ = ctrlc::set_handler(interrupted);
    });
}

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
        listen();
        CALLED_OFF.load(Ordering::Relaxed)
    }
}
