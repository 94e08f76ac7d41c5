//! Reading a folder without a home: nothing is written anywhere, no identity is needed.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use trowelogue_core::id::{DeviceId, Hash};

use super::Reading;
use super::read::{merged, pending_tails};
use crate::disk::{Disk, RealDisk};
use crate::error::Error;
use crate::gather;
use crate::home;
use crate::line::Raw;
use crate::scan::{Root, Scanner};
use crate::segment::{Depth, State};
use crate::shopfile::ShopFile;
use crate::wire::{self, Signed};

/// Reads a folder without a home: nothing is written anywhere.
pub fn read_folder(folder: &Path) -> Result<Reading, Error> {
    read_folder_on(&(Arc::new(RealDisk) as Arc<dyn Disk>), folder)
}

/// [`read_folder`] over another file system.
pub fn read_folder_on(disk: &Arc<dyn Disk>, folder: &Path) -> Result<Reading, Error> {
    let file = home::read_shop_file(disk.as_ref(), folder)?;
    let mut scanner = Scanner::new(disk.clone(), &file, Depth::Newest, None);
    let round = scanner.round(Root::Folder, folder, "logs", None)?;
    let (breaks, mut notes) = scanner.report();
    let breaks = pending_tails(breaks, &mut notes);
    Ok(Reading { merged: merged(&file, &scanner.index, round.records), breaks, notes, folder_here: true })
}

/// The name of the shop in a folder, as its `shop.json` has it.
pub fn shop_name(folder: &Path) -> Result<String, Error> {
    Ok(shop_file(folder)?.name)
}

/// The `shop.json` of a folder, checked.
pub fn shop_file(folder: &Path) -> Result<ShopFile, Error> {
    home::read_shop_file(&RealDisk, folder)
}

/// Lines as they stand in their files, for a paper or an export that is to prove itself.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Excerpt {
    /// For each device concerned, one header: it carries the key.
    pub headers: BTreeMap<DeviceId, String>,
    /// The lines asked for, by their hash; each with its newline.
    pub lines: BTreeMap<Hash, String>,
}

/// Finds the exact lines with the given hashes, and a header for each device among them.
pub(super) fn excerpt(scanner: &Scanner, disk: &dyn Disk, wanted: &BTreeSet<Hash>) -> Excerpt {
    let mut excerpt = Excerpt::default();
    for (_, tracked) in scanner.tracked.iter().filter(|(_, tracked)| tracked.state == State::Log) {
        let Ok(gathered) = disk.read(&tracked.path).and_then(|source| gather::gather(source, true)) else {
            continue;
        };
        let gathered = scanner.sight.of(gathered);
        for piece in &gathered.pieces {
            let text =
                gathered.bytes.get(piece.range.clone()).and_then(|bytes| std::str::from_utf8(bytes).ok());
            if let Some(raw) = text.and_then(Raw::split) {
                excerpt.take(scanner, &raw, wanted);
            }
        }
    }
    let concerned: BTreeSet<DeviceId> =
        excerpt.lines.values().filter_map(|line| device_of(line.trim_end())).collect();
    excerpt.headers.retain(|device, _| concerned.contains(device));
    excerpt
}

fn device_of(line: &str) -> Option<DeviceId> {
    wire::parse(Raw::split(line)?.entry).ok().map(|signed| signed.device())
}

impl Excerpt {
    fn take(&mut self, scanner: &Scanner, raw: &Raw<'_>, wanted: &BTreeSet<Hash>) {
        let hash = raw.hash();
        let counts = scanner.index.known(&hash) != crate::segment::Known::No;
        if raw.entry.contains("\"header\":") && counts {
            if let Ok(Signed::Header(header)) = wire::parse(raw.entry) {
                self.headers.entry(header.device).or_insert_with(|| raw.compose());
            }
        } else if wanted.contains(&hash) && counts {
            // Of several copies the one that says most: a body rather than none.
            let line = self.lines.entry(hash).or_insert_with(|| raw.compose());
            if line.len() < raw.compose().len() {
                *line = raw.compose();
            }
        }
    }
}

/// [`Excerpt`] from a folder, without a home.
pub fn excerpt_of_folder(folder: &Path, wanted: &BTreeSet<Hash>) -> Result<Excerpt, Error> {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let file = home::read_shop_file(disk.as_ref(), folder)?;
    let mut scanner = Scanner::new(disk.clone(), &file, Depth::Newest, None);
    scanner.round(Root::Folder, folder, "logs", None)?;
    Ok(excerpt(&scanner, disk.as_ref(), wanted))
}
