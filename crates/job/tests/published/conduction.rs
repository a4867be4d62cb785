//! Heat conduction into a half-space after a step of the face or of the air: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 2.5 and 2.7
//! (exact solution). Limit: 0.2 % of the step; the method is of first order in time, and the steps grow to five minutes.

use physics::exact::{step_convective, step_fixed};

use crate::{at, close, run};

const STEP_K: f64 = 10.0;

#[test]
fn a_held_face_gives_the_complementary_error_function() {
    let result = run("conduction-step.toml");
    for hours in [1.0, 24.0] {
        for depth_m in [0.01, 0.02, 0.05, 0.1, 0.2, 0.3] {
            let exact = 10.0 + STEP_K * step_fixed(depth_m, 1e-6, hours * 3600.0);
            close(&format!("{depth_m} m, {hours} h"), at(&result, hours * 3600.0, depth_m).temperature_c, exact, 0.002 * STEP_K);
        }
    }
}

#[test]
fn a_film_gives_the_convective_step() {
    let result = run("conduction-film.toml");
    for hours in [1.0, 24.0] {
        for depth_m in [0.0, 0.05, 0.1, 0.2] {
            let exact = 10.0 + STEP_K * step_convective(depth_m, 25.0, 1.5, 1e-6, hours * 3600.0);
            close(&format!("{depth_m} m, {hours} h"), at(&result, hours * 3600.0, depth_m).temperature_c, exact, 0.002 * STEP_K);
        }
    }
    // Two values evaluated apart from this code (exact solution, other tool: SciPy).
    close("face, 1 h", at(&result, 3600.0, 0.0).temperature_c, 15.7242, 0.002 * STEP_K);
    close("50 mm, 1 h", at(&result, 3600.0, 0.05).temperature_c, 12.7343, 0.002 * STEP_K);
}
