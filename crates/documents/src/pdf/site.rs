//! The sheets for the hut wall and the mixer: a week sheet for each week with work or wetting in it, a batch card for each mix, the order
//! as it is read over a telephone, and the cautions.

use jiff::civil::{Date, Weekday};
use serde_json::{Value, json};
use works::{DayRecord, Plan, WallRun, YearRun};

use super::world::{Sheets, typeset};
use crate::batch;
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
            "coats": words::counted(wash.coats as usize, "coat", "coats"), "lime": words::material_name(plan, &wash.lime), "colour": wash.colour,
            "parts": words::parts(wash.water_parts), "count": wash.water_parts.clamp(0.0, 12.0), "hours": words::trimmed(wash.interval_h, 0),
            "wait": words::trimmed(wash.least_wait_days, 1), "walls": walls.join("; "), "quicklime": quick(&wash.lime),
        })
    };
    cards.iter().filter(|(wash, _)| wash.coats > 0).map(card).collect()
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
                json!({ "title": format!("Week of {}", words::full_day(monday)), "span": words::span(monday, sunday), "days": days }),
            );
        }
        monday = words::days_after(monday, 7);
    }
    weeks
}

/// What a day asks for, by column.
fn day(plan: &Plan, run: &YearRun, date: Date) -> Value {
    let (mut throw, mut hang, mut wet, mut test) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for wall in &run.walls {
        let name = words::wall_name(plan, &wall.slug);
        for task in wall.tasks.iter().filter(|task| words::worked_on(task, date)) {
            throw.push(format!("{name}: {}", work_words(plan, task, date)));
        }
        hang.extend(hanging(plan, wall, date).map(|says| format!("{name}: {says}")));
        if let Some(record) = record(wall, date).filter(|record| record.wettings > 0) {
            wet.push(format!("{name}: {}", words::times(record.wettings)));
        }
        test.extend(testing(wall, date).map(|coat| format!("{name}: nail test on the {coat}")));
    }
    let rest = matches!(date.weekday(), Weekday::Saturday | Weekday::Sunday);
    json!({ "day": date.strftime("%a").to_string(), "date": words::short_day(date), "rest": rest, "throw": throw, "hang": hang, "wet": wet, "test": test })
}

fn work_words(plan: &Plan, task: &works::Task, date: Date) -> String {
    if words::is_coat(task) {
        let laid = plan.specification.walls.iter().flat_map(|wall| &wall.coats).find(|coat| coat.slug == task.slug);
        let verb = if laid.is_some_and(|coat| coat.placing == works::Placing::Laid) { "lay the" } else { "throw the" };
        return format!("{verb} {}", task.name.to_lowercase());
    }
    if task.slug == "limewash" {
        let before =
            (0..=words::days_between(task.from, date)).filter(|offset| words::worked_on(task, words::days_after(task.from, *offset)));
        return format!("limewash, day {}", before.count());
    }
    task.name.to_lowercase()
}

fn record(wall: &WallRun, date: Date) -> Option<&DayRecord> {
    wall.days.iter().find(|record| record.date == date)
}

/// A change of cover on a day.
fn hanging(plan: &Plan, wall: &WallRun, date: Date) -> Option<String> {
    let today = record(wall, date)?.cover.as_deref();
    let before = record(wall, words::days_after(date, -1)).and_then(|record| record.cover.as_deref());
    match (before, today) {
        (before, Some(cover)) if before != Some(cover) => Some(format!("hang {}", words::material_name(plan, cover).to_lowercase())),
        (Some(cover), None) => Some(format!("strike {}", words::material_name(plan, cover).to_lowercase())),
        _ => None,
    }
}

/// The coat to be tested on a day: when it is reckoned ready, and again on the morning of the work that follows it.
fn testing(wall: &WallRun, date: Date) -> Option<String> {
    let pairs = wall.tasks.iter().zip(wall.tasks.iter().skip(1));
    pairs
        .filter(|(task, _)| words::is_coat(task))
        .find(|(task, next)| task.ready == Some(date) || next.from == date)
        .map(|(task, _)| task.name.to_lowercase())
}

fn card_json(plan: &Plan, card: &batch::Card) -> Value {
    let walls: Vec<String> = card.walls.iter().map(|(slug, batches)| format!("{}: {batches}", words::wall_name(plan, slug))).collect();
    let recipe = match &card.recipe {
        batch::Recipe::HotMixed => Value::Null,
        batch::Recipe::Gauged(batch) => json!({
            "lime_boxes": words::parts(batch.lime_boxes), "sand_boxes": words::parts(batch.sand_boxes_dry), "damp_boxes": words::parts(batch.sand_boxes_damp),
            "bucket_count": batch.water_buckets, "lime_count": batch.lime_boxes, "sand_count": batch.sand_boxes_damp,
            "water": format!("{:.0}", batch.water_l), "buckets": words::parts(batch.water_buckets), "sand_brings": format!("{:.0}", batch.sand_brings_l),
            "makes": format!("{:.0}", batch.makes_l), "batches": batch.batches, "short_of_water": batch.water_l <= 0.0,
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
