//! The form of a step, in the reader's language and units.

use std::collections::BTreeMap;

use serde_json::{Map, Value};
use trowelogue_core::body::Kind;
use trowelogue_core::body::after::CheckResult;
use trowelogue_core::form::{self, Ask, Expected, Source};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::{self, Moment};
use trowelogue_core::rules::safety::{Prospect, confirmations};
use trowelogue_core::shop::Shop;
use trowelogue_core::text::{Text, text};

use super::draft_to_entry::{civil_text, form_of_entry};
use super::{Desk, drafts, helper, map, picture};
use crate::Result;
use crate::add::Reader;
use crate::dto::{AtOnce, Choice, Confirm, Control, Field, Form, Need, PieceRef};
use crate::format::{Table, Voice};
use crate::reading::first_upper;
use crate::say::fill;
use crate::session::Session;

const EXPECTED: Text = text("The route expects {title} next.", "La ruta espera ahora: {title}.");
const EXPECTED_FROM: Text =
    text("The route expects {title} next, from {when}.", "La ruta espera ahora: {title}, desde {when}.");
const EXPECTED_HELD: Text = text(
    "The route expects {title} next, but something stands before it.",
    "La ruta espera ahora: {title}, pero antes falta algo.",
);
const EXPECTED_OTHER: Text =
    text("The route expects {title} next, not this.", "La ruta espera ahora: {title}, no esto.");
const ALL_PASS: Text = text("Looked at all: everything passes", "Comprobado todo: todo conforme");
const YES: Text = text("yes", "sí");
const NO: Text = text("no", "no");

impl Desk {
    /// The form of a step on these pieces, by id or code: filled from the draft that was kept, else with what is
    /// proposed.
    ///
    /// # Errors
    /// There is no such kind or piece; no shop is open.
    pub fn form(&self, kind: &str, pieces: &[String]) -> Result<Form> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let draft = drafts::kept(session, kind, pieces);
            let all = draft.as_ref().map_or(pieces, |draft| &draft.pieces);
            // A draft may name a piece that is gone since; the form is then that of the pieces asked for.
            let asked =
                asked(session, &reader, kind, all).or_else(|_| asked(session, &reader, kind, pieces))?;
            let made = form::form(&asked.ask());
            let mut shown = told(session, reader.shop(), &asked.pieces, &made);
            shown.confirm = to_confirm(session, reader.shop(), &asked, &form::proposed(&made));
            if let Some(draft) = draft {
                shown.values = draft.values;
                shown.from_draft = true;
            }
            Ok(shown)
        })
    }

    /// The same form filled with the values of an entry, to write its correction.
    ///
    /// # Errors
    /// There is no such entry, or it cannot be read here; no shop is open.
    pub fn correction_form(&self, hash: &str) -> Result<Form> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let (made, step) = form_of_entry(session, &reader, hash)?;
            let shown = told(session, reader.shop(), &step.pieces, &made);
            Ok(Form { corrects: Some(hash.to_owned()), ..shown })
        })
    }

    /// Does something with the session of the shop that is open.
    pub(super) fn on_session<T>(&self, work: impl FnOnce(&Session) -> Result<T>) -> Result<T> {
        self.with(|open| work(&open.session))
    }
}

/// What a form is asked for, names resolved.
pub(super) struct Asked<'a> {
    shop: &'a Shop,
    kind: Kind,
    pub pieces: Vec<ObjectId>,
    person: Option<ObjectId>,
    at: Moment,
    reader: form::Reader,
}

impl Asked<'_> {
    pub(super) fn ask(&self) -> Ask<'_> {
        let Self { shop, kind, person, at, reader, .. } = *self;
        Ask { shop, kind, pieces: &self.pieces, person, at, reader }
    }
}

/// Resolves kind and pieces.
///
/// # Errors
/// There is no such kind or piece.
pub(super) fn asked<'a>(
    session: &Session,
    reader: &'a Reader,
    kind: &str,
    pieces: &[String],
) -> Result<Asked<'a>> {
    let kind = reader.kind_named(kind)?;
    let mut found: Vec<ObjectId> = Vec::new();
    for name in pieces {
        let piece = reader.find(Table::Pieces, name, "pieces")?;
        if !found.contains(&piece) {
            found.push(piece);
        }
    }
    let person = session.me().ok().map(|me| me.id);
    let reads = reads(&session.voice);
    Ok(Asked { shop: reader.shop(), kind, pieces: found, person, at: session.now(), reader: reads })
}

