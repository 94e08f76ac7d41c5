//! Washes: diluting, what a wash can dissolve, and what neutralises it.

use super::check::within;
use super::chemistry::{Agent, Dissolved, GAS_L_PER_MOL, molar, ph};
use super::{Grounds, SumError};
use crate::text::{Text, text};

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Stoichiometry with molar masses of chempy 0.10.2; stock densities from memory of the CRC Handbook. R:1 is R volumes of water and one of concentrate.",
        "Estequiometría con masas molares de chempy 0.10.2; densidades de memoria del CRC Handbook. R:1 son R volúmenes de agua y uno de concentrado.",
    ),
    validity: text(
        "Volumes taken as additive (within 1 %); the label or data sheet of the stock decides its strength. What a wash dissolves is an upper bound: depth depends on dwell and paste.",
        "Volúmenes considerados aditivos (dentro del 1 %); la concentración la fija la etiqueta o la ficha. Lo disuelto es una cota superior: la profundidad depende del tiempo y la pasta.",
    ),
};

/// What stands beside every wash.
pub const CAUTION: Text = text(
    "Concentrate into water, never the reverse; gloves, goggles, air; never with bleach; no acid straight into ammonia. The safety data sheet governs.",
    "El concentrado al agua, nunca al revés; guantes, gafas, ventilación; nunca con lejía; nunca ácido directamente en amoníaco. Manda la ficha de seguridad.",
);

/// Two volumes that make a wash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dilution {
    /// Water, L.
    pub water_l: f64,
    /// Concentrate, L.
    pub concentrate_l: f64,
    /// Share of concentrate in the whole.
    pub share: f64,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The volumes for `volume_l` of a wash of `ratio` volumes water to one of concentrate.
///
/// # Errors
/// A ratio outside 0.1 to 1000 or a volume outside 1 mL to 10 m³.
pub fn dilution(ratio: f64, volume_l: f64) -> Result<Dilution, SumError> {
    let ratio = within("ratio", ratio, 0.1, 1_000.0)?;
    let volume = within("volume_l", volume_l, 0.001, 10_000.0)?;
    let share = 1.0 / (ratio + 1.0);
    let concentrate_l = volume * share;
    Ok(Dilution { water_l: volume - concentrate_l, concentrate_l, share, grounds: GROUNDS })
}

/// The volume of a wash for an area.
///
/// # Errors
/// An area or a rate outside what is washed.
pub fn volume_for_area_l(area_m2: f64, rate_l_per_m2: f64) -> Result<f64, SumError> {
    Ok(within("area_m2", area_m2, 1e-4, 100_000.0)? * within("rate_l_per_m2", rate_l_per_m2, 0.01, 20.0)?)
}

/// What a litre of a wash can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WashStrength {
    /// Of what.
    pub agent: Agent,
    /// Strength, mol/L.
    pub strength_mol_per_l: f64,
    /// Strength, g/L.
    pub strength_g_per_l: f64,
    /// Calcium carbonate a litre dissolves, g.
    pub caco3_g_per_l: f64,
    /// Calcium hydroxide a litre dissolves, g.
    pub ca_oh2_g_per_l: f64,
    /// Carbon dioxide a litre sets free from carbonate at 20 °C, L.
    pub co2_l_per_l: f64,
    /// Sodium bicarbonate that neutralises a litre, g.
    pub nahco3_g_per_l: f64,
    /// Sodium carbonate that neutralises a litre, g.
    pub na2co3_g_per_l: f64,
    /// Household ammonia of 5 % that neutralises a litre, mL.
    pub ammonia_5_pct_ml_per_l: f64,
    /// pH, ideal: an estimate.
    pub ph_ideal: f64,
}

/// What a litre of this strength can do.
///
/// # Errors
/// A strength outside 0 to 20 mol/L.
pub fn wash_strength(agent: Agent, mol_per_l: f64) -> Result<WashStrength, SumError> {
    let mol = within("strength_mol_per_l", mol_per_l, 0.0, 20.0)?;
    let carbonate = mol * agent.carbonate_per_mole();
    let base = mol * agent.base_per_mole();
    Ok(WashStrength {
        agent,
        strength_mol_per_l: mol,
        strength_g_per_l: mol * agent.molar_mass(),
        caco3_g_per_l: carbonate * molar::CACO3,
        ca_oh2_g_per_l: carbonate * molar::CA_OH2,
        co2_l_per_l: carbonate * GAS_L_PER_MOL,
        nahco3_g_per_l: base * molar::NAHCO3,
        na2co3_g_per_l: base / 2.0 * molar::NA2CO3,
        ammonia_5_pct_ml_per_l: base / Agent::Ammonia.stock_mol_per_l(5.0, None)? * 1000.0,
        ph_ideal: ph(&Dissolved { agent: Some((agent, mol)), ..Dissolved::default() })?,
    })
}

