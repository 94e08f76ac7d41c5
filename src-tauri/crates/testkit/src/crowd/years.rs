//! The years of a busy shop: ten entries a piece, nearly all handed over, the last few hundred at work.

use std::path::Path;
use std::sync::Arc;

use chrono::TimeDelta;
use serde_json::{Value, json};
use trowelogue_api::dto::Settings;
use trowelogue_api::{ApiError, Clock, Desk};
use trowelogue_core::entry::{Content, Record};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_journal::{Draft, Home, RealDisk};

use super::{CLIENT, Crowd, JOB, MIX, PER_POUR, PERSON, POUR, ROUTE, coat, object, pass, piece};
use crate::entropy::Seeded;
use crate::yard::Outcome;

/// People who log in turn.
const PEOPLE: usize = 6;
/// One pour after the other.
const BETWEEN_POURS_H: i64 = 26;
/// One client has so many jobs.
const JOBS_A_CLIENT: usize = 8;
/// Every so many pieces a route is chosen by hand, and frozen into the record.
const CHOSEN_EVERY: usize = 8;

/// The entries of a shop with `pieces` pieces, of which the last `at_work` are not finished: ten entries a piece.
pub fn years(pieces: usize, at_work: usize) -> Vec<Record> {
    let mut crowd = Crowd::new();
    crowd.now -= TimeDelta::hours(BETWEEN_POURS_H * (pieces / PER_POUR) as i64);
    crowd.stock();
    for number in 1..PEOPLE {
        let name = format!("Person {number}");
        crowd.push("person", Some(object(PERSON, number)), &[], json!({ "name": name }));
    }
    for first in (0..pieces).step_by(PER_POUR) {
        let finished = pieces.saturating_sub(at_work);
        crowd.job(first, PER_POUR.min(pieces - first), finished);
    }
    crowd.merged.records.sort_by_key(|record| record.entry.done.start);
    crowd.merged.records
}

impl Crowd {
    /// A job of one pour: its first `finished` pieces of the whole shop are handed over.
    fn job(&mut self, first: usize, count: usize, finished: usize) {
        let start = self.now;
        self.names(first, count);
        for number in first..first + count {
            self.person = number % PEOPLE;
            self.now = start + TimeDelta::minutes(180 + (number - first) as i64);
            if number < finished { self.whole(number) } else { self.history(piece(number), 3 + number % 20) }
        }
        self.person = 0;
        self.now = start + TimeDelta::hours(BETWEEN_POURS_H);
    }

    /// The client, the job, its pieces and the pour.
    fn names(&mut self, first: usize, count: usize) {
        let at = first / PER_POUR;
        let (client, job) = (object(CLIENT, at / JOBS_A_CLIENT), object(JOB, at));
        if at.is_multiple_of(JOBS_A_CLIENT) {
            self.push(
                "client",
                Some(client),
                &[],
                json!({ "name": format!("Client {}", at / JOBS_A_CLIENT) }),
            );
        }
        let due = (self.now + TimeDelta::days(40)).date_naive();
        let body = json!({ "code": format!("J-{at:04}"), "name": format!("Terrace {at}"), "client": client,
            "handover_by": due });
        self.push("job", Some(job), &[], body);
        let pieces: Vec<ObjectId> = (first..first + count).map(piece).collect();
        for (number, id) in (first..).zip(&pieces) {
            let body = json!({ "code": format!("P-{number:05}"), "name": "counter", "job": job,
                "mix": object(MIX, 0), "finish": ROUTE, "length_mm": 1800, "width_mm": 620, "thickness_mm": 40 });
            self.push("piece", Some(*id), &[], body);
        }
        let pour = json!({ "mix": object(MIX, 0), "batch": format!("B-{at}") });
        self.push("pour", Some(object(POUR, first)), &pieces, pour);
    }

