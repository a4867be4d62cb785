//! A random relief where nothing better than a class by eye is known, and the amplitude that ten gaps stand for. It is drawn from a named seed, so that
//! the same asking gives the same wall; it must never be shown as a measured one.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::straightened::{Ruling, straighten};
use super::{STUDENT_90, SURVEY_EDGE_M, by_eye, mean, sorted, standard_error};
use crate::EvennessClass;
use crate::straight_edge::{HeightField, Laid, transposed};

/// A random relief: heights normally distributed about a plane, alike over a correlation length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RandomRelief {
    /// Standard deviation of the heights, m.
    pub amplitude_m: f64,
    /// Distance at which the correlation exp(−d²/l²) of two heights has fallen to 1/e, m.
    pub correlation_m: f64,
    /// Seed: the same seed gives the same wall.
    pub seed: u64,
}

/// Most cells of a drawn field: a wall of 100 m by 20 m at 20 mm.
const MOST_CELLS: usize = 5_000_000;

impl RandomRelief {
    /// Draws a field of `columns` by `rows` cells of `spacing_m`, m; empty where more than five million cells are asked for.
    pub fn draw(&self, columns: usize, rows: usize, spacing_m: f64) -> HeightField {
        if columns.checked_mul(rows).is_none_or(|cells| cells > MOST_CELLS) {
            return HeightField { columns: 0, rows: 0, spacing_m, heights_m: Vec::new() };
        }
        let kernel = kernel(self.correlation_m / spacing_m);
        let wide = kernel.len() - 1;
        let mut draws = Normal { source: ChaCha8Rng::seed_from_u64(self.seed), spare: None };
        // The noise is wider than the wall by the kernel, so that its edges are as rough as its middle.
        let noise: Vec<f64> = (0..(columns + wide) * (rows + wide)).map(|_| draws.next()).collect();
        let across = filtered(&noise, columns + wide, &kernel);
        let both = transposed(&filtered(&transposed(&across, columns), rows + wide, &kernel), rows);
        HeightField { columns, rows, spacing_m, heights_m: both.iter().map(|height| self.amplitude_m * height).collect() }
    }

    /// The relief of a class by eye: correlation length as usual for the class (common practice, no source), amplitude such that the drawn field takes
    /// the class's mean depth under an edge of 1.8 m laid both ways. The fill is in proportion to the amplitude, so this is exact for the field drawn.
    pub fn of_class(class: EvennessClass, seed: u64, columns: usize, rows: usize, spacing_m: f64) -> Self {
        let correlation_m = match class {
            EvennessClass::Squared => 0.40,
            EvennessClass::Coursed => 0.30,
            EvennessClass::Rubble | EvennessClass::RoughRubble => 0.25,
        };
        let unit = Self { amplitude_m: 1.0, correlation_m, seed };
        let ruling =
            Ruling { edge_m: SURVEY_EDGE_M, laid: Laid::BothWays, least_cover_m: 0.0, pass_m: f64::INFINITY, pinning_m: f64::INFINITY };
        let fill = straighten(&unit.draw(columns, rows, spacing_m), &ruling).mean_m;
        Self { amplitude_m: if fill > 0.0 { by_eye(class).0 / fill } else { 0.0 }, ..unit }
    }
}

/// Weights whose squares add up to one, so that filtered white noise keeps its variance. Noise filtered by exp(−2d²/l²) is correlated as exp(−d²/l²).
fn kernel(length_cells: f64) -> Vec<f64> {
    let length = if length_cells.is_finite() { length_cells.clamp(0.1, 2000.0) } else { 0.1 };
    let reach = (1.6 * length).ceil() as i32;
    let weights: Vec<f64> = (-reach..=reach).map(|cell| libm::exp(-2.0 * f64::from(cell) * f64::from(cell) / (length * length))).collect();
    let norm = weights.iter().map(|weight| weight * weight).sum::<f64>().sqrt();
    weights.iter().map(|weight| weight / norm).collect()
}

/// Rows filtered by the kernel, shorter by its width.
fn filtered(values: &[f64], columns: usize, kernel: &[f64]) -> Vec<f64> {
    use rayon::prelude::*;
    let short = columns + 1 - kernel.len();
    let mut out = vec![0.0; values.len() / columns * short];
    if short > 0 {
        out.par_chunks_mut(short).zip(values.par_chunks(columns)).for_each(|(out, line)| {
            for (place, height) in out.iter_mut().enumerate() {
                *height = line[place..].iter().zip(kernel).map(|(value, weight)| value * weight).sum();
            }
        });
    }
    out
}

