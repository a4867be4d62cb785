//! Psychrometry of the World Meteorological Organization. Source: WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B (formulae, from memory).
//! Numbers: *computed apart* from those formulae with NumPy.

use physics::air::{
    humidity_of_suction, saturation_pa, saturation_wmo_ice_pa, saturation_wmo_pa, suction_of_humidity_pa, vapour_density_kg_m3,
    wet_bulb_aspirated_k,
};
use physics::constants::{STANDARD_ATMOSPHERE_PA, celsius, kelvin};
use physics::water::pore_radius_m;

use super::near;

/// *Computed apart*. Limit: the decimals given.
#[test]
fn magnus() {
    for (t_c, water_pa) in
        [(-20.0, 125.965), (-10.0, 287.031), (0.0, 611.2), (5.0, 871.743), (10.0, 1226.030), (20.0, 2332.596), (30.0, 4233.724)]
    {
        near("over water (Pa)", saturation_wmo_pa(kelvin(t_c)), water_pa, 6e-4);
    }
    for (t_c, ice_pa) in [(-20.0, 103.261), (-10.0, 259.874), (0.0, 611.2)] {
        near("over ice (Pa)", saturation_wmo_ice_pa(kelvin(t_c)), ice_pa, 6e-4);
    }
}

/// *Computed apart* with the WMO's own saturation; the engine's differs by 0.2 %, which moves a wet bulb by up to 0.01 K.
#[test]
fn aspirated_wet_bulb() {
    for (t_c, humidity, wet_c) in [(20.0, 0.5, 13.84), (10.0, 0.8, 8.31), (15.0, 0.7, 11.95), (5.0, 0.6, 2.14), (30.0, 0.3, 18.09)] {
        let wet = wet_bulb_aspirated_k(kelvin(t_c), humidity * saturation_pa(kelvin(t_c)), STANDARD_ATMOSPHERE_PA).unwrap();
        near("aspirated wet bulb (°C)", celsius(wet), wet_c, 0.016);
    }
}

/// Air in balance with pores at 20 °C, Kelvin's equation: suction in MPa and radius of the largest full pore in nm, *computed apart*. Limit: the decimals given.
#[test]
fn kelvin_equation() {
    let t = kelvin(20.0);
    for (humidity, suction_mpa, radius_nm) in
        [(0.5, 93.77, 1.55), (0.8, 30.19, 4.8), (0.9, 14.25, 10.2), (0.95, 6.939, 21.0), (0.99, 1.360, 107.0)]
    {
        let suction = suction_of_humidity_pa(humidity, t).unwrap();
        near("suction (MPa)", suction / 1e6, suction_mpa, 1e-3 * suction_mpa);
        near("radius (nm)", pore_radius_m(suction, t) * 1e9, radius_nm, 6e-3 * radius_nm);
        near("round trip", humidity_of_suction(suction, t), humidity, 1e-14);
    }
}

/// Vapour in air at 20 °C and 50 %: 8.637 g/m³, *computed apart*. Limit: 0.01.
#[test]
fn absolute_humidity() {
    near("vapour (g/m³)", 1e3 * vapour_density_kg_m3(0.5 * saturation_pa(kelvin(20.0)), kelvin(20.0)), 8.637, 0.01);
}
