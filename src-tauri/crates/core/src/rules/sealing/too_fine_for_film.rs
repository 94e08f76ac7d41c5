//! `too-fine-for-film`

use super::{is_first_coat, pad_um, product_fact, product_of, since_last_application};
use crate::rules::grinding::{region_fact, regions, size_um};
use crate::rules::prelude::*;
use crate::sums::grit::Grit;

pub(crate) static RULE: Rule = Rule {
    code: "too-fine-for-film",
    title: text(
        "Under a film the last grit is no finer than its data sheet says",
        "Bajo una película el último grano no es más fino de lo que dice su ficha",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Sheet,
    why: text(
        "A film keyed to fine scratches holds for a season. Where its maker names a last grit, a smoother face gives it too little to hold on to, and it lifts at edges and wet spots.",
        "Una película agarrada a rayas finas dura una temporada. Si el fabricante indica un último grano, una cara más lisa le da poco a que agarrarse y se levanta en cantos y zonas mojadas.",
    ),
    remedy: text(
        "Abrade again with the grit the sheet names, rinse, dry, and record the pass.",
        "Lijar de nuevo con el grano que indica la ficha, enjuagar, secar y registrar la pasada.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let product = product_of(past, subject.read(view::seal_coat), subject);
    let Some((product, _)) = product.filter(|(_, class)| class.film) else { return Vec::new() };
    let Some(finest) = product.finest_last_grit.filter(|_| is_first_coat(past, subject)) else {
        return Vec::new();
    };
    let judged = regions(past, subject.region).into_iter().filter_map(|region| {
        let since = since_last_application(past, Some(region));
        let (step, size) = last_grit(&since, region)?;
        let mut facts = vec![product_fact(Some(product))];
        facts.extend(region_fact(Some(region)));
        facts.push(count(text("finest last grit", "grano final más fino"), finest, 0));
        let (Some(size), Some(limit)) = (size, pad_um(finest)) else {
            facts.push(missing(text("size of the last grit", "tamaño del último grano")));
            return Some(Hit::cannot_tell([step], facts));
        };
        let fine = size * limits::SAME_GRIT.value < limit;
        fine.then(|| Hit::violated([step], facts))
    });
    judged.collect()
}

/// The last work with a grit on a region, and its particle size where its scale knows the number.
fn last_grit<'a>(past: &Past<'_, 'a>, region: Region) -> Option<(&'a Step, Option<f64>)> {
    let covering = past.steps.iter().copied().filter(|step| covers(step, Some(region)));
    let mut ground = covering.filter_map(|step| {
        let body = step.body()?;
        let pass = view::grit_pass(body).map(size_um);
        let strip = || {
            let (number, scale) = view::strip(body).and_then(|it| it.grit.zip(it.scale))?;
            Some(Grit { number, scale }.particle_um().ok())
        };
        pass.or_else(strip).map(|size| (step, size))
    });
    ground.next_back()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn film(grit: Option<u32>) -> Bench {
        let mut bench = Bench::poured();
        bench.product("film", json!({ "class": "waterborne_urethane", "finest_last_grit": grit }));
        bench
    }

    #[test]
    pub(crate) fn clear() {
        let mut at_limit = film(Some(200));
        at_limit.step(100.0, "grit_pass", pass(200));
        at_limit.step(200.0, "seal_coat", film_coat(1));
        at_limit.expect_clear(&RULE);
        let mut no_limit = film(None);
        no_limit.step(100.0, "grit_pass", pass(3000));
        no_limit.step(200.0, "seal_coat", film_coat(1));
        no_limit.expect_clear(&RULE);
        let mut as_cast = film(Some(200));
        as_cast.step(200.0, "seal_coat", film_coat(1));
        as_cast.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = film(Some(200));
        bench.step(99.0, "grit_pass", pass(200));
        let fine = bench.step(100.0, "grit_pass", pass(400));
        let coated = bench.step(200.0, "seal_coat", film_coat(1));
        bench.step(205.0, "seal_coat", film_coat(2));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[fine, coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = film(Some(200));
        let odd = bench.step(100.0, "grit_pass", pass(9000));
        let coated = bench.step(200.0, "seal_coat", film_coat(1));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[odd, coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = film(Some(200));
        bench.step(100.0, "grit_pass", pass(400));
        bench.step(200.0, "seal_coat", film_coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn pads_of_different_makes_count_as_the_same() {
        // Pad 200 is about 75 µm. P180 with 82 µm is coarser; P220 with 68 µm is finer by a ratio of 1.103, just
        // more than the 1.10 within which two grits count as the same.
        for (grit, clear) in [(180, true), (220, false)] {
            let mut bench = film(Some(200));
            bench.step(100.0, "grit_pass", hand_paper(grit));
            bench.step(200.0, "seal_coat", film_coat(1));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "P{grit}");
        }
    }
}
