//! The proposal: answers first, then the walls, the harl, the work, the programme, the price, what is to be decided, cautions, upkeep,
//! what was assumed, and the reckonings of the main figures.

use reckoning::{Grade, Reckoning};
use serde_json::{Value, json};
use works::{CoatSpecification, Placing, Plan, Task, WallRun, WallSpecification};

use super::world::{Sheets, typeset};
use crate::DocumentError;
use crate::figures::{self, Figure, Theme};
use crate::words;

/// Points across the wide column of an upright page, and across and down a page on its side.
const COLUMN_PT: f64 = 385.0;
const ACROSS_PT: f64 = 750.0;
const DOWN_PT: f64 = 425.0;
/// Reckonings that explain a client's figures; the rest stay in the plan's own list.
const MOST_RECKONINGS: usize = 24;
/// Levels of inputs printed under a reckoning.
const RECKONING_DEPTH: usize = 2;

/// Typesets the proposal, PDF/UA-1; the same plan gives the same bytes.
///
/// # Errors
/// [`DocumentError`] if a template is at fault; no job can bring it about.
pub fn proposal_pdf(plan: &Plan) -> Result<Vec<u8>, DocumentError> {
    let mut drawings = Drawings::default();
    let data = json!({
        "head": super::head(plan, &format!("Proposal for {}", plan.about.client)),
        "headline": words::headline(plan),
        "lead": plan.programme.waits_sentence,
        "answers": plan.answers.iter().map(|answer| [&answer.question, &answer.answer]).collect::<Vec<_>>(),
        "walls": walls(plan, &mut drawings),
        "harl": harl(plan, &mut drawings),
        "work": work(plan),
        "programme": programme(plan, &mut drawings),
        "price": price(plan),
        "findings": findings(plan),
        "cautions": plan.cautions.iter().map(|caution| [&caution.words, &caution.source]).collect::<Vec<_>>(),
        "upkeep": upkeep(plan),
        "assumed": assumed(plan),
        "reckonings": reckonings(plan),
    });
    typeset(Sheets {
        document: "proposal",
        templates: vec![("/proposal.typ", include_str!("../../templates/proposal.typ")), super::COMMON],
        data,
        drawings: drawings.0,
        dated: plan.about.dated,
    })
}

/// Drawings of a document by path.
#[derive(Default)]
struct Drawings(Vec<(String, String)>);

impl Drawings {
    fn add(&mut self, figure: &Figure) -> Value {
        let path = format!("/figures/{}.svg", self.0.len() + 1);
        self.0.push((path.clone(), figure.svg.clone()));
        json!({ "path": path, "alt": format!("{}. {}", figure.title, figure.description), "wide": figure.width, "tall": figure.height })
    }
}

fn walls(plan: &Plan, drawings: &mut Drawings) -> Value {
    let found = plan.survey.building.walls.iter();
    let rows: Vec<Value> = found
        .zip(&plan.survey.walls)
        .enumerate()
        .map(|(index, (wall, measured))| {
            json!([
                format!("{} {}", index + 1, wall.name),
                compass(wall.faces_deg),
                words::material_name(plan, &wall.masonry.value),
                format!("{:.1}", measured.net_m2),
                format!("{:.1}", measured.reveal_m2),
                format!("{:.0} to {:.0} mm", measured.relief.percentiles_m[0] * 1000.0, measured.relief.percentiles_m[2] * 1000.0),
            ])
        })
        .collect();
    let stage = match plan.survey.building.stage {
        survey::Stage::BeforeStripping => {
            "Surveyed before stripping: the old covering hides the wall, so that quantities are ranges until it is open."
        }
        survey::Stage::AfterOpeningUp => "Surveyed after opening up: the wall has been seen and measured.",
    };
    json!({
        "row": drawings.add(&figures::walls_in_a_row(plan, &Theme::paper(COLUMN_PT))),
        "elevations": drawings.add(&figures::elevations(plan, &Theme::paper(COLUMN_PT))),
        "plan": drawings.add(&figures::site_plan(plan, &Theme::paper(96.0))),
        "rows": rows,
        "stage": stage,
        "area": format!("{:.1}", plan.quantities.area_m2),
    })
}

