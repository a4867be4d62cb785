//! What must hold for any input: curves that only rise, inverses that undo, factors of exactly one at their reference, nothing that panics.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use physics::air::{
    dew_point_k, frost_point_k, humidity_of_suction, saturation_ice_pa, saturation_pa, saturation_slope_pa_k, suction_of_humidity_pa,
    wet_bulb_aspirated_k, wet_bulb_k,
};
use physics::exact::{Layer, condensation, stefan_front, step_convective, step_fixed};
use physics::frost::{freezing_point_k, pore_depression_k};
use physics::hydration::{drying_factor, equivalent_age_factor, nurse_saul_factor};
use physics::lime::{FiniteRate, front_after_m, millington_quirk_m2_s, thiery_m2_s};
use physics::moisture::{Kuenzel, VanGenuchten, kuenzel_diffusivity_m2_s, kuenzel_flux_potential_kg_ms, ponding_bounds_s};
use physics::surface::Face;
use physics::water::absorption_factor;
use physics::{en15026, hamstad};
use proptest::prelude::*;

/// Kelvin from −40 to 60 °C.
fn temperature() -> impl Strategy<Value = f64> {
    233.15_f64..333.15
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        Just(0.0),
        Just(-1.0),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::NEG_INFINITY),
        Just(1e-300),
        Just(1e300)
    ]
}

