//! Findings about people and days: news on the day for a week, all of them on a page of their own.

use serde_json::json;

use super::{Bench, pass};

/// A long pass on this day of 2025 with a machine nobody measured.
fn on(day: &str) -> serde_json::Value {
    let done = format!("2025-{day}T05:00:00-06:00");
    let mut body = pass(50);
    body["minutes_min"] = json!(150);
    json!({ "kind": "grit_pass", "pieces": ["C-1"], "done": done, "body": body })
}

#[test]
fn what_is_old_leaves_the_day_and_keeps_its_place_on_the_page() {
    let bench = Bench::new();
    bench.add(&["02-20", "03-04", "02-12", "02-11"].map(on));
    let desk = bench.open();
    let page = desk.beside(0, 100).expect("a page");
    assert_eq!(page.count as usize, page.findings.len());
    let days: Vec<String> = page
        .findings
        .iter()
        .filter(|it| it.rule == "vibration-day")
        .flat_map(|it| it.facts.iter().filter(|fact| fact.label == "day").map(|fact| fact.value.clone()))
        .collect();
    let newest_first = ["4 Mar 2025", "20 Feb 2025", "12 Feb 2025", "11 Feb 2025"];
    assert_eq!(days, newest_first);
    let some = desk.beside(1, 2).expect("a part of it");
    assert_eq!((some.count, some.findings.as_slice()), (page.count, &page.findings[1..3]));

    let day = desk.day(None).expect("a day");
    assert_eq!(day.beside, page.count);
    assert!(day.notices.iter().any(|it| it.contains("4 Mar 2025")), "{:?}", day.notices);
    assert!(!day.notices.iter().any(|it| it.contains("Feb 2025")), "{:?}", day.notices);
}