/// How the person reads and writes.
pub(super) fn reads(voice: &Voice) -> form::Reader {
    form::Reader { system: voice.system, lang: voice.lang }
}

/// The cautions the person has not confirmed in this shift and that a step with these values asks for.
pub(super) fn to_confirm(
    session: &Session,
    shop: &Shop,
    asked: &Asked<'_>,
    values: &Map<String, Value>,
) -> Vec<Confirm> {
    let Some(person) = asked.person else { return Vec::new() };
    let prospect = Prospect { kind: asked.kind, values };
    let open = confirmations(shop, person, &prospect, asked.at);
    let told = open.into_iter().map(|it| Confirm {
        key: it.topic.wire().to_owned(),
        text: session.voice.say(it.text),
        details: it.details.into_iter().map(|line| session.voice.say(line)).collect(),
    });
    told.collect()
}

pub(super) fn told(session: &Session, shop: &Shop, pieces: &[ObjectId], made: &form::Form) -> Form {
    let voice = &session.voice;
    let mut values = BTreeMap::new();
    for field in &made.fields {
        if let Some(value) = &field.value {
            values.insert(field.name.clone(), shown(voice, field, &value.stored));
        }
    }
    Form {
        kind: made.kind.wire().to_owned(),
        title: first_upper(made.title.get(voice.lang)),
        plan: made.expected.as_ref().map(|expected| plan_words(session, expected)),
        pieces: pieces.iter().filter_map(|id| piece_ref(voice, shop, *id)).collect(),
        could_join: made.could_join.iter().filter_map(|id| piece_ref(voice, shop, *id)).collect(),
        others: others(shop, pieces, &made.could_join).filter_map(|id| piece_ref(voice, shop, id)).collect(),
        at_once: at_once(voice, made).into_iter().collect(),
        helpers: helper::offered(session, made.kind),
        fields: made.fields.iter().map(|field| field_told(session, made.kind, pieces, field)).collect(),
        values,
        confirm: Vec::new(),
        from_draft: false,
        corrects: None,
    }
}

/// A stored value as the form shows it; moments as civil time of the reader.
pub(super) fn shown(voice: &Voice, field: &form::Field, stored: &Value) -> Value {
    match (&field.control, stored.as_str().map(moment::parse)) {
        (form::Control::Moment, Some(Ok(moment))) => civil_text(voice, &moment).into(),
        _ => form::shown(field, stored, reads(voice)),
    }
}

fn plan_words(session: &Session, expected: &Expected) -> String {
    let voice = &session.voice;
    let now = session.now();
    let mut title = expected.title.get(voice.lang).to_owned();
    if let Some(region) = expected.region {
        title = format!("{title}, {}", voice.say(region.label()));
    }
    let when = expected.earliest.map(|it| voice.when(&it, &now).text).unwrap_or_default();
    let words = match expected.earliest {
        _ if !expected.fits => EXPECTED_OTHER,
        None => EXPECTED_HELD,
        Some(earliest) if earliest > now => EXPECTED_FROM,
        Some(_) => EXPECTED,
    };
    fill(words, voice.lang, &[("title", &title), ("when", &when)])
}

fn piece_ref(voice: &Voice, shop: &Shop, id: ObjectId) -> Option<PieceRef> {
    let piece = shop.pieces.get(&id)?.now();
    let outline = picture::outline(voice, piece);
    Some(PieceRef { id: id.to_string(), code: piece.code.clone(), name: piece.name.clone(), outline })
}

/// Every line of a checklist passed with one touch: the person looked at all of it.
fn at_once(voice: &Voice, made: &form::Form) -> Option<AtOnce> {
    let lines = made.fields.iter().filter(|field| matches!(field.slot, form::Slot::Check(_)));
    let values: BTreeMap<String, Value> =
        lines.map(|field| (field.name.clone(), CheckResult::Pass.wire().into())).collect();
    (values.len() > 1).then(|| AtOnce { label: voice.say(ALL_PASS), values })
}

