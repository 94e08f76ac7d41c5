//! What stands on a chart is where the sums put it, and whatever comes in stays on the chart.

use proptest::prelude::*;

use super::*;
use crate::drawing::Paint;
use crate::sums::curve::Form;
use crate::sums::fit::{Break, fit};
use crate::text::Lang;
use crate::units::System;

fn breaks(pairs: &[(f64, f64)]) -> Vec<Break> {
    pairs
        .iter()
        .map(|(equivalent_age_h, strength_mpa)| Break {
            equivalent_age_h: *equivalent_age_h,
            strength_mpa: *strength_mpa,
        })
        .collect()
}

fn seen() -> StrengthSeen {
    let breaks = breaks(&[(24.0, 18.1), (48.0, 27.4), (72.0, 32.6), (168.0, 41.0), (672.0, 48.9)]);
    StrengthSeen {
        fit: fit(Form::Hyperbolic, &breaks).ok(),
        breaks,
        now_h: Some(100.0),
        now_name: "the piece".into(),
        gates: vec![StrengthGate { mpa: 27.579, name: "first cut".into() }],
        by_calendar: false,
    }
}

/// From a height on the chart back to the value, by the two marks of the axis that lie farthest apart.
fn value_at(drawing: &Drawing, y: f64) -> f64 {
    let marks: Vec<(f64, f64)> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Label { at, anchor: Anchor::End, text, tone: Tone::Graphite, .. } if at.0 < FIELD.0 => {
                Some((at.1 - 1.0, text.replace(',', "").parse().ok()?))
            }
            _ => None,
        })
        .collect();
    let (first, last) = (marks[0], marks[marks.len() - 1]);
    first.1 + (y - first.0) / (last.0 - first.0) * (last.1 - first.1)
}

/// The check from outside the drawing: heights read back by the printed marks are those of the curve itself.
#[test]
fn the_curve_stands_where_its_function_says_by_the_printed_marks() {
    let seen = seen();
    let picture = strength(&seen, System::Metric, Lang::En).expect("a chart");
    let curve = seen.fit.as_ref().expect("a curve").curve;
    let points = picture.drawing.shapes.iter().find_map(|shape| match shape {
        Shape::Polyline { points, stroke } if stroke.tone == Tone::Glass => Some(points.clone()),
        _ => None,
    });
    let points = points.expect("the curve");
    assert_eq!(points.len(), 49);
    for (n, point) in points.iter().enumerate() {
        let age = 24.0 + (672.0 - 24.0) * n as f64 / 48.0;
        let read = value_at(&picture.drawing, point.1);
        // A hundredth of a millimetre is 0.013 MPa here.
        assert!((read - curve.strength_mpa(age)).abs() < 0.03, "{age} h: {read}");
    }
}

#[test]
fn gates_breaks_and_the_piece_are_said_with_their_numbers() {
    let picture = strength(&seen(), System::Us, Lang::En).expect("a chart");
    let text: Vec<String> = picture.text.iter().map(|it| it.replace('\u{a0}', " ")).collect();
    assert!(text[0].ends_with(": 5"), "{text:?}");
    assert!(text.iter().any(|it| it.starts_with("first cut 4,000 psi: the curve reaches it at")), "{text:?}");
    assert!(text.iter().any(|it| it.starts_with("the piece: 4 d 4 h, ")), "{text:?}");
    assert_eq!(text.iter().filter(|it| it.starts_with("break:")).count(), 5);
}

#[test]
fn the_line_of_the_piece_makes_way_for_the_words_of_a_gate() {
    let gates = ["first cut", "grit 100 and finer", "grit 200 and finer"].map(|it| it.to_owned());
    let gates =
        gates.into_iter().zip([27.6, 48.3, 48.9]).map(|(name, mpa)| StrengthGate { mpa, name }).collect();
    for now_h in [100.0, 480.0, 600.0, 660.0] {
        let at = StrengthSeen { now_h: Some(now_h), gates: Vec::clone(&gates), ..seen() };
        let shapes = strength(&at, System::Metric, Lang::En).expect("a chart").drawing.shapes;
        let words: Vec<(f64, f64)> = shapes
            .iter()
            .filter_map(|it| match it {
                Shape::Label { at, tone: Tone::IronOxide, text, .. } => {
                    Some((at.1, FIELD.2 - text.chars().count() as f64 * LETTERS * 0.45))
                }
                _ => None,
            })
            .collect();
        assert_eq!(words.len(), 3);
        let lines = shapes.iter().filter_map(|it| match it {
            Shape::Polyline { points, stroke }
                if stroke.tone == Tone::Ink && points[0].0.total_cmp(&points[1].0).is_eq() =>
            {
                Some((points[0].0, points[0].1.max(points[1].1), points[0].1.min(points[1].1)))
            }
            _ => None,
        });
        let drawn: Vec<(f64, f64, f64)> = lines.collect();
        assert!(!drawn.is_empty());
        for (x, low, high) in drawn {
            let crossed = words.iter().any(|(foot, left)| x > *left && low > foot - LETTERS && high < *foot);
            assert!(!crossed, "{now_h} h: {low} to {high} through {words:?}");
        }
    }
}

