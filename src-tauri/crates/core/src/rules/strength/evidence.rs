//! The ladder of evidence for strength.
//!
//! A break counts most, then the mix's own maturity curve, then a trial grind at the planned grit, then age and
//! temperature against the shop's history. A break or a stated curve value below the gate speaks for its day
//! only: what was found later, on a lower rung, overtakes it. A rebound hammer is refused on thin members, and
//! a scratch is hardness.

use super::curves::on_curve;
use crate::body::casting::{Strength, StrengthMethod, TrialResult};
use crate::body::surface::GritScale;
use crate::moment::Moment;
use crate::rules::prelude::*;
use crate::sums::grit::Grit;
use crate::sums::strength::{Course, now};

/// Readings after the last one are assumed no warmer than this, in °C: a heated piece cools down.
const ASSUME_AT_MOST_C: f64 = 20.0;

const STRENGTH: Text = text("strength", "resistencia");
const EVIDENCE: Text = text("evidence", "prueba");

/// What the evidence says against a gate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Standing {
    /// At or above the gate.
    Enough,
    /// There is no evidence that decides it.
    Unknown,
    /// Below the gate.
    Short,
}

/// What the evidence says, and what it is.
#[derive(Debug, Clone)]
pub(crate) struct Evidence<'a> {
    /// Against the gate.
    pub standing: Standing,
    /// The entries.
    pub steps: Vec<&'a Step>,
    /// What they show.
    pub facts: Vec<Fact>,
    /// When the curve is sure to reach the gate.
    pub sure_at: Option<Moment>,
}

impl<'a> Evidence<'a> {
    fn of(standing: Standing, step: &'a Step, facts: Vec<Fact>) -> Self {
        Self { standing, steps: vec![step], facts, sure_at: None }
    }

    fn none(facts: Vec<Fact>) -> Self {
        Self { standing: Standing::Unknown, steps: Vec::new(), facts, sure_at: None }
    }
}

/// What is asked of the evidence.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Asked {
    /// The gate, in MPa.
    pub gate_mpa: f64,
    /// Particle size of the planned grit, in µm, where a trial grind may answer.
    pub grit_um: Option<f64>,
    /// The moment lies ahead: the temperature of the last reading is assumed to go on.
    pub planned: bool,
    /// Of the vein or inlay, not of the main mix.
    pub vein: bool,
}

/// The strength of a break as a cylinder, in MPa.
pub(super) fn cylinder_mpa(strength: &Strength) -> Option<f64> {
    match strength.method {
        StrengthMethod::Cylinder => strength.result_mpa,
        StrengthMethod::Cube => {
            let ratio = strength.cube_per_cylinder.unwrap_or(limits::CUBE_PER_CYLINDER.value);
            strength.result_mpa.filter(|_| ratio > 0.0).map(|mpa| mpa / ratio)
        }
        _ => None,
    }
}

/// The strength a break or a stated curve value gives, in MPa as cylinders.
fn stated_mpa(strength: &Strength) -> Option<f64> {
    match strength.method {
        StrengthMethod::Maturity => strength.result_mpa,
        _ => cylinder_mpa(strength),
    }
}

/// The strength that is known, and when the curve reaches another.
pub(crate) struct Known<'a> {
    /// As cylinders, in MPa.
    pub mpa: f64,
    /// The entries.
    pub steps: Vec<&'a Step>,
    /// What they show.
    pub facts: Vec<Fact>,
    /// When the curve reaches the strength asked about; `None` where a single value is all there is.
    pub reached_at: Option<Moment>,
}

/// The strength known of the main mix at a moment: by the curve where it has a value, else as last stated.
pub(crate) fn known<'a>(
    past: &Past<'_, 'a>,
    at: Moment,
    planned: bool,
    reaching_mpa: f64,
) -> Option<Known<'a>> {
    let curve = on_curve(past.case, past.steps, at).and_then(|curve| {
        let assume_c = planned.then(|| curve.history.last().c.clamp(0.0, ASSUME_AT_MOST_C));
        let course = Course { fit: &curve.fit, history: &curve.history, maturity: &curve.maturity, assume_c };
        let value = now(&curve.fit, curve.maturity.equivalent_age_h).ok()?;
        let mpa = value.strength_mpa.or(value.at_least_mpa)?;
        let facts = vec![
            word(EVIDENCE, StrengthMethod::Maturity.label()),
            number(STRENGTH, mpa, Dimension::Megapascal),
        ];
        let steps = past.all(view::temperature).map(|(step, _)| step).next_back().into_iter().collect();
        Some(Known { mpa, steps, facts, reached_at: course.gate(reaching_mpa).ok()?.reached_at })
    });
    let stated = || {
        let (step, it, mpa) = of_part(past, false)
            .into_iter()
            .rev()
            .find_map(|(step, it)| Some((step, it, stated_mpa(it)?)))?;
        Some(Known { mpa, steps: vec![step], facts: value_facts(it, mpa), reached_at: None })
    };
    curve.or_else(stated)
}

fn of_part<'a>(past: &Past<'_, 'a>, vein: bool) -> Vec<(&'a Step, &'a Strength)> {
    past.all(view::strength).filter(|(_, it)| (it.vein == Some(true)) == vein).collect()
}

