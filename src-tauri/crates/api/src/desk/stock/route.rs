//! Finish routes: the list, one route with its stages, and its editing.
//!
//! A shipped route is copied before it is changed. A route of the shop's own grows by a version with every edit;
//! pieces keep the version they chose.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::body::setup::{FinishKind, RouteEntry};
use trowelogue_core::form::{self, Ask};
use trowelogue_core::id::ObjectId;
use trowelogue_core::routes::{self, Route, RouteFault, Stage, Wait, WaitFor, When, Words};
use trowelogue_core::shop::{Shop, Versions};
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_core::units::{Dimension, show};

use super::{is_shipped, table_of, words};
use crate::add::Reader;
use crate::desk::form::{field_told, reads, shown};
use crate::desk::{Desk, open::Open};
use crate::dto::{Choice, Fact, Logged, ObjectRow, ObjectSheet, Problem, RouteEdit, RouteStage, StageForm};
use crate::format::{Voice, facts_of_values};
use crate::reading::first_upper;
use crate::say::fill;
use crate::session::Session;
use crate::{ApiError, Result};

const OPTIONAL: Text = text("if wanted", "si se quiere");
const ASKED: Text = text("if a rule asks for it", "si una regla lo pide");
const WITH: Text = text("only after: {stage}", "solo después de: {stage}");
const WITHOUT: Text = text("only without: {stage}", "solo sin: {stage}");
const WAIT: Text = text("wait {hours} for {what}", "esperar {hours} para {what}");
const WAIT_PRODUCT: Text = text("wait for {what}, as the product says", "esperar {what}, según el producto");
const COATS: Text = text("coats: {count}", "manos: {count}");
const FOR: Text = text("for", "para");
const ABOUT: Text = text("what to know", "qué saber");
const COPIED: Text = text("copied from", "copiada de");
const COPY_OF: Text = text("{name}, the shop's own", "{name}, propia del taller");
const STAGE: Text = text("Stage {number}: {what}", "Etapa {number}: {what}");
const NO_ROUTE: Text = text("There is no route {name}.", "No existe la ruta {name}.");
const IN_WORK: Text = text("The route cannot be read here.", "La ruta no se puede leer aquí.");

impl Desk {
    /// A route to edit: one of the shop's own by its id, or a copy of any by id or code.
    ///
    /// # Errors
    /// There is no such route; no shop is open.
    pub fn route_edit(&self, id: &str, copy: bool) -> Result<RouteEdit> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let (own, route) = found(session, reader.shop(), id)?;
            let voice = &session.voice;
            let copy = copy || own.is_none();
            let name = route.name.get(voice.lang);
            let edit = RouteEdit {
                object: own.filter(|_| !copy).map(|id| id.to_string()),
                copied_from: Some(id.to_owned()).filter(|_| copy),
                name: if copy { fill(COPY_OF, voice.lang, &[("name", &name)]) } else { name.to_owned() },
                about: route.about.get(voice.lang).to_owned(),
                finishes: route.finishes.iter().map(|it| it.wire().to_owned()).collect(),
                all_finishes: Vec::new(),
                kinds: Vec::new(),
                version: 0,
                stages: told(session, reader.shop(), &route),
                problems: Vec::new(),
            };
            Ok(looked_at(session, &reader, &edit)?.0)
        })
    }

    /// The fields a stage may propose values for.
    ///
    /// # Errors
    /// There is no such kind of step; no shop is open.
    pub fn stage_form(&self, stage: &RouteStage) -> Result<StageForm> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let kind = work(session, &reader, &stage.kind)?;
            let made = form::form_of_stage(&ask(session, reader.shop(), kind), &Map::new());
            let fields = made.fields.iter().filter(|it| it.control != form::Control::Photo);
            let fields = fields.map(|it| field_told(session, kind, &[], it)).collect();
            Ok(StageForm { title: stage.title.clone(), fields })
        })
    }

    /// The same route with its stages named anew, and what keeps it from being written. Writes nothing.
    ///
    /// # Errors
    /// The route it changes or copies is not there; no shop is open.
    pub fn try_route(&self, edit: &RouteEdit) -> Result<RouteEdit> {
        self.on_session(|session| Ok(looked_at(session, &Reader::new(session), edit)?.0))
    }

    /// Writes a route as it was edited. Pieces that follow it keep the version they chose.
    ///
    /// # Errors
    /// Something keeps it from being written; this home has not joined the shop.
    pub fn log_route(&self, edit: &RouteEdit) -> Result<Logged> {
        self.write(|open: &Open| {
            let session = &open.session;
            let mut reader = Reader::new(session);
            let (tried, route) = looked_at(session, &reader, edit)?;
            if let Some(problem) = tried.problems.into_iter().next() {
                return Err(ApiError {
                    field: problem.field,
                    ..ApiError::bad_input("route", problem.message)
                });
            }
            let mut body = Map::from_iter([("route".to_owned(), json!(route))]);
            let from = edit.copied_from.as_ref().map(|id| found(session, reader.shop(), id)).transpose()?;
            let from = from.map(|(_, route)| route.code).or_else(|| copied_from(reader.shop(), edit));
            body.extend(from.map(|code| ("copied_from".to_owned(), json!(code))));
            let mut map = Map::from_iter([("kind".to_owned(), json!(Kind::Route.wire()))]);
            map.insert("body".to_owned(), Value::Object(body));
            map.extend(edit.object.as_ref().map(|id| ("object".to_owned(), json!(id))));
            Ok(vec![reader.draft(map)?])
        })
    }
}

