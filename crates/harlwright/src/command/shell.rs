//! `harlwright completions` and `harlwright manual`: generated from the declared arguments.

use clap::CommandFactory;

use crate::arguments::Arguments;
use crate::failure::Failure;
use crate::files::print;

/// Prints a completion script.
pub fn completions(shell: clap_complete::Shell) -> Result<(), Failure> {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "harlwright", &mut bytes);
    print(&String::from_utf8_lossy(&bytes))
}

/// Prints the manual page.
pub fn manual() -> Result<(), Failure> {
    let mut bytes = Vec::new();
    clap_mangen::Man::new(Arguments::command())
        .render(&mut bytes)
        .map_err(|error| Failure::machine(format!("The manual page could not be written: {error}.")))?;
    print(&String::from_utf8_lossy(&bytes))
}
