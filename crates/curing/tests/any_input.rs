//! Whatever passes the checks runs to its end with closed books and possible numbers, or stops with an error that says where and when: nothing diverges
//! silently. Weather, covers and doings are drawn by a keyed generator over what is allowed, stranger than any building; materials in every other story from
//! the catalogue, where one member in a hundred may be lost, and in the rest from anywhere within its limits. A handful by default, some hundreds with
//! `HARLWRIGHT_LONG` set.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::collections::BTreeMap;
use std::sync::Arc;

use common::*;
use curing::kernel::Settings;
use curing::{Action, Bench, CoatModel, CuringError, Inside, Numerics, OldCovering, TowardsFace, WallModel, Wash};
use materials::{Catalogue, Cover, Mix, Moisture};
use weather::FaceClimate;

const HOURS: usize = 400;
const MEMBERS: usize = 4;

/// Draws from ranges.
struct Draw(Keyed);

impl Draw {
    fn share(&mut self) -> f64 {
        self.0.share()
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Even in the logarithm.
    fn spread(&mut self, low: f64, high: f64) -> f64 {
        low * libm::pow(high / low, self.share())
    }

    fn one_of<'a, T>(&mut self, entries: &'a BTreeMap<String, T>) -> (&'a String, &'a T) {
        entries.iter().nth((self.share() * entries.len() as f64) as usize).unwrap()
    }

    fn chance(&mut self, share: f64) -> bool {
        self.share() < share
    }
}

/// A material anywhere within the limits of the catalogue's check.
fn any_material(draw: &mut Draw) -> Moisture {
    let porosity = draw.spread(0.005, 0.95);
    Moisture {
        density_kg_m3: draw.spread(50.0, 5000.0),
        porosity,
        saturation_kg_m3: 1000.0 * porosity * draw.between(0.5, 1.0),
        retention_a_per_pa: draw.spread(1e-8, 1e-2),
        retention_n: draw.between(1.05, 4.0),
        absorption_kg_m2_s05: if draw.chance(0.1) { 0.0 } else { draw.spread(1e-4, 2.0) },
        vapour_resistance: draw.spread(1.0, 1e5),
        conductivity_w_mk: draw.spread(0.02, 10.0),
        conductivity_per_water: draw.between(0.0, 0.01),
        heat_j_kgk: draw.between(200.0, 4000.0),
    }
}

fn any_wall(draw: &mut Draw, catalogue: Option<&Catalogue>) -> WallModel {
    let inside = match (3.0 * draw.share()) as usize {
        0 => Inside::Open,
        1 => Inside::Unheated,
        _ => Inside::Heated { air_k: draw.between(260.0, 310.0), humidity: draw.share() },
    };
    WallModel {
        masonry: match catalogue {
            Some(catalogue) => draw.one_of(&catalogue.masonries).1.stone.clone(),
            None => any_material(draw),
        },
        thickness_m: draw.spread(0.05, 3.0),
        saturation: if draw.chance(0.2) { 1.0 } else { draw.share() },
        towards_face: None,
        covering: None,
        far_face: None,
        inside,
        solar_absorptance: draw.share(),
    }
}

/// Weather behind an open wall, another wetness at its face, an old covering on it: each on some walls.
fn any_faces(draw: &mut Draw, wall: &mut WallModel) {
    if wall.inside == Inside::Open && draw.chance(0.7) {
        wall.far_face = Some(any_weather(draw));
    }
    if draw.chance(0.3) {
        wall.towards_face = Some(TowardsFace { saturation: draw.share(), depth_m: draw.spread(0.01, 1.0) });
    }
    if draw.chance(0.2) {
        let vapour_m2spa_kg = draw.spread(1e6, 1e12);
        wall.covering = Some(OldCovering { vapour_m2spa_kg, rain_through: draw.share(), solar_absorptance: draw.share() });
    }
}

