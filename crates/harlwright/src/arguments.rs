//! The command line as declared: verbs in plain English, each with real examples. It parses and nothing more.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

mod book;

#[cfg(feature = "web")]
pub use book::AccountVerb;
pub use book::{BookVerb, LogVerb};

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

/// Which of the orders of work is taken into the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Take {
    /// The best.
    Best,
    /// The cheaper but riskier one.
    Riskier,
    /// The safer but dearer one.
    Safer,
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
        after_help = "Examples:\n  harlwright plan job.toml\n  harlwright plan job.toml --out pack\n  harlwright plan job.toml --out pack --season\n  harlwright plan job.toml --json > plan.json"
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
        /// Compare four ways of protecting each wall as well; takes about ten times as long.
        #[arg(long)]
        compare_protection: bool,
        /// Reckon every start week of the year as well, and put it into the proposal; takes up to a minute.
        #[arg(long, requires = "out")]
        season: bool,
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
    /// Tell the story of one wall by the day: what was done, what the weather did, when each coat is ready and what would spoil it
    #[command(
        after_help = "Examples:\n  harlwright cure job.toml --wall north --from 2027-04-28\n  harlwright cure job.toml --wall north --from 2027-10-05 --policy sheltered\n  harlwright cure job.toml --wall south --from 2027-06-02 --svg pictures\n  harlwright cure job.toml --wall south --from 2027-06-02 --throw-at 2,9 --svg impatient.svg\n  harlwright cure job.toml --wall 1 --from 2027-04-28 --hourly --csv > north.csv\n\nWhat it shows and what it cannot see: docs/cure.md."
    )]
    Cure(CureArguments),
    /// When to start: the job begun in every week of a year, with odds, days, money and coats lost, each wall's last safe start, and the start gate
    #[command(
        after_help = "Examples:\n  harlwright season job.toml\n  harlwright season job.toml --svg season.svg\n  harlwright season job.toml --pdf season.pdf\n  harlwright season job.toml --json > season.json"
    )]
    Season(SeasonArguments),
    /// What if: the job beside itself with a value changed, or several, in the same weather years
    #[command(
        after_help = "Examples:\n  harlwright compare job.toml --change window.start=2027-09-06\n  harlwright compare job.toml --change system.straight_edge_m=1.8 --change gangs.second.masons=2\n  harlwright compare job.toml --change system.cover=netting --json\n\nEach change is compared by itself, and several together as well."
    )]
    Compare(CompareArguments),
    /// Find which wall to begin with, when to start and which gang on which wall: the best order, a riskier and a safer one
    #[command(
        after_help = "Examples:\n  harlwright order-of-work job.toml\n  harlwright order-of-work job.toml --out ordered.toml\n  harlwright order-of-work job.toml --take safer --out -\n\nA solver orders the work; the foreman then lives each order in the same weather years. What it leaves out: docs/order-of-work.md."
    )]
    OrderOfWork {
        /// The job file.
        #[arg(value_name = "JOB.toml")]
        job: PathBuf,
        /// Write the job with the order taken into it to a new file, which is never overwritten; - prints it in place of the orders.
        #[arg(long, value_name = "NEW.toml")]
        out: Option<PathBuf>,
        /// Which of the orders is taken.
        #[arg(long, value_name = "WHICH", default_value = "best", requires = "out")]
        take: Take,
    },
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
    /// Read sieves and jars: what a sand is good for, a blend, a delivery
    #[command(
        after_help = "Examples:\n  harlwright sand examples/bench/sand.toml\n  harlwright sand sand.toml --json\n  harlwright sand delivered.toml --job job.toml\n\nThe file is described in docs/bench.md."
    )]
    Sand(BenchInJob),
    /// Weigh limes against each other, and get a batch card
    #[command(
        after_help = "Examples:\n  harlwright lime examples/bench/lime.toml\n  harlwright lime lime.toml --json\n  harlwright lime lime.toml --card card.pdf\n\nThe file is described in docs/bench.md."
    )]
    Lime(LimeArguments),
    /// See what a slaking bath would do: heat, steam, putty, and when to slake
    #[command(
        after_help = "Examples:\n  harlwright slake examples/bench/slake.toml\n  harlwright slake bath.toml --json\n  harlwright slake bath.toml --job job.toml\n\nThe file is described in docs/bench.md."
    )]
    Slake(BenchInJob),
    /// Tell from an analysis what an old mortar was, and the nearest repair mix
    #[command(
        after_help = "Examples:\n  harlwright mortar examples/bench/mortar.toml\n  harlwright mortar sample.toml --json\n\nThe file is described in docs/bench.md."
    )]
    Mortar(BenchArguments),
    /// Weather for any place: make years from monthly normals, show what a file's weather offers to lime
    Weather {
        /// What to do with it.
        #[command(subcommand)]
        verb: WeatherVerb,
    },
    /// What straightening takes on a table of offsets, for one or more lengths of straight-edge
    #[command(
        after_help = "Examples:\n  harlwright straighten offsets.csv --cell-mm 300\n  harlwright straighten offsets.csv --cell-mm 10 --edge-m 0.3,0.6,1.2,1.8,3 --json\n\nOffsets are millimetres from a line to the wall, larger where it is hollower; one row a line, the lowest first. The straight-edge is defined in docs/straight-edge.md."
    )]
    Straighten(StraightenArguments),
    /// The relief of a wall from a scan, and what straightening it takes
    #[command(
        after_help = "Examples:\n  harlwright relief north.ply --job job.toml --wall north\n  harlwright relief north.e57 --job job.toml --wall 1 --edge 1.2,1.8 --svg north.svg\n  harlwright relief north.ply --job job.toml --wall north --full --pdf north.pdf\n\nThe scan is cropped to the wall's outline in the job; what stands before the face, lies behind it or in openings is dropped and told (docs/scans.md)."
    )]
    Relief(ReliefArguments),
    /// The week's sheet for a phone: one file, readable without a server or a net, that keeps what is logged until it is handed over
    #[command(
        after_help = "Examples:\n  harlwright site job.toml --out site.html\n\nSend the file to the gang's phones; what they log comes back as a file for `harlwright log import`, or goes into the job book of a server."
    )]
    Site {
        /// The job file.
        #[arg(value_name = "JOB.toml")]
        job: PathBuf,
        /// File to write; never overwritten.
        #[arg(long, value_name = "FILE.html", default_value = "site.html")]
        out: PathBuf,
    },
    /// The site log of a job in the job book
    Log {
        /// What to do with it.
        #[command(subcommand)]
        verb: LogVerb,
    },
    /// Accounts of the job book: who may sign in, and what they see
    #[cfg(feature = "web")]
    Account {
        /// What to do with them.
        #[command(subcommand)]
        verb: AccountVerb,
    },
    /// Write a backup of a job book, in use or not, into one file
    #[command(after_help = "Examples:\n  harlwright backup harlwright-book friday.backup")]
    Backup {
        /// Folder of the job book.
        book: PathBuf,
        /// File to write; never overwritten.
        to: PathBuf,
    },
    /// Restore a backup as a new job book
    #[command(after_help = "Examples:\n  harlwright restore friday.backup restored\n  harlwright serve --book restored")]
    Restore {
        /// The backup.
        backup: PathBuf,
        /// Folder for the job book it becomes; one that stands there already is left as it is.
        to: PathBuf,
    },
    /// Look a job book through
    Book {
        /// What to do with it.
        #[command(subcommand)]
        verb: BookVerb,
    },
    /// Open the job book in a browser
    #[cfg(feature = "web")]
    #[command(
        after_help = "Examples:\n  harlwright serve\n  harlwright serve --book ~/jobs/book --port 8200\n  harlwright serve --bind 192.168.1.20 --tls-cert cert.pem --tls-key key.pem\n\nOn this machine alone nobody signs in. Others reach it only over TLS and with an account (harlwright account add)."
    )]
    Serve(ServeArguments),
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

