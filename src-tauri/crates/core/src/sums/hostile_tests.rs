//! Hostile numbers: every sum gives finite results or refuses in words, in both languages.

use chrono::{DateTime, NaiveDate};
use proptest::prelude::*;
use serde_json::Value;

use super::calc::{
    DewIn, DilutionIn, FilmIn, LadderIn, MassIn, PotLifeIn, SilicaIn, StrengthIn, VibrationIn,
};
use super::chemistry::{Agent, Dissolved};
use super::curve::Form;
use super::evaporation::{FreshFace, evaporation};
use super::fit::{Break, fit};
use super::maturity::{History, Model, Reading};
use super::noise::{Spell, noise};
use super::silica::{DustSpell, DustTool, Setting, Surroundings};
use super::vibration::Use;
use super::{SumError, air, calc, calendar, chemistry, coat, cost, grit, silica, strength, tool, wash};
use crate::body::surface::{DustControl, GritScale};
use crate::text::Lang;

/// Numbers nobody means, and some that are nearly right.
fn hostile() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::NEG_INFINITY),
        Just(1e308),
        Just(-1e308),
        Just(5e-324),
        Just(-0.0),
        Just(0.0),
        Just(-400.0),
        Just(-1.0),
        any::<f64>(),
        -100.0..100.0f64,
        0.0..10_000.0f64,
    ]
}

fn refused(error: &SumError) {
    for lang in [Lang::En, Lang::Es] {
        assert!(error.say(lang).len() > 10, "{error:?} says too little");
    }
}

fn finite(result: Result<f64, SumError>) {
    match result {
        Ok(value) => assert!(value.is_finite(), "{value}"),
        Err(error) => refused(&error),
    }
}

