//! Photos of the window: on disk at once, made ready on the side, named in the entry.

use std::io::Cursor;
use std::path::Path;
use std::time::{Duration, Instant};

use image::{ImageFormat, RgbImage};
use serde_json::{Value, json};
use trowelogue_core::id::Hash;

use super::{Bench, pass, step};
use crate::dto::{EntryStatus, HistoryItem, PhotoState, StepDraft};
use crate::{Desk, ErrorCode};

/// A picture as a camera writes it, in base64.
fn taken(width: u32, height: u32, shade: u8) -> (Vec<u8>, String) {
    let picture =
        RgbImage::from_fn(width, height, |x, y| image::Rgb([shade, (x % 251) as u8, (y % 241) as u8]));
    let mut bytes = Vec::new();
    picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Jpeg).expect("written");
    let data = data_encoding::BASE64.encode(&bytes);
    (bytes, data)
}

fn with_photos(ids: &[&str]) -> StepDraft {
    let mut values = pass(200);
    values["photos"] = json!(ids);
    step("grit_pass", "C-1", values)
}

/// Waits until a photo that was taken in is ready.
fn until_ready(desk: &Desk, id: &str) {
    let since = Instant::now();
    while desk.photo(id, 64).expect("a photo").state == PhotoState::Waiting {
        assert!(since.elapsed() < Duration::from_secs(60), "it is never ready");
        std::thread::sleep(Duration::from_millis(10));
    }
}

/// The newest pass with 200 that counts, once it has `count` photos.
fn with_count(desk: &Desk, count: usize) -> HistoryItem {
    let since = Instant::now();
    loop {
        let history = desk.piece("C-1").expect("a sheet").history;
        let found = history.into_iter().find(|it| it.status == EntryStatus::Counts && it.kind == "grit_pass");
        let found = found.expect("the pass");
        if found.photos.len() == count {
            return found;
        }
        assert!(since.elapsed() < Duration::from_secs(60), "{found:?}");
        std::thread::sleep(Duration::from_millis(10));
    }
}

fn published(shop: &Path, id: &str) -> Option<Vec<u8>> {
    std::fs::read(shop.join("photos").join(&id[..2]).join(format!("{id}.jpg"))).ok()
}

fn waiting(bench: &Bench) -> Vec<String> {
    let mut names = Vec::new();
    for shop in std::fs::read_dir(bench.home("owner").join("waiting")).into_iter().flatten().flatten() {
        let files = std::fs::read_dir(shop.path()).expect("listed").flatten();
        names.extend(files.map(|file| file.file_name().to_string_lossy().into_owned()));
    }
    names
}

#[test]
fn a_photo_is_on_disk_when_it_was_taken_in_and_in_the_folder_when_its_step_is_logged() {
    let bench = Bench::new();
    let desk = bench.open();
    let (bytes, data) = taken(3_000, 200, 90);
    let id = desk.add_photo(&data).expect("taken in").id;
    assert_eq!(id, Hash::of(&[&bytes]).to_string(), "it goes by what the camera wrote");
    assert!(!waiting(&bench).is_empty(), "on disk before the answer");
    until_ready(&desk, &id);
    assert!(!bench.shop().join("photos").exists(), "nothing of a form is published");

    let logged = desk.log(&with_photos(&[&id])).expect("logged");
    let item = with_count(&desk, 1);
    assert_eq!(item.hash, logged.hashes[0], "named in the step itself");
    let named = &item.photos[0].id;
    assert_ne!(*named, id, "what is named is what was made of it");
    let there = published(&bench.shop(), named).expect("in the folder");
    assert_eq!(Hash::of(&[&there]).to_string(), *named);
    assert_eq!(image::load_from_memory(&there).expect("a picture").width(), 2_560);
    assert_eq!(waiting(&bench), Vec::<String>::new());
    let shown = desk.photo(named, 200).expect("shown");
    assert_eq!(shown.state, PhotoState::Here);
    let small = data_encoding::BASE64.decode(shown.jpeg.expect("a picture").as_bytes()).expect("base64");
    assert_eq!(image::load_from_memory(&small).expect("a picture").width(), 200);
    assert!(desk.verify().expect("verified").good);
}

