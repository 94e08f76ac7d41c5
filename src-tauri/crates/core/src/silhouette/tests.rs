//! The plan is to scale, and what is no plan is refused in words.

use proptest::prelude::*;

use super::*;
use crate::body::setup::{CutOut, PlanPoint, Side};

fn piece(length_mm: f64, width_mm: f64) -> Piece {
    let value = serde_json::json!({ "code": "C-1", "name": "counter" });
    let piece: Piece = serde_json::from_value(value).expect("a piece");
    Piece { length_mm: Some(length_mm), width_mm: Some(width_mm), ..piece }
}

fn cut(x_mm: f64, y_mm: f64, length_mm: f64, width_mm: Option<f64>) -> CutOut {
    CutOut { purpose: Some("sink".into()), x_mm, y_mm, length_mm, width_mm }
}

fn drawn(piece: &Piece) -> Picture {
    silhouette(piece, System::Metric, Lang::En)
}

fn rings(picture: &Picture) -> Vec<Vec<Point>> {
    match &picture.drawing.shapes[0] {
        Shape::Polygon { rings, .. } => rings.clone(),
        other => panic!("{other:?}"),
    }
}

/// Area by the shoelace formula.
fn area(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
}

#[test]
fn a_counter_is_drawn_to_scale_with_its_cut_outs_from_the_front_left_corner() {
    let mut piece = piece(2_400.0, 600.0);
    piece.cut_outs = Some(vec![cut(300.0, 100.0, 500.0, Some(400.0)), cut(1_500.0, 200.0, 35.0, None)]);
    let picture = drawn(&piece);
    let rings = rings(&picture);
    // 40 mm for 2,400 mm: one to sixty.
    assert_eq!(rings[0], [(1.0, 11.0), (41.0, 11.0), (41.0, 1.0), (1.0, 1.0)]);
    assert_eq!(rings[1][0], (6.0, 9.333));
    assert_eq!(rings.len(), 3);
    // The area of a polygon of 48 corners in a circle is 24 sin(7.5°) r².
    let circle = 24.0 * 7.5_f64.to_radians().sin() * (17.5_f64 / 60.0).powi(2);
    assert!((area(&rings[2]) - circle).abs() < 0.003);
    let text: Vec<_> = picture.text.iter().map(|it| it.replace('\u{a0}', " ")).collect();
    assert_eq!(text[0], "size: 2,400 mm × 600 mm");
    assert!(text.contains(&"sink: 500 mm × 400 mm".to_owned()), "{text:?}");
    assert!(text.contains(&"sink: diameter 35 mm".to_owned()), "{text:?}");
    assert_eq!(text.last().map(String::as_str), Some("drawn to scale, 1 to 60.0"));
}

#[test]
fn an_outline_of_its_own_is_followed_and_its_edges_that_show_are_heavy() {
    let corners = [(0.0, 0.0), (900.0, 0.0), (900.0, 600.0), (400.0, 600.0), (400.0, 300.0), (0.0, 300.0)];
    let mut piece = piece(1.0, 1.0);
    piece.outline = Some(corners.map(|(x_mm, y_mm)| PlanPoint { x_mm, y_mm }).into());
    piece.finished_edges = Some(vec![Side::Front, Side::Back]);
    let picture = drawn(&piece);
    assert_eq!(rings(&picture)[0].len(), 6);
    let edges: Vec<_> = picture.drawing.shapes[1..].iter().collect();
    assert_eq!(edges.len(), 2, "front and the short back");
}

#[test]
fn what_is_no_piece_is_refused_in_words_and_drawn_as_an_empty_form() {
    let hostile =
        [(0.0, 600.0), (2_400.0, 0.0), (f64::NAN, 600.0), (1e7, 600.0), (-5.0, 5.0), (f64::INFINITY, 1.0)];
    for (length, width) in hostile {
        let picture = drawn(&piece(length, width));
        assert_eq!(picture.drawing.shapes.len(), 1, "{length} × {width}");
        assert!(picture.text[0].starts_with("No plan is drawn"), "{:?}", picture.text);
    }
    let unknown = Piece { length_mm: None, ..piece(1.0, 1.0) };
    assert!(drawn(&unknown).text[0].contains("not recorded"));
    let line = Piece { outline: Some(vec![PlanPoint { x_mm: 0.0, y_mm: 0.0 }; 2]), ..piece(1.0, 1.0) };
    assert!(drawn(&line).text[0].contains("corners"));
}

#[test]
fn a_cut_out_off_the_plan_is_left_out_and_said() {
    let mut piece = piece(1_000.0, 600.0);
    piece.cut_outs = Some(vec![
        cut(900.0, 0.0, 200.0, Some(100.0)),
        cut(f64::NAN, 0.0, 200.0, None),
        cut(100.0, 100.0, 300.0, Some(300.0)),
        cut(200.0, 200.0, 300.0, Some(300.0)),
    ]);
    let picture = drawn(&piece);
    assert_eq!(rings(&picture).len(), 2, "the one that overlaps it lies on top");
    assert_eq!(picture.drawing.shapes.len(), 2);
    assert!(picture.text.iter().any(|it| it.ends_with("inside the plan: 2")), "{:?}", picture.text);
}

