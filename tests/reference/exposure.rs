//! Vibration, noise, silica.

use trowelogue_testkit::trowelogue_core::body::surface::DustControl;
use trowelogue_testkit::trowelogue_core::sums::noise::{Spell, hours_to_85_dba, noise, osha_allowed_h};
use trowelogue_testkit::trowelogue_core::sums::silica::{
    ACTION_MG_PER_M3, DustSpell, DustTool, DustyWork, LIMIT_MG_PER_M3, Setting, Surroundings,
    average_mg_per_m3, silica_row, vacuum_m3_per_h,
};
use trowelogue_testkit::trowelogue_core::sums::vibration::{
    ACTION_MS2, LIMIT_MS2, Use, exposure, hours_to, vector_sum_ms2,
};

use crate::{Check, check, to_the_digit};

pub(crate) fn checks() -> Vec<Check> {
    [shaking(), loudness(), dust(), rows()].into_iter().flatten().collect()
}

/// Magnitudes with their hours.
type Day = &'static [(f64, f64)];

fn shaking() -> Vec<Check> {
    const EU: &str = "Directive 2002/44/EC: A(8) and its action and limit values";
    const POINTS: &str =
        "ready-reckoner of the British regulator: 100 points at the action value, 150 for 5 m/s² over 3 h";
    let day = |uses: &[(f64, f64)]| {
        let uses: Vec<Use> =
            uses.iter().map(|&(vibration_ms2, h)| Use { vibration_ms2, minutes: h * 60.0 }).collect();
        exposure(&uses).expect("in range")
    };
    let rows: [(Day, &str, f64); 8] = [
        (&[(2.5, 8.0)], "2.5000", 100.0),
        (&[(5.0, 3.0)], "3.0619", 150.0),
        (&[(7.0, 1.0)], "2.4749", 98.0),
        (&[(4.0, 4.0)], "2.8284", 128.0),
        (&[(3.5, 6.0)], "3.0311", 147.0),
        (&[(10.0, 0.5)], "2.5000", 100.0),
        (&[(12.0, 0.25)], "2.1213", 72.0),
        (&[(4.0, 2.0), (7.0, 0.5), (3.0, 1.5)], "2.9580", 140.0),
    ];
    let mut checks = Vec::new();
    for (uses, a8, points) in rows {
        let found = day(uses);
        checks.push(to_the_digit(EU, format!("A(8) of {uses:?}"), found.a8_ms2, a8));
        checks.push(check(POINTS, format!("points of {uses:?}"), found.points, points, 1e-9));
    }
    let reached = |yes: bool| if yes { 1.0 } else { 0.0 };
    checks.extend([
        check(EU, "action value", ACTION_MS2, 2.5, 0.0),
        check(EU, "limit value", LIMIT_MS2, 5.0, 0.0),
        check(
            EU,
            "10 m/s² for half an hour reaches the action value",
            reached(day(&[(10.0, 0.5)]).action_reached),
            1.0,
            0.0,
        ),
        check(EU, "7 m/s² for an hour does not", reached(day(&[(7.0, 1.0)]).action_reached), 0.0, 0.0),
        to_the_digit(
            EU,
            "hours to the action value at 7 m/s²",
            hours_to(ACTION_MS2, 7.0).expect("in range"),
            "1.0204",
        ),
        to_the_digit(
            EU,
            "hours to the limit at 7 m/s²",
            hours_to(LIMIT_MS2, 7.0).expect("in range"),
            "4.0816",
        ),
        to_the_digit(
            "ISO 5349-1: vector sum of the axes",
            "1.5, 3.2, 2.4",
            vector_sum_ms2(1.5, 3.2, 2.4).expect("in range"),
            "4.2720",
        ),
    ]);
    checks
}

