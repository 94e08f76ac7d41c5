//! Moist air and evaporation.

use trowelogue_testkit::trowelogue_core::sums::air;
use trowelogue_testkit::trowelogue_core::sums::evaporation::{FreshFace, evaporation};

use crate::{Check, check, to_the_digit};

const PSYCHROLIB: &str = "PsychroLib 2.5.0 (ASHRAE formulation), GetTDewPointFromRelHum";
const HUMIDITIES: [f64; 10] = [20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 85.0, 90.0, 95.0];

/// Dew points in °C at or above 0 °C; a frost point of the library stands as NaN and is left out.
const GRID: [(f64, [f64; 10]); 13] = {
    const N: f64 = f64::NAN;
    [
        (5.0, [N, N, N, N, N, N, 1.84, 2.69, 3.50, 4.27]),
        (10.0, [N, N, N, 0.06, 2.60, 4.79, 6.71, 7.60, 8.44, 9.24]),
        (12.0, [N, N, N, 1.91, 4.48, 6.70, 8.66, 9.56, 10.41, 11.22]),
        (15.0, [N, N, 1.52, 4.67, 7.31, 9.58, 11.58, 12.50, 13.37, 14.21]),
        (18.0, [N, 0.18, 4.21, 7.43, 10.13, 12.45, 14.50, 15.44, 16.34, 17.19]),
        (20.0, [N, 1.91, 6.00, 9.27, 12.01, 14.37, 16.45, 17.40, 18.31, 19.17]),
        (22.0, [N, 3.65, 7.79, 11.11, 13.89, 16.28, 18.39, 19.36, 20.28, 21.16]),
        (25.0, [0.50, 6.24, 10.48, 13.86, 16.70, 19.15, 21.31, 22.30, 23.24, 24.14]),
        (28.0, [2.97, 8.83, 13.15, 16.61, 19.51, 22.02, 24.23, 25.24, 26.20, 27.12]),
        (30.0, [4.61, 10.55, 14.94, 18.45, 21.39, 23.93, 26.17, 27.20, 28.18, 29.11]),
        (32.0, [6.25, 12.27, 16.72, 20.28, 23.26, 25.84, 28.11, 29.16, 30.15, 31.10]),
        (35.0, [8.71, 14.84, 19.38, 23.02, 26.07, 28.70, 31.02, 32.09, 33.11, 34.08]),
        (40.0, [12.78, 19.13, 23.82, 27.59, 30.74, 33.47, 35.88, 36.99, 38.04, 39.04]),
    ]
};

pub(crate) fn checks() -> Vec<Check> {
    [dew_points(), below_zero(), pressures(), margins(), losses()].into_iter().flatten().collect()
}

fn dew(air_c: f64, rh_pct: f64) -> f64 {
    air::dew_point(air_c, rh_pct).expect("in range").dew_point_c
}

fn dew_points() -> Vec<Check> {
    let row = |&(air, values): &(f64, [f64; 10])| {
        let pairs = HUMIDITIES.into_iter().zip(values).filter(|(_, wanted)| wanted.is_finite());
        pairs
            .map(|(rh, wanted)| {
                check(PSYCHROLIB, format!("dew point at {air} °C, {rh} %"), dew(air, rh), wanted, 0.1)
            })
            .collect::<Vec<_>>()
    };
    let mut checks: Vec<Check> = GRID.iter().flat_map(row).collect();
    // The worst place of the whole range 0 to 50 °C, 1 to 100 %.
    checks.push(check(PSYCHROLIB, "dew point at 50 °C, 34 %", dew(50.0, 34.0), 29.8059, 0.1));
    checks.push(check("definition", "dew point of saturated air", dew(50.0, 100.0), 50.0, 1e-12));
    // °F rows of the same library.
    for (air_f, rh, wanted_f) in [
        (70.0, 50.0, 50.53),
        (75.0, 60.0, 60.19),
        (77.0, 70.0, 66.47),
        (50.0, 85.0, 45.68),
        (90.0, 80.0, 82.99),
    ] {
        let found_f = dew((air_f - 32.0) / 1.8, rh) * 1.8 + 32.0;
        checks.push(check(PSYCHROLIB, format!("dew point at {air_f} °F, {rh} %"), found_f, wanted_f, 0.18));
    }
    checks
}

/// Below 0 °C over water, as the WMO guide prints the formula; the frost point of the library is another thing.
fn below_zero() -> Vec<Check> {
    const WMO: &str = "WMO-No. 8, annex 4.B: Magnus formula over water (17.62; 243.12 °C)";
    let air = air::dew_point(10.0, 40.0).expect("in range");
    let label = if air.over_supercooled_water { 1.0 } else { 0.0 };
    vec![
        check(WMO, "dew point at 10 °C, 40 %", air.dew_point_c, -3.001, 0.001),
        check(WMO, "labelled as over supercooled water", label, 1.0, 0.0),
    ]
}

