//! Bar and floor, autumn 2023: bottle glass ground open, a floor bay.

use serde_json::json;

use super::steps::Cast;
use crate::demo::story::{INES, MARTA, Story, TOBIAS, id};

const JOB: &str = "J-2023-07";

pub(in crate::demo) fn tell(story: &mut Story) {
    for (code, name, size_mm) in
        [("G-01", "Bar, long side", [2600, 600, 40]), ("G-02", "Bar, short side", [1400, 600, 40])]
    {
        let cast = Cast {
            code,
            name,
            job: JOB,
            mix: "glass mix",
            size_mm,
            finish: "glass",
            used_as: "kitchen",
            more: json!({ "finished_edges": ["front"] }),
        };
        story.plan(INES, "2023-09-04 09:00", &cast, "exposed_glass");
    }
    story.cast(
        TOBIAS,
        "2023-09-11",
        "2023-09-12",
        "P-2023-15",
        "glass mix",
        &["G-01", "G-02"],
        json!({ "pozzolan_pct": 15, "glass_pct": 60 }),
    );
    story.broke(TOBIAS, "2023-09-25 08:00", "P-2023-15", 51.0, 335.0);
    bar(story);
    short_side(story);
    floor(story);
}

/// The long side, done right; a grit typed wrong and corrected.
fn bar(story: &mut Story) {
    for (grit, at) in [(20, "08:30"), (50, "10:00"), (100, "11:30"), (200, "13:30")] {
        let bond = if grit <= 50 { "metal" } else { "resin" };
        story.pass(TOBIAS, &format!("2023-09-26 {at}"), "G-01", grit, bond).with("exposure", json!("stone"));
    }
    story.fill(TOBIAS, "2023-09-26 15:30", "G-01", "slurry");
    story.pass(TOBIAS, "2023-09-28 08:30", "G-01", 200, "resin").with("exposure", json!("stone"));
    story.pass(TOBIAS, "2023-09-28 10:00", "G-01", 800, "resin").with("exposure", json!("stone"));
    let right = json!({ "why": "typed 800, it was the 400 pad", "body": { "region": "face", "grit": 400, "scale": "pad", "bond": "resin", "wet": true,
        "result": "cut_out", "tool": id("5 in polisher"), "power": "electric", "rcd": "yes", "dust": "water", "speed_rpm": 2200, "minutes_min": 20,
        "area_m2": 1.2, "backer": "rigid", "as_sample": "yes", "exposure": "stone" } });
    story.tell(TOBIAS, "2023-09-28 10:20", "correction", &["G-01"], right).naming(&["G-01/grit_pass/6"]);
    story.rinse(TOBIAS, "2023-09-28 11:00", "G-01");
    story.dry(TOBIAS, "2023-09-28 12:00", "2023-09-30 08:00", "G-01");
    story.clear(TOBIAS, "2023-09-30", "G-01", "U5-0823", 1.6, "2023-10-10 18:00");
    story.inspect(TOBIAS, "2023-10-11 09:00", &["G-01"]);
    story.bring(MARTA, "2023-10-16", &["G-01"]);
    story.hand_over(INES, "2023-10-17 10:00", &["G-01"], "Ilse Brack");
}

/// The short side: ground dry without extraction, then wet without a ground-fault guard, then sealed wet.
fn short_side(story: &mut Story) {
    story
        .pass(MARTA, "2023-09-26 08:30", "G-02", 20, "metal")
        .with("wet", json!(false))
        .with("dust", json!("none"))
        .with("exposure", json!("stone"));
    story.plant("dry-grinding", "stop", "G-02", &["grit_pass/1"], "dry, no shroud, no extraction");
    story
        .pass(MARTA, "2023-09-26 10:00", "G-02", 50, "metal")
        .with("rcd", json!("no"))
        .with("exposure", json!("stone"));
    story.plant(
        "no-ground-fault-guard",
        "stop",
        "G-02",
        &["grit_pass/2"],
        "wet electric tool on a bare socket",
    );
    for (grit, at) in [(100, "11:30"), (200, "13:30")] {
        story
            .pass(MARTA, &format!("2023-09-26 {at}"), "G-02", grit, "resin")
            .with("exposure", json!("stone"));
    }
    story.fill(MARTA, "2023-09-26 15:30", "G-02", "slurry");
    for (grit, at) in [(200, "08:30"), (400, "10:00")] {
        story
            .pass(MARTA, &format!("2023-09-28 {at}"), "G-02", grit, "resin")
            .with("exposure", json!("stone"));
    }
    story.rinse(MARTA, "2023-09-28 14:00", "G-02");
    story.dry(MARTA, "2023-09-28 15:00", "2023-09-29 07:30", "G-02");
    story.clear(MARTA, "2023-09-29", "G-02", "U5-0823", 0.85, "2023-10-09 18:00");
    story.plant(
        "sealed-too-wet",
        "stop",
        "G-02",
        &["rinse/1", "seal_coat/1"],
        "18 h after the last water, the sheet asks for 24 h",
    );
    let struck = json!({ "text": "Booked on the wrong piece." });
    story.tell(MARTA, "2023-09-29 09:00", "note", &["G-02"], struck);
    story
        .tell(MARTA, "2023-09-29 09:10", "strike", &[], json!({ "why": "meant for another job" }))
        .naming(&["G-02/note/1"]);
}

