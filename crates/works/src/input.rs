//! Plain inputs of the decisions, built by `job` from the job file: who, when, at what rates.

use std::collections::BTreeMap;

use jiff::civil::{Date, Time, Weekday};
use materials::{Catalogue, Mix};
use reckoning::{Currency, Known};
use rust_decimal::Decimal;
use serde::Serialize;
use survey::{Building, Slug};

use crate::Running;
use crate::calendar::{add_days, days_between};
use crate::protect::{Foresight, Policy};

/// Everything the road from survey to price needs, apart from the weather.
#[derive(Clone, Debug)]
pub struct Inputs {
    /// Names for the documents.
    pub about: About,
    /// The building.
    pub building: Building,
    /// Shipped catalogue with the job's own entries laid over it.
    pub catalogue: Catalogue,
    /// The coat system asked for.
    pub system: System,
    /// When work may begin and must end.
    pub window: Window,
    /// What has been done before the start.
    pub before: BeforeStart,
    /// Working days and hours.
    pub calendar: Calendar,
    /// The gangs.
    pub gangs: Vec<Gang>,
    /// How the work is run.
    pub running: Running,
    /// Rates.
    pub rates: Rates,
    /// Scaffold.
    pub scaffold: Scaffold,
    /// Rules of quantity: waste, rebound.
    pub allowances: Allowances,
    /// What each unsettled field of the job is called and how it is asked, by the path of the field in the job's table.
    pub questions: BTreeMap<String, Asked>,
    /// Seed of every random draw.
    pub seed: u64,
    /// What the foreman of the programme knows of the weather to come.
    pub foresight: Foresight,
}

impl Inputs {
    /// The job begun on another day, bound by no latest finish. Scaffold that was to stand for the start comes as many days before this one; where it was to
    /// come later it comes on its day all the same, or for a start that lies after that.
    pub fn begun_on(&self, start: Date) -> Self {
        let mut moved = self.clone();
        let from = self.scaffold.from.value;
        moved.scaffold.from.value =
            if from <= self.window.start { add_days(from, days_between(self.window.start, start)) } else { from.max(start) };
        moved.window.start = start;
        moved.window.finish_by = None;
        moved
    }
}

/// A field of the job in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// What it is.
    pub label: String,
    /// The plain question that settles it.
    pub question: String,
}

/// Who and where, for the documents.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct About {
    /// Name of the job.
    pub name: String,
    /// Place.
    pub place: String,
    /// Client.
    pub client: String,
    /// Contractor.
    pub contractor: String,
    /// Who surveyed it.
    pub surveyor: String,
    /// Revision number of the plan.
    pub revision: u32,
    /// Date printed on the documents.
    pub dated: Date,
    /// True if everything in it is invented.
    pub invented: bool,
    /// IANA time zone of the site.
    pub time_zone: String,
}

/// The coat system.
#[derive(Clone, Debug, PartialEq)]
pub struct System {
    /// Lime by catalogue name, or let harlwright choose.
    pub lime: Known<String>,
    /// Sand of scud and straightening.
    pub sand: Known<String>,
    /// Sand of the finish.
    pub finish_sand: Known<String>,
    /// True if every coat is thrown, the straightening too.
    pub all_thrown: Known<bool>,
    /// Length of the straight-edge or darby used to rule the straightening coat, m.
    pub straight_edge_m: Known<f64>,
    /// Depth beyond which hollows are filled with pinning stones, m.
    pub pinning_m: f64,
    /// Coats given by the job instead of chosen; empty to choose.
    pub coats: Vec<CoatAsked>,
    /// Coats of limewash.
    pub limewash_coats: Known<u32>,
    /// Pigment or colour in words.
    pub colour: Known<String>,
    /// Pigment in a litre of limewash, g; `None` where the job gives no dose.
    pub pigment_g_l: Option<f64>,
    /// Cover hung after each coat, by catalogue name.
    pub cover: Known<String>,
    /// What tends the coats after they are on the wall.
    pub protection: ProtectionAsked,
    /// Share of cement in the binder asked for by the job (0 to 1): more than none is a stop.
    pub cement_share: f64,
}

/// What tends the coats after they are on the wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ProtectionAsked {
    /// The specification's rule: its cover for so many days, damped so often.
    #[default]
    Rule,
    /// On each wall and coat the one of the four policies that the comparison chooses.
    Chosen,
    /// One policy for every wall and coat.
    Policy(Policy),
}

/// A coat asked for by the job.
#[derive(Clone, Debug, PartialEq)]
pub struct CoatAsked {
    /// Stable name.
    pub slug: Slug,
    /// Kind.
    pub kind: CoatKind,
    /// Mix.
    pub mix: Mix,
    /// Thickness in the middle, m.
    pub thickness_m: f64,
    /// Thrown or laid.
    pub placing: Placing,
    /// Least days before the next coat.
    pub least_wait_days: f64,
}

