//! The site sheet for a phone: one HTML file that needs nothing else, neither a server nor a net. It shows each week as the middle year has it, and
//! keeps what is logged on the phone until it is handed over. No price stands on it. Without its script it can still be read.

use jiff::civil::Date;
use serde_json::json;
use works::Plan;

use crate::week::{Day, WallDay, Week, weeks};
use crate::words;

/// Weeks on the sheet at most; later weeks come with a later revision.
const MOST_WEEKS: usize = 40;

/// Where a server writes its address and the job's short name into the sheet it gives out; empty in a sheet made without a server.
pub const SERVER_PLACE: &str = "data-server=\"\" data-job=\"\"";

const STYLE: &str = include_str!("../templates/site-sheet.css");
const SCRIPT: &str = include_str!("../templates/site-sheet.js");

/// The sheet of a plan. The same plan gives the same bytes.
pub fn site_html(plan: &Plan) -> String {
    let about = &plan.about;
    let weeks = weeks(plan);
    let mut page = String::new();
    page += "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
    page += "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n";
    page +=
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n";
    page += &format!("<title>Site sheet: {}</title>\n<style>\n{STYLE}</style>\n</head>\n", text(&about.name));
    page += &format!("<body {SERVER_PLACE}>\n");
    page += &head(plan);
    if weeks.is_empty() {
        page += "<p class=\"lead\">The plan has no day of work in its middle year: nothing is thrown by this sheet.</p>\n";
    }
    page += "<main id=\"weeks\">\n";
    for week in weeks.iter().take(MOST_WEEKS) {
        page += &week_html(plan, week);
    }
    page += "</main>\n";
    if weeks.len() > MOST_WEEKS {
        page += &format!("<p>{} later weeks are left out; they come with a later revision of the plan.</p>\n", weeks.len() - MOST_WEEKS);
    }
    page += &log_form(plan);
    page += &foot(plan);
    page +=
        &format!("<script type=\"application/json\" id=\"sheet\">{}</script>\n<script>\n{SCRIPT}</script>\n</body>\n</html>\n", data(plan));
    page
}

/// The sheet as a server gives it out: with its address, the job's short name, and a mark that lets its style and script pass the server's rules.
pub fn site_html_served(sheet: &str, server: &str, job: &str, nonce: &str) -> String {
    let place = format!("data-server=\"{}\" data-job=\"{}\"", text(server), text(job));
    let nonce = text(nonce);
    let sheet = sheet.replacen(SERVER_PLACE, &place, 1).replacen("<style>", &format!("<style nonce=\"{nonce}\">"), 1);
    let last = sheet.rfind("<script>\n").unwrap_or(sheet.len());
    let (before, script) = sheet.split_at(last);
    format!("{before}{}", script.replacen("<script>", &format!("<script nonce=\"{nonce}\">"), 1))
}

fn head(plan: &Plan) -> String {
    let about = &plan.about;
    let invented = if about.invented { "<p class=\"note\">Everything in this job is invented.</p>\n" } else { "" };
    format!(
        "<header>\n<p class=\"over\">{place}</p>\n<h1>{name}</h1>\n<p class=\"lead\" id=\"answer\">The wall decides, not the sheet: make the test, then throw.</p>\n\
         <p class=\"note\">Reckoned for the middle weather year; plan revision {revision}, {dated}.</p>\n{invented}<p class=\"note\"><a href=\"#log\">Log what no button says</a>; <a href=\"#care\">take care</a></p>\n</header>\n",
        place = text(&about.place),
        name = text(&about.name),
        revision = about.revision,
        dated = words::full_day(about.dated),
    )
}

fn week_html(plan: &Plan, week: &Week) -> String {
    let sunday = words::days_after(week.monday, 6);
    let mut html = format!(
        "<section class=\"week\" id=\"week-{}\" data-to=\"{sunday}\">\n<h2>Week of {}</h2>\n",
        week.monday,
        words::full_day(week.monday)
    );
    for day in &week.days {
        html += &day_html(plan, day);
    }
    html + "</section>\n"
}

fn day_html(plan: &Plan, day: &Day) -> String {
    let mut html = format!("<section class=\"day\" data-day=\"{}\">\n<h3>{}</h3>\n", day.date, words::weekday(day.date));
    if day.walls.iter().all(|wall| !wall.asks() && wall.waits.is_none()) {
        return html + "<p class=\"none\">Nothing is asked of any wall.</p>\n</section>\n";
    }
    for wall in day.walls.iter().filter(|wall| wall.asks()) {
        html += &wall_html(plan, day.date, wall);
    }
    html + &idle(plan, day) + "</section>\n"
}

/// The walls that ask nothing of the day, in a line each.
fn idle(plan: &Plan, day: &Day) -> String {
    let line = |wall: &WallDay| {
        let says = wall.waits.as_ref().map_or_else(|| "no more coats".to_owned(), |waits| format!("no coat today. {waits}"));
        format!("<li><b>{}</b>: {}.</li>\n", text(words::wall_name(plan, &wall.slug)), text(&says))
    };
    let lines: String = day.walls.iter().filter(|wall| !wall.asks()).map(line).collect();
    if lines.is_empty() { lines } else { format!("<ul class=\"idle\">\n{lines}</ul>\n") }
}

