//! `calc vibration`, `calc silica`, `calc mass`.

use serde::Serialize;

use super::Stated;
use crate::body::surface::DustControl;
use crate::sums::silica::{DustTool, DustyWork, Setting, Surroundings};
use crate::sums::{SumError, load, silica as dust, vibration as shaking};
use crate::text::Lang;

/// `calc vibration`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VibrationIn {
    /// Magnitude and minutes of each tool.
    pub points: Vec<shaking::Use>,
}

/// Result of [`vibration`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VibrationOut {
    /// Daily exposure A(8), m/s².
    pub a8_ms2: f64,
    /// Exposure points.
    pub points: f64,
    /// The action value is reached.
    pub action_reached: bool,
    /// The limit value is reached.
    pub limit_reached: bool,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<VibrationIn>,
}

/// Daily vibration exposure.
///
/// # Errors
/// As [`shaking::exposure`].
pub fn vibration(inputs: VibrationIn, lang: Lang) -> Result<VibrationOut, SumError> {
    let day = shaking::exposure(&inputs.points)?;
    Ok(VibrationOut {
        a8_ms2: day.a8_ms2,
        points: day.points,
        action_reached: day.action_reached,
        limit_reached: day.limit_reached,
        stated: Stated::new(inputs, day.grounds, &[], lang),
    })
}

/// `calc silica`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SilicaIn {
    /// With what.
    pub tool: DustTool,
    /// What keeps the dust down.
    pub control: DustControl,
    /// Open air or a room.
    pub place: Surroundings,
    /// Hours in the shift.
    pub hours: f64,
    /// Shop or building site.
    pub setting: Setting,
}

/// Result of [`silica`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SilicaOut {
    /// The table applies and holds the work.
    pub in_table: bool,
    /// The row, or `null`.
    pub row: Option<&'static str>,
    /// Protection factor; 0 where the row asks for no respirator, `null` where not in the table.
    pub respirator_apf: Option<u32>,
    /// In a shop: the row a building site would follow.
    pub hint_row: Option<&'static str>,
    /// In a shop: its protection factor.
    pub hint_apf: Option<u32>,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<SilicaIn>,
}

/// The row of Table 1.
///
/// # Errors
/// As [`dust::silica_row`].
pub fn silica(inputs: SilicaIn, lang: Lang) -> Result<SilicaOut, SumError> {
    let SilicaIn { tool, control, place, hours, setting } = inputs;
    let row = dust::silica_row(&DustyWork { tool, control, place, hours_h: hours, setting })?;
    Ok(SilicaOut {
        in_table: row.in_table,
        row: row.row,
        respirator_apf: row.respirator_apf,
        hint_row: row.hint.map(|(name, _)| name),
        hint_apf: row.hint.map(|(_, factor)| factor),
        stated: Stated::new(inputs, row.grounds, &[row.advice], lang),
    })
}

/// `calc mass`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MassIn {
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
    /// Fixtures or water, kg.
    pub added_kg: f64,
    /// Load per person, kg.
    pub per_person_kg: f64,
}

/// Result of [`mass`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MassOut {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Persons to share it.
    pub persons: u32,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<MassIn>,
}

/// Mass of a piece and persons to lift it.
///
/// # Errors
/// As [`load::load`].
pub fn mass(inputs: MassIn, lang: Lang) -> Result<MassOut, SumError> {
    let MassIn { length_mm, width_mm, thickness_mm, density_kgm3, cut_outs_m2, added_kg, per_person_kg } =
        inputs;
    let slab =
        load::Slab { length_mm, width_mm, thickness_mm, density_kgm3, cut_outs_m2, added_kg, per_person_kg };
    let load = load::load(&slab)?;
    Ok(MassOut {
        mass_kg: load.mass_kg,
        persons: load.persons,
        stated: Stated::new(inputs, load.grounds, &[], lang),
    })
}
