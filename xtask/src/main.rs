//! The workspace's own tasks: `cargo xtask test` installs what the tests need and passes every gate; `cargo xtask demo-weather` writes the
//! invented weather of the demo, `calibrate` and `converge` the pages of the engine's own
//! figures. It must never hold anything a user of harlwright needs: that belongs in the binary.

mod browser;
mod engine;
mod gates;
mod python;
mod shell;

use std::process::ExitCode;

const HELP: &str = "\
cargo xtask test [--long] [--only GATE]   install what the tests need, then pass every gate
                                          (gates: fmt, clippy, doc, deny, test, plan)
cargo xtask demo-weather                  write the invented weather of the demo job
cargo xtask calibrate                     fit the threshold of uptake, print its data, profile and residuals,
                                          and write docs/calibration.md and docs/days-to-ready.md
cargo xtask converge                      run fifty random walls on finer grids and shorter steps, print the table,
                                          and write docs/convergence.md
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["test", options @ ..] => gates::Options::read(options).and_then(|options| gates::pass_all(&options)),
        ["demo-weather"] => demo_weather(),
        ["calibrate"] => engine::calibrate(),
        ["converge"] => engine::converge(),
        _ => Err(HELP.to_owned()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}

fn demo_weather() -> Result<(), String> {
    let path = shell::root().join("examples/ferry-house/weather.csv");
    let text = weather::invented::years(weather::invented::DEMO_SEED, weather::invented::DEMO_YEARS)
        .map(|weather| weather::write_csv(&weather))
        .map_err(|error| error.to_string())?;
    std::fs::write(&path, text).map_err(|error| format!("could not write {}: {error}", path.display()))?;
    println!("wrote {}", path.display());
    Ok(())
}