fn loudness() -> Vec<Check> {
    const EU: &str = "Directive 2003/10/EC, article 3: LEX,8h";
    const TABLE: &str = "European scientific committee on health risks (2008): times to 85 dB(A)";
    const OSHA: &str = "29 CFR 1926.52, Table D-2 (rounded to the half hour)";
    const DOSE: &str = "29 CFR 1910.95, appendix A (from memory)";
    let day = |spells: &[(f64, f64)]| {
        let spells: Vec<Spell> =
            spells.iter().map(|&(level_dba, hours_h)| Spell { level_dba, hours_h }).collect();
        noise(&spells).expect("in range")
    };
    let mut checks = vec![
        to_the_digit(EU, "91 dB for 2 h", day(&[(91.0, 2.0)]).lex_8h_dba, "84.979"),
        to_the_digit(EU, "100 dB for 15 min", day(&[(100.0, 0.25)]).lex_8h_dba, "84.949"),
        to_the_digit(
            EU,
            "95, 88, 75 dB for 1, 3, 4 h",
            day(&[(95.0, 1.0), (88.0, 3.0), (75.0, 4.0)]).lex_8h_dba,
            "88.114",
        ),
        to_the_digit(EU, "98, 80 dB for 2, 6 h", day(&[(98.0, 2.0), (80.0, 6.0)]).lex_8h_dba, "92.181"),
    ];
    for (level, hours) in [(88.0, 4.0), (91.0, 2.0), (94.0, 1.0), (97.0, 0.5), (100.0, 0.25)] {
        // The table halves by exactly 3 dB, the formula by 3.01.
        checks.push(check(
            TABLE,
            format!("{level} dB(A), h"),
            hours_to_85_dba(level).expect("in range"),
            hours,
            0.012 * hours,
        ));
    }
    for (level, hours) in [
        (90.0, 8.0),
        (92.0, 6.0),
        (95.0, 4.0),
        (97.0, 3.0),
        (100.0, 2.0),
        (102.0, 1.5),
        (105.0, 1.0),
        (110.0, 0.5),
    ] {
        checks.push(check(
            OSHA,
            format!("{level} dBA, h"),
            osha_allowed_h(level).expect("in range"),
            hours,
            0.07,
        ));
    }
    let mixed = day(&[(97.0, 2.0), (92.0, 3.0), (85.0, 3.0)]);
    checks.push(to_the_digit(DOSE, "dose of 97, 92, 85 dBA for 2, 3, 3 h", mixed.dose_pct, "134.207"));
    checks.push(to_the_digit(DOSE, "its eight-hour average", mixed.twa_dba, "92.122"));
    checks
}

fn dust() -> Vec<Check> {
    const LIMITS: &str = "29 CFR 1926.1153 (a), (b): limit 50, action level 25 µg/m³, averaged over 8 h";
    const VACUUM: &str =
        "29 CFR 1926.1153 Table 1: 25 cubic feet a minute for each inch of wheel, as read in trade reprints";
    let average = |spells: &[(f64, f64)]| {
        let one = |&(silica_mg_per_m3, minutes): &(f64, f64)| DustSpell { silica_mg_per_m3, minutes };
        average_mg_per_m3(&spells.iter().map(one).collect::<Vec<_>>()).expect("in range") * 1000.0
    };
    let vacuum = |wheel_in: f64| vacuum_m3_per_h(wheel_in * 25.4).expect("in range");
    vec![
        check(LIMITS, "limit", LIMIT_MG_PER_M3 * 1000.0, 50.0, 1e-9),
        check(LIMITS, "action level", ACTION_MG_PER_M3 * 1000.0, 25.0, 1e-9),
        to_the_digit(
            LIMITS,
            "0.20 for 60, 0.02 for 420 min",
            average(&[(0.20, 60.0), (0.02, 420.0)]),
            "42.5",
        ),
        to_the_digit(LIMITS, "0.05 for 480 min", average(&[(0.05, 480.0)]), "50.0"),
        to_the_digit(
            LIMITS,
            "0.12, 0.03, 0 for 120, 240, 120 min",
            average(&[(0.12, 120.0), (0.03, 240.0), (0.0, 120.0)]),
            "45.0",
        ),
        to_the_digit(LIMITS, "0.4 for 45, 0.01 for 435 min", average(&[(0.4, 45.0), (0.01, 435.0)]), "46.56"),
        to_the_digit(LIMITS, "0.06 for 600 min", average(&[(0.06, 600.0)]), "75.0"),
        check(VACUUM, "1 inch, m³/h", vacuum(1.0), 42.475, 0.0005),
        check(VACUUM, "5 inches, cfm", vacuum(5.0) / 1.699_010_795_52, 125.0, 1e-6),
        check(VACUUM, "7 inches, cfm", vacuum(7.0) / 1.699_010_795_52, 175.0, 1e-6),
    ]
}

