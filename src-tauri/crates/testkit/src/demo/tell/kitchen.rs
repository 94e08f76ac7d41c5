//! Kitchen at Saltgrass Lane, autumn 2022: counters in exposed basalt, a splash and a shelf as cast and washed.

use serde_json::json;

use super::steps::{Cast, chosen};
use crate::demo::story::{INES, MARTA, Story, TOBIAS, id};

const JOB: &str = "J-2022-04";

pub(in crate::demo) fn tell(story: &mut Story) {
    before(story);
    counter(story);
    island(story);
    return_piece(story);
    splash(story);
    shelf(story);
    years_later(story);
}

fn before(story: &mut Story) {
    let survey = json!({ "place": "site", "access": "double door, no steps", "base_level": "yes", "span_mm": 550, "overhang_mm": 250,
        "appliances": "sink 780 x 450, hob 580 x 510" });
    story.tell(INES, "2022-09-01 14:00", "site_survey", &[], survey).about(JOB);
    let quote = json!({ "options": [{ "route": "exposed_aggregate", "covers": "counters" }, { "route": "as_cast_washed", "covers": "splash and shelf" }],
        "exclusions": ["plumbing", "removal of the old tops"], "valid_until": "2022-10-01" });
    story.tell(INES, "2022-09-02 10:00", "quote", &[], quote).about(JOB);
    let drawing = json!({ "revision": "B", "approved_by": "Rowan Alder" });
    story.tell(INES, "2022-09-08 16:00", "drawing_approved", &[], drawing).about(JOB);
}

fn plan(
    story: &mut Story,
    code: &str,
    name: &str,
    size_mm: [u32; 3],
    finish: &str,
    route: &str,
    more: serde_json::Value,
) {
    let mix = if finish == "washed" { "face mix" } else { "stone mix" };
    let cast = Cast { code, name, job: JOB, mix, size_mm, finish, used_as: "kitchen", more };
    story.plan(INES, "2022-09-09 09:00", &cast, route);
}

fn counter(story: &mut Story) {
    let more = json!({ "finished_edges": ["front", "right"],
        "cut_outs": [{ "purpose": "sink", "x_mm": 800, "y_mm": 100, "length_mm": 760, "width_mm": 430 }, { "purpose": "tap", "x_mm": 1180, "y_mm": 570, "length_mm": 35 }] });
    plan(story, "K-01", "Sink counter", [2400, 650, 40], "aggregate", "exposed_aggregate", more);
    plan(
        story,
        "K-02",
        "Island",
        [1800, 900, 40],
        "aggregate",
        "exposed_aggregate",
        json!({ "finished_edges": ["front", "back", "left", "right"] }),
    );
    plan(
        story,
        "K-03",
        "Return",
        [1200, 650, 40],
        "salt_pepper",
        "salt_pepper",
        json!({ "finished_edges": ["front"] }),
    );
    story.cast(TOBIAS, "2022-09-12", "2022-09-13", "P-2022-11", "stone mix", &["K-01", "K-02"], json!({}));
    story.broke(TOBIAS, "2022-09-16 08:00", "P-2022-11", 33.5, 95.0);
    for (grit, at, bond) in [(20, "08:30", "metal"), (50, "10:30", "metal")] {
        story.pass(TOBIAS, &format!("2022-09-16 {at}"), "K-01", grit, bond).with("exposure", json!("stone"));
    }
    story.fill(TOBIAS, "2022-09-16 13:00", "K-01", "slurry");
    story.trial_grind(TOBIAS, "2022-09-19 09:15", &["K-01"], 100.0, 168.0);
    for (grit, at) in [(50, "08:30"), (100, "09:30"), (200, "11:00"), (400, "13:30")] {
        let bond = if grit == 50 { "metal" } else { "resin" };
        story.pass(TOBIAS, &format!("2022-09-19 {at}"), "K-01", grit, bond).with("exposure", json!("stone"));
    }
    story.rinse(TOBIAS, "2022-09-19 14:30", "K-01");
    story.dry(TOBIAS, "2022-09-19 15:00", "2022-09-21 08:00", "K-01");
    story.penetrate(TOBIAS, "2022-09-21", "K-01", "R2-0822", 1.6, "2022-09-28 17:00");
    story.tell(
        TOBIAS,
        "2022-09-28 09:00",
        "water_drop",
        &["K-01"],
        json!({ "result": "beads", "after_min": 10 }),
    );
    story.inspect(TOBIAS, "2022-09-28 09:30", &["K-01"]);
    story.bring(MARTA, "2022-10-04", &["K-01"]);
    story.hand_over(INES, "2022-10-05 15:00", &["K-01"], "Rowan Alder");
}

