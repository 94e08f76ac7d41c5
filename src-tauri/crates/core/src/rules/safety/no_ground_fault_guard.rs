//! `no-ground-fault-guard`

use crate::body::setup::Power;
use crate::rules::grinding::power_of;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "no-ground-fault-guard",
    title: text(
        "An electric tool with water runs on a GFCI / RCD",
        "Un útil eléctrico con agua va con diferencial (GFCI / RCD)",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Published(text(
        "29 CFR 1926.404(b)(1); 30 mA elsewhere is common practice",
        "29 CFR 1926.404(b)(1); 30 mA en otros lugares es práctica común",
    )),
    why: text(
        "Water at a mains tool finds its way to the person holding it. A ground-fault guard cuts the current before the heart is caught; a fuse does not.",
        "El agua en un útil de red llega a quien lo sostiene. El diferencial corta la corriente antes de que alcance el corazón; un fusible no.",
    ),
    remedy: text(
        "Stop, put the tool on a GFCI / RCD, press its test button, and record it. Local electrical codes govern.",
        "Parar, conectar el útil a un diferencial, pulsar su botón de prueba y registrarlo. Mandan las normas eléctricas locales.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const GUARD: Text = text("GFCI / RCD", "diferencial (GFCI / RCD)");
const DRIVEN: Text = text("tool driven by", "útil accionado por");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(pass) = subject.read(view::grit_pass).filter(|pass| pass.wet) else { return Vec::new() };
    let power = power_of(past.case, pass);
    if power.is_some_and(|power| power != Power::Electric) {
        return Vec::new();
    }
    let mut facts = vec![power.map_or(missing(DRIVEN), |power| word(DRIVEN, power.label()))];
    facts.push(pass.rcd.map_or(missing(GUARD), |answer| word(GUARD, answer.label())));
    match pass.rcd {
        Some(Answer::Yes) => Vec::new(),
        Some(Answer::No) => vec![Hit::violated([], facts)],
        Some(Answer::NotLooked) | None => vec![Hit::cannot_tell([], facts)],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn guarded(answer: &str) -> serde_json::Value {
        with(pass(100), json!({ "rcd": answer }))
    }

    #[test]
    pub(crate) fn clear() {
        let battery = with(pass(100), json!({ "power": "battery", "rcd": "no" }));
        let dry = with(pass(100), json!({ "wet": false, "rcd": "no", "dust": "shroud" }));
        for body in [guarded("yes"), battery, dry, hand_paper(600)] {
            let mut bench = Bench::poured();
            bench.step(200.0, "grit_pass", body);
            bench.expect_clear(&RULE);
        }
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let ground = bench.step(200.0, "grit_pass", guarded("no"));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[ground]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let unsaid = json!({ "region": "face", "grit": 100, "scale": "pad", "bond": "resin", "wet": true, "result": "cut_out" });
        for body in [guarded("not_looked"), unsaid] {
            let mut bench = Bench::poured();
            let ground = bench.step(200.0, "grit_pass", body);
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground]]);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.0, "grit_pass", guarded("no"));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn the_shops_tool_says_what_drives_it() {
        let mut bench = Bench::poured();
        bench.object("tool", "polisher", json!({ "name": "Polisher", "power": "air" }));
        let mut body = guarded("no");
        body.as_object_mut().unwrap().remove("power");
        bench.step(200.0, "grit_pass", with(body, json!({ "tool": id("polisher") })));
        bench.expect_clear(&RULE);
        assert_eq!(bench.gate(&RULE, 201.0, "grit_pass", &guarded("no")).unwrap().state, GateState::Blocked);
    }
}
