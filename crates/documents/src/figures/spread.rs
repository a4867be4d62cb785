//! When it ends: one mark for each weather year, on a line of dates.

use jiff::civil::Date;
use works::Plan;

use super::metrics;
use super::{Canvas, Figure, Hand, Theme};
use crate::words;

/// The spread of finish dates. Without odds it shows the years there are and says why no odds are given.
pub fn spread(plan: &Plan, theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let mut finishes: Vec<Date> = plan.programme.runs.iter().filter_map(|run| run.finished).collect();
    finishes.sort();
    let unfinished = plan.programme.runs.len() - finishes.len();
    let (Some(first), Some(last)) = (finishes.first().copied(), finishes.last().copied()) else {
        return none_finished(canvas, theme);
    };
    let (from, to) = (words::days_after(first, -5), words::days_after(last, 5));
    let span = words::days_between(from, to) as f64;
    let room = theme.wide - if unfinished > 0 { theme.size * 11.0 } else { theme.size };
    let x = |date: Date| words::days_between(from, date) as f64 / span * room;
    let stacks = stacks(&finishes);
    let radius = (theme.size * 0.36).min(room / span * 0.45);
    let tallest = stacks.iter().map(|(_, count)| *count).max().unwrap_or(0) as f64;
    let head = theme.size * 3.4;
    let base = head + tallest.max(2.0) * radius * 2.5 + radius;
    let by = plan.programme.odds.as_ref().map(|odds| odds.eight_in_ten);
    for (date, count) in &stacks {
        let late = by.is_some_and(|by| *date > by);
        canvas.group(
            "says",
            &format!("{} finished on {}.", words::capital(&words::counted(*count, "year is", "years are")), words::weekday(*date)),
        );
        for mark in 0..*count {
            let y = base - radius * 1.6 - mark as f64 * radius * 2.5;
            let (fill, stroke) = if late { (theme.paper, theme.ink) } else { (theme.ink, theme.ink) };
            canvas.circle((x(*date), y), radius, fill, stroke, theme.rule);
        }
        canvas.unclip();
    }
    canvas.line((0.0, base), (room, base), theme.ink, theme.rule);
    axis(&mut canvas, theme, (from, to), base, &x);
    if let Some(odds) = &plan.programme.odds {
        let line = x(odds.eight_in_ten) + radius * 1.7;
        canvas.line((line, theme.size * 0.2), (line, base + theme.size * 0.5), theme.ochre, theme.heavy);
        label_odds(&mut canvas, theme, line, room, odds);
    }
    if unfinished > 0 {
        let hand = Hand::soft(theme);
        let lines = metrics::wrap(
            &format!("{} not finished this season", words::counted(unfinished, "year", "years")),
            hand.face,
            hand.size,
            theme.size * 9.5,
        );
        canvas.lines(room + theme.size * 1.2, base - theme.size * 1.2, &lines, hand);
    }
    canvas.finish("When it ends", describe(plan, &finishes), theme.wide, base + theme.size * 2.0)
}

/// Finish dates with the number of years on each, in order.
fn stacks(finishes: &[Date]) -> Vec<(Date, usize)> {
    let mut stacks: Vec<(Date, usize)> = Vec::new();
    for date in finishes {
        match stacks.last_mut() {
            Some((known, count)) if known == date => *count += 1,
            _ => stacks.push((*date, 1)),
        }
    }
    stacks
}

/// Mondays under the line, as many as there is room for.
fn axis(canvas: &mut Canvas, theme: &Theme, (from, to): (Date, Date), base: f64, x: &impl Fn(Date) -> f64) {
    let to_monday = (8 - i64::from(from.weekday().to_monday_one_offset())) % 7;
    let mut monday = words::days_after(from, to_monday);
    let mut free_from = f64::NEG_INFINITY;
    let hand = Hand::soft(theme).middle();
    while monday <= to {
        canvas.line((x(monday), base), (x(monday), base + theme.size * 0.35), theme.ink, theme.rule);
        let boxed = hand.boxed(x(monday), base + theme.size * 1.35, &words::short_day(monday));
        if boxed.left > free_from && boxed.left >= 0.0 && boxed.right <= theme.wide {
            canvas.text(x(monday), base + theme.size * 1.35, &words::short_day(monday), hand);
            free_from = boxed.right + theme.size;
        }
        monday = words::days_after(monday, 7);
    }
}

/// The words left and right of the line, each on the side where there is room.
fn label_odds(canvas: &mut Canvas, theme: &Theme, line: f64, room: f64, odds: &works::Odds) {
    let sooner = format!("{} years of {}: by {}", odds.eight_in_ten_years, odds.years, words::weekday(odds.eight_in_ten));
    let rest = odds.years.saturating_sub(odds.eight_in_ten_years) as usize;
    let later = match rest {
        0 => "no year is later".to_owned(),
        rest => format!("{}: later, or not at all", words::counted(rest, "year", "years")),
    };
    let (bold, soft) = (Hand::bold(theme), Hand::soft(theme));
    let gap = theme.size * 0.7;
    let fits_left = metrics::width(&sooner, bold.face, bold.size) + gap <= line;
    if fits_left {
        canvas.text(line - gap, theme.size, &sooner, bold.end());
    } else {
        canvas.text(line + gap, theme.size, &sooner, bold);
    }
    let y = if fits_left { theme.size } else { theme.size * 2.35 };
    if line + gap + metrics::width(&later, soft.face, soft.size) <= room.max(theme.wide) {
        canvas.text(line + gap, y, &later, soft);
    } else {
        canvas.text(line - gap, theme.size * 2.35, &later, soft.end());
    }
}

fn describe(plan: &Plan, finishes: &[Date]) -> String {
    let ends = match (finishes.first(), finishes.last()) {
        (Some(first), Some(last)) => {
            format!("The soonest year ends on {}, the latest on {}.", words::weekday(*first), words::weekday(*last))
        }
        _ => String::new(),
    };
    format!(
        "One mark for each of {} weather years at the day it finishes. {} {ends}",
        plan.programme.runs.len(),
        words::capital(&words::finish_in_words(plan))
    )
}

fn none_finished(mut canvas: Canvas, theme: &Theme) -> Figure {
    canvas.text(0.0, theme.size * 1.2, "No weather year finishes this season.", Hand::bold(theme));
    canvas.finish("When it ends", "No weather year finishes this season.", theme.wide, theme.size * 2.0)
}