fn pressures() -> Vec<Check> {
    const IAPWS: &str = "iapws 1.5.5, IF97 saturation line";
    let rows =
        [(5.0, 872.57), (10.0, 1228.18), (15.0, 1705.74), (20.0, 2339.21), (25.0, 3169.75), (30.0, 4246.69)];
    let pascal = |c| air::saturation_pressure_hpa(c).expect("in range") * 100.0;
    // The Magnus form is up to 0.3 % low.
    let mut checks: Vec<Check> = rows
        .into_iter()
        .map(|(c, wanted)| {
            check(IAPWS, format!("saturation at {c} °C, Pa"), pascal(c), wanted, 0.0035 * wanted)
        })
        .collect();
    let wmo = "WMO-No. 8, annex 4.B: Magnus formula over water (17.62; 243.12 °C)";
    checks.push(to_the_digit(wmo, "saturation at 20 °C, Pa", pascal(20.0), "2332.60"));
    checks.push(to_the_digit(wmo, "saturation at 30 °C, Pa", pascal(30.0), "4233.72"));
    checks
}

/// Margins and surface humidity; the 3 K rule is ISO 8502-4 / ISO 12944-7, written for steel.
fn margins() -> Vec<Check> {
    let rows = [
        (20.0, 50.0, 15.0, 5.728, 68.6),
        (20.0, 80.0, 18.0, 1.553, 90.6),
        (25.0, 70.0, 20.0, 0.850, 94.9),
        (25.0, 70.0, 22.5, 3.350, 81.4),
        (10.0, 85.0, 10.5, 2.902, 82.2),
        (30.0, 60.0, 24.0, 2.612, 85.3),
        (15.0, 90.0, 16.0, 2.626, 84.4),
    ];
    let each = |(air, rh, surface, margin, humidity): (f64, f64, f64, f64, f64)| {
        let found = air::margin(air, rh, surface).expect("in range");
        [
            check(
                PSYCHROLIB,
                format!("margin at {air} °C, {rh} %, surface {surface} °C"),
                found.margin_k,
                margin,
                0.1,
            ),
            check(
                PSYCHROLIB,
                format!("humidity at the surface, {surface} °C"),
                found.rh_at_surface_pct,
                humidity,
                0.3,
            ),
        ]
    };
    let mut checks: Vec<Check> = rows.into_iter().flat_map(each).collect();
    let iso = "ISO 8502-4 / ISO 12944-7 (as cited by two coating guides): surface 3 °C above the dew point";
    checks.push(check(iso, "least margin, K", air::DEW_MARGIN_K, 3.0, 0.0));
    checks
}

fn losses() -> Vec<Check> {
    const UNO: &str = "Uno, ACI Materials Journal 95-M34 (1998), SI form";
    const MENZEL: &str = "Menzel's formula as in Uno (1998), pressures of PsychroLib 2.5.0";
    let rows = [
        (20.0, 20.0, 50.0, 0.0, "0.0890", 0.0926),
        (20.0, 20.0, 50.0, 10.0, "0.3115", 0.3122),
        (25.0, 25.0, 50.0, 16.0, "0.6062", 0.6016),
        (31.0, 27.0, 50.0, 19.0, "1.1517", 1.1826),
        (30.0, 35.0, 20.0, 20.0, "1.4247", 1.4192),
        (15.0, 10.0, 80.0, 5.0, "0.1322", 0.1252),
        (35.0, 38.0, 30.0, 25.0, "1.9444", 1.9963),
        (25.0, 5.0, 60.0, 10.0, "0.7422", 0.7064),
        (20.0, 20.0, 100.0, 10.0, "0.0000", 0.0),
        (20.0, 35.0, 90.0, 10.0, "0.0000", 0.0),
    ];
    let each = |(concrete_c, air_c, rh_pct, wind, uno, menzel): (f64, f64, f64, f64, &str, f64)| {
        let found =
            evaporation(&FreshFace { concrete_c, air_c, rh_pct, wind_km_per_h: wind }).expect("in range");
        let what = format!("loss at {concrete_c}/{air_c} °C, {rh_pct} %, {wind} km/h");
        [
            to_the_digit(UNO, what.clone(), found.loss_kg_per_m2_h, uno),
            check(MENZEL, what, found.menzel_kg_per_m2_h, menzel, 0.01 * menzel + 1e-12),
        ]
    };
    rows.into_iter().flat_map(each).collect()
}
