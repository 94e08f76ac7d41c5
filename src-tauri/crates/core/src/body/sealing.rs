//! Drying, climate, densifying, sealing.

use chrono::NaiveDate;

use super::common::Answer;
use crate::id::ObjectId;

choices! {
    /// How moisture was judged; each method has its scope.
    pub enum MoistureMethod {
        InSituRh = "in_situ_rh": "in-situ relative humidity", "humedad relativa interior";
        Impedance = "impedance": "impedance meter", "medidor de impedancia";
        PlasticSheet = "plastic_sheet": "plastic sheet, 16 h", "lámina plástica, 16 h";
        ConstantWeight = "constant_weight": "constant weight", "peso constante";
        Carbide = "carbide": "carbide method", "método del carburo";
        Vapour = "vapour": "vapor emission", "emisión de vapor";
    }

    /// What a reading says against its limit.
    pub enum Verdict {
        Pass = "pass": "dry enough", "suficientemente seco";
        Fail = "fail": "too wet", "demasiado húmedo";
    }

    /// What a drop of water does on the face.
    pub enum DropResult {
        Beads = "beads": "beads", "forma gota";
        DarkensSlow = "darkens_slow": "darkens after minutes", "oscurece en minutos";
        DarkensFast = "darkens_fast": "darkens at once", "oscurece al instante";
    }

    /// How a coat was put on.
    pub enum CoatMethod {
        Roller = "roller": "roller", "rodillo";
        Spray = "spray": "spray", "pistola";
        Pad = "pad": "pad or cloth", "almohadilla o paño";
        Brush = "brush": "brush", "brocha";
        Flood = "flood": "flooded, excess taken off", "inundado, retirando el exceso";
    }
}

bodies! {
    /// A densifier.
    pub struct Densify {
        /// The product.
        pub product: ObjectId,
        /// Lot.
        pub lot: String,
        /// Dwell, in minutes.
        pub dwell_min: f64,
        /// Residue taken off before it dried.
        pub residue_off: Answer,
        /// Quantity, in litres.
        pub quantity_l: Option<f64>,
        /// Area, in m².
        pub area_m2: Option<f64>,
        /// Best-before date of the lot.
        pub expires: Option<NaiveDate>,
    }

    /// Drying, from `done`.
    pub struct Dry {
        /// Where.
        pub at: String,
        /// Relative humidity of the air at the end, in per cent.
        pub closing_rh_pct: Option<f64>,
        /// Temperature of the air at the end, in °C.
        pub closing_c: Option<f64>,
    }

    /// Readings of air and surface. Dew point and margin are computed, never typed.
    pub struct Climate {
        /// Air, in °C.
        pub air_c: f64,
        /// Relative humidity, in per cent.
        pub rh_pct: f64,
        /// Surface, in °C.
        pub surface_c: f64,
    }

    /// A moisture reading.
    pub struct Moisture {
        /// How.
        pub method: MoistureMethod,
        /// The value, in the method's own unit.
        pub value: f64,
        /// Against the limit that applies.
        pub verdict: Verdict,
        /// Plastic sheet left on for, in hours.
        pub laid_h: Option<f64>,
        /// Reading on a dry reference, in the same unit.
        pub reference: Option<f64>,
        /// The limit it was judged by.
        pub limit: Option<f64>,
    }

    /// A drop of water on the face.
    pub struct WaterDrop {
        /// What it does.
        pub result: DropResult,
        /// After how many minutes.
        pub after_min: Option<f64>,
    }

    /// One coat of sealer.
    pub struct SealCoat {
        /// The product.
        pub product: ObjectId,
        /// Lot.
        pub lot: String,
        /// Number of the coat, from 1.
        pub coat: u32,
        /// Air at the start, in °C.
        pub air_c: f64,
        /// Relative humidity at the start, in per cent.
        pub rh_pct: f64,
        /// Surface at the start, in °C.
        pub surface_c: f64,
        /// Surface steady or falling, not in the sun.
        pub surface_steady: Option<Answer>,
        /// Abraded before this coat.
        pub abraded_before: Option<Answer>,
        /// Hardener parts to 100 of base, by volume.
        pub hardener_parts: Option<f64>,
        /// Lot of the hardener, where it has one of its own.
        pub hardener_lot: Option<String>,
        /// Best-before date of the hardener.
        pub hardener_expires: Option<NaiveDate>,
        /// Minutes from mixing to the end of the coat.
        pub mixed_before_min: Option<f64>,
        /// Best-before date of the lot.
        pub expires: Option<NaiveDate>,
        /// Extended by the maker in writing until.
        pub extended_until: Option<NaiveDate>,
        /// How.
        pub method: Option<CoatMethod>,
        /// Quantity, in litres.
        pub quantity_l: Option<f64>,
        /// Of it left over and not used, in litres.
        pub left_over_l: Option<f64>,
        /// Area, in m².
        pub area_m2: Option<f64>,
        /// Open pores filled, or none seen.
        pub pores_filled: Option<Answer>,
        /// Wet to refusal (penetrating sealers).
        pub to_refusal: Option<Answer>,
        /// The next coat follows wet on wet, as the product's sheet says.
        pub wet_on_wet: Option<bool>,
    }

    /// Cure of the sealer, from `done`.
    pub struct SealerCure {
        /// How.
        pub method: String,
        /// Until when it is left alone.
        pub until: chrono::DateTime<chrono::FixedOffset>,
        /// Air during the cure, in °C.
        pub air_c: Option<f64>,
    }
}
