//! Cuts a stream of bytes into lines, with bounded memory whatever the stream holds.

use std::io::{self, Read};
use std::ops::Range;

use crate::line::MAX_LINE;

/// The most bytes taken from one file. A writer seals at 1 MiB and writes at most 4 MiB at once.
pub const MAX_FILE: usize = 8 << 20;
/// After so many lines that are too long, the rest of the file is left alone.
const MAX_SKIPPED: usize = 10_000;
const CHUNK: usize = 256 << 10;
/// The most bytes looked at in one file, those of lines that are too long included.
const MAX_READ: usize = 64 << 20;
/// How every line of a log begins.
const LINE_START: &[u8] = b"{\"e\":";

/// What one piece of a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceKind {
    /// A line with its newline; the range does not hold the newline.
    Whole,
    /// A line longer than a line may be; the range is empty.
    TooLong,
    /// What stands after the last newline.
    Tail,
}

/// One piece of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Number of the line, from 1.
    pub number: u64,
    /// What it is.
    pub kind: PieceKind,
    /// Where its bytes stand in [`Gathered::bytes`].
    pub range: Range<usize>,
}

/// The bytes of a file, cut into lines.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Gathered {
    /// The bytes of all lines that are not too long.
    pub bytes: Vec<u8>,
    /// The pieces, in order.
    pub pieces: Vec<Piece>,
    /// Nothing but NUL bytes, or nothing at all.
    pub blank: bool,
    /// The file goes on, but was not read further.
    pub cut_short: bool,
    /// Not a log: it does not begin like one, and was not read.
    pub stray: bool,
}

impl Gathered {
    /// Whether the bytes are those of the file, with nothing left out.
    pub fn is_exact(&self) -> bool {
        let left_out = |piece: &Piece| piece.kind != PieceKind::Whole && piece.range.is_empty();
        !self.cut_short && !self.stray && !self.pieces.iter().any(left_out)
    }
}

/// Reads `source` to its end, or as far as a log may reach. Unless `named_like_a_log`, a file that does not
/// begin like a log is not read on.
pub fn gather(mut source: impl Read, named_like_a_log: bool) -> io::Result<Gathered> {
    let mut cut = Cutter { blank: true, number: 1, ..Cutter::default() };
    let mut chunk = vec![0; CHUNK];
    let (mut first, mut seen) = (true, 0);
    loop {
        let got = fill(&mut source, &mut chunk)?;
        let bytes = &chunk[..got];
        cut.blank &= bytes.iter().all(|&b| b == 0);
        if first && !named_like_a_log && !cut.blank && !bytes.starts_with(LINE_START) {
            return Ok(Gathered { stray: true, ..Gathered::default() });
        }
        first = false;
        seen += got;
        if got == 0 || !cut.take(bytes) || seen > MAX_READ {
            return Ok(cut.finish(got != 0));
        }
    }
}

/// Reads until the chunk is full or the source ends, so that short reads do not change what is seen.
fn fill(source: &mut impl Read, chunk: &mut [u8]) -> io::Result<usize> {
    let mut at = 0;
    while at < chunk.len() {
        match source.read(&mut chunk[at..]) {
            Ok(0) => break,
            Ok(got) => at += got,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    Ok(at)
}

#[derive(Default)]
struct Cutter {
    bytes: Vec<u8>,
    pieces: Vec<Piece>,
    start: usize,
    number: u64,
    /// Inside a line that is too long: its bytes are not kept.
    skipping: bool,
    skipped: usize,
    blank: bool,
}

impl Cutter {
    /// Takes more bytes; false once the file has had enough.
    fn take(&mut self, mut bytes: &[u8]) -> bool {
        while let Some(at) = bytes.iter().position(|&b| b == b'\n') {
            self.extend(&bytes[..at]);
            self.end_line();
            bytes = &bytes[at + 1..];
            if self.bytes.len() > MAX_FILE || self.skipped > MAX_SKIPPED {
                return false;
            }
        }
        self.extend(bytes);
        true
    }

    fn extend(&mut self, bytes: &[u8]) {
        if self.skipping {
            return;
        }
        if self.bytes.len() - self.start + bytes.len() >= MAX_LINE {
            self.bytes.truncate(self.start);
            self.skipping = true;
        } else {
            self.bytes.extend_from_slice(bytes);
        }
    }

    fn end_line(&mut self) {
        let kind = if self.skipping { PieceKind::TooLong } else { PieceKind::Whole };
        self.skipped += usize::from(self.skipping);
        self.push(kind);
        if kind == PieceKind::Whole {
            self.bytes.push(b'\n');
        }
        self.start = self.bytes.len();
        self.number += 1;
        self.skipping = false;
    }

    fn push(&mut self, kind: PieceKind) {
        self.pieces.push(Piece { number: self.number, kind, range: self.start..self.bytes.len() });
    }

    fn finish(mut self, cut_short: bool) -> Gathered {
        if self.skipping || self.bytes.len() > self.start {
            self.push(PieceKind::Tail);
        }
        let Self { bytes, pieces, blank, .. } = self;
        Gathered { bytes, pieces, blank, cut_short, stray: false }
    }
}
