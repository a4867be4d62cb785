//! A block of members of one bench: a column of lanes and what each member carries beside it (hour, cover, coats thrown, fate).

mod starting;
mod wearing;

use std::sync::Arc;

use materials::Cover;
use weather::FaceClimate;

use crate::bench::{check_cover, check_wash};
use crate::exposure::{self, Room, Skin};
use crate::kernel::{Column, FaceCondition, LaneState, Place, Seen};
use crate::readiness::{self, CoatRecord};
use crate::{
    Action, Balance, CoatLook, CoatModel, CuringError, DamageIndex, Look, MOST_WASHES, Numerics, ProfileCell, Stratum, WallModel, Wash,
    damage,
};

/// Hours after a throw or a damping down that are stepped finely.
const FRESH_HOURS: usize = 1;
const HOUR_S: f64 = 3600.0;
/// Depth of masonry whose wetness is shown, m.
const SHOWN_DEPTH_M: f64 = 0.060;

/// What all blocks of a bench share.
#[derive(Debug)]
pub(crate) struct Shared {
    pub(crate) wall: WallModel,
    pub(crate) coats: Vec<CoatModel>,
    /// Layer of each coat; `None` for one too thin to be a layer.
    pub(crate) layer: Vec<Option<usize>>,
    pub(crate) climate: Arc<FaceClimate>,
    pub(crate) room: Room,
    pub(crate) numerics: Numerics,
}

impl Shared {
    /// Index into the climate, which wraps at its end.
    fn hour(&self, passed: usize) -> usize {
        passed % self.climate.air_k.len()
    }
}

/// What a member carries beside its lane.
#[derive(Clone, Debug)]
struct Member {
    /// Hours since the beginning of the joined climate.
    passed: usize,
    cover: Option<Cover>,
    /// The old covering stands on its face yet.
    covered_over: bool,
    /// Coats of limewash on its outermost face, and the last of them.
    wash: Option<(u32, Wash)>,
    /// Water to be sprayed on the face in the coming hour, kg/m².
    spray_kg_m2: f64,
    /// Hours yet to be stepped finely.
    fresh_hours: usize,
    thrown: Vec<CoatRecord>,
    /// Conditions of the hour that ended, for the rules.
    air_k: f64,
    failed: Option<CuringError>,
    stopped: bool,
}

/// A member's wall as it stood in an hour, put aside so that any number of members can go on from it.
#[derive(Clone, Debug)]
pub struct Checkpoint {
    member: Member,
    state: LaneState,
}

impl Checkpoint {
    /// Coats on the wall.
    pub fn coats(&self) -> usize {
        self.member.thrown.len()
    }
}

/// A block behind a common face, whatever its number of lanes.
pub(crate) trait Block: std::fmt::Debug + Send + Sync {
    fn advance(&mut self, hours: usize) -> u64;
    fn look(&self, lane: usize) -> Look;
    fn profile(&self, lane: usize) -> Vec<ProfileCell>;
    fn act(&mut self, lane: usize, action: Action) -> Result<(), CuringError>;
    fn damage_indices(&self, lane: usize) -> Vec<DamageIndex>;
    fn failed(&self, lane: usize) -> Option<&CuringError>;
    fn checkpoint(&self, lane: usize) -> Checkpoint;
    fn resume(&mut self, lane: usize, from: &Checkpoint) -> Result<(), CuringError>;
    fn stop(&mut self, lane: usize);
    fn balance(&self, lane: usize) -> Balance;
    fn iterations(&self) -> u64;
}

/// A block of `L` lanes.
#[derive(Debug)]
pub(crate) struct Group<const L: usize> {
    shared: Arc<Shared>,
    column: Column<L>,
    members: Vec<Member>,
    /// The hour of the climate for which [`physics::surface::co2_beside_vapour`] was worked out last, and what it was: lanes often live in the same hour.
    film: (usize, f64),
}

