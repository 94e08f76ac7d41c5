//! `calc`: options to sums.

use trowelogue_api::{Result, Strength, Sum, calc};

use super::Desk;
use crate::args::CalcCommand;
use crate::print::{self, Out};

impl Desk {
    pub(super) fn calc(&self, command: CalcCommand, out: &mut Out) -> Result<u8> {
        let sum = self.sum(command)?;
        let units = self.setup.units.unwrap_or_default();
        let done = calc(&sum, self.lang(), units)?;
        self.answer(&done.json, out, |out| print::calculated(&done, self.lang(), out))
    }

    fn sum(&self, command: CalcCommand) -> Result<Sum> {
        Ok(match command {
            CalcCommand::Dew { air_c, rh_pct, surface_c } => Sum::Dew { air_c, rh_pct, surface_c },
            CalcCommand::Dilution { ratio, volume_l, agent, concentrate_pct, density_kg_per_l } => {
                Sum::Dilution { ratio, volume_l, agent, concentrate_pct, density_kg_per_l }
            }
            CalcCommand::Film { quantity_l, area_m2, solids_pct, coats, thinner_pct } => {
                Sum::Film { quantity_l, area_m2, solids_pct, coats, thinner_pct }
            }
            CalcCommand::Ladder { from, to, scale } => Sum::Ladder { from, to, scale },
            CalcCommand::Vibration { points } => Sum::Vibration { points },
            CalcCommand::Silica { tool, control, place, hours, setting } => {
                Sum::Silica { tool, control, place, hours, setting }
            }
            CalcCommand::Mass {
                length_mm,
                width_mm,
                thickness_mm,
                density_kgm3,
                cut_outs_m2,
                added_kg,
                per_person_kg,
            } => Sum::Mass {
                length_mm,
                width_mm,
                thickness_mm,
                density_kgm3,
                cut_outs_m2,
                added_kg,
                per_person_kg,
            },
            CalcCommand::PotLife { minutes, at_c, now_c } => Sum::PotLife { minutes, at_c, now_c },
            CalcCommand::Strength {
                readings,
                breaks,
                datum_c,
                q_k,
                reference_c,
                form,
                gate_mpa,
                assume_c,
            } => Sum::Strength(Box::new(Strength {
                readings: self.text_file(&readings)?,
                breaks: self.text_file(&breaks)?,
                datum_c,
                q_k,
                reference_c,
                form,
                gate_mpa,
                assume_c,
            })),
        })
    }
}
