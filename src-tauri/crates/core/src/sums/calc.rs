//! The sums in the form the command line prints: results at top level, then `inputs`, `basis`, `validity`,
//! `notes`. Keys carry their unit as ending; they may be added to, never renamed.

mod exposure;
mod strength;

pub use exposure::{
    MassIn, MassOut, SilicaIn, SilicaOut, VibrationIn, VibrationOut, mass, silica, vibration,
};
pub use strength::{FitOut, GateOut, StrengthIn, StrengthOut, strength};

use serde::Serialize;

use super::chemistry::Agent;
use super::{Grounds, SumError, air, coat, grit, pot_life, wash};
use crate::body::surface::GritScale;
use crate::text::{Lang, Text, text};

/// What stands beside every result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stated<I> {
    /// What the sum was given.
    pub inputs: I,
    /// What it rests on.
    pub basis: String,
    /// Where it holds.
    pub validity: String,
    /// What else to know, if anything.
    pub notes: Vec<String>,
}

impl<I> Stated<I> {
    fn new(inputs: I, grounds: Grounds, notes: &[Text], lang: Lang) -> Self {
        let say = |text: &Text| text.get(lang).to_owned();
        Self {
            inputs,
            basis: say(&grounds.basis),
            validity: say(&grounds.validity),
            notes: notes.iter().map(say).collect(),
        }
    }
}

/// `calc dew`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DewIn {
    /// Air temperature, °C.
    pub air_c: f64,
    /// Relative humidity, %.
    pub rh_pct: f64,
    /// Surface temperature, °C.
    pub surface_c: Option<f64>,
}

/// Result of [`dew`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DewOut {
    /// Dew point, °C.
    pub dew_point_c: f64,
    /// Surface less dew point, K; without a surface `null`.
    pub margin_k: Option<f64>,
    /// Humidity at the surface, %.
    pub rh_at_surface_pct: Option<f64>,
    /// Water in the air.
    pub absolute_humidity_g_per_m3: f64,
    /// Coldest surface with the usual margin, °C.
    pub coldest_surface_c: f64,
    /// What the dew point is over: always water.
    pub over: &'static str,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<DewIn>,
}

/// Dew point and margin.
///
/// # Errors
/// As [`air::dew_point`] and [`air::margin`].
pub fn dew(inputs: DewIn, lang: Lang) -> Result<DewOut, SumError> {
    let dew = air::dew_point(inputs.air_c, inputs.rh_pct)?;
    let margin =
        inputs.surface_c.map(|surface| air::margin(inputs.air_c, inputs.rh_pct, surface)).transpose()?;
    let mut notes = Vec::new();
    if dew.over_supercooled_water {
        notes.push(text(
            "Below 0 °C: dew point over supercooled water, not frost point.",
            "Bajo 0 °C: punto de rocío sobre agua subenfriada, no de escarcha.",
        ));
    }
    Ok(DewOut {
        dew_point_c: dew.dew_point_c,
        margin_k: margin.map(|margin| margin.margin_k),
        rh_at_surface_pct: margin.map(|margin| margin.rh_at_surface_pct),
        absolute_humidity_g_per_m3: air::absolute_humidity_g_per_m3(inputs.air_c, inputs.rh_pct)?,
        coldest_surface_c: dew.dew_point_c + air::DEW_MARGIN_K,
        over: "water",
        stated: Stated::new(inputs, dew.grounds, &notes, lang),
    })
}

/// `calc dilution`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DilutionIn {
    /// Volumes of water to one of concentrate.
    pub ratio: f64,
    /// Wanted volume, L.
    pub volume_l: f64,
    /// What is diluted.
    pub agent: Option<Agent>,
    /// Strength of the concentrate, % by mass.
    pub concentrate_pct: Option<f64>,
    /// Density of the concentrate, kg/L, where its label says it.
    pub density_kg_per_l: Option<f64>,
}

/// Result of [`dilution`]. The keys from `strength_mol_per_l` on stand only where the agent is named.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DilutionOut {
    /// Water, L.
    pub water_l: f64,
    /// Concentrate, L.
    pub concentrate_l: f64,
    /// What the wash can do.
    #[serde(flatten)]
    pub strength: Option<WashOut>,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<DilutionIn>,
}

/// The chemistry of a wash, per litre of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WashOut {
    /// Strength, mol/L.
    pub strength_mol_per_l: f64,
    /// Strength, g/L.
    pub strength_g_per_l: f64,
    /// Calcium carbonate it dissolves; `null` for a base.
    pub caco3_g_per_l: Option<f64>,
    /// Calcium hydroxide it dissolves.
    pub ca_oh2_g_per_l: Option<f64>,
    /// Carbon dioxide set free at 20 °C, L per L.
    pub co2_l_per_l: Option<f64>,
    /// Sodium bicarbonate that neutralises it.
    pub nahco3_g_per_l: Option<f64>,
    /// Sodium carbonate that neutralises it.
    pub na2co3_g_per_l: Option<f64>,
    /// Household ammonia of 5 % that neutralises it, mL per L.
    pub ammonia_5_pct_ml_per_l: Option<f64>,
    /// pH, ideal.
    pub ph_estimate: f64,
}

