//! The calendar of coats: each wall grows outward from its stone, days across; the black line falling through a coat is the front of
//! carbonation; cover above, damping below, and under it every wait with its reason in words.

use std::collections::BTreeMap;

use jiff::civil::{Date, Weekday};
use works::{Plan, Task, WaitReason, WallRun, YearRun};

use super::hatch::{self, Hatch};
use super::metrics::{self, Face};
use super::{Canvas, Figure, Hand, Theme, WordBox};
use crate::words;

/// Days across the sheet.
struct Days {
    from: Date,
    to: Date,
    left: f64,
    each: f64,
}

impl Days {
    fn x(&self, date: Date) -> f64 {
        self.left + words::days_between(self.from, date) as f64 * self.each
    }

    fn right(&self) -> f64 {
        self.x(self.to) + self.each
    }
}

/// A coat as it is drawn.
struct Layer<'p> {
    task: &'p Task,
    hatch: Hatch,
    /// Millimetres from the stone to its inner and outer face.
    inner_mm: f64,
    outer_mm: f64,
}

/// A wait with its words, placed in a row.
struct WaitNote {
    from: Date,
    to: Date,
    words: String,
    row: usize,
    left: f64,
}

/// One wall ready to be drawn.
struct Strip<'p> {
    name: String,
    area_m2: f64,
    run: &'p WallRun,
    layers: Vec<Layer<'p>>,
    notes: Vec<WaitNote>,
    note_rows: usize,
    most_wettings: u32,
}

/// The calendar of the walls named by slug in the middle weather year; `None` if that year has none of them.
pub fn calendar(plan: &Plan, slugs: &[&str], theme: &Theme) -> Option<Figure> {
    let run = plan.programme.runs.get(plan.programme.middle)?;
    let days = days(run, theme)?;
    let strips: Vec<Strip<'_>> = slugs.iter().filter_map(|slug| strip(plan, run, slug, &days, theme)).collect();
    if strips.is_empty() {
        return None;
    }
    let mut canvas = Canvas::new(theme);
    let deepest = strips.iter().filter_map(|strip| strip.layers.last()).map(|layer| layer.outer_mm).fold(1.0, f64::max);
    let per_mm = theme.size * 4.0 / deepest;
    let head = theme.size * 8.9;
    let heights: Vec<f64> = strips.iter().map(|strip| height(strip, theme, per_mm)).collect();
    let bottom = head + heights.iter().sum::<f64>();
    idle_days(&mut canvas, theme, run, &days, bottom);
    week_heads(&mut canvas, theme, &days);
    weather(&mut canvas, theme, run, &days);
    let mut top = head;
    for (strip, tall) in strips.iter().zip(&heights) {
        draw_strip(&mut canvas, theme, strip, &days, (top, per_mm));
        top += tall;
    }
    canvas.line((0.0, bottom), (theme.wide, bottom), theme.graphite, theme.rule);
    let end = key(&mut canvas, theme, bottom + theme.size * 1.6);
    Some(canvas.finish("Calendar of coats", describe(plan, run, &strips), theme.wide, end))
}

fn days(run: &YearRun, theme: &Theme) -> Option<Days> {
    let tasks = || run.walls.iter().flat_map(|wall| &wall.tasks);
    let first = tasks().map(|task| task.from).min()?;
    let last = tasks().map(|task| task.to).max()?;
    let from = words::days_after(first, -i64::from(first.weekday().to_monday_zero_offset()));
    let to = words::days_after(last, 6 - i64::from(last.weekday().to_monday_zero_offset()));
    let left = theme.size * 13.8;
    let count = words::days_between(from, to) + 1;
    Some(Days { from, to, left, each: (theme.wide - left) / count as f64 })
}

