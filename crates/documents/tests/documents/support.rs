//! A plan to draw and typeset before and beside the real ones: an invented house at an invented place, with one wall or many, short
//! names or long. Its figures are made up to be plausible; nothing here checks arithmetic.

use jiff::civil::{Date, Weekday, date};
use materials::{Mix, Moisture, Mortar};
use reckoning::{Caution, Currency, Finding, Grade, Hazard, Known, Money, Reckoning, Reckonings, Unit, Value};
use rust_decimal::Decimal;
use survey::*;
use works::*;

use crate::catalogue::catalogue;
pub use crate::names::Names;
use crate::names::wall_name;

pub fn plan(walls: usize, names: Names) -> Plan {
    let start = date(2027, 4, 19);
    let found: Vec<WallFound> = (0..walls).map(|index| wall_found(index, names)).collect();
    let measured: Vec<WallMeasured> = found.iter().map(measure).collect();
    let area: f64 = measured.iter().map(|wall| wall.net_m2 + wall.reveal_m2).sum();
    let specification = specification(&found);
    let quantities = quantities(&specification, &measured);
    let programme = programme(&found, &specification, start);
    let price = price(&found, &measured, &programme);
    let mut reckonings = Reckonings::default();
    for wall in &measured {
        reckonings.keep(area_reckoning(wall));
    }
    reckonings.keep(price_reckoning(&price));
    Plan {
        about: about(names),
        window: Window { start, finish_by: Some(date(2027, 8, 31)) },
        survey: Survey { building: building(found), walls: measured, findings: Vec::new(), reckonings: Reckonings::default() },
        specification,
        quantities,
        answers: answers(&price),
        swings: swings(),
        findings: findings(),
        cautions: cautions(),
        reckonings,
        basis: Basis {
            version: "0.1.0".into(),
            arithmetic: "portable".into(),
            seed: 7,
            weather_hash: Some("ab12".repeat(16)),
            weather: "twelve invented years for Port Calder".into(),
            years: 12,
            cell_steps: 8_400_000,
        },
        protection: None,
        order: order(start),
        price,
        programme,
        catalogue: catalogue(),
    }
    .with_area(area)
}

trait WithArea {
    fn with_area(self, area: f64) -> Self;
}

impl WithArea for Plan {
    fn with_area(mut self, area: f64) -> Self {
        self.quantities.area_m2 = area;
        self
    }
}

fn about(names: Names) -> About {
    let client = if names == Names::Markup { "A. #eval(1) *Client* <script>" } else { "Isla Dunmarrow" };
    About {
        name: "Ferry House".into(),
        place: "Port Calder".into(),
        client: client.into(),
        contractor: "Calder Lime, masons".into(),
        surveyor: "R. Tavish Orr".into(),
        revision: 7,
        dated: date(2027, 3, 1),
        invented: true,
        time_zone: "Europe/London".into(),
    }
}

fn building(walls: Vec<WallFound>) -> Building {
    Building {
        stage: Stage::AfterOpeningUp,
        surveyed_on: "2027-02-12".into(),
        protected: Known::answered(true),
        causes_of_damp: vec![CauseOfDamp { kind: DampKind::Gutters, state: DampState::ToMend, walls: vec!["wall-1".into()] }],
        walls,
        small_opening_m2: 0.5,
    }
}

fn opening(slug: &str, kind: OpeningKind, left: f64, sill: f64, width: f64, height: f64) -> Opening {
    Opening {
        slug: slug.into(),
        kind,
        width_m: width,
        height_m: height,
        left_m: left,
        sill_m: sill,
        reveal_m: 0.18,
        head: true,
        has_sill: kind == OpeningKind::Window,
        margin_m: if kind == OpeningKind::Window { 0.12 } else { 0.0 },
    }
}