/// The rows of Table 1: tool, control, respirator outdoors up to 4 h and over, indoors up to 4 h and over;
/// −1 where the work is not in the table.
fn rows() -> Vec<Check> {
    const CALIFORNIA: &str = "California Title 8 §1532.3, Table 1 (same figures as 29 CFR 1926.1153)";
    const REPRINT: &str = "29 CFR 1926.1153 Table 1, rows as read in a trade reprint and a state tip sheet";
    const MEMORY: &str = "29 CFR 1926.1153 Table 1 (from memory; agrees with a public code table)";
    use DustControl::{None as Nothing, Shroud, Water};
    use DustTool as T;
    let table: [(&'static str, DustTool, DustControl, [f64; 4]); 13] = [
        (CALIFORNIA, T::StationarySaw, Water, [0.0, 0.0, 0.0, 0.0]),
        (CALIFORNIA, T::HandheldSaw, Water, [0.0, 10.0, 10.0, 10.0]),
        (CALIFORNIA, T::WalkBehindSaw, Water, [0.0, 0.0, 10.0, 10.0]),
        (MEMORY, T::CoreDrill, Water, [0.0, 0.0, 0.0, 0.0]),
        (MEMORY, T::HandheldDrill, Shroud, [0.0, 0.0, 0.0, 0.0]),
        (MEMORY, T::Chipper, Water, [0.0, 10.0, 10.0, 10.0]),
        (MEMORY, T::MortarGrinder, Shroud, [10.0, 25.0, 10.0, 25.0]),
        (REPRINT, T::HandheldGrinder, Shroud, [0.0, 0.0, 0.0, 10.0]),
        // Sources disagree about wet work indoors: outdoors only is the careful reading.
        (MEMORY, T::HandheldGrinder, Water, [0.0, 0.0, -1.0, -1.0]),
        (REPRINT, T::FloorGrinder, Water, [0.0, 0.0, 0.0, 0.0]),
        (REPRINT, T::FloorGrinder, Shroud, [0.0, 0.0, 0.0, 0.0]),
        (REPRINT, T::FloorGrinder, Nothing, [-1.0, -1.0, -1.0, -1.0]),
        (REPRINT, T::HandheldGrinder, Nothing, [-1.0, -1.0, -1.0, -1.0]),
    ];
    let found = |tool, control, place, hours_h, setting| {
        let row = silica_row(&DustyWork { tool, control, place, hours_h, setting }).expect("in range");
        row.respirator_apf.map_or(-1.0, f64::from)
    };
    let places = [
        (Surroundings::Outdoors, 4.0),
        (Surroundings::Outdoors, 4.5),
        (Surroundings::Indoors, 4.0),
        (Surroundings::Indoors, 5.0),
    ];
    let mut checks = Vec::new();
    for (source, tool, control, wanted) in table {
        for ((place, hours), wanted) in places.into_iter().zip(wanted) {
            let what = format!("{} {} {} {hours} h", tool.wire(), control.wire(), place.wire());
            checks.push(check(source, what, found(tool, control, place, hours, Setting::Site), wanted, 0.0));
        }
    }
    let shop = "29 CFR 1910.1053 (as summarised): general industry has no Table 1";
    checks.push(check(
        shop,
        "a shop",
        found(T::FloorGrinder, Water, Surroundings::Indoors, 2.0, Setting::Shop),
        -1.0,
        0.0,
    ));
    checks
}
