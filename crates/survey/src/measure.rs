//! Measures a building: every wall's areas, lines and relief, with the reckoning behind each figure that is shown.

use reckoning::{Finding, Grade, Reckoning, Reckonings, Unit, Value};

use crate::areas::{chimneys_m2, deducted_m2, is_deducted, reveal_m2};
use crate::bays::bays;
use crate::check::faults;
use crate::geometry::{Point, arc_m, corners, extent, shoelace};
use crate::lines::measure_lines;
use crate::relief::{relief, surface_findings};
use crate::{Building, Evenness, Outline, Survey, SurveyError, WallFound, WallMeasured};

const GIVEN: &str = "answered in the job";

/// Measures the building.
///
/// # Errors
/// Every fault of the survey at once, in the order of the walls.
pub fn measure(building: Building) -> Result<Survey, Vec<SurveyError>> {
    let faults = faults(&building);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut reckonings = Reckonings::default();
    let walls: Vec<WallMeasured> = building.walls.iter().map(|wall| measure_wall(wall, &building, &mut reckonings)).collect();
    keep_totals(&walls, &mut reckonings);
    let findings = findings(&building);
    Ok(Survey { building, walls, findings, reckonings })
}

fn square_metres(path: String, label: &str, amount: f64, formula: &str, inputs: Vec<Reckoning>, source: &str) -> Reckoning {
    Reckoning::worked(path, label, Value::number(amount, Unit::SquareMetre, 1), formula, inputs, source)
}

fn given_m(path: String, label: &str, amount: f64) -> Reckoning {
    Reckoning::given(path, label, Value::number(amount, Unit::Metre, 2), GIVEN, false)
}

fn measure_wall(wall: &WallFound, building: &Building, reckonings: &mut Reckonings) -> WallMeasured {
    let corners = corners(&wall.outline);
    let face_m2 = shoelace(&corners);
    let small = building.small_opening_m2;
    let gross_m2 = face_m2 + chimneys_m2(&wall.chimneys);
    let deducted_m2 = deducted_m2(&wall.openings, &corners, small);
    let extent = extent(&corners);
    let chimney_m = wall.chimneys.iter().fold(0.0, |top: f64, c| top.max(c.height_m));
    let measured = WallMeasured {
        slug: wall.slug.clone(),
        gross_m2,
        deducted_m2,
        net_m2: gross_m2 - deducted_m2,
        reveal_m2: reveal_m2(&wall.openings, &corners, small),
        top_m: extent.head + chimney_m,
        length_m: extent.right - extent.left,
        lines: measure_lines(wall, &corners),
        bays: bays(wall, &corners, small),
        relief: relief(&wall.evenness, building.stage),
    };
    keep_areas(wall, &measured, face_m2, &corners, small, reckonings);
    keep_lines(wall, &measured, reckonings);
    keep_relief(wall, &measured, reckonings);
    keep_bays(wall, &measured, reckonings);
    measured
}

/// The outline's own formula and what went in.
fn outline_words(slug: &str, outline: &Outline) -> (String, Vec<Reckoning>) {
    let given = |name: &str, label: &str, amount| given_m(format!("walls.{slug}.{name}"), label, amount);
    match outline {
        Outline::Rectangle { length_m, height_m } => {
            ("length × height".to_owned(), vec![given("length", "length", *length_m), given("height", "height", *height_m)])
        }
        Outline::Gable { length_m, eaves_m, apex_m } => (
            "length × (eaves + apex) ÷ 2".to_owned(),
            vec![
                given("length", "length", *length_m),
                given("eaves", "height of the eaves", *eaves_m),
                given("apex", "height of the apex", *apex_m),
            ],
        ),
        Outline::Polygon { corners_m } => {
            let words = corners_m.iter().map(|(x, y)| format!("({x}, {y})")).collect::<Vec<_>>().join(" ");
            let corners = Reckoning::given(format!("walls.{slug}.corners"), "corners (along, up), m", Value::Text(words), GIVEN, false);
            ("half the sum over the sides of x₁·y₂ − x₂·y₁ (the surveyor's shoelace sum)".to_owned(), vec![corners])
        }
        Outline::Round { radius_m, arc_deg, height_m } => (
            format!("radius × {arc_deg}° of arc × height; the arc is {:.2} m", arc_m(*radius_m, *arc_deg)),
            vec![given("radius", "radius of the outer face", *radius_m), given("height", "height", *height_m)],
        ),
    }
}