/// JSON has no NaN: serde writes `null`, so every number that should stand is looked for by key.
fn sound<T: serde::Serialize>(result: Result<T, SumError>, keys: &[&str]) {
    match result {
        Ok(out) => {
            let value = serde_json::to_value(&out).expect("serialises");
            for key in keys {
                assert!(
                    value[key].as_f64().is_some_and(f64::is_finite) || value[key] != Value::Null,
                    "{key}: {value}"
                );
            }
        }
        Err(error) => refused(&error),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn calc_is_sound(v in prop::array::uniform7(hostile()), scale in 0..4usize, agent in 0..5usize) {
        let lang = Lang::En;
        let [a, b, c, d, e, f, g] = v;
        sound(calc::dew(DewIn { air_c: a, rh_pct: b, surface_c: Some(c) }, lang), &["dew_point_c", "margin_k"]);
        let agent = Agent::ALL[agent];
        let washing = DilutionIn {
            ratio: a, volume_l: b, agent: Some(agent), concentrate_pct: Some(c), density_kg_per_l: Some(d),
        };
        sound(calc::dilution(washing, lang), &["water_l", "concentrate_l", "strength_mol_per_l", "ph_estimate"]);
        let coats = FilmIn { quantity_l: a, area_m2: b, solids_pct: c, coats: d, thinner_pct: e };
        sound(calc::film(coats, lang), &["wet_film_um", "dry_film_um", "coverage_m2_per_l"]);
        sound(calc::ladder(LadderIn { from: a, to: b, scale: GritScale::ALL[scale] }, lang), &["steps"]);
        sound(calc::pot_life(PotLifeIn { minutes: a, at_c: b, now_c: c }, lang), &["minutes"]);
        let slab = MassIn {
            length_mm: a, width_mm: b, thickness_mm: c, density_kgm3: d,
            cut_outs_m2: e, added_kg: f, per_person_kg: g,
        };
        sound(calc::mass(slab, lang), &["mass_kg", "persons"]);
        let points = vec![Use { vibration_ms2: a, minutes: b }, Use { vibration_ms2: c, minutes: d }];
        sound(calc::vibration(VibrationIn { points }, lang), &["a8_ms2", "points"]);
        let dusty = SilicaIn {
            tool: DustTool::HandheldGrinder, control: DustControl::Water, place: Surroundings::Indoors,
            hours: a, setting: Setting::Site,
        };
        sound(calc::silica(dusty, lang), &["in_table"]);
    }

    #[test]
    fn the_other_sums_are_sound(v in prop::array::uniform5(hostile()), agent in 0..5usize) {
        let [a, b, c, d, e] = v;
        finite(air::absolute_humidity_g_per_m3(a, b));
        finite(air::humidity_when_warmed_pct(a, b, c));
        finite(air::coat_window(a, b, &air::CoatLimits { margin_k: Some(c), ..Default::default() }).map(|w| w.dew_point_c));
        let face = FreshFace { concrete_c: a, air_c: b, rh_pct: c, wind_km_per_h: d };
        finite(evaporation(&face).map(|out| out.loss_kg_per_m2_h + out.menzel_kg_per_m2_h));
        finite(coat::quantity_to_buy_l(a, b, c, d));
        finite(coat::coverage_m2_per_l(a, b));
        finite(coat::volume_l(a, b));
        finite(coat::two_part_split(a, b, c).map(|(x, y)| x + y));
        finite(coat::judge_quantity(a, b, c).map(|(_, off)| off));
        finite(cost::over_estimate_pct(a, b));
        finite(cost::learnt_min_per_m2(&[(a, b), (c, d)]));
        finite(cost::cost(&[cost::Effort { minutes: a, materials: b }], c, Some(d)).map(|out| out.total));
        finite(grit::scratch_um(grit::Grit { number: a, scale: GritScale::P }).map(|(_, most)| most));
        finite(noise(&[Spell { level_dba: a, hours_h: b }, Spell { level_dba: c, hours_h: d }]).map(|n| n.lex_8h_dba + n.twa_dba));
        finite(silica::average_mg_per_m3(&[DustSpell { silica_mg_per_m3: a, minutes: b }]));
        finite(silica::vacuum_m3_per_h(a));
        finite(tool::rim_speed_ms(a, b));
        finite(tool::seen_life_m2(&[a, b, c]));
        finite(tool::wear(a, b, c).map(|out| out.tools + out.left_m2));
        finite(wash::volume_for_area_l(a, b));
        let agent = Agent::ALL[agent];
        finite(wash::dissolved_mol_per_l(agent, a));
        let mix = Dissolved {
            agent: Some((agent, a)), ammonia_mol_per_l: b, bicarbonate_mol_per_l: c, carbonate_mol_per_l: d,
        };
        finite(chemistry::ph(&mix));
        if let Ok(strong) = wash::wash_strength(agent, a) {
            finite(wash::neutraliser(&strong, b, c, d).map(|out| out.ammonia_ml + out.nahco3_g));
            finite(wash::share_neutralised(&strong, e));
            finite(wash::removal_bound_um(&strong, e));
        }
        let model = Model { datum_c: a, q_k: b, reference_c: c };
        finite(strength::heat_gain(d, e, a, Model::default()).map(|gain| gain.saved_h));
        finite(strength::heat_gain(24.0, 20.0, 40.0, model).map(|gain| gain.saved_h));
    }

    #[test]
    fn strength_is_sound(
        seconds in prop::collection::vec(any::<i64>().prop_map(|s| s % 300_000_000_000), 0..6),
        temperatures in prop::collection::vec(hostile(), 6),
        breaks in prop::collection::vec((hostile(), hostile()), 0..8),
        gate in hostile(),
        assumed in hostile(),
    ) {
        let moments = seconds.iter().filter_map(|s| DateTime::from_timestamp(*s, 0));
        let readings: Vec<Reading> =
            moments.zip(&temperatures).map(|(at, c)| Reading { at: at.fixed_offset(), c: *c }).collect();
        let breaks: Vec<Break> =
            breaks.into_iter().map(|(equivalent_age_h, strength_mpa)| Break { equivalent_age_h, strength_mpa }).collect();
        for form in Form::ALL.iter().copied() {
            match fit(form, &breaks) {
                Ok(found) => prop_assert!(found.curve.parameters().iter().all(|p| p.is_finite())),
                Err(error) => refused(&error),
            }
            let inputs =
                StrengthIn { model: Model::default(), form, gate_mpa: vec![gate], assume_c: Some(assumed) };
            sound(calc::strength(readings.clone(), &breaks, inputs, Lang::Es), &["equivalent_age_h"]);
        }
    }

    #[test]
    fn a_history_never_runs_backwards(mut seconds in prop::collection::vec(0..400_000i64, 2..40), swap in 0..100usize) {
        seconds.sort_unstable();
        seconds.dedup();
        prop_assume!(seconds.len() > 1);
        let reading = |s: &i64| Reading {
            at: DateTime::from_timestamp(1_741_000_000 + s, 0).expect("in range").fixed_offset(),
            c: 20.0,
        };
        let good: Vec<Reading> = seconds.iter().map(reading).collect();
        let history = History::new(good.clone()).expect("in order");
        let hours: f64 = history.intervals().iter().map(|part| part.hours).sum();
        prop_assert!((hours - crate::moment::hours_between(good[0].at, good[good.len() - 1].at)).abs() < 1e-6);
        let mut bad = good.clone();
        let at = swap % (good.len() - 1);
        bad.swap(at, at + 1);
        prop_assert!(History::new(bad).expect_err("backwards").to_string().contains("backwards"));
        let mut twice = good;
        twice.insert(at, twice[at]);
        prop_assert!(History::new(twice).expect_err("twice").to_string().contains("twice"));
    }
}

#[test]
fn years_far_out_are_refused() {
    for (year, month) in [(1, 1), (9999, 12)] {
        let day = NaiveDate::from_ymd_opt(year, month, 1).expect("a date");
        refused(&calendar::after(day, calendar::Term::Months(3)).expect_err("far out"));
        let at = day.and_hms_opt(0, 0, 0).expect("a time").and_utc().fixed_offset();
        let readings =
            vec![Reading { at, c: 20.0 }, Reading { at: at + chrono::TimeDelta::hours(1), c: 20.0 }];
        refused(&History::new(readings).expect_err("far out"));
    }
    let day = NaiveDate::from_ymd_opt(2025, 1, 31).expect("a date");
    refused(&calendar::after(day, calendar::Term::Years(u32::MAX)).expect_err("too long"));
    refused(&calendar::every(day, u32::MAX, 3).expect_err("too long"));
    refused(&calendar::every(day, 1200, 600).expect_err("too long"));
}
