//! Homes and folders: found, join, append, read, heal, restore.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

mod common;

use std::fs;
use std::thread;

use common::{Yard, add, at, draft, hashes, in_folder, own_file};
use trowelogue_journal::{BreakKind, Error, Expected, Home, NotPublished, NoteKind, Published, read_folder};

#[test]
fn what_is_appended_is_read_by_everyone_the_same() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    let first = add(&mut anna, "first", 0);
    let mut ben = yard.join("ben");
    ben.read().unwrap();
    let second = add(&mut ben, "second", 5);
    let all = hashes(&[first.clone(), second.clone()].concat());
    assert_eq!(hashes(&anna.read().unwrap().merged.records), all);
    assert_eq!(hashes(&ben.read().unwrap().merged.records), all);
    assert_eq!(in_folder(&yard.folder()), all);
    let reading = read_folder(&yard.folder()).unwrap();
    assert_eq!((reading.breaks, reading.notes), (vec![], vec![]));
    assert_eq!(reading.merged.founder, anna.device());
    assert_eq!(reading.merged.devices.len(), 2);
    // Ben saw Anna's head, and his clock goes on from hers.
    assert_eq!(second[0].entry.saw, vec![(anna.device(), 1, first[0].hash)]);
    assert!(second[0].order() > first[0].order());
    // What append returned is what readers see, byte for byte of the body.
    let read = reading.merged.records.iter().find(|record| record.hash == second[0].hash).unwrap();
    assert_eq!(*read, second[0]);
}

#[test]
fn a_batch_is_all_or_nothing() {
    let yard = Yard::new();
    let mut shop = yard.found("anna");
    let mut long = draft("x");
    long.body.insert("text".into(), "y".repeat(70_000).into());
    let error = shop.append(vec![draft("good"), long], at(0)).unwrap_err();
    assert!(matches!(error, Error::TooLong { number: 2, .. }), "{error}");
    assert_eq!(error.code(), "too_long");
    assert!(in_folder(&yard.folder()).is_empty());
    let batch = shop.append(vec![draft("a"), draft("b"), draft("c")], at(1)).unwrap();
    assert_eq!(batch.written().iter().map(|w| w.seq).collect::<Vec<_>>(), [1, 2, 3]);
    assert_eq!(batch.published, Published::Yes);
    let links: Vec<_> = batch.records.iter().map(|record| record.after).collect();
    assert_eq!(links, [None, Some(batch.records[0].hash), Some(batch.records[1].hash)]);
}

#[test]
fn segments_are_sealed_and_the_whole_verifies() {
    let yard = Yard::new();
    let mut shop = yard.found("anna");
    let long = "z".repeat(20_000);
    for batch in 0..8 {
        shop.append((0..20).map(|_| draft(&long)).collect(), at(batch)).unwrap();
    }
    assert!(own_file(&shop, 3).exists());
    let report = shop.verify(&Expected::default()).unwrap();
    assert_eq!((report.breaks, report.notes), (vec![], vec![]));
    let reading = yard.home("anna").shop(&yard.folder()).unwrap().read().unwrap();
    assert_eq!(reading.merged.records.len(), 160);
    assert_eq!(reading.merged.records.iter().filter(|record| record.after.is_none()).count(), 1);
    // A sealed segment that is missing is named, and costs nothing that stands in the others.
    fs::remove_file(own_file(&shop, 2)).unwrap();
    let report = trowelogue_journal::verify_folder(&yard.folder(), &Expected::default()).unwrap();
    assert!(
        report.breaks.iter().any(|b| b.kind == BreakKind::SegmentMissing && b.file.ends_with("-0002.jsonl"))
    );
    // The next append heals it.
    add(&mut shop, "heals", 99);
    let report = trowelogue_journal::verify_folder(&yard.folder(), &Expected::default()).unwrap();
    assert_eq!(report.breaks, vec![]);
}