/// Kind of coat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum CoatKind {
    Scud,
    Straightening,
    Finish,
}

/// How a coat is placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum Placing {
    Thrown,
    Laid,
}

/// When work may begin and must end.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Window {
    /// Chosen start: the first day on the wall.
    pub start: Date,
    /// Latest day the client allows, if any.
    pub finish_by: Option<Date>,
}

/// What has been said of the things that come before the start. What nobody has said is not known, and delays nothing; what is said to be wanting does.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BeforeStart {
    /// The sample panel.
    pub panel: Option<PanelState>,
    /// Day on which it was begun.
    pub panel_begun: Option<Date>,
    /// Consent for a protected building.
    pub consent: Option<Asking>,
    /// Day on which it was asked for; the day of the plan where nobody has said.
    pub consent_asked: Option<Date>,
    /// Weeks the authority takes.
    pub consent_weeks: f64,
    /// The permit for scaffold on a pavement or road.
    pub pavement: Option<Asking>,
    /// Day on which it was asked for.
    pub pavement_asked: Option<Date>,
    /// Weeks it takes.
    pub pavement_weeks: f64,
    /// Nests and bats.
    pub wildlife: Option<Wildlife>,
    /// Weeks a licensed person takes to come and to answer.
    pub wildlife_weeks: f64,
    /// Day on which the coarse stuff of the work was laid down.
    pub coarse_stuff_laid: Option<Date>,
}

impl Default for BeforeStart {
    /// Nobody has said anything; the weeks are those of common practice, without a source.
    fn default() -> Self {
        Self {
            panel: None,
            panel_begun: None,
            consent: None,
            consent_asked: None,
            consent_weeks: 12.0,
            pavement: None,
            pavement_asked: None,
            pavement_weeks: 4.0,
            wildlife: None,
            wildlife_weeks: 8.0,
            coarse_stuff_laid: None,
        }
    }
}

/// How far the sample panel is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum PanelState {
    NotBegun,
    Begun,
    Approved,
}

/// How far a consent or a permit is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum Asking {
    NotNeeded,
    NotAsked,
    Asked,
    Given,
}

/// What is known of nests and bats.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Wildlife {
    /// Nobody has looked.
    NotLooked,
    /// Looked for; no sign was found.
    NoSign,
    /// There is a sign: a licensed person has to say.
    Sign,
    /// A licensed person has said that work may go on.
    Cleared,
}

/// Working time.
#[derive(Clone, Debug, PartialEq)]
pub struct Calendar {
    /// Days of the week worked.
    pub days: Vec<Weekday>,
    /// Start of the working day.
    pub from: Time,
    /// End of it.
    pub to: Time,
    /// Days not worked (first and last of each break).
    pub breaks: Vec<(Date, Date)>,
}

/// A gang.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Gang {
    /// Name.
    pub name: String,
    /// Masons.
    pub masons: u32,
    /// Labourers.
    pub labourers: u32,
    /// What it does between visits.
    pub between: Between,
    /// Hours of travel there and back for one visit.
    pub travel_h: Known<f64>,
    /// True if it goes home each night it works, and so travels each day; otherwise it travels once a visit.
    pub home_each_night: Known<bool>,
}

/// What a gang does when no coat is ready.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum Between {
    IdlePaid,
    Away,
    OtherWork,
}

/// Outputs and money.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rates {
    /// Currency of the job.
    pub currency: Currency,
    /// Tax added last, 0 to 1.
    pub tax: Known<Decimal>,
    /// Mason, money an hour, all in.
    pub mason_h: Known<Decimal>,
    /// Labourer, money an hour, all in.
    pub labourer_h: Known<Decimal>,
    /// Outputs, m² a gang of two masons and a labourer covers in a day.
    pub outputs: Outputs,
    /// Prices of materials by catalogue name: money for one unit of sale.
    pub materials: Vec<(String, Known<Decimal>)>,
    /// Water, money per m³.
    pub water_m3: Known<Decimal>,
    /// Mixer, tools and small plant, money a working week.
    pub plant_week: Known<Decimal>,
    /// One visit's travel and setting up beyond wages, money.
    pub visit: Known<Decimal>,
    /// One damping visit by a hand living near, money.
    pub damping_visit: Known<Decimal>,
    /// Hessian, money per m² (bought, used on two walls).
    pub hessian_m2: Known<Decimal>,
    /// Carting away the waste of an old covering, money per m³ as it lies loose: a provisional sum.
    pub waste_m3: Known<Decimal>,
    /// Pinning and making good what taking off brings to light, money per m²: a provisional sum.
    pub making_good_m2: Known<Decimal>,
    /// Overhead and profit on cost, 0 to 1.
    pub overhead: Known<Decimal>,
    /// Terms of the quotation.
    pub terms: Terms,
    /// What the last such job cost, if rates were not known: money, m², days on the wall.
    pub last_job: Option<LastJob>,
}

