//! Cells of the masonry and of a coat. The stone is the weak point: suction fronts run 10 to 50 mm in, so its cells grow by no more than 1.12 through
//! the first 60 mm; the coat's outermost cell is thin, because there the carbon goes in.

/// Width of the masonry's outermost cell, m.
const FIRST_STONE_M: f64 = 0.5e-3;
/// Growth of the masonry's cells through the first [`FINE_STONE_M`], and beyond it.
const STONE_GROWTH: (f64, f64) = (1.12, 1.35);
const FINE_STONE_M: f64 = 0.060;
/// Width of a coat's outermost and innermost cells, their growth towards its middle, and the widest, m.
const FIRST_COAT_M: f64 = 0.35e-3;
const LAST_COAT_M: f64 = 0.7e-3;
const COAT_GROWTH: f64 = 1.5;
const WIDEST_COAT_M: f64 = 2.0e-3;
/// Fewest cells in a coat.
const FEWEST_COAT_CELLS: usize = 4;

/// Widths of the masonry's cells from the room outwards, each then cut into `fineness`.
pub(crate) fn masonry_widths_m(thickness_m: f64, fineness: usize) -> Vec<f64> {
    let mut widths = Vec::new();
    let (mut depth, mut width) = (0.0, FIRST_STONE_M);
    while depth + width < thickness_m {
        widths.push(width);
        depth += width;
        width *= if depth < FINE_STONE_M { STONE_GROWTH.0 } else { STONE_GROWTH.1 };
        width = width.min(0.2 * thickness_m);
    }
    // What is left makes the innermost cell, or goes to the one before it where it is a sliver.
    let left = thickness_m - depth;
    match widths.last_mut() {
        Some(last) if left < 0.5 * *last => *last += left,
        _ => widths.push(left),
    }
    widths.reverse();
    cut(widths, fineness)
}

/// Widths of the masonry's cells where weather stands on both faces: as fine from the one as from the other.
pub(crate) fn two_faced_widths_m(thickness_m: f64, fineness: usize) -> Vec<f64> {
    let outer = masonry_widths_m(0.5 * thickness_m, fineness);
    outer.iter().rev().chain(&outer).copied().collect()
}

/// Widths of a coat's cells from the wall outwards, each then cut into `fineness`.
pub(crate) fn coat_widths_m(thickness_m: f64, fineness: usize) -> Vec<f64> {
    let (mut outer, mut inner) = (Vec::new(), Vec::new());
    let (mut next_outer, mut next_inner) = (FIRST_COAT_M, LAST_COAT_M);
    let mut sum = 0.0;
    while sum < thickness_m {
        let grows_outside = next_outer <= next_inner;
        let (list, next) = if grows_outside { (&mut outer, &mut next_outer) } else { (&mut inner, &mut next_inner) };
        list.push(*next);
        sum += *next;
        *next = (*next * COAT_GROWTH).min(WIDEST_COAT_M);
    }
    outer.reverse();
    inner.extend(outer);
    if inner.len() < FEWEST_COAT_CELLS {
        inner = vec![1.0; FEWEST_COAT_CELLS];
    }
    cut(fit(inner, thickness_m), fineness)
}

/// Scaled so that they add up to the thickness.
fn fit(widths: Vec<f64>, thickness_m: f64) -> Vec<f64> {
    let scale = thickness_m / widths.iter().sum::<f64>();
    widths.into_iter().map(|width| width * scale).collect()
}

/// Each cell cut into equal parts.
fn cut(widths: Vec<f64>, parts: usize) -> Vec<f64> {
    let parts = parts.max(1);
    widths.into_iter().flat_map(|width| std::iter::repeat_n(width / parts as f64, parts)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_add_up_and_are_thin_where_it_matters() {
        for thickness in [0.1, 0.5, 0.9, 2.0] {
            let widths = masonry_widths_m(thickness, 1);
            assert!((widths.iter().sum::<f64>() / thickness - 1.0).abs() < 1e-12);
            let mut depth = 0.0;
            for pair in widths.iter().rev().collect::<Vec<_>>().windows(2) {
                depth += pair[0];
                assert!(depth > FINE_STONE_M || pair[1] / pair[0] < 1.1201, "{thickness}: {} to {}", pair[0], pair[1]);
            }
            assert!(widths.last().is_some_and(|&outermost| outermost < 0.65e-3));
        }
        let both = two_faced_widths_m(0.6, 2);
        assert!(both.iter().eq(both.iter().rev()) && (both.iter().sum::<f64>() / 0.6 - 1.0).abs() < 1e-12);
        for thickness in [0.5e-3, 3.5e-3, 8e-3, 12e-3, 40e-3] {
            let widths = coat_widths_m(thickness, 1);
            assert!((widths.iter().sum::<f64>() / thickness - 1.0).abs() < 1e-12);
            assert!(widths.len() >= FEWEST_COAT_CELLS);
            assert!(widths.last().is_some_and(|&outermost| outermost < 0.5e-3));
        }
    }
}
