//! Drawings of the pages: figures of a plan kept with it, and what the pages draw themselves from the job. Colours are names of the style sheet, so
//! that one drawing serves daylight, dark and print.

use std::collections::BTreeMap;

use documents::figures::{self, Figure, Theme};
use works::Plan;

/// Tones as names of the style sheet.
pub fn theme(wide: f64) -> Theme {
    Theme {
        paper: "var(--paper)",
        ink: "var(--ink)",
        pencil: "var(--pencil)",
        graphite: "var(--graphite)",
        chalk: "var(--chalk)",
        tint: "var(--tint)",
        ochre: "var(--ochre)",
        stone: "var(--stone)",
        stone_line: "var(--stone-line)",
        scud: "var(--scud)",
        straightening: "var(--straightening)",
        finish: "var(--finish)",
        sand: "var(--sand)",
        lime: "var(--lime)",
        hessian: "var(--hessian)",
        water: "var(--water)",
        water_wash: "var(--water-wash)",
        madder: "var(--madder)",
        madder_wash: "var(--madder-wash)",
        ..Theme::daylight(wide)
    }
}

/// Name of the figure of a wall by itself.
pub fn elevation_of(slug: &str) -> String {
    format!("elevation-{slug}")
}

/// Name of the figure of a wall's section.
pub fn section_of(slug: &str) -> String {
    format!("section-{slug}")
}

/// The figures kept with a plan, by name.
pub fn figures(plan: &Plan) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    let mut keep = |name: &str, figure: Figure| {
        all.insert(name.to_owned(), figure.svg);
    };
    keep("walls", figures::elevations(plan, &theme(1100.0)));
    keep("walls-row", figures::walls_in_a_row(plan, &theme(420.0)));
    keep("site-plan", figures::site_plan(plan, &theme(150.0)));
    keep("spread", figures::spread(plan, &theme(1100.0)));
    let slugs: Vec<&str> = plan.survey.building.walls.iter().map(|wall| wall.slug.as_str()).collect();
    if let Some(figure) = figures::calendar(plan, &slugs, &theme(1100.0)) {
        keep("calendar", figure);
    }
    for wall in &plan.survey.building.walls {
        keep(&elevation_of(&wall.slug), figures::surveyed(std::slice::from_ref(wall), &plan.survey.walls, &theme(328.0)));
    }
    for slug in slugs {
        if let Some(figure) = figures::section(plan, slug, &theme(1100.0)) {
            keep(&section_of(slug), figure);
        }
    }
    all
}
