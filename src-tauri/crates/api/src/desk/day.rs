//! The day: every piece by what can be done.

use trowelogue_core::rules::{Finding, State};
use trowelogue_core::shop::DeviceStatus;

use super::open::{Open, small};
use super::row::Row;
use super::{Desk, words};
use crate::Result;
use crate::dto::{Day, DayGroup, DayState};
use crate::say::fill;

/// The groups, in the order they are shown.
const GROUPS: [DayState; 5] =
    [DayState::Trouble, DayState::Running, DayState::Ready, DayState::Waiting, DayState::Done];

impl Desk {
    /// Every piece by what can be done now; only those that fit every word of `find`, if given: by code, name,
    /// job, client, lot, product, person or note.
    ///
    /// # Errors
    /// No shop is open.
    pub fn day(&self, find: Option<&str>) -> Result<Day> {
        let polled = self.polled();
        self.with(|open| {
            let now = open.session.now();
            open.board.refresh(&open.session, now);
            let voice = &open.session.voice;
            let apart = open.session.shop().devices.values().filter(|it| it.status == DeviceStatus::Apart);
            let apart = apart.count() as u64;
            Ok(Day {
                now: voice.when(&now, &now),
                date: voice.weekday(&now),
                groups: groups(&open.board.rows(&open.session, find)),
                not_in_folder: small(open.session.not_in_folder()),
                apart: small(apart),
                notices: notices(open, polled),
            })
        })
    }
}

/// All five groups; within each the piece with the least time to spare first, of those handed over the newest.
fn groups(rows: &[&Row]) -> Vec<DayGroup> {
    let group = |state: DayState| {
        let mut of_state: Vec<&Row> = rows.iter().copied().filter(|row| row.state == state).collect();
        of_state.sort_by_key(|row| row.urgency());
        if state == DayState::Done {
            of_state.sort_by_key(|row| std::cmp::Reverse(row.handover_ms));
        }
        DayGroup { state, pieces: of_state.into_iter().map(|row| row.piece.clone()).collect() }
    };
    GROUPS.map(group).into()
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