impl From<wash::WashStrength> for WashOut {
    fn from(wash: wash::WashStrength) -> Self {
        let acid = |value: f64| (wash.agent != Agent::Ammonia).then_some(value);
        Self {
            strength_mol_per_l: wash.strength_mol_per_l,
            strength_g_per_l: wash.strength_g_per_l,
            caco3_g_per_l: acid(wash.caco3_g_per_l),
            ca_oh2_g_per_l: acid(wash.ca_oh2_g_per_l),
            co2_l_per_l: acid(wash.co2_l_per_l),
            nahco3_g_per_l: acid(wash.nahco3_g_per_l),
            na2co3_g_per_l: acid(wash.na2co3_g_per_l),
            ammonia_5_pct_ml_per_l: acid(wash.ammonia_5_pct_ml_per_l),
            ph_estimate: wash.ph_ideal,
        }
    }
}

/// Volumes of a wash and, with the agent named, what it can do.
///
/// # Errors
/// As [`wash::dilution`] and [`wash::diluted_mol_per_l`]; an agent without its strength or the reverse.
pub fn dilution(inputs: DilutionIn, lang: Lang) -> Result<DilutionOut, SumError> {
    let mixed = wash::dilution(inputs.ratio, inputs.volume_l)?;
    let strength = match (inputs.agent, inputs.concentrate_pct) {
        (None, None) => None,
        (None, Some(_)) => return Err(SumError::Missing { field: "agent" }),
        (Some(_), None) => return Err(SumError::Missing { field: "concentrate_pct" }),
        (Some(agent), Some(pct)) => {
            let mol = wash::diluted_mol_per_l(agent, pct, inputs.density_kg_per_l, inputs.ratio)?;
            Some(wash::wash_strength(agent, mol)?.into())
        }
    };
    Ok(DilutionOut {
        water_l: mixed.water_l,
        concentrate_l: mixed.concentrate_l,
        strength,
        stated: Stated::new(inputs, mixed.grounds, &[wash::CAUTION], lang),
    })
}

/// `calc film`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FilmIn {
    /// Product for all coats, L.
    pub quantity_l: f64,
    /// Area, m².
    pub area_m2: f64,
    /// Volume solids, %.
    pub solids_pct: f64,
    /// Coats.
    pub coats: f64,
    /// Thinner, % of the product.
    pub thinner_pct: f64,
}

/// Result of [`film`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FilmOut {
    /// Wet film per coat, µm.
    pub wet_film_um: f64,
    /// Dry film per coat, µm.
    pub dry_film_um: f64,
    /// Dry film of all coats, µm.
    pub total_dry_film_um: f64,
    /// Area a litre covered in one coat.
    pub coverage_m2_per_l: f64,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<FilmIn>,
}

/// Wet and dry film per coat.
///
/// # Errors
/// As [`coat::film`].
pub fn film(inputs: FilmIn, lang: Lang) -> Result<FilmOut, SumError> {
    let FilmIn { quantity_l, area_m2, solids_pct, coats, thinner_pct } = inputs;
    let film = coat::film(&coat::Coats { quantity_l, area_m2, solids_pct, coats, thinner_pct })?;
    Ok(FilmOut {
        wet_film_um: film.wet_film_um,
        dry_film_um: film.dry_film_um,
        total_dry_film_um: film.dry_film_um * coats,
        coverage_m2_per_l: film.coverage_m2_per_l,
        stated: Stated::new(inputs, film.grounds, &[], lang),
    })
}

/// `calc ladder`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LadderIn {
    /// Start, the coarser number.
    pub from: f64,
    /// End, the finer number.
    pub to: f64,
    /// The scale of both.
    pub scale: GritScale,
}

/// Result of [`ladder`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LadderOut {
    /// Grit numbers, both ends included.
    pub steps: Vec<f64>,
    /// Size ratio of each step to the next.
    pub size_ratios: Vec<f64>,
    /// Mean particle size of each, µm.
    pub particle_um: Vec<f64>,
    /// Depth of the scratches the last grit leaves, µm: least and most.
    pub scratch_left_um: [f64; 2],
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<LadderIn>,
}

/// A ladder from coarse to fine.
///
/// # Errors
/// As [`grit::ladder`].
pub fn ladder(inputs: LadderIn, lang: Lang) -> Result<LadderOut, SumError> {
    let found = grit::ladder(inputs.from, inputs.to, inputs.scale)?;
    let notes = [text(
        "Scratch depth: 0.2 to 0.5 of the particle size, common practice without a source.",
        "Profundidad de raya: 0,2 a 0,5 del tamaño de grano, práctica común sin fuente.",
    )];
    Ok(LadderOut {
        steps: found.steps,
        size_ratios: found.size_ratios,
        particle_um: found.particle_um,
        scratch_left_um: found.scratch_left_um.into(),
        stated: Stated::new(inputs, found.grounds, &notes, lang),
    })
}

/// `calc pot-life`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PotLifeIn {
    /// Pot life by the data sheet, min.
    pub minutes: f64,
    /// At this temperature, °C.
    pub at_c: f64,
    /// Temperature of the mix now, °C.
    pub now_c: f64,
}

/// Result of [`pot_life()`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PotLifeOut {
    /// Pot life now, min.
    pub minutes: f64,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<PotLifeIn>,
}

/// Pot life at another temperature.
///
/// # Errors
/// As [`pot_life::pot_life_min`].
pub fn pot_life(inputs: PotLifeIn, lang: Lang) -> Result<PotLifeOut, SumError> {
    let minutes = pot_life::pot_life_min(inputs.minutes, inputs.at_c, inputs.now_c)?;
    Ok(PotLifeOut { minutes, stated: Stated::new(inputs, pot_life::GROUNDS, &[], lang) })
}

#[cfg(test)]
mod tests;
