//! Lines that stand alone: attached to a paper, or exported. Each is checked by its own signature.

use std::collections::BTreeMap;

use trowelogue_core::entry::Record;
use trowelogue_core::id::DeviceId;

use crate::keys::PublicKey;
use crate::line::Raw;
use crate::segment::{self, Body};
use crate::wire::{self, Signed};

/// What one line turned out to be.
#[derive(Debug, Clone, PartialEq)]
pub enum Checked {
    /// A good header: its device, and the device that one replaces.
    Header(DeviceId, Option<DeviceId>),
    /// A good entry.
    Entry(Box<Record>),
    /// A good seal.
    Seal(DeviceId),
    /// A line whose form, body or signature is not good, or whose device has no header among the lines.
    Broken,
}

/// Checks lines by themselves, in their order. The keys come from the headers among them, and a key proves
/// itself: the device's id is made from it. That a device may write for the shop cannot be told here.
pub fn check_lines<'a>(lines: impl IntoIterator<Item = &'a str>) -> Vec<Checked> {
    let lines: Vec<&str> = lines.into_iter().map(|line| line.trim_end_matches('\n')).collect();
    let keys: BTreeMap<DeviceId, PublicKey> = lines.iter().filter_map(|line| key_in(line)).collect();
    lines.iter().map(|line| check(line, &keys)).collect()
}

fn key_in(line: &str) -> Option<(DeviceId, PublicKey)> {
    match wire::parse(Raw::split(line)?.entry) {
        Ok(Signed::Header(header)) if header.key.device() == header.device => {
            Some((header.device, header.key))
        }
        _ => None,
    }
}

fn check(line: &str, keys: &BTreeMap<DeviceId, PublicKey>) -> Checked {
    match segment::read_single(line, keys) {
        Some((_, Signed::Header(header), _)) => Checked::Header(header.device, header.replaces),
        Some((_, Signed::Seal(seal), _)) => Checked::Seal(seal.device),
        Some((hash, Signed::Entry(entry), Body::Read(body))) => {
            Checked::Entry(Box::new(Record { hash, entry: *entry, after: None, body }))
        }
        _ => Checked::Broken,
    }
}

/// A line with its body withheld (another client's, in a paper): its entry, signature and hash stay good.
/// `None` if it is not a line.
pub fn withhold(line: &str) -> Option<String> {
    Raw::split(line.trim_end_matches('\n')).map(|raw| raw.withheld().compose())
}
