//! The year of start weeks: how long the job takes and what it costs when begun in each, the coats lost, and each wall's safe weeks.

use jiff::civil::Date;
use works::{Season, SeasonWeek, WallSeason};

use super::{Canvas, Figure, Hand, Theme, width};
use crate::words;

/// Room left for the names at the left, in sizes of a word.
const NAMES: f64 = 9.5;

/// The almanac drawn: one column a start week.
pub fn season(season: &Season, theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let size = theme.size;
    let place = Place { left: size * NAMES, step: (theme.wide - size * (NAMES + 0.5)) / season.weeks.len().max(1) as f64, size };
    let mut y = size * 2.2;
    y = days(&mut canvas, theme, &place, season, y);
    y = money(&mut canvas, theme, &place, season, y + size * 2.2);
    y = redone(&mut canvas, theme, &place, season, y + size * 2.2);
    y += size * 2.0;
    for wall in &season.walls {
        y = safe(&mut canvas, theme, &place, season, wall, y);
    }
    y = months(&mut canvas, theme, &place, season, y);
    marks(&mut canvas, theme, &place, season, (size * 1.5, y - size * 1.7));
    canvas.finish("When to start", describe(season), theme.wide, y + size * 0.6)
}

/// Where the weeks stand.
struct Place {
    left: f64,
    step: f64,
    size: f64,
}

impl Place {
    fn x(&self, week: usize) -> f64 {
        self.left + self.step * week as f64
    }

    fn middle(&self, week: usize) -> f64 {
        self.x(week) + self.step / 2.0
    }
}

/// A panel of two values a week: a mark at the middle year and a line up to what 8 years in 10 do not pass, over a faint mark for every year.
struct Panel<'w> {
    title: [&'w str; 2],
    values: Vec<(Option<f64>, Option<f64>)>,
    /// By week, the value of every year.
    years: Vec<Vec<f64>>,
    unit: &'w dyn Fn(f64) -> String,
}

fn panel(canvas: &mut Canvas, theme: &Theme, place: &Place, told: &Panel, top: f64) -> f64 {
    let size = place.size;
    let height = size * 7.0;
    let all = || told.values.iter().flat_map(|(middle, eight)| [*middle, *eight]).flatten().chain(told.years.iter().flatten().copied());
    let (low, high) = all().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
    let base = top + height;
    canvas.text(0.0, top + size * 2.3, told.title[0], Hand::bold(theme));
    canvas.text(0.0, top + size * 3.7, told.title[1], Hand::soft(theme));
    canvas.line((place.left, base), (place.x(told.values.len()), base), theme.ink, theme.rule);
    if !low.is_finite() {
        canvas.text(place.left + size, top + size * 3.0, "in no week of the year", Hand::soft(theme));
        return base;
    }
    let room = (high - low).max(1e-9);
    let y = |value: f64| base - size * 0.6 - (value - low) / room * (height - size * 1.6);
    let hand = Hand::soft(theme).end();
    canvas.text(place.left - size * 0.5, y(low) + size * 0.35, &(told.unit)(low), hand);
    if y(low) - y(high) > size * 1.3 {
        canvas.text(place.left - size * 0.5, y(high) + size * 0.35, &(told.unit)(high), hand);
    }
    for (week, (middle, eight)) in told.values.iter().enumerate() {
        let x = place.middle(week);
        for year in told.years.get(week).into_iter().flatten() {
            canvas.line((x - place.step * 0.3, y(*year)), (x + place.step * 0.3, y(*year)), theme.graphite, theme.rule * 0.4);
        }
        if let (Some(middle), Some(eight)) = (middle, eight) {
            canvas.line((x, y(*middle)), (x, y(*eight)), theme.ochre, theme.heavy);
        }
        if let Some(middle) = middle {
            canvas.circle((x, y(*middle)), (place.step * 0.28).min(size * 0.28), theme.ink, theme.ink, theme.rule);
        }
        if eight.is_none() {
            // Not finished in eight years of ten.
            canvas.line((x - place.step * 0.2, base - size * 0.3), (x + place.step * 0.2, base - size * 0.3), theme.madder, theme.heavy);
        }
    }
    base
}

