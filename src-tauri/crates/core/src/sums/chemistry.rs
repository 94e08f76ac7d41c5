//! Molar masses, strengths of stock solutions, and the pH of a mixture.

use super::SumError;
use super::check::within;
use crate::text::text;

/// Molar masses in g/mol, as computed by chempy 0.10.2.
pub mod molar {
    /// Hydrogen chloride.
    pub const HCL: f64 = 36.458;
    /// Calcium carbonate.
    pub const CACO3: f64 = 100.086;
    /// Calcium hydroxide.
    pub const CA_OH2: f64 = 74.092;
    /// Ammonia.
    pub const NH3: f64 = 17.031;
    /// Sodium bicarbonate.
    pub const NAHCO3: f64 = 84.006;
    /// Sodium carbonate.
    pub const NA2CO3: f64 = 105.988;
    /// Sulfamic acid.
    pub const SULFAMIC: f64 = 97.088;
    /// Phosphoric acid.
    pub const PHOSPHORIC: f64 = 97.994;
    /// Citric acid without water of crystallisation.
    pub const CITRIC: f64 = 192.123;
}

/// Molar volume of an ideal gas at 20 °C and 101.325 kPa, L/mol: R·293.15 K / 101325 Pa.
pub const GAS_L_PER_MOL: f64 = 8.314_462_618 * 293.15 / 101.325;

named! {
    /// A solution sold by its strength in per cent by mass.
    pub enum Agent, "agent" {
        /// Hydrochloric (muriatic) acid.
        Hydrochloric = "hydrochloric",
        /// Phosphoric acid.
        Phosphoric = "phosphoric",
        /// Sulfamic acid, dissolved from powder.
        Sulfamic = "sulfamic",
        /// Citric acid, dissolved from powder.
        Citric = "citric",
        /// Ammonia water.
        Ammonia = "ammonia",
    }
}

impl Agent {
    /// Molar mass, g/mol.
    pub const fn molar_mass(self) -> f64 {
        match self {
            Self::Hydrochloric => molar::HCL,
            Self::Phosphoric => molar::PHOSPHORIC,
            Self::Sulfamic => molar::SULFAMIC,
            Self::Citric => molar::CITRIC,
            Self::Ammonia => molar::NH3,
        }
    }

    /// Moles of calcium carbonate one mole dissolves. Phosphoric acid is counted to the hydrogen phosphate
    /// CaHPO4; citric acid to the citrate Ca3(C6H5O7)2.
    pub const fn carbonate_per_mole(self) -> f64 {
        match self {
            Self::Hydrochloric | Self::Sulfamic => 0.5,
            Self::Phosphoric => 1.0,
            Self::Citric => 1.5,
            Self::Ammonia => 0.0,
        }
    }

    /// Moles of bicarbonate (or ammonia) that neutralise one mole: protons given up near pH 8.
    pub const fn base_per_mole(self) -> f64 {
        match self {
            Self::Hydrochloric | Self::Sulfamic => 1.0,
            Self::Phosphoric => 2.0,
            Self::Citric => 3.0,
            Self::Ammonia => 0.0,
        }
    }

