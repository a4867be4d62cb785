//! Lanes: the same arithmetic on several members at once, written so that a compiler can turn it into vector instructions, and portable: only
//! the operations IEEE 754 defines exactly (`+ − × ÷ √`) and bit patterns, never a fused multiply-add, never a library's transcendental.
//! A lane never looks at its neighbours.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// One number per member of a block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lanes<const L: usize>(pub [f64; L]);

impl<const L: usize> Default for Lanes<L> {
    fn default() -> Self {
        Self([0.0; L])
    }
}

macro_rules! elementwise {
    ($trait:ident, $method:ident, $operator:tt) => {
        impl<const L: usize> $trait for Lanes<L> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                Self(std::array::from_fn(|lane| self.0[lane] $operator other.0[lane]))
            }
        }
        impl<const L: usize> $trait<f64> for Lanes<L> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                Self(std::array::from_fn(|lane| self.0[lane] $operator other))
            }
        }
    };
}
elementwise!(Add, add, +);
elementwise!(Sub, sub, -);
elementwise!(Mul, mul, *);
elementwise!(Div, div, /);

impl<const L: usize> Neg for Lanes<L> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self.map(|x| -x)
    }
}

/// Added to a number below 2⁵¹ it leaves the nearest whole number in the low bits of the sum.
const WHOLE: f64 = 6_755_399_441_055_744.0;

impl<const L: usize> Lanes<L> {
    /// The same number in every lane.
    #[inline(always)]
    pub fn splat(value: f64) -> Self {
        Self([value; L])
    }

    /// Each lane by itself.
    #[inline(always)]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        Self(std::array::from_fn(|lane| f(self.0[lane])))
    }

    /// The greater in each lane.
    #[inline(always)]
    pub fn max(self, other: Self) -> Self {
        Self(std::array::from_fn(|lane| if self.0[lane] > other.0[lane] { self.0[lane] } else { other.0[lane] }))
    }

    /// The smaller in each lane.
    #[inline(always)]
    pub fn min(self, other: Self) -> Self {
        Self(std::array::from_fn(|lane| if self.0[lane] < other.0[lane] { self.0[lane] } else { other.0[lane] }))
    }

    /// Kept between two bounds.
    #[inline(always)]
    pub fn clamp(self, low: f64, high: f64) -> Self {
        self.max(Self::splat(low)).min(Self::splat(high))
    }

    /// Absolute value.
    #[inline(always)]
    pub fn abs(self) -> Self {
        self.map(f64::abs)
    }

    /// `yes` where this lane is above zero, `no` elsewhere.
    #[inline(always)]
    pub fn above_zero(self, yes: Self, no: Self) -> Self {
        Self(std::array::from_fn(|lane| if self.0[lane] > 0.0 { yes.0[lane] } else { no.0[lane] }))
    }

    /// True if any lane is above zero.
    #[inline(always)]
    pub fn any_above_zero(self) -> bool {
        self.0.iter().any(|&x| x > 0.0)
    }

    /// eˣ, within 4e-16 of the truth for −700 ≤ x ≤ 700 and clamped beyond; checked against `libm`.
    #[inline(always)]
    pub fn exp(self) -> Self {
        self.map(exp)
    }

    /// Natural logarithm of a positive, normal number, within 4e-16 of the greater of 1 and the result; checked against `libm`.
    #[inline(always)]
    pub fn ln(self) -> Self {
        self.map(ln)
    }
}

