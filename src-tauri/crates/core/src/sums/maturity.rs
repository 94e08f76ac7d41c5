//! Maturity: what a temperature history has done for the strength (ASTM C1074).

use chrono::Datelike;

use super::check::within;
use super::{Grounds, SumError};
use crate::moment::{Moment, add_hours, hours_between};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Nurse-Saul temperature-time factor and Freiesleben Hansen-Pedersen (Arrhenius) equivalent age, as in ASTM C1074; default parameters from memory of that standard.",
        "Factor temperatura-tiempo de Nurse-Saul y edad equivalente de Freiesleben Hansen-Pedersen (Arrhenius), según ASTM C1074; parámetros por defecto citados de memoria de esa norma.",
    ),
    validity: text(
        "One mix, kept moist; readings from −20 to 100 °C. Best from 0 to 40 °C: hot curing lowers the later strength, and below 0 °C concrete hardly gains any. Values at other datum, Q or reference temperatures do not compare.",
        "Una mezcla, mantenida húmeda; lecturas de −20 a 100 °C. Mejor de 0 a 40 °C: el curado caliente rebaja la resistencia posterior y bajo 0 °C apenas hay ganancia. Los valores con otro dato, Q o temperatura de referencia no se comparan.",
    ),
};

/// Temperatures a reading of concrete may have, °C.
pub const READING_RANGE_C: (f64, f64) = (-20.0, 100.0);

/// The parameters of both maturity functions. Store them with every result.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Model {
    /// Datum temperature of Nurse-Saul, °C.
    pub datum_c: f64,
    /// Activation energy over gas constant, K.
    pub q_k: f64,
    /// Reference temperature of the equivalent age, °C.
    pub reference_c: f64,
}

impl Default for Model {
    /// Datum 0 °C and Q 5000 K (ASTM C1074, Type I cement without admixture, from memory), reference 20 °C.
    /// The traditional datum of −10 °C credits cold concrete with more than it has gained.
    fn default() -> Self {
        Self { datum_c: 0.0, q_k: 5000.0, reference_c: 20.0 }
    }
}

impl Model {
    /// The model, if its parameters are ones concrete can have.
    ///
    /// # Errors
    /// A datum outside −20 to 10 °C, Q outside 2000 to 10000 K, a reference outside 10 to 30 °C.
    pub fn checked(self) -> Result<Self, SumError> {
        within("datum_c", self.datum_c, -20.0, 10.0)?;
        within("q_k", self.q_k, 2_000.0, 10_000.0)?;
        within("reference_c", self.reference_c, 10.0, 30.0)?;
        Ok(self)
    }

    /// How many hours at the reference temperature one hour at `c` is worth.
    pub fn rate(&self, c: f64) -> f64 {
        let kelvin = |c: f64| c + 273.15;
        (-self.q_k * (1.0 / kelvin(c) - 1.0 / kelvin(self.reference_c))).exp()
    }
}

/// A stretch of time at one mean temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Its length, h.
    pub hours: f64,
    /// Mean temperature, °C.
    pub mean_c: f64,
}

/// Nurse-Saul temperature-time factor, °C·h. Only intervals above the datum add.
pub fn temperature_time_c_h(intervals: &[Interval], datum_c: f64) -> f64 {
    intervals.iter().map(|part| (part.mean_c - datum_c).max(0.0) * part.hours).sum()
}

/// Equivalent age at the reference temperature, h.
pub fn equivalent_age_h(intervals: &[Interval], model: &Model) -> f64 {
    intervals.iter().map(|part| model.rate(part.mean_c) * part.hours).sum()
}

/// One reading of a piece's temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// When.
    pub at: Moment,
    /// Temperature of the concrete, °C.
    pub c: f64,
}

/// Readings in order of time, each moment once: what maturity is summed over.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    readings: Vec<Reading>,
}

/// A stretch without readings that is long beside the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// The last reading before it.
    pub from: Moment,
    /// The first reading after it.
    pub to: Moment,
    /// Its length, h.
    pub hours: f64,
}

impl History {
    /// A history from readings in the order they were taken.
    ///
    /// # Errors
    /// Fewer than two readings, a moment twice, time running backwards, a temperature concrete cannot have, a
    /// year outside 1970 to 2200. The message names the reading.
    pub fn new(readings: Vec<Reading>) -> Result<Self, SumError> {
        for (at, reading) in readings.iter().enumerate() {
            check_reading(at, reading)?;
        }
        for (at, pair) in readings.windows(2).enumerate() {
            check_order(at + 2, &pair[0], &pair[1])?;
        }
        if readings.len() < 2 {
            return Err(SumError::Refused {
                field: "readings",
                why: text(
                    "a history needs at least two readings",
                    "un historial necesita al menos dos lecturas",
                ),
            });
        }
        Ok(Self { readings })
    }

    /// The readings.
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// The first reading.
    pub fn first(&self) -> Reading {
        self.readings[0]
    }

    /// The last reading.
    pub fn last(&self) -> Reading {
        self.readings[self.readings.len() - 1]
    }

    /// Intervals between readings, each at the mean of its two ends.
    pub fn intervals(&self) -> Vec<Interval> {
        let mean = |pair: &[Reading]| f64::midpoint(pair[0].c, pair[1].c);
        self.readings
            .windows(2)
            .map(|pair| Interval { hours: hours_between(pair[0].at, pair[1].at), mean_c: mean(pair) })
            .collect()
    }

