//! The programme under a policy that tends its coats: what hangs, what it takes in hands and money, and what it saves. The weather is made by hand; that a
//! coat is spoilt in it is computed by the engine (regression only).

use jiff::civil::date;
use weather::{Kind, Weather};
use works::protect::Policy;
use works::{Inputs, Plan, ProtectionAsked, Unwatched, plan};

use crate::fixture::job;
use crate::seasons::{dull, on, weather};

/// A dull year with ten hot, dry, windy days from the start, and rain driven at the north wall on the fourth.
fn hot_spell() -> Weather {
    let mut year = dull(2026);
    for day in 1..=10 {
        on(&mut year, date(2026, 6, day), 0..24, |year, hour| {
            year.air_c[hour] = 27.0;
            year.humidity[hour] = 0.40;
            year.wind_m_s[hour] = 6.0;
        });
    }
    on(&mut year, date(2026, 6, 4), 8..16, |year, hour| year.rain_mm[hour] = 3.0);
    weather(Kind::Invented, vec![year])
}

fn asked(protection: ProtectionAsked) -> Inputs {
    let mut job = job(&["north"]);
    job.inputs.building.surveyed_on = "2026-05-25".to_owned();
    job.inputs.system.protection = protection;
    job.inputs
}

fn planned(protection: ProtectionAsked) -> Plan {
    plan(&asked(protection), Some(&hot_spell()), &Unwatched).unwrap()
}

fn losses(plan: &Plan) -> usize {
    plan.programme.runs[plan.programme.middle].losses.len()
}

fn has_line(plan: &Plan, path: &str) -> bool {
    plan.price.lines.iter().any(|line| line.path == path)
}

#[test]
fn the_rule_of_the_specification_is_no_policy() {
    assert_eq!(ProtectionAsked::default(), ProtectionAsked::Rule);
    let plan = planned(ProtectionAsked::Rule);
    assert_eq!(plan.programme.runs[0].covers, works::CoverWork::default());
    assert!(plan.findings.iter().all(|finding| finding.rule != "protection-followed"));
    assert!(plan.price.lines.iter().all(|line| !line.path.starts_with("price.covers")));
}

#[test]
fn hessian_by_the_hazard_saves_what_is_lost_bare_and_its_hands_are_paid() {
    let (bare, hessian) = (planned(ProtectionAsked::Policy(Policy::Nothing)), planned(ProtectionAsked::Policy(Policy::HessianByRule)));
    println!("coats lost: {} bare, {} behind hessian", losses(&bare), losses(&hessian));
    assert!(losses(&bare) > losses(&hessian));
    let run = &hessian.programme.runs[0];
    assert!(run.covers.hours > 0.0 && run.damping_visits > 0 && run.covers.sheltered_m2 == 0.0);
    assert!(has_line(&hessian, "price.covers.hands") && !has_line(&hessian, "price.covers.shelter-hire"));
    assert!(!has_line(&bare, "price.covers.hands"));
    let covered = run.walls[0].days.iter().filter(|day| day.cover.as_deref() == Some("damp-hessian"));
    assert!(covered.count() > 3, "{:?}", run.walls[0].days);
    let followed = hessian.findings.iter().find(|finding| finding.rule == "protection-followed").unwrap();
    assert!(followed.says.contains("hessian by the hazard of the day") && followed.says.contains("visits"), "{}", followed.says);
}

// Bare, the rain of the fourth day stops the work; under a roof it does not, and the roof is paid for from the first throw to the last coat's readiness.
#[test]
fn under_a_shelter_rain_stops_nobody_and_the_roof_is_paid() {
    let sheltered = planned(ProtectionAsked::Policy(Policy::Sheltered));
    let run = &sheltered.programme.runs[0];
    let waits = run.walls[0].tasks.iter().flat_map(|task| &task.waited);
    let rain_for_coats = waits.filter(|wait| wait.reason == works::WaitReason::Rain && wait.from < date(2026, 6, 20)).count();
    assert_eq!(rain_for_coats, 0);
    assert!(run.covers.sheltered_m2 > 0.0 && run.covers.heated_m2_days == 0.0);
    let task = |slug: &str| run.walls[0].tasks.iter().find(|task| task.slug == slug).unwrap();
    let weeks = f64::from(task("scud").to.until(task("finish").ready.unwrap()).unwrap().get_days()) / 7.0;
    let stood = run.covers.shelter_m2_weeks / run.covers.sheltered_m2;
    assert!(stood >= weeks - 0.2 && stood < weeks + 3.0, "{stood} weeks for {weeks}");
    for path in ["price.covers.shelter-up-and-down", "price.covers.shelter-hire"] {
        assert!(has_line(&sheltered, path) && sheltered.reckonings.get(path).is_some(), "{path}");
    }
}

#[test]
fn the_choice_is_followed_where_it_is_asked_for() {
    let plan = planned(ProtectionAsked::Chosen);
    let protection = plan.protection.as_ref().unwrap();
    for (wall, chosen) in plan.specification.walls.iter().zip(&protection.walls) {
        let policies: Vec<Policy> = wall.coats.iter().filter_map(|coat| coat.protection.policy).collect();
        assert_eq!(policies, chosen.chosen);
    }
    let said = |rule: &str| plan.findings.iter().find(|finding| finding.rule == rule).unwrap();
    assert!(said("protection").remedy.contains("follows this choice"));
    assert!(said("protection-followed").says.contains("policy chosen"));
    // The same input, the same plan.
    assert_eq!(planned(ProtectionAsked::Chosen).programme.runs, plan.programme.runs);
}