fn strip<'p>(plan: &'p Plan, run: &'p YearRun, slug: &str, days: &Days, theme: &Theme) -> Option<Strip<'p>> {
    let wall = run.walls.iter().find(|wall| wall.slug == slug)?;
    let specified = plan.specification.walls.iter().find(|wall| wall.slug == slug)?;
    let mut layers = Vec::new();
    let mut inner_mm = 0.0;
    for coat in &specified.coats {
        let Some(task) = wall.tasks.iter().find(|task| task.slug == coat.slug) else { continue };
        let outer_mm = inner_mm + coat.thickness_m[1] * 1000.0;
        let hatch = match coat.kind {
            works::CoatKind::Scud => Hatch::Scud,
            works::CoatKind::Straightening => Hatch::Straightening,
            works::CoatKind::Finish => Hatch::Finish,
        };
        layers.push(Layer { task, hatch, inner_mm, outer_mm });
        inner_mm = outer_mm;
    }
    let (notes, note_rows) = notes(wall, days, theme);
    let measured = plan.survey.walls.iter().find(|measured| measured.slug == slug);
    Some(Strip {
        name: words::wall_name(plan, slug).to_owned(),
        area_m2: measured.map_or(0.0, |measured| measured.net_m2 + measured.reveal_m2),
        run: wall,
        layers,
        notes,
        note_rows,
        most_wettings: wall.days.iter().map(|day| day.wettings).max().unwrap_or(0).min(4),
    })
}

/// Waits in words, set from the last to the first: a note that finds its row taken goes below, so that its mark never crosses a later one.
fn notes(wall: &WallRun, days: &Days, theme: &Theme) -> (Vec<WaitNote>, usize) {
    let mut taken_from: Vec<f64> = Vec::new();
    let mut notes = Vec::new();
    for task in wall.tasks.iter().rev() {
        let (Some(first), Some(last)) = (task.waited.first(), task.waited.last()) else { continue };
        let room = days.right() - days.left;
        let count = words::days_waited(&task.waited);
        let says = format!("{count} {}: {}", if count == 1 { "day" } else { "days" }, words::waits_in_brief(&task.waited));
        let says = metrics::cut(&says, Face::Sans, theme.size, room);
        let wide = metrics::width(&says, Face::Sans, theme.size);
        let left = (days.x(first.from) + theme.size * 0.3).min(days.right() - wide).max(days.left);
        let row = taken_from.iter().position(|from| left + wide + theme.size < *from).unwrap_or(taken_from.len());
        if row == taken_from.len() {
            taken_from.push(left);
        } else {
            taken_from[row] = left;
        }
        notes.push(WaitNote { from: first.from, to: last.to, words: says, row, left });
    }
    (notes, taken_from.len())
}

/// Room a wall needs: names, coats, dots, notes.
fn height(strip: &Strip<'_>, theme: &Theme, per_mm: f64) -> f64 {
    above(theme) + tall(strip) * per_mm + below(strip, theme)
}

fn above(theme: &Theme) -> f64 {
    theme.size * 2.6
}

fn tall(strip: &Strip<'_>) -> f64 {
    strip.layers.last().map_or(1.0, |layer| layer.outer_mm)
}

fn below(strip: &Strip<'_>, theme: &Theme) -> f64 {
    theme.size * (0.9 + 0.55 * f64::from(strip.most_wettings) + 0.9 + 1.24 * strip.note_rows as f64 + 0.7)
}

/// Weekends tinted, other days not worked hatched, over the whole height.
fn idle_days(canvas: &mut Canvas, theme: &Theme, run: &YearRun, days: &Days, bottom: f64) {
    let top = theme.size * 1.9;
    let breaks: Vec<(Date, Date)> = run
        .walls
        .iter()
        .flat_map(|wall| wall.tasks.iter().flat_map(|task| &task.waited))
        .filter(|wait| wait.reason == WaitReason::Break)
        .map(|wait| (wait.from, wait.to))
        .collect();
    let mut day = days.from;
    while day <= days.to {
        if matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) {
            canvas.rect((days.x(day), top), (days.each, bottom - top), theme.tint, "none", 0.0);
        } else if breaks.iter().any(|(from, to)| *from <= day && day <= *to) {
            hatch::rect(canvas, theme, Hatch::Idle, (days.x(day), top), (days.each, bottom - top));
        }
        day = words::days_after(day, 1);
    }
}