#[test]
fn marks_are_numbered_and_those_off_the_plan_are_counted() {
    let spot = |x_mm, title: &str| Spot {
        mark: Mark::Fill,
        x_mm,
        y_mm: 100.0,
        size_mm: Some(5.0),
        title: title.into(),
    };
    let spots = [spot(500.0, "fill"), spot(5_000.0, "chip")];
    let picture = marked(&piece(1_000.0, 600.0), &spots, 120.0, System::Metric, Lang::En);
    let labels = picture.drawing.shapes.iter().filter(|it| matches!(it, Shape::Label { .. }));
    assert_eq!(labels.count(), 1);
    assert!(picture.text.contains(&"1: fill".to_owned()));
    assert!(picture.text.last().is_some_and(|it| it.ends_with("not drawn: 1")));
}

#[test]
fn a_place_lies_on_the_drawing_where_it_says_and_every_sort_of_mark_has_its_own_shape() {
    let piece = piece(1_000.0, 600.0);
    let lie = lie(&piece, 80.0).expect("a plan");
    assert_eq!((lie.length_mm, lie.width_mm), (1_000.0, 600.0));
    let mut signs = Vec::new();
    for mark in Mark::ALL.iter().copied() {
        let spot = Spot { mark, x_mm: 250.0, y_mm: 100.0, size_mm: None, title: "here".into() };
        let picture = marked(&piece, &[spot], 80.0, System::Metric, Lang::En);
        let [.., Shape::Dots { dots, .. }, sign, Shape::Label { .. }] = picture.drawing.shapes.as_slice()
        else {
            panic!("{picture:?}")
        };
        let (x, y) = dots[0].0;
        assert!((x - (lie.left + 250.0 * lie.scale)).abs() < 0.002, "{x}");
        assert!((y - (lie.front - 100.0 * lie.scale)).abs() < 0.002, "{y}");
        assert!(!signs.contains(sign), "{mark:?}");
        signs.push(sign.clone());
    }
    assert_eq!(super::lie(&self::piece(f64::NAN, 600.0), 80.0), None);
}

proptest! {
    #[test]
    fn every_point_lies_on_the_drawing(length in 1.0_f64..100_000.0, width in 1.0_f64..100_000.0, x in -10.0_f64..200_000.0, side in -1.0_f64..200_000.0) {
        let mut piece = piece(length, width);
        piece.cut_outs = Some(vec![cut(x, x / 2.0, side, None), cut(x / 3.0, x / 4.0, side / 2.0, Some(side))]);
        piece.finished_edges = Some(Side::ALL.to_vec());
        let picture = drawn(&piece);
        let drawing = &picture.drawing;
        prop_assert!(drawing.width <= 42.0 && drawing.height <= 42.0);
        for shape in &drawing.shapes {
            let points = match shape {
                Shape::Polygon { rings, .. } => rings.concat(),
                Shape::Polyline { points, .. } => points.clone(),
                other => panic!("{other:?}"),
            };
            for (x, y) in points {
                prop_assert!((0.9..=drawing.width - 0.9).contains(&x) && (0.9..=drawing.height - 0.9).contains(&y));
            }
        }
        let outline = &rings(&picture)[0];
        let scale = 40.0 / length.max(width);
        prop_assert!((outline[1].0 - outline[0].0 - length * scale).abs() < 0.002);
    }
}

#[test]
fn a_measured_plan_says_its_length_its_width_its_front_and_what_its_holes_are_for() {
    let mut piece = piece(2_400.0, 600.0);
    piece.cut_outs = Some(vec![cut(300.0, 100.0, 500.0, Some(400.0)), cut(1_500.0, 200.0, 35.0, None)]);
    let spot = Spot { mark: Mark::Fill, x_mm: 1_200.0, y_mm: 300.0, size_mm: None, title: "fill".into() };
    let picture = measured(&piece, &[spot], (120.0, 60.0), System::Metric, Lang::En);
    let labels: Vec<String> = picture.drawing.shapes.iter().filter_map(said_by).collect();
    // The tap hole is drawn 1.75 mm wide: too small for its name.
    assert_eq!(labels, ["2,400 mm", "600 mm", "front", "sink", "1"]);
    // 120 mm for 2,400 mm: one to twenty, the height follows.
    assert_eq!((picture.drawing.width, picture.drawing.height), (120.0 + 23.0, 30.0 + 13.5));
    assert!(picture.text.contains(&"1: fill".to_owned()), "{:?}", picture.text);
}

fn said_by(shape: &Shape) -> Option<String> {
    match shape {
        Shape::Label { text, .. } => Some(text.replace('\u{a0}', " ")),
        _ => None,
    }
}

#[test]
fn a_measured_plan_without_measures_is_an_empty_form_that_says_why() {
    let mut piece = piece(1.0, 1.0);
    piece.length_mm = None;
    let picture = measured(&piece, &[], (120.0, 60.0), System::Us, Lang::Es);
    assert!(picture.text[0].starts_with("No se anotaron largo y ancho"), "{:?}", picture.text);
    assert!(picture.drawing.shapes.iter().all(|shape| said_by(shape).is_none()));
}