fn keep_areas(wall: &WallFound, measured: &WallMeasured, face_m2: f64, corners: &[Point], small: f64, reckonings: &mut Reckonings) {
    let slug = &wall.slug;
    let path = |name: &str| format!("walls.{slug}.{name}");
    let (words, inputs) = outline_words(slug, &wall.outline);
    let face = square_metres(path("face"), "face within the outline", face_m2, &words, inputs, "plane geometry");
    let chimneys = chimneys_m2(&wall.chimneys);
    let chimney =
        square_metres(path("chimneys"), "faces of chimneys", chimneys, "2 × (length + width) × height of each", vec![], "plane geometry");
    let gross = square_metres(path("gross"), "gross area", measured.gross_m2, "face + chimneys", vec![face, chimney], "plane geometry");
    let openings: Vec<Reckoning> = wall.openings.iter().map(|o| opening_reckoning(slug, o, corners, small)).collect();
    let rule = format!(
        "openings with their bare margins, within the outline, what two cover counted once; an opening under {small} m² is not deducted and its reveals are not measured"
    );
    let deducted = square_metres(
        path("deducted"),
        "deducted for openings and bare margins",
        measured.deducted_m2,
        &rule,
        openings.clone(),
        "rule of measurement, switchable in the job",
    );
    let net = square_metres(
        path("net"),
        "area to be harled",
        measured.net_m2,
        "gross − deducted",
        vec![gross.clone(), deducted.clone()],
        "plane geometry",
    );
    let reveals = square_metres(
        path("reveals"),
        "reveals to be harled",
        measured.reveal_m2,
        "for each opening deducted: depth × (two jambs, and the head where it is harled)",
        openings,
        "plane geometry",
    );
    for one in [gross, deducted, net, reveals] {
        reckonings.keep(one);
    }
}

fn opening_reckoning(slug: &str, opening: &crate::Opening, corners: &[Point], small: f64) -> Reckoning {
    let deducted = is_deducted(opening, corners, small);
    let words = format!(
        "{} × {} m, margin {} m, reveal {} m{}; {}",
        opening.width_m,
        opening.height_m,
        opening.margin_m,
        opening.reveal_m,
        if opening.head { ", head harled" } else { "" },
        if deducted { "deducted" } else { "too small, not deducted" }
    );
    Reckoning::given(
        format!("walls.{slug}.openings.{}", opening.slug),
        format!("opening {}", opening.slug),
        Value::Text(words),
        GIVEN,
        false,
    )
}

fn keep_lines(wall: &WallFound, measured: &WallMeasured, reckonings: &mut Reckonings) {
    let lines = &measured.lines;
    let given = &wall.lines;
    let whole = "the surveyor's own length";
    for (name, label, amount, own, formula) in [
        ("ingo", "ingoes", lines.ingo_m, None, "two jambs of each opening with a reveal, and its head where it is harled"),
        ("sill", "sills", lines.sill_m, None, "width of each opening with a sill"),
        ("skew", "skews", lines.skew_m, given.skew_m, "sloping upper sides of the outline"),
        ("margin", "margins", lines.margin_m, given.margin_m, "outer edge of the dressed margin round each opening"),
        ("quoin", "quoins", lines.quoin_m, given.quoin_m, "upright sides of the outline"),
        ("wallhead", "wallhead", lines.wallhead_m, given.wallhead_m, "level upper sides of the outline"),
        ("base", "base", lines.base_m, given.base_m, "lower sides of the outline less doors that stand on the base"),
    ] {
        let formula = if own.is_some() { whole } else { formula };
        let value = Value::number(amount, Unit::Metre, 1);
        reckonings.keep(Reckoning::worked(
            format!("walls.{}.lines.{name}", wall.slug),
            label,
            value,
            formula,
            vec![],
            "the outline and openings of the survey",
        ));
    }
    for (name, label, amount) in [("top", "height of the highest point", measured.top_m), ("length", "length on plan", measured.length_m)] {
        let value = Value::number(amount, Unit::Metre, 2);
        reckonings.keep(Reckoning::worked(
            format!("walls.{}.{name}", wall.slug),
            label,
            value,
            "extent of the outline, with the tallest chimney in the height",
            vec![],
            "plane geometry",
        ));
    }
}

