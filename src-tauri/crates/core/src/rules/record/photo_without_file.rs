//! `photo-without-file`

use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "photo-without-file",
    title: text(
        "Every photo an entry names is in the folder",
        "Toda foto que nombra una entrada está en la carpeta",
    ),
    severity: Severity::Note,
    safety: false,
    basis: Basis::Record,
    why: text(
        "A photo that is named but not there proves nothing. It may still be on its way from another device; it may have been deleted.",
        "Una foto nombrada que no está no prueba nada. Puede estar en camino desde otro dispositivo; puede haberse borrado.",
    ),
    remedy: text(
        "Let the devices that took photos finish bringing them to the folder. If the file is still on a phone or camera, add it again: the same bytes find their entry.",
        "Dejar que los dispositivos que tomaron fotos terminen de llevarlas a la carpeta. Si el archivo sigue en un teléfono o una cámara, añadirlo otra vez: los mismos bytes encuentran su entrada.",
    ),
    looks: &[Look::Piece(check)],
};

/// One finding over all entries concerned. Nothing is said where nobody looked into the folder.
fn check(case: &Case<'_>) -> Vec<Hit> {
    let Some(here) = &case.shop.photos_here else { return Vec::new() };
    let mut gone = 0;
    let mut steps: Vec<&Step> = Vec::new();
    for step in &case.history {
        let named = step.common().into_iter().flat_map(|common| &common.photos);
        let lost = named.filter(|photo| !here.contains(&photo.hash)).count();
        if lost > 0 {
            gone += lost;
            steps.push(step);
        }
    }
    if steps.is_empty() {
        return Vec::new();
    }
    let facts =
        vec![count(text("photos not in the folder", "fotos que no están en la carpeta"), gone as f64, 0)];
    vec![Hit::violated(steps, facts)]
}

#[cfg(test)]
pub(crate) mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::id::Hash;
    use crate::rules::testing::*;
    use crate::rules::{Finding, State, Verdict, check_piece};

    const HERE: Hash = Hash([1; 32]);
    const GONE: Hash = Hash([2; 32]);

    fn with_photo(bench: &mut Bench, hours: f64, photo: Hash) -> Hash {
        bench.step(hours, "rinse", with(rinse(), json!({ "photos": [{ "hash": photo }] })))
    }

    fn found(bench: &Bench, here: Option<&[Hash]>) -> Vec<Finding> {
        let mut shop = bench.shop();
        shop.photos_here = here.map(|here| here.iter().copied().collect::<BTreeSet<Hash>>());
        check_piece(&shop, id("piece")).into_iter().filter(|it| *it.rule == RULE).collect()
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        with_photo(&mut bench, 100.0, HERE);
        assert_eq!(found(&bench, Some(&[HERE])), []);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        with_photo(&mut bench, 100.0, HERE);
        let first = with_photo(&mut bench, 101.0, GONE);
        let second = with_photo(&mut bench, 102.0, GONE);
        let found = found(&bench, Some(&[HERE]));
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].verdict, found[0].severity), (Verdict::Violated, Severity::Note));
        assert_eq!(found[0].entries, [first, second]);
    }

    /// Where nobody looked into the folder nothing is claimed; `verify` looks.
    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        with_photo(&mut bench, 100.0, GONE);
        assert_eq!(found(&bench, None), []);
        assert_eq!(found(&bench, Some(&[])).len(), 1);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        let named = with_photo(&mut bench, 100.0, GONE);
        let body = json!({ "rule": RULE.code, "accepted_by": "Owner", "why": "the phone was lost" });
        let exception = bench.about(200.0, "exception", &[named], body);
        assert_eq!(found(&bench, Some(&[]))[0].state, State::Accepted(exception));
    }
}
