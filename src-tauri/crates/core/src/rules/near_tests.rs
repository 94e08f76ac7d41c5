//! What is looked at near the newest entry, laid into what was known before, is what a look at everything gives.

use super::testing::*;
use super::*;

/// Lays what stands near the newest entry into what was known, in the order of a whole look.
fn renewed(shop: &Shop, known: Vec<Finding>, newest: Hash) -> Option<Vec<Finding>> {
    let near = check_whole_near(shop, &[newest])?;
    let stays = known.into_iter().filter(|it| !it.entries.iter().any(|hash| near.work.contains(hash)));
    Some(sorted(shop, stays.chain(near.findings).collect()))
}

fn ground(minutes: f64) -> serde_json::Value {
    with(pass(100), json!({ "tool": id("grinder"), "minutes_min": minutes }))
}

fn laid(number: u32, litres: f64) -> serde_json::Value {
    with(film_coat(number), json!({ "quantity_l": litres, "area_m2": 1.0 }))
}

#[test]
fn entry_by_entry_it_comes_to_what_a_whole_look_gives() {
    let mut bench = Bench::poured();
    bench.object("tool", "grinder", json!({ "name": "Grinder", "power": "electric", "vibration_ms2": 5 }));
    bench.product("film", json!({ "class": "waterborne_urethane", "coverage_m2_per_l": 8 }));
    let mut known = check_whole(&bench.shop());
    let (mut near, mut stood) = (0, 0);
    let mut look = |bench: &Bench, newest: Hash| {
        let shop = bench.shop();
        let whole = check_whole(&shop);
        if let Some(found) = renewed(&shop, std::mem::take(&mut known), newest) {
            assert_eq!(found, whole);
            near += 1;
        }
        stood += whole.len();
        known = whole;
    };

    let first = bench.step(96.0, "grit_pass", ground(60.0));
    look(&bench, first);
    let second = bench.step(101.0, "grit_pass", ground(300.0));
    look(&bench, second);
    let other_day = bench.step(124.0, "grit_pass", ground(480.0));
    look(&bench, other_day);
    let one = bench.step(200.0, "seal_coat", laid(1, 0.125));
    look(&bench, one);
    let two = bench.step(206.0, "seal_coat", laid(2, 0.4));
    look(&bench, two);
    let unsaid = bench.step(212.0, "seal_coat", film_coat(3));
    look(&bench, unsaid);
    let words = json!({ "rule": "vibration-day", "accepted_by": "Owner", "why": "two people, one booked" });
    let excepted = bench.about(300.0, "exception", &[second], words);
    look(&bench, excepted);
    let undone = bench.about(300.5, "strike", &[excepted], json!({ "why": "nobody agreed" }));
    look(&bench, undone);
    // Less time, then another day: what stood on the old day goes, what stands on the new day comes.
    let less = bench.about(301.0, "correction", &[second], json!({ "why": "misread", "body": ground(30.0) }));
    look(&bench, less);
    let moved =
        json!({ "why": "wrong day", "body": ground(300.0), "done": crate::moment::write(&at(125.0)) });
    let moved = bench.about(302.0, "correction", &[less], moved);
    look(&bench, moved);
    let struck = bench.about(303.0, "strike", &[moved], json!({ "why": "never done" }));
    look(&bench, struck);
    let unsaid = bench.about(304.0, "strike", &[unsaid], json!({ "why": "never laid" }));
    look(&bench, unsaid);
    assert!(near >= 12, "{near} looks near an entry");
    assert!(stood > 10, "{stood} findings stood");
}

#[test]
fn what_other_work_is_judged_by_asks_for_a_whole_look() {
    let mut bench = Bench::poured();
    let tool = bench.object(
        "tool",
        "grinder",
        json!({ "name": "Grinder", "power": "electric", "vibration_ms2": 5 }),
    );
    assert_eq!(check_whole_near(&bench.shop(), &[tool]), None);
    let slower =
        json!({ "why": "misread", "body": { "name": "Grinder", "power": "electric", "vibration_ms2": 3 } });
    let corrected = bench.about(10.0, "correction", &[tool], slower);
    assert_eq!(check_whole_near(&bench.shop(), &[corrected]), None);
    assert_eq!(check_whole_near(&bench.shop(), &[Hash([7; 32])]), None, "an entry without a place");
}
