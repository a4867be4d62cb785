//! A wall freed of an impermeable covering: it dries before its first coat, the days stand in the programme, and the test to make is named. The weather is made
//! by hand; how long the stone takes is computed by the engine (regression only), what must follow from it is exact.

use jiff::civil::Date;
use reckoning::Known;
use survey::OldCovering;
use weather::{Kind, WeatherYear};
use works::{Freed, Plan, Unwatched, plan};

use crate::fixture::job;
use crate::seasons::{dull, weather};

fn planned(covering: OldCovering, face: Option<f64>) -> Plan {
    planned_in(covering, face, dull(2026), "none")
}

fn planned_in(covering: OldCovering, face: Option<f64>, year: WeatherYear, cover: &str) -> Plan {
    let mut job = job(&["north"]);
    job.inputs.building.surveyed_on = "2026-05-25".to_owned();
    cover.clone_into(&mut job.inputs.system.cover.value);
    let wall = &mut job.inputs.building.walls[0];
    wall.old_covering.value = covering;
    wall.dampness.face = face.map(Known::answered);
    plan(&job.inputs, Some(&weather(Kind::Invented, vec![year])), &Unwatched).unwrap()
}

fn first_coat(plan: &Plan) -> Date {
    plan.programme.runs[0].walls[0].tasks[1].from
}

fn freed(plan: &Plan) -> Option<Freed> {
    plan.programme.runs[0].walls[0].freed
}

#[test]
fn a_wall_freed_of_cement_dries_before_its_first_coat() {
    let plan = planned(OldCovering::Cement, None);
    let freed = freed(&plan).unwrap();
    let preparation = &plan.programme.runs[0].walls[0].tasks[0];
    assert_eq!(freed.stripped, preparation.to);
    let (coated, wet) = freed.coated.unwrap();
    println!("freed on {} at {:.2}, coated on {coated} at {wet:.2}", freed.stripped, freed.wet_then);
    assert_eq!(coated, plan.programme.runs[0].walls[0].tasks[1].to);
    assert!(freed.wet_then > 1.0 / 3.0 && wet <= 1.0 / 3.0 && coated > freed.stripped);
    let told = plan.findings.iter().find(|finding| finding.rule == "drying-out").unwrap();
    assert!(told.says.contains("dries for") && told.remedy.contains("drill dust"), "{told:?}");
}

#[test]
fn a_sample_from_behind_the_covering_goes_before_the_guess() {
    let (wet, dry) = (planned(OldCovering::Cement, Some(0.9)), planned(OldCovering::Cement, Some(0.15)));
    let (wet_then, dry_then) = (freed(&wet).unwrap().wet_then, freed(&dry).unwrap().wet_then);
    println!("outer 60 mm when freed: {wet_then:.2} where 0.9 was drilled, {dry_then:.2} where 0.15 was");
    assert!(wet_then > dry_then + 0.05 && dry_then < 1.0 / 3.0);
    assert!(first_coat(&wet) >= first_coat(&dry), "{} {}", first_coat(&wet), first_coat(&dry));
}

#[test]
fn a_bare_wall_waits_for_no_drying_out() {
    let plan = planned(OldCovering::Bare, None);
    assert!(freed(&plan).is_none() && plan.findings.iter().all(|finding| finding.rule != "drying-out"));
}

// Readiness at the ends never comes before the middle's, and the span holds the middle.
#[test]
fn the_ends_of_a_wall_hold_its_middle() {
    // Cool, damp and behind hessian, so that it is not the least age that decides everywhere.
    let mut year = dull(2026);
    year.air_c.fill(9.0);
    year.humidity.fill(0.88);
    year.sky_w_m2.fill(350.0);
    let plan = planned_in(OldCovering::Bare, None, year, "damp-hessian");
    let ends = plan.programme.ends.as_ref().unwrap();
    assert!(ends.coats.len() >= 2, "{ends:?}");
    for coat in &ends.coats {
        assert!(coat.days.0 <= coat.middle_days && coat.middle_days <= coat.days.1 && coat.days.0 > 0.0, "{coat:?}");
        let path = format!("walls.{}.ends.{}", coat.wall, coat.coat);
        assert!(plan.reckonings.get(&path).is_some(), "{path}");
    }
    assert!(ends.coats.iter().any(|coat| coat.days.1 > coat.days.0), "{ends:?}");
    assert!(ends.finished.is_none() || ends.finished >= plan.programme.runs[0].finished, "{ends:?}");
    assert!(plan.findings.iter().any(|finding| finding.rule == "thick-and-thin"));
}
