//! `lot-missing`

use super::product_of;
use crate::rules::facts::is_unknown;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "lot-missing",
    title: text(
        "Lots are recorded for everything that stays in the piece",
        "Se registran los lotes de todo lo que queda en la pieza",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::Record,
    why: text(
        "When one lot turns out bad, the lot number is the only way to the other pieces made from it, and the only claim on its maker.",
        "Cuando un lote sale malo, su número es el único camino a las demás piezas hechas con él y la única reclamación a su fabricante.",
    ),
    remedy: text(
        "Look at the container, the delivery note or a photo of the label and correct the entry with the lot.",
        "Mirar el envase, el albarán o una foto de la etiqueta y corregir la entrada con el lote.",
    ),
    looks: &[Look::Step(
        &[Kind::Pour, Kind::Colour, Kind::Fill, Kind::Densify, Kind::SealCoat, Kind::Install],
        judge,
    )],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    // Before the work the lot is asked for on the form, not held against anybody.
    if subject.step.is_none() {
        return Vec::new();
    }
    let facts: Vec<Fact> = without_lot(past, subject).into_iter().map(missing).collect();
    if facts.is_empty() { Vec::new() } else { vec![Hit::violated([], facts)] }
}

/// What stays in the piece by this step and has no lot.
fn without_lot(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Text> {
    let mut missing = Vec::new();
    if let Some(pour) = subject.read(view::pour) {
        let known =
            |lots: &std::collections::BTreeMap<String, String>| lots.values().any(|lot| !is_unknown(lot));
        if !pour.lots.as_ref().is_some_and(known) {
            missing.push(text("lots of the batch", "lotes de la amasada"));
        }
    }
    let lots = [
        subject.read(view::colour).map(|it| &it.lot),
        subject.read(view::fill).map(|it| &it.lot),
        subject.read(view::densify).map(|it| &it.lot),
        subject.read(view::seal_coat).map(|it| &it.lot),
    ];
    if lots.into_iter().flatten().any(|lot| is_unknown(lot)) {
        missing.push(text("lot", "lote"));
    }
    if let Some(coat) = subject.read(view::seal_coat) {
        let two_part = product_of(past, Some(coat), subject).is_some_and(|(_, class)| class.two_part);
        if two_part && coat.hardener_lot.as_deref().is_some_and(is_unknown) {
            missing.push(text("lot of the hardener", "lote del endurecedor"));
        }
    }
    if let Some(it) = subject.read(view::install) {
        let glued = it.adhesive.as_deref().is_some_and(|adhesive| !is_unknown(adhesive));
        if glued && it.adhesive_lot.as_deref().is_none_or(is_unknown) {
            missing.push(text("lot of the adhesive", "lote del adhesivo"));
        }
    }
    missing
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(50.0, "fill", cement_fill());
        bench.step(100.0, "seal_coat", coat(1));
        let glued = json!({ "base_level": "yes", "adhesive": "pads", "adhesive_lot": "G-1" });
        bench.step(300.0, "install", glued);
        bench.step(301.0, "install", json!({ "base_level": "yes", "adhesive": "none" }));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut sealed = Bench::poured();
        let filled = sealed.step(50.0, "fill", with(cement_fill(), json!({ "lot": "?" })));
        let coated = sealed.step(100.0, "seal_coat", with(coat(1), json!({ "lot": "unknown" })));
        let glued = sealed.step(300.0, "install", json!({ "base_level": "yes", "adhesive": "pads" }));
        sealed.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[filled], &[coated], &[glued]]);
        let batch = Bench::with_piece(json!({})).pour_with(json!({ "lots": {} }));
        batch.expect_violated(&RULE);
    }

    /// A lot is written down or it is not: there is nothing that could be missing beside it.
    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", with(coat(1), json!({ "lot": "-" })));
        assert!(bench.findings(&RULE).iter().all(|it| it.verdict == Verdict::Violated));
        bench.expect_violated(&RULE);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", with(coat(1), json!({ "lot": "" })));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_coat_is_asked_for_its_lot_on_the_form() {
        let bench = Bench::poured();
        assert_eq!(bench.gate(&RULE, 100.0, "seal_coat", &with(coat(1), json!({ "lot": "" }))), None);
    }
}
