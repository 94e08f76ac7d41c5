//! `lot-expired`

use chrono::NaiveDate;

use super::{is_first_coat, product_of};
use crate::body::casting::Pour;
use crate::body::sealing::SealCoat;
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
    looks: &[Look::Step(
        &[Kind::Pour, Kind::Colour, Kind::Fill, Kind::Densify, Kind::SealCoat, Kind::Install],
        judge,
    )],
};

const EXPIRES: Text = text("best before", "caduca el");

/// A lot in use: how much its date weighs, its name and its date.
struct Lot<'s> {
    weight: Expired,
    name: &'s str,
    expires: Option<NaiveDate>,
    extended: Option<NaiveDate>,
}

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    lots_of(past, subject).into_iter().filter_map(|lot| expired(past, subject, &lot)).collect()
}

fn expired(past: &Past<'_, '_>, subject: &Subject<'_>, lot: &Lot<'_>) -> Option<Hit> {
    let used = subject.at.date_naive();
    let named = || said(text("lot", "lote"), lot.name);
    let Some(expires) = lot.expires else {
        let asked = lot.weight == Expired::Stop && subject.step.is_some() && first_use(past, subject);
        let facts = || vec![named(), missing(EXPIRES)];
        return asked.then(|| Hit::cannot_tell([], facts()).weighing(Severity::Note));
    };
    if lot.extended.unwrap_or(expires).max(expires) >= used {
        return None;
    }
    let facts = vec![
        named(),
        Fact::new(EXPIRES, FactValue::Day(expires)),
        Fact::new(text("used on", "usado el"), FactValue::Day(used)),
    ];
    let severity = match lot.weight {
        Expired::Stop => Severity::Stop,
        Expired::Caution => Severity::Caution,
        Expired::Note => Severity::Note,
    };
    Some(Hit::violated([], facts).weighing(severity))
}

/// A missing date is told once per application, not at every coat.
fn first_use(past: &Past<'_, '_>, subject: &Subject<'_>) -> bool {
    subject.kind != Kind::SealCoat || is_first_coat(past, subject)
}

/// The lots a step uses that have a date to keep.
fn lots_of<'s>(past: &Past<'_, '_>, subject: &Subject<'s>) -> Vec<Lot<'s>> {
    if let Some(coat) = subject.read(view::seal_coat) {
        let class = product_of(past, Some(coat), subject).map(|(product, _)| product.class);
        return of_coat(coat, class);
    }
    if let Some(pour) = subject.read(view::pour) {
        return of_batch(pour);
    }
    let lot = |class: MaterialClass, name, expires| {
        let weight = materials::of(class).expired?;
        Some(Lot { weight, name, expires, extended: None })
    };
    let one = if let Some(it) = subject.read(view::densify) {
        lot(MaterialClass::SilicateDensifier, &it.lot, it.expires)
    } else if let Some(it) = subject.read(view::fill) {
        lot(it.material, &it.lot, it.expires)
    } else if let Some(it) = subject.read(view::colour) {
        let class = past.case.product(it.product, subject.at).map_or(MaterialClass::Pigment, |it| it.class);
        lot(class, &it.lot, it.expires)
    } else {
        subject.read(view::install).and_then(|it| {
            let name = it.adhesive_lot.as_deref().or(it.adhesive.as_deref())?;
            lot(MaterialClass::Adhesive, name, it.adhesive_expires)
        })
    };
    one.into_iter().collect()
}

/// A sealer and, where its date is written down, the hardener. A product nobody entered weighs as a sealer.
fn of_coat(coat: &SealCoat, class: Option<MaterialClass>) -> Vec<Lot<'_>> {
    let Some(weight) = class.map_or(Some(Expired::Stop), |class| materials::of(class).expired) else {
        return Vec::new();
    };
    let extended = coat.extended_until;
    let sealer = Lot { weight, name: &coat.lot, expires: coat.expires, extended };
    let name = coat.hardener_lot.as_deref().unwrap_or(&coat.lot);
    let hardener = coat.hardener_expires.map(|date| Lot { weight, name, expires: Some(date), extended });
    std::iter::once(sealer).chain(hardener).collect()
}

/// What went into a batch and has a date.
fn of_batch(pour: &Pour) -> Vec<Lot<'_>> {
    let mut lots = Vec::new();
    for (material, date) in pour.lots_expire.iter().flatten() {
        let named = pour.lots.as_ref().and_then(|lots| lots.get(material));
        let weight = materials::of(class_of_material(material)).expired.unwrap_or(Expired::Note);
        lots.push(Lot { weight, name: named.unwrap_or(material), expires: Some(*date), extended: None });
    }
    lots
}

/// The class of a batched material by its name; what is none of the bulk materials is taken as an admixture.
fn class_of_material(name: &str) -> MaterialClass {
    const BULK: [(&str, MaterialClass); 14] = [
        ("cement", MaterialClass::Cement),
        ("pozzolan", MaterialClass::Cement),
        ("puzolana", MaterialClass::Cement),
        ("slag", MaterialClass::Cement),
        ("escoria", MaterialClass::Cement),
        ("sand", MaterialClass::Sand),
        ("arena", MaterialClass::Sand),
        ("aggregate", MaterialClass::Sand),
        ("árido", MaterialClass::Sand),
        ("stone", MaterialClass::Sand),
        ("piedra", MaterialClass::Sand),
        ("glass", MaterialClass::Sand),
        ("vidrio", MaterialClass::Sand),
        ("pigment", MaterialClass::Pigment),
    ];
    let name = name.to_lowercase();
    BULK.iter().find(|(part, _)| name.contains(part)).map_or(MaterialClass::Admixture, |(_, class)| *class)
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
    fn each_material_weighs_as_its_class_and_the_hardener_as_its_sealer() {
        let mut hardener = Bench::poured();
        let coated =
            hardener.step(24.0, "seal_coat", with(film_coat(1), json!({ "hardener_expires": "2025-03-03" })));
        hardener.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[coated]]);
        let mut stain = Bench::poured();
        stain.product("stain", json!({ "class": "pigment" }));
        let body = json!({ "product": id("stain"), "lot": "P-1", "expires": "2025-03-03" });
        let coloured = stain.step(24.0, "colour", body);
        stain.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[coloured]]);
        let batch = |material: &str| {
            let bench = Bench::with_piece(json!({}));
            let bench = bench.pour_with(json!({ "lots_expire": { material: "2025-03-02" } }));
            bench.findings(&RULE).iter().map(|it| it.severity).collect::<Vec<_>>()
        };
        assert_eq!(batch("white cement"), [Severity::Note]);
        assert_eq!(batch("Arena fina"), [Severity::Note]);
        assert_eq!(batch("Pigment, black"), [Severity::Caution]);
        assert_eq!(batch("polymer"), [Severity::Caution]);
        let last_day =
            Bench::with_piece(json!({})).pour_with(json!({ "lots_expire": { "cement": "2025-03-03" } }));
        last_day.expect_clear(&RULE);
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