/// The way a wall faces, as one of sixteen points of the compass.
fn compass(bearing_deg: f64) -> &'static str {
    const POINTS: [&str; 16] = [
        "north",
        "north-north-east",
        "north-east",
        "east-north-east",
        "east",
        "east-south-east",
        "south-east",
        "south-south-east",
        "south",
        "south-south-west",
        "south-west",
        "west-south-west",
        "west",
        "west-north-west",
        "north-west",
        "north-north-west",
    ];
    POINTS[((bearing_deg.rem_euclid(360.0) / 22.5).round() as usize) % 16]
}

/// Walls that get the same coats, with the first of them drawn. Later groups say only what differs from the first.
fn harl(plan: &Plan, drawings: &mut Drawings) -> Value {
    let mut groups: Vec<(&WallSpecification, Vec<String>)> = Vec::new();
    for wall in &plan.specification.walls {
        let name = words::wall_name(plan, &wall.slug).to_owned();
        match groups.iter_mut().find(|(first, _)| alike(first, wall)) {
            Some((_, names)) => names.push(name),
            None => groups.push((wall, vec![name])),
        }
    }
    let first = groups.first().map(|(wall, _)| *wall);
    let groups: Vec<Value> = groups.iter().map(|(wall, names)| harl_group(plan, wall, names, first, drawings)).collect();
    json!(groups)
}

/// True if two walls get the same but for a straightening coat of another thickness.
fn alike(one: &WallSpecification, other: &WallSpecification) -> bool {
    one.coats == other.coats && one.limewash == other.limewash
}

fn harl_group(
    plan: &Plan,
    wall: &WallSpecification,
    names: &[String],
    first: Option<&WallSpecification>,
    drawings: &mut Drawings,
) -> Value {
    let main = first.is_none_or(|first| first.slug == wall.slug);
    let known = |coat: &CoatSpecification| !main && first.is_some_and(|first| first.coats.contains(coat));
    let washed = !main && first.is_some_and(|first| first.limewash == wall.limewash);
    let other_shape = first.is_some_and(|first| first.coats.len() != wall.coats.len());
    let figure = if main || other_shape { figures::section(plan, &wall.slug, &Theme::paper(COLUMN_PT)) } else { None };
    let listed = words::listed(names);
    let note = if main {
        format!(
            "Drawn for the {}. {}",
            names.first().map_or("wall", String::as_str),
            if names.len() > 1 { format!("The same on: {}.", words::listed(&names[1..])) } else { String::new() }
        )
    } else {
        "What differs from the first; its other coats are the same.".to_owned()
    };
    json!({
        "name": listed,
        "note": note,
        "figure": figure.as_ref().map(|figure| drawings.add(figure)),
        "coats": wall.coats.iter().filter(|coat| !known(coat)).map(|coat| coat_lines(plan, coat)).collect::<Vec<_>>(),
        "limewash": (!washed).then(|| limewash_line(plan, wall)),
    })
}

fn coat_lines(plan: &Plan, coat: &CoatSpecification) -> Value {
    let placing = match coat.placing {
        Placing::Thrown => "thrown",
        Placing::Laid => "laid with hawk and trowel",
    };
    let cover = &coat.protection;
    let damp = match (cover.damp_days, cover.wettings_a_day) {
        (0, _) | (_, 0) => String::new(),
        (days, wettings) => format!(", kept damp for {days} with {} a day", words::counted(wettings as usize, "wetting", "wettings")),
    };
    json!({
        "name": coat.name,
        "thickness": format!("{}, from {} to {}, {placing}", words::millimetres(coat.thickness_m[1]), words::millimetres(coat.thickness_m[0]), words::millimetres(coat.thickness_m[2])),
        "mix": format!("{} by volume: {} to {}; grains to {} mm", words::mix(coat.mix.sand_parts), words::material_name(plan, &coat.mix.lime), words::material_name(plan, &coat.mix.sand), words::trimmed(coat.largest_grain_mm, 1)),
        "method": coat.method,
        "cover": format!("{} for {} days{damp}", words::material_name(plan, &cover.cover), cover.days),
        "next": format!("at least {} days, and when the test on the wall says so: {}", words::trimmed(coat.least_wait_days, 1), coat.test),
    })
}

