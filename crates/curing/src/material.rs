//! A porous material as monotone tables over the logarithm of suction: what it holds, what it lets through. Built once from closures or from
//! catalogue properties, then read by the kernel; the error of the tables against the functions they stand for is measured and reported.
//!
//! The table runs on a uniform grid of y = ln(p_c / 1 Pa). Each segment is linear in y, so that the slopes are exactly the derivatives the
//! solver needs, and the flux potential of the liquid Φ = ∫ K dp_c = ∫ D dw is right at every node: inside one material the flow of liquid between
//! two points is the difference of their potentials over their distance, whatever the wetting front does between them.

use materials::Moisture;
pub(crate) use physics::constants::{VAPOUR_GAS_J_KGK, WATER_DENSITY_KG_M3 as WATER_KG_M3};

use crate::CuringError;
use crate::kernel::SetLaw;
use crate::lanes::{exp, ln, pow};

/// Least ln(p_c) of the tables: 1 Pa, free water for every material here.
pub const LEAST_LN_SUCTION: f64 = 0.0;
/// Greatest ln(p_c) of the tables: 2.6e10 Pa, below every humidity that occurs.
pub const GREATEST_LN_SUCTION: f64 = 24.0;
/// Segments of the tables in one unit of ln(p_c).
pub const SEGMENTS_PER_UNIT: f64 = 32.0;
/// Segments of one table.
pub(crate) const SEGMENTS: usize = 768;
/// Share of the water at saturation by which the tables tilt from end to end, so that a saturated material still answers to suction.
const TILT: f64 = 1e-9;

/// Suction in equilibrium with a relative humidity at a temperature (Kelvin relation, EN 15026): p_c = −ρ_w R_v T ln φ, Pa.
pub fn suction_of_humidity_pa(humidity: f64, temperature_k: f64) -> f64 {
    -WATER_KG_M3 * VAPOUR_GAS_J_KGK * temperature_k * ln(humidity.max(1e-300))
}

/// Relative humidity in equilibrium with a suction, the inverse of [`suction_of_humidity_pa`].
pub fn humidity_of_suction(suction_pa: f64, temperature_k: f64) -> f64 {
    exp(-suction_pa / (WATER_KG_M3 * VAPOUR_GAS_J_KGK * temperature_k))
}

/// A function of one number.
pub type Function = Box<dyn Fn(f64) -> f64>;

/// How a material conducts liquid water.
pub enum Liquid {
    /// Not at all.
    None,
    /// Conductivity K(p_c), s, of p_c in Pa: flux = K · dp_c/dx.
    Conductivity(Function),
    /// Diffusivity D(w), m²/s, of w in kg/m³: flux = −D · dw/dx.
    Diffusivity(Function),
}

/// Vapour permeability of still air δ₀(T), kg/(m s Pa).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum VapourInAir {
    /// 2.0e-7 T^0.81 / 101,325 Pa (Künzel 1995, after Schirmer).
    Schirmer,
    /// 26.1e-6 / (R_v T) (EN 15026, HAMSTAD).
    PerTemperature,
    /// The same at every temperature, for example 2.0e-10 (EN ISO 13788).
    Constant(f64),
}

impl VapourInAir {
    /// Coefficients of a cubic in T/293.15 K − 1; within 1e-5 of the law from −10 to 50 °C for [`VapourInAir::Schirmer`], 6e-4 at −10 °C and 1e-4 from
    /// 0 to 50 °C for [`VapourInAir::PerTemperature`].
    pub(crate) fn cubic(self) -> [f64; 4] {
        let at_20 = match self {
            VapourInAir::Schirmer => 2.0e-7 * pow(293.15, 0.81) / 101_325.0,
            VapourInAir::PerTemperature => 26.1e-6 / (VAPOUR_GAS_J_KGK * 293.15),
            VapourInAir::Constant(value) => value,
        };
        let series = match self {
            VapourInAir::Schirmer => [1.0, 0.81, 0.81 * -0.19 / 2.0, 0.81 * -0.19 * -1.19 / 6.0],
            VapourInAir::PerTemperature => [1.0, -1.0, 1.0, -1.0],
            VapourInAir::Constant(_) => [1.0, 0.0, 0.0, 0.0],
        };
        series.map(|term| term * at_20)
    }
}