fn week_heads(canvas: &mut Canvas, theme: &Theme, days: &Days) {
    let mut monday = days.from;
    let mut free_from = f64::NEG_INFINITY;
    while monday <= days.to {
        let x = days.x(monday);
        let hand = if monday.day() <= 7 { Hand::bold(theme) } else { Hand::plain(theme) };
        let says = words::short_day(monday);
        let boxed = hand.boxed(x + theme.size * 0.2, theme.size, &says);
        canvas.line((x, theme.size * 1.3), (x, theme.size * 1.9), theme.graphite, theme.rule);
        if boxed.left > free_from && boxed.right <= theme.wide {
            canvas.text(x + theme.size * 0.2, theme.size, &says, hand);
            free_from = boxed.right + theme.size * 0.8;
        }
        monday = words::days_after(monday, 7);
    }
    canvas.line((days.left, theme.size * 1.9), (theme.wide, theme.size * 1.9), theme.ink, theme.rule);
}

/// Night to day as bars, rain hanging from its line, from the day records of the middle year.
fn weather(canvas: &mut Canvas, theme: &Theme, run: &YearRun, days: &Days) {
    let size = theme.size;
    let mut records: BTreeMap<Date, (f64, f64, f64)> = BTreeMap::new();
    for record in run.walls.iter().flat_map(|wall| &wall.days) {
        records.entry(record.date).or_insert((record.air_c.0, record.air_c.1, record.rain_mm));
    }
    let (top, low) = (size * 2.3, size * 5.9);
    let coldest = records.values().map(|record| record.0).fold(0.0, f64::min);
    let hottest = records.values().map(|record| record.1).fold(20.0, f64::max);
    let y = |celsius: f64| low - (celsius - coldest) / (hottest - coldest).max(1.0) * (low - top);
    canvas.text(0.0, top + size * 1.0, "Night to day, °C", Hand::bold(theme));
    let year = format!("weather of the middle year, {}", run.year);
    canvas.lines(0.0, top + size * 2.2, &metrics::wrap(&year, Face::Sans, size, size * 8.8), Hand::soft(theme));
    for mark in [5.0, 20.0] {
        canvas.dashed((days.left, y(mark)), (theme.wide, y(mark)), theme.graphite, theme.rule * 0.7, size * 0.2);
        canvas.text(days.left - size * 0.4, y(mark) + size * 0.3, &format!("{mark:.0}"), Hand::soft(theme).end());
    }
    let rain_line = size * 6.5;
    canvas.line((days.left, rain_line), (theme.wide, rain_line), theme.water, theme.rule);
    canvas.text(0.0, rain_line + size * 0.7, "Rain, mm", Hand::bold(theme));
    let wettest = records.values().map(|record| record.2).fold(10.0, f64::max);
    for (date, (cold, hot, rain)) in &records {
        let x = days.x(*date) + days.each * 0.3;
        canvas.rect((x, y(*hot)), (days.each * 0.4, (y(*cold) - y(*hot)).max(theme.rule)), theme.ink, "none", 0.0);
        if *rain > 0.05 {
            canvas.rect((x, rain_line), (days.each * 0.55, rain / wettest * size * 1.5), theme.water, "none", 0.0);
        }
    }
    wettest_day(canvas, theme, &records, days, (rain_line, wettest));
}

/// The figure of the wettest day beside its bar.
fn wettest_day(canvas: &mut Canvas, theme: &Theme, records: &BTreeMap<Date, (f64, f64, f64)>, days: &Days, (line, wettest): (f64, f64)) {
    let found = records.iter().fold(None::<(&Date, f64)>, |best, (date, record)| match best {
        Some((_, most)) if most >= record.2 => best,
        _ => Some((date, record.2)),
    });
    let Some((date, rain)) = found.filter(|(_, rain)| *rain >= 1.0) else { return };
    let y = line + rain / wettest * theme.size * 1.5;
    let hand = Hand::soft(theme);
    let says = format!("{rain:.0}");
    let x = days.x(*date) + days.each * 1.2;
    let boxed = hand.boxed(x, y, &says);
    if boxed.right <= theme.wide {
        canvas.ground(&boxed);
        canvas.text(x, y, &says, hand);
    }
}

