//! The blend of two to six sands nearest to a wished curve, within limits: least squares under constraints, solved by an interior-point library.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus, SupportedConeT, ZeroConeT};
use reckoning::{Finding, Grade};
use serde::Serialize;

use super::error::Checks;
use super::grading::SieveRow;
use super::{BenchError, Grading, PRACTICE, finding};

/// A blend further than this from its target at any sieve is called a miss, share of mass.
const MISS: f64 = 0.05;

/// A sand to blend.
#[derive(Clone, Debug, PartialEq)]
pub struct BlendSand {
    /// Name shown.
    pub name: String,
    /// Its curve.
    pub grading: Grading,
    /// Loose dry bulk density, kg/m³.
    pub loose_kg_m3: f64,
    /// Density of its grains, kg/m³.
    pub particle_kg_m3: f64,
    /// Least and most mass share in the blend, 0 to 1.
    pub share: (f64, f64),
}

/// What the blend should pass at one sieve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TargetPoint {
    /// Opening of the sieve, mm.
    pub opening_mm: f64,
    /// Mass share wished to pass, 0 to 1.
    pub passing: f64,
    /// Least and most that may pass; 0 and 1 for no limit.
    pub limits: (f64, f64),
}

/// The nearest blend.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Blend {
    /// Mass share of each sand, in their order; sums to 1.
    pub shares: Vec<f64>,
    /// Volume share of each, loose and dry: what gauge boxes measure.
    pub volume_shares: Vec<f64>,
    /// Curve of the blend at the target's sieves.
    pub grading: Grading,
    /// Root of the mean squared distance from the target, share of mass.
    pub distance: f64,
    /// Largest distance from the target, share of mass: positive where too much passes.
    pub worst: f64,
    /// Where it lies, mm.
    pub worst_mm: f64,
    /// Least and most voids the dry blend can have: grains that fill each other's gaps perfectly, and not at all. A void test says where it lies.
    pub voids: (f64, f64),
    /// What to think of it.
    pub findings: Vec<Finding>,
}

/// The mass shares nearest to the target: least squares over its sieves, shares within their limits and summing to one, passing within its limits.
///
/// # Errors
/// All faults of the input; sands whose sieves do not reach a sieve of the target; limits that no blend keeps, with the nearest blend in words.
pub fn blend(sands: &[BlendSand], target: &[TargetPoint]) -> Result<Blend, Vec<BenchError>> {
    check(sands, target)?;
    let passing = table(sands, target)?;
    let shares = match solve(sands, target, &passing, true) {
        Ok(shares) => shares,
        Err(SolverStatus::PrimalInfeasible | SolverStatus::AlmostPrimalInfeasible) => {
            let nearest = nearest(sands, target, &passing);
            return Err(vec![BenchError::BlendImpossible { nearest }]);
        }
        Err(status) => return Err(vec![BenchError::Solver { status: format!("{status:?}") }]),
    };
    Ok(describe(sands, target, &passing, shares))
}

fn check(sands: &[BlendSand], target: &[TargetPoint]) -> Result<(), Vec<BenchError>> {
    let mut checks = Checks::default();
    if !(2..=6).contains(&sands.len()) {
        let remedy = "Name the sands that can be had.";
        checks.0.push(BenchError::Count { what: "Sands to blend", found: sands.len(), least: 2, most: 6, remedy });
    }
    if !(2..=40).contains(&target.len()) {
        let remedy = "Say what should pass at the sieves that matter.";
        checks.0.push(BenchError::Count { what: "Sieves of the target", found: target.len(), least: 2, most: 40, remedy });
    }
    for sand in sands {
        checks.number(format!("The loose density of {}", sand.name), sand.loose_kg_m3, 1000.0, 2200.0, " kg/m³");
        checks.number(format!("The grain density of {}", sand.name), sand.particle_kg_m3, 2000.0, 3500.0, " kg/m³");
        checks.number(format!("The least share of {}", sand.name), sand.share.0, 0.0, 1.0, "");
        checks.number(format!("The most share of {}", sand.name), sand.share.1, sand.share.0.max(0.0), 1.0, "");
        checks.number(format!("Loose over grain density of {}", sand.name), sand.loose_kg_m3 / sand.particle_kg_m3, 0.3, 0.85, "");
    }
    for point in target {
        checks.number("The opening of a sieve of the target", point.opening_mm, 0.01, 125.0, " mm");
        checks.number(format!("What should pass {} mm", point.opening_mm), point.passing, 0.0, 1.0, "");
        checks.number(format!("The least that may pass {} mm", point.opening_mm), point.limits.0, 0.0, 1.0, "");
        checks.number(format!("The most that may pass {} mm", point.opening_mm), point.limits.1, point.limits.0.max(0.0), 1.0, "");
    }
    checks.done()
}

