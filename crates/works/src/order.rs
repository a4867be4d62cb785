//! The order: what must be on site, how much, and by when.

use jiff::civil::Date;
use materials::{Catalogue, LimeKind};
use reckoning::{Reckoning, Reckonings, Unit, Value};
use serde::Serialize;

use crate::calendar::{WorkingTime, add_days, said};
use crate::season::first_day;
use crate::{CoatKind, Inputs, Material, Programme, Quantities, Specification, Task, WallRun, WorksError, YearRun};

/// The order list.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Order {
    /// Lines, by date.
    pub lines: Vec<OrderLine>,
    /// Putty and coarse stuff laid down ahead.
    pub lay_down: Vec<LayDown>,
}

/// One line, readable over a telephone.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OrderLine {
    /// Material.
    pub slug: String,
    /// Name shown.
    pub name: String,
    /// Units of sale.
    pub units: u32,
    /// Name of one unit.
    pub unit_name: String,
    /// Net need in words, for example "1,240 kg".
    pub need: String,
    /// Day it must be on site.
    pub on_site_by: Date,
    /// What is first done with it.
    pub first_used_for: String,
    /// Remark: one load, keep dry, matured.
    pub remark: String,
}

/// Something laid down to mature.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LayDown {
    /// What.
    pub what: String,
    /// Latest day; may lie before the start, and before today.
    pub by: Date,
    /// Why.
    pub why: String,
}

/// Working days before its first use that a material must be on site: a working week, because in one year of two it is needed sooner than in the
/// middle one (common practice, no source).
const SLACK_WORKING_DAYS: u32 = 5;
/// Weeks that coarse stuff of putty and sand matures (a lime teacher's published figure: about twelve, in draining conditions).
const COARSE_STUFF_WEEKS: i64 = 12;

/// The order list from the middle run of the programme: each material with the day it must be on site, and what is laid down to mature.
///
/// # Errors
/// When the calendar cannot be read.
pub fn order(specification: &Specification, quantities: &Quantities, inputs: &Inputs, programme: &Programme) -> Result<Order, WorksError> {
    let time = WorkingTime::new(&inputs.calendar, &inputs.about.time_zone)?;
    let mut lines: Vec<OrderLine> = quantities
        .materials
        .iter()
        .map(|material| {
            let (first, used_for) = first_use(specification, programme, material, inputs.window.start);
            let needed = time.working_days_before(first, SLACK_WORKING_DAYS);
            let lies = goes_into_coarse_stuff(specification, &inputs.catalogue, &material.slug);
            let laid_down = lies.then(|| add_days(first, -COARSE_STUFF_WEEKS * 7));
            let (on_site_by, used_for) = match laid_down {
                None => (needed, format!("{used_for}, {}", said(first))),
                Some(day) if day >= inputs.about.dated => {
                    (time.working_days_before(day, SLACK_WORKING_DAYS), format!("coarse stuff laid down for the {used_for}, {}", said(day)))
                }
                // Its day has passed: it is mixed as soon as it can be had.
                Some(_) => (
                    needed.min(inputs.about.dated),
                    format!("coarse stuff mixed at once, or bought matured, for the {used_for}, {}", said(first)),
                ),
            };
            OrderLine {
                slug: material.slug.clone(),
                name: material.name.clone(),
                units: material.units,
                unit_name: material.unit_name.clone(),
                need: format!("{} {}", grouped(material.amount), material.unit),
                on_site_by,
                first_used_for: used_for,
                remark: remark(material, inputs),
            }
        })
        .collect();
    lines.sort_by(|one, other| (one.on_site_by, &one.slug).cmp(&(other.on_site_by, &other.slug)));
    let lay_down = lay_down(specification, &inputs.catalogue, middle_run(programme), inputs.about.dated);
    Ok(Order { lines, lay_down })
}

/// True for a putty, and for the sand of a coat of putty, that lie together as coarse stuff before they are thrown.
fn goes_into_coarse_stuff(specification: &Specification, catalogue: &Catalogue, slug: &str) -> bool {
    let putty = |lime: &str| catalogue.limes.get(lime).is_some_and(|lime| lime.kind == LimeKind::Putty);
    specification
        .walls
        .iter()
        .flat_map(|wall| &wall.coats)
        .any(|coat| putty(&coat.mix.lime) && (coat.mix.lime == slug || coat.mix.sand == slug))
}

