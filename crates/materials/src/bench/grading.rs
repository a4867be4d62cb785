//! A sand by its sieves: the curve of what passes, its fineness modulus, the sizes below which given shares lie, and its fines.

use physics::numbers::{ln, pow};
use serde::Serialize;

use super::BenchError;
use super::error::Checks;

/// Most sieves in one set.
const MOST_SIEVES: usize = 40;
/// What the masses may be apart, share of the mass sieved: EN 933-1, from memory.
const ALLOWED_LOSS: f64 = 0.01;
/// Sieves of the fineness modulus, mm: EN 12620 and EN 13139, from memory.
const EN_SIEVES: [f64; 6] = [4.0, 2.0, 1.0, 0.5, 0.25, 0.125];
/// Sieves of the older fineness modulus, mm: ASTM C125 and BS 882.
const INCH_SIEVES: [f64; 6] = [4.75, 2.36, 1.18, 0.6, 0.3, 0.15];

/// What stayed on one sieve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SievedMass {
    /// Opening of the sieve, mm.
    pub opening_mm: f64,
    /// Mass that stayed on it, g.
    pub retained_g: f64,
}

/// One point of the curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SieveRow {
    /// Opening of the sieve, mm.
    pub opening_mm: f64,
    /// Mass share that passes it, 0 to 1.
    pub passing: f64,
}

/// A fineness modulus and the sieves it stands on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FinenessModulus {
    /// The modulus.
    pub value: f64,
    /// True for 4, 2, 1, 0.5, 0.25 and 0.125 mm, false for 4.75 to 0.15 mm.
    pub metric_sieves: bool,
    /// True if a sieve of the series was read off between two neighbours.
    pub interpolated: bool,
}

/// The curve of a sand, coarsest sieve first.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Grading {
    rows: Vec<SieveRow>,
}

impl Grading {
    /// From what passes each sieve, per cent, in any order of sieves and any series.
    ///
    /// # Errors
    /// All faults: fewer than three or more than forty sieves, an opening outside 0.01 to 125 mm or given twice, a share outside 0 to 100, a
    /// share that rises towards finer sieves.
    pub fn from_passing(percent: &[(f64, f64)]) -> Result<Self, Vec<BenchError>> {
        let mut checks = Checks::default();
        check_sieves(&mut checks, percent.iter().map(|row| row.0), percent.len());
        for (opening, passing) in percent {
            checks.number(format!("What passes {opening} mm"), *passing, 0.0, 100.0, " %");
        }
        let mut rows: Vec<SieveRow> =
            percent.iter().map(|(opening_mm, passing)| SieveRow { opening_mm: *opening_mm, passing: passing / 100.0 }).collect();
        rows.sort_by(|a, b| b.opening_mm.total_cmp(&a.opening_mm));
        for pair in rows.windows(2) {
            if pair[1].opening_mm == pair[0].opening_mm {
                checks.0.push(BenchError::SieveTwice { opening_mm: pair[0].opening_mm });
            } else if pair[1].passing > pair[0].passing {
                checks.0.push(BenchError::PassingRises {
                    finer_mm: pair[1].opening_mm,
                    finer_percent: 100.0 * pair[1].passing,
                    coarser_mm: pair[0].opening_mm,
                    coarser_percent: 100.0 * pair[0].passing,
                });
            }
        }
        checks.done().map(|()| Self { rows })
    }

    /// From what stayed on each sieve, in the pan, and was washed out before, g; shares are of all that was found.
    ///
    /// # Errors
    /// As [`Self::from_passing`]; a negative mass; masses more than 1 % apart from the mass that went in (EN 933-1).
    pub fn from_retained(started_g: f64, sieves: &[SievedMass], pan_g: f64, washed_g: f64) -> Result<Self, Vec<BenchError>> {
        let mut checks = Checks::default();
        checks.number("The dry mass that went in", started_g, 1.0, 1e6, " g");
        checks.number("The mass in the pan", pan_g, 0.0, 1e6, " g");
        checks.number("The mass washed out", washed_g, 0.0, 1e6, " g");
        for sieve in sieves {
            checks.number(format!("The mass on {} mm", sieve.opening_mm), sieve.retained_g, 0.0, 1e6, " g");
        }
        check_sieves(&mut checks, sieves.iter().map(|sieve| sieve.opening_mm), sieves.len());
        checks.done()?;
        let found_g = pan_g + washed_g + sieves.iter().map(|sieve| sieve.retained_g).sum::<f64>();
        let off = (found_g - started_g).abs() / started_g;
        if off > ALLOWED_LOSS {
            return Err(vec![BenchError::SievesDoNotAddUp { found_g, started_g, off: 100.0 * off }]);
        }
        let mut sorted = sieves.to_vec();
        sorted.sort_by(|a, b| b.opening_mm.total_cmp(&a.opening_mm));
        let mut retained = 0.0;
        let passing: Vec<(f64, f64)> = sorted
            .iter()
            .map(|sieve| {
                retained += sieve.retained_g;
                (sieve.opening_mm, (100.0 * (1.0 - retained / found_g)).clamp(0.0, 100.0))
            })
            .collect();
        Self::from_passing(&passing)
    }