impl<const L: usize> Group<L> {
    /// Members that start at the given hours on a column whose masonry alone is awake. Lanes beyond them rest.
    pub(crate) fn new(shared: Arc<Shared>, mut column: Column<L>, first_hours: &[usize]) -> Self {
        let mut members = Vec::with_capacity(L);
        for lane in 0..L {
            let hour = first_hours.get(lane).or(first_hours.last()).map_or(0, |&first| shared.hour(first));
            starting::start(&shared, &mut column, lane, hour);
            members.push(Member {
                passed: hour,
                cover: None,
                covered_over: shared.wall.covering.is_some(),
                wash: None,
                spray_kg_m2: 0.0,
                fresh_hours: 0,
                thrown: Vec::new(),
                air_k: shared.climate.air_k[hour],
                failed: None,
                stopped: lane >= first_hours.len(),
            });
        }
        Self { shared, column, members, film: (usize::MAX, 0.0) }
    }

    /// What the outer face of a member is to the weather.
    fn skin(&self, lane: usize) -> Skin {
        let (member, wall) = (&self.members[lane], &self.shared.wall);
        let outermost = (0..member.thrown.len()).rev().find(|&coat| self.shared.layer[coat].is_some());
        let mut skin = match outermost.map(|coat| &self.shared.coats[coat]) {
            Some(coat) => Skin::plain(coat.texture, coat.solar_absorptance),
            None => Skin::plain(1.0, wall.solar_absorptance),
        };
        if let Some((coats, wash)) = member.wash {
            skin.absorptance = wash.solar_absorptance;
            skin.vapour_m2spa_kg = f64::from(coats) * wash.vapour_m2spa_kg;
        }
        if let Some(covering) = wall.covering.filter(|_| member.covered_over) {
            skin = Skin {
                texture: 1.0,
                absorptance: covering.solar_absorptance,
                vapour_m2spa_kg: covering.vapour_m2spa_kg,
                rain_through: covering.rain_through,
            };
        }
        skin
    }

    /// One hour of every running member; gives the cell-steps taken.
    fn hour(&mut self) -> u64 {
        let running: [bool; L] = std::array::from_fn(|lane| !self.members[lane].stopped && self.members[lane].failed.is_none());
        let mut inner = [FaceCondition::sealed(); L];
        let mut outer = [FaceCondition::sealed(); L];
        let mut longest = [HOUR_S; L];
        for lane in 0..L {
            if running[lane] {
                (inner[lane], outer[lane]) = self.conditions(lane);
                let numerics = &self.shared.numerics;
                longest[lane] = if self.members[lane].fresh_hours > 0 { numerics.fresh_step_s } else { numerics.longest_step_s };
            }
        }
        let lost = self.column.advance(&running, HOUR_S, &longest, &inner, &outer);
        let mut cell_steps = 0;
        for lane in 0..L {
            if running[lane] {
                cell_steps += self.column.awake_cells(lane) as u64;
                self.close_hour(lane, lost[lane].map(|lost| (lost.depth_m, lost.step_s)));
            }
        }
        cell_steps
    }

    /// Conditions of a member's coming hour. Rain on its cloth is put there first.
    fn conditions(&mut self, lane: usize) -> (FaceCondition, FaceCondition) {
        let skin = self.skin(lane);
        let member = &self.members[lane];
        let hour = self.shared.hour(member.passed);
        let climate = &self.shared.climate;
        if let Some(cover) = member.cover.as_ref().filter(|cover| exposure::cloth_heat_j_m2k(cover).is_some()) {
            let rain = exposure::rain_on_cloth_kg_m2(climate, hour, cover);
            if rain > 0.0 {
                self.column.wet_cloth(lane, rain, cover.holds_kg_m2);
            }
        }
        let inner = exposure::inner_condition(&self.shared.wall, climate, hour, &self.shared.room);
        if self.film.0 != hour {
            self.film = (hour, physics::surface::co2_beside_vapour(climate.air_k[hour]));
        }
        let outer = exposure::outer_condition_of(climate, hour, skin, member.cover.as_ref(), member.spray_kg_m2, self.film.1);
        (inner, outer)
    }

