//! Terrace and hearth, summer 2024: hand-honed treads outdoors, a trowelled hearth.

use serde_json::json;

use super::steps::Cast;
use crate::demo::story::{INES, MARTA, Story, TOBIAS};

const JOB: &str = "J-2024-02";

pub(in crate::demo) fn tell(story: &mut Story) {
    treads(story);
    hearth(story);
    unfinished(story);
}

fn plan(
    story: &mut Story,
    code: &str,
    name: &str,
    size_mm: [u32; 3],
    finish: &str,
    used_as: &str,
    route: &str,
) {
    let cast = Cast {
        code,
        name,
        job: JOB,
        mix: "face mix",
        size_mm,
        finish,
        used_as,
        more: json!({ "finished_edges": ["front"] }),
    };
    story.plan(INES, "2024-05-27 09:00", &cast, route);
}

/// Two treads: one honed by hand, one sealed with the penetrating sealer over a face nobody opened.
fn treads(story: &mut Story) {
    plan(story, "T-01", "Tread, lower", [1400, 380, 50], "honed", "outdoor", "hand_honed");
    plan(story, "T-02", "Tread, upper", [1400, 380, 50], "as_cast", "outdoor", "as_cast_cleaned");
    story.cast(TOBIAS, "2024-06-03", "2024-06-04", "P-2024-06", "face mix", &["T-01", "T-02"], json!({}));
    story.trial_grind(MARTA, "2024-06-11 08:00", &["T-01"], 600.0, 190.0);
    story.paper(MARTA, "2024-06-11 08:30", "T-01", "face", 600);
    story.paper(MARTA, "2024-06-11 09:30", "T-01", "edge", 600);
    story.rinse(MARTA, "2024-06-11 10:30", "T-01");
    story.dry(MARTA, "2024-06-17 09:00", "2024-06-19 09:00", "T-01");
    story.confirm(MARTA, "2024-06-19 09:45", &["solvent"]);
    for (number, at) in [(1, "10:00"), (2, "10:30")] {
        story
            .coat(MARTA, &format!("2024-06-19 {at}"), "T-01", "repellent", "S1-0324", number)
            .with("quantity_l", json!(0.11))
            .with("area_m2", json!(0.65))
            .with("to_refusal", json!("yes"))
            .with("wet_on_wet", json!(true))
            .with("method", json!("flood"));
    }
    story.cure(MARTA, "2024-06-19 12:00", "T-01", "2024-06-22 12:00");
    story.inspect(MARTA, "2024-06-24 09:00", &["T-01"]);
    let clean = json!({ "agent": "neutral_cleaner", "pad": "non-woven pad", "rinsed_and_changed": "yes" });
    story.tell(MARTA, "2024-06-11 11:00", "clean", &["T-02"], clean);
    story.rinse(MARTA, "2024-06-11 11:30", "T-02");
    story.dry(MARTA, "2024-06-11 12:00", "2024-06-13 09:00", "T-02");
    story.penetrate(MARTA, "2024-06-13", "T-02", "R2-0224", 0.55, "2024-06-20 17:00");
    story.plant(
        "face-not-open",
        "stop",
        "T-02",
        &["seal_coat/1"],
        "penetrating sealer on a face as cast: neither washed nor abraded",
    );
}

/// The hearth; its drying was written down four days later, and it was handed over without a care sheet known to be given.
fn hearth(story: &mut Story) {
    plan(story, "H-01", "Hearth", [1500, 550, 60], "trowelled", "hearth", "trowelled");
    story.cast(TOBIAS, "2024-06-10", "2024-06-11", "P-2024-07", "face mix", &["H-01"], json!({}));
    story.tell(
        TOBIAS,
        "2024-06-10 15:00",
        "trowel",
        &["H-01"],
        json!({ "passes": 4, "tool": "steel trowel" }),
    );
    story.trial_grind(TOBIAS, "2024-06-18 08:00", &["H-01"], 200.0, 191.0);
    for (grit, at) in [(200, "08:30"), (400, "10:00")] {
        story
            .pass(TOBIAS, &format!("2024-06-18 {at}"), "H-01", grit, "resin")
            .with("exposure", json!("cream"));
    }
    story.rinse(TOBIAS, "2024-06-18 11:00", "H-01");
    story.dry(TOBIAS, "2024-06-18 12:00", "2024-06-20 08:00", "H-01");
    if let Some(dry) = story.events.last_mut() {
        dry.written("2024-06-24 07:30");
    }
    story.plant("written-late", "note", "H-01", &["dry/1"], "drying written down four days later");
    story.penetrate(TOBIAS, "2024-06-20", "H-01", "R2-0224", 0.85, "2024-06-27 17:00");
    story.inspect(TOBIAS, "2024-06-28 09:00", &["H-01"]);
    story.bring(MARTA, "2024-07-02", &["H-01"]);
    let photo = crate::demo::photo::hash("H-01");
    let body = json!({ "place": "site", "received_by": "Wren household", "care_sheet": "none given", "open_points": [], "signed": false,
        "touch_up_contact": "Ines Calder, 555-0142", "sheets_given": "no", "photos": [{ "hash": photo.to_string(), "caption": "hearth in place" }] });
    story.tell(MARTA, "2024-07-03 11:00", "handover", &["H-01"], body).with("care_sheet", json!(""));
    story.plant("handover-gap", "stop", "H-01", &["handover/1"], "no care sheet was given");
}

/// A piece left at every kind of place a day can end: cast only, ground, waiting for its second coat.
fn unfinished(story: &mut Story) {
    plan(story, "T-03", "Tread, spare", [1400, 380, 50], "honed", "outdoor", "hand_honed");
    plan(story, "T-04", "Bench top", [1600, 420, 50], "salt_pepper", "outdoor", "salt_pepper");
    story.cast(TOBIAS, "2025-05-05", "2025-05-06", "P-2025-04", "face mix", &["T-03", "T-04"], json!({}));
    story.broke(TOBIAS, "2025-05-12 08:00", "P-2025-04", 38.0, 167.0);
    for (grit, at) in [(50, "08:30"), (100, "09:30"), (200, "10:30")] {
        story
            .pass(TOBIAS, &format!("2025-05-12 {at}"), "T-04", grit, "resin")
            .with("exposure", json!("sand"));
    }
    story.fill(TOBIAS, "2025-05-12 13:00", "T-04", "slurry");
}
