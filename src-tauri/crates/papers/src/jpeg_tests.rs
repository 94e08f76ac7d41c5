//! Photos of every make: kept, turned, stripped, refused.

use super::read;

/// Start, an EXIF segment with orientation 6 and a secret, a comment, a frame of so many components, a scan.
fn photo(components: u8) -> Vec<u8> {
    let exif = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0SECRET";
    let mut file = vec![0xFF, 0xD8, 0xFF, 0xE1, 0, exif.len() as u8 + 2];
    file.extend(exif);
    file.extend([0xFF, 0xFE, 0, 5, b'h', b'i', b'!']);
    file.extend([0xFF, 0xC0, 0, 9, 8, 0, 30, 0, 40, components, 0]);
    file.extend([0xFF, 0xDA, 0, 4, 1, 1, 7, 7, 7, 0xFF, 0xD9, b'x']);
    file
}

#[test]
fn notes_are_left_out_and_the_turn_is_kept() {
    let jpeg = read(&photo(3)).unwrap();
    assert_eq!((jpeg.width, jpeg.height, jpeg.turn, jpeg.grey), (40, 30, 6, false));
    assert_eq!(jpeg.seen(), (30, 40));
    assert!(!jpeg.bytes.windows(6).any(|w| w == b"SECRET") && !jpeg.bytes.windows(3).any(|w| w == b"hi!"));
    assert!(jpeg.bytes.ends_with(&[7, 7, 7, 0xFF, 0xD9]));
}

#[test]
fn only_baseline_files_in_grey_or_three_colours_are_plain() {
    assert!(read(&photo(1)).unwrap().plain && read(&photo(3)).unwrap().plain);
    assert!(!read(&photo(4)).unwrap().plain);
    let mut progressive = photo(3);
    let frame = progressive.windows(2).position(|pair| pair == [0xFF, 0xC0]).unwrap();
    progressive[frame + 1] = 0xC2;
    assert!(!read(&progressive).unwrap().plain);
    assert!(read(&photo(2)).unwrap_err().contains("2 colours"));
}

#[test]
fn a_file_cut_anywhere_before_its_data_is_refused() {
    let whole = photo(1);
    let scan = whole.windows(2).position(|pair| pair == [0xFF, 0xDA]).unwrap();
    for length in 0..scan + 6 {
        assert!(read(&whole[..length]).is_err(), "{length}");
    }
    assert!(read(&whole).unwrap().grey);
}
