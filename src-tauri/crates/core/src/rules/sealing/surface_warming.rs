//! `surface-warming`

use super::is_first_coat;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "surface-warming",
    title: text(
        "A coat goes on while the surface is steady or cooling, out of the sun",
        "La mano se da con la superficie estable o enfriándose, sin sol",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Air in the pores of a warming piece swells and blows pinholes and blisters through the coat. In the sun the coat also skins over before it has sunk in.",
        "El aire de los poros de una pieza que se calienta se dilata y sopla poros y ampollas a través de la mano. Al sol además forma piel antes de penetrar.",
    ),
    remedy: text(
        "Wait for the afternoon or for shade, let the piece take the temperature of the room, and read the surface twice before the coat.",
        "Esperar a la tarde o a la sombra, dejar que la pieza tome la temperatura del local y leer la superficie dos veces antes de la mano.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const STEADY: Text = text("steady or falling, not in the sun", "estable o bajando, sin sol");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.read(view::seal_coat);
    match coat.and_then(|it| it.surface_steady) {
        Some(Answer::Yes) => return Vec::new(),
        Some(Answer::No) => return vec![Hit::violated([], vec![word(STEADY, Answer::No.label())])],
        Some(Answer::NotLooked) | None => {}
    }
    let mut read: Vec<(Option<&Step>, f64)> = past
        .all(view::climate)
        .filter(|(step, _)| hours_between(step.done.start, subject.at) <= limits::CLIMATE_FRESH.value)
        .map(|(step, climate)| (Some(step), climate.surface_c))
        .collect();
    read.extend(subject.step.and(coat).map(|it| (None, it.surface_c)));
    match read[..] {
        [(Some(first), from), .., (last, to)] => rising(first, from, last, to),
        // Nobody said and nobody read twice: told once per application, and not of a planned coat, which is
        // asked for it.
        _ if subject.step.is_some() && is_first_coat(past, subject) => {
            vec![Hit::cannot_tell([], vec![missing(STEADY)]).weighing(Severity::Note)]
        }
        _ => Vec::new(),
    }
}

fn rising(first: &Step, from: f64, last: Option<&Step>, to: f64) -> Vec<Hit> {
    if to - from <= limits::SURFACE_RISE.value {
        return Vec::new();
    }
    let facts = vec![
        number(text("surface before", "superficie antes"), from, Dimension::Celsius),
        number(text("surface", "superficie"), to, Dimension::Celsius),
        limits::SURFACE_RISE.fact(),
    ];
    vec![Hit::violated(std::iter::once(first).chain(last), facts)]
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn unsaid(number: u32, surface: f64) -> serde_json::Value {
        let mut body = with(coat(number), json!({ "surface_c": surface }));
        body.as_object_mut().unwrap().remove("surface_steady");
        body
    }

    fn climate(surface: f64) -> serde_json::Value {
        json!({ "air_c": 20, "rh_pct": 50, "surface_c": surface })
    }

    #[test]
    pub(crate) fn clear() {
        let mut said = Bench::poured();
        said.step(100.0, "seal_coat", coat(1));
        said.expect_clear(&RULE);
        let mut read = Bench::poured();
        read.step(99.0, "climate", climate(19.5));
        read.step(100.0, "seal_coat", unsaid(1, 20.0));
        read.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut said = Bench::poured();
        let coated = said.step(100.0, "seal_coat", with(coat(1), json!({ "surface_steady": "no" })));
        said.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[coated]]);
        let mut read = Bench::poured();
        let before = read.step(99.0, "climate", climate(19.4));
        let coated = read.step(100.0, "seal_coat", unsaid(1, 20.0));
        read.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[before, coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.step(90.0, "climate", climate(10.0));
        let coated = bench.step(100.0, "seal_coat", unsaid(1, 20.0));
        bench.step(105.0, "seal_coat", unsaid(2, 20.0));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", with(coat(1), json!({ "surface_steady": "no" })));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn two_readings_before_a_planned_coat_tell() {
        let mut bench = Bench::poured();
        assert_eq!(bench.bare_gate(&RULE, 100.0, "seal_coat"), None);
        bench.step(99.0, "climate", climate(18.0));
        bench.step(100.0, "climate", climate(21.0));
        assert_eq!(bench.bare_gate(&RULE, 100.5, "seal_coat").unwrap().state, GateState::Open);
    }
}
