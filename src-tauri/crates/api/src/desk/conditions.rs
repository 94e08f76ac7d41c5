//! The air and the surface a piece stands in: the newest reading that speaks for it, and how old it is.

use trowelogue_core::body::Kind;
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::{Moment, hours_between};
use trowelogue_core::rules::limits;
use trowelogue_core::shop::Step;
use trowelogue_core::sums::air;
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, Dimension};

use crate::dto::{Conditions, Fact};
use crate::format::{DEW_POINT, MARGIN, Voice};
use crate::papers::Maker;
use crate::say::fill;
use crate::session::Session;

const AIR: Text = text("air", "aire");
const HUMIDITY: Text = text("relative humidity", "humedad relativa");
const SURFACE: Text = text("surface", "superficie");
const FRESH: Text = text("Read {age} ago.", "Leído hace {age}.");
const OLD: Text = text(
    "Read {age} ago: too old to speak for now. Read again before a coat.",
    "Leído hace {age}: ya no vale para ahora. Vuelva a leer antes de una mano.",
);
const CLOSE: Text = text(
    "The surface is too close to the dew point: at least {limit} is asked for.",
    "La superficie está demasiado cerca del punto de rocío: se piden al menos {limit}.",
);
const DAYS: Text = text("{n} days", "{n} días");

/// The newest reading taken on the piece; none where there is none the formula holds for.
pub(super) fn of_piece(session: &Session, piece: ObjectId, now: Moment) -> Option<Conditions> {
    let voice = &session.voice;
    let maker = Maker::unillustrated(session.shop(), *voice, now);
    let reads = |step: &&Step| matches!(step.kind, Some(Kind::Climate | Kind::SealCoat));
    let history = session.shop().history(piece);
    let step = history.into_iter().filter(|step| step.done.start <= now).rfind(reads)?;
    let reading = maker.reading(step)?;
    let margin = air::margin(reading.air_c, reading.rh_pct, reading.surface_c).ok()?;
    let show = |value, dimension| units::show(value, dimension, voice.system, voice.lang);
    let fact =
        |label: Text, value, dimension| Fact { label: voice.say(label), value: show(value, dimension) };
    let age_h = hours_between(step.done.start, now);
    let fresh = age_h <= limits::CLIMATE_FRESH.value;
    let enough = margin.margin_k >= reading.limit_k;
    let mut say = fill(if fresh { FRESH } else { OLD }, voice.lang, &[("age", &age(voice, age_h))]);
    if !enough {
        let limit = show(reading.limit_k, Dimension::Kelvin);
        say = format!("{say} {}", fill(CLOSE, voice.lang, &[("limit", &limit)]));
    }
    Some(Conditions {
        facts: vec![
            fact(AIR, reading.air_c, Dimension::Celsius),
            fact(HUMIDITY, reading.rh_pct, Dimension::Percent),
            fact(SURFACE, reading.surface_c, Dimension::Celsius),
            fact(DEW_POINT, margin.dew.dew_point_c, Dimension::Celsius),
            fact(MARGIN, margin.margin_k, Dimension::Kelvin),
        ],
        when: voice.when(&step.done.start, &now),
        say,
        fresh,
        enough,
    })
}

/// A span of hours as people say it.
fn age(voice: &Voice, hours: f64) -> String {
    let whole = |value: f64, dimension| units::show(value.round(), dimension, voice.system, voice.lang);
    if hours < 2.0 {
        whole(hours * 60.0, Dimension::Minute)
    } else if hours < 48.0 {
        whole(hours, Dimension::Hour)
    } else {
        fill(DAYS, voice.lang, &[("n", &units::number((hours / 24.0).round(), 0, voice.lang))])
    }
}
