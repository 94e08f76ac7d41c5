//! Whatever the course: layers lie on each other, as thick as stated, and everything is said in words.

use chrono::TimeDelta;
use proptest::prelude::*;

use super::*;
use crate::moment;

fn at(hours: i64) -> Moment {
    moment::parse("2025-03-04T10:20:00-06:00").expect("a moment") + TimeDelta::hours(hours)
}

fn words(title: &str) -> Words {
    Words { title: title.into(), detail: "as recorded".into(), when: "some day".into() }
}

fn done(number: u64, start: i64, hours: i64, texture: Texture) -> Done {
    Done {
        hash: Hash::of(&[&number.to_be_bytes()]),
        texture,
        span: Span { start: at(start), end: (hours > 0).then(|| at(start + hours)) },
        words: words(&format!("step {number}")),
        findings: Vec::new(),
    }
}

fn ahead(title: &str, earliest: Option<i64>) -> Ahead {
    Ahead { texture: Texture::Coat, earliest: earliest.map(at), words: words(title), seam: None }
}

fn textures() -> Vec<Texture> {
    use Texture as T;
    let mut all = vec![
        T::Mould,
        T::Cure,
        T::Bare,
        T::Reading,
        T::Fill,
        T::Trowel,
        T::Colour,
        T::Densify,
        T::Dry,
        T::Coat,
        T::Moved,
        T::Handover,
        T::Other,
    ];
    all.extend([0.0, 0.4, 1.0, f64::NAN].map(T::Wash));
    all.extend([0.001, 5.0, 70.0, 750.0, 1e9, f64::NAN, f64::INFINITY].map(T::Grit));
    let stones = [Stones::Plain, Stones::Dark, Stones::Pale, Stones::Glass, Stones::Light];
    all.extend(stones.map(T::Pour));
    all
}

fn course() -> impl Strategy<Value = Course> {
    let step = (0..textures().len(), -50_i64..60_000, 0_i64..2_000);
    let steps = proptest::collection::vec(step, 0..60);
    let next = proptest::collection::vec(proptest::option::of(-100_i64..70_000), 0..20);
    (steps, next, proptest::option::of(-100_i64..70_000), any::<bool>()).prop_map(
        |(steps, next, now, seams)| {
            let steps = steps.into_iter().zip(0..);
            let mut course = Course { title: "C-1".into(), now: now.map(at), ..Course::default() };
            course.done = steps.map(|((t, start, hours), n)| done(n, start, hours, textures()[t])).collect();
            course.ahead = next.into_iter().map(|earliest| ahead("planned", earliest)).collect();
            if seams {
                for it in &mut course.ahead {
                    it.seam = Some(Seam { text: "dry, clears soon".into(), clears_at: None, open: false });
                }
            }
            course
        },
    )
}

