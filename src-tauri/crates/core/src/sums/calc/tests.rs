//! The keys the command line promises, and values behind them.

use serde_json::{Value, json};

use super::*;
use crate::body::surface::DustControl;
use crate::sums::curve::Form;
use crate::sums::logger::{Asked, read, read_breaks};
use crate::sums::maturity::Model;
use crate::sums::silica::{DustTool, Setting, Surroundings};
use crate::sums::vibration::parse_uses;

fn object(out: &impl Serialize) -> Value {
    let value = serde_json::to_value(out).expect("serialises");
    for key in ["inputs", "basis", "validity", "notes"] {
        assert!(value.get(key).is_some(), "{key} is missing in {value}");
    }
    value
}

fn near(value: &Value, wanted: f64) {
    let found = value.as_f64().expect("a number");
    assert!((found - wanted).abs() <= 0.005 * wanted.abs(), "{found} is not {wanted}");
}

#[test]
fn dew() {
    let inputs = DewIn { air_c: 20.0, rh_pct: 50.0, surface_c: Some(15.0) };
    let out = object(&super::dew(inputs, Lang::En).expect("in range"));
    near(&out["dew_point_c"], 9.272);
    near(&out["margin_k"], 5.728);
    assert_eq!(out["inputs"], json!({"air_c": 20.0, "rh_pct": 50.0, "surface_c": 15.0}));
    let bare = DewIn { surface_c: None, air_c: -10.0, rh_pct: 50.0 };
    let out = object(&super::dew(bare, Lang::Es).expect("in range"));
    assert_eq!(out["margin_k"], Value::Null);
    assert!(out["notes"][0].as_str().expect("labelled").contains("subenfriada"), "{out}");
}

#[test]
fn dilution() {
    let plain = DilutionIn {
        ratio: 20.0,
        volume_l: 10.0,
        agent: None,
        concentrate_pct: None,
        density_kg_per_l: None,
    };
    let out = object(&super::dilution(plain, Lang::En).expect("in range"));
    near(&out["water_l"], 9.5238);
    near(&out["concentrate_l"], 0.4762);
    assert!(out.get("strength_mol_per_l").is_none());
    let named = DilutionIn { agent: Some(Agent::Hydrochloric), concentrate_pct: Some(31.45), ..plain };
    let out = object(&super::dilution(named, Lang::En).expect("in range"));
    near(&out["strength_mol_per_l"], 0.4765);
    near(&out["caco3_g_per_l"], 23.85);
    near(&out["nahco3_g_per_l"], 40.0);
    assert_eq!(out["inputs"]["agent"], "hydrochloric");
    let half = DilutionIn { agent: Some(Agent::Hydrochloric), ..plain };
    assert_eq!(super::dilution(half, Lang::En).expect_err("no strength").field(), "concentrate_pct");
}

#[test]
fn film() {
    let inputs = FilmIn { quantity_l: 2.0, area_m2: 10.0, solids_pct: 40.0, coats: 2.0, thinner_pct: 0.0 };
    let out = object(&super::film(inputs, Lang::En).expect("in range"));
    near(&out["wet_film_um"], 100.0);
    near(&out["dry_film_um"], 40.0);
}

#[test]
fn ladder() {
    let inputs = LadderIn { from: 50.0, to: 400.0, scale: GritScale::Pad };
    let out = object(&super::ladder(inputs, Lang::En).expect("a ladder"));
    assert_eq!(out["steps"], json!([50.0, 100.0, 200.0, 400.0]));
    assert_eq!(out["size_ratios"].as_array().expect("a list").len(), 3);
    assert_eq!(out["inputs"]["scale"], "pad");
}

#[test]
fn vibration() {
    let inputs = VibrationIn { points: parse_uses("4.5:90,6.0:30").expect("two tools") };
    let out = object(&super::vibration(inputs, Lang::En).expect("in range"));
    near(&out["a8_ms2"], 2.4601);
    near(&out["points"], 96.75);
    assert_eq!((&out["action_reached"], &out["limit_reached"]), (&json!(false), &json!(false)));
    assert!(parse_uses("4.5:90,six:30").expect_err("no number").to_string().contains("no. 2"));
}

