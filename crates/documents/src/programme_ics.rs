//! The programme as a calendar file: RFC 5545, whole days, stable identities, nothing from a clock.

use jiff::civil::Date;
use works::{Plan, Task, WallRun};

use crate::words;

/// The middle run's work as whole-day events, and what must be done before the start. `SEQUENCE` is the plan's revision and `DTSTAMP` the plan's
/// date, so that a later revision replaces an earlier one in a reader's calendar.
pub fn programme_ics(plan: &Plan) -> String {
    let mut out = String::new();
    let mut line = |text: String| fold(&mut out, &text);
    line("BEGIN:VCALENDAR".to_owned());
    line("VERSION:2.0".to_owned());
    line("PRODID:-//harlwright//plan 1//EN".to_owned());
    line("CALSCALE:GREGORIAN".to_owned());
    line(format!("X-WR-CALNAME:{}", text(&format!("{}, {}", plan.about.name, plan.about.place))));
    for event in events(plan) {
        for property in event {
            line(property);
        }
    }
    line("END:VCALENDAR".to_owned());
    out
}

/// Sixteen hexadecimal digits that depend on the words alone (FNV-1a), so that a later revision of a job updates the same events.
fn identity(words: &[&str]) -> String {
    let bytes = words.iter().flat_map(|word| word.bytes().chain(std::iter::once(0)));
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3));
    format!("{hash:016x}")
}

fn events(plan: &Plan) -> Vec<Vec<String>> {
    let job = identity(&[&plan.about.name, &plan.about.place]);
    let before = plan.programme.before.iter().map(|before| {
        let says = format!("{}: no later than today", before.what);
        event(plan, &format!("before.{}", before.path), &job, (before.by, before.by), &says, &before.why)
    });
    let run = plan.programme.runs.get(plan.programme.middle);
    let walls = run.iter().flat_map(|run| &run.walls);
    let tasks = walls.flat_map(|wall| wall.tasks.iter().map(move |task| (wall, task)));
    let scaffold = run.iter().flat_map(|run| &run.walls).flat_map(|wall| wall.scaffold.iter().map(move |step| (wall, step)));
    let scaffold = scaffold.map(|(wall, step)| {
        let (key, does) = (format!("walls.{}.scaffold-{:?}", wall.slug, step.kind), crate::steps::scaffold_words(step.kind));
        let says = format!("{}: {does}", words::wall_name(plan, &wall.slug));
        event(plan, &key.to_lowercase(), &job, (step.from, step.to), &says, "Reckoned for the middle weather year.")
    });
    before.chain(tasks.map(|(wall, task)| task_event(plan, &job, wall, task))).chain(scaffold).collect()
}

fn task_event(plan: &Plan, job: &str, wall: &WallRun, task: &Task) -> Vec<String> {
    let says = format!("{}: {}", words::wall_name(plan, &wall.slug), task.name);
    let waited = words::waits_in_words(&task.waited);
    let why =
        if waited.is_empty() { String::new() } else { format!(" Waited {} days before it: {waited}.", words::days_waited(&task.waited)) };
    let about = format!("Reckoned for the middle weather year. A reckoned date is not a test: make the nail test on the wall first.{why}");
    event(plan, &format!("walls.{}.{}", wall.slug, task.slug), job, (task.from, task.to), &says, &about)
}

fn event(plan: &Plan, path: &str, job: &str, (from, to): (Date, Date), says: &str, about: &str) -> Vec<String> {
    let invented = if plan.about.invented { " Invented example." } else { "" };
    vec![
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{}.{job}@harlwright.invalid", words::name_token(path)),
        format!("DTSTAMP:{}T120000Z", compact(plan.about.dated)),
        format!("SEQUENCE:{}", plan.about.revision),
        format!("DTSTART;VALUE=DATE:{}", compact(from)),
        format!("DTEND;VALUE=DATE:{}", compact(words::days_after(to, 1))),
        format!("SUMMARY:{}", text(says)),
        format!("DESCRIPTION:{}", text(&format!("{about}{invented}"))),
        format!("LOCATION:{}", text(&plan.about.place)),
        "TRANSP:TRANSPARENT".to_owned(),
        "END:VEVENT".to_owned(),
    ]
}

fn compact(date: Date) -> String {
    date.strftime("%Y%m%d").to_string()
}

/// Text as RFC 5545 section 3.3.11 wants it.
fn text(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// A content line folded so that none is longer than 75 octets (RFC 5545 section 3.1), never within a character.
fn fold(out: &mut String, line: &str) {
    let mut octets = 0;
    for c in line.chars() {
        if octets + c.len_utf8() > 75 {
            out.push_str("\r\n ");
            octets = 1;
        }
        out.push(c);
        octets += c.len_utf8();
    }
    out.push_str("\r\n");
}
