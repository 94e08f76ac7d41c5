//! Guest baths, spring 2023: two basins with a clear coat, pressed panels, panels as cast.

use serde_json::json;

use super::steps::Cast;
use crate::demo::story::{INES, MARTA, Story, TOBIAS};

const JOB: &str = "J-2023-01";

pub(in crate::demo) fn tell(story: &mut Story) {
    basins(story);
    pressed(story);
    panels(story);
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
    let mix = if finish == "pressed" { "open mix" } else { "face mix" };
    let curved = route == "basin";
    let cast =
        Cast { code, name, job: JOB, mix, size_mm, finish, used_as, more: json!({ "curved": curved }) };
    story.plan(INES, "2023-02-20 09:00", &cast, route);
}

/// Two basins; the second got its last coat past the window, unabraded.
fn basins(story: &mut Story) {
    plan(story, "B-01", "Basin, room 1", [800, 500, 120], "honed", "bath", "basin");
    plan(story, "B-02", "Basin, room 2", [800, 500, 120], "honed", "bath", "basin");
    story.cast(
        TOBIAS,
        "2023-02-27",
        "2023-02-28",
        "P-2023-03",
        "face mix",
        &["B-01", "B-02"],
        json!({ "consolidation": "sprayed" }),
    );
    for (by, code, day) in [(TOBIAS, "B-01", "2023-03-06"), (MARTA, "B-02", "2023-03-07")] {
        story.trial_grind(by, &format!("{day} 08:00"), &[code], 200.0, 168.0);
        for (region, grit, at) in [
            ("face", 240, "08:30"),
            ("face", 400, "09:15"),
            ("inside", 240, "10:00"),
            ("inside", 400, "11:00"),
        ] {
            story.paper(by, &format!("{day} {at}"), code, region, grit);
        }
        story.rinse(by, &format!("{day} 12:00"), code);
        story.dry(
            by,
            &format!("{day} 13:00"),
            &format!("{} 13:00", if code == "B-01" { "2023-03-08" } else { "2023-03-09" }),
            code,
        );
    }
    story.clear(TOBIAS, "2023-03-09", "B-01", "U5-0123", 0.7, "2023-03-19 18:00");
    story.tell(
        TOBIAS,
        "2023-03-20 09:00",
        "water_test",
        &["B-01"],
        json!({ "falls": "yes", "drains": "yes", "held_h": 24, "leaks": "no" }),
    );
    story.inspect(TOBIAS, "2023-03-20 10:00", &["B-01"]);
    story.bring(MARTA, "2023-03-28", &["B-01"]);
    story.hand_over(INES, "2023-03-29 11:00", &["B-01"], "Lucia Prado");
    window_missed(story);
}

fn window_missed(story: &mut Story) {
    story.confirm(MARTA, "2023-03-10 07:50", &["isocyanate"]);
    for (number, at) in [(1, "2023-03-10 08:00"), (2, "2023-03-10 12:00"), (3, "2023-03-13 09:00")] {
        if number == 3 {
            story.confirm(MARTA, "2023-03-13 08:45", &["isocyanate"]);
        }
        story
            .coat(MARTA, at, "B-02", "clear coat", "U5-0123", number)
            .with("quantity_l", json!(0.07))
            .with("area_m2", json!(0.7))
            .with("hardener_parts", json!(25))
            .with("mixed_before_min", json!(25));
    }
    story.plant(
        "recoat-window",
        "stop",
        "B-02",
        &["seal_coat/2", "seal_coat/3"],
        "69 h after the second coat, window 24 h, not abraded",
    );
    story.cure(MARTA, "2023-03-13 10:00", "B-02", "2023-03-23 18:00");
}

