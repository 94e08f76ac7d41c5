//! Papers: what is asked for, what was made.

use super::{Lang, PaperSize, UnitsChoice};

dto! {
    /// A kind of paper.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum PaperKind {
        /// The process record.
        Record,
        /// The care sheet.
        Care,
        /// Labels with a code, several to a sheet.
        Labels,
    }

    /// A paper asked for: of a piece, or (care sheets, labels) of a job.
    #[derive(Eq)]
    pub struct PaperAsk {
        /// The kind.
        pub kind: PaperKind,
        /// The piece, by id or code.
        pub piece: Option<String>,
        /// The job, by id or code.
        pub job: Option<String>,
        /// Its language.
        pub lang: Lang,
        /// Its size.
        pub paper: PaperSize,
        /// Its units.
        pub units: UnitsChoice,
    }

    /// A paper made.
    #[derive(Eq)]
    pub struct PaperMade {
        /// The file.
        pub path: String,
        /// Its name.
        pub name: String,
        /// Bytes.
        #[ts(type = "number")]
        pub bytes: u64,
        /// It carries a seal signed by this device.
        pub sealed: bool,
        /// All of it in a sentence.
        pub say: String,
    }
}
