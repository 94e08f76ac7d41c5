//! Checking everything: every signature, chain, seal, header and photo.

use std::path::Path;
use std::sync::Arc;

use trowelogue_core::id::Hash;

use super::exposed::exposed;
use super::photo::{self, photo_place};
use super::publish::Look;
use super::{Expected, PhotoSeen, Report, Shop};
use crate::disk::Disk;
use crate::error::Error;
use crate::fault::{Break, BreakKind, Note, NoteKind};
use crate::home::{self, SHOP_FILE};
use crate::keys::PublicKey;
use crate::scan::{Root, Scanner};
use crate::segment::Depth;
use crate::shopfile::ShopFile;
use crate::sight::Sight;
use crate::veil::Keyring;

impl Shop {
    /// Checks everything in the folder: every signature, chain, seal, header, photo; and that it holds no less
    /// than this home has seen of it.
    pub fn verify(&mut self, expected: &Expected) -> Result<Report, Error> {
        match self.look_at_folder() {
            Ok(Look::Here | Look::Bare) => {}
            _ => {
                let missing = Error::FolderMissing { path: self.folder.clone() };
                return Err(self.home.shop_file(&self.folder).err().unwrap_or(missing));
            }
        }
        self.read()?;
        let keys: Vec<PublicKey> = self.scanner.index.keys().values().copied().collect();
        let mut report = check(&self.home.disk, &self.folder, &self.file, &keys, &self.sight, expected)?;
        let there = home::read_shop_file(self.home.disk.as_ref(), &self.folder);
        if !there.is_ok_and(|there| there.text == self.file.text) {
            report.breaks.push(whole_file(SHOP_FILE, BreakKind::ShopFileBad));
        }
        self.compare_with_mirror(&mut report);
        Ok(report.sorted())
    }

    fn compare_with_mirror(&self, report: &mut Report) {
        for behind in self.scanner.behind_the_mirror() {
            let kind = match behind.missing {
                true => BreakKind::SegmentMissing,
                false => BreakKind::FileTooShortOfKnown,
            };
            if behind.device == self.device() {
                let range = Some((behind.there + 1, behind.known.max(behind.there + 1)));
                let note = Note::of_file(NoteKind::NotInFolder, &behind.file);
                report.notes.push(Note { device: Some(behind.device), range, ..note });
            } else {
                report.breaks.push(whole_file(&behind.file, kind));
            }
        }
    }
}

/// Checks a folder without a home.
pub fn verify_folder(folder: &Path, expected: &Expected) -> Result<Report, Error> {
    verify_folder_on(&(Arc::new(crate::RealDisk) as Arc<dyn Disk>), folder, expected)
}

/// [`verify_folder`] over another file system.
pub fn verify_folder_on(disk: &Arc<dyn Disk>, folder: &Path, expected: &Expected) -> Result<Report, Error> {
    match home::read_shop_file(disk.as_ref(), folder) {
        Ok(file) => Ok(check(disk, folder, &file, &[], &Arc::default(), expected)?.sorted()),
        // Without the shop's key nothing else can be told.
        Err(Error::ShopFile { .. }) => {
            Ok(Report { breaks: vec![whole_file(SHOP_FILE, BreakKind::ShopFileBad)], notes: Vec::new() })
        }
        Err(error) => Err(error),
    }
}

impl Report {
    fn sorted(mut self) -> Self {
        self.breaks.sort();
        self.breaks.dedup();
        self.notes.sort();
        self.notes.dedup();
        self
    }
}

fn whole_file(file: &str, kind: BreakKind) -> Break {
    Break { file: file.into(), line: None, kind }
}

fn check(
    disk: &Arc<dyn Disk>,
    folder: &Path,
    file: &ShopFile,
    keys: &[PublicKey],
    sight: &Arc<Sight>,
    expected: &Expected,
) -> Result<Report, Error> {
    let mut scanner = Scanner::new(disk.clone(), file, Depth::Every, None).seeing(sight.clone());
    for key in keys {
        scanner.index.learn_key(*key);
    }
    scanner.round(Root::Folder, folder, "logs", None)?;
    let (mut breaks, mut notes) = scanner.report();
    notes.extend(exposed(disk.as_ref(), folder, expected));
    breaks.extend(bodies_gone(&scanner, expected));
    breaks.extend(photos(disk.as_ref(), folder, &sight.keys, expected));
    Ok(Report { breaks, notes })
}

/// Bodies taken out without an entry that says so, where no other copy has them.
fn bodies_gone(scanner: &Scanner, expected: &Expected) -> Vec<Break> {
    let whole = crate::segment::Known::Whole;
    let gone = |hash: &Hash| scanner.index.known(hash) != whole && !expected.erased.contains(hash);
    let mut breaks = Vec::new();
    for (name, tracked) in scanner.files(Root::Folder) {
        let lines = tracked.withheld.iter().filter(|(_, hash)| gone(hash));
        breaks.extend(lines.map(|(line, _)| Break {
            file: name.into(),
            line: Some(*line),
            kind: BreakKind::BodyMissing,
        }));
    }
    breaks
}

fn photos(disk: &dyn Disk, folder: &Path, keys: &Keyring, expected: &Expected) -> Vec<Break> {
    let check = |hash: &Hash| {
        let kind = match photo::look(disk, folder, keys, hash) {
            PhotoSeen::Here(_) => return None,
            PhotoSeen::Wrong => BreakKind::PhotoWrong,
            PhotoSeen::Missing => BreakKind::PhotoMissing,
        };
        Some(whole_file(&photo_place(hash), kind))
    };
    expected.photos.iter().filter_map(check).collect()
}
