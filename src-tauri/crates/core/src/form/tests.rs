//! Every kind has a form; what is proposed comes from the plan, the last like step and the record.

use std::collections::BTreeMap;

use serde_json::Value;

use super::*;
use crate::body::Details;
use crate::body::input;
use crate::rules::testing::{Bench, at, id, json, neutralise, pass, rinse, wash, with};
use crate::shop::Reading;

const METRIC: Reader = Reader { system: System::Metric, lang: Lang::En };
const US: Reader = Reader { system: System::Us, lang: Lang::En };

fn form_at(bench: &Bench, hours: f64, kind: Kind, reader: Reader) -> Form {
    let shop = bench.shop();
    let pieces = [id("piece")];
    form(&Ask { shop: &shop, kind, pieces: &pieces, person: Some(id("worker")), at: at(hours), reader })
}

/// What a person sends back who touches nothing.
fn untouched(form: &Form, reader: Reader) -> BTreeMap<String, Value> {
    let shown =
        |field: &Field| Some((field.name.clone(), shown(field, &field.value.as_ref()?.stored, reader)));
    form.fields.iter().filter_map(shown).collect()
}

/// The form filled with nothing but its proposals, read as an entry would be.
#[track_caller]
fn proposals_make_an_entry(form: &Form, reader: Reader) -> Details {
    one_touch_makes_an_entry(form, reader, None)
}

/// The proposals and one value that was touched.
fn one_touch_makes_an_entry(form: &Form, reader: Reader, touched: Option<(&str, &str)>) -> Details {
    let mut values = untouched(form, reader);
    values.extend(touched.map(|(name, value)| (name.to_owned(), json!(value))));
    let filled = fill(form, &values, reader);
    assert_eq!(filled.refused, [], "{}", form.kind.wire());
    input::read(form.kind, filled.body).unwrap_or_else(|error| panic!("{}: {error}", form.kind.wire()))
}

fn value<'f>(form: &'f Form, name: &str) -> (&'f Value, Source) {
    let field = form.field(name).unwrap_or_else(|| panic!("no field {name}"));
    let proposal = field.value.as_ref().unwrap_or_else(|| panic!("nothing proposed for {name}"));
    (&proposal.stored, proposal.from)
}

#[test]
fn every_kind_has_a_form_in_both_languages_with_every_field_of_its_body() {
    let bench = Bench::poured();
    let shop = bench.shop();
    for kind in Kind::ALL {
        for pieces in [&[][..], &[id("piece")][..]] {
            let made =
                form(&Ask { shop: &shop, kind: *kind, pieces, person: None, at: at(30.0), reader: METRIC });
            assert!(!made.title.en.is_empty() && !made.title.es.is_empty());
            for field in &made.fields {
                assert!(
                    !field.label.en.is_empty() && !field.label.es.is_empty(),
                    "{} {}",
                    kind.wire(),
                    field.name
                );
                if let Control::Choice { options, .. } = &field.control {
                    let worded = |it: &Offer| !it.label.en.is_empty() && !it.label.es.is_empty();
                    assert!(options.iter().all(worded), "{} {}", kind.wire(), field.name);
                }
                if let Control::Number(it) = &field.control {
                    assert!(it.min < it.max && it.step > 0.0, "{} {}", kind.wire(), field.name);
                    assert!(
                        it.quick.iter().all(|q| (it.min..=it.max).contains(q)),
                        "{} {}",
                        kind.wire(),
                        field.name
                    );
                }
            }
            for declared in crate::body::shape::own_fields(*kind).iter().filter(|it| it.must) {
                let covered = made.fields.iter().any(|field| match &field.slot {
                    Slot::Body => field.name == declared.name,
                    Slot::Parts(water, other) => *water == declared.name || *other == Some(&declared.name),
                    Slot::Check(_) | Slot::Head => false,
                });
                let by_program = *kind == Kind::RouteChosen && declared.name == "version";
                assert!(covered || by_program, "{} {}", kind.wire(), declared.name);
            }
        }
    }
    assert!(Kind::ALL.len() >= 58);
}