    /// From rows known to be sound: shares of gradings mixed.
    pub(super) fn from_rows(rows: Vec<SieveRow>) -> Self {
        Self { rows }
    }

    /// The points, coarsest sieve first.
    pub fn rows(&self) -> &[SieveRow] {
        &self.rows
    }

    /// Mass share that passes an opening, 0 to 1, straight between neighbours over the logarithm of the opening; `None` outside the sieves unless the
    /// coarsest passes all.
    pub fn passing(&self, opening_mm: f64) -> Option<f64> {
        let first = self.rows.first()?;
        if opening_mm >= first.opening_mm {
            return (first.passing >= 1.0 || opening_mm == first.opening_mm).then_some(first.passing);
        }
        self.rows.windows(2).find(|pair| opening_mm >= pair[1].opening_mm).map(|pair| {
            let (coarse, fine) = (pair[0], pair[1]);
            let share = ln(opening_mm / fine.opening_mm) / ln(coarse.opening_mm / fine.opening_mm);
            fine.passing + share * (coarse.passing - fine.passing)
        })
    }

    /// Size below which a mass share lies, mm, straight over the logarithm of the size; `None` if the share lies beyond the sieves.
    pub fn size_mm(&self, share: f64) -> Option<f64> {
        self.rows.windows(2).find(|pair| pair[1].passing <= share && share <= pair[0].passing).map(|pair| {
            let (coarse, fine) = (pair[0], pair[1]);
            if coarse.passing == fine.passing {
                return fine.opening_mm;
            }
            let along = (share - fine.passing) / (coarse.passing - fine.passing);
            fine.opening_mm * pow(coarse.opening_mm / fine.opening_mm, along)
        })
    }

    /// Fineness modulus: what stays on six sieves, summed, over 100 (EN 12620); on 4.75 to 0.15 mm if those were used (ASTM C125). `None` if the
    /// sieves do not reach 0.15 mm.
    pub fn fineness_modulus(&self) -> Option<FinenessModulus> {
        let holds = |series: &[f64; 6]| series.iter().filter(|opening| self.rows.iter().any(|row| row.opening_mm == **opening)).count();
        let metric_sieves = holds(&EN_SIEVES) >= holds(&INCH_SIEVES);
        let series = if metric_sieves { &EN_SIEVES } else { &INCH_SIEVES };
        let passing: Option<Vec<f64>> = series.iter().map(|opening| self.passing(*opening)).collect();
        let value = passing?.iter().map(|passing| 1.0 - passing).sum();
        let used = series.iter().filter(|opening| **opening <= self.rows[0].opening_mm).count();
        Some(FinenessModulus { value, metric_sieves, interpolated: holds(series) < used })
    }

    /// Uniformity D60/D10; `None` if the sieves do not reach D10.
    pub fn uniformity(&self) -> Option<f64> {
        Some(self.size_mm(0.6)? / self.size_mm(0.1)?)
    }

    /// Curvature D30²/(D10·D60); `None` if the sieves do not reach D10.
    pub fn curvature(&self) -> Option<f64> {
        let d30 = self.size_mm(0.3)?;
        Some(d30 * d30 / (self.size_mm(0.1)? * self.size_mm(0.6)?))
    }

    /// Fines: the finest sieve of 0.063 to 0.08 mm and what passes it; `None` if there is none.
    pub fn fines(&self) -> Option<SieveRow> {
        self.rows.iter().rev().copied().find(|row| (0.06..=0.08).contains(&row.opening_mm))
    }

    /// Largest grain by name, mm: the finest sieve that passes at least 85 % (EN 13139, D lets 85 to 99 % through, from memory); `None` if none does.
    pub fn largest_mm(&self) -> Option<f64> {
        self.rows.iter().rev().find(|row| row.passing >= 0.85).map(|row| row.opening_mm)
    }
}

fn check_sieves(checks: &mut Checks, openings: impl Iterator<Item = f64>, count: usize) {
    if !(3..=MOST_SIEVES).contains(&count) {
        let remedy = "Give the whole set, for example 4, 2, 1, 0.5, 0.25, 0.125 and 0.063 mm.";
        checks.0.push(BenchError::Count { what: "Sieves", found: count, least: 3, most: MOST_SIEVES, remedy });
    }
    for opening in openings {
        checks.number("The opening of a sieve", opening, 0.01, 125.0, " mm");
    }
}
