//! The sheets for the hut wall and the mixer: a week sheet for each week with work or wetting in it, a batch card for each mix, the order
//! as it is read over a telephone, and the cautions.

use jiff::civil::{Date, Weekday};
use serde_json::{Value, json};
use works::{Plan, YearRun};

use super::world::{Sheets, typeset};
use crate::batch;
use crate::figures::{self, Face};
use crate::steps::{StepRow, steps};
use crate::week::{EVENING, hanging, pressing, record, scaffolding, testing, work_words};
use crate::{DocumentError, words};

/// Week sheets printed at most; later weeks are printed from a later revision.
const MOST_WEEKS: usize = 26;

/// Typesets the site sheets, PDF/UA-1; the same plan gives the same bytes.
///
/// # Errors
/// [`DocumentError`] if a template is at fault; no job can bring it about.
pub fn site_pdf(plan: &Plan) -> Result<Vec<u8>, DocumentError> {
    typeset(sheets(plan))
}

pub(super) fn sheets(plan: &Plan) -> Sheets {
    let weeks = weeks(plan);
    let data = json!({
        "head": super::head(plan, "Site sheets"),
        "weeks_left_out": weeks.len().saturating_sub(MOST_WEEKS),
        "weeks": weeks.into_iter().take(MOST_WEEKS).collect::<Vec<_>>(),
        "tests": super::tests(plan),
        "pieces": pieces(plan),
        "cards": batch::cards(plan).iter().map(|card| card_json(plan, card)).collect::<Vec<_>>(),
        "limewash": limewash(plan),
        "order": order(plan),
        "cautions": plan.cautions.iter().map(|caution| &caution.words).collect::<Vec<_>>(),
    });
    Sheets {
        document: "site sheets",
        templates: vec![("/site.typ", include_str!("../../templates/site.typ")), super::COMMON],
        data,
        drawings: Vec::new(),
        dated: plan.about.dated,
    }
}

/// Limewash for the card: putty and water in buckets, litres wall by wall; one for each way it is specified.
fn limewash(plan: &Plan) -> Vec<Value> {
    let mut cards: Vec<(&works::Limewash, Vec<String>)> = Vec::new();
    for wall in &plan.specification.walls {
        let litres = plan.quantities.walls.iter().find(|takes| takes.slug == wall.slug).map_or(0.0, |takes| takes.limewash_l);
        let says = format!("{}: {litres:.0} litres for all coats", words::wall_name(plan, &wall.slug));
        match cards.iter_mut().find(|(wash, _)| **wash == wall.limewash) {
            Some((_, walls)) => walls.push(says),
            None => cards.push((&wall.limewash, vec![says])),
        }
    }
    let quick = |lime: &str| plan.catalogue.limes.get(lime).is_some_and(|lime| lime.kind == materials::LimeKind::Quicklime);
    let card = |(wash, walls): &(&works::Limewash, Vec<String>)| {
        json!({
            "coats": words::counted(wash.coats as usize, "coat", "coats"), "lime": words::material_name(plan, &wash.lime), "colour": words::capital(&wash.colour),
            "parts": words::parts(wash.water_parts), "count": wash.water_parts.clamp(0.0, 12.0), "hours": words::trimmed(wash.interval_h, 0),
            "wait": words::trimmed(wash.least_wait_days, 1), "walls": walls.join("; "), "quicklime": quick(&wash.lime),
        })
    };
    cards.iter().filter(|(wash, _)| wash.coats > 0).map(card).collect()
}

/// Every piece of work of the middle year, wall by wall.
fn pieces(plan: &Plan) -> Vec<Value> {
    let walls = plan.programme.runs.get(plan.programme.middle).map_or(&[][..], |run| &run.walls);
    let row = |step: StepRow| json!([step.name, words::plain_span(step.days.0, step.days.1)]);
    walls
        .iter()
        .map(|wall| json!({ "name": words::wall_name(plan, &wall.slug), "rows": steps(wall).into_iter().map(row).collect::<Vec<_>>() }))
        .collect()
}

fn weeks(plan: &Plan) -> Vec<Value> {
    let Some(run) = plan.programme.runs.get(plan.programme.middle) else { return Vec::new() };
    let tasks = || run.walls.iter().flat_map(|wall| &wall.tasks);
    let (Some(first), Some(last)) = (tasks().map(|task| task.from).min(), tasks().map(|task| task.to).max()) else { return Vec::new() };
    let mut monday = words::days_after(first, -i64::from(first.weekday().to_monday_zero_offset()));
    let mut weeks = Vec::new();
    while monday <= last {
        let days: Vec<Value> = (0..7).map(|offset| day(plan, run, words::days_after(monday, offset))).collect();
        let empty = |day: &Value| ["throw", "hang", "wet", "test"].iter().all(|column| day[column].as_array().is_none_or(Vec::is_empty));
        if !days.iter().all(empty) {
            let sunday = words::days_after(monday, 6);
            weeks.push(
                json!({ "title": format!("Week of {}", words::full_day(monday)), "span": words::span(monday, sunday), "size": sizes(&days), "days": days }),
            );
        }
        monday = words::days_after(monday, 7);
    }
    weeks
}

/// What is to be done on a day, each with the walls it is done on, in the order of the walls.
#[derive(Default)]
struct Asked(Vec<(String, Vec<String>)>);

