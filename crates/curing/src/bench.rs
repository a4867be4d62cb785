//! One wall in several weather years, stepped together: the interface through which `works` runs the engine. It takes actions and shows
//! what can be seen; it decides nothing.

use std::sync::Arc;

use materials::Cover;
use rayon::prelude::*;
use weather::FaceClimate;

use crate::exposure::Room;
use crate::group::{Block, Checkpoint, Group, Shared};
use crate::kernel::{Column, Settings, Width};
use crate::{
    Action, CoatModel, CuringError, DamageIndex, Inside, Layer, Look, MaterialTables, ProfileCell, WallModel, Wash, calibration, grid,
};

/// Water, carbon and energy that have come, gone and stayed, and how far the books are from closing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Balance {
    /// Water, kg/m².
    pub water: Closure,
    /// Carbon dioxide taken up, mol/m².
    pub carbon: Closure,
    /// Energy, J/m².
    pub energy: Closure,
}

/// How one balance closes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Closure {
    /// Change of content less what came in plus what went out: zero but for rounding.
    pub residual: f64,
    /// Sum of the absolute amounts that crossed a face, were added, taken away or turned.
    pub moved: f64,
}

/// Grid, step and tolerance of a bench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Numerics {
    /// Parts into which every cell is cut.
    pub fineness: usize,
    /// Longest step, s.
    pub longest_step_s: f64,
    /// Longest step in the hour after a coat is thrown or a face damped down, s: suction moves water in minutes then.
    pub fresh_step_s: f64,
    /// Most members stepped together in a block: up to 8, of which fewer than 3 are stepped one by one; no bit of a result depends on it.
    pub lanes: usize,
    /// Settings of the kernel.
    pub settings: Settings,
}

impl Default for Numerics {
    /// Steps of an hour, of five minutes while fresh. The kernel's last solve in a step is always an exact linear one, so its tolerances bound what the
    /// curvature of the functions leaves: half the square of a change of 2 K is 0.7 % of a vapour pressure within the wall (0.02 % of 0.3 K at its
    /// face), of 0.2 in y 2 % of one cell's answer to suction, and the next step, which starts from the contents, puts it right. A test holds them
    /// against tight ones.
    fn default() -> Self {
        let settings = Settings { tolerance_y: 0.2, tolerance_k: 2.0, freezing: true, ..Settings::default() };
        Self { fineness: 1, longest_step_s: 3600.0, fresh_step_s: 300.0, lanes: 8, settings }
    }
}

/// One wall in several weather years, stepped together.
#[derive(Debug)]
pub struct Bench {
    shared: Arc<Shared>,
    layers: Arc<[Layer]>,
    blocks: Vec<Box<dyn Block>>,
    /// Block and lane of each member.
    place: Vec<(usize, usize)>,
    cell_steps: u64,
}

/// Lanes of a block that is not of one.
const LANES: usize = 8;
/// Members from which a block of eight lanes costs less than as many blocks of one.
const FEWEST_OF_EIGHT: usize = 3;
/// Work of a call, in member-hours, from which it is worth waking other threads.
const WORTH_THREADS: usize = 24;

impl Bench {
    /// Newton iterations taken by all blocks together (each of all its lanes), for study of the cost.
    pub fn iterations(&self) -> u64 {
        self.blocks.iter().map(|block| block.iterations()).sum()
    }

    /// Sets up one wall for each of `first_hours`: the hour index into the joined climate at which that member starts (day of the survey,
    /// saturation as surveyed), which must lie within it; a member that runs on past its end goes on at its beginning. A coat thinner than 0.1 mm is no coat: throwing it changes nothing.
    ///
    /// # Errors
    /// The first value of wall, coats or climate that cannot be computed.
    pub fn new(wall: &WallModel, coats: &[CoatModel], climate: Arc<FaceClimate>, first_hours: &[usize]) -> Result<Self, CuringError> {
        Self::with_numerics(wall, coats, climate, first_hours, Numerics::default())
    }