fn wall_found(index: usize, names: Names) -> WallFound {
    let (outline, openings, chimneys) = match index % 4 {
        0 => (
            Outline::Rectangle { length_m: 9.6, height_m: 4.7 },
            vec![
                opening("w1", OpeningKind::Window, 1.3, 3.0, 1.0, 1.2),
                opening("w2", OpeningKind::Window, 4.3, 3.0, 1.0, 1.2),
                opening("w3", OpeningKind::Window, 7.2, 3.0, 1.0, 1.2),
                opening("w4", OpeningKind::Window, 1.3, 0.8, 1.0, 1.3),
                opening("door", OpeningKind::Door, 4.3, 0.0, 1.0, 2.1),
            ],
            vec![],
        ),
        1 => (
            Outline::Gable { length_m: 6.4, eaves_m: 4.7, apex_m: 7.6 },
            vec![opening("attic", OpeningKind::Window, 2.8, 4.6, 0.8, 1.0)],
            vec![Chimney { length_m: 1.0, width_m: 0.6, height_m: 1.1 }],
        ),
        2 => (
            Outline::Polygon { corners_m: vec![(0.0, 0.0), (9.6, 0.3), (9.6, 4.7), (0.0, 4.7)] },
            vec![
                opening("cart", OpeningKind::CartDoor, 1.0, 0.2, 2.4, 2.3),
                opening("w1", OpeningKind::Window, 5.6, 3.0, 1.0, 1.2),
                opening("vent", OpeningKind::Vent, 7.8, 0.7, 0.3, 0.3),
            ],
            vec![],
        ),
        _ => (
            Outline::Round { radius_m: 2.4, arc_deg: 150.0, height_m: 4.7 },
            vec![opening("w1", OpeningKind::Window, 2.6, 3.0, 0.7, 1.0)],
            vec![],
        ),
    };
    WallFound {
        slug: format!("wall-{}", index + 1),
        name: wall_name(index, names),
        outline,
        faces_deg: (index as f64 * 90.0) % 360.0,
        openings,
        chimneys,
        lines: Lines::default(),
        joints: Vec::new(),
        masonry: Known::answered("whin-rubble".into()),
        thickness_m: Known::answered(0.61),
        joint_share: Known::assumed(0.25, "common practice, no source", Some((0.15, 0.35))),
        old_covering: Known::answered([OldCovering::Bare, OldCovering::Cement, OldCovering::LimeHarl, OldCovering::Paint][index % 4]),
        bared_months: None,
        dampness: Dampness {
            low: Known::assumed(0.4, "common practice, no source", Some((0.2, 0.6))),
            middle: Known::assumed(0.3, "common practice, no source", Some((0.1, 0.5))),
            high: Known::answered(0.2),
            face: None,
        },
        splash_s: Known::answered(70.0),
        evenness: Evenness::Class { class: Known::assumed(EvennessClass::Rubble, "common practice, no source", None) },
        inside: Known::answered(Inside::Heated),
        exposure: Exposure {
            terrain: Known::answered(Terrain::Shore),
            obstruction_m: Known::answered(None),
            overhang: Known::answered(false),
        },
    }
}

fn measure(wall: &WallFound) -> WallMeasured {
    let (gross, top, length) = match &wall.outline {
        Outline::Rectangle { length_m, height_m } => (length_m * height_m, *height_m, *length_m),
        Outline::Gable { length_m, eaves_m, apex_m } => (length_m * (eaves_m + apex_m) / 2.0, *apex_m, *length_m),
        Outline::Polygon { .. } => (9.6 * 4.55, 4.7, 9.6),
        Outline::Round { radius_m, arc_deg, height_m } => {
            (radius_m * arc_deg.to_radians() * height_m, *height_m, radius_m * arc_deg.to_radians())
        }
    };
    let openings: f64 = wall.openings.iter().map(|o| o.width_m * o.height_m).sum();
    WallMeasured {
        slug: wall.slug.clone(),
        gross_m2: gross,
        deducted_m2: openings,
        net_m2: gross - openings,
        reveal_m2: 1.9,
        top_m: top,
        length_m: length,
        bays: vec![survey::Bay { from_m: 0.0, to_m: length, share: 1.0, top_m: top }],
        lines: MeasuredLines { ingo_m: 12.4, sill_m: 3.0, base_m: length, wallhead_m: length, ..MeasuredLines::default() },
        relief: Relief {
            mean_m: 0.012,
            mean_range_m: (0.008, 0.017),
            percentiles_m: [0.005, 0.012, 0.024],
            deepest_m: 0.04,
            basis: "class by eye".into(),
            assumed: true,
            spread_m: Vec::new(),
            curve: Vec::new(),
        },
    }
}

