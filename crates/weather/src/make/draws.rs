//! Random draws keyed by (seed, year, purpose): the same whoever asks first.

use physics::numbers::{cos, ln, sin};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// What a stream of draws is for. A new purpose is added at the end, so that the others keep their draws.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub(super) enum Purpose {
    Regime,
    Wet,
    Amount,
    Temperature,
    Range,
    Light,
    LightHours,
    Humidity,
    Wind,
    WindHours,
    Direction,
    DirectionHours,
    Bursts,
    Drizzle,
}

/// A stream of draws.
pub(super) struct Draws {
    source: ChaCha8Rng,
    spare: Option<f64>,
}

impl Draws {
    /// The stream of a purpose in a year under a seed.
    pub(super) fn new(seed: u64, year: i32, purpose: Purpose) -> Self {
        let mut key = [0u8; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        key[8..12].copy_from_slice(&year.to_le_bytes());
        key[12] = purpose as u8;
        key[16..].copy_from_slice(b"weather, by hour");
        Self { source: ChaCha8Rng::from_seed(key), spare: None }
    }

    /// Evenly from 0 (included) to 1 (excluded).
    pub(super) fn even(&mut self) -> f64 {
        (self.source.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// From the normal distribution of mean 0 and standard deviation 1 (Box & Muller 1958).
    pub(super) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * ln(1.0 - self.even())).sqrt();
        let angle = 2.0 * std::f64::consts::PI * self.even();
        self.spare = Some(radius * sin(angle));
        radius * cos(angle)
    }

    /// From the exponential distribution of mean 1.
    pub(super) fn exponential(&mut self) -> f64 {
        -ln(1.0 - self.even())
    }
}

/// A first-order chain of mean 0 and standard deviation 1.
pub(super) struct Chain {
    draws: Draws,
    memory: f64,
    fresh: f64,
    at: f64,
}

impl Chain {
    /// A chain whose value correlates by `memory` with the one before, begun in its steady state.
    pub(super) fn new(mut draws: Draws, memory: f64) -> Self {
        let at = draws.normal();
        Self { draws, memory, fresh: (1.0 - memory * memory).sqrt(), at }
    }

    /// The next value.
    pub(super) fn step(&mut self) -> f64 {
        self.at = self.memory * self.at + self.fresh * self.draws.normal();
        self.at
    }
}
