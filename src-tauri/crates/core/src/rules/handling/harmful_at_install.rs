//! `harmful-at-install`

use crate::body::handling::SealantClass;
use crate::body::surface::CleanAgent;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "harmful-at-install",
    title: text(
        "No oil putty, flux, acid-cure silicone or acid cleaner on a piece",
        "Ni masilla al aceite, ni fundente, ni silicona ácida, ni limpiador ácido sobre una pieza",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Oil from putty creeps into the pores as a dark ring round the sink. Flux and a tiler's cleaner are acids, and acid-cure silicone gives off vinegar: each etches the face and lets go of it.",
        "El aceite de la masilla entra en los poros y deja un cerco oscuro junto al fregadero. El fundente y el limpiador de alicatador son ácidos, y la silicona ácida suelta vinagre: graban la cara y se despegan.",
    ),
    remedy: text(
        "Use neutral-cure silicone or a hybrid at sink and tap, keep soldering and tile cleaning off the piece, cover it while others work, and tell the other trades in writing. What came on it is rinsed off at once.",
        "Usar silicona neutra o híbrido en fregadero y grifo, no soldar ni limpiar alicatado sobre la pieza, cubrirla mientras trabajan otros y avisarlos por escrito. Lo que caiga se enjuaga al momento.",
    ),
    looks: &[Look::Step(&[Kind::Install, Kind::Clean], judge)],
};

const SEALANT: Text = text("sealant at sink and tap", "sellante en fregadero y grifo");
const ACID: Text = text("flux or acid cleaner on the piece", "fundente o limpiador ácido sobre la pieza");

fn judge(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if let Some(clean) = subject.read(view::clean) {
        let acid = clean.agent == CleanAgent::AcidCleaner;
        let facts = || vec![word(text("cleaned with", "limpiada con"), clean.agent.label())];
        return if acid { vec![Hit::violated([], facts())] } else { Vec::new() };
    }
    let Some(install) = subject.read(view::install) else { return Vec::new() };
    let mut harmful = Vec::new();
    let mut unsaid = Vec::new();
    match install.sealant {
        Some(it @ (SealantClass::AcidSilicone | SealantClass::OilPutty)) => {
            harmful.push(word(SEALANT, it.label()));
        }
        Some(_) => {}
        None => unsaid.push(missing(SEALANT)),
    }
    match install.acid_or_flux {
        Some(Answer::Yes) => harmful.push(word(ACID, Answer::Yes.label())),
        Some(Answer::No) => {}
        Some(Answer::NotLooked) => unsaid.push(word(ACID, Answer::NotLooked.label())),
        None => unsaid.push(missing(ACID)),
    }
    match (harmful.is_empty(), unsaid.is_empty()) {
        (false, _) => vec![Hit::violated([], harmful)],
        // Before the work the form asks; afterwards what nobody looked at is told.
        (true, false) if subject.step.is_some() => vec![Hit::cannot_tell([], unsaid)],
        _ => Vec::new(),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn install(sealant: &str, acid: &str) -> serde_json::Value {
        json!({ "base_level": "yes", "sealant": sealant, "acid_or_flux": acid })
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        for sealant in ["neutral_silicone", "hybrid", "none"] {
            bench.step(300.0, "install", install(sealant, "no"));
        }
        bench.step(301.0, "clean", json!({ "agent": "neutral_cleaner" }));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let putty = bench.step(300.0, "install", install("oil_putty", "no"));
        let vinegar = bench.step(301.0, "install", install("acid_silicone", "no"));
        let flux = bench.step(302.0, "install", install("none", "yes"));
        let cleaned = bench.step(303.0, "clean", json!({ "agent": "acid_cleaner" }));
        let each = [&[putty][..], &[vinegar], &[flux], &[cleaned]];
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &each);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let unsaid = bench.step(300.0, "install", json!({ "base_level": "yes" }));
        let unseen = bench.step(301.0, "install", install("none", "not_looked"));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[unsaid], &[unseen]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(300.0, "install", install("oil_putty", "no"));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_installation_is_warned_and_not_asked_twice() {
        let bench = Bench::poured();
        assert!(bench.gate(&RULE, 300.0, "install", &install("oil_putty", "no")).is_some());
        assert_eq!(bench.gate(&RULE, 300.0, "install", &json!({ "base_level": "yes" })), None);
    }
}