/// The functions of a material, to be turned into tables.
pub struct MaterialFunctions {
    /// Name used in errors.
    pub name: String,
    /// Water content w(p_c), kg/m³, of suction in Pa; must fall as suction grows.
    pub water: Function,
    /// Conduction of liquid.
    pub liquid: Liquid,
    /// Vapour permeability as a share of still air's, by water content in kg/m³ (for example (1 − w/w_sat)/μ).
    pub vapour_factor: Function,
    /// Vapour permeability of still air.
    pub vapour_in_air: VapourInAir,
    /// Heat conductivity λ(w), W/(m K).
    pub heat_conductivity: Function,
    /// Heat capacity dry, J/(m³ K).
    pub dry_heat_j_m3k: f64,
}

/// Greatest relative error of the tables against the functions, over all points at which the function exceeds 1e-6 of its greatest value.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TableError {
    /// Of the water content.
    pub water: f64,
    /// Of the flux potential of liquid.
    pub potential: f64,
    /// Of the vapour permeability.
    pub vapour: f64,
    /// Of the heat conductivity.
    pub heat_conductivity: f64,
}

/// One segment: values at its wet end and slopes per unit of y. One line of cache.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(align(64))]
pub(crate) struct Segment {
    pub(crate) water: f64,
    pub(crate) water_slope: f64,
    pub(crate) potential: f64,
    pub(crate) potential_slope: f64,
    pub(crate) factor: f64,
    pub(crate) factor_slope: f64,
    pub(crate) suction: f64,
}

/// A material as the kernel reads it: one table, or of a coat that hardens one for each stage, one behind the other.
#[derive(Clone, Debug)]
pub struct MaterialTables {
    name: String,
    pub(crate) segments: Vec<Segment>,
    pub(crate) heat_conductivity: Vec<[f64; 2]>,
    pub(crate) vapour_in_air: [f64; 4],
    dry_heat_j_m3k: f64,
    set: Option<SetLaw>,
    error: TableError,
}

impl MaterialTables {
    /// Tabulates a material.
    ///
    /// # Errors
    /// A function that is not finite, negative where it may not be, or a water content that grows with suction.
    pub fn new(functions: &MaterialFunctions) -> Result<Self, CuringError> {
        let fault =
            |fault: String, remedy: &str| CuringError::Material { material: functions.name.clone(), fault, remedy: remedy.to_owned() };
        if !(functions.dry_heat_j_m3k.is_finite() && functions.dry_heat_j_m3k > 0.0) {
            let found = format!("its dry heat capacity is {} J/(m³ K)", functions.dry_heat_j_m3k);
            return Err(fault(found, "Give density times specific heat, above zero."));
        }
        let nodes = sample(functions).map_err(|text| fault(text, "Correct the function or its constants."))?;
        let span = 1.0 / SEGMENTS_PER_UNIT;
        let segments: Vec<Segment> = nodes
            .windows(2)
            .map(|pair| Segment {
                water: pair[0].water,
                water_slope: (pair[1].water - pair[0].water) / span,
                potential: pair[0].potential,
                potential_slope: (pair[1].potential - pair[0].potential) / span,
                factor: pair[0].factor,
                factor_slope: (pair[1].factor - pair[0].factor) / span,
                suction: pair[0].suction,
            })
            .collect();
        let heat_conductivity =
            nodes.windows(2).map(|pair| [pair[0].conductivity, (pair[1].conductivity - pair[0].conductivity) / span]).collect();
        let error = table_error(functions, &nodes);
        Ok(Self {
            name: functions.name.clone(),
            segments,
            heat_conductivity,
            vapour_in_air: functions.vapour_in_air.cubic(),
            dry_heat_j_m3k: functions.dry_heat_j_m3k,
            set: None,
            error,
        })
    }

    /// Tables of a catalogue material: van Genuchten retention, D = 3.8 (A/w_sat)² 1000^(w/w_sat − 1) (Künzel 1995), vapour (1 − w/w_sat)/μ in
    /// air after Schirmer, conductivity rising with water.
    ///
    /// # Errors
    /// Properties outside their ranges.
    pub fn from_moisture(moisture: &Moisture) -> Result<Self, CuringError> {
        Self::new(&functions_of_moisture(moisture)?)
    }

    /// The same material, which sets under water.
    #[must_use]
    pub fn setting(self, law: Option<SetLaw>) -> Self {
        Self { set: law, ..self }
    }

    /// How it sets under water, if it does.
    pub fn set(&self) -> Option<&SetLaw> {
        self.set.as_ref()
    }

    /// The name given.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How far the tables lie from the functions.
    pub fn error(&self) -> TableError {
        self.error
    }

    /// Water at saturation, kg/m³; of a coat that hardens, when fresh.
    pub fn saturation_kg_m3(&self) -> f64 {
        self.pores(0).saturation_kg_m3()
    }

