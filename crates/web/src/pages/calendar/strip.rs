//! The calendar drawn across: weeks in spreads, walls down, each wall grown outward from its stone over a row of day squares. Only what the saved
//! run holds is drawn.

use jiff::civil::{Date, Weekday};
use maud::{Markup, html};

use super::View;
use super::marks::{self, Mark};
use crate::plan::days::{self, between, is_coat, later};
use crate::plan::{Coat, Day, Task, WallRun};
use crate::words::trimmed;

/// Width of the drawing and of its column of names.
const WIDE: f64 = 1100.0;
const LEFT: f64 = 118.0;
/// Weeks on a spread at most, so that a square bears a letter.
const MOST_WEEKS: i64 = 8;
/// Height of the deepest wall, mm to scale.
const TALL: f64 = 62.0;

/// Some weeks across the sheet.
struct Spread {
    from: Date,
    days: i64,
    each: f64,
}

impl Spread {
    fn to(&self) -> Date {
        later(self.from, self.days - 1)
    }

    fn x(&self, date: Date) -> f64 {
        LEFT + between(self.from, date).clamp(0, self.days) as f64 * self.each
    }

    fn right(&self) -> f64 {
        LEFT + self.days as f64 * self.each
    }

    fn dates(&self) -> impl Iterator<Item = Date> + '_ {
        (0..self.days).map(|offset| later(self.from, offset))
    }

    fn holds(&self, date: Date) -> bool {
        self.from <= date && date <= self.to()
    }
}

/// All weeks of a run, spread by spread.
pub fn spreads(view: &View<'_>, walls: &[&WallRun]) -> Markup {
    let weeks = (between(view.from, view.to) + 1) / 7;
    let sheets = ((weeks + MOST_WEEKS - 1) / MOST_WEEKS).max(1);
    let on_each = (weeks + sheets - 1) / sheets;
    let each = (WIDE - LEFT) / (on_each * 7) as f64;
    html! {
        @for sheet in 0..sheets {
            @let first = sheet * on_each;
            @let spread = Spread { from: later(view.from, first * 7), days: (weeks - first).min(on_each) * 7, each };
            @if spread.days > 0 { (one(view, walls, &spread)) }
        }
    }
}

/// A coat as it stands on the sheet.
struct Layer<'p> {
    coat: &'p Coat,
    task: &'p Task,
    /// Distances of its outer and inner face above the stone, as drawn.
    outer: f64,
    inner: f64,
}

fn layers<'p>(view: &View<'p>, wall: &'p WallRun, per_mm: f64) -> Vec<Layer<'p>> {
    let mut inner = 0.0;
    let mut all = Vec::new();
    for (coat, task) in days::laid(view.plan, wall) {
        let outer = inner + coat.thickness_m[1] * 1000.0 * per_mm;
        all.push(Layer { coat, task, outer, inner });
        inner = outer;
    }
    all
}

fn one(view: &View<'_>, walls: &[&WallRun], spread: &Spread) -> Markup {
    let deepest = walls.iter().filter_map(|wall| layers(view, wall, 1.0).last().map(|layer| layer.outer)).fold(1.0, f64::max);
    let per_mm = TALL / deepest;
    let mut rows = Vec::new();
    let mut top = if has_weather(view) { 118.0 } else { 36.0 };
    for wall in walls {
        let row = Row::of(view, wall, spread, per_mm, top);
        top += row.height;
        rows.push(row);
    }
    let label = format!("Calendar of {}, from {} to {}", walls.len(), crate::words::day(spread.from), crate::words::day(spread.to()));
    html! {
        svg.spread viewBox={ "0 0 " (WIDE) " " (top + 6.0) } role="group" aria-label=(label) {
            (idle(view, spread, top))
            (heads(spread))
            @if has_weather(view) { (weather(view, spread)) }
            @for row in &rows { (row.drawn(view, spread)) }
            path.rule-line d={ "M0 " (top) " H" (WIDE) } {}
            @if let Some(today) = view.today.filter(|today| spread.holds(*today)) { (now(spread, today, top)) }
        }
    }
}

fn has_weather(view: &View<'_>) -> bool {
    view.run.walls.iter().any(|wall| !wall.days.is_empty())
}

/// Weekends tinted over the whole height, with days the whole job is shut.
fn idle(view: &View<'_>, spread: &Spread, bottom: f64) -> Markup {
    let shut = |date: Date| {
        matches!(date.weekday(), Weekday::Saturday | Weekday::Sunday)
            || view.run.walls.iter().any(|wall| matches!(Mark::of(wall, date), Mark::Waits(works::WaitReason::Break)))
    };
    html! { @for date in spread.dates().filter(|date| shut(*date)) { rect x=(px(spread.x(date))) y="30" width=(px(spread.each)) height=(px(bottom - 30.0)) fill="var(--tint)" {} } }
}

