//! `form-not-cured`

use crate::body::before::FormPrepared;
use crate::body::setup::FinishKind;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "form-not-cured",
    title: text(
        "Joint sealant and wax of the form are cured before the pour",
        "El sellante de juntas y la cera del molde están curados antes del vertido",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Fresh sealant smears and gives off what stains and softens the cream; wet wax or release marks the face and keeps sealers off. The marks come out of the form with the piece and have to be ground away.",
        "El sellante fresco se corre y suelta lo que mancha y ablanda la pasta; la cera o el desencofrante húmedos marcan la cara y repelen los selladores. Las marcas salen del molde con la pieza y hay que desbastarlas.",
    ),
    remedy: text(
        "Let sealant and wax cure as their sheets say, buff the wax dry, and record it with the form. After the pour: look at the face when it leaves the form, and clean it before a sealer.",
        "Dejar curar sellante y cera como dicen sus fichas, bruñir la cera en seco y registrarlo con el molde. Tras el vertido: mirar la cara al desmoldear y limpiarla antes del sellador.",
    ),
    looks: &[Look::Step(&[Kind::Pour], judge)],
};

const SEALANT: Text = text("joint sealant cured", "sellante de juntas curado");
const RELEASE: Text = text("release or wax cured", "desencofrante o cera curados");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if past.case.finish() == Some(FinishKind::Floor) {
        return Vec::new();
    }
    let form = past.all(view::form_prepared).rfind(|(step, _)| step.done.start <= subject.at);
    let hit = match form {
        Some((step, form)) => Hit::of_answers([step], &asked(form)),
        // Not every shop writes its forms down: good to know, no more.
        None => {
            Some(Hit::cannot_tell([], vec![missing(Kind::FormPrepared.label())]).weighing(Severity::Note))
        }
    };
    hit.into_iter().collect()
}

/// Only what the form has: joints that were not sealed have no sealant, and one without release has none to dry.
fn asked(form: &FormPrepared) -> Vec<(Text, Option<Answer>)> {
    let unsealed = form.joints_sealed == Some(Answer::No) && form.sealant_cured.is_none();
    let bare = form.release.is_none() && form.release_lot.is_none() && form.release_cured.is_none();
    let sealant = (!unsealed).then_some((SEALANT, form.sealant_cured));
    let release = (!bare).then_some((RELEASE, form.release_cured));
    sealant.into_iter().chain(release).collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn form(more: serde_json::Value) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::with_piece(json!({}));
        let plain = json!({ "material": "board", "joints_sealed": "yes", "sealant_cured": "yes", "release_lot": "R-1",
            "release_cured": "yes" });
        let prepared = bench.step(-2.0, "form_prepared", with(plain, more));
        (bench, prepared)
    }

    #[test]
    pub(crate) fn clear() {
        form(json!({})).0.pour().expect_clear(&RULE);
        form(json!({ "joints_sealed": "no", "sealant_cured": null })).0.pour().expect_clear(&RULE);
        form(json!({ "release_lot": null, "release_cured": null })).0.pour().expect_clear(&RULE);
        Bench::with_piece(json!({ "finish": "floor" })).pour().expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for field in ["sealant_cured", "release_cured"] {
            let (bench, prepared) = form(json!({ field: "no" }));
            let bench = bench.pour();
            let poured = bench.last();
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[prepared, poured]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        for answer in [json!(null), json!("not_looked")] {
            let (bench, prepared) = form(json!({ "sealant_cured": answer }));
            let bench = bench.pour();
            let poured = bench.last();
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[prepared, poured]]);
        }
        let unwritten = Bench::poured();
        let poured = unwritten.last();
        unwritten.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[poured]]);
    }

    #[test]
    pub(crate) fn excepted() {
        form(json!({ "sealant_cured": "no" })).0.pour().expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_pour_over_fresh_sealant_is_told() {
        let (bench, _) = form(json!({ "sealant_cured": "no" }));
        assert_eq!(bench.bare_gate(&RULE, 0.0, "pour").unwrap().state, GateState::Open);
    }
}