fn wall_html(plan: &Plan, date: Date, wall: &WallDay) -> String {
    let (mark, answer) = match (&wall.coat, wall.work.is_empty(), &wall.waits) {
        (Some(_), _, _) if wall.test.is_some() => ("yes", format!("Yes, if the test holds: {}.", words::listed(&wall.work))),
        (Some(_), _, _) => ("yes", format!("Yes: {}.", words::listed(&wall.work))),
        (None, false, _) => ("work", format!("{}.", words::capital(&words::listed(&wall.work)))),
        (None, true, Some(waits)) => ("wait", format!("No coat today. {waits}.")),
        (None, true, None) => ("done", "No more coats.".to_owned()),
    };
    let row = |name: &str, says: &str| format!("<div><dt>{name}</dt><dd>{}</dd></div>\n", text(says));
    let damp = crate::week::damp_words(wall.wet, wall.evening);
    let test = wall.test.as_ref().map_or_else(|| "none today".to_owned(), |coat| format!("nail test on the {coat}"));
    format!(
        "<article class=\"wall {mark}\" data-wall=\"{slug}\" data-coat=\"{coat}\" data-day=\"{date}\" data-hang=\"{hangs}\" data-wet=\"{wet}\" data-test=\"{tests}\">\n\
         <h4>{name}</h4>\n<p class=\"may\">{answer}</p>\n<dl>\n{rows}</dl>\n</article>\n",
        slug = text(&wall.slug),
        coat = text(wall.coat.as_deref().unwrap_or_default()),
        hangs = text(wall.hang.as_deref().unwrap_or_default()),
        wet = wall.wet,
        tests = text(wall.test.as_deref().unwrap_or_default()),
        name = text(words::wall_name(plan, &wall.slug)),
        answer = text(&answer),
        rows = row("Hang", wall.hang.as_deref().unwrap_or("nothing changes"))
            + &row("Damp", &damp)
            + &wall.press.as_ref().map_or(String::new(), |says| row("Look", says))
            + &row("Test", &test),
    )
}

/// The form for what no button says; shown by the script, which alone can keep an entry.
fn log_form(plan: &Plan) -> String {
    let walls: String = plan
        .survey
        .building
        .walls
        .iter()
        .map(|wall| format!("<option value=\"{}\">{}</option>", text(&wall.slug), text(&wall.name)))
        .collect();
    let kinds: String = KINDS.iter().map(|(kind, words)| format!("<option value=\"{kind}\">{words}</option>")).collect();
    format!(
        "<noscript><p class=\"note\">This browser runs no script, so nothing can be logged here: read the sheet, and write on the paper one.</p></noscript>\n\
         <section id=\"log\" hidden aria-labelledby=\"log-head\">\n<h2 id=\"log-head\">Log</h2>\n<p id=\"kept\" role=\"status\"></p>\n\
         <form id=\"entry\">\n\
         <p><label for=\"wall\">Wall</label><select id=\"wall\">{walls}</select></p>\n\
         <p><label for=\"kind\">What</label><select id=\"kind\">{kinds}</select></p>\n\
         <p><label for=\"words\">In words</label><input id=\"words\" maxlength=\"400\" autocomplete=\"off\"></p>\n\
         <p><label for=\"who\">Who</label><input id=\"who\" maxlength=\"60\" autocomplete=\"name\"></p>\n\
         <p><button type=\"submit\">Keep it</button></p>\n</form>\n\
         <ol id=\"entries\"></ol>\n\
         <p class=\"hand\"><button type=\"button\" id=\"file\">Hand over as a file</button> <button type=\"button\" id=\"send\" hidden>Send to the job book</button></p>\n\
         <p class=\"note\" id=\"where\"></p>\n</section>\n"
    )
}

/// Sorts of entry, as the job book knows them, and in words.
const KINDS: [(&str, &str); 7] = [
    ("placed", "Coat on"),
    ("hung", "Cover hung"),
    ("struck", "Cover taken down"),
    ("damped", "Damped"),
    ("tested", "Tested"),
    ("reading", "Weather or reading"),
    ("note", "Something else"),
];

fn foot(plan: &Plan) -> String {
    let mut tests: Vec<(&str, Vec<&str>)> = Vec::new();
    for coat in plan.specification.walls.iter().flat_map(|wall| &wall.coats) {
        match tests.iter_mut().find(|(test, _)| *test == coat.test) {
            Some((_, names)) if names.contains(&coat.name.as_str()) => {}
            Some((_, names)) => names.push(&coat.name),
            None => tests.push((&coat.test, vec![&coat.name])),
        }
    }
    let tests: String =
        tests.iter().map(|(test, names)| format!("<dt>{}</dt><dd>{}</dd>\n", text(&names.join("; ")), text(test))).collect();
    let cautions: String = plan.cautions.iter().map(|caution| format!("<li>{}</li>\n", text(&caution.words))).collect();
    format!(
        "<footer>\n<h2>The tests</h2>\n<dl class=\"tests\">\n{tests}</dl>\n<h2 id=\"care\">Take care</h2>\n<ul>\n{cautions}</ul>\n<p class=\"note\">{}</p>\n</footer>\n",
        text(&plan.basis.weather)
    )
}

/// What the script needs: the job's name and revision.
fn data(plan: &Plan) -> String {
    let about = &plan.about;
    // A "<" inside could end the element early.
    json!({ "job": about.name, "place": about.place, "revision": about.revision, "dated": about.dated.to_string() })
        .to_string()
        .replace('<', "\\u003c")
}

/// Words made safe inside HTML, attributes too.
fn text(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
