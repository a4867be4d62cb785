//! The one road from inputs to a plan: everything a person sees is there, can be asked why, and is the same every time.

use reckoning::{Grade, Known};
use rust_decimal::Decimal;
use weather::{Kind, Weather};
use works::{Asked, Inputs, Plan, Unwatched, WaitReason, plan, plan_comparing_protection};

use crate::fixture::job;
use crate::seasons::{dull, weather};

fn inputs() -> Inputs {
    let mut inputs = job(&["north", "south"]).inputs;
    inputs.building.surveyed_on = "2026-05-25".to_owned();
    inputs.system.cover.value = "damp-hessian".to_owned();
    inputs
}

fn years(count: i32) -> Weather {
    weather(Kind::Invented, (0..count).map(|year| dull(2001 + year)).collect())
}

fn planned(inputs: &Inputs, weather: Option<&Weather>) -> Plan {
    plan(inputs, weather, &Unwatched).unwrap()
}

#[test]
fn the_ten_questions_are_answered_in_a_line_each() {
    let plan = planned(&inputs(), Some(&years(10)));
    let asked: Vec<&str> = plan.answers.iter().map(|answer| answer.question.as_str()).collect();
    assert_eq!(asked.len(), 10);
    for answer in &plan.answers {
        assert!(!answer.answer.contains('\n') && answer.answer.ends_with('.'), "{}", answer.answer);
    }
    assert!(plan.answers[0].answer.contains(&plan.price.total.to_tens().to_string()));
    assert!(plan.answers[1].answer.contains("years of 10 are finished by"));
    // The days told of one coat are those of its reasons.
    let weeks = &plan.answers[2].answer;
    let (_, told) = weeks.split_once("waits ").unwrap();
    let days: Vec<u32> = told.split(|c: char| !c.is_ascii_digit()).filter_map(|word| word.parse().ok()).collect();
    assert!(days.len() >= 2 && days[0] == days[1..].iter().sum::<u32>(), "{weeks}");
}

#[test]
fn every_figure_of_the_summary_can_be_asked() {
    let plan = planned(&inputs(), Some(&years(10)));
    let mut paths: Vec<String> = ["finish", "finish.eight-in-ten", "price.total", "price.before-tax", "price.per-m2", "price.eight-in-ten"]
        .into_iter()
        .chain(["programme.visits", "programme.gang-days", "programme.damping-visits", "programme.scaffold", "area"])
        .map(str::to_owned)
        .collect();
    for wall in &plan.programme.runs[plan.programme.middle].walls {
        for task in wall.tasks.iter().filter(|task| task.is_coat()) {
            paths.push(format!("walls.{}.coats.{}.ready", wall.slug, task.slug));
            paths.push(format!("walls.{}.coats.{}.wait", wall.slug, task.slug));
        }
        paths.push(format!("walls.{}.finish", wall.slug));
    }
    paths.extend(plan.order.lines.iter().map(|line| format!("order.{}.by", line.slug)));
    paths.extend(plan.price.lines.iter().map(|line| line.path.clone()));
    paths.extend(plan.programme.before.iter().map(|before| before.path.clone()));
    for path in paths {
        assert!(plan.reckonings.get(&path).is_some(), "{path} cannot be asked");
    }
}

// The waits of the wall that finishes last, with its days of work, fill the job.
#[test]
fn the_finish_adds_up() {
    let plan = planned(&inputs(), Some(&years(10)));
    let finish = plan.reckonings.get("finish").unwrap();
    let days: f64 = finish
        .inputs
        .iter()
        .filter_map(|input| match input.value {
            reckoning::Value::Number { amount, .. } => Some(amount),
            _ => None,
        })
        .sum();
    let last = plan.programme.runs[plan.programme.middle].finished.unwrap();
    assert_eq!(days as i32, plan.window.start.until(last).unwrap().get_days() + 1);
    // On a wall damped down twice the coat waits to take up air, or to be old enough.
    assert!(plan.programme.waits.iter().any(|(reason, _)| matches!(reason, WaitReason::LeastAge | WaitReason::Carbonation)));
}

#[test]
fn findings_stand_gravest_first_and_cautions_apply() {
    let plan = planned(&inputs(), None);
    assert!(plan.findings.windows(2).all(|pair| pair[0].grade <= pair[1].grade));
    assert!(plan.findings.iter().any(|finding| finding.rule == "odds" && finding.grade == Grade::Note));
    let hazards: Vec<reckoning::Hazard> = plan.cautions.iter().map(|caution| caution.hazard).collect();
    for hazard in [reckoning::Hazard::Lime, reckoning::Hazard::Height, reckoning::Hazard::ScaffoldLoad, reckoning::Hazard::Simulated] {
        assert!(hazards.contains(&hazard), "{hazard:?}");
    }
}

