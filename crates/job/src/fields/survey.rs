//! Fields of the survey that hold for the whole building.

use super::{Field, Kind, Names, PRACTICE, Page, Preset, Reach, Word, number};

const fn survey(path: &'static str, label: &'static str, kind: Kind) -> Field {
    Field::new(Page::Survey, path, label, kind)
}

/// Stages of a survey.
pub const STAGES: &[Word] = &[
    ("before-stripping", "the old covering still hides the wall: quantities are ranges"),
    ("after-opening-up", "the wall is open: quantities are measured"),
];

/// Causes of damp.
pub const CAUSES: &[Word] = &[
    ("gutters", "gutters and their outlets"),
    ("downpipes", "downpipes"),
    ("wallhead", "the wallhead and the eaves over it"),
    ("skews", "skews and their flashings"),
    ("high-ground", "ground or paving banked against the wall"),
    ("rusting-iron", "iron built into the wall that rusts and bursts the stone"),
    ("salts", "salts in the wall"),
];

/// States of a cause of damp.
pub const STATES: &[Word] = &[
    ("sound", "looked at and sound"),
    ("mended", "was at fault and has been mended"),
    ("to-mend", "at fault: to be mended before any lime goes on"),
    ("not-seen", "nobody has looked yet"),
];

pub(super) const FIELDS: &[Field] = &[
    survey("survey", "the survey", Kind::Section).help("When the building was looked at, and how far it was opened up."),
    survey("survey.surveyed_on", "day of the survey", Kind::Date)
        .required()
        .ask("On what day was the wall looked at?")
        .help("The dampness found holds on this day; the wall dries or wets from there."),
    survey("survey.stage", "stage of the survey", Kind::Choice(STAGES))
        .ask("Is the old covering still on?")
        .help("Before stripping every quantity is a range; after opening up it is measured.")
        .usual(Preset::Word("before-stripping"), "the cautious reading"),
    survey("survey.protected", "listed or otherwise protected", Kind::Flag)
        .ask("Is the building listed or otherwise protected, so that consent is needed?")
        .help("Ask the planning authority; consent takes weeks.")
        .assume(Preset::Flag(true), Reach::Either, "the cautious reading, no source"),
    survey("survey.small_opening_m2", "openings not deducted up to", number(0.0, 10.0, "m²"))
        .ask("Up to what size is an opening not taken off the area?")
        .help("Zero takes off every opening. The work round a small opening is worth about the wall it saves.")
        .usual(Preset::Number(0.5), PRACTICE),
    survey("damp", "causes of damp", Kind::Each { names: Names::Of(CAUSES), at_most: 7 })
        .help("What lets water in. Nobody harls under a broken gutter: a cause not mended stops the job."),
    survey("damp.*.state", "state of a cause of damp", Kind::Choice(STATES))
        .ask("Sound, mended, to mend, or not seen yet?")
        .help("Look in the rain if you can.")
        .usual(Preset::Word("not-seen"), "nobody has said"),
    survey("damp.*.walls", "walls it wets", Kind::Walls)
        .ask("Which walls does it wet?")
        .help("Left out, all of them.")
        .usual(Preset::Words(&[]), "all the walls"),
];
