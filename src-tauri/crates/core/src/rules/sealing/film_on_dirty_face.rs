//! `film-on-dirty-face`

use super::{is_first_coat, product_fact, product_of, since_last_application};
use crate::body::casting::DemouldMark;
use crate::body::surface::{Bond, CleanAgent};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "film-on-dirty-face",
    title: text(
        "A film-forming sealer goes on a face free of oil, wax, sealant and dust",
        "Un sellador de película va sobre una cara sin aceite, cera, sellante ni polvo",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A film holds only by its grip on the paste. On oil, wax or sealant it crawls and leaves craters; on dust it sticks to the dust and comes off with it.",
        "Una película solo aguanta por su agarre a la pasta. Sobre aceite, cera o sellante se retrae y deja cráteres; sobre polvo se pega al polvo y sale con él.",
    ),
    remedy: text(
        "Take the marks off with a cleaner that dissolves them, or abrade; rinse the dust off, let the face dry, wipe with a white cloth, and record the cleaning.",
        "Quitar las marcas con un limpiador que las disuelva o lijar; enjuagar el polvo, dejar secar, pasar un paño blanco y registrar la limpieza.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const SEEN: Text = text("seen on the face", "visto en la cara");
const CLEANED: Text = text("cleaned since", "limpiada después");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let product = product_of(past, subject.read(view::seal_coat), subject);
    let Some((product, _)) = product.filter(|(_, class)| class.film) else { return Vec::new() };
    if !is_first_coat(past, subject) {
        return Vec::new();
    }
    let past = since_last_application(past, subject.region);
    let named = product_fact(Some(product));
    match face(&past, subject) {
        Face::Clean => Vec::new(),
        Face::Marked(step, mark) => {
            vec![Hit::violated([step], vec![named, word(SEEN, mark.label()), missing(CLEANED)])]
        }
        Face::Dusty(step) => vec![Hit::cannot_tell([step], vec![named, missing(CLEANED)])],
        Face::Unknown => vec![Hit::cannot_tell([], vec![named, missing(SEEN), missing(CLEANED)])],
    }
}

/// How the record leaves a face.
enum Face<'a> {
    Clean,
    /// With oil, wax or sealant on it.
    Marked(&'a Step, DemouldMark),
    /// Abraded, and no cleaning recorded after that.
    Dusty(&'a Step),
    /// Nobody looked at it and nobody cleaned it.
    Unknown,
}

fn face<'a>(past: &Past<'_, 'a>, subject: &Subject<'_>) -> Face<'a> {
    let mut face = Face::Unknown;
    for step in past.steps.iter().copied().filter(|step| covers(step, subject.region)) {
        let marked = matches!(face, Face::Marked(..));
        face = match work(step) {
            Work::Looked(Some(mark)) => Face::Marked(step, mark),
            Work::Looked(None) => Face::Clean,
            Work::Abraded { swept: true } | Work::Dissolved => Face::Clean,
            Work::Abraded { swept: false } => Face::Dusty(step),
            Work::Washed if !marked => Face::Clean,
            Work::Washed | Work::Other => continue,
        };
    }
    face
}

/// What a step does to dirt.
enum Work {
    Looked(Option<DemouldMark>),
    Abraded { swept: bool },
    Dissolved,
    Washed,
    Other,
}

fn work(step: &Step) -> Work {
    let Some(body) = step.body() else { return Work::Other };
    if let Some(it) = view::demould(body) {
        let dirt = [DemouldMark::Oil, DemouldMark::Wax, DemouldMark::SealantMark];
        return Work::Looked(it.face.iter().copied().find(|mark| dirt.contains(mark)));
    }
    if let Some(it) = view::grit_pass(body) {
        // Water carries the dust of a wet pass away; that of a dry one stays on the face.
        return if it.bond == Bond::NonWoven { Work::Other } else { Work::Abraded { swept: it.wet } };
    }
    if let Some(it) = view::strip(body) {
        return Work::Abraded { swept: it.residue_removed == Answer::Yes };
    }
    match view::clean(body).map(|it| it.agent) {
        Some(CleanAgent::Water | CleanAgent::Hypochlorite) => Work::Washed,
        Some(_) => Work::Dissolved,
        None if matches!(step.kind, Some(Kind::Rinse | Kind::Flush | Kind::AcidWash)) => Work::Washed,
        None => Work::Other,
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn demoulded(face: &str) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let out = bench.step(24.0, "demould", json!({ "face": [face] }));
        (bench, out)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut as_cast, _) = demoulded("clean");
        as_cast.step(200.0, "seal_coat", film_coat(1));
        as_cast.expect_clear(&RULE);
        let (mut degreased, _) = demoulded("oil");
        degreased.step(100.0, "clean", json!({ "agent": "alkaline_degreaser" }));
        degreased.step(200.0, "seal_coat", film_coat(1));
        degreased.expect_clear(&RULE);
        let (mut ground, _) = demoulded("wax");
        ground.step(100.0, "grit_pass", pass(200));
        ground.step(101.0, "rinse", rinse());
        ground.step(200.0, "seal_coat", film_coat(1));
        ground.expect_clear(&RULE);
        let (mut penetrating, _) = demoulded("oil");
        penetrating.step(200.0, "seal_coat", coat(1));
        penetrating.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for mark in ["oil", "wax", "sealant_mark"] {
            let (mut bench, out) = demoulded(mark);
            bench.step(100.0, "clean", json!({ "agent": "water" }));
            let coated = bench.step(200.0, "seal_coat", film_coat(1));
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[out, coated]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut dusty, _) = demoulded("clean");
        let ground = dusty.step(100.0, "grit_pass", with(pass(200), json!({ "wet": false })));
        let coated = dusty.step(200.0, "seal_coat", film_coat(1));
        dusty.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground, coated]]);
        let mut unseen = Bench::poured();
        let coated = unseen.step(200.0, "seal_coat", film_coat(1));
        unseen.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = demoulded("oil");
        bench.step(200.0, "seal_coat", film_coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_later_coat_of_the_same_application_is_not_asked_again() {
        let (mut bench, _) = demoulded("clean");
        bench.step(200.0, "seal_coat", film_coat(1));
        bench.step(205.0, "grit_pass", with(hand_paper(320), json!({ "wet": false })));
        bench.step(206.0, "seal_coat", film_coat(2));
        bench.expect_clear(&RULE);
    }
}
