//! Running other programs from the root of the workspace, with their output shown as it comes.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Root of the workspace.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// Folder for what the tests need and git ignores.
pub fn tools() -> PathBuf {
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    target.join("tools")
}

/// A command that starts in the root.
pub fn command(program: impl AsRef<OsStr>) -> Command {
    let mut command = Command::new(program);
    command.current_dir(root());
    command
}

/// The cargo that runs us.
pub fn cargo() -> Command {
    command(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// Runs to the end; an error says what failed.
pub fn run(command: &mut Command) -> Result<(), String> {
    let words = spoken(command);
    eprintln!("» {words}");
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(format!("{words}: ended with {status}")),
        Err(error) => Err(format!("{words}: could not be started: {error}")),
    }
}

fn spoken(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let mut words = vec![program.file_stem().unwrap_or(command.get_program()).to_string_lossy().into_owned()];
    words.extend(command.get_args().map(|word| word.to_string_lossy().into_owned()));
    words.join(" ")
}