/// Normal deviates by Box and Muller's way.
struct Normal {
    source: ChaCha8Rng,
    spare: Option<f64>,
}

impl Normal {
    fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let mut uniform = || ((self.source.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64;
        let (radius, angle) = ((-2.0 * libm::log(uniform())).sqrt(), 2.0 * std::f64::consts::PI * uniform());
        self.spare = Some(radius * libm::sin(angle));
        radius * libm::cos(angle)
    }
}

/// What ten gaps under an edge say of a wavy wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Waves {
    /// Half the height from hollow to crest, m.
    pub amplitude_m: f64,
    /// Its honest range, m.
    pub amplitude_range_m: (f64, f64),
    /// Shortest and longest distance from crest to crest that the gaps allow, m.
    pub length_range_m: (f64, f64),
}

/// Amplitude of a wavy wall from gaps found under an edge of [`SURVEY_EDGE_M`].
///
/// On a sine wall whose crests stand no farther apart than the edge is long, the gap is twice the amplitude. The edge was laid where it found two
/// rests, so crests lie between the shortest hollow worth measuring (0.3 m) and twice its length; where they lie at twice its length, the gap is one amplitude,
/// A(1 − cos(π/2)). The range holds that and the spread of the mean of the gaps (90 %).
pub fn waves_of_gaps(gaps_m: &[f64]) -> Waves {
    let gaps = sorted(gaps_m.iter().copied().filter(|gap| gap.is_finite()));
    let mean_gap = mean(&gaps);
    let error = STUDENT_90 * standard_error(&gaps, mean_gap);
    Waves {
        amplitude_m: 0.5 * mean_gap,
        amplitude_range_m: (0.5 * (mean_gap - error).max(0.0), mean_gap + error),
        length_range_m: (0.3, 2.0 * SURVEY_EDGE_M),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn the_drawn_wall_has_the_amplitude_and_correlation_asked_for() {
        let asked = RandomRelief { amplitude_m: 0.01, correlation_m: 0.1, seed: 1893 };
        let field = asked.draw(500, 400, 0.02);
        let n = field.heights_m.len() as f64;
        let middle = field.heights_m.iter().sum::<f64>() / n;
        let variance = field.heights_m.iter().map(|h| (h - middle) * (h - middle)).sum::<f64>() / n;
        assert!((variance.sqrt() / 0.01 - 1.0).abs() < 0.05, "{}", variance.sqrt());
        // Five cells are one correlation length: 1/e is left.
        let pairs = field.heights_m.chunks(500).flat_map(|row| row.windows(6).map(|w| (w[0] - middle) * (w[5] - middle)));
        let left = pairs.sum::<f64>() / (400.0 * 495.0) / variance;
        assert!((left - (-1.0_f64).exp()).abs() < 0.03, "{left}");
    }

    #[test]
    fn one_seed_is_one_wall() {
        let asked = RandomRelief { amplitude_m: 0.01, correlation_m: 0.2, seed: 7 };
        assert_eq!(asked.draw(50, 40, 0.05), asked.draw(50, 40, 0.05));
        assert_ne!(asked.draw(50, 40, 0.05), RandomRelief { seed: 8, ..asked }.draw(50, 40, 0.05));
    }

    #[test]
    fn a_class_takes_its_mean_depth() {
        let relief = RandomRelief::of_class(EvennessClass::Rubble, 1, 120, 80, 0.05);
        let ruling = Ruling { edge_m: 1.8, laid: Laid::BothWays, least_cover_m: 0.0, pass_m: 0.015, pinning_m: 0.04 };
        let found = straighten(&relief.draw(120, 80, 0.05), &ruling).mean_m;
        assert!((found - 0.012).abs() < 1e-12, "{found}");
    }

    /// exact solution: gaps of a sine wall of amplitude A under an edge longer than the wave are 2A.
    #[test]
    fn gaps_are_twice_the_amplitude() {
        let waves = waves_of_gaps(&[0.016; 10]);
        assert!((waves.amplitude_m - 0.008).abs() < 1e-15);
        assert!(waves.amplitude_range_m.0 <= waves.amplitude_m && waves.amplitude_m <= waves.amplitude_range_m.1);
    }
}
