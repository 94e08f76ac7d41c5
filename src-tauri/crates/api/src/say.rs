//! Sentences with blanks.

use std::fmt::Display;

use trowelogue_core::text::{Lang, Text};

/// The text in `lang` with its blanks, `{name}`, filled in.
pub(crate) fn fill(text: Text, lang: Lang, blanks: &[(&str, &dyn Display)]) -> String {
    let mut said = String::new();
    let mut rest = text.get(lang);
    while let Some((before, after)) = rest.split_once('{') {
        said.push_str(before);
        let (name, tail) = after.split_once('}').unwrap_or((after, ""));
        if let Some((_, value)) = blanks.iter().find(|(blank, _)| *blank == name) {
            said.push_str(&value.to_string());
        }
        rest = tail;
    }
    said.push_str(rest);
    said
}

/// Words joined with commas; at most `most` of them, and how many more there are.
pub(crate) fn list<T: Display>(words: impl IntoIterator<Item = T>, most: usize) -> String {
    let all: Vec<String> = words.into_iter().map(|it| it.to_string()).collect();
    let shown = all.iter().take(most).cloned().collect::<Vec<_>>().join(", ");
    if all.len() > most { format!("{shown} … +{}", all.len() - most) } else { shown }
}

#[cfg(test)]
mod tests {
    use trowelogue_core::text::text;

    use super::*;

    #[test]
    fn blanks_are_filled_and_a_value_with_braces_stays_as_it_is() {
        let said = fill(text("{a} of {b}.", "{b}: {a}."), Lang::En, &[("a", &"{b}"), ("b", &2)]);
        assert_eq!(said, "{b} of 2.");
    }

    #[test]
    fn long_lists_are_cut() {
        assert_eq!(list([1, 2, 3], 2), "1, 2 … +1");
        assert_eq!(list([1, 2], 2), "1, 2");
    }
}