    /// The same with other numerics, to see what grid, step and tolerance do to an answer.
    ///
    /// # Errors
    /// As [`Bench::new`].
    pub fn with_numerics(
        wall: &WallModel,
        coats: &[CoatModel],
        climate: Arc<FaceClimate>,
        first_hours: &[usize],
        numerics: Numerics,
    ) -> Result<Self, CuringError> {
        let hours = climate.air_k.len();
        let mut bench = Self::empty(wall, coats, climate, numerics)?;
        check_starts(first_hours, hours)?;
        let mut rest = first_hours;
        while !rest.is_empty() {
            let (head, tail) = rest.split_at(LANES.min(numerics.lanes).min(rest.len()).max(1));
            if head.len() < FEWEST_OF_EIGHT {
                head.chunks(1).try_for_each(|one| bench.build::<1>(one, 1))?;
            } else {
                bench.build::<LANES>(head, head.len())?;
            }
            rest = tail;
        }
        Ok(bench)
    }

    /// A bench on which nobody is yet: members come with [`Bench::grow`].
    ///
    /// # Errors
    /// As [`Bench::new`].
    pub fn empty(wall: &WallModel, coats: &[CoatModel], climate: Arc<FaceClimate>, numerics: Numerics) -> Result<Self, CuringError> {
        check_wall(wall)?;
        check_climate(&climate)?;
        check_far_face(wall, &climate)?;
        for (index, coat) in coats.iter().enumerate() {
            check_coat(index, coat)?;
        }
        let (layers, layer) = layers_of(wall, coats, numerics.fineness.clamp(1, 16))?;
        let room = match wall.inside {
            Inside::Unheated => Room::unheated(&climate),
            Inside::Heated { .. } | Inside::Open => Room::default(),
        };
        let shared = Arc::new(Shared { wall: wall.clone(), coats: coats.to_vec(), layer, climate, room, numerics });
        Ok(Self { shared, layers: layers.into(), blocks: Vec::new(), place: Vec::new(), cell_steps: 0 })
    }

    /// Another bench of the same wall and coats on which nobody is yet.
    pub fn beside(&self) -> Self {
        let (shared, layers) = (Arc::clone(&self.shared), Arc::clone(&self.layers));
        Self { shared, layers, blocks: Vec::new(), place: Vec::new(), cell_steps: 0 }
    }

    /// Adds members, stopped until they [`Bench::resume`] a checkpoint: a block of one, or of eight, which costs as much as three of one.
    ///
    /// # Errors
    /// None in practice: the layers were taken before.
    pub fn grow(&mut self, together: bool) -> Result<(), CuringError> {
        if together { self.build::<LANES>(&[], LANES) } else { self.build::<1>(&[], 1) }
    }

    /// Adds a block whose first lanes begin at the given hours; of its lanes so many are members, those without an hour stopped.
    fn build<const L: usize>(&mut self, first_hours: &[usize], members: usize) -> Result<(), CuringError>
    where
        Column<L>: Width<L>,
    {
        let column = Column::<L>::new(self.layers.to_vec(), 1, self.shared.numerics.settings)?;
        self.blocks.push(Box::new(Group::new(Arc::clone(&self.shared), column, first_hours)));
        let block = self.blocks.len() - 1;
        self.place.extend((0..members).map(|lane| (block, lane)));
        Ok(())
    }

    /// How many members there are.
    pub fn members(&self) -> usize {
        self.place.len()
    }

    /// Steps every member that is still running by `hours`. One that is lost stops alone; [`Bench::failed`] says where and when.
    pub fn advance(&mut self, hours: usize) {
        let taken: u64 = if self.blocks.len() > 1 && self.members() * hours >= WORTH_THREADS {
            self.blocks.par_iter_mut().map(|block| block.advance(hours)).sum()
        } else {
            self.blocks.iter_mut().map(|block| block.advance(hours)).sum()
        };
        self.cell_steps += taken;
    }

    /// What can be seen of a member now. A member that does not exist is shown as an empty wall at hour 0.
    pub fn look(&self, member: usize) -> Look {
        match self.place.get(member) {
            Some(&(block, lane)) => self.blocks[block].look(lane),
            None => Look {
                hour: 0,
                face_c: 0.0,
                face_humidity: 0.0,
                masonry_saturation: 0.0,
                cloth_kg_m2: 0.0,
                coats: Vec::new(),
                rules: Vec::new(),
                ready: false,
                damage: Vec::new(),
                decides: None,
            },
        }
    }

    /// The cells of a member's wall as it stands, from the room to the weather; those of coats to come are not among them. A member that does not exist
    /// has none.
    pub fn profile(&self, member: usize) -> Vec<ProfileCell> {
        self.place.get(member).map_or_else(Vec::new, |&(block, lane)| self.blocks[block].profile(lane))
    }

