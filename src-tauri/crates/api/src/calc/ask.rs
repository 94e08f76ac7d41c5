//! The sums that can be asked for, with what each is given.

use serde::Serialize;
use serde_json::Value;
use trowelogue_core::sums::chemistry::Agent;
use trowelogue_core::sums::curve::Form;
use trowelogue_core::sums::logger::{self, Asked};
use trowelogue_core::sums::maturity::Model;
use trowelogue_core::sums::silica::{self, DustTool, Setting, Surroundings};
use trowelogue_core::sums::{SumError, calc, grit, vibration};
use trowelogue_core::text::Lang;

use super::{refused, unreadable};
use crate::Result;

/// A sum, with what it is given. Names end in their unit; a closed choice is given by its name.
#[derive(Debug, Clone, PartialEq)]
pub enum Sum {
    /// Dew point, and margin where a surface is given.
    Dew {
        /// Air, in °C.
        air_c: f64,
        /// Relative humidity, in per cent.
        rh_pct: f64,
        /// Surface, in °C.
        surface_c: Option<f64>,
    },
    /// Volumes of a wash and, with the agent named, what it can do.
    Dilution {
        /// Volumes of water to one of concentrate.
        ratio: f64,
        /// Volume wanted, in litres.
        volume_l: f64,
        /// What is diluted.
        agent: Option<String>,
        /// Strength of the concentrate, in per cent by mass.
        concentrate_pct: Option<f64>,
        /// Density of the concentrate, in kg/L.
        density_kg_per_l: Option<f64>,
    },
    /// Wet and dry film.
    Film {
        /// Product for all coats, in litres.
        quantity_l: f64,
        /// Area, in m².
        area_m2: f64,
        /// Volume solids, in per cent.
        solids_pct: f64,
        /// Coats.
        coats: f64,
        /// Thinner, in per cent of the product.
        thinner_pct: f64,
    },
    /// Grit ladder.
    Ladder {
        /// The coarser number.
        from: f64,
        /// The finer number.
        to: f64,
        /// The scale of both.
        scale: String,
    },
    /// Hand-arm vibration of a day.
    Vibration {
        /// `4.5:90,6.0:30`: m/s² and minutes of each tool.
        points: String,
    },
    /// The row of the table of controls for respirable silica.
    Silica {
        /// With what.
        tool: String,
        /// What keeps the dust down.
        control: String,
        /// Indoors or outdoors.
        place: String,
        /// Hours in the shift.
        hours: f64,
        /// Shop or site.
        setting: String,
    },
    /// Mass of a piece, and persons to lift it.
    Mass {
        /// Length, in mm.
        length_mm: f64,
        /// Width, in mm.
        width_mm: f64,
        /// Thickness, in mm.
        thickness_mm: f64,
        /// Density, in kg/m³.
        density_kgm3: f64,
        /// Area of cut-outs, in m².
        cut_outs_m2: f64,
        /// Fixtures or water, in kg.
        added_kg: f64,
        /// Load per person, in kg.
        per_person_kg: f64,
    },
    /// Pot life at another temperature.
    PotLife {
        /// Pot life by the data sheet, in minutes.
        minutes: f64,
        /// At this temperature, in °C.
        at_c: f64,
        /// Temperature of the mix now, in °C.
        now_c: f64,
    },
    /// Strength from a temperature history and the mix's own breaks.
    Strength(Box<Strength>),
}

/// What the strength sum is given.
#[derive(Debug, Clone, PartialEq)]
pub struct Strength {
    /// Text of the file of readings, and what it is called.
    pub readings: (String, String),
    /// Text of the file of breaks, and what it is called.
    pub breaks: (String, String),
    /// Datum temperature, in °C; none: the default.
    pub datum_c: Option<f64>,
    /// Activation energy over gas constant, in kelvin; none: the default.
    pub q_k: Option<f64>,
    /// Reference temperature, in °C; none: the default.
    pub reference_c: Option<f64>,
    /// Form of the curve.
    pub form: String,
    /// Strengths asked for, in MPa.
    pub gate_mpa: Vec<f64>,
    /// Temperature from the last reading on, in °C.
    pub assume_c: Option<f64>,
}