/// The middle run of a programme.
pub(crate) fn middle_run(programme: &Programme) -> &YearRun {
    &programme.runs[programme.middle]
}

/// First day a material is used in the middle run, and for what; the start of the job for what no task names.
fn first_use(specification: &Specification, programme: &Programme, material: &Material, start: Date) -> (Date, String) {
    let run = middle_run(programme);
    let kind_of = |wall: &WallRun, task: &Task| {
        let coats = specification.walls.iter().find(|specified| specified.slug == wall.slug).map(|specified| &specified.coats);
        coats.and_then(|coats| coats.iter().find(|coat| coat.slug == task.slug)).map(|coat| kind_word(coat.kind))
    };
    let serves = |word: &str| material.serves.iter().any(|served| served == word);
    let uses = |wall: &WallRun, task: &Task| match kind_of(wall, task) {
        Some(word) => serves(word),
        None => task.slug == "limewash" && serves("limewash"),
    };
    let mut first: Option<(Date, &str)> = None;
    for wall in &run.walls {
        for task in wall.tasks.iter().filter(|task| uses(wall, task)) {
            if first.is_none_or(|(date, _)| task.from < date) {
                first = Some((task.from, &task.name));
            }
        }
    }
    // Hessian, water and fixings name no coat: they are wanted for the first one.
    let first_coat = || first_day(run, |wall, task| kind_of(wall, task).is_some());
    match first {
        Some((date, name)) => (date, name.to_lowercase()),
        None => (first_coat().unwrap_or(start), "first coat".to_owned()),
    }
}

/// A kind of coat as quantities name it.
pub(crate) fn kind_word(kind: CoatKind) -> &'static str {
    match kind {
        CoatKind::Scud => "scud",
        CoatKind::Straightening => "straightening",
        CoatKind::Finish => "finish",
    }
}

fn remark(material: &Material, inputs: &Inputs) -> String {
    let mut remarks = Vec::new();
    if material.one_load {
        remarks.push("all in one load, so that colour and grain do not change on the wall".to_owned());
    }
    match inputs.catalogue.limes.get(&material.slug).map(|lime| lime.kind) {
        Some(LimeKind::Putty) => remarks.push("matured; keep it under water and from frost".to_owned()),
        Some(LimeKind::Hydrate | LimeKind::Hydraulic) => remarks.push("fresh, and kept dry".to_owned()),
        Some(LimeKind::Quicklime) => remarks.push("fresh, and kept bone dry and locked away; slaked by trained people only".to_owned()),
        None => {}
    }
    remarks.push(format!("on site {SLACK_WORKING_DAYS} working days before it is first used in the middle year"));
    let mut sentence = remarks.join("; ");
    if let Some(first) = sentence.get(..1).map(str::to_uppercase) {
        sentence.replace_range(..1, &first);
    }
    sentence
}

/// Putty and coarse stuff that lie before they are used, by the first day of the coats they serve in a run; each says so if the day has passed
/// on the date of the plan.
pub(crate) fn lay_down(specification: &Specification, catalogue: &Catalogue, run: &YearRun, dated: Date) -> Vec<LayDown> {
    let mut limes: Vec<(&str, Date)> = Vec::new();
    for wall in &specification.walls {
        let Some(wall_run) = run.walls.iter().find(|wall_run| wall_run.slug == wall.slug) else { continue };
        let begins = |slug: &str| wall_run.tasks.iter().find(|task| task.slug == slug).map(|task| task.from);
        let mut uses: Vec<(&str, Option<Date>)> = wall.coats.iter().map(|coat| (coat.mix.lime.as_str(), begins(&coat.slug))).collect();
        uses.push((&wall.limewash.lime, begins("limewash")));
        for (lime, from) in uses.into_iter().filter_map(|(lime, from)| Some((lime, from?))) {
            match limes.iter_mut().find(|(name, _)| *name == lime) {
                Some((_, first)) => *first = from.min(*first),
                None => limes.push((lime, from)),
            }
        }
    }
    let mut list: Vec<LayDown> = limes.into_iter().filter_map(|(name, first)| matured(catalogue, name, first, dated)).collect();
    list.extend(
        coarse_stuffs(specification, run).into_iter().filter_map(|(lime, sand, first)| coarse(catalogue, lime, sand, first, dated)),
    );
    list.sort_by(|one, other| (one.by, &one.what).cmp(&(other.by, &other.what)));
    list
}