    /// Heat capacity dry, J/(m³ K).
    pub fn dry_heat_j_m3k(&self) -> f64 {
        self.dry_heat_j_m3k
    }

    /// Water held at a suction, kg/m³, as tabulated; of a coat that hardens, when fresh.
    pub fn water_kg_m3(&self, suction_pa: f64) -> f64 {
        self.pores(0).water_kg_m3(ln(suction_pa.max(1.0)))
    }

    /// Suction at which so much water is held, Pa: the inverse of [`Self::water_kg_m3`], clamped to the table.
    pub fn suction_pa(&self, water_kg_m3: f64) -> f64 {
        self.pores(0).suction_pa(water_kg_m3)
    }

    /// Flux potential of liquid at a suction, kg/(m s); of a coat that hardens, when fresh.
    pub fn potential_kg_ms(&self, suction_pa: f64) -> f64 {
        self.pores(0).potential_kg_ms(ln(suction_pa.max(1.0)))
    }
}

/// Added to a number below 2⁵¹ it leaves the nearest whole number in the low bits of the sum: no conversion from float to integer, which machines do
/// differently out of range.
pub(crate) const WHOLE: f64 = 6_755_399_441_055_744.0;

/// Segment number and offset within it for a value of y, clamped to the table.
#[inline(always)]
pub(crate) fn place(y: f64) -> (usize, f64) {
    let least = if y > LEAST_LN_SUCTION { y } else { LEAST_LN_SUCTION };
    let within = if least < GREATEST_LN_SUCTION - 1e-4 { least } else { GREATEST_LN_SUCTION - 1e-4 };
    let scaled = (within - LEAST_LN_SUCTION) * SEGMENTS_PER_UNIT;
    let shifted = (scaled - 0.499_999_9) + WHOLE;
    let index = shifted - WHOLE;
    ((shifted.to_bits() & 0xFFFF_FFFF) as usize, (scaled - index) * (1.0 / SEGMENTS_PER_UNIT))
}

/// Values at one node of the table.
struct Node {
    suction: f64,
    water: f64,
    potential: f64,
    factor: f64,
    conductivity: f64,
}

/// Nodes of the table in y.
fn grid() -> impl DoubleEndedIterator<Item = f64> {
    let count = ((GREATEST_LN_SUCTION - LEAST_LN_SUCTION) * SEGMENTS_PER_UNIT) as i32;
    (0..=count).map(|index| LEAST_LN_SUCTION + f64::from(index) / SEGMENTS_PER_UNIT)
}

/// Evaluates the functions at every node, wet end first, integrating the potential from the dry end.
fn sample(functions: &MaterialFunctions) -> Result<Vec<Node>, String> {
    let mut nodes: Vec<Node> = Vec::new();
    let saturation = (functions.water)(exp(LEAST_LN_SUCTION));
    let mut potential = 0.0;
    for y in grid().rev() {
        let suction = exp(y);
        let bare = (functions.water)(suction);
        check("water content", bare, suction)?;
        if let Some(drier) = nodes.last() {
            potential += potential_between(functions, y, y + 1.0 / SEGMENTS_PER_UNIT);
            if bare < (functions.water)(drier.suction) * (1.0 - 1e-12) {
                return Err(format!("its water content grows with suction near {suction:.3e} Pa"));
            }
        }
        let tilt = TILT * saturation * (GREATEST_LN_SUCTION - y) / (GREATEST_LN_SUCTION - LEAST_LN_SUCTION);
        let factor = (functions.vapour_factor)(bare);
        let conductivity = (functions.heat_conductivity)(bare);
        check("flux potential of liquid", potential, suction)?;
        check("vapour permeability", factor, suction)?;
        check("heat conductivity", conductivity, suction)?;
        if conductivity == 0.0 {
            return Err(format!("its heat conductivity is zero at {suction:.3e} Pa"));
        }
        nodes.push(Node { suction, water: bare + tilt, potential, factor, conductivity });
    }
    nodes.reverse();
    Ok(nodes)
}

/// A value that must be finite and not negative.
fn check(what: &str, value: f64, suction_pa: f64) -> Result<(), String> {
    if value.is_finite() && value >= 0.0 { Ok(()) } else { Err(format!("its {what} is {value} at a suction of {suction_pa:.3e} Pa")) }
}

