//! Splits a straightening coat into passes: what is deep is filled first, in the hollows alone, and the last pass goes over the whole face.

use survey::Relief;

/// Thickest pass, m: common practice, no source (absolute limit 15 mm).
pub(crate) const PASS_LIMIT_M: f64 = 0.012;
/// Least cover over the proudest stones, m.
pub(crate) const LEAST_COVER_M: f64 = 0.003;
/// Least mean of a straightening coat, m: as thick as the finish over it, so that no coat lies on a thinner one.
const LEAST_MEAN_M: f64 = 0.008;
/// Most passes; hollows beyond them are pinned with stone.
const MOST_PASSES: usize = 4;
/// Steps in which the spread of depth is summed.
const STEPS: u32 = 200;

/// One pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pass {
    /// 10th, 50th and 90th percentile where it lies, m.
    pub thickness_m: [f64; 3],
    /// Mean over the whole face, m.
    pub mean_m: f64,
    /// Share of the face on which it lies, 0 to 1.
    pub share: f64,
}

/// The passes that fill a relief, the first one first.
pub(crate) fn passes(relief: &Relief) -> Vec<Pass> {
    let depths = depths(relief);
    let mean_m = depths.iter().sum::<f64>() / f64::from(STEPS);
    let cover_m = LEAST_COVER_M.max(LEAST_MEAN_M - mean_m);
    // One part in ten is deeper than the 90th percentile; it is dubbed out with pinnings, not with a pass of its own.
    let thick_m = relief.percentiles_m[2] + cover_m;
    let count = ((thick_m / PASS_LIMIT_M - 1e-9).ceil() as usize).clamp(1, MOST_PASSES);
    let mut found: Vec<Pass> = (0..count)
        .map(|from_face| {
            let outer_m = if from_face == 0 { 0.0 } else { from_face as f64 * PASS_LIMIT_M - cover_m };
            let whole_m = if from_face == 0 { cover_m } else { 0.0 };
            pass(&depths, outer_m, PASS_LIMIT_M - whole_m, whole_m)
        })
        .filter(|pass| pass.share > 0.0)
        .collect();
    found.reverse();
    found
}

/// The depth at equal shares of the face, least first: straight between the percentiles, brought to the mean of the survey.
fn depths(relief: &Relief) -> Vec<f64> {
    let [p10, p50, p90] = relief.percentiles_m;
    let knots = [(0.0, 0.0), (0.1, p10), (0.5, p50), (0.9, p90), (1.0, relief.deepest_m.max(p90))];
    let raw: Vec<f64> = (0..STEPS)
        .map(|step| {
            let share = (f64::from(step) + 0.5) / f64::from(STEPS);
            let pair = knots.windows(2).find(|pair| share <= pair[1].0).unwrap_or(&knots[3..5]);
            let ((s0, d0), (s1, d1)) = (pair[0], pair[1]);
            d0 + (share - s0) / (s1 - s0) * (d1 - d0)
        })
        .collect();
    let mean_m = raw.iter().sum::<f64>() / f64::from(STEPS);
    let factor = if mean_m > 0.0 { relief.mean_m / mean_m } else { 0.0 };
    raw.into_iter().map(|depth| factor * depth).collect()
}

/// The layer of the depths from `outer_m` inwards, `deep_m` thick at most, and `whole_m` over everything.
fn pass(depths: &[f64], outer_m: f64, deep_m: f64, whole_m: f64) -> Pass {
    let layer: Vec<f64> = depths.iter().map(|depth| (depth - outer_m).clamp(0.0, deep_m) + whole_m).collect();
    let lies: Vec<f64> = layer.iter().copied().filter(|thick| *thick > 0.0).collect();
    let at = |share: f64| lies.get((share * lies.len() as f64) as usize).or(lies.last()).copied().unwrap_or(0.0);
    Pass {
        // Mortar does not go on thinner than its sand allows: the edge of a filled hollow is feathered to the least cover.
        thickness_m: [0.1, 0.5, 0.9].map(|share| at(share).max(LEAST_COVER_M)),
        mean_m: layer.iter().sum::<f64>() / f64::from(STEPS),
        share: lies.len() as f64 / f64::from(STEPS),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn relief(mean_m: f64, percentiles_m: [f64; 3], deepest_m: f64) -> Relief {
        Relief { mean_m, mean_range_m: (mean_m, mean_m), percentiles_m, deepest_m, basis: String::new(), assumed: false }
    }

    #[test]
    fn an_even_wall_takes_one_pass_as_thick_as_the_finish() {
        let one = passes(&relief(0.002, [0.001, 0.002, 0.004], 0.006));
        assert_eq!(one.len(), 1);
        assert!((one[0].mean_m - 0.008).abs() < 1e-9 && one[0].share == 1.0);
    }

    #[test]
    fn rubble_is_dubbed_out_first_and_nothing_is_lost() {
        let rough = relief(0.020, [0.006, 0.017, 0.039], 0.050);
        let found = passes(&rough);
        assert_eq!(found.len(), 4);
        assert!(found[..3].windows(2).all(|pair| pair[0].share <= pair[1].share) && found[3].share == 1.0);
        assert!(found.iter().all(|pass| pass.thickness_m[2] <= PASS_LIMIT_M + 1e-12));
        let total_m: f64 = found.iter().map(|pass| pass.mean_m).sum();
        // What lies deeper than four passes is pinned with stone: a fortieth of the mortar at most here.
        assert!(total_m <= 0.023 + 1e-12 && total_m > 0.97 * 0.023, "{total_m}");
    }
}