fn any_coat(draw: &mut Draw, catalogue: Option<&Catalogue>) -> CoatModel {
    let mut coat = scud();
    coat.thickness_m = if draw.chance(0.1) { 0.0 } else { draw.spread(1e-4, 0.1) };
    coat.texture = draw.between(1.0, 2.0);
    if let Some(catalogue) = catalogue {
        let lime = draw.one_of(&catalogue.limes).0.clone();
        coat.mortar = catalogue.mortar(&Mix { lime, sand: "sharp-0-4".to_owned(), sand_parts: draw.between(0.5, 4.0) }).unwrap();
    } else {
        coat.mortar.fresh = any_material(draw);
        coat.mortar.hardened = coat.mortar.fresh.clone();
        coat.mortar.water_fresh_kg_m3 = draw.between(1.0, 900.0);
        coat.mortar.portlandite_mol_m3 = draw.between(0.0, 9000.0);
    }
    coat
}

fn any_cover(draw: &mut Draw) -> Cover {
    Cover {
        wind_leak: draw.share(),
        sun_through: draw.share(),
        rain_through: draw.share(),
        sky_through: draw.share(),
        gap_w_m2k: if draw.chance(0.3) { 0.0 } else { draw.spread(0.1, 20.0) },
        cloth_kg_m2: draw.spread(0.01, 5.0),
        holds_kg_m2: draw.between(0.0, 5.0),
        warms_k: draw.between(-5.0, 15.0),
        co2_film_m_s: draw.spread(1e-6, 1e4),
        ..hessian(0.15)
    }
}

/// Weather that leaps from hour to hour.
fn any_weather(draw: &mut Draw) -> Arc<FaceClimate> {
    let mut climate = FaceClimate::default();
    let (mean, swing) = (draw.between(-25.0, 35.0), draw.between(0.0, 15.0));
    let wet = draw.share();
    for _ in 0..HOURS {
        let air_c = mean + swing * (2.0 * draw.share() - 1.0);
        climate.air_k.push(air_c + 273.15);
        climate.vapour_pa.push(draw.share() * 610.5 * libm::exp(17.269 * air_c / (237.3 + air_c)));
        climate.pressure_pa.push(draw.between(7e4, 1.05e5));
        climate.wind_m_s.push(30.0 * draw.share() * draw.share());
        climate.sun_w_m2.push(if draw.chance(0.5) { 0.0 } else { 1100.0 * draw.share() });
        climate.longwave_w_m2.push(draw.between(120.0, 480.0));
        climate.rain_kg_m2.push(if draw.chance(0.2 * wet) { draw.spread(0.01, 40.0) } else { 0.0 });
    }
    Arc::new(climate)
}

/// Anything that may be done, whether or not it can be as things stand: what cannot is refused and changes nothing.
fn any_action(draw: &mut Draw) -> Action {
    match (9.0 * draw.share()) as usize {
        0..=2 => Action::Throw,
        3 => Action::DampDown(draw.between(0.0, 10.0)),
        4 => Action::Mist(draw.between(0.0, 5.0)),
        5 => Action::Hang(any_cover(draw)),
        6 => Action::Wet(draw.between(0.0, 5.0)),
        7 => Action::Strike,
        _ => Action::TakeOff,
    }
}