fn days(canvas: &mut Canvas, theme: &Theme, place: &Place, season: &Season, top: f64) -> f64 {
    let of = |week: &SeasonWeek| (week.days.0.map(f64::from), week.days.1.map(f64::from));
    let years = |week: &SeasonWeek| {
        let first = week.start;
        let days = week.runs.iter().filter_map(|run| run.finished).filter_map(|last| first.until(last).ok());
        days.map(|span| f64::from(span.get_days()) + 1.0).collect()
    };
    let told = Panel {
        title: ["Days to finish", "each year a dash"],
        values: season.weeks.iter().map(of).collect(),
        years: season.weeks.iter().map(years).collect(),
        unit: &|value| format!("{value:.0}"),
    };
    panel(canvas, theme, place, &told, top)
}

fn money(canvas: &mut Canvas, theme: &Theme, place: &Place, season: &Season, top: f64) -> f64 {
    let mark = season.weeks.first().and_then(|week| week.runs.first()).map_or("", |run| run.cost.currency.mark.as_str());
    let of = |week: &SeasonWeek| {
        let amount = |money: &Option<reckoning::Money>| money.as_ref().map(reckoning::Money::to_f64);
        (amount(&week.cost.0), amount(&week.cost.1))
    };
    let unit = |value: f64| format!("{mark}{:.1} k", value / 1000.0);
    let values = season.weeks.iter().map(of).collect();
    let told = Panel { title: ["Cost", "before tax"], values, years: Vec::new(), unit: &unit };
    panel(canvas, theme, place, &told, top)
}

/// Share of years in which a coat is redone, as bars of at most one year in one.
fn redone(canvas: &mut Canvas, theme: &Theme, place: &Place, season: &Season, top: f64) -> f64 {
    let size = place.size;
    let height = size * 3.2;
    let base = top + height;
    canvas.text(0.0, top + size * 1.3, "Coats redone,", Hand::bold(theme));
    canvas.text(0.0, top + size * 2.7, "years of 10", Hand::soft(theme));
    let years = f64::from(season.years.max(1));
    let most = season.weeks.iter().map(|week| f64::from(week.redone.0) / years).fold(0.0, f64::max);
    let hand = Hand::soft(theme).end();
    canvas.text(place.left - size * 0.5, base, "0", hand);
    if most > 0.0 {
        canvas.text(place.left - size * 0.5, top + size * 0.9, &format!("{:.0}", (most * 10.0).ceil()), hand);
    }
    let full = ((most * 10.0).ceil() / 10.0).max(0.1);
    for (week, told) in season.weeks.iter().enumerate() {
        let tall = f64::from(told.redone.0) / years / full * (height - size * 0.4);
        if tall > 0.0 {
            canvas.rect((place.x(week) + place.step * 0.15, base - tall), (place.step * 0.7, tall), theme.madder, "none", 0.0);
        }
    }
    canvas.line((place.left, base), (place.x(season.weeks.len()), base), theme.ink, theme.rule);
    base
}

