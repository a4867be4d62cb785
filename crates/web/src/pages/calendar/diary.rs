//! A wall as a diary: a week on a line, a day in a square, with what it holds in words. The same squares serve a phone, where the words fold away.

use jiff::civil::Date;
use maud::{Markup, html};

use super::View;
use super::marks::{self, Mark};
use crate::layout::{answer, part};
use crate::plan::WallRun;
use crate::plan::days::{self, What, between, later};
use crate::words::{capital, counted, day, long_day, trimmed};

const DAYS: [(&str, &str); 7] = [
    ("Mon", "Monday"),
    ("Tue", "Tuesday"),
    ("Wed", "Wednesday"),
    ("Thu", "Thursday"),
    ("Fri", "Friday"),
    ("Sat", "Saturday"),
    ("Sun", "Sunday"),
];

/// The page of a wall.
pub fn sheet(view: &View<'_>, wall: &WallRun) -> Markup {
    let name = days::wall_name(view.plan, &wall.slug);
    let coats = wall.tasks.iter().filter(|task| days::is_coat(task)).count();
    let ends = wall.tasks.last().map(|task| task.to);
    let sentence = match (wall.tasks.iter().find(|task| days::is_coat(task)), ends) {
        (Some(first), Some(ends)) => html! {
            "The " (name.to_lowercase()) " takes its first coat on " (long_day(first.from)) " and is finished on " (long_day(ends)) "."
        },
        _ => html! { "No coat goes on the " (name.to_lowercase()) " " (view.year_words()) "." },
    };
    let then = html! {
        (capital(&counted(coats, "coat", "coats"))) " and the limewash, " (view.year_words()) ". "
        @if let (Some(from), Some(to)) = (wall.scaffold_from, wall.scaffold_to) { "It stands in scaffold from " (day(from)) "; that can come down after " (day(to)) ". " }
        a href={ (view.job.address("calendar")) (view.asking()) } { "All walls" }
    };
    let notes = html! { p { "A week on a line. Every square opens the day." } (marks::key()) };
    let pick = html! {
        nav aria-label="Walls" { ul.wallpick {
            @for other in &view.run.walls {
                li { a href=(view.wall_address(&other.slug)) aria-current=[(other.slug == wall.slug).then_some("page")] { (days::wall_name(view.plan, &other.slug)) } }
            }
        } }
    };
    html! {
        (answer("One wall of the calendar.", &sentence, &then))
        (part("Day by day", &notes, &html! { svg.hatches width="0" height="0" aria-hidden="true" { (marks::hatches()) } (pick) (table(view, wall, false)) (marks::letters(view.run)) }))
    }
}

/// The weeks of a wall as a table.
pub fn table(view: &View<'_>, wall: &WallRun, named: bool) -> Markup {
    let (from, to) = extent(view, wall);
    let name = days::wall_name(view.plan, &wall.slug);
    html! {
        table.diary {
            caption { @if named { h3 { a href=(view.wall_address(&wall.slug)) { (name) } } } @else { "The days of the " (name.to_lowercase()) } }
            thead { tr { @for (short, long) in DAYS { th scope="col" { abbr title=(long) { (short) } } } } }
            tbody {
                @for week in 0..=between(from, to) / 7 {
                    tr { @for weekday in 0..7 { (square(view, wall, later(from, week * 7 + weekday))) } }
                }
            }
        }
    }
}

/// The weeks in which something stands for a wall.
fn extent(view: &View<'_>, wall: &WallRun) -> (Date, Date) {
    let first = wall.tasks.first().map_or(view.from, |task| days::monday(task.from));
    let last = wall.tasks.last().map(|task| task.to).max(wall.days.last().map(|day| day.date));
    let last = wall.still_waiting.last().map(|wait| wait.to).max(last).unwrap_or(view.to);
    (first, later(days::monday(last), 6))
}

fn square(view: &View<'_>, wall: &WallRun, date: Date) -> Markup {
    let mark = Mark::of(wall, date);
    let record = days::record(wall, date);
    let is_today = view.today == Some(date);
    let number = if date.day() == 1 || date.weekday() == jiff::civil::Weekday::Monday {
        date.strftime("%-d %b").to_string()
    } else {
        date.day().to_string()
    };
    let cover = record.and_then(|day| day.cover.as_deref());
    html! {
        td class={ (mark.class().replace("sq ", "d-")) @if cover.is_some() { " hung" } @if is_today { " is-today" } } {
            a href=(view.day_address(&wall.slug, date)) aria-current=[is_today.then_some("date")] {
                span.dn { (number) }
                @if let Some(sign) = mark.sign() { span.dl aria-hidden="true" { (sign) } }
                span.dw { (words(view, wall, date)) }
                @if let Some(record) = record {
                    @if let Some(cover) = cover { span.dc { (days::material_name(view.plan, cover)) } }
                    @if record.wettings > 0 { span.dd { span.dots aria-hidden="true" { @for _ in 0..record.wettings.min(4) { "•" } } span.say { "damped " (documents::words::times(record.wettings)) } } }
                    @if let (Some(low), Some(high)) = (record.air_low_c, record.air_high_c) { span.da { (trimmed(low, 0)) " to " (trimmed(high, 0)) " °C" @if record.rain_mm >= 1.0 { ", rain " (trimmed(record.rain_mm, 0)) " mm" } } }
                }
            }
        }
    }
}

/// What the day holds, in few words.
fn words(view: &View<'_>, wall: &WallRun, date: Date) -> String {
    match days::what(wall, date) {
        What::Work(tasks) => {
            let words: Vec<String> = tasks.iter().map(|task| days::work_words(view.plan, task)).collect();
            capital(&words.join(", "))
        }
        What::Waits(wait) => days::reason(&wait.reason).map_or(String::new(), marks::brief),
        What::Free => String::new(),
    }
}
