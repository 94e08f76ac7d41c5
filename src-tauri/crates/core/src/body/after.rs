//! Inspection, handover, service, incidents, safety confirmations, notes.

use chrono::NaiveDate;

use super::common::Answer;
use super::sealing::DropResult;
use crate::id::ObjectId;

choices! {
    /// A line of a checklist.
    pub enum CheckResult {
        Pass = "pass": "pass", "conforme";
        Fail = "fail": "fail", "no conforme";
        NotLooked = "not_looked": "not looked at", "no comprobado";
    }

    /// What a person confirms once per shift before the first step that needs it.
    pub enum SafetyTopic {
        Acid = "acid": "acid and ammonia: concentrate into water, eyes, hands, ventilation, eyewash at hand, never one straight into the other",
            "ácido y amoníaco: el concentrado sobre el agua, ojos, manos, ventilación, lavaojos a mano, nunca uno directamente sobre el otro";
        Solvent = "solvent": "solvent: no ignition source, ventilation, oily rags wet in a closed metal bin",
            "disolvente: sin fuentes de ignición, ventilación, trapos con aceite mojados en recipiente metálico cerrado";
        Isocyanate = "isocyanate": "isocyanate: the respirator its safety data sheet asks for; spraying: others out",
            "isocianato: la protección respiratoria que pide su ficha de seguridad; al pulverizar: los demás fuera";
        OnEdge = "on_edge": "pieces on edge: tied back one by one, nobody on the fall side, rack rated",
            "piezas de canto: atadas una a una, nadie en el lado de caída, caballete homologado";
        Burner = "burner": "unvented burner: ventilation and a carbon monoxide alarm",
            "quemador sin salida de humos: ventilación y alarma de monóxido de carbono";
        Suction = "suction": "suction lifter: tried on this surface, with a safety sling",
            "ventosa: probada en esta superficie, con eslinga de seguridad";
    }
}

bodies! {
    /// A line of a checklist.
    pub struct CheckLine {
        /// What was looked at.
        pub what: String,
        /// Result.
        pub result: CheckResult,
    }

    /// An inspection.
    pub struct Inspection {
        /// The lines.
        pub checklist: Vec<CheckLine>,
        /// Gloss at 60°, in gloss units, where the job asks for it.
        pub gloss_gu: Option<f64>,
    }

    /// Water held in a basin.
    pub struct WaterTest {
        /// Falls to the drain.
        pub falls: Answer,
        /// Drains without puddles.
        pub drains: Answer,
        /// Held for, in hours.
        pub held_h: f64,
        /// A leak was seen.
        pub leaks: Option<Answer>,
    }

    /// Handover to the client.
    pub struct Handover {
        /// Who received it.
        pub received_by: String,
        /// Version of the care sheet given.
        pub care_sheet: String,
        /// Open points.
        pub open_points: Option<Vec<String>>,
        /// What the client refused.
        pub refusals: Option<Vec<String>>,
        /// It was signed.
        pub signed: Option<bool>,
        /// Lot of what was left for touching up.
        pub touch_up_lot: Option<String>,
        /// Whom to call for touching up.
        pub touch_up_contact: Option<String>,
        /// Safety data sheets of products left were given.
        pub sheets_given: Option<Answer>,
    }

    /// A service visit.
    pub struct ServiceVisit {
        /// What a drop of water does.
        pub water_drop: DropResult,
        /// Wear, in words.
        pub wear: Option<String>,
        /// What was done.
        pub work_done: Option<String>,
        /// Product used.
        pub product: Option<ObjectId>,
        /// Lot.
        pub lot: Option<String>,
        /// Next visit due.
        pub next_due: Option<NaiveDate>,
        /// Gloss at 60°, in gloss units.
        pub gloss_gu: Option<f64>,
    }

    /// Something that went wrong with a person.
    pub struct Incident {
        /// What happened.
        pub what: String,
        /// Who.
        pub who: String,
        /// First aid given.
        pub first_aid: Option<String>,
        /// What follows.
        pub follow_up: Option<String>,
    }

    /// Cautions confirmed by the person of the entry.
    pub struct SafetyConfirmed {
        /// Which.
        pub topics: Vec<SafetyTopic>,
    }

    /// A note.
    pub struct Note {
        /// The words.
        pub text: String,
        /// Not for clients: never in a paper.
        pub internal: Option<bool>,
    }
}
