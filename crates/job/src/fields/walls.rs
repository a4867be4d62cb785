//! Fields of the walls and of what is in them.

use super::{Field, Kind, Measure, Names, PRACTICE, Page, Preset, Reach, Shelf, WORDS, Word, metres, millimetres, number, per_cent};

const fn wall(path: &'static str, label: &'static str, kind: Kind) -> Field {
    Field::new(Page::Survey, path, label, kind)
}

/// Shapes of a wall.
pub const SHAPES: &[Word] = &[
    ("rectangle", "length by height"),
    ("gable", "a rectangle with a triangle on it"),
    ("polygon", "any outline, by its corners"),
    ("round", "part or all of a round tower or bow"),
];

/// What covers a wall now.
pub const COVERINGS: &[Word] = &[
    ("bare", "bare stone"),
    ("lime-harl", "an old lime harl"),
    ("cement", "a cement render or roughcast"),
    ("paint", "paint or masonry coating on the stone"),
];

/// Dampness to the touch.
pub const TOUCHES: &[Word] = &[
    ("dry", "feels like stone indoors, dust brushes off"),
    ("damp", "cool and darker, dust clings"),
    ("wet", "shines, or leaves the hand wet"),
];

/// Evenness by eye.
pub const EVENNESS: &[Word] = &[
    ("squared", "squared stones, close joints"),
    ("coursed", "coursed rubble, faces near one plane"),
    ("rubble", "random rubble, faces in and out"),
    ("rough-rubble", "rough rubble with deep hollows"),
];

/// What a file of relief holds.
pub const RELIEF_FORMS: &[Word] = &[("scan", "points of a scan"), ("offsets", "a table of offsets from a line or batten, mm")];

/// Units of a scan.
pub const RELIEF_UNITS: &[Word] = &[("m", "metres"), ("mm", "millimetres"), ("cm", "centimetres"), ("ft", "feet"), ("in", "inches")];

/// What hides a joint of the finish.
pub const JOINT_KINDS: &[Word] = &[("downpipe", "a downpipe stands before it"), ("margin", "a dressed margin or band runs up the wall")];

/// What is behind a wall.
pub const INSIDES: &[Word] = &[
    ("heated", "rooms that are heated"),
    ("unheated", "rooms without heat"),
    ("roofless", "no roof: weather on both sides"),
    ("free-standing", "a garden or boundary wall"),
];

/// Terrain, after the categories of ISO 15927-3.
pub const TERRAINS: &[Word] = &[
    ("shore", "open water or flat country without shelter"),
    ("farmland", "farmland with hedges, odd trees and houses"),
    ("suburb", "suburb, village or wood"),
    ("town", "closely built town"),
];

const TOUCH_SOURCE: &str = "the middle of what is found on stripped walls; common practice, no source";

