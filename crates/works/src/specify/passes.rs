//! Splits a straightening coat into passes: what is deep is filled first, in the hollows alone, and the last pass goes over the whole face. What is
//! deeper than the passes is pinned with stone.

use survey::Relief;

/// Thickness of a pass where several are laid, and the most in the middle of a single one, m: common practice, no source.
pub(crate) const PASS_LIMIT_M: f64 = 0.012;
/// The most at the thickest of any pass, m: published rule for putty coats, common practice.
pub(crate) const PASS_ABSOLUTE_M: f64 = 0.015;
/// Least cover over the proudest stones, m.
pub(crate) const LEAST_COVER_M: f64 = 0.003;
/// Least mean of a straightening coat, m: no thinner than the finish over it, and room for grains of 4 mm.
const LEAST_MEAN_M: f64 = 0.009;
/// Share of a hollow beyond the passes that is mortar round the pinning stones: common practice, no source (stones fill 30 to 60 %).
const MORTAR_ROUND_PINNINGS: f64 = 0.55;
/// Most passes, however deep the hollows that are not to be pinned.
const MOST_PASSES: usize = 12;
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

/// The passes that fill a relief, the first one first; what is deeper than `pinning_m`, m, is filled with stones bedded in the first pass.
pub(crate) fn passes(relief: &Relief, pinning_m: f64) -> Vec<Pass> {
    let depths = depths(relief);
    let mean_m = mean(&depths);
    // More cover than the least is given only as far as the wall still takes it in one pass.
    let spare_m = LEAST_COVER_M.max(PASS_ABSOLUTE_M - relief.percentiles_m[2]);
    let cover_m = LEAST_COVER_M.max(LEAST_MEAN_M - mean_m).min(spare_m);
    // One part in ten is deeper than the 90th percentile; it is dubbed out round pinning stones, not with a pass of its own.
    let thick_m = relief.percentiles_m[2] + cover_m;
    let single = thick_m <= PASS_ABSOLUTE_M + 1e-9;
    let count = if single { 1 } else { ((thick_m / PASS_LIMIT_M - 1e-9).ceil() as usize).clamp(2, unpinned(pinning_m)) };
    let limit_m = if single { PASS_ABSOLUTE_M } else { PASS_LIMIT_M };
    let mut found: Vec<Pass> = (0..count)
        .map(|from_face| {
            let whole_m = if from_face == 0 { cover_m } else { 0.0 };
            let outer_m = if from_face == 0 { 0.0 } else { from_face as f64 * limit_m - cover_m };
            pass(&depths, outer_m, limit_m - whole_m, whole_m)
        })
        .filter(|pass| pass.share > 0.0)
        .collect();
    found.reverse();
    let left_m = mean_m + cover_m - found.iter().map(|pass| pass.mean_m).sum::<f64>();
    if let Some(first) = found.first_mut() {
        first.mean_m += MORTAR_ROUND_PINNINGS * left_m.max(0.0);
    }
    found
}

