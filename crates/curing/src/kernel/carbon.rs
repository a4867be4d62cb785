//! Carbon dioxide in the pore air and the lime it turns. The gas is quasi-steady (what it stores matters three parts in ten million):
//! 0 = d/dx(D_e dc/dx) − r, r = k f (b/b₀) c / (1 + k f c Δt/b₀), which is the implicit form of db/dt = −r and keeps b above zero.

pub(crate) use physics::constants::WATER_MOLAR_KG_MOL as WATER_KG_MOL;
pub(crate) use physics::lime::CARBONATION_J_MOL as REACTION_J_MOL;
use physics::lime::{CALCITE_M3_MOL, PORTLANDITE_M3_MOL};

use crate::CuringError;
use crate::kernel::GAS_J_MOLK;
use crate::kernel::column::Column;
use crate::kernel::conditions::Conditions;
use crate::kernel::layout::Layout;
use crate::lanes::{Lanes, On, Vector, ln};
use crate::material::{VAPOUR_GAS_J_KGK, WATER_KG_M3, suction_of_humidity_pa};

/// Growth of solid when a mole of portlandite becomes calcite, m³/mol.
const SOLID_GROWTH_M3_MOL: f64 = CALCITE_M3_MOL - PORTLANDITE_M3_MOL;
/// Diffusivity of carbon dioxide in free air at 0 °C, m²/s, growing as T^1.75: the form of `physics::air::co2_diffusivity_m2_s`.
const DIFFUSIVITY_0C: f64 = 1.38e-5;

/// Iterations after which the gas of a step is given up and the step made shorter.
const MOST_SWEEPS: usize = 48;

/// Share of the outer air's gas by which no cell may change in the last iteration. Each squares what the one before left, and gas, lime and uptake come
/// from one linear solve, so that the books close whatever it is.
const SMALL_SHARE: f64 = 1e-5;

/// No cell is colder than this, K.
const COLDEST_K: f64 = 200.0;

/// How open the pores are to a gas.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PoreLaw {
    /// D_e as given, m²/s, dry or wet.
    Constant(f64),
    /// D_e = factor · D₀(T) · ε^porosity · (1 − S)^air, with S = w/(ρ_w ε).
    Power {
        /// Factor.
        factor: f64,
        /// Exponent of porosity.
        porosity: f64,
        /// Exponent of the air-filled share.
        air: f64,
    },
}

impl PoreLaw {
    /// Exponents 2.74 and 4.20 (Thiery 2005, fitted to cement pastes; from memory).
    pub const THIERY: Self = PoreLaw::Power { factor: 1.0, porosity: 2.74, air: 4.20 };
    /// Millington and Quirk 1961: exponents 4/3 and 10/3.
    pub const MILLINGTON_QUIRK: Self = PoreLaw::Power { factor: 1.0, porosity: 4.0 / 3.0, air: 10.0 / 3.0 };
}

/// How a layer carbonates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carbonation {
    /// Portlandite when placed, mol/m³; zero for a layer that only lets the gas through.
    pub portlandite_mol_m3: f64,
    /// Open porosity when placed, 0 to 1.
    pub porosity: f64,
    /// Diffusion in the pores.
    pub pores: PoreLaw,
    /// Rate k at 20 °C, 1/s.
    pub rate_per_s: f64,
    /// Activation energy of k, J/mol.
    pub activation_j_mol: f64,
    /// Humidities between which the rate ramps from nothing to full (a film of water is needed); equal and zero for no such law.
    pub humidity_ramp: (f64, f64),
    /// Saturation below which the rate falls in proportion; zero for no such law.
    pub film_saturation: f64,
    /// Whether pores narrow as calcite, the larger solid, takes the place of portlandite.
    pub narrows: bool,
    /// Whether the water and heat of the reaction are given to the layer.
    pub feeds_back: bool,
}

