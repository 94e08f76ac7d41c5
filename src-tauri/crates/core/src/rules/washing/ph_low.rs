//! `ph-low`

use super::acid_left_on::CLOSING;
use super::{RinseWater, face_reading, rinse_water};
use crate::body::surface::PhReading;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "ph-low",
    title: text(
        "After the last rinse the face is not more acid than the rinse water",
        "Tras el último enjuague la cara no es más ácida que el agua de enjuague",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Unconfirmed(text("SSPC-SP 13/NACE 6 and ASTM D4260", "SSPC-SP 13/NACE 6 y ASTM D4260")),
    why: text(
        "A final rinse more than one pH below the rinse water says that acid is still in the pores. It goes on eating paste under the sealer, blooms white and lifts it.",
        "Un último enjuague con más de un punto de pH por debajo del agua indica que queda ácido en los poros. Sigue comiendo pasta bajo el sellador, aflora blanco y lo despega.",
    ),
    remedy: text(
        "Neutralize and rinse again until the last rinse reads as the rinse water. Read the rinse water from the tap too, and record both.",
        "Neutralizar y enjuagar otra vez hasta que el último enjuague dé como el agua. Medir también el agua del grifo y registrar las dos lecturas.",
    ),
    looks: &[Look::Step(CLOSING, judge)],
};

const READ: Text = text("pH after the last rinse", "pH tras el último enjuague");
/// Readings come with one decimal.
const ROUNDING: f64 = 1e-6;

/// The last reading counts, at the first step that closes the face.
fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let covering = |step: &Step| covers(step, subject.region);
    let wash = past.all(view::acid_wash).map(|(step, _)| step).rfind(|step| covering(step));
    let since = wash.map_or(*past, |wash| past.after(wash));
    let closes = |step: &&&Step| step.kind.is_some_and(|kind| CLOSING.contains(&kind)) && covering(step);
    if since.steps.iter().any(|step| closes(&step)) {
        return Vec::new();
    }
    let mut steps = since.steps.iter().copied();
    let neutral = steps.rfind(|step| step.kind == Some(Kind::Neutralise) && covering(step));
    // Read before it was neutralised, the face was another one; a rinse after the reading takes nothing back.
    let left = neutral.map_or(since, |step| since.after(step));
    let hit = match (face_reading(&left, subject.region), wash) {
        (Some((step, read)), _) => low(step, read, &rinse_water(past)),
        // A wash that was not neutralised is another rule's business.
        (None, Some(wash)) if neutral.is_some() => Some(Hit::cannot_tell([wash], vec![missing(READ)])),
        (None, _) => None,
    };
    hit.into_iter().collect()
}

fn low<'a>(step: &'a Step, read: &PhReading, water: &RinseWater<'a>) -> Option<Hit> {
    let mut facts = vec![count(READ, read.ph, 1)];
    facts.extend(water.facts());
    facts.push(limits::PH_BELOW.fact());
    let below = |ph: f64| read.ph < ph - limits::PH_BELOW.value - ROUNDING;
    let steps = water.step.into_iter().chain([step]);
    if below(water.low) {
        return Some(Hit::violated(steps, facts));
    }
    below(water.high).then(|| Hit::cannot_tell(steps, facts))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn washed() -> Bench {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        bench.step(100.1, "rinse", rinse());
        bench.step(100.2, "neutralise", neutralise());
        bench.step(100.3, "rinse", rinse());
        bench
    }

    fn reading(ph: f64, of: &str) -> serde_json::Value {
        json!({ "ph": ph, "of": of, "method": "paper" })
    }

    fn dry(bench: &mut Bench) -> crate::id::Hash {
        bench.step(100.6, "dry", json!({ "at": "rack" }))
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = washed();
        bench.step(100.4, "ph_reading", reading(7.6, "rinse_water"));
        bench.step(100.5, "ph_reading", reading(6.6, "final_rinse"));
        dry(&mut bench);
        bench.step(130.0, "seal_coat", coat(1));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = washed();
        let tap = bench.step(100.4, "ph_reading", reading(7.6, "rinse_water"));
        let last = bench.step(100.5, "ph_reading", reading(6.5, "final_rinse"));
        let dried = dry(&mut bench);
        bench.step(130.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[tap, last, dried]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut unread = Bench::poured();
        let washed_at = unread.step(100.0, "acid_wash", wash());
        unread.step(100.1, "rinse", rinse());
        unread.step(100.2, "neutralise", neutralise());
        unread.step(100.3, "rinse", rinse());
        let dried = dry(&mut unread);
        unread.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[washed_at, dried]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = washed();
        bench.step(100.5, "ph_reading", reading(3.0, "surface"));
        dry(&mut bench);
        bench.expect_accepted(&RULE);
    }

    /// Tap water is 6.5 to 8.5 (from memory of the US secondary standards): under 5.5 is too low for any, from 7.5 on
    /// for none.
    #[test]
    fn without_a_reading_of_the_rinse_water_the_usual_tap_decides_where_it_can() {
        for (ph, verdict) in [
            (5.4, Some(Verdict::Violated)),
            (5.5, Some(Verdict::CannotTell)),
            (7.4, Some(Verdict::CannotTell)),
            (7.5, None),
        ] {
            let mut bench = washed();
            bench.step(100.5, "ph_reading", reading(ph, "final_rinse"));
            dry(&mut bench);
            assert_eq!(bench.findings(&RULE).first().map(|it| it.verdict), verdict, "{ph}");
        }
    }

    #[test]
    fn a_low_reading_shuts_the_next_step_until_rinsed_and_read_again() {
        let mut bench = washed();
        bench.step(100.4, "ph_reading", reading(7.6, "rinse_water"));
        bench.step(100.5, "ph_reading", reading(4.0, "final_rinse"));
        assert_eq!(bench.bare_gate(&RULE, 101.0, "dry").unwrap().state, GateState::Blocked);
        bench.step(101.1, "rinse", rinse());
        bench.step(101.2, "ph_reading", reading(7.4, "final_rinse"));
        assert_eq!(bench.bare_gate(&RULE, 102.0, "dry"), None);
        dry(&mut bench);
    }
}
