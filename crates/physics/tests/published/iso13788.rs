//! EN ISO 13788:2012: saturation pressure, dew point, and condensation between layers. The standard's own worked example was not at hand; formulae from memory,
//! numbers *computed apart* from them with NumPy unless said otherwise.

use physics::air::{dew_point_iso13788_k, saturation_iapws_pa, saturation_iso13788_pa, saturation_pa};
use physics::constants::{celsius, kelvin};
use physics::exact::{Layer, condensation, face_temperatures_k, heat_flow_w_m2, vapour_flow_kg_m2s};

use super::near;

/// *Computed apart*. Limit: the decimals given.
#[test]
fn saturation() {
    let table = [
        (-20.0, 102.740),
        (-10.0, 259.333),
        (0.0, 610.5),
        (5.0, 871.865),
        (10.0, 1227.310),
        (15.0, 1704.407),
        (20.0, 2336.951),
        (25.0, 3165.920),
        (30.0, 4240.505),
    ];
    for (t_c, pa) in table {
        near("saturation pressure (Pa)", saturation_iso13788_pa(kelvin(t_c)), pa, 6e-4);
    }
}

/// The short form lies 0.05 to 0.16 % below IAPWS between 0 and 30 °C, at 0 °C 0.12 %.
#[test]
fn saturation_is_low_by_what_is_said() {
    for t_c in 0..=30 {
        let t = kelvin(f64::from(t_c));
        let low = 1.0 - saturation_pa(t) / saturation_iapws_pa(t);
        assert!((0.0005..0.0016).contains(&low), "at {t_c} °C low by {low}");
    }
}

/// *Computed apart*. Limit: the decimals given.
#[test]
fn dew_point() {
    for (t_c, humidity, dew_c) in [(20.0, 0.5, 9.269), (10.0, 0.8, 6.714), (5.0, 0.9, 3.500), (0.0, 0.8, -2.681)] {
        let dew = dew_point_iso13788_k(humidity * saturation_iso13788_pa(kelvin(t_c))).unwrap();
        near("dew point (°C)", celsius(dew), dew_c, 6e-4);
    }
}

fn layer(mm: f64, conductivity_w_mk: f64, vapour_resistance: f64) -> Layer {
    Layer { thickness_m: mm / 1000.0, conductivity_w_mk, vapour_resistance }
}

const FILMS: (f64, f64) = (0.04, 0.13);

fn climate() -> ((f64, f64), (f64, f64)) {
    let (outside, inside) = (kelvin(0.0), kelvin(20.0));
    ((outside, 0.85 * saturation_iso13788_pa(outside)), (inside, 0.55 * saturation_iso13788_pa(inside)))
}

/// A rendered stone wall, plastered, without condensation. *Computed apart*. Limits: the decimals given.
#[test]
fn a_solid_wall_stays_dry() {
    let layers = [layer(20.0, 0.8, 10.0), layer(600.0, 2.3, 40.0), layer(25.0, 0.7, 10.0)];
    let (outside, inside) = climate();
    near("U (W/m²K)", heat_flow_w_m2(&layers, FILMS, outside.0, inside.0).unwrap() / 20.0, 2.0342, 6e-5);
    let faces = face_temperatures_k(&layers, FILMS, outside.0, inside.0).unwrap();
    for (face, t_c) in faces.iter().zip([1.627, 2.645, 13.258, 14.711]) {
        near("temperature (°C)", celsius(*face), t_c, 6e-4);
    }
    near("vapour flow (1e-9 kg/m²s)", 1e9 * vapour_flow_kg_m2s(&layers, outside.1, inside.1).unwrap(), 6.269, 6e-4);
    assert!(condensation(&layers, FILMS, outside, inside).unwrap().is_empty());
}

/// The same wall insulated inside: vapour condenses between stone and insulation. *Computed apart*. Limits: the decimals given; 0.05 g/m² in 30 days.
#[test]
fn inside_insulation_condenses() {
    let layers = [layer(20.0, 0.8, 10.0), layer(600.0, 2.3, 40.0), layer(100.0, 0.035, 1.0), layer(12.5, 0.25, 10.0)];
    let (outside, inside) = climate();
    near("U (W/m²K)", heat_flow_w_m2(&layers, FILMS, outside.0, inside.0).unwrap() / 20.0, 0.29735, 6e-6);
    let found = condensation(&layers, FILMS, outside, inside).unwrap();
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].joint, 2, "the joint between stone and insulation");
    near("condensate (g/m² in 30 days)", found[0].rate_kg_m2s * 30.0 * 86_400.0 * 1e3, 1339.7, 0.06);
}

/// Two layers by hand, *exact solution*: equal thickness, resistances 1:3, so the joint stands a quarter of the way, and the flow is 2e-10·Δp/(μ₁d + μ₂d).
#[test]
fn two_layers_by_hand() {
    let layers = [layer(100.0, 3.0, 10.0), layer(100.0, 1.0, 30.0)];
    let faces = face_temperatures_k(&layers, (0.0, 0.0), 280.0, 288.0).unwrap();
    near("joint (K)", faces[1], 282.0, 1e-12);
    near("flow (kg/m²s)", vapour_flow_kg_m2s(&layers, 600.0, 1000.0).unwrap(), 2e-10 * 400.0 / 4.0, 1e-22);
}
