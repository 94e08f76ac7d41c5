//! Numbers: unit, bounds, step of the buttons, values to touch. Bounds and chips are common practice, no source.

use crate::body::input;
use crate::units::{self, Dimension, System, dimension_of_field};

/// How a number is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// What is measured, where the number has a unit.
    pub dimension: Option<Dimension>,
    /// The unit it is entered in.
    pub unit: Option<&'static str>,
    /// The least it may be, in that unit.
    pub min: f64,
    /// The most it may be.
    pub max: f64,
    /// Step of the buttons.
    pub step: f64,
    /// Decimals shown.
    pub decimals: u32,
    /// Values to touch.
    pub quick: Vec<f64>,
    /// It has no fraction.
    pub whole: bool,
}

/// The measure of a field, by its name.
pub(super) fn measure(name: &str, whole: bool, system: System) -> Measure {
    let dimension = dimension_of_field(name);
    let (unit, step, decimals) = match dimension {
        Some(dimension) => unit_for(dimension, system),
        None => plain(name, whole),
    };
    let (low, high) = bounds(name, whole);
    let mut measure =
        Measure { dimension, unit, min: low, max: high, step, decimals, quick: Vec::new(), whole };
    measure.min = measure.round(measure.outside(low));
    measure.max = measure.round(measure.outside(high));
    measure.quick = quick(name, system).to_vec();
    measure
}

/// Millimetres to one unit of a place on a plan, as the person gives it, and its decimals.
pub fn place_unit(reader: super::Reader) -> (f64, u32) {
    let measure = measure("x_mm", false, reader.system);
    (1.0 / measure.outside(1.0), measure.decimals)
}

impl Measure {
    /// A stored number in the unit it is entered in.
    pub(super) fn outside(&self, stored: f64) -> f64 {
        let unit = self.dimension.zip(self.unit).and_then(|(dimension, name)| {
            units::to_unit(stored, dimension, units::unit(name, dimension.quantity())?)
        });
        unit.unwrap_or(stored)
    }

    /// A number with the decimals that are shown.
    pub(super) fn round(&self, value: f64) -> f64 {
        let scale = 10_f64.powi(i32::try_from(self.decimals).unwrap_or(0));
        (value * scale).round() / scale
    }

    /// Whether the unit is the one values are stored in.
    pub(super) fn is_stored_unit(&self) -> bool {
        self.dimension.is_none_or(|dimension| self.unit == Some(dimension.symbol()))
    }
}

