//! A scan or a table of offsets named in the job reaches quantities and coats; a file that will not do is refused whole.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use job::{Job, ReliefForm, Setting};
use survey::Evenness;
use works::{CoatKind, quantities, specify};

const HEAD: &str = "[job]\nname = \"Gate Lodge\"\nplace = \"Port Calder\"\n[survey]\nsurveyed_on = 2027-04-12\nstage = \"after-opening-up\"\n[window]\nstart = 2027-04-26\n";
/// Lower than the survey's edge is long, so that the edge is laid along alone.
const WALL: &str = "[walls.north]\nfaces = \"north\"\nlength_m = 7.2\nheight_m = 1.5\n";

fn read(lines: &str) -> Job {
    job::read(&format!("{HEAD}{WALL}{lines}"), "job.toml")
        .unwrap_or_else(|problems| panic!("{}", problems.iter().map(|problem| format!("{problem}\n")).collect::<String>()))
}

/// Waves of 12 mm either way each 0.6 m along the wall, crests at both ends, a point each 10 mm, seen by a scanner at nought.
fn scanned() -> Vec<u8> {
    let mut text = String::from("x,y,z\n");
    for cell in 0..720 * 150 {
        let (along, up) = (f64::from(cell % 720) * 0.01 + 0.005, f64::from(cell / 720) * 0.01 + 0.005);
        let out = 0.012 * (2.0 * std::f64::consts::PI * along / 0.6).cos();
        text += &format!("{along:.3},{:.5},{up:.3}\n", 6.0 - out);
    }
    text.into_bytes()
}

fn taken(lines: &str, bytes: &[u8]) -> Result<Job, Vec<String>> {
    let mut job = read(lines);
    let asked = job.reliefs[0].clone();
    job.take_relief(&asked, bytes, "north.csv").map(|()| job)
}

/// Straightening of the first wall: number of passes, mortar in place, m³.
fn straightening(job: &Job) -> (usize, f64) {
    let survey = survey::measure(job.inputs.building.clone()).unwrap();
    let specification = specify(&survey, &job.inputs);
    let amounts = quantities(&survey, &specification, &job.inputs);
    let coats = specification.walls[0].coats.iter().zip(&amounts.walls[0].coats);
    let own: Vec<f64> = coats.filter(|(coat, _)| coat.kind == CoatKind::Straightening).map(|(_, amount)| amount.net_m3).collect();
    (own.len(), own.iter().sum())
}

/// exact solution: an edge longer than the waves lies on their crests, so the mean fill is their amplitude, 12 mm; a third of their length leaves
/// A(1 − cos(π/3)) at the hollow. Taken: 2 % for the middles of cells.
#[test]
fn the_scan_of_a_wavy_wall_gives_the_depth_the_closed_form_gives() {
    let job = taken("relief_file = \"north.csv\"\n", &scanned()).unwrap();
    let Evenness::Surface { surface } = &job.inputs.building.walls[0].evenness else { panic!("no surface") };
    assert!((surface.seen_m2 - 10.8).abs() < 0.01 && surface.unseen_m2 < 0.01, "{surface:?}");
    let relief = survey::measure(job.inputs.building.clone()).unwrap().walls[0].relief.clone();
    assert!((relief.under(0.9).mean_m / 0.012 - 1.0).abs() < 0.02, "{}", relief.under(0.9).mean_m);
    // Nearly all hollow: the ninth tenth lies deeper than half of the deepest.
    assert!((relief.deepest_m / 0.024 - 1.0).abs() < 0.02 && relief.percentiles_m[2] > 0.022, "{relief:?}");
    assert!(!relief.assumed && relief.basis.contains("north.csv"));
    assert!(surface.notes[0].contains("108000 points"), "{:?}", surface.notes);
}

#[test]
fn the_scan_reaches_coats_and_mortar_and_a_shorter_edge_takes_less() {
    let job = taken("relief_file = \"north.csv\"\n[system]\nstraight_edge_m = 0.9\n", &scanned()).unwrap();
    let (passes, litres) = straightening(&job);
    // Mean 12 mm and 3 mm of cover over 10.8 m², deepest 27 mm: three passes of 12 mm.
    assert_eq!(passes, 3);
    assert!((litres / (10.8 * 0.015) - 1.0).abs() < 0.02, "{litres}");
    let shorter = job.with(&[("system.straight_edge_m".to_owned(), Setting::Number(0.3))]).unwrap();
    let (fewer, less) = straightening(&shorter);
    assert!(fewer <= passes && less < litres, "{fewer} {less}");
    // Until its file is read the wall stands as rubble by eye, and says so.
    let unread = read("relief_file = \"north.csv\"\n");
    let Evenness::Class { class } = &unread.inputs.building.walls[0].evenness else { panic!("no class") };
    assert!(class.assumed && class.source.contains("north.csv was not read"));
}

#[test]
fn offsets_are_read_with_their_distance() {
    let row: String = (0..25).map(|place| if place % 2 == 0 { "0," } else { "12," }).collect();
    let table = format!("{}\n", row.trim_end_matches(',')).repeat(6);
    let job = taken("relief_file = \"offsets.csv\"\nrelief_form = \"offsets\"\nrelief_cell_mm = 300\n", table.as_bytes()).unwrap();
    let relief = survey::measure(job.inputs.building.clone()).unwrap().walls[0].relief.clone();
    // Every second reading is 12 mm hollow: 12 of 25 under any edge longer than two readings are apart.
    assert!((relief.under(0.9).mean_m - 0.012 * 12.0 / 25.0).abs() < 1e-12, "{relief:?}");
    let wide = format!("{}\n", "1,".repeat(40)).repeat(3);
    let told = taken("relief_file = \"offsets.csv\"\nrelief_form = \"offsets\"\nrelief_cell_mm = 300\n", wide.as_bytes()).unwrap_err();
    assert!(told[0].contains("distance between offsets"), "{told:?}");
}

#[test]
fn what_the_job_says_of_the_file_must_fit() {
    let problems = |lines: &str| job::read(&format!("{HEAD}{WALL}{lines}"), "job.toml").unwrap_err();
    let said = |lines: &str| problems(lines).iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    assert!(said("relief_file = \"/north.ply\"\n").contains("named from the folder"));
    assert!(said("relief_file = \"north.ply\"\ngaps_mm = [1, 2, 3, 4, 5]\n").contains("given in 2 ways"));
    assert!(said("relief_file = \"north.csv\"\nrelief_form = \"offsets\"\n").contains("relief_cell_mm"));
    assert!(said("relief_unit = \"ft\"\n").contains("relief_file"));
    let asked = read("relief_file = \"north.ply\"\nrelief_unit = \"ft\"\nrelief_cell_mm = 20\nrelief_turned = true\n").reliefs;
    let ReliefForm::Scan(gridding) = asked[0].form else { panic!("no scan") };
    assert_eq!((gridding.cell_m, gridding.turned, gridding.unit), (0.02, true, Some(survey::LengthUnit::Foot)));
    let told = taken("relief_file = \"north.csv\"\nrelief_unit = \"mm\"\n", &scanned()).unwrap_err();
    assert!(told[0].contains("declare the unit"), "{told:?}");
}
