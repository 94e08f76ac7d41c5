//! Real file systems that are full, read-only or gone, and clocks that run backwards.

use std::path::{Path, PathBuf};
use std::process::Command;

use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Error, NotPublished, Published, Shop, read_folder};
use trowelogue_testkit::yard::{Yard, append, at, note};

use super::recovered;

/// A small file system in memory, unmounted when dropped.
struct Medium(PathBuf);

impl Medium {
    /// Mounts one of `kib` KiB; `None`, and says so, where this process may not.
    fn mount(at: &Path, kib: u32) -> Option<Self> {
        std::fs::create_dir_all(at).unwrap();
        let size = format!("size={kib}k");
        let done = Command::new("mount").args(["-t", "tmpfs", "-o", &size, "tmpfs"]).arg(at).output();
        if done.is_ok_and(|done| done.status.success()) {
            return Some(Self(at.to_path_buf()));
        }
        eprintln!("skipped: a file system can be mounted by root on Linux only");
        None
    }

    fn remount(&self, options: &str) {
        let options = format!("remount,{options}");
        let done = Command::new("mount").args(["-o", &options]).arg(&self.0).output().unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    }

    fn unmount(&self) {
        let done = Command::new("umount").arg("-l").arg(&self.0).output().unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    }
}

impl Drop for Medium {
    fn drop(&mut self) {
        // Unmounted already where the test pulled it out.
        let _ = Command::new("umount").arg("-l").arg(&self.0).output();
    }
}

fn long() -> trowelogue_testkit::trowelogue_journal::Draft {
    note(&"z".repeat(20_000))
}

/// Appends until the journal says what is wrong; gives what was acknowledged until then.
fn fill(shop: &mut Shop, stop: impl Fn(&Published) -> bool) -> (Vec<Hash>, Option<Error>, bool) {
    let (mut acked, mut low) = (Vec::new(), false);
    for second in 1..200 {
        match shop.append(vec![long()], at(second)) {
            Ok(done) => {
                acked.extend(done.written().iter().map(|it| it.hash));
                low |= done.low_disk;
                if stop(&done.published) {
                    return (acked, None, low);
                }
            }
            Err(error) => return (acked, Some(error), low),
        }
    }
    panic!("a medium of a few KiB never became full");
}

#[test]
fn a_full_folder_never_stops_an_entry() {
    let yard = Yard::new().unwrap();
    let stick = yard.dir.path().join("stick");
    let Some(medium) = Medium::mount(&stick, 400) else { return };
    let folder = stick.join("shop");
    let mut shop = yard.home("anna").found(&folder, "North Yard Castings", at(0)).unwrap().shop;
    let full = Published::NotYet(NotPublished::DiskFull);
    let (mut acked, error, _) = fill(&mut shop, |published| *published == full);
    assert!(error.is_none(), "{error:?}");
    // What is in the folder stays readable, whole lines only; and the next entry is taken too.
    let there = read_folder(&folder).unwrap();
    assert_eq!(there.merged.records.len(), acked.len() - 1);
    acked.push(append(&mut shop, note("still taken"), 300).unwrap());
    medium.remount("size=64m");
    recovered(&mut shop, &acked, "folder was full");
}

#[test]
fn a_full_home_says_so_and_keeps_what_it_acknowledged() {
    let yard = Yard::new().unwrap();
    let place = yard.dir.path().join("small");
    let Some(medium) = Medium::mount(&place, 600) else { return };
    let home = yard.home("small/anna");
    let mut shop = home.found(&yard.folder(), "North Yard Castings", at(0)).unwrap().shop;
    let (acked, error, low) = fill(&mut shop, |_| false);
    let error = error.unwrap();
    assert!(matches!(error, Error::DiskFull { .. }), "{error}");
    assert!(error.to_string().contains("full"), "{error}");
    assert!(low, "the reserve was given up first, and that was said");
    assert!(acked.len() > 10, "{}", acked.len());
    assert_eq!(read_folder(&yard.folder()).unwrap().merged.records.len(), acked.len());
    medium.remount("size=64m");
    recovered(&mut shop, &acked, "home was full");
    let mut again = yard.home("small/anna").shop(&yard.folder()).unwrap();
    recovered(&mut again, &acked, "home was full, restarted");
}

