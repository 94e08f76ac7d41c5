//! Maturity, strength functions and fits.

use trowelogue_testkit::trowelogue_core::sums::curve::{Curve, Form};
use trowelogue_testkit::trowelogue_core::sums::fit::{Break, fit};
use trowelogue_testkit::trowelogue_core::sums::maturity::{
    Interval, Model, equivalent_age_h, temperature_time_c_h,
};
use trowelogue_testkit::trowelogue_core::sums::pot_life::pot_life_min;

use crate::{Check, check, to_the_digit};

const C1074: &str =
    "ASTM C1074, Nurse-Saul and equivalent age (from memory of the standard; arithmetic by hand)";

pub(crate) fn checks() -> Vec<Check> {
    [factors(), histories(), curves(), fits(), inverses()].into_iter().flatten().collect()
}

fn model(q_k: f64, reference_c: f64) -> Model {
    Model { q_k, reference_c, ..Model::default() }
}

/// Age factors of the Arrhenius function.
fn factors() -> Vec<Check> {
    const FHP: &str = "Freiesleben Hansen and Pedersen (1977), age factor (arithmetic by hand)";
    let rows = [
        (0.0, "0.286836", "0.241322", "0.368219"),
        (5.0, "0.398600", "0.335351", "0.479104"),
        (10.0, "0.547512", "0.460635", "0.617611"),
        (15.0, "0.743818", "0.625792", "0.789175"),
        (20.0, "1.000000", "0.841324", "1.000000"),
        (25.0, "1.331136", "1.119916", "1.257123"),
        (30.0, "1.755282", "1.476761", "1.568475"),
        (35.0, "2.293893", "1.929908", "1.942936"),
        (40.0, "2.972269", "2.500641", "2.390399"),
        (50.0, "4.871607", "4.098600", "3.549260"),
        (60.0, "7.751296", "6.521351", "5.146352"),
    ];
    let each = |(c, at_20, at_23, q_4000): (f64, &str, &str, &str)| {
        [
            to_the_digit(FHP, format!("factor at {c} °C, Q 5000, 20 °C"), model(5000.0, 20.0).rate(c), at_20),
            to_the_digit(FHP, format!("factor at {c} °C, Q 5000, 23 °C"), model(5000.0, 23.0).rate(c), at_23),
            to_the_digit(
                FHP,
                format!("factor at {c} °C, Q 4000, 20 °C"),
                model(4000.0, 20.0).rate(c),
                q_4000,
            ),
        ]
    };
    rows.into_iter().flat_map(each).collect()
}

fn parts(list: &[(f64, f64)]) -> Vec<Interval> {
    list.iter().map(|&(mean_c, hours)| Interval { hours, mean_c }).collect()
}

