//! The desk by itself: settings, opening, founding, joining.

use std::path::Path;

use super::super::Desk;
use crate::dto::{Lang, Settings, Standing, Theme};
use crate::{Clock, ErrorCode};

fn desk(home: &Path) -> Desk {
    let now = trowelogue_core::moment::parse("2025-03-04T10:20:00-06:00").expect("a moment");
    Desk::new(home, Clock::At(now))
}

#[test]
fn settings_and_their_words_are_there_again_after_the_desk_was_closed() {
    let home = tempfile::tempdir().expect("a folder");
    let settings = desk(home.path()).start().settings;
    let wanted = Settings { lang: Lang::Es, theme: Theme::Dark, ..settings };
    assert_eq!(desk(home.path()).set_settings(&wanted).expect("kept"), wanted);
    let again = desk(home.path());
    assert_eq!(again.start().settings, wanted);
    assert_eq!(again.words(None).words["places.day"], "Hoy");
    assert_eq!(again.words(Some(Lang::En)).words["places.day"], "Today");
}

#[test]
fn a_shop_is_founded_joined_and_opened_again_at_the_next_start() {
    let all = tempfile::tempdir().expect("a folder");
    let shop = all.path().join("shop");
    let owner = all.path().join("owner");
    let founded = desk(&owner).found(&shop, "Quarry Lane", "Ada Brook").expect("founded");
    assert_eq!(founded.start.standing, Standing::Owner);
    assert!(!founded.recovery_key.is_empty());
    let joined = desk(&all.path().join("crew")).join(&shop, "Ben Marsh").expect("joined");
    assert_eq!(joined.start.standing, Standing::Apart);
    let head = desk(&owner).start().shop.expect("the shop opened last");
    assert_eq!((head.name.as_str(), head.person.as_deref()), ("Quarry Lane", Some("Ada Brook")));
    let looked = desk(&all.path().join("guest")).open_shop(&shop).expect("opened");
    assert_eq!(looked.standing, Standing::Reader);
}

#[test]
fn a_folder_that_is_not_there_is_said_and_the_desk_stays_as_it_was() {
    let all = tempfile::tempdir().expect("a folder");
    let desk = desk(&all.path().join("home"));
    let error = desk.open_shop(&all.path().join("nowhere")).expect_err("refused");
    assert_eq!(error.code, ErrorCode::FolderMissing);
    assert_eq!(desk.start().standing, Standing::None);
}
