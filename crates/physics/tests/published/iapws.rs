//! Water and ice. Sources: NIST steam tables (NISTIR 5078, computed from IAPWS-95), saturation by temperature; Perry's Chemical Engineers' Handbook, 9th
//! edition, table 2-135 (the same formulation); IAPWS R14-08 (2011), check value of table 3; IAPWS SR1-86 (1992), check values; IAPWS R1-76 (2014).

use physics::air::{evaporation_j_kg, saturation_iapws_pa, saturation_ice_iapws_pa, saturation_ice_pa, saturation_pa};
use physics::constants::kelvin;
use physics::water::{density_kg_m3, surface_tension_n_m, viscosity_pa_s};

use super::near;

/// Heat of evaporation. *Published*: NISTIR 5078, kJ/kg to one or two decimals. Limit: the straight line's stated 0.01 % between 0 and 30 °C.
#[test]
fn heat_of_evaporation() {
    for (t_c, table_kj_kg) in
        [(0.01, 2500.9), (5.0, 2489.1), (10.0, 2477.2), (15.0, 2465.3), (20.0, 2453.5), (25.0, 2441.7), (30.0, 2429.8)]
    {
        near("heat of evaporation (kJ/kg)", evaporation_j_kg(kelvin(t_c)) / 1e3, table_kj_kg, 0.25);
    }
    near("heat of evaporation at 50 °C (kJ/kg)", evaporation_j_kg(kelvin(50.0)) / 1e3, 2382.0, 1.2);
}

/// Saturation pressure. *Published*: Perry's table, MPa to four figures or six decimals. Limit: half the last figure printed.
#[test]
fn saturation_of_the_handbook() {
    for (t_k, table_mpa) in
        [(273.16, 0.000_612), (280.0, 0.000_992), (290.0, 0.001_920), (300.0, 0.003_537), (310.0, 0.006_231), (320.0, 0.010_546)]
    {
        near("saturation pressure (MPa)", saturation_iapws_pa(t_k) / 1e6, table_mpa, 0.6e-6);
    }
}

/// *Published*: check values of IAPWS SR1-86 at the triple point, the normal boiling point and the critical point (from memory), and of IAPWS-IF97 at
/// 300 K (3536.58941 Pa; another equation of the same data, hence 0.01 %).
#[test]
fn saturation_at_the_check_points() {
    near("at the triple point (Pa)", saturation_iapws_pa(273.16), 611.657, 0.005);
    near("at the normal boiling point (Pa)", saturation_iapws_pa(373.1243), 101_325.0, 5.0);
    near("at the critical point (Pa)", saturation_iapws_pa(647.096), 22.064e6, 1.0);
    near("at 300 K (Pa)", saturation_iapws_pa(300.0), 3_536.589_41, 0.36);
}

/// Over ice. *Published*: IAPWS R14-08, check value at 230 K, 8.94735 Pa. The short form of EN ISO 13788 follows it within 0.6 % from −20 to 0 °C
/// (the limit of the form, *computed here*).
#[test]
fn sublimation_pressure() {
    near("over ice at 230 K (Pa)", saturation_ice_iapws_pa(230.0), 8.947_35, 5e-6);
    for t_c in [-20.0, -15.0, -10.0, -5.0, 0.0] {
        let reference = saturation_ice_iapws_pa(kelvin(t_c));
        near("short form over ice (Pa)", saturation_ice_pa(kelvin(t_c)), reference, 0.006 * reference);
    }
}

/// Over supercooled water. *Published*: Murphy and Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539: 286.453 Pa at −10 °C and 125.504 Pa at −20 °C.
/// Limits: what the head of `air` says of the engine's form.
#[test]
fn supercooled_water() {
    near("engine at −10 °C (Pa)", saturation_pa(kelvin(-10.0)), 286.453, 0.0032 * 286.453);
    near("engine at −20 °C (Pa)", saturation_pa(kelvin(-20.0)), 125.504, 0.0078 * 125.504);
    near("IAPWS continued to −20 °C (Pa)", saturation_iapws_pa(kelvin(-20.0)), 125.504, 0.001 * 125.504);
}

/// Viscosity and density. *Published*: Perry's table, µPa s and mol/dm³ at saturation. Limits: the tables differ by pressure and printing; 0.1 %
/// for viscosity (0.2 % at 273 K), 0.01 % for density.
#[test]
fn liquid_water() {
    for (t_k, table_upa_s, limit) in
        [(273.16, 1791.2, 2e-3), (280.0, 1433.7, 1e-3), (290.0, 1084.0, 1e-3), (300.0, 853.84, 1e-3), (310.0, 693.54, 1e-3)]
    {
        near("viscosity (µPa s)", viscosity_pa_s(t_k) * 1e6, table_upa_s, limit * table_upa_s);
    }
    for (t_k, table_mol_dm3) in [(273.16, 55.497), (280.0, 55.501), (290.0, 55.440), (300.0, 55.315), (310.0, 55.139)] {
        near("density (kg/m³)", density_kg_m3(t_k), table_mol_dm3 * 18.015_268, 0.1);
    }
}

/// Surface tension. *Published*: IAPWS R1-76, table 1, from memory: 75.65, 74.22, 72.74 and 71.19 mN/m at 0.01, 10, 20 and 30 °C. Limit: half the last figure, and the table's own rounding.
#[test]
fn surface_tension() {
    for (t_c, table_mn_m) in [(0.01, 75.65), (10.0, 74.22), (20.0, 72.74), (30.0, 71.19)] {
        near("surface tension (mN/m)", surface_tension_n_m(kelvin(t_c)) * 1e3, table_mn_m, 0.011);
    }
}
