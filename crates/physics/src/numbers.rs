//! Portable elementary functions: the same bits on every processor and platform. Everything here is `libm`, or is built on it;
//! the standard library's own versions change with the platform's C library and are not used in the engine.

use crate::PhysicsError;

/// e to the power `x`.
#[inline]
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// e to the power `x`, less 1, exact near zero.
#[inline]
pub fn exp_m1(x: f64) -> f64 {
    libm::expm1(x)
}

/// Natural logarithm; minus infinity at 0, not a number below.
#[inline]
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Natural logarithm of 1 + `x`, exact near zero.
#[inline]
pub fn ln_1p(x: f64) -> f64 {
    libm::log1p(x)
}

/// Logarithm to base 10.
#[inline]
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// `base` to the power `exponent`; not a number for a negative base with a broken exponent.
#[inline]
pub fn pow(base: f64, exponent: f64) -> f64 {
    libm::pow(base, exponent)
}

/// Sine of an angle in radians.
#[inline]
pub fn sin(angle_rad: f64) -> f64 {
    libm::sin(angle_rad)
}

/// Cosine of an angle in radians.
#[inline]
pub fn cos(angle_rad: f64) -> f64 {
    libm::cos(angle_rad)
}

/// Tangent of an angle in radians.
#[inline]
pub fn tan(angle_rad: f64) -> f64 {
    libm::tan(angle_rad)
}

/// Angle in radians, −π/2 to π/2, whose sine is `x`; `x` beyond ±1 is taken as ±1, so that rounding in a caller cannot break it.
#[inline]
pub fn asin(x: f64) -> f64 {
    libm::asin(x.clamp(-1.0, 1.0))
}

/// Angle in radians, 0 to π, whose cosine is `x`; `x` beyond ±1 is taken as ±1, so that rounding in a caller cannot break it.
#[inline]
pub fn acos(x: f64) -> f64 {
    libm::acos(x.clamp(-1.0, 1.0))
}

/// Angle in radians, −π/2 to π/2, whose tangent is `x`.
#[inline]
pub fn atan(x: f64) -> f64 {
    libm::atan(x)
}

/// Angle in radians, −π to π, of the point (`x`, `y`).
#[inline]
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// Hyperbolic tangent.
#[inline]
pub fn tanh(x: f64) -> f64 {
    libm::tanh(x)
}

/// Error function, 2/√π · ∫₀ˣ exp(−s²) ds.
#[inline]
pub fn erf(x: f64) -> f64 {
    libm::erf(x)
}

/// Complementary error function, 1 − erf(x), exact for large `x`.
#[inline]
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}

/// Scaled complementary error function, exp(x²)·erfc(x), for `x` of any size above about −26.
///
/// Below 25 it is the plain product; above, the asymptotic series of Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.23,
/// whose seventh term is below the last bit there.
pub fn erfc_scaled(x: f64) -> f64 {
    if x < 25.0 {
        exp(x * x) * erfc(x)
    } else {
        let s = 1.0 / (2.0 * x * x);
        (1.0 - s * (1.0 - 3.0 * s * (1.0 - 5.0 * s * (1.0 - 7.0 * s * (1.0 - 9.0 * s * (1.0 - 11.0 * s))))))
            / (x * core::f64::consts::PI.sqrt())
    }
}

/// Root of a continuous function between `low` and `high`, where it changes sign, by bisection to the last bit.
///
/// Slow (at most about 1,100 evaluations, commonly 60) and certain; for use outside the time loop.
///
/// # Errors
/// [`PhysicsError::NoRoot`] when the function does not change sign between the ends, or is not a number there.
pub fn bisect(law: &'static str, unit: &'static str, low: f64, high: f64, function: impl Fn(f64) -> f64) -> Result<f64, PhysicsError> {
    let none = PhysicsError::NoRoot { law, low, high, unit };
    let (mut a, mut b) = (low, high);
    let (at_a, at_b) = (function(a), function(b));
    if at_a == 0.0 {
        return Ok(a);
    }
    if at_b == 0.0 {
        return Ok(b);
    }
    if at_a.is_nan() || at_b.is_nan() || (at_a > 0.0) == (at_b > 0.0) {
        return Err(none);
    }
    loop {
        let middle = 0.5 * (a + b);
        if !(middle > a.min(b) && middle < a.max(b)) {
            return Ok(middle);
        }
        let at_middle = function(middle);
        if at_middle.is_nan() {
            return Err(none);
        }
        if (at_middle > 0.0) == (at_a > 0.0) { a = middle } else { b = middle }
    }
}