/// What each sand (column) passes at each sieve of the target (row).
fn table(sands: &[BlendSand], target: &[TargetPoint]) -> Result<Vec<Vec<f64>>, Vec<BenchError>> {
    let mut checks = Checks::default();
    let mut rows = Vec::new();
    for point in target {
        let mut row = Vec::new();
        for sand in sands {
            match sand.grading.passing(point.opening_mm) {
                Some(passing) => row.push(passing),
                None => checks.contradiction(
                    format!("The sieves of {} do not say what passes {} mm, which the target asks for.", sand.name, point.opening_mm),
                    "Sieve it on that size too, or take the size out of the target.",
                ),
            }
        }
        rows.push(row);
    }
    checks.done().map(|()| rows)
}

/// Solves the least squares; without `limits` only the shares' own limits hold.
fn solve(sands: &[BlendSand], target: &[TargetPoint], passing: &[Vec<f64>], limits: bool) -> Result<Vec<f64>, SolverStatus> {
    let count = sands.len();
    let product = |a: usize, b: usize| passing.iter().map(|row| row[a] * row[b]).sum::<f64>();
    let hessian: Vec<Vec<f64>> = (0..count).map(|a| (0..count).map(|b| 2.0 * product(a, b)).collect()).collect();
    let linear: Vec<f64> =
        (0..count).map(|a| -2.0 * passing.iter().zip(target).map(|(row, point)| row[a] * point.passing).sum::<f64>()).collect();
    let mut rows = vec![vec![1.0; count]];
    let mut bounds = vec![1.0];
    for (index, sand) in sands.iter().enumerate() {
        let unit = |sign: f64| (0..count).map(|at| if at == index { sign } else { 0.0 }).collect::<Vec<f64>>();
        rows.extend([unit(1.0), unit(-1.0)]);
        bounds.extend([sand.share.1, -sand.share.0]);
    }
    for (row, point) in passing.iter().zip(target).filter(|_| limits) {
        rows.extend([row.clone(), row.iter().map(|value| -value).collect()]);
        bounds.extend([point.limits.1, -point.limits.0]);
    }
    let cones: [SupportedConeT<f64>; 2] = [ZeroConeT(1), NonnegativeConeT(rows.len() - 1)];
    let settings = DefaultSettingsBuilder::default()
        .verbose(false)
        .tol_gap_abs(1e-12)
        .tol_gap_rel(1e-12)
        .tol_feas(1e-11)
        .build()
        .map_err(|_| SolverStatus::Unsolved)?;
    let (hessian, rows) = (columns(&hessian).to_triu(), columns(&rows));
    let mut solver = DefaultSolver::new(&hessian, &linear, &rows, &bounds, &cones, settings).map_err(|_| SolverStatus::Unsolved)?;
    solver.solve();
    match solver.solution.status {
        SolverStatus::Solved | SolverStatus::AlmostSolved => Ok(cleaned(&solver.solution.x, sands)),
        status => Err(status),
    }
}

/// Rows as the solver stores them.
fn columns(rows: &[Vec<f64>]) -> CscMatrix<f64> {
    let (height, width) = (rows.len(), rows.first().map_or(0, Vec::len));
    let (mut starts, mut at, mut values) = (vec![0], Vec::new(), Vec::new());
    for column in 0..width {
        for (index, row) in rows.iter().enumerate().filter(|(_, row)| row[column] != 0.0) {
            at.push(index);
            values.push(row[column]);
        }
        starts.push(at.len());
    }
    CscMatrix::new(height, width, starts, at, values)
}

/// Shares within their limits that sum to one exactly as far as floats can: the solver leaves a billionth.
fn cleaned(shares: &[f64], sands: &[BlendSand]) -> Vec<f64> {
    let kept: Vec<f64> = shares.iter().zip(sands).map(|(share, sand)| share.clamp(sand.share.0, sand.share.1)).collect();
    let sum: f64 = kept.iter().sum();
    kept.iter().map(|share| share / sum).collect()
}

fn mixed(passing: &[Vec<f64>], shares: &[f64]) -> Vec<f64> {
    passing.iter().map(|row| row.iter().zip(shares).map(|(value, share)| value * share).sum()).collect()
}

