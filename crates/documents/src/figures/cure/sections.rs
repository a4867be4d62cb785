//! Small sections through the coats, as in a sketchbook: stone at the left, weather at the right, one for each chosen evening; under each other the water
//! in the pores, the lime still caustic and the temperature.

use works::{ProfileCell, Stratum, Told, ToldDay};

use super::super::{Canvas, Hand, Theme, metrics};
use super::{Drawn, brief, heading, tone_of};
use crate::words;

/// Most sections drawn, and most in a row.
const MOST: usize = 8;
const MOST_IN_A_ROW: usize = 4;
/// Stone shown behind the coats, mm.
const STONE_MM: f64 = 12.0;

/// One section: the day and what it shows.
struct Chosen<'s> {
    number: usize,
    day: &'s ToldDay,
    says: String,
}

/// Draws the sections below a line; `None` before the first coat.
pub(super) fn draw(canvas: &mut Canvas, theme: &Theme, story: &Told, top: f64) -> Option<Drawn> {
    let chosen = choose(story);
    if chosen.is_empty() {
        return None;
    }
    let title = format!("{}: sections on chosen evenings", story.wall_name);
    let says = "Stone at the left, weather at the right. Water and ice: share of the pores that is full; lime: share still caustic; temperature in °C.";
    let below = heading(canvas, theme, top, &title, says);
    let size = theme.size;
    let in_row = chosen.len().min(if theme.wide > size * 46.0 { MOST_IN_A_ROW } else { 3 });
    let left = size * 5.2;
    let wide = (theme.wide - left) / in_row as f64;
    let scale = Scale::of(story, &chosen, wide - size * 1.2);
    let mut row_top = below;
    let tall = size * 15.6;
    for row in chosen.chunks(in_row) {
        labels(canvas, theme, &scale, row_top);
        for (column, section) in row.iter().enumerate() {
            one(canvas, theme, story, section, &scale, (left + wide * column as f64, row_top));
        }
        row_top += tall;
    }
    Some(Drawn { description: describe(story, &chosen), title, bottom: row_top + size * 0.2 })
}

/// Evenings worth a section: after each coat was placed, and before the next was, with days between for a wall of few coats.
fn choose(story: &Told) -> Vec<Chosen<'_>> {
    let placed: Vec<usize> = story.coats.iter().filter_map(|coat| coat.placed).map(|at| day_of(story, at.date)).collect();
    let Some(&first) = placed.first() else { return Vec::new() };
    let last = story.days.len().saturating_sub(1);
    let mut days: Vec<usize> = Vec::new();
    for (index, &day) in placed.iter().enumerate() {
        days.push(day);
        days.push(placed.get(index + 1).map_or(last, |&next| next.saturating_sub(1).max(day)));
    }
    if placed.len() <= 2 {
        days.extend([first + 1, first + 3, first + 7]);
    }
    days.retain(|&day| day <= last);
    days.sort_unstable();
    days.dedup();
    days.truncate(MOST);
    days.into_iter()
        .filter_map(|number| Some(Chosen { number, day: story.days.get(number)?, says: says(story, &placed, number) }))
        .collect()
}

fn day_of(story: &Told, date: jiff::civil::Date) -> usize {
    usize::try_from(words::days_between(story.from, date)).unwrap_or(0)
}

/// "scud, 9 days old".
fn says(story: &Told, placed: &[usize], number: usize) -> String {
    let Some(coat) = placed.iter().rposition(|&day| day <= number) else { return String::new() };
    let age = number - placed[coat];
    let name = brief(&story.coats[coat].name).to_lowercase();
    let name = name.split(", ").next().unwrap_or_default().to_owned();
    if age == 0 { format!("{name} on") } else { format!("{name}, day {age}") }
}

/// What is common to all sections.
struct Scale {
    per_mm: f64,
    /// Depth of the coats together, mm: the face of a wall with all its coats stands here from the stone.
    coldest_c: f64,
    hottest_c: f64,
}

