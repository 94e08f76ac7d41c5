//! Photos made ready for the record: upright, bounded in size, and without the place they were taken at unless
//! the shop keeps it.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::metadata::Orientation;
use image::{DynamicImage, ExtendedColorType, ImageDecoder, ImageEncoder, ImageFormat, ImageReader, Limits};
use trowelogue_core::id::Hash;
use trowelogue_core::text::{Text, text};
use trowelogue_journal::PhotoSeen;

use crate::session::Session;
use crate::{ApiError, Result, faults};

/// The longer side of a photo, in pixels: enough for a hand-sized figure in print at 300 dpi and for zooming in.
const LONGEST_PX: u32 = 2_560;
/// What a photo should take at most, in bytes.
const MOST_BYTES: usize = 1_500_000;
/// Qualities tried in turn until the photo is small enough; the last is taken whatever it gives.
const QUALITIES: [u8; 4] = [85, 75, 65, 50];
/// The longer side a photo may have before it is made smaller, in pixels.
const MOST_PX: u32 = 20_000;
/// The memory a photo may take while it is read, in bytes.
const MOST_MEMORY: u64 = 512 << 20;
/// Brands in the `ftyp` box of HEIF and AVIF files (ISO/IEC 23008-12, AVIF 1.1).
const HEIF: [&[u8]; 8] = [b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1", b"avif"];

const IS_HEIF: Text = text(
    "This photo is in HEIC or AVIF, which this program does not read. Send it as JPEG: in the camera's settings choose the most compatible format, or export it.",
    "Esta foto está en HEIC o AVIF, que este programa no lee. Envíela como JPEG: elija en la cámara el formato más compatible o expórtela.",
);
const UNREADABLE: Text = text(
    "This photo cannot be read. Use a JPEG or PNG file.",
    "No se puede leer esta foto. Use un archivo JPEG o PNG.",
);

impl Session {
    /// Makes photos ready; nothing is written.
    pub(crate) fn ready_photos(&self, photos: &[Vec<u8>]) -> Result<Vec<Vec<u8>>> {
        let keep_position = self.shop().settings.keep_photo_position == Some(true);
        let refused = |words: Text| {
            ApiError::bad_input("photo", self.voice.say(words)).kept(self.voice.say(crate::add::NOTHING))
        };
        photos.iter().map(|photo| ready(photo, keep_position).map_err(refused)).collect()
    }

    /// Keeps photos that are ready, and puts them into the folder where that can be reached.
    pub(crate) fn put_photos(&mut self, photos: &[Vec<u8>]) -> Result<()> {
        let lang = self.voice.lang;
        if let Some(link) = &mut self.link {
            for photo in photos {
                link.put_photo(photo).map_err(|error| faults::journal(&error, lang))?;
            }
        }
        Ok(())
    }

    /// A photo by its hash, where its bytes are here and right.
    pub(crate) fn photo(&self, hash: &Hash) -> Option<Vec<u8>> {
        match self.photo_seen(hash) {
            PhotoSeen::Here(bytes) => Some(bytes),
            PhotoSeen::Wrong | PhotoSeen::Missing => None,
        }
    }

    /// What stands where a photo should be.
    pub(crate) fn photo_seen(&self, hash: &Hash) -> PhotoSeen {
        match &self.link {
            Some(link) => link.photo(hash),
            None => trowelogue_journal::photo_in(&self.folder, hash),
        }
    }
}

/// Whether this is a photo of a kind this program reads, by its first bytes alone.
pub(crate) fn recognised(bytes: &[u8]) -> std::result::Result<(), Text> {
    if is_heif(bytes) {
        return Err(IS_HEIF);
    }
    match image::guess_format(bytes) {
        Ok(ImageFormat::Jpeg | ImageFormat::Png) => Ok(()),
        _ => Err(UNREADABLE),
    }
}

/// A photo of the record for a screen, no longer than `side` pixels; none where it cannot be read.
pub(crate) fn small(bytes: &[u8], side: u32) -> Option<Vec<u8>> {
    let (picture, _) = read(bytes)?;
    if picture.width().max(picture.height()) <= side {
        return Some(bytes.to_vec());
    }
    write(&picture.resize(side, side, FilterType::Triangle), QUALITIES[1], None)
}

/// A photo as it goes into the record: JPEG, turned upright, no longer than [`LONGEST_PX`], without anything but
/// the picture. With `keep_position` what the camera wrote beside it stays.
pub(crate) fn ready(bytes: &[u8], keep_position: bool) -> std::result::Result<Vec<u8>, Text> {
    if is_heif(bytes) {
        return Err(IS_HEIF);
    }
    let (picture, exif) = read(bytes).ok_or(UNREADABLE)?;
    let picture = match picture.width().max(picture.height()) {
        side if side > LONGEST_PX => picture.resize(LONGEST_PX, LONGEST_PX, FilterType::Triangle),
        _ => picture,
    };
    let exif = exif.filter(|_| keep_position);
    let mut written = Vec::new();
    for quality in QUALITIES {
        written = write(&picture, quality, exif.clone()).ok_or(UNREADABLE)?;
        if written.len() <= MOST_BYTES {
            break;
        }
    }
    Ok(written)
}

/// A picture as it was held; none where the bytes are no picture this program reads.
pub(crate) fn upright(bytes: &[u8]) -> Option<DynamicImage> {
    read(bytes).map(|(picture, _)| picture)
}

fn is_heif(bytes: &[u8]) -> bool {
    bytes.get(4..8) == Some(b"ftyp") && bytes.get(8..12).is_some_and(|brand| HEIF.contains(&brand))
}

/// The picture, upright, and what the camera wrote beside it, its orientation set back.
fn read(bytes: &[u8]) -> Option<(DynamicImage, Option<Vec<u8>>)> {
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().ok()?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_PX);
    limits.max_image_height = Some(MOST_PX);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().ok()?;
    let mut exif = decoder.exif_metadata().ok().flatten();
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut picture = DynamicImage::from_decoder(decoder).ok()?;
    picture.apply_orientation(orientation);
    if let Some(exif) = &mut exif {
        // What it says of turning is done; without such a tag there is nothing to set back.
        let _ = Orientation::remove_from_exif_chunk(exif);
    }
    Some((picture, exif))
}

fn write(picture: &DynamicImage, quality: u8, exif: Option<Vec<u8>>) -> Option<Vec<u8>> {
    let pixels = picture.to_rgb8();
    let mut written = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut written, quality);
    if let Some(exif) = exif {
        encoder.set_exif_metadata(exif).ok()?;
    }
    encoder.write_image(pixels.as_raw(), pixels.width(), pixels.height(), ExtendedColorType::Rgb8).ok()?;
    Some(written)
}

#[cfg(test)]
mod tests;
