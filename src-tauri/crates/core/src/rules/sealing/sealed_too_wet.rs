//! `sealed-too-wet`

use super::{in_scope, is_wet, product_of};
use crate::body::sealing::{Moisture, Verdict as Reading};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "sealed-too-wet",
    title: text("The piece is dry before a sealer", "La pieza está seca antes del sellador"),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Water under a sealer whitens it, blows bubbles and lifts it in sheets; a penetrating sealer finds the pores full and stays outside. Humid air dries a piece far more slowly.",
        "El agua bajo un sellador lo blanquea, forma burbujas y lo despega en láminas; uno penetrante encuentra los poros llenos y queda fuera. El aire húmedo seca mucho más despacio.",
    ),
    remedy: text(
        "Wait out the drying time (longer in humid air), or record a moisture reading that passes: a meter against a dry reference, a plastic sheet for 16 hours, or constant weight.",
        "Esperar el tiempo de secado (más con aire húmedo) o registrar una lectura de humedad que valga: medidor contra una referencia seca, lámina plástica 16 horas o peso constante.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const DRIED: Text = text("dried for", "secado durante");
const ASKED: Text = text("drying asked for", "secado pedido");
const HUMIDITY: Text = text("humidity of the air", "humedad del aire");
const READING: Text = text("moisture reading", "lectura de humedad");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.read(view::seal_coat);
    let product = product_of(past, coat, subject);
    let sheet = product.and_then(|(it, _)| limits::of_product(it, |p| p.dry_before_h, |c| c.dry_before_h));
    let asked = sheet.unwrap_or(Applied::shipped(&limits::DRY_BEFORE));
    if asked.value <= 0.0 {
        return Vec::new();
    }
    let covering = |step: &&&Step| covers(step, subject.region);
    let last = past
        .steps
        .iter()
        .rev()
        .find(|step| covering(step) && (is_wet(step) || step.kind == Some(Kind::SealCoat)));
    match last {
        // Coats follow each other: the time between them is another rule's business.
        Some(step) if step.kind == Some(Kind::SealCoat) => Vec::new(),
        Some(wet) => dried(past, subject, wet, &asked).into_iter().collect(),
        None => from_the_form(past, subject, &asked).into_iter().collect(),
    }
}

/// Nothing wet is recorded: the piece dries since it left the form, or since the pour.
fn from_the_form(past: &Past<'_, '_>, subject: &Subject<'_>, asked: &Applied) -> Option<Hit> {
    let demoulded = past.last(view::demould).map(|(step, _)| step);
    match demoulded.or_else(|| past.case.pour().map(|(step, _)| step)) {
        Some(start) => dried(past, subject, start, asked),
        None => Some(Hit::cannot_tell([], vec![missing(DRIED)])),
    }
}

fn dried(past: &Past<'_, '_>, subject: &Subject<'_>, wet: &Step, asked: &Applied) -> Option<Hit> {
    let since = past.after(wet);
    let from = wet.done.finish();
    let hours = hours_between(from, subject.at);
    let limit = Applied::setting(past.case.shop.settings.dry_rh_max_pct, &limits::DRY_RH);
    let air = air(&since, subject);
    let humid = air.is_some_and(|rh| rh > limit.value);
    let slowed = asked.value * limits::HUMID_FACTOR.value;
    let mut facts = vec![number(DRIED, hours, Dimension::Hour)];
    facts.extend(asked.facts(ASKED, Dimension::Hour));
    facts.extend(air.map(|rh| number(HUMIDITY, rh, Dimension::Percent)));
    let opens = add_hours(from, if humid { slowed } else { asked.value });
    match reading(&since) {
        Some((_, Reading::Pass)) => None,
        Some((step, Reading::Fail)) => {
            facts.push(word(READING, Reading::Fail.label()));
            Some(Hit::violated([wet, step], facts))
        }
        None if hours < asked.value => Some(Hit::violated([wet], facts).until(opens)),
        None if humid && hours < slowed => {
            facts.extend(limit.facts(text("humidity limit", "límite de humedad"), Dimension::Percent));
            Some(Hit::violated([wet], facts).weighing(Severity::Caution).until(opens))
        }
        None => None,
    }
}

