//! Photos as they stand in a paper: no more pixels than print shows, and the file as it is where it has no more.
//!
//! A photo is carried without being decoded where it is a baseline JPEG in grey or colour and its pixels, at the
//! size it is placed, are no finer than [`MOST_DPI`]. Any other is decoded, made smaller, turned upright and written
//! anew as baseline JPEG. The same photo in the same place gives the same bytes.

use std::io::Cursor;

use fast_image_resize::images::{Image, ImageRef};
use fast_image_resize::{FilterType, PixelType, ResizeAlg, ResizeOptions, Resizer};
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{
    DynamicImage, ExtendedColorType, GrayImage, ImageEncoder, ImageFormat, ImageReader, Limits, RgbImage,
};

use crate::jpeg::{self, Jpeg};
use crate::layout::FigureBox;

/// The finest a photo stands in a paper, in pixels to the inch: what a hand-held print shows (common practice, no
/// source).
pub(crate) const MOST_DPI: f64 = 200.0;
/// Quality of a photo that is written anew, 1 to 100.
const QUALITY: u8 = 85;
/// The longer side a photo may have before it is made smaller, in pixels.
const MOST_PX: u32 = 20_000;
/// The memory a photo may take while it is decoded, in bytes.
const MOST_MEMORY: u64 = 512 << 20;
/// Width and height of a photo in its room, in points, by its size in pixels as seen.
pub(crate) fn placed((width, height): (u16, u16), room: FigureBox) -> (f64, f64) {
    let scale = (room.width / f64::from(width)).min(room.height / f64::from(height));
    (f64::from(width) * scale, f64::from(height) * scale)
}

/// The photo for its room. The error says in words why it cannot be shown.
pub(crate) fn fitted(file: &[u8], room: FigureBox) -> Result<Jpeg, String> {
    let jpeg = jpeg::read(file)?;
    let seen = jpeg.seen();
    let size = placed(seen, room);
    let most = (most_pixels(size.0), most_pixels(size.1));
    let (width, height) = (u32::from(seen.0), u32::from(seen.1));
    if jpeg.plain && width <= most.0 && height <= most.1 {
        return Ok(jpeg);
    }
    written_anew(&jpeg, (width.min(most.0), height.min(most.1)))
}

/// How many pixels a length in points holds at the finest.
fn most_pixels(points: f64) -> u32 {
    // A length that is whole but for rounding counts as whole.
    ((points / 72.0 * MOST_DPI + 1e-6).floor() as u32).max(1)
}

/// Decoded, made smaller, turned upright, written as baseline JPEG. `target` is the size as seen.
fn written_anew(jpeg: &Jpeg, target: (u32, u32)) -> Result<Jpeg, String> {
    let turn = Orientation::from_exif(jpeg.turn).unwrap_or(Orientation::NoTransforms);
    // Turning a small picture costs less than turning a large one.
    let stored = if jpeg.turn >= 5 { (target.1, target.0) } else { target };
    let picture = decoded(jpeg)?;
    let mut picture = if jpeg.grey {
        let pixels = smaller(&picture.into_luma8(), PixelType::U8, stored)?;
        GrayImage::from_raw(stored.0, stored.1, pixels).map(DynamicImage::from)
    } else {
        let pixels = smaller(&picture.into_rgb8(), PixelType::U8x3, stored)?;
        RgbImage::from_raw(stored.0, stored.1, pixels).map(DynamicImage::from)
    }
    .ok_or("wrong size")?;
    picture.apply_orientation(turn);
    let colour = if jpeg.grey { ExtendedColorType::L8 } else { ExtendedColorType::Rgb8 };
    let (width, height) = (picture.width(), picture.height());
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, QUALITY)
        .write_image(picture.as_bytes(), width, height, colour)
        .map_err(|error| error.to_string())?;
    Ok(Jpeg { width: width as u16, height: height as u16, grey: jpeg.grey, plain: true, turn: 1, bytes })
}

fn decoded(jpeg: &Jpeg) -> Result<DynamicImage, String> {
    let mut reader = ImageReader::with_format(Cursor::new(&jpeg.bytes), ImageFormat::Jpeg);
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_PX);
    limits.max_image_height = Some(MOST_PX);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    reader.decode().map_err(|error| error.to_string())
}

/// The pixels at a smaller size, by the same sums of whole numbers on every processor.
fn smaller<P>(
    picture: &image::ImageBuffer<P, Vec<u8>>,
    pixel: PixelType,
    (width, height): (u32, u32),
) -> Result<Vec<u8>, String>
where
    P: image::Pixel<Subpixel = u8>,
{
    let from = ImageRef::new(picture.width(), picture.height(), picture.as_raw(), pixel)
        .map_err(|error| error.to_string())?;
    let mut to = Image::new(width, height, pixel);
    let how = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3));
    Resizer::new().resize(&from, &mut to, &how).map_err(|error| error.to_string())?;
    Ok(to.into_vec())
}

#[cfg(test)]
#[path = "photo_tests.rs"]
mod tests;
