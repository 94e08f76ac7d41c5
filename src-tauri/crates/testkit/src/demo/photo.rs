//! Photos of the demo: drawn, not taken. A concrete face with grains, the same bytes each time.

use jpeg_encoder::{ColorType, Encoder};
use trowelogue_core::id::Hash;

use super::SEED;
use crate::entropy::Seeded;

const WIDTH: u16 = 640;
const HEIGHT: u16 = 400;

/// The picture of a piece, as JPEG.
pub fn jpeg(code: &str) -> Vec<u8> {
    let mut random = Seeded::new(format!("{SEED}, photo of {code}"));
    let ground = 150.0 + f64::from(random.take::<1>()[0] % 40);
    let grains: Vec<[f64; 4]> = (0..420).map(|_| grain(&mut random)).collect();
    let mut pixels = Vec::with_capacity(usize::from(WIDTH) * usize::from(HEIGHT) * 3);
    for y in 0..HEIGHT {
        for x in 0..WIDTH {
            let grey = shade(f64::from(x), f64::from(y), ground, &grains);
            pixels.extend([grey, grey.saturating_sub(3), grey.saturating_sub(9)]);
        }
    }
    let mut bytes = Vec::new();
    let encoder = Encoder::new(&mut bytes, 70);
    // Writing to memory cannot fail, and the buffer has the size the encoder is told.
    encoder.encode(&pixels, WIDTH, HEIGHT, ColorType::Rgb).unwrap_or_else(|error| panic!("{error}"));
    bytes
}

/// The photo's name in the folder.
pub fn hash(code: &str) -> Hash {
    Hash::of(&[&jpeg(code)])
}

fn grain(random: &mut Seeded) -> [f64; 4] {
    let [a, b, c, d, e, f] = random.take::<6>();
    let x = f64::from(u16::from_be_bytes([a, b]) % WIDTH);
    let y = f64::from(u16::from_be_bytes([c, d]) % HEIGHT);
    [x, y, 1.5 + f64::from(e % 9), f64::from(f) / 4.0 - 40.0]
}

/// Light falls off to the lower right; grains are darker or lighter discs.
fn shade(x: f64, y: f64, ground: f64, grains: &[[f64; 4]]) -> u8 {
    let light = ground - (x / f64::from(WIDTH)) * 18.0 - (y / f64::from(HEIGHT)) * 14.0;
    let inside = |it: &&[f64; 4]| (x - it[0]).powi(2) + (y - it[1]).powi(2) <= it[2] * it[2];
    let tone = grains.iter().rfind(inside).map_or(0.0, |it| it[3]);
    (light + tone).clamp(0.0, 255.0) as u8
}