/// The strength of a wash from its stock: mol/L after dilution with `ratio` volumes of water.
///
/// # Errors
/// A stock or a ratio outside the tables.
pub fn diluted_mol_per_l(
    agent: Agent,
    concentrate_pct: f64,
    density_kg_per_l: Option<f64>,
    ratio: f64,
) -> Result<f64, SumError> {
    let ratio = within("ratio", ratio, 0.0, 1_000.0)?;
    Ok(agent.stock_mol_per_l(concentrate_pct, density_kg_per_l)? / (ratio + 1.0))
}

/// The strength of a wash from powder: mol/L.
///
/// # Errors
/// More than 600 g in a litre, or none.
pub fn dissolved_mol_per_l(agent: Agent, grams_per_l: f64) -> Result<f64, SumError> {
    Ok(within("powder_g_per_l", grams_per_l, 0.1, 600.0)? / agent.molar_mass())
}

named! {
    /// What an acid is neutralised with.
    pub enum Base, "neutraliser" {
        /// Sodium bicarbonate; an excess stays near pH 8.3.
        Bicarbonate = "bicarbonate",
        /// Sodium carbonate.
        Carbonate = "carbonate",
        /// Household ammonia.
        Ammonia = "ammonia",
    }
}

/// What neutralises the acid left on a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neutraliser {
    /// Acid left, mol.
    pub acid_mol: f64,
    /// Sodium bicarbonate, g.
    pub nahco3_g: f64,
    /// Sodium carbonate, g.
    pub na2co3_g: f64,
    /// Ammonia of the given strength, mL.
    pub ammonia_ml: f64,
}

/// What neutralises `left_l_per_m2` of an unspent wash on `area_m2`. Ammonia is counted at `ammonia_pct`
/// by mass; household grades only (up to 10 %).
///
/// # Errors
/// Values outside what a wash leaves behind.
pub fn neutraliser(
    wash: &WashStrength,
    left_l_per_m2: f64,
    area_m2: f64,
    ammonia_pct: f64,
) -> Result<Neutraliser, SumError> {
    let left = within("left_l_per_m2", left_l_per_m2, 0.0, 5.0)?;
    let area = within("area_m2", area_m2, 1e-4, 100_000.0)?;
    let stock = Agent::Ammonia.stock_mol_per_l(within("ammonia_pct", ammonia_pct, 1.0, 10.0)?, None)?;
    let protons = wash.strength_mol_per_l * wash.agent.base_per_mole() * left * area;
    Ok(Neutraliser {
        acid_mol: protons,
        nahco3_g: protons * molar::NAHCO3,
        na2co3_g: protons / 2.0 * molar::NA2CO3,
        ammonia_ml: protons / stock * 1000.0,
    })
}

/// The share of an unspent acid wash that the same volume of a diluted base neutralises.
///
/// # Errors
/// A base of no strength or an acid of none.
pub fn share_neutralised(wash: &WashStrength, base_mol_per_l: f64) -> Result<f64, SumError> {
    let base = within("base_mol_per_l", base_mol_per_l, 0.0, 20.0)?;
    let acid =
        within("strength_mol_per_l", wash.strength_mol_per_l * wash.agent.base_per_mole(), 1e-6, 60.0)?;
    Ok((base / acid).min(1.0))
}

/// Depth of paste, µm, that a fully spent wash could take at most, at 2.2 g/cm³ counted as carbonate.
///
/// # Errors
/// A rate outside what is washed.
pub fn removal_bound_um(wash: &WashStrength, rate_l_per_m2: f64) -> Result<f64, SumError> {
    const PASTE_G_PER_CM3: f64 = 2.2;
    let rate = within("rate_l_per_m2", rate_l_per_m2, 0.0, 20.0)?;
    Ok(rate * wash.caco3_g_per_l / PASTE_G_PER_CM3)
}
