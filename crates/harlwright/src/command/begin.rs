//! `harlwright` alone: where to begin, in a few lines.

use crate::failure::Failure;

/// Prints the lines.
#[expect(clippy::unnecessary_wraps, reason = "every verb has the same form")]
pub fn run() -> Result<(), Failure> {
    println!("harlwright demo             write an invented job to try things on");
    println!("harlwright new JOB.toml     answer a few plain questions and get a job file");
    #[cfg(feature = "web")]
    println!("harlwright serve            the whole job in a browser, on this machine");
    println!("harlwright --help           everything else");
    Ok(())
}
