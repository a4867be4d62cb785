//! The proposal: answers first, then the walls, the harl, the work, the programme, the price, what is to be decided, cautions, upkeep,
//! what was assumed, and the reckonings of the main figures.

use reckoning::{Finding, Grade, Reckoning};
use serde_json::{Value, json};
use works::{CoatSpecification, Plan, Season, WallRun, WallSpecification};

use super::world::{Sheets, typeset};
use crate::DocumentError;
use crate::figures::{self, Figure, Theme};
use crate::steps::{StepRow, main_steps};
use crate::words;

/// Points across the wide column of an upright page, and across and down a page on its side.
const COLUMN_PT: f64 = 385.0;
const ACROSS_PT: f64 = 750.0;
const DOWN_PT: f64 = 458.0;
/// Levels of inputs printed under a reckoning, and inputs of one level.
const RECKONING_DEPTH: usize = 1;
const MOST_INPUTS: usize = 8;

/// Typesets the proposal, PDF/UA-1, with the year of start weeks where one was reckoned; the same plan and year give the same bytes.
///
/// # Errors
/// [`DocumentError`] if a template is at fault; no job can bring it about.
pub fn proposal_pdf(plan: &Plan, season: Option<&Season>) -> Result<Vec<u8>, DocumentError> {
    typeset(sheets(plan, season))
}

pub(super) fn sheets(plan: &Plan, season: Option<&Season>) -> Sheets {
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
        "price": super::price::part(plan),
        "season": season.map(|season| super::season::part(season, &mut drawings)),
        "findings": findings(plan),
        "cautions": plan.cautions.iter().map(|caution| [&caution.words, &caution.source]).collect::<Vec<_>>(),
        "upkeep": upkeep(plan),
        "assumed": assumed(plan),
        "reckonings": reckonings(plan),
    });
    Sheets {
        document: "proposal",
        templates: vec![("/proposal.typ", include_str!("../../templates/proposal.typ")), super::COMMON, super::SEASON_PART],
        data,
        drawings: drawings.0,
        dated: plan.about.dated,
    }
}

/// Drawings of a document by path.
#[derive(Default)]
pub(super) struct Drawings(pub(super) Vec<(String, String)>);

impl Drawings {
    pub(super) fn add(&mut self, figure: &Figure) -> Value {
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
                survey::compass(wall.faces_deg),
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
        "stone": stone_words(plan),
        "stage": stage,
        "area": format!("{:.1}", plan.quantities.area_m2),
    })
}

/// What the walls are built of, in a sentence.
fn stone_words(plan: &Plan) -> String {
    let mut stones: Vec<(&str, Vec<String>)> = Vec::new();
    for wall in &plan.survey.building.walls {
        let stone = words::material_name(plan, &wall.masonry.value);
        match stones.iter_mut().find(|(known, _)| *known == stone) {
            Some((_, walls)) => walls.push(wall.name.clone()),
            None => stones.push((stone, vec![wall.name.clone()])),
        }
    }
    if let [(stone, _)] = stones.as_slice() {
        return format!("All of {}.", stone.to_lowercase());
    }
    let parts: Vec<String> = stones.iter().map(|(stone, walls)| format!("{stone}: {}", words::listed(walls))).collect();
    format!("{}.", parts.join("; "))
}

/// The coats: the section of the first wall and of the first that is built up otherwise, each kind of coat once, and its thickness wall by wall.
fn harl(plan: &Plan, drawings: &mut Drawings) -> Value {
    let mut figures: Vec<Value> = Vec::new();
    let mut drawn: Vec<usize> = Vec::new();
    for wall in &plan.specification.walls {
        if drawn.len() < 2
            && !drawn.contains(&wall.coats.len())
            && let Some(figure) = figures::section(plan, &wall.slug, &Theme::paper(COLUMN_PT))
        {
            drawn.push(wall.coats.len());
            figures.push(json!({ "wall": words::wall_name(plan, &wall.slug), "figure": drawings.add(&figure) }));
        }
    }
    json!({
        "figures": figures,
        "coats": unlike_coats(plan).iter().map(|(coat, names)| coat_lines(plan, coat, names)).collect::<Vec<_>>(),
        "thickness": plan.specification.walls.iter().map(|wall| [
            words::wall_name(plan, &wall.slug).to_owned(),
            wall.coats.iter().map(thickness_words).collect::<Vec<_>>().join("; "),
        ]).collect::<Vec<_>>(),
        "limewash": limewash_lines(plan),
        "tests": super::tests(plan),
    })
}