pub(super) const FIELDS: &[Field] = &[
    wall("every_wall", "answers that hold for every wall", Kind::Section)
        .help("What is the same all round is said once here; a wall that differs says its own."),
    wall("walls", "the walls", Kind::Each { names: Names::Slugs, at_most: 500 })
        .help("One table a wall, in the order they are walked round, each under a short name that survives renaming."),
    wall("walls.*.name", "name shown", WORDS)
        .help("Left out, the short name is shown.")
        .usual(Preset::Worked("the short name"), "the short name"),
    wall("walls.*.shape", "shape", Kind::Choice(SHAPES)).ask("What shape is the wall?").usual(Preset::Word("rectangle"), "the usual shape"),
    wall("walls.*.length_m", "length", metres(0.2, 300.0)).ask("How long is the wall?").help("Along the base, tape held level."),
    wall("walls.*.height_m", "height", metres(0.2, 80.0)).ask("How high is it, from the base to the wallhead?"),
    wall("walls.*.eaves_m", "height to the eaves", metres(0.2, 80.0)).ask("How high is the gable at the eaves?"),
    wall("walls.*.apex_m", "height to the apex", metres(0.3, 90.0)).ask("How high is the gable at its point?"),
    wall(
        "walls.*.corners_m",
        "corners",
        Kind::Rows { low: -300.0, high: 300.0, measure: Measure::Metres, at_least: 3, at_most: 200, columns: (2, 2) },
    )
    .ask("Where are the corners of the outline?")
    .help("Pairs of metres in order round the outline: along the wall, and up from the base."),
    wall("walls.*.radius_m", "radius of the outer face", metres(0.3, 100.0)).ask("How far is the face from the centre of the round?"),
    wall("walls.*.arc_deg", "angle of the arc", number(1.0, 360.0, "degrees"))
        .ask("How much of the circle is it?")
        .help("360 for a whole tower."),
    wall("walls.*.faces", "way it faces", Kind::Bearing)
        .required()
        .ask("Which way does the wall look?")
        .help("A point of the compass, or degrees from north turning to the east. A round wall: the middle of its arc."),
    wall("walls.*.masonry", "stone", Kind::Entry(Shelf::Masonries))
        .common()
        .ask("What stone is it, by name and by a scratch with a nail?")
        .help("Scratch a hidden face and compare with what the catalogue tells of each.")
        .assume(Preset::Word("mixed-rubble"), Reach::Words("whin", "red-sandstone"), "the commonest walling of old houses; no source"),
    wall("walls.*.thickness_mm", "thickness", millimetres(75.0, 4000.0))
        .common()
        .ask("How thick is the wall, measured at a window?")
        .help("From the outer face to the bare stone inside, plaster left out.")
        .assume(Preset::Number(600.0), Reach::Numbers(500.0, 750.0), PRACTICE),
    wall("walls.*.joint_percent", "share of the face that is joint", per_cent(0.0, 60.0))
        .common()
        .ask("How much of the face is mortar joint?")
        .help("Hold up an open hand: as much joint as the gaps between spread fingers is about 20 %.")
        .assume(Preset::Number(20.0), Reach::Numbers(10.0, 35.0), PRACTICE),
    wall("walls.*.old_covering", "what covers it now", Kind::Choice(COVERINGS))
        .common()
        .ask("What is on the wall now?")
        .help("Old coverings can hold lead, asbestos and salts: have them looked at before anyone strips them.")
        .assume(
            Preset::Worked("cement before stripping, bare after opening up or once bared_months is given"),
            Reach::Words("bare", "cement"),
            "read from the stage of the survey",
        ),
    wall("walls.*.bared_months", "months since a covering came off", number(0.0, 600.0, "months"))
        .common()
        .ask("How many months before the survey did the old covering come off?")
        .help("Used for the dampness where nobody has laid a hand on the wall."),
    wall("walls.*.touch_low", "touch in the lowest metre", Kind::Choice(TOUCHES))
        .common()
        .ask("Lay a hand on the lowest metre of the wall: dry, damp or wet?")
        .help("In the shade, a dry day after the last rain.")
        .assume(Preset::Word("damp"), Reach::Words("dry", "wet"), TOUCH_SOURCE),
    wall("walls.*.touch_middle", "touch in the middle", Kind::Choice(TOUCHES))
        .common()
        .ask("Lay a hand on the wall half way up: dry, damp or wet?")
        .assume(Preset::Word("dry"), Reach::Words("dry", "damp"), TOUCH_SOURCE),
    wall("walls.*.touch_high", "touch under the wallhead", Kind::Choice(TOUCHES))
        .common()
        .ask("Lay a hand on the wall under the wallhead: dry, damp or wet?")
        .assume(Preset::Word("dry"), Reach::Words("dry", "damp"), TOUCH_SOURCE),
    wall("walls.*.saturation_low_percent", "reading in the lowest metre", per_cent(0.0, 100.0))
        .common()
        .ask("What share of the pores is full of water, by a weighed sample, in the lowest metre?")
        .help("Water in a sample over the water it takes up when soaked. An electric meter does not give this."),
    wall("walls.*.saturation_middle_percent", "reading in the middle", per_cent(0.0, 100.0))
        .common()
        .ask("What share of the pores is full of water, by a weighed sample, half way up?"),
    wall("walls.*.saturation_high_percent", "reading under the wallhead", per_cent(0.0, 100.0))
        .common()
        .ask("What share of the pores is full of water, by a weighed sample, under the wallhead?"),
    wall("walls.*.saturation_face_percent", "reading in the outer 50 mm", per_cent(0.0, 100.0))
        .common()
        .ask("What share of the pores is full of water, by a sample drilled from the outer 50 mm half way up?")
        .help("Behind cement or paint drill through it. Left out there, the stone behind the covering is taken to be wet."),
    wall("walls.*.splash_s", "seconds until a splash is gone", number(1.0, 3600.0, "seconds"))
        .common()
        .ask("Throw a splash of water at the face: how many seconds until it is gone?")
        .help("Try five places and take the middle one. More than ten minutes: write 600.")
        .assume(
            Preset::Number(30.0),
            Reach::Numbers(10.0, 120.0),
            "the usual range of the stone in the catalogue; common practice, no source",
        ),
    wall("walls.*.evenness", "evenness by eye", Kind::Choice(EVENNESS))
        .common()
        .ask("How even is the face, by eye?")
        .help("Ten gaps under a 1.8 m straight-edge say far more.")
        .assume(Preset::Word("rubble"), Reach::Words("coursed", "rough-rubble"), PRACTICE),
    wall(
        "walls.*.gaps_mm",
        "gaps under a 1.8 m straight-edge",
        Kind::Numbers { low: 0.0, high: 250.0, measure: Measure::Millimetres, at_least: 5, at_most: 200 },
    )
    .ask("Hold a 1.8 m straight-edge to the wall in ten places: what is the deepest gap at each?")
    .help("Ten places chosen before looking, both ways up and along; mm."),
    wall(
        "walls.*.offsets_mm",
        "offsets from a line",
        Kind::Rows { low: -500.0, high: 1000.0, measure: Measure::Millimetres, at_least: 2, at_most: 200, columns: (2, 200) },
    )
    .ask("What are the offsets from a taut line to the wall, row by row from the base?")
    .help("A larger number is hollower. Every row has the same number of offsets."),
    wall("walls.*.offsets_spacing_m", "spacing of the offsets", metres(0.02, 5.0)).ask("How far apart are the offsets?"),
    wall("walls.*.relief_file", "file of the face", Kind::Text { most: 200 })
        .ask("Is there a scan of the face, or a table of offsets, and what is the file called?")
        .help("Named from the folder of this job file. A scan: PLY, LAS, LAZ, E57 or a table of x, y, z. A table of offsets: rows in mm, the lowest first."),
    wall("walls.*.relief_form", "what the file holds", Kind::Choice(RELIEF_FORMS))
        .ask("Is it a scan or a table of offsets?")
        .usual(Preset::Word("scan"), "a scan unless said"),
    wall("walls.*.relief_cell_mm", "cell of the grid, or distance of the offsets", millimetres(5.0, 1000.0))
        .ask("How far apart are the offsets; or how large a cell shall the scan be laid in?")
        .usual(Preset::Worked("10 mm for a scan; a table of offsets must say"), "a scan has a point each few millimetres"),
    wall("walls.*.relief_unit", "unit of the scan", Kind::Choice(RELIEF_UNITS))
        .ask("In which unit is the scan?")
        .usual(Preset::Worked("that of the format, or the one that gives the face the size of the wall"), "the size of the wall"),
    wall("walls.*.relief_turned", "scan taken from the other side", Kind::Flag)
        .ask("Do hollows show as high spots, so that the scan must be turned?")
        .usual(Preset::Flag(false), "the side of the scanner is the outside"),
    wall("walls.*.inside", "what is behind it", Kind::Choice(INSIDES))
        .common()
        .ask("What is behind the wall: heated, unheated, roofless, or is it free-standing?")
        .assume(Preset::Word("heated"), Reach::Words("unheated", "heated"), "most houses are lived in; no source"),
    wall("walls.*.terrain", "ground round it", Kind::Choice(TERRAINS))
        .common()
        .ask("What lies round it: shore, farmland, suburb or town?")
        .assume(Preset::Word("farmland"), Reach::Words("shore", "town"), "the middle of the four terrains of ISO 15927-3"),
    wall("walls.*.obstruction_m", "distance to the next thing as high", Kind::OpenOr { low: 1.0, high: 5000.0 })
        .common()
        .ask("How far in front of the wall is the next thing as high as it?")
        .help("Metres, or \"open\" if there is nothing within 120 m.")
        .assume(Preset::Word("open"), Reach::Words("20", "open"), "the cautious reading: nothing shelters it"),
    wall("walls.*.overhang", "water thrown clear", Kind::Flag)
        .common()
        .ask("Do eaves or a skew throw the water clear of the face?")
        .assume(Preset::Flag(true), Reach::Either, PRACTICE),
    wall("walls.*.gang", "gang that does it", Kind::Text { most: 60 })
        .ask("Does one gang alone work on this wall, and which?")
        .help("The short name of a gang of this job. Left out, whichever gang is free."),
    wall("walls.*.lines", "metre lines measured on site", Kind::Section)
        .help("Only where the tape says other than the outline and the openings imply."),
    wall("walls.*.lines.skew_m", "skew", metres(0.0, 1000.0)).ask("How many metres of skew?"),
    wall("walls.*.lines.margin_m", "margin", metres(0.0, 5000.0)).ask("How many metres of dressed margin does the harl die to?"),
    wall("walls.*.lines.quoin_m", "quoin", metres(0.0, 1000.0)).ask("How many metres of quoin?"),
    wall("walls.*.lines.wallhead_m", "wallhead", metres(0.0, 1000.0)).ask("How many metres of wallhead?"),
    wall("walls.*.lines.base_m", "base", metres(0.0, 1000.0)).ask("How many metres of base?"),
    wall("walls.*.joints", "places that hide a joint of the finish", Kind::Each { names: Names::Slugs, at_most: 50 }).help(
        "A finish thrown on two days shows where they meet, but at a corner, behind a downpipe or at a margin. None: the whole wall is one bay, thrown in one day.",
    ),
    wall("walls.*.joints.*.at_m", "from the left end", metres(0.0, 300.0))
        .required()
        .ask("How far is it from the left end of the wall, seen from outside?"),
    wall("walls.*.joints.*.kind", "what hides it", Kind::Choice(JOINT_KINDS))
        .ask("Is it a downpipe, or a dressed margin or band?")
        .usual(Preset::Word("downpipe"), "the usual place"),
];