#[test]
fn without_breaks_there_is_no_chart_and_without_a_curve_the_breaks_stand_alone() {
    assert_eq!(strength(&StrengthSeen::default(), System::Metric, Lang::En), None);
    let alone = StrengthSeen { breaks: breaks(&[(24.0, 18.0)]), ..StrengthSeen::default() };
    let picture = strength(&alone, System::Metric, Lang::Es).expect("a chart");
    assert!(picture.text[0].contains("pocas roturas"));
    let bad = StrengthSeen { breaks: breaks(&[(f64::NAN, 18.0), (24.0, 1e9)]), ..StrengthSeen::default() };
    assert_eq!(strength(&bad, System::Metric, Lang::En), None);
}

fn reading(air_c: f64, rh_pct: f64, surface_c: f64) -> ClimateReading {
    ClimateReading {
        when: "4 Mar".into(),
        what: "seal coat 1".into(),
        air_c,
        rh_pct,
        surface_c,
        limit_k: 3.0,
    }
}

/// PsychroLib 2.5.0: 20 °C and 80 % with a surface of 18 °C leave a margin of 1.55 K; 25 °C and 70 % have their
/// dew point at 19.15 °C.
#[test]
fn a_reading_too_close_is_marked_by_shape_and_words() {
    let readings = [reading(25.0, 70.0, 22.5), reading(20.0, 80.0, 18.0)];
    let picture = climate(&readings, System::Metric, Lang::En).expect("a strip");
    let text: Vec<String> = picture.text.iter().map(|it| it.replace('\u{a0}', " ")).collect();
    assert!(text[0].contains("dew point 19.1 °C; margin 3.4 K, at least 3.0 K"), "{text:?}");
    assert!(text[1].contains("margin 1.6 K") && text[1].ends_with("(too close)"), "{text:?}");
    let labels = picture.drawing.shapes.iter().filter(|it| matches!(it, Shape::Label { strong: true, .. }));
    assert_eq!(labels.count(), 1);
    let bars: Vec<f64> = picture
        .drawing
        .shapes
        .iter()
        .filter_map(|it| match it {
            Shape::Rect { at, size, paint: Paint { stroke: Some(_), .. } } => {
                let value = |y| value_at(&picture.drawing, y);
                Some(value(at.1) - value(at.1 + size.1))
            }
            _ => None,
        })
        .collect();
    assert!((bars[0] - 3.35).abs() < 0.02 && (bars[1] - 1.55).abs() < 0.02, "{bars:?}");
}

#[test]
fn what_cannot_be_drawn_is_counted() {
    let mut readings = vec![reading(f64::NAN, 50.0, 20.0), reading(20.0, 500.0, 20.0)];
    assert_eq!(climate(&readings, System::Metric, Lang::En), None);
    readings.extend(vec![reading(20.0, 50.0, 20.0); 20]);
    let picture = climate(&readings, System::Metric, Lang::En).expect("a strip");
    assert_eq!(picture.text.len(), 18);
    assert!(picture.text[16].ends_with(" 4") && picture.text[17].ends_with(" 2"), "{:?}", picture.text);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_shape_lies_on_the_chart(pairs in proptest::collection::vec((any::<f64>(), any::<f64>()), 0..8), usual in proptest::collection::vec((1.0_f64..900.0, 1.0_f64..90.0), 1..8), now in proptest::option::of(any::<f64>()), gates in proptest::collection::vec(-10.0_f64..400.0, 0..5)) {
        let all: Vec<(f64, f64)> = pairs.into_iter().chain(usual).collect();
        let breaks = breaks(&all);
        let gates = gates.into_iter().map(|mpa| StrengthGate { mpa, name: "gate".into() }).collect();
        let seen = StrengthSeen { fit: fit(Form::Hyperbolic, &breaks).ok(), breaks, now_h: now, gates, ..StrengthSeen::default() };
        let picture = strength(&seen, System::Us, Lang::Es).expect("there is one good break");
        for point in points(&picture.drawing) {
            prop_assert!((0.0..=SIZE.0).contains(&point.0) && (0.0..=SIZE.1).contains(&point.1), "{point:?}");
        }
    }

    #[test]
    fn every_reading_lies_on_the_strip(all in proptest::collection::vec((-40.0_f64..60.0, 1.0_f64..100.0, -40.0_f64..60.0), 1..30)) {
        let readings: Vec<_> = all.into_iter().map(|(air, rh, surface)| reading(air, rh, surface)).collect();
        if let Some(picture) = climate(&readings, System::Us, Lang::En) {
            for point in points(&picture.drawing) {
                prop_assert!((0.0..=SIZE.0).contains(&point.0) && (0.0..=SIZE.1).contains(&point.1), "{point:?}");
            }
        }
    }
}

fn points(drawing: &Drawing) -> Vec<Point> {
    let of = |shape: &Shape| match shape {
        Shape::Rect { at, size, .. } => vec![*at, (at.0 + size.0, at.1 + size.1)],
        Shape::Polyline { points, .. } => points.clone(),
        Shape::Polygon { rings, .. } => rings.concat(),
        Shape::Dots { dots, .. } => dots.iter().map(|(at, _)| *at).collect(),
        Shape::Label { at, .. } => vec![*at],
    };
    drawing.shapes.iter().flat_map(of).collect()
}