#[test]
fn a_form_that_shows_a_photo_is_told_when_it_is_ready() {
    let bench = Bench::new();
    let desk = bench.open();
    let (tell, told) = std::sync::mpsc::channel();
    desk.watch(move |changed| drop(tell.send(changed)));
    let held = desk.held.darkroom.lock().expect("held");
    let (_, data) = taken(300, 200, 60);
    let id = desk.add_photo(&data).expect("taken in").id;
    assert_eq!(desk.photo(&id, 64).expect("a photo").state, PhotoState::Waiting);
    drop(held);
    until_ready(&desk, &id);
    told.recv_timeout(Duration::from_secs(60)).expect("the window looks again");
}

#[test]
fn a_step_does_not_wait_for_its_photo_which_follows_by_a_correction() {
    let bench = Bench::new();
    let desk = bench.open();
    // Nothing is made ready while this is held.
    let held = desk.held.darkroom.lock().expect("held");
    let (_, one) = taken(300, 200, 10);
    let (_, two) = taken(300, 200, 20);
    let ids = [desk.add_photo(&one).expect("taken in").id, desk.add_photo(&two).expect("taken in").id];
    let logged = desk.log(&with_photos(&[&ids[0], &ids[1]])).expect("logged at once");
    let first = with_count(&desk, 0);
    assert_eq!(first.hash, logged.hashes[0]);
    drop(held);
    let corrected = with_count(&desk, 2);
    assert_ne!(corrected.hash, first.hash);
    assert!(corrected.status_text.contains("photo added"), "{}", corrected.status_text);
    assert_eq!(corrected.done, first.done, "the work was done when it was done");
    assert!(corrected.photos.iter().all(|it| published(&bench.shop(), &it.id).is_some()));
    assert!(desk.verify().expect("verified").good);
}

#[test]
fn a_crash_between_step_and_photo_loses_neither() {
    let bench = Bench::new();
    let desk = bench.open();
    let held = desk.held.darkroom.lock().expect("held");
    let (_, data) = taken(300, 200, 30);
    let id = desk.add_photo(&data).expect("taken in").id;
    desk.log(&with_photos(&[&id])).expect("logged");
    // The first desk never makes it ready: as if its process had ended here. Another start of the app goes on.
    let again = bench.open();
    assert_eq!(with_count(&again, 1).photos.len(), 1);
    drop(held);
    // What the first one does when it comes to it adds nothing.
    desk.sweep().expect("swept");
    std::thread::sleep(Duration::from_millis(200));
    assert_eq!(with_count(&again, 1).photos.len(), 1);
}

#[test]
fn a_photo_whose_step_was_never_written_stays_with_its_form() {
    let bench = Bench::new();
    let desk = bench.open();
    let held = desk.held.darkroom.lock().expect("held");
    let (_, data) = taken(300, 200, 40);
    let id = desk.add_photo(&data).expect("taken in").id;
    let mut bad = with_photos(&[&id]);
    bad.values.insert("grit".into(), json!(-5));
    let error = desk.log(&bad).expect_err("refused");
    assert_eq!(error.field.as_deref(), Some("grit"));
    drop(held);
    until_ready(&desk, &id);
    desk.log(&with_photos(&[&id])).expect("logged");
    with_count(&desk, 1);
}