fn histories() -> Vec<Check> {
    const EXAM: &str = "published exam example: 28 days at 15 °C, datum −11 °C, printed 728 °C·day";
    let steady = parts(&[(20.0, 72.0)]);
    let steps = parts(&[(20.0, 12.0), (30.0, 12.0), (25.0, 24.0)]);
    let logger = parts(&[(24.0, 6.0), (30.0, 6.0), (32.5, 6.0), (29.0, 6.0), (25.0, 12.0), (21.5, 12.0)]);
    let frost = parts(&[(5.0, 24.0), (-5.0, 12.0), (-12.0, 6.0), (10.0, 30.0)]);
    let (at_20, at_23) = (model(5000.0, 20.0), model(5000.0, 23.0));
    vec![
        to_the_digit(EXAM, "°C·day", temperature_time_c_h(&parts(&[(15.0, 672.0)]), -11.0) / 24.0, "728"),
        to_the_digit(C1074, "72 h at 20 °C, datum −10", temperature_time_c_h(&steady, -10.0), "2160"),
        to_the_digit(C1074, "72 h at 20 °C, datum 0", temperature_time_c_h(&steady, 0.0), "1440"),
        to_the_digit(C1074, "72 h at 20 °C, age at 20", equivalent_age_h(&steady, &at_20), "72.0000"),
        to_the_digit(C1074, "72 h at 20 °C, age at 23", equivalent_age_h(&steady, &at_23), "60.575326"),
        to_the_digit(C1074, "three steps, datum −10", temperature_time_c_h(&steps, -10.0), "1680"),
        to_the_digit(C1074, "three steps, datum 0", temperature_time_c_h(&steps, 0.0), "1200"),
        to_the_digit(C1074, "three steps, age at 20", equivalent_age_h(&steps, &at_20), "65.010640"),
        // The page cut the last digit instead of rounding it.
        check(C1074, "three steps, age at 23", equivalent_age_h(&steps, &at_23), 54.695_009, 1e-6),
        to_the_digit(C1074, "logger, datum −10", temperature_time_c_h(&logger, -10.0), "1731.0"),
        to_the_digit(C1074, "logger, datum 0", temperature_time_c_h(&logger, 0.0), "1251.0"),
        to_the_digit(C1074, "logger, age at 20", equivalent_age_h(&logger, &at_20), "69.167363"),
        to_the_digit(C1074, "logger, age at 23", equivalent_age_h(&logger, &at_23), "58.192161"),
        to_the_digit(C1074, "frost, clamped, datum −10", temperature_time_c_h(&frost, -10.0), "1020"),
        to_the_digit(C1074, "frost, clamped, datum 0", temperature_time_c_h(&frost, 0.0), "420"),
        to_the_digit(C1074, "frost, age at 20", equivalent_age_h(&frost, &at_20), "29.180610"),
    ]
}

/// Ages with the strength printed for each.
type Points = &'static [(f64, &'static str)];

