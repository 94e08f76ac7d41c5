//! Clocks that run on pieces: dwells, cures, the recoat window, pot life. They run from the entries on, so that
//! they are there again when the app is opened anew.

use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::plan::{PiecePlan, Timer, TimerKind};
use trowelogue_core::text::{Text, text};

use super::Desk;
use crate::Result;
use crate::dto::{ClockFace, PieceClock};
use crate::format::Voice;
use crate::say::fill;

const OVER: Text = text("{code}: {what}, time is up.", "{code}: {what}, tiempo cumplido.");
const COAT: Text = text("{code}: the next coat may be laid.", "{code}: ya se puede dar la siguiente mano.");
const POT: Text = text(
    "{code}: pot life is over. Lay no more of this mix.",
    "{code}: terminó la vida de la mezcla. No aplique más de esta mezcla.",
);

impl Desk {
    /// The clocks that run, the one that ends first first.
    ///
    /// # Errors
    /// No shop is open.
    pub fn clocks(&self) -> Result<Vec<PieceClock>> {
        self.with(|open| {
            let now = open.session.now();
            open.board.refresh(&open.session, now);
            let rows = open.board.rows(&open.session, None);
            let clocks = rows.into_iter().flat_map(|row| &row.clocks);
            let mut running: Vec<PieceClock> =
                clocks.filter(|it| it.face.ends.ms > now.timestamp_millis()).cloned().collect();
            running.sort_by(|a, b| (a.face.ends.ms, &a.code).cmp(&(b.face.ends.ms, &b.code)));
            Ok(running)
        })
    }
}

/// The clocks of a plan.
pub(super) fn of_plan(
    voice: &Voice,
    id: ObjectId,
    code: &str,
    plan: &PiecePlan,
    now: Moment,
) -> Vec<PieceClock> {
    let running = plan.timers.iter().filter(|timer| timer.end > now);
    running.map(|timer| told(voice, id, code, timer, now)).collect()
}

fn told(voice: &Voice, id: ObjectId, code: &str, timer: &Timer, now: Moment) -> PieceClock {
    let label = voice.say(timer.kind.label());
    let over = match timer.kind {
        TimerKind::Recoat => COAT,
        TimerKind::PotLife => POT,
        _ => OVER,
    };
    PieceClock {
        key: format!("{id} {} {}", timer.step, timer.kind.wire()),
        piece: id.to_string(),
        code: code.to_owned(),
        over: fill(over, voice.lang, &[("code", &code), ("what", &label)]),
        face: ClockFace { label, starts: voice.when(&timer.start, &now), ends: voice.when(&timer.end, &now) },
        latest: timer.latest.map(|it| voice.when(&it, &now)),
        presses: !timer.holds_work(),
    }
}
