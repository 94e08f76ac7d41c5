//! Writes a value with its unit, with the digits a person can use.

use super::table::{Unit, to_unit, unit};
use super::{Dimension, Quantity, System};
use crate::text::Lang;

/// From which size on, in which unit, with how many decimals a quantity is shown.
type Step = (f64, &'static str, usize);

/// Keeps a number and its unit on one line.
const NO_BREAK: char = '\u{a0}';

/// The value in the reader's units: `68.0 °F`, `3.79 L`, `1,4 L` in Spanish. Never more digits than the
/// measurement can carry. A value that is not finite is shown as a dash.
pub fn show(value: f64, dimension: Dimension, system: System, lang: Lang) -> String {
    if !value.is_finite() {
        return "—".to_owned();
    }
    if dimension.quantity() == Quantity::Time {
        return show_time(value, dimension, lang);
    }
    let steps = steps(dimension.quantity(), system);
    let (shown, (_, symbol, decimals)) = pick(value, dimension, steps);
    let gap = if symbol == "%" && lang == Lang::En { String::new() } else { NO_BREAK.to_string() };
    format!("{}{gap}{symbol}", number(shown, decimals, lang))
}

/// The last step whose size the value reaches, measured in the unit of that step.
fn pick(value: f64, dimension: Dimension, steps: &[Step]) -> (f64, Step) {
    let in_step = |step: Step| {
        let found: Option<&Unit> = unit(step.1, dimension.quantity());
        found.and_then(|unit| to_unit(value, dimension, unit)).unwrap_or(value)
    };
    let reached = steps.iter().rev().find(|step| in_step(**step).abs() >= step.0);
    let step = *reached.unwrap_or(&steps[0]);
    (in_step(step), step)
}

/// Units and decimals by quantity. Every list begins with the step for the smallest sizes.
fn steps(quantity: Quantity, system: System) -> &'static [Step] {
    use Quantity as Q;
    use System::{Metric, Us};
    match (quantity, system) {
        (Q::Temperature, Metric) => &[(0.0, "°C", 1)],
        (Q::Temperature, Us) => &[(0.0, "°F", 1)],
        (Q::Difference, Metric) => &[(0.0, "K", 1)],
        (Q::Difference, Us) => &[(0.0, "°F", 1)],
        (Q::Warming, Metric) => &[(0.0, "K/h", 1)],
        (Q::Warming, Us) => &[(0.0, "°F/h", 1)],
        (Q::Share, _) => &[(0.0, "%", 2), (1.0, "%", 1), (10.0, "%", 0)],
        (Q::Length, Metric) => {
            &[(0.0, "µm", 1), (10.0, "µm", 0), (1.0, "mm", 1), (10.0, "mm", 0), (10.0, "m", 2)]
        }
        (Q::Length, Us) => &[(0.0, "mil", 2), (10.0, "mil", 0), (0.1, "in", 2), (10.0, "ft", 2)],
        (Q::Area, Metric) => &[(0.0, "cm²", 0), (0.1, "m²", 2), (100.0, "m²", 0)],
        (Q::Area, Us) => &[(0.0, "in²", 0), (1.0, "ft²", 1), (100.0, "ft²", 0)],
        (Q::Volume, Metric) => {
            &[(0.0, "mL", 1), (10.0, "mL", 0), (1.0, "L", 2), (10.0, "L", 1), (1.0, "m³", 2)]
        }
        (Q::Volume, Us) => {
            &[(0.0, "fl oz", 2), (10.0, "fl oz", 1), (0.25, "gal", 2), (10.0, "gal", 1), (1.0, "yd³", 2)]
        }
        (Q::Mass, Metric) => {
            &[(0.0, "g", 1), (10.0, "g", 0), (1.0, "kg", 2), (10.0, "kg", 1), (100.0, "kg", 0)]
        }
        (Q::Mass, Us) => &[(0.0, "oz", 2), (1.0, "lb", 2), (10.0, "lb", 1), (100.0, "lb", 0)],
        (Q::Pressure, Metric) => &[(0.0, "Pa", 0), (0.1, "MPa", 1)],
        (Q::Pressure, Us) => &[(0.0, "psi", 2), (10.0, "psi", 0)],
        _ => other_steps(quantity, system),
    }
}

