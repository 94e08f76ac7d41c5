//! Both sides of the limit: carried byte for byte, or written anew no finer than print shows.

use jpeg_encoder::{ColorType, Encoder};

use super::*;

/// A photo of so many pixels: a slope of grey, red to the right, green downwards.
fn photo(width: u16, height: u16, colour: ColorType, progressive: bool) -> Vec<u8> {
    let pixel = |x: u16, y: u16| {
        let (red, green) =
            ((u32::from(x) * 255 / u32::from(width)) as u8, (u32::from(y) * 255 / u32::from(height)) as u8);
        match colour {
            ColorType::Luma => vec![red],
            ColorType::Cmyk => vec![255 - red, 255 - green, 155, 0],
            _ => vec![red, green, 100],
        }
    };
    let pixels: Vec<u8> = (0..height).flat_map(|y| (0..width).flat_map(move |x| pixel(x, y))).collect();
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, 90);
    encoder.set_progressive(progressive);
    encoder.encode(&pixels, width, height, colour).unwrap();
    file
}

/// The same with an EXIF segment that says how it is turned.
fn turned(file: &[u8], turn: u8) -> Vec<u8> {
    let mut exif = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0".to_vec();
    exif[25] = turn;
    let mut out = vec![0xFF, 0xD8, 0xFF, 0xE1, 0, exif.len() as u8 + 2];
    out.extend(exif);
    out.extend(&file[2..]);
    out
}

/// A room two inches wide and an inch and a half high: 400 by 300 pixels at the finest.
const ROOM: FigureBox = FigureBox { width: 144.0, height: 108.0 };

#[test]
fn a_photo_no_finer_than_print_is_carried_byte_for_byte() {
    for (width, height) in [(400, 300), (399, 299), (40, 30), (400, 3), (3, 300)] {
        for colour in [ColorType::Rgb, ColorType::Luma] {
            let file = photo(width, height, colour, false);
            let carried = fitted(&file, ROOM).unwrap();
            assert_eq!(carried.bytes, jpeg::read(&file).unwrap().bytes, "{width} × {height}");
            assert_eq!(
                (carried.width, carried.height, carried.grey),
                (width, height, colour == ColorType::Luma)
            );
        }
    }
}

#[test]
fn one_pixel_more_and_it_is_written_anew_at_the_limit() {
    for (width, height, as_seen) in
        [(404, 303, (400, 300)), (1600, 1200, (400, 300)), (2560, 1440, (400, 225)), (900, 1800, (150, 300))]
    {
        let file = photo(width, height, ColorType::Rgb, false);
        let made = fitted(&file, ROOM).unwrap();
        assert_eq!((made.width, made.height), as_seen, "{width} × {height}");
        assert!(made.plain && made.turn == 1 && made.bytes.len() < file.len());
        assert_eq!(made, fitted(&file, ROOM).unwrap(), "the same again");
        // Right and down are where they were.
        let picture = image::load_from_memory(&made.bytes).unwrap().to_rgb8();
        let corner = |x: u32, y: u32| picture.get_pixel(x, y).0;
        let (right, bottom) = (picture.width() - 1, picture.height() - 1);
        assert!(corner(right, 0)[0] > 200 && corner(0, 0)[0] < 50, "{:?}", corner(right, 0));
        assert!(corner(0, bottom)[1] > 200 && corner(0, 0)[1] < 50, "{:?}", corner(0, bottom));
    }
}

#[test]
fn a_progressive_or_four_colour_photo_is_written_anew_even_where_it_is_small() {
    let progressive = fitted(&photo(120, 90, ColorType::Rgb, true), ROOM).unwrap();
    let four = fitted(&photo(120, 90, ColorType::Cmyk, false), ROOM).unwrap();
    for made in [progressive, four] {
        assert_eq!((made.width, made.height, made.grey), (120, 90, false), "no pixel is made up");
        assert!(jpeg::read(&made.bytes).unwrap().plain);
    }
}

#[test]
fn a_turned_photo_is_upright_once_it_is_written_anew_and_kept_turned_where_it_is_carried() {
    // Turned by 6, what lies at the left as stored is above as seen (EXIF 2.32, tag 0112).
    let large = fitted(&turned(&photo(1600, 1200, ColorType::Rgb, false), 6), ROOM).unwrap();
    assert_eq!((large.width, large.height, large.turn), (225, 300, 1));
    let picture = image::load_from_memory(&large.bytes).unwrap().to_rgb8();
    assert!(picture.get_pixel(112, 5).0[0] < 60 && picture.get_pixel(112, 295).0[0] > 195);
    let small = fitted(&turned(&photo(40, 30, ColorType::Rgb, false), 6), ROOM).unwrap();
    assert_eq!((small.width, small.height, small.turn, small.seen()), (40, 30, 6, (30, 40)));
}

#[test]
fn what_cannot_be_decoded_is_refused_in_words() {
    let mut file = photo(1600, 1200, ColorType::Rgb, false);
    let scan = file.windows(2).position(|pair| pair == [0xFF, 0xDA]).unwrap();
    let tables = file.windows(2).position(|pair| pair == [0xFF, 0xC4]).unwrap();
    file[tables + 4] = 0x77;
    assert!(fitted(&file, ROOM).is_err_and(|why| !why.is_empty()));
    assert!(fitted(&file[..scan], ROOM).is_err());
}