#[test]
fn two_threads_append_at_once_and_none_is_lost() {
    let yard = Yard::new();
    let founder = yard.found("anna");
    let home = founder.dir().parent().unwrap().parent().unwrap().to_path_buf();
    let folder = yard.folder();
    let work = |name: &'static str| {
        let (home, folder) = (home.clone(), folder.clone());
        move || {
            let mut shop = Home::open(home).shop(&folder).unwrap();
            for number in 0..100 {
                add(&mut shop, &format!("{name} {number}"), number);
            }
        }
    };
    let (one, two) = (thread::spawn(work("one")), thread::spawn(work("two")));
    one.join().unwrap();
    two.join().unwrap();
    let reading = read_folder(&folder).unwrap();
    assert_eq!(reading.merged.records.len(), 200);
    let report = trowelogue_journal::verify_folder(&folder, &Expected::default()).unwrap();
    assert_eq!((report.breaks, report.notes), (vec![], vec![]));
}

#[test]
fn a_lost_folder_is_rebuilt_from_one_home() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let mut ben = yard.join("ben");
    ben.read().unwrap();
    add(&mut ben, "b", 1);
    anna.read().unwrap();
    let before = in_folder(&yard.folder());
    fs::remove_dir_all(yard.folder()).unwrap();
    assert!(!anna.read().unwrap().folder_here);
    assert_eq!(hashes(&anna.read().unwrap().merged.records), before);
    let mut anna = yard.home("anna").shop(&yard.folder()).unwrap();
    assert_eq!(anna.publish().unwrap(), Published::Rebuilt);
    assert_eq!(in_folder(&yard.folder()), before);
    // Ben's log came back under Anna's own folder; his own file is his to write.
    assert!(!own_file(&ben, 1).exists());
    assert_eq!(ben.publish().unwrap(), Published::Yes);
    assert!(own_file(&ben, 1).exists());
    let report = anna.verify(&Expected::default()).unwrap();
    assert_eq!((report.breaks, report.notes), (vec![], vec![]));
}

#[test]
fn a_lost_home_joins_again_and_reads_the_same() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let before = hashes(&anna.read().unwrap().merged.records);
    fs::remove_dir_all(yard.dir.path().join("anna")).unwrap();
    let mut again = yard.join("anna");
    assert_ne!(again.device(), anna.device());
    assert_eq!(hashes(&again.read().unwrap().merged.records), before);
}

#[test]
fn a_home_set_back_must_go_on_as_a_new_device() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let home = yard.dir.path().join("anna");
    let backup = yard.dir.path().join("backup");
    copy_dir(&home, &backup);
    add(&mut anna, "b", 1);
    fs::remove_dir_all(&home).unwrap();
    fs::rename(&backup, &home).unwrap();
    let restored = yard.home("anna");
    let mut shop = restored.shop(&yard.folder()).unwrap();
    let error = shop.append(vec![draft("c")], at(2)).unwrap_err();
    assert!(matches!(error, Error::HomeBehind { own: 1, folder: 2, .. }), "{error}");
    shop.read().unwrap();
    assert!(matches!(shop.append(vec![draft("c")], at(2)), Err(Error::HomeBehind { .. })));
    assert_eq!(shop.publish().unwrap(), Published::NotYet(NotPublished::HomeBehind));
    let mut new = restored.replace_device(shop.id()).unwrap();
    add(&mut new, "c", 3);
    let reading = new.read().unwrap();
    assert_eq!(reading.merged.records.len(), 3);
    assert!(reading.merged.devices.contains(&(new.device(), Some(anna.device()))));
    assert!(new.verify(&Expected::default()).unwrap().breaks.is_empty());
}

#[test]
fn a_clone_forks_and_both_branches_are_kept() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let clone_dir = yard.dir.path().join("clone");
    copy_dir(&yard.dir.path().join("anna"), &clone_dir);
    let mut reader = yard.join("reader");
    let original = add(&mut anna, "original", 1);
    reader.read().unwrap();
    // The clone worked out of reach of the folder, and its engine won.
    let published = own_file(&anna, 1);
    let kept = fs::read(&published).unwrap();
    fs::rename(yard.folder(), yard.dir.path().join("away")).unwrap();
    let mut clone = yard.home("clone").shop(&yard.folder()).unwrap();
    let cloned = add(&mut clone, "cloned", 2);
    fs::remove_dir_all(yard.folder()).unwrap_or(());
    fs::rename(yard.dir.path().join("away"), yard.folder()).unwrap();
    let device = anna.device();
    let journal = clone.dir().join("journal").join(device.to_string()).join(format!("{device}-0001.jsonl"));
    fs::copy(journal, &published).unwrap();
    let reading = reader.read().unwrap();
    let found = hashes(&reading.merged.records);
    assert!(found.contains(&original[0].hash) && found.contains(&cloned[0].hash));
    assert!(reading.breaks.iter().any(|b| b.kind == BreakKind::Fork), "{:?}", reading.breaks);
    // Neither branch is lost, whatever the folder shows later.
    fs::write(&published, &kept).unwrap();
    assert_eq!(hashes(&reader.read().unwrap().merged.records), found);
    let mut reader = yard.home("reader").shop(&yard.folder()).unwrap();
    assert_eq!(hashes(&reader.read().unwrap().merged.records), found);
}