fn draw_strip(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, days: &Days, (top, per_mm): (f64, f64)) {
    let size = theme.size;
    canvas.group("wall", &strip.run.slug);
    canvas.line((0.0, top), (theme.wide, top), theme.graphite, theme.rule);
    let stone = top + above(theme) + tall(strip) * per_mm;
    let name = Hand::name(theme).sized(size * 1.25);
    let mut lines = metrics::wrap(&strip.name, name.face, name.size, size * 8.8);
    lines.truncate(4);
    let lines: Vec<String> = lines.iter().map(|line| metrics::cut(line, name.face, name.size, size * 8.8)).collect();
    let below_name = canvas.lines(0.0, top + size * 1.6, &lines, name);
    canvas.text(0.0, below_name, &format!("{:.1} m²", strip.area_m2), Hand::soft(theme));
    for layer in &strip.layers {
        draw_layer(canvas, theme, strip, layer, days, (stone, per_mm));
    }
    hatch::rect(canvas, theme, Hatch::Rubble, (days.left, stone), (theme.wide - days.left, size * 0.5));
    canvas.line((days.left, stone), (theme.wide, stone), theme.ink, theme.heavy);
    scale_of_coats(canvas, theme, strip, days, (stone, per_mm));
    cover(canvas, theme, strip, days, (stone, per_mm));
    limewash(canvas, theme, strip, days, stone - tall(strip) * per_mm);
    coat_names(canvas, theme, strip, days, (stone, per_mm, top));
    let dots = damping(canvas, theme, strip, days, stone + size * 1.0);
    draw_notes(canvas, theme, strip, days, dots);
    canvas.unclip();
}

/// A coat: the days it is thrown solid, then carbonated outside and still caustic behind the front.
fn draw_layer(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, layer: &Layer<'_>, days: &Days, (stone, per_mm): (f64, f64)) {
    let (outer, inner) = (stone - layer.outer_mm * per_mm, stone - layer.inner_mm * per_mm);
    let start = days.x(layer.task.to) + days.each;
    let right = days.right();
    let index = strip.layers.iter().position(|other| other.task.slug == layer.task.slug).unwrap_or(0);
    let front = |record: &works::DayRecord| record.front_m.get(index).map(|depth| (outer + depth * 1000.0 * per_mm).min(inner));
    let mut line = vec![(start, outer)];
    for record in strip.run.days.iter().filter(|record| record.date > layer.task.to) {
        if let Some(y) = front(record) {
            line.push((days.x(record.date) + days.each, y));
        }
    }
    if let Some((_, y)) = line.last().copied() {
        line.push((right, y));
    }
    hatch::rect(canvas, theme, Hatch::Caustic, (start, outer), (right - start, inner - outer));
    let mut skin = vec![(start, outer)];
    skin.extend(line.iter().copied());
    skin.push((right, outer));
    hatch::polygon(canvas, theme, layer.hatch, &skin, "none", 0.0);
    canvas.polyline(&line, theme.ink, theme.heavy);
    canvas.line((start, outer), (right, outer), theme.graphite, theme.rule);
    let thrown = days.x(layer.task.from);
    canvas.rect((thrown, outer), (start - thrown, inner - outer), theme.paper, theme.ink, theme.rule);
    let mut day = layer.task.from;
    while day <= layer.task.to {
        if words::worked_on(layer.task, day) {
            canvas.rect((days.x(day), outer), (days.each, inner - outer), theme.ink, theme.ink, theme.rule);
        }
        day = words::days_after(day, 1);
    }
}