#[test]
fn silica() {
    let inputs = SilicaIn {
        tool: DustTool::HandheldGrinder,
        control: DustControl::Shroud,
        place: Surroundings::Indoors,
        hours: 5.0,
        setting: Setting::Site,
    };
    let out = object(&super::silica(inputs, Lang::En).expect("in range"));
    assert_eq!(
        (&out["in_table"], &out["row"], &out["respirator_apf"]),
        (&json!(true), &json!("(xii)"), &json!(10))
    );
    let wet = object(
        &super::silica(SilicaIn { control: DustControl::Water, ..inputs }, Lang::En).expect("in range"),
    );
    assert_eq!(
        (&wet["in_table"], &wet["row"], &wet["respirator_apf"]),
        (&json!(false), &Value::Null, &Value::Null)
    );
    assert!(wet["notes"][0].as_str().expect("advice").contains("confirm locally"));
    let shop =
        object(&super::silica(SilicaIn { setting: Setting::Shop, ..inputs }, Lang::En).expect("in range"));
    assert_eq!((&shop["in_table"], &shop["hint_apf"]), (&json!(false), &json!(10)));
    assert_eq!(shop["inputs"]["tool"], "handheld-grinder");
}

#[test]
fn mass() {
    let inputs = MassIn {
        length_mm: 2000.0,
        width_mm: 600.0,
        thickness_mm: 40.0,
        density_kgm3: 2200.0,
        cut_outs_m2: 0.0,
        added_kg: 0.0,
        per_person_kg: 25.0,
    };
    let out = object(&super::mass(inputs, Lang::En).expect("in range"));
    near(&out["mass_kg"], 105.6);
    assert_eq!(out["persons"], 5);
}

#[test]
fn pot_life() {
    let inputs = PotLifeIn { minutes: 30.0, at_c: 25.0, now_c: 35.0 };
    let out = object(&super::pot_life(inputs, Lang::En).expect("in range"));
    near(&out["minutes"], 15.0);
}

/// Readings at a steady 20 °C for 72 h and breaks on the hyperbola Su 50 MPa, k 0.02 1/h, t0 6 h.
fn course(gates: &[f64], assume_c: Option<f64>) -> StrengthOut {
    let lines: Vec<String> =
        (0..=72).map(|h| format!("2025-03-{:02}T{:02}:00:00-06:00,20", 4 + h / 24, h % 24)).collect();
    let file = format!("time,temperature_c\n{}\n", lines.join("\n"));
    let readings = read(&file, &Asked::default()).expect("readings").readings;
    let truth = |age: f64| 50.0 * 0.02 * (age - 6.0) / (1.0 + 0.02 * (age - 6.0));
    let rows: Vec<String> =
        [24.0, 48.0, 96.0, 168.0, 336.0].map(|age| format!("{age},{}", truth(age))).into();
    let breaks = read_breaks(&format!("equivalent_age_h,strength_mpa\n{}", rows.join("\n"))).expect("breaks");
    let inputs =
        StrengthIn { model: Model::default(), form: Form::Hyperbolic, gate_mpa: gates.to_vec(), assume_c };
    super::strength(readings, &breaks, inputs, Lang::En).expect("in range")
}

#[test]
fn strength() {
    let out = object(&course(&[20.0, 35.0, 48.0], Some(20.0)));
    near(&out["temperature_time_c_h"], 1440.0);
    near(&out["equivalent_age_h"], 72.0);
    near(&out["strength_mpa"], 50.0 * 1.32 / 2.32);
    assert_eq!(out["band_mpa"].as_array().expect("a pair").len(), 2);
    assert_eq!(out["fit"]["form"], "hyperbolic");
    near(&out["fit"]["su_mpa"], 50.0);
    // 20 MPa at t0 + S/(k(Su−S)) = 39.33 h, in the past; 35 MPa at 122.67 h, 50.67 h after the last reading.
    assert_eq!(out["gates"][0]["reached_at"], "2025-03-05T15:20:00-06:00");
    assert_eq!(out["gates"][1]["reached_at"], "2025-03-09T02:40:00-06:00");
    assert_eq!(out["gates"][2]["reached_at"], Value::Null);
    assert!(out["gates"][2]["why"].as_str().expect("words").contains("oldest break"));
}

#[test]
fn a_gate_ahead_needs_an_assumed_temperature() {
    let out = course(&[35.0], None);
    assert_eq!(out.gates[0].reached_at, None);
    assert!(out.gates[0].why.as_deref().expect("words").contains("assume"));
}
