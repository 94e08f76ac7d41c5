//! From bytes to typed lines, before any signature is looked at.

use trowelogue_core::entry::FORMAT;

use super::{Body, Context, Known, Line, MAX_BROKEN, Segment};
use crate::fault::{BreakKind, NoteKind};
use crate::gather::{Gathered, Piece, PieceKind};
use crate::line::{NO_BODY, Raw};
use crate::wire::{self, Signed};

/// Reads every piece. False if nothing in the file is a line of a log.
pub(super) fn lines(gathered: &Gathered, context: &Context<'_>, segment: &mut Segment) -> bool {
    let mut broken = 0;
    for piece in &gathered.pieces {
        match read_piece(gathered, piece, context) {
            Ok((line, fault)) => {
                segment.whole_bytes = piece.range.end + 1;
                if let Some(kind) = fault {
                    segment.fault(Some(piece.number), kind);
                }
                remark(&line, segment);
                segment.lines.push(line);
            }
            Err(kind) => {
                broken += 1;
                segment.fault(Some(piece.number), kind);
            }
        }
        if broken > MAX_BROKEN {
            segment.note(Some(piece.number), NoteKind::TooManyFaults);
            break;
        }
    }
    if gathered.cut_short {
        segment.note(None, NoteKind::TooManyFaults);
    }
    !segment.lines.is_empty() || looks_like_a_log(gathered)
}

/// A file in which every line is broken is still a log if it begins like one.
fn looks_like_a_log(gathered: &Gathered) -> bool {
    gathered.bytes.starts_with(b"{\"e\":{")
}

fn remark(line: &Line, segment: &mut Segment) {
    let number = Some(line.number);
    if line.signed.version() > FORMAT {
        segment.note(number, NoteKind::NewerVersion);
    }
    match &line.body {
        Body::Read(trowelogue_core::entry::Content::Withheld) => {
            segment.withheld.push((line.number, line.hash));
        }
        Body::Read(trowelogue_core::entry::Content::Locked) => segment.note(number, NoteKind::BodyLocked),
        _ => {}
    }
}

fn read_piece(
    gathered: &Gathered,
    piece: &Piece,
    context: &Context<'_>,
) -> Result<(Line, Option<BreakKind>), BreakKind> {
    let text = match piece.kind {
        PieceKind::TooLong => return Err(BreakKind::TooLong),
        PieceKind::Tail => return Err(BreakKind::TornTail),
        PieceKind::Whole => {
            std::str::from_utf8(&gathered.bytes[piece.range.clone()]).map_err(|_| BreakKind::NotUtf8)?
        }
    };
    let in_form = if piece.number == 1 { BreakKind::HeaderInvalid } else { BreakKind::BadLine };
    let raw = Raw::split(text).ok_or(in_form)?;
    let signed = wire::parse(raw.entry).map_err(|_| in_form)?;
    let hash = raw.hash();
    let (body, fault) = read_body(&raw, &signed, (context.known)(&hash));
    if matches!(signed, Signed::Header(_) | Signed::Seal(_)) && fault.is_some() {
        return Err(in_form);
    }
    Ok((Line { number: piece.number, range: piece.range.clone(), hash, signed, body }, fault))
}

fn read_body(raw: &Raw<'_>, signed: &Signed, known: Known) -> (Body, Option<BreakKind>) {
    let Signed::Entry(entry) = signed else {
        let fault = (raw.body != NO_BODY).then_some(BreakKind::BadLine);
        return (Body::None, fault);
    };
    if !wire::body_matches(raw.body, &entry.body_hash) {
        return (Body::Bad, Some(BreakKind::BadHash));
    }
    if known == Known::Whole && raw.body != NO_BODY {
        return (Body::Known, None);
    }
    match wire::parse_body(raw.body) {
        Ok(content) => (Body::Read(content), None),
        Err(_) => (Body::Bad, Some(BreakKind::BadLine)),
    }
}

/// One line by itself.
pub(super) fn single(text: &str) -> Option<Line> {
    let raw = Raw::split(text)?;
    let signed = wire::parse(raw.entry).ok()?;
    let (body, fault) = read_body(&raw, &signed, Known::No);
    fault.is_none().then(|| Line { number: 1, range: 0..text.len(), hash: raw.hash(), signed, body })
}
