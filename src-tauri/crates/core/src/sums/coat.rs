//! Coats: film thickness, quantity to buy, two-part split.

use super::check::within;
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Geometry: wet film is volume over area; dry film is wet film times volume solids (ASTM D2697, ISO 3233 measure them).",
        "Geometría: película húmeda es volumen entre superficie; película seca es la húmeda por los sólidos en volumen (medidos según ASTM D2697, ISO 3233).",
    ),
    validity: text(
        "An even coat on a closed face. Open concrete drinks part of the first coat, so the film on it is thinner than computed; coats above 5 mm are refused.",
        "Capa uniforme sobre cara cerrada. El hormigón abierto absorbe parte de la primera mano, y la película queda más delgada; se rechazan capas de más de 5 mm.",
    ),
};

/// Thickest film that is still called a coat, µm.
const THICKEST_UM: f64 = 5_000.0;

/// What was laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coats {
    /// Product for all coats together, L.
    pub quantity_l: f64,
    /// Area, m².
    pub area_m2: f64,
    /// Volume solids of the product, %.
    pub solids_pct: f64,
    /// How many coats.
    pub coats: f64,
    /// Thinner added, % of the product's volume.
    pub thinner_pct: f64,
}

/// Film of each coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    /// Wet film per coat, µm.
    pub wet_film_um: f64,
    /// Dry film per coat, µm.
    pub dry_film_um: f64,
    /// Area one litre covered in one coat, m²/L.
    pub coverage_m2_per_l: f64,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The film of each coat. `quantity_l` is what left the can, thinner included.
///
/// # Errors
/// Areas, quantities or coats that nothing has, or a film above 5 mm.
pub fn film(laid: &Coats) -> Result<Film, SumError> {
    let quantity = within("quantity_l", laid.quantity_l, 1e-4, 100_000.0)?;
    let area = within("area_m2", laid.area_m2, 1e-4, 1_000_000.0)?;
    let solids = within("solids_pct", laid.solids_pct, 0.1, 100.0)? / 100.0;
    let coats = whole("coats", laid.coats, 20.0)?;
    let thinner = within("thinner_pct", laid.thinner_pct, 0.0, 100.0)? / 100.0;
    let wet = quantity / (area * coats) * 1000.0;
    within("wet_film_um", wet, 0.0, THICKEST_UM)?;
    Ok(Film {
        wet_film_um: wet,
        dry_film_um: wet * solids / (1.0 + thinner),
        coverage_m2_per_l: 1000.0 / wet,
        grounds: GROUNDS,
    })
}

/// A count: a whole number from 1 to `most`.
fn whole(field: &'static str, value: f64, most: f64) -> Result<f64, SumError> {
    let value = within(field, value, 1.0, most)?;
    if value.fract() != 0.0 {
        return Err(SumError::Refused {
            field,
            why: text("must be a whole number", "debe ser un número entero"),
        });
    }
    Ok(value)
}

/// Volume of a mass of product, L.
///
/// # Errors
/// A mass or density no product has.
pub fn volume_l(mass_g: f64, density_kg_per_l: f64) -> Result<f64, SumError> {
    let mass = within("mass_g", mass_g, 0.01, 1e8)?;
    Ok(mass / 1000.0 / within("density_kg_per_l", density_kg_per_l, 0.6, 3.0)?)
}

/// Area a litre covers, m²/L, at a dry film: 10 · solids in per cent / dry film in µm.
///
/// # Errors
/// A film or a solids content no product has.
pub fn coverage_m2_per_l(dry_film_um: f64, solids_pct: f64) -> Result<f64, SumError> {
    let dry = within("dry_film_um", dry_film_um, 0.1, THICKEST_UM)?;
    Ok(10.0 * within("solids_pct", solids_pct, 0.1, 100.0)? / dry)
}

/// Product to buy, L: area × coats / coverage / (1 − loss). The loss is a share of what is bought.
///
/// # Errors
/// Values no job has.
pub fn quantity_to_buy_l(
    area_m2: f64,
    coats: f64,
    coverage_m2_per_l: f64,
    loss_pct: f64,
) -> Result<f64, SumError> {
    let area = within("area_m2", area_m2, 1e-4, 1_000_000.0)?;
    let coats = whole("coats", coats, 20.0)?;
    let coverage = within("coverage_m2_per_l", coverage_m2_per_l, 0.05, 200.0)?;
    let loss = within("loss_pct", loss_pct, 0.0, 80.0)? / 100.0;
    Ok(area * coats / coverage / (1.0 - loss))
}

/// The two parts of a product, in the unit of the total.
///
/// # Errors
/// Ratios no product has.
pub fn two_part_split(total: f64, parts_a: f64, parts_b: f64) -> Result<(f64, f64), SumError> {
    let total = within("total", total, 1e-6, 1e8)?;
    let a = within("parts_a", parts_a, 0.01, 1_000.0)?;
    let b = within("parts_b", parts_b, 0.01, 1_000.0)?;
    let first = total * a / (a + b);
    Ok((first, total - first))
}

/// How a quantity used stands against what the area called for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Used {
    /// Less than the limit allows.
    Thin,
    /// Within the limit.
    Right,
    /// More than the limit allows.
    Heavy,
}

/// Judges a job's total, less leftovers, against what its area called for.
///
/// # Errors
/// Quantities that are not positive, or a limit outside 1 to 90 %.
pub fn judge_quantity(used_l: f64, called_for_l: f64, limit_pct: f64) -> Result<(Used, f64), SumError> {
    let used = within("used_l", used_l, 0.0, 1e6)?;
    let called = within("called_for_l", called_for_l, 1e-6, 1e6)?;
    let limit = within("limit_pct", limit_pct, 1.0, 90.0)?;
    let off = (used / called - 1.0) * 100.0;
    let verdict = match off {
        off if off < -limit => Used::Thin,
        off if off > limit => Used::Heavy,
        _ => Used::Right,
    };
    Ok((verdict, off))
}
