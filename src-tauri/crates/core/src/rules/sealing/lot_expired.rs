//! `lot-expired`

use chrono::NaiveDate;

use super::{is_first_coat, product_of};
use crate::body::setup::MaterialClass;
use crate::materials::{self, Expired};
use crate::rules::finding::FactValue;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "lot-expired",
    title: text("No lot is used past its date", "Ningún lote se usa pasada su fecha"),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Sheet,
    why: text(
        "Old sealer, hardener or adhesive cures badly or not at all: soft film, haze, no bond. The maker answers for it only until its date.",
        "Un sellador, endurecedor o adhesivo viejo cura mal o nada: película blanda, velo, sin adherencia. El fabricante solo responde hasta su fecha.",
    ),
    remedy: text(
        "Use a lot in date. A sealer, hardener or adhesive past it only with the maker's extension in writing; a fill, pigment or admixture after a trial.",
        "Usar un lote en fecha. Un sellador, endurecedor o adhesivo caducado solo con la prórroga escrita del fabricante; un relleno, pigmento o aditivo tras una prueba.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat, Kind::Densify, Kind::Fill, Kind::Install], judge)],
};

const EXPIRES: Text = text("best before", "caduca el");

/// A lot in use: what it is, its name and its date.
struct Lot<'s> {
    class: Option<MaterialClass>,
    name: &'s str,
    expires: Option<NaiveDate>,
    extended: Option<NaiveDate>,
}

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(lot) = lot_of(past, subject) else { return Vec::new() };
    let weight = lot.class.map_or(Some(Expired::Stop), |class| materials::of(class).expired);
    let Some(weight) = weight else { return Vec::new() };
    let used = subject.at.date_naive();
    let named = || said(text("lot", "lote"), lot.name);
    let Some(expires) = lot.expires else {
        let asked = weight == Expired::Stop && subject.step.is_some() && first_use(past, subject);
        let facts = || vec![named(), missing(EXPIRES)];
        return if asked { vec![Hit::cannot_tell([], facts()).weighing(Severity::Note)] } else { Vec::new() };
    };
    if lot.extended.unwrap_or(expires).max(expires) >= used {
        return Vec::new();
    }
    let facts = vec![
        named(),
        Fact::new(EXPIRES, FactValue::Day(expires)),
        Fact::new(text("used on", "usado el"), FactValue::Day(used)),
    ];
    let severity = match weight {
        Expired::Stop => Severity::Stop,
        Expired::Caution => Severity::Caution,
        Expired::Note => Severity::Note,
    };
    vec![Hit::violated([], facts).weighing(severity)]
}

/// A missing date is told once per application, not at every coat.
fn first_use(past: &Past<'_, '_>, subject: &Subject<'_>) -> bool {
    subject.kind != Kind::SealCoat || is_first_coat(past, subject)
}

fn lot_of<'s>(past: &Past<'_, '_>, subject: &Subject<'s>) -> Option<Lot<'s>> {
    if let Some(coat) = subject.read(view::seal_coat) {
        let class = product_of(past, Some(coat), subject).map(|(product, _)| product.class);
        return Some(Lot { class, name: &coat.lot, expires: coat.expires, extended: coat.extended_until });
    }
    if let Some(it) = subject.read(view::densify) {
        let class = Some(MaterialClass::SilicateDensifier);
        return Some(Lot { class, name: &it.lot, expires: it.expires, extended: None });
    }
    if let Some(it) = subject.read(view::fill) {
        return Some(Lot { class: Some(it.material), name: &it.lot, expires: it.expires, extended: None });
    }
    let install = subject.read(view::install)?;
    let name = install.adhesive_lot.as_deref().or(install.adhesive.as_deref())?;
    Some(Lot {
        class: Some(MaterialClass::Adhesive),
        name,
        expires: install.adhesive_expires,
        extended: None,
    })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn dated(body: serde_json::Value, day: &str) -> serde_json::Value {
        with(body, json!({ "expires": day }))
    }

    #[test]
    pub(crate) fn clear() {
        // Hour 24 is 4 March 2025: a lot may be used on its last day.
        let mut last_day = Bench::poured();
        last_day.step(24.0, "seal_coat", dated(coat(1), "2025-03-04"));
        last_day.expect_clear(&RULE);
        let mut extended = Bench::poured();
        let more = json!({ "extended_until": "2025-06-30" });
        extended.step(24.0, "seal_coat", with(dated(coat(1), "2025-03-01"), more));
        extended.expect_clear(&RULE);
        let mut nothing_glued = Bench::poured();
        nothing_glued.step(24.0, "install", json!({ "base_level": "yes" }));
        nothing_glued.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut sealer = Bench::poured();
        let coated = sealer.step(24.0, "seal_coat", dated(coat(1), "2025-03-03"));
        sealer.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[coated]]);
        let mut fill = Bench::poured();
        let filled = fill.step(24.0, "fill", dated(cement_fill(), "2025-03-03"));
        fill.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[filled]]);
        let mut glue = Bench::poured();
        let body = json!({ "base_level": "yes", "adhesive_lot": "G-1", "adhesive_expires": "2025-03-03" });
        let installed = glue.step(24.0, "install", body);
        glue.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[installed]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let undated = |number| {
            let mut body = coat(number);
            body.as_object_mut().unwrap().remove("expires");
            body
        };
        let mut bench = Bench::poured();
        let first = bench.step(24.0, "seal_coat", undated(1));
        bench.step(26.0, "seal_coat", undated(2));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[first]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(24.0, "seal_coat", dated(coat(1), "2025-03-03"));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_coat_from_an_old_lot_is_stopped() {
        let bench = Bench::poured();
        let gate = bench.gate(&RULE, 24.0, "seal_coat", &dated(coat(1), "2025-03-03")).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
    }
}
