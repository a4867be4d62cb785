//! The sentences of the specification: names, methods, tests, preparation, the sample panel. No procedure here puts water on quicklime.

use materials::Mortar;
use survey::{DampKind, DampState, OldCovering, Survey};

use crate::specify::{Panel, WallSpecification};
use crate::{CoatKind, Placing};

/// Name shown of a coat.
pub(crate) fn coat_name(slug: &str, kind: CoatKind, hollows_only: bool) -> String {
    let pass = slug.strip_prefix("straightening-").map_or(String::new(), |number| format!(", pass {number}"));
    let where_to = if hollows_only { ", hollows only" } else { "" };
    match kind {
        CoatKind::Scud => "Scud coat".to_owned(),
        CoatKind::Straightening => format!("Straightening coat{pass}{where_to}"),
        CoatKind::Finish => "Finish coat".to_owned(),
    }
}

/// The test before whatever comes next: the nail test first, the indicator second and with its caution.
pub(crate) fn test(kind: CoatKind) -> String {
    let next = if kind == CoatKind::Finish { "the limewash" } else { "the next coat" };
    format!(
        "Before {next}, make the nail test first: press a fingernail into the coat at its thickest place in the shade; it hardly marks. Look at the \
         whole face: paler, no cracks open, nothing hollow under the knuckle. Only if doubt remains, break out a piece and put a drop of \
         phenolphthalein on the fresh break: pink is lime not yet carbonated. Phenolphthalein is a substance of very high concern: a few drops, \
         gloves, by somebody who has read its safety data sheet."
    )
}

/// How a coat is placed.
pub(crate) fn method(kind: CoatKind, placing: Placing, hollows_only: bool, dense: bool, mortar: &Mortar) -> String {
    let damp = if dense {
        "Damp the wall lightly, for dense stone takes little water"
    } else {
        "Damp the wall down the evening before and again half an hour before, until it is damp and nowhere shines"
    };
    match (kind, placing) {
        (CoatKind::Scud, _) => format!(
            "{damp}. Throw a very wet mix hard, one grain thick, reveals before the face, and leave it as it lands: it must cover stone and joint and stay rough. {}",
            splash(mortar)
        ),
        (CoatKind::Straightening, placing) => {
            let how = if placing == Placing::Thrown { "Throw it and rule it lightly" } else { "Lay it with hawk and trowel" };
            if hollows_only {
                format!("Damp down. {how} in the hollows alone, in layers, with pinning stones in whatever is deeper than 40 mm; scratch it for key.")
            } else {
                format!(
                    "Damp down. {how}, rule it with the straight-edge or a darby with a serrated edge, and leave the key; a little undulation may still be seen."
                )
            }
        }
        (CoatKind::Finish, Placing::Thrown) => {
            "Damp down. Reveals first, then the face from the top, one wet edge to a natural stop; throw evenly, and never touch it with a trowel afterwards. The harl dies to the dressed margin and does not oversail it.".to_owned()
        }
        (CoatKind::Finish, Placing::Laid) => {
            "Damp down. Reveals first, then the face from the top, one wet edge to a natural stop; lay it tight and leave the face open, never polished. It dies to the dressed margin and does not oversail it.".to_owned()
        }
    }
}

/// What makes a scud wet enough to splash. Litres that thin a stiff putty mix: common practice, no source.
fn splash(mortar: &Mortar) -> String {
    const THINNING_L_100_L: f64 = 5.0;
    let litres = mortar.water_added_kg_m3 / 10.0;
    if litres >= 0.5 {
        format!(
            "It takes about {litres:.0} litres of water to 100 litres of mortar; where it does not splash, thin it with no more than \
             {THINNING_L_100_L:.0} litres more."
        )
    } else {
        format!(
            "The putty and the damp sand bring the water that makes it wet; where it does not splash, thin it with no more than \
             {THINNING_L_100_L:.0} litres of water, half a bucket, to 100 litres of mortar."
        )
    }
}

/// Preparation in order of work.
pub(crate) fn preparation(survey: &Survey) -> Vec<String> {
    let building = &survey.building;
    let mut steps = Vec::new();
    if building.protected.value || building.protected.assumed {
        steps.push(
            "Have the consent for a listed or protected building in hand, or the answer that none is needed, before the face is touched."
                .to_owned(),
        );
    }
    steps.push(
        "Look for bats and nesting birds in wallheads, joints and chimneys before the scaffold is clad; stop and ask if any are found."
            .to_owned(),
    );
    let mend: Vec<&str> = building
        .causes_of_damp
        .iter()
        .filter(|cause| cause.state != DampState::Sound && cause.kind != DampKind::Salts)
        .map(|cause| damp_words(cause.kind))
        .collect();
    if !mend.is_empty() {
        steps.push(format!("Look at and mend what lets water in: {}.", mend.join(", ")));
    }
    let coverings = |kind| building.walls.iter().any(|wall| wall.old_covering.value == kind);
    if coverings(OldCovering::Cement) {
        steps.push("Take off the cement covering by hand along its loose edges, on a trial patch first; where it pulls the stone's face off, stop and ask. Let the wall stand bare and dry as long as the programme allows.".to_owned());
    }
    if coverings(OldCovering::Paint) {
        steps.push("Have the old paint tested for lead before it is disturbed, then take the film off: lime needs the stone.".to_owned());
    }
    if coverings(OldCovering::LimeHarl) {
        steps.push("Sound the old harl with the knuckle; keep what is sound, cut back what is hollow to a ragged edge.".to_owned());
    }
    steps.push(
        "Brush off growth, dust and friable stone; rake loose joints to twice their width, at least 25 mm, and point them flush."
            .to_owned(),
    );
    steps.push("Pin wide joints and hollows deeper than 40 mm with stones bedded in the straightening mix, and let them firm.".to_owned());
    steps.push(
        "Protect sills, dressed margins, frames, roofs and the ground; stop the harl 150 mm above the ground or on the base course."
            .to_owned(),
    );
    steps.push("Agree with the scaffold's designer where ties stand and what may hang on it; tie patches are harled with the same mix as the ties come out.".to_owned());
    steps.push("Lay down sand under cover, the finish sand in one load, and have the lime on site before the first coat.".to_owned());
    steps
}

pub(crate) fn damp_words(kind: DampKind) -> &'static str {
    match kind {
        DampKind::Gutters => "gutters",
        DampKind::Downpipes => "downpipes",
        DampKind::Wallhead => "wallhead",
        DampKind::Skews => "skews",
        DampKind::HighGround => "ground against the wall",
        DampKind::RustingIron => "rusting iron",
        DampKind::Salts => "salts",
    }
}

/// The sample panel: a square metre, stepped, begun early enough to be cured and limewashed before the start.
pub(crate) fn panel(walls: &[WallSpecification]) -> Panel {
    let waits = |wall: &WallSpecification| wall.coats.iter().map(|coat| coat.least_wait_days).sum::<f64>();
    let longest = walls.iter().map(waits).fold(0.0, f64::max);
    // A fortnight to look at it, wet and dry, and to agree: common practice, no source.
    const LOOK_DAYS: f64 = 14.0;
    Panel {
        area_m2: 1.0,
        words: "Make one square metre on the least seen wall, with the gang, sands, lime and weather protection of the work, each coat stepped back 150 mm \
                so that all can be seen, limewash on half of it. Look at it wet and dry, in shade and in raking light; the client signs it, and it stays until the end as the measure."
            .to_owned(),
        lead_days: (longest + LOOK_DAYS).clamp(LOOK_DAYS, 365.0).ceil() as u32,
    }
}