/// Millimetres from the stone at the left of the strip, those that collide left out.
fn scale_of_coats(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, days: &Days, (stone, per_mm): (f64, f64)) {
    let hand = Hand::soft(theme).end().sized(theme.size * 0.94);
    let mut free_below = f64::INFINITY;
    for layer in &strip.layers {
        let y = stone - layer.outer_mm * per_mm;
        let unit = if std::ptr::eq(layer, &raw const strip.layers[strip.layers.len() - 1]) { " mm" } else { "" };
        let says = format!("{}{unit}", words::trimmed(layer.outer_mm, 1));
        let boxed = hand.boxed(days.left - theme.size * 0.5, y + theme.size * 0.3, &says);
        canvas.line((days.left - theme.size * 0.35, y), (days.left, y), theme.graphite, theme.rule);
        if boxed.bottom <= free_below {
            canvas.text(days.left - theme.size * 0.5, y + theme.size * 0.3, &says, hand);
            free_below = boxed.top;
        }
    }
}

/// Surface of the wall on a day, as a height on the sheet.
fn surface(strip: &Strip<'_>, day: Date, (stone, per_mm): (f64, f64)) -> f64 {
    let on = strip.layers.iter().filter(|layer| layer.task.from <= day).map(|layer| layer.outer_mm).fold(0.0, f64::max);
    stone - on * per_mm
}

/// Cover as a line of stitches above the surface while it hangs.
fn cover(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, days: &Days, at: (f64, f64)) {
    for record in strip.run.days.iter().filter(|record| record.cover.is_some()) {
        let y = surface(strip, record.date, at) - theme.size * 0.45;
        let (from, to) = (days.x(record.date), days.x(record.date) + days.each);
        canvas.line((from, y), (to, y), theme.hessian, theme.heavy);
        let middle = (from + to) / 2.0;
        canvas.line((middle, y - theme.size * 0.16), (middle, y + theme.size * 0.16), theme.hessian, theme.rule);
    }
}

/// A slanting stroke for each day of limewash.
fn limewash(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, days: &Days, outer: f64) {
    let Some(task) = strip.run.tasks.iter().find(|task| task.slug == "limewash") else { return };
    let mut day = task.from;
    while day <= task.to {
        let x = days.x(day);
        if !words::worked_on(task, day) {
            day = words::days_after(day, 1);
            continue;
        }
        canvas.line((x + days.each * 0.25, outer), (x + days.each * 0.75, outer - theme.size * 0.8), theme.ink, theme.heavy);
        day = words::days_after(day, 1);
    }
}

/// Names over the coats. A name that would run into the next coat ends at its own instead, and steps up where it would meet another.
fn coat_names(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, days: &Days, (stone, per_mm, top): (f64, f64, f64)) {
    let hand = Hand::bold(theme);
    let named = |task: &Task| task.slug == "limewash" || strip.layers.iter().any(|layer| layer.task.slug == task.slug);
    let tasks: Vec<&Task> = strip.run.tasks.iter().filter(|task| named(task)).collect();
    let mut placed: Vec<WordBox> = Vec::new();
    for (index, task) in tasks.iter().enumerate() {
        let name = brief(&task.name);
        let wide = metrics::width(&name, hand.face, hand.size);
        let next = tasks.get(index + 1).map_or(days.right(), |next| days.x(next.from) - theme.size * 0.3);
        let (start, end) = (days.x(task.from), days.x(task.to) + days.each);
        let x = if start + wide <= next { start } else { end.min(next) - wide };
        let x = x.min(days.right() - wide).max(days.left);
        let natural = surface(strip, task.to, (stone, per_mm)) - theme.size * 1.15;
        let free = (0..4).map(|step| natural - theme.size * 1.1 * f64::from(step)).find(|y| {
            let boxed = hand.boxed(x, *y, &name);
            boxed.top >= top + theme.size * 0.1 && !placed.iter().any(|other| other.meets(&boxed))
        });
        if let Some(y) = free {
            placed.push(canvas.text(x, y, &name, hand));
        }
    }
}

/// The name of a coat for a drawing: without the word coat and without what stands behind a second comma.
fn brief(name: &str) -> String {
    let parts: Vec<&str> = name.split(", ").take(2).collect();
    parts.join(", ").replace(" coat", "")
}

