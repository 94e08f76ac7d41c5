//! `rack-not-tied`

use crate::body::handling::Position;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "rack-not-tied",
    title: text(
        "A piece on edge is tied back by itself, on a rack rated for it",
        "Una pieza de canto va atada por sí sola, en un caballete homologado",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "A slab on edge needs a nudge to go over, and nobody holds it: people have been crushed between slab and wall. Tied together, one takes the others with it.",
        "Una losa de canto cae con un empujón y nadie la sujeta: ha aplastado a gente contra la pared. Atadas juntas, una arrastra a las demás.",
    ),
    remedy: text(
        "Tie each piece back by itself before the next is moved, nobody on the fall side, on a rack or frame rated for the load; or lay it flat on level supports.",
        "Atar cada pieza por sí sola antes de mover la siguiente, nadie en el lado de caída, en un caballete homologado para la carga; o tumbarla sobre apoyos nivelados.",
    ),
    looks: &[Look::Step(&[Kind::Storage, Kind::Loading], judge)],
};

const TIED: Text = text("tied back", "atada");
const RATED: Text = text("rack rated", "caballete homologado");

fn judge(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let stored = subject.read(view::storage).map(|it| (it.position, it.tied_back, it.rack_rated));
    let loaded = || subject.read(view::loading).map(|it| (it.position, it.tied_back, it.rack_rated));
    let Some((Position::OnEdge, tied, rated)) = stored.or_else(loaded) else { return Vec::new() };
    let fact = |name, answer: Option<Answer>| answer.map_or(missing(name), |it| word(name, it.label()));
    let facts = || vec![fact(TIED, tied), fact(RATED, rated)];
    match (tied, rated) {
        (Some(Answer::No), _) | (_, Some(Answer::No)) => vec![Hit::violated([], facts())],
        (Some(Answer::Yes), _) => Vec::new(),
        (Some(Answer::NotLooked) | None, _) => vec![Hit::cannot_tell([], facts())],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn on_edge(more: serde_json::Value) -> serde_json::Value {
        with(json!({ "condition": "good", "position": "on_edge" }), more)
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(200.0, "storage", on_edge(json!({ "tied_back": "yes" })));
        bench.step(201.0, "storage", json!({ "condition": "good", "position": "flat" }));
        bench.step(202.0, "loading", on_edge(json!({ "tied_back": "yes", "rack_rated": "yes" })));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for more in [json!({ "tied_back": "no" }), json!({ "tied_back": "yes", "rack_rated": "no" })] {
            let mut bench = Bench::poured();
            let loaded = bench.step(200.0, "loading", on_edge(more));
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[loaded]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        for more in [json!({}), json!({ "tied_back": "not_looked" })] {
            let mut bench = Bench::poured();
            let stored = bench.step(200.0, "storage", on_edge(more));
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[stored]]);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.0, "storage", on_edge(json!({ "tied_back": "no" })));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_one_is_stopped() {
        let gate =
            Bench::poured().gate(&RULE, 200.0, "storage", &on_edge(json!({ "tied_back": "no" }))).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
    }
}
