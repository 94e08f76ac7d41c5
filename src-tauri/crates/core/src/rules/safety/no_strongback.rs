//! `no-strongback`

use crate::body::handling::Position;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "no-strongback",
    title: text(
        "A piece with cut-outs is carried on edge with a strongback across them",
        "Una pieza con huecos se lleva de canto con una viga de refuerzo sobre ellos",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "The narrow strips beside a sink or hob carry the whole piece on the way. They snap without warning, and both halves come down on the people carrying them.",
        "Las tiras estrechas junto a un fregadero o una placa llevan toda la pieza por el camino. Se parten sin aviso y las dos mitades caen sobre quienes la llevan.",
    ),
    remedy: text(
        "Set it down flat on level supports, clamp a strongback across every cut-out, then lift on edge, and record it.",
        "Dejarla plana sobre apoyos nivelados, sujetar una viga de refuerzo sobre cada hueco, después levantarla de canto y registrarlo.",
    ),
    looks: &[Look::Step(&[Kind::Loading], judge)],
};

const STRONGBACK: Text = text("strongback across cut-outs", "viga de refuerzo sobre los huecos");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(load) = subject.read(view::loading).filter(|it| it.position == Position::OnEdge) else {
        return Vec::new();
    };
    let cut_outs = past.case.facts().and_then(|it| it.cut_outs.as_ref()).map_or(0, Vec::len);
    if cut_outs == 0 {
        return Vec::new();
    }
    let answer = load.strongback.map_or(missing(STRONGBACK), |it| word(STRONGBACK, it.label()));
    let facts = vec![count(text("cut-outs", "huecos"), cut_outs as f64, 0), answer];
    match load.strongback {
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

    fn with_sink() -> Bench {
        let sink =
            json!([{ "purpose": "sink", "x_mm": 200, "y_mm": 100, "length_mm": 500, "width_mm": 400 }]);
        Bench::with_piece(json!({ "cut_outs": sink })).pour()
    }

    fn load(position: &str, strongback: Option<&str>) -> serde_json::Value {
        json!({ "condition": "good", "position": position, "strongback": strongback })
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = with_sink();
        bench.step(200.0, "loading", load("on_edge", Some("yes")));
        bench.step(201.0, "loading", load("flat", None));
        bench.expect_clear(&RULE);
        let mut whole = Bench::poured();
        whole.step(200.0, "loading", load("on_edge", None));
        whole.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = with_sink();
        let loaded = bench.step(200.0, "loading", load("on_edge", Some("no")));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[loaded]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        for answer in [None, Some("not_looked")] {
            let mut bench = with_sink();
            let loaded = bench.step(200.0, "loading", load("on_edge", answer));
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[loaded]]);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = with_sink();
        bench.step(200.0, "loading", load("on_edge", Some("no")));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_one_is_stopped() {
        let gate = with_sink().gate(&RULE, 200.0, "loading", &load("on_edge", Some("no"))).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
    }
}