/// Does the sum; the answer is in its stable machine form.
pub(super) fn perform(sum: &Sum, lang: Lang) -> Result<Value> {
    match sum {
        Sum::Strength(asked) => strength(asked, lang),
        _ => plain(sum, lang).map_err(|error| refused(&error, lang)),
    }
}

fn plain(sum: &Sum, lang: Lang) -> std::result::Result<Value, SumError> {
    match sum.clone() {
        Sum::Dew { air_c, rh_pct, surface_c } => {
            done(calc::dew(calc::DewIn { air_c, rh_pct, surface_c }, lang))
        }
        Sum::Dilution { ratio, volume_l, agent, concentrate_pct, density_kg_per_l } => {
            let agent = agent.as_deref().map(Agent::parse).transpose()?;
            let inputs = calc::DilutionIn { ratio, volume_l, agent, concentrate_pct, density_kg_per_l };
            done(calc::dilution(inputs, lang))
        }
        Sum::Film { quantity_l, area_m2, solids_pct, coats, thinner_pct } => {
            done(calc::film(calc::FilmIn { quantity_l, area_m2, solids_pct, coats, thinner_pct }, lang))
        }
        Sum::Ladder { from, to, scale } => {
            done(calc::ladder(calc::LadderIn { from, to, scale: grit::parse_scale(&scale)? }, lang))
        }
        Sum::Vibration { points } => {
            done(calc::vibration(calc::VibrationIn { points: vibration::parse_uses(&points)? }, lang))
        }
        Sum::Silica { tool, control, place, hours, setting } => {
            let inputs = calc::SilicaIn {
                tool: DustTool::parse(&tool)?,
                control: silica::parse_control(&control)?,
                place: Surroundings::parse(&place)?,
                hours,
                setting: Setting::parse(&setting)?,
            };
            done(calc::silica(inputs, lang))
        }
        Sum::Mass {
            length_mm,
            width_mm,
            thickness_mm,
            density_kgm3,
            cut_outs_m2,
            added_kg,
            per_person_kg,
        } => {
            let inputs = calc::MassIn {
                length_mm,
                width_mm,
                thickness_mm,
                density_kgm3,
                cut_outs_m2,
                added_kg,
                per_person_kg,
            };
            done(calc::mass(inputs, lang))
        }
        Sum::PotLife { minutes, at_c, now_c } => {
            done(calc::pot_life(calc::PotLifeIn { minutes, at_c, now_c }, lang))
        }
        Sum::Strength(_) => Err(SumError::Missing { field: "readings" }),
    }
}

fn done<T: Serialize>(result: std::result::Result<T, SumError>) -> std::result::Result<Value, SumError> {
    // Results are numbers, words and lists of them: turning them into JSON cannot fail.
    result.map(|it| serde_json::to_value(it).unwrap_or_default())
}

fn strength(asked: &Strength, lang: Lang) -> Result<Value> {
    let (readings, name) = &asked.readings;
    let import = logger::read(readings, &Asked::default()).map_err(|error| unreadable(&error, name, lang))?;
    let (breaks, name) = &asked.breaks;
    let breaks = logger::read_breaks(breaks).map_err(|error| unreadable(&error, name, lang))?;
    let default = Model::default();
    let model = Model {
        datum_c: asked.datum_c.unwrap_or(default.datum_c),
        q_k: asked.q_k.unwrap_or(default.q_k),
        reference_c: asked.reference_c.unwrap_or(default.reference_c),
    };
    let form = Form::parse(&asked.form).map_err(|error| refused(&error, lang))?;
    let inputs = calc::StrengthIn { model, form, gate_mpa: asked.gate_mpa.clone(), assume_c: asked.assume_c };
    done(calc::strength(import.readings, &breaks, inputs, lang)).map_err(|error| refused(&error, lang))
}