type Shown = (Option<&'static str>, f64, u32);

/// Unit, step and decimals of a dimension.
fn unit_for(dimension: Dimension, system: System) -> Shown {
    use Dimension as D;
    let us = system == System::Us;
    let (unit, step, decimals) = match dimension {
        D::Celsius if us => ("°F", 1.0, 1),
        D::Celsius => ("°C", 0.5, 1),
        D::Kelvin if us => ("°F", 1.0, 1),
        D::Kelvin => ("K", 0.5, 1),
        D::KelvinPerHour if us => ("°F/h", 5.0, 1),
        D::KelvinPerHour => ("K/h", 1.0, 1),
        D::Percent => ("%", 1.0, 1),
        D::Millimetre if us => ("in", 0.125, 3),
        D::Millimetre => ("mm", 1.0, 0),
        D::SquareMetre if us => ("ft²", 1.0, 1),
        D::SquareMetre => ("m²", 0.1, 2),
        D::Litre if us => ("fl oz", 1.0, 1),
        D::Litre => ("L", 0.05, 2),
        D::Kilogram if us => ("lb", 1.0, 1),
        D::Kilogram => ("kg", 1.0, 1),
        D::KilogramPerCubicMetre if us => ("lb/ft³", 1.0, 1),
        D::KilogramPerCubicMetre => ("kg/m³", 10.0, 0),
        D::Megapascal if us => ("psi", 100.0, 0),
        D::Megapascal => ("MPa", 0.5, 1),
        D::SquareMetrePerLitre if us => ("ft²/gal", 10.0, 0),
        D::SquareMetrePerLitre => ("m²/L", 0.5, 1),
        D::MetrePerSecondSquared => ("m/s²", 0.5, 1),
        D::TurnsPerMinute => ("rpm", 100.0, 0),
        D::Minute => ("min", 1.0, 0),
        D::Hour => ("h", 1.0, 1),
        other => (other.symbol(), 1.0, 1),
    };
    (Some(unit), step, decimals)
}

/// Step and decimals of a number that carries no unit in its name.
fn plain(name: &str, whole: bool) -> Shown {
    match name {
        _ if whole => (None, 1.0, 0),
        "ph" | "ph_max" => (None, 0.1, 1),
        "water_cement" => (None, 0.01, 2),
        "cube_per_cylinder" => (None, 0.05, 2),
        "grit" | "trial_grit" | "finest_last_grit" => (None, 10.0, 0),
        "gloss_gu" => (Some("GU"), 1.0, 1),
        "price" => (None, 10.0, 2),
        _ => (None, 1.0, 1),
    }
}

/// What a field can hold: the sizes a workshop has, inside the range the entry itself may have.
fn bounds(name: &str, whole: bool) -> (f64, f64) {
    const NARROW: &[(&str, (f64, f64))] = &[
        ("air_c", (-30.0, 60.0)),
        ("surface_c", (-30.0, 80.0)),
        ("closing_c", (-30.0, 60.0)),
        ("concrete_c", (-10.0, 95.0)),
        ("peak_c", (-10.0, 95.0)),
        ("reading_c", (-30.0, 95.0)),
        ("temperature_c", (-30.0, 95.0)),
        ("pot_life_at_c", (-10.0, 60.0)),
        ("heat_max_c", (0.0, 400.0)),
        ("rise_c_per_h", (0.0, 100.0)),
        ("strip_difference_k", (-40.0, 80.0)),
        ("dew_margin_k", (0.0, 30.0)),
        ("dwell_min", (0.0, 240.0)),
        ("minutes_min", (0.0, 1440.0)),
        ("mixed_before_min", (0.0, 1440.0)),
        ("backing_after_min", (0.0, 1440.0)),
        ("speed_rpm", (0.0, 15_000.0)),
        ("vibration_ms2", (0.0, 50.0)),
        ("thickness_mm", (1.0, 1000.0)),
        ("life_m2", (0.1, 10_000.0)),
        ("gap_mm", (0.0, 200.0)),
        ("area_m2", (0.0, 1000.0)),
        ("quantity_l", (0.0, 1000.0)),
        ("result_mpa", (0.0, 250.0)),
        ("aim_mpa", (0.0, 250.0)),
        ("ph", (0.0, 14.0)),
        ("ph_max", (0.0, 14.0)),
        ("water_cement", (0.1, 2.0)),
        ("cube_per_cylinder", (1.0, 1.5)),
        ("grit", (4.0, 12_000.0)),
        ("trial_grit", (4.0, 12_000.0)),
        ("finest_last_grit", (4.0, 12_000.0)),
        ("gloss_gu", (0.0, 200.0)),
        ("hardener_parts", (0.0, 1000.0)),
        ("coat", (1.0, 20.0)),
        ("price", (0.0, 1e8)),
        ("months", (0.0, 1200.0)),
        ("value", (-1e4, 1e6)),
        ("reference", (-1e4, 1e6)),
        ("limit", (-1e4, 1e6)),
    ];
    let exact = NARROW.iter().find(|(field, _)| *field == name);
    let ending =
        || NARROW.iter().find(|(field, _)| name.strip_suffix(field).is_some_and(|it| it.ends_with('_')));
    match exact.or_else(ending) {
        Some((_, range)) => *range,
        None if whole => (0.0, 10_000.0),
        None => input::range_of(name),
    }
}

/// Values to touch, in the unit they are entered in.
fn quick(name: &str, system: System) -> &'static [f64] {
    match (name, system) {
        ("dwell_min", _) => &[1.0, 2.0, 5.0, 10.0],
        ("minutes_min", _) => &[10.0, 20.0, 30.0, 45.0, 60.0],
        ("after_min", _) => &[1.0, 2.0, 5.0, 10.0],
        ("mixed_before_min", _) => &[10.0, 20.0, 30.0],
        ("passes" | "times" | "coat", _) => &[1.0, 2.0, 3.0],
        ("persons", _) => &[1.0, 2.0, 3.0, 4.0],
        ("grit", _) => &[20.0, 50.0, 100.0, 200.0, 400.0, 600.0, 800.0],
        ("trial_grit", _) => &[20.0, 50.0, 100.0, 200.0],
        ("ph", _) => &[6.0, 7.0, 8.0, 9.0, 10.0, 11.0],
        ("rh_pct" | "closing_rh_pct", _) => &[40.0, 50.0, 60.0, 70.0],
        ("held_h", _) => &[1.0, 2.0, 24.0],
        ("age_h", _) => &[16.0, 24.0, 48.0, 72.0, 168.0],
        ("quantity_l", System::Metric) => &[0.25, 0.5, 1.0, 2.0],
        ("quantity_l", System::Us) => &[8.0, 16.0, 32.0, 64.0],
        ("thickness_mm", System::Metric) => &[20.0, 25.0, 30.0, 40.0],
        ("thickness_mm", System::Us) => &[0.75, 1.0, 1.25, 1.5],
        ("warranty_months" | "renew_months", _) => &[12.0, 24.0, 60.0],
        _ => &[],
    }
}
