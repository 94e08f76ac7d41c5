//! What is agreed and prepared before the pour.

use chrono::NaiveDate;

use super::common::Answer;
use crate::id::{Hash, ObjectId};

bodies! {
    /// A quote: options by route, and what is excluded.
    pub struct Quote {
        /// Options offered.
        pub options: Vec<QuoteOption>,
        /// What is not in it.
        pub exclusions: Option<Vec<String>>,
        /// Valid until.
        pub valid_until: Option<NaiveDate>,
    }

    /// One option of a quote.
    pub struct QuoteOption {
        /// Code of the route.
        pub route: String,
        /// Price in the shop's currency.
        pub price: Option<f64>,
        /// What is in it.
        pub covers: Option<String>,
    }

    /// A look at the site before anything is drawn.
    pub struct SiteSurvey {
        /// Access for the pieces.
        pub access: Option<String>,
        /// Bases level and strong.
        pub base_level: Option<Answer>,
        /// Longest unsupported span, in mm.
        pub span_mm: Option<f64>,
        /// Longest overhang, in mm.
        pub overhang_mm: Option<f64>,
        /// Cut-outs and appliances.
        pub appliances: Option<String>,
    }

    /// A drawing approved by the client.
    pub struct DrawingApproved {
        /// Revision.
        pub revision: String,
        /// Who approved it.
        pub approved_by: String,
        /// SHA-256 of the file.
        pub file: Option<Hash>,
    }

    /// Control samples agreed with the client.
    pub struct SampleAgreed {
        /// Names of the samples, light / middle / dark.
        pub samples: Vec<String>,
        /// Who agreed.
        pub agreed_by: String,
        /// Viewing distance, in mm.
        pub distance_mm: Option<f64>,
        /// Light it is judged in.
        pub light: Option<String>,
        /// What is inherent and no fault: hairlines, pinholes, tone, patina.
        pub inherent: Option<String>,
        /// Acid on stone that dissolves was shown and agreed.
        pub acid_on_soft_stone: Option<bool>,
        /// It was signed.
        pub signed: Option<bool>,
    }

    /// A change agreed with the client.
    pub struct ChangeAgreed {
        /// What changes.
        pub change: String,
        /// Who agreed.
        pub agreed_by: String,
        /// Price of the change in the shop's currency.
        pub price: Option<f64>,
    }

    /// The form, ready for the pour.
    pub struct FormPrepared {
        /// Material and texture.
        pub material: String,
        /// Joints sealed.
        pub joints_sealed: Option<Answer>,
        /// Joint sealant cured before the pour.
        pub sealant_cured: Option<Answer>,
        /// Release or wax.
        pub release: Option<ObjectId>,
        /// Lot of the release.
        pub release_lot: Option<String>,
        /// Release or wax cured or buffed dry before the pour.
        pub release_cured: Option<Answer>,
    }
}