impl Carbonation {
    /// Refuses values that cannot be computed.
    pub(crate) fn check(&self, place: &str) -> Result<(), CuringError> {
        // Calcite is the larger solid: no more lime than leaves a tenth of the pores when all of it has turned.
        let most = if self.narrows { (0.9 * self.porosity / SOLID_GROWTH_M3_MOL).min(30_000.0) } else { 30_000.0 };
        let limits = [
            ("portlandite, mol/m³,", self.portlandite_mol_m3, 0.0, most),
            ("porosity", self.porosity, 0.01, 0.95),
            ("rate of carbonation, 1/s,", self.rate_per_s, 0.0, 1e6),
            ("activation energy, J/mol,", self.activation_j_mol, 0.0, 2e5),
            ("lower humidity of the rate", self.humidity_ramp.0, 0.0, 1.0),
            ("upper humidity of the rate", self.humidity_ramp.1, self.humidity_ramp.0, 1.0),
            ("film saturation", self.film_saturation, 0.0, 1.0),
        ];
        for (what, found, low, high) in limits {
            if !(found >= low && found <= high) {
                return Err(CuringError::OutOfRange {
                    place: place.to_owned(),
                    what: format!("the {what}"),
                    found,
                    allowed: format!("from {low} to {high}"),
                    remedy: "Correct the carbonation of this layer.".to_owned(),
                });
            }
        }
        Ok(())
    }
}

/// One carbonating cell, from the inside out.
#[derive(Clone, Copy, Debug)]
struct GasCell {
    node: usize,
    layer: usize,
    width_m: f64,
    /// Whether it is the outermost of its layer.
    last: bool,
    /// Value of y below which the humidity ramp is one at any temperature that occurs.
    ramp_y: f64,
}

/// State and work space of the gas; vectors by node are used for carbonating cells only, those by cell follow `cells`.
#[derive(Clone, Debug)]
pub(crate) struct Gas<const L: usize> {
    cells: Vec<GasCell>,
    /// Concentration by node, mol/m³ of air.
    pub(crate) c: Vec<Lanes<L>>,
    /// Portlandite left by node, mol/m³.
    pub(crate) b: Vec<Lanes<L>>,
    /// Rate of turning over the step by node, mol/(m³ s).
    pub(crate) r: Vec<Lanes<L>>,
    /// Flow in through the outer face over the step, mol/(m² s).
    pub(crate) uptake: Lanes<L>,
    /// k f / b₀ by cell.
    rate: Vec<Lanes<L>>,
    /// Conductance to the cell before, m/s, with one more at the end that stays zero.
    left: Vec<Lanes<L>>,
    /// Conductance to the air through the outer face, m/s.
    film: Vec<Lanes<L>>,
    upper: Vec<Lanes<L>>,
    right: Vec<Lanes<L>>,
    /// Rate of turning as the last sweep has it: `full` + `slope` · c, mol/(m³ s).
    full: Vec<Lanes<L>>,
    slope: Vec<Lanes<L>>,
}

impl<const L: usize> Gas<L> {
    pub(crate) fn new(layout: &Layout) -> Self {
        let mut cells = Vec::new();
        for layer in layout.first_carbonating..layout.layers.len() {
            let range = layout.cells[layer].clone();
            let last = range.end - 1;
            let ramp = layout.layers[layer].carbonation.map_or(0.0, |law| law.humidity_ramp.1);
            let ramp_y = ln(suction_of_humidity_pa(ramp.max(1e-9), COLDEST_K).max(1.0));
            cells.extend(range.map(|node| GasCell { node, layer, width_m: layout.width_m[node], last: node == last, ramp_y }));
        }
        let by_node = vec![Lanes::default(); layout.nodes()];
        let by_cell = vec![Lanes::default(); cells.len() + 1];
        Self {
            cells,
            c: by_node.clone(),
            b: by_node.clone(),
            r: by_node,
            uptake: Lanes::default(),
            rate: by_cell.clone(),
            left: by_cell.clone(),
            film: by_cell.clone(),
            upper: by_cell.clone(),
            right: by_cell.clone(),
            full: by_cell.clone(),
            slope: by_cell,
        }
    }
}

/// (T/273.15 K)^1.75 by its series to the fourth power, within 2e-7 from −30 to 50 °C.
#[inline(always)]
fn warmer<V: Vector>(t_k: V) -> V {
    let x = t_k * (1.0 / 273.15) - 1.0;
    ((((x * (1.75 * 0.75 * -0.25 * -1.25 / 24.0) + 1.75 * 0.75 * -0.25 / 6.0) * x + 1.75 * 0.75 / 2.0) * x) + 1.75) * x + 1.0
}