/// A grit skipped, and a coat laid too close to the dew point that the owner accepted by name.
fn island(story: &mut Story) {
    for (grit, at, bond) in [(20, "08:30", "metal"), (50, "10:00", "metal")] {
        story.pass(MARTA, &format!("2022-09-16 {at}"), "K-02", grit, bond).with("exposure", json!("stone"));
    }
    story.fill(MARTA, "2022-09-16 14:00", "K-02", "slurry");
    for (grit, at, bond) in [(50, "08:30", "metal"), (100, "10:00", "resin"), (400, "11:30", "resin")] {
        story.pass(MARTA, &format!("2022-09-20 {at}"), "K-02", grit, bond).with("exposure", json!("stone"));
    }
    story.plant(
        "fine-grit-early",
        "caution",
        "K-02",
        &["P-2022-11/strength/95", "grit_pass/4"],
        "grit 100 over stone opened at 33.5 MPa, no trial patch",
    );
    story.plant(
        "grit-step",
        "caution",
        "K-02",
        &["grit_pass/4", "grit_pass/5"],
        "resin 200 skipped between 100 and 400",
    );
    story.rinse(MARTA, "2022-09-20 13:00", "K-02");
    story.dry(MARTA, "2022-09-20 14:00", "2022-09-22 07:30", "K-02");
    story
        .coat(MARTA, "2022-09-22 08:00", "K-02", "reactive sealer", "R2-0822", 1)
        .with("air_c", json!(16))
        .with("rh_pct", json!(78))
        .with("surface_c", json!(13.5))
        .with("quantity_l", json!(0.2))
        .with("area_m2", json!(1.6))
        .with("to_refusal", json!("yes"));
    story.plant("coat-near-dew-point", "stop", "K-02", &["seal_coat/1"], "surface 1.3 K over the dew point");
    story.accepted();
    story
        .coat(MARTA, "2022-09-22 15:00", "K-02", "reactive sealer", "R2-0822", 2)
        .with("quantity_l", json!(0.2))
        .with("area_m2", json!(1.6))
        .with("to_refusal", json!("yes"));
    story.cure(MARTA, "2022-09-22 16:30", "K-02", "2022-09-29 17:00");
    let why = json!({ "rule": "coat-near-dew-point", "accepted_by": "Ines Calder",
        "why": "No haze after seven days under raking light; the face takes no water. Watched for two years." });
    story.tell(INES, "2022-09-30 10:00", "exception", &["K-02"], why).naming(&["K-02/seal_coat/1"]);
    story.inspect(MARTA, "2022-09-30 11:00", &["K-02"]);
    story.bring(MARTA, "2022-10-04", &["K-02"]);
    story.hand_over(INES, "2022-10-05 15:10", &["K-02"], "Rowan Alder");
}

/// First cut on a young pour, and grains torn out.
fn return_piece(story: &mut Story) {
    story.cast(TOBIAS, "2022-09-14", "2022-09-15", "P-2022-12", "stone mix", &["K-03"], json!({}));
    story.broke(TOBIAS, "2022-09-15 14:30", "P-2022-12", 17.5, 29.0);
    story.pass(TOBIAS, "2022-09-15 15:00", "K-03", 50, "resin").with("result", json!("plucking"));
    story.plant(
        "cut-below-gate",
        "stop",
        "K-03",
        &["P-2022-12/strength/29", "grit_pass/1"],
        "first cut at 17.5 MPa",
    );
    story.pass(TOBIAS, "2022-09-15 15:40", "K-03", 100, "resin").with("exposure", json!("sand"));
    story.plant(
        "plucking",
        "stop",
        "K-03",
        &["grit_pass/1", "grit_pass/2"],
        "ground on after grains were pulled, face not flushed",
    );
    story.broke(TOBIAS, "2022-09-20 08:00", "P-2022-12", 36.0, 143.0);
    story.tell(TOBIAS, "2022-09-20 08:20", "flush", &["K-03"], json!({ "pad_cleaned": "yes" }));
    for (grit, at) in [(50, "08:40"), (100, "09:40"), (200, "10:40")] {
        story
            .pass(TOBIAS, &format!("2022-09-20 {at}"), "K-03", grit, "resin")
            .with("rework", json!(grit == 50))
            .with("exposure", json!("sand"));
    }
    story.fill(TOBIAS, "2022-09-20 14:00", "K-03", "slurry");
    for (grit, at) in [(200, "09:00"), (400, "10:00")] {
        story
            .pass(TOBIAS, &format!("2022-09-22 {at}"), "K-03", grit, "resin")
            .with("exposure", json!("sand"));
    }
    story.rinse(TOBIAS, "2022-09-22 11:00", "K-03");
    story.dry(TOBIAS, "2022-09-22 12:00", "2022-09-24 08:00", "K-03");
    story.penetrate(TOBIAS, "2022-09-24", "K-03", "R2-0822", 0.8, "2022-10-01 17:00");
    story.inspect(TOBIAS, "2022-10-03 09:00", &["K-03"]);
}

