//! `handover-gap`

use crate::body::after::Handover;
use crate::rules::prelude::*;
use crate::rules::{State, exceptions};

pub(crate) static RULE: Rule = Rule {
    code: "handover-gap",
    title: text("Handed over with nothing open and everything given", "Se entrega sin nada abierto y con todo entregado"),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "What was open at handover is the first thing a claim asks for, and a client without a care sheet ruins a finish with the wrong cleaner in the first week.",
        "Lo que quedó abierto en la entrega es lo primero que pregunta una reclamación, y un cliente sin hoja de cuidados estropea el acabado con el limpiador equivocado la primera semana.",
    ),
    remedy: text(
        "Clear each open stop or have it accepted by name, give the care sheet and record its version, record sealer and lot, and photograph the piece in place.",
        "Resolver cada alto abierto o hacerlo aceptar con nombre, entregar la hoja de cuidados y anotar su versión, anotar sellador y lote, y fotografiar la pieza colocada.",
    ),
    looks: &[Look::Step(&[Kind::Handover], judge)],
};

const OPEN_STOPS: Text = text("open stops", "altos abiertos");
const CARE_SHEET: Text = text("care sheet given", "hoja de cuidados entregada");
const SEALER: Text = text("sealer and lot", "sellador y lote");
const PHOTOS: Text = text("photos", "fotos");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let handover = subject.read(view::handover);
    let mut facts = Vec::new();
    let open = open_stops(past, subject);
    if open > 0 {
        facts.push(count(OPEN_STOPS, f64::from(open), 0));
    }
    // A planned handover has no body yet: what it will record cannot be missing from it.
    if handover.is_some_and(|it| it.care_sheet.trim().is_empty()) {
        facts.push(missing(CARE_SHEET));
    }
    if sealed(past) == Some(false) {
        facts.push(missing(SEALER));
    }
    let mut hits = Vec::new();
    if !facts.is_empty() {
        hits.push(Hit::violated([], facts));
    }
    hits.extend(without_photos(past, subject, handover));
    hits
}

/// Stops that nobody accepted, as the record stood at this moment.
fn open_stops(past: &Past<'_, '_>, subject: &Subject<'_>) -> u32 {
    let case = Case::sharing(past.case.shop, past.case.piece, past.case.curves.clone()).before(subject.at);
    let others = crate::rules::ALL.iter().filter(|rule| rule.code != RULE.code);
    let mut findings: Vec<_> = others
        .flat_map(|rule| rule.check(&case).into_iter().map(|hit| crate::rules::Finding::new(rule, Some(case.piece), hit)))
        .collect();
    exceptions::apply(&case, &mut findings);
    let open = findings.iter().filter(|it| it.severity == Severity::Stop && it.state == State::Stands);
    u32::try_from(open.count()).unwrap_or(u32::MAX)
}

/// Whether every coat names its product and lot; `None` where nothing was sealed.
fn sealed(past: &Past<'_, '_>) -> Option<bool> {
    let mut coats = past.all(view::seal_coat).peekable();
    coats.peek()?;
    let shop = past.case.shop;
    Some(coats.all(|(_, coat)| !coat.lot.trim().is_empty() && shop.products.contains_key(&coat.product)))
}

fn without_photos(past: &Past<'_, '_>, subject: &Subject<'_>, handover: Option<&Handover>) -> Option<Hit> {
    handover?;
    let shown = |step: &Step| step.common().is_some_and(|common| !common.photos.is_empty());
    let any = subject.step.is_some_and(shown) || past.steps.iter().any(|step| shown(step));
    (!any).then(|| Hit::violated([], vec![missing(PHOTOS)]).weighing(Severity::Caution))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn handover(care_sheet: &str) -> serde_json::Value {
        json!({ "received_by": "the client", "care_sheet": care_sheet, "photos": [{ "hash": "a".repeat(64) }] })
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(300.0, "handover", handover("1"));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let given = bench.step(300.0, "handover", handover(" "));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[given]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        // Without photos nobody can tell later how it looked: a caution of its own.
        let mut bench = Bench::poured();
        let blind = bench.step(300.0, "handover", json!({ "received_by": "the client", "care_sheet": "1" }));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[blind]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(300.0, "handover", handover(""));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn an_open_stop_is_a_gap() {
        let mut bench = Bench::poured();
        bench.step(100.0, "storage", json!({ "condition": "good", "position": "on_edge", "tied_back": "no", "rack_rated": "yes" }));
        let given = bench.step(300.0, "handover", handover("1"));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[given]]);
    }
}
