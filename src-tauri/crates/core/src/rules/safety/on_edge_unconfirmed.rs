//! `on-edge-unconfirmed`

use super::confirm::unconfirmed;
use crate::body::after::SafetyTopic;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "on-edge-unconfirmed",
    title: text(
        "Before the first piece on edge of a shift its cautions are confirmed",
        "Antes de la primera pieza de canto del turno se confirman sus precauciones",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "The moment of danger is when ties come off and a piece is moved: the next one leans on nothing. Whoever stands on the fall side has no time to step away.",
        "El momento peligroso es al soltar las ataduras y mover una pieza: la siguiente no se apoya en nada. Quien está en el lado de caída no tiene tiempo de apartarse.",
    ),
    remedy: text(
        "Confirm it by name before you begin: pieces tied back one by one, nobody on the fall side, rack rated for the load.",
        "Confirmarlo con nombre antes de empezar: piezas atadas una a una, nadie en el lado de caída, caballete apto para la carga.",
    ),
    looks: &[Look::Step(&[Kind::Storage, Kind::Loading], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    unconfirmed(SafetyTopic::OnEdge, past, subject)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn on_edge() -> serde_json::Value {
        json!({ "condition": "good", "position": "on_edge", "tied_back": "yes", "rack_rated": "yes" })
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.confirm(200.0, &["on_edge"]);
        bench.step(200.5, "storage", on_edge());
        bench.step(300.0, "loading", json!({ "condition": "good", "position": "flat" }));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let stored = bench.step(200.5, "storage", on_edge());
        let loaded = bench.step(300.0, "loading", on_edge());
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[stored], &[loaded]]);
    }

    /// The position is a must field, and what was not confirmed counts as not confirmed: nothing is left to
    /// guess.
    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.confirm(200.0, &[]);
        bench.step(200.5, "storage", on_edge());
        bench.expect_violated(&RULE);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.5, "storage", on_edge());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_one_asks() {
        let bench = Bench::poured();
        assert_eq!(bench.gate(&RULE, 200.0, "loading", &on_edge()).unwrap().state, GateState::Confirm);
    }
}