    /// Every index of damage of a member's coats with its limits, whatever its grade; empty for a member that does not exist.
    pub fn damage_indices(&self, member: usize) -> Vec<DamageIndex> {
        self.place.get(member).map_or_else(Vec::new, |&(block, lane)| self.blocks[block].damage_indices(lane))
    }

    /// Does something to a member's wall, at the beginning of the coming hour.
    ///
    /// # Errors
    /// A member that does not exist, has failed or was stopped; an action that is impossible as things stand.
    pub fn act(&mut self, member: usize, action: Action) -> Result<(), CuringError> {
        let Some(&(block, lane)) = self.place.get(member) else {
            return Err(CuringError::NoMember { member, members: self.members() });
        };
        self.blocks[block].act(lane, action).map_err(|error| match error {
            CuringError::Stopped { .. } => CuringError::Stopped { member },
            other => other,
        })
    }

    /// Why a member failed, if it did.
    pub fn failed(&self, member: usize) -> Option<&CuringError> {
        self.place.get(member).and_then(|&(block, lane)| self.blocks[block].failed(lane))
    }

    /// A member's wall as it stands, put aside; `None` for a member that does not exist.
    pub fn checkpoint(&self, member: usize) -> Option<Checkpoint> {
        self.place.get(member).map(|&(block, lane)| self.blocks[block].checkpoint(lane))
    }

    /// Lets a member go on from a checkpoint, whatever it was before, running or stopped. Its hours, its coats, its cover and its books are those of the
    /// checkpoint; from there it goes on as the member did that the checkpoint was taken of, bit for bit. The bench may be another one, of the same wall
    /// and climate, whose first coats are those of the checkpoint.
    ///
    /// # Errors
    /// A member that does not exist; a checkpoint whose layers are not those of this bench.
    pub fn resume(&mut self, member: usize, from: &Checkpoint) -> Result<(), CuringError> {
        match self.place.get(member) {
            Some(&(block, lane)) => self.blocks[block].resume(lane, from),
            None => Err(CuringError::NoMember { member, members: self.members() }),
        }
    }

    /// Stops a member: no more work is spent on it.
    pub fn stop(&mut self, member: usize) {
        if let Some(&(block, lane)) = self.place.get(member) {
            self.blocks[block].stop(lane);
        }
    }

    /// Cell-steps taken: one cell through one hour, all its balances, iterations and sub-steps included.
    pub fn cell_steps(&self) -> u64 {
        self.cell_steps
    }

    /// How the books of a member close. A member that does not exist has empty books.
    pub fn balance(&self, member: usize) -> Balance {
        self.place.get(member).map_or_else(Balance::default, |&(block, lane)| self.blocks[block].balance(lane))
    }
}

/// Thinnest coat that is a layer, m.
const THINNEST_M: f64 = 1e-4;

/// The masonry and the coats as layers, and the layer of each coat.
fn layers_of(wall: &WallModel, coats: &[CoatModel], fineness: usize) -> Result<(Vec<Layer>, Vec<Option<usize>>), CuringError> {
    let named = |what: String| move |error| place_material(&what, error);
    let masonry = MaterialTables::from_moisture(&wall.masonry).map_err(named("the masonry".to_owned()))?;
    let widths_m = match wall.far_face {
        Some(_) => grid::two_faced_widths_m(wall.thickness_m, fineness),
        None => grid::masonry_widths_m(wall.thickness_m, fineness),
    };
    let mut layers = vec![Layer { material: Arc::new(masonry), widths_m, carbonation: None }];
    let mut layer_of = Vec::new();
    for (index, coat) in coats.iter().enumerate() {
        if coat.thickness_m < THINNEST_M {
            layer_of.push(None);
            continue;
        }
        let fresh = MaterialTables::from_moisture(&coat.mortar.fresh).map_err(named(format!("coat {}", index + 1)))?;
        let hardened = MaterialTables::from_moisture(&coat.mortar.hardened).map_err(named(format!("coat {}, hardened", index + 1)))?;
        layer_of.push(Some(layers.len()));
        layers.push(Layer {
            material: Arc::new(MaterialTables::hardening(&fresh, &hardened).setting(coat.mortar.set.as_ref().map(calibration::set_law))),
            widths_m: grid::coat_widths_m(coat.thickness_m, fineness),
            carbonation: Some(calibration::carbonation(&coat.mortar)),
        });
    }
    Ok((layers, layer_of))
}