pub fn moisture(density: f64) -> Moisture {
    Moisture {
        density_kg_m3: density,
        porosity: 0.3,
        saturation_kg_m3: 250.0,
        retention_a_per_pa: 1e-5,
        retention_n: 1.6,
        absorption_kg_m2_s05: 0.1,
        vapour_resistance: 15.0,
        conductivity_w_mk: 0.7,
        conductivity_per_water: 0.002,
        heat_j_kgk: 850.0,
    }
}

fn mortar(mix: &Mix) -> Mortar {
    let sand = 1000.0;
    let lime = sand / mix.sand_parts;
    Mortar {
        mix: mix.clone(),
        yield_per_sand: 1.0,
        lime_kg_m3: lime * 1.35,
        lime_l_m3: lime,
        sand_kg_m3: 1550.0,
        sand_l_m3: sand,
        water_added_kg_m3: 120.0,
        water_fresh_kg_m3: 310.0,
        portlandite_mol_m3: 4000.0,
        set: None,
        hardened: moisture(1750.0),
        fresh: moisture(1950.0),
        strength_rank: 1.0 / mix.sand_parts,
    }
}

fn coat(slug: &str, name: &str, kind: CoatKind, parts: f64, mm: [f64; 3], placing: Placing, grain: f64) -> CoatSpecification {
    let sand = if kind == CoatKind::Finish { "finish-grit" } else { "sharp-concreting" };
    let mix = Mix { lime: "putty-cl90".into(), sand: sand.into(), sand_parts: parts };
    CoatSpecification {
        slug: slug.into(),
        name: name.into(),
        kind,
        mortar: mortar(&mix),
        mix,
        thickness_m: mm.map(|value| value / 1000.0),
        mean_thickness_m: mm[1] / 1000.0,
        placing,
        largest_grain_mm: grain,
        protection: Protection { cover: "damp-hessian".into(), days: 10, damp_days: 7, wettings_a_day: 2, policy: None },
        least_wait_days: 7.0,
        test: "Nail test: a nail drawn with a firm hand marks the coat and does not plough it; the knuckle leaves no print.".into(),
        method: "Thrown hard from the scoop on a wall damped the evening before and again half an hour before; not trowelled.".into(),
    }
}

fn specification(found: &[WallFound]) -> Specification {
    let walls = found
        .iter()
        .enumerate()
        .map(|(index, wall)| {
            let mut coats = vec![coat("scud", "Scud coat", CoatKind::Scud, 1.0, [3.0, 3.5, 4.0], Placing::Thrown, 4.0)];
            coats.push(coat("straightening", "Straightening coat", CoatKind::Straightening, 2.0, [5.0, 12.0, 24.0], Placing::Laid, 4.0));
            if index == 1 {
                coats.push(coat(
                    "straightening-2",
                    "Straightening coat, second pass",
                    CoatKind::Straightening,
                    2.0,
                    [4.0, 8.0, 12.0],
                    Placing::Laid,
                    4.0,
                ));
            }
            coats.push(coat("finish", "Finish harl", CoatKind::Finish, 2.5, [7.0, 8.0, 9.0], Placing::Thrown, 6.0));
            WallSpecification {
                slug: wall.slug.clone(),
                coats,
                limewash: Limewash {
                    coats: 5,
                    water_parts: 3.0,
                    interval_h: 24.0,
                    lime: "putty-cl90".into(),
                    colour: "natural white".into(),
                    least_wait_days: 7.0,
                },
            }
        })
        .collect();
    Specification {
        walls,
        panel: Panel {
            area_m2: 1.0,
            words: "A panel of one square metre on the north wall, all coats, approved by the client before the work is begun.".into(),
            lead_days: 42,
        },
        preparation: vec![
            "Mend the gutter over the north wall before anything else.".into(),
            "Take off the cement covering by hand, without percussion on the arrises.".into(),
            "Rake out loose joints to twice their width, pin hollows with stone bedded in lime.".into(),
        ],
        findings: Vec::new(),
        reckonings: Reckonings::default(),
    }
}

