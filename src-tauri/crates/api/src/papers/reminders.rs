//! Reminders of what is due on a piece, for any calendar.

use chrono::NaiveDate;
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::shop::Versions;
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_papers::calendar::{Alarm, Calendar, Event, Repeat, write};
use trowelogue_papers::model::{Attachment, Relation};

use super::Maker;
use super::due::{Due, Stands};
use crate::say::fill;

/// Name of the file a care sheet carries.
const NAME: &str = "reminders.ics";

const ABOUT: Text = text(
    "Reminders of the dates on this sheet, for any calendar: first water, full use, renewal, end of the warranty.",
    "Recordatorios de las fechas de esta hoja para cualquier calendario: primera agua, uso pleno, renovación, fin de la garantía.",
);
const TITLE: Text = text("Care of {pieces}", "Cuidado de {pieces}");
const FIRST_WATER: Text = text("First water: {piece}", "Primera agua: {piece}");
const FULL_USE: Text = text("Full use: {piece}", "Uso pleno: {piece}");
const FIRST_TEST: Text = text("Water-drop test: {piece}", "Prueba de la gota: {piece}");
const RENEWAL: Text = text("Renew the sealing: {piece}", "Renovar el sellado: {piece}");
const WARRANTY: Text = text("The warranty ends: {piece}", "Termina la garantía: {piece}");
const NOT_BEFORE: Text = text("Not before {when} ({basis}).", "No antes de {when} ({basis}).");
const TEST: Text = text(
    "Put a few drops of water where it is used most and wait ten minutes. Where the concrete darkens, renewal is due.",
    "Ponga unas gotas de agua donde más se usa y espere diez minutos. Donde el hormigón se oscurece, toca renovar.",
);
const EVERY: Text = text(
    "By this day, then every {months} months ({basis}).",
    "Antes de este día y luego cada {months} meses ({basis}).",
);
const REPORT: Text = text(
    "Last day ({basis}). Look the piece over, and report what is wrong before.",
    "Último día ({basis}). Revise la pieza y avise antes de lo que esté mal.",
);
const CALL: Text = text("Contact: {who}", "Contacto: {who}");

/// Days before a renewal at which a calendar speaks up: time to make an appointment.
const RENEW_AHEAD: u32 = 14;
/// Days before the end of a warranty.
const WARRANTY_AHEAD: u32 = 30;

impl Maker<'_> {
    /// The reminders of pieces as a file.
    pub(crate) fn calendar(&self, pieces: &[ObjectId]) -> Vec<u8> {
        let codes: Vec<String> = pieces.iter().map(|it| crate::format::piece_code(self.shop, *it)).collect();
        let calendar = Calendar {
            tool: concat!("Trowelogue ", env!("CARGO_PKG_VERSION")).into(),
            name: fill(TITLE, self.voice.lang, &[("pieces", &crate::say::list(codes, 6))]),
            lang: match self.voice.lang {
                Lang::En => "en",
                Lang::Es => "es",
            },
            stamp: self.now,
            events: pieces.iter().flat_map(|piece| self.events(*piece)).collect(),
        };
        write(&calendar)
    }

    /// The same as a file of a care sheet.
    pub(super) fn reminders(&self, pieces: &[ObjectId]) -> Attachment {
        Attachment {
            name: NAME.into(),
            mime: "text/calendar".into(),
            description: self.voice.say(ABOUT),
            relation: Relation::Supplement,
            bytes: self.calendar(pieces),
        }
    }

    fn events(&self, piece: ObjectId) -> Vec<Event> {
        let due = self.due(piece);
        let Due { renews, .. } = due;
        let of = |name: &str, title: Text, day: NaiveDate, said: String, alarm: Alarm| {
            self.event(piece, name, title, (day, said, alarm))
        };
        let hour = |it: Stands<Moment>| (self.voice.local(&it.at).date_naive(), self.not_before(&it));
        let mut events = Vec::new();
        if let Some((day, said)) = due.first_water.map(hour) {
            events.push(of("first-water", FIRST_WATER, day, said, Alarm::Morning));
        }
        if let Some((day, said)) = due.full_use.map(hour) {
            events.push(of("full-use", FULL_USE, day, said, Alarm::Morning));
        }
        if let Some(it) = due.first_test {
            events.push(of("first-test", FIRST_TEST, it.at, self.voice.say(TEST), Alarm::Morning));
        }
        if let (Some(it), Some((months, from))) = (due.renewal, renews) {
            let blanks: &[(&str, &dyn std::fmt::Display)] =
                &[("months", &months), ("basis", &it.basis.get(self.voice.lang))];
            let said = format!("{} {}", fill(EVERY, self.voice.lang, blanks), self.voice.say(TEST));
            let event = of("renewal", RENEWAL, it.at, said, Alarm::DaysBefore(RENEW_AHEAD));
            events.push(Event { repeat: Some(Repeat::every(months, from)), ..event });
        }
        if let Some(it) = due.warranty_end {
            let said = fill(REPORT, self.voice.lang, &[("basis", &it.basis.get(self.voice.lang))]);
            events.push(of("warranty-end", WARRANTY, it.at, said, Alarm::DaysBefore(WARRANTY_AHEAD)));
        }
        events
    }

    fn not_before(&self, it: &Stands<Moment>) -> String {
        let when = self.voice.moment(&it.at);
        fill(NOT_BEFORE, self.voice.lang, &[("when", &when), ("basis", &it.basis.get(self.voice.lang))])
    }

    /// An event of a piece. Its name and the piece's id name it for ever.
    fn event(
        &self,
        id: ObjectId,
        name: &str,
        title: Text,
        (day, said, alarm): (NaiveDate, String, Alarm),
    ) -> Event {
        let shop = self.shop;
        let piece = shop.pieces.get(&id).map(Versions::now);
        let named = piece.map(|it| format!("{} {}", it.code, it.name)).unwrap_or_default();
        let site = piece.and_then(|it| shop.jobs.get(&it.job?)).and_then(|job| job.now().site.clone());
        let contact = shop.settings.contact.as_ref().map(|who| fill(CALL, self.voice.lang, &[("who", who)]));
        let description = [Some(said), contact].into_iter().flatten().collect::<Vec<_>>().join("\n");
        Event {
            uid: format!("{name}-{id}"),
            day,
            summary: fill(title, self.voice.lang, &[("piece", &named)]),
            description,
            location: site,
            repeat: None,
            alarm: Some(alarm),
        }
    }
}
