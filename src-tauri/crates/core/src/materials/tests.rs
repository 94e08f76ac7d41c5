//! Tests of the shipped classes.

use super::*;
use crate::text::Lang;

#[test]
fn every_class_stands_at_its_place() {
    assert_eq!(all().len(), MaterialClass::ALL.len());
    for class in MaterialClass::ALL {
        assert_eq!(of(*class).class, *class);
    }
    let document: Document = serde_json::from_str(SHIPPED).unwrap();
    assert_eq!(document.classes.len(), MaterialClass::ALL.len(), "no class stands there twice");
    assert_eq!(basis(), "common practice, no source");
}

#[test]
fn every_sealer_has_what_the_rules_and_the_care_sheet_ask() {
    for facts in all().iter().filter(|it| it.coats.is_some()) {
        let class = facts.class.wire();
        let needed = [
            facts.dry_before_h,
            facts.min_age_d,
            facts.air_min_c,
            facts.air_max_c,
            facts.coverage_m2_per_l,
            facts.recoat_min_h,
            facts.recoat_max_h,
            facts.handle_h,
            facts.wrap_h,
            facts.water_h,
            facts.light_use_h,
            facts.full_use_h,
        ];
        assert!(needed.iter().all(Option::is_some), "{class}");
        assert!(facts.recoat_min_h <= facts.recoat_max_h && facts.air_min_c < facts.air_max_c, "{class}");
        assert!(facts.handle_h <= facts.full_use_h && facts.light_use_h <= facts.full_use_h, "{class}");
        assert!(facts.renewal.is_some() && facts.expired == Some(Expired::Stop), "{class}");
        assert_eq!(facts.two_part, facts.pot_life_min.is_some() && facts.pot_life_at_c.is_some(), "{class}");
    }
}

#[test]
fn words_are_there_in_both_languages_and_hazard_codes_have_their_form() {
    for facts in all() {
        for words in [Some(&facts.resists), Some(&facts.care), facts.renewal.as_ref()].into_iter().flatten() {
            assert!(
                !words.get(Lang::En).is_empty() && !words.get(Lang::Es).is_empty() && words.en != words.es
            );
        }
        let hazards = &facts.hazards;
        assert!(hazards.pictograms.iter().all(|it| it.len() == 5 && it.starts_with("GHS0")), "{facts:?}");
        assert!(
            hazards.statements.iter().all(|it| it.starts_with('H') || it.starts_with("EUH")),
            "{facts:?}"
        );
        assert_eq!(hazards.signal.is_some(), !hazards.pictograms.is_empty(), "{:?}", facts.class);
    }
}

#[test]
fn irritants_and_corrosives_carry_the_signal_word_of_the_un_system() {
    // Signal words by hazard statement, from memory of UN GHS annex 3: H314, H318 danger; H315, H319 warning.
    for facts in all() {
        let has = |code: &str| facts.hazards.statements.iter().any(|it| it == code);
        if has("H314") || has("H318") {
            assert_eq!(facts.hazards.signal, Some(Signal::Danger), "{:?}", facts.class);
        }
    }
}