/// What an edited route of the shop's own was copied from.
fn copied_from(shop: &Shop, edit: &RouteEdit) -> Option<String> {
    let id: ObjectId = edit.object.as_ref()?.parse().ok()?;
    shop.routes.get(&id)?.now().copied_from.clone()
}

/// A route by id or code: the shop's own with its id, or a shipped one.
fn found(session: &Session, shop: &Shop, id: &str) -> Result<(Option<ObjectId>, Route)> {
    let own = id.parse::<ObjectId>().ok().and_then(|id| Some((id, shop.routes.get(&id)?)));
    match own {
        Some((id, entry)) => {
            let route = entry.now().route.route();
            let route = route.ok_or_else(|| ApiError::bad_input("id", session.voice.say(IN_WORK)))?;
            Ok((Some(id), Route::clone(route)))
        }
        None => match routes::shipped_with(id) {
            Some(route) => Ok((None, route.clone())),
            None => Err(ApiError::bad_input("id", fill(NO_ROUTE, session.voice.lang, &[("name", &id)]))),
        },
    }
}

/// The route an edit stands for, and the edit with everything in it named anew.
fn looked_at(session: &Session, reader: &Reader, edit: &RouteEdit) -> Result<(RouteEdit, Route)> {
    let shop = reader.shop();
    let base = edit.object.as_ref().or(edit.copied_from.as_ref());
    let base = base.map(|id| found(session, shop, id)).transpose()?.map(|(_, route)| route);
    let mut problems = Vec::new();
    let route = made(session, reader, edit, base.as_ref(), &mut problems)?;
    let lang = session.voice.lang;
    problems.extend(routes::check(&route).into_iter().map(|bad| problem(lang, &route, &bad.field, &bad.why)));
    let finish = |it: &FinishKind| Choice {
        value: it.wire().to_owned(),
        label: session.voice.say(it.label()),
        hint: None,
    };
    let kinds = routes::stage_kinds().map(|kind| Choice {
        value: kind.wire().to_owned(),
        label: first_upper(kind.label().get(lang)),
        hint: None,
    });
    let told = RouteEdit {
        all_finishes: FinishKind::ALL.iter().map(finish).collect(),
        kinds: kinds.collect(),
        version: route.version,
        stages: told(session, shop, &route),
        problems,
        ..edit.clone()
    };
    Ok((told, route))
}

/// A fault at a stage, said with the stage's number and name.
fn problem(lang: Lang, route: &Route, field: &str, why: &RouteFault) -> Problem {
    let at = field.strip_prefix("stages[").and_then(|rest| rest.split(']').next()?.parse::<usize>().ok());
    let stage = at.and_then(|at| Some((at, route.stages.get(at)?)));
    let message = why.say(lang);
    let message = stage.map_or(message.clone(), |(at, stage)| {
        let what = format!("{}. {message}", stage.title().get(lang));
        fill(STAGE, lang, &[("number", &(at + 1)), ("what", &what)])
    });
    Problem { field: Some(field.to_owned()), message }
}

