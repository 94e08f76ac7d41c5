//! Small types that many screens share.

use trowelogue_core::{rules, text, units};

use super::Picture;

dto! {
    /// A language of screen and paper.
    #[derive(Copy, Eq, Default)]
    #[serde(rename_all = "snake_case")]
    pub enum Lang {
        /// English.
        #[default]
        En,
        /// Spanish.
        Es,
    }

    /// The units a person reads.
    #[derive(Copy, Eq, Default)]
    #[serde(rename_all = "snake_case")]
    pub enum UnitsChoice {
        /// Metric.
        #[default]
        Si,
        /// US customary.
        Us,
    }

    /// Size of a sheet of paper.
    #[derive(Copy, Eq, Default)]
    #[serde(rename_all = "snake_case")]
    pub enum PaperSize {
        /// 210 × 297 mm.
        #[default]
        A4,
        /// 8.5 × 11 in.
        Letter,
    }

    /// Light or dark screen.
    #[derive(Copy, Eq, Default)]
    #[serde(rename_all = "snake_case")]
    pub enum Theme {
        /// As the system has it.
        #[default]
        System,
        /// Light, for the sun.
        Light,
        /// Dark.
        Dark,
    }

    /// A moment, to show and to count towards.
    #[derive(Eq)]
    pub struct When {
        /// RFC 3339 with offset.
        pub iso: String,
        /// As people read it.
        pub text: String,
        /// Milliseconds since 1970-01-01 UTC.
        #[ts(type = "number")]
        pub ms: i64,
    }

    /// A label and its value, both as shown.
    #[derive(Eq)]
    pub struct Fact {
        /// What it is.
        pub label: String,
        /// The value with its unit.
        pub value: String,
    }

    /// One value a person may choose.
    #[derive(Eq)]
    pub struct Choice {
        /// The value as it is sent back.
        pub value: String,
        /// What a person reads.
        pub label: String,
        /// A few more words.
        pub hint: Option<String>,
    }

    /// How much a finding weighs.
    #[derive(Copy, Eq, PartialOrd, Ord)]
    #[serde(rename_all = "snake_case")]
    pub enum Severity {
        /// Forbids the planned step.
        Stop,
        /// Look before going on.
        Caution,
        /// Good to know.
        Note,
    }

    /// A piece, as far as a list needs it.
    pub struct PieceRef {
        /// Its id.
        pub id: String,
        /// The code people use.
        pub code: String,
        /// Its name.
        pub name: String,
        /// Its plan outline to scale.
        pub outline: Picture,
    }
}

impl From<Lang> for text::Lang {
    fn from(lang: Lang) -> Self {
        match lang {
            Lang::En => Self::En,
            Lang::Es => Self::Es,
        }
    }
}

impl From<UnitsChoice> for units::System {
    fn from(units: UnitsChoice) -> Self {
        match units {
            UnitsChoice::Si => Self::Metric,
            UnitsChoice::Us => Self::Us,
        }
    }
}

impl From<rules::Severity> for Severity {
    fn from(severity: rules::Severity) -> Self {
        match severity {
            rules::Severity::Stop => Self::Stop,
            rules::Severity::Caution => Self::Caution,
            rules::Severity::Note => Self::Note,
        }
    }
}
