//! `grinder-noise`

use crate::body::setup::Power;
use crate::rules::grinding::power_of;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "grinder-noise",
    title: text("Ears are covered at a grinder", "Oídos protegidos junto a una amoladora"),
    severity: Severity::Note,
    safety: true,
    basis: Basis::Published(text(
        "Directive 2003/10/EC, article 3: action values 80 and 85 dB(A), limit 87 dB(A)",
        "Directiva 2003/10/CE, artículo 3: valores de acción 80 y 85 dB(A), límite 87 dB(A)",
    )),
    why: text(
        "A grinder on concrete runs at 95 to 100 dB(A): a quarter of an hour of it is a whole day's share. What the ear loses does not come back.",
        "Una amoladora sobre hormigón da de 95 a 100 dB(A): un cuarto de hora es la parte de todo un día. Lo que el oído pierde no vuelve.",
    ),
    remedy: text(
        "Muffs or plugs for everybody near, not only at the tool. Local law governs.",
        "Orejeras o tapones para todos los cercanos, no solo para quien la lleva. Rige la ley local.",
    ),
    // A reminder before the work. No record can show that it was heeded, so nothing stands against work done.
    looks: &[Look::Plan(&[Kind::GritPass], remind)],
};

fn remind(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let pass = subject.read(view::grit_pass);
    let by_hand = pass.is_some_and(|pass| power_of(past.case, pass) == Some(Power::Hand));
    if by_hand { Vec::new() } else { vec![Hit::violated([], Vec::new())] }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::GateState;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let bench = Bench::poured();
        assert_eq!(bench.gate(&RULE, 50.0, "grit_pass", &hand_paper(600)), None);
        assert_eq!(bench.bare_gate(&RULE, 50.0, "rinse"), None);
    }

    #[test]
    pub(crate) fn violated() {
        let bench = Bench::poured();
        let gate = bench.gate(&RULE, 50.0, "grit_pass", &pass(100)).unwrap();
        assert_eq!((gate.severity, gate.state), (Severity::Note, GateState::Open));
        let mut done = Bench::poured();
        done.step(50.0, "grit_pass", pass(100));
        done.expect_clear(&RULE);
    }

    /// A pass with an unknown tool is taken as a grinder's.
    #[test]
    pub(crate) fn cannot_tell() {
        assert!(Bench::poured().bare_gate(&RULE, 50.0, "grit_pass").is_some());
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        let body = json!({ "rule": RULE.code, "accepted_by": "Owner", "why": "everybody wears muffs" });
        let exception = bench.about(40.0, "exception", &[], body);
        assert_eq!(bench.bare_gate(&RULE, 50.0, "grit_pass").unwrap().state, GateState::Accepted(exception));
    }
}
