//! Broken job files: each gives at least one problem that names the place, says what was found, what is allowed and what to do.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeSet;
use std::path::PathBuf;

/// File, path of the problem, and words its message must hold.
const BROKEN: &[(&str, &str, &[&str])] = &[
    ("apex-below-eaves", "walls.gable.apex_m", &["apex at 2.9 m is not above the eaves"]),
    ("away-all-the-time", "window.finish_by", &["Not one day is worked"]),
    ("coat-too-thick", "system.coats.fill.thickness_mm", &["200 mm is more than 40 mm", "How thick"]),
    ("cover-not-known", "system.cover", &["no \"tarpaulin\" among its covers", "damp-hessian"]),
    ("damp-on-no-wall", "damp.gutters.walls", &["There is no wall \"nort\"", "Did you mean \"north\"?"]),
    ("day-ends-before-it-starts", "calendar.to", &["not after its start", "twenty-four hour clock"]),
    ("day-not-in-the-calendar", "window.start", &["no day of the calendar"]),
    ("eleven-months-of-rain", "weather.monthly_rain_mm", &["There are 11 in the list", "exactly 12"]),
    ("downpipe-before-a-window", "walls.north.joints.pipe.at_m", &["before the opening \"window\"", "clear of every opening"]),
    ("evenness-twice", "walls.north.evenness", &["given in 2 ways"]),
    ("finish-before-start", "window.finish_by", &["comes before the start"]),
    ("four-gaps", "walls.north.gaps_mm", &["There are 4 in the list", "5 to 200"]),
    ("gang-of-nobody", "gangs.own.masons", &["has nobody in it", "at least one mason"]),
    ("height-in-acres", "walls.north.height_m", &["The unit \"acres\" is not one"]),
    ("height-no-number", "walls.north.height_m", &["nobody can measure"]),
    ("height-on-a-gable", "walls.gable.height_m", &["A wall of shape \"gable\" has no height_m"]),
    ("joint-beyond-the-wall", "walls.north.joints.pipe.at_m", &["9 m from the left end and the wall 8.40 m long", "between the two ends"]),
    ("key-in-the-wrong-table", "job.limewash_coats", &["not known in job", "belongs to system.limewash_coats"]),
    ("key-twice", "", &["does not read as TOML", "each key once"]),
    ("last-job-too-fast", "rates.last_job.gang_days", &["140.0 m² a gang", "Count every day"]),
    ("length-read-two-ways", "walls.north.length_m", &["can be read in two ways"]),
    ("many-faults", "walls.gable.faces", &["is not a point of the compass", "north-east"]),
    ("mix-without-sand", "system.coats.scud.mix", &["leaves out the lime or the sand", "1:2½"]),
    ("money-not-known", "rates.currency", &["\"gbp\" is not the code of a currency", "GBP"]),
    ("name-not-short", "walls", &["\"East Gable\" is not a short name", "Write \"east-gable\""]),
    ("no-days-worked", "calendar.days", &["There are 0 in the list", "one or more"]),
    ("no-wall-scaffolded", "scaffold.walls_at_once", &["0 is less than 1"]),
    ("no-walls", "walls", &["There is no wall", "[walls.north]"]),
    ("not-toml", "", &["does not read as TOML", "quotation marks"]),
    ("offsets-ragged", "walls.north.offsets_mm", &["Row 2 has 2 offsets and the first row 3"]),
    ("opening-beyond-the-wall", "walls.north.openings.window.left_m", &["beyond the wall", "left jamb"]),
    ("opening-out-of-the-gable", "walls.gable.openings.attic", &["stands out of the outline", "under the slope"]),
    ("opening-wider-than-wall", "walls.north.openings.door.width_m", &["9 m wide and the wall 8.4 m long"]),
    ("openings-overlap", "walls.north.openings.window", &["lies over \"door\""]),
    ("outline-crosses-itself", "walls.gable.corners_m", &["crosses itself", "in the order"]),
    ("own-lime-not-whole", "catalogue.limes.calder-lime.bulk_kg_m3", &["has no bulk_kg_m3"]),
    ("price-of-nothing-known", "rates.materials.putty", &["no lime or sand \"putty\"", "Did you mean \"putty-cl90\"?"]),
    ("rate-below-nothing", "rates.mason_per_h", &["-36.5 in the currency of the job is less than 0"]),
    ("scaffold-never-free", "scaffold.from", &["after the latest day of the job", "Ask for the scaffold earlier"]),
    ("sill-above-head", "walls.north.openings.window.head_m", &["The sill at 2.1 m is not below the head at 0.9 m"]),
    ("start-before-survey", "window.start", &["comes before the survey"]),
    ("stone-not-known", "walls.north.masonry", &["no \"granit\" among its masonries", "Did you mean \"granite\"?"]),
    ("survey-not-dated", "survey.surveyed_on", &["[survey] has no surveyed_on", "On what day"]),
    ("time-zone-not-known", "job.time_zone", &["is no time zone"]),
    ("touch-not-a-word", "walls.north.touch_low", &["\"moist\" is not one of the words", "\"dry\", \"damp\", \"wet\""]),
    ("unknown-key", "walls.north.lenght_m", &["\"lenght_m\" is not known", "Did you mean \"length_m\"?"]),
    ("unknown-table", "scafold", &["\"scafold\" is not known", "Did you mean \"scaffold\"?"]),
    ("wall-in-millimetres", "walls.north.length_m", &["8400 m is more than 300 m", "from 0.2 to 300 m", "How long is the wall?"]),
    ("wall-of-no-thickness", "walls.north.thickness_mm", &["0 mm is less than"]),
    ("wall-without-height", "walls.north.height_m", &["[walls.north] has no height_m", "How high is it"]),
    ("weather-from-elsewhere", "weather.file", &["not named from the folder of this job file"]),
];

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/bad/job")
}