impl<const L: usize> Column<L> {
    /// Solves the gas for a step from the state at its start and leaves the rate of turning in `gas.r`. Portlandite itself is changed when the step
    /// is taken. Gives the lanes in which it could not be solved; they start again from no gas.
    ///
    /// The sink is concave and grows with c, and the links form an M-matrix: from the second iteration on Newton rises towards the answer from below, and an
    /// iterate held above zero stays below it, so every start that is finite is led there.
    #[inline(always)]
    pub(crate) fn solve_gas<V: Vector>(&mut self, on: On<V>, outer: &Conditions<L>, dt: &Lanes<L>, active: &[bool; L]) -> [bool; L] {
        let most = self.most_awake();
        let count = self.gas.cells.partition_point(|cell| cell.layer < most);
        if count == 0 {
            // The coat that took up gas may have come off.
            self.gas.uptake = Lanes::default();
            return [false; L];
        }
        self.conductances(on, outer, count);
        let mut open = *active;
        for _ in 0..MOST_SWEEPS {
            self.gas_sweep(on, outer, on.load(dt), count, &mut open);
            if !open.contains(&true) {
                break;
            }
        }
        for lane in (0..L).filter(|&lane| open[lane]) {
            for index in 0..count {
                self.gas.c[self.gas.cells[index].node].0[lane] = 0.0;
            }
        }
        open
    }

    /// Rates, conductances between cells and to the air.
    #[inline(always)]
    fn conductances<V: Vector>(&mut self, on: On<V>, outer: &Conditions<L>, count: usize) {
        let open = on.load(&outer.co2_film);
        let shut = open.above_zero(on.zero(), on.splat(1.0));
        let film = (open + shut).inverse();
        let mut before = on.zero();
        for index in 0..count {
            let cell = self.gas.cells[index];
            let Some(law) = self.layout.layers[cell.layer].carbonation else { continue };
            let awake = on.load(&self.awake_mask(cell.layer));
            let resistance = on.splat(0.5 * cell.width_m) / self.diffusivity(on, &law, cell.node);
            self.gas.rate[index] = (self.rate(on, &law, cell) * awake).lanes();
            self.gas.left[index] = if index == 0 { on.zero() } else { awake / (before + resistance) }.lanes();
            let face = if cell.last { self.outermost_mask(cell.layer) } else { Lanes::default() };
            self.gas.film[index] = (on.load(&face) * (on.splat(1.0) - shut) / (film + resistance)).lanes();
            before = resistance;
        }
        self.gas.left[count] = Lanes::default();
    }

    /// Effective diffusivity of a cell, m²/s of air-filled cross-section.
    #[inline(always)]
    fn diffusivity<V: Vector>(&self, on: On<V>, law: &Carbonation, node: usize) -> V {
        let PoreLaw::Power { factor, porosity: of_porosity, air: of_air } = law.pores else {
            let PoreLaw::Constant(value) = law.pores else { return on.zero() };
            return on.splat(value);
        };
        let left = on.load(&self.gas.b[node]);
        let turned = if law.narrows { on.splat(law.portlandite_mol_m3) - left } else { on.zero() };
        let porosity = on.splat(law.porosity) - turned * SOLID_GROWTH_M3_MOL;
        let air = (porosity - on.load(&self.water[node]) * (1.0 / WATER_KG_M3)).max(porosity * 1e-6);
        // Where nothing narrows the pores their porosity is that of the mix in every lane.
        let of_pores = if law.narrows { porosity.ln() } else { on.splat(ln(law.porosity)) } * (of_porosity - of_air);
        (of_pores + air.ln() * of_air).exp() * warmer(on.load(&self.t[node])) * (factor * DIFFUSIVITY_0C)
    }

