//! JPEG files, read as far as their picture data. What a file says about place, time and camera (EXIF and XMP in
//! APP1, and every other note) is left out, except how the picture is turned.

/// A JPEG file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Jpeg {
    /// Width in pixels, as stored.
    pub(crate) width: u16,
    /// Height in pixels, as stored.
    pub(crate) height: u16,
    /// Grey instead of colour.
    pub(crate) grey: bool,
    /// Baseline, in grey or three colours: a paper carries it as it is (ISO 19005-3, 6.2.4; ITU T.81, F).
    pub(crate) plain: bool,
    /// How it is to be turned (EXIF orientation, 1 to 8).
    pub(crate) turn: u8,
    /// The file without its notes: of the application segments only those stay that tell how to decode it.
    pub(crate) bytes: Vec<u8>,
}

impl Jpeg {
    /// Width and height as seen, after turning.
    pub(crate) fn seen(&self) -> (u16, u16) {
        if self.turn >= 5 { (self.height, self.width) } else { (self.width, self.height) }
    }
}

/// Reads a JPEG file; the error says in words why it cannot be carried.
pub(crate) fn read(file: &[u8]) -> Result<Jpeg, String> {
    if !file.starts_with(&[0xFF, 0xD8]) {
        return Err("not a JPEG file".into());
    }
    let mut frame = None;
    let mut turn = 1;
    let mut bytes = vec![0xFF, 0xD8];
    let mut at = 2;
    loop {
        let (marker, segment) = next_segment(file, &mut at)?;
        match marker {
            0xDA => break copy_rest(file, at, segment, &mut bytes),
            0xE1 => turn = orientation(segment).unwrap_or(turn),
            // Notes of makers and editors, previews, comments; JFIF (APP0) and Adobe (APP14) tell how to decode.
            0xE2..=0xED | 0xEF | 0xFE => {}
            _ => {
                if is_frame(marker) {
                    frame = Some((read_frame(segment)?, marker == BASELINE));
                }
                push_segment(marker, segment, &mut bytes);
            }
        }
    }
    let ((width, height, colours), baseline) = frame.ok_or("no picture size before the picture data")?;
    Ok(Jpeg { width, height, grey: colours == 1, plain: baseline && colours != 4, turn, bytes })
}

/// Start of a frame that any reader of JPEG decodes (ITU T.81, B.1.1.3).
const BASELINE: u8 = 0xC0;

/// The next marker and its segment (ITU T.81, annex B); leaves `at` behind it.
fn next_segment<'a>(file: &'a [u8], at: &mut usize) -> Result<(u8, &'a [u8]), String> {
    let cut = || "the file ends before the picture data".to_owned();
    if file.get(*at) != Some(&0xFF) {
        return Err("damaged: a marker is missing".into());
    }
    while file.get(*at) == Some(&0xFF) {
        *at += 1;
    }
    let marker = *file.get(*at).ok_or_else(cut)?;
    let length = file.get(*at + 1..*at + 3).ok_or_else(cut)?;
    let length = usize::from(u16::from_be_bytes([length[0], length[1]]));
    if length < 2 {
        return Err("damaged: a segment has no length".into());
    }
    let segment = file.get(*at + 3..*at + 1 + length).ok_or_else(cut)?;
    *at += 1 + length;
    Ok((marker, segment))
}

/// A file that says how it is to be turned (EXIF 2.32, tag 0112: a TIFF directory of one entry).
pub(crate) fn turned(file: &[u8], turn: u8) -> Vec<u8> {
    let Some(rest) = file.strip_prefix(&[0xFF, 0xD8]).filter(|_| turn != 1) else { return file.to_vec() };
    let entry = [0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, turn, 0, 0];
    let note = [b"Exif\0\0MM\0*\0\0\0\x08\0\x01", &entry[..], &[0; 4]].concat();
    let mut bytes = vec![0xFF, 0xD8];
    push_segment(0xE1, &note, &mut bytes);
    bytes.extend(rest);
    bytes
}

fn push_segment(marker: u8, segment: &[u8], out: &mut Vec<u8>) {
    out.extend([0xFF, marker]);
    // A segment came from a two-byte length, so it fits one.
    out.extend(((segment.len() + 2) as u16).to_be_bytes());
    out.extend(segment);
}

/// The picture data up to the end of the picture; what trails behind it is left out.
fn copy_rest(file: &[u8], at: usize, scan_header: &[u8], out: &mut Vec<u8>) {
    push_segment(0xDA, scan_header, out);
    let rest = &file[at..];
    let end = rest.windows(2).rposition(|pair| pair == [0xFF, 0xD9]).map_or(rest.len(), |n| n + 2);
    out.extend(&rest[..end]);
    if !out.ends_with(&[0xFF, 0xD9]) {
        out.extend([0xFF, 0xD9]);
    }
}

/// Start-of-frame markers: C0 to CF without tables (C4), extension (C8) and conditioning (CC).
fn is_frame(marker: u8) -> bool {
    (0xC0..=0xCF).contains(&marker) && !matches!(marker, 0xC4 | 0xC8 | 0xCC)
}

/// Width, height, and how many colours a pixel has.
fn read_frame(segment: &[u8]) -> Result<(u16, u16, u8), String> {
    let [8, h1, h2, w1, w2, components, ..] = *segment else {
        return Err("not 8 bits to a colour".into());
    };
    let (height, width) = (u16::from_be_bytes([h1, h2]), u16::from_be_bytes([w1, w2]));
    if width == 0 || height == 0 {
        return Err("the picture has no size".into());
    }
    match components {
        1 | 3 | 4 => Ok((width, height, components)),
        n => Err(format!("{n} colours to a pixel")),
    }
}

/// The orientation tag of an EXIF segment (TIFF tag 0x0112).
fn orientation(segment: &[u8]) -> Option<u8> {
    let tiff = segment.strip_prefix(b"Exif\0\0")?;
    let little = tiff.starts_with(b"II");
    let short = |at: usize| {
        let pair = [*tiff.get(at)?, *tiff.get(at + 1)?];
        Some(if little { u16::from_le_bytes(pair) } else { u16::from_be_bytes(pair) })
    };
    let long = |at: usize| {
        let (a, b) = (usize::from(short(at)?), usize::from(short(at + 2)?));
        Some(if little { a | b << 16 } else { a << 16 | b })
    };
    let directory = long(4)?;
    let count = usize::from(short(directory)?);
    let entry = (0..count).map(|n| directory + 2 + n * 12).find(|at| short(*at) == Some(0x0112))?;
    u8::try_from(short(entry + 8)?).ok().filter(|turn| (1..=8).contains(turn))
}

#[cfg(test)]
#[path = "jpeg_tests.rs"]
mod tests;
