//! Phrases of the trade: each tells the entries one piece of work leaves behind when it is done right.

use serde_json::{Value, json};
use trowelogue_core::routes;

use crate::demo::story::{By, Story, id};

/// A piece as it is planned.
pub(super) struct Cast<'a> {
    pub code: &'a str,
    pub name: &'a str,
    pub job: &'a str,
    pub mix: &'a str,
    pub size_mm: [u32; 3],
    pub finish: &'a str,
    pub used_as: &'a str,
    pub more: Value,
}

/// The choice of a shipped route, with the copy of it that is frozen into the piece's record.
pub(super) fn chosen(code: &str) -> Value {
    let route = routes::shipped_with(code);
    let (version, copy) = (route.map(|it| it.version), route.map(|it| serde_json::to_value(it).ok()));
    json!({ "code": code, "version": version, "route": copy })
}

impl Story {
    /// The piece, its agreed sample and its chosen route.
    pub(super) fn plan(&mut self, by: By, at: &str, cast: &Cast<'_>, route: &str) {
        let [length, width, thickness] = cast.size_mm;
        let mut body = json!({ "code": cast.code, "name": cast.name, "job": id(cast.job), "length_mm": length, "width_mm": width,
            "thickness_mm": thickness, "mix": id(cast.mix), "finish": cast.finish, "use": cast.used_as, "metal_near": "no" });
        if let Some(more) = cast.more.as_object() {
            for (field, value) in more {
                body[field.as_str()] = value.clone();
            }
        }
        let named = format!("{}/piece/1", cast.code);
        self.tell(by, at, "piece", &[], body).about(cast.code).called(&named);
        let sample = json!({ "samples": ["light", "middle", "dark"], "agreed_by": "the client", "distance_mm": 1500, "light": "daylight",
            "inherent": "hairlines, pinholes up to 1 mm, tone within the three samples, patina", "signed": true });
        self.tell(by, at, "sample_agreed", &[cast.code], sample);
        self.tell(by, at, "route_chosen", &[cast.code], chosen(route));
    }

