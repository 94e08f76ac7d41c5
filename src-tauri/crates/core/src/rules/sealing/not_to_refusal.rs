//! `not-to-refusal`

use super::{is_first_coat, product_fact, product_of};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "not-to-refusal",
    title: text(
        "A penetrating sealer goes on until the face takes no more",
        "Un sellador penetrante se da hasta que la cara no admite más",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "What protects is what went in. A face that could still drink is protected in patches: the first oil finds the dry spots.",
        "Protege lo que ha entrado. Una cara que aún podía beber queda protegida a manchas: el primer aceite encuentra los sitios secos.",
    ),
    remedy: text(
        "Keep the face wet with it for the time on the sheet until it is refused, take the rest off before it dries, and record it. A drop of water afterwards shows dry spots.",
        "Mantener la cara mojada el tiempo de la ficha hasta que lo rechace, retirar el sobrante antes de secar y registrarlo. Después una gota de agua muestra los sitios secos.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const REFUSED: Text = text("wet to refusal", "saturado hasta rechazo");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(coat) = subject.read(view::seal_coat) else { return Vec::new() };
    let product = product_of(past, Some(coat), subject).filter(|(_, class)| class.penetrating);
    let Some((product, _)) = product else { return Vec::new() };
    let facts = |answer: Option<Answer>| {
        vec![product_fact(Some(product)), answer.map_or(missing(REFUSED), |it| word(REFUSED, it.label()))]
    };
    match coat.to_refusal {
        Some(Answer::Yes) => Vec::new(),
        Some(Answer::No) => vec![Hit::violated([], facts(coat.to_refusal))],
        Some(Answer::NotLooked) => vec![Hit::cannot_tell([], facts(coat.to_refusal))],
        // Told once per application; a planned coat is asked for it.
        None if subject.step.is_some() && is_first_coat(past, subject) => {
            vec![Hit::cannot_tell([], facts(None)).weighing(Severity::Note)]
        }
        None => Vec::new(),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn said(number: u32, answer: Option<&str>) -> serde_json::Value {
        let mut body = coat(number);
        let map = body.as_object_mut().unwrap();
        map.remove("to_refusal");
        map.extend(answer.map(|it| ("to_refusal".to_owned(), json!(it))));
        body
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", said(1, Some("yes")));
        bench.step(102.0, "seal_coat", said(2, None));
        bench.step(300.0, "seal_coat", film_coat(1));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", said(1, Some("yes")));
        let coated = bench.step(102.0, "seal_coat", said(2, Some("no")));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut unsaid = Bench::poured();
        let coated = unsaid.step(100.0, "seal_coat", said(1, None));
        unsaid.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[coated]]);
        let mut unseen = Bench::poured();
        let coated = unseen.step(100.0, "seal_coat", said(1, Some("not_looked")));
        unseen.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", said(1, Some("no")));
        bench.expect_accepted(&RULE);
    }
}
