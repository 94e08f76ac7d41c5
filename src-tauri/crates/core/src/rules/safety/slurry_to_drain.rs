//! `slurry-to-drain`

use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "slurry-to-drain",
    title: text(
        "Slurry and wash water are collected, never let into the storm drain",
        "El lodo y el agua de lavado se recogen, nunca al desagüe pluvial",
    ),
    severity: Severity::Note,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "Slurry is as alkaline as wet cement and kills what lives in a stream; wash water is acid. Slurry sets in pipes, and dried slurry is silica dust.",
        "El lodo es tan alcalino como el cemento fresco y mata lo que vive en un arroyo; el agua de lavado es ácida. El lodo fragua en las tuberías, y seco es polvo de sílice.",
    ),
    remedy: text(
        "Collect it, let it settle, bring the water to the pH the local code asks for, and dispose of water and cake by that code. Take slurry up before it dries.",
        "Recogerlo, dejarlo decantar, llevar el agua al pH que pide la norma local y eliminar agua y torta según ella. Retirar el lodo antes de que seque.",
    ),
    // A reminder before the work. No record can show that it was heeded, so nothing stands against work done.
    looks: &[Look::Plan(&[Kind::GritPass, Kind::AcidWash, Kind::Neutralise, Kind::Rinse], remind)],
};

fn remind(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let dry = subject.read(view::grit_pass).is_some_and(|it| !it.wet);
    if dry { Vec::new() } else { vec![Hit::violated([], Vec::new())] }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::GateState;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let bench = Bench::poured();
        let dry = with(pass(100), json!({ "wet": false, "dust": "shroud" }));
        assert_eq!(bench.gate(&RULE, 50.0, "grit_pass", &dry), None);
        assert_eq!(bench.bare_gate(&RULE, 50.0, "seal_coat"), None);
    }

    #[test]
    pub(crate) fn violated() {
        let bench = Bench::poured();
        for (kind, body) in [("grit_pass", pass(100)), ("acid_wash", wash()), ("rinse", rinse())] {
            let gate = bench.gate(&RULE, 50.0, kind, &body).unwrap();
            assert_eq!((gate.severity, gate.state), (Severity::Note, GateState::Open), "{kind}");
        }
        let mut done = Bench::poured();
        done.step(50.0, "rinse", rinse());
        done.expect_clear(&RULE);
    }

    /// A pass of which nothing is known is taken as a wet one.
    #[test]
    pub(crate) fn cannot_tell() {
        assert!(Bench::poured().bare_gate(&RULE, 50.0, "grit_pass").is_some());
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        let body =
            json!({ "rule": RULE.code, "accepted_by": "Owner", "why": "the pit is emptied by licence" });
        let exception = bench.about(40.0, "exception", &[], body);
        assert_eq!(bench.bare_gate(&RULE, 50.0, "rinse").unwrap().state, GateState::Accepted(exception));
    }
}
