//! Seeded mutation of inputs, for fuzzing on the stable toolchain.

use crate::dice::Dice;

/// The longest input made, in bytes.
const LONGEST: usize = 1 << 20;
/// Pieces that parsers stumble over.
const TOKENS: [&[u8]; 30] = [
    b"{",
    b"}",
    b"[",
    b"]",
    b"\"",
    b"\\",
    b"\\u0000",
    b"\\ud800",
    b",",
    b":",
    b"null",
    b"true",
    b"1e999",
    b"-1",
    b"-0",
    b"0.1e-400",
    b"9007199254740993",
    b"18446744073709551616",
    b"\n",
    b"\r\n",
    b"\0",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    b"\xc3",
    b"2025-02-30T24:00:00-99:99",
    b"../",
    b"{\"e\":",
    b",\"b\":{\"x\":\"",
    b";",
    b"\t",
];

/// One input made from the corpus: one of its items, changed in a few places.
pub fn mutated(corpus: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = dice.pick(corpus).cloned().unwrap_or_default();
    for _ in 0..=dice.below(6) {
        change(&mut bytes, corpus, dice);
    }
    bytes.truncate(LONGEST);
    bytes
}

fn change(bytes: &mut Vec<u8>, corpus: &[Vec<u8>], dice: &mut Dice) {
    let at = dice.below(bytes.len());
    let reach = 1 << dice.below(12);
    let end = at + dice.below((bytes.len() - at).min(reach) + 1);
    match dice.below(9) {
        0 => flip(bytes, at, dice),
        1 => drop(bytes.drain(at..end)),
        2 => bytes.truncate(at),
        3 => {
            let part = bytes[at..end].to_vec();
            insert(bytes, at, &part.repeat(1 + dice.below(40)));
        }
        4 => {
            let other = dice.pick(corpus).cloned().unwrap_or_default();
            let from = dice.below(other.len());
            let to = from + dice.below(other.len() - from + 1);
            insert(bytes, at, &other[from..to]);
        }
        5 => swap_lines(bytes, dice),
        6 => {
            let token = dice.pick(&TOKENS).copied().unwrap_or_default();
            insert(bytes, at, &token.repeat(1 + dice.below(3) * dice.below(300)));
        }
        7 => {
            let token = dice.pick(&TOKENS).copied().unwrap_or_default();
            drop(bytes.splice(at..end, token.iter().copied()));
        }
        _ => bytes[at..end].fill(u8::try_from(dice.below(256)).unwrap_or_default()),
    }
}

fn flip(bytes: &mut [u8], at: usize, dice: &mut Dice) {
    let bit = 1 << dice.below(8);
    if let Some(byte) = bytes.get_mut(at) {
        *byte ^= bit;
    }
}

fn insert(bytes: &mut Vec<u8>, at: usize, part: &[u8]) {
    let room = LONGEST.saturating_sub(bytes.len());
    drop(bytes.splice(at..at, part[..part.len().min(room)].iter().copied()));
}

fn swap_lines(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let mut lines: Vec<&[u8]> = bytes.split_inclusive(|&byte| byte == b'\n').collect();
    let (a, b) = (dice.below(lines.len()), dice.below(lines.len()));
    if a < lines.len() && b < lines.len() {
        lines.swap(a, b);
    }
    *bytes = lines.concat();
}
