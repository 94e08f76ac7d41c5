//! `entry-unreadable`

use crate::rules::prelude::*;
use crate::shop::Reading;

pub(crate) static RULE: Rule = Rule {
    code: "entry-unreadable",
    title: text(
        "Every entry about a piece can be read here",
        "Toda entrada sobre una pieza se puede leer aquí",
    ),
    severity: Severity::Note,
    safety: false,
    basis: Basis::Record,
    why: text(
        "An entry that is encrypted, withheld or written by a newer version counts in the chain, but no rule can look into it: the record of the piece has a gap here.",
        "Una entrada cifrada, retenida o escrita por una versión nueva cuenta en la cadena, pero ninguna regla puede mirar dentro: aquí el registro de la pieza tiene un hueco.",
    ),
    remedy: text(
        "Give the shop's passphrase on this device, or update the program. What was erased on purpose stays erased.",
        "Dar la frase de paso del taller en este dispositivo o actualizar el programa. Lo borrado a propósito sigue borrado.",
    ),
    looks: &[Look::Piece(check)],
};

/// Why an entry cannot be read, with the words for it.
const fn reason(reading: &Reading) -> Option<Text> {
    match reading {
        Reading::Read(_) => None,
        Reading::Newer(_) => Some(text("written by a newer version", "escrita por una versión más nueva")),
        Reading::Withheld => Some(text("withheld or erased", "retenida o borrada")),
        Reading::Locked => Some(text("encrypted, no passphrase here", "cifrada, sin frase de paso aquí")),
    }
}

/// One finding per reason, over all entries concerned.
fn check(case: &Case<'_>) -> Vec<Hit> {
    let mut reasons: Vec<(Text, Vec<&Step>)> = Vec::new();
    for step in &case.history {
        let Some(why) = reason(&step.reading) else { continue };
        match reasons.iter_mut().find(|(it, _)| *it == why) {
            Some((_, steps)) => steps.push(step),
            None => reasons.push((why, vec![step])),
        }
    }
    let hit = |(why, steps): (Text, Vec<&Step>)| {
        let facts = vec![
            word(text("why", "por qué"), why),
            count(text("entries", "entradas"), steps.len() as f64, 0),
        ];
        Hit::cannot_tell(steps, facts)
    };
    reasons.into_iter().map(hit).collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(100.0, "rinse", rinse());
        bench.expect_clear(&RULE);
    }

    /// What it finds is always that something cannot be told: two locked entries make one finding.
    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let first = bench.step(100.0, "rinse", rinse());
        bench.lock_last();
        let second = bench.step(101.0, "acid_wash", wash());
        bench.lock_last();
        bench.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[first, second]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.step(100.0, "rinse", rinse());
        bench.lock_last();
        bench.expect_cannot_tell(&RULE);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "rinse", rinse());
        bench.lock_last();
        bench.expect_accepted(&RULE);
    }
}
