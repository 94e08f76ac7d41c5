//! `isocyanate-unconfirmed`

use super::confirm::unconfirmed;
use crate::body::after::SafetyTopic;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "isocyanate-unconfirmed",
    title: text(
        "Before the first isocyanate of a shift its respirator is confirmed",
        "Antes del primer isocianato del turno se confirma su protección respiratoria",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Unconfirmed(text(
        "statement EUH204; training for users under REACH, annex XVII, entry 74",
        "indicación EUH204; formación de usuarios según REACH, anexo XVII, entrada 74",
    )),
    why: text(
        "Isocyanates make lungs and skin allergic, often without warning and for life; after that the smallest trace can bring on asthma. Spray carries them through the whole room.",
        "Los isocianatos vuelven alérgicos pulmones y piel, a menudo sin aviso y para siempre; después basta una traza para un ataque de asma. La pulverización los reparte por todo el local.",
    ),
    remedy: text(
        "Confirm it by name before you mix: the respirator its safety data sheet asks for, gloves, eyes and sleeves; when spraying everyone else out. Local codes may ask for training first.",
        "Confirmarlo con nombre antes de mezclar: la protección respiratoria que pide su ficha de seguridad, guantes, ojos y mangas; al pulverizar los demás fuera. La norma local puede exigir formación previa.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    unconfirmed(SafetyTopic::Isocyanate, past, subject)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.confirm(199.0, &["isocyanate"]);
        bench.step(200.0, "seal_coat", film_coat(1));
        bench.step(204.0, "seal_coat", film_coat(2));
        bench.step(400.0, "seal_coat", coat(1));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        bench.confirm(199.0, &["acid", "solvent"]);
        let coated = bench.step(200.0, "seal_coat", film_coat(1));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let body = with(coat(1), json!({ "product": id("not in the shop") }));
        let coated = bench.step(200.0, "seal_coat", body);
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.0, "seal_coat", film_coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_coat_asks() {
        let bench = Bench::poured();
        assert_eq!(bench.gate(&RULE, 200.0, "seal_coat", &film_coat(1)).unwrap().state, GateState::Confirm);
    }
}