fn limewash_line(plan: &Plan, wall: &WallSpecification) -> String {
    let wash = &wall.limewash;
    format!(
        "{} of {}, {} putty to water, {}; at least {} days after the finish coat and {} hours between coats, damped before each.",
        words::capital(&words::counted(wash.coats as usize, "coat", "coats")),
        words::material_name(plan, &wash.lime),
        words::mix(wash.water_parts),
        wash.colour,
        words::trimmed(wash.least_wait_days, 1),
        words::trimmed(wash.interval_h, 0),
    )
}

fn work(plan: &Plan) -> Value {
    json!({
        "before": plan.programme.before.iter().map(|before| [words::day(before.by), before.what.clone(), before.why.clone()]).collect::<Vec<_>>(),
        "preparation": plan.specification.preparation,
        "panel": plan.specification.panel.words,
        "materials": plan.quantities.materials.iter().map(|material| json!([
            material.name, format!("{} {}", words::grouped(material.amount), material.unit),
            format!("{} × {}", material.units, material.unit_name), material.purpose,
        ])).collect::<Vec<_>>(),
    })
}

fn programme(plan: &Plan, drawings: &mut Drawings) -> Value {
    let slugs: Vec<&str> = plan.survey.walls.iter().map(|wall| wall.slug.as_str()).collect();
    let theme = Theme { size: 6.6, ..Theme::paper(ACROSS_PT) };
    let mut calendars = Vec::new();
    for slugs in sheets_of_walls(plan, &slugs, &theme) {
        if let Some(figure) = figures::calendar(plan, &slugs, &theme) {
            calendars.push(drawings.add(&figure));
        }
    }
    let run = plan.programme.runs.get(plan.programme.middle);
    let rows = |wall: &WallRun| -> Vec<Value> { wall.tasks.iter().map(task_row).collect() };
    let walls: Vec<Value> = run
        .iter()
        .flat_map(|run| &run.walls)
        .map(|wall| json!({ "name": words::wall_name(plan, &wall.slug), "rows": rows(wall) }))
        .collect();
    let by = match plan.programme.gaps_by {
        works::GapsBy::Engine => "Gaps reckoned hour by hour for each wall in each weather year.",
        works::GapsBy::RuleOfThumb => "No weather was at hand: gaps by the trade's rule of thumb, a week, and two when it is cold.",
    };
    json!({
        "calendars": calendars,
        "walls": walls,
        "spread": drawings.add(&figures::spread(plan, &Theme::paper(COLUMN_PT))),
        "sentence": plan.programme.waits_sentence,
        "finish": words::capital(&words::finish_in_words(plan)),
        "no_odds": plan.programme.no_odds,
        "by": by,
        "unfinished": plan.programme.runs.iter().filter_map(|run| run.unfinished.as_ref().map(|why| format!("{}: {why}", run.year))).collect::<Vec<_>>(),
    })
}

fn task_row(task: &Task) -> Value {
    let waited = words::days_waited(&task.waited);
    let days = if waited > 0 { waited.to_string() } else { String::new() };
    json!([task.name, words::span(task.from, task.to), days, words::waits_in_words(&task.waited)])
}

