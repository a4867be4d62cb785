//! Hydraulic set: a coat's belite takes up water by its equivalent age at 20 °C, which runs slower in the cold, nearly stands where it is dry and stands
//! still in frost. Like carbonation it is solved from the state at the start of a step; the water it binds and the heat it gives enter the step as
//! sources, and the age itself is changed when the step is taken. It must never bind water that ice holds.
//!
//! Left out: the lime that belite sets free (about a fifth of its mass, a tenth of what an NHL brings) and the pores that its hydrates fill, which the
//! hardened net stands for.

use crate::CuringError;
use crate::kernel::column::Column;
use crate::kernel::{GAS_J_MOLK, ZERO_K};
use crate::lanes::{Lanes, On, Vector, exp, ln};
use crate::material::{VAPOUR_GAS_J_KGK, WATER_KG_M3};

/// Temperature of which equivalent age tells, K.
const REFERENCE_K: f64 = ZERO_K + 20.0;
/// Age at which a coat is placed, s: the law has no value at none.
const PLACED_S: f64 = 1.0;
/// ln of the suction below which drying slows the set by less than a thousandth (at 0 °C: φ = 0.983, 0.0003; less when warmer).
const DRYING_LN_SUCTION: f64 = 14.6;

/// How a layer sets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetLaw {
    /// Water bound once all has set, kg/m³.
    pub binds_kg_m3: f64,
    /// Heat set free by then, J/m³.
    pub heat_j_m3: f64,
    /// Activation energy of equivalent age, J/mol.
    pub activation_j_mol: f64,
    /// Time τ of the degree h = exp(−(τ/t)^a), s at 20 °C.
    pub time_s: f64,
    /// Exponent a.
    pub exponent: f64,
}

impl SetLaw {
    /// Degree of set, 0 to 1, at an equivalent age, s at 20 °C: h = exp(−(τ/t)^a), the form of Freiesleben Hansen and Pedersen (1977) for the strength of
    /// concrete.
    pub fn degree(&self, age_s: f64) -> f64 {
        exp(-exp(self.exponent * (ln(self.time_s) - ln(age_s.max(PLACED_S)))))
    }

    /// Refuses values that cannot be computed.
    pub(crate) fn check(&self, place: &str) -> Result<(), CuringError> {
        let limits = [
            ("water bound by its set, kg/m³,", self.binds_kg_m3, 0.0, 300.0),
            ("heat of its set, J/m³,", self.heat_j_m3, 0.0, 1e9),
            ("activation energy of its set, J/mol,", self.activation_j_mol, 0.0, 2e5),
            ("time of its set, s,", self.time_s, 60.0, 1e9),
            ("exponent of its set", self.exponent, 0.05, 5.0),
        ];
        for (what, found, low, high) in limits {
            if !(found >= low && found <= high) {
                return Err(CuringError::OutOfRange {
                    place: place.to_owned(),
                    what: format!("the {what}"),
                    found,
                    allowed: format!("from {low} to {high}"),
                    remedy: "Correct the hydraulic set of this layer.".to_owned(),
                });
            }
        }
        Ok(())
    }
}

/// State and work space of the set, by node; zero where nothing sets.
#[derive(Clone, Debug)]
pub(crate) struct Setting<const L: usize> {
    /// Equivalent age, s at 20 °C.
    pub(crate) age: Vec<Lanes<L>>,
    /// What the step adds to it, s.
    pub(crate) older: Vec<Lanes<L>>,
    /// Degree that goes with the age.
    pub(crate) degree: Vec<Lanes<L>>,
    /// Degree at the end of the step.
    pub(crate) next: Vec<Lanes<L>>,
}

impl<const L: usize> Setting<L> {
    pub(crate) fn new(nodes: usize) -> Self {
        let zeros = vec![Lanes::default(); nodes];
        Self { age: zeros.clone(), older: zeros.clone(), degree: zeros.clone(), next: zeros }
    }
}

impl<const L: usize> Column<L> {
    /// How far the set of a cell goes in a step from the state at its start, left in `setting`; gives the degree gained.
    #[inline(always)]
    pub(crate) fn set_cell_on<V: Vector>(&mut self, on: On<V>, law: &SetLaw, node: usize, dt: V) -> V {
        let (y, t) = (on.load(&self.y[node]), on.load(&self.t[node]));
        let inverse_t = t.inverse();
        let arrhenius = ((inverse_t - 1.0 / REFERENCE_K) * (-law.activation_j_mol / GAS_J_MOLK)).exp();
        let thawed = (t - ZERO_K).above_zero(on.splat(1.0), on.zero());
        let mut speed = arrhenius * thawed;
        if (y - DRYING_LN_SUCTION).any_above_zero() {
            // Bažant and Najjar: 1/(1 + (7.5 − 7.5 φ)⁴), as `physics::hydration::drying_factor`.
            let kelvin = y.exp() * inverse_t * (1.0 / (WATER_KG_M3 * VAPOUR_GAS_J_KGK));
            let dry = on.splat(7.5) - (-kelvin).exp() * 7.5;
            let square = dry * dry;
            let slowed = (square * square + 1.0).inverse();
            speed = speed * (y - DRYING_LN_SUCTION).above_zero(slowed, on.splat(1.0));
        }
        let setting = &mut self.setting;
        let older = speed * dt;
        let age = (on.load(&setting.age[node]) + older).max(on.splat(PLACED_S));
        let next = (-((-age.ln() + ln(law.time_s)) * law.exponent).exp()).exp();
        setting.older[node] = older.lanes();
        setting.next[node] = next.lanes();
        next - on.load(&setting.degree[node])
    }

    /// Takes over the set of a step in the lanes marked.
    #[inline(always)]
    pub(crate) fn take_set<V: Vector>(&mut self, on: On<V>, node: usize, here: V) {
        let setting = &mut self.setting;
        let (age, degree) = (on.load(&setting.age[node]), on.load(&setting.degree[node]));
        setting.age[node] = here.above_zero(age + on.load(&setting.older[node]), age).lanes();
        setting.degree[node] = here.above_zero(on.load(&setting.next[node]), degree).lanes();
    }

    /// Mean degree of hydraulic set of a layer, 0 to 1; zero for one that does not set.
    pub fn layer_set(&self, lane: usize, layer: usize) -> f64 {
        let cells = self.layout.cells[layer].clone();
        let (mut sum, mut width) = (0.0, 0.0);
        for node in cells {
            sum += self.setting.degree[node].0[lane] * self.layout.width_m[node];
            width += self.layout.width_m[node];
        }
        sum / width
    }

    /// Equivalent age of the cells of a layer, s at 20 °C, from the inside.
    pub fn layer_ages_s(&self, lane: usize, layer: usize) -> impl DoubleEndedIterator<Item = f64> + '_ {
        self.layout.cells[layer].clone().map(move |node| self.setting.age[node].0[lane])
    }
}