/// Flux potential between two values of y by Gauss–Legendre quadrature with five points.
fn potential_between(functions: &MaterialFunctions, wet: f64, dry: f64) -> f64 {
    match &functions.liquid {
        Liquid::None => 0.0,
        Liquid::Conductivity(conductivity) => gauss(wet, dry, |y| {
            let suction = exp(y);
            conductivity(suction) * suction
        }),
        Liquid::Diffusivity(diffusivity) => gauss((functions.water)(exp(dry)), (functions.water)(exp(wet)), diffusivity),
    }
}

/// ∫ f from a to b.
fn gauss(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    const POINTS: [(f64, f64); 5] = [
        (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
        (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    ];
    let (middle, half) = (0.5 * (a + b), 0.5 * (b - a));
    half * POINTS.iter().map(|(x, weight)| weight * f(middle + half * x)).sum::<f64>()
}

/// Largest relative error at the middle of each segment, where a linear table errs most.
fn table_error(functions: &MaterialFunctions, nodes: &[Node]) -> TableError {
    let mut error = TableError::default();
    let (Some(wettest), Some(driest)) = (nodes.first(), nodes.last()) else { return error };
    let greatest_factor = wettest.factor.max(driest.factor);
    for (pair, y) in nodes.windows(2).zip(grid()) {
        let middle = y + 0.5 / SEGMENTS_PER_UNIT;
        let water = (functions.water)(exp(middle));
        let potential = pair[1].potential + potential_between(functions, middle, middle + 0.5 / SEGMENTS_PER_UNIT);
        let worse = |old: f64, low: f64, high: f64, truth: f64, greatest: f64| {
            if truth > 1e-6 * greatest { old.max((0.5 * (low + high) - truth).abs() / truth) } else { old }
        };
        error.water = worse(error.water, pair[0].water, pair[1].water, water, wettest.water);
        error.potential = worse(error.potential, pair[0].potential, pair[1].potential, potential, wettest.potential);
        error.vapour = worse(error.vapour, pair[0].factor, pair[1].factor, (functions.vapour_factor)(water), greatest_factor);
        let conductivity = (functions.heat_conductivity)(water);
        error.heat_conductivity =
            worse(error.heat_conductivity, pair[0].conductivity, pair[1].conductivity, conductivity, wettest.conductivity);
    }
    error
}

/// The closed forms of a catalogue material.
fn functions_of_moisture(moisture: &Moisture) -> Result<MaterialFunctions, CuringError> {
    let limits = [
        ("dry density, kg/m³,", moisture.density_kg_m3, 10.0, 10_000.0),
        ("open porosity", moisture.porosity, 1e-4, 0.99),
        ("water at saturation, kg/m³,", moisture.saturation_kg_m3, 0.1, 990.0),
        ("retention coefficient a, 1/Pa,", moisture.retention_a_per_pa, 1e-9, 1.0),
        ("retention exponent n", moisture.retention_n, 1.01, 4.0),
        ("water absorption coefficient, kg/(m² s^½),", moisture.absorption_kg_m2_s05, 0.0, 5.0),
        ("vapour resistance factor", moisture.vapour_resistance, 1.0, 1e6),
        ("dry heat conductivity, W/(m K),", moisture.conductivity_w_mk, 1e-3, 50.0),
        ("rise of conductivity with water", moisture.conductivity_per_water, 0.0, 1.0),
        ("specific heat, J/(kg K),", moisture.heat_j_kgk, 100.0, 5000.0),
    ];
    for (what, found, low, high) in limits {
        if !(found >= low && found <= high) {
            return Err(CuringError::Material {
                material: "of the catalogue".to_owned(),
                fault: format!("its {what} is {found}, outside {low} to {high}"),
                remedy: "Correct the catalogue entry.".to_owned(),
            });
        }
    }
    let Moisture { saturation_kg_m3, retention_a_per_pa, retention_n, vapour_resistance, .. } = *moisture;
    let (dry, per_water) = (moisture.conductivity_w_mk, moisture.conductivity_per_water);
    let ratio = moisture.absorption_kg_m2_s05 / saturation_kg_m3;
    Ok(MaterialFunctions {
        name: "of the catalogue".to_owned(),
        water: Box::new(move |suction| {
            saturation_kg_m3 * pow(1.0 + pow(retention_a_per_pa * suction, retention_n), 1.0 / retention_n - 1.0)
        }),
        liquid: Liquid::Diffusivity(Box::new(move |water| 3.8 * ratio * ratio * pow(1000.0, water / saturation_kg_m3 - 1.0))),
        vapour_factor: Box::new(move |water| (1.0 - water / saturation_kg_m3).max(0.0) / vapour_resistance),
        vapour_in_air: VapourInAir::Schirmer,
        heat_conductivity: Box::new(move |water| dry + per_water * water),
        dry_heat_j_m3k: moisture.density_kg_m3 * moisture.heat_j_kgk,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    fn sandstone() -> Moisture {
        Moisture {
            density_kg_m3: 2050.0,
            porosity: 0.15,
            saturation_kg_m3: 150.0,
            retention_a_per_pa: 2e-5,
            retention_n: 1.6,
            absorption_kg_m2_s05: 0.08,
            vapour_resistance: 22.0,
            conductivity_w_mk: 2.0,
            conductivity_per_water: 0.004,
            heat_j_kgk: 850.0,
        }
    }

    #[test]
    fn the_tables_are_close_to_their_functions() {
        let error = MaterialTables::from_moisture(&sandstone()).unwrap().error();
        assert!(error.water < 1e-3 && error.potential < 1e-3 && error.vapour < 1e-3 && error.heat_conductivity < 1e-3, "{error:?}");
    }

    /// Künzel's form integrates in closed form: Φ(w) = 3.8 (A/w_sat)² w_sat (1000^(w/w_sat − 1))/ln 1000. Exact solution.
    #[test]
    fn the_flux_potential_is_the_integral_of_diffusivity() {
        let tables = MaterialTables::from_moisture(&sandstone()).unwrap();
        let potential =
            |water: f64| 3.8 * (0.08 / 150.0) * (0.08 / 150.0) * 150.0 * libm::pow(1000.0, water / 150.0 - 1.0) / libm::log(1000.0);
        let driest = tables.water_kg_m3(exp(GREATEST_LN_SUCTION));
        let exact = potential(150.0) - potential(driest);
        assert!((tables.potential_kg_ms(1.0) / exact - 1.0).abs() < 1e-6);
    }

    #[test]
    fn suction_and_water_are_inverse() {
        let tables = MaterialTables::from_moisture(&sandstone()).unwrap();
        for water in [0.1, 0.3, 2.0, 22.5, 90.0, 140.0, 149.9] {
            assert!((tables.water_kg_m3(tables.suction_pa(water)) / water - 1.0).abs() < 1e-9, "{water}");
        }
    }

    #[test]
    fn kelvin_matches_the_published_pressures() {
        // Kelvin relation at 20 °C; computed here from ρ_w R_v T: 93.77 MPa at 0.5 and 14.25 MPa at 0.9 are textbook values.
        assert!((suction_of_humidity_pa(0.5, 293.15) / 93.77e6 - 1.0).abs() < 1e-3);
        assert!((suction_of_humidity_pa(0.9, 293.15) / 14.25e6 - 1.0).abs() < 1e-3);
        assert!((humidity_of_suction(suction_of_humidity_pa(0.37, 281.0), 281.0) - 0.37).abs() < 1e-14);
    }

    #[test]
    fn air_permeability_follows_its_laws() {
        for (law, truth) in [
            (VapourInAir::Schirmer, (|t| physics::air::vapour_permeability_s(t, 101_325.0)) as fn(f64) -> f64),
            (VapourInAir::PerTemperature, physics::air::vapour_permeability_en15026_s),
        ] {
            let [c0, c1, c2, c3] = law.cubic();
            for t in [263.15, 273.15, 293.15, 323.15] {
                let x = t / 293.15 - 1.0;
                let cubic = c0 + x * (c1 + x * (c2 + x * c3));
                assert!((cubic / truth(t) - 1.0).abs() < 1.2e-4, "{law:?} {t}");
            }
        }
    }

    #[test]
    fn the_place_in_the_table_is_found_without_conversion() {
        for (y, index) in [(-5.0, 0), (0.0, 0), (0.03, 0), (0.032, 1), (11.999, 383), (12.0, 384), (40.0, 767)] {
            let (found, offset) = place(y);
            assert_eq!(found, index, "{y}");
            assert!((-1e-6..=1.0 / SEGMENTS_PER_UNIT + 1e-6).contains(&offset));
        }
    }

    #[test]
    fn impossible_properties_are_refused() {
        let mut bad = sandstone();
        bad.retention_n = 0.9;
        assert!(matches!(MaterialTables::from_moisture(&bad), Err(CuringError::Material { .. })));
        let mut growing = functions_of_moisture(&sandstone()).unwrap();
        growing.water = Box::new(|suction| suction * 1e-9);
        assert!(matches!(MaterialTables::new(&growing), Err(CuringError::Material { .. })));
    }
}