fn made(
    session: &Session,
    reader: &Reader,
    edit: &RouteEdit,
    base: Option<&Route>,
    problems: &mut Vec<Problem>,
) -> Result<Route> {
    let lang = session.voice.lang;
    let shop = reader.shop();
    let own = |words: &str, before: Option<&Words>| said(lang, words, before);
    let mut taken: BTreeSet<String> = edit.stages.iter().map(|it| it.id.clone()).collect();
    let mut stages: Vec<Stage> = Vec::new();
    for it in &edit.stages {
        let kind = work(session, reader, &it.kind)?;
        let known =
            base.and_then(|base| base.stages.iter().find(|stage| stage.id == it.id && stage.kind == kind));
        let mut stage = known.cloned().unwrap_or_else(|| fresh(kind, &mut taken));
        change(session, shop, it, &mut stage, problems);
        stages.push(stage);
    }
    mend_waits(&mut stages);
    let finishes = edit.finishes.iter();
    let finishes = finishes.filter_map(|wire| FinishKind::ALL.iter().copied().find(|it| it.wire() == wire));
    let version = match &edit.object {
        Some(_) => base.map_or(1, |route| route.version.saturating_add(1)),
        None => 1,
    };
    let code = match (&edit.object, base) {
        (Some(_), Some(route)) => route.code.clone(),
        (_, base) => free_code(shop, base.map_or("route", |route| route.code.as_str())),
    };
    Ok(Route {
        code,
        version,
        name: own(&edit.name, base.map(|route| &route.name).filter(|_| edit.object.is_some())),
        about: own(&edit.about, base.map(|route| &route.about)),
        finishes: finishes.collect(),
        afresh: base.is_some_and(|route| route.afresh),
        stages,
    })
}

/// What was written, in the language it was written in; the other language stays where nothing was changed.
fn said(lang: Lang, words: &str, before: Option<&Words>) -> Words {
    let words = words.trim();
    if let Some(before) = before.filter(|before| before.get(lang) == words) {
        return before.clone();
    }
    match lang {
        Lang::En => Words { en: words.to_owned(), es: String::new() },
        Lang::Es => Words { en: String::new(), es: words.to_owned() },
    }
}

/// A code of its own for a copy.
fn free_code(shop: &Shop, from: &str) -> String {
    let known: BTreeSet<String> =
        shop.routes.values().filter_map(|it| Some(it.now().route.code()?.to_owned())).collect();
    let stem: String =
        from.trim_end_matches(|it: char| it.is_ascii_digit() || it == '_').chars().take(50).collect();
    let codes = (2_u32..).map(|at| format!("{stem}_{at}"));
    let mut free = codes.filter(|code| !known.contains(code) && !is_shipped(code));
    free.next().unwrap_or(stem.clone())
}

/// A new stage with a name of its own.
fn fresh(kind: Kind, taken: &mut BTreeSet<String>) -> Stage {
    let stem = kind.wire().replace('_', "-");
    let names = (1_u32..).map(|at| if at == 1 { stem.clone() } else { format!("{stem}-{at}") });
    let id = names.into_iter().find(|id| !taken.contains(id)).unwrap_or_default();
    taken.insert(id.clone());
    Stage {
        id,
        kind,
        name: None,
        when: When::Always,
        region: None,
        set: Map::new(),
        coats: None,
        waits: Vec::new(),
    }
}

/// Takes what was changed of a stage.
fn change(session: &Session, shop: &Shop, it: &RouteStage, stage: &mut Stage, problems: &mut Vec<Problem>) {
    if matches!(stage.when, When::Always | When::Optional) {
        stage.when = if it.optional { When::Optional } else { When::Always };
    }
    stage.coats = it.coats;
    match (it.wait_h, stage.waits.first_mut()) {
        (Some(hours), Some(wait)) => wait.hours = Some(hours),
        (Some(hours), None) => {
            stage.waits.push(Wait { reason: WaitFor::Rest, hours: Some(hours), after: None });
        }
        (None, Some(wait)) if wait.hours.is_some() => drop(stage.waits.remove(0)),
        (None, _) => {}
    }
    let reader = reads(&session.voice);
    let made = form::form_of_stage(&ask(session, shop, stage.kind), &stage.set);
    let filled = form::fill(&made, &it.values, reader);
    problems.extend(filled.refused.iter().map(|bad| {
        let label = made.field(&bad.field).map_or(bad.field.as_str(), |field| field.label.get(reader.lang));
        Problem { field: Some(bad.field.clone()), message: format!("{}: {}", first_upper(label), bad.why) }
    }));
    let renamed = filled.body != stage.set;
    match trowelogue_core::body::input::read_partial(filled.body) {
        Ok(body) => stage.set = body,
        Err(bad) => {
            problems.push(Problem { field: Some(bad.field.clone()), message: bad.why.say(reader.lang) });
        }
    }
    if renamed {
        // A name like "grit 100" would be wrong for other values; the stage is called by what it proposes.
        stage.name = None;
    }
}

