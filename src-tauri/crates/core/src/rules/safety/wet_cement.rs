//! `wet-cement`

use crate::body::setup::MaterialClass;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "wet-cement",
    title: text("Wet cement stays off the skin", "El cemento fresco no toca la piel"),
    severity: Severity::Caution,
    safety: true,
    basis: Basis::Published(text(
        "H315, H317 and H318 on the safety data sheet of cement",
        "H315, H317 y H318 en la ficha de datos de seguridad del cemento",
    )),
    why: text(
        "Wet cement is as alkaline as drain cleaner. It burns without pain at first, under a glove or a wet knee, and the burn is deep when it is felt; chromate in it makes skin allergic for life.",
        "El cemento fresco es tan alcalino como un desatascador. Quema sin dolor al principio, bajo un guante o una rodilla mojada, y la quemadura es honda cuando se nota; el cromato vuelve alérgica la piel de por vida.",
    ),
    remedy: text(
        "Waterproof gloves and knees, eyes covered. Wash off at once with plenty of water, change what is soaked. In the eye: rinse at once and go on rinsing on the way to care. The safety data sheet governs.",
        "Guantes y rodilleras impermeables, ojos protegidos. Lavar al momento con mucha agua y cambiar lo empapado. En el ojo: enjuagar al momento y seguir de camino al médico. Manda la ficha de seguridad.",
    ),
    // A reminder before the work. No record can show that it was heeded, so nothing stands against work done.
    looks: &[Look::Plan(&[Kind::Pour, Kind::Trowel, Kind::Fill], remind)],
};

fn remind(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let resin = subject.read(view::fill).is_some_and(|it| it.material != MaterialClass::CementFill);
    if resin { Vec::new() } else { vec![Hit::violated([], Vec::new())] }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::GateState;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let bench = Bench::poured();
        let resin = with(cement_fill(), json!({ "material": "resin_fill" }));
        assert_eq!(bench.gate(&RULE, 50.0, "fill", &resin), None);
        assert_eq!(bench.bare_gate(&RULE, 50.0, "rinse"), None);
    }

    #[test]
    pub(crate) fn violated() {
        let bench = Bench::poured();
        let gate = bench.gate(&RULE, 50.0, "fill", &cement_fill()).unwrap();
        assert_eq!(
            (gate.severity, gate.state),
            (Severity::Caution, GateState::Open),
            "it keeps nobody from work"
        );
        let mut done = Bench::poured();
        done.step(50.0, "fill", cement_fill());
        done.expect_clear(&RULE);
    }

    /// A fill of unknown material is taken as cement.
    #[test]
    pub(crate) fn cannot_tell() {
        for kind in ["fill", "trowel", "pour"] {
            assert!(Bench::poured().bare_gate(&RULE, 50.0, kind).is_some(), "{kind}");
        }
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        let body = json!({ "rule": RULE.code, "accepted_by": "Owner", "why": "everybody was told" });
        let exception = bench.about(40.0, "exception", &[], body);
        assert_eq!(bench.bare_gate(&RULE, 50.0, "fill").unwrap().state, GateState::Accepted(exception));
    }
}
