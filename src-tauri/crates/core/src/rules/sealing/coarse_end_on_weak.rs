//! `coarse-end-on-weak`

use super::{is_first_coat, product_of, since_last_application};
use crate::body::setup::MaterialClass;
use crate::rules::grinding::{grit_fact, is_cut, region_fact, regions, size_um};
use crate::rules::prelude::*;
use crate::rules::strength::{Asked, Standing, against};

pub(crate) static RULE: Rule = Rule {
    code: "coarse-end-on-weak",
    title: text(
        "Ending at 200 under a reactive sealer is for strong concrete",
        "Acabar en 200 bajo un sellador reactivo es para hormigón resistente",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A penetrating sealer leaves the face as the grit left it. On strong paste 200 is a tight matt; on weaker paste it stays rough, catches dirt and wears pale at once.",
        "Un sellador penetrante deja la cara como la dejó el grano. En pasta fuerte el 200 es un mate cerrado; en una más débil queda áspero, coge suciedad y se aclara enseguida.",
    ),
    remedy: text(
        "Go on to 400, or show 7,000 psi (48 MPa) by a break or the mix's own curve first.",
        "Seguir hasta 400, o mostrar antes 48 MPa con una rotura o la curva propia de la mezcla.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let product = product_of(past, subject.read(view::seal_coat), subject);
    if product.is_none_or(|(it, _)| it.class != MaterialClass::ReactiveSealer)
        || !is_first_coat(past, subject)
    {
        return Vec::new();
    }
    let coarse = regions(past, subject.region).into_iter().filter_map(|region| {
        let since = since_last_application(past, Some(region));
        let mut passes = since.all(view::grit_pass).filter(|(step, _)| covers(step, Some(region)));
        // What hand paper rubs over a cut face afterwards is its last grit too.
        let (step, pass) = passes.next_back().filter(|(_, pass)| is_cut(pass))?;
        let coarse =
            size_um(pass).is_none_or(|size| size > limits::FINE_END_UM.value * limits::SAME_GRIT.value);
        coarse.then_some((region, step, pass))
    });
    coarse
        .filter_map(|(region, step, pass)| {
            let mut facts: Vec<Fact> = region_fact(Some(region)).into_iter().collect();
            facts.push(grit_fact(text("last grit", "último grano"), pass));
            weak(past, subject, step, facts)
        })
        .collect()
}

fn weak(past: &Past<'_, '_>, subject: &Subject<'_>, last: &Step, mut facts: Vec<Fact>) -> Option<Hit> {
    let asked = Asked {
        gate_mpa: limits::MATT_AT_200.value,
        // A trial grind shows that grains hold, not that 200 closes.
        grit_um: None,
        planned: subject.step.is_none(),
        vein: false,
    };
    let evidence = against(past, subject.at, &asked);
    facts.extend(evidence.facts.iter().cloned());
    facts.push(limits::MATT_AT_200.fact());
    let mut steps = evidence.steps.clone();
    steps.retain(|step| !std::ptr::eq(*step, last));
    steps.insert(0, last);
    match evidence.standing {
        Standing::Enough => None,
        Standing::Short => Some(Hit::violated(steps, facts).until(evidence.sure_at)),
        Standing::Unknown => Some(Hit::cannot_tell(steps, facts)),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn broke(bench: &mut Bench, mpa: f64) -> crate::id::Hash {
        bench.pour_step(48.0, "strength", json!({ "method": "cylinder", "result_mpa": mpa }))
    }

    #[test]
    pub(crate) fn clear() {
        // 7,000 psi is 48.263 MPa.
        let mut strong = Bench::poured();
        broke(&mut strong, 48.263);
        strong.step(50.0, "grit_pass", pass(200));
        strong.step(100.0, "seal_coat", coat(1));
        strong.expect_clear(&RULE);
        let mut finer = Bench::poured();
        finer.step(50.0, "grit_pass", pass(400));
        finer.step(100.0, "seal_coat", coat(1));
        finer.expect_clear(&RULE);
        let mut film = Bench::poured();
        film.step(50.0, "grit_pass", pass(200));
        film.step(200.0, "seal_coat", film_coat(1));
        film.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let weak = broke(&mut bench, 48.2);
        let ground = bench.step(50.0, "grit_pass", pass(200));
        let coated = bench.step(100.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[ground, weak, coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let ground = bench.step(50.0, "grit_pass", pass(200));
        let coated = bench.step(100.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground, coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(50.0, "grit_pass", pass(200));
        bench.step(100.0, "seal_coat", coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn hand_paper_after_the_machine_is_the_last_grit() {
        let mut bench = Bench::poured();
        bench.step(50.0, "grit_pass", pass(200));
        bench.step(51.0, "grit_pass", hand_paper(600));
        bench.step(100.0, "seal_coat", coat(1));
        bench.expect_clear(&RULE);
    }
}