#[test]
fn a_grit_pass_is_proposed_as_planned_and_with_the_tool_of_last_time() {
    let mut bench = Bench::poured();
    bench.object("tool", "grinder", json!({ "name": "Wet grinder", "power": "electric" }));
    bench.object("tool", "polisher", json!({ "name": "Polisher", "power": "air" }));
    bench.step(20.0, "demould", json!({ "face": ["clean"] }));
    bench.step(200.0, "grit_pass", with(pass(50), json!({ "tool": id("grinder") })));
    let made = form_at(&bench, 201.0, Kind::GritPass, METRIC);
    assert_eq!(value(&made, "grit"), (&json!(100), Source::Planned));
    assert_eq!(value(&made, "bond"), (&json!("resin"), Source::Planned));
    assert_eq!(value(&made, "region"), (&json!("face"), Source::Planned));
    assert_eq!(value(&made, "tool"), (&json!(id("grinder")), Source::LastTime));
    // How it ended is seen, never proposed.
    assert_eq!(made.field("result").and_then(|it| it.value.clone()), None);
    let expected = made.expected.as_ref().expect("a route");
    assert!(expected.fits, "{expected:?}");
    one_touch_makes_an_entry(&made, METRIC, Some(("result", "cut_out")));
}

#[test]
fn a_wash_goes_through_with_nothing_but_touches() {
    let mut bench = Bench::with_piece(json!({ "finish": "washed" })).pour();
    bench.product("acid", json!({ "class": "hydrochloric_acid" }));
    bench.step(20.0, "demould", json!({ "face": ["clean"] }));
    bench.step(21.0, "inspection", json!({ "checklist": [{ "what": "face", "result": "pass" }] }));
    bench.step(22.0, "trial_spot", json!({ "of": "acid_wash", "good": "yes" }));
    bench.step(24.0, "acid_wash", with(wash(), json!({ "product": id("acid"), "lot": "A-4" })));
    let next = form_at(&bench, 24.5, Kind::Rinse, METRIC);
    assert_eq!(next.field("standing_water_removed").and_then(|it| it.value.clone()), None);
    one_touch_makes_an_entry(&next, METRIC, Some(("standing_water_removed", "yes")));
    let again = form_at(&bench, 24.5, Kind::AcidWash, METRIC);
    assert_eq!(value(&again, "lot"), (&json!("A-4"), Source::LastTime));
    assert_eq!(value(&again, "ratio").0, &json!("20:1"));
    assert_eq!(value(&again, "concentrate_pct"), (&json!(31.0), Source::LastTime));
    // What was seen last time was seen last time.
    assert_eq!(again.field("cream_lost").and_then(|it| it.value.clone()), None);
    assert_eq!(again.expected.as_ref().map(|it| it.fits), Some(false));
}

#[test]
fn a_coat_takes_the_climate_just_read_and_the_lot_of_its_product() {
    let mut bench = Bench::with_piece(json!({ "finish": "washed" })).pour();
    bench.step(20.0, "demould", json!({ "face": ["clean"] }));
    bench.step(24.0, "acid_wash", wash());
    bench.step(24.5, "rinse", rinse());
    bench.step(25.0, "neutralise", neutralise());
    bench.step(25.5, "rinse", rinse());
    bench.step(26.0, "dry", json!({ "at": "drying room" }));
    bench.step(60.0, "climate", json!({ "air_c": 21, "rh_pct": 48, "surface_c": 20.5 }));
    let before = form_at(&bench, 60.5, Kind::SealCoat, METRIC);
    assert_eq!(value(&before, "air_c"), (&json!(21.0), Source::Read(at(60.0))));
    assert_eq!(value(&before, "coat").0, &json!(1));
    assert_eq!(value(&before, "area_m2"), (&json!(0.6), Source::Piece));
    let Control::Choice { options, .. } = &before.field("product").expect("a product").control else {
        panic!("products are chosen")
    };
    let names: Vec<&str> = options.iter().map(|it| it.label.en.as_str()).collect();
    assert_eq!(names, ["film", "sealer"], "only sealers are offered");
    let stale = form_at(&bench, 63.0, Kind::SealCoat, METRIC);
    assert_eq!(
        stale.field("air_c").and_then(|it| it.value.clone()),
        None,
        "a reading of three hours ago is old"
    );

    bench.step(60.6, "seal_coat", crate::rules::testing::coat(1));
    let second = form_at(&bench, 61.0, Kind::SealCoat, METRIC);
    assert_eq!(value(&second, "lot"), (&json!("S-7"), Source::LastTime));
    assert_eq!(value(&second, "coat").0, &json!(2));
    proposals_make_an_entry(&second, METRIC);
}