fn quantities(specification: &Specification, measured: &[WallMeasured]) -> Quantities {
    let walls = specification
        .walls
        .iter()
        .zip(measured)
        .map(|(wall, measure)| WallQuantities {
            slug: wall.slug.clone(),
            coats: wall
                .coats
                .iter()
                .map(|coat| {
                    let area = measure.net_m2 + measure.reveal_m2;
                    let net = area * coat.mean_thickness_m;
                    CoatQuantities {
                        slug: coat.slug.clone(),
                        area_m2: area,
                        mean_thickness_m: coat.mean_thickness_m,
                        net_m3: net,
                        mixed_m3: net * 1.2,
                        mixed_range_m3: (net * 1.1, net * 1.4),
                        lime_kg: net * 1.2 * coat.mortar.lime_kg_m3,
                        sand_kg: net * 1.2 * coat.mortar.sand_kg_m3,
                        water_l: net * 1.2 * coat.mortar.water_added_kg_m3,
                    }
                })
                .collect(),
            limewash_l: 54.0,
            hessian_m2: 52.0,
            tie_patches: 3,
            tie_mortar_m3: 0.002,
        })
        .collect();
    Quantities {
        walls,
        materials: vec![Material {
            slug: "putty-cl90".into(),
            name: "Lime putty CL 90, matured".into(),
            amount: 1240.0,
            unit: "kg".into(),
            units: 46,
            unit_name: "20 litre tub".into(),
            purpose: "all coats and limewash".into(),
            one_load: false,
            serves: vec!["scud".into(), "straightening".into(), "finish".into(), "limewash".into()],
        }],
        area_m2: 0.0,
        reckonings: Reckonings::default(),
    }
}

fn plus(day: Date, days: i64) -> Date {
    day.saturating_add(jiff::Span::new().days(days))
}

fn working(mut day: Date) -> Date {
    while matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) {
        day = plus(day, 1);
    }
    day
}

fn wall_run(index: usize, wall: &WallFound, specification: &WallSpecification, start: Date, late: i64) -> WallRun {
    let mut day = working(plus(start, index as i64 * 3));
    let mut tasks = vec![task("preparation", "Preparation", day, 2, None, Vec::new())];
    let first_coat = working(plus(day, 2));
    day = first_coat;
    let mut thrown = Vec::new();
    for (position, coat) in specification.coats.iter().enumerate() {
        let gap = 9 + position as i64 * 4 + late;
        let to = working(plus(day, 1));
        let ready = plus(to, gap);
        let next = working(ready);
        let waited = if position == 0 { Vec::new() } else { waits(plus(thrown.last().map_or(day, |(d, _)| *d), 1), day) };
        tasks.push(task(&coat.slug, &coat.name, day, 2, Some(ready), waited));
        thrown.push((to, coat.slug.clone()));
        day = next;
    }
    let waited = waits(plus(thrown.last().map_or(day, |(d, _)| *d), 1), day);
    tasks.push(task("limewash", "Limewash", day, 5, None, waited));
    let last = plus(day, 6);
    let days = days(first_coat, last, &thrown);
    WallRun {
        slug: wall.slug.clone(),
        tasks,
        scaffold_from: Some(start),
        scaffold_to: Some(last),
        scaffold: Vec::new(),
        still_waiting: Vec::new(),
        freed: None,
        damped: Vec::new(),
        days,
    }
}

fn waits(from: Date, next: Date) -> Vec<Wait> {
    let days = from.until(next).map_or(0, |span| i64::from(span.get_days()));
    if days < 4 {
        return Vec::new();
    }
    vec![
        Wait { from, to: plus(from, days - 4), reason: WaitReason::Carbonation },
        Wait { from: plus(from, days - 3), to: plus(from, days - 3), reason: WaitReason::Rain },
        Wait { from: plus(from, days - 2), to: plus(next, -1), reason: WaitReason::Weekend },
    ]
}

fn task(slug: &str, name: &str, from: Date, days: i64, ready: Option<Date>, waited: Vec<Wait>) -> Task {
    Task {
        slug: slug.into(),
        name: name.into(),
        gang: "Harlers".into(),
        from,
        to: working(plus(from, days - 1)),
        gang_days: days as f64,
        ready,
        decides: "enough air taken up: 1.15 mm of 12 mm".into(),
        rules: Vec::new(),
        took_days: Vec::new(),
        waited,
        damping_visits: 14,
        parts: Vec::new(),
        looked: Vec::new(),
    }
}

