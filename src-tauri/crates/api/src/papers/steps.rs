//! The course of a piece on paper: steps, findings, exceptions, corrections.

use trowelogue_core::body::Body;
use trowelogue_core::id::ObjectId;
use trowelogue_core::rules::{self, State};
use trowelogue_core::shop::{self, Status};
use trowelogue_core::text::{Text, text};
use trowelogue_papers::model::{
    Correction, Exception, Fact, Finding, Severity, Standing, Step, StepMark, StepStatus,
};

use super::{Maker, may_stand, short};
use crate::format::{facts_of, name_of, note_of};
use crate::reading::{entry_lines, first_upper, title};

const STRUCK: Text = text("struck", "anulada");

impl Maker<'_> {
    /// Every entry of the piece that may stand in a paper, in order of work.
    pub(super) fn standing(&self, piece: ObjectId) -> Vec<&shop::Step> {
        self.shop.steps_of(piece).filter(|step| may_stand(step)).collect()
    }

    pub(super) fn step(&self, step: &shop::Step, findings: &[rules::Finding]) -> Step {
        let shop = self.shop;
        let caused = findings.iter().filter(|it| it.entries.contains(&step.hash));
        Step {
            when: self.voice.span(&step.done),
            what: first_upper(&title(&self.voice, step)),
            region: self.place(step),
            values: self.values(step),
            note: note_of(step),
            who: shop.person_name(step.person),
            device: self.device_name(step),
            late: step.late.then(|| self.voice.moment(&step.wrote)),
            status: status(step),
            hash: short(&step.hash),
            marks: caused.map(|it| self.mark(it)).collect(),
        }
    }

    fn device_name(&self, step: &shop::Step) -> String {
        let device = self.shop.devices.get(&step.device);
        device.and_then(|it| it.name.clone()).unwrap_or_else(|| step.device.to_string())
    }

    fn place(&self, step: &shop::Step) -> Option<String> {
        let common = step.common()?;
        let region = common.region.map(|it| self.voice.say(it.label()));
        let place = common.place.map(|it| self.voice.say(it.label()));
        let pour = step.object.filter(|id| self.shop.pours.contains_key(id));
        let pour = pour.map(|id| name_of(self.shop, id));
        let parts: Vec<String> = [region, place, pour].into_iter().flatten().collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    /// The recorded values; what a change costs stays out of every paper.
    fn values(&self, step: &shop::Step) -> Vec<Fact> {
        let price = crate::format::label_of(&self.voice, trowelogue_core::body::Kind::ChangeAgreed, "price");
        let is_change = matches!(step.body(), Some(Body::ChangeAgreed(_)));
        let shown = facts_of(&self.voice, self.shop, step).into_iter();
        shown.filter(|it| !(is_change && it.label == price)).map(|it| Fact::new(it.label, it.value)).collect()
    }

    fn mark(&self, finding: &rules::Finding) -> StepMark {
        StepMark {
            rule: finding.rule.code.into(),
            severity: severity(finding.severity),
            standing: standing(finding.state),
            title: self.voice.say(finding.rule.title),
        }
    }

    pub(super) fn finding(&self, finding: &rules::Finding) -> Finding {
        let facts = self.voice.facts(&finding.facts);
        let facts =
            facts.iter().map(|it| format!("{}: {}", it.label, it.value)).collect::<Vec<_>>().join("; ");
        let why = self.voice.say(finding.rule.why);
        Finding {
            rule: finding.rule.code.into(),
            title: self.voice.say(finding.rule.title),
            severity: severity(finding.severity),
            standing: standing(finding.state),
            why: if facts.is_empty() { why } else { format!("{facts}. {why}") },
            basis: finding.rule.basis.words(self.voice.lang),
            remedy: self.voice.say(finding.rule.remedy),
            clears: finding.clears_at.as_ref().map(|it| self.voice.moment(it)),
            entries: entry_lines(&self.voice, self.shop, &finding.entries),
        }
    }

    pub(super) fn exceptions(&self, steps: &[&shop::Step]) -> Vec<Exception> {
        let read = steps.iter().filter(|step| step.in_force).filter_map(|step| match step.body() {
            Some(Body::Exception(it)) => Some((step, &**it)),
            _ => None,
        });
        let exception =
            |(step, it): (&&shop::Step, &trowelogue_core::body::authority::Exception)| Exception {
                rule: it.rule.clone(),
                title: rules::find(&it.rule).map(|rule| self.voice.say(rule.title)).unwrap_or_default(),
                who: it.accepted_by.clone(),
                when: self.voice.moment(&step.done.start),
                why: it.why.clone(),
                hash: short(&step.hash),
            };
        read.map(exception).collect()
    }

    /// Corrections and strikes, each with both versions.
    pub(super) fn corrections(&self, steps: &[&shop::Step]) -> Vec<Correction> {
        let shop = self.shop;
        let mut corrections = Vec::new();
        for step in steps {
            let before = step.corrects.and_then(|first| shop.step(&first));
            if let (Some(before), Some(why)) = (before, &step.why_corrected) {
                corrections.push(self.correction(before, step, why.clone(), true));
            }
            let strike = step.struck_by.and_then(|hash| shop.step(&hash));
            if let (Some(strike), Some(Body::Strike(it))) = (strike, strike.and_then(shop::Step::body)) {
                corrections.push(self.correction(step, strike, it.why.clone(), false));
            }
        }
        corrections
    }

    fn correction(&self, before: &shop::Step, by: &shop::Step, why: String, replaced: bool) -> Correction {
        Correction {
            what: first_upper(&title(&self.voice, before)),
            who: self.shop.person_name(by.person),
            when: self.voice.moment(&by.wrote),
            why,
            before_hash: short(&before.hash),
            before: self.values(before),
            after_hash: if replaced {
                short(&by.hash)
            } else {
                format!("{} ({})", short(&by.hash), self.voice.say(STRUCK))
            },
            after: replaced.then(|| self.values(by)),
        }
    }
}

fn status(step: &shop::Step) -> StepStatus {
    match step.status {
        Status::Counts if step.open => StepStatus::Open,
        Status::Counts => StepStatus::Counts,
        Status::Struck => StepStatus::Struck,
        Status::Replaced => StepStatus::Replaced,
        Status::Apart => StepStatus::Apart,
        Status::Waiting => StepStatus::Waiting,
    }
}

fn severity(severity: rules::Severity) -> Severity {
    match severity {
        rules::Severity::Stop => Severity::Stop,
        rules::Severity::Caution => Severity::Caution,
        rules::Severity::Note => Severity::Note,
    }
}

fn standing(state: State) -> Standing {
    match state {
        State::Stands => Standing::Stands,
        State::Accepted(_) => Standing::Accepted,
        State::Waiting => Standing::Waiting,
    }
}