impl Scale {
    fn of(story: &Told, chosen: &[Chosen<'_>], wide: f64) -> Self {
        let coats_mm: f64 = story.coats.iter().filter(|coat| coat.placed.is_some()).map(|coat| coat.thickness_m * 1000.0).sum();
        let shown = || chosen.iter().flat_map(|section| &section.day.section).filter(|cell| cell.depth_m * 1000.0 < coats_mm + STONE_MM);
        let coldest = shown().map(|cell| cell.temperature_c).fold(f64::INFINITY, f64::min);
        let hottest = shown().map(|cell| cell.temperature_c).fold(f64::NEG_INFINITY, f64::max);
        let coldest_c = (coldest / 5.0).floor() * 5.0;
        Self { per_mm: wide / (coats_mm + STONE_MM), coldest_c, hottest_c: ((hottest / 5.0).ceil() * 5.0).max(coldest_c + 5.0) }
    }
}

/// Upper and lower edge of the three bands, from the top of a row of sections.
fn bands(theme: &Theme, top: f64) -> [(f64, f64); 3] {
    let size = theme.size;
    let from = top + size * 2.9;
    [(from, from + size * 4.0), (from + size * 4.6, from + size * 7.6), (from + size * 8.2, from + size * 10.6)]
}

fn labels(canvas: &mut Canvas, theme: &Theme, scale: &Scale, top: f64) {
    let size = theme.size;
    let [water, lime, heat] = bands(theme, top);
    for (band, name, low, high) in [
        (water, "Water", "0", "full"),
        (lime, "Lime", "0", "all"),
        (heat, "°C", &*format!("{:.0}", scale.coldest_c), &*format!("{:.0}", scale.hottest_c)),
    ] {
        canvas.text(0.0, (band.0 + band.1) / 2.0 + size * 0.3, name, Hand::bold(theme));
        canvas.text(size * 4.7, band.0 + size * 0.75, high, Hand::soft(theme).end());
        canvas.text(size * 4.7, band.1, low, Hand::soft(theme).end());
    }
}

fn one(canvas: &mut Canvas, theme: &Theme, story: &Told, section: &Chosen<'_>, scale: &Scale, (left, top): (f64, f64)) {
    let size = theme.size;
    canvas.group("day", &words::day(section.day.date));
    let room = 0.98 * (STONE_MM * scale.per_mm + coats_mm(story) * scale.per_mm) + size * 1.0;
    let date = metrics::cut(&words::day(section.day.date), metrics::Face::SansBold, size, room);
    canvas.text(left, top + size * 0.9, &date, Hand::bold(theme));
    canvas.text(left, top + size * 2.2, &metrics::cut(&section.says, metrics::Face::Sans, size, room), Hand::soft(theme));
    let [water, lime, heat] = bands(theme, top);
    let face = left + (STONE_MM + on_wall_mm(story, section.number)) * scale.per_mm;
    ground(canvas, theme, story, section.number, scale, left, (water.0, heat.1));
    let cells = shown(section, scale, (left, face));
    for (cell, (x0, x1)) in &cells {
        bar(canvas, (*x0, *x1), water, cell.water_share, theme.water);
        bar(canvas, (*x0, *x1), water, cell.ice_share, theme.ink);
        if let Some(share) = cell.portlandite_share {
            bar(canvas, (*x0, *x1), lime, share, theme.madder);
        }
    }
    let span = scale.hottest_c - scale.coldest_c;
    let y = |celsius: f64| heat.1 - (celsius - scale.coldest_c) / span * (heat.1 - heat.0);
    if scale.coldest_c < 0.0 && scale.hottest_c > 0.0 {
        canvas.dashed((left, y(0.0)), (face, y(0.0)), theme.graphite, theme.rule, size * 0.25);
    }
    let line: Vec<(f64, f64)> = cells.iter().map(|(cell, (x0, x1))| ((x0 + x1) / 2.0, y(cell.temperature_c))).collect();
    canvas.polyline(&line, theme.ink, theme.heavy * 0.8);
    for band in [water, lime, heat] {
        canvas.line((left, band.1), (face, band.1), theme.graphite, theme.rule);
    }
    canvas.line((face, water.0), (face, heat.1), theme.ink, theme.heavy);
    canvas.unclip();
}

fn coats_mm(story: &Told) -> f64 {
    story.coats.iter().filter(|coat| coat.placed.is_some()).map(|coat| coat.thickness_m * 1000.0).sum()
}

fn on_wall_mm(story: &Told, day: usize) -> f64 {
    let on = |coat: &&works::ToldCoat| coat.placed.is_some_and(|at| day_of(story, at.date) <= day);
    story.coats.iter().filter(on).map(|coat| coat.thickness_m * 1000.0).sum()
}

/// Tones of stone and coats behind the bands, with their joints.
fn ground(canvas: &mut Canvas, theme: &Theme, story: &Told, day: usize, scale: &Scale, left: f64, (top, bottom): (f64, f64)) {
    let stone = STONE_MM * scale.per_mm;
    canvas.rect((left, top), (stone, bottom - top), theme.stone, "none", 0.0);
    let mut x = left + stone;
    for coat in story.coats.iter().filter(|coat| coat.placed.is_some_and(|at| day_of(story, at.date) <= day)) {
        let wide = coat.thickness_m * 1000.0 * scale.per_mm;
        canvas.rect((x, top), (wide, bottom - top), tone_of(theme, coat.kind), "none", 0.0);
        canvas.line((x, top), (x, bottom), theme.ink, theme.rule);
        x += wide;
    }
}

/// Cells within the picture and where they stand, from the stone outward.
fn shown<'c>(section: &'c Chosen<'_>, scale: &Scale, (left, face): (f64, f64)) -> Vec<(&'c ProfileCell, (f64, f64))> {
    let place = |cell: &'c ProfileCell| {
        let (inner, outer) = ((cell.depth_m + cell.width_m / 2.0) * 1000.0, (cell.depth_m - cell.width_m / 2.0) * 1000.0);
        let (x0, x1) = ((face - inner * scale.per_mm).max(left), face - outer * scale.per_mm);
        (x1 > left + 1e-9).then_some((cell, (x0, x1)))
    };
    section.day.section.iter().filter_map(place).collect()
}