    /// Density of a solution by strength: per cent by mass, kg/L. From memory of the CRC Handbook and of the
    /// Baumé grades of trade; between two rows a straight line. Powders have none.
    const fn densities(self) -> &'static [(f64, f64)] {
        match self {
            Self::Hydrochloric => &[
                (0.0, 0.998),
                (10.0, 1.047),
                (14.5, 1.070),
                (20.0, 1.098),
                (31.45, 1.160),
                (35.2, 1.179),
                (37.0, 1.184),
            ],
            Self::Phosphoric => {
                &[(0.0, 0.998), (10.0, 1.053), (30.0, 1.181), (50.0, 1.335), (75.0, 1.573), (85.0, 1.685)]
            }
            Self::Ammonia => &[(0.0, 0.998), (2.0, 0.990), (5.0, 0.977), (10.0, 0.957), (29.4, 0.897)],
            Self::Sulfamic | Self::Citric => &[],
        }
    }

    /// Density of the stock, kg/L.
    ///
    /// # Errors
    /// A strength outside the table, or a powder: its solution's density must be given.
    pub fn density_kg_per_l(self, pct: f64) -> Result<f64, SumError> {
        let table = self.densities();
        let Some(&(most, _)) = table.last() else {
            return Err(SumError::Refused {
                field: "density_kg_per_l",
                why: text(
                    "sold as a powder: give the density of the solution, or weigh the powder per litre",
                    "se vende en polvo: indique la densidad de la disolución o pese el polvo por litro",
                ),
            });
        };
        let pct = within("concentrate_pct", pct, 0.1, most)?;
        let pair = table.windows(2).find(|pair| pct <= pair[1].0).unwrap_or(table);
        let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
        Ok(y0 + (pct - x0) / (x1 - x0) * (y1 - y0))
    }

    /// Strength of the stock, mol/L: mass fraction times density over molar mass.
    ///
    /// # Errors
    /// A strength outside the table, or a density no solution has.
    pub fn stock_mol_per_l(self, pct: f64, density_kg_per_l: Option<f64>) -> Result<f64, SumError> {
        let density = match density_kg_per_l {
            Some(given) => within("density_kg_per_l", given, 0.8, 2.0)?,
            None => self.density_kg_per_l(pct)?,
        };
        let pct = within("concentrate_pct", pct, 0.1, 100.0)?;
        Ok(pct / 100.0 * density * 1000.0 / self.molar_mass())
    }

    /// pKa values in order of strength, from memory of the CRC Handbook. The first of hydrochloric acid stands
    /// for "wholly split".
    const fn pka(self) -> &'static [f64] {
        match self {
            Self::Hydrochloric => &[-6.0],
            Self::Sulfamic => &[1.05],
            Self::Phosphoric => &[2.148, 7.199, 12.35],
            Self::Citric => &[3.128, 4.761, 6.396],
            Self::Ammonia => &[9.246],
        }
    }
}

/// pKa of carbonic acid, from memory of the CRC Handbook.
const CARBONIC: &[f64] = &[6.352, 10.329];
/// Ion product of water at 25 °C.
const WATER: f64 = 1e-14;

/// What is dissolved in a litre, for [`ph`].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Dissolved {
    /// An acid or ammonia, mol/L.
    pub agent: Option<(Agent, f64)>,
    /// Ammonia beside it, mol/L.
    pub ammonia_mol_per_l: f64,
    /// Sodium bicarbonate, mol/L.
    pub bicarbonate_mol_per_l: f64,
    /// Sodium carbonate, mol/L.
    pub carbonate_mol_per_l: f64,
}

/// pH by charge balance at 25 °C, activities left out: an estimate. Below pH 1 paper shows "1 or less".
///
/// # Errors
/// A concentration that is negative or above 20 mol/L.
pub fn ph(mix: &Dissolved) -> Result<f64, SumError> {
    let (agent, strength) = mix.agent.unwrap_or((Agent::Ammonia, 0.0));
    for value in [strength, mix.ammonia_mol_per_l, mix.bicarbonate_mol_per_l, mix.carbonate_mol_per_l] {
        within("strength_mol_per_l", value, 0.0, 20.0)?;
    }
    let charge = |ph: f64| charge_at(ph, agent, strength, mix);
    let (mut low, mut high) = (-2.0, 16.0);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if charge(middle) > 0.0 { low = middle } else { high = middle }
    }
    Ok(f64::midpoint(low, high))
}

/// Positive charge minus negative charge at a pH; falls as pH rises.
fn charge_at(ph: f64, agent: Agent, strength: f64, mix: &Dissolved) -> f64 {
    let hydrogen = 10f64.powf(-ph);
    let sodium = mix.bicarbonate_mol_per_l + 2.0 * mix.carbonate_mol_per_l;
    let carbon = mix.bicarbonate_mol_per_l + mix.carbonate_mol_per_l;
    let (acid, ammonia) = match agent {
        Agent::Ammonia => (0.0, mix.ammonia_mol_per_l + strength),
        _ => (strength, mix.ammonia_mol_per_l),
    };
    let ammonium = ammonia * (1.0 - lost_protons(Agent::Ammonia.pka(), hydrogen));
    hydrogen + sodium + ammonium
        - WATER / hydrogen
        - acid * lost_protons(agent.pka(), hydrogen)
        - carbon * lost_protons(CARBONIC, hydrogen)
}

/// Mean number of protons an acid has given up at this hydrogen ion concentration.
fn lost_protons(pka: &[f64], hydrogen: f64) -> f64 {
    let (mut term, mut sum, mut weighted) = (1.0, 1.0, 0.0);
    for (lost, pka) in pka.iter().enumerate() {
        term *= 10f64.powf(-pka) / hydrogen;
        sum += term;
        weighted += term * (lost + 1) as f64;
    }
    weighted / sum
}
