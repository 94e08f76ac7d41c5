//! `dry-grinding`

use crate::body::setup::Power;
use crate::body::surface::DustControl;
use crate::rules::grinding::power_of;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "dry-grinding",
    title: text(
        "No dry grinding without shroud and extraction",
        "Nada de desbaste en seco sin campana y aspiración",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Unconfirmed("29 CFR 1926.1153 Table 1 and 29 CFR 1910.1053"),
    why: text(
        "Grinding dust carries respirable crystalline silica: silicosis and lung cancer, years later and without a cure. On a site the table names control and respirator by tool, place and hours; in a shop it is only a hint and exposure is assessed. Wet hand-held work indoors counts as not in the table.",
        "El polvo lleva sílice cristalina respirable: silicosis y cáncer de pulmón, años después y sin cura. En obra la tabla fija control y respirador según útil, lugar y horas; en taller solo orienta y se evalúa la exposición. El trabajo manual húmedo en interior se trata como fuera de la tabla.",
    ),
    remedy: text(
        "Grind wet, or use a shroud with extraction that suits the tool, and record which. No dry sweeping, no compressed air; wet slurry is taken up before it dries. Confirm the respirator locally.",
        "Desbastar en húmedo o con campana y aspiración adecuadas al útil, y registrar cuál. Ni barrer en seco ni aire comprimido; el lodo se recoge antes de secar. Confírmese localmente el respirador.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const DUST: Text = text("dust control", "control del polvo");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(pass) = subject.read(view::grit_pass).filter(|pass| !pass.wet) else { return Vec::new() };
    if power_of(past.case, pass) == Some(Power::Hand) {
        return Vec::new();
    }
    match pass.dust {
        Some(DustControl::Shroud | DustControl::Water) => Vec::new(),
        Some(none @ DustControl::None) => vec![Hit::violated([], vec![word(DUST, none.label())])],
        None => vec![Hit::cannot_tell([], vec![missing(DUST)])],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn dry(dust: Option<&str>) -> serde_json::Value {
        let mut body = with(pass(100), json!({ "wet": false }));
        let map = body.as_object_mut().unwrap();
        map.remove("dust");
        map.extend(dust.map(|it| ("dust".to_owned(), json!(it))));
        body
    }

    #[test]
    pub(crate) fn clear() {
        let by_hand = with(hand_paper(600), json!({ "wet": false }));
        for body in [dry(Some("shroud")), pass(100), by_hand] {
            let mut bench = Bench::poured();
            bench.step(200.0, "grit_pass", body);
            bench.expect_clear(&RULE);
        }
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let ground = bench.step(200.0, "grit_pass", dry(Some("none")));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[ground]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let ground = bench.step(200.0, "grit_pass", dry(None));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.0, "grit_pass", dry(Some("none")));
        bench.expect_accepted(&RULE);
    }
}