fn other_steps(quantity: Quantity, system: System) -> &'static [Step] {
    use Quantity as Q;
    use System::{Metric, Us};
    match (quantity, system) {
        (Q::Density, Metric) => &[(0.0, "g/m³", 1), (0.1, "g/L", 1), (1000.0, "kg/m³", 0)],
        (Q::Density, Us) => &[(0.0, "oz/gal", 3), (0.1, "oz/gal", 1), (10.0, "lb/ft³", 0)],
        (Q::AreaMass, Metric) => &[(0.0, "g/m²", 1), (10.0, "g/m²", 0), (1.0, "kg/m²", 1)],
        (Q::AreaMass, Us) => &[(0.0, "oz/ft²", 2), (1.0, "lb/ft²", 1)],
        (Q::Evaporation, Metric) => &[(0.0, "kg/(m²·h)", 2)],
        (Q::Evaporation, Us) => &[(0.0, "lb/(ft²·h)", 2)],
        (Q::Force, Metric) => &[(0.0, "N", 0), (1.0, "kN", 1)],
        (Q::Force, Us) => &[(0.0, "lbf", 0)],
        (Q::Maturity, Metric) => &[(0.0, "°C·h", 0)],
        (Q::Maturity, Us) => &[(0.0, "°F·h", 0)],
        // Hand-arm vibration is stated in m/s² in US standards too.
        (Q::Acceleration, _) => &[(0.0, "m/s²", 1)],
        (Q::Speed, Metric) => &[(0.0, "km/h", 1)],
        (Q::Speed, Us) => &[(0.0, "mph", 1)],
        (Q::Turning, _) => &[(0.0, "rpm", 0)],
        (Q::Flow, Metric) => &[(0.0, "m³/h", 0)],
        (Q::Flow, Us) => &[(0.0, "cfm", 0)],
        (Q::Coverage, Metric) => &[(0.0, "m²/L", 1)],
        (Q::Coverage, Us) => &[(0.0, "ft²/gal", 0)],
        (Q::Sound, _) => &[(0.0, "dB(A)", 0)],
        _ => &[(0.0, "mol/L", 2)],
    }
}

/// Time in two parts at most: `45 min`, `2 h 30 min`, `3 d 4 h`. Seconds only under two minutes.
fn show_time(value: f64, dimension: Dimension, lang: Lang) -> String {
    let stored = unit("s", Quantity::Time).and_then(|seconds| to_unit(value, dimension, seconds));
    let seconds = stored.unwrap_or(value);
    let sign = if seconds.round() < 0.0 { "−" } else { "" };
    let seconds = seconds.abs();
    let pair = |big: f64, big_name: &str, small: f64, small_name: &str| {
        let whole = (seconds / small).round();
        let (first, second) = ((whole * small / big).floor(), whole % (big / small));
        let first = format!("{}{NO_BREAK}{big_name}", number(first, 0, lang));
        match second {
            0.0 => format!("{sign}{first}"),
            _ => format!("{sign}{first}{NO_BREAK}{}{NO_BREAK}{small_name}", number(second, 0, lang)),
        }
    };
    match seconds {
        s if s < 119.5 => format!("{sign}{}{NO_BREAK}s", number(s, 0, lang)),
        s if s < 5_370.0 => format!("{sign}{}{NO_BREAK}min", number(s / 60.0, 0, lang)),
        s if s < 172_770.0 => pair(3_600.0, "h", 60.0, "min"),
        _ => pair(86_400.0, "d", 3_600.0, "h"),
    }
}

/// A number with so many decimals, the decimal sign and the grouping of the language. English groups with a
/// comma from 1,000 on; Spanish with a no-break space from five figures on.
pub fn number(value: f64, decimals: usize, lang: Lang) -> String {
    if !value.is_finite() {
        return "—".to_owned();
    }
    let plain = format!("{:.decimals$}", value.abs());
    let (whole, tail) = plain.split_once('.').unwrap_or((&plain, ""));
    let (group, point, from) = match lang {
        Lang::En => (',', '.', 4),
        Lang::Es => (NO_BREAK, ',', 5),
    };
    let mut out = String::new();
    if value < 0.0 && plain.bytes().any(|b| (b'1'..=b'9').contains(&b)) {
        out.push('−');
    }
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && whole.len() >= from && (whole.len() - at) % 3 == 0 {
            out.push(group);
        }
        out.push(digit);
    }
    if !tail.is_empty() {
        out.push(point);
        out.push_str(tail);
    }
    out
}
