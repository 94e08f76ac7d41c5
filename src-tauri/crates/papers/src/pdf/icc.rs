//! The sRGB profile of the output intent, made from the published numbers: primaries and white of
//! ITU-R BT.709 with the transfer curve of IEC 61966-2-1, written as a display profile of ICC.1:2010
//! (version 4.3).

/// The profile.
pub(crate) fn srgb() -> Vec<u8> {
    let tags: Vec<([u8; 4], Vec<u8>)> = vec![
        (*b"desc", text("sRGB")),
        (*b"cprt", text("No copyright, use freely")),
        (*b"wtpt", xyz(D50)),
        (*b"chad", sf32(&ADAPTATION.concat())),
        (*b"rXYZ", xyz(column(0))),
        (*b"gXYZ", xyz(column(1))),
        (*b"bXYZ", xyz(column(2))),
        (*b"rTRC", curve()),
        (*b"gTRC", curve()),
        (*b"bTRC", curve()),
    ];
    let mut body = Vec::new();
    let mut table = (tags.len() as u32).to_be_bytes().to_vec();
    let start = HEADER + 4 + 12 * tags.len();
    let mut curve_at = None;
    for (name, data) in &tags {
        let shared = name.ends_with(b"TRC").then_some(curve_at).flatten();
        let offset = shared.unwrap_or_else(|| append(&mut body, data, start));
        if name.ends_with(b"TRC") {
            curve_at = Some(offset);
        }
        table.extend(name);
        table.extend((offset as u32).to_be_bytes());
        table.extend((data.len() as u32).to_be_bytes());
    }
    let mut profile = header(start + body.len());
    profile.extend(table);
    profile.extend(body);
    profile
}

/// Length of a profile header.
const HEADER: usize = 128;
/// The white of the profile connection space (ICC.1:2010, 7.2.16).
const D50: [f64; 3] = [0.9642, 1.0, 0.8249];

/// The Bradford adaptation from D65 to D50 (as in IEC 61966-2-1 based profiles; ICC.1:2010, annex E).
const ADAPTATION: [[f64; 3]; 3] = [
    [1.047_886_2, 0.022_918_7, -0.050_216_0],
    [0.029_582_2, 0.990_478_5, -0.017_072_9],
    [-0.009_251_8, 0.015_072_3, 0.751_678_0],
];

/// Linear sRGB to XYZ at D65 (IEC 61966-2-1, from the primaries and white of ITU-R BT.709).
const TO_XYZ: [[f64; 3]; 3] = [
    [0.412_390_8, 0.357_584_3, 0.180_480_8],
    [0.212_639_0, 0.715_168_7, 0.072_192_3],
    [0.019_330_8, 0.119_194_8, 0.950_532_2],
];

/// A primary, adapted to D50.
fn column(primary: usize) -> [f64; 3] {
    ADAPTATION.map(|row| (0..3).map(|n| row[n] * TO_XYZ[n][primary]).sum())
}

fn append(body: &mut Vec<u8>, data: &[u8], start: usize) -> usize {
    let offset = start + body.len();
    body.extend(data);
    body.resize(body.len().next_multiple_of(4), 0);
    offset
}

fn header(size: usize) -> Vec<u8> {
    let mut head = Vec::with_capacity(HEADER);
    head.extend((size as u32).to_be_bytes());
    head.extend([0; 4]);
    head.extend([4, 0x30, 0, 0]);
    head.extend(b"mntrRGB XYZ ");
    // The date of the profile is that of its definition: it does not change with the paper.
    head.extend([2010_u16, 12, 1, 0, 0, 0].iter().flat_map(|n| n.to_be_bytes()));
    head.extend(b"acsp");
    head.extend([0; 28]);
    head.extend(D50.iter().flat_map(|v| fixed(*v)));
    head.resize(HEADER, 0);
    head
}

/// A number with 16 bits before and after the point.
fn fixed(value: f64) -> [u8; 4] {
    ((value * 65536.0).round() as i32).to_be_bytes()
}

fn xyz(value: [f64; 3]) -> Vec<u8> {
    let mut data = b"XYZ \0\0\0\0".to_vec();
    data.extend(value.iter().flat_map(|v| fixed(*v)));
    data
}

fn sf32(values: &[f64]) -> Vec<u8> {
    let mut data = b"sf32\0\0\0\0".to_vec();
    data.extend(values.iter().flat_map(|v| fixed(*v)));
    data
}

/// Parametric curve of type 3 (ICC.1:2010, 10.16) with the constants of IEC 61966-2-1.
fn curve() -> Vec<u8> {
    let mut data = b"para\0\0\0\0\0\x03\0\0".to_vec();
    let constants = [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045];
    data.extend(constants.iter().flat_map(|v| fixed(*v)));
    data
}

fn text(words: &str) -> Vec<u8> {
    let units: Vec<u8> = words.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let mut data = b"mluc\0\0\0\0".to_vec();
    data.extend(1_u32.to_be_bytes());
    data.extend(12_u32.to_be_bytes());
    data.extend(b"enUS");
    data.extend((units.len() as u32).to_be_bytes());
    data.extend(28_u32.to_be_bytes());
    data.extend(units);
    data
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_primaries_add_up_to_the_white_of_the_connection_space() {
        for (n, white) in D50.iter().enumerate() {
            let sum: f64 = (0..3).map(|primary| column(primary)[n]).sum();
            assert!((sum - white).abs() < 5e-4, "{n}: {sum}");
        }
    }

    #[test]
    fn the_adapted_primaries_are_those_published_for_srgb_at_d50() {
        // From memory of the matrix columns in commonly shipped sRGB profiles, four decimals.
        let known = [[0.4361, 0.2225, 0.0139], [0.3851, 0.7169, 0.0971], [0.1431, 0.0606, 0.7141]];
        for (primary, known) in known.iter().enumerate() {
            for (ours, theirs) in column(primary).iter().zip(known) {
                assert!((ours - theirs).abs() < 3e-4, "{primary}: {ours} {theirs}");
            }
        }
    }

    #[test]
    fn the_size_in_the_header_is_the_size() {
        let profile = srgb();
        assert_eq!(u32::from_be_bytes(profile[..4].try_into().unwrap()) as usize, profile.len());
        assert_eq!(&profile[36..40], b"acsp");
    }
}
