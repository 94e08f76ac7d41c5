//! `acid-on-soft-stone`

use super::soluble_stone;
use crate::rules::casting::samples;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "acid-on-soft-stone",
    title: text(
        "No acid on stone that it dissolves, unless a sample of it was agreed",
        "Sin ácido sobre piedra que se disuelve, salvo muestra acordada",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Marble, limestone, dolomite and shell are carbonates: acid dissolves them faster than the paste round them. The stone goes dull and hollow within the minute, and no polish brings the level back.",
        "Mármol, caliza, dolomía y conchas son carbonatos: el ácido los disuelve antes que la pasta que los rodea. La piedra queda mate y hundida en menos de un minuto, y ningún pulido recupera el nivel.",
    ),
    remedy: text(
        "Open the face with a pad or paper instead. If the etched look is wanted, agree a sample that shows acid on this stone, and record it before the wash.",
        "Abrir la cara con disco o lija. Si se busca ese aspecto, acordar una muestra que enseñe el ácido sobre esta piedra y registrarla antes del lavado.",
    ),
    looks: &[Look::Step(&[Kind::AcidWash], judge)],
};

const STONE: Text = text("stone in the mix", "piedra de la mezcla");
const AGREED: Text = text("sample of acid on this stone", "muestra de ácido sobre esta piedra");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let shown = samples(past, subject.at).iter().any(|(_, it)| it.acid_on_soft_stone == Some(true));
    if shown {
        return Vec::new();
    }
    match soluble_stone(past.case) {
        None => vec![Hit::cannot_tell([], vec![missing(STONE)])],
        Some(stone) if stone.is_empty() => Vec::new(),
        Some(stone) => {
            let mut facts: Vec<Fact> = stone.into_iter().map(|it| word(STONE, it.label())).collect();
            facts.push(missing(AGREED));
            vec![Hit::violated([], facts)]
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn of_stone(stone: &str) -> Bench {
        let mut bench = Bench::poured();
        bench.object("mix", "mix", json!({ "name": "Mix", "aggregates": ["siliceous", stone] }));
        bench
    }

    fn agreed() -> serde_json::Value {
        json!({ "samples": ["etched"], "agreed_by": "Client", "acid_on_soft_stone": true })
    }

    #[test]
    pub(crate) fn clear() {
        let mut hard = of_stone("basalt");
        hard.step(100.0, "acid_wash", wash());
        hard.expect_clear(&RULE);
        let mut shown = of_stone("marble");
        shown.step(-50.0, "sample_agreed", agreed());
        shown.step(100.0, "acid_wash", wash());
        shown.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for stone in ["marble", "limestone", "dolomite", "shell"] {
            let mut bench = of_stone(stone);
            let washed = bench.step(100.0, "acid_wash", wash());
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[washed]]);
        }
        let mut late = of_stone("marble");
        late.step(100.0, "acid_wash", wash());
        late.step(101.0, "sample_agreed", agreed());
        late.expect_violated(&RULE);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.object("mix", "mix", json!({ "name": "Mix", "aggregates": [] }));
        let washed = bench.step(100.0, "acid_wash", wash());
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[washed]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = of_stone("marble");
        bench.step(100.0, "acid_wash", wash());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_vein_of_marble_counts_too() {
        let mut bench = Bench::with_piece(json!({ "vein_mix": id("vein mix") })).pour();
        bench.object("mix", "vein mix", json!({ "name": "Vein", "aggregates": ["marble"] }));
        bench.step(100.0, "acid_wash", wash());
        bench.expect_violated(&RULE);
    }

    #[test]
    fn a_planned_wash_is_stopped_until_the_sample_is_agreed_for_piece_or_job() {
        let mut bench = of_stone("marble");
        assert_eq!(bench.bare_gate(&RULE, 100.0, "acid_wash").unwrap().state, GateState::Blocked);
        bench.job_step(90.0, "sample_agreed", agreed());
        assert_eq!(bench.bare_gate(&RULE, 100.0, "acid_wash"), None);
    }
}