fn curves() -> Vec<Check> {
    const MODELS: &str = "hyperbolic and exponential strength functions as tabulated in Materials 17(24):6157 (2024), section 1 (arithmetic by hand)";
    const PLOWMAN: &str = "Plowman (1956), logarithmic strength function (arithmetic by hand)";
    let hyperbolic = Curve::Hyperbolic { su_mpa: 50.0, k_per_h: 0.30, t0_h: 0.25 };
    let exponential = Curve::Exponential { su_mpa: 50.0, tau_h: 1.5, alpha: 0.8 };
    let log = Curve::Log { a_mpa: -40.0, b_mpa: 20.0 };
    let rows: [(&'static str, Curve, Points); 3] = [
        (
            MODELS,
            hyperbolic,
            &[
                (0.25, "0.000000"),
                (0.5, "3.488372"),
                (1.0, "9.183673"),
                (2.0, "17.213115"),
                (3.0, "22.602740"),
                (7.0, "33.471074"),
                (14.0, "40.243902"),
                (28.0, "44.638070"),
                (56.0, "47.1791"),
            ],
        ),
        (
            MODELS,
            exponential,
            &[
                (0.5, "4.4987"),
                (1.0, "12.539218"),
                (1.5, "18.3940"),
                (2.0, "22.592209"),
                (3.0, "28.153560"),
                (7.0, "37.353188"),
                (14.0, "42.289552"),
                (28.0, "45.414404"),
                (56.0, "47.3125"),
            ],
        ),
        (
            PLOWMAN,
            log,
            &[
                (100.0, "0"),
                (720.0, "17.1466"),
                (1000.0, "20"),
                (2160.0, "26.6891"),
                (5040.0, "34.0486"),
                (10000.0, "40"),
            ],
        ),
    ];
    let each = |&(source, curve, values): &(&'static str, Curve, Points)| {
        let one =
            move |&(t, s): &(f64, &str)| to_the_digit(source, format!("S({t})"), curve.strength_mpa(t), s);
        values.iter().map(one).collect::<Vec<_>>()
    };
    rows.iter().flat_map(each).collect()
}

fn fits() -> Vec<Check> {
    const SCIPY: &str = "scipy 1.17.1, curve_fit on the same synthetic set";
    const NUMPY: &str = "numpy 2.4.6, least squares on the same synthetic set";
    let set = |scale: f64| -> Vec<Break> {
        let ages = [1.0, 2.0, 3.0, 7.0, 14.0, 28.0].map(|age| age * scale);
        let strengths = [9.1, 17.2, 22.4, 33.0, 40.1, 44.2];
        let one = |(equivalent_age_h, strength_mpa)| Break { equivalent_age_h, strength_mpa };
        ages.into_iter().zip(strengths).map(one).collect()
    };
    let hyperbolic = fit(Form::Hyperbolic, &set(1.0)).expect("fits");
    let exponential = fit(Form::Exponential, &set(1.0)).expect("fits");
    let log = fit(Form::Log, &set(720.0)).expect("fits");
    let (h, e, l) = (hyperbolic.curve.parameters(), exponential.curve.parameters(), log.curve.parameters());
    vec![
        check(SCIPY, "hyperbolic Su", h[0], 49.6041, 1e-3),
        check(SCIPY, "hyperbolic k", h[1], 0.299_024, 1e-4),
        check(SCIPY, "hyperbolic t0", h[2], 0.243_506, 1e-4),
        check(SCIPY, "hyperbolic SSE", hyperbolic.squares_mpa2, 0.092_957, 1e-5),
        check(SCIPY, "exponential Su", e[0], 54.2807, 0.27),
        check(SCIPY, "exponential tau", e[1], 2.4480, 0.0122),
        check(SCIPY, "exponential alpha", e[2], 0.663_34, 0.0033),
        check(SCIPY, "exponential SSE", exponential.squares_mpa2, 0.436_50, 0.0022),
        check(NUMPY, "logarithmic a", l[0], -61.5566, 1e-4),
        check(NUMPY, "logarithmic b", l[1], 25.062_10, 1e-5),
        check(NUMPY, "logarithmic SSE", log.squares_mpa2, 10.5917, 1e-4),
    ]
}

fn inverses() -> Vec<Check> {
    const MODELS: &str = "hyperbolic and exponential strength functions as tabulated in Materials 17(24):6157 (2024), section 1 (arithmetic by hand)";
    const POT: &str = "common practice: pot life halves for every 10 °C warmer (arithmetic by hand)";
    let hyperbolic = Curve::Hyperbolic { su_mpa: 50.0, k_per_h: 0.30, t0_h: 0.25 };
    let exponential = Curve::Exponential { su_mpa: 50.0, tau_h: 1.5, alpha: 0.8 };
    let age = |curve: Curve, strength| curve.age_h(strength).expect("reached");
    let rate = |c| model(5000.0, 20.0).rate(c);
    let pot = |minutes, at, now| pot_life_min(minutes, at, now).expect("in range");
    vec![
        to_the_digit(MODELS, "age of 20 MPa, hyperbolic", age(hyperbolic, 20.0), "2.472222"),
        to_the_digit(MODELS, "age of 35 MPa, hyperbolic", age(hyperbolic, 35.0), "8.027778"),
        to_the_digit(MODELS, "age of 20 MPa, exponential", age(exponential, 20.0), "1.673207"),
        to_the_digit(C1074, "20 MPa at 10 °C, d", age(hyperbolic, 20.0) / rate(10.0), "4.515373"),
        to_the_digit(C1074, "20 MPa at 15 °C, d", age(hyperbolic, 20.0) / rate(15.0), "3.323693"),
        to_the_digit(C1074, "20 MPa at 25 °C, d", age(hyperbolic, 20.0) / rate(25.0), "1.857228"),
        to_the_digit(C1074, "20 MPa at 30 °C, d", age(hyperbolic, 20.0) / rate(30.0), "1.408447"),
        to_the_digit(POT, "30 min at 25 °C, at 20 °C", pot(30.0, 25.0, 20.0), "42.43"),
        to_the_digit(POT, "30 min at 25 °C, at 35 °C", pot(30.0, 25.0, 35.0), "15.0"),
        to_the_digit(POT, "45 min at 25 °C, at 38 °C", pot(45.0, 25.0, 38.0), "18.28"),
    ]
}