fn keep_relief(wall: &WallFound, measured: &WallMeasured, reckonings: &mut Reckonings) {
    let path = |name: &str| format!("walls.{}.relief{name}", wall.slug);
    let (words, assumed, source) = match &wall.evenness {
        Evenness::Class { class } => (format!("{:?}", class.value), class.assumed, class.source.clone()),
        Evenness::Gaps { gaps_m } => {
            (gaps_m.iter().map(|g| format!("{:.0}", 1000.0 * g)).collect::<Vec<_>>().join(", ") + " mm", false, GIVEN.to_owned())
        }
        Evenness::Offsets { spacing_m, rows_m } => (format!("{} rows, {spacing_m} m apart", rows_m.len()), false, GIVEN.to_owned()),
        Evenness::Surface { surface } => (surface.words(), false, surface.basis.clone()),
    };
    let found = Reckoning::given(path(".found"), format!("evenness as found, {}", wall.name), Value::Text(words), source, assumed);
    let formula = match &wall.evenness {
        Evenness::Class { .. } => "mean depth usual for the class; range 0.6 to 1.6 of it",
        Evenness::Gaps { .. } => "half the mean gap: between its two rests the hollow is taken as an arch of a sine",
        Evenness::Offsets { .. } | Evenness::Surface { .. } => "mean depth below the straight-edge wherever it is laid, along and up",
    };
    let relief = &measured.relief;
    let range = Reckoning::worked(
        path(".range"),
        "honest range of the mean",
        Value::Text(format!("{:.0} to {:.0} mm", 1000.0 * relief.mean_range_m.0, 1000.0 * relief.mean_range_m.1)),
        relief.basis.clone(),
        vec![],
        "common practice, no source",
    );
    let mean = Value::number(1000.0 * relief.mean_m, Unit::Millimetre, 0);
    reckonings.keep(Reckoning::worked(
        path(".mean"),
        "mean depth under a straight-edge of 1.8 m",
        mean,
        formula,
        [found, range].into_iter().chain(edges(wall)).collect(),
        "straight-edge on a wavy wall: closed form; shares of the gap: common practice, no source",
    ));
    let deepest = Value::number(1000.0 * relief.deepest_m, Unit::Millimetre, 0);
    reckonings.keep(Reckoning::worked(path(".deepest"), "deepest hollow", deepest, relief.basis.clone(), vec![], "the survey"));
}

fn keep_bays(wall: &WallFound, measured: &WallMeasured, reckonings: &mut Reckonings) {
    let joints: Vec<Reckoning> = wall
        .joints
        .iter()
        .map(|joint| given_m(format!("walls.{}.joints.{}", wall.slug, joint.slug), &format!("hidden joint {}", joint.slug), joint.at_m))
        .collect();
    for (number, bay) in measured.bays.iter().enumerate() {
        reckonings.keep(square_metres(
            format!("walls.{}.bays.{}", wall.slug, number + 1),
            &format!("bay {} of the finish, {:.2} to {:.2} m from the left", number + 1, bay.from_m, bay.to_m),
            bay.share * measured.net_m2,
            "face between two places that hide a joint, openings taken off; faces of chimneys shared out by area",
            joints.clone(),
            "plane geometry",
        ));
    }
}

/// The mean under every edge the face was ruled with.
fn edges(wall: &WallFound) -> Vec<Reckoning> {
    let Evenness::Surface { surface } = &wall.evenness else { return Vec::new() };
    let each = |ruled: &crate::UnderEdge| {
        let label = format!("mean depth under an edge of {} m", ruled.edge_m);
        let path = format!("walls.{}.relief.under.{:.0}-mm", wall.slug, 1000.0 * ruled.edge_m);
        let words = format!("{:.1} mm; deepest {:.0} mm", 1000.0 * ruled.mean_m, 1000.0 * ruled.deepest_m);
        Reckoning::given(path, label, Value::Text(words), "the straight-edge laid on the face that was measured", false)
    };
    surface.under.iter().map(each).collect()
}

fn keep_totals(walls: &[WallMeasured], reckonings: &mut Reckonings) {
    for (name, label, total) in [
        ("net", "area to be harled, all walls", walls.iter().map(|w| w.net_m2).sum::<f64>()),
        ("reveals", "reveals to be harled, all walls", walls.iter().map(|w| w.reveal_m2).sum::<f64>()),
    ] {
        let inputs = walls.iter().filter_map(|w| reckonings.get(&format!("walls.{}.{name}", w.slug)).cloned()).collect();
        reckonings.keep(square_metres(format!("survey.{name}"), label, total, "sum over the walls", inputs, "plane geometry"));
    }
}

fn findings(building: &Building) -> Vec<Finding> {
    building.walls.iter().flat_map(|wall| evenness_finding(wall).into_iter().chain(surface_findings(wall, building))).collect()
}

fn evenness_finding(wall: &WallFound) -> Option<Finding> {
    let says = match &wall.evenness {
        Evenness::Class { class } if class.assumed => "The evenness of this wall was assumed.".to_owned(),
        Evenness::Class { .. } => "The evenness of this wall was judged by eye.".to_owned(),
        Evenness::Gaps { gaps_m } if gaps_m.len() < 10 => format!("Only {} gaps were measured under the straight-edge.", gaps_m.len()),
        _ => return None,
    };
    Some(Finding {
        grade: Grade::Note,
        rule: "evenness-measured".to_owned(),
        place: format!("walls.{}", wall.slug),
        says,
        reason: "The straightening coat takes most of the mortar, and its depth follows the evenness.".to_owned(),
        source: "common practice, no source".to_owned(),
        remedy:
            "Hold a straight-edge of 1.8 m to the wall in ten places, some level and some upright, and write down the deepest gap of each."
                .to_owned(),
    })
}