#[test]
fn in_us_units_what_is_not_touched_is_stored_to_the_last_digit() {
    let mut bench = Bench::poured();
    bench.step(60.0, "climate", json!({ "air_c": 21.37, "rh_pct": 48, "surface_c": 20.5 }));
    let made = form_at(&bench, 60.5, Kind::SealCoat, US);
    let air = made.field("air_c").expect("air");
    assert!(matches!(&air.control, Control::Number(it) if it.unit == Some("°F")));
    let mut given = untouched(&made, US);
    assert_eq!(given["air_c"], json!(70.5));
    let filled = fill(&made, &given, US);
    assert_eq!(filled.body["air_c"], json!(21.37));
    given.insert("air_c".into(), json!(68));
    assert_eq!(fill(&made, &given, US).body["air_c"], json!("68 °F"));
}

#[test]
fn values_nobody_can_have_are_refused_in_words_at_their_field() {
    let bench = Bench::poured();
    let climate = form_at(&bench, 10.0, Kind::Climate, METRIC);
    for (name, bad) in [
        ("air_c", json!(500)),
        ("air_c", json!(-400)),
        ("air_c", json!("NaN")),
        ("air_c", json!("inf")),
        ("air_c", json!("1e308")),
        ("air_c", json!("12 psi")),
        ("air_c", json!("warm")),
        ("air_c", json!(true)),
        ("rh_pct", json!(101)),
        ("rh_pct", json!([])),
        ("surface_c", json!({})),
        ("dew_point_c", json!(4)),
    ] {
        for lang in [Lang::En, Lang::Es] {
            let mut given: BTreeMap<String, Value> = [("air_c", 20), ("rh_pct", 50), ("surface_c", 19)]
                .map(|(name, it)| (name.into(), json!(it)))
                .into();
            given.insert(name.into(), bad.clone());
            let refused = fill(&climate, &given, Reader { lang, ..METRIC }).refused;
            assert_eq!(refused.iter().map(|it| it.field.as_str()).collect::<Vec<_>>(), [name], "{bad}");
            assert!(refused[0].why.len() > 5, "{bad}: {}", refused[0].why);
        }
    }
    let wash = form_at(&bench, 10.0, Kind::AcidWash, METRIC);
    for bad in ["20", "20:0", "-20:1", "a:b", "20:1:3", "99999:1", ":"] {
        let filled = fill(&wash, &[("ratio".to_owned(), json!(bad))].into(), METRIC);
        assert!(filled.refused.iter().any(|it| it.field == "ratio" && it.why.contains("20:1")), "{bad}");
    }
}

#[test]
fn what_must_be_there_is_asked_for_field_by_field() {
    let bench = Bench::poured();
    let made = form_at(&bench, 10.0, Kind::AcidWash, METRIC);
    let missing = fill(&made, &BTreeMap::new(), METRIC).refused;
    let mut names: Vec<&str> = missing.iter().map(|it| it.field.as_str()).collect();
    names.sort_unstable();
    assert_eq!(names, ["acid", "concentrate_pct", "cream_lost", "ratio", "region"]);
}

#[test]
fn a_strength_that_is_not_known_is_an_answer_and_another_may_be_typed() {
    let bench = Bench::poured();
    let made = form_at(&bench, 10.0, Kind::AcidWash, METRIC);
    let stored = |said: &str| fill(&made, &[("concentrate_pct".to_owned(), json!(said))].into(), METRIC).body;
    assert_eq!(stored("unknown")["concentrate_pct"], json!("unknown"));
    assert_eq!(stored("14,5 %")["concentrate_pct"], json!(14.5));
    assert!(!stored("strong").contains_key("concentrate_pct"));
}

#[test]
fn lists_are_lines_and_come_back_as_they_were() {
    let bench = Bench::poured();
    let fill_form = form_at(&bench, 30.0, Kind::Fill, METRIC);
    let given = BTreeMap::from([("at".to_owned(), json!(["120; 80; 5", "300; 40"]))]);
    let stored = fill(&fill_form, &given, METRIC).body["at"].clone();
    assert_eq!(
        stored,
        json!([{ "x_mm": 120.0, "y_mm": 80.0, "size_mm": 5.0 }, { "x_mm": 300.0, "y_mm": 40.0 }])
    );
    let field = fill_form.field("at").expect("a place");
    assert_eq!(shown(field, &stored, METRIC), json!(["120; 80; 5", "300; 40"]));
    let pour = form_at(&bench, 0.0, Kind::Pour, US);
    let given = BTreeMap::from([
        ("weights_kg".to_owned(), json!(["cement: 44 lb", "sand: 20 kg"])),
        ("lots".to_owned(), json!(["cement: C-1"])),
        ("backing_window_min".to_owned(), json!(["10", "45"])),
    ]);
    let body = fill(&pour, &given, US).body;
    assert!((body["weights_kg"]["cement"].as_f64().expect("kilograms") - 19.958).abs() < 0.001);
    assert_eq!(body["lots"], json!({ "cement": "C-1" }));
    assert_eq!(body["backing_window_min"], json!([10.0, 45.0]));
}

