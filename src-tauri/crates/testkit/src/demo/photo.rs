//! Photos of the demo: drawn, not taken. A concrete face with grains, the same bytes each time.

use jpeg_encoder::{ColorType, Encoder};
use trowelogue_core::id::Hash;

use super::SEED;
use crate::entropy::Seeded;

/// Width and height.
type Size = (u16, u16);

const SIZE: Size = (640, 400);
const GRAINS: usize = 420;

/// The picture of a piece, as JPEG.
pub fn jpeg(code: &str) -> Vec<u8> {
    drawn(code, SIZE, GRAINS)
}

/// A picture as large as a phone's, with fewer grains.
pub fn large(code: &str) -> Vec<u8> {
    drawn(code, (1600, 1200), 40)
}

fn drawn(code: &str, size: Size, grains: usize) -> Vec<u8> {
    let (width, height) = size;
    let mut random = Seeded::new(format!("{SEED}, photo of {code}"));
    let ground = 150.0 + f64::from(random.take::<1>()[0] % 40);
    let grains: Vec<[f64; 4]> = (0..grains).map(|_| grain(&mut random, size)).collect();
    let mut pixels = Vec::with_capacity(usize::from(width) * usize::from(height) * 3);
    for y in 0..height {
        for x in 0..width {
            let grey = shade((f64::from(x), f64::from(y)), size, ground, &grains);
            pixels.extend([grey, grey.saturating_sub(3), grey.saturating_sub(9)]);
        }
    }
    let mut bytes = Vec::new();
    let encoder = Encoder::new(&mut bytes, 70);
    // Writing to memory cannot fail, and the buffer has the size the encoder is told.
    encoder.encode(&pixels, width, height, ColorType::Rgb).unwrap_or_else(|error| panic!("{error}"));
    bytes
}

/// The photo's name in the folder.
pub fn hash(code: &str) -> Hash {
    Hash::of(&[&jpeg(code)])
}

fn grain(random: &mut Seeded, (width, height): Size) -> [f64; 4] {
    let [a, b, c, d, e, f] = random.take::<6>();
    let x = f64::from(u16::from_be_bytes([a, b]) % width);
    let y = f64::from(u16::from_be_bytes([c, d]) % height);
    [x, y, 1.5 + f64::from(e % 9), f64::from(f) / 4.0 - 40.0]
}

/// Light falls off to the lower right; grains are darker or lighter discs.
fn shade((x, y): (f64, f64), (width, height): Size, ground: f64, grains: &[[f64; 4]]) -> u8 {
    let light = ground - (x / f64::from(width)) * 18.0 - (y / f64::from(height)) * 14.0;
    let inside = |it: &&[f64; 4]| (x - it[0]).powi(2) + (y - it[1]).powi(2) <= it[2] * it[2];
    let tone = grains.iter().rfind(inside).map_or(0.0, |it| it[3]);
    (light + tone).clamp(0.0, 255.0) as u8
}