/// Months and days of the month.
fn heads(spread: &Spread) -> Markup {
    html! {
        @for date in spread.dates() {
            @let x = spread.x(date);
            @if date == spread.from || date.day() == 1 { text.month x=(px(x + 2.0)) y="11" { (date.strftime("%B").to_string()) } }
            @if date.weekday() == Weekday::Monday || date.day() == 1 { path.tick d={ "M" (px(x)) " 15 V30" } {} }
            text.num x=(px(x + spread.each / 2.0)) y="26" { (date.day()) }
        }
        path.rule-line d={ "M" (LEFT) " 30 H" (px(spread.right())) } {}
    }
}

/// Night to day as bars, rain hanging from its line.
fn weather(view: &View<'_>, spread: &Spread) -> Markup {
    let record = |date: Date| view.run.walls.iter().find_map(|wall| days::record(wall, date));
    let all = || view.run.walls.iter().flat_map(|wall| &wall.days);
    let coldest = all().filter_map(|day| day.air_low_c).fold(0.0, f64::min);
    let hottest = all().filter_map(|day| day.air_high_c).fold(20.0, f64::max);
    let wettest = all().map(|day| day.rain_mm).fold(10.0, f64::max);
    let y = |celsius: f64| 84.0 - (celsius - coldest) / (hottest - coldest).max(1.0) * 46.0;
    let bar = |date: Date, day: &Day| {
        let x = spread.x(date) + spread.each * 0.36;
        let (Some(low), Some(high)) = (day.air_low_c, day.air_high_c) else { return html! {} };
        html! {
            rect.air x=(px(x)) y=(px(y(high))) width=(px(spread.each * 0.28)) height=(px((y(low) - y(high)).max(1.0))) {}
            @if day.rain_mm > 0.05 { rect.rain x=(px(spread.x(date) + spread.each * 0.2)) y="92" width=(px(spread.each * 0.6)) height=(px(day.rain_mm / wettest * 20.0)) {} }
        }
    };
    html! {
        text.lab x="0" y="52" { "Night to day" }
        @for mark in [5.0, 20.0] {
            path.mark d={ "M" (LEFT) " " (px(y(mark))) " H" (px(spread.right())) } {}
            text.num.end x=(LEFT - 5.0) y=(px(y(mark) + 4.0)) { (trimmed(mark, 0)) @if mark > 5.0 { " °C" } }
        }
        text.lab x="0" y="98" { "Rain" }
        text.num.end x=(LEFT - 5.0) y="112" { (trimmed(wettest, 0)) " mm" }
        path.water-line d={ "M" (LEFT) " 92 H" (px(spread.right())) } {}
        @for date in spread.dates() { @if let Some(day) = record(date) { (bar(date, day)) } }
    }
}

fn now(spread: &Spread, today: Date, bottom: f64) -> Markup {
    let x = spread.x(today) + spread.each / 2.0;
    html! { path.now d={ "M" (px(x)) " 30 V" (px(bottom)) } {} text.nowlab x=(px(x + 4.0)) y=(px(bottom - 4.0)) { "today" } }
}

/// One wall on a spread.
struct Row<'p> {
    wall: &'p WallRun,
    layers: Vec<Layer<'p>>,
    top: f64,
    stone: f64,
    height: f64,
    lines_of_names: usize,
}

impl<'p> Row<'p> {
    fn of(view: &View<'p>, wall: &'p WallRun, spread: &Spread, per_mm: f64, top: f64) -> Self {
        let layers = layers(view, wall, per_mm);
        let shown: Vec<&Layer<'_>> = layers.iter().filter(|layer| layer.task.from <= spread.to()).collect();
        // Room for the name and the area at the left, where nothing stands on the wall yet.
        let tall = shown.last().map_or(32.0, |layer| layer.outer).max(8.0);
        let lines_of_names = if shown.is_empty() { 0 } else { 2 };
        let stone = top + 14.0 + 14.0 * lines_of_names as f64 + tall;
        let most = wall.days.iter().filter(|day| spread.holds(day.date)).map(|day| day.wettings.min(4)).max().unwrap_or(0);
        let has_squares = spread.dates().any(|date| is_shown(wall, date));
        if !has_squares {
            return Self { wall, layers, top, stone, height: stone - top + 26.0, lines_of_names };
        }
        let height = (stone - top) + 6.0 + 8.0 + spread.each.min(22.0) + 6.0 + 7.0 * f64::from(most) + 8.0;
        Self { wall, layers, top, stone, height: height.max(74.0), lines_of_names }
    }

