//! Work on the face: cleaning, washing, grinding, filling.

use super::common::{Answer, Known};
use super::setup::{MaterialClass, Power};
use crate::id::ObjectId;

choices! {
    /// What a face is cleaned with.
    pub enum CleanAgent {
        Water = "water": "water", "agua";
        NeutralCleaner = "neutral_cleaner": "neutral cleaner", "limpiador neutro";
        AlkalineDegreaser = "alkaline_degreaser": "alkaline degreaser", "desengrasante alcalino";
        Hypochlorite = "hypochlorite": "chlorine bleach", "lejía";
        Solvent = "solvent": "solvent", "disolvente";
        Fluoride = "fluoride": "cleaner with fluoride", "limpiador con fluoruro";
        AcidCleaner = "acid_cleaner": "tiler's acid cleaner", "limpiador ácido de alicatador";
    }

    /// The acid of a wash.
    pub enum Acid {
        Hydrochloric = "hydrochloric": "hydrochloric (muriatic)", "clorhídrico (salfumán)";
        Sulfamic = "sulfamic": "sulfamic", "sulfámico";
        Phosphoric = "phosphoric": "phosphoric", "fosfórico";
        Citric = "citric": "citric", "cítrico";
        Other = "other": "another, by its sheet", "otro, según su ficha";
    }

    /// How much cement skin a wash took.
    pub enum CreamLost {
        None = "none": "none", "ninguna";
        Trace = "trace": "a trace", "apenas";
        Visible = "visible": "visible", "visible";
    }

    /// What an acid is neutralised with.
    pub enum Neutraliser {
        Ammonia = "ammonia": "household ammonia", "amoníaco doméstico";
        Bicarbonate = "bicarbonate": "sodium bicarbonate", "bicarbonato sódico";
    }

    /// What a pH was read of.
    pub enum PhOf {
        FinalRinse = "final_rinse": "final rinse on the face", "último enjuague sobre la cara";
        Surface = "surface": "surface", "superficie";
        RinseWater = "rinse_water": "rinse water from the tap", "agua de enjuague del grifo";
    }

    /// How a pH was read.
    pub enum PhMethod {
        Paper = "paper": "pH paper", "papel de pH";
        Meter = "meter": "meter", "medidor";
    }

    /// The scale a grit number belongs to. A bare number is ambiguous by up to 1.5 times in size.
    pub enum GritScale {
        Pad = "pad": "pad number", "número de disco";
        Mesh = "mesh": "mesh", "malla";
        P = "p": "FEPA P", "FEPA P";
        Cami = "cami": "CAMI", "CAMI";
    }

    /// What holds the abrasive.
    pub enum Bond {
        Metal = "metal": "metal", "metálica";
        CupWheel = "cup_wheel": "cup wheel", "muela de copa";
        Hybrid = "hybrid": "hybrid", "híbrida";
        Resin = "resin": "resin", "resina";
        Brush = "brush": "diamond brush", "cepillo de diamante";
        HandPad = "hand_pad": "bonded hand pad", "taco de mano";
        Paper = "paper": "wet-dry paper", "lija de agua";
        NonWoven = "non_woven": "non-woven pad", "fibra no tejida";
    }

    /// How a pass ended.
    pub enum PassResult {
        CutOut = "cut_out": "cut out", "grano agotado";
        ScratchesLeft = "scratches_left": "scratches left", "quedan rayas";
        Chatter = "chatter": "chatter marks", "marcas de vibración";
        Plucking = "plucking": "plucking", "arranque de granos";
        NotCutting = "not_cutting": "not cutting (glazed)", "no corta (embotado)";
    }

    /// What a face shows.
    pub enum Exposure {
        Cream = "cream": "cream", "pasta";
        Sand = "sand": "sand", "arena";
        SmallStone = "small_stone": "small stone", "piedra pequeña";
        Stone = "stone": "stone", "piedra";
    }

    /// How the stone of a ground face stands to the paste round it.
    pub enum StoneState {
        Flush = "flush": "flush with the paste", "a ras de la pasta";
        Dished = "dished": "dished below the paste", "rehundida bajo la pasta";
        Pulled = "pulled": "pulled out", "arrancada";
    }

    /// What keeps dust out of the air.
    pub enum DustControl {
        Water = "water": "water at the tool", "agua en la herramienta";
        Shroud = "shroud": "shroud and extraction", "campana y aspiración";
        None = "none": "none", "ninguno";
    }

    /// How dust and slurry were cleaned up.
    pub enum Cleanup {
        Wet = "wet": "taken up wet", "recogido en húmedo";
        Vacuum = "vacuum": "vacuum with a fine filter", "aspiradora con filtro fino";
        Swept = "swept": "swept dry", "barrido en seco";
        Blown = "blown": "compressed air", "aire comprimido";
        DriedSlurry = "dried_slurry": "slurry scraped up dry", "lodo raspado en seco";
    }

    /// What stands behind the abrasive.
    pub enum Backer {
        Rigid = "rigid": "rigid", "rígido";
        Flexible = "flexible": "flexible", "flexible";
    }

    /// How a fill was put in.
    pub enum FillMethod {
        Slurry = "slurry": "slurry worked in", "lechada frotada";
        Spot = "spot": "hole by hole", "hueco a hueco";
        Backfill = "backfill": "backfill of an open texture", "relleno de textura abierta";
        Grout = "grout": "grout coat", "emboquillado general";
    }
}

