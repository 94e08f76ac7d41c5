//! What a piece weighs and how many people carry it.

use super::check::within;
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Volume less cut-outs times density. The load per person is the shop's own limit; 25 kg is common practice, no source.",
        "Volumen menos huecos por densidad. La carga por persona es el límite del taller; 25 kg es práctica común, sin fuente.",
    ),
    validity: text(
        "Prismatic pieces on level ground; steps, reach and awkward edges ask for more people or for gear. Local law on manual handling governs.",
        "Piezas prismáticas en terreno llano; escalones, alcance y cantos incómodos piden más personas o medios. Rige la ley local de manejo de cargas.",
    ),
};

/// Load per person where the shop has set none, kg (common practice, no source).
pub const PER_PERSON_KG: f64 = 25.0;

/// A piece to lift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slab {
    /// Length, mm.
    pub length_mm: f64,
    /// Width, mm.
    pub width_mm: f64,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Density, kg/m³.
    pub density_kgm3: f64,
    /// Area of cut-outs, m².
    pub cut_outs_m2: f64,
    /// Anything fixed to it or water in it, kg.
    pub added_kg: f64,
    /// Load per person, kg.
    pub per_person_kg: f64,
}

/// What it weighs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Persons who share it.
    pub persons: u32,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// Mass and persons.
///
/// # Errors
/// Sizes no piece has, or cut-outs as large as the piece.
pub fn load(slab: &Slab) -> Result<Load, SumError> {
    let length = within("length_mm", slab.length_mm, 1.0, 30_000.0)? / 1000.0;
    let width = within("width_mm", slab.width_mm, 1.0, 30_000.0)? / 1000.0;
    let thickness = within("thickness_mm", slab.thickness_mm, 1.0, 3_000.0)? / 1000.0;
    let density = within("density_kgm3", slab.density_kgm3, 200.0, 8_000.0)?;
    let cut_outs = within("cut_outs_m2", slab.cut_outs_m2, 0.0, 1_000.0)?;
    let added = within("added_kg", slab.added_kg, 0.0, 10_000.0)?;
    let per_person = within("per_person_kg", slab.per_person_kg, 5.0, 60.0)?;
    if cut_outs >= length * width {
        return Err(SumError::Refused {
            field: "cut_outs_m2",
            why: text("the cut-outs are as large as the piece", "los huecos son tan grandes como la pieza"),
        });
    }
    let mass_kg = (length * width - cut_outs) * thickness * density + added;
    // A gram over the limit is not another person.
    let persons = ((mass_kg - 0.001) / per_person).ceil().max(1.0);
    Ok(Load { mass_kg, persons: persons as u32, grounds: GROUNDS })
}
