//! What holds for every rule.

use super::list::TESTED;
use super::{ALL, Basis, find};

#[test]
fn every_rule_is_declared_whole_in_both_languages() {
    for rule in ALL {
        let code = rule.code;
        let fits = |c: char| c.is_ascii_lowercase() || c == '-';
        assert!(code.chars().all(fits) && code.contains('-') || code == "plucking", "{code}");
        for text in [rule.title, rule.why, rule.remedy] {
            assert!(!text.en.is_empty() && !text.es.is_empty() && text.en != text.es, "{code}");
        }
        assert!(!rule.title.en.ends_with('.') && !rule.title.es.ends_with('.'), "{code}: {}", rule.title.en);
        for text in [rule.why, rule.remedy] {
            assert!(text.en.ends_with('.') && text.es.ends_with('.'), "{code}");
        }
        if let Basis::Published(source) | Basis::Unconfirmed(source) = rule.basis {
            assert!(!source.en.is_empty() && !source.es.is_empty(), "{code}");
        }
        assert!(!rule.looks.is_empty(), "{code} looks nowhere");
    }
}

#[test]
fn codes_are_unique_and_found() {
    for rule in ALL {
        assert_eq!(ALL.iter().filter(|it| it.code == rule.code).count(), 1, "{}", rule.code);
        assert_eq!(find(rule.code), Some(*rule));
    }
    assert_eq!(find("no-such-rule"), None);
}

#[test]
fn every_rule_has_its_four_tests() {
    assert_eq!(TESTED.len(), ALL.len());
    for ((tested, tests), rule) in TESTED.iter().zip(ALL) {
        assert_eq!(tested, rule);
        tests.iter().for_each(|test| test());
    }
}