/// Coats that differ in more than their thickness, in the order of the wall, with their names.
fn unlike_coats(plan: &Plan) -> Vec<(&CoatSpecification, Vec<&str>)> {
    let mut coats: Vec<(&CoatSpecification, Vec<&str>)> = Vec::new();
    for coat in plan.specification.walls.iter().flat_map(|wall| &wall.coats) {
        let same = |other: &CoatSpecification| {
            (other.kind, &other.mix, other.placing, &other.method, &other.protection)
                == (coat.kind, &coat.mix, coat.placing, &coat.method, &coat.protection)
                && other.least_wait_days == coat.least_wait_days
        };
        match coats.iter_mut().find(|(first, _)| same(first)) {
            Some((_, names)) if names.contains(&coat.name.as_str()) => {}
            Some((_, names)) => names.push(&coat.name),
            None => coats.push((coat, vec![&coat.name])),
        }
    }
    coats.sort_by_key(|(coat, _)| coat.kind);
    coats
}

/// "straightening coat 8.3 mm (5.5 to 13)": in the middle, and at 8 places in 10.
fn thickness_words(coat: &CoatSpecification) -> String {
    let [thin, middle, thick] = coat.thickness_m.map(|metres| words::trimmed(metres * 1000.0, 1));
    format!("{} {middle} mm ({thin} to {thick})", coat.name.to_lowercase())
}

fn coat_lines(plan: &Plan, coat: &CoatSpecification, names: &[&str]) -> Value {
    let cover = &coat.protection;
    let damp = match (cover.damp_days, cover.wettings_a_day) {
        (0, _) | (_, 0) => String::new(),
        (days, wettings) => format!(", wetted {} a day for the first {days}", words::times(wettings)),
    };
    let name = if names.len() == 1 { names[0].to_owned() } else { names[0].split(", ").next().unwrap_or(names[0]).to_owned() };
    json!({
        "name": name,
        "mix": format!("{} by volume: {} to {}; grains to {} mm", words::mix(coat.mix.sand_parts), words::material_name(plan, &coat.mix.lime), words::material_name(plan, &coat.mix.sand), words::trimmed(coat.largest_grain_mm, 1)),
        "method": coat.method,
        "cover": match cover.policy {
            Some(policy) => policy.words().to_owned(),
            None => format!("{} for {} days{damp}", words::material_name(plan, &cover.cover), cover.days),
        },
        "next": format!("at least {} days, and when the wall passes its test", words::trimmed(coat.least_wait_days, 1)),
    })
}

/// Limewash in words, once for each way it is specified.
fn limewash_lines(plan: &Plan) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for wall in &plan.specification.walls {
        let line = limewash_line(plan, wall);
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
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
    let rows = |wall: &WallRun| -> Vec<Value> { main_steps(wall).iter().map(step_row).collect() };
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
        "front": last_wall(plan).and_then(|slug| figures::cure::front_of_plan(plan, slug, &Theme::paper(COLUMN_PT))).map(|figure| drawings.add(&figure)),
        "walls": walls,
        "spread": drawings.add(&figures::spread(plan, &Theme::paper(COLUMN_PT))),
        "sentence": plan.programme.waits_sentence,
        "finish": words::capital(&words::finish_in_words(plan)),
        "no_odds": plan.programme.no_odds,
        "by": by,
        "unfinished": plan.programme.runs.iter().filter_map(|run| run.unfinished.as_ref().map(|why| format!("{}: {why}", run.year))).collect::<Vec<_>>(),
    })
}

/// The wall that is worked on last in the middle year.
fn last_wall(plan: &Plan) -> Option<&str> {
    let run = plan.programme.runs.get(plan.programme.middle)?;
    run.walls.iter().max_by_key(|wall| wall.tasks.last().map(|task| task.to)).map(|wall| wall.slug.as_str())
}

