//! The documents of the shipped demonstration, planned for real.

use documents::{order_csv, plan_json, programme_ics};

use crate::ferry_house::ferry_house;

#[test]
fn the_demonstration_gives_every_document() {
    let plan = ferry_house();
    let value: serde_json::Value = serde_json::from_str(&plan_json(&plan)).unwrap();
    assert_eq!(value["answers"].as_array().unwrap().len(), 10);
    assert!(order_csv(&plan).len() > 200 && programme_ics(&plan).contains("BEGIN:VEVENT"));
    crate::figures::check_all(&plan, "the demonstration");
    #[cfg(feature = "pdf")]
    {
        let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
        std::fs::write(folder.join("plan.json"), plan_json(&plan)).unwrap();
        std::fs::write(folder.join("proposal-real.pdf"), documents::proposal_pdf(&plan, None).unwrap()).unwrap();
        std::fs::write(folder.join("damping-real.pdf"), documents::damping_pdf(&plan).unwrap()).unwrap();
        std::fs::write(folder.join("site-real.pdf"), documents::site_pdf(&plan).unwrap()).unwrap();
    }
}

// Every wall of the demonstration is told from the scaffold put up to the scaffold taken down, in order of day: reveals before the face, laying and ruling on one
// day, bays each on a day of its own where the gang covers them, a test before every coat, tie patches after the limewash. The same stands in plan/1.
#[test]
fn the_demonstration_tells_every_step() {
    let plan = ferry_house();
    let run = &plan.programme.runs[plan.programme.middle];
    for wall in &run.walls {
        let rows = documents::steps::steps(wall);
        let place = |words: &str| rows.iter().position(|row| row.name.contains(words)).unwrap_or_else(|| panic!("{}: {words}", wall.slug));
        let ordered = [
            "Scaffold put up",
            "Preparation",
            "reveals first",
            "ruling",
            "Scaffold adapted",
            "Limewash",
            "Tie patches",
            "Scaffold taken down",
        ];
        let places = ordered.map(place);
        assert!(places.is_sorted(), "{}: {places:?} {rows:#?}", wall.slug);
        assert!(rows.windows(2).all(|pair| pair[0].days.0 <= pair[1].days.0), "{}", wall.slug);
        let coats = wall.tasks.iter().filter(|task| task.is_coat()).count();
        assert_eq!(rows.iter().filter(|row| row.name.contains("test on the wall")).count(), coats, "{}", wall.slug);
        assert_eq!(rows.iter().filter(|row| row.name.contains("first 48 hours")).count(), coats, "{}", wall.slug);
    }
    let bays = |slug: &str| {
        let wall = run.walls.iter().find(|wall| wall.slug == slug).unwrap();
        let finish = wall.tasks.iter().find(|task| task.slug == "finish").unwrap();
        finish
            .parts
            .iter()
            .filter(|part| part.kind == works::PartKind::Bay)
            .map(|part| (part.from == part.to, part.cold_joint))
            .collect::<Vec<_>>()
    };
    assert_eq!(bays("north"), [(true, false); 2]);
    assert_eq!(bays("south"), [(true, false); 2]);
    assert_eq!(bays("east-gable"), [(false, true)], "a gable has nothing to hide a joint behind");
    let value: serde_json::Value = serde_json::from_str(&plan_json(&plan)).unwrap();
    let middle =
        value["programme"]["runs"].as_array().unwrap().iter().find(|run| run["year"] == value["programme"]["middle_year"]).unwrap();
    let wall = &middle["walls"][0];
    assert_eq!(wall["scaffold"].as_array().unwrap().len(), 3);
    assert!(
        wall["tasks"].as_array().unwrap().iter().any(|task| task["parts"].as_array().unwrap().iter().any(|part| part["kind"] == "ruling"))
    );
}
