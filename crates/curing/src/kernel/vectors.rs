//! Vector instructions chosen at run time: the step of a block is compiled for the widest the machine may have and for every machine of its kind, and
//! the copy to run is picked when the column is built. This module must never change a bit of a result: only instructions that do the operations
//! IEEE 754 defines are enabled, never a fused multiply-add.

use crate::kernel::column::{Column, Taken};
use crate::kernel::conditions::Conditions;
use crate::lanes::Lanes;

/// Widest vector instructions a column may be stepped with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Vectors {
    /// The widest the machine has.
    #[default]
    Best,
    /// At most AVX2, 256 bits; less where the machine has less.
    AtMostAvx2,
    /// What every machine of the kind it was built for has.
    Baseline,
}

/// Vector instructions found on the machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Level {
    Baseline,
    #[cfg(target_arch = "x86_64")]
    Avx2,
    #[cfg(target_arch = "x86_64")]
    Avx512,
}

impl Vectors {
    /// The level this machine has, not above what is asked for.
    pub(crate) fn level(self) -> Level {
        #[cfg(target_arch = "x86_64")]
        {
            let has_avx2 = std::arch::is_x86_feature_detected!("avx2");
            let has_avx512 = std::arch::is_x86_feature_detected!("avx512f")
                && std::arch::is_x86_feature_detected!("avx512dq")
                && std::arch::is_x86_feature_detected!("avx512vl");
            match self {
                Vectors::Best if has_avx512 && has_avx2 => return Level::Avx512,
                Vectors::Best | Vectors::AtMostAvx2 if has_avx2 => return Level::Avx2,
                _ => {}
            }
        }
        Level::Baseline
    }
}

impl<const L: usize> Column<L> {
    /// One step of every active lane, with the instructions the column was built for. A single lane has nothing to gain from them.
    #[cfg(target_arch = "x86_64")]
    #[expect(unsafe_code, reason = "a function compiled for more instructions than every machine has can be called in no other way")]
    pub(crate) fn step(&mut self, inner: &Conditions<L>, outer: &Conditions<L>, active: &[bool; L], dt: Lanes<L>) -> Taken<L> {
        if L == 1 {
            return self.step_here(inner, outer, active, dt);
        }
        match self.level {
            Level::Baseline => self.step_here(inner, outer, active, dt),
            // SAFETY: a level stands in `self.level` only where `Vectors::level` has found its instructions on this machine; nothing else is asked of
            // the caller.
            level => unsafe {
                if level == Level::Avx512 { step_avx512(self, inner, outer, active, dt) } else { step_avx2(self, inner, outer, active, dt) }
            },
        }
    }

    /// One step of every active lane.
    #[cfg(not(target_arch = "x86_64"))]
    pub(crate) fn step(&mut self, inner: &Conditions<L>, outer: &Conditions<L>, active: &[bool; L], dt: Lanes<L>) -> Taken<L> {
        self.step_here(inner, outer, active, dt)
    }
}

/// The step compiled for AVX2.
#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2")]
fn step_avx2<const L: usize>(
    column: &mut Column<L>,
    inner: &Conditions<L>,
    outer: &Conditions<L>,
    active: &[bool; L],
    dt: Lanes<L>,
) -> Taken<L> {
    column.step_here(inner, outer, active, dt)
}

/// The step compiled for AVX-512.
#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2,avx512f,avx512dq,avx512vl")]
fn step_avx512<const L: usize>(
    column: &mut Column<L>,
    inner: &Conditions<L>,
    outer: &Conditions<L>,
    active: &[bool; L],
    dt: Lanes<L>,
) -> Taken<L> {
    column.step_here(inner, outer, active, dt)
}