fn step_row(step: &StepRow) -> Value {
    let days = if step.waited > 0 { step.waited.to_string() } else { String::new() };
    json!([step.name, words::plain_span(step.days.0, step.days.1), days, step.why])
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

fn findings(plan: &Plan) -> Value {
    let of = |grade: Grade| plan.findings.iter().filter(move |finding| finding.grade == grade);
    let full = |grade: Grade| -> Vec<Value> {
        of(grade).map(|finding| json!({ "says": finding.says, "reason": finding.reason, "remedy": finding.remedy, "source": finding.source, "word": words::capital(grade.word()) })).collect()
    };
    let decide: Vec<Value> = full(Grade::Stop).into_iter().chain(full(Grade::Think)).collect();
    json!({
        "decide": decide,
        "stops": of(Grade::Stop).count(),
        "notes": of(Grade::Note).filter(|finding| !is_of_the_reckoning(finding)).map(|finding| [&finding.says, &finding.remedy]).collect::<Vec<_>>(),
        "granted": of(Grade::Note).filter(|finding| is_of_the_reckoning(finding)).map(|finding| [&finding.says, &finding.remedy]).collect::<Vec<_>>(),
        "agrees": match of(Grade::Agrees).count() {
            0 => String::new(),
            1 => "One more rule was checked and holds.".to_owned(),
            more => format!("{} more rules were checked and hold.", words::capital(&words::count(more))),
        },
    })
}

/// True of a note on how weather was read and dates were reckoned, which asks nothing of the building.
fn is_of_the_reckoning(finding: &Finding) -> bool {
    ["weather", "window", "programme"].contains(&finding.place.as_str())
}

fn upkeep(plan: &Plan) -> String {
    words::upkeep(plan.specification.walls.first().map_or("the same colour", |wall| wall.limewash.colour.as_str()))
}

fn assumed(plan: &Plan) -> Value {
    let swings: Vec<Value> = plan
        .swings
        .iter()
        .map(|swing| {
            json!([
                words::capital(&swing.label),
                swing.assumed.replace(" %", "\u{a0}%"),
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

/// The figures a client asks about, by path; a last part of `*` takes every wall's.
const MAIN_FIGURES: [&str; 12] = [
    "survey.net",
    "survey.reveals",
    "walls.*.area",
    "finish",
    "finish.eight-in-ten",
    "programme.gang-days",
    "programme.visits",
    "programme.damping-visits",
    "price.cost",
    "price.before-tax",
    "price.per-m2",
    "price.total",
];

/// The reckonings of the main figures, their inputs below them.
fn reckonings(plan: &Plan) -> Value {
    let main = |reckoning: &&Reckoning| MAIN_FIGURES.iter().any(|figure| fits(figure, &reckoning.path));
    let mut tops: Vec<&Reckoning> = plan.reckonings.iter().filter(main).collect();
    let rank = |path: &str| MAIN_FIGURES.iter().position(|figure| fits(figure, path)).unwrap_or(MAIN_FIGURES.len());
    tops.sort_by_key(|reckoning| rank(&reckoning.path));
    let mut rows = Vec::new();
    for reckoning in &tops {
        reckoning_rows(plan, reckoning, (0, ""), &mut rows);
    }
    json!({ "rows": rows, "others": plan.reckonings.iter().count().saturating_sub(tops.len()) })
}

fn fits(figure: &str, path: &str) -> bool {
    let (mut ours, mut theirs) = (figure.split('.'), path.split('.'));
    loop {
        match (ours.next(), theirs.next()) {
            (None, None) => return true,
            (Some(our), Some(their)) if our == "*" || our == their => {}
            _ => return false,
        }
    }
}

/// The source of what a figure rests on is said once, with the figure.
fn reckoning_rows(plan: &Plan, reckoning: &Reckoning, (depth, above): (usize, &str), rows: &mut Vec<Value>) {
    let place = if depth == 0 { place_words(plan, &reckoning.path) } else { String::new() };
    let how = match (reckoning.formula.as_str(), reckoning.source.as_str()) {
        ("", source) => source.to_owned(),
        (formula, source) if source == above => formula.to_owned(),
        (formula, source) => format!("{formula}; {source}"),
    };
    rows.push(json!({ "depth": depth, "label": words::capital(&reckoning.label), "place": place, "value": value_words(&reckoning.value), "how": how, "assumed": reckoning.assumed, "path": reckoning.path }));
    if depth >= RECKONING_DEPTH {
        return;
    }
    for input in reckoning.inputs.iter().take(MOST_INPUTS) {
        reckoning_rows(plan, input, (depth + 1, &reckoning.source), rows);
    }
    if reckoning.inputs.len() > MOST_INPUTS {
        let more = format!("and {} more", reckoning.inputs.len() - MOST_INPUTS);
        rows.push(json!({ "depth": depth + 1, "label": more, "place": "", "value": "", "how": "", "assumed": false, "path": "" }));
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