#[test]
fn rewinds_and_deletions_lose_nothing_and_are_healed() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let file = own_file(&anna, 1);
    let old = fs::read(&file).unwrap();
    add(&mut anna, "b", 1);
    let mut ben = yard.join("ben");
    let all = hashes(&ben.read().unwrap().merged.records);
    for damage in ["rewound", "cut", "gone", "blank", "empty"] {
        match damage {
            "rewound" => fs::write(&file, &old).unwrap(),
            "cut" => fs::write(&file, &old[..old.len() - 40]).unwrap(),
            "gone" => fs::remove_file(&file).unwrap(),
            "blank" => fs::write(&file, vec![0; 900]).unwrap(),
            _ => fs::write(&file, b"").unwrap(),
        }
        let sweep = ben.sweep().unwrap();
        assert!(sweep.records.is_empty() && sweep.folder_here);
        assert!(sweep.notes.iter().any(|n| n.kind == NoteKind::WentBackwards), "{damage}: {:?}", sweep.notes);
        assert_eq!(hashes(&ben.read().unwrap().merged.records), all, "{damage}");
        let breaks = ben.verify(&Expected::default()).unwrap().breaks;
        assert!(!breaks.is_empty(), "{damage} is named");
        assert_eq!(anna.publish().unwrap(), Published::Yes);
        assert_eq!(ben.verify(&Expected::default()).unwrap().breaks, vec![], "{damage} is healed");
    }
}

#[test]
fn conflict_copies_of_every_known_name_are_read_and_left_alone() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let file = own_file(&anna, 1);
    let old = fs::read(&file).unwrap();
    add(&mut anna, "b", 1);
    let full = fs::read(&file).unwrap();
    let all = in_folder(&yard.folder());
    let stem = file.file_stem().unwrap().to_str().unwrap().to_string();
    let names = [
        format!("{stem}.sync-conflict-20261125-090722-LXMEAEU.jsonl"),
        format!("{stem} (conflicted copy 2018-04-10 093612).jsonl"),
        format!("{stem} (YARD-PC's conflicted copy 2014-09-14).jsonl"),
        format!("{stem}-YARD-PC.jsonl"),
        format!("{stem} (1).jsonl"),
        format!("{stem} 2.jsonl"),
        format!("{stem} - Copy.jsonl"),
        "nothing-like-it".to_string(),
    ];
    for name in names {
        let copy = file.with_file_name(&name);
        // The copy holds what the file lost.
        fs::write(&copy, &full).unwrap();
        fs::write(&file, &old).unwrap();
        let reading = read_folder(&yard.folder()).unwrap();
        assert_eq!(hashes(&reading.merged.records), all, "{name}");
        assert!(reading.notes.iter().any(|n| n.kind == NoteKind::CopyAddsLines), "{name}");
        // The copy adds nothing.
        fs::write(&copy, &old).unwrap();
        fs::write(&file, &full).unwrap();
        let reading = read_folder(&yard.folder()).unwrap();
        assert_eq!(hashes(&reading.merged.records), all, "{name}");
        assert_eq!(reading.breaks, vec![]);
        assert!(reading.notes.iter().any(|n| n.kind == NoteKind::CopyAddsNothing), "{name}");
        add(&mut anna, "more", 2);
        assert_eq!(fs::read(&copy).unwrap(), old, "{name} is not written to");
        fs::remove_file(&copy).unwrap();
        fs::write(&file, &full).unwrap();
    }
}