/// Passes that reach as deep as the stones begin, at least two.
fn unpinned(pinning_m: f64) -> usize {
    ((pinning_m / PASS_LIMIT_M - 1e-9).ceil() as usize).clamp(2, MOST_PASSES)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// The depth at equal shares of the face, least first: as it was measured, or straight between the percentiles; brought to the mean of the survey.
fn depths(relief: &Relief) -> Vec<f64> {
    if relief.spread_m.len() == STEPS as usize {
        return brought_to(relief.mean_m, relief.spread_m.clone());
    }
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
    brought_to(relief.mean_m, raw)
}

fn brought_to(wanted_m: f64, raw: Vec<f64>) -> Vec<f64> {
    let mean_m = mean(&raw);
    let factor = if mean_m > 0.0 { wanted_m / mean_m } else { 0.0 };
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
        mean_m: mean(&layer),
        share: lies.len() as f64 / f64::from(STEPS),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PINNED_M: f64 = 0.048;

    fn relief(mean_m: f64, percentiles_m: [f64; 3], deepest_m: f64) -> Relief {
        Relief {
            mean_m,
            mean_range_m: (mean_m, mean_m),
            percentiles_m,
            deepest_m,
            basis: String::new(),
            assumed: false,
            spread_m: Vec::new(),
            curve: Vec::new(),
        }
    }

    #[test]
    fn an_even_wall_takes_one_pass_no_thinner_than_the_finish() {
        let one = passes(&relief(0.002, [0.001, 0.002, 0.004], 0.006), PINNED_M);
        assert_eq!(one.len(), 1);
        assert!((one[0].mean_m - LEAST_MEAN_M).abs() < 1e-9 && one[0].share == 1.0);
    }

    #[test]
    fn what_fits_under_fifteen_millimetres_goes_on_at_once() {
        let one = passes(&relief(0.006, [0.002, 0.005, 0.0115], 0.015), PINNED_M);
        assert_eq!(one.len(), 1);
        assert!(one[0].thickness_m[2] <= PASS_ABSOLUTE_M + 1e-12 && one[0].thickness_m[1] <= PASS_LIMIT_M);
        // Cover for the sake of the mean is not given where it would cost a pass of its own.
        assert_eq!(passes(&relief(0.0053, [0.0002, 0.0047, 0.0114], 0.017), PINNED_M).len(), 1);
    }

    #[test]
    fn rubble_is_dubbed_out_first_and_nothing_is_lost() {
        let rough = relief(0.020, [0.006, 0.017, 0.039], 0.050);
        let found = passes(&rough, PINNED_M);
        assert_eq!(found.len(), 4);
        assert!(found[..3].windows(2).all(|pair| pair[0].share <= pair[1].share) && found[3].share == 1.0);
        assert!(found.iter().all(|pass| pass.thickness_m[2] <= PASS_LIMIT_M + 1e-12));
        let total_m: f64 = found.iter().map(|pass| pass.mean_m).sum();
        // What lies deeper than four passes is pinned with stone, which saves a little of the 23 mm.
        assert!(total_m <= 0.023 + 1e-12 && total_m > 0.97 * 0.023, "{total_m}");
    }

    #[test]
    fn a_hollower_wall_never_takes_less_mortar() {
        let total = |factor: f64| {
            let found = passes(&relief(0.010 * factor, [0.003, 0.009, 0.020].map(|d| d * factor), 0.035 * factor), PINNED_M);
            found.iter().map(|pass| pass.mean_m).sum::<f64>()
        };
        assert!((1..60).all(|i| total(f64::from(i) * 0.05) <= total(f64::from(i + 1) * 0.05) + 1e-4));
    }

    #[test]
    fn a_measured_spread_is_taken_as_it_is() {
        // Nine tenths of the face flat, one tenth 30 mm deep: percentiles alone would make a slope of it.
        let spread_m: Vec<f64> = (0..STEPS).map(|step| if step < 180 { 0.0 } else { 0.030 }).collect();
        let measured = Relief { spread_m, ..relief(0.003, [0.0, 0.0, 0.030], 0.030) };
        let found = passes(&measured, PINNED_M);
        assert!(found[..found.len() - 1].iter().all(|pass| (pass.share - 0.1).abs() < 1e-12), "{found:?}");
        let whole_m: f64 = found.iter().map(|pass| pass.mean_m).sum();
        assert!((whole_m - 0.003 - LEAST_COVER_M).abs() < 1e-9, "{whole_m}");
    }

    #[test]
    fn stones_begin_where_the_job_says() {
        let rough = relief(0.020, [0.006, 0.017, 0.039], 0.050);
        let (early, late) = (passes(&rough, 0.024), passes(&rough, 0.060));
        assert_eq!((early.len(), late.len()), (2, 4));
        let mortar = |found: &[Pass]| found.iter().map(|pass| pass.mean_m).sum::<f64>();
        assert!(mortar(&early) < mortar(&late));
    }
}
