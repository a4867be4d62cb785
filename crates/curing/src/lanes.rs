//! Lanes: the same arithmetic on several members at once, portable: only the operations IEEE 754 defines exactly (`+ − × ÷ √`) and bit patterns, never a
//! fused multiply-add, never a library's transcendental. A lane never looks at its neighbours.
//!
//! [`Lanes`] is how numbers of a block lie in memory, with plain arithmetic for a single lane; [`Eight`] holds eight of them in the registers of one
//! kind of machine. What works on either is written once, over [`Vector`], and gives the same bits.

use std::ops::{Add, Div, Mul, Neg, Sub};

use fearless_simd::prelude::*;
use fearless_simd::{f64x8, u64x8};

use crate::material::WHOLE;

/// One number per member of a block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lanes<const L: usize>(pub [f64; L]);

impl<const L: usize> Default for Lanes<L> {
    fn default() -> Self {
        Self([0.0; L])
    }
}

impl<const L: usize> Lanes<L> {
    /// The same number in every lane.
    #[inline(always)]
    pub fn splat(value: f64) -> Self {
        Self([value; L])
    }

    /// Each lane by itself.
    #[inline(always)]
    fn each(self, f: impl Fn(f64) -> f64) -> Self {
        Self(std::array::from_fn(|lane| f(self.0[lane])))
    }

    /// One in the lanes marked, nothing in the others.
    #[inline(always)]
    pub(crate) fn marked(lanes: &[bool; L]) -> Self {
        Self(lanes.map(|marked| if marked { 1.0 } else { 0.0 }))
    }
}

/// Numbers of all lanes of a block, where they can be reckoned with.
pub(crate) trait Vector:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
{
    /// Says that the machine has the instructions.
    type Proof: Copy;

    /// The same number in every lane.
    fn splat(proof: Self::Proof, value: f64) -> Self;
    /// Fetches as many numbers as there are lanes.
    fn load(proof: Self::Proof, from: &[f64]) -> Self;
    /// Puts them down.
    fn store(self, into: &mut [f64]);
    /// The proof that came with the number.
    fn proof(self) -> Self::Proof;
    /// Runs some work compiled for the instructions.
    fn run<R>(proof: Self::Proof, work: impl FnOnce() -> R) -> R;
    /// Absolute value.
    fn abs(self) -> Self;
    /// `yes` where this lane is above a limit, `no` elsewhere.
    fn above(self, limit: Self, yes: Self, no: Self) -> Self;
    /// True if any lane is above zero.
    fn any_above_zero(self) -> bool;
    /// 2ᵏ where the low bits of this number hold k.
    fn power_of_two(self) -> Self;
    /// Mantissa between √½ and √2 and the exponent that goes with it.
    fn parts(self) -> (Self, Self);

    /// `yes` where this lane is above zero, `no` elsewhere.
    #[inline(always)]
    fn above_zero(self, yes: Self, no: Self) -> Self {
        self.above(Self::splat(self.proof(), 0.0), yes, no)
    }

    /// The greater in each lane; the other where this is not a number.
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        self.above(other, self, other)
    }

    /// The smaller in each lane; the other where this is not a number.
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        other.above(self, self, other)
    }

    /// Kept between two bounds.
    #[inline(always)]
    fn clamp(self, low: f64, high: f64) -> Self {
        self.max(Self::splat(self.proof(), low)).min(Self::splat(self.proof(), high))
    }

    /// One over it.
    #[inline(always)]
    fn inverse(self) -> Self {
        Self::splat(self.proof(), 1.0) / self
    }

    /// As they lie in memory.
    #[inline(always)]
    fn lanes<const L: usize>(self) -> Lanes<L> {
        let mut lanes = Lanes::default();
        self.store(&mut lanes.0);
        lanes
    }

    /// eˣ, within 4e-16 of the truth for −700 ≤ x ≤ 700 and clamped beyond; checked against `libm`.
    #[inline(always)]
    fn exp(self) -> Self {
        const LN2_HIGH: f64 = 0.693_145_751_953_125;
        const LN2_LOW: f64 = 1.428_606_820_309_417_3e-6;
        let proof = self.proof();
        let (most, least) = (Self::splat(proof, 700.0), Self::splat(proof, -700.0));
        let x = self.above(most, most, self);
        let x = least.above(x, least, x);
        let shifted = x * std::f64::consts::LOG2_E + WHOLE;
        let whole = shifted - WHOLE;
        let r = (x - whole * LN2_HIGH) - whole * LN2_LOW;
        let r2 = r * r;
        let r4 = r2 * r2;
        let low = r2 * (r * (1.0 / 6.0) + 0.5);
        let middle = (r * (1.0 / 120.0) + 1.0 / 24.0) + r2 * (r * (1.0 / 5040.0) + 1.0 / 720.0);
        let high = (r * (1.0 / 362_880.0) + 1.0 / 40_320.0) + r2 * (r * (1.0 / 39_916_800.0) + 1.0 / 3_628_800.0);
        let series = (r + (low + r4 * (middle + r4 * (high + r4 * (1.0 / 479_001_600.0))))) + 1.0;
        series * shifted.power_of_two()
    }

    /// Natural logarithm of a positive, normal number, within 4e-16 of the greater of 1 and the result; checked against `libm`.
    #[inline(always)]
    fn ln(self) -> Self {
        const LN2_HIGH: f64 = 0.693_147_180_369_123_8;
        const LN2_LOW: f64 = 1.908_214_929_270_587_7e-10;
        let (mantissa, exponent) = self.parts();
        let f = (mantissa - 1.0) / (mantissa + 1.0);
        let s = f * f;
        let s2 = s * s;
        let s4 = s2 * s2;
        let low = (s * (1.0 / 5.0) + 1.0 / 3.0) + s2 * (s * (1.0 / 9.0) + 1.0 / 7.0);
        let high = (s * (1.0 / 13.0) + 1.0 / 11.0) + s2 * (s * (1.0 / 17.0) + 1.0 / 15.0);
        let series = s * (low + s4 * (high + s4 * (s * (1.0 / 21.0) + 1.0 / 19.0)));
        exponent * LN2_HIGH + (f * 2.0 + (f * 2.0 * series + exponent * LN2_LOW))
    }
}

