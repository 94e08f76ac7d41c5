//! `backing-out-of-window`

use crate::body::casting::{Consolidation, Pour};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "backing-out-of-window",
    title: text(
        "The backing follows the face coat inside its window",
        "El trasdós sigue a la capa vista dentro de su plazo",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Too early, the backing and its fibre push through the thin face coat and show as ghosting; too late, the layers do not knit and part along the joint when the piece dries or is struck.",
        "Demasiado pronto, el trasdós y su fibra atraviesan la fina capa vista y se transparentan; demasiado tarde, las capas no se unen y se separan al secar la pieza o con un golpe.",
    ),
    remedy: text(
        "Time the face coat and back it inside the window of the mix; record both. On a piece cast outside it: look for ghosting, tap for hollow spots, and watch the edges.",
        "Cronometrar la capa vista y trasdosarla dentro del plazo de la mezcla; registrar ambos. En una pieza fuera de plazo: buscar transparencias, golpear por si suena a hueco y vigilar los cantos.",
    ),
    looks: &[Look::Step(&[Kind::Pour], judge)],
};

const AFTER: Text = text("from face coat to backing", "de la capa vista al trasdós");
const EARLIEST: Text = text("earliest", "como pronto");
const LATEST: Text = text("latest", "como tarde");

fn judge(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let pour = subject.read(view::pour).filter(|pour| is_backed(pour));
    pour.and_then(hit).into_iter().collect()
}

/// Whether a thin face coat was backed.
fn is_backed(pour: &Pour) -> bool {
    pour.backing_after_min.is_some()
        || pour.layers.is_some_and(|layers| layers > 1)
        || pour.consolidation == Some(Consolidation::Sprayed)
}

fn hit(pour: &Pour) -> Option<Hit> {
    let minutes =
        |name, value: Option<f64>| value.map_or(missing(name), |it| number(name, it, Dimension::Minute));
    let window = pour.backing_window_min;
    let facts = vec![
        minutes(AFTER, pour.backing_after_min),
        minutes(EARLIEST, window.map(|it| it[0])),
        minutes(LATEST, window.map(|it| it[1])),
    ];
    match (pour.backing_after_min, window) {
        (Some(after), Some([earliest, latest])) => {
            (after < earliest || after > latest).then(|| Hit::violated([], facts))
        }
        _ => Some(Hit::cannot_tell([], facts)),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn backed(after: f64) -> Bench {
        let window = json!({ "layers": 2, "backing_after_min": after, "backing_window_min": [30, 75] });
        Bench::with_piece(json!({})).pour_with(window)
    }

    #[test]
    pub(crate) fn clear() {
        for after in [30.0, 75.0] {
            backed(after).expect_clear(&RULE);
        }
        Bench::poured().expect_clear(&RULE);
        Bench::with_piece(json!({})).pour_with(json!({ "layers": 1 })).expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for after in [29.0, 76.0] {
            let bench = backed(after);
            let poured = bench.last();
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[poured]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        for more in [
            json!({ "layers": 2 }),
            json!({ "backing_after_min": 40 }),
            json!({ "consolidation": "sprayed" }),
        ] {
            let bench = Bench::with_piece(json!({})).pour_with(more);
            let poured = bench.last();
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[poured]]);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        backed(90.0).expect_accepted(&RULE);
    }
}
