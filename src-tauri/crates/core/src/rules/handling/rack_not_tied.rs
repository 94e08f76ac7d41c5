//! `rack-not-tied`

use crate::body::handling::Position;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "rack-not-tied",
    title: text("Pieces on edge are tied back one by one", "Las piezas de canto se atan una a una"),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "A slab on edge that tips is too heavy to hold and falls without warning. People die under pieces they meant to steady.",
        "Una losa de canto que vuelca pesa demasiado para sujetarla y cae sin aviso. Hay muertes bajo piezas que se querían sostener.",
    ),
    remedy: text(
        "Nobody on the fall side. Tie each piece back by itself to a rack or frame rated for the load, or lay it flat on level supports.",
        "Nadie en el lado de caída. Atar cada pieza por separado a un caballete o bastidor apto para la carga, o tumbarla sobre apoyos nivelados.",
    ),
    looks: &[Look::Step(&[Kind::Storage, Kind::Loading], judge)],
};

const TIED: Text = text("tied back", "atada");
const RATED: Text = text("rack or frame rated for the load", "caballete apto para la carga");

fn judge(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let stored = subject.read(view::storage).map(|it| (it.position, it.tied_back, it.rack_rated));
    let loaded = || subject.read(view::loading).map(|it| (it.position, it.tied_back, it.rack_rated));
    let Some((Position::OnEdge, tied, rated)) = stored.or_else(loaded) else { return Vec::new() };
    let fact = |name, answer: Option<Answer>| answer.map_or(missing(name), |it| word(name, it.label()));
    let facts = vec![fact(TIED, tied), fact(RATED, rated)];
    match (tied, rated) {
        (Some(Answer::No), _) | (_, Some(Answer::No)) => vec![Hit::violated([], facts)],
        (Some(Answer::Yes), Some(Answer::Yes)) => Vec::new(),
        _ => vec![Hit::cannot_tell([], facts)],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn store(tied: &str, rated: &str) -> serde_json::Value {
        json!({ "condition": "good", "position": "on_edge", "tied_back": tied, "rack_rated": rated })
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(100.0, "storage", store("yes", "yes"));
        bench.step(101.0, "storage", json!({ "condition": "good", "position": "flat" }));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let untied = bench.step(100.0, "storage", store("no", "yes"));
        let unrated = bench.step(101.0, "loading", store("yes", "no"));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[untied], &[unrated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let unsaid = bench.step(100.0, "storage", json!({ "condition": "good", "position": "on_edge" }));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[unsaid]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "storage", store("no", "yes"));
        bench.expect_accepted(&RULE);
    }
}
