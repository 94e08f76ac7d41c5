//! `no-ground-fault-guard`

use crate::body::setup::Power;
use crate::rules::grinding::power_of;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "no-ground-fault-guard",
    title: text("Electric tool and water: only on a GFCI / RCD", "Herramienta eléctrica y agua: solo con diferencial"),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Published("29 CFR 1926.404(b)(1); a guard on every water-fed tool is common practice"),
    why: text(
        "Water carries a fault in tool or lead to the hand. Without a guard that trips at a few milliamperes it can kill before any fuse knows of it.",
        "El agua lleva a la mano un fallo de la herramienta o del cable. Sin un diferencial que salte con pocos miliamperios puede matar antes de que lo note un fusible.",
    ),
    remedy: text(
        "Unplug. Put a tested GFCI / RCD between socket and tool, keep the lead off the wet floor, and have the installation looked at by a licensed electrician where there is doubt.",
        "Desenchufar. Poner un diferencial probado entre toma y herramienta, el cable fuera del suelo mojado, y en caso de duda que un electricista autorizado revise la instalación.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const GUARD: Text = text("on a GFCI / RCD", "con diferencial");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(pass) = subject.read(view::grit_pass) else { return Vec::new() };
    if !pass.wet || power_of(past.case, pass) != Some(Power::Electric) {
        return Vec::new();
    }
    match pass.rcd {
        Some(Answer::Yes) => Vec::new(),
        Some(Answer::No) => vec![Hit::violated([], vec![word(GUARD, Answer::No.label())])],
        Some(Answer::NotLooked) => vec![Hit::cannot_tell([], vec![word(GUARD, Answer::NotLooked.label())])],
        None => vec![Hit::cannot_tell([], vec![missing(GUARD)])],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", with(pass(50), json!({ "power": "electric", "rcd": "yes" })));
        bench.step(101.0, "grit_pass", with(pass(100), json!({ "power": "air", "rcd": "no" })));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let pass = bench.step(100.0, "grit_pass", with(pass(50), json!({ "power": "electric", "rcd": "no" })));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[pass]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let pass = bench.step(100.0, "grit_pass", with(pass(50), json!({ "power": "electric", "rcd": "not_looked" })));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[pass]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", with(pass(50), json!({ "power": "electric", "rcd": "no" })));
        bench.expect_accepted(&RULE);
    }
}
