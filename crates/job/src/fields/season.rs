//! Fields of when and by whom: start, working days, gangs.

use super::{Field, Kind, Names, PRACTICE, Page, Preset, Reach, WORDS, Word, count, number};

const fn season(path: &'static str, label: &'static str, kind: Kind) -> Field {
    Field::new(Page::Season, path, label, kind)
}

/// Days of the week.
pub const DAYS: &[Word] = &[
    ("mon", "Monday"),
    ("tue", "Tuesday"),
    ("wed", "Wednesday"),
    ("thu", "Thursday"),
    ("fri", "Friday"),
    ("sat", "Saturday"),
    ("sun", "Sunday"),
];

/// What a gang does between visits.
pub const BETWEEN: &[Word] = &[
    ("idle-paid", "it stays on the job and is paid"),
    ("away", "it goes away unpaid and comes back when called"),
    ("other-work", "it has other work near by and comes back when called"),
];

pub(super) const FIELDS: &[Field] = &[
    season("window", "start and end", Kind::Section).help("When work may begin and must end."),
    season("window.start", "first day on the wall", Kind::Date).required().ask("On what day would you start on the wall?"),
    season("window.finish_by", "latest day allowed", Kind::Date).ask("Is there a day by which it must be finished?"),
    season("calendar", "working time", Kind::Section).help("Days and hours worked on this job."),
    season("calendar.days", "days worked", Kind::Choices(DAYS))
        .ask("Which days of the week do you work?")
        .usual(Preset::Words(&["mon", "tue", "wed", "thu", "fri"]), PRACTICE),
    season("calendar.from", "start of the day", Kind::Time).ask("When does the day start?").usual(Preset::Word("08:00"), PRACTICE),
    season("calendar.to", "end of the day", Kind::Time).ask("When does it end?").usual(Preset::Word("16:30"), PRACTICE),
    season("calendar.breaks", "days not worked", Kind::Spells { at_most: 100 })
        .ask("Which days are not worked: holidays, the fair week?")
        .help("Each as its first and last day.")
        .usual(Preset::Words(&[]), "none"),
    season("gangs", "the gangs", Kind::Each { names: Names::Slugs, at_most: 50 })
        .help("Who throws. Left out, one gang of two masons and a labourer."),
    season("gangs.*.name", "name of the gang", WORDS).usual(Preset::Worked("the short name"), "the short name"),
    season("gangs.*.masons", "masons", count(0.0, 40.0)).ask("How many masons?").usual(Preset::Number(2.0), PRACTICE),
    season("gangs.*.labourers", "labourers", count(0.0, 40.0)).ask("How many labourers?").usual(Preset::Number(1.0), PRACTICE),
    season("gangs.*.between", "between visits", Kind::Choice(BETWEEN))
        .ask("What does the gang do while a coat cures?")
        .usual(Preset::Word("other-work"), PRACTICE),
    season("gangs.*.travel_h", "travel there and back", number(0.0, 12.0, "hours"))
        .ask("How many hours of travel, there and back?")
        .assume(Preset::Number(1.0), Reach::Numbers(0.5, 2.0), PRACTICE),
    season("gangs.*.home_each_night", "home each night", Kind::Flag)
        .ask("Does the gang go home each night while it works here?")
        .help("Then its travel is paid each day it is on site; otherwise once a visit.")
        .assume(Preset::Flag(true), Reach::Either, PRACTICE),
];