    /// Everything from demould to handover, in nine entries.
    fn whole(&mut self, number: usize) {
        let chosen = json!({ "code": ROUTE, "version": 1, "route": self.route });
        let seen = json!({ "checklist": [{ "what": "face", "result": "pass" }] });
        let first =
            if number.is_multiple_of(CHOSEN_EVERY) { ("route_chosen", chosen) } else { ("inspection", seen) };
        let handed = json!({ "received_by": "the client", "care_sheet": "1" });
        let script: [(i64, &str, Value); 9] = [
            (24, "demould", json!({ "face": ["clean"] })),
            (1, first.0, first.1),
            (100, "grit_pass", pass(100)),
            (
                2,
                "fill",
                json!({ "material": "cement_fill", "lot": format!("F{}", number / 300), "method": "spot" }),
            ),
            (26, "grit_pass", pass(200)),
            (100, "seal_coat", coat(1)),
            (7, "seal_coat", coat(2)),
            (170, "install", json!({ "base_level": "yes" })),
            (1, "handover", handed),
        ];
        for (hours, kind, body) in script {
            self.now += TimeDelta::hours(hours);
            self.push(kind, None, &[piece(number)], body);
        }
    }
}

/// Makes the shop of [`years`] in `folder`, founded by the home in `home`, whose first person logs there. Its
/// projection is warm.
///
/// # Errors
/// Whatever journal and desk refuse.
pub fn long_years(home: &Path, folder: &Path, pieces: usize, at_work: usize) -> Outcome<()> {
    std::fs::create_dir_all(folder.parent().unwrap_or(folder))?;
    let founder = Home::open_with(home, Arc::new(RealDisk), Seeded::new("long years"));
    write_down(&founder, folder, years(pieces, at_work))?;
    let desk = Desk::new(home, Clock::System);
    let said = |error: ApiError| error.message;
    let settings = desk.open_shop(folder).map_err(said)?.settings;
    let person = Some(object(PERSON, 0).to_string());
    desk.set_settings(&Settings { person, ..settings }).map_err(said)?;
    Ok(())
}

/// Founds a shop in `folder` for `home` and writes the entries, a day at a time, as a device would have.
///
/// # Errors
/// Whatever the journal refuses.
pub fn write_down(home: &Home, folder: &Path, records: Vec<Record>) -> Outcome<()> {
    let Some(first) = records.first().map(|record| record.entry.done.start) else { return Ok(()) };
    let mut shop = home.found(folder, "Long Years Castings", first)?.shop;
    let mut day: Vec<Draft> = Vec::new();
    let mut last = first;
    for record in records {
        let at = record.entry.done.start;
        if at.date_naive() != last.date_naive() && !day.is_empty() {
            shop.append(std::mem::take(&mut day), last)?;
        }
        last = at;
        day.push(draft(record)?);
    }
    shop.append(day, evening(last))?;
    Ok(())
}

/// An hour after the last work.
fn evening(last: Moment) -> Moment {
    last + TimeDelta::hours(1)
}

fn draft(record: Record) -> Outcome<Draft> {
    let Content::Open(Value::Object(body)) = record.body else { return Err("a body is an object".into()) };
    let entry = record.entry;
    Ok(Draft {
        done: entry.done,
        person: entry.person,
        kind: entry.kind,
        object: entry.object,
        pieces: entry.pieces,
        peer: entry.peer,
        refs: entry.refs,
        body,
    })
}

#[cfg(test)]
mod tests {
    use trowelogue_core::fold::fold;
    use trowelogue_core::moment::parse;
    use trowelogue_core::plan::{PlanState, next_shop};

    use super::*;

    #[test]
    fn the_years_are_written_read_back_and_most_pieces_are_finished() {
        let place = tempfile::tempdir().expect("a directory");
        let home = Home::open_with(place.path().join("home"), Arc::new(RealDisk), Seeded::new("years"));
        let records = years(60, 24);
        let count = records.len();
        write_down(&home, &place.path().join("shop"), records).expect("written");
        let reading = home.shop(&place.path().join("shop")).expect("joined").read().expect("read");
        assert_eq!(reading.merged.records.len(), count);
        assert!(reading.breaks.is_empty());
        let shop = fold(&reading.merged);
        assert!(shop.steps.iter().all(|step| step.in_force && step.body().is_some()));
        let plans = next_shop(&shop, parse("2026-01-01T00:00:00Z").expect("a moment"));
        assert_eq!(plans.iter().filter(|plan| plan.state == PlanState::Finished).count(), 36);
    }
}
