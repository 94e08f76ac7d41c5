//! The day: every piece by what can be done.

use std::collections::{BTreeMap, BTreeSet};

use trowelogue_core::body::Place;
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::rules::{Finding, State};
use trowelogue_core::shop::DeviceStatus;

use super::board::newest_cause;
use super::glance::Glance;
use super::open::{Open, small};
use super::row::Row;
use super::{Desk, words};
use crate::Result;
use crate::dto::{Choice, Day, DayAsk, DayFilters, DayGroup, DayPiece, DayState, FindingsBeside};
use crate::reading::first_upper;
use crate::say::fill;
use crate::session::Session;

/// The groups, in the order they are shown.
pub(super) const GROUPS: [DayState; 5] =
    [DayState::Trouble, DayState::Running, DayState::Ready, DayState::Waiting, DayState::Done];

/// How many of the pieces handed over are shown where nobody asked for more.
const DONE_SHOWN: u32 = 20;

/// How many pieces of a group the day has at first: as many as a screen holds, and some. The others are asked for as
/// they come into sight.
pub(super) fn most(state: DayState, ask: &DayAsk) -> u32 {
    const SHOWN: u32 = 40;
    match state {
        DayState::Done => ask.done.unwrap_or(DONE_SHOWN),
        _ => SHOWN,
    }
}

impl Desk {
    /// Every piece by what can be done now; only those that fit every word of `find`, if given: by code, name,
    /// job, client, lot, product, person or note.
    ///
    /// # Errors
    /// No shop is open.
    pub fn day(&self, find: Option<&str>) -> Result<Day> {
        self.day_of(&DayAsk { find: find.map(str::to_owned), ..DayAsk::default() })
    }

    /// The pieces that were asked for, by what can be done now. While the record is being read, the whole day is there
    /// as it was last seen.
    ///
    /// # Errors
    /// No shop is open.
    pub fn day_of(&self, ask: &DayAsk) -> Result<Day> {
        let whole = *ask == DayAsk::default();
        if let Some(day) = whole.then(|| self.day_at_a_glance()).flatten() {
            return Ok(day);
        }
        let polled = self.polled();
        let (day, first) = self.with(|open| {
            let now = open.session.now();
            open.board.refresh(&open.session, now);
            let voice = &open.session.voice;
            let apart = open.session.shop().devices.values().filter(|it| it.status == DeviceStatus::Apart);
            let apart = apart.count() as u64;
            let rows = asked(open, ask);
            let day = Day {
                now: voice.when(&now, &now),
                date: voice.weekday(&now),
                groups: GROUPS.map(|state| group(state, ask, in_order(&rows, state))).into(),
                filters: filters(&open.session, &open.board.rows(&open.session, None)),
                not_in_folder: small(open.session.not_in_folder()),
                apart: small(apart),
                notices: notices(open, polled, now),
                beside: small(standing(open).count() as u64),
            };
            let first = whole.then(|| Glance::of(&open.session, self.head(&open.session), &day));
            Ok((day, first))
        })?;
        if let Some(first) = first {
            self.keep_glance(first);
        }
        Ok(day)
    }

    /// Findings about people, days and the record that stand: so many, from a place in their order, that with the
    /// newest cause first; and how many there are.
    ///
    /// # Errors
    /// No shop is open.
    pub fn beside(&self, from: u32, count: u32) -> Result<FindingsBeside> {
        self.with(|open| {
            let wanted = standing(open).skip(from as usize).take(count as usize);
            let findings = wanted.map(|it| super::finding::told(&open.session, it)).collect();
            Ok(FindingsBeside { count: small(standing(open).count() as u64), findings })
        })
    }

    /// More pieces of a group of the day that was asked for: so many, from a place in its order.
    ///
    /// # Errors
    /// No shop is open.
    pub fn day_more(&self, ask: &DayAsk, state: DayState, from: u32, count: u32) -> Result<Vec<DayPiece>> {
        self.with(|open| {
            let rows = in_order(&asked(open, ask), state);
            let wanted = rows.into_iter().skip(from as usize).take(count as usize);
            Ok(wanted.map(|row| row.piece.clone()).collect())
        })
    }
}

/// The rows that were asked for.
fn asked<'a>(open: &'a Open, ask: &DayAsk) -> Vec<&'a Row> {
    let found = open.board.rows(&open.session, ask.find.as_deref());
    found.into_iter().filter(|row| is_asked(row, ask)).collect()
}

