//! One file of a log: which of its lines are good, and what is wrong with the others.
//!
//! A broken line costs only itself. A line counts when its own signature is good, or when a line with a good
//! signature stands after it in an unbroken chain and so vouches for it.

mod check;
mod parse;
mod trust;

use std::collections::BTreeMap;
use std::ops::Range;

use trowelogue_core::entry::Content;
use trowelogue_core::id::{DeviceId, Hash};

use crate::fault::{BreakKind, NoteKind};
use crate::gather::Gathered;
use crate::keys::PublicKey;
use crate::wire::{Header, Signed};

/// The most faults listed for one file.
pub const MAX_FAULTS: usize = 1_000;
/// After so many broken lines the rest of the file is left alone.
const MAX_BROKEN: usize = 100_000;

/// How far signatures are checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// The newest of each unbroken run; the chain covers the lines before it.
    Newest,
    /// Every one.
    Every,
}

/// What a reader knows before it opens a file.
pub struct Context<'a> {
    /// The SHA-256 of `shop.json`: what the first header of a log follows.
    pub shop: Hash,
    /// Keys of devices whose header was seen elsewhere.
    pub keys: &'a BTreeMap<DeviceId, PublicKey>,
    /// How much of a line is known already.
    pub known: &'a (dyn Fn(&Hash) -> Known + Sync),
    /// How far signatures are checked.
    pub depth: Depth,
}

/// How much of a line is known already.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Nothing.
    No,
    /// The line, with its body withheld.
    Withheld,
    /// The line, with its body encrypted.
    Locked,
    /// The line and its body.
    Whole,
}

impl Known {
    /// How much of a line is known once its body was read.
    pub fn of(content: &Content) -> Self {
        match content {
            Content::Open(_) => Self::Whole,
            Content::Withheld => Self::Withheld,
            Content::Locked => Self::Locked,
        }
    }
}

/// A line that counts.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its number in the file, from 1.
    pub number: u64,
    /// Where it stands in the gathered bytes, without its newline.
    pub range: Range<usize>,
    /// Its hash.
    pub hash: Hash,
    /// What was signed.
    pub signed: Signed,
    /// Its body, as far as it is needed.
    pub body: Body,
}

/// The body of a line that counts.
#[derive(Debug, Clone, PartialEq)]
pub enum Body {
    /// Read.
    Read(Content),
    /// Known already; not read again.
    Known,
    /// Not the one that was signed, or not readable: this copy of the line cannot be used.
    Bad,
    /// Headers and seals have none.
    None,
}

/// What a file turned out to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// A log, or part of one.
    Log,
    /// Nothing yet: empty, all NUL, a placeholder.
    NotHereYet,
    /// Something else.
    Stray,
    /// A log of another shop: nothing of it is taken.
    Foreign,
    /// Lines of a device whose key is not known here.
    NoKey,
}

/// What was found in one file.
#[derive(Debug, Clone, PartialEq)]
pub struct Segment {
    /// What the file is.
    pub state: State,
    /// Whose log it is.
    pub device: Option<DeviceId>,
    /// Its header, where it is good.
    pub header: Option<Header>,
    /// The lines that count, in the order of the file.
    pub lines: Vec<Line>,
    /// What is wrong, with line numbers; at most [`MAX_FAULTS`].
    pub faults: Vec<(Option<u64>, BreakKind)>,
    /// What there is to know, with line numbers.
    pub notes: Vec<(Option<u64>, NoteKind)>,
    /// Lines whose body is withheld.
    pub withheld: Vec<(u64, Hash)>,
    /// Bytes up to and including the last whole line.
    pub whole_bytes: usize,
}

impl Segment {
    fn of_state(state: State) -> Self {
        Self {
            state,
            device: None,
            header: None,
            lines: Vec::new(),
            faults: Vec::new(),
            notes: Vec::new(),
            withheld: Vec::new(),
            whole_bytes: 0,
        }
    }

    /// The number of the segment, where its header is good.
    pub fn number(&self) -> Option<u32> {
        self.header.as_ref().map(|header| header.segment)
    }

    fn fault(&mut self, line: Option<u64>, kind: BreakKind) {
        if self.faults.len() < MAX_FAULTS {
            self.faults.push((line, kind));
        } else {
            self.note(None, NoteKind::TooManyFaults);
        }
    }

    /// Notes are given once a file for each kind; the first place stands for all.
    fn note(&mut self, line: Option<u64>, kind: NoteKind) {
        if !self.notes.iter().any(|(_, there)| *there == kind) {
            self.notes.push((line, kind));
        }
    }
}

/// Reads one file that was cut into lines.
pub fn read(gathered: &Gathered, context: &Context<'_>) -> Segment {
    if gathered.blank {
        return Segment::of_state(State::NotHereYet);
    }
    let mut segment = Segment::of_state(State::Log);
    if gathered.stray || !parse::lines(gathered, context, &mut segment) {
        return Segment::of_state(State::Stray);
    }
    let Some(key) = trust::key_of(&mut segment, context) else {
        segment.state = State::NoKey;
        segment.lines.clear();
        return segment;
    };
    trust::keep_trusted(&mut segment, gathered, &key, context.depth, context.known);
    if trust::is_foreign(&segment, context.shop) {
        return Segment {
            device: segment.device,
            faults: vec![(Some(1), BreakKind::ForeignShop)],
            ..Segment::of_state(State::Foreign)
        };
    }
    check::order(&mut segment);
    segment.faults.sort();
    segment.faults.dedup();
    segment
}

/// Takes one line that stands alone (in a paper, in an export): its form and its own signature are checked.
/// `None` where either fails, or where `keys` lacks the device's key.
pub fn read_single(text: &str, keys: &BTreeMap<DeviceId, PublicKey>) -> Option<(Hash, Signed, Body)> {
    let line = parse::single(text)?;
    let own = match &line.signed {
        Signed::Header(header) if header.key.device() == header.device => Some(header.key),
        Signed::Header(_) => None,
        other => keys.get(&other.device()).copied(),
    };
    let key = own?;
    trust::own_signature(text.as_bytes(), &line.range, &key).then_some((line.hash, line.signed, line.body))
}
