//! Respirable crystalline silica: the row of 29 CFR 1926.1153 Table 1, the day's average, the vacuum.
//!
//! The careful side counts where sources disagree: wet hand-held grinding indoors is not in the table.

use super::check::within;
use super::{Grounds, SumError};
use crate::body::surface::DustControl;
use crate::text::{Text, text};

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "29 CFR 1926.1153 Table 1; rows read in secondary copies, some from memory: confirm locally. In a shop 29 CFR 1910.1053 has no such table and asks for an exposure assessment.",
        "29 CFR 1926.1153, tabla 1; filas leídas en copias secundarias, algunas de memoria: confirme la norma local. En taller, 29 CFR 1910.1053 no tiene tal tabla y pide evaluar la exposición.",
    ),
    validity: text(
        "Construction in the United States, with every control of the row fully in place; other codes govern elsewhere. Continuous wet grinding can still exceed the limit. A row is not proof that the air is within the limit.",
        "Construcción en Estados Unidos, con todas las medidas de la fila aplicadas; en otros lugares rige otra norma. El desbaste húmedo continuo puede superar el límite. Una fila no prueba que el aire cumpla.",
    ),
};

/// Permissible exposure limit, mg/m³ as an 8-hour average (29 CFR 1926.1153 and 1910.1053).
pub const LIMIT_MG_PER_M3: f64 = 0.05;
/// Action level, mg/m³ as an 8-hour average.
pub const ACTION_MG_PER_M3: f64 = 0.025;

named! {
    /// A tool that makes dust.
    pub enum DustTool, "tool" {
        /// Stationary masonry saw.
        StationarySaw = "stationary-saw",
        /// Hand-held power saw.
        HandheldSaw = "handheld-saw",
        /// Walk-behind saw.
        WalkBehindSaw = "walk-behind-saw",
        /// Rig-mounted core saw or drill.
        CoreDrill = "core-drill",
        /// Hand-held or stand-mounted drill.
        HandheldDrill = "handheld-drill",
        /// Jackhammer or powered chipping tool.
        Chipper = "chipper",
        /// Hand-held grinder removing mortar.
        MortarGrinder = "mortar-grinder",
        /// Hand-held grinder, polisher or sander, other uses.
        HandheldGrinder = "handheld-grinder",
        /// Walk-behind floor grinder.
        FloorGrinder = "floor-grinder",
    }
}

named! {
    /// Open air or a room.
    pub enum Surroundings, "place" {
        /// Indoors or in an enclosed area.
        Indoors = "indoors",
        /// Outdoors.
        Outdoors = "outdoors",
    }
}

named! {
    /// Which rule governs the work.
    pub enum Setting, "setting" {
        /// General industry: the shop.
        Shop = "shop",
        /// Construction: the building site.
        Site = "site",
    }
}

/// Reads the name of a dust control.
///
/// # Errors
/// `Unknown` with the names there are.
pub fn parse_control(name: &str) -> Result<DustControl, SumError> {
    super::check::pick("control", name, DustControl::ALL, DustControl::wire)
}

/// Work that makes silica dust.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DustyWork {
    /// With what.
    pub tool: DustTool,
    /// What keeps the dust down.
    pub control: DustControl,
    /// Open air or a room.
    pub place: Surroundings,
    /// Hours in the shift, h.
    pub hours_h: f64,
    /// Shop or building site.
    pub setting: Setting,
}

