//! Fields of the coat system.

use super::{Field, Kind, Names, PRACTICE, Page, Preset, Reach, Shelf, Word, count, metres, millimetres, number, per_cent};

const fn coat(path: &'static str, label: &'static str, kind: Kind) -> Field {
    Field::new(Page::Coats, path, label, kind)
}

/// Kinds of coat.
pub const COAT_KINDS: &[Word] = &[
    ("scud", "the first thrown coat, one grain thick, that gives a key"),
    ("straightening", "the coat that fills the hollows"),
    ("finish", "the last coat, that takes the weather"),
];

/// How a coat is placed.
pub const PLACINGS: &[Word] = &[("thrown", "thrown from the trowel"), ("laid", "laid on with hawk and trowel")];

/// What tends the coats after they are on the wall.
pub const PROTECTIONS: &[Word] = &[
    ("rule", "the cover of the specification for its days, damped so many times a day"),
    ("chosen", "on each wall and coat whichever of the four below risks least, then costs least"),
    ("nothing", "no cover"),
    ("hessian-by-rule", "hessian by the hazard of the day: damp against drying, dry against frost and rain"),
    ("sheltered", "a roofed and sheeted scaffold"),
    ("heated", "the same, gently heated while it is cold"),
];

pub(super) const FIELDS: &[Field] = &[
    coat("system", "the coat system", Kind::Section).help("What goes on the walls. What is left out is chosen for you and marked assumed."),
    coat("system.lime", "lime", Kind::Entry(Shelf::Limes))
        .ask("Which lime?")
        .help("A name of the catalogue, or one of your own from a data sheet. Left out, one is chosen for the walls, their exposure and the season.")
        .assume(
            Preset::Word("putty-cl90"),
            Reach::Words("putty-cl90", "nhl-3-5"),
            "matured putty, the trade's first choice for a sheltered season; common practice, no source",
        ),
    coat("system.sand", "sand of the first coats", Kind::Entry(Shelf::Sands))
        .ask("Which sand for scud and straightening?")
        .help("Sharp, coarse, concrete grade; never soft building sand.")
        .assume(Preset::Word("sharp-0-4"), Reach::None, PRACTICE),
    coat("system.finish_sand", "sand of the finish", Kind::Entry(Shelf::Sands))
        .ask("Which sand for the finish?")
        .help("It gives texture and colour: bring it in one load.")
        .assume(Preset::Word("gritty-0-8"), Reach::None, PRACTICE),
    coat("system.all_thrown", "every coat thrown", Kind::Flag)
        .ask("Is every coat thrown, the straightening too?")
        .help("Otherwise the straightening is laid with hawk and trowel and ruled.")
        .assume(Preset::Flag(false), Reach::Either, PRACTICE),
    coat("system.straight_edge_m", "straight-edge", metres(0.3, 4.0))
        .ask("How long is the edge the straightening is ruled with?")
        .help("Longer is flatter and takes more mortar; on old rubble short edges look better.")
        .assume(Preset::Number(0.9), Reach::Numbers(0.6, 1.8), PRACTICE),
    coat("system.pinning_mm", "depth that is pinned", millimetres(24.0, 150.0))
        .ask("From what depth are hollows filled with pinning stones?")
        .help("Shallower hollows are dubbed out in passes of 12 mm.")
        .usual(Preset::Number(48.0), "four passes; common practice, no source"),
    coat("system.limewash_coats", "coats of limewash", count(0.0, 12.0)).ask("How many coats of limewash?").assume(
        Preset::Number(5.0),
        Reach::Numbers(4.0, 6.0),
        PRACTICE,
    ),
    coat("system.colour", "colour", super::WORDS).ask("What colour is it to be?").assume(
        Preset::Word("the natural off-white of lime"),
        Reach::None,
        "no pigment was named",
    ),
    coat("system.pigment_g_per_litre", "pigment in the limewash", number(0.1, 100.0, "g/litre"))
        .ask("How many grams of pigment go into a litre of limewash?")
        .help("A lime-fast mineral pigment, weighed on the sample panel. More than about a tenth of the lime's dry mass weakens the wash."),
    coat("system.cover", "cover hung after each coat", Kind::Entry(Shelf::Covers)).ask("What is hung before a fresh coat?").assume(
        Preset::Word("damp-hessian"),
        Reach::None,
        PRACTICE,
    ),
    coat("system.protection", "what tends the coats", Kind::Choice(PROTECTIONS))
        .ask("How are fresh coats to be tended?")
        .help("\"rule\" hangs the cover for a number of days; the others decide hour by hour from a forecast.")
        .usual(Preset::Word("rule"), PRACTICE),
    coat("system.cement_percent", "cement in the binder", per_cent(0.0, 100.0))
        .ask("Does anyone ask for cement in the mix, and how much?")
        .help("Any cement is a stop: the finding says why.")
        .usual(Preset::Number(0.0), "none"),
    coat("system.coats", "coats given by the job", Kind::Each { names: Names::Slugs, at_most: 12 })
        .help("The coats in order, the one against the stone first. Left out, they are chosen for each wall."),
    coat("system.coats.*.kind", "kind of coat", Kind::Choice(COAT_KINDS)).required().ask("Scud, straightening or finish?"),
    coat("system.coats.*.lime", "lime of the coat", Kind::Entry(Shelf::Limes))
        .ask("Which lime for this coat?")
        .usual(Preset::Worked("the lime of the system"), "the lime of the system"),
    coat("system.coats.*.sand", "sand of the coat", Kind::Entry(Shelf::Sands))
        .ask("Which sand for this coat?")
        .usual(Preset::Worked("the sand of the system; for a finish the sand of the finish"), "the sand of the system"),
    coat("system.coats.*.mix", "mix", Kind::Ratio { low: 0.5, high: 6.0 })
        .required()
        .ask("Lime to sand, by volume?")
        .help("As it is spoken, such as \"1:2½\". For quicklime: as putty."),
    coat("system.coats.*.thickness_mm", "thickness", millimetres(1.0, 40.0))
        .required()
        .ask("How thick in the middle?")
        .help("More than about 15 mm goes on in several coats; hollows deeper than 40 mm are pinned with stone first."),
    coat("system.coats.*.placing", "how it is placed", Kind::Choice(PLACINGS))
        .ask("Thrown or laid?")
        .usual(Preset::Worked("thrown; a straightening is laid unless every coat is thrown"), PRACTICE),
    coat("system.coats.*.least_wait_days", "least days before the next", number(0.0, 120.0, "days"))
        .ask("At least how many days before the next coat?")
        .usual(Preset::Number(7.0), PRACTICE),
];