/// A wall's weeks: filled where its first coat is safe in 8 years of 10, open where not, blank where too few years came to it.
fn safe(canvas: &mut Canvas, theme: &Theme, place: &Place, season: &Season, wall: &WallSeason, top: f64) -> f64 {
    let size = place.size;
    let tall = size * 1.1;
    let letters: String = survey::compass(wall.faces_deg).split('-').filter_map(|word| word.chars().next()).collect();
    let room = place.left - size * 1.4 - width(&letters.to_uppercase(), super::Face::Sans, size);
    canvas.text(0.0, top + tall * 0.85, &super::cut(&wall.name, super::Face::Sans, size, room), Hand::plain(theme));
    canvas.text(place.left - size * 0.5, top + tall * 0.85, &letters.to_uppercase(), Hand::soft(theme).end());
    for (number, week) in wall.weeks.iter().enumerate().take(season.weeks.len()) {
        let (fill, stroke) = match week.is_safe() {
            Some(true) => (theme.straightening, theme.graphite),
            Some(false) => (theme.madder_wash, theme.madder),
            None => continue,
        };
        canvas.rect((place.x(number) + place.step * 0.08, top), (place.step * 0.84, tall), fill, stroke, theme.rule * 0.5);
        if week.is_safe() == Some(false) {
            // Not by colour alone.
            canvas.line(
                (place.x(number) + place.step * 0.2, top + tall * 0.8),
                (place.x(number) + place.step * 0.8, top + tall * 0.2),
                theme.madder,
                theme.rule,
            );
        }
    }
    top + size * 1.7
}

/// Months under the weeks.
fn months(canvas: &mut Canvas, theme: &Theme, place: &Place, season: &Season, top: f64) -> f64 {
    let size = place.size;
    let hand = Hand::soft(theme);
    let mut free_from = f64::NEG_INFINITY;
    let mut last: Option<(i16, i8)> = None;
    for (week, told) in season.weeks.iter().enumerate() {
        let month = (told.start.year(), told.start.month());
        if last == Some(month) {
            continue;
        }
        last = Some(month);
        canvas.line((place.x(week), top), (place.x(week), top + size * 0.5), theme.ink, theme.rule);
        let name = told.start.strftime(if told.start.month() == 1 { "%b %Y" } else { "%b" }).to_string();
        let x = place.x(week) + size * 0.2;
        let wide = width(&name, hand.face, hand.size);
        if x > free_from && x + wide <= theme.wide {
            canvas.text(x, top + size * 1.4, &name, hand);
            free_from = x + wide + size * 0.4;
        }
    }
    canvas.text(0.0, top + size * 1.4, "first day", hand);
    top + size * 1.9
}

/// The job's own start and the best one, through all panels.
fn marks(canvas: &mut Canvas, theme: &Theme, place: &Place, season: &Season, (top, bottom): (f64, f64)) {
    let mut taken: Option<(f64, f64)> = None;
    let told = [(season.best, "least cost"), (season.own.filter(|own| season.best != Some(*own)), "the job's start")];
    for (week, name) in told.into_iter().filter_map(|(week, name)| Some((week?, name))) {
        let x = place.middle(week);
        canvas.dashed((x, top), (x, bottom), theme.graphite, theme.rule, place.size * 0.25);
        let words = format!("{name}, {}", words::short_day(season.weeks[week].start));
        let hand = Hand::soft(theme).middle();
        let half = width(&words, hand.face, hand.size) / 2.0;
        let x = x.clamp(place.left + half, theme.wide - half);
        if taken.is_none_or(|(left, right)| x + half < left || right < x - half) {
            canvas.text(x, top - place.size * 0.1, &words, hand);
            taken = Some((x - half, x + half));
        }
    }
}

fn describe(season: &Season) -> String {
    let walls: Vec<&str> = season.walls.iter().map(|wall| wall.says.as_str()).collect();
    let span: Option<(Date, Date)> = season.weeks.first().zip(season.weeks.last()).map(|(first, last)| (first.start, last.start));
    let span = span.map_or(String::new(), |(first, last)| format!(" from {} to {}", words::full_day(first), words::full_day(last)));
    format!(
        "Start weeks{span} in {} weather years: days to finish and cost, a mark at the middle year and a line to what 8 years in 10 do not pass, of the days a \
         dash for each year, the years in which a coat is redone, and the weeks in which each wall's first coat is safe. {} {}",
        season.years,
        season.sentence,
        walls.join(" ")
    )
}
