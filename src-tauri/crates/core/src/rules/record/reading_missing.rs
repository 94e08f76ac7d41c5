//! `reading-missing`

use crate::body::casting::{CureMethod, InitialCure, Strength, StrengthMethod, Temperature};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "reading-missing",
    title: text("An entry of evidence holds its reading", "Una entrada de prueba lleva su lectura"),
    severity: Severity::Note,
    safety: false,
    basis: Basis::Record,
    why: text(
        "A break without a result or heat without a temperature shows that somebody was there, not what was found. Rules then say that they cannot tell.",
        "Una rotura sin resultado o un calor sin temperatura muestra que alguien estuvo allí, no qué halló. Las reglas dicen entonces que no se sabe.",
    ),
    remedy: text(
        "Correct the entry with the reading, or with the logger's file, if it was written down anywhere; if not, leave it as it is.",
        "Corregir la entrada con la lectura, o con el archivo del registrador, si quedó escrita en algún sitio; si no, dejarla como está.",
    ),
    looks: &[Look::Step(&[Kind::Strength, Kind::Temperature, Kind::InitialCure], judge)],
};

fn judge(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    // Before the work there is nothing to read yet.
    if subject.step.is_none() {
        return Vec::new();
    }
    let of_strength = subject.read(view::strength).and_then(strength);
    let of_temperature = || subject.read(view::temperature).and_then(temperature);
    let of_cure = || subject.read(view::initial_cure).and_then(heat);
    let unread = of_strength.or_else(of_temperature).or_else(of_cure);
    unread.map(|name| Hit::violated([], vec![missing(name)])).into_iter().collect()
}

fn strength(it: &Strength) -> Option<Text> {
    let lacks = match it.method {
        StrengthMethod::TrialGrind => it.trial.is_none(),
        StrengthMethod::Cylinder | StrengthMethod::Cube | StrengthMethod::Rebound => it.result_mpa.is_none(),
        // A curve is worked out from the temperatures; age speaks for itself.
        _ => false,
    };
    lacks.then_some(text("result", "resultado"))
}

fn temperature(it: &Temperature) -> Option<Text> {
    let series = it.series.as_ref().is_some_and(|series| !series.is_empty());
    (it.reading_c.is_none() && !series && it.file.is_none()).then_some(text("temperature", "temperatura"))
}

fn heat(it: &InitialCure) -> Option<Text> {
    let lacks = it.method == CureMethod::Heat && it.peak_c.is_none();
    lacks.then_some(text("hottest concrete", "hormigón más caliente"))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.pour_step(2.0, "initial_cure", json!({ "method": "heat", "peak_c": 45 }));
        bench.pour_step(2.0, "initial_cure", json!({ "method": "covered" }));
        bench.pour_step(24.0, "strength", json!({ "method": "cylinder", "result_mpa": 30 }));
        bench.pour_step(24.0, "strength", json!({ "method": "trial_grind", "trial": "shaved" }));
        bench.pour_step(24.0, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        bench.pour_step(24.0, "temperature", json!({ "of": "concrete", "file": "b".repeat(64) }));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let heat = bench.pour_step(2.0, "initial_cure", json!({ "method": "heat" }));
        let broke = bench.pour_step(24.0, "strength", json!({ "method": "cylinder" }));
        let tried = bench.pour_step(25.0, "strength", json!({ "method": "trial_grind" }));
        let read = bench.pour_step(26.0, "temperature", json!({ "of": "air", "series": [] }));
        let each = [&[heat][..], &[broke], &[tried], &[read]];
        bench.expect(&RULE, Verdict::Violated, Severity::Note, &each);
    }

    /// A reading is there or it is not; an entry that cannot be read here is another rule's business.
    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.pour_step(24.0, "strength", json!({ "method": "cylinder" }));
        bench.lock_last();
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.pour_step(24.0, "strength", json!({ "method": "cube" }));
        bench.expect_accepted(&RULE);
    }
}