proptest! {
    #[test]
    fn saturation_rises(t in temperature(), step in 1e-3_f64..5.0) {
        prop_assert!(saturation_pa(t + step) > saturation_pa(t));
        prop_assert!(saturation_ice_pa(t + step) > saturation_ice_pa(t));
    }

    #[test]
    fn slope_is_the_derivative(t in temperature()) {
        let by_difference = (saturation_pa(t + 0.01) - saturation_pa(t - 0.01)) / 0.02;
        prop_assert!((saturation_slope_pa_k(t) / by_difference - 1.0).abs() < 1e-6);
    }

    #[test]
    fn dew_point_undoes_saturation(t in temperature()) {
        prop_assert!((dew_point_k(saturation_pa(t)).unwrap() - t).abs() < 1e-9);
        prop_assert!((frost_point_k(saturation_ice_pa(t)).unwrap() - t).abs() < 1e-9);
    }

    #[test]
    fn kelvin_equation_undoes_itself(t in temperature(), humidity in 1e-3_f64..1.0) {
        let suction = suction_of_humidity_pa(humidity, t).unwrap();
        prop_assert!(suction >= 0.0);
        prop_assert!((humidity_of_suction(suction, t) - humidity).abs() < 1e-13);
    }

    #[test]
    fn wet_bulbs_lie_between_dew_point_and_air(t in 274.15_f64..323.15, humidity in 0.05_f64..0.999, pressure in 8e4_f64..1.05e5) {
        let vapour = humidity * saturation_pa(t);
        let dew = dew_point_k(vapour).unwrap();
        for wet in [wet_bulb_aspirated_k(t, vapour, pressure).unwrap(), wet_bulb_k(t, vapour, pressure).unwrap()] {
            prop_assert!(dew <= wet && wet <= t, "dew {dew}, wet {wet}, air {t}");
        }
    }

    #[test]
    fn van_genuchten_falls_and_inverts(a in 1e-9_f64..1e-3, n in 1.05_f64..6.0, share in 0.02_f64..0.999) {
        let curve = VanGenuchten::new(200.0, a, n).unwrap();
        let suction = curve.suction_pa(200.0 * share).unwrap();
        prop_assert!((curve.water_kg_m3(suction) / (200.0 * share) - 1.0).abs() < 1e-9);
        prop_assert!(curve.water_kg_m3(suction * 1.1) < curve.water_kg_m3(suction));
        let step = 1e-4 * suction;
        let by_difference = (curve.water_kg_m3(suction + step) - curve.water_kg_m3(suction - step)) / (2.0 * step);
        let slope = curve.slope_kg_m3pa(suction);
        prop_assert!((slope - by_difference).abs() <= 1e-4 * slope.abs() + 1e-9 * 200.0 / suction, "{slope} {by_difference}");
    }

    #[test]
    fn mualem_rises_from_nothing_to_one(n in 1.05_f64..6.0, s in 0.0_f64..1.0) {
        let curve = VanGenuchten::new(200.0, 1e-6, n).unwrap();
        let k = curve.mualem_relative(s);
        prop_assert!((0.0..=1.0).contains(&k) && k <= curve.mualem_relative((s + 0.01).min(1.0)));
        prop_assert_eq!(curve.mualem_relative(1.0).to_bits(), 1.0_f64.to_bits());
        prop_assert_eq!(curve.mualem_relative(0.0).to_bits(), 0.0_f64.to_bits());
    }

    #[test]
    fn kuenzel_passes_through_its_points(free in 10.0_f64..400.0, share in 0.001_f64..0.7, humidity in 0.0_f64..1.0) {
        let curve = Kuenzel::new(free * share, free).unwrap();
        prop_assert!((curve.water_kg_m3(0.8) / (free * share) - 1.0).abs() < 1e-9);
        prop_assert!((curve.water_kg_m3(1.0) / free - 1.0).abs() < 1e-9);
        prop_assert!((curve.humidity(curve.water_kg_m3(humidity)) - humidity).abs() < 1e-9);
    }

    #[test]
    fn flux_potential_rises_with_the_diffusivity(a in 1e-3_f64..0.5, free in 10.0_f64..400.0, share in 0.01_f64..0.99) {
        let w = share * free;
        let step = 1e-5 * free;
        let slope = (kuenzel_flux_potential_kg_ms(a, free, w + step) - kuenzel_flux_potential_kg_ms(a, free, w - step)) / (2.0 * step);
        prop_assert!((slope / kuenzel_diffusivity_m2_s(a, free, w) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn benchmark_curves_invert(share in 0.05_f64..1.0) {
        let (w, humidity) = (146.0 * share, share);
        prop_assert!((en15026::water_kg_m3(en15026::suction_pa(w).unwrap()) / w - 1.0).abs() < 1e-10);
        prop_assert!((hamstad::bm2_humidity(hamstad::bm2_water_kg_m3(humidity).unwrap()).unwrap() - humidity).abs() < 1e-10);
    }

    #[test]
    fn equivalent_age_is_one_at_20_and_rises(energy in 1e3_f64..1e5, t in temperature(), step in 1e-3_f64..5.0) {
        prop_assert_eq!(equivalent_age_factor(energy, 293.15).to_bits(), 1.0_f64.to_bits());
        prop_assert!(equivalent_age_factor(energy, t + step) > equivalent_age_factor(energy, t));
        prop_assert!(nurse_saul_factor(t + step) >= nurse_saul_factor(t));
    }

    #[test]
    fn dry_pores_slow_hydration(h in 0.0_f64..0.99) {
        prop_assert!(drying_factor(h) < drying_factor(h + 0.01) && drying_factor(1.0) <= 1.0);
    }

    #[test]
    fn pore_laws_lie_between_nothing_and_free_air(porosity in 0.0_f64..1.0, s in -0.1_f64..1.1) {
        for law in [millington_quirk_m2_s, thiery_m2_s] {
            let d = law(1.5e-5, porosity, s);
            prop_assert!((0.0..=1.5e-5).contains(&d));
            prop_assert!(law(1.5e-5, porosity, s + 0.05) <= d);
        }
    }

    #[test]
    fn front_adds_up_however_it_is_cut(d in 1e-9_f64..1e-6, film in 1e-4_f64..1e-1, hours in 1.0_f64..2000.0, cut in 0.0_f64..1.0) {
        let step = |from, h: f64| front_after_m(from, d, film, 0.0175, 2500.0, 3600.0 * h).unwrap();
        let whole = step(0.0, hours);
        let parts = step(step(0.0, hours * cut), hours * (1.0 - cut));
        prop_assert!((whole - parts).abs() <= 1e-9 * whole + 1e-15, "{whole} {parts}");
    }

    #[test]
    fn uptake_never_beats_the_sharp_front_nor_the_gas(k in 1e-2_f64..100.0, d in 1e-9_f64..1e-6, film in 1e-4_f64..1e-1, hours in 0.1_f64..5000.0) {
        let (b0, air, time) = (2500.0, 0.0175, 3600.0 * hours);
        let law = FiniteRate { diffusivity_m2_s: d, rate_per_s: k, capacity_mol_m3: b0, air_mol_m3: air, film_m_s: film };
        let uptake = law.uptake_mol_m2(time).unwrap();
        let sharp = front_after_m(0.0, d, film, air, b0, time).unwrap() * b0;
        prop_assert!(uptake >= 0.0 && uptake <= sharp * (1.0 + 1e-9) && uptake <= film * air * time * (1.0 + 1e-9), "{uptake} {sharp}");
        prop_assert!(law.uptake_mol_m2(time * 1.1).unwrap() > uptake);
    }

    #[test]
    fn steps_stay_between_nothing_and_all(x in 0.0_f64..10.0, h in 0.1_f64..1e4, k in 0.02_f64..5.0, t in 1.0_f64..1e9) {
        let behind = step_convective(x, h, k, 1e-6, t);
        let held = step_fixed(x, 1e-6, t);
        prop_assert!((-1e-12..=1.0).contains(&behind) && (0.0..=1.0).contains(&held) && behind <= held + 1e-12, "{behind} {held}");
    }

    #[test]
    fn warmer_water_is_drawn_faster(t in 273.15_f64..323.15) {
        prop_assert!(absorption_factor(t + 1.0) > absorption_factor(t));
        prop_assert_eq!(absorption_factor(293.15).to_bits(), 1.0_f64.to_bits());
    }

    #[test]
    fn smaller_pores_and_more_suction_freeze_later(r in 2e-9_f64..1e-6, suction in 0.0_f64..1e8) {
        prop_assert!(pore_depression_k(r).unwrap() > pore_depression_k(r * 1.1).unwrap());
        prop_assert!(freezing_point_k(suction + 1e3) < freezing_point_k(suction));
    }

    #[test]
    fn a_face_rests_where_it_gains_nothing(
        air in 253.15_f64..313.15, humidity in 0.1_f64..1.0, h in 1.0_f64..60.0, sun in 0.0_f64..800.0, sky in 150.0_f64..450.0,
    ) {
        let face = Face {
            air_k: air, vapour_pa: humidity * saturation_pa(air), convective_w_m2k: h, vapour_film_s_m: 7e-9 * h, latent_j_kg: 2.5e6, face_humidity: 1.0,
            emissivity: 0.9, longwave_w_m2: sky, sun_w_m2: sun, behind_w_m2k: 2.0, behind_k: 283.15,
        };
        let rest = face.rest_k().unwrap();
        prop_assert!(face.gain_w_m2(rest).abs() < 1e-6 && face.gain_w_m2(rest - 1.0) > 0.0 && face.gain_w_m2(rest + 1.0) < 0.0);
    }

    #[test]
    fn condensation_only_where_vapour_outruns_cold(
        thick in prop::collection::vec((0.005_f64..0.6, 0.03_f64..3.0, 1.0_f64..200.0), 1..6), outside in 253.15_f64..288.15, humidity in 0.3_f64..0.8,
    ) {
        let layers: Vec<Layer> =
            thick.iter().map(|&(thickness_m, conductivity_w_mk, vapour_resistance)| Layer { thickness_m, conductivity_w_mk, vapour_resistance }).collect();
        let inside = (293.15, humidity * saturation_pa(293.15));
        for found in condensation(&layers, (0.04, 0.13), (outside, 0.8 * saturation_pa(outside)), inside).unwrap() {
            prop_assert!(found.rate_kg_m2s > 0.0 && found.joint > 0 && found.joint < layers.len());
        }
    }

    /// Whatever the numbers, a value or a refusal, never a panic.
    #[test]
    fn nothing_panics(a in any_number(), b in any_number(), c in any_number(), d in any_number()) {
        let _ = (dew_point_k(a), frost_point_k(a), suction_of_humidity_pa(a, b), wet_bulb_k(a, b, c), wet_bulb_aspirated_k(a, b, c));
        let _ = (stefan_front(a), ponding_bounds_s(a, b), pore_depression_k(a), front_after_m(a, b, c, d, a, b), Kuenzel::new(a, b));
        let _ = VanGenuchten::new(a, b, c).map(|curve| (curve.suction_pa(d), curve.water_kg_m3(d), curve.slope_kg_m3pa(d), curve.mualem_relative(d)));
        let law = FiniteRate { diffusivity_m2_s: a, rate_per_s: b, capacity_mol_m3: c, air_mol_m3: d, film_m_s: a };
        let _ = (law.uptake_mol_m2(b), law.depth_of_share_m(c, d));
        let _ = (en15026::suction_pa(a), hamstad::bm2_humidity(a), hamstad::bm2_water_kg_m3(a));
        let layer = Layer { thickness_m: a, conductivity_w_mk: b, vapour_resistance: c };
        let _ = condensation(&[layer, layer], (a, b), (c, d), (b, a));
        let _ = condensation(&[], (a, b), (c, d), (b, a));
    }
}