fn is_asked(row: &Row, ask: &DayAsk) -> bool {
    let fits = |asked: &Option<String>, it: &dyn Fn(&str) -> bool| asked.as_deref().is_none_or(it);
    fits(&ask.job, &|job| row.piece.job_id.as_deref() == Some(job))
        && fits(&ask.place, &|place| row.place.wire() == place)
        && fits(&ask.person, &|person| row.people.iter().any(|id| id.to_string() == person))
}

/// A group of the day from the rows of its state, in order.
pub(super) fn group(state: DayState, ask: &DayAsk, rows: Vec<&Row>) -> DayGroup {
    let count = small(rows.len() as u64);
    let shown = rows.into_iter().take(most(state, ask) as usize);
    DayGroup { state, pieces: shown.map(|row| row.piece.clone()).collect(), count }
}

/// The rows of a state: the piece with the least time to spare first, of those handed over the newest.
fn in_order<'a>(rows: &[&'a Row], state: DayState) -> Vec<&'a Row> {
    let mut of_state: Vec<&Row> = rows.iter().copied().filter(|row| row.state == state).collect();
    of_state.sort_by_key(|row| row.order());
    of_state
}

/// What the pieces can be told apart by; a choice of one is none.
fn filters(session: &Session, rows: &[&Row]) -> DayFilters {
    let shop = session.shop();
    let choice = |value: String, label: String| Choice { value, label, hint: None };
    let people: BTreeSet<ObjectId> = rows.iter().flat_map(|row| row.people.iter().copied()).collect();
    let mut people: Vec<Choice> =
        people.into_iter().map(|id| choice(id.to_string(), shop.person_name(id))).collect();
    people.sort_by(|a, b| a.label.cmp(&b.label));
    let mut jobs: BTreeMap<&str, (bool, &str)> = BTreeMap::new();
    for row in rows {
        let Some(id) = row.piece.job_id.as_deref() else { continue };
        let job = jobs.entry(id).or_insert((true, &row.piece.job));
        job.0 &= row.state == DayState::Done;
    }
    let mut jobs: Vec<(&str, (bool, &str))> = jobs.into_iter().collect();
    jobs.sort_by_key(|(_, order)| *order);
    let jobs = jobs.into_iter().map(|(id, (_, label))| choice(id.to_owned(), label.to_owned())).collect();
    let places: BTreeSet<&str> = rows.iter().map(|row| row.place.wire()).collect();
    let places = Place::ALL.iter().filter(|place| places.contains(place.wire()));
    let places = places
        .map(|place| choice(place.wire().to_owned(), first_upper(place.label().get(session.voice.lang))))
        .collect();
    let several = |all: Vec<Choice>| if all.len() > 1 { all } else { Vec::new() };
    DayFilters { people: several(people), jobs: several(jobs), places: several(places) }
}

/// For so long a finding about a person or a day is news, in milliseconds; the others stand on a page of their own.
const NEWS_MS: i64 = 7 * 24 * 3_600_000;
/// So many of them stand on the day itself.
const NEWS: usize = 3;

/// Findings about people, days and the record that stand, that with the newest cause first.
pub(super) fn standing(open: &Open) -> impl Iterator<Item = &Finding> {
    open.board.whole.iter().filter(|it| it.state == State::Stands)
}

/// What a person should know: of the folder, of this device, and what is new about people and days.
fn notices(open: &Open, polled: Option<String>, now: Moment) -> Vec<String> {
    let voice = &open.session.voice;
    let view = &open.session.view;
    let mut notices = Vec::new();
    if !view.folder_here {
        notices.push(voice.say(words::NO_FOLDER));
    }
    if !view.breaks.is_empty() {
        notices.push(fill(words::BREAKS, voice.lang, &[("count", &view.breaks.len())]));
    }
    notices.extend(polled.map(|why| fill(words::POLLED, voice.lang, &[("why", &why)])));
    let trouble = open.board.trouble.as_ref();
    notices.extend(trouble.map(|why| fill(words::NO_INDEX, voice.lang, &[("why", why)])));
    let since = now.timestamp_millis() - NEWS_MS;
    let is_news = |it: &&Finding| newest_cause(open.session.shop(), it).is_some_and(|ms| ms >= since);
    notices.extend(standing(open).take_while(is_news).take(NEWS).map(|it| about_people(open, it)));
    notices
}

/// A finding about a person, a day or the record, in a line.
fn about_people(open: &Open, finding: &Finding) -> String {
    let voice = &open.session.voice;
    let facts = voice.facts_in_a_line(&finding.facts);
    let what = format!("{}. {}", voice.say(finding.rule.title), voice.say(finding.rule.remedy));
    if facts.is_empty() { what } else { format!("{what} ({facts})") }
}
