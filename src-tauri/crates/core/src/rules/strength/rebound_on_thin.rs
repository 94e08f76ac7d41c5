//! `rebound-on-thin`

use crate::body::casting::StrengthMethod;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "rebound-on-thin",
    title: text(
        "A rebound hammer reads thick members only, and a scratch is hardness, not strength",
        "El esclerómetro solo lee piezas gruesas, y un rayado es dureza, no resistencia",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::Unconfirmed(text("EN 12504-2 and ASTM C805", "EN 12504-2 y ASTM C805")),
    why: text(
        "A thin piece springs under the hammer and swallows part of the blow, so the number says nothing of its strength; a scratch tells how hard the skin is. Neither counts for a gate, and a cut that trusts them pulls grains.",
        "Una pieza fina cede bajo el golpe y se traga parte, así que el número no dice nada de su resistencia; un rayado dice lo dura que es la piel. Ninguno vale para un umbral, y un corte que se fíe arranca granos.",
    ),
    remedy: text(
        "Record a break, a value of the mix's own curve, or a trial grind at the planned grit on the back or an offcut.",
        "Registrar una rotura, un valor de la curva de la mezcla o una prueba de desbaste con el grano previsto en el dorso o en un recorte.",
    ),
    looks: &[Look::Step(&[Kind::Strength], judge)],
};

const THICKNESS: Text = text("thickness", "espesor");
const EVIDENCE: Text = text("evidence", "prueba");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(strength) = subject.read(view::strength) else { return Vec::new() };
    let mut facts = vec![word(EVIDENCE, strength.method.label())];
    match strength.method {
        StrengthMethod::Scratch => vec![Hit::violated([], facts).weighing(Severity::Note)],
        StrengthMethod::Rebound => {
            let thickness = past.case.thickness_mm();
            facts.push(
                thickness.map_or(missing(THICKNESS), |mm| number(THICKNESS, mm, Dimension::Millimetre)),
            );
            facts.push(limits::REBOUND_THICKNESS.fact());
            match thickness {
                Some(mm) if mm >= limits::REBOUND_THICKNESS.value => Vec::new(),
                Some(_) => vec![Hit::violated([], facts)],
                None => vec![Hit::cannot_tell([], facts)],
            }
        }
        _ => Vec::new(),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn hammered(thickness: Option<f64>) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::with_piece(json!({ "thickness_mm": thickness })).pour();
        let read = bench.step(48.0, "strength", json!({ "method": "rebound", "result_mpa": 40 }));
        (bench, read)
    }

    #[test]
    pub(crate) fn clear() {
        hammered(Some(100.0)).0.expect_clear(&RULE);
        let mut broken = Bench::poured();
        broken.step(48.0, "strength", json!({ "method": "cylinder", "result_mpa": 40 }));
        broken.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (bench, read) = hammered(Some(99.0));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[read]]);
        let mut scratched = Bench::poured();
        let scratch = scratched.step(48.0, "strength", json!({ "method": "scratch" }));
        scratched.expect(&RULE, Verdict::Violated, Severity::Note, &[&[scratch]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (bench, read) = hammered(None);
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[read]]);
    }

    #[test]
    pub(crate) fn excepted() {
        hammered(Some(30.0)).0.expect_accepted(&RULE);
    }
}
