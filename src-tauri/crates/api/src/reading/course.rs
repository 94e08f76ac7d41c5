//! The course of a piece, made ready for the drawing of its column: which entries are layers, and their words.

use trowelogue_core::body::{Body, Group, Kind, Needs, Region};
use trowelogue_core::column::{Ahead, Course, Done, Mark, Seam, Stones, Texture, Words};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::{Moment, Span};
use trowelogue_core::plan::{ChainLink, PiecePlan, PlanGate, PlanState};
use trowelogue_core::routes::{Stage, Wait};
use trowelogue_core::rules::{Finding, GateState};
use trowelogue_core::shop::{Shop, Step};
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, Dimension};

use super::next::first_upper;
use super::steps::title;
use crate::format::{Voice, facts_of, label_of};
use crate::say::fill;

const COURSE_OF: Text = text("Course of {code}", "Recorrido de {code}");
const CLEARS: Text = text("{gate}: clears {when}", "{gate}: se abre el {when}");
const HOLDS: Text = text("{gate}: to be cleared first", "{gate}: hay que resolverlo antes");
const CONFIRM: Text = text("{gate}: to be confirmed first", "{gate}: hay que confirmarlo antes");
const ACCEPTED: Text = text("{gate}: accepted by name", "{gate}: aceptado con nombre");
const FROM: Text = text("from {when}", "desde {when}");

/// How the words of a course are found: the reader, the moments as they are shown, the names of findings.
pub(crate) struct Teller<'a> {
    /// The reader.
    pub voice: &'a Voice,
    /// The shop.
    pub shop: &'a Shop,
    /// A moment as it is shown.
    pub when: &'a dyn Fn(&Moment) -> String,
    /// What names a finding.
    pub key: &'a dyn Fn(&Finding) -> String,
}

