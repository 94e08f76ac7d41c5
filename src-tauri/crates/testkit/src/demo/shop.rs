//! The demo's people, devices, mixes, products, tools, clients and jobs.

use serde_json::{Value, json};

use super::story::{INES, MARTA, Story, TOBIAS, id};

/// Everything that is there before the first piece.
pub(super) fn found(story: &mut Story) {
    people(story);
    settings(story);
    mixes(story);
    products(story);
    tools(story);
    clients_and_jobs(story);
}

fn people(story: &mut Story) {
    let at = "2022-08-29 08:05";
    story
        .tell(INES, at, "person", &[], json!({ "name": "Ines Calder", "trade": "owner, finisher" }))
        .about("Ines Calder");
    story.tell(INES, "2022-08-29 08:06", "device", &[], json!({ "name": "office laptop" }));
    for (by, at, trade) in
        [(TOBIAS, "2022-08-29 09:00", "caster, finisher"), (MARTA, "2022-08-29 09:10", "finisher, installer")]
    {
        story.tell(by, at, "person", &[], json!({ "name": by.0, "trade": trade })).about(by.0);
        story.tell(by, at, "device", &[], json!({ "name": by.1.replace('-', " ") }));
        story.tell(INES, "2022-08-29 09:30", "accept", &[], json!({ "role": "crew" })).peer = Some(by.1);
    }
}

fn settings(story: &mut Story) {
    let body = json!({ "zone": "America/Denver", "units": "us", "late_after_h": 24, "dry_rh_max_pct": 60, "dew_margin_k": 3,
        "lift_per_person_kg": 25, "shift_h": 12, "lift_min_age_h": 24, "warranty_months": 24,
        "warranty_brief": "Tarnfold Cast Works mends faults in casting and sealing free of charge within 24 months of handover, if the care sheet was followed. Stains, scratches and patina from use are not faults.",
        "contact": "Ines Calder, 555-0142, care@tarnfold.example", "address": "7 Kiln Row, Eastmere" });
    story.tell(INES, "2022-08-29 08:20", "settings", &[], body);
}

fn object(story: &mut Story, at: &str, kind: &'static str, name: &str, body: Value) {
    story.tell(INES, at, kind, &[], body).about(name);
}

fn mixes(story: &mut Story) {
    let at = "2022-08-29 10:00";
    let mut mix = |name: &str, body| object(story, at, "mix", name, body);
    mix(
        "face mix",
        json!({ "name": "Face mix, pale", "aggregates": ["siliceous"], "water_cement": 0.32, "fibre_pct": 0,
        "pozzolan": "metakaolin", "pozzolan_pct": 10, "density_kgm3": 2150, "aim_mpa": 55 }),
    );
    mix(
        "stone mix",
        json!({ "name": "Basalt show mix", "aggregates": ["basalt", "siliceous"], "water_cement": 0.36,
        "pozzolan": "slag", "pozzolan_pct": 20, "density_kgm3": 2380, "aim_mpa": 50 }),
    );
    mix(
        "glass mix",
        json!({ "name": "Bottle glass mix", "aggregates": ["glass", "siliceous"], "water_cement": 0.34,
        "pozzolan": "metakaolin", "pozzolan_pct": 15, "glass_pct": 60, "density_kgm3": 2250, "aim_mpa": 55 }),
    );
    mix(
        "slab mix",
        json!({ "name": "Floor mix", "aggregates": ["siliceous"], "water_cement": 0.42, "density_kgm3": 2320, "aim_mpa": 35 }),
    );
    mix(
        "open mix",
        json!({ "name": "Stiff mix for pressed pieces", "aggregates": ["siliceous"], "water_cement": 0.3,
        "pozzolan": "metakaolin", "pozzolan_pct": 8, "density_kgm3": 2050, "aim_mpa": 45 }),
    );
}

