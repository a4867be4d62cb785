//! The shipped demonstration, planned as a user plans it.

use works::Plan;

/// The shipped demonstration, planned for real.
pub fn ferry_house() -> Plan {
    static PLANNED: std::sync::OnceLock<Plan> = std::sync::OnceLock::new();
    PLANNED.get_or_init(plan_ferry_house).clone()
}

/// The shipped demonstration's job and weather.
pub fn ferry_house_job() -> (job::Job, weather::Weather) {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/ferry-house");
    let text = std::fs::read_to_string(folder.join("job.toml")).unwrap();
    let job = job::read(&text, "job.toml").unwrap();
    let asked = job.weather.as_ref().unwrap();
    let weather = weather::read_csv(&std::fs::read_to_string(folder.join(&asked.file)).unwrap(), &asked.file).unwrap();
    (job, weather)
}

fn plan_ferry_house() -> Plan {
    let (job, weather) = ferry_house_job();
    works::plan(&job.inputs, Some(&weather), &works::Unwatched).unwrap()
}