bodies! {
    /// A wash with water or a cleaner.
    pub struct Clean {
        /// What with.
        pub agent: CleanAgent,
        /// What pad.
        pub pad: Option<String>,
        /// The product, if it is one of the shop's.
        pub product: Option<ObjectId>,
        /// Rinsed, and buckets and sprayer changed, before anything else was used.
        pub rinsed_and_changed: Option<Answer>,
    }

    /// Colour on the hardened face.
    pub struct Colour {
        /// The product.
        pub product: ObjectId,
        /// Lot.
        pub lot: String,
        /// Best-before date of the lot.
        pub expires: Option<chrono::NaiveDate>,
        /// Parts of water to one part of product.
        pub water_parts: Option<f64>,
        /// Residue taken off.
        pub residue_removed: Option<Answer>,
    }

    /// A trial on a spot that will not show.
    pub struct TrialSpot {
        /// Of which step.
        pub of: String,
        /// It looked as agreed.
        pub good: Answer,
        /// Where.
        pub at: Option<String>,
    }

    /// A wash with acid.
    pub struct AcidWash {
        /// The acid.
        pub acid: Acid,
        /// Acid in the concentrate by mass, in per cent; `unknown` if the label does not say.
        pub concentrate_pct: Known<f64>,
        /// Parts of water.
        pub water_parts: f64,
        /// Parts of concentrate.
        pub acid_parts: f64,
        /// Cement skin lost.
        pub cream_lost: CreamLost,
        /// Dwell, in minutes.
        pub dwell_min: Option<f64>,
        /// Passes.
        pub passes: Option<u32>,
        /// Face pre-wetted and never let dry.
        pub pre_wetted: Option<Answer>,
        /// Metal masked.
        pub metal_masked: Option<Answer>,
        /// Tried on a spot first.
        pub trial_spot: Option<Answer>,
        /// The product.
        pub product: Option<ObjectId>,
        /// Lot.
        pub lot: Option<String>,
    }

    /// A rinse.
    pub struct Rinse {
        /// Standing water taken off.
        pub standing_water_removed: Answer,
        /// How many times.
        pub times: Option<u32>,
    }

    /// Neutralising what acid is left.
    pub struct Neutralise {
        /// What with.
        pub agent: Neutraliser,
        /// Parts of water.
        pub water_parts: f64,
        /// Parts of the agent, by volume.
        pub agent_parts: f64,
        /// Ammonia in the bottle by mass, in per cent.
        pub concentrate_pct: Option<f64>,
        /// Dwell, in minutes.
        pub dwell_min: Option<f64>,
    }

    /// A pH reading.
    pub struct PhReading {
        /// The value.
        pub ph: f64,
        /// Of what.
        pub of: PhOf,
        /// How.
        pub method: PhMethod,
    }

    /// Grinding a region once with one grit.
    pub struct GritPass {
        /// The number.
        pub grit: f64,
        /// The scale it belongs to.
        pub scale: GritScale,
        /// What holds the abrasive.
        pub bond: Bond,
        /// With water at the tool.
        pub wet: bool,
        /// How it ended.
        pub result: PassResult,
        /// The tool.
        pub tool: Option<ObjectId>,
        /// What drives the tool.
        pub power: Option<Power>,
        /// On a GFCI / RCD.
        pub rcd: Option<Answer>,
        /// Dust control.
        pub dust: Option<DustControl>,
        /// How dust and slurry were cleaned up.
        pub cleanup: Option<Cleanup>,
        /// Turns per minute.
        pub speed_rpm: Option<f64>,
        /// Minutes at the tool.
        pub minutes_min: Option<f64>,
        /// Area, in m².
        pub area_m2: Option<f64>,
        /// Backer.
        pub backer: Option<Backer>,
        /// What the face shows now.
        pub exposure: Option<Exposure>,
        /// How the stone stands to the paste.
        pub stone: Option<StoneState>,
        /// As the agreed sample.
        pub as_sample: Option<Answer>,
        /// Grinding again on purpose after damage or a miss.
        pub rework: Option<bool>,
    }

    /// Flushing loose grains off face and pad.
    pub struct Flush {
        /// Pad cleaned or changed.
        pub pad_cleaned: Answer,
        /// How dust and slurry were cleaned up.
        pub cleanup: Option<Cleanup>,
    }

    /// A place on the plan of a piece.
    pub struct Spot {
        /// From the left, in mm.
        pub x_mm: f64,
        /// From the front, in mm.
        pub y_mm: f64,
        /// Size, in mm.
        pub size_mm: Option<f64>,
    }

    /// Filling voids.
    pub struct Fill {
        /// Where: the whole region, or spots.
        pub at: Option<Vec<Spot>>,
        /// Material class.
        pub material: MaterialClass,
        /// The product.
        pub product: Option<ObjectId>,
        /// Lot.
        pub lot: String,
        /// Best-before date of the lot.
        pub expires: Option<chrono::NaiveDate>,
        /// How.
        pub method: FillMethod,
        /// Number of holes.
        pub count: Option<u32>,
        /// Area, in m².
        pub area_m2: Option<f64>,
        /// Colour of the fill.
        pub tone: Option<String>,
    }

    /// Trowelling a cast-up face.
    pub struct Trowel {
        /// Passes.
        pub passes: Option<u32>,
        /// Tool in words.
        pub tool: Option<String>,
    }

    /// Stripping or abrading an old coat.
    pub struct Strip {
        /// How, in words.
        pub method: String,
        /// Residue removed.
        pub residue_removed: Answer,
        /// Grit used, if abraded.
        pub grit: Option<f64>,
        /// Scale of the grit.
        pub scale: Option<GritScale>,
        /// What drives the tool.
        pub power: Option<Power>,
        /// With water at the tool.
        pub wet: Option<bool>,
        /// Dust control.
        pub dust: Option<DustControl>,
    }
}
