//! The kernel: heat, water and carbon dioxide in one column of layers, stepped implicitly for `L` members at once.
//!
//! **Unknowns.** Temperature T and y = ln(suction) at every cell and at every *node without volume*: the two faces and the joints between layers.
//! A link joins two neighbours inside one material, so the flow of liquid is always a difference of flux potentials, suction is continuous at joints,
//! and each face has a state of its own that is solved for: the film outside never stands in series with half a cell.
//!
//! **Step.** Backward Euler; Newton on a block-tridiagonal system of 2 × 2 blocks with exact derivatives of the tables, started where the last step's
//! changes lead. The face and the cloth, which answer the weather far more than linearly, are iterated against the wall as eliminated, so that most
//! steps solve the wall once. Water and enthalpy themselves
//! are differenced. The last solve of a step is linear and exact, so contents are set from what it says has crossed (w + w′Δy), which is the same as
//! summing its fluxes: what leaves one cell enters the next to rounding, whatever the tolerance. Temperature is then read back from enthalpy. What the
//! curvature of the functions makes of the difference is put right by the next step, which starts from the contents, not from the potentials. Where some
//! node still changes too much, a second solve begins there and leaves the wall within as it is.
//! Coefficients that change little in a step (heat conductivity, permeability of air) are taken at its start.
//!
//! **Carbon** is solved first in each step from the state at its start ([`Carbonation`]); the water and heat it sets free enter the step as sources.
//!
//! **Lanes.** All members of a column share layers and grid. Each has its own weather, step length, cover and number of layers awake; a lane that has
//! converged is frozen while others iterate, and arithmetic never mixes lanes, so a member's bits do not depend on its company.
//! Blocks are of one lane or of eight. `vectors` steps eight with the widest instructions the machine has; they are the same operations in the same order,
//! hence the same bits.
//!
//! **Freezing** (of a bench unless [`Settings::freezing`] is switched off; of a trial where it asks for it) is part of the enthalpy: `frost` puts the heat of ice into H(T, w) and its slopes, finds temperature
//! from enthalpy, takes vapour over ice and throttles liquid. Iterations on a cell that begins or ends to freeze go by its enthalpy, not its
//! temperature, and a step is taken only when temperature and enthalpy agree. The cloth freezes likewise (`cloth`). A block in which nothing is colder
//! than 0 °C spends nothing on it.
//!
//! **Hydraulic set** is a further state per cell, advanced beside carbonation at the start of the step; it binds water through the same source arrays
//! (`setting`).
//!
//! **Hardening of the pore net.** A coat's material is a ladder of tables from the wet mix to the hardened mortar; each lane stands at a stage of it, which
//! `hardening` moves between steps with water and enthalpy kept. Within a step nothing knows of it but where in the tables a lane reads.

mod books;
mod carbon;
mod checkpoint;
mod cloth;
mod column;
mod conditions;
mod face;
mod frost;
mod hardening;
mod layout;
mod newton;
mod outer;
mod point;
mod setting;
mod sweep;
mod take;
mod vectors;
mod view;

pub use books::{Books, Contents};
pub use carbon::{Carbonation, PoreLaw};
pub(crate) use checkpoint::LaneState;
pub use column::{Column, Lost};
pub use conditions::{Cloth, FaceCondition};
pub(crate) use frost::liquid_suction_pa;
pub use layout::Layer;
pub use setting::SetLaw;
pub use vectors::{Stepper, Vectors, Width};
pub use view::{Place, Seen};

/// Greatest last change of y at the outer face and, as a share of what it holds by sorption, of the water in the cloth.
pub const FACE_TOLERANCE_Y: f64 = 0.1;
/// Greatest last change of temperature at the outer face and in the cloth, K.
pub const FACE_TOLERANCE_K: f64 = 0.3;

/// Constants of a run that a study may wish to change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Latent heat of evaporation, J/kg (EN 15026: 2.5e6); zero switches it off.
    pub latent_j_kg: f64,
    /// Greatest last change of y = ln(suction) at which a step is taken as solved; at the outer face at most [`FACE_TOLERANCE_Y`].
    pub tolerance_y: f64,
    /// Greatest last change of temperature at which a step is taken as solved, K; at the outer face and in the cloth at most [`FACE_TOLERANCE_K`].
    pub tolerance_k: f64,
    /// Widest vector instructions to step with; no bit of a result depends on it.
    pub vectors: Vectors,
    /// Whether pore water freezes.
    pub freezing: bool,
    /// Shortest step tried before a member is given up, s.
    pub shortest_step_s: f64,
}

impl Default for Settings {
    fn default() -> Self {
        Self { latent_j_kg: 2.5e6, tolerance_y: 0.01, tolerance_k: 0.01, vectors: Vectors::Best, freezing: false, shortest_step_s: 0.05 }
    }
}

/// Temperature at which enthalpies are zero, K.
pub(crate) use physics::constants::ZERO_CELSIUS_K as ZERO_K;
pub(crate) use physics::constants::{
    GAS_CONSTANT_J_MOLK as GAS_J_MOLK, STEFAN_BOLTZMANN_W_M2K4 as STEFAN_BOLTZMANN, WATER_HEAT_J_KGK as WATER_J_KGK,
};
