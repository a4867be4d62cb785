//! Steady vapour and heat through layers, by the method of EN ISO 13788 (Glaser) and EN ISO 6946: vapour pressure is linear over the vapour path, temperature
//! over the heat resistance (exact solution). No official worked example was found; the numbers were reckoned by hand (exact solution). Limit: 0.5 % of
//! the flow and of the pressures, 0.01 K: the method has no vapour film, the trial one of 1e-3 kg/(m² s Pa), a millionth of the path.

use crate::{at, close, run, totals};

#[test]
fn two_joints_and_the_flow_are_those_of_the_hand_method() {
    let result = run("steady-vapour.toml");
    let time_s = 400.0 * 86_400.0;
    for (depth_m, temperature_c) in [(0.0, 1.627), (0.02, 2.645), (0.62, 13.258), (0.645, 14.711)] {
        close(&format!("temperature at {depth_m} m"), at(&result, time_s, depth_m).temperature_c, temperature_c, 0.01);
    }
    // Pressures: 518.9 Pa outside, 1285.3 Pa inside, over paths of 0.2, 24 and 0.25 m.
    let slope = (1285.3 - 518.9) / 24.45;
    for (depth_m, path_m) in [(0.0, 0.0), (0.02, 0.2), (0.62, 24.2), (0.645, 24.45)] {
        let exact = 518.9 + slope * path_m;
        close(&format!("vapour pressure at {depth_m} m"), at(&result, time_s, depth_m).vapour_pa, exact, 0.005 * exact);
    }
    let totals = totals(&result, time_s);
    close("flow in through the inner face", totals.inner_flow_kg_m2s * 1e9, 6.269, 0.005 * 6.269);
    close("flow out through the outer face", -totals.outer_flow_kg_m2s * 1e9, 6.269, 0.005 * 6.269);
}
