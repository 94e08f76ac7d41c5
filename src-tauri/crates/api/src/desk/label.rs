//! The code on a piece's label, read from a photo of it.

use data_encoding::BASE64;
use image::imageops::FilterType;
use trowelogue_core::text::{Text, text};

use super::Desk;
use crate::dto::LabelRead;
use crate::photo;
use crate::say::fill;
use crate::{ApiError, Result};

/// The longer side of the picture that is searched, in pixels: a code held to a phone fills much of it.
const SEARCHED_PX: u32 = 1_600;
/// The most characters of a foreign code that are shown.
const SHOWN: usize = 80;

const FOUND: Text = text("The label of {code}.", "La etiqueta de {code}.");
const STRANGER: Text = text(
    "The code on this photo is no piece of this shop: {said}",
    "El código de esta foto no es de ninguna pieza de este taller: {said}",
);
const NOTHING: Text = text(
    "No code was found on this photo. Hold the label flat, fill the picture with it, and keep it out of glare.",
    "No se encontró ningún código en esta foto. Ponga la etiqueta plana, llene con ella la imagen y evite los reflejos.",
);
const NO_PICTURE: Text = text(
    "This file cannot be read as a picture. Use a JPEG or PNG file.",
    "No se puede leer este archivo como imagen. Use un archivo JPEG o PNG.",
);

impl Desk {
    /// Reads the label on a photo, given as a camera wrote it, in base64.
    ///
    /// # Errors
    /// It is no picture; no shop is open.
    pub fn read_label(&self, data: &str) -> Result<LabelRead> {
        let read = BASE64.decode(data.as_bytes()).ok().and_then(|bytes| codes(&bytes));
        self.on_session(|session| {
            let voice = &session.voice;
            let Some(codes) = read else {
                return Err(ApiError::bad_input("data", voice.say(NO_PICTURE)));
            };
            let known = codes.iter().find_map(|code| session.piece_named(code.trim()).ok());
            let say = match (known, codes.first()) {
                (Some(piece), _) => {
                    let code = crate::format::piece_code(session.shop(), piece);
                    fill(FOUND, voice.lang, &[("code", &code)])
                }
                (None, Some(said)) => {
                    let said: String = said.chars().filter(|it| !it.is_control()).take(SHOWN).collect();
                    fill(STRANGER, voice.lang, &[("said", &said)])
                }
                (None, None) => voice.say(NOTHING),
            };
            Ok(LabelRead { piece: known.map(|id| id.to_string()), say })
        })
    }
}

/// What the codes on a picture say; none where it is no picture.
fn codes(bytes: &[u8]) -> Option<Vec<String>> {
    let picture = photo::upright(bytes)?;
    let picture = match picture.width().max(picture.height()) {
        side if side > SEARCHED_PX => picture.resize(SEARCHED_PX, SEARCHED_PX, FilterType::Triangle),
        _ => picture,
    };
    let grey = picture.to_luma8();
    let (width, height) = (grey.width() as usize, grey.height() as usize);
    let raw = grey.as_raw();
    let shade = |x: usize, y: usize| raw.get(y * width + x).copied().unwrap_or(u8::MAX);
    let mut searched = rqrr::PreparedImage::prepare_from_greyscale(width, height, shade);
    let grids = searched.detect_grids();
    Some(grids.iter().filter_map(|grid| grid.decode().ok()).map(|(_, said)| said).collect())
}