/// A lime that is old enough when it is first used.
fn matured(catalogue: &Catalogue, name: &str, first: Date, dated: Date) -> Option<LayDown> {
    let lime = catalogue.limes.get(name).filter(|lime| lime.mature_weeks > 0.0)?;
    let by = add_days(first, -(lime.mature_weeks * 7.0).ceil() as i64);
    let weeks = lime.mature_weeks;
    let why =
        format!("{} is {weeks:.0} weeks old before it is used, first on {}; the weeks in coarse stuff count.", lime.name, said(first));
    Some(laid(&format!("{} laid down, or bought matured", lime.name), by, why, dated, "buy it matured"))
}

/// Lime and sand of every mix of the coats, with the first day it goes on a wall.
fn coarse_stuffs<'a>(specification: &'a Specification, run: &YearRun) -> Vec<(&'a str, &'a str, Date)> {
    let mut found: Vec<(&str, &str, Date)> = Vec::new();
    for wall in &specification.walls {
        let Some(wall_run) = run.walls.iter().find(|wall_run| wall_run.slug == wall.slug) else { continue };
        for coat in &wall.coats {
            let Some(task) = wall_run.tasks.iter().find(|task| task.slug == coat.slug) else { continue };
            let (lime, sand) = (coat.mix.lime.as_str(), coat.mix.sand.as_str());
            match found.iter_mut().find(|(one, other, _)| (*one, *other) == (lime, sand)) {
                Some((.., first)) => *first = task.from.min(*first),
                None => found.push((lime, sand, task.from)),
            }
        }
    }
    found
}

/// Sand and putty mixed and left to lie.
fn coarse(catalogue: &Catalogue, lime: &str, sand: &str, first: Date, dated: Date) -> Option<LayDown> {
    catalogue.limes.get(lime).filter(|lime| lime.kind == LimeKind::Putty)?;
    let by = add_days(first, -COARSE_STUFF_WEEKS * 7);
    let why = format!(
        "Sand and putty mixed lie about {COARSE_STUFF_WEEKS} weeks under cover before they are knocked up and thrown, first on {}.",
        said(first)
    );
    let what = match catalogue.sands.get(sand) {
        Some(sand) => format!("Coarse stuff of putty and {} mixed and laid down", sand.name.to_lowercase()),
        None => "Coarse stuff of putty and sand mixed and laid down".to_owned(),
    };
    Some(laid(&what, by, why, dated, "mix it at once and knock it up again before use, or buy it matured"))
}

fn laid(what: &str, by: Date, why: String, dated: Date, instead: &str) -> LayDown {
    let passed = if by < dated { format!(" That day has passed: {instead}.") } else { String::new() };
    LayDown { what: what.to_owned(), by, why: format!("{why}{passed}") }
}

/// A whole number with its thousands marked.
fn grouped(amount: f64) -> String {
    let digits = format!("{amount:.0}");
    let mut text = String::new();
    for (position, digit) in digits.chars().enumerate() {
        if position > 0 && (digits.len() - position).is_multiple_of(3) && !text.ends_with('-') {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// A reckoning for the day of each line.
pub(crate) fn reckonings(order: &Order) -> Reckonings {
    let mut kept = Reckonings::default();
    for line in &order.lines {
        let used = Reckoning::given(
            format!("order.{}.first-use", line.slug),
            "First used for",
            Value::Text(line.first_used_for.clone()),
            "the middle run",
            false,
        );
        let slack = Value::number(f64::from(SLACK_WORKING_DAYS), Unit::Day, 0);
        let slack = Reckoning::given("order.slack", "Working days of slack", slack, "common practice, no source", false);
        kept.keep(Reckoning::worked(
            format!("order.{}.by", line.slug),
            format!("{} on site", line.name),
            Value::Date(line.on_site_by.to_string()),
            "first use less the slack, in working days",
            vec![used, slack],
            "the programme's middle run",
        ));
    }
    kept
}
