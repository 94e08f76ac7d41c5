//! Moments, days and spans.

use chrono::{Datelike, FixedOffset, NaiveDate, NaiveDateTime, Offset, TimeZone};
use trowelogue_core::moment::{self, Moment, Span, hours_between};
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_core::units::{self, Dimension};

use super::Voice;
use crate::dto::When;
use crate::say::fill;

const MONTHS: [Text; 12] = [
    text("Jan", "ene"),
    text("Feb", "feb"),
    text("Mar", "mar"),
    text("Apr", "abr"),
    text("May", "may"),
    text("Jun", "jun"),
    text("Jul", "jul"),
    text("Aug", "ago"),
    text("Sep", "sep"),
    text("Oct", "oct"),
    text("Nov", "nov"),
    text("Dec", "dic"),
];

const LONG_MONTHS: [Text; 12] = [
    text("January", "enero"),
    text("February", "febrero"),
    text("March", "marzo"),
    text("April", "abril"),
    text("May", "mayo"),
    text("June", "junio"),
    text("July", "julio"),
    text("August", "agosto"),
    text("September", "septiembre"),
    text("October", "octubre"),
    text("November", "noviembre"),
    text("December", "diciembre"),
];

const WEEKDAYS: [Text; 7] = [
    text("Monday", "lunes"),
    text("Tuesday", "martes"),
    text("Wednesday", "miércoles"),
    text("Thursday", "jueves"),
    text("Friday", "viernes"),
    text("Saturday", "sábado"),
    text("Sunday", "domingo"),
];

const LATE: Text = text("written {span} later", "escrito {span} después");

impl Voice {
    /// The moment in the reader's zone.
    pub(crate) fn local(&self, moment: &Moment) -> Moment {
        match self.zone {
            Some(zone) => moment.with_timezone(&zone).fixed_offset(),
            None => *moment,
        }
    }

    /// `4 Mar 2025, 10:20`.
    pub(crate) fn moment(&self, moment: &Moment) -> String {
        let local = self.local(moment);
        format!("{}, {}", self.day(local.date_naive()), local.format("%H:%M"))
    }

    /// `4 Mar 2025`.
    pub(crate) fn day(&self, day: NaiveDate) -> String {
        format!("{} {} {}", day.day(), self.say(MONTHS[day.month0() as usize]), day.year())
    }

    /// `Tuesday 4 March`.
    pub(crate) fn weekday(&self, moment: &Moment) -> String {
        let day = self.local(moment).date_naive();
        let name = self.say(WEEKDAYS[day.weekday().num_days_from_monday() as usize]);
        let month = self.say(LONG_MONTHS[day.month0() as usize]);
        match self.lang {
            Lang::En => format!("{name} {} {month}", day.day()),
            Lang::Es => format!("{name}, {} de {month}", day.day()),
        }
    }

    /// From when to when: the end with its day only where it is another.
    pub(crate) fn span(&self, span: &Span) -> String {
        let start = self.moment(&span.start);
        match span.end {
            Some(end) if self.local(&end).date_naive() == self.local(&span.start).date_naive() => {
                format!("{start}–{}", self.local(&end).format("%H:%M"))
            }
            Some(end) => format!("{start} – {}", self.moment(&end)),
            None => start,
        }
    }

    /// A moment for a screen of the year `now` is in: the year is left out where it is the same.
    pub(crate) fn when(&self, moment: &Moment, now: &Moment) -> When {
        let local = self.local(moment);
        let mut text = self.moment(moment);
        if local.year() == self.local(now).year() {
            text = text.replacen(&format!(" {},", local.year()), ",", 1);
        }
        When { iso: moment::write(moment), text, ms: moment.timestamp_millis() }
    }

    /// A civil day as a moment to show: its start in the reader's zone.
    pub(crate) fn when_day(&self, day: NaiveDate, now: &Moment) -> When {
        let start = day.and_time(chrono::NaiveTime::MIN);
        let moment = self.civil(start, now).unwrap_or(*now);
        let mut text = self.day(day);
        if day.year() == self.local(now).year() {
            text = text.replacen(&format!(" {}", day.year()), "", 1);
        }
        When { iso: moment::write(&moment), text, ms: moment.timestamp_millis() }
    }

    /// Civil local time as a moment: in the shop's zone, else with the offset `now` has. `None` for a time the
    /// clocks leap over.
    pub(crate) fn civil(&self, local: NaiveDateTime, now: &Moment) -> Option<Moment> {
        match self.zone {
            Some(zone) => zone.from_local_datetime(&local).earliest().map(|it| it.fixed_offset()),
            None => {
                let offset: FixedOffset = now.offset().fix();
                offset.from_local_datetime(&local).single()
            }
        }
    }

    /// How late something was written down.
    pub(crate) fn late(&self, done: &Span, wrote: Moment) -> String {
        let span = units::show(hours_between(done.finish(), wrote), Dimension::Hour, self.system, self.lang);
        fill(LATE, self.lang, &[("span", &span)])
    }
}

#[cfg(test)]
mod tests {
    use trowelogue_core::units::System;

    use super::*;

    fn at(text: &str) -> Moment {
        moment::parse(text).expect("a moment")
    }

    fn voice(lang: Lang, zone: Option<&str>) -> Voice {
        Voice { lang, system: System::Metric, zone: zone.map(|it| it.parse().expect("a zone")) }
    }

    #[test]
    fn a_moment_is_shown_in_the_shops_zone_or_with_its_own_offset() {
        let noon = at("2025-03-04T18:20:00Z");
        assert_eq!(voice(Lang::En, Some("America/Denver")).moment(&noon), "4 Mar 2025, 11:20");
        assert_eq!(voice(Lang::Es, None).moment(&at("2025-08-04T10:20:00-06:00")), "4 ago 2025, 10:20");
    }

    #[test]
    fn the_year_is_left_out_in_its_own_year() {
        let en = voice(Lang::En, None);
        let now = at("2025-06-01T00:00:00+00:00");
        assert_eq!(en.when(&at("2025-03-04T10:20:00+00:00"), &now).text, "4 Mar, 10:20");
        assert_eq!(en.when(&at("2024-03-04T10:20:00+00:00"), &now).text, "4 Mar 2024, 10:20");
        assert_eq!(voice(Lang::Es, None).weekday(&now), "domingo, 1 de junio");
    }

    #[test]
    fn a_civil_time_the_clocks_leap_over_is_no_moment() {
        let denver = voice(Lang::En, Some("America/Denver"));
        let gap = "2025-03-09T02:30:00".parse().expect("a civil time");
        assert_eq!(denver.civil(gap, &at("2025-03-01T00:00:00+00:00")), None);
        let plain = "2025-03-10T02:30:00".parse().expect("a civil time");
        assert_eq!(
            denver.civil(plain, &at("2025-03-01T00:00:00+00:00")).map(|it| moment::write(&it)).as_deref(),
            Some("2025-03-10T02:30:00-06:00")
        );
    }
}