    /// Books an hour that a member has passed, or its failure.
    fn close_hour(&mut self, lane: usize, lost: Option<(f64, f64)>) {
        let hour = self.shared.hour(self.members[lane].passed);
        if let Some((depth_m, step_s)) = lost {
            self.members[lane].failed = Some(CuringError::NotConverged { hour, depth_mm: depth_m * 1000.0, step_s });
            return;
        }
        let member = &mut self.members[lane];
        member.passed += 1;
        member.air_k = self.shared.climate.air_k[hour];
        member.spray_kg_m2 = 0.0;
        member.fresh_hours = member.fresh_hours.saturating_sub(1);
        for record in &mut member.thrown {
            record.pass_hour(member.air_k - 273.15);
        }
        if let Some(coat) = member.thrown.len().checked_sub(1) {
            let face = self.column.outer_face(lane);
            let seen = member.thrown[coat].look(&self.column, lane, self.shared.layer[coat], &self.shared.coats[coat]);
            self.wear(lane, hour, &seen, &face);
            let present = readiness::present(&face, self.members[lane].air_k, self.sound(lane));
            self.members[lane].thrown[coat].judge(&seen, &self.shared.coats[coat], &present);
        }
        self.harden(lane);
    }

    /// Lets the pore nets of a member's coats follow their firmness.
    fn harden(&mut self, lane: usize) {
        for (coat, record) in self.members[lane].thrown.iter_mut().enumerate() {
            let Some(layer) = self.shared.layer[coat].filter(|&layer| !self.column.is_hardened(lane, layer)) else { continue };
            let model = &self.shared.coats[coat];
            let seen = record.look(&self.column, lane, Some(layer), model);
            let firmness = record.firmness(&seen, model);
            self.column.harden(lane, layer, firmness);
        }
    }

    /// Whether no coat of a member has to come off.
    fn sound(&self, lane: usize) -> bool {
        self.members[lane].thrown.iter().all(CoatRecord::sound)
    }

    /// Throws the next coat: at the temperature of the air, with the water of the mix.
    fn throw(&mut self, lane: usize) -> Result<(), CuringError> {
        let coat = self.members[lane].thrown.len();
        let hour = self.shared.hour(self.members[lane].passed);
        if coat >= self.shared.coats.len() {
            return Err(CuringError::Action {
                hour,
                action: "throwing another coat".to_owned(),
                because: format!("all {coat} coats are on the wall"),
                remedy: "List more coats when the bench is set up.".to_owned(),
            });
        }
        if self.members[lane].covered_over {
            return Err(CuringError::Action {
                hour,
                action: "throwing a coat".to_owned(),
                because: "the old covering stands on the wall".to_owned(),
                remedy: "Strip it first.".to_owned(),
            });
        }
        if self.members[lane].spray_kg_m2 > 0.0 {
            self.damp_before(lane, hour);
        }
        self.members[lane].wash = None;
        let wear = self.new_wear(lane, coat);
        let mut placed = 0.0;
        if let Some(layer) = self.shared.layer[coat] {
            let saturation = self.column.layers()[layer].material.saturation_kg_m3();
            let model = &self.shared.coats[coat];
            placed = model.mortar.water_fresh_kg_m3.min(WETTEST_MIX * saturation);
            self.column.wake(lane, self.shared.climate.air_k[hour], placed)?;
            self.members[lane].fresh_hours = FRESH_HOURS;
        }
        self.members[lane].thrown.push(CoatRecord::thrown(placed, wear));
        Ok(())
    }