/// A share as a bar that stands on its band.
fn bar(canvas: &mut Canvas, (x0, x1): (f64, f64), (top, bottom): (f64, f64), share: f64, tone: &str) {
    let tall = (bottom - top) * share.clamp(0.0, 1.0);
    if tall > 0.05 {
        // A hair over, so that no seam shows between neighbours.
        canvas.rect((x0, bottom - tall), (x1 - x0 + 0.15, tall), tone, "none", 0.0);
    }
}

fn describe(story: &Told, chosen: &[Chosen<'_>]) -> String {
    let sections: Vec<String> = chosen
        .iter()
        .map(|section| {
            let coats = story.coats.iter().enumerate().filter_map(|(index, coat)| {
                let cells: Vec<&ProfileCell> = section.day.section.iter().filter(|cell| cell.stratum == Stratum::Coat(index)).collect();
                let thick: f64 = cells.iter().map(|cell| cell.width_m).sum();
                let mean = |of: fn(&ProfileCell) -> f64| cells.iter().map(|cell| of(cell) * cell.width_m).sum::<f64>() / thick * 100.0;
                (thick > 0.0).then(|| {
                    let caustic = mean(|cell| cell.portlandite_share.unwrap_or(0.0));
                    format!(
                        "{} {:.0} % full of water, {caustic:.0} % caustic",
                        brief(&coat.name).to_lowercase(),
                        mean(|cell| cell.water_share)
                    )
                })
            });
            format!("{}: {}", words::day(section.day.date), coats.collect::<Vec<_>>().join("; "))
        })
        .collect();
    format!("Sections on {}. {}.", words::counted(chosen.len(), "evening", "evenings"), sections.join(". "))
}