/// Bits of √½.
const HALF_ROOT: u64 = 0x3FE6_A09E_667F_3BCD;
/// Bits of 2⁵², below which a whole number can be put into the mantissa.
const TWO_52: u64 = 0x4330_0000_0000_0000;

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
        impl<S: Simd> $trait for Eight<S> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                Self(self.0 $operator other.0)
            }
        }
        impl<S: Simd> $trait<f64> for Eight<S> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                Self(self.0 $operator f64x8::splat(self.0.simd, other))
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
        self.each(|x| -x)
    }
}

impl<const L: usize> Vector for Lanes<L> {
    type Proof = ();

    #[inline(always)]
    fn splat(_: (), value: f64) -> Self {
        Self([value; L])
    }

    #[inline(always)]
    fn load(_: (), from: &[f64]) -> Self {
        Self(std::array::from_fn(|lane| from[lane]))
    }

    #[inline(always)]
    fn store(self, into: &mut [f64]) {
        into.copy_from_slice(&self.0);
    }

    #[inline(always)]
    fn proof(self) {}

    #[inline(always)]
    fn run<R>(_: (), work: impl FnOnce() -> R) -> R {
        work()
    }

    #[inline(always)]
    fn abs(self) -> Self {
        self.each(f64::abs)
    }

    #[inline(always)]
    fn above(self, limit: Self, yes: Self, no: Self) -> Self {
        Self(std::array::from_fn(|lane| if self.0[lane] > limit.0[lane] { yes.0[lane] } else { no.0[lane] }))
    }

    #[inline(always)]
    fn any_above_zero(self) -> bool {
        self.0.iter().any(|&x| x > 0.0)
    }

    #[inline(always)]
    fn power_of_two(self) -> Self {
        self.each(|x| f64::from_bits(x.to_bits().wrapping_add(1023) << 52))
    }

    #[inline(always)]
    fn parts(self) -> (Self, Self) {
        // Bits of the exponent of x/√½, so that the mantissa falls between √½ and √2.
        let biased = |x: f64| x.to_bits().wrapping_sub(HALF_ROOT).wrapping_add(1023 << 52) >> 52;
        let mantissa = self.each(|x| f64::from_bits(x.to_bits().wrapping_sub(biased(x).wrapping_sub(1023) << 52)));
        (mantissa, self.each(|x| (f64::from_bits(biased(x) | TWO_52) - f64::from_bits(TWO_52)) - 1023.0))
    }
}

/// The numbers of eight lanes in the registers of a machine.
#[derive(Clone, Copy)]
pub(crate) struct Eight<S: Simd>(f64x8<S>);

impl<S: Simd> Neg for Eight<S> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl<S: Simd> Vector for Eight<S> {
    type Proof = S;

    #[inline(always)]
    fn splat(proof: S, value: f64) -> Self {
        Self(f64x8::splat(proof, value))
    }

    #[inline(always)]
    fn load(proof: S, from: &[f64]) -> Self {
        Self(f64x8::from_slice(proof, from))
    }

    #[inline(always)]
    fn store(self, into: &mut [f64]) {
        self.0.store_slice(into);
    }

    #[inline(always)]
    fn proof(self) -> S {
        self.0.simd
    }

    #[inline(always)]
    fn run<R>(proof: S, work: impl FnOnce() -> R) -> R {
        proof.vectorize(work)
    }

    #[inline(always)]
    fn abs(self) -> Self {
        Self(self.0.abs())
    }