#[test]
fn a_checklist_is_a_touch_a_line_and_takes_lines_of_other_forms() {
    let mut bench = Bench::poured();
    bench.step(20.0, "inspection", json!({ "checklist": [{ "what": "back is flat", "result": "pass" }] }));
    let made = form_at(&bench, 30.0, Kind::Inspection, METRIC);
    let own = made.field("checklist: back is flat").expect("the line of last time");
    assert_eq!(own.value.as_ref().map(|it| &it.stored), Some(&json!("not_looked")));
    let mut given = untouched(&made, METRIC);
    given.insert("checklist: back is flat".into(), json!("fail"));
    given.insert("checklist: from another device".into(), json!("pass"));
    let filled = fill(&made, &given, METRIC);
    assert_eq!(filled.refused, []);
    let lines = filled.body["checklist"].as_array().expect("lines");
    assert!(lines.contains(&json!({ "what": "back is flat", "result": "fail" })));
    assert!(lines.contains(&json!({ "what": "from another device", "result": "pass" })));
    input::read(Kind::Inspection, filled.body).expect("an inspection");
}

#[test]
fn the_form_of_an_entry_holds_what_it_says() {
    let mut bench = Bench::poured();
    let hash = bench.step(24.0, "acid_wash", with(wash(), json!({ "dwell_min": 3 })));
    let shop = bench.shop();
    let step = shop.step(&hash).expect("the wash");
    let ask = Ask {
        shop: &shop,
        kind: Kind::AcidWash,
        pieces: &step.pieces,
        person: None,
        at: step.done.start,
        reader: METRIC,
    };
    let made = form_of(&ask, step).expect("readable");
    assert_eq!(value(&made, "ratio"), (&json!("20:1"), Source::Recorded));
    let filled = fill(&made, &untouched(&made, METRIC), METRIC);
    assert_eq!(filled.refused, []);
    let Reading::Read(details) = &step.reading else { panic!("readable") };
    assert_eq!(input::read(Kind::AcidWash, filled.body).expect("a wash"), *details);
}

/// Logs a step on a piece from its proposals and at most one touch; the route must expect it.
#[track_caller]
fn touch_on(bench: &mut Bench, piece: &str, hours: f64, kind: Kind) {
    let shop = bench.shop();
    let pieces = [id(piece)];
    let made = form(&Ask {
        shop: &shop,
        kind,
        pieces: &pieces,
        person: Some(id("worker")),
        at: at(hours),
        reader: US,
    });
    let expected = made.expected.as_ref().unwrap_or_else(|| panic!("{}: no route", kind.wire()));
    assert!(expected.fits, "{} is not due but {}", kind.wire(), expected.title.en);
    // What was seen is never proposed: it is the one thing touched.
    let seen = match kind {
        Kind::GritPass => Some(("result", "cut_out")),
        Kind::TrialSpot => Some(("good", "yes")),
        Kind::AcidWash => Some(("cream_lost", "none")),
        Kind::Rinse => Some(("standing_water_removed", "yes")),
        _ => None,
    };
    let details = one_touch_makes_an_entry(&made, US, seen);
    bench.step_on(piece, hours, kind.wire(), Value::Object(details.to_stored()));
}

