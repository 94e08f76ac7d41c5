//! `fluoride-cleaner`

use crate::body::setup::MaterialClass;
use crate::body::surface::{Acid, CleanAgent};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "fluoride-cleaner",
    title: text(
        "No product with hydrofluoric acid or bifluoride",
        "Ningún producto con ácido fluorhídrico o bifluoruro",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Published(text(
        "H301, H311, H314 and H331 on the safety data sheet of hydrofluoric acid",
        "H301, H311, H314 y H331 en la ficha de datos de seguridad del ácido fluorhídrico",
    )),
    why: text(
        "It goes through skin without much pain and binds the calcium of the blood: a splash the size of a hand can kill hours later. Gloves made for other acids do not stop it.",
        "Atraviesa la piel casi sin dolor y fija el calcio de la sangre: una salpicadura del tamaño de una mano puede matar horas después. Los guantes para otros ácidos no lo detienen.",
    ),
    remedy: text(
        "Do not use it. Whoever was splashed, however little: rinse at once with plenty of water, call the emergency number, go to hospital with the safety data sheet, even without pain. Take another cleaner.",
        "No usarlo. Si salpica a alguien, por poco que sea: enjuagar al momento con mucha agua, llamar a emergencias e ir al hospital con la ficha de seguridad, aunque no duela. Tomar otro limpiador.",
    ),
    looks: &[Look::Step(&[Kind::Clean, Kind::AcidWash], judge)],
};

const PRODUCT: Text = text("product", "producto");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let clean = subject.read(view::clean);
    let wash = subject.read(view::acid_wash);
    let named = clean.and_then(|it| it.product).or(wash.and_then(|it| it.product));
    let product = named.and_then(|id| past.case.product(id, subject.at));
    let fluoride = product.is_some_and(|it| it.class == MaterialClass::FluorideCleaner);
    if fluoride || clean.is_some_and(|it| it.agent == CleanAgent::Fluoride) {
        let what = product.map_or(word(PRODUCT, CleanAgent::Fluoride.label()), |it| said(PRODUCT, &it.name));
        return vec![Hit::violated([], vec![what])];
    }
    // An acid that is none of the usual ones may be this one.
    let other = wash.is_some_and(|it| it.acid == Acid::Other) && product.is_none();
    let unknown = named.is_some() && product.is_none();
    if other || unknown { vec![Hit::cannot_tell([], vec![missing(PRODUCT)])] } else { Vec::new() }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.product("brick acid", json!({ "class": "phosphoric_acid" }));
        bench.step(100.0, "acid_wash", wash());
        bench.step(101.0, "acid_wash", with(wash(), json!({ "acid": "other", "product": id("brick acid") })));
        bench.step(102.0, "clean", json!({ "agent": "neutral_cleaner" }));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        bench.product("rust remover", json!({ "class": "fluoride_cleaner" }));
        let agent = bench.step(100.0, "clean", json!({ "agent": "fluoride" }));
        let product =
            bench.step(101.0, "clean", json!({ "agent": "acid_cleaner", "product": id("rust remover") }));
        let washed = bench.step(102.0, "acid_wash", with(wash(), json!({ "product": id("rust remover") })));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[agent], &[product], &[washed]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let other = bench.step(100.0, "acid_wash", with(wash(), json!({ "acid": "other" })));
        let stranger = json!({ "agent": "water", "product": id("not in the shop") });
        let cleaned = bench.step(101.0, "clean", stranger);
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[other], &[cleaned]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "clean", json!({ "agent": "fluoride" }));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_one_is_stopped() {
        let gate = Bench::poured().gate(&RULE, 100.0, "clean", &json!({ "agent": "fluoride" })).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
    }
}