/// A dot for each wetting of a day; returns the line below the dots.
fn damping(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, days: &Days, top: f64) -> f64 {
    let radius = (theme.size * 0.2).min(days.each * 0.36);
    for record in &strip.run.days {
        for dot in 0..record.wettings.min(4) {
            let at = (days.x(record.date) + days.each / 2.0, top + theme.size * 0.55 * f64::from(dot));
            canvas.circle(at, radius, theme.water, "none", 0.0);
        }
    }
    top + theme.size * 0.55 * f64::from(strip.most_wettings)
}

/// Waits as dimension lines with their reason.
fn draw_notes(canvas: &mut Canvas, theme: &Theme, strip: &Strip<'_>, days: &Days, top: f64) {
    let size = theme.size;
    let line = top + size * 0.3;
    let base = |row: usize| line + size * (1.25 + 1.24 * row as f64);
    let hand = Hand::plain(theme);
    let boxes: Vec<WordBox> = strip.notes.iter().map(|note| hand.boxed(note.left, base(note.row), &note.words)).collect();
    for note in &strip.notes {
        let (from, to) = (days.x(note.from), days.x(note.to) + days.each);
        canvas.line((from, line), (to, line), theme.ochre, theme.rule * 1.4);
        for x in [from, to] {
            canvas.line((x, line - size * 0.3), (x, line + size * 0.3), theme.ochre, theme.rule * 1.4);
        }
        let foot = base(note.row) - size * 0.1;
        let crosses =
            boxes.iter().any(|other| other.left < from && from < other.right && other.top < foot && other.bottom < base(note.row));
        if note.row > 0 && !crosses {
            canvas.line((from, line), (from, foot), theme.ochre, theme.rule);
        }
        canvas.text(note.left, base(note.row), &note.words, hand);
    }
}

/// What the marks mean, in a line or more below the walls; returns the bottom of the sheet.
fn key(canvas: &mut Canvas, theme: &Theme, top: f64) -> f64 {
    let size = theme.size;
    let entries = ["thrown", "still caustic", "carbonated", "front, day by day", "cover hung", "a damping", "a day of limewash", "a wait"];
    let (mut x, mut y) = (0.0, top);
    for (index, says) in entries.iter().enumerate() {
        let wide = size * 3.0 + metrics::width(says, Face::Sans, size) + size * 1.2;
        if x > 0.0 && x + wide > theme.wide {
            x = 0.0;
            y += size * 1.7;
        }
        let (l, r, up, down) = (x, x + size * 2.2, y - size * 0.75, y + size * 0.15);
        match index {
            0 => canvas.rect((l, up), (r - l, down - up), theme.ink, "none", 0.0),
            1 => hatch::polygon(canvas, theme, Hatch::Caustic, &[(l, up), (r, up), (r, down), (l, down)], theme.graphite, theme.rule),
            2 => hatch::polygon(canvas, theme, Hatch::Straightening, &[(l, up), (r, up), (r, down), (l, down)], theme.graphite, theme.rule),
            3 => canvas.polyline(&[(l, up), (l + size * 0.6, y - size * 0.3), (r, y)], theme.ink, theme.heavy),
            4 => canvas.line((l, y - size * 0.3), (r, y - size * 0.3), theme.hessian, theme.heavy),
            5 => canvas.circle(((l + r) / 2.0, y - size * 0.3), size * 0.2, theme.water, "none", 0.0),
            6 => canvas.line((l + size * 0.9, down), (l + size * 1.4, up), theme.ink, theme.heavy),
            _ => canvas.line((l, y - size * 0.3), (r, y - size * 0.3), theme.ochre, theme.rule * 1.4),
        }
        canvas.text(x + size * 2.7, y, says, Hand::soft(theme));
        x += wide;
    }
    y + size * 0.9
}

fn describe(plan: &Plan, run: &YearRun, strips: &[Strip<'_>]) -> String {
    let walls: Vec<String> = strips
        .iter()
        .map(|strip| {
            let tasks: Vec<String> =
                strip.run.tasks.iter().map(|task| format!("{} {}", task.name, words::span(task.from, task.to))).collect();
            format!("{}: {}", strip.name, tasks.join("; "))
        })
        .collect();
    format!("Days across, in the middle weather year {}. {} {}.", run.year, plan.programme.waits_sentence, walls.join(". "))
}
