//! `dry-grinding`

use crate::body::setup::Power;
use crate::body::surface::DustControl;
use crate::rules::grinding::power_of;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "dry-grinding",
    title: text("No dry grinding without shroud and extraction", "Nada de desbaste en seco sin campana y aspiración"),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Unconfirmed("29 CFR 1926.1153 Table 1 (construction sites); in a shop 29 CFR 1910.1053 asks for an exposure assessment"),
    why: text(
        "Dry grinding frees crystalline silica too fine to see. It scars the lungs for good, and nobody feels it on the day.",
        "El desbaste en seco libera sílice cristalina invisible. Daña los pulmones para siempre y ese día nadie lo nota.",
    ),
    remedy: text(
        "Stop. Water at the tool, or shroud and extraction that fit it, and the respirator that local rules ask for. No sweeping, no compressed air on the dust that is there.",
        "Parar. Agua en la herramienta, o campana y aspiración adecuadas, y la protección respiratoria que pidan las normas locales. No barrer ni soplar el polvo que ya hay.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const CONTROL: Text = text("dust control", "control del polvo");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(pass) = subject.read(view::grit_pass) else { return Vec::new() };
    if pass.wet || power_of(past.case, pass) == Some(Power::Hand) {
        return Vec::new();
    }
    match pass.dust {
        Some(DustControl::Shroud) => Vec::new(),
        Some(other) => vec![Hit::violated([], vec![word(CONTROL, other.label())])],
        None => vec![Hit::cannot_tell([], vec![missing(CONTROL)])],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn dry(more: serde_json::Value) -> serde_json::Value {
        let mut body = with(pass(100), json!({ "wet": false }));
        body.as_object_mut().unwrap().remove("dust");
        with(body, more)
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", pass(50));
        bench.step(101.0, "grit_pass", dry(json!({ "dust": "shroud" })));
        bench.expect_clear(&RULE);
        let mut hand = Bench::poured();
        hand.step(100.0, "grit_pass", dry(json!({ "bond": "paper", "power": "hand" })));
        hand.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let pass = bench.step(100.0, "grit_pass", dry(json!({ "dust": "none" })));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[pass]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let pass = bench.step(100.0, "grit_pass", dry(json!({})));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[pass]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", dry(json!({ "dust": "none" })));
        bench.expect_accepted(&RULE);
    }
}