#[test]
fn a_read_only_folder_never_stops_an_entry() {
    let yard = Yard::new().unwrap();
    let stick = yard.dir.path().join("stick");
    let Some(medium) = Medium::mount(&stick, 4_096) else { return };
    let folder = stick.join("shop");
    let mut shop = yard.home("anna").found(&folder, "North Yard Castings", at(0)).unwrap().shop;
    let mut acked = vec![append(&mut shop, note("before"), 1).unwrap()];
    medium.remount("ro");
    let done = shop.append(vec![note("locked out")], at(2)).unwrap();
    assert_eq!(done.published, Published::NotYet(NotPublished::ReadOnly));
    acked.extend(done.written().iter().map(|it| it.hash));
    // Reading works; a shop cannot be founded there, and the home that tried knows of none.
    assert_eq!(read_folder(&folder).unwrap().merged.records.len(), 1);
    let stranger = yard.home("stranger");
    let error = stranger.found(&stick.join("other"), "Other", at(0)).err().unwrap();
    assert!(matches!(error, Error::ReadOnly { .. }), "{error}");
    assert_eq!(stranger.shops().unwrap(), vec![]);
    medium.remount("rw");
    assert_eq!(shop.sweep().unwrap().published, Published::Yes);
    recovered(&mut shop, &acked, "folder was read-only");
}

#[test]
fn a_read_only_home_refuses_in_words() {
    let yard = Yard::new().unwrap();
    let place = yard.dir.path().join("small");
    let Some(medium) = Medium::mount(&place, 4_096) else { return };
    let mut shop = yard.home("small/anna").found(&yard.folder(), "North Yard Castings", at(0)).unwrap().shop;
    let acked = vec![append(&mut shop, note("before"), 1).unwrap()];
    medium.remount("ro");
    let error = shop.append(vec![note("refused")], at(2)).unwrap_err();
    assert!(matches!(error, Error::ReadOnly { .. }), "{error}");
    assert_eq!(shop.read().unwrap().merged.records.len(), 1);
    medium.remount("rw");
    recovered(&mut shop, &acked, "home was read-only");
}

#[test]
fn a_folder_pulled_out_comes_back() {
    let yard = Yard::new().unwrap();
    let stick = yard.dir.path().join("stick");
    let keep = yard.dir.path().join("keep");
    let Some(medium) = Medium::mount(&stick, 4_096) else { return };
    let folder = stick.join("jobs").join("shop");
    std::fs::create_dir(stick.join("jobs")).unwrap();
    let mut shop = yard.home("anna").found(&folder, "North Yard Castings", at(0)).unwrap().shop;
    let mut acked = vec![append(&mut shop, note("before"), 1).unwrap()];
    trowelogue_testkit::yard::copy_dir(&stick, &keep).unwrap();
    medium.unmount();
    let done = shop.append(vec![note("meanwhile")], at(2)).unwrap();
    assert_eq!(done.published, Published::NotYet(NotPublished::FolderMissing));
    acked.extend(done.written().iter().map(|it| it.hash));
    let reading = shop.read().unwrap();
    assert!(!reading.folder_here);
    assert_eq!(reading.merged.records.len(), 2);
    assert!(std::fs::read_dir(&stick).unwrap().next().is_none(), "nothing is written where the stick was");
    // Plugged in again, with what it held.
    let again = Medium::mount(&stick, 4_096).unwrap();
    trowelogue_testkit::yard::copy_dir(&keep, &stick).unwrap();
    assert_eq!(shop.sweep().unwrap().published, Published::Yes);
    recovered(&mut shop, &acked, "folder was pulled out");
    drop(again);
}

#[test]
fn a_clock_set_back_two_years_is_said_and_changes_no_order() {
    const TWO_YEARS_S: i64 = 2 * 365 * 86_400;
    let yard = Yard::new().unwrap();
    let mut shop = yard.found("anna").unwrap();
    let mut acked = vec![append(&mut shop, note("before"), 0).unwrap()];
    let done = shop.append(vec![note("after")], at(-TWO_YEARS_S)).unwrap();
    assert!(done.clock_ahead_ms.unwrap() >= TWO_YEARS_S * 1_000, "{:?}", done.clock_ahead_ms);
    assert_eq!(done.records[0].entry.wrote, at(-TWO_YEARS_S), "the wall clock is written down as it was");
    acked.extend(done.written().iter().map(|it| it.hash));
    let mut again = yard.home("anna").shop(&yard.folder()).unwrap();
    acked.push(append(&mut again, note("restarted"), -TWO_YEARS_S + 5).unwrap());
    let mut records = again.read().unwrap().merged.records;
    records.sort_by_key(|it| it.order());
    assert_eq!(records.iter().map(|it| it.hash).collect::<Vec<_>>(), acked, "the order is that of writing");
    recovered(&mut again, &acked, "clock was set back");
}