    /// k f / b₀ of a cell.
    #[inline(always)]
    fn rate<V: Vector>(&self, on: On<V>, law: &Carbonation, cell: GasCell) -> V {
        if law.portlandite_mol_m3 <= 0.0 {
            return on.zero();
        }
        let (y, inverse_t) = (on.load(&self.y[cell.node]), on.load(&self.t[cell.node]).inverse());
        let arrhenius = ((inverse_t - 1.0 / 293.15) * (-law.activation_j_mol / GAS_J_MOLK)).exp();
        let mut rate = arrhenius * (law.rate_per_s / law.portlandite_mol_m3);
        let (low, high) = law.humidity_ramp;
        if high > 0.0 && (y - cell.ramp_y).any_above_zero() {
            let kelvin = y.exp() * inverse_t * (1.0 / (WATER_KG_M3 * VAPOUR_GAS_J_KGK));
            rate = rate * (((-kelvin).exp() - low) * (1.0 / (high - low).max(1e-9))).clamp(0.0, 1.0);
        }
        if law.film_saturation > 0.0 {
            let full = self.layout.layers[cell.layer].material.saturation_kg_m3() * law.film_saturation;
            rate = rate * (on.load(&self.water[cell.node]) * (1.0 / full)).clamp(0.0, 1.0);
        }
        rate
    }

    /// One Newton iteration for the lanes still open: elimination from the inside out, then substitution back.
    #[inline(always)]
    fn gas_sweep<V: Vector>(&mut self, on: On<V>, outer: &Conditions<L>, dt: V, count: usize, open: &mut [bool; L]) {
        let gas = &mut self.gas;
        let (co2, going) = (on.load(&outer.co2), on.marked(open));
        let (mut upper, mut right) = (on.zero(), on.zero());
        for index in 0..count {
            let cell = gas.cells[index];
            let (c, k, film) = (on.load(&gas.c[cell.node]), on.load(&gas.rate[index]), on.load(&gas.film[index]));
            let slowed = (k * c * dt + 1.0).inverse();
            let rate = k * on.load(&gas.b[cell.node]) * slowed;
            let steepness = rate * slowed;
            let (full, slope) = (rate * cell.width_m, steepness * cell.width_m);
            gas.full[index] = (rate * c - steepness * c).lanes();
            gas.slope[index] = steepness.lanes();
            let (left, after) = (on.load(&gas.left[index]), on.load(&gas.left[index + 1]));
            let through = left + after + film;
            // A cell no gas can reach, asleep or shut in, keeps what it has: its row is the identity.
            let alone = (through + slope).above_zero(on.zero(), on.splat(1.0));
            let inverse = (through + slope + alone - left * upper).inverse();
            right = (film * co2 - full * c + slope * c + left * right) * inverse;
            upper = after * inverse;
            gas.upper[index] = upper.lanes();
            gas.right[index] = right.lanes();
        }
        let mut outside = on.zero();
        let (mut worst, mut sum, mut uptake) = (on.zero(), on.zero(), on.zero());
        for index in (0..count).rev() {
            let cell = gas.cells[index];
            let old = on.load(&gas.c[cell.node]);
            let c = on.load(&gas.right[index]) + on.load(&gas.upper[index]) * outside;
            let rate = on.load(&gas.full[index]) + on.load(&gas.slope[index]) * c;
            worst = worst.max((c - old).abs());
            gas.c[cell.node] = going.above_zero(c.max(on.zero()), old).lanes();
            gas.r[cell.node] = going.above_zero(rate, on.load(&gas.r[cell.node])).lanes();
            sum = sum + c + rate;
            uptake = uptake + on.load(&gas.film[index]) * (co2 - c);
            outside = c;
        }
        gas.uptake = going.above_zero(uptake, on.load(&gas.uptake)).lanes();
        let (worst, sum): (Lanes<L>, Lanes<L>) = (worst.lanes(), sum.lanes());
        for (lane, open) in open.iter_mut().enumerate() {
            // A maximum passes over what is not a number; a sum does not.
            *open = *open && (worst.0[lane] > SMALL_SHARE * outer.co2.0[lane] || !sum.0[lane].is_finite());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_series_of_warmth_is_its_power() {
        for t_k in [243.15, 263.15, 273.15, 293.15, 323.15] {
            let truth = libm::pow(t_k / 273.15, 1.75);
            assert!((warmer(Lanes([t_k])).0[0] / truth - 1.0).abs() < 2e-6, "{t_k}");
        }
    }
}