/// The most pieces offered that the route does not expect the step on.
const OTHERS: usize = 60;

/// The other pieces of the same job or pour.
fn others<'a>(
    shop: &'a Shop,
    pieces: &'a [ObjectId],
    ready: &'a [ObjectId],
) -> impl Iterator<Item = ObjectId> + 'a {
    let job_of = |id: &ObjectId| shop.pieces.get(id).and_then(|it| it.now().job);
    let jobs: Vec<ObjectId> = pieces.iter().filter_map(job_of).collect();
    let pours = pieces.iter().filter_map(|id| shop.pour_of(*id)).flat_map(|(id, _)| &shop.pours[&id].pieces);
    let poured: Vec<ObjectId> = pours.copied().collect();
    let related = shop
        .pieces
        .keys()
        .filter(|id| job_of(id).is_some_and(|job| jobs.contains(&job)) || poured.contains(id));
    let related = related.filter(|id| !pieces.contains(id) && !ready.contains(id));
    let mut found: Vec<(&str, ObjectId)> =
        related.filter_map(|id| Some((shop.pieces.get(id)?.now().code.as_str(), *id))).collect();
    found.sort_unstable();
    found.into_iter().map(|(_, id)| id).take(OTHERS)
}

/// A field as the window draws it. `pieces`: those the step is for; none where a thing of the shop is set up.
pub(super) fn field_told(session: &Session, kind: Kind, pieces: &[ObjectId], field: &form::Field) -> Field {
    let voice = &session.voice;
    let unit = match &field.control {
        form::Control::Number(measure) => measure.unit.map(str::to_owned),
        _ => None,
    };
    Field {
        name: field.name.clone(),
        label: first_upper(field.label.get(voice.lang)),
        help: field.help.as_ref().map(|help| help.get(voice.lang).to_owned()),
        unit,
        need: match field.need {
            form::Need::Must => Need::Must,
            form::Need::Proposed => Need::Proposed,
            form::Need::Optional => Need::Optional,
        },
        from: field.value.as_ref().map(|value| from_words(voice, value.from)),
        control: control_told(session, kind, pieces, &field.control),
    }
}

fn from_words(voice: &Voice, from: Source) -> String {
    match from {
        Source::Read(moment) => {
            format!("{} {}", voice.say(from.label()), voice.local(&moment).format("%H:%M"))
        }
        _ => voice.say(from.label()),
    }
}

fn control_told(session: &Session, kind: Kind, pieces: &[ObjectId], control: &form::Control) -> Control {
    let voice = &session.voice;
    match control {
        form::Control::Places(_) => map::control(session, pieces),
        form::Control::List(form::Lines::Records(parts)) => {
            let fields = form::parts(kind, parts, reads(voice));
            let told = fields.iter().map(|it| field_told(session, kind, pieces, it));
            Control::Records { fields: told.collect() }
        }
        form::Control::Choice { options, many, free } => Control::Choice {
            options: options.iter().map(|it| choice(voice, it)).collect(),
            many: *many,
            free: *free,
        },
        form::Control::Number(it) => Control::Number {
            min: it.min,
            max: it.max,
            step: it.step,
            decimals: it.decimals,
            quick: it.quick.clone(),
        },
        form::Control::Text { lines } => Control::Text { lines: *lines },
        form::Control::Moment => Control::Moment,
        form::Control::Day => Control::Day,
        form::Control::YesNo => Control::YesNo { yes: voice.say(YES), no: voice.say(NO) },
        form::Control::Ratio { quick } => {
            Control::Ratio { quick: quick.iter().map(|it| (*it).to_owned()).collect() }
        }
        form::Control::List(_) => Control::List,
        form::Control::Photo => Control::Photo,
    }
}

fn choice(voice: &Voice, offer: &form::Offer) -> Choice {
    Choice {
        value: offer.value.clone(),
        label: offer.label.get(voice.lang).to_owned(),
        hint: offer.hint.as_ref().map(|hint| hint.get(voice.lang).to_owned()),
    }
}