    /// Lets water put on the face before a throw of the same hour go into the wall: half an hour of that hour's weather, before the coat is on it.
    fn damp_before(&mut self, lane: usize, hour: usize) {
        const BEFORE_S: f64 = 0.5 * HOUR_S;
        let spray_kg_m2 = std::mem::take(&mut self.members[lane].spray_kg_m2);
        let (shared, skin) = (&*self.shared, self.skin(lane));
        let cover = self.members[lane].cover.as_ref();
        let inner = exposure::inner_condition(&shared.wall, &shared.climate, hour, &shared.room);
        // The condition spreads what is sprayed over an hour.
        let outer = exposure::outer_condition(&shared.climate, hour, skin, cover, spray_kg_m2 * HOUR_S / BEFORE_S);
        let running: [bool; L] = std::array::from_fn(|other| other == lane);
        let lost = self.column.advance(&running, BEFORE_S, &[shared.numerics.fresh_step_s; L], &[inner; L], &[outer; L]);
        if let Some(lost) = lost[lane] {
            let (depth_mm, step_s) = (lost.depth_m * 1000.0, lost.step_s);
            self.members[lane].failed = Some(CuringError::NotConverged { hour, depth_mm, step_s });
        }
    }

    /// Hangs a cover; a cloth comes with the water it holds in the air as it is.
    fn hang(&mut self, lane: usize, cover: Cover) {
        self.column.strike(lane);
        if let Some(dry_heat) = exposure::cloth_heat_j_m2k(&cover) {
            let hour = self.shared.hour(self.members[lane].passed);
            let air = self.shared.climate.air_k[hour];
            let humidity = (self.shared.climate.vapour_pa[hour] / physics::air::saturation_pa(air)).clamp(0.0, 1.0);
            let sorbed = exposure::hygroscopic_kg_m2(&cover);
            self.column.hang(lane, dry_heat, sorbed, humidity * sorbed, air);
        }
        self.members[lane].cover = Some(cover);
    }

    /// Wets the cloth.
    fn wet(&mut self, lane: usize, kg_m2: f64) -> Result<(), CuringError> {
        let cloth = self.members[lane].cover.as_ref().filter(|cover| exposure::cloth_heat_j_m2k(cover).is_some());
        let Some(holds) = cloth.map(|cover| cover.holds_kg_m2) else {
            return Err(CuringError::Action {
                hour: self.shared.hour(self.members[lane].passed),
                action: "wetting the cloth".to_owned(),
                because: "no cloth hangs before this face".to_owned(),
                remedy: "Hang one first, or damp the face down.".to_owned(),
            });
        };
        self.column.wet_cloth(lane, kg_m2, holds);
        Ok(())
    }

    /// Mists the face through the cover; the cloth takes what it can of the rest.
    fn mist(&mut self, lane: usize, kg_m2: f64) {
        let (through, holds) = match &self.members[lane].cover {
            None => (1.0, None),
            Some(cover) => (cover.rain_through.clamp(0.0, 1.0), exposure::cloth_heat_j_m2k(cover).map(|_| cover.holds_kg_m2)),
        };
        if let Some(holds) = holds {
            self.column.wet_cloth(lane, kg_m2 * (1.0 - through), holds);
        }
        self.members[lane].spray_kg_m2 += kg_m2 * through;
        self.members[lane].fresh_hours = FRESH_HOURS;
    }

    /// Takes the outermost coat off.
    fn take_off(&mut self, lane: usize) -> Result<(), CuringError> {
        let coat = self.outermost(lane, "taking a coat off")?;
        if self.shared.layer[coat].is_some() {
            self.column.shed(lane)?;
        }
        self.members[lane].thrown.pop();
        self.members[lane].wash = None;
        Ok(())
    }

    /// Limewashes the face.
    fn limewash(&mut self, lane: usize, wash: Wash) -> Result<(), CuringError> {
        check_wash(&wash)?;
        let member = &mut self.members[lane];
        let coats = member.wash.map_or(0, |(coats, _)| coats);
        if coats >= MOST_WASHES {
            return Err(CuringError::Action {
                hour: self.shared.hour(member.passed),
                action: "another coat of limewash".to_owned(),
                because: format!("{coats} coats are on the face, which make half a millimetre"),
                remedy: "Take more than that as a coat of its own.".to_owned(),
            });
        }
        member.wash = Some((coats + 1, wash));
        Ok(())
    }