fn days(from: Date, to: Date, thrown: &[(Date, String)]) -> Vec<DayRecord> {
    let mut records = Vec::new();
    let mut day = from;
    let mut count = 0_i64;
    while day <= to {
        let coats: Vec<f64> = thrown
            .iter()
            .filter(|(on, _)| *on <= day)
            .map(|(on, _)| (0.0003 * f64::from(on.until(day).map_or(0, |s| s.get_days())).sqrt() * 2.6).min(0.006))
            .collect();
        let since = thrown.iter().filter(|(on, _)| *on <= day).map(|(on, _)| on.until(day).map_or(0, |s| s.get_days())).min();
        records.push(DayRecord {
            date: day,
            uptake_m: coats.clone(),
            front_m: coats,
            face_humidity: 0.85,
            air_c: (4.0 + (count % 7) as f64, 10.0 + (count % 9) as f64),
            rain_mm: if count % 5 == 0 { (count % 13) as f64 } else { 0.0 },
            cover: since.filter(|days| *days < 10).map(|_| "damp-hessian".into()),
            wettings: since.map_or(0, |days| if days < 7 { 2 } else { 0 }),
        });
        day = plus(day, 1);
        count += 1;
    }
    records
}

fn programme(found: &[WallFound], specification: &Specification, start: Date) -> Programme {
    let runs: Vec<YearRun> = (0..12_i64)
        .map(|year| {
            let walls: Vec<WallRun> = found
                .iter()
                .zip(&specification.walls)
                .enumerate()
                .map(|(index, (wall, spec))| wall_run(index, wall, spec, start, year / 2))
                .collect();
            let finished = walls.iter().filter_map(|wall| wall.tasks.last()).map(|task| task.to).max();
            let unfinished = (year == 11).then(|| "the finish on the north wall was not ready before the frosts".to_owned());
            YearRun {
                year: 2001 + year as i32,
                finished: if year == 11 { None } else { finished },
                unfinished,
                walls,
                gang_days: 44.0,
                visits: 9,
                damping_visits: 160,
                covers: works::CoverWork::default(),
                scaffold_m2_weeks: 1600.0,
                gangs: Vec::new(),
                losses: Vec::new(),
                mendings: Vec::new(),
                mending_visits: 0,
                held: Vec::new(),
                days_off_damped: Vec::new(),
            }
        })
        .collect();
    let mut finishes: Vec<Date> = runs.iter().filter_map(|run| run.finished).collect();
    finishes.sort();
    let (middle, eight) = (finishes[5], finishes[8]);
    Programme {
        before: vec![
            Before {
                what: "Approve the sample panel".into(),
                by: date(2027, 4, 12),
                why: "six weeks to make and cure it".into(),
                path: "job.panel".into(),
            },
            Before {
                what: "Consent for work on a listed building".into(),
                by: date(2027, 2, 20),
                why: "eight weeks are usual".into(),
                path: "job.protected".into(),
            },
        ],
        gate: Vec::new(),
        odds: Some(Odds {
            years: 12,
            finished_years: 11,
            middle,
            eight_in_ten: eight,
            eight_in_ten_years: finishes.iter().filter(|day| **day <= eight).count() as u32,
            finishes,
        }),
        runs,
        middle: 5,
        no_odds: None,
        gaps_by: GapsBy::Engine,
        findings: Vec::new(),
        cell_steps: 8_400_000,
        ends: None,
        waits: vec![(WaitReason::Carbonation, 96), (WaitReason::Weekend, 31), (WaitReason::Rain, 12)],
        waits_sentence: "Forty-four days of hand work stand in twelve weeks because each coat must take up air before the next.".into(),
        reckonings: Reckonings::default(),
    }
}

fn pounds(amount: i64) -> Money {
    Money::new(Decimal::from(amount), Currency { code: "GBP".into(), mark: "£".into() })
}

