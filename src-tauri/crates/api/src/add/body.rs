//! The body of an entry: names resolved, units turned into SI, every field held to its kind.

use serde_json::{Map, Value, json};
use trowelogue_core::body::{Details, Kind, Needs, input};
use trowelogue_core::routes::{self, Route};
use trowelogue_core::rules;
use trowelogue_core::shop::Versions;
use trowelogue_core::text::{Text, text};

use super::entry::{Head, Reader};
use crate::format::{Shape, Table, fields_of};
use crate::say::{fill, list};
use crate::{ApiError, ErrorCode, Result};

const MUST: Text = text("It must be given.", "Debe indicarse.");
const NO_RULE: Text = text("There is no rule {name}.", "No existe la regla {name}.");
const NO_ROUTE: Text =
    text("There is no route {name}. There are: {names}.", "No existe la ruta {name}. Hay: {names}.");
const OTHER_VERSION: Text = text(
    "The route {name} is at version {version}; leave the version out, or give the route itself.",
    "La ruta {name} va por la versión {version}; omita la versión o indique la ruta misma.",
);
const NO_ZONE: Text = text(
    "There is no time zone {name}; write it like America/Denver.",
    "No existe la zona horaria {name}; escríbala como America/Denver.",
);
const NO_STEP_KIND: Text = text("There is no kind of step {name}.", "No existe el tipo de paso {name}.");
const UNREADABLE: Text = text(
    "The entry it corrects was written by a newer version or cannot be read here.",
    "La entrada que corrige la escribió una versión más nueva o no se puede leer aquí.",
);

impl Reader {
    /// The body as it will be stored.
    pub(super) fn body(&self, head: &Head, mut given: Map<String, Value>) -> Result<Map<String, Value>> {
        if head.kind == Kind::Correction {
            self.correct(head, &mut given)?;
        }
        let details = self.details(head.kind, given)?;
        if head.kind.needs() == Needs::Region && details.common.region.is_none() {
            return Err(self.bad("body.region", MUST));
        }
        Ok(details.to_stored())
    }

    /// Reads the body of a kind: ids by id or exact name, values in SI or with their unit.
    fn details(&self, kind: Kind, mut given: Map<String, Value>) -> Result<Details> {
        self.resolve(kind, &mut given)?;
        self.moments(kind, &given)?;
        self.particulars(kind, &mut given)?;
        input::read(kind, given)
            .map_err(|error| ApiError::bad_input(in_body(&error.field), error.why.say(self.lang)))
    }

    /// Puts ids in the place of exact names, and refuses ids of nothing.
    fn resolve(&self, kind: Kind, given: &mut Map<String, Value>) -> Result<()> {
        for (name, value) in given.iter_mut() {
            let Some(table) = Table::named_in(kind, name) else { continue };
            if let Value::String(wanted) = value {
                let id = self.find(table, wanted, &in_body(name))?;
                *value = Value::String(id.to_string());
            }
        }
        Ok(())
    }

    /// Moments inside bodies need their offset as much as those of the head.
    fn moments(&self, kind: Kind, given: &Map<String, Value>) -> Result<()> {
        for (name, value) in given {
            if let (Some(Shape::Moment), Value::String(said)) = (fields_of(kind).get(name), value) {
                self.moment(&in_body(name), said)?;
            }
        }
        Ok(())
    }

    /// What single kinds ask for beyond the types of their fields.
    fn particulars(&self, kind: Kind, given: &mut Map<String, Value>) -> Result<()> {
        let named = |field: &str| given.get(field).and_then(Value::as_str).map(str::to_owned);
        match kind {
            Kind::RouteChosen => self.freeze(given),
            Kind::Route => self.check_route(given),
            Kind::Exception => self.known("rule", named("rule"), NO_RULE, |it| rules::find(it).is_some()),
            Kind::Settings => {
                self.known("zone", named("zone"), NO_ZONE, |it| it.parse::<chrono_tz::Tz>().is_ok())
            }
            Kind::TrialSpot => self.known("of", named("of"), NO_STEP_KIND, |it| Kind::parse(it).is_some()),
            _ => Ok(()),
        }
    }