/// Kinds of opening.
pub const OPENING_KINDS: &[Word] =
    &[("window", "a window"), ("door", "a door"), ("cart-door", "a cart or barn door"), ("vent", "a slit, vent or flight hole")];

pub(super) const OPENINGS: &[Field] = &[
    wall("walls.*.openings", "openings", Kind::Each { names: Names::Slugs, at_most: 200 })
        .help("Windows, doors and vents, each under a short name."),
    wall("walls.*.openings.*.kind", "kind of opening", Kind::Choice(OPENING_KINDS))
        .ask("Window, door, cart door or vent?")
        .usual(Preset::Word("window"), "the usual opening"),
    wall("walls.*.openings.*.width_m", "width", metres(0.05, 20.0)).required().ask("How wide is the opening in the stone?"),
    wall("walls.*.openings.*.height_m", "height", metres(0.05, 20.0))
        .ask("How high is it from sill to head?")
        .help("Or give the height of the head above the base instead."),
    wall("walls.*.openings.*.head_m", "head above the base", metres(0.05, 80.0)).ask("How far is its head above the base of the wall?"),
    wall("walls.*.openings.*.left_m", "from the left end", metres(0.0, 300.0))
        .required()
        .ask("How far is its left jamb from the left end of the wall, seen from outside?"),
    wall("walls.*.openings.*.sill_m", "sill above the base", metres(0.0, 80.0))
        .ask("How far is its sill or threshold above the base?")
        .usual(Preset::Worked("0 for a door or cart door; a window or vent must say"), "doors stand on the ground"),
    wall("walls.*.openings.*.reveal_m", "depth of the reveal harled", metres(0.0, 2.0))
        .ask("How deep is the reveal (ingo) that is to be harled?")
        .help("Zero if the dressed stone turns into the opening and stays bare.")
        .usual(Preset::Number(0.0), "no reveal is harled unless said"),
    wall("walls.*.openings.*.head_harled", "head harled", Kind::Flag)
        .ask("Is the underside of the head harled too?")
        .usual(Preset::Flag(false), "heads are mostly dressed stone"),
    wall("walls.*.openings.*.has_sill", "has a sill", Kind::Flag)
        .ask("Is there a sill the harl stops under?")
        .usual(Preset::Worked("yes for a window, no for the rest"), "windows have sills"),
    wall("walls.*.openings.*.margin_m", "width of the bare margin", metres(0.0, 1.0))
        .ask("How wide is the dressed margin round it that stays bare?")
        .usual(Preset::Number(0.0), "no margin unless said"),
    wall("walls.*.chimneys", "chimneys", Kind::Each { names: Names::Slugs, at_most: 20 })
        .help("Chimneys standing on this wall and harled with it."),
    wall("walls.*.chimneys.*.length_m", "length along the wall", metres(0.2, 10.0))
        .required()
        .ask("How long is the stack, along the wall?"),
    wall("walls.*.chimneys.*.width_m", "width across the wall", metres(0.2, 5.0)).required().ask("How wide is it, across the wall?"),
    wall("walls.*.chimneys.*.height_m", "height harled", metres(0.2, 20.0)).required().ask("How high is the part that is harled?"),
];