/// What the table says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SilicaRow {
    /// The work stands in the table and the table applies.
    pub in_table: bool,
    /// The row; `None` where the work is not in the table.
    pub row: Option<&'static str>,
    /// Assigned protection factor of the respirator: 0 where none is asked for; `None` where not in the table.
    pub respirator_apf: Option<u32>,
    /// In a shop: the row a site would follow, as a hint only.
    pub hint: Option<(&'static str, u32)>,
    /// What to do.
    pub advice: Text,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// Protection factors of one row: outdoors up to 4 h and over, indoors up to 4 h and over.
struct Row {
    tool: DustTool,
    control: DustControl,
    name: &'static str,
    outdoors: (u32, u32),
    indoors: Option<(u32, u32)>,
}

const fn row(
    tool: DustTool,
    control: DustControl,
    name: &'static str,
    outdoors: (u32, u32),
    indoors: Option<(u32, u32)>,
) -> Row {
    Row { tool, control, name, outdoors, indoors }
}

/// The rows that matter here. (vi), (vii), (x) and (xi) are from memory of the table and agree with a public
/// code table; (xii) wet is outdoors only, where a state tip sheet says otherwise.
static TABLE_1: &[Row] = &[
    row(DustTool::StationarySaw, DustControl::Water, "(i)", (0, 0), Some((0, 0))),
    row(DustTool::HandheldSaw, DustControl::Water, "(ii)", (0, 10), Some((10, 10))),
    row(DustTool::WalkBehindSaw, DustControl::Water, "(iv)", (0, 0), Some((10, 10))),
    row(DustTool::CoreDrill, DustControl::Water, "(vi)", (0, 0), Some((0, 0))),
    row(DustTool::HandheldDrill, DustControl::Shroud, "(vii)", (0, 0), Some((0, 0))),
    row(DustTool::Chipper, DustControl::Water, "(x)", (0, 10), Some((10, 10))),
    row(DustTool::Chipper, DustControl::Shroud, "(x)", (0, 10), Some((10, 10))),
    row(DustTool::MortarGrinder, DustControl::Shroud, "(xi)", (10, 25), Some((10, 25))),
    row(DustTool::HandheldGrinder, DustControl::Water, "(xii)", (0, 0), None),
    row(DustTool::HandheldGrinder, DustControl::Shroud, "(xii)", (0, 0), Some((0, 10))),
    row(DustTool::FloorGrinder, DustControl::Water, "(xiii)", (0, 0), Some((0, 0))),
    row(DustTool::FloorGrinder, DustControl::Shroud, "(xiii)", (0, 0), Some((0, 0))),
];

impl Row {
    fn factor(&self, work: &DustyWork) -> Option<u32> {
        let pair = match work.place {
            Surroundings::Outdoors => Some(self.outdoors),
            Surroundings::Indoors => self.indoors,
        };
        pair.map(|(short, long)| if work.hours_h <= 4.0 { short } else { long })
    }
}

const FOLLOW: Text = text(
    "Keep every control of the row in place; the respirator is the least the row asks for.",
    "Mantenga todas las medidas de la fila; el respirador es lo mínimo que pide.",
);
const ASSESS: Text = text(
    "Not in the table: assess the exposure, or use a shroud with extraction; confirm locally.",
    "No está en la tabla: evalúe la exposición o use campana con aspiración; confirme la norma local.",
);
const SHOP: Text = text(
    "In a shop the table does not apply: an exposure assessment is due (29 CFR 1910.1053); the row of a building site is only a hint.",
    "En taller la tabla no rige: corresponde evaluar la exposición (29 CFR 1910.1053); la fila de obra es solo una pista.",
);

/// What Table 1 says about this work.
///
/// # Errors
/// Hours outside 0 to 24.
pub fn silica_row(work: &DustyWork) -> Result<SilicaRow, SumError> {
    within("hours_h", work.hours_h, 1e-3, 24.0)?;
    let row = TABLE_1.iter().find(|row| row.tool == work.tool && row.control == work.control);
    let found = row.and_then(|row| row.factor(work).map(|factor| (row.name, factor)));
    let binding = found.filter(|_| work.setting == Setting::Site);
    Ok(SilicaRow {
        in_table: binding.is_some(),
        row: binding.map(|(name, _)| name),
        respirator_apf: binding.map(|(_, factor)| factor),
        hint: found.filter(|_| work.setting == Setting::Shop),
        advice: match (work.setting, found) {
            (Setting::Shop, _) => SHOP,
            (Setting::Site, Some(_)) => FOLLOW,
            (Setting::Site, None) => ASSESS,
        },
        grounds: GROUNDS,
    })
}

/// A spell in dusty air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DustSpell {
    /// Respirable crystalline silica, mg/m³.
    pub silica_mg_per_m3: f64,
    /// Minutes in it.
    pub minutes: f64,
}

/// Eight-hour average, mg/m³: Σ C·t / 480 min, also for longer shifts.
///
/// # Errors
/// A concentration outside 0 to 100 mg/m³ or more than 24 hours together.
pub fn average_mg_per_m3(spells: &[DustSpell]) -> Result<f64, SumError> {
    let (mut sum, mut minutes) = (0.0, 0.0);
    for spell in spells {
        sum += within("silica_mg_per_m3", spell.silica_mg_per_m3, 0.0, 100.0)?
            * within("minutes", spell.minutes, 0.0, 1_440.0)?;
        minutes += spell.minutes;
    }
    within("minutes", minutes, 0.0, 1_440.0)?;
    Ok(sum / 480.0)
}

/// Air a shroud's vacuum must move, m³/h: 25 cubic feet a minute for every inch of wheel (Table 1, xi and xii).
///
/// # Errors
/// A wheel outside 25 to 1000 mm.
pub fn vacuum_m3_per_h(wheel_mm: f64) -> Result<f64, SumError> {
    const CFM_PER_INCH: f64 = 25.0;
    const M3_PER_H_PER_CFM: f64 = 0.028_316_846_592 * 60.0;
    Ok(within("wheel_mm", wheel_mm, 25.0, 1_000.0)? / 25.4 * CFM_PER_INCH * M3_PER_H_PER_CFM)
}