    /// Form, pour, covered cure, demould the next day.
    #[allow(
        clippy::too_many_arguments,
        clippy::needless_pass_by_value,
        reason = "a phrase of the story, read as one line"
    )]
    pub(super) fn cast(
        &mut self,
        by: By,
        day: &str,
        next: &str,
        pour: &str,
        mix: &str,
        codes: &[&str],
        more: Value,
    ) {
        let form = json!({ "material": "laminated board", "joints_sealed": "yes", "sealant_cured": "yes", "release": id("release oil"),
            "release_lot": "RO-311", "release_cured": "yes" });
        self.tell(by, &format!("{day} 07:30"), "form_prepared", codes, form);
        let mut body = json!({ "code": pour, "mix": id(mix), "batch": format!("{pour}-1"), "water_cement": 0.34, "layers": 2,
            "lots": { "cement": "CW-2207", "sand": "S-88", "pozzolan": "MK-14" }, "backing_after_min": 40, "backing_window_min": [30, 75],
            "consolidation": "vibrated", "concrete_c": 21, "specimens": 6, "steel": "none" });
        if let Some(more) = more.as_object() {
            for (field, value) in more {
                body[field.as_str()] = value.clone();
            }
        }
        self.tell(by, &format!("{day} 09:00"), "pour", codes, body).about(pour);
        let cure = json!({ "method": "covered", "peak_c": 34, "rise_c_per_h": 3, "strip_difference_k": 8, "after_set": true });
        self.tell(by, &format!("{day} 10:30"), "initial_cure", &[], cure)
            .about(pour)
            .until(&format!("{next} 09:30"))
            .called(&format!("{pour}/initial_cure/1"));
        self.tell(
            by,
            &format!("{next} 10:00"),
            "demould",
            codes,
            json!({ "face": ["clean"], "form": "laminated board" }),
        );
    }

    /// A cylinder break for a pour.
    pub(super) fn broke(&mut self, by: By, at: &str, pour: &str, mpa: f64, age_h: f64) {
        let body = json!({ "method": "cylinder", "result_mpa": mpa, "age_h": age_h, "specimen": "100 x 200 mm cylinder, cured beside the piece" });
        let label = format!("{pour}/strength/{age_h}");
        self.tell(by, at, "strength", &[], body).about(pour).called(&label);
    }

    /// A trial grind on the back.
    pub(super) fn trial_grind(&mut self, by: By, at: &str, codes: &[&str], grit: f64, age_h: f64) {
        let body = json!({ "method": "trial_grind", "trial": "shaved", "trial_grit": grit, "age_h": age_h, "specimen": "back of the piece, 100 x 100 mm" });
        self.tell(by, at, "strength", codes, body);
    }

    /// Cautions confirmed for the shift.
    pub(super) fn confirm(&mut self, by: By, at: &str, topics: &[&str]) {
        let label = format!("{}/safety/{at}", by.0);
        self.tell(by, at, "safety_confirmed", &[], json!({ "topics": topics })).called(&label);
    }

    /// A wash with acid from trial spot to pH, done right. `day` is the civil day, times run from 09:00.
    pub(super) fn wash(&mut self, by: By, day: &str, code: &str, region: &str, water_parts: f64) {
        self.confirm(by, &format!("{day} 08:50"), &["acid"]);
        let good = json!({ "of": "acid_wash", "good": "yes", "at": "back edge" });
        self.tell(by, &format!("{day} 09:00"), "trial_spot", &[code], good);
        self.acid(by, &format!("{day} 09:20"), code, region, water_parts);
        self.rinse(by, &format!("{day} 09:30"), code);
        let ammonia = json!({ "agent": "ammonia", "water_parts": 10, "agent_parts": 1, "concentrate_pct": 5, "dwell_min": 5 });
        self.tell(by, &format!("{day} 09:45"), "neutralise", &[code], ammonia);
        self.rinse(by, &format!("{day} 10:00"), code);
        let tap = json!({ "ph": 7.6, "of": "rinse_water", "method": "paper" });
        self.tell(by, &format!("{day} 10:10"), "ph_reading", &[code], tap);
        let last = json!({ "ph": 8.5, "of": "final_rinse", "method": "paper" });
        self.tell(by, &format!("{day} 10:15"), "ph_reading", &[code], last);
    }

    /// The acid alone.
    pub(super) fn acid(&mut self, by: By, at: &str, code: &str, region: &str, water_parts: f64) {
        let body = json!({ "region": region, "acid": "hydrochloric", "concentrate_pct": 31, "water_parts": water_parts, "acid_parts": 1,
            "cream_lost": "trace", "dwell_min": 3, "passes": 1, "pre_wetted": "yes", "metal_masked": "yes", "trial_spot": "yes",
            "product": id("muriatic"), "lot": "MA-204" });
        self.tell(by, at, "acid_wash", &[code], body);
    }

    /// A rinse.
    pub(super) fn rinse(&mut self, by: By, at: &str, code: &str) {
        self.tell(by, at, "rinse", &[code], json!({ "standing_water_removed": "yes", "times": 2 }));
    }

    /// One wet pass with the machine, cut out. `pad` numbers; metal or resin.
    pub(super) fn pass(
        &mut self,
        by: By,
        at: &str,
        code: &str,
        grit: u32,
        bond: &str,
    ) -> &mut crate::demo::story::Event {
        let tool = if bond == "metal" { "7 in grinder" } else { "5 in polisher" };
        let body = json!({ "region": "face", "grit": grit, "scale": "pad", "bond": bond, "wet": true, "result": "cut_out", "tool": id(tool),
            "power": "electric", "rcd": "yes", "dust": "water", "speed_rpm": 2200, "minutes_min": 20, "area_m2": 1.2,
            "backer": "rigid", "as_sample": "yes" });
        self.tell(by, at, "grit_pass", &[code], body)
    }

    /// One pass by hand with wet paper, kept wet.
    pub(super) fn paper(&mut self, by: By, at: &str, code: &str, region: &str, grit: u32) {
        let body = json!({ "region": region, "grit": grit, "scale": "p", "bond": "paper", "wet": true, "result": "cut_out", "power": "hand",
            "dust": "water", "minutes_min": 25, "area_m2": 0.6, "backer": "flexible", "as_sample": "yes" });
        self.tell(by, at, "grit_pass", &[code], body);
    }

    /// Voids filled with cement slurry.
    pub(super) fn fill(&mut self, by: By, at: &str, code: &str, method: &str) {
        let body = json!({ "region": "face", "material": "cement_fill", "product": id("cement fill"), "lot": "FS-18", "expires": "2026-06-30",
            "method": method, "count": 24, "area_m2": 1.2, "tone": "as the mix" });
        self.tell(by, at, "fill", &[code], body);
    }

    /// Drying in the shop.
    pub(super) fn dry(&mut self, by: By, from: &str, until: &str, code: &str) {
        let body = json!({ "at": "drying room", "closing_rh_pct": 48, "closing_c": 21 });
        self.tell(by, from, "dry", &[code], body).until(until);
    }

    /// A coat in good air.
    pub(super) fn coat(
        &mut self,
        by: By,
        at: &str,
        code: &str,
        product: &str,
        lot: &str,
        number: u32,
    ) -> &mut crate::demo::story::Event {
        let body = json!({ "region": "face", "product": id(product), "lot": lot, "coat": number, "air_c": 20, "rh_pct": 50, "surface_c": 19.5,
            "surface_steady": "yes", "abraded_before": "no", "expires": "2027-01-31", "method": "roller" });
        self.tell(by, at, "seal_coat", &[code], body)
    }

    /// Two coats of the penetrating sealer, wet to refusal, then its cure.
    pub(super) fn penetrate(&mut self, by: By, day: &str, code: &str, lot: &str, area_m2: f64, until: &str) {
        for (number, at) in [(1, "09:00"), (2, "15:00")] {
            self.coat(by, &format!("{day} {at}"), code, "reactive sealer", lot, number)
                .with("quantity_l", json!(area_m2 / 8.0))
                .with("area_m2", json!(area_m2))
                .with("to_refusal", json!("yes"));
        }
        self.cure(by, &format!("{day} 17:00"), code, until);
    }

    /// Three coats of the two-part clear, then its cure.
    pub(super) fn clear(&mut self, by: By, day: &str, code: &str, lot: &str, area_m2: f64, until: &str) {
        self.confirm(by, &format!("{day} 07:50"), &["isocyanate"]);
        for (number, at) in [(1, "08:00"), (2, "12:00"), (3, "16:00")] {
            self.coat(by, &format!("{day} {at}"), code, "clear coat", lot, number)
                .with("quantity_l", json!(area_m2 / 10.0))
                .with("area_m2", json!(area_m2))
                .with("hardener_parts", json!(25))
                .with("mixed_before_min", json!(30));
        }
        self.cure(by, &format!("{day} 17:30"), code, until);
    }

    /// The sealer left alone.
    pub(super) fn cure(&mut self, by: By, at: &str, code: &str, until: &str) {
        let until = trowelogue_core::moment::write(&crate::demo::story::moment(until));
        self.tell(
            by,
            at,
            "sealer_cure",
            &[code],
            json!({ "method": "air, covered tent", "until": until, "air_c": 20 }),
        );
    }

    /// A last look.
    pub(super) fn inspect(&mut self, by: By, at: &str, codes: &[&str]) {
        let line = |what: &str| json!({ "what": what, "result": "pass" });
        let body = json!({ "checklist": [line("face against the sample"), line("edges"), line("cut-outs"), line("water-drop test")] });
        self.tell(by, at, "inspection", codes, body);
    }

    /// Stored flat, packed, loaded tied, delivered, installed.
    pub(super) fn bring(&mut self, by: By, day: &str, codes: &[&str]) {
        let confirm = format!("{day} 06:50");
        self.confirm(by, &confirm, &["on_edge"]);
        let packing = json!({ "condition": "as inspected", "wrap": "breathable", "edges_guarded": "yes", "damage": "none" });
        self.tell(by, &format!("{day} 07:00"), "packing", codes, packing);
        let loading = json!({ "condition": "as inspected", "position": "on_edge", "tied_back": "yes", "rack_rated": "yes", "persons": 4,
            "lifting_gear": "carrying clamps and gantry", "strongback": "yes", "damage": "none" });
        self.tell(by, &format!("{day} 07:40"), "loading", codes, loading);
        let delivery = json!({ "condition": "as loaded", "taken_by": "own crew", "damage": "none", "persons": 4, "lifting_gear": "gantry" });
        self.tell(by, &format!("{day} 09:30"), "delivery", codes, delivery).with("place", json!("site"));
        let install = json!({ "place": "site", "base_level": "yes", "seams": "2 mm, filled to match", "adhesive": "neutral silicone pads",
            "adhesive_lot": "AD-51", "adhesive_expires": "2027-03-31", "gap_mm": 3, "span_mm": 550, "overhang_mm": 150,
            "sealant": "neutral_silicone", "acid_or_flux": "no", "persons": 4, "lifting_gear": "gantry" });
        self.tell(by, &format!("{day} 11:00"), "install", codes, install);
    }

    /// Handed over with care sheet and nothing open.
    pub(super) fn hand_over(&mut self, by: By, at: &str, codes: &[&str], to: &str) {
        let photo = crate::demo::photo::hash(codes[0]);
        let body = json!({ "place": "site", "received_by": to, "care_sheet": "1", "open_points": [], "signed": true, "touch_up_lot": "kept at the shop",
            "touch_up_contact": "Ines Calder, 555-0142", "sheets_given": "yes", "photos": [{ "hash": photo.to_string(), "caption": "as handed over" }] });
        self.tell(by, at, "handover", codes, body);
    }
}
