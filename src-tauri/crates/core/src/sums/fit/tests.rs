//! Fits against values recorded from scipy 1.17.1 and numpy 2.4.6, and the bands against a thousand trials.

use super::*;

/// Ages in days as in the recorded sets; the unit of age is the caller's, so they are used as they are.
const AGES: [f64; 6] = [1.0, 2.0, 3.0, 7.0, 14.0, 28.0];

fn breaks(strengths: [f64; 6]) -> Vec<Break> {
    AGES.iter()
        .zip(strengths)
        .map(|(age, strength_mpa)| Break { equivalent_age_h: *age, strength_mpa })
        .collect()
}

fn near(found: f64, wanted: f64, tolerance: f64) {
    assert!((found - wanted).abs() <= tolerance, "{found} is not {wanted} within {tolerance}");
}

#[test]
fn recovers_an_exact_hyperbola() {
    // scipy 1.17.1 curve_fit on the same set: 50.000, 0.30000, 0.25000.
    let set = breaks([9.183_673, 17.213_115, 22.602_740, 33.471_074, 40.243_902, 44.638_070]);
    let found = fit(Form::Hyperbolic, &set).expect("fits").curve.parameters();
    near(found[0], 50.0, 1e-4);
    near(found[1], 0.3, 1e-4);
    near(found[2], 0.25, 1e-4);
}

#[test]
fn recovers_an_exact_exponential() {
    // scipy 1.17.1 curve_fit on the same set: 50.000, 1.5000, 0.8000.
    let set = breaks([12.539_218, 22.592_209, 28.153_560, 37.353_188, 42.289_552, 45.414_404]);
    let found = fit(Form::Exponential, &set).expect("fits").curve.parameters();
    near(found[0], 50.0, 1e-4);
    near(found[1], 1.5, 1e-4);
    near(found[2], 0.8, 1e-4);
}

#[test]
fn fits_a_noisy_set_as_scipy_does() {
    // scipy 1.17.1: Su 49.6041, k 0.299024, t0 0.243506, SSE 0.092957, errors 0.2596, 0.00705, 0.0266.
    let set = breaks([9.1, 17.2, 22.4, 33.0, 40.1, 44.2]);
    let found = fit(Form::Hyperbolic, &set).expect("fits");
    let parameters = found.curve.parameters();
    near(parameters[0], 49.6041, 1e-3);
    near(parameters[1], 0.299_024, 1e-4);
    near(parameters[2], 0.243_506, 1e-4);
    near(found.squares_mpa2, 0.092_957, 1e-5);
    let errors = found.standard_errors.expect("three free");
    near(errors[0], 0.2596, 1e-3);
    near(errors[1], 0.007_05, 1e-4);
    near(errors[2], 0.0266, 1e-3);
    // scipy 1.17.1: Su 54.2807, τ 2.4480, α 0.66334, SSE 0.43650.
    let other = fit(Form::Exponential, &set).expect("fits");
    let parameters = other.curve.parameters();
    near(parameters[0], 54.2807, 0.27);
    near(parameters[1], 2.4480, 0.012);
    near(parameters[2], 0.663_34, 0.0033);
    near(other.squares_mpa2, 0.4365, 0.0022);
}

#[test]
fn fits_a_logarithm_as_numpy_does() {
    // numpy 2.4.6 on M = 720·t: a −61.5566, b 25.06210 per decade, SSE 10.5917.
    let mut set = breaks([9.1, 17.2, 22.4, 33.0, 40.1, 44.2]);
    for item in &mut set {
        item.equivalent_age_h *= 720.0;
    }
    let found = fit(Form::Log, &set).expect("fits");
    let parameters = found.curve.parameters();
    near(parameters[0], -61.5566, 1e-4);
    near(parameters[1], 25.0621, 1e-5);
    near(found.squares_mpa2, 10.5917, 1e-4);
}

#[test]
fn refuses_what_is_no_curve() {
    let say = |set: &[Break]| fit(Form::Hyperbolic, set).expect_err("refused").to_string();
    assert!(say(&breaks([9.0, 17.0, 22.0, 33.0, 40.0, 44.0])[..2]).contains("three different ages"));
    assert!(say(&breaks([20.0; 6])).contains("does not rise"));
    assert!(say(&breaks([44.0, 40.0, 33.0, 22.0, 17.0, 9.0])).contains("does not rise"));
    assert!(say(&breaks([9.0, f64::NAN, 22.0, 33.0, 40.0, 44.0])).contains("no. 2"));
    assert!(fit(Form::Log, &[]).is_err());
}

#[test]
fn three_breaks_give_a_curve_but_no_band() {
    let set = &breaks([9.183_673, 17.213_115, 22.602_740, 33.0, 40.0, 44.0])[..3];
    let found = fit(Form::Hyperbolic, set).expect("fits");
    assert_eq!(found.deviation_mpa, None);
    assert_eq!(found.band(2.0).expect("inside").1, None);
    assert!(found.band(3.5).is_err(), "beyond the oldest break");
}

/// A small generator with a seed (splitmix64), so that the trials are the same on every machine.
struct Seeded(u64);

impl Seeded {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A normal deviate by Box and Muller.
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.uniform().max(1e-300), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

const LOOKED_AT_H: [f64; 3] = [30.0, 60.0, 300.0];

/// In a thousand trials of ten noisy breaks each: how often the bands hold the true strength and a new break,
/// for each age looked at.
fn held(truth: Curve, noise_mpa: f64, seed: u64) -> [(u32, u32); 3] {
    let ages = [12.0, 18.0, 24.0, 36.0, 48.0, 72.0, 120.0, 168.0, 336.0, 672.0];
    let mut seeded = Seeded(seed);
    let mut counts = [(0, 0); 3];
    for _ in 0..1000 {
        let set = ages.map(|age| Break {
            equivalent_age_h: age,
            strength_mpa: (truth.strength_mpa(age) + noise_mpa * seeded.normal()).max(0.05),
        });
        let fit = fit(truth.form(), &set);
        for (count, at) in counts.iter_mut().zip(LOOKED_AT_H) {
            let next = truth.strength_mpa(at) + noise_mpa * seeded.normal();
            // A trial that cannot be fitted counts as not held.
            let Ok(fit) = &fit else { continue };
            let band = fit.band(at).expect("inside").1.expect("seven free");
            let holds = |(low, high): (f64, f64), value: f64| u32::from(low <= value && value <= high);
            count.0 += holds(band.true_strength_mpa, truth.strength_mpa(at));
            count.1 += holds(band.next_break_mpa, next);
        }
    }
    counts
}

#[test]
fn the_band_holds_the_true_strength_nine_times_in_ten() {
    let truths = [
        Curve::Hyperbolic { su_mpa: 55.0, k_per_h: 0.02, t0_h: 6.0 },
        Curve::Log { a_mpa: -20.0, b_mpa: 24.0 },
        Curve::Exponential { su_mpa: 58.0, tau_h: 30.0, alpha: 0.8 },
    ];
    for (seed, truth) in truths.into_iter().enumerate() {
        for ((mean, single), at) in held(truth, 1.0, 20_251_125 + seed as u64).into_iter().zip(LOOKED_AT_H) {
            assert!((860..=940).contains(&mean), "{truth:?} at {at} h: true strength held {mean} times");
            assert!((860..=940).contains(&single), "{truth:?} at {at} h: next break held {single} times");
        }
    }
}
