//! `face-not-open`

use super::{coats, is_first_coat, pad_um, product_fact, product_of};
use crate::body::sealing::DropResult;
use crate::body::setup::Product;
use crate::body::surface::GritScale;
use crate::rules::grinding::{is_cut, region_fact, regions, size_um};
use crate::rules::limits::Source;
use crate::rules::prelude::*;
use crate::sums::grit::Grit;

pub(crate) static RULE: Rule = Rule {
    code: "face-not-open",
    title: text("A reactive sealer needs an open face", "Un sellador reactivo necesita la cara abierta"),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A reactive sealer bites into opened paste. On a closed or too finely polished face it finds nothing, dries on top, whitens and wears off within months.",
        "Un sellador reactivo muerde en la pasta abierta. En una cara cerrada o demasiado pulida no encuentra nada, seca encima, blanquea y se gasta en meses.",
    ),
    remedy: text(
        "Open the face: acid wash, or abrade with a pad no finer than the product's limit, or wet paper 600 over the as-cast face. Then drop water on it: it should darken within minutes, not bead.",
        "Abrir la cara: lavado ácido, o lijar con disco no más fino que el límite del producto, o lija de agua 600 sobre la cara de molde. Después una gota de agua: debe oscurecer en minutos, no formar gota.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const OPENED: Text = text("opened by", "abierta con");
/// The finest hand paper that still opens an as-cast face (common practice, no source).
const PAPER: Grit = Grit { number: 600.0, scale: GritScale::P };

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(coat) = subject.read(view::seal_coat).filter(|_| is_first_coat(past, subject)) else {
        return Vec::new();
    };
    let Some((product, class)) = product_of(past, Some(coat), subject) else {
        return vec![Hit::cannot_tell([], vec![product_fact(None)])];
    };
    if !product.needs_bite.or(class.needs_bite).unwrap_or(false) {
        return Vec::new();
    }
    regions(past, subject.region).into_iter().filter_map(|region| closed(past, region, product)).collect()
}

/// What the last work on a face left.
enum Left<'a> {
    Nothing,
    Open,
    TooFine(&'a Step),
    Unknown(&'a Step),
}

fn closed(past: &Past<'_, '_>, region: Region, product: &Product) -> Option<Hit> {
    // An older coat closed the face: only what came after it counts.
    let sealed = coats(past, Some(region)).last().map(|(step, _)| *step);
    let past = sealed.map_or(*past, |step| past.after(step));
    let limit = limits::of_product(product, |p| p.finest_last_grit, |c| c.finest_last_grit);
    let (left, since) = last_work(&past, region, limit);
    let mut facts = vec![product_fact(Some(product))];
    facts.extend(region_fact(Some(region)));
    let drop = since.all(view::water_drop).rfind(|(step, _)| covers(step, Some(region)));
    if let Some((step, drop)) = drop {
        facts.push(word(text("a drop of water", "una gota de agua"), drop.result.label()));
        return (drop.result == DropResult::Beads).then(|| Hit::violated([step], facts));
    }
    match left {
        Left::Open => None,
        Left::Nothing => {
            facts.push(missing(OPENED));
            Some(Hit::violated([], facts).weighing(Severity::Stop))
        }
        Left::Unknown(step) => {
            facts.push(missing(OPENED));
            Some(Hit::cannot_tell([step], facts))
        }
        Left::TooFine(step) => {
            let by_sheet = limit.is_some_and(|it| it.source == Source::DataSheet);
            facts
                .extend(limit.map(|it| count(text("finest last grit", "grano final más fino"), it.value, 0)));
            facts.extend(limit.map(|it| it.source_fact()));
            let severity = if by_sheet { Severity::Stop } else { Severity::Caution };
            Some(Hit::violated([step], facts).weighing(severity))
        }
    }
}

/// The last work that opened or closed a region, and what came after it.
fn last_work<'c, 'a>(
    past: &Past<'c, 'a>,
    region: Region,
    limit: Option<Applied>,
) -> (Left<'a>, Past<'c, 'a>) {
    let mut found = (Left::Nothing, *past);
    for step in past.steps.iter().copied().filter(|step| covers(step, Some(region))) {
        let Some(body) = step.body() else { continue };
        let washed = view::acid_wash(body).is_some();
        let pass = view::grit_pass(body).map(|pass| {
            let hand = !is_cut(pass);
            (
                size_um(pass),
                if hand { PAPER.particle_um().ok() } else { limit.and_then(|it| pad_um(it.value)) },
            )
        });
        let stripped = view::strip(body).map(|strip| {
            let grit = strip.grit.zip(strip.scale);
            (
                grit.map_or(Some(f64::MAX), |(number, scale)| Grit { number, scale }.particle_um().ok()),
                limit.and_then(|it| pad_um(it.value)),
            )
        });
        let left = match pass.or(stripped) {
            _ if washed => Left::Open,
            Some((Some(size), Some(finest))) if size * limits::SAME_GRIT.value >= finest => Left::Open,
            Some((Some(_), None)) => Left::Open,
            Some((Some(_), Some(_))) => Left::TooFine(step),
            Some((None, _)) => Left::Unknown(step),
            None => continue,
        };
        found = (left, past.after(step));
    }
    found
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        for (kind, body) in [("acid_wash", wash()), ("grit_pass", pass(400)), ("grit_pass", hand_paper(600))]
        {
            let mut bench = Bench::poured();
            bench.step(50.0, kind, body);
            bench.step(100.0, "seal_coat", coat(1));
            bench.step(102.0, "seal_coat", coat(2));
            bench.expect_clear(&RULE);
        }
        let mut film = Bench::poured();
        film.step(100.0, "seal_coat", film_coat(1));
        film.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut unopened = Bench::poured();
        let coated = unopened.step(100.0, "seal_coat", coat(1));
        unopened.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[coated]]);
        let mut fine = Bench::poured();
        let ground = fine.step(50.0, "grit_pass", pass(800));
        let coated = fine.step(100.0, "seal_coat", coat(1));
        fine.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[ground, coated]]);
        let mut sheet = Bench::poured();
        sheet.product("sealer", json!({ "class": "reactive_sealer", "finest_last_grit": 200 }));
        let ground = sheet.step(50.0, "grit_pass", pass(400));
        let coated = sheet.step(100.0, "seal_coat", coat(1));
        sheet.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[ground, coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut stranger = Bench::poured();
        let coated =
            stranger.step(100.0, "seal_coat", with(coat(1), json!({ "product": id("not in the shop") })));
        stranger.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_drop_of_water_outranks_the_grit() {
        for (grit, result, clear) in [(800, "darkens_slow", true), (200, "beads", false)] {
            let mut bench = Bench::poured();
            bench.step(50.0, "grit_pass", pass(grit));
            bench.step(90.0, "water_drop", json!({ "result": result, "region": "face" }));
            bench.step(100.0, "seal_coat", coat(1));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{grit}");
        }
    }

    #[test]
    fn each_region_is_opened_by_itself() {
        let mut bench = Bench::poured();
        bench.step(50.0, "grit_pass", pass(200));
        let edge = bench.step(51.0, "grit_pass", with(pass(1500), json!({ "region": "edge" })));
        let coated = bench.step(100.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[edge, coated]]);
    }
}