#[test]
fn the_commonest_steps_need_no_typing_when_the_route_expects_them() {
    let washed = json!({ "finish": "washed" });
    let mut bench = Bench::with_piece(washed).pour();
    let second = json!({ "code": "P-2", "name": "Second", "mix": id("mix"), "finish": "washed", "length_mm": 900, "width_mm": 500 });
    bench.object("piece", "second", second);
    // The first piece was typed by hand.
    bench.step(24.0, "acid_wash", wash());
    bench.step(25.0, "neutralise", neutralise());
    bench.step(26.0, "dry", json!({ "at": "drying room" }));
    bench.step(60.0, "seal_coat", crate::rules::testing::coat(1));
    bench.step(90.0, "storage", json!({ "condition": "whole", "position": "flat" }));
    let on = "second";
    bench.step_on(on, 99.0, "pour", json!({ "mix": id("mix"), "batch": "B-2" }));
    bench.step_on(on, 124.0, "demould", json!({ "face": ["clean"] }));
    touch_on(&mut bench, on, 125.0, Kind::Inspection);
    touch_on(&mut bench, on, 125.5, Kind::TrialSpot);
    touch_on(&mut bench, on, 126.0, Kind::AcidWash);
    touch_on(&mut bench, on, 126.5, Kind::Rinse);
    touch_on(&mut bench, on, 127.0, Kind::Neutralise);
    touch_on(&mut bench, on, 127.5, Kind::Rinse);
    bench.step_on(on, 127.6, "ph_reading", json!({ "ph": 8, "of": "final_rinse", "method": "paper" }));
    touch_on(&mut bench, on, 128.0, Kind::Dry);
    bench.step_on(on, 159.9, "climate", json!({ "air_c": 20, "rh_pct": 50, "surface_c": 20 }));
    touch_on(&mut bench, on, 160.0, Kind::SealCoat);
    touch_on(&mut bench, on, 161.0, Kind::SealCoat);
    touch_on(&mut bench, on, 162.0, Kind::SealerCure);
    touch_on(&mut bench, on, 200.0, Kind::Inspection);
    touch_on(&mut bench, on, 201.0, Kind::Storage);
}

#[test]
fn grinding_and_filling_need_no_typing_when_the_route_expects_them() {
    let mut bench = Bench::poured();
    bench.object("tool", "grinder", json!({ "name": "Wet grinder", "power": "electric", "water_fed": true }));
    bench.object("piece", "second", json!({ "code": "P-2", "name": "Second", "finish": "salt_pepper" }));
    bench.step_on("second", -40.0, "fill", crate::rules::testing::cement_fill());
    bench.step(20.0, "demould", json!({ "face": ["clean"] }));
    bench.step(190.0, "inspection", json!({ "checklist": [{ "what": "face", "result": "pass" }] }));
    bench.step(195.0, "strength", json!({ "method": "cylinder", "result_mpa": 40 }));
    touch_on(&mut bench, "piece", 200.0, Kind::GritPass);
    touch_on(&mut bench, "piece", 201.0, Kind::GritPass);
    touch_on(&mut bench, "piece", 202.0, Kind::GritPass);
    touch_on(&mut bench, "piece", 203.0, Kind::Fill);
}

#[test]
fn a_piece_that_is_ready_for_the_same_step_could_join() {
    let mut bench = Bench::poured();
    let twin = |code: &str| json!({ "code": code, "name": "Twin", "job": id("job"), "mix": id("mix"), "finish": "salt_pepper" });
    for (name, code) in [("twin", "P-3"), ("later", "P-2")] {
        bench.object("piece", name, twin(code));
        bench.step_on(name, 0.0, "pour", json!({ "mix": id("mix"), "batch": "B-1" }));
        bench.step_on(name, 20.0, "demould", json!({ "face": ["clean"] }));
    }
    bench.step(20.0, "demould", json!({ "face": ["clean"] }));
    for piece in ["piece", "twin"] {
        bench.step_on(
            piece,
            30.0,
            "inspection",
            json!({ "checklist": [{ "what": "face", "result": "pass" }] }),
        );
        bench.step_on(piece, 195.0, "strength", json!({ "method": "cylinder", "result_mpa": 40 }));
        bench.step_on(piece, 200.0, "grit_pass", pass(50));
    }
    bench.step_on(
        "later",
        30.0,
        "inspection",
        json!({ "checklist": [{ "what": "face", "result": "pass" }] }),
    );
    let made = form_at(&bench, 202.0, Kind::GritPass, METRIC);
    assert_eq!(value(&made, "grit").0, &json!(100));
    assert_eq!(made.could_join, [id("twin")], "the third piece is not ground with 50 yet");
    let shop = bench.shop();
    let both = [id("piece"), id("twin")];
    let ask =
        Ask { shop: &shop, kind: Kind::GritPass, pieces: &both, person: None, at: at(202.0), reader: METRIC };
    assert_eq!(form(&ask).could_join, []);
    assert_eq!(value(&form(&ask), "grit").0, &json!(100));
    // Pieces the route expects different grits on have none in common.
    let unlike = [id("piece"), id("later")];
    let ask = Ask { pieces: &unlike, ..ask };
    assert_eq!(form(&ask).field("grit").and_then(|it| it.value.clone()), None);
}