impl Asked {
    fn add(&mut self, what: String, wall: &str) {
        match self.0.iter_mut().find(|(known, _)| *known == what) {
            Some((_, walls)) => walls.push(wall.to_owned()),
            None => self.0.push((what, vec![wall.to_owned()])),
        }
    }

    fn lines(self) -> Vec<String> {
        self.0.into_iter().map(|(what, walls)| format!("{}: {}", words::capital(&what), words::listed(&walls))).collect()
    }
}

/// What a day asks for, by column.
fn day(plan: &Plan, run: &YearRun, date: Date) -> Value {
    let (mut throw, mut hang, mut wet, mut test) = (Asked::default(), Asked::default(), Asked::default(), Asked::default());
    for wall in &run.walls {
        let name = figures::cut(words::wall_name(plan, &wall.slug), Face::Sans, 10.0, NAME_PT);
        for task in wall.tasks.iter().filter(|task| words::worked_on(task, date)) {
            throw.add(work_words(plan, task, date), &name);
        }
        for says in scaffolding(wall, date) {
            throw.add(says, &name);
        }
        if let Some(says) = hanging(plan, wall, date) {
            hang.add(says, &name);
        }
        if let Some(record) = record(wall, date).filter(|record| record.wettings > 0) {
            wet.add(words::times(record.wettings), &name);
        }
        if let Some(says) = pressing(wall, date) {
            wet.add(says, &name);
        }
        if wall.damped.contains(&date) {
            wet.add(EVENING.to_owned(), &name);
        }
        if let Some(coat) = testing(wall, date) {
            test.add(format!("nail test on the {coat}"), &name);
        }
    }
    let rest = matches!(date.weekday(), Weekday::Saturday | Weekday::Sunday);
    json!({
        "day": date.strftime("%a").to_string(), "date": words::short_day(date), "rest": rest,
        "throw": throw.lines(), "hang": hang.lines(), "wet": wet.lines(), "test": test.lines(),
    })
}

/// Room for words in each column, points, and down a day; a wall's name is cut to what leaves room for others.
const COLUMNS_PT: [(&str, f64); 4] = [("throw", 159.0), ("hang", 107.0), ("wet", 181.0), ("test", 122.0)];
const DAY_PT: f64 = 50.0;
const NAME_PT: f64 = 120.0;
/// Sizes of type for a week, largest first.
const SIZES: [f64; 8] = [11.0, 10.0, 9.0, 8.0, 7.2, 6.6, 6.0, 5.4];

/// For each column the largest type in which every day of the week fits its row.
fn sizes(days: &[Value]) -> Value {
    let size = |(column, room): (&str, f64)| {
        let items = |day: &Value| -> Vec<String> {
            day[column].as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
        };
        let face = if column == "throw" { Face::SansBold } else { Face::Sans };
        let tall = |items: Vec<String>, size: f64| -> f64 {
            items.iter().map(|item| figures::wrap(item, face, size, room).len() as f64 * size * 1.2 + size * 0.3).sum()
        };
        let fits = |size: &f64| days.iter().all(|day| tall(items(day), *size) <= DAY_PT);
        SIZES.into_iter().find(fits).unwrap_or(SIZES[SIZES.len() - 1])
    };
    let sizes: serde_json::Map<String, Value> = COLUMNS_PT.into_iter().map(|column| (column.0.to_owned(), json!(size(column)))).collect();
    Value::Object(sizes)
}

fn card_json(plan: &Plan, card: &batch::Card) -> Value {
    let walls: Vec<String> = card.walls.iter().map(|(slug, batches)| format!("{}: {batches}", words::wall_name(plan, slug))).collect();
    let recipe = match &card.recipe {
        batch::Recipe::HotMixed => Value::Null,
        batch::Recipe::Gauged(batch) => json!({
            "lime_boxes": words::parts(batch.lime_boxes), "sand_boxes": words::parts(batch.sand_boxes_dry), "damp_boxes": words::parts(batch.sand_boxes_damp),
            "bucket_count": batch.water_buckets, "lime_count": batch.lime_boxes, "sand_count": batch.sand_boxes_damp,
            "water": format!("{:.0}", batch.water_l), "buckets": words::parts(batch.water_buckets), "sand_brings": format!("{:.0}", batch.sand_brings_l),
            "makes": format!("{:.0}", batch.makes_l), "batches": batch.batches, "short_of_water": batch.water_l <= 0.0, "scud": card.is_scud,
        }),
    };
    json!({
        "name": card.name, "mix": words::mix(card.sand_parts), "lime": card.lime, "sand": card.sand, "cover": card.cover,
        "placing": card.placing, "thickness": words::millimetres(card.thickness_m), "volume": format!("{:.2}", card.volume_m3), "walls": walls.join("; "),
        "recipe": recipe, "moisture": words::trimmed(card.moisture_share * 100.0, 1), "bulking": words::trimmed(card.bulking * 100.0, 0),
    })
}

fn order(plan: &Plan) -> Value {
    json!({
        "lines": plan.order.lines.iter().map(|line| json!([
            words::day(line.on_site_by), line.units.to_string(), line.unit_name, line.name, line.need, line.remark,
        ])).collect::<Vec<_>>(),
        "lay_down": plan.order.lay_down.iter().map(|lay| [words::day(lay.by), lay.what.clone(), lay.why.clone()]).collect::<Vec<_>>(),
    })
}
