//! Pour, cure, demould, strength, temperature.

use std::collections::BTreeMap;

use super::surface::DustControl;
use crate::id::{Hash, ObjectId};

choices! {
    /// How the mix was consolidated.
    pub enum Consolidation {
        Vibrated = "vibrated": "vibrated", "vibrado";
        SelfConsolidating = "self_consolidating": "self-consolidating", "autocompactante";
        Sprayed = "sprayed": "sprayed and rolled", "proyectado y rodillado";
        Pressed = "pressed": "pressed by hand", "prensado a mano";
    }

    /// How a piece was kept in its first days.
    pub enum CureMethod {
        Covered = "covered": "covered", "cubierto";
        Wet = "wet": "kept wet", "húmedo";
        SelfCuring = "self_curing": "self-curing", "autocurado";
        Heat = "heat": "heated, covered and moist", "con calor, cubierto y húmedo";
    }

    /// What a piece is warmed with.
    pub enum HeatSource {
        Electric = "electric": "electric", "eléctrica";
        HotWater = "hot_water": "hot water", "agua caliente";
        Steam = "steam": "steam", "vapor";
        VentedBurner = "vented_burner": "burner vented to the open", "quemador con salida de humos";
        UnventedBurner = "unvented_burner": "unvented burner", "quemador sin salida de humos";
    }

    /// What shows on a face fresh from the form.
    pub enum DemouldMark {
        Clean = "clean": "clean", "limpia";
        Oil = "oil": "oil", "aceite";
        Wax = "wax": "wax", "cera";
        SealantMark = "sealant_mark": "sealant marks", "marcas de sellante";
        Shrinkage = "shrinkage": "shrinkage cracks", "fisuras de retracción";
        MapCracking = "map_cracking": "map cracking", "cuarteado";
        BugHoles = "bug_holes": "bug holes", "coqueras";
        Ghosting = "ghosting": "ghosting of fibre or backing", "transparencia de fibra o trasdós";
    }

    /// What kind of evidence a strength entry is; the first that exists counts.
    pub enum StrengthMethod {
        Cylinder = "cylinder": "cylinder break", "rotura de cilindro";
        Cube = "cube": "cube break", "rotura de cubo";
        Maturity = "maturity": "the mix's own maturity curve", "curva de madurez de la mezcla";
        TrialGrind = "trial_grind": "trial grind", "prueba de desbaste";
        AgeHistory = "age_history": "age and temperature against the shop's history", "edad y temperatura según el historial del taller";
        Rebound = "rebound": "rebound hammer", "esclerómetro";
        Scratch = "scratch": "scratch test", "prueba de rayado";
        Flexural = "flexural": "flexural break", "rotura a flexión";
    }

    /// What a trial grind showed.
    pub enum TrialResult {
        Shaved = "shaved": "grains shaved, none pulled", "granos cortados, ninguno arrancado";
        Pulled = "pulled": "grains pulled", "granos arrancados";
    }

    /// What a thermometer was in or on.
    pub enum Medium {
        Concrete = "concrete": "concrete", "hormigón";
        Air = "air": "air", "aire";
        Surface = "surface": "surface", "superficie";
    }
}

bodies! {
    /// A pour. The entry's `object` is the pour, its `pieces` what was cast.
    pub struct Pour {
        /// The code people use for the pour.
        pub code: Option<String>,
        /// The mix.
        pub mix: ObjectId,
        /// The batch, as marked.
        pub batch: String,
        /// Weights as batched, kilograms by name of material.
        pub weights_kg: Option<BTreeMap<String, f64>>,
        /// Water added beyond the batch, in litres.
        pub water_added_l: Option<f64>,
        /// Water/cement ratio by mass, as batched.
        pub water_cement: Option<f64>,
        /// Lots by name of material.
        pub lots: Option<BTreeMap<String, String>>,
        /// Best-before dates by name of material.
        pub lots_expire: Option<BTreeMap<String, chrono::NaiveDate>>,
        /// Dust control when powders were weighed and tipped.
        pub batching_dust: Option<DustControl>,
        /// Pozzolan by mass of cement, in per cent.
        pub pozzolan_pct: Option<f64>,
        /// Glass by mass of aggregate, in per cent.
        pub glass_pct: Option<f64>,
        /// Fibre by mass of mix, in per cent.
        pub fibre_pct: Option<f64>,
        /// Number of layers, face coat included.
        pub layers: Option<u32>,
        /// Thickness cast, in mm.
        pub thickness_mm: Option<f64>,
        /// From face coat to backing, in minutes.
        pub backing_after_min: Option<f64>,
        /// Shortest and longest time the mix allows from face coat to backing, in minutes.
        pub backing_window_min: Option<[f64; 2]>,
        /// Consolidation.
        pub consolidation: Option<Consolidation>,
        /// Steel and inserts.
        pub steel: Option<String>,
        /// Number of test specimens cast.
        pub specimens: Option<u32>,
        /// The witness piece retained.
        pub witness: Option<ObjectId>,
        /// Concrete temperature when placed, in °C.
        pub concrete_c: Option<f64>,
    }

    /// Initial cure, from `done` to `until`.
    pub struct InitialCure {
        /// How.
        pub method: CureMethod,
        /// Hottest concrete, in °C.
        pub peak_c: Option<f64>,
        /// Steepest rise, in °C per hour.
        pub rise_c_per_h: Option<f64>,
        /// Concrete minus room temperature before stripping, in kelvin.
        pub strip_difference_k: Option<f64>,
        /// Heat began after initial set.
        pub after_set: Option<bool>,
        /// What the piece or the room is warmed with.
        pub heat_source: Option<HeatSource>,
    }

    /// Out of the form.
    pub struct Demould {
        /// What shows on the face.
        pub face: Vec<DemouldMark>,
        /// Form material.
        pub form: Option<String>,
        /// Release used.
        pub release: Option<String>,
    }

    /// Evidence of strength.
    pub struct Strength {
        /// What kind.
        pub method: StrengthMethod,
        /// Result, in MPa: of the specimen for a break, as cylinders for a curve.
        pub result_mpa: Option<f64>,
        /// What a trial grind showed.
        pub trial: Option<TrialResult>,
        /// Grit of a trial grind.
        pub trial_grit: Option<f64>,
        /// Age of the specimen, in hours.
        pub age_h: Option<f64>,
        /// The specimen: size and mark, or where a trial was ground.
        pub specimen: Option<String>,
        /// Ratio of cube to cylinder strength where the shop knows its own. Default 1.25, the careful end.
        pub cube_per_cylinder: Option<f64>,
        /// The second mix of a vein or inlay was tested, not the main mix.
        pub vein: Option<bool>,
    }

    /// One reading of a series.
    pub struct Reading {
        /// Hours since `done`.
        pub after_h: f64,
        /// Temperature, in °C.
        pub temperature_c: f64,
    }

    /// Temperature of concrete, air or surface: a reading or a logger's series.
    pub struct Temperature {
        /// Of what.
        pub of: Medium,
        /// One reading, in °C.
        pub reading_c: Option<f64>,
        /// A series.
        pub series: Option<Vec<Reading>>,
        /// SHA-256 of the logger's file.
        pub file: Option<Hash>,
        /// Name of the logger.
        pub logger: Option<String>,
    }
}