impl Teller<'_> {
    /// The course of the piece a plan is about, as it stands at the moment of the plan.
    pub(crate) fn course(&self, plan: &PiecePlan, findings: &[Finding], now: Moment) -> Course {
        let stones = Stones::of(self.shop.mix_of(plan.piece));
        let steps = self.layers(plan.piece);
        Course {
            title: self.title(plan.piece),
            done: steps.into_iter().map(|step| self.done(step, stones, findings)).collect(),
            ahead: plan
                .chain
                .iter()
                .enumerate()
                .map(|(at, link)| self.ahead(plan, at, *link, stones))
                .collect(),
            now: (plan.state != PlanState::Finished).then_some(now),
        }
    }

    fn title(&self, piece: ObjectId) -> String {
        let code = crate::format::piece_code(self.shop, piece);
        fill(COURSE_OF, self.voice.lang, &[("code", &code)])
    }

    /// The entries that are layers: work on the piece, and what it needed before and after.
    fn layers(&self, piece: ObjectId) -> Vec<&Step> {
        let is_layer = |step: &&Step| match step.kind {
            Some(Kind::Quote | Kind::Incident) => false,
            Some(kind) => matches!(kind.group(), Group::Before | Group::Work | Group::After),
            None => true,
        };
        self.shop.history(piece).into_iter().filter(is_layer).collect()
    }

    fn done(&self, step: &Step, stones: Stones, findings: &[Finding]) -> Done {
        let caused = findings.iter().filter(|it| it.entries.contains(&step.hash));
        let mark = |it: &Finding| Mark {
            key: (self.key)(it),
            severity: it.severity,
            title: self.voice.say(it.rule.title),
        };
        Done {
            hash: step.hash,
            texture: Texture::of_step(step, stones),
            span: span(step),
            words: Words {
                title: first_upper(&title(self.voice, step)),
                detail: self.detail(step),
                when: (self.when)(&step.done.start),
            },
            findings: caused.map(mark).collect(),
        }
    }

    /// The values that matter most, in a few words.
    fn detail(&self, step: &Step) -> String {
        let Some(kind) = step.kind else { return String::new() };
        let facts = facts_of(self.voice, self.shop, step);
        let region = step.common().and_then(|it| it.region).filter(|it| *it != Region::Face);
        let mut parts: Vec<String> = region.map(|it| self.voice.say(it.label())).into_iter().collect();
        for field in telling(kind) {
            let label = label_of(self.voice, kind, field);
            parts.extend(facts.iter().find(|it| it.label == label).map(|it| it.value.clone()));
        }
        parts.join(", ")
    }

    fn ahead(&self, plan: &PiecePlan, at: usize, link: ChainLink, stones: Stones) -> Ahead {
        let stage = plan.stage(link.stage);
        let next = plan.step.as_ref().filter(|step| at == 0 && step.stage == link.stage);
        let name =
            next.map(|step| step.title.clone()).or_else(|| stage.map(Stage::title)).unwrap_or_default();
        let kind = stage.map(|it| it.kind);
        let region = stage.and_then(|it| it.region).filter(|it| *it != Region::Face);
        let region = region.filter(|_| kind.is_some_and(|it| it.needs() == Needs::Region));
        let from = link.earliest.map(|it| fill(FROM, self.voice.lang, &[("when", &(self.when)(&it))]));
        Ahead {
            texture: kind.map_or(Texture::Other, |kind| {
                Texture::of(kind, next.and_then(|step| step.body.as_ref()), stones)
            }),
            earliest: link.earliest,
            words: Words {
                title: first_upper(name.get(self.voice.lang)),
                detail: region.map(|it| self.voice.say(it.label())).unwrap_or_default(),
                when: from.unwrap_or_default(),
            },
            seam: match next {
                Some(_) => plan.binding_gate().map(|gate| self.gate(gate)),
                None => stage.and_then(|it| it.waits.first()).map(|it| self.wait(it)),
            },
        }
    }

    /// The gate that binds the next step.
    fn gate(&self, gate: &PlanGate) -> Seam {
        let name = first_upper(gate.title().get(self.voice.lang).trim_end_matches('.'));
        let said = |words: Text| fill(words, self.voice.lang, &[("gate", &name)]);
        let text = match gate.state {
            GateState::Until(moment) => {
                fill(CLEARS, self.voice.lang, &[("gate", &name), ("when", &(self.when)(&moment))])
            }
            GateState::Confirm => said(CONFIRM),
            GateState::Blocked => said(HOLDS),
            GateState::Accepted(_) => said(ACCEPTED),
            GateState::Open => name.clone(),
        };
        let open = matches!(gate.state, GateState::Open | GateState::Confirm | GateState::Accepted(_));
        Seam { text, clears_at: gate.opens(), open }
    }

    /// A wait of the route before a step further ahead.
    fn wait(&self, wait: &Wait) -> Seam {
        let name = first_upper(wait.reason.label().get(self.voice.lang));
        let hours = wait.hours.map(|it| units::show(it, Dimension::Hour, self.voice.system, self.voice.lang));
        let text = [Some(name), hours].into_iter().flatten().collect::<Vec<_>>().join(": ");
        Seam { text, clears_at: None, open: false }
    }
}

/// From when to when a layer runs: a cure of a sealer runs until it is left alone no longer.
fn span(step: &Step) -> Span {
    match step.body() {
        Some(Body::SealerCure(cure)) => Span { end: Some(cure.until.max(step.done.start)), ..step.done },
        _ => step.done,
    }
}

/// The fields that tell most of a step beside its title.
fn telling(kind: Kind) -> &'static [&'static str] {
    use Kind as K;
    match kind {
        K::SampleAgreed | K::DrawingApproved | K::ChangeAgreed | K::SiteSurvey | K::FormPrepared => &[],
        K::Pour => &["mix", "batch"],
        K::InitialCure | K::SealerCure | K::Strip => &["method"],
        K::Demould => &["face"],
        K::Strength => &["method", "result_mpa", "trial"],
        K::Temperature => &["of", "reading_c"],
        K::Clean | K::Neutralise => &["agent"],
        K::Colour | K::Densify | K::SealCoat => &["product"],
        K::TrialSpot => &["of", "good"],
        K::AcidWash => &["acid", "cream_lost"],
        K::PhReading => &["ph", "of"],
        K::GritPass => &["result", "exposure"],
        K::Fill => &["material", "method"],
        K::Dry => &["at"],
        K::Climate => &["air_c", "rh_pct", "surface_c"],
        K::Moisture => &["method", "verdict"],
        K::WaterDrop => &["result"],
        K::Storage | K::Packing | K::Loading | K::Delivery => &["condition"],
        K::InCareOf => &["whom"],
        K::Handover => &["received_by"],
        K::ServiceVisit => &["water_drop"],
        _ => &[],
    }
}