// A wage that may be half as much again swings money by the labour in the price, and no day; a figure without a range swings nothing.
#[test]
fn what_is_unsettled_is_swung_and_what_is_settled_is_not() {
    assert!(planned(&inputs(), Some(&years(2))).swings.is_empty());
    let mut unsettled = inputs();
    unsettled.rates.mason_h = Known::assumed(Decimal::from(30), "common practice, no source", Some((Decimal::from(20), Decimal::from(40))));
    unsettled.rates.outputs.limewash = Known::assumed(120.0, "common practice, no source", Some((30.0, 120.0)));
    let plan = planned(&unsettled, Some(&years(2)));
    let swing = |path: &str| plan.swings.iter().find(|swing| swing.path == path).unwrap();
    assert_eq!(swing("rates.mason_per_h").days, 0.0);
    // Two masons, 20 more an hour, for 8 hours of every gang-day and one hour of travel to every visit, one for 4 hours of every mending visit, with 15 %
    // overhead.
    let middle = &plan.programme.runs[plan.programme.middle];
    let hours = middle.gang_days * 8.0 + f64::from(middle.visits);
    let mason_hours = hours * 2.0 + f64::from(middle.mending_visits) * 4.0;
    assert!((swing("rates.mason_per_h").money.to_f64() - mason_hours * 20.0 * 1.15).abs() < 0.05);
    assert!(swing("rates.outputs.limewash_m2_per_day").days > 0.0);
}

// Scud, straightening and finish are asked one by one in the words given by the job's table, and one output at most is told of.
#[test]
fn each_output_has_its_own_question_and_one_is_told() {
    let mut unsettled = inputs();
    for (path, label) in [("rates.outputs.scud_m2_per_day", "scud in a day"), ("rates.outputs.finish_m2_per_day", "finish in a day")] {
        let asked = Asked { label: label.to_owned(), question: format!("How much {label}?") };
        unsettled.questions.insert(path.to_owned(), asked);
    }
    let outputs = &mut unsettled.rates.outputs;
    outputs.scud = Known::assumed(60.0, "common practice, no source", Some((30.0, 80.0)));
    outputs.finish = Known::assumed(60.0, "common practice, no source", Some((10.0, 80.0)));
    outputs.limewash = Known::assumed(120.0, "common practice, no source", Some((60.0, 130.0)));
    let plan = planned(&unsettled, Some(&years(2)));
    let told: Vec<&str> = plan.swings.iter().map(|swing| swing.path.as_str()).collect();
    assert_eq!(told, ["rates.outputs.finish_m2_per_day"]);
    assert_eq!(plan.swings[0].label, "Finish in a day");
    assert_eq!(plan.swings[0].question, "How much finish in a day?");
    assert!(works::swing_paths().iter().all(|path| path.contains('.')));
}

// The same inputs give the same plan on one thread and on several: compared as everything a reader could see.
#[test]
fn the_plan_is_the_same_on_any_number_of_threads() {
    let (inputs, weather) = (inputs(), years(10));
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        format!("{:?}", pool.install(|| planned(&inputs, Some(&weather))))
    };
    assert_eq!(with(1), with(2));
}

#[test]
fn a_building_that_cannot_be_measured_is_refused_in_the_survey_s_words() {
    let mut broken = inputs();
    broken.building.walls[0].outline = survey::Outline::Rectangle { length_m: -1.0, height_m: 6.0 };
    assert!(plan(&broken, None, &Unwatched).unwrap_err().to_string().len() > 20);
}

#[test]
fn policies_are_compared_and_can_be_asked() {
    let plan = plan_comparing_protection(&inputs(), Some(&years(4)), &Unwatched).unwrap();
    let protection = plan.protection.unwrap();
    assert_eq!((protection.walls.len(), protection.years.len()), (2, 4));
    for wall in &protection.walls {
        assert_eq!(wall.options.len(), 4);
        assert_eq!(wall.fixed.as_deref(), Some("damp-hessian"), "the job says so itself");
        for option in &wall.options {
            let told = plan.reckonings.get(&format!("walls.{}.protection.{}", wall.wall, option.policy.name())).unwrap();
            assert!(!told.inputs.is_empty());
            let parts: f64 = option.coats.iter().map(|coat| coat.money.to_f64()).sum();
            // Each is rounded to the hundredth part by itself.
            assert!((parts - option.money.to_f64()).abs() <= 0.0051 * (option.coats.len() + 1) as f64, "{parts} {}", option.money);
        }
        let place = format!("walls.{}.protection", wall.wall);
        assert!(plan.findings.iter().any(|finding| finding.rule == "protection" && finding.place == place));
    }
    assert!(planned(&inputs(), Some(&years(4))).protection.is_none(), "it was not asked for");
    let by_thumb = plan_comparing_protection(&inputs(), None, &Unwatched).unwrap();
    assert!(by_thumb.protection.is_none(), "without weather there is nothing to compare");
}

// In heat and wind a bare coat is spoiled, so that its low cost does not choose it.
#[test]
fn a_policy_that_spoils_coats_is_not_chosen_for_its_price() {
    let mut inputs = inputs();
    inputs.system.cover = Known::assumed("damp-hessian".to_owned(), "no answer", None);
    let mut hot = dull(2001);
    for hour in 0..hot.air_c.len() {
        let by_day = (9..19).contains(&(hour % 24));
        hot.air_c[hour] = if by_day { 27.0 } else { 20.0 };
        hot.humidity[hour] = 0.40;
        hot.wind_m_s[hour] = 9.0;
    }
    let plan = plan_comparing_protection(&inputs, Some(&weather(Kind::Invented, vec![hot])), &Unwatched).unwrap();
    let wall = &plan.protection.unwrap().walls[0];
    let bare = &wall.options[0];
    assert!(bare.coats[0].ahead.redone > 0.0, "{:?}", bare.coats[0].ahead.damage);
    assert_ne!(wall.chosen[0], works::protect::Policy::Nothing, "{}", wall.why);
}