    /// Presses the outermost coat back; nothing comes of it where the coat is hard or its face dry.
    fn press_back(&mut self, lane: usize) -> Result<(), CuringError> {
        let coat = self.outermost(lane, "pressing back")?;
        let seen = self.members[lane].thrown[coat].look(&self.column, lane, self.shared.layer[coat], &self.shared.coats[coat]);
        let humidity = if self.members[lane].spray_kg_m2 > 0.0 { 1.0 } else { self.column.outer_face(lane).humidity };
        if let Some(wear) = self.members[lane].thrown[coat].wear.as_mut() {
            wear.press_back(damage::can_be_pressed(seen.uptake_m, humidity));
        }
        Ok(())
    }

    /// The outermost coat, for an action that needs one.
    fn outermost(&self, lane: usize, action: &str) -> Result<usize, CuringError> {
        self.members[lane].thrown.len().checked_sub(1).ok_or_else(|| CuringError::Action {
            hour: self.shared.hour(self.members[lane].passed),
            action: action.to_owned(),
            because: "no coat is on the wall".to_owned(),
            remedy: "Throw one first.".to_owned(),
        })
    }

    /// Where a layer lies; a coat too thin to be a layer is in none.
    fn stratum(&self, layer: usize) -> Stratum {
        self.shared.layer.iter().position(|&of| of == Some(layer)).map_or(Stratum::Masonry, Stratum::Coat)
    }

    /// Mean saturation of the outer masonry.
    fn masonry_saturation(&self, lane: usize) -> f64 {
        let saturation = self.column.layers()[0].material.saturation_kg_m3();
        let (mut depth, mut water) = (0.0, 0.0);
        for (width, water_kg_m3, _) in self.column.layer_contents(lane, 0).rev() {
            let counted = width.min(SHOWN_DEPTH_M - depth);
            if counted <= 0.0 {
                break;
            }
            depth += counted;
            water += water_kg_m3 * counted;
        }
        if depth > 0.0 { water / (depth * saturation) } else { 0.0 }
    }
}

/// Greatest degree of saturation at which a coat can be placed: ln(suction) has no value at saturation.
const WETTEST_MIX: f64 = 0.985;

impl<const L: usize> Block for Group<L> {
    fn advance(&mut self, hours: usize) -> u64 {
        let mut cell_steps = 0;
        for _ in 0..hours {
            let taken = self.hour();
            if taken == 0 {
                break;
            }
            cell_steps += taken;
        }
        cell_steps
    }

    fn look(&self, lane: usize) -> Look {
        let member = &self.members[lane];
        let face = self.column.outer_face(lane);
        let present = readiness::present(&face, member.air_k, self.sound(lane));
        let coats: Vec<CoatLook> = member
            .thrown
            .iter()
            .enumerate()
            .map(|(coat, record)| record.look(&self.column, lane, self.shared.layer[coat], &self.shared.coats[coat]))
            .collect();
        let rules = match (coats.last(), member.thrown.len().checked_sub(1)) {
            (Some(seen), Some(coat)) => member.thrown[coat].rules(seen, &self.shared.coats[coat], &present),
            _ => Vec::new(),
        };
        let mut damage = Vec::new();
        for (coat, record) in member.thrown.iter().enumerate() {
            if let Some(wear) = &record.wear {
                damage::add_standing(wear, coat, &mut damage);
            }
        }
        Look {
            hour: self.shared.hour(member.passed),
            face_c: present.face_c,
            face_humidity: present.face_humidity,
            masonry_saturation: self.masonry_saturation(lane),
            cloth_kg_m2: self.column.cloth(lane).0,
            coats,
            ready: !rules.is_empty() && rules.iter().all(|rule| rule.holds),
            damage,
            decides: readiness::decides(&rules),
            rules,
        }
    }