/// Walls in groups that fit a page on its side.
fn sheets_of_walls<'s>(plan: &Plan, slugs: &[&'s str], theme: &Theme) -> Vec<Vec<&'s str>> {
    let mut sheets: Vec<Vec<&str>> = Vec::new();
    for slug in slugs {
        if let Some(sheet) = sheets.last_mut() {
            let mut grown = sheet.clone();
            grown.push(slug);
            if figures::calendar(plan, &grown, theme).is_some_and(|figure| figure.height <= DOWN_PT) {
                *sheet = grown;
                continue;
            }
        }
        sheets.push(vec![slug]);
    }
    sheets
}

fn price(plan: &Plan) -> Value {
    let price = &plan.price;
    let mut headings: Vec<(String, Vec<Value>)> = Vec::new();
    for line in &price.lines {
        let row = json!([line.words, quantity_words(line.quantity, &line.unit), line.rate.to_string(), line.amount.to_string()]);
        match headings.iter_mut().find(|(heading, _)| *heading == line.heading) {
            Some((_, rows)) => rows.push(row),
            None => headings.push((line.heading.clone(), vec![row])),
        }
    }
    let tax = (price.tax_rate * rust_decimal::Decimal::ONE_HUNDRED).normalize();
    json!({
        "answer": format!("{} before tax, {} with it: {} for each square metre of harl.", price.before_tax, price.total, price.per_m2),
        "odds": price.eight_in_ten.as_ref().map(|most| format!("In about eight weather years of ten it stays under {most} before tax; what weather adds is damping, visits and weeks of scaffold.")),
        "walls": price.walls.iter().map(|wall| json!([words::wall_name(plan, &wall.slug), wall.words, wall.amount.to_string()])).collect::<Vec<_>>(),
        "headings": headings.iter().map(|(heading, rows)| json!({ "heading": words::capital(heading), "rows": rows })).collect::<Vec<_>>(),
        "sums": [
            json!(["Cost", price.cost.to_string(), false]),
            json!(["Overhead and profit", price.overhead.to_string(), false]),
            json!(["Before tax", price.before_tax.to_string(), true]),
            json!([format!("Tax at {tax} %"), price.tax.to_string(), false]),
            json!(["In all", price.total.to_string(), true]),
        ],
        "exclusions": price.exclusions,
        "valid": format!("This price stands for {} days from {}.", price.valid_days, words::full_day(plan.about.dated)),
    })
}

/// "46 × 20 litre tub", "704 hours".
fn quantity_words(quantity: f64, unit: &str) -> String {
    let by = if unit.starts_with(|c: char| c.is_ascii_digit()) { "× " } else { "" };
    format!("{} {by}{unit}", words::grouped(quantity))
}

fn findings(plan: &Plan) -> Value {
    let of = |grade: Grade| plan.findings.iter().filter(move |finding| finding.grade == grade);
    let full = |grade: Grade| -> Vec<Value> {
        of(grade).map(|finding| json!({ "says": finding.says, "reason": finding.reason, "remedy": finding.remedy, "source": finding.source, "word": words::capital(grade.word()) })).collect()
    };
    let decide: Vec<Value> = full(Grade::Stop).into_iter().chain(full(Grade::Think)).collect();
    json!({
        "decide": decide,
        "stops": of(Grade::Stop).count(),
        "notes": of(Grade::Note).map(|finding| [&finding.says, &finding.remedy]).collect::<Vec<_>>(),
        "agrees": match of(Grade::Agrees).count() {
            0 => String::new(),
            1 => "One more rule was checked and holds.".to_owned(),
            more => format!("{} more rules were checked and hold.", words::capital(&words::count(more))),
        },
    })
}

