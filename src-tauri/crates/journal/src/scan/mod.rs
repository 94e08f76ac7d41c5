//! Looking through the folder and the private journal: what changed is read again, the rest is not.

pub(crate) mod list;
mod read;
mod report;

use std::collections::{BTreeMap, HashMap, HashSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use trowelogue_core::entry::Record;
use trowelogue_core::id::{DeviceId, Hash};

use crate::disk::{Disk, Stat};
use crate::error::Error;
use crate::fault::{BreakKind, Note, NoteKind};
use crate::files::{parse_segment_name, segment_name};
use crate::gather::Gathered;
use crate::index::Index;
use crate::mirror::{Mirror, Outline};
use crate::segment::{Context, Depth, Segment, State};
use crate::shopfile::ShopFile;
use crate::sight::Sight;
use crate::wire::Signed;

use list::Listed;
use read::Outcome;

/// Stands for bytes whose digest was not taken: no file has it.
const NO_DIGEST: Hash = Hash([0; 32]);

/// Which of the two places a file stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Root {
    /// The private journal.
    Journal,
    /// The shop's folder.
    Folder,
}

/// A file as it was read last.
#[derive(Debug, Clone)]
pub(crate) struct Tracked {
    pub(crate) path: PathBuf,
    pub(crate) stat: Stat,
    pub(crate) state: State,
    pub(crate) device: Option<DeviceId>,
    /// From the header, or from the name where the header is damaged.
    pub(crate) segment: Option<u32>,
    /// Its name is the one its writer gives it.
    pub(crate) canonical: bool,
    /// The line before its header, where the header is good.
    pub(crate) follows: Option<Hash>,
    /// Its last line that counts.
    pub(crate) tail: Option<Hash>,
    /// First and last sequence number of its entries.
    pub(crate) range: Option<(u64, u64)>,
    /// Whether it brought a line no other file had.
    pub(crate) adds: bool,
    pub(crate) faults: Vec<(Option<u64>, BreakKind)>,
    pub(crate) notes: Vec<(Option<u64>, NoteKind)>,
    pub(crate) withheld: Vec<(u64, Hash)>,
    digest: Option<Hash>,
}

/// What one round brought.
#[derive(Debug, Default)]
pub(crate) struct Round {
    pub(crate) records: Vec<Record>,
    pub(crate) devices: Vec<(DeviceId, Option<DeviceId>)>,
    pub(crate) reread: bool,
}

impl Round {
    pub(crate) fn join(&mut self, other: Self) {
        self.records.extend(other.records);
        self.devices.extend(other.devices);
        self.reread |= other.reread;
    }
}

/// Everything seen so far, and how it was seen.
pub(crate) struct Scanner {
    disk: Arc<dyn Disk>,
    shop: Hash,
    depth: Depth,
    /// What this home may see of the files.
    pub(crate) sight: Arc<Sight>,
    pub(crate) index: Index,
    pub(crate) tracked: BTreeMap<(Root, String), Tracked>,
    /// Places passed over in the last round, by root.
    passed: BTreeMap<Root, Vec<Note>>,
    /// Which file is read again although it seems unchanged: one each round.
    turn: usize,
    /// This device, where there is one.
    own: Option<DeviceId>,
    /// Entries of this device that came from the folder and were not in its private journal.
    pub(crate) own_elsewhere: Vec<(Hash, u64)>,
}

impl Scanner {
    pub(crate) fn new(disk: Arc<dyn Disk>, shop: &ShopFile, depth: Depth, own: Option<DeviceId>) -> Self {
        let mut index = Index::new(shop.hash(), shop.key);
        if let Some(own) = own {
            index.set_own(own);
        }
        Self {
            disk,
            shop: shop.hash(),
            depth,
            sight: Arc::default(),
            index,
            tracked: BTreeMap::new(),
            passed: BTreeMap::new(),
            turn: 0,
            own,
            own_elsewhere: Vec::new(),
        }
    }

    /// The same scanner, seeing what `sight` lets it see.
    pub(crate) fn seeing(mut self, sight: Arc<Sight>) -> Self {
        self.sight = sight;
        self
    }