    #[inline(always)]
    fn above(self, limit: Self, yes: Self, no: Self) -> Self {
        Self(self.0.simd_gt(limit.0).select(yes.0, no.0))
    }

    #[inline(always)]
    fn any_above_zero(self) -> bool {
        self.0.simd_gt(f64x8::splat(self.0.simd, 0.0)).any_true()
    }

    #[inline(always)]
    fn power_of_two(self) -> Self {
        let bits: u64x8<S> = self.0.bitcast();
        Self(((bits + u64x8::splat(self.0.simd, 1023)) << 52).bitcast())
    }

    #[inline(always)]
    fn parts(self) -> (Self, Self) {
        let all = |value: u64| u64x8::splat(self.0.simd, value);
        let bits: u64x8<S> = self.0.bitcast();
        let biased = (bits - all(HALF_ROOT) + all(1023 << 52)) >> 52;
        let mantissa: f64x8<S> = (bits - ((biased - all(1023)) << 52)).bitcast();
        let exponent: f64x8<S> = (biased | all(TWO_52)).bitcast();
        (Self(mantissa), Self(exponent) - f64::from_bits(TWO_52) - 1023.0)
    }
}

/// Leave to use a kind of vector.
pub(crate) struct On<V: Vector>(pub(crate) V::Proof);

impl<V: Vector> Clone for On<V> {
    #[inline(always)]
    fn clone(&self) -> Self {
        *self
    }
}

impl<V: Vector> Copy for On<V> {}

impl<V: Vector> On<V> {
    /// The same number in every lane.
    #[inline(always)]
    pub(crate) fn splat(self, value: f64) -> V {
        V::splat(self.0, value)
    }

    /// Zero in every lane.
    #[inline(always)]
    pub(crate) fn zero(self) -> V {
        V::splat(self.0, 0.0)
    }

    /// Fetched from memory.
    #[inline(always)]
    pub(crate) fn load<const L: usize>(self, lanes: &Lanes<L>) -> V {
        V::load(self.0, &lanes.0)
    }

    /// One in the lanes marked, nothing in the others.
    #[inline(always)]
    pub(crate) fn marked<const L: usize>(self, lanes: &[bool; L]) -> V {
        self.load(&Lanes::marked(lanes))
    }

    /// Some work of the kernel as a piece of code by itself, compiled for the instructions.
    #[inline(always)]
    pub(crate) fn run<R>(self, work: impl FnOnce() -> R) -> R {
        V::run(self.0, work)
    }
}

/// A record of numbers, in memory or in registers.
pub(crate) trait Record<N> {
    /// The same record of other numbers.
    type Of<M>;

    /// The same record of what each number turns into.
    fn map<M>(&self, f: impl Fn(&N) -> M + Copy) -> Self::Of<M>;

    /// Fetched from memory.
    #[inline(always)]
    fn load<V: Vector>(&self, on: On<V>) -> Self::Of<V>
    where
        N: AsRef<[f64]>,
    {
        self.map(
            #[inline(always)]
            |lanes| V::load(on.0, lanes.as_ref()),
        )
    }

    /// As it lies in memory.
    #[inline(always)]
    fn lanes<const L: usize>(&self) -> Self::Of<Lanes<L>>
    where
        N: Vector,
    {
        self.map(
            #[inline(always)]
            |value| value.lanes(),
        )
    }
}

impl<const L: usize> AsRef<[f64]> for Lanes<L> {
    #[inline(always)]
    fn as_ref(&self) -> &[f64] {
        &self.0
    }
}

/// Declares a record of numbers, of which there is one form in memory and one in registers.
macro_rules! record {
    ($(#[$about:meta])* $name:ident { $($(#[$what:meta])* $field:ident),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, Default)]
        pub(crate) struct $name<N> { $($(#[$what])* pub(crate) $field: N),+ }

        impl<N> $crate::lanes::Record<N> for $name<N> {
            type Of<M> = $name<M>;

            #[inline(always)]
            fn map<M>(&self, f: impl Fn(&N) -> M + Copy) -> $name<M> {
                $name { $($field: f(&self.$field)),+ }
            }
        }
    };
}
pub(crate) use record;

/// eˣ of one number, the arithmetic of [`Vector::exp`].
#[inline(always)]
pub fn exp(x: f64) -> f64 {
    Vector::exp(Lanes([x])).0[0]
}

/// Natural logarithm of one positive, normal number, the arithmetic of [`Vector::ln`].
#[inline(always)]
pub fn ln(x: f64) -> f64 {
    Vector::ln(Lanes([x])).0[0]
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
        let many = Vector::exp(Lanes([0.3, -2.0, 11.0, 500.0]));
        for (lane, x) in [0.3, -2.0, 11.0, 500.0].into_iter().enumerate() {
            assert_eq!(many.0[lane], exp(x));
        }
    }
}
