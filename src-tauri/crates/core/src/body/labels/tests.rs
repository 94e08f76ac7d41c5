//! No field and no choice of any kind is without words.

use std::collections::BTreeSet;

use serde_json::Value;

use super::{OWN, a_to_l::A_TO_L, choice, choices, field, m_to_z::M_TO_Z};
use crate::body::common::{COMMON_FIELDS, Common};
use crate::body::{Kind, Photo};
use crate::text::Lang;

/// Field names of a schema and of the records inside it, and the closed choices it uses.
fn parts(schema: &Value) -> (BTreeSet<String>, Vec<(String, Vec<String>)>) {
    let (mut fields, mut closed) = (BTreeSet::new(), Vec::new());
    let records = schema["$defs"].as_object().into_iter().flatten().map(|(name, it)| (name.clone(), it));
    for (name, record) in std::iter::once((String::new(), schema)).chain(records) {
        fields.extend(record["properties"].as_object().into_iter().flatten().map(|(name, _)| name.clone()));
        let values: Vec<String> = record["oneOf"]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(|it| it["const"].as_str().map(ToOwned::to_owned))
            .collect();
        if !values.is_empty() {
            closed.push((name, values));
        }
    }
    (fields, closed)
}

fn schemas() -> Vec<(Kind, Value)> {
    Kind::ALL.iter().map(|kind| (*kind, serde_json::to_value(kind.schema()).unwrap())).collect()
}

#[test]
fn every_field_of_every_kind_has_words() {
    for (kind, schema) in schemas() {
        for name in parts(&schema).0 {
            let words = field(kind, &name).unwrap_or_else(|| panic!("{}.{name} has no words", kind.wire()));
            assert!(!words.get(Lang::En).is_empty() && !words.get(Lang::Es).is_empty(), "{name}");
        }
    }
    for name in COMMON_FIELDS {
        assert!(field(Kind::Rinse, name).is_some(), "{name}");
    }
}

#[test]
fn every_choice_of_every_kind_has_words_for_just_its_values() {
    let common = serde_json::to_value(schemars::schema_for!(Common)).unwrap();
    for schema in schemas().into_iter().map(|(_, schema)| schema).chain([common]) {
        for (name, values) in parts(&schema).1 {
            let offered = choices(&name).unwrap_or_else(|| panic!("{name} is not registered"));
            assert_eq!(offered.iter().map(|(wire, _)| *wire).collect::<Vec<_>>(), values, "{name}");
            for value in values {
                let words = choice(&name, &value).unwrap();
                assert!(!words.en.is_empty() && !words.es.is_empty(), "{name}.{value}");
            }
        }
    }
    assert_eq!(choice("Bond", "glue"), None);
    assert_eq!(choices("Spot"), None);
}

#[test]
fn the_tables_are_sorted_and_name_only_fields_that_exist() {
    let photo = serde_json::to_value(schemars::schema_for!(Photo)).unwrap();
    let mut known: BTreeSet<String> = COMMON_FIELDS.iter().map(|name| (*name).to_owned()).collect();
    known.extend(parts(&photo).0);
    known.extend(schemas().iter().flat_map(|(_, schema)| parts(schema).0));
    let names: Vec<&str> = A_TO_L.iter().chain(M_TO_Z).map(|(name, _)| *name).collect();
    assert!(names.windows(2).all(|pair| pair[0] < pair[1]));
    assert!(A_TO_L.iter().all(|(name, _)| *name < "m") && M_TO_Z.iter().all(|(name, _)| *name >= "m"));
    for name in names {
        assert!(known.contains(name), "no kind has a field {name}");
    }
    for (kind, name, words) in OWN {
        let schema = serde_json::to_value(kind.schema()).unwrap();
        assert!(parts(&schema).0.contains(*name), "{}.{name}", kind.wire());
        assert_ne!(super::common_words(name), Some(*words), "{name} is the common wording");
    }
}