    /// The part from `moment` on, for a vein poured later; the temperature at `moment` lies on the straight
    /// line between its neighbours.
    ///
    /// # Errors
    /// `moment` lies outside the readings.
    pub fn since(&self, moment: Moment) -> Result<Self, SumError> {
        let start = self.at(moment)?;
        let later = self.readings.iter().filter(|reading| reading.at > moment).copied();
        Self::new(std::iter::once(start).chain(later).collect())
    }

    /// The part up to `moment`.
    ///
    /// # Errors
    /// `moment` lies outside the readings.
    pub fn until(&self, moment: Moment) -> Result<Self, SumError> {
        let end = self.at(moment)?;
        let earlier = self.readings.iter().filter(|reading| reading.at < moment).copied();
        Self::new(earlier.chain(std::iter::once(end)).collect())
    }

    fn at(&self, moment: Moment) -> Result<Reading, SumError> {
        let found = self.readings.windows(2).find(|pair| (pair[0].at..=pair[1].at).contains(&moment));
        let Some(pair) = found else {
            return Err(SumError::Refused {
                field: "at",
                why: text("there are no readings for that moment", "no hay lecturas para ese momento"),
            });
        };
        let share = hours_between(pair[0].at, moment) / hours_between(pair[0].at, pair[1].at);
        Ok(Reading { at: moment, c: pair[0].c + share * (pair[1].c - pair[0].c) })
    }

    /// Stretches longer than an hour and than four times the usual interval.
    pub fn gaps(&self) -> Vec<Gap> {
        let usual = self.usual_interval_h();
        let gap = |pair: &[Reading]| {
            let hours = hours_between(pair[0].at, pair[1].at);
            (hours > 1.0 && hours > 4.0 * usual).then_some(Gap { from: pair[0].at, to: pair[1].at, hours })
        };
        self.readings.windows(2).filter_map(gap).collect()
    }

    /// Readings are further apart than ASTM C1074 asks (from memory): half an hour in the first two days,
    /// an hour after that.
    pub fn is_coarse(&self) -> bool {
        let start = self.first().at;
        self.readings.windows(2).any(|pair| {
            let limit = if hours_between(start, pair[0].at) < 48.0 { 0.5 } else { 1.0 };
            hours_between(pair[0].at, pair[1].at) > limit + 1e-9
        })
    }

    fn usual_interval_h(&self) -> f64 {
        let mut hours: Vec<f64> =
            self.readings.windows(2).map(|pair| hours_between(pair[0].at, pair[1].at)).collect();
        hours.sort_by(f64::total_cmp);
        hours[hours.len() / 2]
    }

    /// The moment the equivalent age reached `age_h`, rounded up to the second; `None` if it has not yet.
    pub fn reached(&self, age_h: f64, model: &Model) -> Option<Moment> {
        let mut sum = 0.0;
        for (pair, part) in self.readings.windows(2).zip(self.intervals()) {
            let rate = model.rate(part.mean_c);
            if sum + rate * part.hours >= age_h {
                return add_hours(pair[0].at, ((age_h - sum) / rate).max(0.0));
            }
            sum += rate * part.hours;
        }
        None
    }
}

fn check_reading(at: usize, reading: &Reading) -> Result<(), SumError> {
    let bad = |why| SumError::Item { field: "readings", at: at + 1, found: shown(reading), why };
    let (low, high) = READING_RANGE_C;
    if !reading.c.is_finite() || reading.c < low || reading.c > high {
        return Err(bad(text(
            "not a temperature of concrete from −20 to 100 °C",
            "no es una temperatura de hormigón de −20 a 100 °C",
        )));
    }
    if !(1970..=2200).contains(&reading.at.year()) {
        return Err(bad(text("the year lies outside 1970 to 2200", "el año queda fuera de 1970 a 2200")));
    }
    Ok(())
}

fn check_order(at: usize, before: &Reading, after: &Reading) -> Result<(), SumError> {
    let bad = |why| Err(SumError::Item { field: "readings", at, found: shown(after), why });
    if after.at == before.at {
        return bad(text("this moment is there twice", "este momento está dos veces"));
    }
    if after.at < before.at {
        return bad(text("time runs backwards here", "aquí el tiempo corre hacia atrás"));
    }
    Ok(())
}

fn shown(reading: &Reading) -> String {
    format!("{}, {}", crate::moment::write(&reading.at), reading.c)
}

/// What a history adds up to.
#[derive(Debug, Clone, PartialEq)]
pub struct Maturity {
    /// Nurse-Saul temperature-time factor, °C·h.
    pub temperature_time_c_h: f64,
    /// Equivalent age at the reference temperature, h.
    pub equivalent_age_h: f64,
    /// Length of the history, h.
    pub elapsed_h: f64,
    /// Lowest and highest reading, °C.
    pub range_c: (f64, f64),
    /// Stretches without readings.
    pub gaps: Vec<Gap>,
    /// Readings are further apart than ASTM C1074 asks.
    pub coarse: bool,
    /// The parameters used.
    pub model: Model,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// Sums a history up.
///
/// # Errors
/// Parameters concrete cannot have.
pub fn maturity(history: &History, model: Model) -> Result<Maturity, SumError> {
    let model = model.checked()?;
    let parts = history.intervals();
    let temperatures = || history.readings().iter().map(|reading| reading.c);
    Ok(Maturity {
        temperature_time_c_h: temperature_time_c_h(&parts, model.datum_c),
        equivalent_age_h: equivalent_age_h(&parts, &model),
        elapsed_h: hours_between(history.first().at, history.last().at),
        range_c: (
            temperatures().fold(f64::INFINITY, f64::min),
            temperatures().fold(f64::NEG_INFINITY, f64::max),
        ),
        gaps: history.gaps(),
        coarse: history.is_coarse(),
        model,
        grounds: GROUNDS,
    })
}