/// Arguments of `serve`.
#[cfg(feature = "web")]
#[derive(Debug, Args)]
pub struct ServeArguments {
    /// Folder of the job book; begun if need be.
    #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
    pub book: PathBuf,
    /// Port; 0 takes a free one and says which.
    #[arg(long, default_value_t = 8140)]
    pub port: u16,
    /// Address to listen at; without it this machine alone.
    #[arg(long, value_name = "ADDRESS")]
    pub bind: Option<std::net::IpAddr>,
    /// Certificate of the server's own TLS, PEM.
    #[arg(long, value_name = "CERT.pem", requires = "tls_key")]
    pub tls_cert: Option<PathBuf>,
    /// Its key, PEM.
    #[arg(long, value_name = "KEY.pem", requires = "tls_cert")]
    pub tls_key: Option<PathBuf>,
    /// Origin that people type, where a proxy keeps the encrypted line.
    #[arg(long, value_name = "ORIGIN")]
    pub behind_tls_proxy: Option<String>,
    /// Ask for a name and a password on this machine too.
    #[arg(long)]
    pub login: bool,
}

/// Arguments of `cure`.
#[derive(Debug, Args)]
pub struct CureArguments {
    /// The job file; it names its weather.
    #[arg(value_name = "JOB.toml")]
    pub job: PathBuf,
    /// The wall: its short name, or its number in the job, from one.
    #[arg(long, value_name = "NAME")]
    pub wall: String,
    /// First day on which the first coat may be thrown, as year-month-day.
    #[arg(long, value_name = "DATE")]
    pub from: String,
    /// Protection: nothing, hessian (by the hazard of the day), sheltered or heated. Default: hessian.
    #[arg(long, value_name = "POLICY")]
    pub policy: Option<String>,
    /// Weather year to live it in. Default: the middle one by how drying the weeks from that day are.
    #[arg(long, value_name = "YEAR", allow_negative_numbers = true)]
    pub year: Option<i32>,
    /// Every hour instead of every day.
    #[arg(long)]
    pub hourly: bool,
    /// Print JSON.
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Print a table as CSV.
    #[arg(long)]
    pub csv: bool,
    /// Draw: all on one sheet into a file that does not exist yet, or each picture into a folder.
    #[arg(long, value_name = "FILE.svg|FOLDER")]
    pub svg: Option<PathBuf>,
    /// The impatient coat: the same wall with the next coat thrown so many days after the first, sooner and later, ready or not.
    #[arg(long, value_name = "DAYS,DAYS")]
    pub throw_at: Option<String>,
    /// Let a rough face dry no faster than a smooth one (texture factor 1), to see what the texture explains.
    #[arg(long)]
    pub smooth: bool,
}