/// A wash that was rinsed but never neutralised.
fn splash(story: &mut Story) {
    plan(
        story,
        "K-04",
        "Splash",
        [2400, 120, 20],
        "washed",
        "as_cast_washed",
        json!({ "finished_edges": ["front"] }),
    );
    plan(
        story,
        "K-05",
        "Shelf",
        [900, 220, 30],
        "washed",
        "as_cast_washed",
        json!({ "finished_edges": ["front", "left", "right"] }),
    );
    story.cast(TOBIAS, "2022-09-19", "2022-09-20", "P-2022-13", "face mix", &["K-04", "K-05"], json!({}));
    story.confirm(TOBIAS, "2022-09-23 08:50", &["acid"]);
    story.tell(
        TOBIAS,
        "2022-09-23 09:00",
        "trial_spot",
        &["K-04"],
        json!({ "of": "acid_wash", "good": "yes", "at": "back edge" }),
    );
    story.acid(TOBIAS, "2022-09-23 09:20", "K-04", "face", 20.0);
    story.rinse(TOBIAS, "2022-09-23 09:30", "K-04");
    story.dry(TOBIAS, "2022-09-23 11:00", "2022-09-25 09:00", "K-04");
    story.penetrate(TOBIAS, "2022-09-26", "K-04", "R2-0822", 0.3, "2022-10-03 17:00");
    story.plant(
        "acid-left-on",
        "stop",
        "K-04",
        &["acid_wash/1", "rinse/1", "dry/1"],
        "washed and rinsed once, never neutralised, then sealed",
    );
}

/// A wash twice as strong as the strong end.
fn shelf(story: &mut Story) {
    story.wash(MARTA, "2022-09-26", "K-05", "face", 5.0);
    story.plant("acid-too-strong", "stop", "K-05", &["acid_wash/1"], "5:1 where 10:1 is the strong end");
    story.dry(MARTA, "2022-09-26 11:00", "2022-09-28 09:00", "K-05");
    story.penetrate(MARTA, "2022-09-28", "K-05", "R2-0822", 0.2, "2022-10-05 17:00");
}

/// A service visit, and the island put right.
fn years_later(story: &mut Story) {
    let visit = json!({ "place": "site", "water_drop": "beads", "wear": "light, at the sink", "work_done": "cleaned and renewed",
        "product": id("reactive sealer"), "lot": "R2-0724", "next_due": "2026-09-30" });
    story.tell(MARTA, "2024-09-24 10:00", "service_visit", &["K-01"], visit);
    let damage = json!({ "text": "Chip at the front right corner of the island, 12 mm, from a dropped pot. Client asks for a repair." });
    story.tell(MARTA, "2024-09-24 10:30", "note", &["K-02"], damage);
    story
        .tell(INES, "2024-09-25 09:00", "route_chosen", &["K-02"], chosen("repair"))
        .with("why", json!("chip at the front right corner"));
    let trial = json!({ "of": "fill", "good": "yes", "at": "underside" });
    story.tell(MARTA, "2024-10-07 09:00", "trial_spot", &["K-02"], trial).with("place", json!("site"));
    story.tell(
        MARTA,
        "2024-10-07 09:20",
        "clean",
        &["K-02"],
        json!({ "agent": "neutral_cleaner", "place": "site", "rinsed_and_changed": "yes" }),
    );
    let strip = json!({ "region": "face", "method": "abraded by hand around the chip", "residue_removed": "yes", "grit": 400, "scale": "p", "power": "hand", "place": "site" });
    story.tell(MARTA, "2024-10-07 09:50", "strip", &["K-02"], strip);
    let fill = json!({ "region": "edge", "material": "resin_fill", "product": id("resin fill"), "lot": "RF-77", "expires": "2026-03-31", "method": "spot",
        "count": 1, "at": [{ "x_mm": 1795, "y_mm": 4, "size_mm": 12 }], "tone": "basalt grey", "place": "site" });
    story.tell(MARTA, "2024-10-07 10:20", "fill", &["K-02"], fill);
    story.paper(MARTA, "2024-10-07 14:00", "K-02", "edge", 400);
    story.dry(MARTA, "2024-10-07 15:00", "2024-10-08 15:30", "K-02");
    story
        .coat(MARTA, "2024-10-08 16:00", "K-02", "reactive sealer", "R2-0724", 1)
        .with("quantity_l", json!(0.05))
        .with("area_m2", json!(0.4))
        .with("to_refusal", json!("yes"))
        .with("place", json!("site"));
    story.cure(MARTA, "2024-10-08 17:00", "K-02", "2024-10-15 17:00");
    story.inspect(MARTA, "2024-10-16 10:00", &["K-02"]);
}