/// Terms of the quotation.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Terms {
    /// Weather years in 20 whose cost the price is to cover; `None` to stand at the mean of the years.
    pub margin_years_in_20: Option<u32>,
    /// Share of each payment that is retained, 0 to 1.
    pub retention: Decimal,
    /// Months after the finish at which it is paid.
    pub retention_months: u32,
    /// Least charge of a small job before tax.
    pub least_charge: Decimal,
    /// What is laid on wages for daywork, as a share.
    pub daywork_on: Decimal,
    /// What is laid on the labour of the face above 6 m, as a share.
    pub height: Decimal,
    /// A sum for difficult access.
    pub access: Decimal,
    /// A night's lodging of one hand, for a gang that does not go home.
    pub lodging: Decimal,
    /// Hours paid at least for a day on which a gang comes.
    pub least_paid_h: Decimal,
    /// Interest a year, as a share, at which payments are worth less the later they come; `None` where it is not wanted.
    pub interest: Option<Decimal>,
    /// Days the quotation stands.
    pub valid_days: u32,
}

impl Default for Terms {
    /// The price at the mean of the years, nothing retained and nothing added; it stands 60 days (common practice, no source).
    fn default() -> Self {
        Self {
            margin_years_in_20: None,
            retention: Decimal::ZERO,
            retention_months: 6,
            least_charge: Decimal::ZERO,
            daywork_on: Decimal::ZERO,
            height: Decimal::ZERO,
            access: Decimal::ZERO,
            lodging: Decimal::ZERO,
            least_paid_h: Decimal::ZERO,
            interest: None,
            valid_days: 60,
        }
    }
}

/// The last such job, from which rates are set when none are given.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LastJob {
    /// Money before tax, without scaffold.
    pub cost: Decimal,
    /// m² of harl.
    pub area_m2: f64,
    /// Gang days worked.
    pub gang_days: f64,
}

/// Outputs, m² in a gang's day.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the words say it; m² a gang-day")]
pub struct Outputs {
    pub preparation: Known<f64>,
    /// Taking off cement.
    pub take_off_cement: Known<f64>,
    /// Taking off an old lime harl.
    pub take_off_lime_harl: Known<f64>,
    /// Taking off paint.
    pub take_off_paint: Known<f64>,
    pub scud: Known<f64>,
    /// Laying the straightening coat, the ruling left out.
    pub straightening: Known<f64>,
    /// Ruling the straightening coat while it is soft.
    pub ruling: Known<f64>,
    pub finish: Known<f64>,
    pub limewash: Known<f64>,
    /// Reveals, metres a gang-day.
    pub reveals_m: Known<f64>,
    /// Hanging and wetting hessian.
    pub hessian: Known<f64>,
    /// Patches at scaffold ties, a gang-day.
    pub tie_patches: Known<f64>,
}

/// Scaffold.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Scaffold {
    /// How many walls can be scaffolded at once; `None` for all.
    pub walls_at_once: Option<u32>,
    /// First day it stands.
    pub from: Known<Date>,
    /// Face put up in a day, m².
    pub up_m2_day: Known<f64>,
    /// Face adapted in a day, boards and ties moved clear for the finish, m².
    pub adapt_m2_day: Known<f64>,
    /// Face taken down in a day, m².
    pub down_m2_day: Known<f64>,
    /// Height of a lift, m.
    pub lift_m: Known<f64>,
    /// Face to one tie, m².
    pub m2_per_tie: Known<f64>,
    /// To adapt, money per m² of scaffolded face.
    pub adapt_m2: Known<Decimal>,
    /// To put up and take down, money per m² of scaffolded face.
    pub up_and_down_m2: Known<Decimal>,
    /// Hire, money per m² a week.
    pub hire_m2_week: Known<Decimal>,
}

/// Allowances of quantity, as shares of the net amount.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the words say it; shares")]
pub struct Allowances {
    pub waste_laid: Known<f64>,
    pub rebound_scud: Known<f64>,
    pub rebound_thrown: Known<f64>,
    pub waste_lime: Known<f64>,
    pub waste_sand: Known<f64>,
    /// Limewash, m² a litre for one coat.
    pub limewash_m2_l: Known<f64>,
    /// Water to a measure of putty in limewash, by volume.
    pub limewash_water: Known<f64>,
    /// Lap of hessian, share of the area.
    pub hessian_lap: Known<f64>,
}