fn upkeep(plan: &Plan) -> String {
    let colour = plan.specification.walls.first().map_or("the same colour", |wall| wall.limewash.colour.as_str());
    format!(
        "The limewash is the skin that is meant to wear. Left alone it wears through in ten to fifteen years, sooner on the weather side; given another coat at about five years, in {colour}, it \
         conserves everything behind it. Look at the walls each spring, after storms, and whenever the gutters are cleared: gutters, downpipes, wallheads, skews and the foot of the wall matter more to the \
         harl than anything else. Cut back a loose patch to sound edges, damp it, throw it again with the same lime and sand, and limewash the whole face. Never paint it, seal it or patch it with cement. The coats behind \
         the limewash then wear one at a time; a harl so kept lasts a hundred years and more. (Common practice, no source.)"
    )
}

fn assumed(plan: &Plan) -> Value {
    let swings: Vec<Value> = plan
        .swings
        .iter()
        .map(|swing| {
            json!([
                words::capital(&swing.label),
                swing.assumed,
                format!("{:.0} days", swing.days),
                swing.money.to_tens().to_string(),
                swing.question
            ])
        })
        .collect();
    let mut leaves: Vec<(String, String, String)> = Vec::new();
    for reckoning in plan.reckonings.iter() {
        leaves_assumed(reckoning, &mut leaves);
    }
    leaves.sort();
    leaves.dedup();
    json!({ "swings": swings, "leaves": leaves.iter().map(|(label, value, source)| [label, value, source]).collect::<Vec<_>>() })
}

fn leaves_assumed(reckoning: &Reckoning, leaves: &mut Vec<(String, String, String)>) {
    if reckoning.assumed {
        leaves.push((words::capital(&reckoning.label), value_words(&reckoning.value), reckoning.source.clone()));
    }
    for input in &reckoning.inputs {
        leaves_assumed(input, leaves);
    }
}

fn value_words(value: &reckoning::Value) -> String {
    match value {
        reckoning::Value::Date(iso) => super::date_words(iso),
        other => other.to_string(),
    }
}

/// The tops of the reckonings, short paths first: they stand for the job before its parts.
fn reckonings(plan: &Plan) -> Value {
    let mut tops: Vec<&Reckoning> = plan.reckonings.iter().filter(|reckoning| !reckoning.inputs.is_empty()).collect();
    tops.sort_by_key(|reckoning| (reckoning.path.matches('.').count(), reckoning.path.clone()));
    let left_out = tops.len().saturating_sub(MOST_RECKONINGS);
    tops.truncate(MOST_RECKONINGS);
    let mut rows = Vec::new();
    for reckoning in tops {
        reckoning_rows(plan, reckoning, 0, &mut rows);
    }
    json!({ "rows": rows, "left_out": left_out })
}

fn reckoning_rows(plan: &Plan, reckoning: &Reckoning, depth: usize, rows: &mut Vec<Value>) {
    let place = if depth == 0 { place_words(plan, &reckoning.path) } else { String::new() };
    let how = if reckoning.formula.is_empty() { reckoning.source.clone() } else { format!("{}; {}", reckoning.formula, reckoning.source) };
    rows.push(json!({ "depth": depth, "label": words::capital(&reckoning.label), "place": place, "value": value_words(&reckoning.value), "how": how, "assumed": reckoning.assumed, "path": reckoning.path }));
    if depth < RECKONING_DEPTH {
        for input in &reckoning.inputs {
            reckoning_rows(plan, input, depth + 1, rows);
        }
    }
}

/// The wall and coat a path speaks of, in names; empty for the job as a whole.
fn place_words(plan: &Plan, path: &str) -> String {
    let mut parts = path.split('.');
    if parts.next() != Some("walls") {
        return String::new();
    }
    let Some(slug) = parts.next() else { return String::new() };
    let wall = words::wall_name(plan, slug);
    let coat = plan
        .specification
        .walls
        .iter()
        .filter(|wall| wall.slug == slug)
        .flat_map(|wall| &wall.coats)
        .find(|coat| path.split('.').any(|part| part == coat.slug));
    coat.map_or_else(|| wall.to_owned(), |coat| format!("{wall}, {}", coat.name.to_lowercase()))
}
