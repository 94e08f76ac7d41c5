//! Words in two languages. Every sentence a person reads is declared here or beside the thing it names.

use serde::{Deserialize, Serialize};

/// A language of screen and paper.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Default,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "lowercase")]
pub enum Lang {
    /// English; US or British spelling follows the units setting.
    #[default]
    En,
    /// Spanish.
    Es,
}

/// One text in every language the product speaks. A missing language is a compile error.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Text {
    /// English, US spelling.
    pub en: &'static str,
    /// Spanish.
    pub es: &'static str,
}

impl Text {
    /// The text in `lang`.
    pub const fn get(self, lang: Lang) -> &'static str {
        match lang {
            Lang::En => self.en,
            Lang::Es => self.es,
        }
    }
}

/// Declares a text: `text("cut out", "corte completo")`.
pub const fn text(en: &'static str, es: &'static str) -> Text {
    Text { en, es }
}