/// One wall under one story.
fn live(seed: u64, found: &mut Found) {
    let mut draw = Draw(Keyed(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1));
    let catalogue = seed.is_multiple_of(2).then(Catalogue::shipped);
    let mut wall = any_wall(&mut draw, catalogue.as_ref());
    let coats: [CoatModel; 3] = std::array::from_fn(|_| any_coat(&mut draw, catalogue.as_ref()));
    let climate = any_weather(&mut draw);
    let mut faces = Draw(Keyed(seed.wrapping_mul(0xD1B5_4A32_D192_ED03) | 1));
    any_faces(&mut faces, &mut wall);
    let base = Numerics::default();
    let freezing = draw.chance(0.5);
    let numerics = Numerics { settings: Settings { freezing, ..base.settings }, ..base };
    let starts: Vec<usize> = (0..MEMBERS).map(|_| (draw.share() * HOURS as f64) as usize).collect();
    let Ok(mut bench) = Bench::with_numerics(&wall, &coats, climate, &starts, numerics) else { return };
    found.lived += MEMBERS;
    for _ in 0..300 {
        for member in 0..MEMBERS {
            if draw.chance(0.04) {
                let _ = bench.act(member, any_action(&mut draw));
            }
            if faces.chance(0.01) {
                let wash = Wash { vapour_m2spa_kg: faces.spread(1e5, 1e8), solar_absorptance: faces.share() };
                let _ = bench.act(member, if faces.chance(0.5) { Action::Strip } else { Action::Limewash(wash) });
            }
        }
        bench.advance(1);
    }
    for member in 0..MEMBERS {
        if let Some(error) = bench.failed(member) {
            found.lost += 1;
            let CuringError::NotConverged { hour, depth_mm, step_s } = error else { panic!("seed {seed}: {error}") };
            let placed = *hour < HOURS && *depth_mm >= 0.0 && *depth_mm <= 1000.0 * (wall.thickness_m + 0.31) && *step_s > 0.0;
            found.expect(placed, || format!("seed {seed}: lost nowhere: {error}"));
            found.lost_of_catalogue += usize::from(catalogue.is_some());
        }
        stands(&bench, member, &format!("seed {seed}, member {member}, freezing {freezing}"), found);
    }
}

/// What came of all stories.
#[derive(Default)]
struct Found {
    lived: usize,
    lost: usize,
    lost_of_catalogue: usize,
    faults: Vec<String>,
}

impl Found {
    fn expect(&mut self, holds: bool, fault: impl Fn() -> String) {
        if !holds {
            self.faults.push(fault());
        }
    }
}

/// A member is possible in all that is seen of it, and its books close.
fn stands(bench: &Bench, member: usize, who: &str, found: &mut Found) {
    let look = bench.look(member);
    found.expect((-90.0..=150.0).contains(&look.face_c), || format!("{who}: {look:?}"));
    found.expect((0.0..=1.0 + 1e-6).contains(&look.face_humidity), || format!("{who}: {look:?}"));
    // The contents are set from the fluxes of a step solved to a tolerance, so a full wall may stand a trace above full until the next.
    found.expect((0.0..1.0 + 1e-3).contains(&look.masonry_saturation) && look.cloth_kg_m2 >= 0.0, || format!("{who}: {look:?}"));
    for coat in &look.coats {
        found.expect((0.0..1000.0).contains(&coat.water_kg_m3), || format!("{who}: {coat:?}"));
        found.expect((-1e-9..=1.0 + 1e-9).contains(&coat.share) && coat.uptake_m.is_finite(), || format!("{who}: {coat:?}"));
    }
    let balance = bench.balance(member);
    for (what, closure, rounding) in [("water", balance.water, 1e-10), ("carbon", balance.carbon, 1e-10), ("energy", balance.energy, 1e-4)]
    {
        found.expect(closure.residual.abs() <= 1e-8 * closure.moved + rounding, || format!("{who}, {what}: {closure:?}"));
    }
}

#[test]
fn what_passes_the_checks_never_diverges_silently() {
    let cases = if std::env::var_os("HARLWRIGHT_LONG").is_some() { 600 } else { 12 };
    let mut found = Found::default();
    for case in 0..cases {
        live(1000 + case, &mut found);
    }
    println!(
        "{} of {} members lost, each with where and when; {} of {} of the catalogue",
        found.lost,
        found.lived,
        found.lost_of_catalogue,
        cases as usize / 2 * MEMBERS
    );
    assert!(found.lost_of_catalogue <= 2 + cases as usize / 2 * MEMBERS / 100, "more than one in a hundred of the catalogue's walls lost");
    assert!(found.faults.is_empty(), "{} faults:\n{}", found.faults.len(), found.faults[..found.faults.len().min(400)].join("\n"));
}
