//! QR codes (ISO/IEC 18004) as one filled shape, so that no hairline shows between modules.

use qrcodegen::{QrCode, QrCodeEcc};
use trowelogue_core::drawing::{Drawing, Paint, Shape, Tone};

/// Width of the quiet zone in modules (ISO/IEC 18004, 6.3.8).
const QUIET: i32 = 4;

/// The code of a text as a square drawing with sides of `side` millimetres, quiet zone included. `None` where
/// the text is too long for a code.
pub(crate) fn code(text: &str, side: f64) -> Option<Drawing> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let module = side / f64::from(code.size() + 2 * QUIET);
    let rings = (0..code.size()).flat_map(|y| runs(&code, y)).map(|(from, to, y)| {
        let edge = |n: i32| f64::from(n + QUIET) * module;
        vec![(edge(from), edge(y)), (edge(to), edge(y)), (edge(to), edge(y + 1)), (edge(from), edge(y + 1))]
    });
    let shape = Shape::Polygon { rings: rings.collect(), paint: Paint::fill(Tone::Ink) };
    Some(Drawing { width: side, height: side, shapes: vec![shape] })
}

/// Stretches of dark modules in a line: first column, column behind the last, line.
fn runs(code: &QrCode, y: i32) -> Vec<(i32, i32, i32)> {
    let mut runs = Vec::new();
    let mut start = None;
    for x in 0..=code.size() {
        match (code.get_module(x, y), start) {
            (true, None) => start = Some(x),
            (false, Some(from)) => {
                runs.push((from, x, y));
                start = None;
            }
            _ => {}
        }
    }
    runs
}