/// Says which material of the job an error means.
fn place_material(what: &str, error: CuringError) -> CuringError {
    match error {
        CuringError::Material { fault, remedy, .. } => CuringError::Material { material: format!("of {what}"), fault, remedy },
        other => other,
    }
}

/// Refuses a number outside its range.
pub(crate) fn within(place: &str, what: &str, found: f64, low: f64, high: f64, remedy: &str) -> Result<(), CuringError> {
    if found >= low && found <= high {
        return Ok(());
    }
    Err(CuringError::OutOfRange {
        place: place.to_owned(),
        what: what.to_owned(),
        found,
        allowed: format!("from {low} to {high}"),
        remedy: remedy.to_owned(),
    })
}

/// Refuses a cover whose figures cannot be those of a cover.
pub(crate) fn check_cover(cover: &Cover) -> Result<(), CuringError> {
    let place = format!("The cover “{}”", cover.name);
    let shares = [
        ("its wind leak", cover.wind_leak),
        ("the sun it lets through", cover.sun_through),
        ("the rain it lets through", cover.rain_through),
        ("the sky it lets through", cover.sky_through),
        ("the solar absorptance of its cloth", cover.cloth_absorptance),
    ];
    for (what, share) in shares {
        within(&place, what, share, 0.0, 1.0, "Give it as a share.")?;
    }
    within(&place, "the heat exchange of its gap, W/(m² K),", cover.gap_w_m2k, 0.0, 50.0, "A still gap has about 1.5, no cloth 0.")?;
    within(&place, "its dry cloth, kg/m²,", cover.cloth_kg_m2, 0.0, 20.0, "Hessian has about 0.3.")?;
    within(&place, "the water it holds, kg/m²,", cover.holds_kg_m2, 0.0, 50.0, "Hessian holds about 0.9.")?;
    within(&place, "the warmth it adds, K,", cover.warms_k, -20.0, 40.0, "A heated shelter adds about 5.")?;
    within(&place, "its film for carbon dioxide, m/s,", cover.co2_film_m_s, 0.0, f64::INFINITY, "A cover hung loose has about 0.002.")
}

/// Refuses a limewash whose figures cannot be those of one.
pub(crate) fn check_wash(wash: &Wash) -> Result<(), CuringError> {
    let place = "The limewash";
    within(place, "its resistance to vapour, m² s Pa/kg,", wash.vapour_m2spa_kg, 0.0, 1e8, "A tenth of a millimetre has about 5e6.")?;
    within(place, "its solar absorptance", wash.solar_absorptance, 0.0, 1.0, "White limewash is about 0.25.")
}

/// Refuses weather of a far face that does not run beside that of the outer one.
fn check_far_face(wall: &WallModel, climate: &FaceClimate) -> Result<(), CuringError> {
    let Some(far) = &wall.far_face else { return Ok(()) };
    let (hours, beside) = (far.air_k.len(), climate.air_k.len());
    let fault = if wall.inside != Inside::Open {
        "a far face is given for a wall with a room behind it".to_owned()
    } else if hours != beside {
        format!("the far face has {hours} hours, the outer face {beside}")
    } else {
        return check_climate(far);
    };
    let remedy = "Give a far face to a roofless or free-standing wall alone, with the same hours as its outer face.".to_owned();
    Err(CuringError::Climate { fault, remedy })
}

