//! Ladders and steps as the trade makes them.
#![allow(clippy::float_cmp, reason = "grit numbers are whole")]

use super::*;

fn grit(number: f64, scale: GritScale) -> Grit {
    Grit { number, scale }
}

#[test]
fn pads_double() {
    let found = ladder(50.0, 3000.0, GritScale::Pad).expect("a ladder");
    assert_eq!(found.steps, [50.0, 100.0, 200.0, 400.0, 800.0, 1500.0, 3000.0]);
    assert!(found.size_ratios.iter().all(|ratio| (1.7..=2.1).contains(ratio)), "{:?}", found.size_ratios);
    assert_eq!(ladder(50.0, 400.0, GritScale::Pad).expect("a ladder").steps, [50.0, 100.0, 200.0, 400.0]);
}

#[test]
fn paper_goes_the_evenest_way() {
    let found = ladder(60.0, 400.0, GritScale::P).expect("a ladder");
    assert_eq!(found.steps, [60.0, 120.0, 220.0, 400.0]);
    let rounded: Vec<f64> = found.size_ratios.iter().map(|ratio| (ratio * 1000.0).round() / 1000.0).collect();
    assert_eq!(rounded, [2.152, 1.838, 1.943]);
}

#[test]
fn every_ladder_keeps_the_rule_on_every_scale() {
    for scale in GritScale::ALL.iter().copied() {
        let sold = tables::sold(scale);
        for (at, from) in sold.iter().enumerate() {
            for to in &sold[at..] {
                let found = ladder(*from, *to, scale).expect("a ladder");
                assert!(found.size_ratios.iter().all(|r| *r > 1.0 && *r <= LARGEST_RATIO * SIZE_TOLERANCE));
                assert_eq!(found.steps.first(), Some(from));
                assert_eq!(found.steps.last(), Some(to));
                assert_eq!(found.steps.len(), found.size_ratios.len() + 1);
            }
        }
    }
}

#[test]
fn one_grit_is_a_ladder_without_steps() {
    let found = ladder(200.0, 200.0, GritScale::Pad).expect("a ladder");
    assert_eq!((found.steps, found.size_ratios), (vec![200.0], Vec::new()));
}

#[test]
fn backwards_and_outside_are_refused() {
    assert!(ladder(400.0, 200.0, GritScale::Pad).expect_err("backwards").to_string().contains("rework"));
    assert!(ladder(5.0, 200.0, GritScale::Pad).is_err());
    assert!(ladder(50.0, 1e308, GritScale::Mesh).is_err());
}

#[test]
fn a_step_is_judged_by_size() {
    let verdict = |a, b| step(a, b).expect("listed").1;
    let p = |n| grit(n, GritScale::P);
    assert_eq!(verdict(p(80.0), p(400.0)), Step::Skip);
    assert_eq!(verdict(p(100.0), p(220.0)), Step::Large);
    assert_eq!(verdict(p(60.0), p(120.0)), Step::Usual);
    assert_eq!(verdict(p(400.0), p(200.0)), Step::Backwards);
    // Metal 20 to 50 by pad number is just the largest step the rule allows.
    assert_eq!(verdict(grit(20.0, GritScale::Pad), grit(50.0, GritScale::Pad)), Step::Large);
    // CAMI 400 is finer than P400 by half: the scale decides.
    assert_eq!(verdict(p(400.0), grit(400.0, GritScale::Cami)), Step::Usual);
}

#[test]
fn sizes_fall_as_numbers_rise() {
    for scale in GritScale::ALL.iter().copied() {
        let table = tables::sizes(scale);
        assert!(table.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1), "{scale:?}");
        let middle = grit(f64::midpoint(table[2].0, table[3].0), scale);
        let size = middle.particle_um().expect("between rows");
        assert!(size < table[2].1 && size > table[3].1);
        assert!(!middle.is_listed() && grit(table[2].0, scale).is_listed());
    }
}