/// Every number of a shape with what it is drawn beyond: a line reaches half its width past its points.
fn heights(shape: &Shape) -> (f64, f64) {
    let spread = |points: &[crate::drawing::Point], past: f64| {
        points.iter().fold((f64::MAX, f64::MIN), |(low, high), p| (low.min(p.1 - past), high.max(p.1 + past)))
    };
    match shape {
        Shape::Rect { at, size, .. } => (at.1, at.1 + size.1),
        Shape::Polyline { points, .. } => spread(points, 0.0),
        Shape::Polygon { rings, .. } => spread(&rings.concat(), 0.0),
        Shape::Dots { dots, .. } => dots
            .iter()
            .fold((f64::MAX, f64::MIN), |(low, high), (p, r)| (low.min(p.1 - r), high.max(p.1 + r))),
        Shape::Label { .. } => panic!("no labels inside a core"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn layers_lie_on_each_other_and_fill_the_core(course in course()) {
        let column = column(&course, Scale::SCREEN, Lang::En);
        let mut down = 0.0;
        for layer in &column.layers {
            prop_assert!((layer.top - down).abs() < 1e-9);
            let thick = layer.bottom - layer.top;
            // The longest the calendar of the tool can hold, 230 years, is less than 3.2 layers.
            prop_assert!(thick > 7.99 && thick < 8.0 * 4.2, "{thick}");
            down = layer.bottom;
        }
        let drawing = &column.picture.drawing;
        prop_assert!((drawing.height - down.max(8.0)).abs() < 1e-9);
        for shape in &drawing.shapes {
            let (low, high) = heights(shape);
            prop_assert!(low >= -0.01 && high <= drawing.height + 0.01, "{shape:?}");
        }
    }

    #[test]
    fn every_layer_is_said_and_every_step_has_one(course in course()) {
        let column = column(&course, Scale::SCREEN, Lang::Es);
        prop_assert_eq!(column.picture.text.len(), column.layers.len() + 1);
        prop_assert_eq!(&column.picture.text[0], &column.scale);
        for (said, layer) in column.picture.text[1..].iter().zip(&column.layers) {
            prop_assert!(said.contains(&layer.words.title));
        }
        let shown: Vec<_> = column.layers.iter().filter_map(|it| it.hash).collect();
        prop_assert_eq!(shown.len(), course.done.len());
        prop_assert!(course.done.iter().all(|it| shown.contains(&it.hash)));
        let ahead = column.layers.iter().filter(|it| matches!(it.kind, LayerKind::Next | LayerKind::Planned));
        prop_assert_eq!(ahead.count(), course.ahead.len());
    }

    #[test]
    fn the_order_entries_came_in_shows_nowhere(course in course()) {
        let mut turned = course.clone();
        turned.done.reverse();
        prop_assert_eq!(column(&course, Scale::PAPER, Lang::En), column(&turned, Scale::PAPER, Lang::En));
    }

    #[test]
    fn a_core_cut_in_two_loses_nothing(course in course(), at in 0_usize..40) {
        let column = column(&course, Scale::PAPER, Lang::En);
        let at = at.min(column.layers.len());
        let (upper, lower) = (column.cut(0..at), column.cut(at..column.layers.len()));
        let shapes = upper.shapes.len() + lower.shapes.len();
        prop_assert_eq!(shapes, column.picture.drawing.shapes.len());
        for part in [upper, lower] {
            for shape in &part.shapes {
                let (low, high) = heights(shape);
                prop_assert!(low >= -0.02 && high <= part.height + 0.02, "{shape:?} of {}", part.height);
            }
        }
    }
}

#[test]
fn no_number_of_any_texture_is_other_than_a_length_in_its_layer() {
    for (number, texture) in (0..).zip(textures()) {
        let course = Course { done: vec![done(number, 0, 3, texture)], ..Course::default() };
        for scale in [Scale::SCREEN, Scale::PAPER] {
            let column = column(&course, scale, Lang::En);
            let layer = &column.layers[0];
            assert!(column.picture.drawing.shapes.len() > 1, "{texture:?} shows nothing");
            for shape in &column.picture.drawing.shapes {
                let (low, high) = heights(shape);
                assert!(low >= layer.top - 0.01 && high <= layer.bottom + 0.01, "{texture:?}: {shape:?}");
            }
        }
    }
}

/// The stated scale, worked out by hand: an hour and less one layer, 10 h one and a half, 100 h two.
#[test]
fn thickness_is_what_the_scale_says() {
    for (hours, layers) in [(0, 1.0), (1, 1.0), (10, 1.5), (100, 2.0), (1_000, 2.5)] {
        let course = Course { done: vec![done(1, 0, hours, Texture::Dry)], ..Course::default() };
        let column = column(&course, Scale::SCREEN, Lang::En);
        assert!((column.layers[0].bottom - 8.0 * layers).abs() < 0.01, "{hours} h");
    }
}

#[test]
fn waits_lie_between_steps_and_before_the_next_one() {
    let course = Course {
        title: "C-1".into(),
        done: vec![done(1, 0, 2, Texture::Bare), done(2, 26, 0, Texture::Dry)],
        ahead: vec![ahead("coat 1", Some(60)), ahead("coat 2", None)],
        now: Some(at(50)),
    };
    let column = column(&course, Scale::SCREEN, Lang::En);
    let seen: Vec<_> =
        column.layers.iter().map(|it| (it.kind, it.words.title.replace('\u{a0}', " "))).collect();
    let expected = [
        (LayerKind::Planned, "coat 2"),
        (LayerKind::Next, "coat 1"),
        (LayerKind::Wait, "Wait of 10 h"),
        (LayerKind::Wait, "Wait of 24 h"),
        (LayerKind::Step, "step 2"),
        (LayerKind::Wait, "Wait of 24 h"),
        (LayerKind::Step, "step 1"),
    ];
    assert_eq!(seen, expected.map(|(kind, title)| (kind, title.to_owned())));
}

#[test]
fn a_step_that_runs_on_after_now_has_lasted_until_now() {
    let course =
        Course { done: vec![done(1, 0, 1_000, Texture::Cure)], now: Some(at(10)), ..Course::default() };
    let column = column(&course, Scale::SCREEN, Lang::En);
    assert_eq!(column.layers.len(), 1);
    assert!((column.layers[0].bottom - 12.0).abs() < 0.01);
}

#[test]
fn four_hundred_steps_stay_one_drawing_of_bounded_size() {
    let steps = (0..400).map(|n| done(n as u64, n * 7, 2, textures()[n as usize % textures().len()]));
    let course = Course { done: steps.collect(), ..Course::default() };
    let column = column(&course, Scale::SCREEN, Lang::En);
    assert_eq!(column.layers.len(), 799);
    let drawing = &column.picture.drawing;
    assert!(drawing.height < 10_000.0, "a drawing on paper is under 10 m: {}", drawing.height);
    let bytes = serde_json::to_vec(drawing).expect("it is plain data").len();
    assert!(bytes < 1_500_000, "{bytes} bytes");
}

/// The first eight bytes of the SHA-256 of the drawing as JSON: a change of the picture is made on purpose.
#[test]
fn the_same_course_gives_the_same_bytes_on_every_machine() {
    let steps =
        textures().into_iter().zip(0..).filter(|(texture, _)| !format!("{texture:?}").contains("NaN"));
    let course =
        Course { done: steps.map(|(t, n)| done(n, 5 * n as i64, 2, t)).collect(), ..Course::default() };
    let drawing = column(&course, Scale::SCREEN, Lang::En).picture.drawing;
    let bytes = serde_json::to_vec(&drawing).expect("it is plain data");
    assert_eq!(Hash::of(&[&bytes]).to_string()[..16], *"26960ee88e3666d7");
}
