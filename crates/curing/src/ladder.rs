//! The pore net of a coat from placing to firm: a short ladder of tables from that of the wet mix to that of the hardened mortar. Between the two every
//! value at a suction (water held, flux potential, share of vapour let through, heat conductivity) lies on the straight line of firmness, so that
//! each rung is a material in its own right and nothing overshoots. How firm a coat is, this module must never decide.
//!
//! The heat capacity of the dry matter stays that of the mix: carbonated, it is 3 to 5 % more for the carbon dioxide taken up.

use crate::MaterialTables;
use crate::lanes::exp;
use crate::material::{LEAST_LN_SUCTION, SEGMENTS, SEGMENTS_PER_UNIT, Segment, place};

/// Rungs of a ladder, fresh and hardened included. A step between them changes what is held at a suction by a seventh of the whole change.
pub const STAGES: usize = 8;

/// A material at one stage.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pores<'a> {
    pub(crate) segments: &'a [Segment],
    pub(crate) dry_heat_j_m3k: f64,
}

impl Pores<'_> {
    /// Water at saturation, kg/m³.
    pub(crate) fn saturation_kg_m3(&self) -> f64 {
        self.segments.first().map_or(0.0, |segment| segment.water)
    }

    /// The segment of a value of y and the offset into it.
    pub(crate) fn segment(&self, y: f64) -> (&Segment, f64) {
        let (index, offset) = place(y);
        (&self.segments[index.min(self.segments.len() - 1)], offset)
    }

    /// Water held at a value of y, kg/m³.
    pub(crate) fn water_kg_m3(&self, y: f64) -> f64 {
        let (segment, offset) = self.segment(y);
        segment.water + segment.water_slope * offset
    }

    /// Flux potential of liquid at a value of y, kg/(m s).
    pub(crate) fn potential_kg_ms(&self, y: f64) -> f64 {
        let (segment, offset) = self.segment(y);
        segment.potential + segment.potential_slope * offset
    }

    /// The segment in which so much water is held and the offset into it, clamped to the table.
    fn holding(&self, water_kg_m3: f64) -> (usize, f64) {
        let index = self.segments.partition_point(|segment| segment.water > water_kg_m3).saturating_sub(1);
        let offset = self.segments.get(index).map_or(0.0, |segment| (water_kg_m3 - segment.water) / segment.water_slope);
        (index, offset.clamp(0.0, 1.0 / SEGMENTS_PER_UNIT))
    }

    /// Suction at which so much water is held, Pa, clamped to the table.
    pub(crate) fn suction_pa(&self, water_kg_m3: f64) -> f64 {
        let (index, offset) = self.holding(water_kg_m3);
        self.segments.get(index).map_or(1.0, |segment| segment.suction * exp(offset))
    }

    /// The same as y = ln(suction).
    pub(crate) fn y_of_water(&self, water_kg_m3: f64) -> f64 {
        let (index, offset) = self.holding(water_kg_m3);
        LEAST_LN_SUCTION + index as f64 / SEGMENTS_PER_UNIT + offset
    }
}

impl MaterialTables {
    /// A coat that hardens: tables from the wet mix's to the hardened mortar's, one behind the other. Two nets that are the same stay one.
    pub fn hardening(fresh: &Self, hardened: &Self) -> Self {
        let mut ladder = fresh.clone();
        if fresh.segments == hardened.segments && fresh.heat_conductivity == hardened.heat_conductivity {
            return ladder;
        }
        ladder.segments.truncate(SEGMENTS);
        ladder.heat_conductivity.truncate(SEGMENTS);
        for stage in 1..STAGES {
            let firmness = stage as f64 / (STAGES - 1) as f64;
            let pairs = fresh.segments.iter().zip(&hardened.segments).take(SEGMENTS);
            ladder.segments.extend(pairs.map(|(fresh, hardened)| fresh.towards(hardened, firmness)));
            let pairs = fresh.heat_conductivity.iter().zip(&hardened.heat_conductivity).take(SEGMENTS);
            ladder
                .heat_conductivity
                .extend(pairs.map(|(fresh, hardened)| [0, 1].map(|term| between(fresh[term], hardened[term], firmness))));
        }
        ladder
    }

    /// How many stages it has: one for a material that does not change.
    pub fn stages(&self) -> usize {
        self.segments.len() / SEGMENTS
    }

    /// The material at a stage, 0 the first.
    pub(crate) fn pores(&self, stage: usize) -> Pores<'_> {
        let first = stage * SEGMENTS;
        Pores { segments: &self.segments[first..first + SEGMENTS], dry_heat_j_m3k: self.dry_heat_j_m3k() }
    }

    /// Water held at a suction, Pa, at a stage, kg/m³.
    pub fn water_at_stage_kg_m3(&self, stage: usize, suction_pa: f64) -> f64 {
        self.pores(stage.min(self.stages() - 1)).water_kg_m3(crate::lanes::ln(suction_pa.max(1.0)))
    }
}

impl Segment {
    /// The segment at a share of the way to another.
    fn towards(&self, other: &Self, share: f64) -> Self {
        Self {
            water: between(self.water, other.water, share),
            water_slope: between(self.water_slope, other.water_slope, share),
            potential: between(self.potential, other.potential, share),
            potential_slope: between(self.potential_slope, other.potential_slope, share),
            factor: between(self.factor, other.factor, share),
            factor_slope: between(self.factor_slope, other.factor_slope, share),
            suction: self.suction,
        }
    }
}

/// A number at a share of the way from one to another, exact at both ends.
fn between(from: f64, to: f64, share: f64) -> f64 {
    from * (1.0 - share) + to * share
}