fn price(found: &[WallFound], measured: &[WallMeasured], programme: &Programme) -> Price {
    let walls = found
        .iter()
        .zip(measured)
        .map(|(wall, measure)| WallPrice {
            slug: wall.slug.clone(),
            words: format!(
                "{}: {:.0} m² of harl in three coats, five limewashes, scaffold and damping",
                wall.name,
                measure.net_m2 + measure.reveal_m2
            ),
            amount: pounds((measure.net_m2 * 190.0) as i64),
        })
        .collect();
    let line = |heading: &str, words: &str, quantity: f64, unit: &str, rate: i64, amount: i64| PriceLine {
        heading: heading.into(),
        words: words.into(),
        quantity,
        unit: unit.into(),
        rate: pounds(rate),
        amount: pounds(amount),
        path: format!("price.{heading}"),
    };
    Price {
        walls,
        lines: vec![
            line("Labour", "Masons throwing, laying and limewashing", 704.0, "hours", 24, 16896),
            line("Labour", "Labourer", 352.0, "hours", 18, 6336),
            line("Materials", "Lime putty", 46.0, "20 litre tub", 14, 644),
            line("Materials", "Sharp sand", 6.0, "tonne bag", 62, 372),
            line("Scaffold", "Up and down", 160.0, "m²", 14, 2240),
            line("Scaffold", "Hire", 1600.0, "m² a week", 1, 1600),
            line("Attendance", "Damping by a hand living near", 160.0, "visits", 12, 1920),
        ],
        cost: pounds(30008),
        overhead: pounds(3601),
        before_tax: pounds(33609),
        tax_rate: Decimal::new(20, 2),
        tax: pounds(6722),
        total: pounds(40331),
        not_given: None,
        range: None,
        per_m2: pounds(214),
        by_year: programme.runs.iter().enumerate().map(|(year, _)| pounds(33000 + 150 * year as i64)).collect(),
        eight_in_ten: Some(pounds(34350)),
        risk: None,
        quotation: Quotation {
            by_measure: Vec::new(),
            without_scaffold_m2: pounds(190),
            last_job_m2: None,
            least_charge: None,
            daywork: Vec::new(),
            stages: Vec::new(),
            retention: None,
            interest: None,
            worth_at_start: None,
        },
        exclusions: vec!["Mending gutters and leadwork".into(), "Consent fees".into(), "Painting of woodwork".into()],
        valid_days: 60,
        reckonings: Reckonings::default(),
    }
}

fn answers(price: &Price) -> Vec<Answer> {
    let line = |question: &str, answer: String| Answer { question: question.into(), answer };
    vec![
        line("How much?", format!("{} before tax, {} with it.", price.before_tax, price.total)),
        line("How long?", "From Monday 19 April; 8 years in 10 are finished by 9 July.".into()),
        line("Why does a day's work stand for weeks?", "Each coat takes up air before the next: 12 days in the middle.".into()),
        line("When is the scaffold gone?", "The week after the last limewash: about 16 July.".into()),
        line("Why not cement?", "It traps the water that gets in behind it and fails all at once, in sheets.".into()),
        line("Will it crack?", "Fine crazing may show and heals under limewash; a crack that opens is put right.".into()),
        line("What colour?", "Natural white, shown on the sample panel before we begin.".into()),
        line("Do I move out?", "No. Windows are covered on throwing days and the doors stay usable.".into()),
        line("What if it rains?", "We wait, and the wait is in the programme: 12 days of it in the middle year.".into()),
        line("Who comes if it fails?", "We do, for two years, and the record of the work says what was done.".into()),
    ]
}

fn swings() -> Vec<Swing> {
    vec![Swing {
        path: "walls.wall-1.dampness.middle".into(),
        label: "dampness of the walls".into(),
        assumed: "30 % of the pores full, 10 to 50 %".into(),
        days: 9.0,
        money: pounds(1240),
        question: "Is the wall damp to the touch at waist height?".into(),
    }]
}

fn finding(grade: Grade, rule: &str, says: &str) -> Finding {
    Finding {
        grade,
        rule: rule.into(),
        place: "walls.wall-1".into(),
        says: says.into(),
        reason: "Water behind the harl has nowhere to go and brings it off.".into(),
        source: "common practice, no source".into(),
        remedy: if grade == Grade::Agrees { String::new() } else { "Mend the gutter and let the wall dry for a month.".into() },
    }
}