/// A wait that counted from a stage that is gone, or stands later now, counts from the last work.
fn mend_waits(stages: &mut [Stage]) {
    let mut before: BTreeSet<String> = BTreeSet::new();
    for stage in stages {
        for wait in &mut stage.waits {
            wait.after = wait.after.take().filter(|id| before.contains(id));
        }
        before.insert(stage.id.clone());
    }
}

/// A kind of work by its name.
fn work(session: &Session, reader: &Reader, name: &str) -> Result<Kind> {
    let kind = reader.kind_named(name)?;
    let fits = routes::stage_kinds().any(|it| it == kind);
    fits.then_some(kind).ok_or_else(|| {
        ApiError::bad_input("kind", RouteFault::NotWork(name.to_owned()).say(session.voice.lang))
    })
}

fn ask<'a>(session: &Session, shop: &'a Shop, kind: Kind) -> Ask<'a> {
    Ask { shop, kind, pieces: &[], person: None, at: session.now(), reader: reads(&session.voice) }
}

/// The stages of a route as they are shown and edited.
fn told(session: &Session, shop: &Shop, route: &Route) -> Vec<RouteStage> {
    route.stages.iter().map(|stage| stage_told(session, shop, route, stage)).collect()
}

fn stage_told(session: &Session, shop: &Shop, route: &Route, stage: &Stage) -> RouteStage {
    let voice = &session.voice;
    let made = form::form_of_stage(&ask(session, shop, stage.kind), &stage.set);
    let values = made.fields.iter().filter_map(|field| {
        let stored = &field.value.as_ref()?.stored;
        Some((field.name.clone(), shown(voice, field, stored)))
    });
    let values: BTreeMap<String, Value> = values.collect();
    let wait = stage.waits.first();
    RouteStage {
        id: stage.id.clone(),
        kind: stage.kind.wire().to_owned(),
        title: first_upper(stage.title().get(voice.lang)),
        optional: stage.when == When::Optional,
        when: when_words(voice, route, &stage.when),
        wait_h: wait.and_then(|wait| wait.hours),
        wait_for: wait.map(|wait| voice.say(wait.reason.label())),
        coats: stage.coats,
        values,
        says: says(voice, shop, stage),
    }
}

fn when_words(voice: &Voice, route: &Route, when: &When) -> Option<String> {
    let named = |id: &str| {
        let stage = route.place(id).map(|at| route.stages[at].title());
        stage.map_or_else(|| id.to_owned(), |it| it.get(voice.lang).to_owned())
    };
    match when {
        When::Always | When::Optional => None,
        When::Asked => Some(voice.say(ASKED)),
        When::With(id) => Some(fill(WITH, voice.lang, &[("stage", &named(id))])),
        When::Without(id) => Some(fill(WITHOUT, voice.lang, &[("stage", &named(id))])),
    }
}

/// What a stage proposes and waits for, in a line.
fn says(voice: &Voice, shop: &Shop, stage: &Stage) -> String {
    let mut said = Vec::new();
    if stage.when == When::Optional {
        said.push(voice.say(OPTIONAL));
    }
    said.extend(stage.waits.iter().map(|wait| {
        let what = voice.say(wait.reason.label());
        match wait.hours {
            Some(hours) => {
                let hours = show(hours, Dimension::Hour, voice.system, voice.lang);
                fill(WAIT, voice.lang, &[("hours", &hours), ("what", &what)])
            }
            None => fill(WAIT_PRODUCT, voice.lang, &[("what", &what)]),
        }
    }));
    said.extend(stage.region.map(|region| voice.say(region.label())));
    said.extend(stage.coats.map(|count| fill(COATS, voice.lang, &[("count", &count)])));
    let facts = facts_of_values(voice, shop, stage.kind, &stage.set);
    said.extend(facts.into_iter().map(|fact| format!("{} {}", fact.label, fact.value)));
    first_upper(&said.join(" · "))
}

