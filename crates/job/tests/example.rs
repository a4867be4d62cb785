//! The demonstration job reads, and says what it is meant to say.
#![allow(clippy::unwrap_used, clippy::expect_used)]

const FERRY_HOUSE: &str = include_str!("../../../examples/ferry-house/job.toml");

#[test]
fn ferry_house_reads() {
    let job = job::read(FERRY_HOUSE, "job.toml")
        .unwrap_or_else(|problems| panic!("{}", problems.iter().map(|p| format!("{p}\n")).collect::<String>()));
    let building = &job.inputs.building;
    assert!(building.walls.len() >= 4);
    assert!(building.walls.iter().any(|wall| matches!(wall.outline, survey::Outline::Gable { .. })));
    assert!(building.walls.iter().map(|wall| wall.openings.len()).sum::<usize>() >= 10);
    assert_eq!(building.walls.iter().map(|wall| wall.chimneys.len()).sum::<usize>(), 1);
    let slugs: Vec<&str> = building.walls.iter().map(|wall| wall.slug.as_str()).collect();
    assert_eq!(slugs, ["north", "east-gable", "south", "west-gable"], "walls keep the order of the file");
    assert!(job.inputs.about.invented);
    assert_eq!(job.weather.as_ref().map(|weather| weather.file.as_str()), Some("weather.csv"));
}
