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