/// eˣ of one number, the arithmetic of [`Lanes::exp`].
#[inline(always)]
pub fn exp(x: f64) -> f64 {
    const LN2_HIGH: f64 = 0.693_145_751_953_125;
    const LN2_LOW: f64 = 1.428_606_820_309_417_3e-6;
    let x = if x > 700.0 { 700.0 } else { x };
    let x = if x < -700.0 { -700.0 } else { x };
    let shifted = x * std::f64::consts::LOG2_E + WHOLE;
    let whole = shifted - WHOLE;
    let r = (x - whole * LN2_HIGH) - whole * LN2_LOW;
    let r2 = r * r;
    let r4 = r2 * r2;
    let low = r2 * (0.5 + r * (1.0 / 6.0));
    let middle = (1.0 / 24.0 + r * (1.0 / 120.0)) + r2 * (1.0 / 720.0 + r * (1.0 / 5040.0));
    let high = (1.0 / 40_320.0 + r * (1.0 / 362_880.0)) + r2 * (1.0 / 3_628_800.0 + r * (1.0 / 39_916_800.0));
    let series = 1.0 + (r + (low + r4 * (middle + r4 * (high + r4 * (1.0 / 479_001_600.0)))));
    series * f64::from_bits(shifted.to_bits().wrapping_add(1023) << 52)
}

/// Natural logarithm of one positive, normal number, the arithmetic of [`Lanes::ln`].
#[inline(always)]
pub fn ln(x: f64) -> f64 {
    const LN2_HIGH: f64 = 0.693_147_180_369_123_8;
    const LN2_LOW: f64 = 1.908_214_929_270_587_7e-10;
    const HALF_ROOT: u64 = 0x3FE6_A09E_667F_3BCD;
    const TWO_52: f64 = 4_503_599_627_370_496.0;
    let bits = x.to_bits();
    // Bits of the exponent of x/√½, so that the mantissa falls between √½ and √2.
    let shifted = bits.wrapping_sub(HALF_ROOT).wrapping_add(1023 << 52);
    let biased = shifted >> 52;
    let exponent = (f64::from_bits(biased | 0x4330_0000_0000_0000) - TWO_52) - 1023.0;
    let mantissa = f64::from_bits(bits.wrapping_sub(biased.wrapping_sub(1023) << 52));
    let f = (mantissa - 1.0) / (mantissa + 1.0);
    let s = f * f;
    let s2 = s * s;
    let s4 = s2 * s2;
    let low = (1.0 / 3.0 + s * (1.0 / 5.0)) + s2 * (1.0 / 7.0 + s * (1.0 / 9.0));
    let high = (1.0 / 11.0 + s * (1.0 / 13.0)) + s2 * (1.0 / 15.0 + s * (1.0 / 17.0));
    let series = s * (low + s4 * (high + s4 * (1.0 / 19.0 + s * (1.0 / 21.0))));
    exponent * LN2_HIGH + (2.0 * f + (2.0 * f * series + exponent * LN2_LOW))
}

/// xᵖ of one positive, normal number through [`ln`] and [`exp`]; its error grows as p·ln x and stays under 1e-13 here.
pub fn pow(x: f64, p: f64) -> f64 {
    exp(p * ln(x))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exp_agrees_with_libm() {
        let mut worst = 0.0_f64;
        for step in -140_000..=140_000 {
            let x = f64::from(step) * 0.005 + 1e-4;
            if x.abs() < 700.0 {
                let truth = libm::exp(x);
                worst = worst.max(((exp(x) - truth) / truth).abs());
            }
        }
        assert!(worst < 4e-16, "worst relative error {worst:e}");
        assert_eq!(exp(-1e9), exp(-700.0), "clamped");
        assert_eq!(exp(0.0), 1.0);
    }

    #[test]
    fn ln_agrees_with_libm() {
        let mut worst = 0.0_f64;
        let mut x = 1e-300;
        while x < 1e300 {
            let truth = libm::log(x);
            worst = worst.max((ln(x) - truth).abs() / truth.abs().max(1.0));
            x *= 1.000_7;
        }
        for step in 0..40_000 {
            let x = 0.5 + f64::from(step) * 5e-5;
            worst = worst.max((ln(x) - libm::log(x)).abs());
        }
        assert!(worst < 4e-16, "worst error {worst:e}");
        assert_eq!(ln(1.0), 0.0);
    }

    #[test]
    fn lanes_do_not_look_at_each_other() {
        let many = Lanes([0.3, -2.0, 11.0, 500.0]).exp();
        for (lane, x) in [0.3, -2.0, 11.0, 500.0].into_iter().enumerate() {
            assert_eq!(many.0[lane], Lanes([x]).exp().0[0]);
        }
    }
}