    fn profile(&self, lane: usize) -> Vec<ProfileCell> {
        let cell = |point: Seen| {
            let Place::Cell { layer, .. } = point.place else { return None };
            let stratum = self.stratum(layer);
            let full_kg_m3 = self.column.layers()[layer].material.saturation_kg_m3();
            let placed_mol_m3 = match stratum {
                Stratum::Masonry => 0.0,
                Stratum::Coat(coat) => self.shared.coats[coat].mortar.portlandite_mol_m3,
            };
            Some(ProfileCell {
                stratum,
                depth_m: point.depth_m,
                width_m: point.width_m,
                temperature_c: point.temperature_k - 273.15,
                water_share: point.water_kg_m3 / full_kg_m3,
                ice_share: point.ice_kg_m3 / full_kg_m3,
                portlandite_share: (placed_mol_m3 > 0.0).then(|| point.portlandite_mol_m3 / placed_mol_m3),
            })
        };
        self.column.profile(lane).into_iter().filter_map(cell).collect()
    }

    fn act(&mut self, lane: usize, action: Action) -> Result<(), CuringError> {
        if self.members[lane].stopped {
            return Err(CuringError::Stopped { member: lane });
        }
        if let Some(error) = &self.members[lane].failed {
            return Err(error.clone());
        }
        match action {
            Action::Throw => self.throw(lane),
            Action::DampDown(kg_m2) => {
                amount("Damping down", kg_m2)?;
                self.members[lane].spray_kg_m2 += kg_m2;
                self.members[lane].fresh_hours = FRESH_HOURS;
                Ok(())
            }
            Action::Mist(kg_m2) => {
                amount("Misting", kg_m2)?;
                self.mist(lane, kg_m2);
                Ok(())
            }
            Action::PressBack => self.press_back(lane),
            Action::TakeOff => self.take_off(lane),
            Action::Hang(cover) => {
                check_cover(&cover)?;
                self.hang(lane, cover);
                Ok(())
            }
            Action::Wet(kg_m2) => {
                amount("Wetting the cloth", kg_m2)?;
                self.wet(lane, kg_m2)
            }
            Action::Strike => {
                self.column.strike(lane);
                self.members[lane].cover = None;
                Ok(())
            }
            Action::Strip => {
                self.members[lane].covered_over = false;
                Ok(())
            }
            Action::Limewash(wash) => self.limewash(lane, wash),
        }
    }

    fn damage_indices(&self, lane: usize) -> Vec<DamageIndex> {
        let mut indices = Vec::new();
        for (coat, record) in self.members[lane].thrown.iter().enumerate() {
            if let Some(wear) = &record.wear {
                damage::add_indices(wear, coat, &mut indices);
            }
        }
        indices
    }

    fn failed(&self, lane: usize) -> Option<&CuringError> {
        self.members[lane].failed.as_ref()
    }

    fn checkpoint(&self, lane: usize) -> Checkpoint {
        Checkpoint { member: self.members[lane].clone(), state: self.column.save(lane) }
    }

    fn resume(&mut self, lane: usize, from: &Checkpoint) -> Result<(), CuringError> {
        self.column.load(lane, &from.state)?;
        self.members[lane] = from.member.clone();
        Ok(())
    }

    fn stop(&mut self, lane: usize) {
        self.members[lane].stopped = true;
    }

    fn balance(&self, lane: usize) -> Balance {
        self.column.balance(lane)
    }

    fn iterations(&self) -> u64 {
        self.column.iterations()
    }
}

/// Refuses an amount of water nobody can put on in an hour.
fn amount(place: &str, kg_m2: f64) -> Result<(), CuringError> {
    if (0.0..=50.0).contains(&kg_m2) {
        return Ok(());
    }
    Err(CuringError::OutOfRange {
        place: place.to_owned(),
        what: "the water, kg/m²,".to_owned(),
        found: kg_m2,
        allowed: "from 0 to 50".to_owned(),
        remedy: "Give what is really put on in the hour.".to_owned(),
    })
}