fn products(story: &mut Story) {
    let at = "2022-08-29 10:30";
    let sheets = json!([{ "sheet": "data_sheet", "revision": "4", "dated": "2022-03-01" }, { "sheet": "safety_sheet", "revision": "7", "dated": "2022-02-10" }]);
    let mut product = |name: &str, mut body: Value| {
        body["sheets"] = sheets.clone();
        object(story, at, "product", name, body);
    };
    product(
        "reactive sealer",
        json!({ "name": "Penetrating sealer R2", "class": "reactive_sealer", "needs_bite": true,
        "finest_last_grit": 400, "dry_before_h": 24, "min_age_d": 3, "surface_min_c": 8, "surface_max_c": 32, "air_min_c": 8, "air_max_c": 32,
        "rh_max_pct": 80, "coats": 2, "coverage_m2_per_l": 8, "recoat_min_h": 4, "recoat_max_h": 24, "handle_h": 12, "wrap_h": 48,
        "water_h": 48, "light_use_h": 72, "full_use_h": 168, "heat_max_c": 120, "renew_months": 24, "hazards": ["GHS05"] }),
    );
    product(
        "clear coat",
        json!({ "name": "Two-part clear U5", "class": "waterborne_urethane", "needs_bite": false, "dry_before_h": 24,
        "min_age_d": 7, "surface_min_c": 12, "surface_max_c": 30, "air_min_c": 12, "air_max_c": 30, "rh_min_pct": 30, "rh_max_pct": 75,
        "coats": 3, "coverage_m2_per_l": 10, "recoat_min_h": 2, "recoat_max_h": 24, "pot_life_min": 90, "pot_life_at_c": 20,
        "solids_pct": 38, "handle_h": 24, "wrap_h": 96, "water_h": 72, "light_use_h": 96, "full_use_h": 240, "heat_max_c": 80,
        "renew_months": 60, "food_contact": "the supplier declares the cured film for occasional contact with dry food", "hazards": ["GHS07"] }),
    );
    product(
        "repellent",
        json!({ "name": "Repellent S1", "class": "silane_repellent", "dry_before_h": 24, "min_age_d": 14, "surface_min_c": 5,
        "surface_max_c": 30, "rh_max_pct": 85, "coats": 2, "coverage_m2_per_l": 6, "recoat_min_h": 0.2, "recoat_max_h": 4, "handle_h": 12,
        "wrap_h": 48, "water_h": 24, "light_use_h": 24, "full_use_h": 72, "renew_months": 60, "hazards": ["GHS02", "GHS07"] }),
    );
    product(
        "densifier",
        json!({ "name": "Densifier L3", "class": "silicate_densifier", "coverage_m2_per_l": 6, "light_use_h": 24,
        "full_use_h": 72, "hazards": ["GHS05"] }),
    );
    product(
        "guard",
        json!({ "name": "Floor guard A2", "class": "acrylic_film", "dry_before_h": 24, "min_age_d": 28, "surface_min_c": 10,
        "surface_max_c": 30, "rh_max_pct": 80, "coats": 2, "coverage_m2_per_l": 14, "recoat_min_h": 1, "recoat_max_h": 24, "handle_h": 4,
        "wrap_h": 48, "water_h": 24, "light_use_h": 24, "full_use_h": 72, "renew_months": 18, "hazards": ["GHS07"] }),
    );
    product(
        "cement fill",
        json!({ "name": "Fine slurry", "class": "cement_fill", "fill_cure_h": 24, "hazards": ["GHS05"] }),
    );
    product(
        "resin fill",
        json!({ "name": "Clear resin fill", "class": "resin_fill", "fill_cure_h": 2, "hazards": ["GHS07"] }),
    );
    product(
        "muriatic",
        json!({ "name": "Muriatic acid", "class": "hydrochloric_acid", "hazards": ["GHS05", "GHS07"] }),
    );
    product("release oil", json!({ "name": "Water-based release", "class": "release" }));
}

fn tools(story: &mut Story) {
    let at = "2022-08-29 11:00";
    let mut tool = |name: &str, body| object(story, at, "tool", name, body);
    tool(
        "5 in polisher",
        json!({ "name": "5 in wet polisher", "power": "electric", "vibration_ms2": 3.2, "water_fed": true, "speed_rpm": 2500 }),
    );
    tool(
        "7 in grinder",
        json!({ "name": "7 in wet grinder", "power": "electric", "vibration_ms2": 4.1, "water_fed": true, "speed_rpm": 2000 }),
    );
    tool(
        "floor grinder",
        json!({ "name": "Floor grinder, three heads", "power": "electric", "vibration_ms2": 1.8, "water_fed": true, "speed_rpm": 600 }),
    );
}

fn clients_and_jobs(story: &mut Story) {
    let at = "2022-08-30 09:00";
    for (name, address, lang) in [
        ("Alder household", "12 Saltgrass Lane, Eastmere", "en"),
        ("Posada Las Gradas", "3 Calle del Molino, Eastmere", "es"),
        ("Brack Street Workshops", "40 Brack Street, Eastmere", "en"),
        ("Wren household", "9 Fernhollow, Eastmere", "en"),
    ] {
        object(
            story,
            at,
            "client",
            name,
            json!({ "name": name, "address": address, "contact": "555-0170", "lang": lang }),
        );
    }
    let mut job = |code: &str, name: &str, client: &str, by: &str, finish: &str, sealing: &str| {
        object(
            story,
            at,
            "job",
            code,
            json!({ "code": code, "name": name, "client": id(client), "handover_by": by,
            "finish": finish, "sealing": sealing }),
        );
    };
    job(
        "J-2022-04",
        "Kitchen at Saltgrass Lane",
        "Alder household",
        "2022-11-30",
        "exposed basalt, honed; splash as cast and washed",
        "penetrating sealer, two coats",
    );
    job(
        "J-2023-01",
        "Guest baths",
        "Posada Las Gradas",
        "2023-05-31",
        "as cast, washed or cleaned; pressed wall panels",
        "penetrating sealer; clear coat in the basins",
    );
    job(
        "J-2023-07",
        "Bar and floor",
        "Brack Street Workshops",
        "2023-12-15",
        "bottle glass bar, ground floor bay",
        "clear coat; densifier and guard",
    );
    job(
        "J-2024-02",
        "Terrace and hearth",
        "Wren household",
        "2024-09-30",
        "hand-honed treads, troweled hearth",
        "repellent outdoors, penetrating sealer indoors",
    );
}