#[test]
fn a_folder_out_of_reach_never_stops_an_entry() {
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let away = yard.dir.path().join("deeper");
    fs::create_dir(&away).unwrap();
    fs::rename(yard.folder(), away.join("shop")).unwrap();
    // A file stands where the folder was: nothing can be made there.
    fs::write(yard.folder(), b"not a folder").unwrap();
    let done = anna.append(vec![draft("b")], at(1)).unwrap();
    assert!(matches!(done.published, Published::NotYet(_)), "{:?}", done.published);
    assert_eq!(anna.read().unwrap().merged.records.len(), 2);
    fs::remove_file(yard.folder()).unwrap();
    fs::rename(away.join("shop"), yard.folder()).unwrap();
    assert_eq!(anna.sweep().unwrap().published, Published::Yes);
    assert_eq!(in_folder(&yard.folder()).len(), 2);
}

#[test]
fn places_are_told_apart() {
    let yard = Yard::new();
    let shop = yard.found("anna");
    let (id, home, stranger) = (shop.id(), yard.home("anna"), yard.home("stranger"));
    let copy = yard.dir.path().join("copy");
    copy_dir(&yard.folder(), &copy);
    assert!(matches!(home.shop(&copy), Err(Error::BoundElsewhere { .. })));
    assert!(
        matches!(stranger.shop(&yard.folder()), Err(Error::NotJoined { shop: Some(found), .. }) if found == id)
    );
    assert!(matches!(home.found(&yard.folder(), "Again", at(0)), Err(Error::AlreadyAShop { .. })));
    let missing = yard.dir.path().join("no/such/place");
    assert!(matches!(home.found(&missing, "Again", at(0)), Err(Error::FolderMissing { .. })));
    assert!(matches!(stranger.join(&missing), Err(Error::FolderMissing { .. })));
    assert!(!yard.dir.path().join("stranger").exists(), "a refused join writes nothing");
    assert_eq!(home.rebind(id, &copy).unwrap().folder(), copy.canonicalize().unwrap());
}

#[test]
fn a_newer_or_damaged_shop_file_is_said() {
    let yard = Yard::new();
    let mut shop = yard.found("anna");
    add(&mut shop, "a", 0);
    let path = yard.folder().join("shop.json");
    let good = fs::read_to_string(&path).unwrap();
    fs::write(&path, good.replacen("\"format\":1", "\"format\":2", 1)).unwrap();
    assert_eq!(read_folder(&yard.folder()).unwrap_err().code(), "newer_format");
    fs::write(&path, good.replacen("North", "South", 1)).unwrap();
    assert!(matches!(read_folder(&yard.folder()), Err(Error::ShopFile { .. })));
    let report = shop.verify(&Expected::default()).unwrap();
    assert_eq!(report.breaks.iter().map(|b| b.kind).collect::<Vec<_>>(), [BreakKind::ShopFileBad]);
    assert_eq!(shop.read().unwrap().merged.records.len(), 1);
}

#[cfg(unix)]
#[test]
fn links_are_not_followed_and_the_key_is_private() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let yard = Yard::new();
    let mut anna = yard.found("anna");
    add(&mut anna, "a", 0);
    let mode = fs::metadata(yard.dir.path().join("anna/key")).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    let outside = yard.dir.path().join("outside");
    fs::rename(yard.folder().join("logs"), &outside).unwrap();
    symlink(&outside, yard.folder().join("logs")).unwrap();
    assert!(in_folder(&yard.folder()).is_empty());
    let before =
        fs::read(outside.join(own_file(&anna, 1).strip_prefix(yard.folder().join("logs")).unwrap())).unwrap();
    let done = anna.append(vec![draft("b")], at(1)).unwrap();
    assert!(matches!(done.published, Published::NotYet(_)));
    let after =
        fs::read(outside.join(own_file(&anna, 1).strip_prefix(yard.folder().join("logs")).unwrap())).unwrap();
    assert_eq!(before, after);
}

fn copy_dir(from: &std::path::Path, to: &std::path::Path) {
    fs::create_dir_all(to).unwrap();
    for item in fs::read_dir(from).unwrap() {
        let item = item.unwrap();
        let target = to.join(item.file_name());
        match item.file_type().unwrap().is_dir() {
            true => copy_dir(&item.path(), &target),
            false => drop(fs::copy(item.path(), target).unwrap()),
        }
    }
}