fn text(name: &str) -> String {
    std::fs::read_to_string(folder().join(format!("{name}.toml"))).unwrap()
}

#[test]
fn each_broken_job_is_told_by_place_finding_and_remedy() {
    for (name, path, needs) in BROKEN {
        let problems = job::read(&text(name), &format!("{name}.toml")).err().unwrap_or_else(|| panic!("{name} was read without a problem"));
        let told = problems.iter().find(|problem| {
            let message = problem.to_string();
            problem.path == *path && needs.iter().all(|need| message.contains(need))
        });
        let all: String = problems.iter().map(|problem| format!("{problem}\n")).collect();
        let told = told.unwrap_or_else(|| panic!("{name}: no problem at {path:?} says {needs:?}; told were\n{all}"));
        assert!(told.line > 1 || *name == "no-walls", "{name}: the fault never stands in the first line: {told}");
        for part in [&told.found, &told.allowed, &told.remedy] {
            assert!(part.ends_with(['.', '?', '"', ']', '=']) || part.contains(" = "), "{name}: not a sentence: {part:?}");
        }
    }
}

#[test]
fn one_fault_gives_one_problem() {
    let several = ["many-faults", "own-lime-not-whole", "not-toml", "key-twice"];
    for (name, ..) in BROKEN.iter().filter(|(name, ..)| !several.contains(name)) {
        let problems = job::read(&text(name), name).unwrap_err();
        let all: String = problems.iter().map(|problem| format!("{problem}\n")).collect();
        assert_eq!(problems.len(), 1, "{name}:\n{all}");
    }
}

#[test]
fn several_faults_are_told_at_once_in_the_order_of_the_file() {
    let problems = job::read(&text("many-faults"), "many-faults.toml").unwrap_err();
    let paths: Vec<&str> = problems.iter().map(|problem| problem.path.as_str()).collect();
    assert_eq!(paths, ["walls.north.lenght_m", "walls.gable.faces", "window.finish_by"]);
    assert!(problems.is_sorted_by_key(|problem| problem.line));
}

#[test]
fn every_broken_file_is_in_the_list() {
    let listed: BTreeSet<String> = BROKEN.iter().map(|(name, ..)| format!("{name}.toml")).collect();
    let there: BTreeSet<String> =
        std::fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    assert_eq!(listed, there);
    assert!(listed.len() >= 20);
}
