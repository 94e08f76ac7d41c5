//! Photos as cameras write them.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;

/// Little-endian TIFF: orientation 6 (turn right) and a GPS directory with a latitude (Exif 2.32, 4.6).
fn exif() -> Vec<u8> {
    let mut tiff = b"II\x2a\0\x08\0\0\0".to_vec();
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        [&tag.to_le_bytes()[..], &kind.to_le_bytes(), &count.to_le_bytes(), &value].concat()
    };
    tiff.extend(2u16.to_le_bytes());
    tiff.extend(entry(0x0112, 3, 1, [6, 0, 0, 0]));
    tiff.extend(entry(0x8825, 4, 1, 38u32.to_le_bytes()));
    tiff.extend(0u32.to_le_bytes());
    tiff.extend(1u16.to_le_bytes());
    tiff.extend(entry(0x0001, 2, 2, *b"N\0\0\0"));
    tiff.extend(0u32.to_le_bytes());
    tiff
}

/// A picture that is dark at its left and light at its right, as a camera held upright writes it.
fn taken(width: u32, height: u32) -> Vec<u8> {
    let pixels: Vec<u8> =
        (0..width * height).flat_map(|at| if at % width < width / 2 { [20; 3] } else { [230; 3] }).collect();
    let mut bytes = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut bytes, 90);
    encoder.set_exif_metadata(exif()).unwrap();
    encoder.write_image(&pixels, width, height, ExtendedColorType::Rgb8).unwrap();
    bytes
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

#[test]
fn a_photo_is_turned_upright_and_says_nothing_of_where_it_was_taken() {
    let camera = taken(64, 32);
    assert!(holds(&camera, b"Exif\0\0"));
    let photo = ready(&camera, false).unwrap();
    assert!(!holds(&photo, b"Exif"), "no position, no camera, nothing");
    let (picture, exif) = read(&photo).unwrap();
    assert_eq!((picture.width(), picture.height(), exif), (32, 64, None));
    // What was left is at the top now.
    let pixels = picture.to_luma8();
    assert!(pixels.get_pixel(16, 4).0[0] < 60 && pixels.get_pixel(16, 60).0[0] > 200);
    assert_eq!(ready(&photo, false).map(|again| again.len() < 2 * photo.len()), Ok(true));
}

#[test]
fn a_shop_may_keep_the_position_and_the_picture_is_upright_all_the_same() {
    let photo = ready(&taken(64, 32), true).unwrap();
    assert!(holds(&photo, b"Exif\0\0"));
    let mut decoder =
        ImageReader::new(Cursor::new(&photo)).with_guessed_format().unwrap().into_decoder().unwrap();
    assert_eq!(decoder.orientation().unwrap(), Orientation::NoTransforms, "it is not turned twice");
    assert_eq!(DynamicImage::from_decoder(decoder).unwrap().height(), 64);
}

#[test]
fn a_large_photo_is_made_smaller() {
    let photo = ready(&taken(4_000, 1_000), false).unwrap();
    let (picture, _) = read(&photo).unwrap();
    assert_eq!((picture.width(), picture.height()), (640, LONGEST_PX));
    assert!(photo.len() <= MOST_BYTES);
}

#[test]
fn what_is_no_photo_is_refused_in_words() {
    let heic = [b"\0\0\0\x18ftypheic".as_slice(), &[0; 40]].concat();
    assert_eq!(ready(&heic, false), Err(IS_HEIF));
    let whole = taken(64, 32);
    for bytes in [b"".as_slice(), b"not a picture", &whole[..40], b"\x89PNG\r\n\x1a\n"] {
        assert_eq!(ready(bytes, false), Err(UNREADABLE));
    }
    // Sizes that would take all memory (JPEG: 65,535 lines of 65,535 pixels).
    let mut huge = whole;
    let frame = huge.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    huge[frame + 5..frame + 9].fill(0xff);
    assert_eq!(ready(&huge, false), Err(UNREADABLE));
}