    /// Looks at the files below `dir/under`. New lines go into the index and, if there is one, the mirror.
    pub(crate) fn round(
        &mut self,
        root: Root,
        dir: &Path,
        under: &str,
        mut mirror: Option<&mut Mirror>,
    ) -> Result<Round, Error> {
        let (files, notes) =
            list::list(self.disk.as_ref(), dir, under).map_err(|error| Error::io(&dir.join(under), error))?;
        self.passed.insert(root, notes);
        self.forget_gone(root, under, &files);
        let its_turn = self.turn.checked_rem(files.len());
        self.turn = self.turn.wrapping_add(1);
        let due =
            files.iter().enumerate().filter(|(at, file)| Some(*at) == its_turn || self.is_due(root, file));
        let mut changed: Vec<&Listed> = due.map(|(_, file)| file).collect();
        // Files under their own names first, so that a copy is judged by what it adds.
        changed.sort_by_key(|file| !is_canonical_place(&file.name));
        let mut round = self.take(root, &changed, &mut mirror);
        let keyless = self.keyless(root, &changed);
        if !keyless.is_empty() {
            round.join(self.take(root, &keyless, &mut mirror));
        }
        Ok(round)
    }

    /// A file is read when it changed, or when reading it or mirroring a line of it failed before.
    fn is_due(&self, root: Root, file: &Listed) -> bool {
        let tracked = self.tracked.get(&(root, file.name.clone()));
        tracked.is_none_or(|tracked| tracked.stat != file.stat || tracked.digest.is_none())
    }

    /// A file that is not there is unknown, not deleted: its lines stay.
    fn forget_gone(&mut self, root: Root, under: &str, files: &[Listed]) {
        let here: HashSet<&str> = files.iter().map(|file| file.name.as_str()).collect();
        self.tracked.retain(|(place, name), _| {
            *place != root || !name.starts_with(under) || here.contains(name.as_str())
        });
    }

    fn keyless<'a>(&self, root: Root, files: &[&'a Listed]) -> Vec<&'a Listed> {
        let key_came = |file: &&&Listed| {
            let tracked = self.tracked.get(&(root, file.name.clone()));
            let device = tracked.filter(|t| t.state == State::NoKey).and_then(|t| t.device);
            device.is_some_and(|device| self.index.keys().contains_key(&device))
        };
        files.iter().filter(key_came).copied().collect()
    }

    fn take(&mut self, root: Root, files: &[&Listed], mirror: &mut Option<&mut Mirror>) -> Round {
        let mut round = Round::default();
        for files in files.chunks(read::CHUNK) {
            let seen = self.clean_digests();
            let outcomes = {
                let known = |hash: &Hash| self.index.known(hash);
                let context =
                    Context { shop: self.shop, keys: self.index.keys(), known: &known, depth: self.depth };
                read::read_all(self.disk.as_ref(), files, &context, &self.sight, &seen)
            };
            for (file, outcome) in files.iter().zip(outcomes) {
                match outcome {
                    Outcome::Read(read) => self.merge(root, file, *read, mirror, &mut round),
                    Outcome::Same(digest) => self.same(root, file, &seen, digest),
                    Outcome::Failed(error) => self.failed(root, file, &error),
                }
            }
        }
        round
    }

    /// Files read without a fault, by the digest of their bytes.
    fn clean_digests(&self) -> HashMap<Hash, (Root, String)> {
        let clean = |t: &Tracked| t.state == State::Log && t.faults.is_empty();
        let files = self.tracked.iter().filter(|(_, tracked)| clean(tracked));
        files.filter_map(|(place, tracked)| Some((tracked.digest?, place.clone()))).collect()
    }

    fn same(&mut self, root: Root, file: &Listed, seen: &HashMap<Hash, (Root, String)>, digest: Hash) {
        if let Some(like) = seen.get(&digest).and_then(|place| self.tracked.get(place)) {
            let canonical = is_canonical(&file.name, like.device, like.segment);
            let (path, stat) = (file.path.clone(), file.stat);
            let tracked = Tracked { path, stat, canonical, adds: self.added(root, file), ..like.clone() };
            self.tracked.insert((root, file.name.clone()), tracked);
        }
    }

    fn added(&self, root: Root, file: &Listed) -> bool {
        self.tracked.get(&(root, file.name.clone())).is_some_and(|tracked| tracked.adds)
    }

    fn failed(&mut self, root: Root, file: &Listed, error: &std::io::Error) {
        let key = (root, file.name.clone());
        if error.kind() == std::io::ErrorKind::NotFound {
            self.tracked.remove(&key);
            return;
        }
        let notes = vec![(None, NoteKind::Unreadable)];
        self.tracked.insert(key, Tracked { notes, digest: None, ..Tracked::blank(file) });
    }

    fn merge(
        &mut self,
        root: Root,
        file: &Listed,
        read: (Gathered, Segment, Hash),
        mirror: &mut Option<&mut Mirror>,
        round: &mut Round,
    ) {
        let (gathered, segment, digest) = read;
        let mut tracked = Tracked::of(file, &segment, digest, self.added(root, file));
        let outlines: Vec<Outline> = match mirror {
            Some(_) => segment.lines.iter().map(Outline::of).collect(),
            None => Vec::new(),
        };
        let mut gained = false;
        for line in segment.lines {
            let gain = self.index.absorb(line);
            gained |= gain.new || gain.record.is_some();
            round.reread |= gain.reread;
            round.devices.extend(gain.device);
            if let Some(record) =
                gain.record.as_ref().filter(|r| gain.new && Some(r.entry.device) == self.own)
                && root == Root::Folder
            {
                self.own_elsewhere.push((record.hash, record.entry.seq));
            }
            round.records.extend(gain.record);
        }
        tracked.adds |= gained;
        let unmirrored = self.tracked.get(&(root, file.name.clone())).is_some_and(|t| t.digest.is_none());
        if let (Some(mirror), Some(device), true) = (mirror.as_mut(), tracked.device, gained || unmirrored) {
            let key = self.index.keys().get(&device);
            let done = mirror.take(device, tracked.segment, key, &outlines, &gathered.bytes);
            if done.is_err() {
                tracked.digest = None;
            }
        }
        self.tracked.insert((root, file.name.clone()), tracked);
    }

    /// Notes that this process itself appended to a file, so that it need not be read for that.
    pub(crate) fn grew(&mut self, root: Root, name: &str, stat: Stat, last: (u64, Hash)) {
        if let Some(tracked) = self.tracked.get_mut(&(root, name.into())) {
            tracked.stat = stat;
            tracked.tail = Some(last.1);
            tracked.range = Some((tracked.range.map_or(last.0, |(from, _)| from), last.0));
            tracked.digest = Some(NO_DIGEST);
        }
    }
}

