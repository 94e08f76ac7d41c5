//! `dry-grinding`

use crate::body::setup::Power;
use crate::body::surface::{Cleanup, DustControl};
use crate::rules::grinding::power_of;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "dry-grinding",
    title: text(
        "No dry grinding, cutting, drilling or sweeping without shroud and extraction",
        "Nada de desbaste, corte, taladro ni barrido en seco sin campana y aspiración",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Unconfirmed(text(
        "29 CFR 1926.1153 Table 1 and 29 CFR 1910.1053",
        "29 CFR 1926.1153, tabla 1, y 29 CFR 1910.1053",
    )),
    why: text(
        "Grinding dust, batching dust and dried slurry carry respirable crystalline silica: silicosis and lung cancer, years later and without a cure. On a site the table names control and respirator by tool, place and hours; in a shop it is only a hint and exposure is assessed. Wet hand-held work indoors counts as not in the table.",
        "El polvo de desbaste y de amasado y el lodo seco llevan sílice cristalina respirable: silicosis y cáncer de pulmón, años después y sin cura. En obra la tabla fija control y respirador según útil, lugar y horas; en taller solo orienta y se evalúa la exposición. El trabajo manual húmedo en interior se trata como fuera de la tabla.",
    ),
    remedy: text(
        "Work wet, or use a shroud with extraction that suits the tool, and record which. Extraction at the mixer. No dry sweeping, no compressed air; wet slurry is taken up before it dries. Confirm the respirator locally.",
        "Trabajar en húmedo o con campana y aspiración adecuadas al útil, y registrar cuál. Aspiración en la amasadora. Ni barrer en seco ni aire comprimido; el lodo se recoge antes de secar. Confírmese localmente el respirador.",
    ),
    looks: &[
        Look::Step(&[Kind::GritPass, Kind::Strip, Kind::Flush, Kind::Pour, Kind::Install], judge),
        Look::Plan(&[Kind::Pour], remind),
    ],
};

const DUST: Text = text("dust control", "control del polvo");
const WORK: Text = text("work", "trabajo");

/// Dusty work, and what kept the dust down.
struct Dusty {
    work: Text,
    control: Option<DustControl>,
}

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let mut hits: Vec<Hit> = dusty(past, subject).and_then(|it| at_the_tool(&it)).into_iter().collect();
    let swept =
        [subject.read(view::grit_pass).map(|it| it.cleanup), subject.read(view::flush).map(|it| it.cleanup)];
    let bad = swept.into_iter().flatten().flatten().find(|way| raises_dust(*way));
    hits.extend(
        bad.map(|way| Hit::violated([], vec![word(text("cleaned up by", "recogido con"), way.label())])),
    );
    hits
}

fn at_the_tool(dusty: &Dusty) -> Option<Hit> {
    let work = word(WORK, dusty.work);
    match dusty.control {
        Some(DustControl::Shroud | DustControl::Water) => None,
        Some(none @ DustControl::None) => Some(Hit::violated([], vec![work, word(DUST, none.label())])),
        None => Some(Hit::cannot_tell([], vec![work, missing(DUST)])),
    }
}

/// What of a step makes dust. Cutting on site and batching are judged where they are recorded.
fn dusty(past: &Past<'_, '_>, subject: &Subject<'_>) -> Option<Dusty> {
    if let Some(pass) = subject.read(view::grit_pass) {
        let dry = !pass.wet && power_of(past.case, pass) != Some(Power::Hand);
        return dry.then_some(Dusty { work: text("dry grinding", "desbaste en seco"), control: pass.dust });
    }
    if let Some(strip) = subject.read(view::strip) {
        let abraded = strip.grit.is_some() || strip.power.is_some();
        let dry = abraded && strip.wet != Some(true) && strip.power != Some(Power::Hand);
        return dry.then_some(Dusty { work: text("abrading", "lijado"), control: strip.dust });
    }
    if let Some(pour) = subject.read(view::pour) {
        let work = text("batching powders", "amasado de polvos");
        return pour.batching_dust.map(|it| Dusty { work, control: Some(it) });
    }
    let install = subject.read(view::install)?;
    let work = text("cutting or drilling on site", "corte o taladro en obra");
    install.cut_dust.map(|it| Dusty { work, control: Some(it) })
}