/// Climbs the ladder.
pub(crate) fn against<'a>(past: &Past<'_, 'a>, at: Moment, asked: &Asked) -> Evidence<'a> {
    let entries = of_part(past, asked.vein);
    let stated = entries.iter().rev().find_map(|(step, it)| Some((*step, *it, stated_mpa(it)?)));
    if let Some((step, it, mpa)) = stated.filter(|(.., mpa)| *mpa >= asked.gate_mpa) {
        return Evidence::of(Standing::Enough, step, value_facts(it, mpa));
    }
    if let Some(curve) = by_curve(past, at, asked) {
        return curve;
    }
    let since = stated.map_or(&entries[..], |(step, ..)| later(&entries, step));
    if let Some(evidence) = by_trial(since, asked).or_else(|| by_rebound(past, since, asked)) {
        return evidence;
    }
    match stated {
        Some((step, it, mpa)) => Evidence::of(Standing::Short, step, value_facts(it, mpa)),
        None => by_age(past, &entries, at),
    }
}

fn later<'e, 'a>(entries: &'e [(&'a Step, &'a Strength)], step: &Step) -> &'e [(&'a Step, &'a Strength)] {
    let at = entries.iter().position(|(it, _)| std::ptr::eq(*it, step));
    at.map_or(&[], |at| &entries[at + 1..])
}

fn value_facts(strength: &Strength, mpa: f64) -> Vec<Fact> {
    vec![word(EVIDENCE, strength.method.label()), number(STRENGTH, mpa, Dimension::Megapascal)]
}

/// The curve decides where it is sure: its band above the gate, or its value below it.
fn by_curve<'a>(past: &Past<'_, 'a>, at: Moment, asked: &Asked) -> Option<Evidence<'a>> {
    let curve = on_curve(past.case, past.steps, at).filter(|_| !asked.vein)?;
    let assume_c = asked.planned.then(|| curve.history.last().c.clamp(0.0, ASSUME_AT_MOST_C));
    let course = Course { fit: &curve.fit, history: &curve.history, maturity: &curve.maturity, assume_c };
    let gate = course.gate(asked.gate_mpa).ok()?;
    let value = now(&curve.fit, curve.maturity.equivalent_age_h).ok()?.strength_mpa;
    let ahead = asked.planned && gate.reached_at.is_some();
    let standing = match (gate.sure_at, gate.reached_at) {
        (Some(sure), _) if sure <= at => Standing::Enough,
        (_, Some(reached)) if reached <= at => return None,
        // Outside the ages of the breaks the curve says nothing.
        _ if value.is_none() && !ahead => return None,
        _ => Standing::Short,
    };
    let mut facts = vec![word(EVIDENCE, StrengthMethod::Maturity.label())];
    facts.extend(value.map(|mpa| number(STRENGTH, mpa, Dimension::Megapascal)));
    let steps = past.all(view::temperature).map(|(step, _)| step).next_back().into_iter().collect();
    Some(Evidence { standing, steps, facts, sure_at: gate.sure_at.or(gate.reached_at) })
}

/// A trial grind answers for its own grit and for finer ones.
fn by_trial<'a>(entries: &[(&'a Step, &'a Strength)], asked: &Asked) -> Option<Evidence<'a>> {
    let grit_um = asked.grit_um?;
    let coarse_enough = |it: &Strength| {
        let tried = it.trial_grit.map(|number| Grit { number, scale: GritScale::Pad }.particle_um());
        tried.is_none_or(|size| size.is_ok_and(|size| size * limits::SAME_GRIT.value >= grit_um))
    };
    let (step, it) =
        entries.iter().rev().find(|(_, it)| it.method == StrengthMethod::TrialGrind && it.trial.is_some())?;
    let facts = || {
        vec![
            word(EVIDENCE, it.method.label()),
            word(text("trial", "prueba"), it.trial.unwrap_or(TrialResult::Pulled).label()),
        ]
    };
    match it.trial? {
        TrialResult::Pulled => Some(Evidence::of(Standing::Short, step, facts())),
        TrialResult::Shaved if coarse_enough(it) => Some(Evidence::of(Standing::Enough, step, facts())),
        TrialResult::Shaved => None,
    }
}

/// A rebound hammer says something on a thick member only.
fn by_rebound<'a>(
    past: &Past<'_, 'a>,
    entries: &[(&'a Step, &'a Strength)],
    asked: &Asked,
) -> Option<Evidence<'a>> {
    past.case.thickness_mm().filter(|mm| *mm >= limits::REBOUND_THICKNESS.value)?;
    let (step, it) = entries.iter().rev().find(|(_, it)| it.method == StrengthMethod::Rebound)?;
    let mpa = it.result_mpa?;
    let standing = if mpa >= asked.gate_mpa { Standing::Enough } else { Standing::Short };
    Some(Evidence::of(standing, step, value_facts(it, mpa)))
}

/// Age and temperature against the shop's history are good for a caution only; so is nothing at all.
fn by_age<'a>(past: &Past<'_, 'a>, entries: &[(&'a Step, &'a Strength)], at: Moment) -> Evidence<'a> {
    let mut facts = Vec::new();
    let stated = entries.last();
    match stated {
        Some((_, it)) => facts.push(word(EVIDENCE, it.method.label())),
        None => facts.push(missing(EVIDENCE)),
    }
    if let Some((pour, _)) = past.case.pour() {
        facts.push(number(text("age", "edad"), hours_between(pour.done.finish(), at), Dimension::Hour));
    }
    Evidence { steps: stated.map(|(step, _)| *step).into_iter().collect(), ..Evidence::none(facts) }
}
