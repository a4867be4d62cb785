//! The programme: the steps of every wall, its days and its odds. Made up to be plausible; nothing here checks arithmetic.

use super::*;

pub(super) fn plus(day: Date, days: i64) -> Date {
    day.saturating_add(jiff::Span::new().days(days))
}

pub(super) fn working(mut day: Date) -> Date {
    while matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) {
        day = plus(day, 1);
    }
    day
}

pub(super) fn wall_run(index: usize, wall: &WallFound, specification: &WallSpecification, start: Date, late: i64) -> WallRun {
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

pub(super) fn waits(from: Date, next: Date) -> Vec<Wait> {
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

pub(super) fn task(slug: &str, name: &str, from: Date, days: i64, ready: Option<Date>, waited: Vec<Wait>) -> Task {
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

pub(super) fn days(from: Date, to: Date, thrown: &[(Date, String)]) -> Vec<DayRecord> {
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

pub(super) fn programme(found: &[WallFound], specification: &Specification, start: Date) -> Programme {
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