/// Arguments of `compare`.
#[derive(Debug, Args)]
pub struct CompareArguments {
    /// The job file.
    #[arg(value_name = "JOB.toml")]
    pub job: PathBuf,
    /// A value of the job and what to put in its place, in the unit of the job file; may be given again.
    #[arg(long, value_name = "PATH=VALUE", required = true)]
    pub change: Vec<String>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `season`.
#[derive(Debug, Args)]
pub struct SeasonArguments {
    /// The job file; it names its weather.
    #[arg(value_name = "JOB.toml")]
    pub job: PathBuf,
    /// Print season/1 JSON instead of the table.
    #[arg(long)]
    pub json: bool,
    /// Draw the year into a file that does not exist yet.
    #[arg(long, value_name = "FILE.svg")]
    pub svg: Option<PathBuf>,
    /// Set picture, weeks and start gate on paper, into a file that does not exist yet.
    #[arg(long, value_name = "FILE.pdf")]
    pub pdf: Option<PathBuf>,
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

/// Arguments of `straighten`.
#[derive(Debug, Args)]
pub struct StraightenArguments {
    /// Table of offsets in mm.
    #[arg(value_name = "OFFSETS.csv")]
    pub offsets: PathBuf,
    /// Distance between readings, both ways, mm.
    #[arg(long, value_name = "MM", value_parser = cell_mm)]
    pub cell_mm: f64,
    /// Lengths of the straight-edge, m.
    #[arg(long, value_name = "M,M,…", value_delimiter = ',', default_values_t = [0.3, 0.6, 1.2, 1.8, 3.0], value_parser = edge_m)]
    pub edge_m: Vec<f64>,
    /// Which way the edge is laid; without it both ways, or along a single line of offsets.
    #[arg(long, value_enum)]
    pub laid: Option<EdgeLaid>,
    /// The coat and the form of the answer.
    #[command(flatten)]
    pub coat: CoatArguments,
}

/// Arguments of `relief`.
#[derive(Debug, Args)]
pub struct ReliefArguments {
    /// The scan: PLY, LAS, LAZ, E57, or a table of x, y, z.
    pub scan: PathBuf,
    /// The job file, whose wall gives the outline and the openings.
    #[arg(long, value_name = "JOB.toml")]
    pub job: PathBuf,
    /// The wall: its short name, or its number in the job, from one.
    #[arg(long)]
    pub wall: String,
    /// Lengths of the straight-edge, m.
    #[arg(long, value_name = "M,M,…", value_delimiter = ',', default_values_t = [1.8], value_parser = edge_m)]
    pub edge: Vec<f64>,
    /// Side of a cell of the grid, mm.
    #[arg(long, value_name = "MM", default_value_t = 10.0, value_parser = cell_mm)]
    pub cell_mm: f64,
    /// Unit of the scan; without it, that of the format, or the one that gives the wall its size.
    #[arg(long, value_enum)]
    pub unit: Option<ScanUnit>,
    /// Take the other side of the face for the outside.
    #[arg(long)]
    pub turned: bool,
    /// Write the map of thickness under the first edge; never overwritten.
    #[arg(long, value_name = "FILE.svg")]
    pub svg: Option<PathBuf>,
    /// Write the curve of mortar, passes, days and money against the length of the edge; never overwritten.
    #[arg(long, value_name = "FILE.svg", conflicts_with = "no_curve")]
    pub curve_svg: Option<PathBuf>,
    /// Write map, table and curve as a sheet to print; never overwritten.
    #[arg(long, value_name = "FILE.pdf", conflicts_with = "no_curve")]
    pub pdf: Option<PathBuf>,
    /// Run the edges asked for through the weather as well: exact days and money beside the quick ones.
    #[arg(long, conflicts_with = "no_curve")]
    pub full: bool,
    /// Leave days and money out: only what the scan itself says.
    #[arg(long)]
    pub no_curve: bool,
    /// The coat and the form of the answer.
    #[command(flatten)]
    pub coat: CoatArguments,
}

/// Units of a scan.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
#[allow(missing_docs, reason = "the words say it")]
pub enum ScanUnit {
    M,
    Mm,
    Cm,
    Ft,
    In,
}

impl From<ScanUnit> for survey::LengthUnit {
    fn from(unit: ScanUnit) -> Self {
        match unit {
            ScanUnit::M => Self::Metre,
            ScanUnit::Mm => Self::Millimetre,
            ScanUnit::Cm => Self::Centimetre,
            ScanUnit::Ft => Self::Foot,
            ScanUnit::In => Self::Inch,
        }
    }
}

/// The coat that straightens, and the form of the answer.
#[derive(Debug, Args)]
pub struct CoatArguments {
    /// Least cover over the highest spots, mm.
    #[arg(long, value_name = "MM", default_value_t = 0.0, value_parser = depth_mm)]
    pub cover_mm: f64,
    /// Thickest that goes on in one pass, mm; what is deeper is dubbed out first.
    #[arg(long, value_name = "MM", default_value_t = 15.0, value_parser = depth_mm)]
    pub pass_mm: f64,
    /// Depth above which pinning stones are bedded, mm.
    #[arg(long, value_name = "MM", default_value_t = 40.0, value_parser = depth_mm)]
    pub pinning_mm: f64,
    /// Most that is dressed off a high spot when its saving is reckoned, mm.
    #[arg(long, value_name = "MM", default_value_t = 10.0, value_parser = depth_mm)]
    pub dress_mm: f64,
    /// Print JSON, metres.
    #[arg(long)]
    pub json: bool,
}

/// Which way the edge is laid.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
pub enum EdgeLaid {
    /// Along the rows.
    Across,
    /// Along the columns.
    Up,
    /// Both ways, the lower face of the two.
    Both,
}

impl From<EdgeLaid> for survey::Laid {
    fn from(laid: EdgeLaid) -> Self {
        match laid {
            EdgeLaid::Across => Self::Across,
            EdgeLaid::Up => Self::Up,
            EdgeLaid::Both => Self::BothWays,
        }
    }
}

/// Arguments of the verbs of the materials bench.
#[derive(Debug, Args)]
pub struct BenchArguments {
    /// What was measured, in TOML.
    #[arg(value_name = "FILE.toml")]
    pub file: PathBuf,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// Arguments of a verb of the bench that looks at a job as well.
#[derive(Debug, Args)]
pub struct BenchInJob {
    /// What was measured, and the form of the answer.
    #[command(flatten)]
    pub bench: BenchArguments,
    /// A job to hold it against: what a delivery does to its days and money, or when its putty must be slaked.
    #[arg(long, value_name = "JOB.toml")]
    pub job: Option<PathBuf>,
}

/// Arguments of `lime`.
#[derive(Debug, Args)]
pub struct LimeArguments {
    /// What was measured, the job, and the form of the answer.
    #[command(flatten)]
    pub bench: BenchInJob,
    /// Write the batch card to print; never overwritten.
    #[arg(long, value_name = "FILE.pdf")]
    pub card: Option<PathBuf>,
}

/// What can be done with weather.
#[derive(Debug, Subcommand)]
pub enum WeatherVerb {
    /// Make hourly years from twelve monthly normals, or from a single typical year
    #[command(
        after_help = "Examples:\n  harlwright weather make normals.toml --years 30 --out weather.csv\n  harlwright weather make typical.epw --monthly-rain 90,70,60,55,50,60,70,80,80,100,100,95 --out weather.csv\n\nThe file of normals is described in docs/weather-normals.md."
    )]
    Make(WeatherMake),
    /// Show what a weather file offers to lime: mild damp hours, frost, drying days, working days, driving rain on the house
    #[command(
        after_help = "Examples:\n  harlwright weather show weather.csv --side 20 --svg weather.svg\n  harlwright weather show made.csv --normals normals.toml\n  harlwright weather show logger.csv --mapping logger.toml --csv weather.csv\n  harlwright weather show weather.csv --forecast week.txt"
    )]
    Show(WeatherShow),
}