fn check_wall(wall: &WallModel) -> Result<(), CuringError> {
    let place = "The wall";
    within(place, "its thickness, m,", wall.thickness_m, 0.05, 3.0, "Measure it at an opening.")?;
    within(place, "its degree of saturation", wall.saturation, 0.0, 1.0, "Give the share of its pores that is full.")?;
    within(place, "its solar absorptance", wall.solar_absorptance, 0.0, 1.0, "Pale stone is about 0.5, dark about 0.8.")?;
    if let Some(face) = wall.towards_face {
        within(place, "its degree of saturation at the face", face.saturation, 0.0, 1.0, "Give the share of its pores that is full.")?;
        within(place, "the depth over which that falls off, m,", face.depth_m, 1e-3, 3.0, "About 0.1 is usual.")?;
    }
    if let Some(covering) = wall.covering {
        let place = "The old covering";
        within(place, "its resistance to vapour, m² s Pa/kg,", covering.vapour_m2spa_kg, 0.0, 1e15, "20 mm of cement has about 5e9.")?;
        within(place, "the rain it lets through", covering.rain_through, 0.0, 1.0, "Give it as a share.")?;
        within(place, "its solar absorptance", covering.solar_absorptance, 0.0, 1.0, "Grey cement is about 0.6.")?;
    }
    if let Inside::Heated { air_k, humidity } = wall.inside {
        within(place, "the temperature of the room, K,", air_k, 253.15, 323.15, "Give it in kelvin.")?;
        within(place, "the relative humidity of the room", humidity, 0.0, 1.0, "Give it between 0 and 1.")?;
    }
    Ok(())
}

fn check_coat(index: usize, coat: &CoatModel) -> Result<(), CuringError> {
    let place = format!("Coat {}", index + 1);
    let limits = &coat.thresholds;
    within(&place, "its thickness, m,", coat.thickness_m, 0.0, 0.1, "Build out in several coats.")?;
    within(&place, "its texture factor", coat.texture, 1.0, 2.0, "A smooth coat is 1, a thrown one up to about 1.4.")?;
    within(&place, "its solar absorptance", coat.solar_absorptance, 0.0, 1.0, "A pale harl is about 0.4.")?;
    within(&place, "its water when fresh, kg/m³,", coat.mortar.water_fresh_kg_m3, 1.0, 900.0, "Correct the mix.")?;
    within(&place, "the least age asked for, days,", limits.least_days, 0.0, 1000.0, "A week is usual.")?;
    within(&place, "the share of water at which it is firm", limits.firm_water_share, 0.0, 1.0, "Half is usual.")?;
    within(&place, "the depth of uptake asked for, m,", limits.uptake_m, 0.0, 0.1, "About 0.00115 is usual.")?;
    within(&place, "the share of uptake asked for", limits.uptake_share, 0.0, 1.0, "At most 0.6 is usual.")?;
    within(&place, "the days of set asked for", limits.set_days, 0.0, 1000.0, "4 is usual.")?;
    within(&place, "the wettest face allowed", limits.wettest_face, 0.0, 1.0, "Give a relative humidity between 0 and 1.")?;
    within(&place, "the coldest throw allowed, °C,", limits.fit_c.0, -50.0, limits.fit_c.1, "5 is usual.")
}

fn check_starts(first_hours: &[usize], hours: usize) -> Result<(), CuringError> {
    match first_hours.iter().find(|&&first| first >= hours) {
        None => Ok(()),
        Some(late) => Err(CuringError::Climate {
            fault: format!("a member is to start in hour {late}, after it ends: it has {hours} hours, counted from 0"),
            remedy: "Start within the weather, or give more of it.".to_owned(),
        }),
    }
}

fn check_climate(climate: &FaceClimate) -> Result<(), CuringError> {
    let fault = |fault: String, remedy: &str| Err(CuringError::Climate { fault, remedy: remedy.to_owned() });
    let hours = climate.air_k.len();
    if hours == 0 {
        return fault("it has no hours".to_owned(), "Give at least one year.");
    }
    let series = [
        ("air temperature, K", &climate.air_k, 200.0, 340.0),
        ("vapour pressure, Pa", &climate.vapour_pa, 0.0, 2e4),
        ("air pressure, Pa", &climate.pressure_pa, 5e4, 1.2e5),
        ("wind, m/s", &climate.wind_m_s, 0.0, 80.0),
        ("sun, W/m²", &climate.sun_w_m2, 0.0, 2000.0),
        ("long-wave, W/m²", &climate.longwave_w_m2, 20.0, 1000.0),
        ("driving rain, kg/m²", &climate.rain_kg_m2, 0.0, 500.0),
    ];
    for (what, values, low, high) in series {
        if values.len() != hours {
            return fault(format!("{what} has {} hours, air temperature {hours}", values.len()), "Give every series the same hours.");
        }
        if let Some(hour) = values.iter().position(|value| !(low..=high).contains(value)) {
            let found = format!("{what} is {} in hour {hour}, outside {low} to {high}", values[hour]);
            return fault(found, "Correct the weather file.");
        }
    }
    Ok(())
}