/// A floor bay, ground, grouted, densified, guarded.
fn floor(story: &mut Story) {
    let cast = Cast {
        code: "F-01",
        name: "Bay at the window",
        job: JOB,
        mix: "slab mix",
        size_mm: [4200, 3600, 120],
        finish: "floor",
        used_as: "floor",
        more: json!({}),
    };
    story.plan(INES, "2023-09-05 09:00", &cast, "floor");
    let pour = json!({ "code": "P-2023-14", "mix": id("slab mix"), "batch": "ready mix, ticket 4471", "water_cement": 0.42, "layers": 1,
        "lots": { "concrete": "ticket 4471" }, "consolidation": "vibrated", "concrete_c": 19, "specimens": 6, "steel": "mesh in the middle", "place": "site" });
    story.tell(TOBIAS, "2023-09-06 08:00", "pour", &["F-01"], pour).about("P-2023-14");
    let cure =
        json!({ "method": "wet", "peak_c": 31, "rise_c_per_h": 2, "after_set": true, "place": "site" });
    story
        .tell(TOBIAS, "2023-09-06 16:00", "initial_cure", &[], cure)
        .about("P-2023-14")
        .until("2023-09-13 08:00")
        .called("P-2023-14/initial_cure/1");
    story.broke(TOBIAS, "2023-10-04 08:00", "P-2023-14", 34.0, 672.0);
    let mut pass = |day: &str, at: &str, grit: u32, bond: &str| {
        story
            .pass(MARTA, &format!("{day} {at}"), "F-01", grit, bond)
            .with("tool", id("floor grinder"))
            .with("area_m2", json!(15.1))
            .with("minutes_min", json!(90))
            .with("speed_rpm", json!(600))
            .with("backer", json!("rigid"))
            .with("exposure", json!("sand"))
            .with("place", json!("site"));
    };
    for (at, grit) in [("08:00", 40), ("10:00", 80), ("13:00", 150)] {
        pass("2023-10-09", at, grit, "metal");
    }
    pass("2023-10-12", "08:00", 100, "hybrid");
    pass("2023-10-12", "10:00", 200, "resin");
    pass("2023-10-16", "08:00", 400, "resin");
    pass("2023-10-16", "10:00", 800, "resin");
    story.fill(MARTA, "2023-10-09 15:00", "F-01", "grout");
    let densify = json!({ "product": id("densifier"), "lot": "L3-0623", "dwell_min": 30, "residue_off": "yes", "quantity_l": 2.5, "area_m2": 15.1, "expires": "2025-06-30", "place": "site" });
    story.tell(MARTA, "2023-10-13 09:00", "densify", &["F-01"], densify);
    story.rinse(MARTA, "2023-10-16 12:00", "F-01");
    story.dry(MARTA, "2023-10-16 13:00", "2023-10-19 08:00", "F-01");
    story.tell(
        MARTA,
        "2023-10-19 08:30",
        "moisture",
        &["F-01"],
        json!({ "method": "in_situ_rh", "value": 72, "verdict": "pass", "limit": 80, "place": "site" }),
    );
    for (number, at) in [(1, "09:00"), (2, "12:00")] {
        story
            .coat(MARTA, &format!("2023-10-19 {at}"), "F-01", "guard", "A2-0723", number)
            .with("quantity_l", json!(1.08))
            .with("area_m2", json!(15.1))
            .with("place", json!("site"));
    }
    story.cure(MARTA, "2023-10-19 15:00", "F-01", "2023-10-22 15:00");
    story.inspect(MARTA, "2023-10-23 09:00", &["F-01"]);
    story.hand_over(INES, "2023-10-24 10:00", &["F-01"], "Ilse Brack");
}
