//! What the browser tests need: a Chromium with its driver, and the accessibility rules of axe-core at a pinned version. Found on the path, or
//! installed where that is ours to do; never taken into the repository.

use std::path::PathBuf;
use std::process::Stdio;

use crate::shell::{command, run, tools};

/// Version of axe-core, pinned so that a page found free of faults is judged by the same rules everywhere.
const AXE: &str = "4.14.1";

/// Programs and files, as the tests are told of them.
pub struct Browser {
    /// The browser.
    pub chromium: PathBuf,
    /// Its driver.
    pub driver: PathBuf,
    /// The rules, one script.
    pub axe: PathBuf,
}

/// Everything, installed if need be.
pub fn environment() -> Result<Browser, String> {
    if found(&CHROMIUM).is_none() || found(&DRIVER).is_none() {
        install()?;
    }
    let missing = || {
        "the browser tests need Chromium (or Chrome) and its driver on the path, and they were not found.\n\
         Install both (Debian: apt-get install chromium chromium-driver) and run `cargo xtask test` again."
            .to_owned()
    };
    Ok(Browser { chromium: found(&CHROMIUM).ok_or_else(missing)?, driver: found(&DRIVER).ok_or_else(missing)?, axe: axe()? })
}

const CHROMIUM: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "chrome"];
const DRIVER: [&str; 2] = ["chromedriver", "chromium-driver"];

/// The first of some names on the path.
fn found(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    let file = |name: &&str| format!("{name}{}", std::env::consts::EXE_SUFFIX);
    names.iter().map(file).find_map(|name| folders.iter().map(|folder| folder.join(&name)).find(|place| place.is_file()))
}

/// Installs both with apt where it is there and we are allowed to; otherwise does nothing.
fn install() -> Result<(), String> {
    let is_root = command("id").arg("-u").output().is_ok_and(|output| output.stdout.starts_with(b"0\n") || output.stdout == b"0");
    if found(&["apt-get"]).is_none() || !is_root {
        return Ok(());
    }
    run(command("apt-get").args(["update", "-qq"]))?;
    run(command("apt-get")
        .args(["install", "-y", "-qq", "--no-install-recommends", "chromium", "chromium-driver"])
        .env("DEBIAN_FRONTEND", "noninteractive")
        .stdout(Stdio::null()))
}

/// The rules, from their npm package.
fn axe() -> Result<PathBuf, String> {
    let folder = tools().join(format!("axe-core-{AXE}"));
    let script = folder.join("package").join("axe.min.js");
    if script.is_file() {
        return Ok(script);
    }
    std::fs::create_dir_all(&folder).map_err(|error| format!("could not make {}: {error}", folder.display()))?;
    let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
    if found(&["npm", "npm.cmd"]).is_none() {
        return Err("the browser tests fetch axe-core with npm, and it was not found on the path.\nInstall it (Debian: apt-get install npm) and run `cargo xtask test` again.".to_owned());
    }
    run(command(npm).args(["pack", "--silent", &format!("axe-core@{AXE}")]).current_dir(&folder).stdout(Stdio::null()))?;
    run(command("tar").arg("-xzf").arg(folder.join(format!("axe-core-{AXE}.tgz"))).arg("-C").arg(&folder).arg("package/axe.min.js"))?;
    if script.is_file() { Ok(script) } else { Err(format!("axe-core was fetched, but {} is not in it", script.display())) }
}
