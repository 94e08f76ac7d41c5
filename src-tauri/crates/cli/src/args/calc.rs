//! The sums and their long options; units stand in the names, and negative numbers are values.

use std::path::PathBuf;

use clap::Subcommand;

#[derive(Debug, Subcommand)]
pub(crate) enum CalcCommand {
    /// Dew point, and margin where a surface is given.
    #[command(allow_negative_numbers = true)]
    Dew {
        /// Air, in °C.
        #[arg(long)]
        air_c: f64,
        /// Relative humidity, in per cent.
        #[arg(long)]
        rh_pct: f64,
        /// Surface, in °C.
        #[arg(long)]
        surface_c: Option<f64>,
    },
    /// Volumes of a wash and, with the agent named, what it can do.
    #[command(allow_negative_numbers = true)]
    Dilution {
        /// Volumes of water to one of concentrate.
        #[arg(long)]
        ratio: f64,
        /// Volume wanted, in litres.
        #[arg(long)]
        volume_l: f64,
        /// What is diluted: hydrochloric, phosphoric, sulfamic, citric or ammonia.
        #[arg(long)]
        agent: Option<String>,
        /// Strength of the concentrate, in per cent by mass.
        #[arg(long)]
        concentrate_pct: Option<f64>,
        /// Density of the concentrate, in kg/L, where its label says it.
        #[arg(long)]
        density_kg_per_l: Option<f64>,
    },
    /// Wet and dry film per coat.
    #[command(allow_negative_numbers = true)]
    Film {
        /// Product for all coats, in litres.
        #[arg(long)]
        quantity_l: f64,
        /// Area, in m².
        #[arg(long)]
        area_m2: f64,
        /// Volume solids, in per cent.
        #[arg(long)]
        solids_pct: f64,
        /// Number of coats.
        #[arg(long, default_value_t = 1.0)]
        coats: f64,
        /// Thinner, in per cent of the product.
        #[arg(long, default_value_t = 0.0)]
        thinner_pct: f64,
    },
    /// Grit ladder from coarse to fine.
    #[command(allow_negative_numbers = true)]
    Ladder {
        /// The coarser number.
        #[arg(long)]
        from: f64,
        /// The finer number.
        #[arg(long)]
        to: f64,
        /// The scale of both: pad, mesh, p or cami.
        #[arg(long)]
        scale: String,
    },
    /// Hand-arm vibration of a day.
    Vibration {
        /// Vibration and minutes of each tool, such as 4.5:90,6.0:30 (m/s² : minutes).
        #[arg(long, allow_hyphen_values = true)]
        points: String,
    },
    /// Respirable silica: control and respirator by tool, place and hours.
    #[command(allow_negative_numbers = true)]
    Silica {
        /// The tool, such as handheld-grinder.
        #[arg(long)]
        tool: String,
        /// What keeps the dust down: water, shroud or none.
        #[arg(long)]
        control: String,
        /// Indoors or outdoors.
        #[arg(long)]
        place: String,
        /// Hours in the shift.
        #[arg(long)]
        hours: f64,
        /// Shop or (building) site.
        #[arg(long)]
        setting: String,
    },
    /// Mass of a piece, and persons to lift it.
    #[command(allow_negative_numbers = true)]
    Mass {
        /// Length, in mm.
        #[arg(long)]
        length_mm: f64,
        /// Width, in mm.
        #[arg(long)]
        width_mm: f64,
        /// Thickness, in mm.
        #[arg(long)]
        thickness_mm: f64,
        /// Density, in kg/m³.
        #[arg(long)]
        density_kgm3: f64,
        /// Area of cut-outs, in m².
        #[arg(long, default_value_t = 0.0)]
        cut_outs_m2: f64,
        /// Fixtures or water, in kg.
        #[arg(long, default_value_t = 0.0)]
        added_kg: f64,
        /// Load per person, in kg.
        #[arg(long, default_value_t = 25.0)]
        per_person_kg: f64,
    },
    /// Pot life at another temperature.
    #[command(allow_negative_numbers = true)]
    PotLife {
        /// Pot life by the data sheet, in minutes.
        #[arg(long)]
        minutes: f64,
        /// At this temperature, in °C.
        #[arg(long)]
        at_c: f64,
        /// Temperature of the mix now, in °C.
        #[arg(long)]
        now_c: f64,
    },
    /// Strength from a temperature history and the mix's own breaks.
    #[command(allow_negative_numbers = true)]
    Strength {
        /// CSV with the columns time and `temperature_c`.
        #[arg(long, value_name = "F.csv")]
        readings: PathBuf,
        /// CSV with the columns `equivalent_age_h` and `strength_mpa`.
        #[arg(long, value_name = "F.csv")]
        breaks: PathBuf,
        /// Datum temperature, in °C.
        #[arg(long)]
        datum_c: Option<f64>,
        /// Activation energy over gas constant, in kelvin.
        #[arg(long)]
        q_k: Option<f64>,
        /// Reference temperature, in °C.
        #[arg(long)]
        reference_c: Option<f64>,
        /// Form of the curve: hyperbolic, log or exponential.
        #[arg(long, default_value = "hyperbolic")]
        form: String,
        /// A strength asked for, in MPa; may be given several times.
        #[arg(long)]
        gate_mpa: Vec<f64>,
        /// Temperature from the last reading on, in °C.
        #[arg(long)]
        assume_c: Option<f64>,
    },
}
