//! Hazard pictograms of the Globally Harmonized System (UN GHS, annex 1; names in Spanish as in Regulation (EC)
//! No 1272/2008, annex V; both from memory). What a product bears is what its safety data sheet says.

use crate::text::{Text, text};

/// Every pictogram: its code and its name, in the order of the system.
pub const PICTOGRAMS: [(&str, Text); 9] = [
    ("GHS01", text("exploding bomb", "bomba explotando")),
    ("GHS02", text("flame", "llama")),
    ("GHS03", text("flame over circle", "llama sobre círculo")),
    ("GHS04", text("gas cylinder", "bombona de gas")),
    ("GHS05", text("corrosion", "corrosión")),
    ("GHS06", text("skull and crossbones", "calavera y tibias cruzadas")),
    ("GHS07", text("exclamation mark", "signo de exclamación")),
    ("GHS08", text("health hazard", "peligro para la salud")),
    ("GHS09", text("environment", "medio ambiente")),
];

/// The name of a pictogram; `None` for a code the system does not have.
pub fn name(code: &str) -> Option<Text> {
    PICTOGRAMS.iter().find(|(known, _)| *known == code).map(|(_, name)| *name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_run_from_one_to_nine_and_classes_use_no_other() {
        for (at, (code, _)) in (1..).zip(PICTOGRAMS) {
            assert_eq!(code, format!("GHS{at:02}"));
        }
        for class in crate::materials::all() {
            for code in &class.hazards.pictograms {
                assert!(name(code).is_some(), "{code}");
            }
        }
        assert!(name("GHS10").is_none());
    }
}
