//! The rules themselves.

use trowelogue_core::rules::{self, Rule};
use trowelogue_core::text::{Text, text};

use crate::dto::{Lang, RuleText};
use crate::say::{fill, list};
use crate::{ApiError, ErrorCode, Result};

const NO_RULE: Text = text("There is no rule {code}.", "No existe la regla {code}.");
const CODES: Text = text("The rules: {codes}", "Las reglas: {codes}");

/// Every rule, in the order of the reference page.
pub fn rules(lang: Lang) -> Vec<RuleText> {
    rules::ALL.iter().map(|rule| rule_text(rule, lang)).collect()
}

/// The rule with this code.
///
/// # Errors
/// There is none.
pub fn rule(code: &str, lang: Lang) -> Result<RuleText> {
    rules::find(code).map(|rule| rule_text(rule, lang)).ok_or_else(|| {
        let codes = list(rules::ALL.iter().map(|rule| rule.code), rules::ALL.len());
        let quoted = format!("{code:?}");
        ApiError::new(ErrorCode::Unknown, fill(NO_RULE, lang.into(), &[("code", &quoted)]))
            .field("code")
            .remedy(fill(CODES, lang.into(), &[("codes", &codes)]))
    })
}

pub(crate) fn rule_text(rule: &Rule, lang: Lang) -> RuleText {
    let words = |it: Text| it.get(lang.into()).to_owned();
    RuleText {
        code: rule.code.to_owned(),
        title: words(rule.title),
        severity: rule.severity.into(),
        severity_text: words(rule.severity.label()),
        safety: rule.safety,
        why: words(rule.why),
        basis: rule.basis.words(lang.into()),
        remedy: words(rule.remedy),
    }
}
