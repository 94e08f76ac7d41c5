//! Help inside the form: what goes into the bucket, what an area takes, who else the step is for, a label's code.

use std::collections::BTreeMap;
use std::io::Cursor;

use image::{DynamicImage, GrayImage, ImageFormat, Luma};
use qrcodegen::{QrCode, QrCodeEcc};
use serde_json::{Value, json};

use super::{Bench, step};
use crate::Desk;
use crate::dto::{Helped, StepDraft};

fn help(desk: &Desk, draft: &StepDraft, key: &str, values: Value) -> Helped {
    let values: BTreeMap<String, Value> = serde_json::from_value(values).expect("an object");
    desk.help_step(draft, key, &values).expect("an answer")
}

fn shown(helped: &Helped) -> Vec<&str> {
    helped.facts.iter().map(|it| it.value.as_str()).collect()
}

#[test]
fn a_bucket_is_parted_into_water_first_and_concentrate_with_the_caution_beside_it() {
    let bench = Bench::new();
    let desk = bench.open();
    let form = desk.form("acid_wash", &["C-1".into()]).expect("a form");
    assert_eq!(form.helpers.iter().map(|it| it.key.as_str()).collect::<Vec<_>>(), ["dilution"]);
    let wash = step("acid_wash", "C-1", json!({ "ratio": "20:1" }));
    // 10.5 L at 20:1 are 21 parts of 0.5 L.
    let helped = help(&desk, &wash, "dilution", json!({ "volume": 10.5 }));
    assert_eq!(shown(&helped), ["10.0\u{a0}L", "500\u{a0}mL"]);
    assert!(helped.cautions[0].starts_with("Acid into water, never the reverse."), "{:?}", helped.cautions);
    let nothing = help(&desk, &step("acid_wash", "C-1", json!({})), "dilution", json!({ "volume": 5 }));
    assert_eq!(nothing.problem.as_deref(), Some("Give the ratio first."));
    let none = help(&desk, &wash, "dilution", json!({ "volume": 0 }));
    assert!(none.problem.is_some() && none.facts.is_empty());
}

#[test]
fn a_coat_takes_what_its_spreading_rate_says_and_its_parts_are_told() {
    let bench = Bench::new();
    bench.add(&[json!({ "kind": "product", "body": { "name": "Clear", "class": "solvent_urethane", "coverage_m2_per_l": 10 } })]);
    let desk = bench.open();
    let form = desk.form("seal_coat", &["C-1".into()]).expect("a form");
    let product = form.values["product"].clone();
    let coat = step("seal_coat", "C-1", json!({ "product": product, "area_m2": 2, "hardener_parts": 25 }));
    let helped = help(&desk, &coat, "coat", json!({}));
    // 2 m² at 10 m² a litre are 0.2 L; of 125 parts 100 are base.
    assert_eq!(shown(&helped), ["200\u{a0}mL", "160\u{a0}mL", "40\u{a0}mL"]);
    assert_eq!(helped.fills["quantity_l"], json!(0.2));
    let bare = help(&desk, &step("seal_coat", "C-1", json!({})), "coat", json!({}));
    assert!(bare.problem.is_some());
}

#[test]
fn other_pieces_of_the_job_are_offered_beside_those_that_are_ready() {
    let bench = Bench::new();
    bench.add(&[
        json!({ "kind": "piece", "body": { "code": "C-2", "name": "Run", "job": "J-7" } }),
        json!({ "kind": "piece", "body": { "code": "Z-1", "name": "Of nobody" } }),
    ]);
    let form = bench.open().form("grit_pass", &["C-1".into()]).expect("a form");
    assert_eq!(form.others.iter().map(|it| it.code.as_str()).collect::<Vec<_>>(), ["C-2"]);
}

#[test]
fn a_checklist_passes_with_one_touch_and_says_not_looked_at_without_it() {
    let bench = Bench::new();
    let desk = bench.open();
    let form = desk.form("inspection", &["C-1".into()]).expect("a form");
    let [all] = form.at_once.as_slice() else { panic!("{:?}", form.at_once) };
    assert!(all.values.len() > 3 && all.values.values().all(|it| it == "pass"));
    assert!(all.values.keys().all(|name| form.values[name] == "not_looked"));
    let values = serde_json::to_value(&all.values).expect("JSON");
    assert!(desk.try_step(&step("inspection", "C-1", values)).expect("tried").ready);
}

/// A photo of a code: white all round, `scale` pixels a module, a little tilted in brightness.
fn photo_of(said: &str, scale: u32) -> String {
    let code = QrCode::encode_text(said, QrCodeEcc::Medium).expect("a code");
    let side = (code.size() as u32 + 8) * scale;
    let dark = |x: u32, y: u32| code.get_module((x / scale) as i32 - 4, (y / scale) as i32 - 4);
    let picture = GrayImage::from_fn(side, side, |x, y| {
        let shade = (x * 40 / side) as u8;
        Luma([if dark(x, y) { 30 + shade } else { 250 - shade }])
    });
    let mut bytes = Vec::new();
    let picture = DynamicImage::ImageLuma8(picture);
    picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png).expect("written");
    data_encoding::BASE64.encode(&bytes)
}

#[test]
fn the_code_on_a_label_finds_its_piece_and_a_strange_one_is_said() {
    let bench = Bench::new();
    let desk = bench.open();
    let id = desk.piece("C-1").expect("a sheet").id;
    let read = desk.read_label(&photo_of(&id, 6)).expect("read");
    assert_eq!((read.piece.as_deref(), read.say.as_str()), (Some(id.as_str()), "The label of C-1."));
    let strange = desk.read_label(&photo_of("a box of screws", 6)).expect("read");
    assert!(strange.piece.is_none() && strange.say.ends_with("a box of screws"), "{strange:?}");
    let blank = data_encoding::BASE64.encode(include_bytes!("../../../../../icons/128x128.png"));
    let nothing = desk.read_label(&blank).expect("read");
    assert!(nothing.piece.is_none() && nothing.say.starts_with("No code was found"), "{nothing:?}");
    for bad in ["", "AAAA", "not base64!"] {
        assert_eq!(desk.read_label(bad).expect_err("refused").field.as_deref(), Some("data"), "{bad}");
    }
}