    fn known(
        &self,
        field: &str,
        value: Option<String>,
        words: Text,
        good: impl Fn(&str) -> bool,
    ) -> Result<()> {
        match value {
            Some(name) if !good(&name) => {
                let quoted = format!("{:?}", name.chars().take(80).collect::<String>());
                Err(ApiError::bad_input(in_body(field), fill(words, self.lang, &[("name", &quoted)])))
            }
            _ => Ok(()),
        }
    }

    /// Freezes the route into the record: a later edit of it changes nothing on this piece.
    fn freeze(&self, given: &mut Map<String, Value>) -> Result<()> {
        if given.get("route").is_some_and(|route| !route.is_null()) {
            return self.check_route(given);
        }
        let Some(code) = given.get("code").and_then(Value::as_str).map(str::to_owned) else { return Ok(()) };
        let Some(route) = self.route(&code) else {
            let names = list(self.route_codes(), 40);
            let quoted = format!("{:?}", code.chars().take(80).collect::<String>());
            let words = fill(NO_ROUTE, self.lang, &[("name", &quoted), ("names", &names)]);
            return Err(ApiError::new(ErrorCode::Unknown, words).field("body.code"));
        };
        let version = given.get("version").and_then(Value::as_u64);
        if version.is_some_and(|version| version != u64::from(route.version)) {
            let words = fill(OTHER_VERSION, self.lang, &[("name", &code), ("version", &route.version)]);
            return Err(ApiError::bad_input("body.version", words));
        }
        given.insert("version".into(), json!(route.version));
        given.insert("route".into(), serde_json::to_value(&route).unwrap_or_default());
        Ok(())
    }

    fn check_route(&self, given: &Map<String, Value>) -> Result<()> {
        let Some(route) = given.get("route") else { return Ok(()) };
        let bad = |error: routes::BadRoute| {
            ApiError::bad_input(format!("body.route.{}", error.field), error.why.say(self.lang))
        };
        let route = Route::read(route).map_err(bad)?;
        routes::check(&route).into_iter().next().map_or(Ok(()), |error| Err(bad(error)))
    }

    /// A route by its code: the newest of the shop's own, else the shipped one.
    fn route(&self, code: &str) -> Option<Route> {
        let own = self.shop.routes.values().filter_map(|it| it.now().route.route());
        let newest = own.filter(|route| route.code == code).max_by_key(|route| route.version);
        newest.map(|route| Route::clone(route)).or_else(|| routes::shipped_with(code).cloned())
    }

    fn route_codes(&self) -> Vec<String> {
        let own = self.shop.routes.values().map(Versions::now).filter_map(|it| it.route.code());
        let mut codes: Vec<String> = routes::shipped().iter().map(|route| route.code.clone()).collect();
        codes.extend(own.map(str::to_owned));
        codes.sort();
        codes.dedup();
        codes
    }

    /// Holds a correction's body to the kind of the entry it corrects.
    fn correct(&self, head: &Head, given: &mut Map<String, Value>) -> Result<()> {
        let target = head.refs.first().and_then(|hash| self.step(hash));
        let Some(kind) = target.and_then(|step| step.kind) else { return Err(self.bad("refs", UNREADABLE)) };
        let Some(Value::Object(own)) = given.remove("body") else { return Err(self.bad("body.body", MUST)) };
        let details = self.details(kind, own).map_err(|error| {
            let field = error.field.clone().unwrap_or_default();
            let inner = field.strip_prefix("body.").map_or(field.clone(), |rest| format!("body.body.{rest}"));
            error.field(inner)
        })?;
        given.insert("body".into(), Value::Object(details.to_stored()));
        Ok(())
    }
}

fn in_body(field: &str) -> String {
    format!("body.{field}")
}