#[test]
fn what_is_no_photo_is_refused_at_once_and_a_broken_one_when_it_is_looked_at() {
    let bench = Bench::new();
    let desk = bench.open();
    let heic = data_encoding::BASE64.encode(&[b"\0\0\0\x18ftypheic".as_slice(), &[0; 40]].concat());
    let error = desk.add_photo(&heic).expect_err("refused");
    assert!(error.message.contains("HEIC") && error.code == ErrorCode::BadInput, "{error:?}");
    for data in ["", "!!!", "aGVsbG8="] {
        assert_eq!(desk.add_photo(data).expect_err("refused").code, ErrorCode::BadInput, "{data}");
    }
    assert_eq!(waiting(&bench), Vec::<String>::new());
    let (bytes, _) = taken(300, 200, 50);
    let cut = data_encoding::BASE64.encode(&bytes[..40]);
    let id = desk.add_photo(&cut).expect("its first bytes are a photo's").id;
    until_ready(&desk, &id);
    let shown = desk.photo(&id, 64).expect("told");
    assert_eq!(shown.state, PhotoState::Refused);
    let error = desk.log(&with_photos(&[&id])).expect_err("refused");
    assert_eq!((error.field.as_deref(), error.message), (Some("photos"), shown.say));
    assert!(waiting(&bench).iter().any(|name| name.ends_with(".raw")), "what the camera wrote is kept");
    let nowhere = "0".repeat(64);
    assert_eq!(desk.log(&with_photos(&[&nowhere])).expect_err("refused").code, ErrorCode::Unknown);
}

#[test]
fn a_photo_that_is_missing_or_wrong_is_said_to_be() {
    let bench = Bench::new();
    let desk = bench.open();
    let (_, data) = taken(300, 200, 60);
    let id = desk.add_photo(&data).expect("taken in").id;
    until_ready(&desk, &id);
    desk.log(&with_photos(&[&id])).expect("logged");
    let named = with_count(&desk, 1).photos[0].id.clone();
    let reader = bench.desk("reader");
    reader.open_shop(&bench.shop()).expect("opened");
    assert_eq!(reader.photo(&named, 100).expect("shown").state, PhotoState::Here);
    let place = bench.shop().join("photos").join(&named[..2]).join(format!("{named}.jpg"));
    std::fs::write(&place, b"another picture").expect("swapped");
    let wrong = reader.photo(&named, 100).expect("told");
    assert!(wrong.state == PhotoState::Wrong && wrong.jpeg.is_none() && !wrong.say.is_empty());
    std::fs::remove_file(&place).expect("taken away");
    assert_eq!(reader.photo(&named, 100).expect("told").state, PhotoState::Missing);
    // This device has it still, and gives it back.
    assert_eq!(desk.photo(&named, 100).expect("shown").state, PhotoState::Here);
}

#[test]
fn a_photo_taken_off_a_form_is_gone() {
    let bench = Bench::new();
    let desk = bench.open();
    let id = desk.add_photo(&taken(30, 20, 70).1).expect("taken in").id;
    until_ready(&desk, &id);
    desk.drop_photo(&id).expect("dropped");
    assert_eq!(waiting(&bench), Vec::<String>::new());
    assert_eq!(desk.photo(&id, 64).expect("told").state, PhotoState::Missing);
}

#[test]
fn the_form_asks_for_photos_and_a_correction_keeps_them() {
    let bench = Bench::new();
    let desk = bench.open();
    let form = desk.form("grit_pass", &["C-1".into()]).expect("a form");
    assert!(form.fields.iter().any(|it| it.name == "photos"));
    let id = desk.add_photo(&taken(30, 20, 80).1).expect("taken in").id;
    until_ready(&desk, &id);
    let logged = desk.log(&with_photos(&[&id])).expect("logged");
    let named = with_count(&desk, 1).photos[0].id.clone();
    let form = desk.correction_form(&logged.hashes[0]).expect("a form");
    assert_eq!(form.values["photos"], json!([named]));
    let mut values: Value = json!(form.values);
    values["grit"] = json!(400);
    let mend = step("grit_pass", "C-1", values);
    desk.correct(&logged.hashes[0], &mend, "misread").expect("corrected");
    assert_eq!(with_count(&desk, 1).photos[0].id, named);
}