/// Says what the nearest blend without limits at the sieves is, and where it breaks them.
fn nearest(sands: &[BlendSand], target: &[TargetPoint], passing: &[Vec<f64>]) -> String {
    let Ok(shares) = solve(sands, target, passing, false) else {
        let (least, most) = (sands.iter().map(|s| s.share.0).sum::<f64>(), sands.iter().map(|s| s.share.1).sum::<f64>());
        return format!(
            "The limits of the sands themselves cannot make a whole: the least sum to {:.0} %, the most to {:.0} %.",
            100.0 * least,
            100.0 * most
        );
    };
    let parts: Vec<String> = sands.iter().zip(&shares).map(|(sand, share)| format!("{:.0} % {}", 100.0 * share, sand.name)).collect();
    let broken: Vec<String> = mixed(passing, &shares)
        .iter()
        .zip(target)
        .filter(|(value, point)| **value < point.limits.0 - 1e-6 || **value > point.limits.1 + 1e-6)
        .map(|(value, point)| {
            let (least, most) = (100.0 * point.limits.0, 100.0 * point.limits.1);
            format!("passes {:.0} % at {} mm where {least:.0} to {most:.0} % is allowed", 100.0 * value, point.opening_mm)
        })
        .collect();
    format!("The nearest without those limits is {}; it {}.", parts.join(", "), broken.join(", and "))
}

fn describe(sands: &[BlendSand], target: &[TargetPoint], passing: &[Vec<f64>], shares: Vec<f64>) -> Blend {
    let curve = mixed(passing, &shares);
    let off: Vec<f64> = curve.iter().zip(target).map(|(value, point)| value - point.passing).collect();
    let distance = (off.iter().map(|value| value * value).sum::<f64>() / off.len() as f64).sqrt();
    let at = (0..off.len()).fold(0, |worst, at| if off[at].abs() > off[worst].abs() { at } else { worst });
    let volumes: Vec<f64> = shares.iter().zip(sands).map(|(share, sand)| share / sand.loose_kg_m3).collect();
    let whole: f64 = volumes.iter().sum();
    let mut rows: Vec<SieveRow> =
        target.iter().zip(&curve).map(|(point, value)| SieveRow { opening_mm: point.opening_mm, passing: *value }).collect();
    rows.sort_by(|a, b| b.opening_mm.total_cmp(&a.opening_mm));
    let (worst, worst_mm) = (off[at], target[at].opening_mm);
    Blend {
        volume_shares: volumes.iter().map(|volume| volume / whole).collect(),
        grading: Grading::from_rows(rows),
        distance,
        worst,
        worst_mm,
        voids: voids(sands, &shares),
        findings: vec![judged(worst, worst_mm)],
        shares,
    }
}

fn judged(worst: f64, worst_mm: f64) -> Finding {
    let (reason, source) = ("A blend can only be as good as the sands in it.", PRACTICE);
    let points = 100.0 * worst.abs();
    if worst.abs() <= MISS {
        let says = format!("The blend keeps within {points:.1} points of the target, furthest at {worst_mm} mm.");
        return finding(Grade::Agrees, "blend-target", says, reason, source, "");
    }
    let (word, lack) = if worst > 0.0 { ("too much", "coarser") } else { ("too little", "finer") };
    let says = format!("The target cannot be reached with these sands: {word} passes {worst_mm} mm, by {points:.0} points.");
    finding(Grade::Think, "blend-target", says, reason, source, format!("Bring a sand that has more grains {lack} than {worst_mm} mm."))
}

/// Least and most voids of the dry blend. Most: sands lie side by side. Least: finer grains fill coarser gaps and disturb nothing (Furnas, Industrial
/// and Engineering Chemistry 23 (1931) 1052, for grains far apart in size), sands ordered by the size half lies below.
fn voids(sands: &[BlendSand], shares: &[f64]) -> (f64, f64) {
    let solid: Vec<f64> = shares.iter().zip(sands).map(|(share, sand)| share / sand.particle_kg_m3).collect();
    let whole: f64 = solid.iter().sum();
    let loose: f64 = shares.iter().zip(sands).map(|(share, sand)| share / sand.loose_kg_m3).sum();
    let size = |sand: &BlendSand| sand.grading.size_mm(0.5).unwrap_or(f64::INFINITY);
    let mut packed = f64::INFINITY;
    for (sand, own) in sands.iter().zip(&solid).filter(|(_, own)| **own > 0.0) {
        let close = sand.loose_kg_m3 / sand.particle_kg_m3;
        let of = |coarser: bool| -> f64 {
            sands
                .iter()
                .zip(&solid)
                .filter(|(other, _)| if coarser { size(other) > size(sand) } else { size(other) < size(sand) })
                .map(|(_, part)| part / whole)
                .sum()
        };
        // Coarser grains take their own solid volume out of this sand's bulk; finer ones sit in its gaps.
        let alike = (1.0 - of(true) - of(false) - own / whole).max(0.0);
        let bulk = (own / whole + alike) / close + of(true);
        packed = packed.min(1.0 / bulk);
    }
    let most = 1.0 - whole / loose;
    ((1.0 - packed).min(most).max(0.0), most)
}
