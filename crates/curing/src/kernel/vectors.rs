//! Vector instructions chosen at run time: the step of a block of eight is compiled for each kind of machine, and the copy to run is picked when the
//! column is built. This module must never change a bit of a result: the kernel asks only for operations that IEEE 754 defines, never for a fused
//! multiply-add. A single lane has nothing to gain from vectors and is stepped with plain arithmetic.

use fearless_simd::Level;

use crate::kernel::column::{Column, Taken};
use crate::kernel::conditions::Conditions;
use crate::lanes::{Eight, Lanes, On};

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

impl Vectors {
    /// The level this machine has, not above what is asked for.
    pub(crate) fn level(self) -> Level {
        match self {
            Vectors::Best => Level::new(),
            #[cfg(target_arch = "x86_64")]
            Vectors::AtMostAvx2 => Level::new().as_avx2().map_or(Level::baseline(), Level::Avx2),
            _ => Level::baseline(),
        }
    }
}

/// How a block of `L` lanes is stepped. Told by [`Width`], so that the step is compiled here and nowhere else.
#[derive(Clone, Copy, Debug)]
pub struct Stepper<const L: usize>(pub(crate) fn(&mut Column<L>, &Conditions<L>, &Conditions<L>, &[bool; L], &Lanes<L>) -> Taken<L>);

/// Widths of block that the kernel is compiled for: one lane, and eight in the registers of the machine.
pub trait Width<const L: usize> {
    /// How a block of this width is stepped.
    const STEPPER: Stepper<L>;
}

impl Width<1> for Column<1> {
    const STEPPER: Stepper<1> = Stepper(|column, inner, outer, active, dt| column.step_on(On::<Lanes<1>>(()), inner, outer, active, dt));
}

impl Width<8> for Column<8> {
    const STEPPER: Stepper<8> = Stepper(step_eight);
}

/// One step of eight lanes with the instructions the column was built for.
fn step_eight(column: &mut Column<8>, inner: &Conditions<8>, outer: &Conditions<8>, active: &[bool; 8], dt: &Lanes<8>) -> Taken<8> {
    match column.level {
        #[cfg(target_arch = "x86_64")]
        Level::Avx512(has) => column.step_on(On::<Eight<_>>(has), inner, outer, active, dt),
        #[cfg(target_arch = "x86_64")]
        Level::Avx2(has) => column.step_on(On::<Eight<_>>(has), inner, outer, active, dt),
        #[cfg(target_arch = "x86_64")]
        // Every such machine has SSE2.
        level => match level.as_sse2() {
            Some(has) => column.step_on(On::<Eight<_>>(has), inner, outer, active, dt),
            None => Taken { done: [false; 8], worst: [0; 8], iterations: 0 },
        },
        #[cfg(target_arch = "aarch64")]
        Level::Neon(has) => column.step_on(On::<Eight<_>>(has), inner, outer, active, dt),
        #[cfg(not(target_arch = "x86_64"))]
        _ => column.step_on(On::<Lanes<8>>(()), inner, outer, active, dt),
    }
}