impl Tracked {
    fn blank(file: &Listed) -> Self {
        Self {
            path: file.path.clone(),
            stat: file.stat,
            state: State::NotHereYet,
            device: None,
            segment: None,
            canonical: false,
            follows: None,
            tail: None,
            range: None,
            adds: false,
            faults: Vec::new(),
            notes: Vec::new(),
            withheld: Vec::new(),
            digest: Some(NO_DIGEST),
        }
    }

    fn of(file: &Listed, segment: &Segment, digest: Hash, adds: bool) -> Self {
        let named = file_name(&file.name).and_then(parse_segment_name);
        let number = segment.number().or_else(|| {
            named.filter(|(device, _)| Some(*device) == segment.device).map(|(_, number)| number)
        });
        let numbers = segment.lines.iter().filter_map(|line| match &line.signed {
            Signed::Entry(entry) => Some(entry.seq),
            _ => None,
        });
        let range = numbers.fold(None, |range: Option<(u64, u64)>, seq| {
            Some(range.map_or((seq, seq), |(from, to)| (from.min(seq), to.max(seq))))
        });
        Self {
            state: segment.state,
            device: segment.device,
            segment: number,
            canonical: is_canonical(&file.name, segment.device, number),
            follows: segment.header.as_ref().map(|header| header.prev),
            tail: segment.lines.last().map(|line| line.hash),
            range,
            adds,
            faults: segment.faults.clone(),
            notes: segment.notes.clone(),
            withheld: segment.withheld.clone(),
            digest: Some(digest),
            ..Self::blank(file)
        }
    }
}

fn file_name(name: &str) -> Option<&str> {
    name.rsplit('/').next()
}

/// The place a segment's file has below its root: `<device>/<device>-<segment>.jsonl`.
pub(crate) fn canonical_place(device: DeviceId, segment: u32) -> String {
    format!("{device}/{}", segment_name(device, segment))
}

fn is_canonical(name: &str, device: Option<DeviceId>, segment: Option<u32>) -> bool {
    let place = device.zip(segment).map(|(device, segment)| canonical_place(device, segment));
    place.is_some_and(|place| name == place || name.strip_prefix("logs/") == Some(&place))
}

fn is_canonical_place(name: &str) -> bool {
    let named = file_name(name).and_then(parse_segment_name);
    is_canonical(name, named.map(|(device, _)| device), named.map(|(_, segment)| segment))
}
