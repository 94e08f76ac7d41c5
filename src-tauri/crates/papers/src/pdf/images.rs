//! Photos in the file: the JPEG bytes as they are.

use std::collections::BTreeMap;

use printpdf::{DictItem, ExternalStream, ExternalXObject, XObject, XObjectId};

use crate::jpeg::Jpeg;
use crate::scene::Scene;

/// Name of a picture's resource.
pub(crate) fn name(image: usize) -> String {
    format!("Photo{}", image + 1)
}

/// Every picture of a display list.
pub(crate) fn xobjects(scene: &Scene) -> BTreeMap<XObjectId, XObject> {
    let images = scene.images.iter().enumerate();
    images.map(|(n, jpeg)| (XObjectId(name(n)), XObject::External(xobject(jpeg)))).collect()
}

fn xobject(jpeg: &Jpeg) -> ExternalXObject {
    let name = |text: &str| DictItem::Name(text.as_bytes().to_vec());
    let dict = BTreeMap::from([
        ("Type".into(), name("XObject")),
        ("Subtype".into(), name("Image")),
        ("Width".into(), DictItem::Int(jpeg.width.into())),
        ("Height".into(), DictItem::Int(jpeg.height.into())),
        ("ColorSpace".into(), name(if jpeg.grey { "DeviceGray" } else { "DeviceRGB" })),
        ("BitsPerComponent".into(), DictItem::Int(8)),
        ("Filter".into(), name("DCTDecode")),
    ]);
    let stream = ExternalStream { dict, content: jpeg.bytes.clone(), compress: false };
    ExternalXObject { stream, width: None, height: None, dpi: None }
}

/// The matrix that puts the unit square of a picture, turned as EXIF says, on a rectangle whose lower left
/// corner is `(x, y)` and whose size as seen is `w` by `h` (EXIF 2.32, tag 0112; ISO 32000-1, 8.9.5).
pub(crate) fn placement(turn: u8, (x, y): (f64, f64), (w, h): (f64, f64)) -> [f64; 6] {
    match turn {
        2 => [-w, 0.0, 0.0, h, x + w, y],
        3 => [-w, 0.0, 0.0, -h, x + w, y + h],
        4 => [w, 0.0, 0.0, -h, x, y + h],
        5 => [0.0, -h, -w, 0.0, x + w, y + h],
        6 => [0.0, -h, w, 0.0, x, y + h],
        7 => [0.0, h, w, 0.0, x, y],
        8 => [0.0, h, -w, 0.0, x + w, y],
        _ => [w, 0.0, 0.0, h, x, y],
    }
}
