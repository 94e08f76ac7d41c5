//! Importing a temperature logger's file into the record.

use serde_json::json;
use trowelogue_core::body::Kind;
use trowelogue_core::body::casting::Medium;
use trowelogue_core::id::Hash;
use trowelogue_core::moment::{Span, hours_between};
use trowelogue_core::sums::logger::{self, Asked, DateOrder, Import, TemperatureUnit, Zone};
use trowelogue_core::sums::maturity::Reading;
use trowelogue_core::text::{Text, text};
use trowelogue_journal::Draft;

use crate::add::Book;
use crate::dto::report::Written;
use crate::format::Table;
use crate::say::fill;
use crate::session::Session;
use crate::{ApiError, ErrorCode, Result, calc};

/// How many readings go into one entry: a line has room for 64 KiB, encrypted for 48 KiB of them, and a reading
/// needs 58 bytes at most.
const READINGS_MAX: usize = 800;

/// What a person said about a logger's file. What is left out is taken from the file, or asked for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ImportAsk {
    /// The pour, by id or code.
    pub pour: String,
    /// Of what: `concrete`, `air` or `surface`.
    pub of: Option<String>,
    /// Name of the logger.
    pub logger: Option<String>,
    /// The sign between fields.
    pub delimiter: Option<char>,
    /// The decimal sign.
    pub decimal: Option<char>,
    /// `c` or `f`.
    pub unit: Option<String>,
    /// Zone of times without an offset.
    pub zone: Option<String>,
    /// Order of day, month and year.
    pub date_order: Option<String>,
    /// Title or number of the time column.
    pub time_column: Option<String>,
    /// Title or number of the temperature column.
    pub temperature_column: Option<String>,
}

const NOT_UTF8: Text = text("The file is not UTF-8 text.", "El archivo no es texto UTF-8.");
const NO_ZONE: Text = text(
    "There is no time zone {name}; write it like America/Denver or -06:00.",
    "No existe la zona horaria {name}; escríbala como America/Denver o -06:00.",
);
const NO_MEDIUM: Text =
    text("{name} is none of: concrete, air, surface.", "{name} no es ninguno de: concrete, air, surface.");
const READ: Text = text(
    "{count} readings were read as {unit}, decimal sign {decimal}, times {zone}; {skipped} lines hold none.",
    "Se leyeron {count} lecturas como {unit}, signo decimal {decimal}, horas {zone}; {skipped} líneas no contienen ninguna.",
);
const OFFSETS: Text = text("with their own offset", "con su propio desfase");

impl Session {
    /// Takes a logger's file into the record of a pour. Nothing is guessed silently: what the file leaves open
    /// has to be said.
    ///
    /// # Errors
    /// The file cannot be read as asked; there is no such pour; this home has not joined.
    pub fn import_temperatures(&mut self, bytes: &[u8], source: &str, ask: &ImportAsk) -> Result<Written> {
        self.joined()?;
        let lang = self.voice.lang;
        let pour =
            Book::of(&self.view.shop).find(Table::Pours, &ask.pour, lang).map_err(|it| it.field("pour"))?;
        let words = std::str::from_utf8(bytes)
            .map_err(|_| ApiError::new(ErrorCode::BadInput, NOT_UTF8.get(lang)).file(source))?;
        let asked = self.asked(ask)?;
        let of = self.medium(ask.of.as_deref())?;
        let import = logger::read(words, &asked).map_err(|error| calc::unreadable(&error, source, lang))?;
        let person = self.me()?.id;
        let file = Hash::of(&[bytes]);
        let draft = |part: &[Reading]| {
            let start = part.first()?.at;
            let series: Vec<_> = part
                .iter()
                .map(|it| json!({ "after_h": rounded(hours_between(start, it.at)), "temperature_c": it.c }))
                .collect();
            let mut body = json!({ "of": of.wire(), "series": series, "file": file.to_string() });
            if let Some(logger) = &ask.logger {
                body["logger"] = json!(logger);
            }
            let end = part.last().map(|it| it.at);
            Some(Draft {
                done: Span { start, end },
                person,
                kind: Kind::Temperature.wire().into(),
                object: Some(pour),
                pieces: Vec::new(),
                peer: None,
                refs: Vec::new(),
                body: body.as_object()?.clone(),
            })
        };
        let drafts = import.readings.chunks(READINGS_MAX).filter_map(draft).collect();
        let mut written = self.append(drafts)?;
        written.remarks.insert(0, self.read_as(&import));
        Ok(written)
    }

    fn asked(&self, ask: &ImportAsk) -> Result<Asked> {
        let lang = self.voice.lang;
        let refused = |error| calc::refused(&error, lang);
        let zone = match &ask.zone {
            Some(name) => Some(Zone::parse(name).ok_or_else(|| {
                ApiError::bad_input("zone", fill(NO_ZONE, lang, &[("name", &format!("{name:?}"))]))
            })?),
            None => None,
        };
        Ok(Asked {
            delimiter: ask.delimiter,
            decimal: ask.decimal,
            unit: ask.unit.as_deref().map(TemperatureUnit::parse).transpose().map_err(refused)?,
            zone,
            date_order: ask.date_order.as_deref().map(DateOrder::parse).transpose().map_err(refused)?,
            time_column: ask.time_column.clone(),
            temperature_column: ask.temperature_column.clone(),
        })
    }

    fn medium(&self, name: Option<&str>) -> Result<Medium> {
        let name = name.unwrap_or(Medium::Concrete.wire());
        Medium::ALL.iter().copied().find(|it| it.wire() == name).ok_or_else(|| {
            ApiError::bad_input("of", fill(NO_MEDIUM, self.voice.lang, &[("name", &format!("{name:?}"))]))
        })
    }

    /// How the file was read, so that a person can see whether that was right.
    fn read_as(&self, import: &Import) -> String {
        let read = &import.read_as;
        let lang = self.voice.lang;
        let unit = match read.unit {
            TemperatureUnit::Celsius => "°C",
            TemperatureUnit::Fahrenheit => "°F",
        };
        let zone = read.zone.clone().unwrap_or_else(|| self.voice.say(OFFSETS));
        fill(
            READ,
            lang,
            &[
                ("count", &import.readings.len()),
                ("unit", &unit),
                ("decimal", &read.decimal),
                ("zone", &zone),
                ("skipped", &import.skipped.len()),
            ],
        )
    }
}

/// Hours to the second: what a logger's clock can tell.
fn rounded(hours: f64) -> f64 {
    (hours * 3600.0).round() / 3600.0
}