/// The newest moisture reading whose method says something here.
fn reading<'a>(since: &Past<'_, 'a>) -> Option<(&'a Step, Reading)> {
    let fits = |it: &Moisture| in_scope(since.case, it) == Some(true);
    since.all(view::moisture).rev().find(|(_, it)| fits(it)).map(|(step, it)| (step, it.verdict))
}

/// Relative humidity of the drying air: as it was at the end of drying, else as last read.
fn air(since: &Past<'_, '_>, subject: &Subject<'_>) -> Option<f64> {
    let closing = since.all(view::dry).filter_map(|(_, dry)| dry.closing_rh_pct).next_back();
    let read = || since.last(view::climate).map(|(_, climate)| climate.rh_pct);
    let at_coat = || subject.step.and(subject.read(view::seal_coat)).map(|coat| coat.rh_pct);
    closing.or_else(read).or_else(at_coat)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn rinsed() -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let wet = bench.step(100.0, "rinse", rinse());
        (bench, wet)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut bench, _) = rinsed();
        bench.step(124.0, "seal_coat", coat(1));
        bench.step(126.0, "seal_coat", coat(2));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut bench, wet) = rinsed();
        let coated = bench.step(123.9, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[wet, coated]]);
        let (mut failed, wet) = rinsed();
        let read = failed.step(
            130.0,
            "moisture",
            json!({ "method": "constant_weight", "value": 1, "verdict": "fail" }),
        );
        let coated = failed.step(131.0, "seal_coat", coat(1));
        failed.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[wet, read, coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::with_piece(json!({}));
        let coated = bench.step(100.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = rinsed();
        bench.step(110.0, "seal_coat", coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn humid_air_asks_for_twice_the_time() {
        for (rh, hours, clear) in
            [(60.0, 124.0, true), (60.1, 124.0, false), (60.1, 147.9, false), (60.1, 148.0, true)]
        {
            let (mut bench, _) = rinsed();
            bench.step(100.2, "dry", json!({ "at": "rack", "closing_rh_pct": rh }));
            bench.step(hours, "seal_coat", coat(1));
            let findings = bench.findings(&RULE);
            assert_eq!(findings.is_empty(), clear, "{rh} {hours}");
            assert!(findings.iter().all(|it| it.severity == Severity::Caution));
        }
    }

    #[test]
    fn a_passed_reading_clears_it_if_its_method_fits() {
        for (method, clear) in [("plastic_sheet", true), ("in_situ_rh", false), ("impedance", false)] {
            let (mut bench, _) = rinsed();
            bench.step(110.0, "moisture", json!({ "method": method, "value": 1, "verdict": "pass" }));
            bench.step(111.0, "seal_coat", coat(1));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{method}");
        }
    }

    #[test]
    fn a_data_sheet_and_a_shop_setting_beat_the_defaults() {
        let (mut sheet, _) = rinsed();
        sheet.product("sealer", json!({ "class": "reactive_sealer", "dry_before_h": 6 }));
        sheet.step(106.0, "seal_coat", coat(1));
        sheet.expect_clear(&RULE);
        let (mut setting, _) = rinsed();
        setting.settings(json!({ "dry_rh_max_pct": 45 }));
        setting.step(126.0, "seal_coat", coat(1));
        setting.expect_violated(&RULE);
    }

    #[test]
    fn the_gate_opens_when_the_time_is_up() {
        let (bench, _) = rinsed();
        assert_eq!(
            bench.gate(&RULE, 110.0, "seal_coat", &coat(1)).unwrap().state,
            GateState::Until(at(124.0))
        );
        assert_eq!(bench.bare_gate(&RULE, 110.0, "seal_coat").unwrap().state, GateState::Until(at(124.0)));
        assert_eq!(bench.gate(&RULE, 124.0, "seal_coat", &coat(1)), None);
    }
}