const fn raises_dust(way: Cleanup) -> bool {
    match way {
        Cleanup::Swept | Cleanup::Blown | Cleanup::DriedSlurry => true,
        Cleanup::Wet | Cleanup::Vacuum => false,
    }
}

/// Before a batch: powders are weighed and tipped. Ready mix has none, so nothing is held against a pour that
/// says nothing of it.
fn remind(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let said = subject.read(view::pour).is_some_and(|it| it.batching_dust.is_some());
    let work = word(WORK, text("batching powders", "amasado de polvos"));
    if said { Vec::new() } else { vec![Hit::cannot_tell([], vec![work, missing(DUST)])] }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn dry(dust: Option<&str>) -> serde_json::Value {
        let mut body = with(pass(100), json!({ "wet": false }));
        let map = body.as_object_mut().unwrap();
        map.remove("dust");
        map.extend(dust.map(|it| ("dust".to_owned(), json!(it))));
        body
    }

    fn strip(more: serde_json::Value) -> serde_json::Value {
        with(
            json!({ "region": "face", "method": "abraded", "residue_removed": "yes", "grit": 120, "scale": "pad" }),
            more,
        )
    }

    fn cut(dust: &str) -> serde_json::Value {
        json!({ "base_level": "yes", "cut_dust": dust })
    }

    #[test]
    pub(crate) fn clear() {
        let by_hand = with(hand_paper(600), json!({ "wet": false }));
        let vacuumed = with(pass(100), json!({ "cleanup": "vacuum" }));
        for body in [dry(Some("shroud")), pass(100), by_hand, vacuumed] {
            let mut bench = Bench::poured();
            bench.step(200.0, "grit_pass", body);
            bench.expect_clear(&RULE);
        }
        let mut other = Bench::poured();
        other.step(200.0, "strip", strip(json!({ "wet": true })));
        other.step(201.0, "strip", strip(json!({ "power": "hand" })));
        other.step(
            202.0,
            "strip",
            json!({ "region": "face", "method": "stripper gel", "residue_removed": "yes" }),
        );
        other.step(300.0, "install", cut("water"));
        other.step(301.0, "install", json!({ "base_level": "yes" }));
        other.step(302.0, "flush", json!({ "pad_cleaned": "yes", "cleanup": "wet" }));
        other.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for (kind, body) in [
            ("grit_pass", dry(Some("none"))),
            ("grit_pass", with(pass(100), json!({ "cleanup": "swept" }))),
            ("grit_pass", with(pass(100), json!({ "cleanup": "blown" }))),
            ("flush", json!({ "pad_cleaned": "yes", "cleanup": "dried_slurry" })),
            ("strip", strip(json!({ "power": "electric", "dust": "none" }))),
            ("install", cut("none")),
        ] {
            let mut bench = Bench::poured();
            let done = bench.step(200.0, kind, body);
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[done]]);
        }
        Bench::with_piece(json!({})).pour_with(json!({ "batching_dust": "none" })).expect_violated(&RULE);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        for (kind, body) in [("grit_pass", dry(None)), ("strip", strip(json!({})))] {
            let mut bench = Bench::poured();
            let ground = bench.step(200.0, kind, body);
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground]]);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.0, "grit_pass", dry(Some("none")));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_pour_is_reminded_of_the_dust_at_the_mixer() {
        let bench = Bench::with_piece(json!({}));
        assert_eq!(bench.bare_gate(&RULE, 0.0, "pour").unwrap().state, GateState::Open);
        let gate = |dust: &str| {
            let body = json!({ "mix": id("mix"), "batch": "B", "batching_dust": dust });
            bench.gate(&RULE, 0.0, "pour", &body).map(|it| it.state)
        };
        assert_eq!(gate("shroud"), None);
        assert_eq!(gate("none"), Some(GateState::Blocked));
    }
}
