//! `soft-stone-dished`

use super::{is_deep, passes, region_fact, regions};
use crate::body::setup::Aggregate;
use crate::body::surface::StoneState;
use crate::rules::prelude::*;
use crate::rules::sealing::is_first_coat;

pub(crate) static RULE: Rule = Rule {
    code: "soft-stone-dished",
    title: text(
        "Stone softer than the paste stays level with it",
        "La piedra más blanda que la pasta queda a su nivel",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Where the stone is softer than the paste, flexible pads and too much pressure dish it, and coarse metal pulls it: the face feels like orange peel, holds dirt, and a film bridges the hollows and wears through on the rims.",
        "Si la piedra es más blanda que la pasta, los discos flexibles y el exceso de presión la rehunden y el metal grueso la arranca: la cara parece piel de naranja, guarda suciedad, y una película salva los huecos y se gasta en los bordes.",
    ),
    remedy: text(
        "Rigid backer, sharp diamonds, light pressure, plenty of water. Dished or pulled stone: go back until it is level, or fill and pass again. Run a hand over the face and record how the stone stands.",
        "Soporte rígido, diamante vivo, poca presión, mucha agua. Piedra rehundida o arrancada: volver atrás hasta nivelar, o rellenar y repasar. Pasar la mano por la cara y registrar cómo queda la piedra.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], ground), Look::Step(&[Kind::SealCoat], sealed)],
};

const STONE: Text = text("the stone to the paste", "la piedra respecto a la pasta");

fn ground(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let stone = subject.read(view::grit_pass).and_then(|pass| pass.stone);
    let Some(stone) = stone.filter(|stone| *stone != StoneState::Flush) else { return Vec::new() };
    let mut facts = vec![word(STONE, stone.label())];
    facts.extend(region_fact(subject.region));
    vec![Hit::violated([], facts)]
}

/// Soft stone that was ground open, and nobody looked how it stands.
fn sealed(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(soft) = past.case.mix().map(|mix| soft_of(&mix.aggregates)) else { return Vec::new() };
    if soft.is_empty() || !is_first_coat(past, subject) {
        return Vec::new();
    }
    let unknown = |region: Region| {
        let passes = passes(past, Some(region));
        let (last, _) = passes.last()?;
        let looked = passes.iter().any(|(_, pass)| pass.stone.is_some());
        let open = is_deep(past, Some(region)) == Some(true);
        let mut facts: Vec<Fact> = soft.iter().map(|it| word(text("stone", "piedra"), it.label())).collect();
        facts.push(missing(STONE));
        facts.extend(region_fact(Some(region)));
        (open && !looked).then(|| Hit::cannot_tell([*last], facts))
    };
    regions(past, subject.region).into_iter().filter_map(unknown).collect()
}

/// Stone that is softer than a good paste.
fn soft_of(aggregates: &[Aggregate]) -> Vec<Aggregate> {
    use Aggregate as A;
    let soft = |it: &Aggregate| matches!(it, A::Limestone | A::Marble | A::Dolomite | A::Shell | A::Light);
    aggregates.iter().copied().filter(soft).collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn marble() -> Bench {
        let mut bench = Bench::with_piece(json!({ "finish": "aggregate" })).pour();
        bench.object("mix", "mix", json!({ "name": "Mix", "aggregates": ["marble"] }));
        bench
    }

    fn stone(state: &str) -> serde_json::Value {
        with(pass(200), json!({ "stone": state, "exposure": "stone" }))
    }

    #[test]
    pub(crate) fn clear() {
        let mut level = marble();
        level.step(100.0, "grit_pass", stone("flush"));
        level.step(140.0, "seal_coat", coat(1));
        level.expect_clear(&RULE);
        let mut hard = Bench::with_piece(json!({ "finish": "aggregate" })).pour();
        hard.step(100.0, "grit_pass", pass(200));
        hard.step(140.0, "seal_coat", coat(1));
        hard.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for state in ["dished", "pulled"] {
            let mut bench = marble();
            let cut = bench.step(100.0, "grit_pass", stone(state));
            bench.step(140.0, "seal_coat", coat(1));
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[cut]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = marble();
        bench.step(100.0, "grit_pass", pass(100));
        let last = bench.step(101.0, "grit_pass", pass(200));
        let coated = bench.step(140.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[last, coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = marble();
        bench.step(100.0, "grit_pass", stone("dished"));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn before_a_coat_it_is_asked() {
        let mut bench = marble();
        bench.step(100.0, "grit_pass", pass(200));
        assert_eq!(bench.bare_gate(&RULE, 140.0, "seal_coat").unwrap().state, GateState::Open);
    }
}
