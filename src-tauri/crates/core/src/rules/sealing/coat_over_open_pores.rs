//! `coat-over-open-pores`

use super::{is_first_coat, product_of, since_last_application};
use crate::body::casting::DemouldMark;
use crate::rules::grinding::is_cut;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "coat-over-open-pores",
    title: text(
        "Open pores are filled before a film",
        "Los poros abiertos se rellenan antes de una película",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Air in an open pore blows through the wet film as a pinhole or a blister; where it does not, the film hangs over a hole and breaks at the first knock.",
        "El aire de un poro abierto atraviesa la película fresca como poro o ampolla; donde no, la película cuelga sobre un hueco y se rompe al primer golpe.",
    ),
    remedy: text(
        "Fill the pores, let the fill cure, grind it flush and record the fill; or look the face over and record that none are open.",
        "Rellenar los poros, dejar curar, enrasar y registrar el relleno; o revisar la cara y registrar que no hay abiertos.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const FILLED: Text = text("open pores filled", "poros abiertos rellenados");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.read(view::seal_coat);
    let film = product_of(past, coat, subject).is_some_and(|(_, class)| class.film);
    if !film || !is_first_coat(past, subject) {
        return Vec::new();
    }
    let opened = opened(&since_last_application(past, subject.region), subject.region);
    let said = coat.and_then(|it| it.pores_filled);
    let fact = || said.map_or(missing(FILLED), |it| word(FILLED, it.label()));
    match (said, opened) {
        (Some(Answer::Yes), _) | (None, None) => Vec::new(),
        (Some(Answer::No), opened) => {
            let steps = opened.map(|(step, _)| step);
            vec![Hit::violated(steps, vec![fact()])]
        }
        (Some(Answer::NotLooked), None) => vec![Hit::cannot_tell([], vec![fact()])],
        (_, Some((step, Opened::Seen))) => {
            let holes = word(text("seen on the face", "visto en la cara"), DemouldMark::BugHoles.label());
            vec![Hit::violated([step], vec![holes, fact()])]
        }
        (_, Some((step, Opened::Cut))) => vec![Hit::cannot_tell([step], vec![fact()])],
    }
}

#[derive(Clone, Copy)]
enum Opened {
    /// Bug holes were seen out of the form.
    Seen,
    /// A machine cut the face open.
    Cut,
}

/// What opened pores on a region that no fill has closed since.
fn opened<'a>(past: &Past<'_, 'a>, region: Option<Region>) -> Option<(&'a Step, Opened)> {
    let mut opened = None;
    let mut filled = false;
    for step in past.steps.iter().copied().filter(|step| covers(step, region)) {
        let Some(body) = step.body() else { continue };
        if view::demould(body).is_some_and(|it| it.face.contains(&DemouldMark::BugHoles)) {
            opened = Some((step, Opened::Seen));
        } else if view::fill(body).is_some() {
            (opened, filled) = (None, true);
        } else if !filled && opened.is_none() && view::grit_pass(body).is_some_and(is_cut) {
            // Passes over a fill do not count as opening anew.
            opened = Some((step, Opened::Cut));
        }
    }
    opened
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn said(answer: &str) -> serde_json::Value {
        with(film_coat(1), json!({ "pores_filled": answer }))
    }

    #[test]
    pub(crate) fn clear() {
        let mut filled = Bench::poured();
        filled.step(24.0, "demould", json!({ "face": ["bug_holes"] }));
        filled.step(50.0, "grit_pass", pass(100));
        filled.step(51.0, "fill", cement_fill());
        filled.step(80.0, "grit_pass", pass(200));
        filled.step(200.0, "seal_coat", film_coat(1));
        filled.expect_clear(&RULE);
        let mut as_cast = Bench::poured();
        as_cast.step(24.0, "demould", json!({ "face": ["clean"] }));
        as_cast.step(100.0, "grit_pass", hand_paper(400));
        as_cast.step(200.0, "seal_coat", film_coat(1));
        as_cast.expect_clear(&RULE);
        let mut looked = Bench::poured();
        looked.step(50.0, "grit_pass", pass(100));
        looked.step(200.0, "seal_coat", said("yes"));
        looked.expect_clear(&RULE);
        let mut penetrating = Bench::poured();
        penetrating.step(24.0, "demould", json!({ "face": ["bug_holes"] }));
        penetrating.step(200.0, "seal_coat", coat(1));
        penetrating.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut seen = Bench::poured();
        let out = seen.step(24.0, "demould", json!({ "face": ["bug_holes"] }));
        let coated = seen.step(200.0, "seal_coat", film_coat(1));
        seen.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[out, coated]]);
        let mut open = Bench::poured();
        let coated = open.step(200.0, "seal_coat", said("no"));
        open.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut cut = Bench::poured();
        let ground = cut.step(50.0, "grit_pass", pass(100));
        let coated = cut.step(200.0, "seal_coat", film_coat(1));
        cut.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground, coated]]);
        let mut unseen = Bench::poured();
        let coated = unseen.step(200.0, "seal_coat", said("not_looked"));
        unseen.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.0, "seal_coat", said("no"));
        bench.expect_accepted(&RULE);
    }
}
