//! The command line as declared: verbs in plain English, each with real examples. It parses and nothing more.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// From a surveyed old building to a lime harl: specification, order, programme with odds, price and documents.
#[derive(Debug, Parser)]
#[command(name = "harlwright", version, max_term_width = 100, disable_help_subcommand = true)]
pub struct Arguments {
    /// Say nothing but the result: no progress, no hints.
    #[arg(long, global = true)]
    pub quiet: bool,
    /// Threads to use; the result is the same for any number. Default: one for each core.
    #[arg(long, global = true, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub threads: Option<u16>,
    /// What to do; without it, harlwright says where to begin.
    #[command(subcommand)]
    pub verb: Option<Verb>,
}

/// The verbs.
#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Write an invented job to try things on
    #[command(after_help = "Examples:\n  harlwright demo\n  harlwright demo --into ~/jobs/demo")]
    Demo {
        /// Folder to write it into; made if need be, and nothing in it is overwritten.
        #[arg(long, value_name = "FOLDER", default_value = "ferry-house")]
        into: PathBuf,
    },
    /// Answer a few plain questions and get a job file that plans at once
    #[command(after_help = "Examples:\n  harlwright new mill.toml\n  harlwright new mill.toml --accept-defaults")]
    New {
        /// File to write; never overwritten.
        #[arg(value_name = "JOB.toml")]
        job: PathBuf,
        /// Ask nothing: every answer is left at its default and marked as assumed.
        #[arg(long)]
        accept_defaults: bool,
    },
    /// Plan a job: specification, order, programme, price and documents
    #[command(
        after_help = "Examples:\n  harlwright plan job.toml\n  harlwright plan job.toml --out pack\n  harlwright plan job.toml --json > plan.json"
    )]
    Plan {
        /// The job file.
        #[arg(value_name = "JOB.toml")]
        job: PathBuf,
        /// Folder for the documents; made if need be, documents of an earlier plan in it are replaced.
        #[arg(long, value_name = "FOLDER")]
        out: Option<PathBuf>,
        /// Print the plan as plan/1 JSON instead of the summary.
        #[arg(long)]
        json: bool,
    },
    /// Check a job file: every problem at once, then what good practice says of the job
    #[command(after_help = "Examples:\n  harlwright check job.toml\n  harlwright check job.toml --json")]
    Check {
        /// The job file.
        #[arg(value_name = "JOB.toml")]
        job: PathBuf,
        /// Print problems and findings as JSON.
        #[arg(long)]
        json: bool,
    },
    /// Ask why a figure is what it is: formula, inputs, source
    #[command(
        after_help = "Examples:\n  harlwright why job.toml\n  harlwright why job.toml price.total\n  harlwright why job.toml walls.north.net"
    )]
    Why(WhyArguments),
    /// Print the JSON Schema of the job file
    #[command(after_help = "Examples:\n  harlwright schema > harlwright-job.schema.json")]
    Schema,
    /// Run one column of layers by itself, for study and for published benchmarks
    #[command(after_help = "Examples:\n  harlwright trial examples/trials/en15026.toml\n  harlwright trial column.toml --json")]
    Trial {
        /// The trial file.
        #[arg(value_name = "TRIAL.toml")]
        trial: PathBuf,
        /// Print JSON instead of CSV.
        #[arg(long)]
        json: bool,
    },
    /// Print a completion script for a shell
    #[command(after_help = "Examples:\n  harlwright completions bash > ~/.local/share/bash-completion/completions/harlwright")]
    Completions {
        /// The shell.
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    #[command(after_help = "Examples:\n  harlwright manual > harlwright.1 && man ./harlwright.1")]
    Manual,
}

/// Arguments of `why`.
#[derive(Debug, Args)]
pub struct WhyArguments {
    /// The job file.
    #[arg(value_name = "JOB.toml")]
    pub job: PathBuf,
    /// Path of the figure; without it, all that can be asked are listed.
    pub path: Option<String>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}