    fn drawn(&self, view: &View<'_>, spread: &Spread) -> Markup {
        let area = view.plan.survey.walls.iter().find(|wall| wall.slug == self.wall.slug).and_then(|wall| wall.measured.as_ref());
        html! {
            g {
                path.rule-line d={ "M0 " (px(self.top)) " H" (WIDE) } {}
                (name_lines(days::wall_name(view.plan, &self.wall.slug), self.top + 22.0))
                @if let Some(area) = area { text.num.start x="0" y=(px(self.stone + 4.0)) { (trimmed(area.net_m2 + area.reveal_m2, 1)) " m²" } }
                @for (index, layer) in self.layers.iter().enumerate() { (self.layer(spread, layer, index)) }
                rect x=(LEFT) y=(px(self.stone)) width=(px(spread.right() - LEFT)) height="6" fill="url(#h-stone)" {}
                path.heavy d={ "M" (LEFT) " " (px(self.stone)) " H" (px(spread.right())) } {}
                (self.cover(spread))
                (self.names(spread))
                (self.squares(view, spread))
                @if let Some(last) = self.wall.tasks.last().filter(|task| task.to < spread.from) { text.aside x=(LEFT) y=(px(self.stone + 20.0)) { "finished " (crate::words::day(last.to)) } }
            }
        }
    }

    /// A coat: the days it goes on solid, then carbonated outside and still caustic behind the front.
    fn layer(&self, spread: &Spread, layer: &Layer<'_>, index: usize) -> Markup {
        let fresh = layer.task.from.max(spread.from);
        let start = later(layer.task.to, 1);
        if layer.task.from > spread.to() {
            return html! {};
        }
        let (outer, inner) = (self.stone - layer.outer, self.stone - layer.inner);
        let begins = spread.x(start.max(spread.from));
        let right = spread.right();
        let depth = layer.coat.thickness_m[1];
        // The front lies as deep in the drawing as in the coat, in proportion.
        let y = |day: &Day| day.front_m.get(index).map(|front| outer + (front / depth.max(1e-6)).min(1.0) * (inner - outer));
        let mut line: Vec<(f64, f64)> = Vec::new();
        let before = self.wall.days.iter().rfind(|day| day.date < spread.from && day.date >= start).and_then(y);
        line.push((begins, before.unwrap_or(outer)));
        for day in self.wall.days.iter().filter(|day| day.date >= start && spread.holds(day.date)) {
            if let Some(y) = y(day) {
                line.push((spread.x(day.date) + spread.each, y));
            }
        }
        let followed = !self.wall.days.is_empty();
        let last = line.last().map_or(outer, |(_, y)| *y);
        let skin = format!("M{} {} {} L{} {} V{} Z", px(begins), px(outer), path_of(&line), px(right), px(last), px(outer));
        html! {
            @if begins < right {
                @if followed {
                    rect x=(px(begins)) y=(px(outer)) width=(px(right - begins)) height=(px(inner - outer)) fill="url(#h-caustic)" {}
                    path d=(skin) fill=(marks::hatch_of(&layer.coat.kind)) {}
                    path.front d={ "M" (px(begins)) " " (px(line.first().map_or(outer, |(_, y)| *y))) " " (path_of(&line)) " L" (px(right)) " " (px(last)) } {}
                } @else {
                    rect x=(px(begins)) y=(px(outer)) width=(px(right - begins)) height=(px(inner - outer)) fill=(marks::hatch_of(&layer.coat.kind)) {}
                }
                path.rule-line d={ "M" (px(begins)) " " (px(outer)) " H" (px(right)) } {}
            }
            @if start > spread.from {
                rect.open x=(px(spread.x(fresh))) y=(px(outer)) width=(px(begins - spread.x(fresh))) height=(px(inner - outer)) {}
                @for date in spread.dates().filter(|date| days::worked_on(layer.task, *date)) { rect.solid x=(px(spread.x(date))) y=(px(outer)) width=(px(spread.each)) height=(px(inner - outer)) {} }
            }
        }
    }

    fn surface(&self, date: Date) -> f64 {
        self.stone - self.layers.iter().filter(|layer| layer.task.from <= date).map(|layer| layer.outer).fold(0.0, f64::max)
    }

    /// The cover as a line of stitches above the face while it hangs.
    fn cover(&self, spread: &Spread) -> Markup {
        let stitches: String = self
            .wall
            .days
            .iter()
            .filter(|day| day.cover.is_some() && spread.holds(day.date))
            .map(|day| {
                let (x, y) = (spread.x(day.date), self.surface(day.date) - 5.0);
                format!("M{} {} h{} M{} {} v5", px(x), px(y), px(spread.each), px(x + spread.each / 2.0), px(y - 2.5))
            })
            .collect();
        html! { @if !stitches.is_empty() { path.cover d=(stitches) {} } }
    }

