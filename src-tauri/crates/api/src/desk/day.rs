//! The day: every piece by what can be done.

use std::collections::{BTreeMap, BTreeSet};

use trowelogue_core::body::Place;
use trowelogue_core::id::ObjectId;
use trowelogue_core::rules::{Finding, State};
use trowelogue_core::shop::DeviceStatus;

use super::open::{Open, small};
use super::row::Row;
use super::{Desk, words};
use crate::Result;
use crate::dto::{Choice, Day, DayAsk, DayFilters, DayGroup, DayState};
use crate::reading::first_upper;
use crate::say::fill;
use crate::session::Session;

/// The groups, in the order they are shown.
const GROUPS: [DayState; 5] =
    [DayState::Trouble, DayState::Running, DayState::Ready, DayState::Waiting, DayState::Done];

/// How many of the pieces handed over are shown where nobody asked for more.
const DONE_SHOWN: u32 = 20;

impl Desk {
    /// Every piece by what can be done now; only those that fit every word of `find`, if given: by code, name,
    /// job, client, lot, product, person or note.
    ///
    /// # Errors
    /// No shop is open.
    pub fn day(&self, find: Option<&str>) -> Result<Day> {
        self.day_of(&DayAsk { find: find.map(str::to_owned), ..DayAsk::default() })
    }

    /// The pieces that were asked for, by what can be done now.
    ///
    /// # Errors
    /// No shop is open.
    pub fn day_of(&self, ask: &DayAsk) -> Result<Day> {
        let polled = self.polled();
        self.with(|open| {
            let now = open.session.now();
            open.board.refresh(&open.session, now);
            let voice = &open.session.voice;
            let apart = open.session.shop().devices.values().filter(|it| it.status == DeviceStatus::Apart);
            let apart = apart.count() as u64;
            let found = open.board.rows(&open.session, ask.find.as_deref());
            let rows: Vec<&Row> = found.into_iter().filter(|row| is_asked(row, ask)).collect();
            Ok(Day {
                now: voice.when(&now, &now),
                date: voice.weekday(&now),
                groups: groups(&rows, ask.done.unwrap_or(DONE_SHOWN)),
                filters: filters(&open.session, &open.board.rows(&open.session, None)),
                not_in_folder: small(open.session.not_in_folder()),
                apart: small(apart),
                notices: notices(open, polled),
            })
        })
    }
}

fn is_asked(row: &Row, ask: &DayAsk) -> bool {
    let fits = |asked: &Option<String>, it: &dyn Fn(&str) -> bool| asked.as_deref().is_none_or(it);
    fits(&ask.job, &|job| row.piece.job_id.as_deref() == Some(job))
        && fits(&ask.place, &|place| row.place.wire() == place)
        && fits(&ask.person, &|person| row.people.iter().any(|id| id.to_string() == person))
}

/// All five groups; within each the piece with the least time to spare first. Of those handed over, whose number
/// only ever grows, the newest `done`.
fn groups(rows: &[&Row], done: u32) -> Vec<DayGroup> {
    let group = |state: DayState| {
        let mut of_state: Vec<&Row> = rows.iter().copied().filter(|row| row.state == state).collect();
        let count = small(of_state.len() as u64);
        if state == DayState::Done {
            of_state.sort_by_key(|row| (std::cmp::Reverse(row.handover_ms), row.piece.code.as_str()));
            of_state.truncate(done as usize);
        } else {
            of_state.sort_by_key(|row| row.urgency());
        }
        DayGroup { state, count, pieces: of_state.into_iter().map(|row| row.piece.clone()).collect() }
    };
    GROUPS.map(group).into()
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

/// What a person should know: of the folder, of this device, and findings about people and days.
fn notices(open: &Open, polled: Option<String>) -> Vec<String> {
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
    let standing = open.board.whole.iter().filter(|it| it.state == State::Stands);
    notices.extend(standing.map(|it| about_people(open, it)));
    notices
}

/// A finding about a person, a day or the record, in a line.
fn about_people(open: &Open, finding: &Finding) -> String {
    let voice = &open.session.voice;
    let facts = voice.facts(&finding.facts);
    let facts: Vec<String> = facts.iter().map(|it| format!("{} {}", it.label, it.value)).collect();
    let what = format!("{} {}", voice.say(finding.rule.title), voice.say(finding.rule.remedy));
    if facts.is_empty() { what } else { format!("{what} ({})", facts.join("; ")) }
}
