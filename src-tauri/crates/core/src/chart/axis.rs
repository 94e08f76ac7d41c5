//! Axes: where a value stands, and round numbers along it.

/// An axis.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Axis {
    /// What it measures, with its unit.
    pub(super) title: String,
    /// Value at its beginning.
    pub(super) from: f64,
    /// Value at its end; above the beginning.
    pub(super) to: f64,
    /// Marked values with their words.
    pub(super) ticks: Vec<(f64, String)>,
}

impl Axis {
    /// An axis over a range, marked at round numbers of a unit: `scale` and `zero` turn a value into it.
    pub(super) fn new(
        title: String,
        (from, to): (f64, f64),
        unit: Unit,
        show: impl Fn(f64) -> String,
    ) -> Self {
        let (low, high) = (unit.shown(from), unit.shown(to));
        let step = round_step(high - low);
        let first = (low / step).ceil();
        let count = ((high / step).floor() - first).clamp(0.0, 12.0) as u32;
        let ticks = (0..=count).map(|n| {
            let shown = (first + f64::from(n)) * step;
            (unit.kept(shown), show(shown))
        });
        Self { title, from, to, ticks: ticks.collect() }
    }

    /// The place of a value on a line from `start` to `end`, rounded to hundredths.
    pub(super) fn place(&self, value: f64, start: f64, end: f64) -> f64 {
        let share = ((value - self.from) / (self.to - self.from)).clamp(0.0, 1.0);
        ((start + share * (end - start)) * 100.0).round() / 100.0
    }
}

/// The unit an axis is marked in: the value shown is the value kept times `scale` plus `zero`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Unit {
    pub(super) scale: f64,
    pub(super) zero: f64,
}

impl Unit {
    fn shown(self, kept: f64) -> f64 {
        kept * self.scale + self.zero
    }

    fn kept(self, shown: f64) -> f64 {
        (shown - self.zero) / self.scale
    }
}

/// One, two or five times a power of ten, so that four to eight marks fit on a length.
fn round_step(length: f64) -> f64 {
    let rough = (length / 6.0).max(1e-6);
    let ten = 10_f64.powf(rough.log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0].into_iter().map(|it| it * ten);
    steps.into_iter().find(|it| *it >= rough * 0.999).unwrap_or(ten)
}