    /// Names over the coats that begin here; one that would run into another steps up.
    fn names(&self, spread: &Spread) -> Markup {
        let mut ends = vec![f64::NEG_INFINITY; self.lines_of_names.max(1)];
        let mut placed = Vec::new();
        for task in self.wall.tasks.iter().filter(|task| task.slug != "preparation" && spread.holds(task.from)) {
            let name = brief(&task.name);
            let wide = name.chars().count() as f64 * 6.9;
            let x = spread.x(task.from).min(spread.right() - wide);
            let line = ends.iter().position(|end| *end < x).unwrap_or(0);
            ends[line] = x + wide + 6.0;
            let y = self.surface(task.to) - 12.0 - 14.0 * line as f64;
            placed.push((x, y, name));
        }
        html! { @for (x, y, name) in &placed { text.coatname x=(px(*x)) y=(px(*y)) { (name) } } }
    }

    fn squares(&self, view: &View<'_>, spread: &Spread) -> Markup {
        let side = spread.each.min(22.0) - 2.0;
        let top = self.stone + 14.0;
        html! {
            @for date in spread.dates() {
                @let mark = Mark::of(self.wall, date);
                @let x = spread.x(date) + (spread.each - side) / 2.0;
                @if is_shown(self.wall, date) { (self.square(view, date, mark, (x, top, side))) }
            }
        }
    }

    fn square(&self, view: &View<'_>, date: Date, mark: Mark, (x, top, side): (f64, f64, f64)) -> Markup {
        let told = days::told(view.plan, view.run, self.wall, date).in_a_row();
        let says = format!("{}, {}: {told}", days::wall_name(view.plan, &self.wall.slug), crate::words::day(date));
        let middle = x + side / 2.0;
        let wettings = days::record(self.wall, date).map_or(0, |day| day.wettings.min(4));
        let (a, b) = (x + 4.0, x + side - 4.0);
        html! {
            rect class=(mark.class()) x=(px(x)) y=(px(top)) width=(px(side)) height=(px(side)) data-says=(says) data-goes=(view.day_address(&self.wall.slug, date)) {}
            @match mark {
                Mark::Preparation => path.cross d={ "M" (px(a)) " " (px(top + 4.0)) " L" (px(b)) " " (px(top + side - 4.0)) " M" (px(b)) " " (px(top + 4.0)) " L" (px(a)) " " (px(top + side - 4.0)) } {},
                Mark::Limewash => path.cross d={ "M" (px(a)) " " (px(top + side - 3.0)) " L" (px(middle)) " " (px(top + 3.0)) " M" (px(middle)) " " (px(top + side - 3.0)) " L" (px(b)) " " (px(top + 3.0)) } {},
                _ => { @if let Some(letter) = mark.letter() { text.lt x=(px(middle)) y=(px(top + side / 2.0 + 4.3)) { (letter) } } }
            }
            @for dot in 0..wettings { circle.dot cx=(px(middle)) cy=(px(top + side + 7.0 + 7.0 * f64::from(dot))) r="2.4" {} }
            @if self.wall.tasks.iter().any(|task| is_coat(task) && task.ready == Some(date)) { path.tri d={ "M" (px(middle - 4.5)) " " (px(self.stone + 7.0)) " h9 l-4.5 6.5 z" } {} }
        }
    }
}

/// True for a day that has a square: one on which something stands in the programme, or on which the wall is followed.
fn is_shown(wall: &WallRun, date: Date) -> bool {
    Mark::of(wall, date) != Mark::Free || days::record(wall, date).is_some()
}

/// The name of a wall in at most three lines.
fn name_lines(name: &str, top: f64) -> Markup {
    let mut lines: Vec<String> = Vec::new();
    for word in name.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + word.chars().count() < 12 => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    html! { @for (index, line) in lines.iter().take(3).enumerate() { text.wallname x="0" y=(px(top + 18.0 * index as f64)) { (line) } } }
}

/// The name of a coat without the word coat and without what stands behind a second comma.
fn brief(name: &str) -> String {
    name.split(", ").take(2).collect::<Vec<_>>().join(", ").replace(" coat", "")
}

fn path_of(points: &[(f64, f64)]) -> String {
    points.iter().map(|(x, y)| format!("L{} {}", px(*x), px(*y))).collect::<Vec<_>>().join(" ")
}

/// A length on the sheet, to a tenth.
fn px(value: f64) -> String {
    trimmed(value, 1)
}