/// Pressed panels: one stored on edge without a tie, one sealed from a lot past its date.
fn pressed(story: &mut Story) {
    plan(story, "W-01", "Wall panel, left", [1200, 600, 25], "pressed", "wall", "pressed");
    plan(story, "W-02", "Wall panel, right", [1200, 600, 25], "pressed", "wall", "pressed");
    story.cast(
        TOBIAS,
        "2023-03-01",
        "2023-03-02",
        "P-2023-04",
        "open mix",
        &["W-01", "W-02"],
        json!({ "consolidation": "pressed" }),
    );
    for code in ["W-01", "W-02"] {
        story.tell(
            TOBIAS,
            "2023-03-03 08:00",
            "clean",
            &[code],
            json!({ "agent": "water", "pad": "white pad" }),
        );
        story.fill(TOBIAS, "2023-03-03 09:00", code, "backfill");
        story.trial_grind(TOBIAS, "2023-03-08 08:00", &[code], 200.0, 167.0);
        for (grit, at) in [(200, "08:30"), (400, "09:30")] {
            story.pass(TOBIAS, &format!("2023-03-08 {at}"), code, grit, "resin");
        }
        story.rinse(TOBIAS, "2023-03-08 11:00", code);
        story.dry(TOBIAS, "2023-03-08 12:00", "2023-03-10 08:00", code);
    }
    story.penetrate(TOBIAS, "2023-03-10", "W-01", "R2-0123", 0.7, "2023-03-17 17:00");
    story.inspect(TOBIAS, "2023-03-20 11:00", &["W-01"]);
    story.confirm(MARTA, "2023-03-20 15:45", &["on_edge"]);
    let store = json!({ "condition": "as inspected", "position": "on_edge", "tied_back": "no", "rack_rated": "yes", "level_supports": "yes", "wrap": "breathable" });
    story.tell(MARTA, "2023-03-20 16:00", "storage", &["W-01"], store);
    story.plant("rack-not-tied", "stop", "W-01", &["storage/1"], "stored on edge, not tied back");
    expired(story);
}

fn expired(story: &mut Story) {
    for (number, at) in [(1, "2023-03-10 10:00"), (2, "2023-03-10 16:00")] {
        story
            .coat(TOBIAS, at, "W-02", "reactive sealer", "R2-0921", number)
            .with("expires", json!("2023-02-28"))
            .with("quantity_l", json!(0.09))
            .with("area_m2", json!(0.7))
            .with("to_refusal", json!("yes"));
        let entry = format!("seal_coat/{number}");
        story.plant("lot-expired", "stop", "W-02", &[&entry], "lot R2-0921 ended on 28 February");
    }
    story.cure(TOBIAS, "2023-03-10 17:30", "W-02", "2023-03-17 17:00");
}

/// One panel as cast and cleaned, done right; one washed on the day it was bleached.
fn panels(story: &mut Story) {
    plan(story, "W-03", "Panel behind the bath", [1500, 700, 20], "as_cast", "wall", "as_cast_cleaned");
    plan(story, "W-04", "Panel at the door", [700, 2000, 20], "washed", "wall", "as_cast_washed");
    story.cast(TOBIAS, "2023-03-06", "2023-03-07", "P-2023-05", "face mix", &["W-03", "W-04"], json!({}));
    let clean = json!({ "agent": "neutral_cleaner", "pad": "non-woven pad", "rinsed_and_changed": "yes" });
    story.tell(MARTA, "2023-03-13 13:00", "clean", &["W-03"], clean);
    story.rinse(MARTA, "2023-03-13 13:30", "W-03");
    story.dry(MARTA, "2023-03-13 14:00", "2023-03-15 08:00", "W-03");
    story.clear(TOBIAS, "2023-03-16", "W-03", "U5-0123", 1.05, "2023-03-26 18:00");
    story.inspect(MARTA, "2023-03-28 06:30", &["W-03"]);
    let bleach = json!({ "agent": "hypochlorite", "pad": "white pad" });
    story.tell(MARTA, "2023-03-14 08:00", "clean", &["W-04"], bleach);
    story.wash(MARTA, "2023-03-14", "W-04", "face", 20.0);
    story.plant(
        "bleach-near-acid",
        "stop",
        "W-04",
        &["clean/1", "acid_wash/1"],
        "washed with acid 80 minutes after chlorine bleach",
    );
    story.plant(
        "bleach-near-acid",
        "stop",
        "W-04",
        &["clean/1", "neutralise/1"],
        "neutralised with ammonia the same morning",
    );
}
