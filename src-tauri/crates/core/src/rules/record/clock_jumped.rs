//! `clock-jumped`

use std::collections::BTreeMap;

use crate::body::Group;
use crate::id::DeviceId;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "clock-jumped",
    title: text(
        "A device's clock agrees with the order of its entries",
        "El reloj de un dispositivo concuerda con el orden de sus entradas",
    ),
    severity: Severity::Note,
    safety: false,
    basis: Basis::Record,
    why: text(
        "A clock that was set back, or work dated after it was written down, puts steps in the wrong order: drying times, windows and ages read from them may be wrong.",
        "Un reloj atrasado, o un trabajo fechado después de escribirlo, pone los pasos en otro orden: los secados, ventanas y edades que se leen de ellos pueden estar mal.",
    ),
    remedy: text(
        "Set the device's clock by the network. Correct entries whose time of work is wrong; those that are right need nothing.",
        "Poner el reloj del dispositivo por la red. Corregir las entradas con hora equivocada; las que estén bien no necesitan nada.",
    ),
    looks: &[Look::Piece(check)],
};

/// One finding per device, over all its entries about the piece.
fn check(case: &Case<'_>) -> Vec<Hit> {
    let mut by_device: BTreeMap<DeviceId, (Vec<&Step>, f64)> = BTreeMap::new();
    let work = |step: &&&Step| {
        step.kind.is_some_and(|kind| matches!(kind.group(), Group::Before | Group::Work | Group::After))
    };
    for step in case.history.iter().copied().filter(|step| work(&step)) {
        let hours = off_by(case, step);
        if hours > limits::CLOCK_JUMP.value {
            let (steps, most) = by_device.entry(step.device).or_default();
            steps.push(step);
            *most = most.max(hours);
        }
    }
    let hits = by_device.into_iter().map(|(device, (steps, most))| {
        let name = case.shop.devices.get(&device).and_then(|it| it.name.clone());
        let facts = vec![
            said(text("device", "dispositivo"), &name.unwrap_or_else(|| device.to_string())),
            number(text("largest difference", "diferencia mayor"), most, Dimension::Hour),
            limits::CLOCK_JUMP.fact(),
        ];
        Hit::violated(steps, facts)
    });
    hits.collect()
}

/// By how much the wall clock an entry was written by disagrees with its place in the order, or the work lies
/// after its writing; in hours. A correction is judged by the first version where it only moves the work.
fn off_by(case: &Case<'_>, step: &Step) -> f64 {
    let first = step.corrects.and_then(|hash| case.shop.step(&hash)).unwrap_or(step);
    let order = (step.order.clock.ms - step.wrote.timestamp_millis()).unsigned_abs() as f64 / 3_600_000.0;
    let ahead = hours_between(first.wrote, first.done.start);
    order.max(ahead)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.written(100.0, 99.0, "rinse", rinse());
        bench.step(101.0, "rinse", rinse());
        bench.clock_of_last(102.1);
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut dated_ahead = Bench::poured();
        let ahead = dated_ahead.written(100.0, 98.9, "rinse", rinse());
        dated_ahead.expect(&RULE, Verdict::Violated, Severity::Note, &[&[ahead]]);
        let mut set_back = Bench::poured();
        let first = set_back.step(100.0, "rinse", rinse());
        set_back.clock_of_last(101.2);
        let second = set_back.step(101.0, "rinse", rinse());
        set_back.clock_of_last(105.0);
        set_back.expect(&RULE, Verdict::Violated, Severity::Note, &[&[first, second]]);
    }

    /// Every entry carries both clocks: there is nothing that could be missing.
    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.written(100.0, 90.0, "rinse", rinse());
        bench.lock_last();
        assert!(bench.findings(&RULE).iter().all(|it| it.verdict == Verdict::Violated));
        bench.expect_violated(&RULE);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.written(100.0, 90.0, "rinse", rinse());
        bench.expect_accepted(&RULE);
    }
}