/// Arguments of `weather make`.
#[derive(Debug, Args)]
pub struct WeatherMake {
    /// Normals in TOML, or an hourly weather file whose statistics stand for them.
    #[arg(value_name = "NORMALS.toml")]
    pub from: PathBuf,
    /// How many years.
    #[arg(long, default_value_t = 30, value_parser = clap::value_parser!(u16).range(1..=200))]
    pub years: u16,
    /// Seed: the same seed gives the same years.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Twelve monthly totals of rain, mm, for a weather file that has none.
    #[arg(long, value_name = "MM,MM,…", value_delimiter = ',')]
    pub monthly_rain: Option<Vec<f64>>,
    /// File to write; never overwritten. Without it the years are printed.
    #[arg(long, value_name = "FILE.csv")]
    pub out: Option<PathBuf>,
}

/// Arguments of `weather show`.
#[derive(Debug, Args)]
pub struct WeatherShow {
    /// The weather: EPW, TMY3, harlwright's hourly CSV, a daily record, or with --mapping any hourly table.
    pub file: PathBuf,
    /// Bearing one side of the house looks towards, degrees from north; the others stand square to it.
    #[arg(long, value_name = "DEGREES", default_value_t = 0.0, allow_negative_numbers = true, value_parser = bearing)]
    pub side: f64,
    /// Declaration of the table's columns and units (docs/weather-tables.md).
    #[arg(long, value_name = "MAPPING.toml")]
    pub mapping: Option<PathBuf>,
    /// Forecast to lay over every year: lines of day, min, max, rain, wind.
    #[arg(long, value_name = "FILE")]
    pub forecast: Option<PathBuf>,
    /// Normals to hold the years against.
    #[arg(long, value_name = "NORMALS.toml")]
    pub normals: Option<PathBuf>,
    /// Twelve monthly totals of rain, mm, for a file that has none.
    #[arg(long, value_name = "MM,MM,…", value_delimiter = ',')]
    pub monthly_rain: Option<Vec<f64>>,
    /// Print the judgement as JSON.
    #[arg(long, conflicts_with = "normals")]
    pub json: bool,
    /// Write the years as harlwright's hourly CSV; never overwritten.
    #[arg(long, value_name = "FILE.csv")]
    pub csv: Option<PathBuf>,
    /// Write the drawing; never overwritten.
    #[arg(long, value_name = "FILE.svg")]
    pub svg: Option<PathBuf>,
}

fn bearing(text: &str) -> Result<f64, String> {
    let degrees: f64 = text.parse().map_err(|_| "a bearing is a number of degrees from north".to_owned())?;
    if (-360.0..=360.0).contains(&degrees) { Ok(degrees) } else { Err("a bearing lies between -360 and 360 degrees".to_owned()) }
}

fn cell_mm(text: &str) -> Result<f64, String> {
    within(text, 1.0, 2000.0, "mm")
}

fn edge_m(text: &str) -> Result<f64, String> {
    within(text, 0.05, 10.0, "m")
}

fn depth_mm(text: &str) -> Result<f64, String> {
    within(text, 0.0, 500.0, "mm")
}

fn within(text: &str, least: f64, most: f64, unit: &str) -> Result<f64, String> {
    let number: f64 = text.parse().map_err(|_| format!("this is a number of {unit}"))?;
    if (least..=most).contains(&number) { Ok(number) } else { Err(format!("it lies between {least} and {most} {unit}")) }
}
