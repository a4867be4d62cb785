//! Fields that name the job and its documents, and the weather it is reckoned with.

use super::{Field, Kind, Page, Preset, WORDS, count};

const fn job(path: &'static str, label: &'static str, kind: Kind) -> Field {
    Field::new(Page::Job, path, label, kind)
}

/// Kinds of weather, by the words written in a job.
pub const WEATHER_KINDS: &[super::Word] = &[
    ("measured", "years that were measured"),
    ("typical", "one typical year put together from months of several: no odds can be taken from it"),
    ("made", "years made from monthly normals"),
    ("invented", "invented for a demonstration"),
];

/// What the foreman may know of the weather to come, by the words written in a job.
const FORESIGHT: &[super::Word] = &[
    ("forecast", "a forecast that errs the more the further it looks"),
    ("perfect", "the weather as it will be: nobody has it, and it shows what foresight is worth"),
    ("none", "nothing: he expects tomorrow to be as today was"),
];

pub(super) const FIELDS: &[Field] = &[
    job("format", "format of the file", Kind::Choice(&[("job/1", "the first format of a job file")]))
        .help("Lets a later version know how to read this file.")
        .usual(Preset::Word("job/1"), "the only format so far"),
    job("job", "the job", Kind::Section).help("What the documents are headed with."),
    job("job.name", "name of the job", WORDS).required().ask("What is the job called?").help("The name of the house or of the work."),
    job("job.place", "place", WORDS).required().ask("Where is it?").help("Village or town; printed on every document."),
    job("job.client", "client", WORDS).ask("Who is it for?").usual(Preset::Word(""), "left out"),
    job("job.contractor", "contractor", WORDS).ask("Who does the work?").usual(Preset::Word(""), "left out"),
    job("job.surveyor", "surveyor", WORDS).ask("Who measured it?").usual(Preset::Word(""), "left out"),
    job("job.revision", "revision of the plan", count(1.0, 9999.0))
        .help("Goes up by one each time the plan is sent out.")
        .usual(Preset::Number(1.0), "the first"),
    job("job.dated", "date on the documents", Kind::Date)
        .help("The tool reads no clock: the date printed is the one written here.")
        .usual(Preset::Worked("the day of the survey"), "the day of the survey"),
    job("job.invented", "invented for a demonstration", Kind::Flag)
        .help("True if the people, the place and the prices are made up; every document then says so.")
        .usual(Preset::Flag(false), "a job is real unless it says otherwise"),
    job("job.time_zone", "time zone of the site", Kind::Text { most: 60 })
        .ask("Which time zone is the site in?")
        .help("A name of the IANA list, such as \"Europe/London\".")
        .usual(Preset::Word("Europe/London"), "the default of the file"),
    job("job.seed", "seed of every random draw", count(0.0, 9_007_199_254_740_991.0))
        .help("The same seed gives the same plan.")
        .usual(Preset::Number(1.0), "any number will do"),
    Field::new(Page::Season, "weather", "weather", Kind::Section)
        .help("Hourly weather of the place. Without it the days between coats go by rule of thumb and no odds are given."),
    Field::new(Page::Season, "weather.file", "weather file", Kind::Text { most: 400 })
        .required()
        .ask("Which file holds the hourly weather?")
        .help("An EPW file or an hourly CSV, named from the folder this job file stands in."),
    Field::new(Page::Season, "weather.kind", "kind of weather", Kind::Choice(WEATHER_KINDS))
        .ask("Were these years measured, or made?")
        .help("Left out, what the file says of itself holds."),
    Field::new(
        Page::Season,
        "weather.monthly_rain_mm",
        "rain of each month",
        Kind::Numbers { low: 0.0, high: 3000.0, measure: super::Measure::As("mm"), at_least: 12, at_most: 12 },
    )
    .ask("How much rain falls in each month, January first?")
    .help("Twelve totals in mm, needed only when the weather file has no rain in it."),
    Field::new(Page::Season, "weather.foresight", "what the foreman knows of the weather to come", Kind::Choice(FORESIGHT))
        .help("A forecast that errs the more the further it looks; or, to see what foresight is worth, nothing or the truth.")
        .usual(Preset::Word("forecast"), "as on a real site"),
];