fn findings() -> Vec<Finding> {
    vec![
        finding(Grade::Stop, "cause-of-damp", "The gutter over the north wall is to be mended before anything is thrown."),
        finding(Grade::Think, "grain-against-thickness", "The finish carries 6 mm grit in an 8 mm coat."),
        finding(Grade::Note, "suction", "Whin takes little water, so the scud is needed."),
        finding(Grade::Agrees, "strength-outward", "Each coat is weaker than the one behind it."),
    ]
}

pub fn cautions() -> Vec<Caution> {
    let caution = |hazard: Hazard, words: &str| Caution {
        hazard,
        words: words.into(),
        source: "common practice, no source".into(),
        triggers: Vec::new(),
        shown: vec!["proposal".into(), "site".into()],
    };
    vec![
        caution(
            Hazard::Lime,
            "Wet lime burns skin and blinds eyes: goggles while throwing, gauntlets, clean eyewash on each lift, and nobody below.",
        ),
        caution(Hazard::Height, "Work at height is planned by a competent person; the scaffold is inspected weekly."),
        caution(
            Hazard::ScaffoldLoad,
            "Soaked hessian and sheeting load a scaffold and catch wind: its designer decides, and nothing is tied to it unasked.",
        ),
        caution(Hazard::OldCoverings, "Old coverings may hold lead, asbestos or salts: have them looked at before they are stripped."),
        caution(Hazard::Simulated, "A reckoned date is not a test. Make the nail test on the wall before each coat."),
        caution(Hazard::Wildlife, "Look for nesting birds and bats before the scaffold goes up; if found, stop and ask."),
    ]
}

fn order(start: Date) -> Order {
    let line = |slug: &str, name: &str, units: u32, unit: &str, need: &str, days: i64, remark: &str| OrderLine {
        slug: slug.into(),
        name: name.into(),
        units,
        unit_name: unit.into(),
        need: need.into(),
        on_site_by: plus(start, days),
        first_used_for: "scud coat, north wall".into(),
        remark: remark.into(),
    };
    Order {
        lines: vec![
            line("putty-cl90", "Lime putty CL 90, matured", 46, "20 litre tub", "1,240 kg", -3, "matured at least 12 weeks"),
            line("sharp-concreting", "Sharp concreting sand 0/4", 6, "tonne bag", "5,100 kg", -3, "sheeted"),
            line("finish-grit", "=Finish grit 2/6, \"washed\"", 3, "tonne bag", "2,300 kg", 20, "one load, one colour"),
        ],
        lay_down: vec![LayDown {
            what: "Coarse stuff for the finish".into(),
            by: plus(start, -30),
            why: "lime and sand mature together".into(),
        }],
    }
}

fn area_reckoning(wall: &WallMeasured) -> Reckoning {
    let path = format!("walls.{}.area", wall.slug);
    let gross = Reckoning::given(
        format!("{path}.gross"),
        "outline with chimneys",
        Value::number(wall.gross_m2, Unit::SquareMetre, 1),
        "measured",
        false,
    );
    let openings = Reckoning::given(
        format!("{path}.openings"),
        "openings over 0.5 m²",
        Value::number(wall.deducted_m2, Unit::SquareMetre, 1),
        "measured",
        true,
    );
    Reckoning::worked(
        path,
        "area to be harled",
        Value::number(wall.net_m2, Unit::SquareMetre, 1),
        "outline less openings",
        vec![gross, openings],
        "measured from the survey",
    )
}

fn price_reckoning(price: &Price) -> Reckoning {
    let cost = Reckoning::given("price.cost", "sum of the lines", Value::Money(price.cost.clone()), "lines of the price", false);
    let overhead = Reckoning::given(
        "price.overhead",
        "overhead and profit, 12 %",
        Value::Money(price.overhead.clone()),
        "common practice, no source",
        true,
    );
    Reckoning::worked(
        "price.before-tax",
        "price before tax",
        Value::Money(price.before_tax.clone()),
        "cost and overhead",
        vec![cost, overhead],
        "the price lines",
    )
}
