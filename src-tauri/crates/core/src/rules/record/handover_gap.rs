//! `handover-gap`

use crate::body::after::Handover;
use crate::rules::facts::is_unknown;
use crate::rules::finding::{FactValue, Finding, State};
use crate::rules::prelude::*;
use crate::rules::{ALL, exceptions};

pub(crate) static RULE: Rule = Rule {
    code: "handover-gap",
    title: text(
        "Handover needs no open stop, a care sheet, and known sealer and lots",
        "La entrega exige: ningún alto abierto, hoja de cuidados, sellador y lotes conocidos",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Record,
    why: text(
        "A claim years later is answered from this record. What was open at handover, or what nobody knows, is then the shop's.",
        "Una reclamación años después se contesta con este registro. Lo que quedó abierto en la entrega, o que nadie sabe, corre entonces a cargo del taller.",
    ),
    remedy: text(
        "Clear each open stop or have a named person accept it with a reason; give the care sheet and write down its version; record sealer and lots; take photos of the condition.",
        "Resolver cada alto abierto o que una persona con nombre lo acepte con un motivo; entregar la hoja de cuidados y anotar su versión; registrar sellador y lotes; fotografiar el estado.",
    ),
    looks: &[Look::Step(&[Kind::Handover], judge)],
};

const OPEN: Text = text("open stop", "alto abierto");
const SHEET: Text = text("care sheet", "hoja de cuidados");
const SEALER: Text = text("sealer", "sellador");
const PHOTOS: Text = text("photos of the condition", "fotos del estado");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let mut gaps: Vec<Fact> =
        open_stops(past).iter().map(|it| Fact::new(OPEN, FactValue::Word(it.rule.title))).collect();
    let given = subject.read(view::handover).map(|it: &Handover| !is_unknown(&it.care_sheet));
    if given == Some(false) {
        gaps.push(missing(SHEET));
    }
    let unreadable = past.steps.iter().any(|step| step.kind == Some(Kind::SealCoat) && step.body().is_none());
    gaps.extend(unknown_materials(past, unreadable));
    let mut hits = Vec::new();
    if !gaps.is_empty() {
        hits.push(Hit::violated([], gaps));
    }
    if unreadable {
        hits.push(Hit::cannot_tell([], vec![missing(SEALER)]));
    }
    if subject.step.is_some_and(|step| !has_photos(past, step)) {
        hits.push(Hit::violated([], vec![missing(PHOTOS)]).weighing(Severity::Caution));
    }
    hits
}

/// Stops that stood when the piece was handed over.
fn open_stops(past: &Past<'_, '_>) -> Vec<Finding> {
    let Case { shop, piece, curves, .. } = past.case;
    let then = Case { shop, piece: *piece, history: past.steps.to_vec(), curves: curves.clone() };
    let others = ALL.iter().copied().filter(|rule| **rule != RULE);
    let hits = others
        .flat_map(|rule| rule.check(&then).into_iter().map(move |hit| Finding::new(rule, Some(*piece), hit)));
    let mut stops: Vec<Finding> = hits.filter(|it| it.severity == Severity::Stop).collect();
    exceptions::apply(&then, &mut stops);
    stops.retain(|it| it.state == State::Stands);
    stops
}

/// Sealer and lots of what stays in the piece.
fn unknown_materials(past: &Past<'_, '_>, unreadable: bool) -> Vec<Fact> {
    let mut gaps = Vec::new();
    let known = past
        .all(view::seal_coat)
        .all(|(step, coat)| past.case.product(coat.product, step.done.start).is_some());
    let sealed = unreadable || past.has(&[Kind::SealCoat]);
    if !(known && sealed) {
        gaps.push(missing(SEALER));
    }
    let lot = |kind: Kind| Fact::new(text("lot", "lote"), FactValue::Word(kind.label()));
    let lots = past.all(view::seal_coat).map(|(_, it)| (&it.lot, Kind::SealCoat));
    let lots = lots.chain(past.all(view::fill).map(|(_, it)| (&it.lot, Kind::Fill)));
    let lots = lots.chain(past.all(view::densify).map(|(_, it)| (&it.lot, Kind::Densify)));
    let lots = lots.chain(past.all(view::colour).map(|(_, it)| (&it.lot, Kind::Colour)));
    gaps.extend(lots.filter(|(text, _)| is_unknown(text)).map(|(_, kind)| lot(kind)));
    gaps
}

/// Photos of the handover itself, or of the inspection, packing, delivery or installation before it.
fn has_photos(past: &Past<'_, '_>, handover: &Step) -> bool {
    let shows = |step: &Step| step.common().is_some_and(|common| !common.photos.is_empty());
    let kinds = [Kind::Inspection, Kind::Packing, Kind::Delivery, Kind::Install];
    let before = past.steps.iter().filter(|step| step.kind.is_some_and(|kind| kinds.contains(&kind)));
    shows(handover) || before.copied().any(shows)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn sealed() -> Bench {
        let mut bench = Bench::poured();
        bench.confirm(30.0, &["acid"]);
        bench.step(30.0, "acid_wash", wash());
        for (hours, kind, body) in
            [(30.1, "rinse", rinse()), (30.2, "neutralise", neutralise()), (30.3, "rinse", rinse())]
        {
            bench.step(hours, kind, body);
        }
        bench.step(100.0, "seal_coat", coat(1));
        bench
    }

    fn handover(sheet: &str) -> serde_json::Value {
        json!({ "received_by": "Client", "care_sheet": sheet, "photos": [{ "hash": "a".repeat(64) }] })
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = sealed();
        bench.step(300.0, "handover", handover("3"));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut sheetless = sealed();
        let handed = sheetless.step(300.0, "handover", handover(" "));
        sheetless.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[handed]]);
        let mut lotless = sealed();
        lotless.step(102.0, "seal_coat", with(coat(2), json!({ "lot": "unknown" })));
        let handed = lotless.step(300.0, "handover", handover("3"));
        lotless.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[handed]]);
        let mut open = sealed();
        open.step(200.0, "storage", json!({ "condition": "good", "position": "on_edge", "tied_back": "no" }));
        let handed = open.step(300.0, "handover", handover("3"));
        open.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[handed]]);
        let mut bare = Bench::poured();
        let handed = bare.step(300.0, "handover", handover("3"));
        bare.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[handed]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = sealed();
        bench.lock_last();
        let handed = bench.step(300.0, "handover", handover("3"));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[handed]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = sealed();
        bench.step(300.0, "handover", handover(""));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn missing_photos_are_a_caution() {
        let mut bench = sealed();
        let handed = bench.step(300.0, "handover", json!({ "received_by": "Client", "care_sheet": "3" }));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[handed]]);
    }

    #[test]
    fn a_stop_accepted_before_handover_is_not_open() {
        let mut bench = sealed();
        bench.confirm(200.0, &["on_edge"]);
        bench.step(
            200.0,
            "storage",
            json!({ "condition": "good", "position": "on_edge", "tied_back": "no" }),
        );
        assert_eq!(bench.bare_gate(&RULE, 210.0, "handover").unwrap().state, GateState::Blocked);
        let accepted = json!({ "rule": "rack-not-tied", "accepted_by": "Owner", "why": "held by a crane" });
        bench.about(220.0, "exception", &[], accepted);
        bench.step(300.0, "handover", handover("3"));
        bench.expect_clear(&RULE);
    }
}
