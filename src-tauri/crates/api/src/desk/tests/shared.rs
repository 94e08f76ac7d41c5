//! Several homes on one folder, a folder that is away, two processes of one home.

use std::sync::mpsc;
use std::time::{Duration, Instant};

use super::{Bench, NOW, clock_at, listed, pass, step};
use crate::dto::{DayState, DeviceStatus, EntryStatus, Standing};
use crate::{Desk, ErrorCode};

/// A crew member's desk, accepted by the owner.
fn crew(bench: &Bench, owner: &Desk) -> Desk {
    let desk = bench.desk("crew");
    let joined = desk.join(&bench.shop(), "Ben Marsh").expect("joined");
    assert_eq!(joined.start.standing, Standing::Apart);
    owner.sweep().expect("swept");
    let page = owner.folder().expect("a page");
    let apart = page.devices.iter().find(|it| it.status == DeviceStatus::Apart).expect("waits");
    assert!(apart.may_accept);
    owner.accept(&apart.id).expect("accepted");
    desk.sweep().expect("swept");
    assert_eq!(desk.start().standing, Standing::Member);
    desk
}

#[test]
fn an_entry_of_another_home_is_shown_within_two_seconds() {
    let bench = Bench::new();
    let owner = bench.open();
    let crew = crew(&bench, &owner);
    let (tell, told) = mpsc::channel();
    owner.watch(move |changed| drop(tell.send(changed)));
    let logged = crew.log(&step("grit_pass", "C-1", pass(200))).expect("logged");
    let began = Instant::now();
    let until = began + Duration::from_secs(2);
    loop {
        let changed =
            told.recv_timeout(until.saturating_duration_since(Instant::now())).expect("told in time");
        let sheet = owner.piece("C-1").expect("a sheet");
        if sheet.history.iter().any(|it| it.hash == logged.hashes[0]) {
            assert!(changed.pieces.is_empty() || changed.pieces == [sheet.id]);
            break;
        }
    }
    assert!(began.elapsed() < Duration::from_secs(2));
}

#[test]
fn both_homes_show_the_same_record() {
    let bench = Bench::new();
    let owner = bench.open();
    let crew = crew(&bench, &owner);
    crew.log(&step("grit_pass", "C-1", pass(200))).expect("logged");
    owner.sweep().expect("swept");
    owner.log(&step("grit_pass", "C-1", pass(400))).expect("logged");
    crew.sweep().expect("swept");
    let (one, other) = (owner.folder().expect("a page"), crew.folder().expect("a page"));
    assert_eq!((one.digest, one.entries), (other.digest, other.entries));
    let page = crew.folder().expect("a page");
    assert!(page.devices.iter().all(|it| !it.may_accept && !it.may_retire), "crew decides over no device");
    assert_eq!(crew.accept("owner").expect_err("refused").code, ErrorCode::NotOwner);
}

#[test]
fn a_step_logged_while_the_folder_is_away_is_kept_and_comes_into_the_folder_later() {
    let bench = Bench::new();
    let desk = bench.open();
    let away = bench.shop().with_file_name("unplugged");
    std::fs::rename(bench.shop(), &away).expect("moved");
    // A medium that is not plugged in leaves nothing where the folder could be made again.
    std::fs::write(bench.shop(), b"").expect("in the way");
    let logged = desk.log(&step("grit_pass", "C-1", pass(200))).expect("kept here");
    assert!(!logged.in_folder);
    assert!(logged.say.contains("not yet in the folder"), "{}", logged.say);
    let newest = &desk.piece("C-1").expect("a sheet").history[0];
    assert_eq!((newest.status, newest.in_folder), (EntryStatus::Counts, false));
    assert_eq!(desk.day(None).expect("a day").not_in_folder, 1);

    std::fs::remove_file(bench.shop()).expect("out of the way");
    std::fs::rename(&away, bench.shop()).expect("plugged in");
    desk.sweep().expect("swept");
    assert_eq!(desk.day(None).expect("a day").not_in_folder, 0);
    assert!(desk.piece("C-1").expect("a sheet").history[0].in_folder);
    assert!(super::lines(&bench.shop()).iter().any(|line| line.contains(r#""grit":200"#)));
}

#[test]
fn two_desks_of_one_home_write_at_once_and_lose_nothing() {
    let bench = Bench::new();
    let desks = [bench.open(), bench.open()];
    std::thread::scope(|scope| {
        for desk in &desks {
            scope.spawn(move || {
                for _ in 0..10 {
                    desk.log(&step("rinse", "C-1", serde_json::json!({ "standing_water_removed": "yes" })))
                        .expect("logged");
                }
            });
        }
    });
    for desk in &desks {
        desk.sweep().expect("swept");
        let rinses = desk.piece("C-1").expect("a sheet").history.into_iter().filter(|it| it.kind == "rinse");
        assert_eq!(rinses.count(), 20);
    }
    assert!(desks[0].verify().expect("verified").good);
}

#[test]
fn time_alone_moves_a_piece_on() {
    use std::sync::Arc;
    use std::sync::atomic::{AtomicI64, Ordering};
    let bench = Bench::new();
    let minutes = Arc::new(AtomicI64::new(0));
    let passed = Arc::clone(&minutes);
    let base = trowelogue_core::moment::parse(NOW).expect("a moment");
    let clock =
        crate::Clock::Of(Arc::new(move || base + chrono::TimeDelta::minutes(passed.load(Ordering::Relaxed))));
    let desk = Desk::new(bench.home("owner"), clock);
    desk.open_shop(&bench.shop()).expect("opened");
    let wash = serde_json::json!({ "region": "face", "acid": "phosphoric", "concentrate_pct": 10.0,
        "ratio": "20:1", "cream_lost": "trace", "dwell_min": 3.0 });
    desk.log(&step("acid_wash", "C-1", wash)).expect("logged");
    let (state, piece) = listed(&desk, None).expect("listed");
    assert_eq!(piece.clock.expect("a clock").label, "dwell");
    assert!(matches!(state, DayState::Running | DayState::Trouble), "{state:?}");
    let before = listed(&desk, None).expect("listed");
    minutes.store(10, Ordering::Relaxed);
    let after = listed(&desk, None).expect("listed");
    assert_ne!(before, after);
    let fresh = Desk::new(bench.home("owner"), clock_at("2025-03-04T10:30:00-06:00"));
    fresh.open_shop(&bench.shop()).expect("opened");
    assert_eq!(listed(&fresh, None).expect("listed"), after);
}
