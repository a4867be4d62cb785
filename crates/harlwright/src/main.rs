//! harlwright: the command line. Parsing at the door, files in and out, words to the terminal; it holds no decision and no arithmetic of the trade.

mod arguments;
mod command;
mod failure;
mod files;
mod progress;
mod summary;
mod words;

use std::process::ExitCode;

use clap::Parser;

use crate::arguments::{Arguments, Verb, WeatherVerb};
use crate::failure::Failure;
use crate::progress::Bar;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let outcome = use_threads(arguments.threads).and_then(|()| obey(arguments));
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            failure.tell();
            failure.exit_code()
        }
    }
}

fn use_threads(threads: Option<u16>) -> Result<(), Failure> {
    let Some(threads) = threads else { return Ok(()) };
    rayon::ThreadPoolBuilder::new()
        .num_threads(usize::from(threads))
        .build_global()
        .map_err(|error| Failure::machine(format!("{threads} threads could not be started: {error}.")))
}

fn obey(arguments: Arguments) -> Result<(), Failure> {
    let bar = Bar::new(arguments.quiet);
    match arguments.verb {
        None => command::begin::run(),
        Some(Verb::Demo { into }) => command::demo::run(&into),
        Some(Verb::New { job, accept_defaults }) => command::new::run(&job, accept_defaults),
        Some(Verb::Plan { job, out, json, compare_protection, season }) => {
            command::plan::run(&job, out.as_deref(), &command::plan::Asked { json, compare_protection, season }, &bar)
        }
        Some(Verb::Check { job, json }) => command::check::run(&job, json),
        Some(Verb::Why(why)) => command::why::run(&why, &bar),
        Some(Verb::OrderOfWork { job, out, take }) => command::order_of_work::run(&job, out.as_deref(), take, &bar),
        Some(Verb::Cure(asked)) => command::cure::run(&asked, &bar),
        Some(Verb::Compare(asked)) => command::compare::run(&asked, &bar),
        Some(Verb::Season(asked)) => command::season::run(&asked, &bar),
        Some(Verb::Schema) => command::schema::run(),
        Some(Verb::Trial { trial, json }) => command::trial::run(&trial, json),
        Some(Verb::Sand(asked)) => command::bench::sand(&asked, &bar),
        Some(Verb::Lime(asked)) => command::bench::lime(&asked, &bar),
        Some(Verb::Slake(asked)) => command::bench::slake(&asked, &bar),
        Some(Verb::Mortar(asked)) => command::bench::mortar(&asked),
        Some(Verb::Weather { verb: WeatherVerb::Make(asked) }) => command::weather::make(&asked),
        Some(Verb::Weather { verb: WeatherVerb::Show(asked) }) => command::weather::show(&asked),
        #[cfg(feature = "web")]
        Some(Verb::Serve(asked)) => command::serve::run(asked),
        Some(Verb::Relief(asked)) => command::relief::run(&asked, &bar),
        Some(Verb::Straighten(asked)) => command::straighten::run(&asked),
        Some(Verb::Site { job, out }) => command::site::run(&job, &out, &bar),
        Some(Verb::Log { verb }) => command::book::log(&verb),
        #[cfg(feature = "web")]
        Some(Verb::Account { verb }) => command::account::run(&verb),
        Some(Verb::Backup { book, to }) => command::book::backup(&book, &to),
        Some(Verb::Restore { backup, to }) => command::book::restore(&backup, &to),
        Some(Verb::Book { verb }) => command::book::run(&verb),
        Some(Verb::Completions { shell }) => command::shell::completions(shell),
        Some(Verb::Manual) => command::shell::manual(),
    }
}
