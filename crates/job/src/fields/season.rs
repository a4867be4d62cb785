//! Fields of when and by whom: start, working days, gangs.

use super::{Field, Kind, Measure, Names, PRACTICE, Page, Preset, Reach, WORDS, Word, count, number};

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

/// Who damps on days that are not worked.
pub const DAMPING: &[Word] = &[
    ("hand", "a hand living near, paid by the visit"),
    ("client", "the client, unpaid, with an instruction"),
    ("neighbour", "a neighbour, unpaid, with an instruction"),
];

/// How far the sample panel is.
pub const PANEL: &[Word] = &[
    ("not-begun", "nobody has begun it"),
    ("begun", "it goes through its coats and their curing"),
    ("approved", "it is seen and approved"),
];

/// How far a consent or a permit is.
pub const ASKING: &[Word] = &[
    ("not-needed", "none is needed"),
    ("not-asked", "it is needed and nobody has asked yet"),
    ("asked", "it is asked for"),
    ("given", "it is in hand, in writing"),
];

/// What is known of nests and bats.
pub const WILDLIFE: &[Word] = &[
    ("not-looked", "nobody has looked"),
    ("no-sign", "looked for, and no sign found"),
    ("sign", "there is a sign: a licensed person has to say"),
    ("cleared", "a licensed person has said that work may go on"),
];

pub(super) const BEFORE: &[Field] = &[
    season("before", "before the start", Kind::Section)
        .help("What has been done so far. What is left out is not known and delays nothing; what is said to be wanting does."),
    season("before.panel", "the sample panel", Kind::Choice(PANEL)).ask("How far is the sample panel?"),
    season("before.panel_begun", "day the panel was begun", Kind::Date).ask("On what day was the panel begun?"),
    season("before.consent", "consent", Kind::Choice(ASKING))
        .ask("If the building is protected: is consent in hand?")
        .help("Nothing is taken off or thrown before it."),
    season("before.consent_asked", "day consent was asked for", Kind::Date).ask("On what day was consent asked for?"),
    season("before.consent_weeks", "weeks consent takes", number(0.0, 104.0, "weeks"))
        .ask("How many weeks does the authority take, from drawings to decision?")
        .usual(Preset::Number(12.0), PRACTICE),
    season("before.pavement", "permit for the pavement", Kind::Choice(ASKING))
        .ask("Does the scaffold stand on a pavement or road, and is the permit in hand?"),
    season("before.pavement_asked", "day the permit was asked for", Kind::Date).ask("On what day was the permit asked for?"),
    season("before.pavement_weeks", "weeks the permit takes", number(0.0, 52.0, "weeks"))
        .ask("How many weeks does the roads authority take?")
        .usual(Preset::Number(4.0), PRACTICE),
    season("before.wildlife", "nests and bats", Kind::Choice(WILDLIFE))
        .ask("Has anybody looked for nests and bats?")
        .help("Where there is a sign only a licensed person may say what may be done."),
    season("before.wildlife_weeks", "weeks a licensed person takes", number(0.0, 104.0, "weeks"))
        .ask("How many weeks until a licensed person has looked?")
        .usual(Preset::Number(8.0), PRACTICE),
    season("before.coarse_stuff_laid", "day the coarse stuff was laid down", Kind::Date)
        .ask("On what day were putty and sand mixed and laid down for this job?")
        .help("It lies about twelve weeks. Left out, it is laid down by the day the order says, or bought matured."),
];

pub(super) const FIELDS: &[Field] = &[
    season("window", "start and end", Kind::Section).help("When work may begin and must end."),
    season("window.start", "first day on the wall", Kind::Date).required().ask("On what day would you start on the wall?"),
    season("window.finish_by", "latest day allowed", Kind::Date).ask("Is there a day by which it must be finished?"),
    season(
        "window.late_per_day",
        "charge for a day late",
        Kind::Decimal { low: 0.0, high: 10_000_000.0, measure: Measure::As("in the currency of the job") },
    )
    .ask("What does a day beyond the latest day cost?")
    .help("Used where orders of work are compared and visits are weighed; it stands in no price.")
    .usual(Preset::Worked("a day of all gangs' wages"), "a guess"),
    season("window.risk_percent", "charge for risk", Kind::Decimal { low: 0.0, high: 100.0, measure: Measure::PerCent })
        .ask("How much of what the dearest quarter of the years costs above the mean is charged for risk?")
        .help("Used where orders of work are compared; it stands in no price.")
        .usual(Preset::Number(25.0), "a guess"),
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
    season("calendar.hours_before_dusk", "hours a coat has before dusk", number(0.0, 8.0, "hours"))
        .ask("How many hours before dusk does the last coat of a day go on?")
        .help("A half-day with too little light before that counts as unfit for throwing.")
        .usual(Preset::Number(2.0), "common practice, no source; the figure is a guess"),
    season("calendar.hold_days", "days a visit is held back", count(0.0, 20.0))
        .ask("For how many working days may ready work be held back, so that another wall is done on the same visit?")
        .help("Only while the gang is away, and where the visit costs more than the days held. 0 for never.")
        .usual(Preset::Number(3.0), "a guess"),
    season("calendar.weekend_damping", "who damps on days off", Kind::Choice(DAMPING))
        .ask("Who damps the hessian at weekends and holidays?")
        .help("The client or a neighbour needs the one-page instruction, and must never climb the scaffold.")
        .usual(Preset::Word("hand"), PRACTICE),
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
