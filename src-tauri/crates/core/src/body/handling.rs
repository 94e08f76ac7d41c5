//! Storing, packing, loading, delivering, installing, custody.

use super::common::{Answer, Known};
use super::surface::DustControl;

choices! {
    /// How a piece stands or lies.
    pub enum Position {
        Flat = "flat": "flat", "tumbada";
        OnEdge = "on_edge": "on edge", "de canto";
    }

    /// What a piece is wrapped in.
    pub enum Wrap {
        None = "none": "none", "ninguno";
        Breathable = "breathable": "breathable", "transpirable";
        Film = "film": "plastic film", "película plástica";
    }

    /// Sealant at sink and tap.
    pub enum SealantClass {
        NeutralSilicone = "neutral_silicone": "neutral-cure silicone", "silicona neutra";
        AcidSilicone = "acid_silicone": "acid-cure silicone", "silicona ácida";
        OilPutty = "oil_putty": "oil-based plumber's putty", "masilla de fontanero al aceite";
        Hybrid = "hybrid": "hybrid polymer", "polímero híbrido";
        None = "none": "none", "ninguno";
    }
}

bodies! {
    /// Put in store.
    pub struct Storage {
        /// Condition.
        pub condition: String,
        /// How it stands.
        pub position: Position,
        /// On level supports.
        pub level_supports: Option<Answer>,
        /// Tied back by itself, to a rack rated for it.
        pub tied_back: Option<Answer>,
        /// The rack is rated for the load.
        pub rack_rated: Option<Answer>,
        /// Damage noted.
        pub damage: Option<String>,
        /// Wrap.
        pub wrap: Option<Wrap>,
    }

    /// Packed.
    pub struct Packing {
        /// Condition.
        pub condition: String,
        /// Wrap.
        pub wrap: Wrap,
        /// Corners and edges guarded.
        pub edges_guarded: Option<Answer>,
        /// Damage noted.
        pub damage: Option<String>,
    }

    /// Loaded.
    pub struct Loading {
        /// Condition.
        pub condition: String,
        /// How it stands.
        pub position: Position,
        /// Tied back by itself.
        pub tied_back: Option<Answer>,
        /// The frame is rated for the load.
        pub rack_rated: Option<Answer>,
        /// People who carried it.
        pub persons: Option<u32>,
        /// Lifting gear used.
        pub lifting_gear: Option<String>,
        /// Lifted with a suction lifter.
        pub suction: Option<Answer>,
        /// Suction lifter tried on this surface, with a safety sling.
        pub suction_tested: Option<Answer>,
        /// Strongback across cut-outs.
        pub strongback: Option<Answer>,
        /// Damage noted.
        pub damage: Option<String>,
    }

    /// Delivered.
    pub struct Delivery {
        /// Condition.
        pub condition: String,
        /// Who took it.
        pub taken_by: String,
        /// Damage noted.
        pub damage: Option<String>,
        /// People who carried it.
        pub persons: Option<u32>,
        /// Lifting gear used.
        pub lifting_gear: Option<String>,
        /// Lifted with a suction lifter.
        pub suction: Option<Answer>,
    }

    /// Installed.
    pub struct Install {
        /// Base level and supported.
        pub base_level: Answer,
        /// Seams, in words.
        pub seams: Option<String>,
        /// Adhesive.
        pub adhesive: Option<String>,
        /// Lot of the adhesive.
        pub adhesive_lot: Option<String>,
        /// Best-before date of the adhesive.
        pub adhesive_expires: Option<chrono::NaiveDate>,
        /// Gap to walls, in mm.
        pub gap_mm: Option<f64>,
        /// Longest unsupported span, in mm.
        pub span_mm: Option<f64>,
        /// Longest overhang, in mm.
        pub overhang_mm: Option<f64>,
        /// Sealant at sink and tap.
        pub sealant: Option<SealantClass>,
        /// Dust control when it was cut or drilled in place.
        pub cut_dust: Option<DustControl>,
        /// Flux or a tiler's acid cleaner came on the piece.
        pub acid_or_flux: Option<Answer>,
        /// People who carried it.
        pub persons: Option<u32>,
        /// Lifting gear used.
        pub lifting_gear: Option<String>,
        /// Lifted with a suction lifter.
        pub suction: Option<Answer>,
    }

    /// Left in somebody's care, from `done` to `until`.
    pub struct InCareOf {
        /// Whose care.
        pub whom: String,
        /// Covered with.
        pub cover: Option<String>,
        /// Other trades at work there; `unknown` if nobody can say.
        pub other_trades: Option<Known<bool>>,
    }
}