/// The shop's own routes, then the shipped ones.
pub(super) fn rows(voice: &Voice, shop: &Shop) -> Vec<ObjectRow> {
    let kind = || Kind::Route.wire().to_owned();
    let mut own: Vec<ObjectRow> = table_of(Kind::Route)
        .all(shop)
        .into_iter()
        .map(|(id, ..)| ObjectRow {
            kind: kind(),
            id: id.to_string(),
            name: name_of(voice, shop, id),
            about: shop.routes.get(&id).map_or_else(String::new, |it| version_words(voice, it)),
            outline: None,
        })
        .collect();
    own.sort_by(|a, b| a.name.cmp(&b.name));
    let shipped = routes::shipped().iter().map(|route| ObjectRow {
        kind: kind(),
        id: route.code.clone(),
        name: first_upper(route.name.get(voice.lang)),
        about: voice.say(words::SHIPPED),
        outline: None,
    });
    own.into_iter().chain(shipped).collect()
}

fn version_words(voice: &Voice, entry: &Versions<RouteEntry>) -> String {
    let version = entry.now().route.route().map_or(1, |route| route.version);
    fill(words::OWN, voice.lang, &[("version", &version)])
}

/// What people call a route of the shop's own.
pub(super) fn name_of(voice: &Voice, shop: &Shop, id: ObjectId) -> String {
    let route = shop.routes.get(&id).and_then(|it| it.now().route.route());
    route.map_or_else(|| id.to_string(), |route| first_upper(route.name.get(voice.lang)))
}

/// The stages of a route of the shop's own; none of anything else.
pub(super) fn stages_of(session: &Session, shop: &Shop, id: ObjectId) -> Vec<RouteStage> {
    let route = shop.routes.get(&id).and_then(|it| it.now().route.route());
    route.map_or_else(Vec::new, |route| told(session, shop, route))
}

/// What is recorded of a route of the shop's own beside its stages.
pub(super) fn facts_of_own(session: &Session, shop: &Shop, id: ObjectId) -> Vec<Fact> {
    let voice = &session.voice;
    let Some(entry) = shop.routes.get(&id) else { return Vec::new() };
    let mut facts = entry.now().route.route().map_or_else(Vec::new, |route| facts(voice, route));
    let from = entry.now().copied_from.as_deref();
    let name = from.map(|code| {
        let shipped = routes::shipped_with(code).map(|route| route.name.get(voice.lang).to_owned());
        shipped.unwrap_or_else(|| code.to_owned())
    });
    facts.extend(name.map(|value| Fact { label: voice.say(COPIED), value }));
    facts
}

fn facts(voice: &Voice, route: &Route) -> Vec<Fact> {
    let finishes: Vec<String> = route.finishes.iter().map(|it| voice.say(it.label())).collect();
    let about = route.about.get(voice.lang).to_owned();
    let all = [(FOR, finishes.join(", ")), (ABOUT, about)];
    all.into_iter()
        .filter(|(_, value)| !value.is_empty())
        .map(|(label, value)| Fact { label: voice.say(label), value })
        .collect()
}

/// A shipped route as a sheet.
pub(super) fn shipped_sheet(session: &Session, code: &str) -> Option<ObjectSheet> {
    let voice = &session.voice;
    let route = routes::shipped_with(code)?;
    let facts = facts(voice, route).into_iter();
    Some(ObjectSheet {
        kind: Kind::Route.wire().to_owned(),
        id: code.to_owned(),
        one: voice.say(Kind::Route.label()),
        name: first_upper(route.name.get(voice.lang)),
        about: voice.say(words::SHIPPED),
        facts: facts.map(|it| Fact { label: first_upper(&it.label), ..it }).collect(),
        limits: Vec::new(),
        hazards: Vec::new(),
        hazards_say: None,
        lots: Vec::new(),
        pictures: Vec::new(),
        stages: told(session, session.shop(), route),
        related: Vec::new(),
        history: Vec::new(),
        may_write: session.link.is_some(),
        may_copy: true,
    })
}
